//! Several numbers worked on at once, with an exponential and a logarithm that give the same bits for one as for many.
//!
//! Plain loops over small arrays: compiled for a wide instruction set they become vector instructions, and no operation
//! is fused or reordered on any of them, so the result does not depend on the machine, nor on what stands beside it.

use std::array::from_fn;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// `L` numbers, each in its own lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lanes<const L: usize>(pub(crate) [f64; L]);

/// Adding and subtracting this rounds a small number to a whole one, and leaves it in the lowest bits in between.
const ROUNDER: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts; the first has 21 bits, so that its product with an exponent is exact.
const LN_2_HIGH: f64 = 0.693_146_705_627_441_4;
const LN_2_LOW: f64 = 4.749_325_039_031_672_6e-7;
/// 2^52, whose lowest bits count ones.
const TWO_TO_52: f64 = 4_503_599_627_370_496.0;

/// The exponential of numbers in [-600, 709]; below, that of -600 (no result is subnormal), above, that of 709.
/// Within one unit in the last place.
#[inline(always)]
fn exp(x: f64) -> f64 {
    let x = if x < -600.0 { -600.0 } else { x };
    let x = if x > 709.0 { 709.0 } else { x };
    let shifted = x * std::f64::consts::LOG2_E + ROUNDER;
    let twos = shifted - ROUNDER;
    let r = (x - twos * LN_2_HIGH) - twos * LN_2_LOW;
    // The series of (exp(r) - 1 - r) / r^2 to r^11: |r| is at most ln(2) / 2.
    const C: [f64; 12] = [
        1.0 / 2.0,
        1.0 / 6.0,
        1.0 / 24.0,
        1.0 / 120.0,
        1.0 / 720.0,
        1.0 / 5_040.0,
        1.0 / 40_320.0,
        1.0 / 362_880.0,
        1.0 / 3_628_800.0,
        1.0 / 39_916_800.0,
        1.0 / 479_001_600.0,
        1.0 / 6_227_020_800.0,
    ];
    let r2 = r * r;
    let r4 = r2 * r2;
    let low = (C[0] + C[1] * r) + (C[2] + C[3] * r) * r2;
    let middle = (C[4] + C[5] * r) + (C[6] + C[7] * r) * r2;
    let high = (C[8] + C[9] * r) + (C[10] + C[11] * r) * r2;
    let series = low + (middle + high * r4) * r4;
    let mantissa = 1.0 + (r + r2 * series);
    f64::from_bits(mantissa.to_bits().wrapping_add(shifted.to_bits() << 52))
}

/// The natural logarithm of a positive number that is not subnormal, within one unit in the last place.
#[inline(always)]
fn ln(x: f64) -> f64 {
    const EXPONENT: u64 = 0xfff0_0000_0000_0000;
    let root_of_half = std::f64::consts::FRAC_1_SQRT_2.to_bits();
    // x = 2^e (1 + f) with 1 + f between the roots of 1/2 and of 2.
    let above = x.to_bits().wrapping_sub(root_of_half);
    let f = f64::from_bits(x.to_bits().wrapping_sub(above & EXPONENT)) - 1.0;
    let counted = above.wrapping_add(1023 << 52) >> 52;
    let e = f64::from_bits(counted | TWO_TO_52.to_bits()) - (TWO_TO_52 + 1023.0);
    // ln(1 + f) = 2 artanh(s) = f - f^2/2 + s (f^2/2 + 2 s^2/3 + 2 s^4/5 + ...) with s = f / (2 + f), |s| < 0.172.
    const C: [f64; 10] = [
        2.0 / 3.0,
        2.0 / 5.0,
        2.0 / 7.0,
        2.0 / 9.0,
        2.0 / 11.0,
        2.0 / 13.0,
        2.0 / 15.0,
        2.0 / 17.0,
        2.0 / 19.0,
        2.0 / 21.0,
    ];
    let s = f / (2.0 + f);
    let z = s * s;
    let z2 = z * z;
    let z4 = z2 * z2;
    let low = (C[0] + C[1] * z) + (C[2] + C[3] * z) * z2;
    let middle = (C[4] + C[5] * z) + (C[6] + C[7] * z) * z2;
    let series = z * (low + (middle + (C[8] + C[9] * z) * z4) * z4);
    let half_square = 0.5 * f * f;
    e * LN_2_HIGH - ((half_square - (s * (half_square + series) + e * LN_2_LOW)) - f)
}

impl<const L: usize> Lanes<L> {
    /// Nothing in every lane.
    pub(crate) const ZERO: Self = Self([0.0; L]);

    /// The same number in every lane.
    #[inline(always)]
    pub(crate) fn all(value: f64) -> Self {
        Self([value; L])
    }

    /// A function of each lane.
    #[inline(always)]
    pub(crate) fn map(self, function: impl Fn(f64) -> f64) -> Self {
        Self(from_fn(|lane| function(self.0[lane])))
    }

    #[inline(always)]
    fn with(self, other: Self, function: impl Fn(f64, f64) -> f64) -> Self {
        Self(from_fn(|lane| function(self.0[lane], other.0[lane])))
    }

    /// The exponential of each lane, see [`exp`].
    #[inline(always)]
    pub(crate) fn exp(self) -> Self {
        self.map(exp)
    }

    /// The square root of each lane.
    #[inline(always)]
    pub(crate) fn sqrt(self) -> Self {
        self.map(f64::sqrt)
    }

    /// The natural logarithm of each lane, see [`ln`].
    #[inline(always)]
    pub(crate) fn ln(self) -> Self {
        self.map(ln)
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $operation:expr) => {
        impl<const L: usize> $trait for Lanes<L> {
            type Output = Self;

            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.with(other, $operation)
            }
        }

        impl<const L: usize> $trait<f64> for Lanes<L> {
            type Output = Self;

            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                self.map(|lane| $operation(lane, other))
            }
        }
    };
}

operator!(Add, add, |a: f64, b: f64| a + b);
operator!(Sub, sub, |a: f64, b: f64| a - b);
operator!(Mul, mul, |a: f64, b: f64| a * b);
operator!(Div, div, |a: f64, b: f64| a / b);

impl<const L: usize> Neg for Lanes<L> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        self.map(|lane| -lane)
    }
}

/// Exponents gathered by a function that needs many exponentials, worked out together eight at a time.
#[derive(Debug)]
pub(crate) struct Exponentials<const L: usize, const ROOM: usize> {
    groups: [[Lanes<L>; 8]; ROOM],
    count: usize,
}

impl<const L: usize, const ROOM: usize> Exponentials<L, ROOM> {
    /// No exponents; there is room for eight times `ROOM`.
    #[inline(always)]
    pub(crate) fn new() -> Self {
        Self { groups: [[Lanes::ZERO; 8]; ROOM], count: 0 }
    }

    /// Takes the next exponent.
    #[inline(always)]
    pub(crate) fn push(&mut self, exponent: Lanes<L>) {
        self.groups[self.count / 8][self.count % 8] = exponent;
        self.count += 1;
    }

    /// Replaces every exponent by its exponential: one lane wide, eight together; wider, one after the other.
    #[inline(always)]
    pub(crate) fn work_out(&mut self) {
        if L == 1 {
            for group in &mut self.groups[..self.count.div_ceil(8)] {
                for lanes in group {
                    *lanes = lanes.exp();
                }
            }
        } else {
            for lanes in &mut self.groups.as_flattened_mut()[..self.count] {
                *lanes = lanes.exp();
            }
        }
    }

    /// The exponential of the exponent taken `index`th.
    #[inline(always)]
    pub(crate) fn get(&self, index: usize) -> Lanes<L> {
        self.groups[index / 8][index % 8]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Distance in units of the last place of `exact`, which the standard library gives to half a unit or little more.
    fn units(got: f64, exact: f64) -> f64 {
        let unit = f64::from_bits(exact.abs().to_bits() + 1) - exact.abs();
        (got - exact).abs() / unit
    }

    #[test]
    fn exponential_and_logarithm_within_a_unit() {
        for i in 0..400_000 {
            let x = -600.0 + 1_309.0 * (f64::from(i) / 400_000.0);
            assert!(units(exp(x), x.exp()) <= 1.0, "exp({x})");
            let small = 1e-3 * x;
            assert!(units(exp(small), small.exp()) <= 1.0, "exp({small})");
            let y = (0.9 * x).exp();
            assert!(units(ln(y), y.ln()) <= 1.0, "ln({y})");
            let near = 1.0 + 1e-3 * x;
            assert!(units(ln(near), near.ln()) <= 1.0, "ln({near})");
        }
    }

    #[test]
    fn ends_and_exact_values() {
        assert_eq!(exp(0.0), 1.0);
        assert_eq!(ln(1.0), 0.0);
        assert_eq!(exp(-1e9), exp(-600.0));
        assert_eq!(exp(1e9), exp(709.0));
        assert!(exp(f64::NAN).is_nan());
        assert!(ln(f64::MIN_POSITIVE).is_finite() && ln(f64::MAX).is_finite());
    }

    #[test]
    fn gathered_exponents_are_those_of_single_ones() {
        let mut gathered = Exponentials::<2, 3>::new();
        let exponent = |i: i32| Lanes([0.3 * f64::from(i) - 4.0, -f64::from(i * i)]);
        (0..19).for_each(|i| gathered.push(exponent(i)));
        gathered.work_out();
        for i in 0..19 {
            assert_eq!(gathered.get(i as usize), exponent(i).exp());
        }
    }
}

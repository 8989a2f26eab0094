//! The numbers that components and cycles are written over: `f64`, or `f64` with exact derivatives.

use std::fmt::Debug;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A real number that may carry derivatives.
///
/// Components and cycles are written once over this trait. With `f64` they cost nothing extra; with
/// [`Dual`] every figure comes with its derivatives to the inputs. A property call enters through
/// [`Real::chain`]: its value is solved in `f64`, its derivatives are the analytic partials at the solution.
pub(crate) trait Real:
    Copy
    + Debug
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
{
    /// Whether numbers of this kind carry derivatives.
    const CARRIES_DERIVATIVES: bool;

    /// A number without derivatives.
    fn constant(value: f64) -> Self;

    /// The number without its derivatives.
    fn value(self) -> f64;

    /// Whether it is zero and does not answer to any input.
    fn is_nothing(self) -> bool;

    /// A function value of two arguments, given its two slopes (asked for only where they are needed).
    fn chain(value: f64, arguments: [Self; 2], slopes: impl FnOnce() -> [f64; 2]) -> Self;

    /// Natural logarithm.
    fn ln(self) -> Self {
        let x = self.value();
        Self::chain(x.ln(), [self, self], || [1.0 / x, 0.0])
    }

    /// Exponential.
    fn exp(self) -> Self {
        let y = self.value().exp();
        Self::chain(y, [self, self], || [y, 0.0])
    }

    /// `ln(1 + x)`, with all digits for small `x`.
    fn ln_1p(self) -> Self {
        let x = self.value();
        Self::chain(x.ln_1p(), [self, self], || [1.0 / (1.0 + x), 0.0])
    }

    /// `exp(x) - 1`, with all digits for small `x`.
    fn exp_m1(self) -> Self {
        let x = self.value();
        Self::chain(x.exp_m1(), [self, self], || [x.exp(), 0.0])
    }

    /// A power of a positive number.
    fn powf(self, exponent: f64) -> Self {
        let x = self.value();
        Self::chain(x.powf(exponent), [self, self], || [exponent * x.powf(exponent - 1.0), 0.0])
    }
}

impl Real for f64 {
    const CARRIES_DERIVATIVES: bool = false;

    fn constant(value: f64) -> Self {
        value
    }

    fn value(self) -> f64 {
        self
    }

    fn is_nothing(self) -> bool {
        self == 0.0
    }

    fn chain(value: f64, _: [Self; 2], _: impl FnOnce() -> [f64; 2]) -> Self {
        value
    }
}

/// A value and its derivatives to `N` inputs (forward differentiation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Dual<const N: usize> {
    pub(crate) value: f64,
    pub(crate) slope: [f64; N],
}

impl<const N: usize> Dual<N> {
    /// The input number `index`: its derivative to itself is 1.
    pub(crate) fn input(value: f64, index: usize) -> Self {
        let mut slope = [0.0; N];
        if let Some(own) = slope.get_mut(index) {
            *own = 1.0;
        }
        Self { value, slope }
    }

    fn combine(value: f64, a: f64, left: &Self, b: f64, right: &Self) -> Self {
        let mut slope = [0.0; N];
        for ((out, l), r) in slope.iter_mut().zip(left.slope).zip(right.slope) {
            *out = a * l + b * r;
        }
        Self { value, slope }
    }

    fn scaled(&self, value: f64, factor: f64) -> Self {
        Self { value, slope: self.slope.map(|s| s * factor) }
    }
}

impl<const N: usize> Real for Dual<N> {
    const CARRIES_DERIVATIVES: bool = true;

    fn constant(value: f64) -> Self {
        Self { value, slope: [0.0; N] }
    }

    fn value(self) -> f64 {
        self.value
    }

    fn is_nothing(self) -> bool {
        self.value == 0.0 && self.slope.iter().all(|slope| *slope == 0.0)
    }

    fn chain(value: f64, [left, right]: [Self; 2], slopes: impl FnOnce() -> [f64; 2]) -> Self {
        let [a, b] = slopes();
        Self::combine(value, a, &left, b, &right)
    }
}

impl<const N: usize> Add for Dual<N> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::combine(self.value + other.value, 1.0, &self, 1.0, &other)
    }
}

impl<const N: usize> Sub for Dual<N> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::combine(self.value - other.value, 1.0, &self, -1.0, &other)
    }
}

impl<const N: usize> Mul for Dual<N> {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::combine(self.value * other.value, other.value, &self, self.value, &other)
    }
}

impl<const N: usize> Div for Dual<N> {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let quotient = self.value / other.value;
        Self::combine(quotient, 1.0 / other.value, &self, -quotient / other.value, &other)
    }
}

impl<const N: usize> Neg for Dual<N> {
    type Output = Self;
    fn neg(self) -> Self {
        self.scaled(-self.value, -1.0)
    }
}

impl<const N: usize> Add<f64> for Dual<N> {
    type Output = Self;
    fn add(self, other: f64) -> Self {
        Self { value: self.value + other, ..self }
    }
}

impl<const N: usize> Sub<f64> for Dual<N> {
    type Output = Self;
    fn sub(self, other: f64) -> Self {
        Self { value: self.value - other, ..self }
    }
}

impl<const N: usize> Mul<f64> for Dual<N> {
    type Output = Self;
    fn mul(self, other: f64) -> Self {
        self.scaled(self.value * other, other)
    }
}

impl<const N: usize> Div<f64> for Dual<N> {
    type Output = Self;
    fn div(self, other: f64) -> Self {
        self.scaled(self.value / other, 1.0 / other)
    }
}

//! Several functions of one positive variable as polynomials on cells that shrink towards zero.
//!
//! A cell is one value of the exponent and of the first few bits of the mantissa of the variable, so the
//! cell of a number is read off its bits: without a logarithm and without a search. How many bits is set for each
//! octave. Functions with a weak singularity at zero, such as a square root, are met by the same degree everywhere.

use multiversion::multiversion;

use crate::error::Result;

/// Degree of the polynomials.
const DEGREE: usize = 9;

/// Nodes of the fit in one cell.
const NODES: usize = DEGREE + 1;

const MANTISSA: u32 = f64::MANTISSA_DIGITS - 1;

/// `N` functions on the interval from `lower` to `upper`.
#[derive(Debug)]
pub(crate) struct Piecewise<const N: usize> {
    lower: f64,
    upper: f64,
    first: u64,
    octaves: Vec<Octave>,
    cells: Vec<Cell<N>>,
}

/// The cells between a power of two and the next.
#[derive(Debug, Clone, Copy)]
struct Octave {
    /// The bits of a number, shifted by this, count the cells.
    shift: u32,
    /// What to take off that count.
    offset: u64,
}

#[derive(Debug, Clone)]
struct Cell<const N: usize> {
    middle: f64,
    /// 2 / width.
    scale: f64,
    /// Coefficients of rising powers of the cell's own variable from -1 to 1, for all functions together.
    powers: [[f64; N]; NODES],
}

impl<const N: usize> Piecewise<N> {
    /// Fits the functions by interpolation at the Chebyshev nodes of each cell, from above.
    ///
    /// `functions` is called at falling values of the variable, so that it may use its last result as a
    /// start for the next. Both limits must be positive and finite, `lower < upper`. `bits` says into how many cells (two
    /// to that power) an octave is divided, given its lowest value and the highest that is asked for.
    ///
    /// # Errors
    ///
    /// The first that `functions` or `bits` returns.
    pub(crate) fn fit(
        lower: f64,
        upper: f64,
        bits: impl Fn(f64, f64) -> Result<u32>,
        mut functions: impl FnMut(f64) -> Result<[f64; N]>,
    ) -> Result<Self> {
        let (first, last) = (lower.to_bits() >> MANTISSA, upper.to_bits() >> MANTISSA);
        let mut octaves = Vec::new();
        let mut cells = Vec::new();
        for exponent in (first..=last).rev() {
            let start = exponent << MANTISSA;
            let shift = MANTISSA - bits(f64::from_bits(start), upper)?;
            let lowest = if exponent == first { lower.to_bits() } else { start } >> shift;
            let highest =
                if exponent == last { upper.to_bits() } else { start + (1 << MANTISSA) - 1 } >> shift;
            for key in (lowest..=highest).rev() {
                let left = f64::from_bits(key << shift).max(lower);
                let right = f64::from_bits((key + 1) << shift).min(upper);
                cells.push(Cell::fit(left, right, &mut functions)?);
            }
            octaves.push((shift, lowest));
        }
        cells.reverse();
        octaves.reverse();
        let mut before = 0;
        let octaves = octaves
            .into_iter()
            .zip(first..)
            .map(|((shift, lowest), exponent)| {
                let octave = Octave { shift, offset: lowest - before };
                let end: u64 =
                    if exponent == last { upper.to_bits() } else { ((exponent + 1) << MANTISSA) - 1 };
                before += (end >> shift) - lowest + 1;
                octave
            })
            .collect();
        Ok(Self { lower, upper, first, octaves, cells })
    }

    /// Lowest value of the variable.
    pub(crate) fn lower(&self) -> f64 {
        self.lower
    }

    /// The functions at `x`, or `None` outside the limits.
    #[inline]
    pub(crate) fn evaluate(&self, x: f64) -> Option<[f64; N]> {
        self.cell(x).map(|cell| cell.evaluate(x, |k, i| cell.powers[k][i]))
    }

    /// Only two of the functions at `x`, the same bits in less time.
    #[inline]
    pub(crate) fn evaluate_two(&self, x: f64, which: [usize; 2]) -> Option<[f64; 2]> {
        self.cell(x).map(|cell| cell.evaluate(x, |k, i| cell.powers[k][which[i]]))
    }

    /// Only one of the functions at `x`, the same bits in less time.
    #[inline]
    pub(crate) fn evaluate_one(&self, x: f64, which: usize) -> Option<f64> {
        self.cell(x).map(|cell| {
            let [value] = cell.evaluate(x, |k, _| cell.powers[k][which]);
            value
        })
    }

    #[inline]
    fn cell(&self, x: f64) -> Option<&Cell<N>> {
        if !(self.lower..=self.upper).contains(&x) {
            return None;
        }
        let bits = x.to_bits();
        let octave = self.octaves.get(((bits >> MANTISSA) - self.first) as usize)?;
        self.cells.get(((bits >> octave.shift) - octave.offset) as usize)
    }
}

impl Piecewise<8> {
    /// All eight at `x` side by side: the same bits in less time.
    #[inline]
    pub(crate) fn evaluate_together(&self, x: f64) -> Option<[f64; 8]> {
        self.cell(x).map(|cell| together(cell, x))
    }
}

// No sum and product are fused, as in the equation of state.
#[multiversion(targets("x86_64+avx+avx2+avx512f", "x86_64+avx+avx2"))]
fn together(cell: &Cell<8>, x: f64) -> [f64; 8] {
    cell.evaluate(x, |k, i| cell.powers[k][i])
}

impl<const N: usize> Cell<N> {
    fn fit(left: f64, right: f64, functions: &mut impl FnMut(f64) -> Result<[f64; N]>) -> Result<Self> {
        let middle = 0.5 * (left + right);
        let half = 0.5 * (right - left);
        if half <= 0.0 {
            // The upper limit is the very first number of its cell.
            let mut powers = [[0.0; N]; NODES];
            powers[0] = functions(right)?;
            return Ok(Self { middle: right, scale: 0.0, powers });
        }
        let mut values = [[0.0; N]; NODES];
        for (value, node) in values.iter_mut().zip(chebyshev_nodes::<NODES>()) {
            *value = functions(middle + half * node)?;
        }
        Ok(Self { middle, scale: 1.0 / half, powers: monomials(&values) })
    }

    /// Polynomials with these coefficients, in pairs of pairs of terms, which do not wait for one another.
    #[inline(always)]
    fn evaluate<const M: usize>(&self, x: f64, power: impl Fn(usize, usize) -> f64) -> [f64; M] {
        let u = (x - self.middle) * self.scale;
        let (u2, u4) = (u * u, u * u * (u * u));
        std::array::from_fn(|i| {
            let pair = |k: usize| power(k, i) + power(k + 1, i) * u;
            let low = pair(0) + pair(2) * u2;
            let high = pair(4) + pair(6) * u2;
            low + (high + pair(8) * u4) * u4
        })
    }
}

/// Chebyshev nodes of the first kind on (-1, 1), from the highest.
pub(super) fn chebyshev_nodes<const K: usize>() -> [f64; K] {
    std::array::from_fn(|k| (std::f64::consts::PI * (k as f64 + 0.5) / K as f64).cos())
}

/// Power coefficients of the polynomials through values at [`chebyshev_nodes`].
pub(super) fn monomials<const N: usize, const K: usize>(values: &[[f64; N]; K]) -> [[f64; N]; K] {
    // What all values have in common is left out, so that rounding counts in their differences.
    let common = values[0];
    // Chebyshev coefficients first: c_j = (2 - [j = 0]) / K sum f_k cos(j theta_k).
    let mut chebyshev = [[0.0; N]; K];
    for (j, coefficients) in chebyshev.iter_mut().enumerate() {
        for (k, value) in values.iter().enumerate() {
            let angle = std::f64::consts::PI * j as f64 * (k as f64 + 0.5) / K as f64;
            let weight = if j == 0 { 1.0 } else { 2.0 } / K as f64 * angle.cos();
            for ((c, v), common) in coefficients.iter_mut().zip(value).zip(common) {
                *c += weight * (v - common);
            }
        }
    }
    // T_j as powers, by T_j = 2 u T_(j-1) - T_(j-2).
    let mut before = [0.0; K];
    let mut current = [0.0; K];
    current[0] = 1.0;
    let mut powers = [[0.0; N]; K];
    for (j, coefficients) in chebyshev.iter().enumerate() {
        for (power, &weight) in powers.iter_mut().zip(&current) {
            for (p, c) in power.iter_mut().zip(coefficients) {
                *p += weight * c;
            }
        }
        let factor = if j == 0 { 1.0 } else { 2.0 };
        let mut next = [0.0; K];
        for i in 0..K {
            let shifted = if i == 0 { 0.0 } else { current[i - 1] };
            next[i] = factor * shifted - before[i];
        }
        before = current;
        current = next;
    }
    for (power, common) in powers[0].iter_mut().zip(common) {
        *power += common;
    }
    powers
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_a_square_root_down_to_small_arguments() {
        let fit =
            Piecewise::<2>::fit(1e-6, 300.0, |_, _| Ok(4), |x| Ok([x.sqrt(), (x / 50.0).exp()])).unwrap();
        let mut x = 1.000_001e-6;
        while x < 299.9 {
            let [root, exponential] = fit.evaluate(x).unwrap();
            assert!((root / x.sqrt() - 1.0).abs() < 4e-15, "{x} {root}");
            assert!((exponential / (x / 50.0).exp() - 1.0).abs() < 4e-15, "{x} {exponential}");
            x *= 1.0137;
        }
        assert!(fit.evaluate(300.1).is_none());
        assert!(fit.evaluate(f64::NAN).is_none());
    }
}

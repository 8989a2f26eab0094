//! Several functions of one positive variable as polynomials on cells that shrink towards zero.
//!
//! A cell is one value of the exponent and the first four bits of the mantissa of the variable, so the
//! cell of a number is read off its bits: sixteen cells an octave, without a logarithm and without a search.
//! Functions with a weak singularity at zero, such as a square root, are met by the same degree everywhere.

use crate::error::Result;

/// Mantissa bits that name a cell.
const BITS: u32 = 4;
const SHIFT: u32 = f64::MANTISSA_DIGITS - 1 - BITS;

/// Degree of the polynomials.
const DEGREE: usize = 9;

/// Nodes of the fit in one cell.
const NODES: usize = DEGREE + 1;

/// `N` functions on the interval from `lower` to `upper`.
#[derive(Debug)]
pub(crate) struct Piecewise<const N: usize> {
    lower: f64,
    upper: f64,
    first: u64,
    cells: Vec<Cell<N>>,
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
    /// start for the next. Both limits must be positive and finite, `lower < upper`.
    ///
    /// # Errors
    ///
    /// The first that `functions` returns.
    pub(crate) fn fit(
        lower: f64,
        upper: f64,
        mut functions: impl FnMut(f64) -> Result<[f64; N]>,
    ) -> Result<Self> {
        let first = lower.to_bits() >> SHIFT;
        let last = upper.to_bits() >> SHIFT;
        let mut cells = Vec::with_capacity((last - first + 1) as usize);
        for key in (first..=last).rev() {
            let left = f64::from_bits(key << SHIFT).max(lower);
            let right = f64::from_bits((key + 1) << SHIFT).min(upper);
            let middle = 0.5 * (left + right);
            let half = 0.5 * (right - left);
            if half <= 0.0 {
                // The upper limit is the very first number of its cell.
                let values = functions(upper)?;
                let mut powers = [[0.0; N]; NODES];
                powers[0] = values;
                cells.push(Cell { middle: upper, scale: 0.0, powers });
                continue;
            }
            let mut values = [[0.0; N]; NODES];
            for (value, node) in values.iter_mut().zip(chebyshev_nodes::<NODES>()) {
                *value = functions(middle + half * node)?;
            }
            cells.push(Cell { middle, scale: 1.0 / half, powers: monomials(&values) });
        }
        cells.reverse();
        Ok(Self { lower, upper, first, cells })
    }

    /// Lowest value of the variable.
    pub(crate) fn lower(&self) -> f64 {
        self.lower
    }

    /// The functions at `x`, or `None` outside the limits.
    #[inline]
    pub(crate) fn evaluate(&self, x: f64) -> Option<[f64; N]> {
        if !(self.lower..=self.upper).contains(&x) {
            return None;
        }
        let cell = self.cells.get(((x.to_bits() >> SHIFT) - self.first) as usize)?;
        let u = (x - cell.middle) * cell.scale;
        let mut sum = cell.powers[DEGREE];
        for power in cell.powers[..DEGREE].iter().rev() {
            for (s, p) in sum.iter_mut().zip(power) {
                *s = *s * u + p;
            }
        }
        Some(sum)
    }
}

/// Chebyshev nodes of the first kind on (-1, 1), from the highest.
fn chebyshev_nodes<const K: usize>() -> [f64; K] {
    std::array::from_fn(|k| (std::f64::consts::PI * (k as f64 + 0.5) / K as f64).cos())
}

/// Power coefficients of the polynomial through values at [`chebyshev_nodes`].
fn monomials<const N: usize>(values: &[[f64; N]; NODES]) -> [[f64; N]; NODES] {
    // Chebyshev coefficients first: c_j = (2 - [j = 0]) / K sum f_k cos(j theta_k).
    let mut chebyshev = [[0.0; N]; NODES];
    for (j, coefficients) in chebyshev.iter_mut().enumerate() {
        for (k, value) in values.iter().enumerate() {
            let angle = std::f64::consts::PI * j as f64 * (k as f64 + 0.5) / NODES as f64;
            let weight = if j == 0 { 1.0 } else { 2.0 } / NODES as f64 * angle.cos();
            for (c, v) in coefficients.iter_mut().zip(value) {
                *c += weight * v;
            }
        }
    }
    // T_j as powers, by T_j = 2 u T_(j-1) - T_(j-2).
    let mut before = [0.0; NODES];
    let mut current = [0.0; NODES];
    current[0] = 1.0;
    let mut powers = [[0.0; N]; NODES];
    for (j, coefficients) in chebyshev.iter().enumerate() {
        for (power, &weight) in powers.iter_mut().zip(&current) {
            for (p, c) in power.iter_mut().zip(coefficients) {
                *p += weight * c;
            }
        }
        let factor = if j == 0 { 1.0 } else { 2.0 };
        let mut next = [0.0; NODES];
        for i in 0..NODES {
            let shifted = if i == 0 { 0.0 } else { current[i - 1] };
            next[i] = factor * shifted - before[i];
        }
        before = current;
        current = next;
    }
    powers
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_a_square_root_down_to_small_arguments() {
        let fit = Piecewise::<2>::fit(1e-6, 300.0, |x| Ok([x.sqrt(), (x / 50.0).exp()])).unwrap();
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

//! Several functions of two variables as one polynomial on a rectangle.

use super::piecewise::{chebyshev_nodes, monomials};
use crate::error::Result;

/// Nodes, and coefficients, in each variable.
const NODES: usize = 8;

/// `N` polynomials of degree seven in both variables.
#[derive(Debug)]
pub(crate) struct Patch<const N: usize> {
    /// Middle and 2 / width, in each variable.
    x: (f64, f64),
    y: (f64, f64),
    /// By power of `x`, then of `y`.
    powers: [[[f64; N]; NODES]; NODES],
}

impl<const N: usize> Patch<N> {
    /// Interpolates at the Chebyshev nodes between two values each of `x` and `y`.
    ///
    /// # Errors
    ///
    /// The first that `functions` returns.
    pub(crate) fn fit(
        (left, right): (f64, f64),
        (low, high): (f64, f64),
        mut functions: impl FnMut(f64, f64) -> Result<[f64; N]>,
    ) -> Result<Self> {
        let interval = |from: f64, to: f64| (0.5 * (from + to), 2.0 / (to - from));
        let (x, y) = (interval(left, right), interval(low, high));
        let nodes = chebyshev_nodes::<NODES>();
        let mut by_node = [[[0.0; N]; NODES]; NODES];
        for (column, u) in by_node.iter_mut().zip(nodes) {
            let mut values = [[0.0; N]; NODES];
            for (value, v) in values.iter_mut().zip(nodes) {
                *value = functions(x.0 + u / x.1, y.0 + v / y.1)?;
            }
            *column = monomials(&values);
        }
        let mut powers = [[[0.0; N]; NODES]; NODES];
        for j in 0..NODES {
            let along_x: [[f64; N]; NODES] = std::array::from_fn(|i| by_node[i][j]);
            for (power, coefficient) in powers.iter_mut().zip(monomials(&along_x)) {
                power[j] = coefficient;
            }
        }
        Ok(Self { x, y, powers })
    }

    /// The functions at a point of the rectangle.
    #[inline]
    pub(crate) fn evaluate(&self, x: f64, y: f64) -> [f64; N] {
        let (u, v) = ((x - self.x.0) * self.x.1, (y - self.y.0) * self.y.1);
        let mut sum = [0.0; N];
        for row in self.powers.iter().rev() {
            let along_y = polynomial(row, v);
            for (sum, term) in sum.iter_mut().zip(along_y) {
                *sum = *sum * u + term;
            }
        }
        sum
    }
}

/// Polynomials by pairs of pairs of terms, which do not wait for one another.
#[inline]
fn polynomial<const N: usize>(c: &[[f64; N]; NODES], v: f64) -> [f64; N] {
    let (v2, v4) = (v * v, v * v * (v * v));
    std::array::from_fn(|i| {
        let pair = |k: usize| c[k][i] + c[k + 1][i] * v;
        (pair(0) + pair(2) * v2) + (pair(4) + pair(6) * v2) * v4
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_smooth_functions() {
        // The first derivatives left out are those of exp(x - y), up to exp(1.7), in each variable.
        let tolerance = 2.0 * 1.7_f64.exp() * 0.25_f64.powi(8) / (128.0 * 40_320.0);
        let functions = |x: f64, y: f64| [(0.1 * x * y).sin(), (x - y).exp(), 1.0 / (20.0 + x + y), 300.0];
        let patch = Patch::fit((1.0, 1.5), (-0.2, 0.3), |x, y| Ok(functions(x, y))).unwrap();
        for i in 0..=20 {
            for j in 0..=20 {
                let (x, y) = (1.0 + 0.025 * f64::from(i), -0.2 + 0.025 * f64::from(j));
                for (got, expected) in patch.evaluate(x, y).into_iter().zip(functions(x, y)) {
                    assert!((got - expected).abs() <= tolerance, "{x} {y}: {got} {expected}");
                }
            }
        }
    }
}

//! Reducing temperature and density of a mixture as functions of the concentrations, with derivatives.

use super::mixture::MOST;
use crate::fluid::Mixing;

/// `Q(c) = sum c_i^2 y_i + sum_{i<j} 2 beta gamma y_ij c_i c_j (c_i + c_j) / (beta^2 c_i + c_j)`: over the square of the total
/// concentration it is the reducing temperature or the reducing volume.
#[derive(Debug, Clone)]
pub(super) struct Reducing {
    pure: Vec<f64>,
    crosses: Vec<Cross>,
}

/// The term of one pair.
#[derive(Debug, Clone)]
struct Cross {
    pair: [usize; 2],
    beta_squared: f64,
    /// `2 beta gamma y_ij`
    amount: f64,
}

/// A function of the concentrations of the components, and its derivatives.
#[derive(Debug, Clone, Copy)]
pub(super) struct OfConcentrations {
    pub(super) value: f64,
    pub(super) gradient: [f64; MOST],
    pub(super) hessian: [[f64; MOST]; MOST],
}

impl Reducing {
    /// From the values of the components and, for each pair, its places, its parameters and the mean of its values.
    pub(super) fn new(pure: Vec<f64>, pairs: impl Iterator<Item = ([usize; 2], Mixing, f64)>) -> Self {
        let crosses = pairs
            .map(|(pair, Mixing { beta, gamma }, mean)| Cross {
                pair,
                beta_squared: beta * beta,
                amount: 2.0 * beta * gamma * mean,
            })
            .collect();
        Self { pure, crosses }
    }

    /// `Q`, homogeneous of the second degree.
    fn quadratic(&self, concentrations: &[f64]) -> OfConcentrations {
        let mut q = OfConcentrations { value: 0.0, gradient: [0.0; MOST], hessian: [[0.0; MOST]; MOST] };
        for (i, (c, y)) in concentrations.iter().zip(&self.pure).enumerate() {
            q.value += c * c * y;
            q.gradient[i] += 2.0 * c * y;
            q.hessian[i][i] += 2.0 * y;
        }
        for Cross { pair: [i, j], beta_squared, amount } in &self.crosses {
            let (a, b) = (concentrations[*i], concentrations[*j]);
            let below = beta_squared * a + b;
            // Without both of them the slopes are zero; the curvature then depends on the way there.
            if below == 0.0 {
                continue;
            }
            let value = a * b * (a + b) / below;
            let first_a = (2.0 * a * b + b * b - value * beta_squared) / below;
            let first_b = (2.0 * a * b + a * a - value) / below;
            let both = (2.0 * (a + b) - first_a - first_b * beta_squared) / below;
            q.value += amount * value;
            q.gradient[*i] += amount * first_a;
            q.gradient[*j] += amount * first_b;
            q.hessian[*i][*i] += amount * 2.0 * (b - first_a * beta_squared) / below;
            q.hessian[*j][*j] += amount * 2.0 * (a - first_b) / below;
            q.hessian[*i][*j] += amount * both;
            q.hessian[*j][*i] += amount * both;
        }
        q
    }

    /// `Q` over the total concentration to the power `degree`, with derivatives by the concentrations: 2 gives the reducing
    /// quantity, 1 with volumes the reduced density.
    pub(super) fn over_total(&self, concentrations: &[f64], degree: i32) -> OfConcentrations {
        let mut q = self.quadratic(concentrations);
        let total: f64 = concentrations.iter().sum();
        let scale = total.powi(-degree);
        let (once, twice) = (f64::from(degree) / total, f64::from(degree * (degree + 1)) / (total * total));
        let n = concentrations.len();
        for i in 0..n {
            for j in 0..n {
                let crossed = once * (q.gradient[i] + q.gradient[j]);
                q.hessian[i][j] = scale * (q.hessian[i][j] - crossed + twice * q.value);
            }
        }
        for slope in &mut q.gradient[..n] {
            *slope = scale * (*slope - once * q.value);
        }
        q.value *= scale;
        q
    }
}

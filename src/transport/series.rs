//! Evaluation of the published sums: dilute gas, initial density dependence, dense fluid.

use crate::fluid::transport::{Collision, Dense, Dilute, FreeVolume, InitialDensity, Quotient};

/// Avogadro constant times (1 nm)^3, m3/mol.
const AVOGADRO_NM3: f64 = 6.02214076e23 * 1e-27;

impl Dilute {
    /// At temperature (K); Pa s or W/(m K).
    pub(super) fn at(&self, temperature: f64) -> f64 {
        match self {
            Self::Ratio { temperature: reducing, scale, numerator, denominator } => {
                let reduced = temperature / reducing;
                let below = if denominator.is_empty() { 1.0 } else { powers(denominator, reduced) };
                scale * powers(numerator, reduced) / below
            }
            Self::Root { temperature: reducing, scale, denominator } => {
                let reduced = temperature / reducing;
                scale * reduced.sqrt() / powers(denominator, reduced)
            }
            Self::ChapmanEnskog { scale, molar_mass, sigma, energy, collision } => {
                scale * (molar_mass * temperature).sqrt()
                    / (sigma * sigma * collision.at(temperature / energy))
            }
        }
    }
}

impl Collision {
    fn at(&self, reduced: f64) -> f64 {
        match self {
            Self::Series(coefficients) => {
                let x = reduced.ln();
                coefficients.iter().rev().fold(0.0, |sum, a| sum * x + a).exp()
            }
            Self::Neufeld => {
                1.16145 * reduced.powf(-0.14874)
                    + 0.52487 * (-0.77320 * reduced).exp()
                    + 2.16178 * (-2.43787 * reduced).exp()
            }
        }
    }
}

impl InitialDensity {
    /// What the dilute gas is multiplied by and added, at temperature (K) and density (mol/m3).
    pub(super) fn at(&self, temperature: f64, density: f64) -> f64 {
        AVOGADRO_NM3 * self.sigma.powi(3) * powers(self.terms, temperature / self.energy) * density
    }
}

impl Dense {
    /// Total of dense fluid and `thin`, the value of the thin gas, at temperature (K) and density (mol/m3 or kg/m3).
    pub(super) fn at(&self, thin: f64, temperature: f64, density: f64) -> f64 {
        match self {
            Self::Added {
                temperature: reducing,
                density: reference,
                scale,
                terms,
                quotient,
                free_volume,
            } => {
                let (t, rho) = (temperature / reducing, density / reference);
                let quotient = quotient.as_ref().map_or(0.0, |quotient| quotient.at(t, rho));
                let free_volume = free_volume.as_ref().map_or(0.0, |volume| volume.at(t, rho));
                thin + scale * (products(terms, t, rho) + quotient + free_volume)
            }
            Self::Factor { temperature: reducing, density: reference, rows } => {
                let (x, rho) = (reducing / temperature - 1.0, density / reference);
                let row = |row: &&[f64]| row.iter().rev().fold(0.0, |sum, n| sum * (rho - 1.0) + n);
                thin * (rho * rows.iter().rev().fold(0.0, |sum, next| sum * x + row(next))).exp()
            }
        }
    }
}

impl Quotient {
    fn at(&self, t: f64, rho: f64) -> f64 {
        products(self.numerator, t, rho) / products(self.denominator, t, rho)
    }
}

impl FreeVolume {
    /// NaN from close packing on: beyond its pole the term means nothing.
    fn at(&self, t: f64, rho: f64) -> f64 {
        let packed = powers(self.numerator, t) / powers(self.denominator, t);
        if rho < packed {
            products(self.terms, t, rho) * (1.0 / (packed - rho) - 1.0 / packed)
        } else {
            f64::NAN
        }
    }
}

/// `sum n x^t`.
fn powers(terms: &[(f64, f64)], x: f64) -> f64 {
    terms.iter().map(|&(n, t)| n * x.powf(t)).sum()
}

/// `sum n rho^d x^t`.
fn products(terms: &[(f64, f64, f64)], x: f64, rho: f64) -> f64 {
    terms.iter().map(|&(n, d, t)| n * rho.powf(d) * x.powf(t)).sum()
}

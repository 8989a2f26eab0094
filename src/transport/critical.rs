//! What the fluctuations near the critical point add.

use std::f64::consts::{FRAC_2_PI, PI};

use crate::fluid::Fluid;
use crate::fluid::transport::{BOLTZMANN, ConductivityEnhancement, CorrelationLength, ViscosityEnhancement};
use crate::helmholtz::{Equation, Thermo};

/// Below this reduced correlation length there is no enhancement (IAPWS R15-11).
const NEGLIGIBLE: f64 = 1.2e-7;

impl CorrelationLength {
    /// Correlation length (m) at a state.
    fn at(&self, fluid: &Fluid, equation: &Equation, thermo: &Thermo) -> f64 {
        let critical = &fluid.critical;
        let far = self.reference_temperature.unwrap_or(1.5 * critical.temperature);
        let scale = critical.pressure * thermo.density / critical_density(fluid).powi(2);
        let background = far / (thermo.temperature * equation.at(far, thermo.density).p_rho);
        let susceptibility = (scale * (1.0 / thermo.p_rho - background)).max(0.0);
        self.xi0 * (susceptibility / self.gamma0).powf(self.nu / self.gamma)
    }
}

impl ConductivityEnhancement {
    /// W/(m K), at a state whose viscosity (Pa s) is asked for if it is needed.
    pub(super) fn at(
        &self,
        fluid: &Fluid,
        equation: &Equation,
        thermo: &Thermo,
        viscosity: impl FnOnce() -> f64,
    ) -> f64 {
        match self {
            Self::Crossover { correlation_length, amplitude, cutoff } => {
                let xi = correlation_length.at(fluid, equation, thermo);
                let y = cutoff * xi;
                if y < NEGLIGIBLE {
                    return 0.0;
                }
                // The viscosity's own correlation may break down where the cold liquid or vapor has no enhancement.
                let viscosity = viscosity();
                if viscosity.is_nan() || viscosity <= 0.0 {
                    return 0.0;
                }
                let (t, rho, cp) = (thermo.temperature, thermo.density, thermo.cp());
                let share = thermo.cv / cp;
                let crossover = (1.0 - share) * y.atan() + share * y;
                let background =
                    -(-1.0 / (1.0 / y + (y * critical_density(fluid) / rho).powi(2) / 3.0)).exp_m1();
                rho * cp * amplitude * BOLTZMANN * t / (6.0 * PI * viscosity * xi)
                    * FRAC_2_PI
                    * (crossover - background)
            }
            Self::Peak { temperature, density, height, slope_t, slope_rho } => {
                let (x, y) = (temperature / thermo.temperature - 1.0, thermo.density / density - 1.0);
                height * (slope_t * x.powi(4) + slope_rho * y * y).exp()
            }
        }
    }
}

impl ViscosityEnhancement {
    /// The factor at a state.
    pub(super) fn at(&self, fluid: &Fluid, equation: &Equation, thermo: &Thermo) -> f64 {
        let xi = self.correlation_length.at(fluid, equation, thermo);
        (self.exponent * crossover(self.cutoff_c * xi, self.cutoff_d * xi)).exp()
    }
}

/// The crossover function Y of IAPWS R12-08 (Bhattacharjee et al.), of the correlation length times two cutoffs.
fn crossover(c: f64, d: f64) -> f64 {
    // The release switches at 0.3817016416 nm; 1.1 nm is the length of the second cutoff.
    if d <= 0.381_701_641_6 / 1.1 { small_crossover(c, d) } else { full_crossover(c, d) }
}

/// Series for small correlation lengths, where the full function loses its digits.
fn small_crossover(c: f64, d: f64) -> f64 {
    0.2 * c * d.powi(5) * (1.0 - c + c * c - 765.0 / 504.0 * d * d)
}

fn full_crossover(c: f64, d: f64) -> f64 {
    let psi = (1.0 / d.hypot(1.0)).acos();
    let w = ((c - 1.0) / (c + 1.0)).abs().sqrt() * (psi / 2.0).tan();
    let l = if c > 1.0 { ((1.0 + w) / (1.0 - w)).ln() } else { 2.0 * w.atan() };
    let cc = c * c;
    (3.0 * psi).sin() / 12.0 - (2.0 * psi).sin() / (4.0 * c) + (1.0 - 1.25 * cc) * psi.sin() / cc
        - ((1.0 - 1.5 * cc) * psi - (cc - 1.0).abs().powf(1.5) * l) / (cc * c)
}

fn critical_density(fluid: &Fluid) -> f64 {
    fluid.critical.molar_density * fluid.molar_mass
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::{full_crossover, small_crossover};

    #[test]
    fn crossover_functions_meet_where_they_switch() {
        let (c, d) = (0.381_701_641_6 / 1.9, 0.381_701_641_6 / 1.1);
        assert_relative_eq!(small_crossover(c, d), full_crossover(c, d), max_relative = 1e-6);
    }
}

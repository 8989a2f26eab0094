//! Properties that are slopes of the fundamental equation.

use super::Phase;
use crate::error::{Error, Result};
use crate::helmholtz::Thermo;

/// Heat capacities, speed of sound and other slopes at a single-phase or saturated state. SI units.
///
/// Made by [`Refrigerant::derivatives`](crate::Refrigerant::derivatives). At a saturated state they are
/// those of the phase itself. At the critical point isobaric heat capacity, compressibility and expansion are infinite.
#[derive(Debug, Clone, Copy)]
pub struct Derivatives {
    thermo: Thermo,
    gas_constant: f64,
}

impl Derivatives {
    /// Refuses the inside of the dome.
    pub(crate) fn exist_in(phase: Phase) -> Result<()> {
        if phase == Phase::TwoPhase {
            return Err(Error::Undefined {
                property: "a heat capacity, speed of sound or other slope",
                state: "a two-phase state",
            });
        }
        Ok(())
    }

    /// Next to the critical point rounding, or an equation whose own critical point lies a little beside the printed one, may
    /// leave a (dp/drho) below zero: there it is zero.
    pub(crate) fn new(thermo: Thermo, gas_constant: f64) -> Self {
        Self { thermo: Thermo { p_rho: thermo.p_rho.max(0.0), ..thermo }, gas_constant }
    }

    /// Isobaric heat capacity, J/(kg K).
    pub fn cp(&self) -> f64 {
        self.thermo.cp()
    }

    /// Isochoric heat capacity, J/(kg K).
    pub fn cv(&self) -> f64 {
        self.thermo.cv
    }

    /// Speed of sound, m/s.
    pub fn speed_of_sound(&self) -> f64 {
        self.isentropic_stiffness().sqrt()
    }

    /// (dp/drho) at constant entropy, J/kg: finite at the critical point too.
    fn isentropic_stiffness(&self) -> f64 {
        let t = &self.thermo;
        t.p_rho + t.temperature * t.p_t * t.p_t / (t.density * t.density * t.cv)
    }

    /// Isentropic exponent `-(v/p) (dp/dv)_s`: the k of `p v^k = const` for a small isentropic change.
    pub fn isentropic_exponent(&self) -> f64 {
        self.isentropic_stiffness() * self.thermo.density / self.thermo.pressure
    }

    /// Joule-Thomson coefficient `(dT/dp)_h`, K/Pa.
    pub fn joule_thomson(&self) -> f64 {
        let t = &self.thermo;
        (t.temperature * t.p_t / t.density - t.p_rho) / (t.density * t.cv * self.isentropic_stiffness())
    }

    /// Compressibility factor `p / (rho R T)`.
    pub fn compressibility_factor(&self) -> f64 {
        self.thermo.pressure / (self.thermo.density * self.gas_constant * self.thermo.temperature)
    }

    /// Isothermal compressibility `(1/rho) (drho/dp)_T`, 1/Pa.
    pub fn isothermal_compressibility(&self) -> f64 {
        1.0 / (self.thermo.density * self.thermo.p_rho)
    }

    /// Coefficient of thermal expansion `-(1/rho) (drho/dT)_p`, 1/K.
    pub fn thermal_expansion(&self) -> f64 {
        self.thermo.p_t / (self.thermo.density * self.thermo.p_rho)
    }
}

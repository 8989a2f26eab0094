//! Properties that are slopes of the fundamental equation.

use crate::helmholtz::Thermo;

/// Heat capacities, speed of sound and other slopes at a single-phase or saturated state. SI units.
///
/// Made by [`Refrigerant::derivatives`](crate::Refrigerant::derivatives). At a saturated state they are
/// those of the phase itself.
#[derive(Debug, Clone, Copy)]
pub struct Derivatives {
    thermo: Thermo,
    gas_constant: f64,
}

impl Derivatives {
    pub(crate) fn new(thermo: Thermo, gas_constant: f64) -> Self {
        Self { thermo, gas_constant }
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
        (self.cp() / self.cv() * self.thermo.p_rho).sqrt()
    }

    /// Isentropic exponent `-(v/p) (dp/dv)_s`: the k of `p v^k = const` for a small isentropic change.
    pub fn isentropic_exponent(&self) -> f64 {
        self.cp() / self.cv() * self.thermo.p_rho * self.thermo.density / self.thermo.pressure
    }

    /// Joule-Thomson coefficient `(dT/dp)_h`, K/Pa.
    pub fn joule_thomson(&self) -> f64 {
        let t = &self.thermo;
        (t.temperature * t.p_t / (t.density * t.p_rho) - 1.0) / (t.density * t.cp())
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

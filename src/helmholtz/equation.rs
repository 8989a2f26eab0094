//! Properties at temperature and density.

use super::residual::{Alpha, Terms};
use super::size::{rounding, rounding_in_coldest_liquid};
use crate::fluid::{Fluid, IdealGas};

/// One fluid's fundamental equation on a mass basis, with the two integration constants that fix where
/// enthalpy and entropy are zero.
#[derive(Debug)]
pub(crate) struct Equation {
    fluid: &'static Fluid,
    /// J/(kg K)
    pub(crate) gas_constant: f64,
    /// What rounding of the terms leaves of an enthalpy in the coldest saturated liquid, where they are largest, in
    /// units of R T. It is the same for the pressure in units of `rho (dp/drho)_T`.
    pub(crate) rounding: f64,
    /// K
    reducing_temperature: f64,
    /// kg/m3
    reducing_density: f64,
    ideal: &'static IdealGas,
    constant: f64,
    linear: f64,
    terms: Terms,
}

/// Properties at one temperature and density, and the slopes that solvers and sensitivities need.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Thermo {
    /// K
    pub(crate) temperature: f64,
    /// kg/m3
    pub(crate) density: f64,
    /// Pa
    pub(crate) pressure: f64,
    /// J/kg
    pub(crate) enthalpy: f64,
    /// J/(kg K)
    pub(crate) entropy: f64,
    /// J/kg
    pub(crate) internal_energy: f64,
    /// J/(kg K)
    pub(crate) cv: f64,
    /// (dp/dT) at constant density, Pa/K
    pub(crate) p_t: f64,
    /// (dp/drho) at constant temperature, J/kg
    pub(crate) p_rho: f64,
}

impl Equation {
    /// The equation with integration constants `(constant, linear)` of its ideal-gas part.
    pub(crate) fn new(fluid: &'static Fluid, (constant, linear): (f64, f64)) -> Self {
        Self {
            fluid,
            gas_constant: fluid.gas_constant / fluid.molar_mass,
            rounding: rounding_in_coldest_liquid(fluid),
            reducing_temperature: fluid.reducing.temperature,
            reducing_density: fluid.reducing.molar_density * fluid.molar_mass,
            ideal: &fluid.ideal_gas,
            constant,
            linear,
            terms: Terms::new(&fluid.residual),
        }
    }

    /// The same equation with enthalpy and entropy lowered by the given amounts (J/kg, J/(kg K)).
    ///
    /// Replaces the two integration constants: h / (R T_red) holds `linear`, -s / R holds `constant`.
    pub(crate) fn lowered(self, enthalpy: f64, entropy: f64) -> Self {
        let linear = self.linear - enthalpy / (self.gas_constant * self.reducing_temperature);
        let constant = self.constant + entropy / self.gas_constant;
        Self { constant, linear, ..self }
    }

    /// What rounding of the terms leaves of an enthalpy in units of R T, at temperature (K) and density (kg/m3).
    pub(crate) fn rounding_at(&self, temperature: f64, density: f64) -> f64 {
        rounding(self.fluid, temperature, density)
    }

    /// Residual part: what phase equilibrium needs, without the ideal gas.
    pub(crate) fn residual(&self, temperature: f64, density: f64) -> Alpha {
        self.terms.evaluate(density / self.reducing_density, self.reducing_temperature / temperature)
    }

    /// Everything at temperature (K) and density (kg/m3), both positive.
    pub(crate) fn at(&self, temperature: f64, density: f64) -> Thermo {
        let tau = self.reducing_temperature / temperature;
        let delta = density / self.reducing_density;
        let r = self.terms.evaluate(delta, tau);
        let (ideal, ideal_t, ideal_tt) = self.ideal_gas(tau);
        let rt = self.gas_constant * temperature;
        let internal_energy = rt * (ideal_t + r.t);
        Thermo {
            temperature,
            density,
            pressure: density * rt * (1.0 + r.d),
            enthalpy: internal_energy + rt * (1.0 + r.d),
            entropy: self.gas_constant * (ideal_t + r.t - ideal - r.value - delta.ln()),
            internal_energy,
            cv: -self.gas_constant * (ideal_tt + r.tt),
            p_t: density * self.gas_constant * (1.0 + r.d - r.dt),
            p_rho: rt * (1.0 + 2.0 * r.d + r.dd),
        }
    }

    /// Ideal-gas part without ln(delta), and its scaled derivatives to tau.
    fn ideal_gas(&self, tau: f64) -> (f64, f64, f64) {
        let ln_tau = tau.ln();
        let mut value = self.constant + self.linear * tau + self.ideal.logarithm * ln_tau;
        let mut t = self.linear * tau + self.ideal.logarithm;
        let mut tt = -self.ideal.logarithm;
        for term in self.ideal.power {
            let f = term.n * (term.t * ln_tau).exp();
            value += f;
            t += term.t * f;
            tt += term.t * (term.t - 1.0) * f;
        }
        for term in self.ideal.oscillators {
            let x = term.theta * tau;
            // 1 - exp(-x), and x / (exp(x) - 1).
            let rest = -(-x).exp_m1();
            let occupied = x * (1.0 - rest) / rest;
            value += term.n * rest.ln();
            t += term.n * occupied;
            tt -= term.n * occupied * x / rest;
        }
        (value, t, tt)
    }
}

impl Thermo {
    /// Isobaric heat capacity, J/(kg K).
    pub(crate) fn cp(&self) -> f64 {
        self.cv + self.temperature * self.p_t * self.p_t / (self.density * self.density * self.p_rho)
    }

    /// (dh/dT) at constant density.
    pub(crate) fn h_t(&self) -> f64 {
        self.cv + self.p_t / self.density
    }

    /// (dh/drho) at constant temperature.
    pub(crate) fn h_rho(&self) -> f64 {
        (self.p_rho - self.temperature * self.p_t / self.density) / self.density
    }

    /// (ds/dT) at constant density.
    pub(crate) fn s_t(&self) -> f64 {
        self.cv / self.temperature
    }

    /// (ds/drho) at constant temperature.
    pub(crate) fn s_rho(&self) -> f64 {
        -self.p_t / (self.density * self.density)
    }

    /// (du/drho) at constant temperature.
    pub(crate) fn u_rho(&self) -> f64 {
        (self.pressure - self.temperature * self.p_t) / (self.density * self.density)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Akasaka et al., Int. J. Thermophys. 44 (2023) 50, Table 7: a state beyond the limits of pressure of every handle.
    #[test]
    fn printed_state_of_r1336mzze_at_high_pressure() {
        let fluid = crate::fluid::FLUIDS.into_iter().find(|fluid| fluid.designation == "R-1336mzz(E)");
        let fluid = fluid.unwrap();
        let equation = Equation::new(fluid, (fluid.ideal_gas.constant, fluid.ideal_gas.linear));
        let at = equation.at(300.0, 8500.0 * fluid.molar_mass);
        let sound = (at.p_rho * at.cp() / at.cv).sqrt();
        for (got, printed, half_a_unit) in [
            (at.pressure, 22_737_530.0, 5.0),
            (at.cv * fluid.molar_mass, 146.214, 0.0005),
            (at.cp() * fluid.molar_mass, 193.851, 0.0005),
            (sound, 725.684, 0.0005),
        ] {
            assert!((got - printed).abs() <= half_a_unit, "{got} for {printed}");
        }
    }
}

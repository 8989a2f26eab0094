//! Properties at temperature and density.

use multiversion::multiversion;

use super::residual::{Alpha, Terms};
use super::size::{rounding, rounding_in_coldest_liquid};
use crate::fluid::{Fluid, IdealGas};
use crate::numeric::{Exponentials, Lanes};

/// How many points [`Equation::at_each`] takes together.
pub(crate) const TOGETHER: usize = 8;

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
pub(crate) struct Thermo<V = f64> {
    /// K
    pub(crate) temperature: V,
    /// kg/m3
    pub(crate) density: V,
    /// Pa
    pub(crate) pressure: V,
    /// J/kg
    pub(crate) enthalpy: V,
    /// J/(kg K)
    pub(crate) entropy: V,
    /// J/kg
    pub(crate) internal_energy: V,
    /// J/(kg K)
    pub(crate) cv: V,
    /// (dp/dT) at constant density, Pa/K
    pub(crate) p_t: V,
    /// (dp/drho) at constant temperature, J/kg
    pub(crate) p_rho: V,
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
        residual_at(self, temperature, density)
    }

    /// Everything at temperature (K) and density (kg/m3), both positive.
    pub(crate) fn at(&self, temperature: f64, density: f64) -> Thermo {
        everything_at(self, temperature, density)
    }

    /// Everything at several temperatures and densities: the same bits as one by one, in less time.
    pub(crate) fn at_each(
        &self,
        temperatures: &[f64; TOGETHER],
        densities: &[f64; TOGETHER],
    ) -> Thermo<Lanes<TOGETHER>> {
        everything_at_each(self, temperatures, densities)
    }

    #[inline(always)]
    fn reduced<const L: usize>(&self, temperature: Lanes<L>, density: Lanes<L>) -> [Lanes<L>; 2] {
        [density / self.reducing_density, Lanes::all(self.reducing_temperature) / temperature]
    }

    #[inline(always)]
    fn everything<const L: usize>(&self, temperature: Lanes<L>, density: Lanes<L>) -> Thermo<Lanes<L>> {
        let [delta, tau] = self.reduced(temperature, density);
        let r = self.terms.evaluate(delta, tau);
        let [ideal, ideal_t, ideal_tt] = self.ideal_gas(tau);
        let rt = temperature * self.gas_constant;
        let internal_energy = rt * (ideal_t + r.t);
        let compression = r.d + 1.0;
        Thermo {
            temperature,
            density,
            pressure: density * rt * compression,
            enthalpy: internal_energy + rt * compression,
            entropy: (ideal_t + r.t - ideal - r.value - delta.ln()) * self.gas_constant,
            internal_energy,
            cv: (ideal_tt + r.tt) * -self.gas_constant,
            p_t: density * self.gas_constant * (compression - r.dt),
            p_rho: rt * (r.d * 2.0 + r.dd + 1.0),
        }
    }

    /// Ideal-gas part without ln(delta), and its scaled derivatives to tau.
    #[inline(always)]
    fn ideal_gas<const L: usize>(&self, tau: Lanes<L>) -> [Lanes<L>; 3] {
        let ln_tau = tau.ln();
        let mut exponentials = Exponentials::<L, 2>::new();
        for term in self.ideal.power {
            exponentials.push(ln_tau * term.t);
        }
        for term in self.ideal.oscillators {
            exponentials.push(tau * -term.theta);
        }
        exponentials.work_out();
        let mut used = 0;
        let mut value = tau * self.linear + ln_tau * self.ideal.logarithm + self.constant;
        let mut t = tau * self.linear + self.ideal.logarithm;
        let mut tt = Lanes::all(-self.ideal.logarithm);
        for term in self.ideal.power {
            let f = exponentials.get(used) * term.n;
            value = value + f;
            t = t + f * term.t;
            tt = tt + f * (term.t * (term.t - 1.0));
            used += 1;
        }
        for term in self.ideal.oscillators {
            let x = tau * term.theta;
            // 1 - exp(-x), and x / (exp(x) - 1).
            let rest = -exponentials.get(used) + 1.0;
            let occupied = x * (-rest + 1.0) / rest;
            value = value + rest.ln() * term.n;
            t = t + occupied * term.n;
            tt = tt - occupied * x / rest * term.n;
            used += 1;
        }
        [value, t, tt]
    }
}

// The same arithmetic compiled for the widest instructions at hand. No sum and product are fused on any of them, so that
// a figure does not depend on the machine.

#[multiversion(targets("x86_64+avx+avx2+avx512f", "x86_64+avx+avx2"))]
fn residual_at(equation: &Equation, temperature: f64, density: f64) -> Alpha {
    let [delta, tau] = equation.reduced(Lanes([temperature]), Lanes([density]));
    equation.terms.evaluate(delta, tau).lane(0)
}

#[multiversion(targets("x86_64+avx+avx2+avx512f", "x86_64+avx+avx2"))]
fn everything_at(equation: &Equation, temperature: f64, density: f64) -> Thermo {
    equation.everything(Lanes([temperature]), Lanes([density])).lane(0)
}

#[multiversion(targets("x86_64+avx+avx2+avx512f", "x86_64+avx+avx2"))]
fn everything_at_each(
    equation: &Equation,
    temperatures: &[f64; TOGETHER],
    densities: &[f64; TOGETHER],
) -> Thermo<Lanes<TOGETHER>> {
    equation.everything(Lanes(*temperatures), Lanes(*densities))
}

impl<const L: usize> Thermo<Lanes<L>> {
    /// The point in one lane.
    #[inline(always)]
    pub(crate) fn lane(&self, lane: usize) -> Thermo {
        Thermo {
            temperature: self.temperature.0[lane],
            density: self.density.0[lane],
            pressure: self.pressure.0[lane],
            enthalpy: self.enthalpy.0[lane],
            entropy: self.entropy.0[lane],
            internal_energy: self.internal_energy.0[lane],
            cv: self.cv.0[lane],
            p_t: self.p_t.0[lane],
            p_rho: self.p_rho.0[lane],
        }
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
    use std::array::from_fn;

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

    /// A point's figures do not depend on what is worked out beside it.
    #[test]
    fn points_get_the_same_bits_alone_and_beside_others() {
        for fluid in crate::fluid::FLUIDS {
            let equation = Equation::new(fluid, (fluid.ideal_gas.constant, fluid.ideal_gas.linear));
            let reducing = fluid.reducing.molar_density * fluid.molar_mass;
            for round in 0..20 {
                let along = |i: usize| (round * TOGETHER + i) as f64 / 160.0;
                let temperatures = from_fn(|i| fluid.reducing.temperature * (0.55 + 0.8 * along(i)));
                let densities = from_fn(|i| reducing * (7.3 * along(i)).fract() * 2.7 + 1e-6);
                let together = equation.at_each(&temperatures, &densities);
                for (lane, (temperature, density)) in temperatures.into_iter().zip(densities).enumerate() {
                    let at = together.lane(lane);
                    let alone = equation.at(temperature, density);
                    for (got, expected) in [
                        (at.pressure, alone.pressure),
                        (at.enthalpy, alone.enthalpy),
                        (at.entropy, alone.entropy),
                        (at.internal_energy, alone.internal_energy),
                        (at.cv, alone.cv),
                        (at.p_t, alone.p_t),
                        (at.p_rho, alone.p_rho),
                    ] {
                        assert_eq!(
                            got.to_bits(),
                            expected.to_bits(),
                            "{} at {temperature} K",
                            fluid.designation
                        );
                    }
                }
            }
        }
    }
}

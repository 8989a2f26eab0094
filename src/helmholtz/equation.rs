//! Properties at temperature and density.

use multiversion::multiversion;

use super::ideal::Ideal;
use super::residual::{Alpha, Terms};
use super::size::{rounding, rounding_in_coldest_liquid};
use crate::fluid::Fluid;
use crate::numeric::Lanes;

/// How many points [`Equation::at_each`] takes together.
pub(crate) const TOGETHER: usize = 8;

/// The fundamental equation of a fluid, or of a mixture of fixed composition, on a mass basis, with the two integration
/// constants that fix where enthalpy and entropy are zero.
#[derive(Debug)]
pub(crate) struct Equation {
    /// The fluids it is made of, with their mole fractions.
    pub(super) components: Vec<(f64, &'static Fluid)>,
    /// J/(kg K)
    pub(crate) gas_constant: f64,
    /// What rounding of the terms leaves of an enthalpy in the coldest saturated liquid, where they are largest, in
    /// units of R T. It is the same for the pressure in units of `rho (dp/drho)_T`.
    pub(crate) rounding: f64,
    /// K
    pub(super) reducing_temperature: f64,
    /// kg/m3
    pub(super) reducing_density: f64,
    pub(super) ideal: Ideal,
    pub(super) terms: Terms,
    /// By how much enthalpy and entropy were lowered, J/kg and J/(kg K).
    pub(crate) lowered: [f64; 2],
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
    pub(crate) fn new(fluid: &'static Fluid, constants: (f64, f64)) -> Self {
        Self {
            components: vec![(1.0, fluid)],
            gas_constant: fluid.gas_constant / fluid.molar_mass,
            rounding: rounding_in_coldest_liquid(fluid),
            reducing_temperature: fluid.reducing.temperature,
            reducing_density: fluid.reducing.molar_density * fluid.molar_mass,
            ideal: Ideal::new(&fluid.ideal_gas, constants),
            terms: Terms::new(&fluid.residual),
            lowered: [0.0; 2],
        }
    }

    /// The same equation with enthalpy and entropy lowered by the given amounts (J/kg, J/(kg K)).
    ///
    /// Replaces the two integration constants: h / (R T_red) holds `linear`, -s / R holds `constant`.
    pub(crate) fn lowered(mut self, enthalpy: f64, entropy: f64) -> Self {
        self.ideal.linear -= enthalpy / (self.gas_constant * self.reducing_temperature);
        self.ideal.constant += entropy / self.gas_constant;
        self.lowered[0] += enthalpy;
        self.lowered[1] += entropy;
        self
    }

    /// What rounding of the terms leaves of an enthalpy in units of R T, at temperature (K) and density (kg/m3).
    pub(crate) fn rounding_at(&self, temperature: f64, density: f64) -> f64 {
        // Of a mixture: of its components in the same reduced state.
        let of = |(x, fluid): &(f64, &'static Fluid)| {
            let temperature = temperature * (fluid.reducing.temperature / self.reducing_temperature);
            let reducing_density = fluid.reducing.molar_density * fluid.molar_mass;
            x * rounding(fluid, temperature, density * (reducing_density / self.reducing_density))
        };
        self.components.iter().map(of).sum()
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
        let [_, tau] = self.reduced(temperature, density);
        let ideal = if self.ideal.exponentials() <= 16 {
            self.ideal.evaluate::<L, 2>(tau)
        } else {
            self.ideal.evaluate::<L, 16>(tau)
        };
        self.with_ideal(temperature, density, ideal)
    }

    #[inline(always)]
    fn with_ideal<const L: usize>(
        &self,
        temperature: Lanes<L>,
        density: Lanes<L>,
        [ideal, ideal_t, ideal_tt]: [Lanes<L>; 3],
    ) -> Thermo<Lanes<L>> {
        let [delta, tau] = self.reduced(temperature, density);
        let r = self.terms.evaluate(delta, tau);
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

//! The saturation line of a pure fluid: phase equilibrium of its equation of state, solved once and fitted.

use super::Saturation;
use super::equilibrium::{self, Densities};
use crate::error::Result;
use crate::fluid::Fluid;
use crate::helmholtz::Equation;
use crate::numeric::Piecewise;
use crate::state::State;

/// Relative distance from the critical temperature at which the fit ends. Below it the two densities are
/// taken to close in on the critical one as a power of the distance.
const NEAREST: f64 = 1e-9;

/// The same for water and carbon dioxide, where terms that are singular at the critical point cost digits sooner.
const NEAREST_SINGULAR: f64 = 1e-7;

/// Distance from the critical pressure, relative to it, from which on the temperature of a pressure is read off.
const NEAREST_PRESSURE: f64 = 1e-4;

/// By how much of itself the pressure at the temperature of a pressure may be off, and at how many pressures of an octave that is
/// tried.
const INVERSE: f64 = 32.0 * f64::EPSILON;
const SAMPLES: u32 = 64;

/// Where the exponent begins in the bits of a number.
const EXPONENT: u32 = f64::MANTISSA_DIGITS - 1;

/// Bits of the mantissa that name a cell, more where terms are singular at the critical point, and by how much of itself
/// the pressure may rise over one.
const FEWEST_BITS: u32 = 3;
const FEWEST_BITS_SINGULAR: u32 = 4;
const MOST_BITS: u32 = 12;
const LARGEST_RISE: f64 = 0.5;

/// Saturation states from the triple point to the critical point.
#[derive(Debug)]
pub(super) struct Fit {
    critical_temperature: f64,
    critical_pressure: f64,
    critical_density: f64,
    coldest_temperature: f64,
    coldest_pressure: f64,
    /// Power of the distance from the critical temperature with which the densities close in where the fit ends: one half,
    /// less where terms are singular at the critical point.
    critical_exponent: f64,
    /// Against critical temperature less temperature. Seven functions: the eighth place is left zero.
    by_temperature: Piecewise<8>,
    /// Temperature and what else belongs to it, against pressure up to half the critical one.
    by_pressure: Piecewise<8>,
    /// For each octave of pressure from the lowest, whether that is the inverse of the fit by temperature. Where rounding of
    /// the equation shows in the pressures it is a start.
    inverse: Vec<bool>,
    /// Critical temperature less temperature, against critical pressure less pressure, beyond that.
    below_critical: Piecewise<1>,
}

impl Fit {
    /// Solves the equation of state along the line and fits it; takes a few milliseconds.
    pub(super) fn new(equation: &Equation, fluid: &'static Fluid) -> Result<Self> {
        let critical = &fluid.critical;
        let critical_density = critical.molar_density * fluid.molar_mass;
        let coldest_temperature = fluid.coldest.temperature;
        let (nearest, fewest) = if fluid.residual.nonanalytic.is_empty() {
            (NEAREST, FEWEST_BITS)
        } else {
            (NEAREST_SINGULAR, FEWEST_BITS_SINGULAR)
        };
        let lowest = nearest * critical.temperature;
        let highest = critical.temperature - coldest_temperature;
        let mut last: Option<(f64, Densities)> = None;
        // Vapor pressure and density span decades at the cold end, where they rise by a part of themselves in each cell.
        let bits = |start: f64, highest: f64| {
            if start < 1e-2 * critical.temperature {
                return Ok(fewest);
            }
            let temperature = critical.temperature - (2.0 * start).min(highest);
            let solved =
                equilibrium::solve(equation, fluid, temperature, equilibrium::guess(fluid, temperature))?;
            let [l, v] = [solved.liquid, solved.vapor].map(|density| equation.at(temperature, density));
            let slope = (v.entropy - l.entropy) / (1.0 / v.density - 1.0 / l.density) / v.pressure;
            Ok(((slope * start / LARGEST_RISE).log2().ceil() as u32).clamp(fewest, MOST_BITS))
        };
        let by_temperature = Piecewise::fit(lowest, highest, bits, |below| {
            let temperature = critical.temperature - below;
            // The published-style guess is good far from the critical point, the last solution near it.
            let start = match last {
                Some((from, solved)) if below < 1e-2 * critical.temperature => {
                    equilibrium::continued(fluid, solved, from, below)
                }
                _ => equilibrium::guess(fluid, temperature),
            };
            let solved = equilibrium::solve(equation, fluid, temperature, start)?;
            last = Some((below, solved));
            let l = equation.at(temperature, solved.liquid);
            let v = equation.at(temperature, solved.vapor);
            // Equal Gibbs energy of the two phases.
            let vapor_entropy = l.entropy + (v.enthalpy - l.enthalpy) / temperature;
            Ok([v.pressure, l.density, v.density, l.enthalpy, v.enthalpy, l.entropy, vapor_entropy, 0.0])
        })?;
        let span = |below: f64| by_temperature.evaluate(below).map(|[_, liquid, vapor, ..]| liquid - vapor);
        let critical_exponent = match (span(lowest), span(4.0 * lowest)) {
            (Some(near), Some(far)) => (far / near).ln() / 4.0_f64.ln(),
            _ => 0.5,
        };
        let mut line = Self {
            critical_temperature: critical.temperature,
            critical_exponent,
            critical_pressure: critical.pressure,
            critical_density,
            coldest_temperature,
            coldest_pressure: 0.0,
            by_temperature,
            by_pressure: Piecewise::fit(1.0, 2.0, |_, _| Ok(0), |_| Ok([0.0; 8]))?,
            inverse: Vec::new(),
            below_critical: Piecewise::fit(1.0, 2.0, |_, _| Ok(0), |_| Ok([0.0]))?,
        };
        let at_critical = equation.at(critical.temperature, critical_density);
        line.critical_pressure = at_critical.pressure;
        line.coldest_pressure = line.at_temperature(equation, coldest_temperature).pressure();
        let (highest, mut guess) = (line.critical_pressure, critical.temperature);
        let mut temperature = |pressure: f64| {
            guess = line.temperature_by_newton(equation, pressure, guess);
            guess
        };
        let middle = 0.5 * highest;
        let bits = |_, _| Ok(fewest);
        let by_pressure = Piecewise::fit(line.coldest_pressure, middle, bits, |pressure| {
            let temperature = temperature(pressure);
            let Saturation { liquid: l, vapor: v, .. } = line.at_temperature(equation, temperature);
            Ok([temperature, l.density, v.density, l.enthalpy, v.enthalpy, l.entropy, v.entropy, 0.0])
        })?;
        let below_critical = Piecewise::fit(NEAREST_PRESSURE * highest, middle, bits, |below| {
            Ok([critical.temperature - temperature(highest - below)])
        })?;
        let is_inverse = |octave: u64| {
            let start = f64::from_bits((exponent(line.coldest_pressure) + octave) << EXPONENT);
            (0..SAMPLES).map(|k| start * (1.0 + f64::from(k) / f64::from(SAMPLES))).all(|pressure| {
                let there = by_pressure.evaluate(pressure).map(|[temperature, ..]| temperature);
                let off =
                    |temperature| line.at_temperature(equation, temperature).pressure() / pressure - 1.0;
                there.is_none_or(|temperature| off(temperature).abs() <= INVERSE)
            })
        };
        line.inverse = (0..=exponent(middle) - exponent(line.coldest_pressure)).map(is_inverse).collect();
        line.by_pressure = by_pressure;
        line.below_critical = below_critical;
        Ok(line)
    }

    /// Pressures at the triple point and at the critical point, Pa.
    pub(super) fn ends(&self) -> (f64, f64) {
        (self.coldest_pressure, self.critical_pressure)
    }

    /// Both phases at a pressure, where they are read off.
    #[inline(always)]
    pub(super) fn read_at_pressure(&self, pressure: f64) -> Option<Saturation> {
        let [temperature, rest @ .., _] = self.by_pressure.evaluate_together(pressure)?;
        let octave = (exponent(pressure) - exponent(self.coldest_pressure)) as usize;
        let is_inverse = self.inverse.get(octave) == Some(&true);
        is_inverse.then(|| saturation(temperature.max(self.coldest_temperature), pressure, rest))
    }

    /// Temperature at a pressure, where it is read off.
    #[inline]
    pub(super) fn read_temperature(&self, pressure: f64) -> Option<f64> {
        let temperature = self.by_pressure.evaluate_one(pressure, 0)?;
        let octave = (exponent(pressure) - exponent(self.coldest_pressure)) as usize;
        (self.inverse.get(octave) == Some(&true)).then_some(temperature.max(self.coldest_temperature))
    }

    /// Both phases at a pressure between those of the triple and the critical point.
    pub(super) fn at_pressure(&self, equation: &Equation, pressure: f64) -> Saturation {
        if let Some(saturation) = self.read_at_pressure(pressure) {
            return saturation;
        }
        let start = match self.below_critical.evaluate(self.critical_pressure - pressure) {
            Some([below]) => self.critical_temperature - below,
            None => {
                self.by_pressure.evaluate(pressure).map_or(self.critical_temperature, |[start, ..]| start)
            }
        };
        let mut saturation = self.at_temperature(equation, start.max(self.coldest_temperature));
        if (saturation.pressure() / pressure - 1.0).abs() > INVERSE {
            let temperature = self.temperature_by_newton(equation, pressure, start);
            saturation = self.at_temperature(equation, temperature);
        }
        saturation.liquid.pressure = pressure;
        saturation.vapor.pressure = pressure;
        saturation
    }

    /// Densities of liquid and vapor, where they are read off.
    #[inline]
    pub(super) fn densities(&self, temperature: f64) -> Option<[f64; 2]> {
        self.by_temperature.evaluate_two(self.critical_temperature - temperature, [1, 2])
    }

    /// Both phases at a temperature, where they are read off.
    #[inline(always)]
    pub(super) fn read_at_temperature(&self, temperature: f64) -> Option<Saturation> {
        let below = self.critical_temperature - temperature;
        let [pressure, rest @ .., _] = self.by_temperature.evaluate_together(below)?;
        Some(saturation(temperature, pressure, rest))
    }

    /// Both phases at a temperature between the triple and the critical point.
    pub(super) fn at_temperature(&self, equation: &Equation, temperature: f64) -> Saturation {
        if let Some(saturation) = self.read_at_temperature(temperature) {
            return saturation;
        }
        let below = self.critical_temperature - temperature;
        // Closer to the critical point than the fit.
        let nearest = self.by_temperature.lower();
        let [_, liquid, vapor, ..] = self.by_temperature.evaluate(nearest).unwrap_or([0.0; 8]);
        let share = (below.max(0.0) / nearest).powf(self.critical_exponent);
        let towards = |density: f64| self.critical_density + share * (density - self.critical_density);
        let densities = Densities { liquid: towards(liquid), vapor: towards(vapor) };
        let l = equation.at(temperature, densities.liquid);
        let v = equation.at(temperature, densities.vapor);
        // Rounding does not lead out of the dome.
        let pressure = v.pressure.min(self.critical_pressure);
        Saturation {
            liquid: State::saturated_liquid(temperature, pressure, l.density, l.enthalpy, l.entropy),
            vapor: State::saturated_vapor(temperature, pressure, v.density, v.enthalpy, v.entropy),
            glide: None,
            // The difference of two nearly equal entropies over that of the volumes tells nothing any more.
            critical_slope: Some(equation.at(temperature, self.critical_density).p_t),
        }
    }

    /// Temperature of saturation at `pressure` by Newton's method along the line, from `start`.
    fn temperature_by_newton(&self, equation: &Equation, pressure: f64, start: f64) -> f64 {
        let clamp = |t: f64| t.clamp(self.coldest_temperature, self.critical_temperature);
        let mut temperature = clamp(start);
        for _ in 0..20 {
            let saturation = self.at_temperature(equation, temperature);
            let volume_change = saturation.vapor.specific_volume() - saturation.liquid.specific_volume();
            let slope = if volume_change > 1e-3 * saturation.liquid.specific_volume() {
                saturation.pressure_slope()
            } else {
                // At the critical point the line leaves along the critical isochore.
                equation.at(temperature, saturation.vapor.density()).p_t
            };
            // Newton's method in ln(p) against 1/T, in which the line is almost straight.
            let ratio = (pressure / saturation.pressure()).ln() * saturation.pressure() / slope;
            let next = clamp(temperature / (1.0 - ratio / temperature));
            let change = (next - temperature).abs();
            temperature = next;
            if change <= 4.0 * f64::EPSILON * temperature {
                break;
            }
        }
        temperature
    }
}

/// Saturation from the densities, enthalpies and entropies of both phases.
#[inline(always)]
fn saturation(temperature: f64, pressure: f64, of_both: [f64; 6]) -> Saturation {
    let [liquid, vapor, h_liquid, h_vapor, s_liquid, s_vapor] = of_both;
    Saturation {
        liquid: State::saturated_liquid(temperature, pressure, liquid, h_liquid, s_liquid),
        vapor: State::saturated_vapor(temperature, pressure, vapor, h_vapor, s_vapor),
        glide: None,
        critical_slope: None,
    }
}

/// The exponent of a positive number, counted from that of the smallest.
fn exponent(x: f64) -> u64 {
    x.to_bits() >> EXPONENT
}

#[cfg(test)]
mod tests {
    use super::super::{SaturationLine, saturated_liquid};
    use super::*;
    use crate::fluid::DefaultReference;
    use crate::helmholtz::rounding;

    /// Largest scaled residuals of the fitted line over a band of relative distances from the critical temperature, at
    /// temperatures and at pressures.
    ///
    /// Pressure is scaled by the larger of itself and `rho dp/drho`, energies by R T, entropy by R.
    fn worst(fluid: &'static Fluid, farthest: f64, nearest: f64) -> f64 {
        let equation = Equation::new(fluid, (fluid.ideal_gas.constant, fluid.ideal_gas.linear));
        let line = SaturationLine::new(&equation, fluid).unwrap();
        let farthest = farthest.min(1.0 - fluid.coldest.temperature / fluid.critical.temperature);
        let mut worst = 0.0_f64;
        for i in 0..3000 {
            let distance = farthest * (nearest / farthest).powf(f64::from(i) / 3000.0);
            let temperature =
                (line.critical_temperature() * (1.0 - distance)).max(line.coldest_temperature());
            let mut saturation = line.at_temperature(&equation, temperature).unwrap();
            if i % 2 == 1 {
                saturation = line.at_pressure(&equation, saturation.pressure()).unwrap();
            }
            let temperature = saturation.temperature();
            let l = equation.at(temperature, saturation.liquid.density);
            let v = equation.at(temperature, saturation.vapor.density);
            let (r, rt) = (equation.gas_constant, equation.gas_constant * temperature);
            let gibbs = (l.enthalpy - temperature * l.entropy) - (v.enthalpy - temperature * v.entropy);
            for miss in [
                (l.pressure - v.pressure) / (l.density * l.p_rho).max(l.pressure),
                (saturation.pressure() - v.pressure) / v.pressure,
                gibbs / rt,
                (l.enthalpy - saturation.liquid.enthalpy) / rt,
                (v.enthalpy - saturation.vapor.enthalpy) / rt,
                (l.entropy - saturation.liquid.entropy) / r,
                (v.entropy - saturation.vapor.entropy) / r,
            ] {
                worst = worst.max(miss.abs());
            }
        }
        worst
    }

    /// Density of the coldest saturated liquid, kg/m3.
    fn coldest(fluid: &Fluid) -> f64 {
        equilibrium::guess(fluid, fluid.coldest.temperature).liquid
    }

    #[test]
    fn the_fit_is_the_equation_of_state() {
        for fluid in crate::fluid::FLUIDS.into_iter().filter(|fluid| fluid.blend.is_none()) {
            let (all, top) = (worst(fluid, 1.0, 2e-3), worst(fluid, 2e-3, 1e-10));
            // Where terms cancel that are large in the coldest liquid, their rounding is left.
            let in_cold_liquid = rounding(fluid, fluid.coldest.temperature, coldest(fluid));
            let critical = &fluid.critical;
            let at_critical =
                rounding(fluid, critical.temperature, critical.molar_density * fluid.molar_mass);
            assert!(all < in_cold_liquid.max(5e-12), "{}: {all:e}", fluid.designation);
            // The terms that are singular at the critical point cost digits within a millikelvin of it.
            let allowed = if fluid.residual.nonanalytic.is_empty() { at_critical.max(1e-12) } else { 1e-9 };
            assert!(top < allowed, "{}: {top:e} near the critical point", fluid.designation);
        }
    }

    /// The integration constants stored with each fluid set 200 kJ/kg and 1 kJ/(kg K) for saturated liquid at 0 degC to
    /// their 13 digits. So do those printed with the equations of R-134a, to seven digits, and of R-1233zd(E).
    #[test]
    fn stored_constants_set_the_reference() {
        let off = |fluid: &'static Fluid, constants: (f64, f64)| {
            let liquid = saturated_liquid(&Equation::new(fluid, constants), fluid, 273.15).unwrap();
            let r = fluid.gas_constant / fluid.molar_mass;
            ((liquid.enthalpy - 200e3) / (r * 273.15)).abs().max(((liquid.entropy - 1e3) / r).abs())
        };
        let mut checked = Vec::new();
        for fluid in crate::fluid::FLUIDS {
            if fluid.default_reference == DefaultReference::LiquidAt0C {
                let stored = off(fluid, (fluid.ideal_gas.constant, fluid.ideal_gas.linear));
                let liquid = equilibrium::guess(fluid, 273.15).liquid;
                assert!(
                    stored < rounding(fluid, 273.15, liquid).max(1e-12),
                    "{}: {stored:e}",
                    fluid.designation
                );
                checked.push(fluid.designation);
            }
            let half_a_unit = match fluid.designation {
                // Half a unit of the sixth decimal, of which T_red / T makes more in the enthalpy.
                "R-134a" => 5e-7 * 374.18 / 273.15,
                "R-1233zd(E)" => 1e-12,
                _ => continue,
            };
            let published = off(fluid, fluid.as_published.unwrap());
            assert!(published < half_a_unit, "{}: {published:e}", fluid.designation);
        }
        assert!(checked.contains(&"R-123") && checked.contains(&"R-134a") && checked.len() >= 4);
    }
}

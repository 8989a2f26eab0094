//! Two-phase states of a blend, whose temperature glides between bubble and dew point at constant pressure.

use super::State;
use super::flash::Flash;
use super::isochore::mixed;
use super::limits::Limits;
use super::phase::lever;
use super::single::Property;
use crate::error::{Error, Result};
use crate::helmholtz::Thermo;
use crate::numeric::{Bracket, Secant, newton};
use crate::saturation::Curves;

/// Quality below which a mixture may be saturated liquid but for rounding.
const BESIDE: f64 = 1e-9;

impl Flash<'_> {
    /// The mixture of liquid and vapor at temperature and pressure; `None` outside the dome of a blend, and for a pure
    /// fluid.
    pub(super) fn mixture_at(&self, pressure: f64, temperature: f64) -> Result<Option<State>> {
        let two_phases = self.line.coldest_pressure()..=self.line.highest_pressure();
        if self.line.curves().is_none() || !two_phases.contains(&pressure) {
            return Ok(None);
        }
        let saturation = self.line.at_pressure(self.equation, pressure)?;
        let (bubble, dew) = (saturation.liquid.temperature, saturation.vapor.temperature);
        Ok((bubble..=dew)
            .contains(&temperature)
            .then(|| State { temperature, ..saturation.mixture(lever(bubble, dew, temperature)) }))
    }

    /// The mixture of a blend at temperature and quality.
    pub(super) fn mixture_with(&self, curves: &Curves, temperature: f64, quality: f64) -> Result<State> {
        if quality <= 0.0 || quality >= 1.0 {
            // Saturated liquid hotter than the hottest is that but for rounding.
            let known = if quality <= 0.0 { temperature.min(curves.hottest()) } else { temperature };
            let saturated = self.line.at_temperature(self.equation, known)?.mixture(quality);
            return Ok(State { temperature, ..saturated });
        }
        let pressure = curves.pressure_of_mixture(temperature, quality)?;
        let saturation = self.line.at_pressure(self.equation, pressure)?;
        Ok(State { temperature, ..saturation.mixture(quality) })
    }

    /// The mixture of a blend at a temperature at which a property that rises with quality has a value; `None` where the
    /// dome ends before.
    pub(super) fn mixture_on_isotherm(
        &self,
        curves: &Curves,
        temperature: f64,
        of: impl Fn(&State) -> f64,
        (value, rounding): (f64, f64),
    ) -> Result<Option<State>> {
        let lowest = curves.lowest_quality(temperature)?;
        let is_hot = temperature > curves.hottest();
        if is_hot && (lowest > 1.0 || of(&self.mixture_with(curves, temperature, lowest)?) > value + rounding)
        {
            return Ok(None);
        }
        let saturation = self.line.at_temperature(self.equation, temperature)?;
        let (l, v) = (of(&saturation.liquid), of(&saturation.vapor));
        // Saturated liquid of the same mixture, found by its pressure, may have more than that by rounding.
        let start = lever(l, v, value);
        if start < BESIDE && of(&self.mixture_with(curves, temperature, f64::MIN_POSITIVE)?) >= value {
            return self.mixture_with(curves, temperature, 0.0).map(Some);
        }
        // The slope is that at constant pressure first.
        let mut secant = Secant::new(v - l);
        let quality = newton(
            "quality of a blend at a temperature",
            Bracket { lower: lowest, upper: 1.0, rising: true },
            start,
            f64::EPSILON,
            |quality| {
                let off = of(&self.mixture_with(curves, temperature, quality)?) - value;
                Ok((off, secant.at(quality, off)))
            },
        )?;
        self.mixture_with(curves, temperature, quality).map(Some)
    }

    /// The mixture of a blend at temperature and density.
    pub(super) fn mixture_of_density(
        &self,
        curves: &Curves,
        temperature: f64,
        density: f64,
    ) -> Result<Option<State>> {
        let volume = (1.0 / density, self.rounding() / density);
        let mixture = self.mixture_on_isotherm(curves, temperature, State::specific_volume, volume)?;
        Ok(mixture.map(|mixture| State { density, ..mixture }))
    }

    /// A state of a blend between the highest temperature of its liquid and the critical one, denser than its vapor.
    pub(super) fn hot_blend(&self, temperature: f64, density: f64) -> Result<State> {
        if let Some(curves) = self.line.curves()
            && let Some(mixture) = self.mixture_of_density(curves, temperature, density)?
        {
            return Ok(mixture);
        }
        let state = self.beyond_curves(&self.equation.at(temperature, density))?;
        Ok(State { temperature, ..state })
    }

    /// The state of one phase of a blend beside the end of its curves: above its critical pressure, or the end of the bubble
    /// curve itself but for rounding.
    pub(super) fn beyond_curves(&self, at: &Thermo) -> Result<State> {
        let state = self.single(at);
        let end = self.line.highest_pressure();
        let is_end = at.temperature <= self.line.hottest() * (1.0 + 1e-12)
            && (at.pressure - end).abs() <= self.rounding() * at.density * at.p_rho;
        if is_end {
            return Ok(State { pressure: end, ..state });
        }
        if self.line.is_above_dome(state.pressure) {
            Ok(state)
        } else {
            Err(self.line.unsettled(state.pressure))
        }
    }

    /// The pressures between which a blend has a state of enthalpy and entropy.
    ///
    /// Entropy by the lever rule does not follow from `dh = T ds + v dp`. Along an isenthalp just below the bubble curve it
    /// may fall with falling pressure before it rises (R-407C below some 270 K, R-404A below 205 K). Of several solutions the liquid
    /// is taken, that of the highest pressure: below the bubble point only what exceeds its entropy is looked for.
    pub(super) fn blend_between(
        &self,
        curves: &Curves,
        enthalpy: f64,
        entropy: f64,
        (lower, upper): (f64, f64),
    ) -> Result<(f64, f64)> {
        let rounding = 1e-13 * self.equation.gas_constant;
        let off = |pressure: f64| Ok(self.entropy_off(pressure, enthalpy, entropy)?.0);
        let is_above = |pressure: f64| Ok(off(pressure)? >= -rounding);
        let (highest, critical) = (curves.highest_pressure(), self.line.critical_pressure());
        if is_above(critical)? {
            return Ok((critical, upper));
        }
        // The end is met but for rounding.
        if off(highest)? > self.rounding() * self.equation.gas_constant {
            return Err(self.line.unsettled(highest));
        }
        let liquid = |temperature| Ok(self.line.at_temperature(self.equation, temperature)?.liquid);
        let (coldest, hottest) = (self.line.coldest_temperature(), curves.hottest());
        if !(liquid(coldest)?.enthalpy..liquid(hottest)?.enthalpy).contains(&enthalpy) {
            return Ok((lower, highest));
        }
        let bubble = newton(
            "bubble point at an enthalpy",
            Bracket { lower: coldest, upper: hottest, rising: true },
            0.5 * (coldest + hottest),
            f64::EPSILON,
            |temperature| Ok((liquid(temperature)?.enthalpy - enthalpy, f64::NAN)),
        )?;
        let bubble = liquid(bubble)?.pressure;
        Ok(if is_above(bubble)? { (bubble, highest) } else { (lower, bubble) })
    }

    /// The range error for a mixture of a blend below the lowest temperature.
    pub(super) fn too_cold(&self, density: f64, pressure: f64) -> Error {
        let Limits { minimum_temperature, maximum_pressure, reason, .. } = self.limits;
        let coldest = self.t_rho(minimum_temperature, density);
        Error::OutOfRange {
            argument: "pressure",
            value: pressure,
            minimum: coldest.map_or(f64::NAN, |state| state.pressure),
            maximum: maximum_pressure,
            unit: "Pa",
            reason: format!("at {density} kg/m3 from {minimum_temperature} K up; {reason}"),
        }
    }

    /// The mixture of a blend on an isochore that leaves its dome at a pressure.
    pub(super) fn mixture_on_isochore(
        &self,
        density: f64,
        leaves: f64,
        property: Property,
        value: f64,
    ) -> Result<State> {
        let lower = self.line.coldest_pressure();
        let at = |pressure: f64| -> Result<State> {
            Ok(mixed(&self.line.at_pressure(self.equation, pressure)?, density))
        };
        let lowest = at(lower)?;
        if property.of_state(&lowest) > value {
            return Err(Error::OutOfRange {
                argument: property.name(),
                value,
                minimum: property.of_state(&lowest),
                maximum: property.of(&self.equation.at(self.limits.maximum_temperature, density)),
                unit: property.unit(),
                reason: format!("at {density} kg/m3 from {lower} Pa up; {}", self.limits.reason),
            });
        }
        let pressure = newton(
            "two-phase pressure on an isochore",
            Bracket { lower, upper: leaves, rising: true },
            0.5 * (lower + leaves),
            2.0 * f64::EPSILON,
            |pressure| Ok((property.of_state(&at(pressure)?) - value, f64::NAN)),
        )?;
        let state = at(pressure)?;
        self.within_temperatures(state, property).ok_or_else(|| self.too_cold(density, state.pressure))
    }
}

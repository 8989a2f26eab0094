//! Two-phase states of a blend, whose temperature glides between bubble and dew point at constant pressure.

use super::State;
use super::flash::Flash;
use super::isochore::mixed;
use super::phase::lever;
use super::single::Property;
use crate::error::{Error, Result};
use crate::numeric::{Bracket, newton};
use crate::saturation::Curves;

impl Flash<'_> {
    /// The mixture of liquid and vapor at temperature and pressure; `None` outside the dome of a blend, and for a pure
    /// fluid.
    pub(super) fn mixture_at(&self, pressure: f64, temperature: f64) -> Result<Option<State>> {
        let two_phases = self.line.triple_pressure()..self.line.critical_pressure();
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
            return Ok(self.line.at_temperature(self.equation, temperature)?.mixture(quality));
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
        value: f64,
    ) -> Result<Option<State>> {
        let lowest = curves.lowest_quality(temperature)?;
        if lowest > 0.0 && of(&self.mixture_with(curves, temperature, lowest)?) > value {
            return Ok(None);
        }
        let saturation = self.line.at_temperature(self.equation, temperature)?;
        let (l, v) = (of(&saturation.liquid), of(&saturation.vapor));
        let quality = newton(
            "quality of a blend at a temperature",
            Bracket { lower: lowest, upper: 1.0, rising: true },
            lever(l, v, value),
            f64::EPSILON,
            |quality| Ok((of(&self.mixture_with(curves, temperature, quality)?) - value, v - l)),
        )?;
        self.mixture_with(curves, temperature, quality).map(Some)
    }

    /// The mixture of a blend on an isochore that leaves its dome at a pressure.
    pub(super) fn mixture_on_isochore(
        &self,
        density: f64,
        leaves: f64,
        property: Property,
        value: f64,
    ) -> Result<State> {
        let lower = self.line.triple_pressure();
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
            Bracket { lower, upper: leaves.min(self.line.critical_pressure()), rising: true },
            0.5 * (lower + leaves),
            2.0 * f64::EPSILON,
            |pressure| Ok((property.of_state(&at(pressure)?) - value, f64::NAN)),
        )?;
        let state = at(pressure)?;
        self.temperature_in_range(state.temperature)?;
        Ok(state)
    }
}

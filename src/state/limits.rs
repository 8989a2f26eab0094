//! Where states are given, and what rounding does at the ends.

use super::State;
use super::flash::Flash;
use super::single::Property;
use crate::error::{Error, Result, within};
use crate::helmholtz::Thermo;
use crate::numeric::{Bracket, newton};

/// Limits within which states are given.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limits {
    pub(crate) minimum_temperature: f64,
    pub(crate) maximum_temperature: f64,
    pub(crate) maximum_pressure: f64,
    pub(crate) reason: &'static str,
}

/// Lowest pressure and density a state is given for, Pa and kg/m3: an ideal gas long since.
pub(super) const LOWEST_PRESSURE: f64 = 1e-9;
pub(super) const LOWEST_DENSITY: f64 = 1e-16;

/// How closely the fitted saturation line meets the equation of state, relative to the scale of the property
/// ([`Property::scale`]): a value that misses the end of a range by less is met by that end. Large terms of an equation
/// may leave more ([`Flash::rounding`]).
const ROUNDING: f64 = 4e-12;

/// How far beyond the limits of temperature solvers may look before the result is checked.
const MARGIN: (f64, f64) = (0.85, 1.5);

impl Flash<'_> {
    /// What rounding may leave, relative to the scale of a property.
    pub(super) fn rounding(&self) -> f64 {
        self.equation.rounding.max(ROUNDING)
    }

    /// The same at one point: that of a vapor is less than that of the coldest liquid.
    pub(super) fn rounding_at(&self, temperature: f64, density: f64) -> f64 {
        self.equation.rounding_at(temperature, density).max(ROUNDING)
    }

    pub(super) fn temperature_in_range(&self, temperature: f64) -> Result<f64> {
        let Limits { minimum_temperature, maximum_temperature, reason, .. } = self.limits;
        within("temperature", temperature, minimum_temperature, maximum_temperature, "K", reason)
    }

    /// Refuses a pressure beyond the limits. A computed one may lie beyond either end by rounding, and be given again.
    pub(super) fn pressure_in_range(&self, pressure: f64) -> Result<f64> {
        let Limits { maximum_pressure, reason, .. } = self.limits;
        let meets = |end: f64, rounding: f64| (pressure - end).abs() <= rounding * end;
        if meets(LOWEST_PRESSURE, self.rounding()) || meets(maximum_pressure, 1e-9) {
            return Ok(pressure);
        }
        within("pressure", pressure, LOWEST_PRESSURE, maximum_pressure, "Pa", reason)?;
        self.line.settled(pressure)
    }

    /// Refuses a density no state has: equations may turn to lower pressures again beyond the highest one.
    pub(super) fn density_in_range(&self, density: f64) -> Result<f64> {
        if (LOWEST_DENSITY..=self.line.coldest_liquid_density()).contains(&density) {
            return Ok(density);
        }
        // As far beyond as the pressure may be.
        let highest = self.densest()?.density * (1.0 + 1e-9);
        let reason = "from a vacuum to the highest density at the highest pressure";
        within("density", density, LOWEST_DENSITY, highest, "kg/m3", reason)
    }

    /// The densest point at the highest pressure: the coldest, or where an extrapolated equation has it (R-717 of 1993).
    fn densest(&self) -> Result<Thermo> {
        let Limits { minimum_temperature, maximum_temperature, maximum_pressure, .. } = self.limits;
        let coldest = self.pt_unchecked(maximum_pressure, minimum_temperature)?;
        if coldest.p_t >= 0.0 {
            return Ok(coldest);
        }
        let temperature = newton(
            "density maximum at the highest pressure",
            Bracket { lower: minimum_temperature, upper: maximum_temperature, rising: true },
            minimum_temperature,
            f64::EPSILON,
            |temperature| Ok((self.pt_unchecked(maximum_pressure, temperature)?.p_t, f64::NAN)),
        )?;
        self.pt_unchecked(maximum_pressure, temperature)
    }

    pub(super) fn search_range(&self) -> (f64, f64) {
        (MARGIN.0 * self.limits.minimum_temperature, MARGIN.1 * self.limits.maximum_temperature)
    }

    /// The state, if it lies within the limits of temperature; rounding of a property at their very ends is taken off along the isobar.
    pub(super) fn within_temperatures(&self, state: State, property: Property) -> Option<State> {
        self.within_temperatures_along(state, property, |at| (-at.p_t / at.p_rho, Some(state.pressure)))
    }

    /// The same along the isentrope: on an isobar next to the critical point a little temperature takes up much enthalpy.
    pub(super) fn within_temperatures_on_isentrope(&self, state: State, property: Property) -> Option<State> {
        self.within_temperatures_along(state, property, |at| (-at.s_t() / at.s_rho(), None))
    }

    /// The same along a line, of which the slope of density with temperature is told and the pressure, if it has one.
    fn within_temperatures_along(
        &self,
        state: State,
        property: Property,
        line: impl Fn(&Thermo) -> (f64, Option<f64>),
    ) -> Option<State> {
        let Limits { minimum_temperature, maximum_temperature, .. } = self.limits;
        let temperature = state.temperature.clamp(minimum_temperature, maximum_temperature);
        if temperature == state.temperature {
            return Some(state);
        }
        let gas_constant = self.equation.gas_constant;
        if state.quality.is_some() {
            // Saturated liquid takes up some ten gas constants for a kelvin. Wet states of a blend are told less closely.
            let share = if self.line.curves().is_some() { 1.0 } else { 10.0 };
            let missed = share * (state.temperature - temperature).abs();
            return (missed <= ROUNDING * temperature).then_some(State { temperature, ..state });
        }
        let beside = self.equation.at(temperature, state.density);
        let (slope, pressure) = line(&beside);
        let density = state.density + slope * (temperature - state.temperature);
        let end = self.equation.at(temperature, density);
        let value = property.of_state(&state);
        let missed = (property.of(&end) - value).abs();
        let rounding = self.rounding_at(temperature, density);
        let pressure = pressure.unwrap_or(end.pressure);
        (missed <= rounding * property.scale(gas_constant, temperature))
            .then(|| property.given(value, self.single(&Thermo { pressure, ..end })))
    }

    pub(super) fn out_of_temperatures(&self, temperature: f64, reason: String) -> Error {
        Error::OutOfRange {
            argument: "temperature",
            value: temperature,
            minimum: self.limits.minimum_temperature,
            maximum: self.limits.maximum_temperature,
            unit: "K",
            reason,
        }
    }
}

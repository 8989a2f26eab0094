//! A state from any two of its properties.

use super::isochore::mixed;
use super::limits::{LOWEST_DENSITY, LOWEST_PRESSURE, Limits};
use super::patches::{Found, Given};
use super::phase::{self, Region};
use super::single::{self, Branch, Property};
use super::{Patches, Phase, State};
use crate::error::{Error, Number, Result, finite, rounded, within};
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::{Bracket, Secant, newton};
use crate::saturation::{Saturation, SaturationLine};

/// Residual, in the scale of the property ([`Property::scale`]), beyond which a solved state is not accepted: far above what rounding leaves, far
/// below what a wrong root has.
pub(super) const ACCEPTED: f64 = 1e-10;

/// The solvers of one refrigerant.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flash<'a> {
    pub(crate) equation: &'a Equation,
    pub(crate) line: &'a SaturationLine,
    pub(crate) patches: &'a Patches,
    pub(crate) limits: Limits,
}

impl Flash<'_> {
    /// The state of one phase. Where the pressure was given, `thermo` has that one. The end of a blend's curves is met by what
    /// misses it by rounding.
    pub(super) fn single(&self, thermo: &Thermo) -> State {
        let state = self.with_phase(State::single(thermo, Phase::Vapor));
        let (pressure, end) = (state.pressure, self.line.highest_pressure());
        let stiffness = thermo.density * thermo.p_rho;
        let met = !self.line.is_above_dome(pressure)
            && pressure > end
            && pressure - end <= self.rounding() * stiffness;
        State { pressure: if met { end } else { pressure }, ..state }
    }

    /// A state of one phase with the name of that phase.
    ///
    /// Rounding is taken off at the ends: a temperature that misses the critical one by it is that one (a hair below, the state
    /// would lie inside the dome), and no liquid has a lower pressure than the coldest saturated one.
    pub(super) fn with_phase(&self, state: State) -> State {
        let critical = self.line.critical_temperature();
        let is_critical = (state.temperature - critical).abs() <= 16.0 * f64::EPSILON * critical;
        let temperature = if is_critical { critical } else { state.temperature };
        let hot = temperature >= critical;
        let dense = self.line.is_above_dome(state.pressure);
        let phase = match (hot, dense) {
            (true, true) => Phase::Supercritical,
            (true, false) => Phase::Vapor,
            (false, true) => Phase::Liquid,
            (false, false) => {
                if state.density > self.line.critical_density() {
                    Phase::Liquid
                } else {
                    Phase::Vapor
                }
            }
        };
        let pressure = match phase {
            Phase::Liquid => state.pressure.max(self.line.coldest_pressure()),
            _ => state.pressure,
        };
        State { temperature, pressure, phase, ..state }
    }

    /// Temperature and pressure. On the saturation line the state is the vapor; a blend has mixtures of liquid and vapor
    /// between its bubble and dew curves.
    pub(crate) fn pt(&self, pressure: f64, temperature: f64) -> Result<State> {
        self.pressure_in_range(pressure)?;
        self.temperature_in_range(temperature)?;
        self.pt_in_range(pressure, temperature)
    }

    pub(super) fn pt_in_range(&self, pressure: f64, temperature: f64) -> Result<State> {
        let mixture = match self.line.mixed() {
            Some(mixed) => self.mixed_pt(mixed, pressure, temperature)?,
            None => self.mixture_at(pressure, temperature)?,
        };
        let state = match mixture {
            Some(mixture) => mixture,
            None => self.pt_in_one_phase(pressure, temperature)?,
        };
        Ok(State { pressure, temperature, ..state })
    }

    fn pt_in_one_phase(&self, pressure: f64, temperature: f64) -> Result<State> {
        let two_phases = self.line.coldest_pressure()..self.line.highest_pressure();
        if two_phases.contains(&pressure) && temperature >= self.line.coldest_temperature() {
            let saturation = self.line.at_pressure(self.equation, pressure)?;
            let phase =
                if temperature < saturation.liquid.temperature { Phase::Liquid } else { Phase::Vapor };
            let distance = Given::Temperature.distance(&saturation, phase, temperature);
            if let Some(Found::State(state)) = self.patched(pressure, Given::Temperature, phase, distance) {
                return Ok(state);
            }
        }
        Ok(self.single(&Thermo { pressure, ..self.pt_unchecked(pressure, temperature)? }))
    }

    pub(super) fn pt_unchecked(&self, pressure: f64, temperature: f64) -> Result<Thermo> {
        let branch = if temperature >= self.line.critical_temperature() {
            Branch::Whole
        } else {
            let known = temperature.max(self.line.coldest_temperature());
            let saturation = self.line.at_temperature(self.equation, known)?;
            if pressure <= saturation.pressure() {
                Branch::Vapor
            } else if temperature < self.line.hottest() {
                Branch::Liquid
            } else {
                Branch::Whole
            }
        };
        let density = single::density(self.equation, self.line, temperature, pressure, branch)?;
        Ok(self.equation.at(temperature, density))
    }

    /// Pressure with enthalpy, entropy or internal energy.
    pub(crate) fn at_pressure(&self, pressure: f64, property: Property, value: f64) -> Result<State> {
        self.pressure_in_range(pressure)?;
        finite(property.name(), value, property.unit())?;
        match self.on_isobar(pressure, property, value) {
            Ok(state) => self
                .within_temperatures(state, property)
                .ok_or_else(|| self.out_of_isobar(pressure, property, value, None)),
            Err(error) => Err(self.out_of_isobar(pressure, property, value, Some(error))),
        }
    }

    /// The same somewhat beyond the limits of temperature.
    fn on_isobar(&self, pressure: f64, property: Property, value: f64) -> Result<State> {
        if let Some(mixed) = self.line.mixed()
            && let Some(dew) = self.line.cold_dew(self.equation, pressure)?
            && value < property.of_state(&dew.vapor)
        {
            return self.mixed_below_coldest_liquid(mixed, pressure, property, value);
        }
        let region =
            phase::at_pressure(self.equation, self.line, pressure, value, |state| property.of_state(state))?;
        let patched = |saturation: &Saturation, phase: Phase| {
            let given = Given::of(property)?;
            self.patched(pressure, given, phase, given.distance(saturation, phase, value))
        };
        let found = match &region {
            Region::TwoPhase(saturation, x) => Some(Found::State(match self.line.mixed() {
                Some(mixed) if *x > 0.0 && *x < 1.0 => {
                    self.mixed_at_pressure(mixed, saturation, (property, value), *x)?
                }
                _ => saturation.mixture(*x),
            })),
            Region::Liquid(saturation) => patched(saturation, Phase::Liquid),
            Region::Vapor(saturation) => patched(saturation, Phase::Vapor),
            Region::ThinVapor | Region::Dense => None,
        };
        let start = match found {
            Some(Found::State(state)) => return Ok(property.given(value, State { pressure, ..state })),
            Some(Found::Start(temperature, density)) => Some((temperature, density)),
            None => None,
        };
        let thermo = single::at_pressure(
            self.equation,
            self.line,
            pressure,
            (property, value),
            &region,
            start,
            self.search_range(),
        )?;
        Ok(property.given(value, self.single(&Thermo { pressure, ..thermo })))
    }

    /// The range error for a value that no state at this pressure has, or the solver's own error.
    fn out_of_isobar(&self, pressure: f64, property: Property, value: f64, failed: Option<Error>) -> Error {
        let at = |temperature| self.pt_in_range(pressure, temperature).map(|state| property.of_state(&state));
        let ends = (at(self.limits.minimum_temperature), at(self.limits.maximum_temperature));
        let (minimum, maximum) = match ends {
            (Ok(minimum), Ok(maximum)) => (minimum, maximum),
            (Err(error), _) | (_, Err(error)) => return error,
        };
        match failed {
            Some(error) if (minimum..=maximum).contains(&value) => error,
            _ => Error::OutOfRange {
                argument: property.name(),
                value,
                minimum,
                maximum,
                unit: property.unit(),
                reason: format!(
                    "at {pressure} Pa between {} K and {} K; {}",
                    self.limits.minimum_temperature, self.limits.maximum_temperature, self.limits.reason
                ),
            },
        }
    }

    /// Enthalpy and entropy: read off patches of their plane where there are any.
    pub(crate) fn hs(&self, enthalpy: f64, entropy: f64) -> Result<State> {
        finite("enthalpy", enthalpy, "J/kg")?;
        finite("entropy", entropy, "J/(kg K)")?;
        match self.on_plane(enthalpy, entropy) {
            Some(state) => Ok(state),
            None => self.hs_by_pressure(enthalpy, entropy),
        }
    }

    /// The pressure at which both hold. At constant enthalpy entropy always falls with pressure, `(ds/dp)_h = -v/T`, in
    /// every phase and through phase boundaries.
    ///
    /// Temperature may rise and fall along the way: it is held against its limits at the end only.
    pub(super) fn hs_by_pressure(&self, enthalpy: f64, entropy: f64) -> Result<State> {
        let triple = self.line.at_temperature(self.equation, self.line.coldest_temperature())?;
        let cold = self.line.coldest_pressure();
        let lower = if enthalpy < triple.vapor.enthalpy { cold } else { LOWEST_PRESSURE };
        let upper = self.limits.maximum_pressure;
        let none = || Error::Inconsistent {
            arguments: "enthalpy and entropy",
            reason: format!(
                "no state between {} Pa and {upper} Pa and between {} K and {} K has {} J/kg together with {} J/(kg K)",
                Number(rounded(lower)),
                self.limits.minimum_temperature,
                self.limits.maximum_temperature,
                Number(enthalpy),
                Number(entropy)
            ),
        };
        // Far from anything: less than any liquid has, or more than the hottest gas and all work of pressure.
        let hottest = self.equation.at(self.limits.maximum_temperature, LOWEST_DENSITY);
        let work = upper / self.line.critical_density();
        if enthalpy < triple.liquid.enthalpy - work || enthalpy > hottest.enthalpy + work {
            return Err(none());
        }
        if let Some(mixed) = self.line.mixed()
            && let Some(state) = self.mixed_hs(mixed, enthalpy, entropy)?
        {
            return Ok(state);
        }
        let (low, high) = match self.line.curves() {
            None => self.beside_top(enthalpy, entropy, (lower, upper))?,
            Some(curves) => self.blend_between(curves, enthalpy, entropy, (lower, upper))?,
        };
        // One more than the logarithm of the pressure over the lowest, lest a relative tolerance meets zero.
        let variable = |pressure: f64| (pressure / lower).ln() + 1.0;
        let pressure_at = |variable: f64| (lower * (variable - 1.0).exp()).clamp(lower, upper);
        let mut reached = None;
        let (is_blend, mut secant) = (self.line.curves().is_some(), Secant::new(f64::NAN));
        let solved = newton(
            "pressure at enthalpy and entropy",
            Bracket { lower: variable(low), upper: variable(high), rising: false },
            variable((triple.pressure() * self.line.critical_pressure()).sqrt()),
            f64::EPSILON,
            |variable| {
                let pressure = pressure_at(variable);
                let (off, state) = self.entropy_off(pressure, enthalpy, entropy)?;
                let slope = state.map_or(0.0, |state| -pressure / (state.density * state.temperature));
                reached = state.or(reached);
                // That of a blend is another one inside the dome.
                Ok((off, if is_blend { secant.at(variable, off) } else { slope }))
            },
        )?;
        let pressure = pressure_at(solved);
        let state = match reached {
            Some(state) if state.pressure == pressure => state,
            Some(_) => self.on_isobar(pressure, Property::Enthalpy, enthalpy).map_err(|_| none())?,
            None => return Err(none()),
        };
        // An end of the range is met but for rounding.
        if (state.entropy - entropy).abs() > self.rounding() * self.equation.gas_constant {
            return Err(none());
        }
        let state = self
            .within_temperatures(state, Property::Enthalpy)
            .or_else(|| self.within_temperatures_on_isentrope(state, Property::Enthalpy))
            .ok_or_else(none)?;
        Ok(State { entropy, ..state })
    }

    /// By how much the entropy at pressure and enthalpy is above a value, and the state there; only the sign where there is
    /// none.
    pub(super) fn entropy_off(
        &self,
        pressure: f64,
        enthalpy: f64,
        entropy: f64,
    ) -> Result<(f64, Option<State>)> {
        match self.on_isobar(pressure, Property::Enthalpy, enthalpy) {
            Ok(state) => Ok((state.entropy - entropy, Some(state))),
            Err(failed) => match self.out_of_isobar(pressure, Property::Enthalpy, enthalpy, Some(failed)) {
                // Too cold at this pressure: the pressure is too high; too hot: too low.
                Error::OutOfRange { minimum, .. } => Ok((if enthalpy < minimum { -1.0 } else { 1.0 }, None)),
                error => Err(error),
            },
        }
    }

    /// Temperature and density; every phase.
    pub(crate) fn t_rho(&self, temperature: f64, density: f64) -> Result<State> {
        match self.t_rho_from_line(temperature, density)? {
            Some(state) => Ok(state),
            None => self.t_rho_from_equation(&self.equation.at(temperature, density)),
        }
    }

    /// The state on or inside the dome; `None` outside, where the equation has to be asked.
    pub(crate) fn t_rho_from_line(&self, temperature: f64, density: f64) -> Result<Option<State>> {
        self.temperature_in_range(temperature)?;
        self.density_in_range(density)?;
        let state = self.t_rho_unchecked(temperature, density)?;
        if let Some(state) = state {
            self.pressure_in_range(state.pressure)?;
        }
        Ok(state)
    }

    /// The state outside the dome, given what the equation says.
    pub(crate) fn t_rho_from_equation(&self, at: &Thermo) -> Result<State> {
        let state = State { temperature: at.temperature, ..self.single(at) };
        self.pressure_in_range(state.pressure)?;
        Ok(state)
    }

    fn t_rho_unchecked(&self, temperature: f64, density: f64) -> Result<Option<State>> {
        if let Some(mixed) = self.line.mixed() {
            return self.mixed_t_rho(mixed, temperature, density);
        }
        let cold = temperature < self.line.critical_temperature();
        if cold
            && !(temperature >= self.line.coldest_temperature()
                && self.line.is_beside_dome(temperature, density))
        {
            let saturation = self.line.at_temperature(self.equation, temperature)?;
            let (liquid, vapor) = (saturation.liquid, saturation.vapor);
            if temperature > self.line.hottest() && density > vapor.density {
                return self.hot_blend(temperature, density).map(Some);
            }
            if density < liquid.density && density > vapor.density {
                let Some(curves) = self.line.curves() else {
                    return Ok(Some(mixed(&saturation, density)));
                };
                return match self.mixture_of_density(curves, temperature, density)? {
                    Some(mixture) => Ok(Some(mixture)),
                    None => Ok(Some(liquid)),
                };
            }
            if density == liquid.density {
                return Ok(Some(liquid));
            }
            if density == vapor.density {
                return Ok(Some(vapor));
            }
        }
        Ok(None)
    }

    /// Pressure and quality.
    pub(crate) fn px(&self, pressure: f64, quality: f64) -> Result<State> {
        within("quality", quality, 0.0, 1.0, "kg/kg", "the mass fraction of vapor")?;
        // A pure fluid has the temperature of its saturation, whatever the quality.
        if let Some(saturation) = self.line.read_at_pressure(pressure)
            && saturation.vapor.temperature >= self.limits.minimum_temperature
        {
            return Ok(saturation.mixture(quality));
        }
        if let Some(mixed) = self.line.mixed() {
            return self.mixed_px(mixed, pressure, quality);
        }
        let state = self.line.at_pressure(self.equation, pressure)?.mixture(quality);
        // A blend at the pressure of its coldest vapor has colder liquid.
        self.within_temperatures(state, Property::Enthalpy).ok_or_else(|| {
            let reason = format!("at {pressure} Pa with the quality {quality}; {}", self.limits.reason);
            self.out_of_temperatures(state.temperature, reason)
        })
    }

    /// Temperature and quality.
    pub(crate) fn tx(&self, temperature: f64, quality: f64) -> Result<State> {
        within("quality", quality, 0.0, 1.0, "kg/kg", "the mass fraction of vapor")?;
        if let Some(saturation) = self.line.read_at_temperature(temperature) {
            return Ok(saturation.mixture(quality));
        }
        if let Some(mixed) = self.line.mixed() {
            return self.mixed_tx(mixed, temperature, quality);
        }
        match self.line.curves() {
            Some(curves) => {
                let (coldest, critical) = (self.line.coldest_temperature(), self.line.critical_temperature());
                let range = coldest..critical;
                if !range.contains(&temperature) || quality < curves.lowest_quality(temperature)? {
                    self.line.holds(temperature)?;
                }
                self.mixture_with(curves, temperature, quality)
            }
            None => Ok(self.line.at_temperature(self.equation, temperature)?.mixture(quality)),
        }
    }
}

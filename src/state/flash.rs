//! A state from any two of its properties.

use super::phase::{self, Region, lever};
use super::single::{self, Branch, Property};
use super::{Phase, State};
use crate::error::{Error, Result, finite, within};
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::{Bracket, newton};
use crate::saturation::SaturationLine;

/// Limits within which states are given.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limits {
    pub(crate) minimum_temperature: f64,
    pub(crate) maximum_temperature: f64,
    pub(crate) maximum_pressure: f64,
    pub(crate) reason: &'static str,
}

/// Lowest pressure and density a state is given for, Pa and kg/m3: an ideal gas long since.
const LOWEST_PRESSURE: f64 = 1e-9;
const LOWEST_DENSITY: f64 = 1e-14;

/// How far beyond the limits of temperature solvers may look before the result is checked.
const MARGIN: (f64, f64) = (0.85, 1.5);

/// The solvers of one refrigerant.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flash<'a> {
    pub(crate) equation: &'a Equation,
    pub(crate) line: &'a SaturationLine,
    pub(crate) limits: Limits,
}

impl Flash<'_> {
    fn temperature_in_range(&self, temperature: f64) -> Result<f64> {
        let Limits { minimum_temperature, maximum_temperature, reason, .. } = self.limits;
        within("temperature", temperature, minimum_temperature, maximum_temperature, "K", reason)
    }

    fn pressure_in_range(&self, pressure: f64) -> Result<f64> {
        within("pressure", pressure, LOWEST_PRESSURE, self.limits.maximum_pressure, "Pa", self.limits.reason)
    }

    fn density_in_range(&self, density: f64) -> Result<f64> {
        let reason = "a density is positive; the highest one follows from the highest pressure";
        within("density", density, LOWEST_DENSITY, f64::MAX, "kg/m3", reason)
    }

    fn search_range(&self) -> (f64, f64) {
        (MARGIN.0 * self.limits.minimum_temperature, MARGIN.1 * self.limits.maximum_temperature)
    }

    fn single(&self, thermo: &Thermo) -> State {
        let hot = thermo.temperature >= self.line.critical_temperature();
        let dense = thermo.pressure >= self.line.critical_pressure();
        let phase = match (hot, dense) {
            (true, true) => Phase::Supercritical,
            (true, false) => Phase::Vapor,
            (false, true) => Phase::Liquid,
            (false, false) => {
                if thermo.density > self.line.critical_density() {
                    Phase::Liquid
                } else {
                    Phase::Vapor
                }
            }
        };
        State::single(thermo, phase)
    }

    /// Temperature and pressure. On the saturation line the state is the vapor.
    pub(crate) fn pt(&self, pressure: f64, temperature: f64) -> Result<State> {
        self.pressure_in_range(pressure)?;
        self.temperature_in_range(temperature)?;
        let thermo = self.pt_unchecked(pressure, temperature)?;
        Ok(State { pressure, temperature, ..self.single(&thermo) })
    }

    fn pt_unchecked(&self, pressure: f64, temperature: f64) -> Result<Thermo> {
        let branch = if temperature >= self.line.critical_temperature() {
            Branch::Whole
        } else {
            let known = temperature.max(self.line.triple_temperature());
            let saturation = self.line.at_temperature(self.equation, known)?;
            if pressure > saturation.pressure() { Branch::Liquid } else { Branch::Vapor }
        };
        let density = single::density(self.equation, self.line, temperature, pressure, branch)?;
        Ok(self.equation.at(temperature, density))
    }

    /// Pressure with enthalpy, entropy or internal energy.
    pub(crate) fn at_pressure(&self, pressure: f64, property: Property, value: f64) -> Result<State> {
        self.pressure_in_range(pressure)?;
        finite(property.name(), value, property.unit())?;
        let region =
            phase::at_pressure(self.equation, self.line, pressure, value, |state| property.of_state(state))?;
        let mut state = if let Region::TwoPhase(saturation, x) = region {
            saturation.mixture(x)
        } else {
            let solved = single::at_pressure(
                self.equation,
                self.line,
                pressure,
                property,
                value,
                &region,
                self.search_range(),
            );
            let Limits { minimum_temperature, maximum_temperature, .. } = self.limits;
            match solved {
                Ok(thermo) if (minimum_temperature..=maximum_temperature).contains(&thermo.temperature) => {
                    self.single(&thermo)
                }
                // Rounding at the very end of the range.
                Ok(thermo) if (thermo.temperature / minimum_temperature - 1.0).abs() < 1e-12 => {
                    State { temperature: minimum_temperature, ..self.single(&thermo) }
                }
                other => return Err(self.out_of_isobar(pressure, property, value, other.err())),
            }
        };
        state.pressure = pressure;
        match property {
            Property::Enthalpy => state.enthalpy = value,
            Property::Entropy => state.entropy = value,
            Property::InternalEnergy => state.internal_energy = value,
        }
        Ok(state)
    }

    /// The range error for a value that no state at this pressure has, or the solver's own error.
    fn out_of_isobar(&self, pressure: f64, property: Property, value: f64, failed: Option<Error>) -> Error {
        let at = |temperature| self.pt_unchecked(pressure, temperature).map(|thermo| property.of(&thermo));
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

    /// Enthalpy and entropy: the pressure at which both hold. At constant enthalpy entropy always falls with
    /// pressure, `(ds/dp)_h = -v/T`, in every phase and through phase boundaries.
    pub(crate) fn hs(&self, enthalpy: f64, entropy: f64) -> Result<State> {
        finite("enthalpy", enthalpy, "J/kg")?;
        finite("entropy", entropy, "J/(kg K)")?;
        let triple = self.line.at_temperature(self.equation, self.line.triple_temperature())?;
        let lower = if enthalpy < triple.vapor.enthalpy { triple.pressure() } else { LOWEST_PRESSURE };
        let upper = self.limits.maximum_pressure;
        let contradiction =
            |reason: String| Error::Inconsistent { arguments: "enthalpy and entropy", reason };
        let none = || {
            contradiction(format!(
                "no state between {lower} Pa and {upper} Pa has {enthalpy} J/kg together with {entropy} J/(kg K)"
            ))
        };
        let start = (triple.pressure() * self.line.critical_pressure()).sqrt().ln();
        let mut reached = None;
        let ln_p = newton(
            "pressure at enthalpy and entropy",
            Bracket { lower: lower.ln(), upper: upper.ln(), rising: false },
            start,
            f64::EPSILON,
            |ln_p| {
                let pressure = ln_p.exp().clamp(lower, upper);
                match self.at_pressure(pressure, Property::Enthalpy, enthalpy) {
                    Ok(state) => {
                        reached = Some(state);
                        let slope = -pressure / (state.density * state.temperature);
                        // Entropy in units of R, so that zero is met to rounding.
                        Ok((state.entropy - entropy, slope))
                    }
                    // Too cold at this pressure: the pressure is too high; too hot: too low.
                    Err(Error::OutOfRange { argument: "enthalpy", value, minimum, .. }) => {
                        Ok((if value < minimum { -1.0 } else { 1.0 }, 0.0))
                    }
                    Err(error) => Err(error),
                }
            },
        )?;
        let pressure = ln_p.exp().clamp(lower, upper);
        let state = match reached {
            Some(state) if state.pressure == pressure => state,
            Some(_) => self.at_pressure(pressure, Property::Enthalpy, enthalpy).map_err(|_| none())?,
            None => return Err(none()),
        };
        if (state.entropy - entropy).abs() > 1e-9 * self.equation.gas_constant.max(entropy.abs()) {
            return Err(none());
        }
        Ok(State { entropy, ..state })
    }

    /// Temperature and density; every phase.
    pub(crate) fn t_rho(&self, temperature: f64, density: f64) -> Result<State> {
        self.temperature_in_range(temperature)?;
        self.density_in_range(density)?;
        let state = self.t_rho_unchecked(temperature, density)?;
        self.pressure_in_range(state.pressure)?;
        Ok(state)
    }

    fn t_rho_unchecked(&self, temperature: f64, density: f64) -> Result<State> {
        if temperature < self.line.critical_temperature() {
            let saturation = self.line.at_temperature(self.equation, temperature)?;
            let (liquid, vapor) = (saturation.liquid, saturation.vapor);
            if density < liquid.density && density > vapor.density {
                let x = lever(liquid.specific_volume(), vapor.specific_volume(), 1.0 / density);
                return Ok(State { density, ..saturation.mixture(x) });
            }
            if density == liquid.density {
                return Ok(liquid);
            }
            if density == vapor.density {
                return Ok(vapor);
            }
        }
        Ok(self.single(&self.equation.at(temperature, density)))
    }

    /// Temperature with enthalpy, entropy or internal energy: the solution of lowest pressure.
    ///
    /// Along an isotherm enthalpy and internal energy fall with density through gas, dome and liquid, reach a
    /// lowest value in the compressed liquid and rise beyond it; entropy falls all the way.
    pub(crate) fn at_temperature(&self, temperature: f64, property: Property, value: f64) -> Result<State> {
        self.temperature_in_range(temperature)?;
        finite(property.name(), value, property.unit())?;
        let with = |state: State| match property {
            Property::Enthalpy => State { enthalpy: value, ..state },
            Property::Entropy => State { entropy: value, ..state },
            Property::InternalEnergy => State { internal_energy: value, ..state },
        };
        let of = |density: f64| {
            let thermo = self.equation.at(temperature, density);
            (property.of(&thermo), property.slopes(&thermo).1)
        };
        let below_critical = temperature < self.line.critical_temperature();
        let dilute = LOWEST_PRESSURE / (self.equation.gas_constant * temperature);
        let highest = {
            let branch = if below_critical { Branch::Liquid } else { Branch::Whole };
            single::density(self.equation, self.line, temperature, self.limits.maximum_pressure, branch)?
        };
        let (gas_end, liquid_start) = if below_critical {
            let saturation = self.line.at_temperature(self.equation, temperature)?;
            let (l, v) = (property.of_state(&saturation.liquid), property.of_state(&saturation.vapor));
            if (l..=v).contains(&value) {
                return Ok(with(saturation.mixture(lever(l, v, value))));
            }
            (saturation.vapor.density, saturation.liquid.density)
        } else {
            (highest, dilute)
        };
        let solve = |lower: f64, upper: f64, rising: bool| -> Result<State> {
            // In the logarithm of density, in which a gas is almost straight.
            let ln_density = newton(
                "density at temperature and energy or entropy",
                Bracket { lower: lower.ln(), upper: upper.ln(), rising },
                0.5 * (lower.ln() + upper.ln()),
                f64::EPSILON,
                |ln_density| {
                    let density = ln_density.exp();
                    let (at, slope) = of(density);
                    Ok((at - value, slope * density))
                },
            )?;
            let state = self.single(&self.equation.at(temperature, ln_density.exp()));
            self.pressure_in_range(state.pressure)?;
            Ok(with(State { temperature, ..state }))
        };
        let at_dilute = of(dilute).0;
        let at_highest = of(highest).0;
        if below_critical && value <= at_dilute && value > of(gas_end).0 {
            return solve(dilute, gas_end, false);
        }
        // Beyond saturated liquid, or on a supercritical isotherm: down to the lowest value, then up.
        let turning = if of(highest).1 > 0.0 {
            newton(
                "lowest enthalpy or internal energy on an isotherm",
                Bracket { lower: liquid_start, upper: highest, rising: true },
                highest,
                1e-12,
                |density| Ok((of(density).1, f64::NAN)),
            )?
        } else {
            highest
        };
        let at_turning = of(turning).0;
        let at_start = of(liquid_start).0;
        if (at_turning..=at_start).contains(&value) {
            return solve(liquid_start, turning, false);
        }
        if value > at_turning && value <= at_highest {
            return solve(turning, highest, true);
        }
        Err(Error::OutOfRange {
            argument: property.name(),
            value,
            minimum: at_turning,
            maximum: at_dilute.max(at_highest),
            unit: property.unit(),
            reason: format!("at {temperature} K up to {} Pa", self.limits.maximum_pressure),
        })
    }

    /// Density and pressure: the solution of highest temperature (liquid water has two below 4 degC).
    pub(crate) fn rho_p(&self, density: f64, pressure: f64) -> Result<State> {
        self.density_in_range(density)?;
        self.pressure_in_range(pressure)?;
        let coldest = self.limits.minimum_temperature;
        let at = self.t_rho_unchecked(coldest, density)?;
        let slope = |temperature: f64| self.equation.at(temperature, density).p_t;
        let lower = if at.phase == Phase::TwoPhase || slope(coldest) >= 0.0 {
            coldest
        } else {
            // The pressure first falls along this isochore: start where it turns.
            newton(
                "density maximum",
                Bracket { lower: coldest, upper: 1.1 * coldest, rising: true },
                coldest,
                1e-12,
                |temperature| Ok((slope(temperature), f64::NAN)),
            )?
        };
        let state = self.on_isochore(density, lower, "pressure", "Pa", pressure, |state| state.pressure)?;
        Ok(State { density, pressure, ..state })
    }

    /// Density with enthalpy, entropy or internal energy.
    pub(crate) fn at_density(&self, density: f64, property: Property, value: f64) -> Result<State> {
        self.density_in_range(density)?;
        finite(property.name(), value, property.unit())?;
        let coldest = self.limits.minimum_temperature;
        let of = |state: &State| property.of_state(state);
        let state = self.on_isochore(density, coldest, property.name(), property.unit(), value, of)?;
        Ok(match property {
            Property::Enthalpy => State { density, enthalpy: value, ..state },
            Property::Entropy => State { density, entropy: value, ..state },
            Property::InternalEnergy => State { density, internal_energy: value, ..state },
        })
    }

    /// The state on an isochore, between `lower` and the highest temperature, where a rising property has a value.
    fn on_isochore(
        &self,
        density: f64,
        lower: f64,
        argument: &'static str,
        unit: &'static str,
        value: f64,
        of: impl Fn(&State) -> f64,
    ) -> Result<State> {
        let upper = self.limits.maximum_temperature;
        let (minimum, maximum) =
            (of(&self.t_rho_unchecked(lower, density)?), of(&self.t_rho_unchecked(upper, density)?));
        let reason = format!("at {density} kg/m3 between {lower} K and {upper} K");
        within(argument, value, minimum, maximum, unit, &reason)?;
        let temperature = newton(
            "temperature on an isochore",
            Bracket {
                lower: lower * (1.0 - f64::EPSILON),
                upper: upper * (1.0 + f64::EPSILON),
                rising: true,
            },
            0.5 * (lower + self.line.critical_temperature()),
            f64::EPSILON,
            |temperature| {
                let here = of(&self.t_rho_unchecked(temperature.clamp(lower, upper), density)?);
                let nearby = temperature.clamp(lower, upper) * (1.0 - 1e-7);
                let slope = if nearby > lower {
                    (here - of(&self.t_rho_unchecked(nearby, density)?)) / (1e-7 * temperature)
                } else {
                    f64::NAN
                };
                Ok((here - value, slope))
            },
        )?;
        let state = self.t_rho_unchecked(temperature.clamp(lower, upper), density)?;
        self.pressure_in_range(state.pressure)?;
        Ok(state)
    }

    /// Pressure and quality.
    pub(crate) fn px(&self, pressure: f64, quality: f64) -> Result<State> {
        within("quality", quality, 0.0, 1.0, "kg/kg", "the mass fraction of vapor")?;
        Ok(self.line.at_pressure(self.equation, pressure)?.mixture(quality))
    }

    /// Temperature and quality.
    pub(crate) fn tx(&self, temperature: f64, quality: f64) -> Result<State> {
        within("quality", quality, 0.0, 1.0, "kg/kg", "the mass fraction of vapor")?;
        Ok(self.line.at_temperature(self.equation, temperature)?.mixture(quality))
    }
}

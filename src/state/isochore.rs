//! States on an isochore: density with pressure, enthalpy, entropy or internal energy.
//!
//! An isochore leaves the dome once and for all at one temperature; above it there is one phase. Where it enters the
//! dome, at the triple point as a rule, is known as well, so each part is searched by itself.

use super::flash::Flash;
use super::phase::lever;
use super::single::Property;
use super::stream::along_saturation;
use super::{Phase, State};
use crate::error::{Error, Result, finite, within};
use crate::helmholtz::Thermo;
use crate::numeric::{Bracket, newton};
use crate::saturation::Saturation;

impl Flash<'_> {
    /// Density and pressure: the solution of highest temperature (liquid water has two below 4 degC).
    pub(crate) fn rho_p(&self, density: f64, pressure: f64) -> Result<State> {
        self.density_in_range(density)?;
        self.pressure_in_range(pressure)?;
        if let Some(mixed) = self.line.mixed() {
            return self.mixed_rho_p(mixed, density, pressure);
        }
        let (coldest, hottest) = (self.limits.minimum_temperature, self.limits.maximum_temperature);
        let mut lower = coldest;
        let mut is_vapor = false;
        if pressure >= self.line.coldest_pressure() && !self.line.is_above_dome(pressure) {
            let saturation = self.line.at_pressure(self.equation, pressure)?;
            let (liquid, vapor) = (saturation.liquid, saturation.vapor);
            if (vapor.density..=liquid.density).contains(&density) {
                let state = State { pressure, ..mixed(&saturation, density) };
                return self
                    .within_temperatures(state, Property::Enthalpy)
                    .ok_or_else(|| self.too_cold(density, pressure));
            }
            is_vapor = density < vapor.density;
            lower = vapor.temperature;
        }
        if !is_vapor {
            if density > self.line.critical_density() {
                let ends = (self.line.coldest_pressure(), self.limits.maximum_pressure.max(pressure));
                let reason = "no liquid has a lower pressure than the coldest saturated one";
                within("pressure", pressure, ends.0, ends.1, "Pa", reason)?;
            }
            let dome = self.line.dome_at_density(self.equation, density)?;
            if let Some((enters, _)) = dome.filter(|&(enters, _)| enters > coldest) {
                // The lowest pressure of all is that where the dome is entered, met but for rounding.
                let at = self.equation.at(enters, density);
                if (at.pressure - pressure).abs() <= self.rounding() * at.density * at.p_rho {
                    return Ok(self.single(&Thermo { pressure, ..at }));
                }
            }
            lower = match dome {
                Some((_, leaves)) => leaves.max(coldest),
                None => self.coldest_warming(density)?,
            };
        }
        let of = |at: &Thermo| (at.pressure, at.p_t);
        let rounding = |at: &Thermo| {
            self.rounding_at(at.temperature, at.density) * (at.density * at.p_rho).max(at.pressure)
        };
        let at = self.one_phase(density, (lower, hottest), ("pressure", "Pa", pressure), of, rounding)?;
        Ok(self.single(&Thermo { pressure, ..at }))
    }

    /// Lowest temperature from which on the pressure rises along an isochore that never meets the dome.
    fn coldest_warming(&self, density: f64) -> Result<f64> {
        let (coldest, hottest) = (self.limits.minimum_temperature, self.limits.maximum_temperature);
        let slope = |temperature: f64| self.equation.at(temperature, density).p_t;
        if slope(coldest) >= 0.0 {
            return Ok(coldest);
        }
        newton(
            "density maximum",
            Bracket { lower: coldest, upper: hottest, rising: true },
            coldest,
            f64::EPSILON,
            |temperature| Ok((slope(temperature), f64::NAN)),
        )
    }

    /// Density with enthalpy, entropy or internal energy, all of which rise with temperature along the whole isochore.
    pub(crate) fn at_density(&self, density: f64, property: Property, value: f64) -> Result<State> {
        self.density_in_range(density)?;
        finite(property.name(), value, property.unit())?;
        if let Some(mixed) = self.line.mixed() {
            let state = self.mixed_at_density(mixed, density, property, value)?;
            self.pressure_in_range(state.pressure)?;
            return Ok(property.given(value, State { density, ..state }));
        }
        let (coldest, hottest) = (self.limits.minimum_temperature, self.limits.maximum_temperature);
        let at = |temperature: f64| property.of(&self.equation.at(temperature, density));
        let of = |thermo: &Thermo| (property.of(thermo), property.slopes(thermo).0);
        let rounding = |thermo: &Thermo| {
            self.rounding() * property.scale(self.equation.gas_constant, thermo.temperature)
        };
        let wanted = (property.name(), property.unit(), value);
        let one_phase = |ends: (f64, f64)| -> Result<State> {
            Ok(self.single(&self.one_phase(density, ends, wanted, of, rounding)?))
        };
        let dome = self.line.dome_at_density(self.equation, density)?;
        let gap =
            self.line.gap(self.equation)?.filter(|&(vapor, liquid)| (vapor..=liquid).contains(&density));
        let state = match dome {
            Some((_, leaves)) if gap.is_some() => {
                let highest = self.line.highest_pressure();
                let last = mixed(&self.line.at_pressure(self.equation, highest)?, density);
                let met = self.rounding() * property.scale(self.equation.gas_constant, last.temperature);
                if value <= property.of_state(&last) + met {
                    self.mixture_on_isochore(density, highest, property, value)?
                } else {
                    self.beyond_curves(&self.one_phase(density, (leaves, hottest), wanted, of, rounding)?)?
                }
            }
            None => one_phase((coldest, hottest))?,
            Some((_, leaves)) if value >= at(leaves) => one_phase((leaves.max(coldest), hottest))?,
            Some((enters, _)) if enters > coldest && value <= at(enters) => one_phase((coldest, enters))?,
            Some((_, leaves)) if self.line.curves().is_some() => {
                // Not that of the equation: in a cold liquid it is rounded by more than the bubble pressure is.
                let end = self.line.at_temperature(self.equation, leaves)?;
                let phase = if density > self.line.critical_density() { end.liquid } else { end.vapor };
                self.mixture_on_isochore(density, phase.pressure, property, value)?
            }
            Some((enters, leaves)) => {
                self.two_phase(density, (enters.max(coldest), leaves), property, value)?
            }
        };
        self.pressure_in_range(state.pressure)?;
        Ok(property.given(value, State { density, ..state }))
    }

    /// The point of one phase on an isochore between two temperatures at which a rising property has a value.
    pub(super) fn one_phase(
        &self,
        density: f64,
        (lower, upper): (f64, f64),
        (argument, unit, value): (&'static str, &'static str, f64),
        of: impl Fn(&Thermo) -> (f64, f64),
        rounding: impl Fn(&Thermo) -> f64,
    ) -> Result<Thermo> {
        let ends = (self.equation.at(lower, density), self.equation.at(upper, density));
        let ((minimum, slope), (maximum, _)) = (of(&ends.0), of(&ends.1));
        if value <= minimum && value >= minimum - rounding(&ends.0) {
            return Ok(ends.0);
        }
        if value >= maximum && value <= maximum + rounding(&ends.1) {
            return Ok(ends.1);
        }
        if !(minimum..=maximum).contains(&value) {
            let reason =
                format!("at {density} kg/m3 between {lower} K and {upper} K; {}", self.limits.reason);
            return Err(Error::OutOfRange { argument, value, minimum, maximum, unit, reason });
        }
        let mut last = None;
        let temperature = newton(
            "temperature on an isochore",
            Bracket { lower, upper, rising: true },
            lower + (value - minimum) / slope,
            2.0 * f64::EPSILON,
            |temperature| {
                let thermo = self.equation.at(temperature, density);
                last = Some(thermo);
                let (here, slope) = of(&thermo);
                Ok((here - value, slope))
            },
        )?;
        let solved = last.filter(|at| at.temperature == temperature);
        Ok(solved.unwrap_or_else(|| self.equation.at(temperature, density)))
    }

    /// The two-phase state on an isochore between the temperatures at which it enters and leaves the dome.
    fn two_phase(
        &self,
        density: f64,
        (lower, upper): (f64, f64),
        property: Property,
        value: f64,
    ) -> Result<State> {
        let at = |temperature: f64| self.line.at_temperature(self.equation, temperature);
        let coldest = mixed(&at(lower)?, density);
        let minimum = property.of_state(&coldest);
        if value <= minimum {
            if value >= minimum - self.rounding() * property.scale(self.equation.gas_constant, lower) {
                return Ok(coldest);
            }
            return Err(Error::OutOfRange {
                argument: property.name(),
                value,
                minimum,
                maximum: property.of(&self.equation.at(self.limits.maximum_temperature, density)),
                unit: property.unit(),
                reason: format!("at {density} kg/m3 from {lower} K up; {}", self.limits.reason),
            });
        }
        let temperature = newton(
            "two-phase temperature on an isochore",
            Bracket { lower, upper, rising: true },
            0.5 * (lower + upper),
            2.0 * f64::EPSILON,
            |temperature| {
                let saturation = at(temperature)?;
                let here = property.of_state(&mixed(&saturation, density));
                Ok((here - value, self.two_phase_slope(&saturation, density, property)))
            },
        )?;
        Ok(mixed(&at(temperature)?, density))
    }

    /// Slope of a property with temperature along an isochore inside the dome.
    fn two_phase_slope(&self, saturation: &Saturation, density: f64, property: Property) -> f64 {
        let (liquid, vapor) = (saturation.liquid, saturation.vapor);
        let (volume_l, volume_v) = (liquid.specific_volume(), vapor.specific_volume());
        let slope = saturation.pressure_slope();
        let of = |phase: State| {
            let along = along_saturation(&self.equation.at(phase.temperature, phase.density), slope);
            let by_t = match property {
                Property::Enthalpy => along.enthalpy,
                Property::Entropy => along.entropy,
                Property::InternalEnergy => {
                    along.enthalpy - slope * phase.specific_volume() - phase.pressure * along.volume
                }
            };
            (by_t, along.volume)
        };
        let ((l, volume_by_t_l), (v, volume_by_t_v)) = (of(liquid), of(vapor));
        let x = lever(volume_l, volume_v, 1.0 / density);
        let between = |l: f64, v: f64| l + x * (v - l);
        let quality_by_t = -between(volume_by_t_l, volume_by_t_v) / (volume_v - volume_l);
        between(l, v) + quality_by_t * (property.of_state(&vapor) - property.of_state(&liquid))
    }
}

/// The mixture of saturated liquid and vapor that has `density`.
pub(super) fn mixed(saturation: &Saturation, density: f64) -> State {
    let (liquid, vapor) = (saturation.liquid, saturation.vapor);
    let x = lever(liquid.specific_volume(), vapor.specific_volume(), 1.0 / density);
    let state = saturation.mixture(x);
    debug_assert!(state.phase == Phase::TwoPhase || x == 0.0 || x == 1.0);
    State { density, ..state }
}

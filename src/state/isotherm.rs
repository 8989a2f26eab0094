//! States on an isotherm: temperature with enthalpy, entropy or internal energy.

use super::State;
use super::flash::Flash;
use super::limits::LOWEST_PRESSURE;
use super::phase::lever;
use super::single::{self, Branch, Property};
use crate::error::{Error, Result, finite};
use crate::numeric::{Bracket, newton};

/// Steps in density in which turns are looked for.
const STEPS: u32 = 16;

impl Flash<'_> {
    /// Temperature with enthalpy, entropy or internal energy: the solution of lowest pressure.
    ///
    /// Along an isotherm all three fall with density through gas and dome. In the compressed liquid entropy goes on
    /// falling, enthalpy and internal energy fall to a lowest value and rise beyond it, or rise from the start; in water
    /// below 4 degC entropy and internal energy rise first. So that part is taken from turn to turn.
    pub(crate) fn at_temperature(&self, temperature: f64, property: Property, value: f64) -> Result<State> {
        self.temperature_in_range(temperature)?;
        finite(property.name(), value, property.unit())?;
        let of = |density: f64| property.of(&self.equation.at(temperature, density));
        let rounding = self.rounding() * property.scale(self.equation.gas_constant, temperature);
        let below_critical = temperature < self.line.critical_temperature();
        // Of a blend: between its hottest saturated liquid and the critical temperature.
        let hot = below_critical && temperature > self.line.hottest();
        let dilute = LOWEST_PRESSURE / (self.equation.gas_constant * temperature);
        let at_dilute = of(dilute);
        // Where a blend that hot has one phase again.
        let dense = if hot {
            let critical = self.line.critical_pressure();
            single::density(self.equation, self.line, temperature, critical, Branch::Whole)?
        } else {
            f64::NAN
        };
        let start = if below_critical {
            let saturation = self.line.at_temperature(self.equation, temperature)?;
            let (liquid, vapor) = (saturation.liquid, saturation.vapor);
            let (l, v) = (property.of_state(&liquid), property.of_state(&vapor));
            if value <= v && (value >= l || hot) {
                match (self.line.mixed(), self.line.curves()) {
                    (Some(mixed), _) if !hot => {
                        return self.mixed_at_temperature(mixed, &saturation, property, value);
                    }
                    (Some(_), _) if value > of(dense) + rounding => {
                        return self.mixed_on_hot_isotherm(temperature, property, value);
                    }
                    (Some(_), _) => {}
                    (None, Some(curves)) => {
                        let of = |state: &State| property.of_state(state);
                        let wanted = (value, rounding);
                        if let Some(mixture) = self.mixture_on_isotherm(curves, temperature, of, wanted)? {
                            return Ok(property.given(value, mixture));
                        }
                    }
                    (None, None) => {
                        return Ok(property.given(value, saturation.mixture(lever(l, v, value))));
                    }
                }
            }
            if value > v && value <= at_dilute + rounding {
                return self.at_density_between(temperature, property, value, (dilute, vapor.density), false);
            }
            if hot {
                if value > of(dense) + rounding {
                    return Err(self.line.unsettled(self.line.critical_pressure()));
                }
                dense
            } else {
                liquid.density
            }
        } else {
            dilute
        };
        let branch = if below_critical && !hot { Branch::Liquid } else { Branch::Whole };
        let highest =
            single::density(self.equation, self.line, temperature, self.limits.maximum_pressure, branch)?;
        let (mut minimum, mut maximum) = (at_dilute, at_dilute);
        let mut from = start;
        let mut failed = None;
        for (to, rising) in self.turns(temperature, property, (start, highest), below_critical)? {
            let (near, far) = (of(from), of(to));
            let (low, high) = if rising { (near, far) } else { (far, near) };
            if (low - rounding..=high + rounding).contains(&value) {
                match self.at_density_between(temperature, property, value, (from, to), rising) {
                    // Of a blend: short of its critical pressure. There may be another solution beyond.
                    Err(error) => failed = failed.or(Some(error)),
                    found => return found,
                }
            }
            (minimum, maximum) = (minimum.min(low), maximum.max(high));
            from = to;
        }
        Err(failed.unwrap_or_else(|| Error::OutOfRange {
            argument: property.name(),
            value,
            minimum,
            maximum,
            unit: property.unit(),
            reason: format!("at {temperature} K up to {} Pa", self.limits.maximum_pressure),
        }))
    }

    /// Densities between two others up to which a property rises (`true`) or falls in turn.
    fn turns(
        &self,
        temperature: f64,
        property: Property,
        (lower, upper): (f64, f64),
        from_liquid: bool,
    ) -> Result<Vec<(f64, bool)>> {
        let slope = |density: f64| property.slopes(&self.equation.at(temperature, density)).1;
        // In a thin gas the slope is lost in rounding; there all properties fall.
        let mut rising = from_liquid && slope(lower) > 0.0;
        let mut turns = Vec::new();
        let mut last = lower;
        for k in 1..=STEPS {
            let density = lower + (upper - lower) * f64::from(k) / f64::from(STEPS);
            if (slope(density) > 0.0) != rising {
                let turn = newton(
                    "turn of a property on an isotherm",
                    Bracket { lower: last, upper: density, rising: !rising },
                    last,
                    f64::EPSILON,
                    |density| Ok((slope(density), f64::NAN)),
                )?;
                turns.push((turn, rising));
                rising = !rising;
            }
            last = density;
        }
        turns.push((upper, rising));
        Ok(turns)
    }

    /// The state of one phase between two densities, between which the property only falls or only rises.
    fn at_density_between(
        &self,
        temperature: f64,
        property: Property,
        value: f64,
        (lower, upper): (f64, f64),
        rising: bool,
    ) -> Result<State> {
        // In the logarithm of density, in which a gas is almost straight, over that of the lower end plus one.
        let variable = newton(
            "density at temperature and energy or entropy",
            Bracket { lower: 1.0, upper: 1.0 + (upper / lower).ln(), rising },
            1.0 + 0.5 * (upper / lower).ln(),
            f64::EPSILON,
            |variable| {
                let density = lower * (variable - 1.0).exp();
                let thermo = self.equation.at(temperature, density);
                Ok((property.of(&thermo) - value, property.slopes(&thermo).1 * density))
            },
        )?;
        let density = lower * (variable - 1.0).exp();
        let state = self.single(&self.equation.at(temperature, density));
        self.pressure_in_range(state.pressure)?;
        Ok(property.given(value, State { temperature, ..state }))
    }
}

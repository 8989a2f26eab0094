//! Single-phase states on the equation of state: density at (T, p), and temperature and density at
//! (p, h), (p, s) or (p, u).

use super::State;
use super::flash::ACCEPTED;
use super::phase::Region;
use crate::error::{Error, Result};
use crate::helmholtz::{Equation, Thermo};
use crate::numeric::{Bracket, newton};
use crate::saturation::SaturationLine;

/// Which branch of an isotherm a density is looked for on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Branch {
    /// From saturated liquid upwards (below the critical temperature).
    Liquid,
    /// From zero to saturated vapor (below the critical temperature).
    Vapor,
    /// The whole isotherm (from the critical temperature on).
    Whole,
}

/// A property that, with pressure, fixes a state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Property {
    Enthalpy,
    Entropy,
    InternalEnergy,
}

/// Relative accuracy asked of densities and temperatures: a few units in the last place.
const TOLERANCE: f64 = 4.0 * f64::EPSILON;

impl Property {
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Enthalpy => "enthalpy",
            Self::Entropy => "entropy",
            Self::InternalEnergy => "internal energy",
        }
    }

    pub(crate) fn unit(self) -> &'static str {
        match self {
            Self::Enthalpy | Self::InternalEnergy => "J/kg",
            Self::Entropy => "J/(kg K)",
        }
    }

    /// What residuals and rounding are counted in: R T for energies, R for entropy.
    pub(crate) fn scale(self, gas_constant: f64, temperature: f64) -> f64 {
        match self {
            Self::Enthalpy | Self::InternalEnergy => gas_constant * temperature,
            Self::Entropy => gas_constant,
        }
    }

    pub(crate) fn of(self, thermo: &Thermo) -> f64 {
        match self {
            Self::Enthalpy => thermo.enthalpy,
            Self::Entropy => thermo.entropy,
            Self::InternalEnergy => thermo.internal_energy,
        }
    }

    pub(crate) fn of_state(self, state: &State) -> f64 {
        match self {
            Self::Enthalpy => state.enthalpy,
            Self::Entropy => state.entropy,
            Self::InternalEnergy => state.internal_energy,
        }
    }

    /// The state with the value it was made from, unchanged.
    pub(crate) fn given(self, value: f64, state: State) -> State {
        match self {
            Self::Enthalpy => State { enthalpy: value, ..state },
            Self::Entropy => State { entropy: value, ..state },
            Self::InternalEnergy => State { internal_energy: value, ..state },
        }
    }

    /// Slopes with temperature at constant density and with density at constant temperature.
    pub(crate) fn slopes(self, thermo: &Thermo) -> (f64, f64) {
        match self {
            Self::Enthalpy => (thermo.h_t(), thermo.h_rho()),
            Self::Entropy => (thermo.s_t(), thermo.s_rho()),
            Self::InternalEnergy => (thermo.cv, thermo.u_rho()),
        }
    }

    /// Slope with temperature at constant pressure.
    fn isobaric(self, thermo: &Thermo) -> f64 {
        let (t, rho) = self.slopes(thermo);
        t - rho * thermo.p_t / thermo.p_rho
    }
}

/// Density at temperature and pressure on one branch of the isotherm.
///
/// The iterate never enters the dome: it starts at saturation or in the gas and is kept between ends on
/// its own side. Below the triple point the branches end at the triple-point densities.
pub(crate) fn density(
    equation: &Equation,
    line: &SaturationLine,
    temperature: f64,
    pressure: f64,
    branch: Branch,
) -> Result<f64> {
    let gas = pressure / (equation.gas_constant * temperature);
    let function = |density: f64| {
        let thermo = equation.at(temperature, density);
        Ok((thermo.pressure - pressure, thermo.p_rho))
    };
    let (bracket, start) = match branch {
        Branch::Liquid => {
            let saturated = line
                .at_temperature(
                    equation,
                    temperature.max(line.coldest_temperature()).min(line.critical_temperature()),
                )?
                .liquid;
            // A hair below saturation, so that rounding cannot push the root out of the bracket.
            let lower = saturated.density * (1.0 - 1e-6);
            let (excess, stiffness) = function(saturated.density)?;
            let start = saturated.density - excess / stiffness.max(1.0);
            let upper = ceiling(equation, temperature, pressure, saturated.density)?;
            (Bracket { lower, upper, rising: true }, start.min(upper))
        }
        Branch::Vapor => {
            let saturated = line
                .at_temperature(
                    equation,
                    temperature.max(line.coldest_temperature()).min(line.critical_temperature()),
                )?
                .vapor;
            let upper = if temperature < line.coldest_temperature() {
                saturated.density.max(2.0 * gas)
            } else {
                saturated.density * (1.0 + 1e-6)
            };
            // The compressibility factor falls from 1 to that of saturated vapor about linearly.
            let at_saturation =
                saturated.pressure / (saturated.density * equation.gas_constant * saturated.temperature);
            let factor = 1.0 + (at_saturation - 1.0) * (pressure / saturated.pressure).min(1.0);
            (Bracket { lower: 0.0, upper, rising: true }, gas / factor)
        }
        Branch::Whole => {
            let critical = line.critical_density();
            let upper = ceiling(equation, temperature, pressure, critical)?;
            (Bracket { lower: 0.0, upper, rising: true }, if gas < critical { gas } else { 0.999 * upper })
        }
    };
    newton("density at temperature and pressure", bracket, start, TOLERANCE, function)
}

/// A density at which the pressure is above the wanted one, found by steps upwards from `start`.
fn ceiling(equation: &Equation, temperature: f64, pressure: f64, start: f64) -> Result<f64> {
    let mut density = start;
    for _ in 0..40 {
        density *= 1.08;
        if equation.at(temperature, density).pressure > pressure {
            return Ok(density);
        }
    }
    Err(Error::NotConverged {
        solver: "upper density limit",
        iterations: 40,
        residual: pressure,
        lower: start,
        upper: density,
    })
}

/// Temperature and density at a pressure and one of enthalpy, entropy and internal energy, in one phase.
///
/// Newton's method in both unknowns at once from a start near saturation; where that leaves its phase or
/// does not settle, a bracketed search in temperature. `start` is one that is known to be better; `lowest` and `highest` temperature bound both.
pub(crate) fn at_pressure(
    equation: &Equation,
    line: &SaturationLine,
    pressure: f64,
    (property, value): (Property, f64),
    region: &Region,
    start: Option<(f64, f64)>,
    (lowest, highest): (f64, f64),
) -> Result<Thermo> {
    let (lower, upper, guess) = match region {
        Region::Liquid(saturation) => {
            let at = equation.at(saturation.liquid.temperature, saturation.liquid.density);
            let step = (value - property.of(&at)) / property.isobaric(&at);
            let temperature = (at.temperature + step).max(lowest);
            let slope = -at.p_t / at.p_rho;
            (lowest, at.temperature, (temperature, at.density + slope * (temperature - at.temperature)))
        }
        Region::Vapor(saturation) => {
            let at = equation.at(saturation.vapor.temperature, saturation.vapor.density);
            let step = (value - property.of(&at)) / property.isobaric(&at);
            let temperature = (at.temperature + step).min(highest);
            (at.temperature, highest, (temperature, at.density * at.temperature / temperature))
        }
        Region::ThinVapor | Region::TwoPhase(..) => {
            let temperature = 0.5 * (lowest + line.critical_temperature());
            let density = pressure / (equation.gas_constant * temperature);
            let at = equation.at(temperature, density);
            let guess =
                (temperature + (value - property.of(&at)) / property.isobaric(&at)).clamp(lowest, highest);
            (lowest, highest, (guess, density * temperature / guess))
        }
        Region::Dense => {
            let temperature = line.critical_temperature();
            let density = density(equation, line, temperature, pressure, Branch::Whole)?;
            let at = equation.at(temperature, density);
            let step = (value - property.of(&at)) / property.isobaric(&at);
            let guess = (temperature + step).clamp(lowest, highest);
            let density = if step > 0.0 {
                density * temperature / guess
            } else if guess < temperature {
                density * (1.0 - at.p_t / (at.p_rho * density) * (guess - temperature)).clamp(0.5, 3.0)
            } else {
                density
            };
            (lowest, highest, (guess, density))
        }
    };
    let start = start.unwrap_or(guess);
    if let Some(thermo) = both_at_once(equation, pressure, property, value, start, (lower, upper), region) {
        return Ok(thermo);
    }
    let branch = |temperature: f64| match region {
        Region::Liquid(_) => Branch::Liquid,
        Region::Vapor(_) | Region::ThinVapor | Region::TwoPhase(..) => {
            if temperature < line.critical_temperature() { Branch::Vapor } else { Branch::Whole }
        }
        Region::Dense => {
            if temperature < line.hottest() {
                Branch::Liquid
            } else {
                Branch::Whole
            }
        }
    };
    let solve = |temperature: f64| -> Result<Thermo> {
        let density = density(equation, line, temperature, pressure, branch(temperature))?;
        Ok(equation.at(temperature, density))
    };
    let solver = "temperature at pressure and energy or entropy";
    let failed = |residual: f64| Err(Error::NotConverged { solver, iterations: 0, residual, lower, upper });
    // There is nothing to search for where the value lies beyond an end other than saturation.
    let too_cold =
        !matches!(region, Region::Vapor(_)) && solve(lower).is_ok_and(|at| value < property.of(&at));
    let too_hot =
        !matches!(region, Region::Liquid(_)) && solve(upper).is_ok_and(|at| value > property.of(&at));
    if too_cold || too_hot {
        return failed(f64::INFINITY);
    }
    let mut last = None;
    let bracket = Bracket { lower, upper, rising: true };
    let temperature = newton(solver, bracket, start.0, TOLERANCE, |temperature| {
        let thermo = solve(temperature)?;
        last = Some(thermo);
        Ok((property.of(&thermo) - value, property.isobaric(&thermo)))
    })?;
    let thermo = match last {
        Some(thermo) if thermo.temperature == temperature => thermo,
        _ => solve(temperature)?,
    };
    let residual = residual(equation, &thermo, pressure, property, value);
    if residual <= ACCEPTED { Ok(thermo) } else { failed(residual) }
}

/// Sum of the scaled residuals of pressure and of the other property.
fn residual(equation: &Equation, at: &Thermo, pressure: f64, property: Property, value: f64) -> f64 {
    let of_pressure = (at.pressure - pressure) / pressure.max(at.density * at.p_rho);
    let of_property = (property.of(at) - value) / property.scale(equation.gas_constant, at.temperature);
    of_pressure.abs() + of_property.abs()
}

/// How far beyond saturation, relative to its temperature, the temperature may come to lie: next to the critical
/// point of water the line is good to some 1e-10.
const BESIDE: f64 = 1e-9;

/// How far dp/drho may fall below zero on the way, in units of R T.
const UNSTABLE: f64 = 1e-3;

/// Share of the step before from which on small steps are taken for rounding.
const STALLED: f64 = 0.8;

/// Newton's method in temperature and density; `None` where it leaves its phase or does not settle.
fn both_at_once(
    equation: &Equation,
    pressure: f64,
    property: Property,
    value: f64,
    (mut temperature, mut density): (f64, f64),
    (lower, upper): (f64, f64),
    region: &Region,
) -> Option<Thermo> {
    let in_phase = |temperature: f64, density: f64| match region {
        Region::Liquid(saturation) => density > 0.995 * saturation.liquid.density,
        Region::Vapor(saturation) => density < 1.000_001 * saturation.vapor.density,
        // Almost an ideal gas.
        Region::ThinVapor => density < 2.0 * pressure / (equation.gas_constant * temperature),
        _ => density > 0.0,
    };
    let mut last = f64::INFINITY;
    for _ in 0..25 {
        let at = equation.at(temperature, density);
        // At the critical point itself dp/drho is nothing but rounding; the two unknowns are well determined together.
        if at.p_rho.is_nan() || at.p_rho < -UNSTABLE * equation.gas_constant * temperature {
            return None;
        }
        let (by_t, by_rho) = property.slopes(&at);
        let (miss_p, miss) = (pressure - at.pressure, value - property.of(&at));
        let determinant = at.p_t * by_rho - at.p_rho * by_t;
        let step_t = (miss_p * by_rho - at.p_rho * miss) / determinant;
        let step_rho = (at.p_t * miss - by_t * miss_p) / determinant;
        let change = (step_t / temperature).abs().max((step_rho / density).abs());
        if !change.is_finite() {
            return None;
        }
        let shortened = (0.4 / change).min(1.0);
        temperature += shortened * step_t;
        density += shortened * step_rho;
        if !(lower * (1.0 - BESIDE)..=upper * (1.0 + BESIDE)).contains(&temperature)
            || !in_phase(temperature, density)
        {
            return None;
        }
        if change < TOLERANCE || (change < 1e-10 && change >= STALLED * last) {
            // Where rounding is all that moves them, the last step may have led away.
            let off = |at: &Thermo| residual(equation, at, pressure, property, value);
            let last = equation.at(temperature, density);
            let thermo = if off(&at) < off(&last) { at } else { last };
            let stable = thermo.p_rho > -f64::EPSILON.sqrt() * equation.gas_constant * temperature;
            return (stable && off(&thermo) <= ACCEPTED).then_some(thermo);
        }
        last = change;
    }
    None
}

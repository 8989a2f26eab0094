//! Where the phase is decided: from the saturation line, before anything is iterated.

use super::State;
use crate::error::Result;
use crate::helmholtz::Equation;
use crate::saturation::{Saturation, SaturationLine};

/// The part of the plane a pair of properties falls into.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Region {
    /// Liquid below the critical pressure, with saturation at its pressure.
    Liquid(Saturation),
    /// Inside the dome, with quality.
    TwoPhase(Saturation, f64),
    /// Vapor, with saturation at its pressure.
    Vapor(Saturation),
    /// Vapor at a pressure below that of the triple point.
    ThinVapor,
    /// At or above the critical pressure: no saturation.
    Dense,
}

/// Region of a state with `value` of some property at `pressure`, where `of` reads that property.
///
/// The property must rise from saturated liquid to saturated vapor, as enthalpy, entropy and internal energy do.
pub(crate) fn at_pressure(
    equation: &Equation,
    line: &SaturationLine,
    pressure: f64,
    value: f64,
    of: impl Fn(&State) -> f64,
) -> Result<Region> {
    if line.is_above_dome(pressure) {
        return Ok(Region::Dense);
    }
    if pressure < line.coldest_pressure() {
        return match line.cold_dew(equation, pressure)? {
            None => Ok(Region::ThinVapor),
            Some(saturation) => Ok(Region::Vapor(saturation)),
        };
    }
    let saturation = line.at_pressure(equation, pressure)?;
    let (liquid, vapor) = (of(&saturation.liquid), of(&saturation.vapor));
    Ok(if value < liquid {
        Region::Liquid(saturation)
    } else if value > vapor {
        Region::Vapor(saturation)
    } else {
        Region::TwoPhase(saturation, lever(liquid, vapor, value))
    })
}

/// Quality from a property that mixes by mass; 0 where the phases do not differ.
pub(crate) fn lever(liquid: f64, vapor: f64, value: f64) -> f64 {
    let span = vapor - liquid;
    if span == 0.0 { 0.0 } else { ((value - liquid) / span).clamp(0.0, 1.0) }
}

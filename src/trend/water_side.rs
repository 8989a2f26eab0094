//! What the water on both sides tells.

use super::analysis::{OFF, TrendAnalysis};
use super::number::Number;
use super::reading::Reading;
use super::row::Row;
use super::status::Status;
use super::told::Told;
use crate::brine::Brine;
use crate::error::Result;
use crate::numeric::logarithmic_mean;
use crate::water::{density_slope, water_density, water_enthalpy, water_heat_capacity};

/// Heat, water lift and what is wrong with the water.
pub(super) fn tell_water<R: Number>(
    analysis: &TrendAnalysis,
    row: Row<'_, R>,
    told: &mut Told<R>,
    status: &mut Status,
) {
    let chilled = (row.get(Reading::ChilledWaterEntering), row.get(Reading::ChilledWaterLeaving));
    let condenser = (row.get(Reading::CondenserWaterEntering), row.get(Reading::CondenserWaterLeaving));
    let reversed = |(entering, leaving): (Option<R>, Option<R>)| match (entering, leaving) {
        (Some(entering), Some(leaving)) => entering.value() < leaving.value(),
        _ => false,
    };
    if reversed(chilled) || reversed((condenser.1, condenser.0)) {
        *status |= Status::WATER_REVERSED;
    }
    if let (Some(cold), Some(warm)) = (chilled.1, condenser.1) {
        told.water_lift = warm - cold;
    }
    let none = R::constant(f64::NAN);
    let mut heat = |water: (Option<R>, Option<R>), reading: Reading, sign: f64| {
        let ((Some(entering), Some(leaving)), Some(flow)) = (water, row.get(reading)) else { return none };
        let given = match analysis.brine(reading) {
            None => water_heat(entering, leaving, flow),
            Some(brine) => brine_heat(brine, entering, leaving, flow),
        };
        match given {
            Ok(given) if sign * given.value() > OFF => given * sign,
            Ok(_) => {
                *status |= Status::NO_HEAT;
                none
            }
            Err(_) => {
                *status |= Status::NOT_SOLVED;
                none
            }
        }
    };
    told.capacity = heat(chilled, Reading::ChilledWaterFlow, 1.0);
    told.heat_rejected = heat(condenser, Reading::CondenserWaterFlow, -1.0);
    match row.get(Reading::Capacity) {
        Some(capacity) if capacity.value() > OFF => told.capacity = capacity,
        Some(_) => *status |= Status::NO_HEAT,
        None => {}
    }
    // A meter does not make up for thermometers that contradict it.
    if reversed(chilled) {
        told.capacity = none;
    }
}

/// Heat that water gives between two temperatures at a volume flow metered where it enters, W.
fn water_heat<R: Number>(entering: R, leaving: R, flow: R) -> Result<R> {
    let (from, to) = (entering.value(), leaving.value());
    let none = |_| f64::NAN;
    let slope = || density_slope(from).unwrap_or_else(none);
    let density = R::chain(water_density(from)?, [entering, entering], || [slope(), 0.0]);
    let given = R::chain(water_enthalpy(from)? - water_enthalpy(to)?, [entering, leaving], || {
        [water_heat_capacity(from).unwrap_or_else(none), -water_heat_capacity(to).unwrap_or_else(none)]
    });
    Ok(flow * density * given)
}

/// The same of a brine.
fn brine_heat<R: Number>(brine: &Brine, entering: R, leaving: R, flow: R) -> Result<R> {
    let (from, to) = (entering.value(), leaving.value());
    let none = |_| f64::NAN;
    let slope = || brine.density_slope(from).unwrap_or_else(none);
    let density = R::chain(brine.density(from)?, [entering, entering], || [slope(), 0.0]);
    let given = R::chain(brine.cooling_heat(from, to)?, [entering, leaving], || {
        [brine.heat_capacity(from).unwrap_or_else(none), -brine.heat_capacity(to).unwrap_or_else(none)]
    });
    Ok(flow * density * given)
}

/// Heat over logarithmic mean temperature difference; NaN unless both differences are positive.
pub(super) fn conductance<R: Number>(heat: R, one: R, other: R) -> R {
    let (a, b) = (one.value(), other.value());
    if a <= 0.0 || b <= 0.0 {
        return R::constant(f64::NAN);
    }
    let mean = logarithmic_mean(a, b);
    heat / R::chain(mean, [one, other], || mean_slopes(a, b, mean))
}

/// Slopes of the logarithmic mean of two numbers; by its series where they are nearly the same.
fn mean_slopes(a: f64, b: f64, mean: f64) -> [f64; 2] {
    let ratio = (a / b).ln();
    if ratio.abs() < 1e-3 {
        let even = 0.5 + ratio * ratio / 24.0;
        return [even - ratio / 6.0, even + ratio / 6.0];
    }
    [(1.0 - mean / a) / ratio, (mean / b - 1.0) / ratio]
}

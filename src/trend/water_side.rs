//! What the water on both sides tells.

use super::analysis::OFF;
use super::reading::Reading;
use super::row::{Row, Told};
use super::status::Status;
use crate::error::Result;
use crate::numeric::logarithmic_mean;
use crate::water::{water_density, water_enthalpy};

/// Heat, water lift and what is wrong with the water.
pub(super) fn tell_water(row: Row<'_>, told: &mut Told, status: &mut Status) {
    let chilled = (row.get(Reading::ChilledWaterEntering), row.get(Reading::ChilledWaterLeaving));
    let condenser = (row.get(Reading::CondenserWaterEntering), row.get(Reading::CondenserWaterLeaving));
    let reversed = |(entering, leaving): (Option<f64>, Option<f64>)| match (entering, leaving) {
        (Some(entering), Some(leaving)) => entering < leaving,
        _ => false,
    };
    if reversed(chilled) || reversed((condenser.1, condenser.0)) {
        *status |= Status::WATER_REVERSED;
    }
    if let (Some(cold), Some(warm)) = (chilled.1, condenser.1) {
        told.water_lift = warm - cold;
    }
    let mut heat = |water: (Option<f64>, Option<f64>), flow: Reading, sign: f64| {
        let ((Some(entering), Some(leaving)), Some(flow)) = (water, row.get(flow)) else { return f64::NAN };
        match water_heat(entering, leaving, flow) {
            Ok(given) if sign * given > OFF => sign * given,
            Ok(_) => {
                *status |= Status::NO_HEAT;
                f64::NAN
            }
            Err(_) => {
                *status |= Status::NOT_SOLVED;
                f64::NAN
            }
        }
    };
    told.capacity = heat(chilled, Reading::ChilledWaterFlow, 1.0);
    told.heat_rejected = heat(condenser, Reading::CondenserWaterFlow, -1.0);
    match row.get(Reading::Capacity) {
        Some(capacity) if capacity > OFF => told.capacity = capacity,
        Some(_) => *status |= Status::NO_HEAT,
        None => {}
    }
    // A meter does not make up for thermometers that contradict it.
    if reversed(chilled) {
        told.capacity = f64::NAN;
    }
}

/// Heat that water gives between two temperatures at a volume flow metered where it enters, W.
fn water_heat(entering: f64, leaving: f64, flow: f64) -> Result<f64> {
    Ok(flow * water_density(entering)? * (water_enthalpy(entering)? - water_enthalpy(leaving)?))
}

/// Heat over logarithmic mean temperature difference; NaN unless both differences are positive.
pub(super) fn conductance(heat: f64, one: f64, other: f64) -> f64 {
    if one <= 0.0 || other <= 0.0 {
        return f64::NAN;
    }
    heat / logarithmic_mean(one, other)
}

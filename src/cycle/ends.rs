//! States at evaporator and condenser.

use super::inputs::Inputs;
use crate::error::Result;
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::{SaturatedStreams, Stream};

/// A superheat or subcooling up to this, K, is none: rounding could put the state on the other side of saturation.
pub(crate) const NOTHING: f64 = 1e-9;

/// States at evaporator and condenser, which do not depend on what stands between.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ends<R> {
    pub(crate) evaporating_pressure: R,
    pub(crate) condensing_pressure: R,
    pub(crate) evaporator_outlet: Stream<R>,
    pub(crate) condenser_outlet: Stream<R>,
    /// Saturated vapor in the evaporator.
    pub(crate) evaporator_vapor: Stream<R>,
}

impl<R: Real> Ends<R> {
    /// Evaporator and condenser outlet.
    pub(crate) fn new(
        refrigerant: &Refrigerant,
        inputs: &Inputs<R>,
        evaporating: &SaturatedStreams<R>,
        condensing: &SaturatedStreams<R>,
    ) -> Result<Self> {
        let (low, high) = (evaporating.pressure, condensing.pressure);
        let (superheat, subcooling) = (inputs.suction_superheat, inputs.subcooling);
        let evaporator_outlet = if superheat.value() > NOTHING {
            refrigerant.stream_pt(low, inputs.evaporating_temperature + superheat)?
        } else if inputs.carryover.value() > 0.0 {
            let (vapor, liquid) = (evaporating.vapor.enthalpy, evaporating.liquid.enthalpy);
            refrigerant.stream_ph(low, vapor - inputs.carryover * (vapor - liquid))?
        } else {
            let (vapor, liquid) = (&evaporating.vapor, &evaporating.liquid);
            if inputs.carryover.is_nothing() {
                shifted_saturation(refrigerant, *vapor, superheat)?
            } else {
                let enthalpy = vapor.enthalpy - inputs.carryover * (vapor.enthalpy - liquid.enthalpy);
                refrigerant.wet_stream_of(vapor.state, low, enthalpy)
            }
        };
        let condenser_outlet = if subcooling.value() > NOTHING {
            refrigerant.stream_pt(high, condensing.liquid.temperature - subcooling)?
        } else {
            shifted_saturation(refrigerant, condensing.liquid, -subcooling)?
        };
        Ok(Self {
            evaporating_pressure: low,
            condensing_pressure: high,
            evaporator_outlet,
            condenser_outlet,
            evaporator_vapor: evaporating.vapor,
        })
    }
}

/// A saturated stream moved by a temperature change whose value is zero but whose derivative may not be.
fn shifted_saturation<R: Real>(refrigerant: &Refrigerant, stream: Stream<R>, change: R) -> Result<Stream<R>> {
    if !R::CARRIES_DERIVATIVES {
        return Ok(stream);
    }
    let cp = refrigerant.derivatives(&stream.state)?.cp();
    let enthalpy = stream.enthalpy + change * cp;
    let moved = refrigerant.stream_of(stream.state, stream.pressure, enthalpy);
    Ok(moved)
}

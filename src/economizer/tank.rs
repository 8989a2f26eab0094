//! The flash tank (open economizer).

use crate::error::{Error, Result};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// A vessel at the pressure of a stage inlet: liquid is throttled in, the vapor that flashes off goes to that
/// stage, the remaining liquid goes on to the next lower pressure.
///
/// Separation is ideal: dry saturated vapor and saturated liquid leave. Liquid that arrives colder than
/// saturation at the tank's pressure does not flash and goes on as it came.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[non_exhaustive]
pub struct FlashTank {}

/// What a tank makes of the liquid throttled into it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flashed<R> {
    /// After throttling, at tank pressure.
    pub(crate) inlet: Stream<R>,
    pub(crate) vapor: Stream<R>,
    pub(crate) liquid: Stream<R>,
    /// Vapor stream per inlet stream, kg/kg.
    pub(crate) fraction: R,
}

impl FlashTank {
    /// A tank with ideal separation.
    pub fn new() -> Self {
        Self {}
    }

    /// Separates a stream throttled to `pressure` (Pa) from `enthalpy` (J/kg).
    ///
    /// [`Error::Inconsistent`] if it arrives as vapor: nothing is left to go on.
    pub(crate) fn separate<R: Real>(
        &self,
        refrigerant: &Refrigerant,
        pressure: R,
        enthalpy: R,
    ) -> Result<Flashed<R>> {
        let inlet = refrigerant.stream_ph(pressure, enthalpy)?;
        let saturated = refrigerant.saturated_at_pressure(pressure)?;
        let (liquid, vapor) = (saturated.liquid, saturated.vapor);
        if enthalpy.value() <= liquid.enthalpy.value() {
            return Ok(Flashed { inlet, vapor, liquid: inlet, fraction: R::constant(0.0) });
        }
        if enthalpy.value() >= vapor.enthalpy.value() {
            return Err(Error::Inconsistent {
                arguments: "condenser outlet and tank pressure",
                reason: format!(
                    "throttled to {} Pa the liquid of the condenser ({} J/kg) is vapor: nothing is left for the evaporator",
                    pressure.value(),
                    enthalpy.value()
                ),
            });
        }
        let fraction = (enthalpy - liquid.enthalpy) / (vapor.enthalpy - liquid.enthalpy);
        Ok(Flashed { inlet, vapor, liquid, fraction })
    }
}

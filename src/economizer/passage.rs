//! What an economizer makes of the liquid that passes it.

use crate::numeric::Real;
use crate::state::Stream;

/// What an economizer makes of the liquid that passes it on its way to the evaporator, before it is known what gas it meets.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Passage<R> {
    /// Behind the metering device, at the economizer's pressure.
    pub(crate) inlet: Stream<R>,
    /// What leaves toward the stage, at the economizer's pressure.
    pub(crate) vapor: Stream<R>,
    /// What goes on to the evaporator.
    pub(crate) liquid: Stream<R>,
    /// How much vapor leaves.
    pub(crate) joining: Joining<R>,
    /// What passes the metering device.
    pub(crate) metered: Metered,
    /// Work the metering device recovers per kilogram through it, J/kg.
    pub(crate) recovered: R,
}

/// What of the liquid passes the metering device of an economizer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Metered {
    /// All of it.
    All,
    /// What joins the gas.
    Joining,
}

/// What decides how much refrigerant an economizer adds to the gas.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Joining<R> {
    /// So much per kilogram of the liquid that goes on.
    WithLiquid(R),
    /// What evaporates against the gas from the stage below, which leaves with the enthalpy of the vapor, and against this heat (J)
    /// per kilogram of the liquid that goes on.
    WithGas(R),
}

impl<R: Real> Passage<R> {
    /// Share of the liquid that comes which joins the gas, where that does not depend on the gas.
    #[cfg(feature = "trend")]
    pub(crate) fn fraction(&self) -> Option<R> {
        match self.joining {
            Joining::WithLiquid(ratio) => Some(ratio / (ratio + 1.0)),
            Joining::WithGas(_) => None,
        }
    }

    /// Flow that joins the gas where `gas` of enthalpy `discharge` comes from below, `returned` of its own enthalpy from elsewhere,
    /// and `liquid` goes on.
    pub(crate) fn joined(&self, (gas, discharge): (R, R), returned: Option<(R, R)>, liquid: R) -> R {
        match self.joining {
            Joining::WithLiquid(ratio) => liquid * ratio,
            Joining::WithGas(heat) => {
                let leaving = self.vapor.enthalpy;
                let mut evaporates = gas * (discharge - leaving) + liquid * heat;
                if let Some((flow, enthalpy)) = returned {
                    evaporates = evaporates + flow * (enthalpy - leaving);
                }
                let flow = evaporates / (leaving - self.inlet.enthalpy);
                // An open tank also takes up the liquid of a wet gas.
                if self.evaporates(flow) { flow } else { R::constant(0.0) }
            }
        }
    }

    /// Whether what joins brings the gas to the state of the vapor; else nothing evaporates and the gas goes on as it came, with the heat
    /// it was given.
    pub(crate) fn evaporates(&self, joins: R) -> bool {
        joins.value() > 0.0 || self.metered == Metered::All
    }
}

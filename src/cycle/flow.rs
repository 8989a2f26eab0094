//! What circulates: stages and economizers with the flows through them.

use super::ends::Ends;
use crate::compression::Compressed;
use crate::economizer::{Metered, Passage};
use crate::numeric::Real;
use crate::state::Stream;

/// What circulates between the ends.
#[derive(Debug, Clone)]
pub(crate) struct Flow<R> {
    /// One entry an interstage.
    pub(crate) economizers: Vec<Option<Economized<R>>>,
    pub(crate) stages: Vec<StageSolution<R>>,
    /// Liquid before the evaporator's metering device, and its enthalpy behind it.
    pub(crate) liquid: Stream<R>,
    pub(crate) throttled: R,
    /// Liquid and vapor of the liquid-suction exchanger where they enter it, liquid first; the vapor leaves as `suction`.
    pub(crate) exchanged: Option<Stream<R>>,
    pub(crate) suction: Stream<R>,
    /// Hot gas from the discharge to the evaporator.
    pub(crate) bypass: R,
    pub(crate) motor: Option<MotorFlow<R>>,
}

/// The lists of a flow of the same circuit, lent to the next: it then takes no memory of its own, and stages that do the same are not
/// computed again. A flow that comes about takes them along, and gives them back by [`Flow::into_lists`].
#[derive(Debug, Clone)]
pub(crate) struct Lists<R> {
    pub(super) stages: Vec<StageSolution<R>>,
    pub(super) economizers: Vec<Option<Economized<R>>>,
}

impl<R> Lists<R> {
    pub(crate) fn new() -> Self {
        Self { stages: Vec::new(), economizers: Vec::new() }
    }
}

/// Refrigerant that takes up the heat of the motor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MotorFlow<R> {
    pub(crate) flow: R,
    pub(crate) returned: Stream<R>,
    /// Stage whose inlet it joins; the evaporator if none.
    pub(crate) stage: Option<usize>,
}

/// An economizer with the flows through it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Economized<R> {
    pub(crate) passage: Passage<R>,
    /// Flow that joins the gas, and liquid that goes on.
    pub(crate) joins: R,
    pub(crate) goes_on: R,
}

impl<R: Real> Economized<R> {
    /// Flow through the metering device.
    pub(crate) fn metered(&self) -> R {
        match self.passage.metered {
            Metered::All => self.joins + self.goes_on,
            Metered::Joining => self.joins,
        }
    }

    /// Share of the liquid that comes which joins the gas.
    pub(crate) fn fraction(&self) -> R {
        self.joins / (self.joins + self.goes_on)
    }
}

/// One stage of a solution.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StageSolution<R> {
    pub(crate) inlet: Stream<R>,
    pub(crate) delivered: R,
    pub(crate) efficiency: R,
    pub(crate) compressed: Compressed<R>,
    /// Flow through the stage per liquid sent to the evaporator.
    pub(crate) flow: R,
}

impl<R: Real> StageSolution<R> {
    /// Whether this is what it does from there to there: below the first economizer it does the same with and without them.
    pub(super) fn did(&self, inlet: &Stream<R>, delivered: R, efficiency: R) -> bool {
        let numbers = |at: &Stream<R>| [at.pressure, at.enthalpy, at.entropy].map(R::value);
        !R::CARRIES_DERIVATIVES
            && self.delivered.value() == delivered.value()
            && self.efficiency.value() == efficiency.value()
            && numbers(&self.inlet) == numbers(inlet)
            && self.inlet.state == inlet.state
    }

    /// Work per kilogram through the stage, J/kg.
    pub(crate) fn work(&self) -> R {
        self.compressed.outlet.enthalpy - self.inlet.enthalpy
    }
}

impl<R: Real> Flow<R> {
    pub(crate) fn into_lists(self) -> Lists<R> {
        Lists { stages: self.stages, economizers: self.economizers }
    }

    /// Work of all stages, J per kilogram of liquid sent to the evaporator.
    pub(crate) fn stage_work(&self) -> R {
        self.stages.iter().fold(R::constant(0.0), |sum, stage| sum + stage.flow * stage.work())
    }

    /// Work recovered by expanders.
    pub(crate) fn recovered(&self) -> R {
        self.economizers
            .iter()
            .flatten()
            .fold(self.liquid.enthalpy - self.throttled, |sum, at| sum + at.metered() * at.passage.recovered)
    }

    /// Work of all stages less what expanders recover.
    pub(crate) fn work(&self) -> R {
        self.stage_work() - self.recovered()
    }

    /// Flow through the first stage.
    pub(crate) fn suction_flow(&self) -> R {
        self.stages.first().map_or(R::constant(1.0), |stage| stage.flow)
    }

    /// Flow through the last stage.
    pub(crate) fn discharge_flow(&self) -> R {
        self.stages.last().map_or(R::constant(1.0), |stage| stage.flow)
    }

    /// State at the discharge of the last stage.
    pub(crate) fn discharge(&self) -> Stream<R> {
        self.stages.last().map_or(self.suction, |stage| stage.compressed.outlet)
    }

    /// Cooling, J per kilogram of liquid sent to the evaporator.
    pub(crate) fn refrigerating_effect(&self, ends: &Ends<R>) -> R {
        let mut effect = self.suction_flow() * ends.evaporator_outlet.enthalpy
            - self.throttled
            - self.bypass * self.discharge().enthalpy;
        if let Some(motor @ MotorFlow { stage: None, .. }) = &self.motor {
            effect = effect - motor.flow * motor.returned.enthalpy;
        }
        effect
    }
}

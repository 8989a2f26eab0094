//! A cycle whose flash tanks part the components of a blend.
//!
//! Liquid of the blend's own composition leaves the condenser. Each tank splits what reaches it into a vapor richer in what boils first
//! and a liquid poorer in it, which goes on; so the evaporator and the first stage run on what the last tank leaves, and each stage
//! compresses what has joined until then. What the tanks took off comes back on the way up: the last stage delivers the blend's own
//! composition again.

use super::PerStage;
use super::circuit::{Circuit, Interstage};
use super::conditions::Conditions;
use super::drive::{MotorCooling, PressureLosses};
use super::ends::{Ends, NOTHING};
use super::flow::{Economized, Flow, StageSolution};
use super::inputs::Inputs;
use super::location::Location;
use super::pressures::InterstagePressures;
use super::solve::{Solution, refuse_no_cooling};
use crate::economizer::{FlashTank, Joining, Metered, Metering, Passage};
use crate::error::{Error, Result};
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// What a flash tank does to the composition of a blend.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum TankSeparation {
    /// Liquid and vapor leave as saturated liquid and saturated vapor of the blend's own composition: the usual assumption.
    #[default]
    FixedComposition,
    /// They leave with the compositions they have in equilibrium.
    Equilibrium,
}

/// Mass fractions of the components at a point.
type Composition = (Location, Vec<f64>);

/// Searches for the evaporating pressure before giving up.
const LIMIT: usize = 40;

/// Relative change of the evaporating pressure that ends the search.
const SETTLED: f64 = 1e-13;

/// The way of the liquid from the condenser through the tanks.
struct Descent {
    /// One entry an interstage, as in [`Solution`].
    tanks: Vec<Option<Passage<f64>>>,
    /// Mass fractions of the vapor of each.
    vapors: Vec<Option<Vec<f64>>>,
    compositions: Vec<Composition>,
    /// What reaches the evaporator, and its enthalpy.
    refrigerant: Refrigerant,
    liquid: Stream<f64>,
}

impl Circuit {
    /// Solves the circuit with equilibrium in the tanks, per kilogram through the evaporator, with the composition at every point.
    pub(super) fn solve_separated(
        &self,
        conditions: &Conditions,
    ) -> Result<(Solution<f64>, Vec<Composition>)> {
        let blend = self.refrigerant();
        let inputs = Inputs::new(self, conditions);
        self.refuse_more_than_tanks(conditions)?;
        let (cold, hot) = (inputs.evaporating_temperature, inputs.condensing_temperature);
        let condensing = blend.saturated_at_temperature(hot)?;
        let high = condensing.pressure;
        let condenser_outlet = if inputs.subcooling > NOTHING {
            blend.stream_pt(high, condensing.liquid.temperature - inputs.subcooling)?
        } else {
            condensing.liquid
        };
        // The evaporator runs at the pressure at which what reaches it has its dew point: that depends on the tanks, which depend on it.
        let mut low = blend.saturated_at_temperature(cold)?.pressure;
        for _ in 0..LIMIT {
            let between = self.simple_pressures(&inputs, low, high)?;
            let descent = self.descend(&between, condenser_outlet)?;
            let evaporating = descent.refrigerant.saturated_at_temperature(cold)?;
            let change = (evaporating.pressure / low - 1.0).abs();
            low = evaporating.pressure;
            if change <= SETTLED {
                let evaporator_outlet = if inputs.suction_superheat > NOTHING {
                    descent.refrigerant.stream_pt(low, cold + inputs.suction_superheat)?
                } else {
                    evaporating.vapor
                };
                return self.ascend_parting(
                    &inputs,
                    (low, high),
                    between,
                    descent,
                    evaporator_outlet,
                    condenser_outlet,
                );
            }
        }
        let (residual, lower, upper) = (f64::NAN, f64::NAN, f64::NAN);
        Err(Error::NotConverged {
            solver: "evaporating pressure of a blend parted in tanks",
            iterations: LIMIT,
            residual,
            lower,
            upper,
        })
    }

    /// Refuses what has no place in a circuit whose tanks part a blend.
    fn refuse_more_than_tanks(&self, conditions: &Conditions) -> Result<()> {
        let plain = FlashTank::new();
        let tanks = self.interstages().iter().all(|between| match between {
            Interstage::Direct => true,
            Interstage::FlashTank(tank) => *tank == plain,
            _ => false,
        });
        let rule = !matches!(
            self.interstage_pressures(),
            InterstagePressures::EqualHead | InterstagePressures::BestCop
        );
        let losses = self.pressure_losses() == PressureLosses::new() && self.metering() == Metering::Valve;
        let open = self.drive().motor_cooling() == MotorCooling::Room && self.suction_exchanger().is_none();
        let dry = conditions.hot_gas_bypass() == 0.0 && conditions.liquid_carryover() == 0.0;
        if tanks && rule && losses && open && dry {
            return Ok(());
        }
        Err(Error::Inconsistent {
            arguments: "tank separation and arrangement",
            reason: "equilibrium in the tanks is solved for ideal flash tanks between stages alone: without losses, expanders, other \
                     economizers, a suction exchanger, hot-gas bypass, carryover, a motor cooled by refrigerant, and pressures by equal \
                     head or best COP"
                .to_owned(),
        })
    }

    /// Liquid through the tanks, from the highest pressure down.
    fn descend(&self, between: &[f64], condenser_outlet: Stream<f64>) -> Result<Descent> {
        let mut refrigerant = self.refrigerant().clone();
        let mut liquid = condenser_outlet;
        let mut compositions = vec![(Location::CondenserOutlet, fractions(&refrigerant))];
        let (mut tanks, mut vapors) = (Vec::new(), Vec::new());
        for (k, (interstage, &pressure)) in self.interstages().iter().zip(between).enumerate().rev() {
            if !interstage.is_tank() {
                tanks.push(None);
                vapors.push(None);
                continue;
            }
            let inlet = refrigerant.stream_ph(pressure, liquid.enthalpy)?;
            compositions.push((Location::TankInlet(k + 2), fractions(&refrigerant)));
            let Some(fraction) = inlet.state.quality().filter(|quality| *quality > 0.0) else {
                // Colder than saturation: nothing flashes. The vapor is what would be the first.
                let phases = refrigerant.phases(&refrigerant.saturation_at_pressure(pressure)?.liquid())?;
                let vapor = refrigerant.stream_of(*phases.vapor(), pressure, phases.vapor().enthalpy());
                tanks.push(Some(passage(inlet, vapor, inlet, 0.0)));
                liquid = inlet;
                vapors.push(Some(phases.vapor_composition().to_vec()));
                compositions.push((Location::TankVapor(k + 2), phases.vapor_composition().to_vec()));
                compositions.push((Location::TankLiquid(k + 2), fractions(&refrigerant)));
                continue;
            };
            let phases = refrigerant.phases(&inlet.state)?;
            let [of_liquid, of_vapor] = [phases.liquid_composition(), phases.vapor_composition()];
            compositions.push((Location::TankVapor(k + 2), of_vapor.to_vec()));
            compositions.push((Location::TankLiquid(k + 2), of_liquid.to_vec()));
            let stream =
                |state: &crate::state::State| refrigerant.stream_of(*state, pressure, state.enthalpy());
            let (vapor, left) = (stream(phases.vapor()), stream(phases.liquid()));
            tanks.push(Some(passage(inlet, vapor, left, fraction / (1.0 - fraction))));
            liquid = left;
            vapors.push(Some(of_vapor.to_vec()));
            refrigerant = refrigerant.with_composition(of_liquid)?;
        }
        tanks.reverse();
        vapors.reverse();
        Ok(Descent { tanks, vapors, compositions, refrigerant, liquid })
    }

    /// Vapor through the stages, each with what has joined until then.
    fn ascend_parting(
        &self,
        inputs: &Inputs<f64>,
        (low, high): (f64, f64),
        between: PerStage<f64>,
        descent: Descent,
        evaporator_outlet: Stream<f64>,
        condenser_outlet: Stream<f64>,
    ) -> Result<(Solution<f64>, Vec<Composition>)> {
        let Descent { tanks, vapors, mut compositions, mut refrigerant, liquid } = descent;
        refuse_no_cooling(evaporator_outlet.enthalpy - liquid.enthalpy)?;
        let own = fractions(&refrigerant);
        compositions.push((Location::EvaporatorInlet, own.clone()));
        compositions.push((Location::EvaporatorOutlet, own.clone()));
        let evaporator_inlet = refrigerant.stream_ph(low, liquid.enthalpy)?;
        let (mut inlet, mut flow, mut mixed) = (evaporator_outlet, 1.0, own);
        let mut stages = Vec::with_capacity(self.stages().len());
        let mut economizers = Vec::with_capacity(between.len());
        for (k, (stage, &efficiency)) in self.stages().iter().zip(&inputs.efficiencies).enumerate() {
            compositions.push((Location::StageInlet(k + 1), mixed.clone()));
            compositions.push((Location::StageOutlet(k + 1), mixed.clone()));
            let pressure = between.get(k).copied().unwrap_or(high);
            let compressed = stage.compress(&refrigerant, &inlet, pressure, efficiency)?;
            stages.push(StageSolution { inlet, delivered: pressure, efficiency, compressed, flow });
            inlet = compressed.outlet;
            if k + 1 == self.stages().len() {
                break;
            }
            let tank = tanks.get(k).copied().flatten();
            let economized = tank.map(|passage| {
                let joins = passage.joined((flow, compressed.outlet.enthalpy), None, flow);
                Economized { passage, joins, goes_on: flow }
            });
            economizers.push(economized);
            if let (Some(Economized { passage: tank, joins: joining, .. }), Some(Some(vapor))) =
                (economized, vapors.get(k))
            {
                let above = flow + joining;
                let enthalpy = (flow * compressed.outlet.enthalpy + joining * tank.vapor.enthalpy) / above;
                let mix = |(below, joins): (&f64, &f64)| (flow * below + joining * joins) / above;
                mixed = mixed.iter().zip(vapor).map(mix).collect();
                refrigerant = self.refrigerant().with_composition(&mixed)?;
                inlet = refrigerant.stream_ph(pressure, enthalpy)?;
                flow = above;
            }
        }
        let ends = Ends {
            evaporating_pressure: low,
            condensing_pressure: high,
            evaporator_outlet,
            condenser_outlet,
            evaporator_vapor: evaporator_outlet,
        };
        let flow = Flow {
            economizers,
            stages,
            liquid,
            throttled: liquid.enthalpy,
            exchanged: None,
            suction: evaporator_outlet,
            bypass: 0.0,
            motor: None,
        };
        let solution = Solution { ends, interstage_pressures: between, flow, evaporator_inlet };
        solution.refuse_lost_work(self.refrigerant(), inputs)?;
        Ok((solution, compositions))
    }
}

/// A tank whose vapor flows in this ratio to the liquid that goes on.
fn passage(inlet: Stream<f64>, vapor: Stream<f64>, liquid: Stream<f64>, ratio: f64) -> Passage<f64> {
    let (joining, metered, recovered) = (Joining::WithLiquid(ratio), Metered::All, 0.0);
    Passage { inlet, vapor, liquid, joining, metered, recovered }
}

/// Mass fractions of the components.
fn fractions(refrigerant: &Refrigerant) -> Vec<f64> {
    refrigerant.composition().unwrap_or_default().iter().map(|(_, fraction)| *fraction).collect()
}

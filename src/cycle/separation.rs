//! A cycle whose flash tanks part the components of a blend.
//!
//! Liquid of the blend's own composition leaves the condenser. Each tank splits what reaches it into a vapor richer in what boils first
//! and a liquid poorer in it, which goes on; so the evaporator and the first stage run on what the last tank leaves, and each stage
//! compresses what has joined until then. What the tanks took off comes back on the way up: the last stage delivers the blend's own
//! composition again.

use super::circuit::Circuit;
use super::conditions::Conditions;
use super::location::Location;
use super::solve::{Inputs, NOTHING, Solution, StageSolution, refuse_no_cooling};
use crate::economizer::Flashed;
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
    tanks: Vec<Option<Flashed<f64>>>,
    /// Mass fractions of the vapor of each.
    vapors: Vec<Option<Vec<f64>>>,
    compositions: Vec<Composition>,
    /// What reaches the evaporator, and its enthalpy.
    refrigerant: Refrigerant,
    liquid: f64,
}

impl Circuit {
    /// Solves the circuit with equilibrium in the tanks, per kilogram through the evaporator, with the composition at every point.
    pub(super) fn solve_separated(
        &self,
        conditions: &Conditions,
    ) -> Result<(Solution<f64>, Vec<Composition>)> {
        let blend = self.refrigerant();
        let inputs = Inputs::new(self, conditions);
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
            let rule = self.interstage_pressures();
            let between = rule.between(blend, self.stages().len(), (cold, low), (hot, high))?;
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
                return self.ascend(
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

    /// Liquid through the tanks, from the highest pressure down.
    fn descend(&self, between: &[f64], condenser_outlet: Stream<f64>) -> Result<Descent> {
        let mut refrigerant = self.refrigerant().clone();
        let mut liquid = condenser_outlet.enthalpy;
        let mut compositions = vec![(Location::CondenserOutlet, fractions(&refrigerant))];
        let (mut tanks, mut vapors) = (Vec::new(), Vec::new());
        for (k, (interstage, &pressure)) in self.interstages().iter().zip(between).enumerate().rev() {
            if !interstage.is_tank() {
                tanks.push(None);
                vapors.push(None);
                continue;
            }
            let inlet = refrigerant.stream_ph(pressure, liquid)?;
            compositions.push((Location::TankInlet(k + 2), fractions(&refrigerant)));
            let Some(fraction) = inlet.state.quality().filter(|quality| *quality > 0.0) else {
                // Colder than saturation: nothing flashes. The vapor is what would be the first.
                let phases = refrigerant.phases(&refrigerant.saturation_at_pressure(pressure)?.liquid())?;
                let vapor = refrigerant.stream_of(*phases.vapor(), pressure, phases.vapor().enthalpy());
                tanks.push(Some(Flashed { inlet, vapor, liquid: inlet, fraction: 0.0 }));
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
            let flashed =
                Flashed { inlet, vapor: stream(phases.vapor()), liquid: stream(phases.liquid()), fraction };
            liquid = flashed.liquid.enthalpy;
            tanks.push(Some(flashed));
            vapors.push(Some(of_vapor.to_vec()));
            refrigerant = refrigerant.with_composition(of_liquid)?;
        }
        tanks.reverse();
        vapors.reverse();
        Ok(Descent { tanks, vapors, compositions, refrigerant, liquid })
    }

    /// Vapor through the stages, each with what has joined until then.
    fn ascend(
        &self,
        inputs: &Inputs<f64>,
        (low, high): (f64, f64),
        between: Vec<f64>,
        descent: Descent,
        evaporator_outlet: Stream<f64>,
        condenser_outlet: Stream<f64>,
    ) -> Result<(Solution<f64>, Vec<Composition>)> {
        let Descent { tanks, vapors, mut compositions, mut refrigerant, liquid } = descent;
        refuse_no_cooling(liquid, evaporator_outlet.enthalpy)?;
        let own = fractions(&refrigerant);
        compositions.push((Location::EvaporatorInlet, own.clone()));
        compositions.push((Location::EvaporatorOutlet, own.clone()));
        let evaporator_inlet = refrigerant.stream_ph(low, liquid)?;
        let (mut inlet, mut flow, mut mixed) = (evaporator_outlet, 1.0, own);
        let mut stages = Vec::with_capacity(self.stages().len());
        for (k, (stage, &efficiency)) in self.stages().iter().zip(&inputs.efficiencies).enumerate() {
            compositions.push((Location::StageInlet(k + 1), mixed.clone()));
            compositions.push((Location::StageOutlet(k + 1), mixed.clone()));
            let pressure = between.get(k).copied().unwrap_or(high);
            let compressed = stage.compress(&refrigerant, &inlet, pressure, efficiency)?;
            stages.push(StageSolution { inlet, compressed, flow });
            inlet = compressed.outlet;
            if let (Some(Some(tank)), Some(Some(vapor))) = (tanks.get(k), vapors.get(k)) {
                let joining = flow * tank.fraction / (1.0 - tank.fraction);
                let above = flow + joining;
                let enthalpy = (flow * compressed.outlet.enthalpy + joining * tank.vapor.enthalpy) / above;
                let mix = |(below, joins): (&f64, &f64)| (flow * below + joining * joins) / above;
                mixed = mixed.iter().zip(vapor).map(mix).collect();
                refrigerant = self.refrigerant().with_composition(&mixed)?;
                inlet = refrigerant.stream_ph(pressure, enthalpy)?;
                flow = above;
            }
        }
        let solution = Solution {
            evaporating_pressure: low,
            condensing_pressure: high,
            interstage_pressures: between,
            evaporator_inlet,
            evaporator_outlet,
            condenser_outlet,
            tanks,
            stages,
        };
        solution.refuse_lost_work(self.refrigerant(), inputs)?;
        Ok((solution, compositions))
    }
}

/// Mass fractions of the components.
fn fractions(refrigerant: &Refrigerant) -> Vec<f64> {
    refrigerant.composition().unwrap_or_default().iter().map(|(_, fraction)| *fraction).collect()
}

//! From a circuit and its conditions to every state and flow.
//!
//! Per kilogram of liquid sent to the evaporator. Liquid passes the economizers from the condenser down, vapor the stages from the
//! evaporator up; what each economizer adds to the gas follows from the two on the way up. Vapor mixes adiabatically with the
//! discharge it meets. Written once over [`Real`], so that the same lines give figures and their derivatives.

use super::PerStage;
use super::circuit::Circuit;
use super::conditions::Size;
use super::descent::{Descent, Passages, descend, raised};
use super::drive::MotorCooling;
use super::ends::Ends;
use super::flow::{Economized, Flow, Lists, MotorFlow, StageSolution};
use super::inputs::Inputs;
use crate::economizer::{Joining, Passage, expand};
use crate::error::{Error, Result};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::{Phase, Stream};

/// Work up to this share of R T is lost in the rounding of the enthalpies it is the difference of: that of a lift of some
/// 1e-10 K.
const LOST: f64 = 1e-11;

/// Relative change of the motor's refrigerant flow that ends the search for it; change below which rounding of the states may keep it
/// from shrinking further; searches before giving up.
const SETTLED: f64 = 1e-15;
const ROUNDING: f64 = 1e-11;
const LIMIT: usize = 200;

/// Everything per kilogram of liquid sent to the evaporator.
#[derive(Debug, Clone)]
pub(crate) struct Solution<R> {
    pub(crate) ends: Ends<R>,
    pub(crate) interstage_pressures: PerStage<R>,
    pub(crate) flow: Flow<R>,
    pub(crate) evaporator_inlet: Stream<R>,
}

impl<R: Real> Solution<R> {
    /// Cooling per kilogram of liquid sent to the evaporator, J/kg.
    pub(crate) fn refrigerating_effect(&self) -> R {
        self.flow.refrigerating_effect(&self.ends)
    }

    /// Work of all stages less what expanders recover, per kilogram of liquid sent to the evaporator, J/kg.
    pub(crate) fn work(&self) -> R {
        self.flow.work()
    }

    pub(crate) fn cop(&self) -> R {
        self.refrigerating_effect() / self.work()
    }

    /// Flow through the condenser.
    pub(crate) fn condenser_flow(&self) -> R {
        self.flow.discharge_flow() - self.flow.bypass
    }

    /// State at the discharge of the last stage.
    pub(crate) fn discharge(&self) -> Stream<R> {
        self.flow.discharge()
    }

    /// Refuses work that is lost in the rounding of the enthalpies it is the difference of.
    pub(super) fn refuse_lost_work(&self, refrigerant: &Refrigerant, inputs: &Inputs<R>) -> Result<()> {
        let (cold, hot) = (inputs.evaporating_temperature.value(), inputs.condensing_temperature.value());
        if self.work().value() <= LOST * refrigerant.gas_constant() * hot {
            return Err(Error::Inconsistent {
                arguments: "evaporating temperature and condensing temperature",
                reason: format!(
                    "the work between {cold} K and {hot} K is lost in rounding: no COP can be told"
                ),
            });
        }
        Ok(())
    }

    /// Flow of liquid to the evaporator that gives a size.
    pub(crate) fn mass_flow(&self, size: Size) -> R {
        match size {
            Size::MassFlow(flow) => R::constant(flow),
            Size::Capacity(capacity) => R::constant(capacity) / self.refrigerating_effect(),
            Size::Power(power) => R::constant(power) / self.work(),
        }
    }
}

impl Circuit {
    /// Solves the circuit per kilogram of liquid sent to the evaporator; conditions must have been checked.
    pub(crate) fn solve_over<R: Real>(&self, inputs: &Inputs<R>) -> Result<Solution<R>> {
        let refrigerant = self.refrigerant();
        let (cold, hot) = (inputs.evaporating_temperature, inputs.condensing_temperature);
        let evaporating = refrigerant.saturated_at_temperature(cold)?;
        let condensing = refrigerant.saturated_at_temperature(hot)?;
        let ends = Ends::new(refrigerant, inputs, &evaporating, &condensing)?;
        let between = self.pressures_between(inputs, &ends)?;
        self.solve_between(inputs, ends, between)
    }

    /// The same with the states at the ends and the interstage pressures known.
    pub(crate) fn solve_between<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: Ends<R>,
        between: PerStage<R>,
    ) -> Result<Solution<R>> {
        let refrigerant = self.refrigerant();
        let flow = self.circulate(inputs, &ends, &between)?;
        refuse_no_cooling(flow.refrigerating_effect(&ends).value())?;
        let evaporator_inlet = refrigerant.stream_ph(ends.evaporating_pressure, flow.throttled)?;
        let solution = Solution { ends, interstage_pressures: between, flow, evaporator_inlet };
        solution.refuse_lost_work(refrigerant, inputs)?;
        Ok(solution)
    }

    /// What circulates at these pressures.
    pub(crate) fn circulate<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: &Ends<R>,
        between: &[R],
    ) -> Result<Flow<R>> {
        let mut passages = Passages::with_capacity(between.len());
        let descent = descend(self.refrigerant(), inputs, between, ends, &mut passages)?;
        self.ascend(inputs, ends, between, descent, &mut Lists::new())
    }

    /// What circulates with the way of the liquid known, told in lists that may have served before.
    pub(crate) fn ascend<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: &Ends<R>,
        between: &[R],
        descent: Descent<'_, R>,
        lists: &mut Lists<R>,
    ) -> Result<Flow<R>> {
        let none = self.compress(inputs, ends, between, descent, None, lists)?;
        let cooling = self.drive().motor_cooling();
        let heat_of = |flow: &Flow<R>| flow.work() / inputs.mechanical * (-inputs.motor + 1.0) / inputs.motor;
        if cooling == MotorCooling::Room || inputs.motor.value() >= 1.0 && !R::CARRIES_DERIVATIVES {
            return Ok(none);
        }
        let (stage, returned) = match cooling {
            MotorCooling::RefrigerantToStage(stage) => {
                let place = stage.wrapping_sub(2);
                let inlet = between.get(place).copied().unwrap_or(ends.evaporating_pressure);
                // Where an economizer feeds the stage the vapor joins it there, upstream of the port.
                let pressure = match descent.passages.get(place) {
                    Some(Some(passage)) => passage.vapor.pressure,
                    _ => inlet,
                };
                (Some(stage), self.refrigerant().saturated_at_pressure(pressure)?.vapor)
            }
            _ => (None, ends.evaporator_vapor),
        };
        let taken_up = returned.enthalpy - ends.condenser_outlet.enthalpy;
        // Each round leaves some hundredth of the error before it, in the flow and in its derivatives.
        let mut flow = heat_of(&none) / taken_up;
        let mut before = f64::INFINITY;
        *lists = none.into_lists();
        for _ in 0..LIMIT {
            let motor = Some(MotorFlow { flow, returned, stage });
            let solved = self.compress(inputs, ends, between, descent, motor, lists)?;
            let next = heat_of(&solved) / taken_up;
            let change = (next - flow).value().abs();
            let stands = change <= ROUNDING && change >= before;
            if change <= SETTLED * (1.0 + next.value().abs()) || stands {
                return Ok(solved);
            }
            if change >= before {
                break;
            }
            (flow, before, *lists) = (next, change, solved.into_lists());
        }
        Err(Error::Inconsistent {
            arguments: "motor efficiency and refrigerant that cools the motor",
            reason: format!(
                "a motor of efficiency {} gives off so much heat that the refrigerant compressed to take it up gives off as much or nearly",
                inputs.motor.value()
            ),
        })
    }

    /// The stages one after another, with what the economizers and the motor add in between.
    fn compress<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: &Ends<R>,
        between: &[R],
        Descent { passages, liquid }: Descent<'_, R>,
        motor: Option<MotorFlow<R>>,
        lists: &mut Lists<R>,
    ) -> Result<Flow<R>> {
        let refrigerant = self.refrigerant();
        let losses = &inputs.losses;
        let to_evaporator = motor.filter(|motor| motor.stage.is_none()).map(|motor| motor.flow);
        let bypassed = inputs.bypass;
        let mut flow = R::constant(1.0);
        if let Some(motor) = to_evaporator {
            flow = flow + motor;
        }
        if !bypassed.is_nothing() {
            flow = flow / (-bypassed + 1.0);
        }
        let bypass = flow * bypassed;
        // What rises without having come down as liquid through the same economizers.
        let mut apart = flow - 1.0;

        let (suction, liquid, exchanged) = exchange(refrigerant, inputs.effectiveness, ends, flow, liquid)?;
        let drawn = lowered(ends.evaporating_pressure, losses.suction);
        let mut inlet = at_pressure(refrigerant, &suction, drawn)?;
        let Lists { stages, economizers } = lists;
        economizers.clear();
        stages.reserve(self.stages().len());
        economizers.reserve(between.len());
        for (k, (stage, &efficiency)) in self.stages().iter().zip(&inputs.efficiencies).enumerate() {
            let next = between.get(k).copied();
            let delivered = match next {
                Some(pressure) => raised(where_gas_arrives(passages, k, pressure), losses.interstage),
                None => raised(ends.condensing_pressure, losses.discharge),
            };
            let known = stages.get(k).filter(|known| known.did(&inlet, delivered, efficiency));
            let compressed = match known {
                Some(known) => known.compressed,
                None => stage.compress(refrigerant, &inlet, delivered, efficiency)?,
            };
            let solved = StageSolution { inlet, delivered, efficiency, compressed, flow };
            match stages.get_mut(k) {
                Some(place) => *place = solved,
                None => stages.push(solved),
            }
            let Some(pressure) = next else { break };
            let discharge = compressed.outlet.enthalpy;
            let returned = motor
                .filter(|motor| motor.stage == Some(k + 2))
                .map(|motor| (motor.flow, motor.returned.enthalpy));
            let goes_on = flow - apart;
            let (mut above, mut carried) = (flow, flow * discharge);
            if let Some((joins, enthalpy)) = returned {
                (above, carried) = (above + joins, carried + joins * enthalpy);
                apart = apart + joins;
            }
            let mut economized = None;
            inlet = match passages.get(k).copied().flatten() {
                None if returned.is_none() => at_pressure(refrigerant, &compressed.outlet, pressure)?,
                None => refrigerant.stream_ph(pressure, carried / above)?,
                Some(mut passage) => {
                    let joins = passage.joined((flow, discharge), returned, goes_on);
                    let gas = above;
                    above = above + joins;
                    let to_stage = match passage.joining {
                        Joining::WithLiquid(_) => {
                            let mixed = (carried + joins * passage.vapor.enthalpy) / above;
                            refrigerant.stream_ph(pressure, mixed)?
                        }
                        // All gas leaves as the vapor of the tank.
                        Joining::WithGas(_) if passage.evaporates(joins) => {
                            at_pressure(refrigerant, &passage.vapor, pressure)?
                        }
                        Joining::WithGas(heat) => {
                            let enthalpy = (carried + goes_on * heat) / gas;
                            passage.vapor = refrigerant.stream_ph(passage.vapor.pressure, enthalpy)?;
                            at_pressure(refrigerant, &passage.vapor, pressure)?
                        }
                    };
                    let at = Economized { passage, joins, goes_on };
                    refuse_all_condensed(&at, pressure)?;
                    economized = Some(at);
                    to_stage
                }
            };
            flow = above;
            economizers.push(economized);
        }
        let throttled = expand(refrigerant, &liquid, ends.evaporating_pressure, inputs.expander)?;
        let (stages, economizers) = (std::mem::take(stages), std::mem::take(economizers));
        Ok(Flow { economizers, stages, liquid, throttled, exchanged, suction, bypass, motor })
    }
}

/// Pressure that gas from below arrives at: that of a tank through which it passes, else that of the inlet it goes to.
fn where_gas_arrives<R: Real>(passages: &[Option<Passage<R>>], place: usize, inlet: R) -> R {
    match passages.get(place) {
        Some(Some(Passage { joining: Joining::WithGas(_), vapor, .. })) => vapor.pressure,
        _ => inlet,
    }
}

/// Refuses a tank in which more gas condenses than liquid goes on.
fn refuse_all_condensed<R: Real>(at: &Economized<R>, pressure: R) -> Result<()> {
    if at.metered().value() >= 0.0 {
        return Ok(());
    }
    Err(Error::Inconsistent {
        arguments: "discharge and intercooled tank",
        reason: format!(
            "before the stage inlet at {} Pa more liquid falls out of the gas than goes on to the evaporator",
            pressure.value()
        ),
    })
}

/// A stream throttled to a pressure.
fn at_pressure<R: Real>(refrigerant: &Refrigerant, from: &Stream<R>, pressure: R) -> Result<Stream<R>> {
    if (pressure - from.pressure).is_nothing() {
        return Ok(*from);
    }
    if pressure.value() == from.pressure.value() && from.state.phase() != Phase::TwoPhase {
        // Only its derivatives move.
        return Ok(refrigerant.stream_of(from.state, pressure, from.enthalpy));
    }
    refrigerant.stream_ph(pressure, from.enthalpy)
}

/// A pressure less a loss on the way from it.
fn lowered<R: Real>(pressure: R, loss: R) -> R {
    if loss.is_nothing() { pressure } else { pressure * (-loss + 1.0) }
}

/// Refuses an evaporator that does not cool.
pub(super) fn refuse_no_cooling(effect: f64) -> Result<()> {
    if effect > 0.0 {
        return Ok(());
    }
    Err(Error::Inconsistent {
        arguments: "evaporating temperature and condensing temperature",
        reason: format!(
            "what is sent to the evaporator has no less enthalpy than what leaves it ({effect} J/kg are left): no cooling is left"
        ),
    })
}

/// Vapor to the first stage, liquid to the evaporator, and the liquid that entered an exchanger if there is one.
type Exchanged<R> = (Stream<R>, Stream<R>, Option<Stream<R>>);

/// The liquid-suction exchanger: vapor to the first stage, liquid to the evaporator, and the liquid that entered if there is one.
fn exchange<R: Real>(
    refrigerant: &Refrigerant,
    effectiveness: Option<R>,
    ends: &Ends<R>,
    flow: R,
    liquid: Stream<R>,
) -> Result<Exchanged<R>> {
    let vapor = ends.evaporator_outlet;
    let Some(effectiveness) = effectiveness else { return Ok((vapor, liquid, None)) };
    let difference = liquid.temperature - vapor.temperature;
    if difference.value() <= 0.0 || effectiveness.value() == 0.0 && !R::CARRIES_DERIVATIVES {
        return Ok((vapor, liquid, Some(liquid)));
    }
    let suction = refrigerant.stream_pt(vapor.pressure, vapor.temperature + effectiveness * difference)?;
    let enthalpy = liquid.enthalpy - flow * (suction.enthalpy - vapor.enthalpy);
    let cooled = refrigerant.stream_ph(liquid.pressure, enthalpy)?;
    if cooled.temperature.value() < vapor.temperature.value() {
        return Err(Error::Inconsistent {
            arguments: "suction exchanger effectiveness and flows",
            reason: format!(
                "the liquid would leave at {} K, colder than the vapor that cools it ({} K)",
                cooled.temperature.value(),
                vapor.temperature.value()
            ),
        });
    }
    Ok((suction, cooled, Some(liquid)))
}

/// Compression power with every economizer off, as a multiple of that with them, at the same capacity.
///
/// Same refrigerant, stages, efficiencies, interstage pressures and losses. NaN where nothing would be cooled without them, or where
/// the discharge, which their vapor cools no more, would be hotter than the equation of state knows.
pub(crate) fn without_economizers<R: Real>(
    circuit: &Circuit,
    inputs: &Inputs<R>,
    with: &Solution<R>,
) -> Result<R> {
    let (ends, between) = (&with.ends, &with.interstage_pressures);
    let mut lists = Lists { stages: with.flow.stages.clone(), economizers: Vec::new() };
    let flow = match circuit.ascend(inputs, ends, between, Descent::direct(ends), &mut lists) {
        Err(Error::OutOfRange { .. }) => return Ok(R::constant(f64::NAN)),
        flow => flow?,
    };
    let effect = flow.refrigerating_effect(ends);
    if effect.value() <= 0.0 {
        return Ok(R::constant(f64::NAN));
    }
    Ok(flow.work() / effect * with.cop())
}

//! From a circuit and its conditions to every state and flow.
//!
//! Per kilogram of liquid sent to the evaporator. Liquid passes the economizers from the condenser down, vapor the stages from the
//! evaporator up; what each economizer adds to the gas follows from the two on the way up. Vapor mixes adiabatically with the
//! discharge it meets. Written once over [`Real`], so that the same lines give figures and their derivatives.

use super::circuit::Circuit;
use super::conditions::Size;
use super::drive::MotorCooling;
use super::inputs::{Between, Inputs};
use crate::compression::Compressed;
use crate::economizer::{Joining, Metered, Passage, expand, inject};
use crate::error::{Error, Result};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::{Phase, SaturatedStreams, Stream};

/// A superheat or subcooling up to this, K, is none: rounding could put the state on the other side of saturation.
pub(crate) const NOTHING: f64 = 1e-9;

/// Work up to this share of R T is lost in the rounding of the enthalpies it is the difference of: that of a lift of some
/// 1e-10 K.
const LOST: f64 = 1e-11;

/// Relative change of the motor's refrigerant flow that ends the search for it; change below which rounding of the states may keep it
/// from shrinking further; searches before giving up.
const SETTLED: f64 = 1e-15;
const ROUNDING: f64 = 1e-11;
const LIMIT: usize = 200;

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

/// Everything per kilogram of liquid sent to the evaporator.
#[derive(Debug, Clone)]
pub(crate) struct Solution<R> {
    pub(crate) ends: Ends<R>,
    pub(crate) interstage_pressures: Vec<R>,
    pub(crate) flow: Flow<R>,
    pub(crate) evaporator_inlet: Stream<R>,
}

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
    pub(crate) compressed: Compressed<R>,
    /// Flow through the stage per liquid sent to the evaporator.
    pub(crate) flow: R,
}

impl<R: Real> StageSolution<R> {
    /// Work per kilogram through the stage, J/kg.
    pub(crate) fn work(&self) -> R {
        self.compressed.outlet.enthalpy - self.inlet.enthalpy
    }
}

impl<R: Real> Flow<R> {
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
        between: Vec<R>,
    ) -> Result<Solution<R>> {
        let refrigerant = self.refrigerant();
        let flow = self.circulate(inputs, &ends, &between, &inputs.interstages)?;
        refuse_no_cooling(flow.refrigerating_effect(&ends).value())?;
        let evaporator_inlet = refrigerant.stream_ph(ends.evaporating_pressure, flow.throttled)?;
        let solution = Solution { ends, interstage_pressures: between, flow, evaporator_inlet };
        solution.refuse_lost_work(refrigerant, inputs)?;
        Ok(solution)
    }

    /// What circulates with these things between the stages.
    pub(crate) fn circulate<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: &Ends<R>,
        between: &[R],
        interstages: &[Between<R>],
    ) -> Result<Flow<R>> {
        let refrigerant = self.refrigerant();
        let (passages, liquid) = descend(refrigerant, inputs, interstages, between, &ends.condenser_outlet)?;
        self.ascend(inputs, ends, between, &passages, liquid)
    }

    /// What circulates with the economizers' part of the way down known.
    pub(crate) fn ascend<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: &Ends<R>,
        between: &[R],
        passages: &[Option<Passage<R>>],
        liquid: Stream<R>,
    ) -> Result<Flow<R>> {
        let none = self.compress(inputs, ends, between, passages, liquid, None)?;
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
                let pressure = match passages.get(place) {
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
        for _ in 0..LIMIT {
            let motor = Some(MotorFlow { flow, returned, stage });
            let solved = self.compress(inputs, ends, between, passages, liquid, motor)?;
            let next = heat_of(&solved) / taken_up;
            let change = (next - flow).value().abs();
            let stands = change <= ROUNDING && change >= before;
            if change <= SETTLED * (1.0 + next.value().abs()) || stands {
                return Ok(solved);
            }
            if change >= before {
                break;
            }
            (flow, before) = (next, change);
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
        passages: &[Option<Passage<R>>],
        liquid: Stream<R>,
        motor: Option<MotorFlow<R>>,
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
        let mut stages = Vec::with_capacity(self.stages().len());
        let mut economizers = Vec::with_capacity(between.len());
        for (k, (stage, &efficiency)) in self.stages().iter().zip(&inputs.efficiencies).enumerate() {
            let Some(&pressure) = between.get(k) else {
                let delivered = raised(ends.condensing_pressure, losses.discharge);
                let compressed = stage.compress(refrigerant, &inlet, delivered, efficiency)?;
                stages.push(StageSolution { inlet, compressed, flow });
                break;
            };
            let delivered = raised(where_gas_arrives(passages, k, pressure), losses.interstage);
            let compressed = stage.compress(refrigerant, &inlet, delivered, efficiency)?;
            stages.push(StageSolution { inlet, compressed, flow });
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

/// A pressure and a loss on the way to it.
fn raised<R: Real>(pressure: R, loss: R) -> R {
    if loss.is_nothing() { pressure } else { pressure * (loss + 1.0) }
}

/// A pressure less a loss on the way from it.
fn lowered<R: Real>(pressure: R, loss: R) -> R {
    if loss.is_nothing() { pressure } else { pressure * (-loss + 1.0) }
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

/// What each economizer makes of the liquid, one entry an interstage.
pub(crate) type Passages<R> = Vec<Option<Passage<R>>>;

/// Liquid through the economizers, from the highest pressure down: what each makes of it, one entry an interstage, and the liquid that
/// goes on to the evaporator.
pub(crate) fn descend<R: Real>(
    refrigerant: &Refrigerant,
    inputs: &Inputs<R>,
    interstages: &[Between<R>],
    between: &[R],
    condenser_outlet: &Stream<R>,
) -> Result<(Passages<R>, Stream<R>)> {
    let mut liquid = *condenser_outlet;
    let mut passages = Vec::with_capacity(between.len());
    for (interstage, &inlet) in interstages.iter().zip(between).rev() {
        if matches!(interstage, Between::Direct) {
            passages.push(None);
            continue;
        }
        let pressure = raised(inlet, inputs.losses.port);
        if pressure.value() > liquid.pressure.value() {
            return Err(Error::Inconsistent {
                arguments: "port loss and interstage pressures",
                reason: format!(
                    "an economizer at {} Pa cannot be fed with liquid at {} Pa",
                    pressure.value(),
                    liquid.pressure.value()
                ),
            });
        }
        let metered = |expander| expand(refrigerant, &liquid, pressure, expander);
        let passage = match *interstage {
            Between::Direct => continue,
            Between::FlashTank { separation, expander } => {
                separation.flash(refrigerant, pressure, &liquid, metered(expander)?)?
            }
            Between::IntercooledTank { separation, expander, coil: None } => {
                separation.intercool(refrigerant, pressure, &liquid, metered(expander)?)?
            }
            Between::IntercooledTank { separation, expander, coil: Some(approach) } => separation
                .intercool_with_coil(refrigerant, pressure, &liquid, metered(expander)?, approach)?,
            Between::ClosedEconomizer(exchange) => exchange.exchange(refrigerant, pressure, &liquid)?,
            Between::LiquidInjection { superheat } => inject(refrigerant, inlet, &liquid, superheat)?,
        };
        passages.push(Some(passage));
        liquid = passage.liquid;
    }
    passages.reverse();
    Ok((passages, liquid))
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

/// Compression power with every economizer off, as a multiple of that with them, at the same capacity.
///
/// Same refrigerant, stages, efficiencies, interstage pressures and losses. NaN where nothing would be cooled without them, or where
/// the discharge, which their vapor cools no more, would be hotter than the equation of state knows.
pub(crate) fn without_economizers<R: Real>(
    circuit: &Circuit,
    inputs: &Inputs<R>,
    with: &Solution<R>,
) -> Result<R> {
    let direct = vec![Between::Direct; with.interstage_pressures.len()];
    let flow = match circuit.circulate(inputs, &with.ends, &with.interstage_pressures, &direct) {
        Err(Error::OutOfRange { .. }) => return Ok(R::constant(f64::NAN)),
        flow => flow?,
    };
    let effect = flow.refrigerating_effect(&with.ends);
    if effect.value() <= 0.0 {
        return Ok(R::constant(f64::NAN));
    }
    Ok(flow.work() / effect * with.cop())
}

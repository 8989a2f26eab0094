//! The solved cycle.

use smallvec::SmallVec;

use super::circuit::{Circuit, Interstage};
use super::conditions::{Conditions, Size};
use super::drive::MotorCooling;
use super::flow::{Economized, StageSolution};
use super::inputs::Inputs;
use super::location::Location;
use super::pressures::InterstagePressures;
use super::solve::{Solution, without_economizers};
use crate::economizer::{InjectionTakenFrom, Joining};
use crate::error::{Error, Result};
use crate::state::State;
use crate::units;

/// One point of a solved cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    pub(crate) location: Location,
    pub(crate) state: State,
    pub(crate) mass_flow: f64,
}

impl Point {
    /// Where in the circuit it is.
    pub fn location(&self) -> Location {
        self.location
    }

    /// State there.
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Mass flow there, kg/s.
    pub fn mass_flow(&self) -> f64 {
        self.mass_flow
    }
}

/// One entry a stage or interstage; up to four take no memory of their own, and more inline would make every cycle larger to move.
type Short<T> = SmallVec<[T; 4]>;

/// A circuit solved at its conditions: every state, flow and figure. SI units.
///
/// Power is compression power: what the stages put into the refrigerant less what expanders recover, before bearing, gear, motor and
/// drive losses.
#[derive(Debug, Clone, PartialEq)]
pub struct Cycle {
    circuit: Circuit,
    conditions: Conditions,
    recovered: f64,
    bypass: f64,
    stage_wet: Short<bool>,
    points: Vec<Point>,
    mass_flow: f64,
    refrigerating_effect: f64,
    work: f64,
    power_ratio_without_economizers: f64,
    condensing_pressure: f64,
    evaporating_pressure: f64,
    interstage_pressures: Short<f64>,
    flash_fractions: Short<f64>,
    stage_work: Short<f64>,
    stage_head: Short<f64>,
    stage_flow: Short<f64>,
    heat_per_evaporator_flow: f64,
    /// Mass fractions at each point; none for a pure fluid.
    compositions: Vec<Vec<f64>>,
}

/// Every point of a solution.
fn points(solution: &Solution<f64>, interstages: &[Interstage], mass_flow: f64) -> Vec<Point> {
    let (ends, flow) = (&solution.ends, &solution.flow);
    let mut points = Vec::with_capacity(5 + 5 * flow.stages.len());
    let mut add = |location, state: State, flow: f64| {
        points.push(Point { location, state, mass_flow: flow * mass_flow });
    };
    add(Location::EvaporatorOutlet, ends.evaporator_outlet.state, flow.suction_flow());
    if flow.exchanged.is_some() {
        add(Location::SuctionExchangerVapor, flow.suction.state, flow.suction_flow());
    }
    for (stage, k) in flow.stages.iter().zip(1..) {
        add(Location::StageInlet(k), stage.inlet.state, stage.flow);
        add(Location::StageOutlet(k), stage.compressed.outlet.state, stage.flow);
    }
    if flow.bypass > 0.0 {
        add(Location::HotGasBypass, flow.discharge().state, flow.bypass);
    }
    add(Location::CondenserOutlet, ends.condenser_outlet.state, solution.condenser_flow());
    if let Some(motor) = &flow.motor {
        add(Location::MotorLiquid, ends.condenser_outlet.state, motor.flow);
        add(Location::MotorVapor, motor.returned.state, motor.flow);
    }
    for (place, (economized, interstage)) in flow.economizers.iter().zip(interstages).enumerate().rev() {
        let k = place + 2;
        let Some(at) = economized else { continue };
        let passage = &at.passage;
        let above = flow.stages.get(k - 1).map_or(1.0, |stage| stage.flow);
        let gas = if matches!(passage.joining, Joining::WithGas(_)) { above } else { at.joins };
        match interstage {
            Interstage::FlashTank(_) | Interstage::IntercooledTank(_) => {
                add(Location::TankInlet(k), passage.inlet.state, at.metered());
                add(Location::TankVapor(k), passage.vapor.state, gas);
            }
            Interstage::ClosedEconomizer(_) => {
                add(Location::InjectionInlet(k), passage.inlet.state, at.joins);
                add(Location::InjectionOutlet(k), passage.vapor.state, at.joins);
            }
            Interstage::LiquidInjection(_) => add(Location::InjectionInlet(k), passage.inlet.state, at.joins),
            Interstage::Direct => {}
        }
        match interstage {
            Interstage::IntercooledTank(tank) if tank.coil_approach().is_some() => {
                add(Location::CooledLiquid(k), passage.liquid.state, at.goes_on);
            }
            Interstage::FlashTank(_) | Interstage::IntercooledTank(_) => {
                add(Location::TankLiquid(k), passage.liquid.state, at.goes_on);
            }
            Interstage::ClosedEconomizer(exchanger) => {
                let taken = match exchanger.taken_from() {
                    InjectionTakenFrom::BeforeExchanger => 0.0,
                    InjectionTakenFrom::AfterExchanger => at.joins,
                };
                add(Location::CooledLiquid(k), passage.liquid.state, at.goes_on + taken);
            }
            Interstage::LiquidInjection(_) | Interstage::Direct => {}
        }
    }
    if flow.exchanged.is_some() {
        add(Location::SuctionExchangerLiquid, flow.liquid.state, 1.0);
    }
    add(Location::EvaporatorInlet, solution.evaporator_inlet.state, 1.0);
    points
}

impl Circuit {
    /// Solves the circuit.
    ///
    /// # Errors
    ///
    /// [`Error::NotFinite`](crate::Error::NotFinite), [`Error::OutOfRange`](crate::Error::OutOfRange) or
    /// [`Error::Inconsistent`](crate::Error::Inconsistent) if the conditions are not possible with this refrigerant
    /// and circuit; [`Error::NotConverged`](crate::Error::NotConverged) if a state cannot be solved.
    pub fn solve(&self, conditions: &Conditions) -> Result<Cycle> {
        conditions.check(self.refrigerant())?;
        if self.parts_blend() {
            return self.solve_parting(conditions);
        }
        let inputs = Inputs::new(self, conditions);
        let solution = self.solve_over(&inputs)?;
        let ratio = if self.economizers() > 0 { without_economizers(self, &inputs, &solution)? } else { 1.0 };
        let own: Option<Vec<f64>> =
            self.refrigerant().composition().map(|of| of.iter().map(|(_, fraction)| *fraction).collect());
        Ok(Cycle::new(self, conditions, &solution, ratio, |_| own.clone()))
    }

    /// The same where the tanks part the components.
    fn solve_parting(&self, conditions: &Conditions) -> Result<Cycle> {
        let (solution, compositions) = self.solve_separated(conditions)?;
        let given = InterstagePressures::Given(solution.interstage_pressures.to_vec());
        let none = self.clone().without_economizers().with_interstage_pressures(given)?.solve(conditions);
        // As without separation: missing where nothing can be told.
        let ratio = match none {
            Ok(none) => solution.cop() / none.cop(),
            Err(Error::OutOfRange { .. } | Error::Inconsistent { .. }) => f64::NAN,
            Err(error) => return Err(error),
        };
        let of = |location| compositions.iter().find(|(at, _)| *at == location).map(|(_, of)| of.clone());
        Ok(Cycle::new(self, conditions, &solution, ratio, of))
    }
}

impl Cycle {
    fn new(
        circuit: &Circuit,
        conditions: &Conditions,
        solution: &Solution<f64>,
        power_ratio_without_economizers: f64,
        composition: impl Fn(Location) -> Option<Vec<f64>>,
    ) -> Self {
        let mass_flow = solution.mass_flow(conditions.size);
        let points = points(solution, circuit.interstages(), mass_flow);
        let heat = solution.condenser_flow()
            * (solution.discharge().enthalpy - solution.ends.condenser_outlet.enthalpy);
        let compositions = points.iter().filter_map(|point| composition(point.location)).collect();
        let (flow, stages) = (&solution.flow, &solution.flow.stages);
        Self {
            circuit: circuit.clone(),
            conditions: *conditions,
            recovered: flow.recovered(),
            bypass: flow.bypass,
            stage_wet: stages.iter().map(|stage| stage.compressed.wet).collect(),
            compositions,
            points,
            mass_flow,
            refrigerating_effect: solution.refrigerating_effect(),
            work: solution.work(),
            power_ratio_without_economizers,
            condensing_pressure: solution.ends.condensing_pressure,
            evaporating_pressure: solution.ends.evaporating_pressure,
            interstage_pressures: Short::from_slice(&solution.interstage_pressures),
            flash_fractions: flow.economizers.iter().flatten().map(Economized::fraction).collect(),
            stage_work: stages.iter().map(StageSolution::work).collect(),
            stage_head: stages.iter().map(|stage| stage.compressed.head).collect(),
            stage_flow: stages.iter().map(|stage| stage.flow).collect(),
            heat_per_evaporator_flow: heat,
        }
    }

    /// The circuit that was solved.
    pub fn circuit(&self) -> &Circuit {
        &self.circuit
    }

    /// The conditions it was solved at.
    pub fn conditions(&self) -> &Conditions {
        &self.conditions
    }

    /// Every point, in the order of the flow from the evaporator outlet on.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// One point, or `None` if the circuit has no such point.
    pub fn point(&self, location: Location) -> Option<&Point> {
        self.points.iter().find(|point| point.location == location)
    }

    /// Mass fractions of a blend's components at a point, in the order of
    /// [`Refrigerant::composition`](crate::Refrigerant::composition); `None` for a pure fluid, or if the circuit has no such point.
    pub fn composition(&self, location: Location) -> Option<&[f64]> {
        let place = self.points.iter().position(|point| point.location == location)?;
        self.compositions.get(place).map(Vec::as_slice)
    }

    /// What goes through the condenser less what goes through the evaporator less what the tanks send to the stages, of each component
    /// of a blend, per condenser flow. Zero but for rounding.
    pub fn species_closure(&self) -> Vec<f64> {
        let of = |location| {
            let flow = self.point(location).map_or(0.0, |point| point.mass_flow);
            self.composition(location).unwrap_or_default().iter().map(move |w| flow * w).collect::<Vec<_>>()
        };
        let mut left = of(Location::CondenserOutlet);
        for (location, sign) in self.leaving_liquid() {
            left.iter_mut().zip(of(location)).for_each(|(left, gone)| *left -= sign * gone);
        }
        left.into_iter().map(|left| left / self.condenser_mass_flow()).collect()
    }

    /// Where liquid of the condenser goes in the end; with -1 what a tank's vapor holds of other gas.
    fn leaving_liquid(&self) -> Vec<(Location, f64)> {
        let mut leaving = vec![(Location::EvaporatorInlet, 1.0), (Location::MotorLiquid, 1.0)];
        for (interstage, k) in self.circuit.interstages().iter().zip(2..) {
            match interstage {
                Interstage::Direct => {}
                Interstage::FlashTank(_) => leaving.push((Location::TankVapor(k), 1.0)),
                Interstage::IntercooledTank(_) => {
                    leaving.extend([(Location::TankVapor(k), 1.0), (Location::StageOutlet(k - 1), -1.0)]);
                    if self.circuit.drive().motor_cooling() == MotorCooling::RefrigerantToStage(k) {
                        leaving.push((Location::MotorVapor, -1.0));
                    }
                }
                Interstage::ClosedEconomizer(_) => leaving.push((Location::InjectionOutlet(k), 1.0)),
                Interstage::LiquidInjection(_) => leaving.push((Location::InjectionInlet(k), 1.0)),
            }
        }
        leaving
    }

    /// Capacity per compression power.
    pub fn cop(&self) -> f64 {
        self.refrigerating_effect / self.work
    }

    /// Compression power per capacity, kW per ton of refrigeration.
    pub fn kw_per_ton(&self) -> f64 {
        units::kw_per_ton_from_cop(self.cop())
    }

    /// COP of a Carnot cycle between the two saturation temperatures.
    pub fn carnot_cop(&self) -> f64 {
        self.conditions.evaporating_temperature / self.conditions.refrigerant_lift()
    }

    /// Refrigerating capacity, W; as given where it fixes the size.
    pub fn capacity(&self) -> f64 {
        match self.conditions.size {
            Size::Capacity(given) => given,
            _ => self.mass_flow * self.refrigerating_effect,
        }
    }

    /// Compression power: the sum over the stages less what expanders recover, W; as given where it fixes the size.
    pub fn power(&self) -> f64 {
        match self.conditions.size {
            Size::Power(given) => given,
            _ => self.mass_flow * self.work,
        }
    }

    /// Power that expanders in place of metering devices recover, W; it is credited to the compression power.
    pub fn expander_power(&self) -> f64 {
        self.mass_flow * self.recovered
    }

    /// Power at the compressor shaft: compression power and the losses of bearings and gears, W.
    pub fn shaft_power(&self) -> f64 {
        self.power() / self.circuit.drive().mechanical_efficiency()
    }

    /// Power that goes into the motor, W.
    pub fn motor_input_power(&self) -> f64 {
        self.shaft_power() / self.circuit.drive().motor_efficiency()
    }

    /// Power that goes into the drive, W: what the machine draws.
    pub fn drive_input_power(&self) -> f64 {
        self.motor_input_power() / self.circuit.drive().drive_efficiency()
    }

    /// Heat of the motor that the refrigerant takes up, W; 0 with an open drive.
    pub fn motor_heat(&self) -> f64 {
        let flow = |location| self.point(location).map_or(0.0, |at| at.mass_flow * at.state.enthalpy());
        flow(Location::MotorVapor) - flow(Location::MotorLiquid)
    }

    /// Whether the compression is wet somewhere in each stage: with refrigerants whose dew line leans over, or with liquid in the
    /// suction. The equilibrium path is computed; a real stage may be far from it.
    pub fn stage_wet(&self) -> &[bool] {
        &self.stage_wet
    }

    /// Share of each stage in the sum of the heads, isentropic or polytropic as each efficiency is defined.
    pub fn head_split(&self) -> Vec<f64> {
        let sum: f64 = self.stage_head.iter().sum();
        self.stage_head.iter().map(|head| head / sum).collect()
    }

    /// Energy efficiency ratio: cooling in Btu/h per watt of compression power.
    pub fn eer(&self) -> f64 {
        units::eer_from_cop(self.cop())
    }

    /// Heat given up in the condenser, W.
    pub fn heat_rejected(&self) -> f64 {
        self.mass_flow * self.heat_per_evaporator_flow
    }

    /// Cooling per kilogram of liquid sent to the evaporator, J/kg.
    pub fn refrigerating_effect(&self) -> f64 {
        self.refrigerating_effect
    }

    /// What joins the gas in each economizer per flow of liquid that reaches it (in a flash tank: the flash gas), from the lowest pressure
    /// up. Negative where an intercooled tank takes more liquid out of a wet gas than it evaporates.
    pub fn flash_fractions(&self) -> &[f64] {
        &self.flash_fractions
    }

    /// Mass fraction of vapor after the last expansion; 0 if the liquid arrives colder than saturation.
    pub fn evaporator_inlet_quality(&self) -> f64 {
        self.point(Location::EvaporatorInlet).and_then(|point| point.state.quality()).unwrap_or(0.0)
    }

    /// Work of each stage per kilogram through it, J/kg.
    pub fn stage_work(&self) -> &[f64] {
        &self.stage_work
    }

    /// Isentropic or polytropic head of each stage, as its efficiency is defined, J/kg.
    pub fn stage_head(&self) -> &[f64] {
        &self.stage_head
    }

    /// Mass flow through each stage, kg/s.
    pub fn stage_mass_flow(&self) -> Vec<f64> {
        self.stage_flow.iter().map(|flow| flow * self.mass_flow).collect()
    }

    /// Power of each stage, W.
    pub fn stage_power(&self) -> Vec<f64> {
        self.stage_work.iter().zip(self.stage_mass_flow()).map(|(work, flow)| work * flow).collect()
    }

    /// Volume flow into each stage, m3/s.
    pub fn stage_inlet_volume_flow(&self) -> Vec<f64> {
        self.points
            .iter()
            .filter(|point| matches!(point.location, Location::StageInlet(_)))
            .map(|point| point.mass_flow * point.state.specific_volume())
            .collect()
    }

    /// Temperature at the discharge of the last stage, K.
    pub fn discharge_temperature(&self) -> f64 {
        let last = Location::StageOutlet(self.stage_work.len());
        self.point(last).map_or(f64::NAN, |point| point.state.temperature())
    }

    /// Evaporating pressure, Pa.
    pub fn evaporating_pressure(&self) -> f64 {
        self.evaporating_pressure
    }

    /// Condensing pressure, Pa.
    pub fn condensing_pressure(&self) -> f64 {
        self.condensing_pressure
    }

    /// Inlet pressures of the second to the last stage, Pa.
    pub fn interstage_pressures(&self) -> &[f64] {
        &self.interstage_pressures
    }

    /// Mass flow of liquid sent to the evaporator, kg/s.
    pub fn evaporator_mass_flow(&self) -> f64 {
        self.mass_flow
    }

    /// Mass flow through the condenser, kg/s.
    pub fn condenser_mass_flow(&self) -> f64 {
        self.stage_flow.last().map_or(f64::NAN, |flow| (flow - self.bypass) * self.mass_flow)
    }

    /// Power saved by the economizers: 1 - P / P_none at the same capacity, temperatures, stages, efficiencies and
    /// interstage pressures. 0 without an economizer; NaN where nothing would be cooled without one, or the discharge would
    /// be hotter than the equation of state knows.
    pub fn economizer_benefit(&self) -> f64 {
        1.0 - 1.0 / self.power_ratio_without_economizers
    }

    /// Condenser flow less where its liquid goes in the end, per condenser flow. Zero but for rounding.
    pub fn mass_closure(&self) -> f64 {
        let flow = |location| self.point(location).map_or(0.0, Point::mass_flow);
        let gone: f64 = self.leaving_liquid().into_iter().map(|(location, sign)| sign * flow(location)).sum();
        (self.condenser_mass_flow() - gone) / self.condenser_mass_flow()
    }

    /// Capacity plus power plus motor heat less heat rejected, per heat rejected. Zero but for rounding.
    pub fn energy_closure(&self) -> f64 {
        (self.capacity() + self.power() + self.motor_heat() - self.heat_rejected()) / self.heat_rejected()
    }
}

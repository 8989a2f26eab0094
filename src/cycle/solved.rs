//! The solved cycle.

use super::circuit::Circuit;
use super::conditions::{Conditions, Size};
use super::location::Location;
use super::pressures::InterstagePressures;
use super::separation::TankSeparation;
use super::solve::{Inputs, Solution, without_economizers};
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

/// A circuit solved at its conditions: every state, flow and figure. SI units.
///
/// Power is compression power: what the stages put into the refrigerant, before bearing, gear, motor and drive losses.
#[derive(Debug, Clone, PartialEq)]
pub struct Cycle {
    conditions: Conditions,
    points: Vec<Point>,
    mass_flow: f64,
    refrigerating_effect: f64,
    work: f64,
    power_ratio_without_economizers: f64,
    condensing_pressure: f64,
    evaporating_pressure: f64,
    interstage_pressures: Vec<f64>,
    flash_fractions: Vec<f64>,
    stage_work: Vec<f64>,
    stage_head: Vec<f64>,
    stage_flow: Vec<f64>,
    heat_per_evaporator_flow: f64,
    /// Mass fractions at each point; none for a pure fluid.
    compositions: Vec<Vec<f64>>,
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
        if self.tank_separation() == TankSeparation::Equilibrium && self.tanks() > 0 {
            return self.solve_parting(conditions);
        }
        let inputs = Inputs::new(self, conditions);
        let solution = self.solve_over(&inputs)?;
        let ratio = if self.tanks() > 0 { without_economizers(self, &inputs, &solution)? } else { 1.0 };
        let own: Option<Vec<f64>> =
            self.refrigerant().composition().map(|of| of.iter().map(|(_, fraction)| *fraction).collect());
        Ok(Cycle::new(conditions, &solution, ratio, |_| own.clone()))
    }

    /// The same where the tanks part the components.
    fn solve_parting(&self, conditions: &Conditions) -> Result<Cycle> {
        let (solution, compositions) = self.solve_separated(conditions)?;
        let given = InterstagePressures::Given(solution.interstage_pressures.clone());
        let none = self.clone().without_economizers().with_interstage_pressures(given)?.solve(conditions);
        // As without separation: missing where nothing can be told.
        let ratio = match none {
            Ok(none) => solution.cop() / none.cop(),
            Err(Error::OutOfRange { .. } | Error::Inconsistent { .. }) => f64::NAN,
            Err(error) => return Err(error),
        };
        let of = |location| compositions.iter().find(|(at, _)| *at == location).map(|(_, of)| of.clone());
        Ok(Cycle::new(conditions, &solution, ratio, of))
    }
}

impl Cycle {
    fn new(
        conditions: &Conditions,
        solution: &Solution<f64>,
        power_ratio_without_economizers: f64,
        composition: impl Fn(Location) -> Option<Vec<f64>>,
    ) -> Self {
        let mass_flow = solution.mass_flow(conditions.size);
        let mut points = Vec::with_capacity(3 + 5 * solution.stages.len());
        let mut add = |location, state: State, flow: f64| {
            points.push(Point { location, state, mass_flow: flow * mass_flow });
        };
        add(Location::EvaporatorOutlet, solution.evaporator_outlet.state, 1.0);
        for (k, stage) in solution.stages.iter().enumerate() {
            add(Location::StageInlet(k + 1), stage.inlet.state, stage.flow);
            add(Location::StageOutlet(k + 1), stage.compressed.outlet.state, stage.flow);
        }
        add(Location::CondenserOutlet, solution.condenser_outlet.state, solution.condenser_flow());
        for (k, tank) in solution.tanks.iter().enumerate().rev() {
            let above = solution.stages.get(k + 1).map_or(1.0, |stage| stage.flow);
            if let Some(tank) = tank {
                add(Location::TankInlet(k + 2), tank.inlet.state, above);
                add(Location::TankVapor(k + 2), tank.vapor.state, above * tank.fraction);
                add(Location::TankLiquid(k + 2), tank.liquid.state, above * (1.0 - tank.fraction));
            }
        }
        add(Location::EvaporatorInlet, solution.evaporator_inlet.state, 1.0);
        let heat =
            solution.condenser_flow() * (solution.discharge().enthalpy - solution.condenser_outlet.enthalpy);
        let compositions = points.iter().filter_map(|point| composition(point.location)).collect();
        Self {
            conditions: *conditions,
            compositions,
            points,
            mass_flow,
            refrigerating_effect: solution.refrigerating_effect(),
            work: solution.work(),
            power_ratio_without_economizers,
            condensing_pressure: solution.condensing_pressure,
            evaporating_pressure: solution.evaporating_pressure,
            interstage_pressures: solution.interstage_pressures.clone(),
            flash_fractions: solution.tanks.iter().flatten().map(|tank| tank.fraction).collect(),
            stage_work: solution.stages.iter().map(super::solve::StageSolution::work).collect(),
            stage_head: solution.stages.iter().map(|stage| stage.compressed.head).collect(),
            stage_flow: solution.stages.iter().map(|stage| stage.flow).collect(),
            heat_per_evaporator_flow: heat,
        }
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
        let tanks = self.points.iter().map(|point| point.location);
        let away = tanks.filter(|at| matches!(at, Location::TankVapor(_))).chain([Location::EvaporatorInlet]);
        for location in away {
            left.iter_mut().zip(of(location)).for_each(|(left, gone)| *left -= gone);
        }
        left.into_iter().map(|left| left / self.condenser_mass_flow()).collect()
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

    /// Compression power: the sum over the stages, W; as given where it fixes the size.
    pub fn power(&self) -> f64 {
        match self.conditions.size {
            Size::Power(given) => given,
            _ => self.mass_flow * self.work,
        }
    }

    /// Heat given up in the condenser, W.
    pub fn heat_rejected(&self) -> f64 {
        self.mass_flow * self.heat_per_evaporator_flow
    }

    /// Cooling per kilogram through the evaporator, J/kg.
    pub fn refrigerating_effect(&self) -> f64 {
        self.refrigerating_effect
    }

    /// Vapor taken off in each tank per flow into it, from the lowest pressure up.
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

    /// Mass flow through the evaporator, kg/s.
    pub fn evaporator_mass_flow(&self) -> f64 {
        self.mass_flow
    }

    /// Mass flow through the condenser, kg/s.
    pub fn condenser_mass_flow(&self) -> f64 {
        self.stage_flow.last().map_or(f64::NAN, |flow| flow * self.mass_flow)
    }

    /// Power saved by the economizers: 1 - P / P_none at the same capacity, temperatures, stages, efficiencies and
    /// interstage pressures. 0 without an economizer; NaN where nothing would be cooled without one, or the discharge would
    /// be hotter than the equation of state knows.
    pub fn economizer_benefit(&self) -> f64 {
        1.0 - 1.0 / self.power_ratio_without_economizers
    }

    /// Condenser flow less evaporator flow less what the tanks send to the stages, per condenser flow. Zero but for rounding.
    pub fn mass_closure(&self) -> f64 {
        let vapor: f64 = self
            .points
            .iter()
            .filter(|point| matches!(point.location, Location::TankVapor(_)))
            .map(|point| point.mass_flow)
            .sum();
        (self.condenser_mass_flow() - self.mass_flow - vapor) / self.condenser_mass_flow()
    }

    /// Capacity plus power less heat rejected, per heat rejected. Zero but for rounding.
    pub fn energy_closure(&self) -> f64 {
        (self.capacity() + self.power() - self.heat_rejected()) / self.heat_rejected()
    }
}

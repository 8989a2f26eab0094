//! The balances of a solved cycle: what enters and leaves each component.

use std::fmt;
use std::str::FromStr;

use super::circuit::Interstage;
use super::drive::MotorCooling;
use super::location::{Location, stage_number};
use super::solved::{Cycle, Point};
use crate::economizer::InjectionTakenFrom;
use crate::error::{Error, Result};
use crate::state::State;

/// A component of a circuit. What feeds the inlet of a stage has the number of that stage.
///
/// ```
/// use interstage::Component;
///
/// assert_eq!(Component::Tank(2).to_string(), "stage_2_tank");
/// assert_eq!("stage_2_tank".parse(), Ok(Component::Tank(2)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Component {
    /// Evaporator.
    Evaporator,
    /// Line between evaporator (or liquid-suction exchanger) and first stage, with its pressure loss.
    SuctionLine,
    /// Liquid-suction exchanger.
    SuctionExchanger,
    /// A stage.
    Stage(usize),
    /// Where what leaves a stage meets what an economizer sends, with the pressure losses of both ways.
    Mixing(usize),
    /// Condenser, with the line from the last stage and its pressure loss.
    Condenser,
    /// Metering device of an economizer.
    Metering(usize),
    /// Metering device of the evaporator.
    EvaporatorMetering,
    /// Flash tank or intercooled tank.
    Tank(usize),
    /// Exchanger of a closed economizer.
    Exchanger(usize),
    /// Motor, where refrigerant cools it.
    Motor,
}

impl fmt::Display for Component {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Evaporator => f.write_str("evaporator"),
            Self::SuctionLine => f.write_str("suction_line"),
            Self::SuctionExchanger => f.write_str("suction_exchanger"),
            Self::Stage(k) => write!(f, "stage_{k}"),
            Self::Mixing(k) => write!(f, "stage_{k}_mixing"),
            Self::Condenser => f.write_str("condenser"),
            Self::Metering(k) => write!(f, "stage_{k}_metering"),
            Self::EvaporatorMetering => f.write_str("evaporator_metering"),
            Self::Tank(k) => write!(f, "stage_{k}_tank"),
            Self::Exchanger(k) => write!(f, "stage_{k}_exchanger"),
            Self::Motor => f.write_str("motor"),
        }
    }
}

/// Components that are there once.
const ONCE: [Component; 6] = [
    Component::Evaporator,
    Component::SuctionLine,
    Component::SuctionExchanger,
    Component::Condenser,
    Component::EvaporatorMetering,
    Component::Motor,
];

/// Components of a stage.
const OF_STAGE: [fn(usize) -> Component; 5] =
    [Component::Stage, Component::Mixing, Component::Metering, Component::Tank, Component::Exchanger];

impl FromStr for Component {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self> {
        let number = |text: &str| text.strip_prefix("stage_")?.split('_').next().and_then(stage_number);
        let of_stage = |k: usize| OF_STAGE.into_iter().map(move |of| of(k));
        let mut all = ONCE.into_iter().chain(number(text).into_iter().flat_map(of_stage));
        all.find(|component| component.to_string() == text).ok_or_else(|| Error::UnknownOption {
            argument: "component",
            value: text.to_owned(),
            options: ONCE
                .into_iter()
                .map(|component| component.to_string())
                .chain(of_stage(2).map(|component| component.to_string().replacen("stage_2", "stage_k", 1)))
                .collect(),
        })
    }
}

/// A stream into or out of a component: the point of its state, and its own mass flow (kg/s), which is a part of the flow there where
/// a stream divides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StreamFlow {
    /// Point of the circuit.
    pub location: Location,
    /// Mass flow, kg/s.
    pub mass_flow: f64,
}

/// What enters and leaves a component.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    pub(crate) component: Component,
    pub(crate) inlets: Vec<StreamFlow>,
    pub(crate) outlets: Vec<StreamFlow>,
    pub(crate) heat: f64,
    pub(crate) work: f64,
}

impl Balance {
    /// The component.
    pub fn component(&self) -> Component {
        self.component
    }

    /// Streams that enter.
    pub fn inlets(&self) -> &[StreamFlow] {
        &self.inlets
    }

    /// Streams that leave.
    pub fn outlets(&self) -> &[StreamFlow] {
        &self.outlets
    }

    /// Heat from water or motor into the refrigerant, W; negative for the condenser.
    pub fn heat(&self) -> f64 {
        self.heat
    }

    /// Work into the refrigerant, W; negative for an expander.
    pub fn work(&self) -> f64 {
        self.work
    }

    fn net(&self, cycle: &Cycle, property: impl Fn(&State) -> f64) -> f64 {
        let sum = |streams: &[StreamFlow]| -> f64 {
            streams
                .iter()
                .filter_map(|stream| Some(stream.mass_flow * property(cycle.point(stream.location)?.state())))
                .sum()
        };
        sum(&self.outlets) - sum(&self.inlets)
    }

    /// Mass flow out less mass flow in, kg/s. Zero but for rounding.
    pub fn mass_residual(&self, cycle: &Cycle) -> f64 {
        self.net(cycle, |_| 1.0)
    }

    /// Enthalpy out less enthalpy in less heat and work, W. Zero but for rounding.
    pub fn energy_residual(&self, cycle: &Cycle) -> f64 {
        self.net(cycle, State::enthalpy) - self.heat - self.work
    }

    /// Entropy out less entropy in, W/K: with the entropy that heat brings, what is generated.
    pub fn entropy_rise(&self, cycle: &Cycle) -> f64 {
        self.net(cycle, State::entropy)
    }
}

impl Cycle {
    /// The balance of every component, in the order of the flow from the evaporator on, then down from the condenser.
    pub fn balances(&self) -> Vec<Balance> {
        let flow_at = |location| self.point(location).map_or(0.0, Point::mass_flow);
        let stream = |location| StreamFlow { location, mass_flow: flow_at(location) };
        let there = |location| self.point(location).map(|_| stream(location));
        let stages = self.stage_work().len();
        let to_stage = match self.circuit().drive().motor_cooling() {
            MotorCooling::RefrigerantToStage(stage) => Some(stage),
            _ => None,
        };
        let motor_at = |k| (to_stage == Some(k)).then(|| there(Location::MotorVapor)).flatten();
        let mut balances = Vec::with_capacity(8 + 4 * stages);
        let mut add = |component, inlets: Vec<StreamFlow>, outlets: Vec<StreamFlow>, heat, work| {
            balances.push(Balance { component, inlets, outlets, heat, work });
        };

        let mut into_evaporator = vec![stream(Location::EvaporatorInlet)];
        into_evaporator.extend(there(Location::HotGasBypass));
        if to_stage.is_none() {
            into_evaporator.extend(there(Location::MotorVapor));
        }
        let out = vec![stream(Location::EvaporatorOutlet)];
        add(
            Component::Evaporator,
            into_evaporator,
            out,
            self.evaporator_mass_flow() * self.refrigerating_effect(),
            0.0,
        );

        // Liquid from the condenser down: where each metering device draws.
        let mut liquid = Location::CondenserOutlet;
        let mut down = Vec::new();
        for (place, interstage) in self.circuit().interstages().iter().enumerate().rev() {
            let k = place + 2;
            down.push((k, interstage, liquid));
            liquid = match interstage {
                Interstage::FlashTank(_) => Location::TankLiquid(k),
                Interstage::IntercooledTank(tank) if tank.coil_approach().is_none() => {
                    Location::TankLiquid(k)
                }
                Interstage::IntercooledTank(_) | Interstage::ClosedEconomizer(_) => Location::CooledLiquid(k),
                Interstage::LiquidInjection(_) | Interstage::Direct => liquid,
            };
        }
        let evaporator_flow = flow_at(Location::EvaporatorInlet);
        let part = |location, mass_flow| StreamFlow { location, mass_flow };

        let mut suction = Location::EvaporatorOutlet;
        let mut to_metering = part(liquid, evaporator_flow);
        if let (Some(vapor), Some(cooled)) =
            (there(Location::SuctionExchangerVapor), there(Location::SuctionExchangerLiquid))
        {
            suction = Location::SuctionExchangerVapor;
            let inlets = vec![stream(Location::EvaporatorOutlet), to_metering];
            add(Component::SuctionExchanger, inlets, vec![vapor, cooled], 0.0, 0.0);
            to_metering = cooled;
        }
        add(Component::SuctionLine, vec![stream(suction)], vec![stream(Location::StageInlet(1))], 0.0, 0.0);
        for (power, k) in self.stage_power().into_iter().zip(1..) {
            let (inlet, outlet) = (stream(Location::StageInlet(k)), stream(Location::StageOutlet(k)));
            add(Component::Stage(k), vec![inlet], vec![outlet], 0.0, power);
            let Some(interstage) = self.circuit().interstages().get(k - 1) else { continue };
            let next = k + 1;
            let mut inlets = vec![outlet];
            inlets.extend(motor_at(next));
            match interstage {
                Interstage::Direct => {}
                Interstage::FlashTank(_) => inlets.extend(there(Location::TankVapor(next))),
                Interstage::ClosedEconomizer(_) => inlets.extend(there(Location::InjectionOutlet(next))),
                Interstage::LiquidInjection(_) => inlets.extend(there(Location::InjectionInlet(next))),
                // The gas passes the tank: what is left to the mixing is the way from it.
                Interstage::IntercooledTank(_) => inlets = vec![stream(Location::TankVapor(next))],
            }
            add(Component::Mixing(next), inlets, vec![stream(Location::StageInlet(next))], 0.0, 0.0);
        }
        let condensed = flow_at(Location::CondenserOutlet);
        add(
            Component::Condenser,
            vec![part(Location::StageOutlet(stages), condensed)],
            vec![stream(Location::CondenserOutlet)],
            -self.heat_rejected(),
            0.0,
        );
        if let (Some(supplied), Some(returned)) = (there(Location::MotorLiquid), there(Location::MotorVapor))
        {
            add(Component::Motor, vec![supplied], vec![returned], self.motor_heat(), 0.0);
        }
        let enthalpy = |location| self.point(location).map_or(0.0, |at| at.state().enthalpy());
        let expansion = |from: StreamFlow, to: StreamFlow| {
            to.mass_flow * (enthalpy(to.location) - enthalpy(from.location))
        };
        for (k, interstage, incoming) in down {
            let (entry, draws) = match interstage {
                Interstage::Direct => continue,
                Interstage::FlashTank(_) | Interstage::IntercooledTank(_) => {
                    (Location::TankInlet(k), incoming)
                }
                Interstage::LiquidInjection(_) => (Location::InjectionInlet(k), incoming),
                Interstage::ClosedEconomizer(exchanger) => match exchanger.taken_from() {
                    InjectionTakenFrom::BeforeExchanger => (Location::InjectionInlet(k), incoming),
                    InjectionTakenFrom::AfterExchanger => {
                        (Location::InjectionInlet(k), Location::CooledLiquid(k))
                    }
                },
            };
            let entry = stream(entry);
            let drawn = part(draws, entry.mass_flow);
            add(Component::Metering(k), vec![drawn], vec![entry], 0.0, expansion(drawn, entry));
            match interstage {
                Interstage::FlashTank(_) => {
                    let outlets = vec![stream(Location::TankVapor(k)), stream(Location::TankLiquid(k))];
                    add(Component::Tank(k), vec![entry], outlets, 0.0, 0.0);
                }
                Interstage::IntercooledTank(tank) => {
                    let mut inlets = vec![entry, stream(Location::StageOutlet(k - 1))];
                    inlets.extend(motor_at(k));
                    let mut outlets = vec![stream(Location::TankVapor(k))];
                    if tank.coil_approach().is_some() {
                        let cooled = stream(Location::CooledLiquid(k));
                        inlets.push(part(incoming, cooled.mass_flow));
                        outlets.push(cooled);
                    } else {
                        outlets.push(stream(Location::TankLiquid(k)));
                    }
                    add(Component::Tank(k), inlets, outlets, 0.0, 0.0);
                }
                Interstage::ClosedEconomizer(_) => {
                    let cooled = stream(Location::CooledLiquid(k));
                    let inlets = vec![part(incoming, cooled.mass_flow), entry];
                    add(
                        Component::Exchanger(k),
                        inlets,
                        vec![cooled, stream(Location::InjectionOutlet(k))],
                        0.0,
                        0.0,
                    );
                }
                Interstage::LiquidInjection(_) | Interstage::Direct => {}
            }
        }
        let inlet = stream(Location::EvaporatorInlet);
        let work = expansion(to_metering, inlet);
        add(Component::EvaporatorMetering, vec![to_metering], vec![inlet], 0.0, work);
        balances
    }
}

//! Every number of a circuit and its conditions, over any [`Real`], with its name.

use std::fmt;
use std::str::FromStr;

use super::PerStage;
use super::circuit::{Circuit, Interstage};
use super::conditions::Conditions;
use super::location::stage_number;
use super::pressures::InterstagePressures;
use crate::economizer::{Exchange, Metering, Separation};
use crate::error::Error;
use crate::numeric::Real;

/// A number that a circuit or its conditions hold. Stages are counted from suction, starting at 1; what stands between two stages
/// has the number of the stage it feeds.
///
/// ```
/// use interstage::Input;
///
/// assert_eq!(Input::StageEfficiency(2).to_string(), "stage_2_efficiency");
/// assert_eq!("stage_2_tank_liquid_carryover".parse(), Ok(Input::TankLiquidCarryover(2)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Input {
    /// Evaporating temperature, K.
    EvaporatingTemperature,
    /// Condensing temperature, K.
    CondensingTemperature,
    /// Superheat at the evaporator outlet, K.
    SuctionSuperheat,
    /// Subcooling at the condenser outlet, K.
    Subcooling,
    /// Mass fraction of liquid in what leaves the evaporator.
    EvaporatorLiquidCarryover,
    /// Hot-gas bypass per flow through the first stage.
    HotGasBypass,
    /// Efficiency of all stages together.
    CommonStageEfficiency,
    /// Efficiency of one stage.
    StageEfficiency(usize),
    /// A given pressure at the inlet of a stage, Pa.
    StageInletPressure(usize),
    /// Pressure loss in the suction line, per evaporating pressure.
    SuctionLoss,
    /// Pressure loss between stages, per inlet pressure of the next.
    InterstageLoss,
    /// Pressure loss between economizer and stage inlet, per inlet pressure of the stage.
    PortLoss,
    /// Pressure loss between last stage and condenser, per condensing pressure.
    DischargeLoss,
    /// Effectiveness of the liquid-suction exchanger.
    SuctionExchangerEffectiveness,
    /// Efficiency of the expander in place of the evaporator's metering device.
    EvaporatorExpanderEfficiency,
    /// Efficiency of the expander that feeds the economizer of a stage.
    ExpanderEfficiency(usize),
    /// Mass fraction of liquid in the vapor of a tank.
    TankLiquidCarryover(usize),
    /// Mass fraction of vapor in the liquid of a tank.
    TankVaporBlowthrough(usize),
    /// Approach of a closed economizer or of the coil of a tank, K.
    EconomizerApproach(usize),
    /// Superheat of the injection of a closed economizer, or after injection of liquid, K.
    InjectionSuperheat(usize),
    /// Efficiency of bearings and gears.
    MechanicalEfficiency,
    /// Efficiency of the motor.
    MotorEfficiency,
    /// Efficiency of the drive.
    DriveEfficiency,
}

impl Input {
    /// Name without stage, the prefix of the stage's number taken off, and the stage.
    fn parts(self) -> (&'static str, Option<usize>) {
        match self {
            Self::EvaporatingTemperature => ("evaporating_temperature", None),
            Self::CondensingTemperature => ("condensing_temperature", None),
            Self::SuctionSuperheat => ("suction_superheat", None),
            Self::Subcooling => ("subcooling", None),
            Self::EvaporatorLiquidCarryover => ("evaporator_liquid_carryover", None),
            Self::HotGasBypass => ("hot_gas_bypass", None),
            Self::CommonStageEfficiency => ("stage_efficiency", None),
            Self::StageEfficiency(k) => ("efficiency", Some(k)),
            Self::StageInletPressure(k) => ("inlet_pressure", Some(k)),
            Self::SuctionLoss => ("suction_loss", None),
            Self::InterstageLoss => ("interstage_loss", None),
            Self::PortLoss => ("port_loss", None),
            Self::DischargeLoss => ("discharge_loss", None),
            Self::SuctionExchangerEffectiveness => ("suction_exchanger_effectiveness", None),
            Self::EvaporatorExpanderEfficiency => ("evaporator_expander_efficiency", None),
            Self::ExpanderEfficiency(k) => ("expander_efficiency", Some(k)),
            Self::TankLiquidCarryover(k) => ("tank_liquid_carryover", Some(k)),
            Self::TankVaporBlowthrough(k) => ("tank_vapor_blowthrough", Some(k)),
            Self::EconomizerApproach(k) => ("economizer_approach", Some(k)),
            Self::InjectionSuperheat(k) => ("injection_superheat", Some(k)),
            Self::MechanicalEfficiency => ("mechanical_efficiency", None),
            Self::MotorEfficiency => ("motor_efficiency", None),
            Self::DriveEfficiency => ("drive_efficiency", None),
        }
    }

    /// All of them, those of a stage for this one.
    fn all(k: usize) -> [Self; 23] {
        [
            Self::EvaporatingTemperature,
            Self::CondensingTemperature,
            Self::SuctionSuperheat,
            Self::Subcooling,
            Self::EvaporatorLiquidCarryover,
            Self::HotGasBypass,
            Self::CommonStageEfficiency,
            Self::StageEfficiency(k),
            Self::StageInletPressure(k),
            Self::SuctionLoss,
            Self::InterstageLoss,
            Self::PortLoss,
            Self::DischargeLoss,
            Self::SuctionExchangerEffectiveness,
            Self::EvaporatorExpanderEfficiency,
            Self::ExpanderEfficiency(k),
            Self::TankLiquidCarryover(k),
            Self::TankVaporBlowthrough(k),
            Self::EconomizerApproach(k),
            Self::InjectionSuperheat(k),
            Self::MechanicalEfficiency,
            Self::MotorEfficiency,
            Self::DriveEfficiency,
        ]
    }
}

impl fmt::Display for Input {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.parts() {
            (name, None) => f.write_str(name),
            (name, Some(k)) => write!(f, "stage_{k}_{name}"),
        }
    }
}

impl FromStr for Input {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let stage = text
            .strip_prefix("stage_")
            .and_then(|rest| rest.split_once('_'))
            .and_then(|(number, _)| stage_number(number));
        Self::all(stage.unwrap_or(1)).into_iter().find(|input| input.to_string() == text).ok_or_else(|| {
            Error::UnknownOption {
                argument: "input",
                value: text.to_owned(),
                options: Self::all(2).iter().map(|input| input.to_string().replace('2', "k")).collect(),
            }
        })
    }
}

/// The numbers of a circuit and its conditions.
#[derive(Debug, Clone)]
pub(crate) struct Inputs<R> {
    pub(crate) evaporating_temperature: R,
    pub(crate) condensing_temperature: R,
    pub(crate) suction_superheat: R,
    pub(crate) subcooling: R,
    /// Mass fraction of liquid in what leaves the evaporator.
    pub(crate) carryover: R,
    /// Hot gas per flow through the first stage.
    pub(crate) bypass: R,
    pub(crate) efficiencies: PerStage<R>,
    pub(crate) interstages: Vec<Between<R>>,
    /// Given interstage pressures, if these are the rule.
    pub(crate) given: PerStage<R>,
    pub(crate) losses: Losses<R>,
    /// Of the liquid-suction exchanger, if there is one.
    pub(crate) effectiveness: Option<R>,
    /// Of an expander in place of the evaporator's metering device.
    pub(crate) expander: Option<R>,
    pub(crate) mechanical: R,
    pub(crate) motor: R,
    pub(crate) drive: R,
}

/// Pressure losses as fractions of the pressure downstream (of the suction: upstream).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Losses<R> {
    pub(crate) suction: R,
    pub(crate) interstage: R,
    pub(crate) port: R,
    pub(crate) discharge: R,
}

/// The numbers of what stands between two stages.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Between<R> {
    Direct,
    FlashTank { separation: Separation<R>, expander: Option<R> },
    IntercooledTank { separation: Separation<R>, expander: Option<R>, coil: Option<R> },
    ClosedEconomizer(Exchange<R>),
    LiquidInjection { superheat: R },
}

impl<R: Real> Inputs<R> {
    /// All numbers, made by a function of their names and values.
    pub(crate) fn lifted(circuit: &Circuit, conditions: &Conditions, lift: impl Fn(Input, f64) -> R) -> Self {
        let losses = circuit.pressure_losses();
        let drive = circuit.drive();
        let expander =
            |metering: Metering, input| metering.efficiency().map(|efficiency| lift(input, efficiency));
        let separation = |k, of: Separation<f64>| Separation {
            carryover: lift(Input::TankLiquidCarryover(k), of.carryover),
            blowthrough: lift(Input::TankVaporBlowthrough(k), of.blowthrough),
        };
        let between = |(interstage, k): (&Interstage, usize)| match interstage {
            Interstage::Direct => Between::Direct,
            Interstage::FlashTank(tank) => Between::FlashTank {
                separation: separation(k, tank.separation()),
                expander: expander(tank.metering(), Input::ExpanderEfficiency(k)),
            },
            Interstage::IntercooledTank(tank) => Between::IntercooledTank {
                separation: separation(k, tank.separation()),
                expander: expander(tank.metering(), Input::ExpanderEfficiency(k)),
                coil: tank.coil_approach().map(|approach| lift(Input::EconomizerApproach(k), approach)),
            },
            Interstage::ClosedEconomizer(exchanger) => Between::ClosedEconomizer(Exchange {
                approach: lift(Input::EconomizerApproach(k), exchanger.approach()),
                superheat: lift(Input::InjectionSuperheat(k), exchanger.injection_superheat()),
                expander: expander(exchanger.metering(), Input::ExpanderEfficiency(k)),
                taken_from: exchanger.taken_from(),
            }),
            Interstage::LiquidInjection(injection) => Between::LiquidInjection {
                superheat: lift(Input::InjectionSuperheat(k), injection.superheat()),
            },
        };
        let given = match circuit.interstage_pressures() {
            InterstagePressures::Given(given) => {
                given.iter().zip(2..).map(|(p, k)| lift(Input::StageInletPressure(k), *p)).collect()
            }
            _ => PerStage::new(),
        };
        Self {
            evaporating_temperature: lift(
                Input::EvaporatingTemperature,
                conditions.evaporating_temperature(),
            ),
            condensing_temperature: lift(Input::CondensingTemperature, conditions.condensing_temperature()),
            suction_superheat: lift(Input::SuctionSuperheat, conditions.suction_superheat()),
            subcooling: lift(Input::Subcooling, conditions.subcooling()),
            carryover: lift(Input::EvaporatorLiquidCarryover, conditions.liquid_carryover()),
            bypass: lift(Input::HotGasBypass, conditions.hot_gas_bypass()),
            efficiencies: circuit
                .stages()
                .iter()
                .zip(1..)
                .map(|(stage, k)| lift(Input::StageEfficiency(k), stage.efficiency()))
                .collect(),
            interstages: circuit.interstages().iter().zip(2..).map(between).collect(),
            given,
            losses: Losses {
                suction: lift(Input::SuctionLoss, losses.suction()),
                interstage: lift(Input::InterstageLoss, losses.interstage()),
                port: lift(Input::PortLoss, losses.port()),
                discharge: lift(Input::DischargeLoss, losses.discharge()),
            },
            effectiveness: circuit
                .suction_exchanger()
                .map(|effectiveness| lift(Input::SuctionExchangerEffectiveness, effectiveness)),
            expander: expander(circuit.metering(), Input::EvaporatorExpanderEfficiency),
            mechanical: lift(Input::MechanicalEfficiency, drive.mechanical_efficiency()),
            motor: lift(Input::MotorEfficiency, drive.motor_efficiency()),
            drive: lift(Input::DriveEfficiency, drive.drive_efficiency()),
        }
    }
}

impl<R: Real> Inputs<R> {
    /// The same numbers without their derivatives, as numbers of another kind.
    pub(crate) fn constants<T: Real>(&self) -> Inputs<T> {
        let c = |number: R| T::constant(number.value());
        let all = |numbers: &[R]| numbers.iter().map(|&number| c(number)).collect();
        let separation =
            |of: Separation<R>| Separation { carryover: c(of.carryover), blowthrough: c(of.blowthrough) };
        let between = |between: &Between<R>| match *between {
            Between::Direct => Between::Direct,
            Between::FlashTank { separation: of, expander } => {
                Between::FlashTank { separation: separation(of), expander: expander.map(c) }
            }
            Between::IntercooledTank { separation: of, expander, coil } => Between::IntercooledTank {
                separation: separation(of),
                expander: expander.map(c),
                coil: coil.map(c),
            },
            Between::ClosedEconomizer(of) => Between::ClosedEconomizer(Exchange {
                approach: c(of.approach),
                superheat: c(of.superheat),
                expander: of.expander.map(c),
                taken_from: of.taken_from,
            }),
            Between::LiquidInjection { superheat } => Between::LiquidInjection { superheat: c(superheat) },
        };
        Inputs {
            evaporating_temperature: c(self.evaporating_temperature),
            condensing_temperature: c(self.condensing_temperature),
            suction_superheat: c(self.suction_superheat),
            subcooling: c(self.subcooling),
            carryover: c(self.carryover),
            bypass: c(self.bypass),
            efficiencies: all(&self.efficiencies),
            interstages: self.interstages.iter().map(between).collect(),
            given: all(&self.given),
            losses: Losses {
                suction: c(self.losses.suction),
                interstage: c(self.losses.interstage),
                port: c(self.losses.port),
                discharge: c(self.losses.discharge),
            },
            effectiveness: self.effectiveness.map(c),
            expander: self.expander.map(c),
            mechanical: c(self.mechanical),
            motor: c(self.motor),
            drive: c(self.drive),
        }
    }
}

impl Inputs<f64> {
    pub(crate) fn new(circuit: &Circuit, conditions: &Conditions) -> Self {
        Self::lifted(circuit, conditions, |_, value| value)
    }
}

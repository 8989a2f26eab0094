//! Machines as plain numbers: drawn at random, built, and with one of their numbers changed.
#![allow(dead_code, reason = "each test file is a crate of its own and uses a part of this module")]

use std::collections::BTreeMap;
use std::sync::Mutex;

use interstage::{
    Circuit, ClosedEconomizer, Conditions, Cycle, Drive, Efficiency, FlashTank, InjectionTakenFrom, Input,
    IntercooledTank, Interstage, InterstagePressures, LiquidInjection, Metering, MotorCooling,
    PressureLosses, Reference, Refrigerant, Result, Size, Stage, Surroundings,
};
use proptest::prelude::*;

/// Refrigerants of low, medium and high pressure; the dew lines of half of them lean over, so that compression runs through wet vapor. One is a
/// blend.
pub(crate) const REFRIGERANTS: [&str; 11] = [
    "R-134a",
    "R-1233zd(E)",
    "R-123",
    "R-717",
    "R-1234yf",
    "R-1336mzz(Z)",
    "R-245fa",
    "R-1224yd(Z)",
    "R-600a",
    "R-22",
    "R-513A",
];

/// What stands between two stages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Between {
    Direct,
    Tank { carryover: f64, blowthrough: f64, expander: Option<f64> },
    Intercooled { carryover: f64, blowthrough: f64, coil: Option<f64>, expander: Option<f64> },
    Closed { approach: f64, superheat: f64, after: bool, expander: Option<f64> },
    Injection { superheat: f64 },
}

fn metering(expander: Option<f64>) -> Result<Metering> {
    expander.map_or(Ok(Metering::Valve), Metering::expander)
}

impl Between {
    pub(crate) fn build(self) -> Result<Interstage> {
        Ok(match self {
            Self::Direct => Interstage::Direct,
            Self::Tank { carryover, blowthrough, expander } => FlashTank::new()
                .with_liquid_carryover(carryover)?
                .with_vapor_blowthrough(blowthrough)?
                .with_metering(metering(expander)?)
                .into(),
            Self::Intercooled { carryover, blowthrough, coil, expander } => {
                let tank = IntercooledTank::new()
                    .with_liquid_carryover(carryover)?
                    .with_vapor_blowthrough(blowthrough)?
                    .with_metering(metering(expander)?);
                coil.map_or(Ok(tank), |approach| tank.with_coil(approach))?.into()
            }
            Self::Closed { approach, superheat, after, expander } => {
                let taken = if after {
                    InjectionTakenFrom::AfterExchanger
                } else {
                    InjectionTakenFrom::BeforeExchanger
                };
                ClosedEconomizer::new(approach)?
                    .with_injection_superheat(superheat)?
                    .with_injection_taken(taken)
                    .with_metering(metering(expander)?)
                    .into()
            }
            Self::Injection { superheat } => LiquidInjection::new().with_superheat(superheat)?.into(),
        })
    }
}

/// A circuit and the conditions it runs at.
#[derive(Debug, Clone)]
pub(crate) struct Machine {
    pub(crate) refrigerant: &'static str,
    pub(crate) stages: Vec<(Efficiency, f64)>,
    pub(crate) between: Vec<Between>,
    pub(crate) rule: InterstagePressures,
    /// Suction, interstage, port, discharge.
    pub(crate) losses: [f64; 4],
    pub(crate) exchanger: Option<f64>,
    pub(crate) expander: Option<f64>,
    /// Mechanical, motor, drive.
    pub(crate) drive: [f64; 3],
    pub(crate) cooling: MotorCooling,
    pub(crate) evaporating: f64,
    pub(crate) condensing: f64,
    pub(crate) superheat: f64,
    pub(crate) subcooling: f64,
    pub(crate) carryover: f64,
    pub(crate) bypass: f64,
    pub(crate) size: Size,
}

/// A handle of a refrigerant; tables of a blend are made once.
pub(crate) fn handle(name: &'static str) -> Result<Refrigerant> {
    static HANDLES: Mutex<BTreeMap<&str, Refrigerant>> = Mutex::new(BTreeMap::new());
    let mut handles = HANDLES.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    if let Some(known) = handles.get(name) {
        return Ok(known.clone());
    }
    let made = Refrigerant::named(name)?;
    handles.insert(name, made.clone());
    Ok(made)
}

impl Machine {
    /// Equal stages of polytropic efficiency 0.80 at 5/37 degC with these things between them.
    pub(crate) fn plain(refrigerant: &'static str, between: Vec<Between>) -> Self {
        Self {
            refrigerant,
            stages: vec![(Efficiency::Polytropic, 0.80); between.len() + 1],
            between,
            rule: InterstagePressures::EqualRatio,
            losses: [0.0; 4],
            exchanger: None,
            expander: None,
            drive: [1.0; 3],
            cooling: MotorCooling::Room,
            evaporating: 278.15,
            condensing: 310.15,
            superheat: 0.0,
            subcooling: 0.0,
            carryover: 0.0,
            bypass: 0.0,
            size: Size::Capacity(1e6),
        }
    }

    pub(crate) fn circuit_of(&self, refrigerant: Refrigerant) -> Result<Circuit> {
        let stages = self.stages.iter().map(|&(kind, efficiency)| match kind {
            Efficiency::Isentropic => Stage::isentropic(efficiency),
            Efficiency::PolytropicThreePoint => Stage::polytropic_three_point(efficiency),
            _ => Stage::polytropic(efficiency),
        });
        let between = self.between.iter().map(|between| between.build());
        let [suction, interstage, port, discharge] = self.losses;
        let losses = PressureLosses::new()
            .with_suction(suction)?
            .with_interstage(interstage)?
            .with_port(port)?
            .with_discharge(discharge)?;
        let [mechanical, motor, drive] = self.drive;
        let drive = Drive::new()
            .with_mechanical_efficiency(mechanical)?
            .with_motor(motor, self.cooling)?
            .with_drive_efficiency(drive)?;
        let circuit =
            Circuit::new(refrigerant, stages.collect::<Result<_>>()?, between.collect::<Result<_>>()?)?
                .with_interstage_pressures(self.rule.clone())?
                .with_pressure_losses(losses)
                .with_metering(metering(self.expander)?)
                .with_drive(drive)?;
        self.exchanger
            .map_or(Ok(circuit.clone()), |effectiveness| circuit.with_suction_exchanger(effectiveness))
    }

    pub(crate) fn circuit(&self) -> Result<Circuit> {
        self.circuit_of(handle(self.refrigerant)?)
    }

    pub(crate) fn conditions(&self) -> Conditions {
        Conditions::new(self.evaporating, self.condensing, self.size)
            .with_suction_superheat(self.superheat)
            .with_subcooling(self.subcooling)
            .with_liquid_carryover(self.carryover)
            .with_hot_gas_bypass(self.bypass)
    }

    pub(crate) fn solve(&self) -> Result<Cycle> {
        self.circuit()?.solve(&self.conditions())
    }

    /// The same with another reference for enthalpy and entropy.
    pub(crate) fn solve_in(&self, reference: Reference) -> Result<Cycle> {
        let refrigerant = handle(self.refrigerant)?.with_reference(reference)?;
        self.circuit_of(refrigerant)?.solve(&self.conditions())
    }

    /// Waters that give heat to the evaporator and take it from the condenser, whatever the superheat and subcooling.
    pub(crate) fn surroundings(&self) -> Result<Surroundings> {
        let (cold, hot) = (self.evaporating + self.superheat, self.condensing - self.subcooling);
        Surroundings::new((cold + 12.0, cold + 6.0), (hot - 12.0, hot - 6.0), hot - 12.0)
    }

    /// One of its numbers, if it has it.
    pub(crate) fn number(&mut self, input: Input) -> Option<&mut f64> {
        match input {
            Input::EvaporatingTemperature => Some(&mut self.evaporating),
            Input::CondensingTemperature => Some(&mut self.condensing),
            Input::SuctionSuperheat => Some(&mut self.superheat),
            Input::Subcooling => Some(&mut self.subcooling),
            Input::EvaporatorLiquidCarryover => Some(&mut self.carryover),
            Input::HotGasBypass => Some(&mut self.bypass),
            Input::StageEfficiency(k) => self.stages.get_mut(k - 1).map(|(_, efficiency)| efficiency),
            Input::StageInletPressure(k) => match &mut self.rule {
                InterstagePressures::Given(given) => given.get_mut(k - 2),
                _ => None,
            },
            Input::SuctionLoss => self.losses.get_mut(0),
            Input::InterstageLoss => self.losses.get_mut(1),
            Input::PortLoss => self.losses.get_mut(2),
            Input::DischargeLoss => self.losses.get_mut(3),
            Input::SuctionExchangerEffectiveness => self.exchanger.as_mut(),
            Input::EvaporatorExpanderEfficiency => self.expander.as_mut(),
            Input::MechanicalEfficiency => self.drive.get_mut(0),
            Input::MotorEfficiency => self.drive.get_mut(1),
            Input::DriveEfficiency => self.drive.get_mut(2),
            Input::ExpanderEfficiency(k)
            | Input::TankLiquidCarryover(k)
            | Input::TankVaporBlowthrough(k)
            | Input::EconomizerApproach(k)
            | Input::InjectionSuperheat(k) => self.between.get_mut(k - 2)?.number(input),
            _ => None,
        }
    }

    /// The same machine with one number changed; all stages at once for the efficiency they share.
    pub(crate) fn with(&self, input: Input, change: impl Fn(f64) -> f64) -> Option<Self> {
        let mut other = self.clone();
        if input == Input::CommonStageEfficiency {
            other.stages.iter_mut().for_each(|(_, efficiency)| *efficiency = change(*efficiency));
            return Some(other);
        }
        let number = other.number(input)?;
        *number = change(*number);
        Some(other)
    }
}

impl Between {
    fn number(&mut self, input: Input) -> Option<&mut f64> {
        match (input, self) {
            (
                Input::TankLiquidCarryover(_),
                Self::Tank { carryover, .. } | Self::Intercooled { carryover, .. },
            ) => Some(carryover),
            (
                Input::TankVaporBlowthrough(_),
                Self::Tank { blowthrough, .. } | Self::Intercooled { blowthrough, .. },
            ) => Some(blowthrough),
            (Input::EconomizerApproach(_), Self::Closed { approach, .. }) => Some(approach),
            (Input::EconomizerApproach(_), Self::Intercooled { coil, .. }) => coil.as_mut(),
            (
                Input::InjectionSuperheat(_),
                Self::Closed { superheat, .. } | Self::Injection { superheat },
            ) => Some(superheat),
            (
                Input::ExpanderEfficiency(_),
                Self::Tank { expander, .. }
                | Self::Intercooled { expander, .. }
                | Self::Closed { expander, .. },
            ) => expander.as_mut(),
            _ => None,
        }
    }
}

/// Nothing half of the time.
fn often_zero(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), 0.0..most]
}

fn sometimes(range: std::ops::Range<f64>) -> impl Strategy<Value = Option<f64>> {
    prop_oneof![3 => Just(None), 1 => range.prop_map(Some)]
}

pub(crate) fn betweens() -> impl Strategy<Value = Between> {
    let parting = || (often_zero(0.1), often_zero(0.05), sometimes(0.0..1.0));
    prop_oneof![
        2 => Just(Between::Direct),
        3 => parting().prop_map(|(carryover, blowthrough, expander)| {
            Between::Tank { carryover, blowthrough, expander }
        }),
        2 => (parting(), sometimes(0.5..5.0)).prop_map(|((carryover, blowthrough, expander), coil)| {
            // What a coil leaves does not part in the tank.
            let blowthrough = if coil.is_some() { 0.0 } else { blowthrough };
            Between::Intercooled { carryover, blowthrough, coil, expander }
        }),
        2 => (0.2..5.0_f64, often_zero(3.0), any::<bool>(), sometimes(0.0..1.0)).prop_map(
            |(approach, superheat, after, expander)| Between::Closed { approach, superheat, after, expander }
        ),
        1 => often_zero(3.0).prop_map(|superheat| Between::Injection { superheat }),
    ]
}

/// A machine of one to five stages with whatever a chiller may have, at conditions of chillers and heat pumps.
pub(crate) fn machines() -> impl Strategy<Value = Machine> {
    let kinds = prop::sample::select(vec![
        Efficiency::Isentropic,
        Efficiency::Polytropic,
        Efficiency::PolytropicThreePoint,
    ]);
    let stage = (kinds, prop_oneof![9 => 0.6..0.95_f64, 1 => Just(1.0)]);
    let sizes = prop_oneof![Just(Size::Capacity(1e6)), Just(Size::MassFlow(10.0)), Just(Size::Power(2e5)),];
    let circuit = (1..=5_usize).prop_flat_map(move |stages| {
        let cooling = prop_oneof![
            2 => Just(0_usize),
            1 => Just(1),
            1 => if stages > 1 { (2..=stages).boxed() } else { Just(1).boxed() },
        ];
        (prop::collection::vec(stage.clone(), stages), prop::collection::vec(betweens(), stages - 1), cooling)
    });
    let losses = [often_zero(0.03), often_zero(0.03), often_zero(0.03), often_zero(0.03)];
    let extras =
        (sometimes(0.0..0.6), sometimes(0.0..1.0), 0.9..1.0_f64, prop_oneof![Just(1.0), 0.85..1.0_f64]);
    let suction = prop_oneof![
        2 => Just((0.0, 0.0)),
        1 => (0.0..6.0_f64).prop_map(|superheat| (superheat, 0.0)),
        1 => (0.0..0.05_f64).prop_map(|carryover| (0.0, carryover)),
    ];
    let run = (263.15..285.15_f64, 12.0..50.0_f64, suction, often_zero(6.0), often_zero(0.3), sizes);
    let rule = any::<bool>();
    (prop::sample::select(REFRIGERANTS.to_vec()), circuit, losses, extras, run, rule).prop_map(
        |(refrigerant, (stages, between, cooling), losses, extras, run, ratio)| {
            let (exchanger, expander, mechanical, motor) = extras;
            let (evaporating, lift, (superheat, carryover), subcooling, bypass, size) = run;
            Machine {
                refrigerant,
                stages,
                between,
                rule: if ratio {
                    InterstagePressures::EqualRatio
                } else {
                    InterstagePressures::EqualTemperatureStep
                },
                losses,
                exchanger,
                expander,
                drive: [mechanical, motor, 0.97],
                cooling: match cooling {
                    0 => MotorCooling::Room,
                    1 => MotorCooling::RefrigerantToEvaporator,
                    stage => MotorCooling::RefrigerantToStage(stage),
                },
                evaporating,
                condensing: evaporating + lift,
                superheat,
                subcooling,
                carryover,
                bypass,
                size,
            }
        },
    )
}

//! Plain names for the points of a circuit.

use std::fmt;
use std::str::FromStr;

use crate::error::Error;

/// A point of the circuit. Stages are counted from suction, starting at 1.
///
/// ```
/// use interstage::Location;
///
/// assert_eq!(Location::StageInlet(2).to_string(), "stage_2_inlet");
/// assert_eq!("stage_2_tank_liquid".parse(), Ok(Location::TankLiquid(2)));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Location {
    /// Liquid or wet vapor after the last metering device.
    EvaporatorInlet,
    /// Vapor that leaves the evaporator.
    EvaporatorOutlet,
    /// Inlet of a stage, after mixing with what joins there.
    StageInlet(usize),
    /// Discharge of a stage.
    StageOutlet(usize),
    /// Liquid that leaves the condenser.
    CondenserOutlet,
    /// What is throttled into the tank that feeds the inlet of this stage.
    TankInlet(usize),
    /// Vapor from the tank to the inlet of this stage.
    TankVapor(usize),
    /// Liquid that leaves the tank of this stage.
    TankLiquid(usize),
    /// Liquid that leaves the closed economizer, or the coil of the tank, of this stage.
    CooledLiquid(usize),
    /// The injected part behind its metering device.
    InjectionInlet(usize),
    /// The injected part where it leaves the closed economizer as vapor.
    InjectionOutlet(usize),
    /// Vapor that leaves the liquid-suction exchanger.
    SuctionExchangerVapor,
    /// Liquid that leaves the liquid-suction exchanger.
    SuctionExchangerLiquid,
    /// Hot gas on its way from the discharge to the evaporator.
    HotGasBypass,
    /// Liquid sent to the motor.
    MotorLiquid,
    /// Vapor that returns from the motor.
    MotorVapor,
}

/// Names of points that are there once.
const ONCE: [(&str, Location); 8] = [
    ("evaporator_inlet", Location::EvaporatorInlet),
    ("evaporator_outlet", Location::EvaporatorOutlet),
    ("condenser_outlet", Location::CondenserOutlet),
    ("suction_exchanger_vapor", Location::SuctionExchangerVapor),
    ("suction_exchanger_liquid", Location::SuctionExchangerLiquid),
    ("hot_gas_bypass", Location::HotGasBypass),
    ("motor_liquid", Location::MotorLiquid),
    ("motor_vapor", Location::MotorVapor),
];

/// The point of a stage.
type OfStage = fn(usize) -> Location;

/// Names of points of a stage, after its number.
const OF_STAGE: [(&str, OfStage); 8] = [
    ("inlet", Location::StageInlet),
    ("outlet", Location::StageOutlet),
    ("tank_inlet", Location::TankInlet),
    ("tank_vapor", Location::TankVapor),
    ("tank_liquid", Location::TankLiquid),
    ("cooled_liquid", Location::CooledLiquid),
    ("injection_inlet", Location::InjectionInlet),
    ("injection_outlet", Location::InjectionOutlet),
];

impl Location {
    /// The stage whose point it is.
    fn stage(self) -> Option<usize> {
        match self {
            Self::StageInlet(k)
            | Self::StageOutlet(k)
            | Self::TankInlet(k)
            | Self::TankVapor(k)
            | Self::TankLiquid(k)
            | Self::CooledLiquid(k)
            | Self::InjectionInlet(k)
            | Self::InjectionOutlet(k) => Some(k),
            _ => None,
        }
    }
}

impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(stage) = self.stage() {
            let name = OF_STAGE.iter().find(|(_, of)| of(stage) == *self).map_or("", |(name, _)| name);
            return write!(f, "stage_{stage}_{name}");
        }
        f.write_str(ONCE.iter().find(|(_, location)| location == self).map_or("", |(name, _)| name))
    }
}

/// The number of a stage in a name: from 1, as [`Display`](fmt::Display) writes it.
pub(super) fn stage_number(text: &str) -> Option<usize> {
    text.parse().ok().filter(|number: &usize| *number > 0 && number.to_string() == text)
}

impl FromStr for Location {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        if let Some((_, location)) = ONCE.iter().find(|(name, _)| *name == text) {
            return Ok(*location);
        }
        let of_stage = || {
            let (number, rest) = text.strip_prefix("stage_")?.split_once('_')?;
            let (_, of) = OF_STAGE.iter().find(|(name, _)| *name == rest)?;
            stage_number(number).map(of)
        };
        of_stage().ok_or_else(|| Error::UnknownOption {
            argument: "location",
            value: text.to_owned(),
            options: ONCE
                .iter()
                .map(|(name, _)| (*name).to_owned())
                .chain(OF_STAGE.iter().map(|(name, _)| format!("stage_k_{name}")))
                .collect(),
        })
    }
}

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
}

impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::EvaporatorInlet => f.write_str("evaporator_inlet"),
            Self::EvaporatorOutlet => f.write_str("evaporator_outlet"),
            Self::StageInlet(k) => write!(f, "stage_{k}_inlet"),
            Self::StageOutlet(k) => write!(f, "stage_{k}_outlet"),
            Self::CondenserOutlet => f.write_str("condenser_outlet"),
            Self::TankInlet(k) => write!(f, "stage_{k}_tank_inlet"),
            Self::TankVapor(k) => write!(f, "stage_{k}_tank_vapor"),
            Self::TankLiquid(k) => write!(f, "stage_{k}_tank_liquid"),
        }
    }
}

impl FromStr for Location {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let unknown = || Error::UnknownOption {
            argument: "location",
            value: text.to_owned(),
            options: [
                "evaporator_inlet",
                "evaporator_outlet",
                "condenser_outlet",
                "stage_k_inlet",
                "stage_k_outlet",
                "stage_k_tank_inlet",
                "stage_k_tank_vapor",
                "stage_k_tank_liquid",
            ]
            .map(String::from)
            .to_vec(),
        };
        match text {
            "evaporator_inlet" => return Ok(Self::EvaporatorInlet),
            "evaporator_outlet" => return Ok(Self::EvaporatorOutlet),
            "condenser_outlet" => return Ok(Self::CondenserOutlet),
            _ => {}
        }
        let (number, rest) =
            text.strip_prefix("stage_").and_then(|rest| rest.split_once('_')).ok_or_else(unknown)?;
        let stage = number.parse().map_err(|_| unknown())?;
        match rest {
            "inlet" => Ok(Self::StageInlet(stage)),
            "outlet" => Ok(Self::StageOutlet(stage)),
            "tank_inlet" => Ok(Self::TankInlet(stage)),
            "tank_vapor" => Ok(Self::TankVapor(stage)),
            "tank_liquid" => Ok(Self::TankLiquid(stage)),
            _ => Err(unknown()),
        }
    }
}

//! What a circuit runs at.

use crate::error::{Error, Result, within};
use crate::refrigerant::Refrigerant;

/// What fixes the mass flow.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Size {
    /// Refrigerating capacity, W.
    Capacity(f64),
    /// Mass flow through the evaporator, kg/s.
    MassFlow(f64),
    /// Compression power (the sum over the stages, before motor and drive losses), W.
    Power(f64),
}

/// Evaporating and condensing temperature, superheat, subcooling and size. SI units.
///
/// ```
/// use interstage::{Conditions, Size};
///
/// let conditions = Conditions::new(278.15, 310.15, Size::Capacity(1.0e6)).with_subcooling(4.0);
/// assert_eq!(conditions.refrigerant_lift(), 32.0);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    pub(crate) evaporating_temperature: f64,
    pub(crate) condensing_temperature: f64,
    pub(crate) suction_superheat: f64,
    pub(crate) subcooling: f64,
    pub(crate) size: Size,
    liquid_carryover: f64,
    hot_gas_bypass: f64,
}

impl Conditions {
    /// Saturation temperatures (K) in evaporator and condenser, and the size.
    pub fn new(evaporating_temperature: f64, condensing_temperature: f64, size: Size) -> Self {
        Self {
            evaporating_temperature,
            condensing_temperature,
            suction_superheat: 0.0,
            subcooling: 0.0,
            size,
            liquid_carryover: 0.0,
            hot_gas_bypass: 0.0,
        }
    }

    /// Mass fraction of liquid in what leaves the evaporator and reaches the first stage, 0 to 0.5; with no superheat.
    ///
    /// It lowers the discharge temperature and makes a stage look better than it is; it is evidence of trouble, never of a good stage.
    #[must_use]
    pub fn with_liquid_carryover(self, liquid_carryover: f64) -> Self {
        Self { liquid_carryover, ..self }
    }

    /// Hot gas led from the discharge to the evaporator, per flow through the first stage, 0 to 0.9.
    #[must_use]
    pub fn with_hot_gas_bypass(self, hot_gas_bypass: f64) -> Self {
        Self { hot_gas_bypass, ..self }
    }

    /// Mass fraction of liquid in what leaves the evaporator.
    pub fn liquid_carryover(&self) -> f64 {
        self.liquid_carryover
    }

    /// Hot gas led to the evaporator, per flow through the first stage.
    pub fn hot_gas_bypass(&self) -> f64 {
        self.hot_gas_bypass
    }

    /// Superheat (K) of the vapor that leaves the evaporator, counted as useful cooling.
    #[must_use]
    pub fn with_suction_superheat(self, suction_superheat: f64) -> Self {
        Self { suction_superheat, ..self }
    }

    /// Subcooling (K) of the liquid that leaves the condenser, no more than the refrigerant lift.
    #[must_use]
    pub fn with_subcooling(self, subcooling: f64) -> Self {
        Self { subcooling, ..self }
    }

    /// Evaporating temperature, K.
    pub fn evaporating_temperature(&self) -> f64 {
        self.evaporating_temperature
    }

    /// Condensing temperature, K.
    pub fn condensing_temperature(&self) -> f64 {
        self.condensing_temperature
    }

    /// Superheat at the evaporator outlet, K.
    pub fn suction_superheat(&self) -> f64 {
        self.suction_superheat
    }

    /// Subcooling at the condenser outlet, K.
    pub fn subcooling(&self) -> f64 {
        self.subcooling
    }

    /// What fixes the mass flow.
    pub fn size(&self) -> Size {
        self.size
    }

    /// Condensing less evaporating temperature, K.
    pub fn refrigerant_lift(&self) -> f64 {
        self.condensing_temperature - self.evaporating_temperature
    }

    pub(crate) fn check(&self, refrigerant: &Refrigerant) -> Result<()> {
        let evaporating = self.evaporating_temperature;
        let condensing = self.condensing_temperature;
        refrigerant.saturation_temperature_in_range("evaporating temperature", evaporating)?;
        refrigerant.saturation_temperature_in_range("condensing temperature", condensing)?;
        if condensing <= evaporating {
            return Err(Error::Inconsistent {
                arguments: "evaporating temperature and condensing temperature",
                reason: format!("condensing at {condensing} K must be above evaporating at {evaporating} K"),
            });
        }
        let warmest = refrigerant.maximum_temperature() - evaporating;
        within(
            "suction superheat",
            self.suction_superheat,
            0.0,
            warmest,
            "K",
            "highest temperature of the equation",
        )?;
        let coldest = condensing - refrigerant.minimum_temperature();
        within("subcooling", self.subcooling, 0.0, coldest, "K", "lowest temperature of the equation")?;
        let liquid = condensing - self.subcooling;
        if liquid < evaporating {
            return Err(Error::Inconsistent {
                arguments: "subcooling and evaporating temperature",
                reason: format!(
                    "{} K of subcooling leave liquid at {liquid:.2} K, colder than the evaporating temperature {evaporating} K",
                    self.subcooling
                ),
            });
        }
        let reason = "mass fraction of liquid in what leaves the evaporator";
        within("liquid carryover", self.liquid_carryover, 0.0, 0.5, "kg/kg", reason)?;
        if self.liquid_carryover > 0.0 && self.suction_superheat > 0.0 {
            return Err(Error::Inconsistent {
                arguments: "suction superheat and liquid carryover",
                reason: format!(
                    "vapor {} K above saturation carries no liquid, but {} kg/kg were asked for",
                    self.suction_superheat, self.liquid_carryover
                ),
            });
        }
        let reason = "hot gas led to the evaporator per flow through the first stage";
        within("hot gas bypass", self.hot_gas_bypass, 0.0, 0.9, "kg/kg", reason)?;
        let (argument, value, unit) = match self.size {
            Size::Capacity(value) => ("capacity", value, "W"),
            Size::MassFlow(value) => ("mass flow", value, "kg/s"),
            Size::Power(value) => ("power", value, "W"),
        };
        within(argument, value, f64::MIN_POSITIVE, 1e15, unit, "the size of a machine is positive")
            .map(|_| ())
    }
}

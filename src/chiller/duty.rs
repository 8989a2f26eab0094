//! What a chiller is asked to do.

use crate::error::{Result, within};
use crate::exchanger::WaterFlow;

/// The chilled water temperature that is known, K.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum ChilledWater {
    /// Of the water that leaves the last evaporator.
    Leaving(f64),
    /// Of the water that enters the first.
    Entering(f64),
}

impl ChilledWater {
    /// The temperature, K.
    pub fn temperature(self) -> f64 {
        match self {
            Self::Leaving(temperature) | Self::Entering(temperature) => temperature,
        }
    }
}

/// Capacity, waters and their temperatures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duty {
    capacity: f64,
    chilled_water: WaterFlow,
    chilled_water_temperature: ChilledWater,
    condenser_water: WaterFlow,
    condenser_water_entering: f64,
}

impl Duty {
    /// Capacity (W), chilled water with one of its temperatures, condenser water with its entering temperature (K).
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange), [`Error::NotFinite`](crate::Error::NotFinite).
    pub fn new(
        capacity: f64,
        (chilled_water, chilled_water_temperature): (WaterFlow, ChilledWater),
        (condenser_water, condenser_water_entering): (WaterFlow, f64),
    ) -> Result<Self> {
        possible_capacity(capacity)?;
        let name = match chilled_water_temperature {
            ChilledWater::Leaving(_) => "chilled water leaving",
            ChilledWater::Entering(_) => "chilled water entering",
        };
        chilled_water.accepts(name, chilled_water_temperature.temperature())?;
        condenser_water.accepts("condenser water entering", condenser_water_entering)?;
        Ok(Self {
            capacity,
            chilled_water,
            chilled_water_temperature,
            condenser_water,
            condenser_water_entering,
        })
    }

    /// Capacity, W.
    pub fn capacity(&self) -> f64 {
        self.capacity
    }

    /// Chilled water.
    pub fn chilled_water(&self) -> WaterFlow {
        self.chilled_water
    }

    /// The chilled water temperature that is known.
    pub fn chilled_water_temperature(&self) -> ChilledWater {
        self.chilled_water_temperature
    }

    /// Condenser water.
    pub fn condenser_water(&self) -> WaterFlow {
        self.condenser_water
    }

    /// Temperature of the condenser water that enters the first condenser, K.
    pub fn condenser_water_entering(&self) -> f64 {
        self.condenser_water_entering
    }
}

/// Refuses what is no capacity of a machine. No published source for the limits.
pub(super) fn possible_capacity(capacity: f64) -> Result<f64> {
    within("capacity", capacity, 1e-3, 1e12, "W", "the size of a machine is positive")
}

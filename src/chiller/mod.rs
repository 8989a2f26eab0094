//! A chiller: one or more independent circuits on common water.
//!
//! Water-side conditions and exchangers give the saturation temperatures, so that machines can be compared at the same water
//! temperatures and the same exchangers. Each circuit takes its share of the capacity; its evaporating temperature follows at once,
//! its condensing temperature is the root of the heat that the condenser passes there less the heat the cycle gives up there.

mod design;
mod duty;
mod rated;
mod sensitivity;
mod solve;
mod solved;

pub use design::{DesignSheet, DesignedChiller, PowerBoundary};
pub use duty::{ChilledWater, Duty};
pub use rated::RatedChiller;
pub use sensitivity::{ChillerInput, ChillerSensitivities};
pub use solved::ChillerPoint;

use std::fmt;

use crate::cycle::Circuit;
use crate::error::{Error, Result, within};
use crate::exchanger::{Exchanger, Vessel};

/// How the waters pass the circuits of a chiller, which are counted along the chilled water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum WaterPaths {
    /// Both waters are divided between the circuits, in proportion to their shares of the capacity.
    #[default]
    Parallel,
    /// Chilled water and condenser water pass the circuits one after another in the same order: the last has the coldest chilled water
    /// and the warmest condenser water.
    SeriesParallelFlow,
    /// Condenser water passes them in the opposite order: the lifts of the circuits are about equal.
    SeriesCounterFlow,
}

impl fmt::Display for WaterPaths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Parallel => "parallel",
            Self::SeriesParallelFlow => "series parallel-flow",
            Self::SeriesCounterFlow => "series counter-flow",
        })
    }
}

/// Largest superheat or subcooling, K.
const WIDEST: f64 = 200.0;

/// A circuit between its evaporator and its condenser.
#[derive(Debug, Clone, PartialEq)]
pub struct WateredCircuit {
    circuit: Circuit,
    evaporator: Exchanger,
    condenser: Exchanger,
    suction_superheat: f64,
    subcooling: f64,
    liquid_carryover: f64,
    hot_gas_bypass: f64,
}

impl WateredCircuit {
    /// A circuit with its exchangers, without superheat and subcooling.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] if evaporator and condenser are not that.
    pub fn new(circuit: Circuit, evaporator: Exchanger, condenser: Exchanger) -> Result<Self> {
        for (exchanger, vessel) in [(evaporator, Vessel::Evaporator), (condenser, Vessel::Condenser)] {
            if exchanger.vessel() != vessel {
                return Err(Error::Inconsistent {
                    arguments: "evaporator and condenser",
                    reason: format!(
                        "an exchanger that is one for {} was given as {vessel}",
                        exchanger.vessel()
                    ),
                });
            }
        }
        Ok(Self {
            circuit,
            evaporator,
            condenser,
            suction_superheat: 0.0,
            subcooling: 0.0,
            liquid_carryover: 0.0,
            hot_gas_bypass: 0.0,
        })
    }

    /// Superheat (K) of the vapor that leaves the evaporator.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] unless it is 0 to 200 K.
    pub fn with_suction_superheat(self, suction_superheat: f64) -> Result<Self> {
        within("suction superheat", suction_superheat, 0.0, WIDEST, "K", "above the dew point")?;
        Ok(Self { suction_superheat, ..self })
    }

    /// Subcooling (K) of the liquid that leaves the condenser.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] unless it is 0 to 200 K.
    pub fn with_subcooling(self, subcooling: f64) -> Result<Self> {
        within("subcooling", subcooling, 0.0, WIDEST, "K", "below the bubble point")?;
        Ok(Self { subcooling, ..self })
    }

    /// Mass fraction of liquid in what leaves the evaporator; with no superheat.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] unless it is 0 to 0.5.
    pub fn with_liquid_carryover(self, liquid_carryover: f64) -> Result<Self> {
        let reason = "mass fraction of liquid in what leaves the evaporator";
        within("liquid carryover", liquid_carryover, 0.0, 0.5, "kg/kg", reason)?;
        Ok(Self { liquid_carryover, ..self })
    }

    /// Hot gas led from the discharge to the evaporator, per flow through the first stage.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`], [`Error::NotFinite`] unless it is 0 to 0.9.
    pub fn with_hot_gas_bypass(self, hot_gas_bypass: f64) -> Result<Self> {
        let reason = "hot gas led to the evaporator per flow through the first stage";
        within("hot gas bypass", hot_gas_bypass, 0.0, 0.9, "kg/kg", reason)?;
        Ok(Self { hot_gas_bypass, ..self })
    }

    /// The circuit.
    pub fn circuit(&self) -> &Circuit {
        &self.circuit
    }

    /// Mass fraction of liquid in what leaves the evaporator.
    pub fn liquid_carryover(&self) -> f64 {
        self.liquid_carryover
    }

    /// Hot gas led to the evaporator, per flow through the first stage.
    pub fn hot_gas_bypass(&self) -> f64 {
        self.hot_gas_bypass
    }

    /// The evaporator.
    pub fn evaporator(&self) -> Exchanger {
        self.evaporator
    }

    /// The condenser.
    pub fn condenser(&self) -> Exchanger {
        self.condenser
    }

    /// Superheat at the evaporator outlet, K.
    pub fn suction_superheat(&self) -> f64 {
        self.suction_superheat
    }

    /// Subcooling at the condenser outlet, K.
    pub fn subcooling(&self) -> f64 {
        self.subcooling
    }
}

/// One or more independent circuits on common water.
///
/// ```
/// use interstage::{
///     Arrangement, ChilledWater, Chiller, Duty, Exchanger, HeatTransfer, Refrigerant, Stage, WaterFlow, WateredCircuit,
/// };
///
/// let circuit = "2 stages: tank@2".parse::<Arrangement>()?
///     .circuit(Refrigerant::named("R-134a")?, Stage::polytropic(0.8)?)?;
/// let evaporator = Exchanger::evaporator(HeatTransfer::Ua(1.0e6))?;
/// let condenser = Exchanger::condenser(HeatTransfer::Ua(1.2e6))?;
/// let chiller = Chiller::new(WateredCircuit::new(circuit, evaporator, condenser)?);
/// let duty = Duty::new(
///     3.5e6,
///     (WaterFlow::water(167.0)?, ChilledWater::Leaving(280.15)),
///     (WaterFlow::water(190.0)?, 303.15),
/// )?;
/// let point = chiller.solve(&duty)?;
/// assert!(point.cop() > 5.0 && point.energy_closure().abs() < 1e-9);
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Chiller {
    circuits: Vec<WateredCircuit>,
    shares: Vec<f64>,
    paths: WaterPaths,
}

impl Chiller {
    /// A chiller of one circuit.
    pub fn new(circuit: WateredCircuit) -> Self {
        Self { circuits: vec![circuit], shares: vec![1.0], paths: WaterPaths::Parallel }
    }

    /// A chiller of several circuits with equal shares of the capacity, counted along the chilled water.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless there is at least one.
    pub fn of_circuits(circuits: Vec<WateredCircuit>, paths: WaterPaths) -> Result<Self> {
        if circuits.is_empty() {
            return Err(Error::WrongLength { argument: "circuits", found: 0, expected: 1 });
        }
        let shares = vec![1.0 / circuits.len() as f64; circuits.len()];
        Ok(Self { circuits, shares, paths })
    }

    /// The same chiller with other shares of the capacity; their sum is taken for the whole.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`] unless there is one for each circuit, [`Error::OutOfRange`], [`Error::NotFinite`] unless they are positive.
    pub fn with_capacity_shares(self, shares: &[f64]) -> Result<Self> {
        if shares.len() != self.circuits.len() {
            return Err(Error::WrongLength {
                argument: "capacity shares",
                found: shares.len(),
                expected: self.circuits.len(),
            });
        }
        for &share in shares {
            within("capacity share", share, 1e-6, 1e6, "-", "part of the whole capacity")?;
        }
        let whole: f64 = shares.iter().sum();
        // Shares that were divided once stay as they are.
        let whole = if (whole - 1.0).abs() <= 8.0 * f64::EPSILON { 1.0 } else { whole };
        Ok(Self { shares: shares.iter().map(|share| share / whole).collect(), ..self })
    }

    /// The circuits, along the chilled water.
    pub fn circuits(&self) -> &[WateredCircuit] {
        &self.circuits
    }

    /// Their shares of the capacity.
    pub fn capacity_shares(&self) -> &[f64] {
        &self.shares
    }

    /// How the waters pass them.
    pub fn water_paths(&self) -> WaterPaths {
        self.paths
    }
}

//! Refrigerant properties and economized multi-stage compression cycles of water chillers.
//!
//! From a refrigerant's name to every state of a circuit, the flash gas each economizer takes off, the work of each
//! stage and what the economizer is worth, and on to the same figures for every row of a trend export.
//!
//! ```
//! use interstage::{Circuit, Conditions, FlashTank, Location, Refrigerant, Size, Stage};
//!
//! let refrigerant = Refrigerant::named("R-134a")?;
//! let stages = vec![Stage::isentropic(0.79)?; 3];
//! let tanks = vec![FlashTank::new().into(); 2];
//! let cycle = Circuit::new(refrigerant, stages, tanks)?
//!     .solve(&Conditions::new(278.15, 310.15, Size::Capacity(2.0e6)).with_suction_superheat(1.0))?;
//! assert!(cycle.interstage_pressures().is_sorted() && cycle.economizer_benefit() > 0.09);
//! assert!(cycle.point(Location::TankLiquid(2)).is_some());
//! # Ok::<(), interstage::Error>(())
//! ```
//!
//! Columns of readings of a real machine go through `TrendAnalysis` (feature `trend`): approaches, heat balance, stage
//! efficiency, flash fractions, what the economizer could save and whether the readings show that it does.
//!
//! # Units
//!
//! SI throughout: K, Pa absolute, J/kg, J/(kg K), kg/m3, W, kg/s. Conversions, gauge pressures among them, are in [`units`].
//!
//! # Errors
//!
//! Nothing panics. [`Error`] tells input outside a range from inputs that contradict each other and from a solver that failed,
//! with argument, value and limits as fields. Arrays and trends report each row's status instead.
//!
//! # Features
//!
//! None by default. `trend`: analysis of columns of readings. `parallel`: batch calls and trends on several threads.
//! `ndarray`: array views in, arrays out. `serde`: refrigerants, machines, conditions and results to and from JSON, TOML and the like.
//!
//! # Stored data
//!
//! With `serde` values have the form that Python's `to_dict` gives: `format_version`, `type`, then the names of the arguments that make
//! them. They read back to the bit, through the constructors, so that what those refuse is refused in their words; keys that are not known
//! are refused too. A refrigerant is stored as the recipe of its handle. A [`Cycle`] or [`ChillerPoint`] is its machine and its conditions,
//! which are solved again when they are read; figures and points stand beside them for others, and must agree with that to 1e-6. A [`State`]
//! holds no refrigerant here; that of a state from Python is read over. What has no value (the quality of superheated vapor, the benefit
//! where nothing would be cooled without the economizer) is null in JSON and nan in TOML. `serde_json` reads numbers to the last bit with
//! its feature `float_roundtrip` only.
//!
#![cfg_attr(feature = "serde", doc = include_str!("stored/example.md"))]
//!
//! # What it does not do
//!
//! It knows no solids: liquid colder or denser than its melting line (water at 280 K and 1 GPa) is answered as liquid.
//! Blends by the mixture model have no transport properties. There is no control: results are estimates for analysis and teaching. They are no protection
//! and no license to open a circuit; local codes and licensed practice rule.

mod batch;
mod chiller;
mod compression;
mod cycle;
mod economizer;
mod error;
mod exchanger;
mod fluid;
mod helmholtz;
mod ideal_cop;
mod impeller;
mod numeric;
mod orifice;
mod rating;
mod refrigerant;
mod saturation;
mod state;
#[cfg(feature = "serde")]
mod stored;
mod transport;
#[cfg(feature = "trend")]
mod trend;
pub mod units;
mod water;

pub use batch::{
    ChillerColumns, ChillerSlices, CycleColumns, CycleSlices, DerivativeColumns, DerivativeSlices, RowStatus,
    Rows, SERIAL_CYCLES, SERIAL_ROWS, SaturationColumns, SaturationSlices, StateColumns, StateSlices,
};
pub use chiller::{
    ChilledWater, Chiller, ChillerInput, ChillerPoint, ChillerSensitivities, DesignSheet, DesignedChiller,
    Duty, PowerBoundary, RatedChiller, WaterPaths, WateredCircuit,
};
pub use compression::{Efficiency, Stage, isentropic_efficiency, polytropic_efficiency};
pub use cycle::{
    Arrangement, Balance, Circuit, Component, Conditions, Cycle, Drive, ExergyLedger, Input, Interstage,
    InterstagePressures, Location, MotorCooling, Point, PressureLosses, PressureOptimum, Sensitivities, Size,
    StreamFlow, Surroundings, TankSeparation,
};
pub use economizer::{
    ClosedEconomizer, FlashTank, InjectionTakenFrom, IntercooledTank, LiquidInjection, Metering,
};
pub use error::{Error, Result};
pub use exchanger::{
    CondenserZones, Exchanger, HeatExchange, HeatTransfer, VariableUa, Vessel, WaterFlow, Zone, fouled_ua,
    fouling_allowance, fouling_resistance, logarithmic_mean_difference, ua_from_temperatures,
};
pub use fluid::{Citation, Environment, Gwp};
pub use ideal_cop::{carnot_cop, entropic_mean_temperature, lorenz_cop};
pub use impeller::{Impeller, StageDuty};
pub use orifice::{Orifice, OrificeFlow, OrificeModel};
pub use rating::{
    PartLoad, RatedFlow, RatingConditions, RatingStandard, iplv_from_cop, iplv_from_kw_per_ton,
    rating_tolerance,
};
pub use refrigerant::{Basis, Model, PairOfComponents, Phases, Reference, Refrigerant};
pub use saturation::Saturation;
pub use state::{Derivatives, Phase, State};
pub use transport::TransportCitations;
#[cfg(feature = "trend")]
pub use trend::{
    Figure, Quality, Reading, Readings, Status, TrendAnalysis, TrendRow, TrendRun, TrendSlopes, TrendStream,
    TrendTable,
};
pub use water::{water_density, water_enthalpy, water_heat_capacity};

/// The examples of the README.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;

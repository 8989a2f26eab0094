//! Refrigerant properties and economized multi-stage compression cycles of water chillers.
//!
//! Large water chillers throttle the condenser's liquid in steps and draw the vapor that flashes off at each step to a later stage of
//! compression. From a refrigerant's name this crate gives every state of such a circuit, the flash gas each economizer takes off, the work of
//! each stage and what the economizer is worth; and the same figures for every row of a trend export.
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
//! # A tour
//!
//! | to | begin with |
//! |---|---|
//! | know a refrigerant, its limits and whom to cite | [`Refrigerant::named`], [`Refrigerant::blend`], [`Refrigerant::citation`], [`Environment`] |
//! | get a state, saturation or slopes | [`Refrigerant::state_ph`] and its siblings, [`Refrigerant::saturation_at_temperature`], [`Derivatives`] |
//! | describe a machine | [`Stage`], [`FlashTank`], [`IntercooledTank`], [`ClosedEconomizer`], [`LiquidInjection`], [`Circuit`], or as text [`Arrangement`] |
//! | solve it | [`Circuit::solve`] at [`Conditions`]: a [`Cycle`] with its [`Point`]s, [`Balance`]s and [`ExergyLedger`] |
//! | find the best interstage pressures, or what matters | [`Circuit::pressure_optimum`], [`Circuit::sensitivities`] |
//! | put it between its waters | [`Exchanger`], [`VariableUa`], [`CondenserZones`], [`Chiller`], [`DesignSheet`] |
//! | rate it | [`RatingConditions`], [`iplv_from_cop`], [`rating_tolerance`], [`lorenz_cop`] |
//! | size an impeller or an orifice | [`Impeller`], [`Orifice`] |
//! | do a column of anything | [`Refrigerant::states_ph`], [`Circuit::solve_rows`] |
//! | analyse readings of a real machine | `TrendAnalysis` (feature `trend`): approaches, heat balance, stage efficiency, flash fractions, what the economizer could save and whether the readings show that it does |
//! | convert gauges and other units | [`units`] |
//! | build it into a program | the chapter [`embedding`] |
//!
//! # Concepts
//!
//! - **Stages and ports.** Stages are numbered from the suction. An economizer feeds the inlet of a stage: `tank@2` is a tank whose vapor
//!   joins before the second one. `n` stages have `n - 1` places in between, each an [`Interstage`].
//! - **Benefit.** Power saved at the same capacity and saturation temperatures, against the same machine with its economizers off.
//! - **Potential and evidence.** What an economizer could save follows from two temperatures and says nothing about whether it works. The two
//!   are different figures of a trend.
//! - **Power** is compression power unless a name says shaft, motor input or drive input.
//! - **Temperatures of blends** are dew temperatures unless a name says bubble; subcooling counts from the bubble point.
//! - **References.** Enthalpy and entropy have a zero that is chosen: [`Reference`]. Differences do not depend on it.
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
//! # What it is not for
//!
//! - Control, protection or safety: results are estimates for analysis and teaching, and a computed margin protects nothing.
//! - Transients, oil in the refrigerant, non-condensable gas, pressure drop along tubes: a cycle is steady, its streams are refrigerant.
//! - Solids: liquid colder or denser than its melting line (water at 280 K and 1 GPa) is answered as liquid.
//! - Mixtures nobody has published: a pair without parameters is refused. Blends by the mixture model have no transport properties.
//! - Compressor maps: a stage has an efficiency; surge and choke are not in it.
//!
//! # Sources
//!
//! Equations of state, mixing parameters, transport correlations and environmental data are published ones with every printed digit;
//! [`Refrigerant::citations`], [`Refrigerant::transport_citations`] and [`Refrigerant::environment`] name them, and an item that stands on another paper or
//! standard cites it. The tests hold the crate to some 2,800 printed values; the report is `tests/VALIDATION.md` in the repository.
//!
//! # Cautions
//!
//! Results are no protection and no license to open a refrigerant circuit; local codes and licensed practice rule. Never open, vent, loosen or
//! heat a circuit because of a computed state. Safety classes are from memory: check the current edition of ASHRAE 34 or ISO 817.

mod batch;
mod brine;
mod chiller;
mod compression;
mod cycle;
mod economizer;
#[doc = include_str!("embedding.md")]
pub mod embedding {}
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
pub use brine::Brine;
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

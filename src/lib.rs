//! Refrigerant properties and economized multi-stage compression cycles of water chillers.

mod batch;
mod compression;
mod cycle;
mod economizer;
mod error;
mod fluid;
mod helmholtz;
mod numeric;
mod orifice;
mod refrigerant;
mod saturation;
mod state;
#[cfg(feature = "trend")]
mod trend;
pub mod units;
mod water;

pub use batch::{
    CycleColumns, CycleSlices, DerivativeColumns, DerivativeSlices, RowStatus, Rows, SERIAL_CYCLES, SERIAL_ROWS,
    SaturationColumns, SaturationSlices, StateColumns, StateSlices,
};
pub use compression::{Efficiency, Stage, isentropic_efficiency, polytropic_efficiency};
pub use cycle::{
    Circuit, Conditions, Cycle, Interstage, InterstagePressures, Location, Point, Sensitivities, Size, Slopes,
};
pub use economizer::FlashTank;
pub use error::{Error, Result};
pub use fluid::Citation;
pub use orifice::{Orifice, OrificeFlow, OrificeModel};
pub use refrigerant::{Reference, Refrigerant};
pub use saturation::Saturation;
pub use state::{Derivatives, Phase, State};
#[cfg(feature = "trend")]
pub use trend::{Figure, Quality, Reading, Readings, Status, TrendAnalysis, TrendTable};
pub use water::{water_density, water_enthalpy};

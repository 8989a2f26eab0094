//! Refrigerant properties and economized multi-stage compression cycles of water chillers.

mod compression;
mod cycle;
mod economizer;
mod error;
mod fluid;
mod helmholtz;
mod numeric;
mod refrigerant;
mod saturation;
mod state;
pub mod units;

pub use compression::{Efficiency, Stage, isentropic_efficiency, polytropic_efficiency};
pub use cycle::{
    Circuit, Conditions, Cycle, Interstage, InterstagePressures, Location, Point, Sensitivities, Size, Slopes,
};
pub use economizer::FlashTank;
pub use error::{Error, Result};
pub use fluid::Citation;
pub use refrigerant::{Reference, Refrigerant};
pub use saturation::Saturation;
pub use state::{Derivatives, Phase, State};

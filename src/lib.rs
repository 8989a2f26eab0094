//! Refrigerant properties and economized multi-stage compression cycles of water chillers.

mod error;
mod fluid;
mod helmholtz;
mod numeric;
mod refrigerant;
mod saturation;
mod state;
pub mod units;

pub use error::{Error, Result};
pub use fluid::Citation;
pub use refrigerant::{Reference, Refrigerant};
pub use saturation::Saturation;
pub use state::{Derivatives, Phase, State};

//! The circuit as data, the conditions it runs at, and the solved cycle.

mod circuit;
mod conditions;
mod location;
mod pressures;
mod sensitivity;
mod separation;
mod solve;
mod solved;

pub use circuit::{Circuit, Interstage};
pub use conditions::{Conditions, Size};
pub use location::Location;
pub use pressures::InterstagePressures;
pub use sensitivity::{Sensitivities, Slopes};
pub use separation::TankSeparation;
#[cfg(feature = "trend")]
pub(crate) use solve::{Inputs, NOTHING, flash};
pub use solved::{Cycle, Point};

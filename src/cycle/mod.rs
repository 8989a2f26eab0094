//! The circuit as data, the conditions it runs at, and the solved cycle.

mod arrangement;
mod balance;
mod circuit;
mod conditions;
mod drive;
mod exergy;
mod inputs;
mod location;
mod optimum;
mod pressures;
mod sensitivity;
mod separation;
mod solve;
mod solved;

pub use arrangement::Arrangement;
pub use balance::{Balance, Component, StreamFlow};
pub use circuit::{Circuit, Interstage};
pub use conditions::{Conditions, Size};
pub use drive::{Drive, MotorCooling, PressureLosses};
pub use exergy::{ExergyLedger, Surroundings};
pub use inputs::Input;
pub(crate) use inputs::Inputs;
pub use location::Location;
pub use optimum::PressureOptimum;
pub use pressures::InterstagePressures;
pub use sensitivity::Sensitivities;
pub use separation::TankSeparation;
pub(crate) use solve::Solution;
#[cfg(feature = "trend")]
pub(crate) use solve::{Ends, Flow, NOTHING, Passages, descend};
pub use solved::{Cycle, Point};

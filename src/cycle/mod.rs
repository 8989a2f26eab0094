//! The circuit as data, the conditions it runs at, and the solved cycle.

mod arrangement;
mod balance;
mod circuit;
mod conditions;
mod descent;
mod drive;
mod ends;
mod exergy;
mod flow;
mod inputs;
mod location;
mod optimum;
mod pressures;
mod sensitivity;
mod separation;
mod solve;
mod solved;

use smallvec::SmallVec;

pub use arrangement::Arrangement;
pub use balance::{Balance, Component, StreamFlow};
pub use circuit::{Circuit, Interstage};
pub use conditions::{Conditions, Size};
#[cfg(feature = "trend")]
pub(crate) use descent::{Descent, Passages, descend};
pub use drive::{Drive, MotorCooling, PressureLosses};
#[cfg(feature = "trend")]
pub(crate) use ends::{Ends, NOTHING};
pub use exergy::{ExergyLedger, Surroundings};
#[cfg(feature = "trend")]
pub(crate) use flow::{Flow, Lists};
pub use inputs::Input;
pub(crate) use inputs::Inputs;
pub use location::Location;
pub use optimum::PressureOptimum;
pub use pressures::InterstagePressures;
pub use sensitivity::Sensitivities;
pub use separation::TankSeparation;
pub(crate) use solve::Solution;
pub use solved::{Cycle, Point};

/// One number a stage, or one an interstage: of up to nine stages, as many as a trend knows, they take no memory of their own.
pub(crate) type PerStage<R> = SmallVec<[R; 9]>;

//! What stands between stages and makes vapor of a part of the liquid on its way down: tanks, exchangers, injection.

mod closed;
mod metering;
mod passage;
mod tank;

pub use closed::{ClosedEconomizer, InjectionTakenFrom, LiquidInjection};
pub(crate) use closed::{Exchange, inject};
pub use metering::Metering;
pub(crate) use metering::expand;
pub(crate) use passage::{Joining, Metered, Passage};
pub(crate) use tank::Separation;
pub use tank::{FlashTank, IntercooledTank};

//! What takes flash gas off between stages.

mod tank;

pub use tank::FlashTank;
pub(crate) use tank::Flashed;

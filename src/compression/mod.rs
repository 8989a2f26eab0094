//! One stage of compression: forwards with a known efficiency, backwards from readings.

mod polytropic;
mod reduction;
mod stage;

pub use reduction::{isentropic_efficiency, polytropic_efficiency};
pub(crate) use stage::Compressed;
pub use stage::{Efficiency, Stage};

//! Rows of readings of a real machine, analysed one by one.
//!
//! Readings come in as SI columns, figures go out as SI columns; units, time and files are the caller's. A row never
//! stops the others: what cannot be told is NaN, its [`Status`] says why.

mod analysis;
mod economizer;
mod figure;
mod number;
mod quality;
mod reading;
mod reasons;
mod row;
mod run;
mod slopes;
mod status;
mod stream;
mod told;
mod water_side;

pub use analysis::TrendAnalysis;
pub use figure::Figure;
pub use quality::Quality;
pub use reading::{Reading, Readings};
pub use run::{TrendRun, TrendTable};
pub use slopes::TrendSlopes;
pub use status::Status;
pub use stream::{TrendRow, TrendStream};

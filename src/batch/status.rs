//! How the rows of a batch came out, and the numbers that stand for it in a column.

use std::fmt;

use crate::error::Error;
use crate::state::Phase;

/// How a row came out. Columns hold [`RowStatus::code`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
#[repr(u8)]
pub enum RowStatus {
    /// The row has a result.
    Ok = 0,
    /// An input is missing (NaN).
    Missing = 1,
    /// An input is infinite.
    NotFinite = 2,
    /// An input lies outside the range in which the calculation is valid.
    OutOfRange = 3,
    /// Inputs contradict each other.
    Inconsistent = 4,
    /// A solver stopped without reaching its tolerance.
    NotConverged = 5,
    /// The result has no meaning in that state.
    Undefined = 6,
}

impl RowStatus {
    /// Every status, in the order of its code.
    pub const ALL: [Self; 7] = [
        Self::Ok,
        Self::Missing,
        Self::NotFinite,
        Self::OutOfRange,
        Self::Inconsistent,
        Self::NotConverged,
        Self::Undefined,
    ];

    /// The number that stands for it in a column.
    pub fn code(self) -> u8 {
        self as u8
    }

    /// The status a number stands for.
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.get(usize::from(code)).copied()
    }

    pub(super) fn of(error: &Error) -> Self {
        match error {
            Error::NotFinite { value, .. } if value.is_nan() => Self::Missing,
            Error::NotFinite { .. } => Self::NotFinite,
            Error::OutOfRange { .. } => Self::OutOfRange,
            Error::NotConverged { .. } => Self::NotConverged,
            Error::Undefined { .. } => Self::Undefined,
            _ => Self::Inconsistent,
        }
    }
}

impl fmt::Display for RowStatus {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Ok => "ok",
            Self::Missing => "an input is missing",
            Self::NotFinite => "an input is infinite",
            Self::OutOfRange => "an input is out of range",
            Self::Inconsistent => "inputs contradict each other",
            Self::NotConverged => "a solver did not converge",
            Self::Undefined => "undefined in that state",
        })
    }
}

/// What stands for the phase of a row without result.
pub(super) const NO_PHASE: u8 = u8::MAX;

impl Phase {
    /// The number that stands for it in a column: liquid 0, vapor 1, two-phase 2, supercritical 3.
    pub fn code(self) -> u8 {
        match self {
            Self::Liquid => 0,
            Self::Vapor => 1,
            Self::TwoPhase => 2,
            Self::Supercritical => 3,
        }
    }

    /// The phase a number stands for; none for 255, the mark of a row without result.
    pub fn from_code(code: u8) -> Option<Self> {
        [Self::Liquid, Self::Vapor, Self::TwoPhase, Self::Supercritical].get(usize::from(code)).copied()
    }
}

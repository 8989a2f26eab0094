//! The numbers that rows are told over: readings, or readings with what every figure answers to them.

use crate::numeric::{Dual, Real};

/// A number of a row. One may be unknown: guessed until what it is to make zero is zero, and then settled.
pub(super) trait Number: Real {
    /// A guess of the unknown.
    fn unknown(value: f64) -> Self;

    /// This number where the unknown moves so that `residual` stays zero.
    fn settled(self, residual: Self) -> Self;
}

impl Number for f64 {
    fn unknown(value: f64) -> Self {
        value
    }

    fn settled(self, _: Self) -> Self {
        self
    }
}

/// The last derivative is that to the unknown.
impl<const N: usize> Number for Dual<N> {
    fn unknown(value: f64) -> Self {
        Self::input(value, N - 1)
    }

    fn settled(self, residual: Self) -> Self {
        let answers = |number: &Self| number.slope.last().copied().unwrap_or(0.0);
        let share = answers(&self) / answers(&residual);
        let mut slope = self.slope;
        for (own, left) in slope.iter_mut().zip(residual.slope) {
            *own -= share * left;
        }
        if let Some(unknown) = slope.last_mut() {
            *unknown = 0.0;
        }
        Self { slope, ..self }
    }
}

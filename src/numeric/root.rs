//! The one root finder: Newton's method kept inside a bracket.

use crate::error::{Error, Result};

/// Ends of an interval with the sign of the function at each.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bracket {
    pub(crate) lower: f64,
    pub(crate) upper: f64,
    /// Whether the function rises from the lower to the upper end.
    pub(crate) rising: bool,
}

/// Iterations before the search gives up; halving alone needs about 60 from any bracket of doubles met here.
const LIMIT: usize = 120;

/// Relative step below which a step that does not shrink is taken for rounding noise.
const SETTLED: f64 = 1e-10;

/// Slope of a function through its last two values, for functions whose derivative is known roughly.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Secant {
    slope: f64,
    last: Option<(f64, f64)>,
}

impl Secant {
    /// Starts with a rough slope.
    pub(crate) fn new(slope: f64) -> Self {
        Self { slope, last: None }
    }

    /// The slope at `x`, where the function is `value`; the last one where a step is too short to tell it.
    pub(crate) fn at(&mut self, x: f64, value: f64) -> f64 {
        if let Some((before, there)) = self.last.replace((x, value))
            && (x - before).abs() > SETTLED * x.abs()
        {
            self.slope = (value - there) / (x - before);
        }
        self.slope
    }
}

/// Finds the root of `function` between the ends of `bracket`, from `start`.
///
/// `function` returns its value and its slope. It must have the signs at the two ends that
/// `bracket.rising` says; the ends themselves are not evaluated. Each step is Newton's where that stays
/// inside the bracket and shrinks fast enough, else the middle. The search ends when a step changes `x` by
/// no more than `tolerance` relative to `x`, when rounding keeps the steps from shrinking, or when the
/// function is exactly zero.
///
/// # Errors
///
/// What `function` returns, or [`Error::NotConverged`] after 120 evaluations or where `function` is not a number.
pub(crate) fn newton(
    solver: &'static str,
    mut bracket: Bracket,
    start: f64,
    tolerance: f64,
    mut function: impl FnMut(f64) -> Result<(f64, f64)>,
) -> Result<f64> {
    let inside = |x: f64, b: &Bracket| x > b.lower && x < b.upper;
    let mut x = if inside(start, &bracket) { start } else { 0.5 * (bracket.lower + bracket.upper) };
    let mut value = f64::NAN;
    let mut last_step = bracket.upper - bracket.lower;
    for _ in 0..LIMIT {
        let slope;
        (value, slope) = function(x)?;
        if value == 0.0 {
            return Ok(x);
        }
        if value.is_nan() {
            break;
        }
        if (value > 0.0) == bracket.rising {
            bracket.upper = x;
        } else {
            bracket.lower = x;
        }
        let step = -value / slope;
        let next = x + step;
        // Rounding noise of the function: steps are tiny and no longer shrink, or the ends have met.
        let settled = step.abs() <= SETTLED * x.abs() && step.abs() >= 0.5 * last_step.abs();
        let closed = bracket.upper - bracket.lower <= 2.0 * tolerance * x.abs();
        if step.abs() <= tolerance * x.abs() || settled || closed {
            // A step out of the bracket means the root is at that end but for rounding.
            return Ok(if next.is_nan() { x } else { next.max(bracket.lower).min(bracket.upper) });
        }
        // Newton's step must stay inside and shrink, else the middle is taken.
        if inside(next, &bracket) && step.abs() < 0.7 * last_step.abs() {
            last_step = step;
            x = next;
        } else {
            last_step = bracket.upper - bracket.lower;
            x = bracket.lower + 0.5 * last_step;
        }
    }
    Err(Error::NotConverged {
        solver,
        iterations: LIMIT,
        residual: value,
        lower: bracket.lower,
        upper: bracket.upper,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_roots_newton_alone_would_miss() {
        // Newton's method diverges on atan from 3.
        let bracket = Bracket { lower: -10.0, upper: 17.0, rising: true };
        let root =
            newton("test", bracket, 3.0, 1e-15, |x| Ok(((x - 1.0).atan(), 1.0 / (1.0 + (x - 1.0).powi(2)))));
        assert!((root.unwrap() - 1.0).abs() < 1e-12);
        // A cubic with a flat stretch, falling.
        let bracket = Bracket { lower: 0.0, upper: 3.0, rising: false };
        let root =
            newton("test", bracket, 0.1, 1e-15, |x| Ok((-(x - 2.0).powi(3), -3.0 * (x - 2.0).powi(2))));
        assert!((root.unwrap() - 2.0).abs() < 1e-4);
    }

    #[test]
    fn finds_a_root_at_an_end_of_the_bracket() {
        // The lower end is the root but for rounding, so that Newton's steps end outside.
        for root in [1.0 - 1e-16, 1.0, 1.0 + 3e-16, 1.0 + 1e-13] {
            let bracket = Bracket { lower: 1.0, upper: 2.0, rising: true };
            let found = newton("test", bracket, 1.2, f64::EPSILON, |x| Ok((x * x - root * root, 2.0 * x)));
            assert!((found.unwrap() - root).abs() < 1e-15, "{root}");
        }
    }

    #[test]
    fn stops_at_rounding_noise() {
        let mut calls = 0;
        let bracket = Bracket { lower: 1.0, upper: 2.0, rising: true };
        let root = newton("test", bracket, 1.2, f64::EPSILON, |x| {
            calls += 1;
            // Noise of 1e-12, different at every call.
            let noise = 1e-12 * (f64::from(calls) * 2.4).sin();
            Ok((x * x - 2.0 + noise, 2.0 * x))
        });
        assert!((root.unwrap() - std::f64::consts::SQRT_2).abs() < 1e-12);
        assert!(calls < 20, "{calls}");
    }

    #[test]
    fn gives_up_with_numbers() {
        let bracket = Bracket { lower: 0.0, upper: 1.0, rising: true };
        let outcome = newton("test", bracket, 0.5, 0.0, |x| Ok((x.sin() + f64::NAN, 1.0)));
        assert!(matches!(outcome, Err(Error::NotConverged { iterations: 120, .. })));
    }
}

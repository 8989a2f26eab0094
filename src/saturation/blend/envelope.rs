//! All bubble and dew points of a blend.

use std::ops::Range;

use super::incipient::{Held, Point, largest_residual, solve_between};
use super::ladder::interpolate;
use super::{Blend, not_converged};
use crate::error::{Error, Result, finite, within};
use crate::numeric::{Bracket, Secant, newton};

/// Contrast of phases that are too much alike to be solved for.
pub(super) const ALIKE: f64 = 1e-3;

/// Points on either side of a cell that its polynomial goes through.
const AROUND: usize = 3;

/// Relative distance of a temperature, or of the logarithm of a pressure, from an end that is met by it.
const MET: f64 = 2e-15;

/// Residual of equilibrium with which a point between others is taken as it is.
pub(super) const ACCEPTED: f64 = 1e-11;

/// Both where singular terms leave more rounding.
const ROUGH: (f64, f64) = (1e-2, 1e-8);

/// The line of saturated points of a blend, from its coldest liquid over the critical point to its coldest vapor.
///
/// Next to the critical point there may be two dew points, or two bubble points, at one temperature or pressure. Asked
/// for one, the line answers with that of the ordinary branch, which reaches from its cold end to the highest temperature or
/// pressure, or to the critical point where that comes first.
///
/// Where phases on the line would fall apart into others it has a gap instead of a critical point.
#[derive(Debug)]
pub(crate) struct Envelope {
    /// From dense to thin; temperature and pressure rise or fall all the way between two neighbors.
    pub(super) points: Vec<Point>,
    pub(super) top: Top,
    pub(super) name: String,
    /// Whether the line begins warmer than where all components do.
    pub(super) begins_warmer: bool,
}

/// What lies between bubble and dew points.
#[derive(Debug, Clone, Copy)]
pub(super) enum Top {
    /// Place of the critical point.
    Critical(usize),
    /// Number of bubble points below a gap.
    Gap(usize),
}

/// Temperature or logarithm of pressure.
#[derive(Debug, Clone, Copy)]
pub(super) enum Measure {
    Temperature,
    LnPressure,
}

impl Measure {
    pub(super) fn of(self, point: &Point) -> f64 {
        match self {
            Self::Temperature => point.temperature,
            Self::LnPressure => point.pressure.ln(),
        }
    }

    fn held(self, value: f64) -> Held {
        match self {
            Self::Temperature => Held::Temperature(value),
            Self::LnPressure => Held::LnPressure(value),
        }
    }
}

impl Envelope {
    /// Places of the bubble points and of the dew points, the critical point being both.
    pub(super) fn side(&self, bubble: bool) -> Range<usize> {
        match (self.top, bubble) {
            (Top::Critical(place), true) => 0..place + 1,
            (Top::Gap(place), true) => 0..place,
            (Top::Critical(place) | Top::Gap(place), false) => place..self.points.len(),
        }
    }

    /// Places that one smooth line goes through around a place.
    pub(super) fn smooth(&self, place: usize) -> Range<usize> {
        match self.top {
            Top::Critical(_) => 0..self.points.len(),
            Top::Gap(gap) => self.side(place < gap),
        }
    }

    /// Neighbors of a point or of the cell after it, for their polynomial.
    pub(super) fn window(&self, place: usize) -> Range<usize> {
        let smooth = self.smooth(place);
        let end = (place + 1 + AROUND).max(smooth.start + 2 * AROUND).min(smooth.end);
        end.saturating_sub(2 * AROUND).max(smooth.start)..end
    }

    /// The critical point; `None` where the model has none that is stable.
    pub(crate) fn critical(&self) -> Option<Point> {
        match self.top {
            Top::Critical(place) => Some(self.points[place]),
            Top::Gap(_) => None,
        }
    }

    /// Coldest temperature of the line, K.
    pub(crate) fn coldest(&self) -> f64 {
        self.points[0].temperature
    }

    /// Coldest bubble point and coldest dew point.
    pub(crate) fn cold_ends(&self) -> [Point; 2] {
        [self.points[0], self.points[self.points.len() - 1]]
    }

    /// Highest temperature of the ordinary branch of bubble or of dew points, K.
    pub(crate) fn hottest(&self, bubble: bool) -> f64 {
        let branch = self.branch(Measure::Temperature, bubble);
        self.points[if bubble { branch.end - 1 } else { branch.start }].temperature
    }

    /// Highest pressures of the ordinary branches of bubble and of dew points, Pa.
    pub(crate) fn highest_pressures(&self) -> [f64; 2] {
        let top = self.points[self.branch(Measure::LnPressure, true).end - 1];
        [top.pressure, self.points[self.branch(Measure::LnPressure, false).start].pressure]
    }

    /// The points that were solved for, from the coldest liquid to the coldest vapor.
    pub(crate) fn points(&self) -> &[Point] {
        &self.points
    }

    /// Places along the ordinary branch from a cold end on, as long as the measure rises.
    fn branch(&self, measure: Measure, bubble: bool) -> Range<usize> {
        let side = self.side(bubble);
        let rises = |from: usize, to: usize| measure.of(&self.points[to]) > measure.of(&self.points[from]);
        if bubble {
            let end = (0..side.end - 1).find(|&i| !rises(i, i + 1)).unwrap_or(side.end - 1);
            0..end + 1
        } else {
            let end = (side.start..side.end - 1).rev().find(|&i| !rises(i + 1, i));
            end.map_or(side.start, |i| i + 1)..side.end
        }
    }

    /// The point of a branch at a value between its ends.
    fn on_branch(
        &self,
        blend: &Blend<'_>,
        measure: Measure,
        value: f64,
        branch: Range<usize>,
    ) -> Result<Point> {
        let points = &self.points[branch.clone()];
        let inside = |pair: &[Point]| {
            let (a, b) = (measure.of(&pair[0]), measure.of(&pair[1]));
            a.min(b) <= value && value <= a.max(b)
        };
        match points.windows(2).position(inside) {
            Some(cell) => self.in_cell(blend, measure, value, branch.start + cell),
            None => Err(not_converged("cell of a bubble or dew point", points.len(), value)),
        }
    }

    /// The point between two neighbors.
    fn in_cell(&self, blend: &Blend<'_>, measure: Measure, value: f64, cell: usize) -> Result<Point> {
        let [dense, thin] = [self.points[cell], self.points[cell + 1]];
        let (a, b) = (measure.of(&dense), measure.of(&thin));
        for (end, at) in [(dense, a), (thin, b)] {
            if at == value {
                return Ok(end);
            }
        }
        let window = &self.points[self.window(cell)];
        let bracket = Bracket { lower: thin.ln_density, upper: dense.ln_density, rising: a > b };
        let slope = (a - b) / (dense.ln_density - thin.ln_density);
        let middle = thin.ln_density + (value - b) / slope;
        let mut secant = Secant::new(slope);
        let ln_density = newton("start of a bubble or dew point", bracket, middle, 1e-14, |ln_density| {
            let off = measure.of(&interpolate(window, ln_density)) - value;
            Ok((off, secant.at(ln_density, off)))
        })?;
        let start = interpolate(window, ln_density);
        let within_cell = |point: &Point| {
            let reach = 1e-6 * (dense.ln_density - thin.ln_density);
            point.ln_density <= dense.ln_density + reach && point.ln_density >= thin.ln_density - reach
        };
        let direct = solve_between(blend, &start, measure.held(value)).ok().filter(within_cell);
        let (alike, accepted) = if blend.components.smooth { (ALIKE, ACCEPTED) } else { ROUGH };
        if start.contrast() < alike {
            // Phases too much alike to be solved for are as good as their polynomial.
            let held = |point| given(measure, value, point);
            if let Some(point) = best(blend, [Some(held(start)), direct.map(held)], accepted) {
                return Ok(held(point));
            }
        } else if let Some(point) = direct {
            return Ok(given(measure, value, point));
        }
        // Near the highest temperature or pressure: by density, of which there is one only.
        let mut secant = Secant::new(slope);
        let mut found = start;
        let searched = newton("bubble or dew point by density", bracket, ln_density, f64::EPSILON, |at| {
            found = solve_between(blend, &interpolate(window, at), Held::LnDensity(at))?;
            let off = measure.of(&found) - value;
            Ok((off, secant.at(at, off)))
        });
        searched.map(|_| given(measure, value, found))
    }

    /// The point of a branch at a value; what misses an end by rounding is met by it.
    fn at(&self, blend: &Blend<'_>, measure: Measure, value: f64, bubble: bool) -> Result<Point> {
        let branch = self.branch(measure, bubble);
        let (cold, top) =
            if bubble { (branch.start, branch.end - 1) } else { (branch.end - 1, branch.start) };
        let (cold, top) = (self.points[cold], self.points[top]);
        let (low, high) = (measure.of(&cold), measure.of(&top));
        for (end, at) in [(cold, low), (top, high)] {
            if (value - at).abs() <= MET * at.abs() {
                return Ok(given(measure, value, end));
            }
        }
        if (low..=high).contains(&value) {
            return self.on_branch(blend, measure, value, branch);
        }
        let (argument, unit) = match measure {
            Measure::Temperature => ("temperature", "K"),
            Measure::LnPressure => ("pressure", "Pa"),
        };
        let plain = |value: f64| if matches!(measure, Measure::LnPressure) { value.exp() } else { value };
        Err(Error::OutOfRange {
            argument,
            value: finite(argument, plain(value), unit)?,
            minimum: plain(low),
            maximum: plain(high),
            unit,
            reason: self.reason(bubble, top.contrast() == 0.0),
        })
    }

    fn reason(&self, bubble: bool, to_critical: bool) -> String {
        let what = if bubble { "bubble" } else { "dew" };
        let begins = if self.begins_warmer {
            format!("from {} K on (the model has two liquids in colder ones)", self.coldest())
        } else {
            "from where all components have liquid".to_owned()
        };
        let ends = match (self.top, to_critical) {
            (_, true) => "to the critical point",
            (Top::Critical(_), false) => {
                "to where it turns back: next to the critical point there are two such points"
            }
            (Top::Gap(_), false) => "to where the model has no stable phases next to its critical point",
        };
        format!("the {what} line of {} runs {begins} {ends}", self.name)
    }

    /// The bubble point at a temperature, K.
    pub(crate) fn bubble(&self, blend: &Blend<'_>, temperature: f64) -> Result<Point> {
        self.at(blend, Measure::Temperature, temperature, true)
    }

    /// The dew point at a temperature, K; of two that of the lower pressure.
    pub(crate) fn dew(&self, blend: &Blend<'_>, temperature: f64) -> Result<Point> {
        self.at(blend, Measure::Temperature, temperature, false)
    }

    /// The bubble point at a pressure, Pa; of two the colder one.
    pub(crate) fn bubble_at_pressure(&self, blend: &Blend<'_>, pressure: f64) -> Result<Point> {
        self.at_pressure(blend, pressure, true)
    }

    /// The dew point at a pressure, Pa; of two the hotter one.
    pub(crate) fn dew_at_pressure(&self, blend: &Blend<'_>, pressure: f64) -> Result<Point> {
        self.at_pressure(blend, pressure, false)
    }

    fn at_pressure(&self, blend: &Blend<'_>, pressure: f64, bubble: bool) -> Result<Point> {
        within("pressure", pressure, f64::MIN_POSITIVE, f64::MAX, "Pa", "it has a logarithm")?;
        let found = self.at(blend, Measure::LnPressure, pressure.ln(), bubble)?;
        Ok(Point { pressure, ..found })
    }
}

/// Of points with phases that are almost alike the one closest to equilibrium, with its mean pressure.
pub(super) fn best(blend: &Blend<'_>, candidates: [Option<Point>; 2], accepted: f64) -> Option<Point> {
    let weighed = candidates.into_iter().flatten().map(|point| {
        let point = point.with_mean_pressure(blend);
        (largest_residual(blend, &point), point)
    });
    let best = weighed.min_by(|a, b| a.0.total_cmp(&b.0));
    best.filter(|(residual, _)| *residual < accepted).map(|(_, point)| point)
}

/// The point with the value that was asked for.
fn given(measure: Measure, value: f64, point: Point) -> Point {
    match measure {
        Measure::Temperature => Point { temperature: value, ..point },
        Measure::LnPressure => point,
    }
}

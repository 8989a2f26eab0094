//! All bubble and dew points of a blend.

use std::ops::Range;

use super::incipient::{Held, Point, largest_residual, solve_point};
use super::ladder::{Towards, follow, interpolate};
use super::{Blend, not_converged, stability, start};
use crate::error::{Error, Result, finite, within};
use crate::numeric::{Bracket, Secant, newton};

/// Step towards warmer first points where the coldest liquid does not hold together, K.
const WARMER: f64 = 4.0;

/// Share of the critical temperature: where the line does not even come down to, it turned back next to the critical point.
const FAR_DOWN: f64 = 0.9;

/// Share of the highest temperature at which dew points are sure to be stable if any are.
const MIDDLE: f64 = 0.8;

/// Of the points on a line, one of so many is tested for stability.
const EVERY: usize = 3;

/// Fewest bubble points, and dew points, of a line.
const FEWEST: usize = 4;

/// Shares of the way from the critical point to its neighbors at which points are added, each of what the one before left.
const CLOSE: [f64; 4] = [0.4, 0.4, 0.4, 0.4];

/// Contrast of phases that are too much alike to be solved for.
const ALIKE: f64 = 1e-3;

/// Distance in the logarithm of density within which two points are one.
const SAME: f64 = 1e-7;

/// Points on either side of a cell that its polynomial goes through.
const AROUND: usize = 3;

/// Relative distance of a temperature, or of the logarithm of a pressure, from an end that is met by it.
const MET: f64 = 2e-15;

/// Residual of equilibrium with which a point between others is taken as it is.
const ACCEPTED: f64 = 1e-11;

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
    points: Vec<Point>,
    top: Top,
    name: String,
    /// Whether the line begins warmer than where all components do.
    begins_warmer: bool,
}

/// What lies between bubble and dew points.
#[derive(Debug, Clone, Copy)]
enum Top {
    /// Place of the critical point.
    Critical(usize),
    /// Number of bubble points below a gap.
    Gap(usize),
}

/// Temperature or logarithm of pressure.
#[derive(Debug, Clone, Copy)]
enum Measure {
    Temperature,
    LnPressure,
}

impl Measure {
    fn of(self, point: &Point) -> f64 {
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
    /// Follows the line, which takes some milliseconds.
    ///
    /// # Errors
    ///
    /// [`Error::Inconsistent`] where the model has no bubble or no dew points that are stable: components that do not mix.
    pub(crate) fn new(blend: &Blend<'_>) -> Result<Self> {
        let name = blend.names();
        let none = |reason: &str| Error::Inconsistent {
            arguments: "components and composition",
            reason: format!("the mixture model has no bubble and dew lines for {name}: {reason}"),
        };
        let first = coldest_liquid(blend)?.ok_or_else(|| none("liquid falls apart into two"))?;
        let coldest = first.temperature;
        let up = follow(blend, first, Towards::Thin, coldest);
        let mut points = up.points;
        let mut top = up.critical.map(Top::Critical);
        let last = points[points.len() - 1];
        let turned_back = up.critical.is_none_or(|critical| {
            !up.ends_cold && last.temperature > FAR_DOWN * points[critical].temperature
        });
        if turned_back {
            // Dew points have to be found by themselves.
            points.truncate(up.critical.unwrap_or(points.len()));
            top = None;
        }
        let stable = |points: &[Point]| -> Result<usize> {
            for (place, point) in points.iter().enumerate().step_by(EVERY) {
                let [bulk, _] = point.concentrations(blend);
                if point.contrast() > 0.0
                    && stability::better_phase(blend, point.temperature, bulk)?.is_some()
                {
                    return Ok((place + 1).saturating_sub(EVERY));
                }
            }
            Ok(points.len())
        };
        let (mut bubbles, mut dews) = match top {
            Some(Top::Critical(critical)) => {
                let dews = points.split_off(critical + 1);
                (points, dews)
            }
            _ => {
                let middle = points
                    .iter()
                    .position(|point| point.temperature > MIDDLE * coldest.max(last.temperature));
                let middle = points[middle.unwrap_or(points.len() - 1)];
                let dew = start::dew(blend, &middle).map_err(|_| none("no dew point is found"))?;
                let mut dews = follow(blend, dew, Towards::Dense, coldest).points;
                dews.reverse();
                dews.extend(follow(blend, dew, Towards::Thin, coldest).points.into_iter().skip(1));
                (points, dews)
            }
        };
        let kept = stable(&bubbles)?;
        if kept < bubbles.len() {
            bubbles.truncate(kept);
            top = None;
        }
        // Dew points hold from the middle on, up and down.
        let warm = dews.iter().rposition(|point| point.temperature > MIDDLE * last_of(&bubbles).temperature);
        let warm = warm.unwrap_or(0);
        let kept = stable(&dews[warm..])?;
        dews.truncate(warm + kept);
        let mut above: Vec<Point> = dews[..warm.min(dews.len())].to_vec();
        above.reverse();
        let kept = stable(&above)?;
        if kept < above.len() {
            dews.drain(..above.len() - kept);
            top = None;
        }
        if bubbles.len() < FEWEST || dews.len() < FEWEST {
            return Err(none("phases on them fall apart into others"));
        }
        let top = top.unwrap_or(Top::Gap(bubbles.len()));
        bubbles.extend(dews);
        let mut line = Self { points: bubbles, top, name, begins_warmer: false };
        line.add_near_critical(blend);
        line.add_extremes(blend);
        line.begin_together(blend)?;
        line.begins_warmer = line.coldest() > blend.coldest();
        Ok(line)
    }

    /// Cuts off bubble points colder than the coldest dew point.
    fn begin_together(&mut self, blend: &Blend<'_>) -> Result<()> {
        let coldest = last_of(&self.points).temperature;
        if coldest <= self.coldest() {
            return Ok(());
        }
        let first = self.bubble(blend, coldest)?;
        let colder = self.points.iter().take_while(|point| point.temperature <= coldest).count();
        self.points.splice(..colder, [first]);
        match &mut self.top {
            Top::Critical(place) | Top::Gap(place) => *place = *place + 1 - colder,
        }
        Ok(())
    }

    /// Places of the bubble points and of the dew points, the critical point being both.
    fn side(&self, bubble: bool) -> Range<usize> {
        match (self.top, bubble) {
            (Top::Critical(place), true) => 0..place + 1,
            (Top::Gap(place), true) => 0..place,
            (Top::Critical(place) | Top::Gap(place), false) => place..self.points.len(),
        }
    }

    /// Places that one smooth line goes through around a place.
    fn smooth(&self, place: usize) -> Range<usize> {
        match self.top {
            Top::Critical(_) => 0..self.points.len(),
            Top::Gap(gap) => self.side(place < gap),
        }
    }

    /// Adds points close to the critical one, so that the polynomial through them is as good as a solution where phases are too
    /// much alike to be solved for.
    fn add_near_critical(&mut self, blend: &Blend<'_>) {
        for share in CLOSE {
            for side in [-1.0, 1.0] {
                let Top::Critical(place) = self.top else { return };
                let neighbor = if side < 0.0 { place.checked_sub(1) } else { Some(place + 1) };
                let Some(next) = neighbor.and_then(|neighbor| self.points.get(neighbor)) else { continue };
                let critical = self.points[place].ln_density;
                let at = critical + share * (next.ln_density - critical);
                let start = interpolate(&self.points[self.window(place)], at);
                let Ok(found) = solve_point(blend, &start, Held::LnDensity(at)) else { continue };
                self.points.insert(if side < 0.0 { place } else { place + 1 }, found);
                if side < 0.0 {
                    self.top = Top::Critical(place + 1);
                }
            }
        }
    }

    /// Adds the points of highest (and any lowest) temperature and pressure, so that both are monotonic between neighbors.
    fn add_extremes(&mut self, blend: &Blend<'_>) {
        for measure in [Measure::Temperature, Measure::LnPressure] {
            let mut place = 1;
            while place + 1 < self.points.len() {
                let smooth = self.smooth(place);
                if !(smooth.contains(&(place - 1)) && smooth.contains(&(place + 1))) {
                    place += 1;
                    continue;
                }
                let [before, here, after] = [place - 1, place, place + 1].map(|i| self.points[i]);
                let [a, b, c] = [before, here, after].map(|point| measure.of(&point));
                let sign = if b >= a && b >= c {
                    1.0
                } else if b <= a && b <= c {
                    -1.0
                } else {
                    place += 1;
                    continue;
                };
                let window = self.window(place);
                let value = |ln_density: f64| {
                    sign * measure.of(&interpolate(&self.points[window.clone()], ln_density))
                };
                let at = highest(value, after.ln_density, before.ln_density);
                let start = interpolate(&self.points[window], at);
                let apart = (at - here.ln_density).abs() > SAME;
                let solved = solve_point(blend, &start, Held::LnDensity(at)).ok();
                let found =
                    if start.contrast() < ALIKE { best(blend, [Some(start), solved]) } else { solved };
                let found = found.filter(|_| apart);
                if let Some(point) = found.filter(|point| sign * (measure.of(point) - b) > 0.0) {
                    let place_of = if at > here.ln_density { place } else { place + 1 };
                    self.points.insert(place_of, point);
                    match &mut self.top {
                        Top::Critical(top) if place_of <= *top => *top += 1,
                        Top::Gap(top) if place < *top => *top += 1,
                        _ => {}
                    }
                    place += 1;
                }
                place += 1;
            }
        }
    }

    /// Neighbors of a point or of the cell after it, for their polynomial.
    fn window(&self, place: usize) -> Range<usize> {
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
        let direct = solve_point(blend, &start, measure.held(value)).ok().filter(within_cell);
        if start.contrast() < ALIKE {
            // Phases too much alike to be solved for are as good as their polynomial.
            let held = |point| given(measure, value, point);
            if let Some(point) = best(blend, [Some(held(start)), direct.map(held)]) {
                return Ok(held(point));
            }
        } else if let Some(point) = direct {
            return Ok(given(measure, value, point));
        }
        // Near the highest temperature or pressure: by density, of which there is one only.
        let mut secant = Secant::new(slope);
        let mut found = start;
        let searched = newton("bubble or dew point by density", bracket, ln_density, f64::EPSILON, |at| {
            found = solve_point(blend, &interpolate(window, at), Held::LnDensity(at))?;
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

fn last_of(points: &[Point]) -> Point {
    points[points.len() - 1]
}

/// The bubble point of the coldest liquid that holds together; `None` if there is none well below the critical temperatures.
fn coldest_liquid(blend: &Blend<'_>) -> Result<Option<Point>> {
    let fluids = blend.components.fluids();
    let critical = fluids.iter().map(|fluid| fluid.critical.temperature).fold(f64::INFINITY, f64::min);
    let mut temperature = blend.coldest();
    while temperature <= 0.9 * critical {
        let found = start::bubble(blend, temperature).ok().filter(|point| point.is_bubble(blend));
        if let Some(point) = found {
            let [liquid, _] = point.concentrations(blend);
            if stability::better_phase(blend, temperature, liquid)?.is_none() {
                return Ok(Some(point));
            }
        }
        temperature += WARMER;
    }
    Ok(None)
}

/// Of points with phases that are almost alike the one closest to equilibrium, with its mean pressure.
fn best(blend: &Blend<'_>, candidates: [Option<Point>; 2]) -> Option<Point> {
    let weighed = candidates.into_iter().flatten().map(|point| {
        let point = point.with_mean_pressure(blend);
        (largest_residual(blend, &point), point)
    });
    let best = weighed.min_by(|a, b| a.0.total_cmp(&b.0));
    best.filter(|(residual, _)| *residual < ACCEPTED).map(|(_, point)| point)
}

/// The point with the value that was asked for.
fn given(measure: Measure, value: f64, point: Point) -> Point {
    match measure {
        Measure::Temperature => Point { temperature: value, ..point },
        Measure::LnPressure => point,
    }
}

/// Where a smooth function is highest between two ends, by golden sections.
fn highest(value: impl Fn(f64) -> f64, mut lower: f64, mut upper: f64) -> f64 {
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    for _ in 0..50 {
        let inner = golden * (upper - lower);
        if value(upper - inner) > value(lower + inner) {
            upper = lower + inner;
        } else {
            lower = upper - inner;
        }
    }
    0.5 * (lower + upper)
}

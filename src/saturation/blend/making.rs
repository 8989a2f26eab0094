//! How the line of bubble and dew points is made: followed, tested for stability, and completed at its top and its cold end.

use super::ends::Ends;
use super::envelope::{ACCEPTED, ALIKE, Envelope, Measure, Top, best};
use super::incipient::{Held, Point, solve_point};
use super::ladder::{Towards, follow, interpolate};
use super::{Blend, stability, start};
use crate::error::{Error, Result};

/// Step towards warmer first points where the coldest liquid does not hold together, K.
const WARMER: f64 = 4.0;

/// Share of the critical temperature: where the line does not even come down to, it turned back next to the critical point.
const FAR_DOWN: f64 = 0.9;

/// Share of the highest temperature at which dew points are sure to be stable if any are.
const MIDDLE: f64 = 0.8;

/// Of the points on a line, one of so many is tested for stability.
const EVERY: usize = 3;

/// Mixtures that are tried where the line begins.
const QUALITIES: [f64; 5] = [0.05, 0.25, 0.5, 0.75, 0.95];

/// Fewest bubble points, and dew points, of a line.
const FEWEST: usize = 4;

/// Shares of the way from the critical point to its neighbors at which points are added, each of what the one before left.
const CLOSE: [f64; 4] = [0.4, 0.4, 0.4, 0.4];

/// Distance in the logarithm of density within which two points are one.
const SAME: f64 = 1e-7;

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
        let unstable = || none("phases on them fall apart into others");
        if bubbles.len() < FEWEST {
            return Err(unstable());
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
        if dews.len() < FEWEST {
            return Err(unstable());
        }
        let top = top.unwrap_or(Top::Gap(bubbles.len()));
        bubbles.extend(dews);
        let mut line = Self { points: bubbles, top, name: name.clone(), begins_warmer: false };
        line.add_near_critical(blend);
        line.add_extremes(blend);
        if !line.begin_together(blend)? {
            return Err(unstable());
        }
        line.begins_warmer = line.coldest() > blend.coldest();
        Ok(line)
    }

    /// Cuts off what is colder than the coldest bubble and dew points with stable mixtures between them; whether there are any.
    fn begin_together(&mut self, blend: &Blend<'_>) -> Result<bool> {
        let mut coldest = self.coldest().max(last_of(&self.points).temperature);
        let warmest = self.hottest(true).min(self.hottest(false));
        while !self.holds_together(blend, coldest) {
            coldest += WARMER;
            if coldest > warmest {
                return Ok(false);
            }
        }
        let (bubble, dew) = (self.bubble(blend, coldest)?, self.dew(blend, coldest)?);
        let colder = self.points.iter().take_while(|point| point.temperature <= coldest).count();
        self.points.splice(..colder, [bubble]);
        match &mut self.top {
            Top::Critical(place) | Top::Gap(place) => *place = *place + 1 - colder,
        }
        while last_of(&self.points).temperature <= coldest {
            self.points.pop();
        }
        self.points.push(dew);
        Ok(true)
    }

    /// Whether mixtures at a temperature do not fall apart into more than two phases.
    fn holds_together(&self, blend: &Blend<'_>, temperature: f64) -> bool {
        let stable = |ends: &Ends, quality: f64| ends.with_quality(blend, quality)?.is_stable(blend);
        let ends = Ends::at_temperature(blend, self, temperature);
        ends.is_ok_and(|ends| QUALITIES.iter().all(|quality| stable(&ends, *quality).unwrap_or(false)))
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
                let found = if start.contrast() < ALIKE {
                    best(blend, [Some(start), solved], ACCEPTED)
                } else {
                    solved
                };
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

//! The line of saturated points, step by step from the coldest liquid over the critical point to the coldest vapor.
//!
//! The logarithm of the blend's density falls all along, through the highest temperature and the highest pressure too: it tells how
//! far the line is. Each point starts from the polynomial through those before it.

use super::critical::{Near, solve_critical};
use super::incipient::{Held, Point, solve_point, tangent};
use super::{Blend, PerComponent};
use crate::helmholtz::MOST;

/// Points the polynomial goes through.
const THROUGH: usize = 5;

/// Miss of a start, in logarithms of K, that the next step aims at.
const AIM: f64 = 2e-3;

/// Miss of a start beyond which the step is taken again, shorter; the second one right behind the critical point, where equations
/// bend.
const MOST_MISSED: (f64, f64) = (0.1, 0.7);

/// Contrast of the phases at which the critical point is looked for.
const NEAR_CRITICAL: f64 = 0.2;

/// Longest step in the logarithm of density, and the share of the temperature a step may change it by.
const LONGEST: (f64, f64) = (0.7, 0.03);

/// First step, K, and shortest one, in the logarithm of density.
const FIRST: f64 = 2.0;
const SHORTEST: f64 = 1e-5;

/// Most points of a line, and highest pressure followed, Pa.
const MOST_POINTS: usize = 400;
const HIGHEST: f64 = 1e8;

/// Which way a line is followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Towards {
    /// To thinner blends: up the bubble line, over the critical point, down the dew line.
    Thin,
    /// To denser blends: up the dew line.
    Dense,
}

/// A line as far as it was followed.
#[derive(Debug)]
pub(super) struct Ladder {
    /// In the order they were found.
    pub(super) points: Vec<Point>,
    /// Place of the critical point among them.
    pub(super) critical: Option<usize>,
    /// Whether the line came down to the coldest temperature.
    pub(super) ends_cold: bool,
}

/// The polynomial through points at a density: a start for the point there.
pub(super) fn interpolate(points: &[Point], ln_density: f64) -> Point {
    let mut sum = Point { temperature: 0.0, pressure: 0.0, ln_density, ln_k: [0.0; MOST] };
    let mut ln_pressure = 0.0;
    for (i, point) in points.iter().enumerate() {
        let others = points.iter().enumerate().filter(|(j, _)| *j != i);
        let weight: f64 = others
            .map(|(_, other)| (ln_density - other.ln_density) / (point.ln_density - other.ln_density))
            .product();
        sum.temperature += weight * point.temperature;
        ln_pressure += weight * point.pressure.ln();
        for (sum, k) in sum.ln_k.iter_mut().zip(point.ln_k) {
            *sum += weight * k;
        }
    }
    sum.pressure = ln_pressure.exp();
    sum
}

/// Largest miss of a start, in logarithms of K and parts of the temperature.
fn missed(start: &Point, found: &Point) -> f64 {
    let of_k = start.ln_k.iter().zip(found.ln_k).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    let of_temperature = 10.0 * (start.temperature / found.temperature - 1.0).abs();
    of_k.max(of_temperature) / found.contrast().min(1.0)
}

/// Follows the line from a first point, down to a coldest temperature. Towards denser blends it ends short of the critical
/// point.
pub(super) fn follow(blend: &Blend<'_>, first: Point, towards: Towards, coldest: f64) -> Ladder {
    let mut ladder = Ladder { points: vec![first], critical: None, ends_cold: false };
    let Some(slope) = tangent(blend, &first) else { return ladder };
    let sign = if towards == Towards::Thin { -1.0 } else { 1.0 };
    let second = |step: f64| {
        let mut start = first;
        start.ln_density += step;
        start.temperature += step * slope.temperature;
        start.pressure *= (step * slope.ln_pressure).exp();
        for (k, slope) in start.ln_k.iter_mut().zip(slope.ln_k) {
            *k += step * slope;
        }
        start
    };
    // Steps are positive, along the line.
    let mut step = (FIRST / slope.temperature.abs()).min(0.1);
    while ladder.points.len() < MOST_POINTS && step > SHORTEST {
        let points = &ladder.points;
        let Some(last) = points.last().copied() else { break };
        if ladder.critical.is_none() && last.contrast() < NEAR_CRITICAL {
            if towards == Towards::Dense {
                break;
            }
            if let Some(critical) = beyond(blend, points) {
                // As far on the other side.
                step = last.ln_density - critical.ln_density;
                ladder.critical = Some(points.len());
                ladder.points.push(critical);
                continue;
            }
        }
        if ladder.critical.is_none() && points.len() > 1 {
            step = step.min(0.6 * to_critical(points).abs()).max(SHORTEST);
        }
        let tail = &points[points.len().saturating_sub(THROUGH)..];
        let guess = |step: f64| {
            if points.len() == 1 {
                second(sign * step)
            } else {
                interpolate(tail, last.ln_density + sign * step)
            }
        };
        let mut start = guess(step);
        let change = (start.temperature / last.temperature - 1.0).abs();
        if change > LONGEST.1 {
            step *= 0.9 * LONGEST.1 / change;
            start = guess(step);
        }
        let end = start.temperature <= coldest && last.temperature > coldest && !last.is_bubble(blend);
        let held = if end {
            for _ in 0..4 {
                let per_step = (start.temperature - last.temperature) / step;
                step = (coldest - last.temperature) / per_step;
                start = guess(step);
            }
            Held::Temperature(coldest)
        } else {
            Held::LnDensity(start.ln_density)
        };
        let allowed = if last.contrast() == 0.0 { MOST_MISSED.1 } else { MOST_MISSED.0 };
        let found = solve_point(blend, &start, held).ok().filter(|found| {
            missed(&start, found) < allowed && sign * (found.ln_density - last.ln_density) > 0.0
        });
        let Some(found) = found else {
            step *= 0.4;
            continue;
        };
        let ratio = AIM / missed(&start, &found).max(1e-9);
        ladder.points.push(found);
        ladder.ends_cold = end;
        if end || found.pressure > HIGHEST || found.temperature < coldest {
            break;
        }
        step = (step * (0.9 * ratio.powf(0.2)).clamp(0.4, 1.6)).min(LONGEST.0);
    }
    ladder
}

/// Component with the largest contrast.
fn main_component(point: &Point) -> usize {
    let sizes = point.ln_k.iter().map(|k| k.abs()).enumerate();
    sizes.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(i, _)| i)
}

/// Change of the logarithm of density at which the phases would become alike if the last two points went on straight.
fn to_critical(points: &[Point]) -> f64 {
    let [.., before, last] = points else { return f64::INFINITY };
    let main = main_component(last);
    let slope = (last.ln_k[main] - before.ln_k[main]) / (last.ln_density - before.ln_density);
    let step = -last.ln_k[main] / slope;
    let onward = step * (last.ln_density - before.ln_density) > 0.0;
    if onward { step } else { f64::INFINITY }
}

/// The critical point beyond the last point.
fn beyond(blend: &Blend<'_>, points: &[Point]) -> Option<Point> {
    let last = points.last()?;
    let tail = &points[points.len().saturating_sub(THROUGH)..];
    let main = main_component(last);
    let mut step = to_critical(points);
    // The polynomial's own zero.
    for _ in 0..6 {
        let at = |step: f64| interpolate(tail, last.ln_density + step).ln_k[main];
        let slope = (at(step) - last.ln_k[main]) / step;
        step -= at(step) / slope;
    }
    if !(step < 0.0 && step > -1.0) {
        return None;
    }
    let start = interpolate(tail, last.ln_density + step);
    let mut direction: PerComponent = [0.0; MOST];
    for ((direction, k), z) in direction.iter_mut().zip(last.ln_k).zip(blend.z) {
        *direction = z * k;
    }
    let near = |reach: f64| Near {
        ln_densities: (start.ln_density - reach * step, start.ln_density + reach * step),
        temperature: start.temperature,
        direction,
    };
    [0.3, 0.9].into_iter().find_map(|reach| solve_critical(blend, &near(reach)).ok())
}

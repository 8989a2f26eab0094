//! The critical point of a blend.
//!
//! R. A. Heidemann, A. M. Khalil, AIChE J. 26 (1980) 769-779, doi 10.1002/aic.690260510: the energy surface is flat to second and
//! third order in one direction of composition.

use super::incipient::Point;
use super::side::Side;
use super::{Blend, PerComponent, not_converged};
use crate::error::Result;
use crate::helmholtz::MOST;
use crate::numeric::{Bracket, Secant, newton, solve};

/// Half of the steps of the difference formula for the third order, in relative concentration.
const STEP: f64 = 0.02;

/// Weights of the difference formula of sixth order for a first derivative, at one, two and three steps.
const DIFFERENCES: [f64; 3] = [0.75, -0.15, 1.0 / 60.0];

/// Where the search begins.
#[derive(Debug, Clone, Copy)]
pub(super) struct Near {
    /// Logarithms of molar densities of which one is too high and one too low.
    pub(super) ln_densities: (f64, f64),
    pub(super) temperature: f64,
    /// Concentrations of one phase less those of the other.
    pub(super) direction: PerComponent,
}

/// The flattest direction at a point, in units of the root of the concentrations, and the curvature along it.
fn flattest(side: &Side, start: &PerComponent) -> Option<(f64, PerComponent)> {
    let n = side.n;
    let root = side.concentrations.map(f64::sqrt);
    let mut matrix = [[0.0; MOST]; MOST];
    for i in 0..n {
        for j in 0..n {
            matrix[i][j] = root[i] * root[j] * side.model.hessian[i][j];
        }
        matrix[i][i] += side.weights[i];
    }
    let product = |of: &PerComponent, i: usize| -> f64 { (0..n).map(|j| matrix[i][j] * of[j]).sum() };
    let quotient = |of: &PerComponent| -> f64 { (0..n).map(|i| of[i] * product(of, i)).sum() };
    let mut direction = unit(start);
    let mut curvature = 0.0;
    for round in 0..8 {
        let mut shifted = matrix;
        // First towards zero, then towards the curvature met.
        let shift = if round < 3 { 0.0 } else { curvature };
        for (i, row) in shifted.iter_mut().enumerate().take(n) {
            row[i] -= shift;
        }
        // Exactly singular: the direction is found.
        let Some(next) = solve(shifted, direction, n) else { break };
        direction = unit(&next);
        let before = curvature;
        curvature = quotient(&direction);
        if round > 3 && (curvature - before).abs() < 1e-15 {
            break;
        }
    }
    curvature.is_finite().then_some((curvature, direction))
}

fn unit(of: &PerComponent) -> PerComponent {
    let length = of.iter().map(|x| x * x).sum::<f64>().sqrt();
    of.map(|x| x / length)
}

/// Slope of the curvature along the flattest direction.
fn third_order(blend: &Blend<'_>, side: &Side, direction: &PerComponent) -> f64 {
    let n = side.n;
    let mut way = [0.0; MOST];
    let mut largest = 0.0_f64;
    for i in 0..n {
        way[i] = direction[i] * side.concentrations[i].sqrt();
        largest = largest.max((way[i] / side.concentrations[i]).abs());
    }
    let step = STEP / largest;
    let curvature = |steps: f64| -> f64 {
        let mut there = side.concentrations;
        for i in 0..n {
            there[i] += steps * step * way[i];
        }
        let side = Side::new(blend, side.temperature, there);
        let row = |i: usize| -> f64 { (0..n).map(|j| side.potential_log(i, j) * way[j] / there[j]).sum() };
        (0..n).map(|i| way[i] * row(i)).sum()
    };
    let sum: f64 = (1..)
        .zip(DIFFERENCES)
        .map(|(k, weight)| weight * (curvature(f64::from(k)) - curvature(-f64::from(k))))
        .sum();
    sum / step
}

/// The critical point near a place between the coldest liquid and the coldest vapor.
pub(super) fn solve_critical(blend: &Blend<'_>, near: &Near) -> Result<Point> {
    let unsolved = |residual: f64| not_converged("critical point", 0, residual);
    let mut direction = near.direction;
    for (direction, z) in direction.iter_mut().zip(blend.z).take(blend.n) {
        *direction /= z.sqrt();
    }
    // Temperature at which the phase of a density just falls apart.
    let limit = |ln_density: f64, start: f64| -> Result<(Side, PerComponent)> {
        let concentrations = blend.at_density(ln_density.exp());
        let curvature = |temperature: f64| -> Result<f64> {
            let side = Side::new(blend, temperature, concentrations);
            flattest(&side, &direction).map(|(curvature, _)| curvature).ok_or(unsolved(f64::NAN))
        };
        let (mut lower, mut upper) = (start * 0.999, start * 1.001);
        for _ in 0..12 {
            if curvature(lower)? < 0.0 {
                break;
            }
            lower -= 2.0 * (start - lower);
        }
        for _ in 0..12 {
            if curvature(upper)? > 0.0 {
                break;
            }
            upper += 2.0 * (upper - start);
        }
        let (low, high) = (curvature(lower)?, curvature(upper)?);
        if !(low < 0.0 && high > 0.0) {
            return Err(unsolved(low));
        }
        let mut secant = Secant::new((high - low) / (upper - lower));
        let temperature = newton(
            "limit of stability",
            Bracket { lower, upper, rising: true },
            start,
            f64::EPSILON,
            |temperature| {
                let value = curvature(temperature)?;
                Ok((value, secant.at(temperature, value)))
            },
        )?;
        let side = Side::new(blend, temperature, concentrations);
        let (_, flattest) = flattest(&side, &direction).ok_or(unsolved(f64::NAN))?;
        // One of two opposite directions.
        let along: f64 = flattest.iter().zip(&direction).map(|(a, b)| a * b).sum();
        Ok((side, if along < 0.0 { flattest.map(|x| -x) } else { flattest }))
    };
    let mut temperature = near.temperature;
    let mut third = |ln_density: f64| -> Result<(f64, f64)> {
        let (side, flattest) = limit(ln_density, temperature)?;
        temperature = side.temperature;
        Ok((third_order(blend, &side, &flattest), side.temperature))
    };
    let (dense, thin) = near.ln_densities;
    let (at_dense, at_thin) = (third(dense)?.0, third(thin)?.0);
    let changes_sign = at_dense * at_thin < 0.0;
    if !changes_sign {
        return Err(unsolved(at_dense));
    }
    let mut secant = Secant::new((at_dense - at_thin) / (dense - thin));
    let ln_density = newton(
        "critical point",
        Bracket { lower: thin, upper: dense, rising: at_dense > 0.0 },
        0.5 * (dense + thin),
        f64::EPSILON,
        |ln_density| {
            let (value, _) = third(ln_density)?;
            Ok((value, secant.at(ln_density, value)))
        },
    )?;
    let (_, temperature) = third(ln_density)?;
    let side = Side::new(blend, temperature, blend.at_density(ln_density.exp()));
    Ok(Point { temperature, pressure: side.pascals(), ln_density, ln_k: [0.0; MOST] })
}

//! Whether a phase holds against falling apart: the distance of the energy surface from its tangent plane.
//!
//! M. L. Michelsen, Fluid Phase Equilib. 9 (1982) 1-19, doi 10.1016/0378-3812(82)85001-2, here in concentrations, where the
//! distance has no other variable and no density must be solved for: at a minimum of the distance the trial phase has the
//! potentials of the tested one, and the distance over R T is the pressure by which it misses that one's.

use super::side::Side;
use super::start::Liquids;
use super::{Blend, PerComponent};
use crate::error::Result;
use crate::helmholtz::MOST;
use crate::numeric::solve;

/// Share of the components' mean critical temperature below which liquid and vapor are far apart.
const COLD: f64 = 0.9;

/// Densities over that of liquid between which nothing is then.
const VAPOR: f64 = 0.15;
const LIQUID: f64 = 0.8;

/// Pressure no phase in a refrigerating machine comes near, Pa.
const ABSURD: f64 = 1e10;

/// Newton steps of one trial.
const LIMIT: usize = 100;

/// Distance below the tangent plane, over the density of the trial phase, that counts.
const BELOW: f64 = 1e-9;

/// Change of the logarithms of concentrations with which a trial ends: the distance from the plane, flat at its minimum, no longer
/// changes.
const SETTLED: f64 = 1e-5;

/// Logarithm of concentrations within which a trial is the tested phase itself.
const SAME: f64 = 1e-3;

/// A phase into which another one would fall apart, mol/m3.
pub(super) fn better_phase(
    blend: &Blend<'_>,
    temperature: f64,
    concentrations: PerComponent,
) -> Result<Option<PerComponent>> {
    let tested = Side::new(blend, temperature, concentrations);
    let n = blend.n;
    let liquids = Liquids::new(blend, temperature)?;
    // An ideal gas of the same potentials, or a thinner one.
    let mut gas = [0.0; MOST];
    for i in 0..n {
        gas[i] = (tested.potential(i) / tested.weights[i]).exp();
    }
    let most = gas.iter().sum::<f64>().max(1e-300);
    let thin = (0.1 * tested.molar_density() / most).min(1.0);
    let lowest = liquids
        .trials(blend)
        .chain([gas.map(|c| c * thin)])
        .filter_map(|trial| descend(&tested, blend, trial, &liquids))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    Ok(lowest.and_then(|(distance, phase)| (distance < -1.0).then_some(phase)))
}

/// Whether a phase lies inside the dome of cold components, where their equations of state have loops of their own with absurd
/// pressures, and minima that are no phase.
fn is_between(blend: &Blend<'_>, temperature: f64, phase: &PerComponent, liquids: &Liquids) -> bool {
    let fluids = blend.components.fluids().iter();
    let critical: f64 = fluids.zip(phase).map(|(fluid, c)| fluid.critical.temperature * c).sum();
    let compactness = liquids.compactness(phase, blend.n);
    temperature < COLD * critical / phase.iter().sum::<f64>() && compactness > VAPOR && compactness < LIQUID
}

/// Distance from the tangent plane over R T, mol/m3.
fn distance(tested: &Side, trial: &Side) -> f64 {
    let sum: f64 = (0..tested.n)
        .map(|i| {
            let (c, c0) = (trial.concentrations[i], tested.concentrations[i]);
            // Energy of mixing of the ideal gases, and that of the model from the tangent.
            tested.weights[i] * (c * (c / c0).ln() - c + c0) - tested.model.gradient[i] * (c - c0)
        })
        .sum();
    sum + trial.model.value - tested.model.value
}

/// The minimum of the distance that is reached from a trial phase, over what rounding may leave; `None` where that is the tested
/// phase.
///
/// Steps are Newton's in `2 sqrt(c)`, in which an ideal gas has the unit matrix for its curvature; where the surface is not convex
/// the diagonal is raised.
fn descend(
    tested: &Side,
    blend: &Blend<'_>,
    start: PerComponent,
    liquids: &Liquids,
) -> Option<(f64, PerComponent)> {
    let n = tested.n;
    let mut trial = Side::new(blend, tested.temperature, start);
    let mut at = distance(tested, &trial);
    for _ in 0..LIMIT {
        let mut slopes = [0.0; MOST];
        let mut curvature = [[0.0; MOST]; MOST];
        let root = trial.concentrations.map(f64::sqrt);
        for i in 0..n {
            let off = trial.potential(i) - tested.potential(i);
            slopes[i] = -off * root[i];
            for j in 0..n {
                curvature[i][j] = root[i] * root[j] * trial.model.hessian[i][j];
            }
            curvature[i][i] += tested.weights[i] + 0.5 * off;
        }
        let lowest = lower_bound(&curvature, n);
        let raise = if lowest <= 0.0 { 0.05 - lowest } else { 0.0 };
        for (i, row) in curvature.iter_mut().enumerate().take(n) {
            row[i] += raise;
        }
        let step = solve(curvature, slopes, n)?;
        let mut fraction = 1.0_f64;
        for i in 0..n {
            // No concentration to less than a quarter or more than four times in one step.
            if step[i] < -root[i] {
                fraction = fraction.min(root[i] / -step[i]);
            } else if step[i] > 2.0 * root[i] {
                fraction = fraction.min(2.0 * root[i] / step[i]);
            }
        }
        let mut moved = None;
        for _ in 0..12 {
            let mut next = [0.0; MOST];
            for i in 0..n {
                let half = root[i] + 0.5 * fraction * step[i];
                next[i] = half * half;
            }
            let side = Side::new(blend, tested.temperature, next);
            let there = distance(tested, &side);
            let falls = there <= at + 1e-14 * at.abs();
            if falls && !is_between(blend, tested.temperature, &next, liquids) {
                moved = Some((side, there));
                break;
            }
            fraction *= 0.4;
        }
        let Some((side, there)) = moved else { break };
        let change =
            (0..n).map(|i| (side.concentrations[i] / trial.concentrations[i]).ln().abs()).fold(0.0, f64::max);
        (trial, at) = (side, there);
        if change < SETTLED {
            break;
        }
    }
    let same = (0..n).all(|i| (trial.concentrations[i] / tested.concentrations[i]).ln().abs() < SAME);
    let rounding = BELOW * trial.molar_density() + blend.rounding() * tested.molar_density();
    let is_phase =
        !is_between(blend, tested.temperature, &trial.concentrations, liquids) && trial.pascals() < ABSURD;
    (!same && is_phase && at.is_finite()).then_some((at / rounding, trial.concentrations))
}

/// A lower bound of the eigenvalues of a symmetric matrix: zero-based Cholesky pivots where they are positive, else the circles of
/// Gershgorin.
fn lower_bound(matrix: &[[f64; MOST]; MOST], n: usize) -> f64 {
    let mut factor = *matrix;
    let mut smallest = f64::INFINITY;
    for k in 0..n {
        let pivot = factor[k][k];
        smallest = smallest.min(pivot);
        if pivot <= 0.0 || pivot.is_nan() {
            let circle = |i: usize| {
                let around: f64 = (0..n).filter(|j| *j != i).map(|j| matrix[i][j].abs()).sum();
                matrix[i][i] - around
            };
            return (0..n).map(circle).fold(f64::INFINITY, f64::min);
        }
        let row = factor[k];
        for i in k + 1..n {
            let share = factor[i][k] / pivot;
            for j in k + 1..n {
                factor[i][j] -= share * row[j];
            }
        }
    }
    smallest
}

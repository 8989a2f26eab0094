//! Phase equilibrium at a temperature: equal pressure and equal Gibbs energy.

use std::sync::LazyLock;

use crate::error::{Error, Result};
use crate::fluid::Fluid;
use crate::helmholtz::Equation;
use crate::numeric::gauss_legendre;

/// Densities of the two phases, kg/m3.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Densities {
    pub(crate) liquid: f64,
    pub(crate) vapor: f64,
}

/// Densities to start from, continued towards the critical point from those solved at a larger relative
/// distance `from` to a smaller one `to`.
pub(crate) fn continued(fluid: &Fluid, solved: Densities, from: f64, to: f64) -> Densities {
    let critical = fluid.critical.molar_density * fluid.molar_mass;
    let ratio = to / from;
    let middle = critical + (0.5 * (solved.liquid + solved.vapor) - critical) * ratio;
    let half = 0.5 * (solved.liquid - solved.vapor) * ratio.powf(0.35);
    Densities { liquid: middle + half, vapor: middle - half }
}

/// Iterations of the two-dimensional Newton search before it gives up.
const LIMIT: usize = 60;

/// Densities from the published-style starting values of the fluid, for `temperature` below the critical one.
pub(crate) fn guess(fluid: &Fluid, temperature: f64) -> Densities {
    let start = &fluid.saturation_guess;
    let liquid = start.liquid_density.scale * (1.0 + start.liquid_density.sum(temperature));
    let vapor = start.vapor_density.scale * start.vapor_density.sum(temperature).exp();
    Densities { liquid: liquid * fluid.molar_mass, vapor: vapor * fluid.molar_mass }
}

/// Relative distance from the critical temperature below which differences between the phases are integrated
/// instead of subtracted.
const NEAR_CRITICAL: f64 = 2e-3;

/// Solves for both densities at `temperature` (K) by Newton's method in the two reduced densities.
///
/// With `J = delta (1 + delta alpha_delta)` and `K = delta alpha_delta + alpha + ln(delta)`, equal pressure is
/// `J_liquid = J_vapor` and equal Gibbs energy is `K_liquid = K_vapor`: the ideal-gas part drops out (R. Akasaka,
/// J. Therm. Sci. Technol. 3 (2008) 442, doi 10.1299/jtst.3.442). Close to the critical point these differences
/// are integrals of dp/drho between the phases, which keeps the digits that subtraction would lose; not so for
/// water, whose singular terms have sharp bends between the phases that no quadrature follows.
///
/// Steps are shortened where they would cross the critical density. The search ends when a step no longer
/// changes either density by more than a few units in the last place, or when rounding stops the steps from shrinking.
///
/// # Errors
///
/// [`Error::NotConverged`] after 60 steps, or if the two densities fall together.
pub(crate) fn solve(
    equation: &Equation,
    fluid: &Fluid,
    temperature: f64,
    start: Densities,
) -> Result<Densities> {
    let critical_density = fluid.critical.molar_density * fluid.molar_mass;
    let near_critical = temperature > (1.0 - NEAR_CRITICAL) * fluid.critical.temperature
        && fluid.residual.nonanalytic.is_empty();
    let Densities { mut liquid, mut vapor } = start;
    let mut last = f64::INFINITY;
    for _ in 0..LIMIT {
        let l = equation.residual(temperature, liquid);
        let v = equation.residual(temperature, vapor);
        // Densities scaled by the critical one keep the two equations of like size.
        let (x, y) = (liquid / critical_density, vapor / critical_density);
        // Difference of Gibbs energy less that of pressure over the vapor's, and over the liquid's, density.
        let (over_vapor, over_liquid) = if near_critical {
            integrated(equation, temperature, critical_density, x, y)
        } else {
            let pressure = x * (1.0 + l.d) - y * (1.0 + v.d);
            let gibbs = (l.d - v.d) + (l.value - v.value) + (liquid / vapor).ln();
            (gibbs - pressure / y, gibbs - pressure / x)
        };
        let (slope_l, slope_v) = (1.0 + 2.0 * l.d + l.dd, 1.0 + 2.0 * v.d + v.dd);
        // d pressure = slope_l dx - slope_v dy; d gibbs = slope_l dx / x - slope_v dy / y.
        let determinant = 1.0 / y - 1.0 / x;
        let step_l = over_vapor / (determinant * slope_l);
        let step_v = over_liquid / (determinant * slope_v);
        let change = (step_l / x).abs().max((step_v / y).abs());
        if !change.is_finite() {
            break;
        }
        // Stay on either side of the critical density, and never more than halve or double a density.
        let mut fraction = 1.0_f64;
        for (at, step, limit) in [(x, step_l, 1.0 - x), (y, step_v, 1.0 - y)] {
            if step * limit > 0.0 && step.abs() > 0.9 * limit.abs() {
                fraction = fraction.min(0.9 * limit.abs() / step.abs());
            }
            if step.abs() > 0.5 * at {
                fraction = fraction.min(0.5 * at / step.abs());
            }
        }
        liquid += fraction * step_l * critical_density;
        vapor += fraction * step_v * critical_density;
        let noise = change < 1e-4 * (x - y) && change >= 0.5 * last;
        if (change < 4.0 * f64::EPSILON || noise) && liquid > vapor {
            return Ok(Densities { liquid, vapor });
        }
        last = change;
    }
    Err(Error::NotConverged {
        solver: "saturation",
        iterations: LIMIT,
        residual: last,
        lower: vapor,
        upper: liquid,
    })
}

/// Quadrature nodes between the phases.
static NODES: LazyLock<[(f64, f64); 16]> = LazyLock::new(gauss_legendre);

/// Integrals of `dp/drho (1/rho - 1/rho_vapor)` and of `dp/drho (1/rho - 1/rho_liquid)` from vapor to liquid,
/// reduced like the differences they stand for (`x` and `y` are the reduced densities).
fn integrated(equation: &Equation, temperature: f64, critical_density: f64, x: f64, y: f64) -> (f64, f64) {
    let half = 0.5 * (x - y);
    let mut integrals = (0.0, 0.0);
    for (node, weight) in &*NODES {
        let at = y + half * (1.0 + node);
        let r = equation.residual(temperature, at * critical_density);
        let area = weight * half * (1.0 + 2.0 * r.d + r.dd) / at;
        integrals.0 -= area * (at - y) / y;
        integrals.1 += area * (x - at) / x;
    }
    integrals
}

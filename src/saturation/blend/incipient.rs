//! A saturated phase of the blend's composition, and the first of the other phase beside it.

use std::sync::LazyLock;

use super::side::Side;
use super::{Blend, GAS_CONSTANT, PerComponent, not_converged};
use crate::error::Result;
use crate::helmholtz::MOST;
use crate::numeric::{gauss_legendre, solve};

/// A bubble point (the blend is the liquid) or a dew point (it is the vapor).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Point {
    /// K
    pub(crate) temperature: f64,
    /// Pa, that of the vapor.
    pub(crate) pressure: f64,
    /// Logarithm of the molar density of the blend, mol/m3.
    pub(super) ln_density: f64,
    /// Logarithms of the concentrations in the incipient phase over those in the blend.
    pub(super) ln_k: PerComponent,
}

/// What is held while the others are solved for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Held {
    Temperature(f64),
    /// Logarithm of a pressure in Pa.
    LnPressure(f64),
    LnDensity(f64),
}

/// Logarithms of K, logarithm of density, and temperature.
const UNKNOWNS: usize = MOST + 2;

/// Slopes of all unknowns with the logarithm of density along the line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tangent {
    pub(super) temperature: f64,
    pub(super) ln_pressure: f64,
    pub(super) ln_k: PerComponent,
}

/// Newton steps before the search gives up.
const LIMIT: usize = 40;

/// Change with which the next one would be rounding: each is the square of the one before, over that of the contrast where that is
/// small.
const SETTLED: f64 = 1e-8;

/// What rounding may leave of the unknowns next to the critical point, times the square of the contrast.
const BLURRED: f64 = 2e-14;

/// The same with components whose singular terms keep differences from being integrated.
const ROUGH: f64 = 1e-10;

/// Newton steps after which nothing but rounding moves them.
const SETTLING: usize = 12;

/// Largest `|ln K|` for which differences between the phases are integrated: subtracting would lose their digits. Not with
/// components whose singular terms have bends no quadrature follows.
const ALIKE: f64 = 0.1;

/// Quadrature nodes from phase to phase.
static NODES: LazyLock<[(f64, f64); 8]> = LazyLock::new(gauss_legendre);

impl Point {
    /// Largest difference of the phases: the largest `|ln K|`.
    pub(super) fn contrast(&self) -> f64 {
        self.ln_k.iter().fold(0.0, |largest: f64, k| largest.max(k.abs()))
    }

    /// Concentrations of the blend and of the incipient phase, mol/m3.
    pub(super) fn concentrations(&self, blend: &Blend<'_>) -> [PerComponent; 2] {
        let bulk = blend.at_density(self.ln_density.exp());
        let mut incipient = [0.0; MOST];
        for i in 0..blend.n {
            incipient[i] = bulk[i] * self.ln_k[i].exp();
        }
        [bulk, incipient]
    }

    /// Molar density of the incipient phase, mol/m3.
    fn incipient_density(&self, blend: &Blend<'_>) -> f64 {
        self.concentrations(blend)[1].iter().sum()
    }

    /// Whether the blend is the liquid.
    pub(crate) fn is_bubble(&self, blend: &Blend<'_>) -> bool {
        self.incipient_density(blend) < self.ln_density.exp()
    }

    /// The same with the mean pressure of its phases.
    pub(super) fn with_mean_pressure(&self, blend: &Blend<'_>) -> Self {
        let [bulk, incipient] = self.sides(blend);
        Self { pressure: 0.5 * (bulk.pascals() + incipient.pascals()), ..*self }
    }

    /// Both phases, the blend first.
    pub(super) fn sides(&self, blend: &Blend<'_>) -> [Side; 2] {
        self.concentrations(blend).map(|of| Side::new(blend, self.temperature, of))
    }
}

/// Solves for a saturated point from a start near it. The two phases of the start must not be alike: alike they solve the
/// equations anywhere.
pub(super) fn solve_point(blend: &Blend<'_>, start: &Point, held: Held) -> Result<Point> {
    solve_within(blend, start, held, BLURRED)
}

/// The same between points of a line, where more rounding is allowed for.
pub(super) fn solve_between(blend: &Blend<'_>, start: &Point, held: Held) -> Result<Point> {
    solve_within(blend, start, held, if blend.components.smooth { BLURRED } else { ROUGH })
}

fn solve_within(blend: &Blend<'_>, start: &Point, held: Held, rounding: f64) -> Result<Point> {
    let n = blend.n;
    let mut point = *start;
    let contrast = start.contrast();
    let mut last = f64::INFINITY;
    for round in 0..LIMIT {
        let sides = point.sides(blend);
        let (row, pascals) = pressure_row(n, &sides);
        let (matrix, right) = linearized(blend, &point, &sides, held, (&row, pascals));
        let Some(step) = solve(matrix, right, n + 2) else { break };
        let largest = step.iter().take(n).fold(0.0, |largest: f64, s| largest.max(s.abs()));
        // Densities of liquids are stiff, the unknowns of a vapor are not.
        let relative = step[n + 1] / point.temperature;
        let fraction = (1.0 / largest).min(0.3 / step[n].abs()).min(0.05 / relative.abs()).min(1.0);
        for i in 0..n {
            point.ln_k[i] += fraction * step[i];
        }
        point.ln_density += fraction * step[n];
        point.temperature += fraction * step[n + 1];
        let change = largest.max(step[n].abs()).max(relative.abs());
        let now = point.contrast();
        if !(change.is_finite() && now > 0.1 * contrast) {
            break;
        }
        // The more alike the phases, the less rounding leaves of their difference.
        let rounding = if round < SETTLING { BLURRED } else { rounding };
        let blurred = (rounding / (now * now)).min(0.3 * now);
        let noise = change < (1e-5 * now).max(blurred) && change >= 0.5 * last;
        if change < SETTLED * now.min(1.0).powi(2) || noise {
            let rise: f64 = (0..n + 2).map(|i| row[i] * step[i]).sum();
            point.pressure = pascals * (1.0 + rise);
            return Ok(point);
        }
        last = change;
    }
    Err(not_converged("bubble or dew point", LIMIT, last))
}

/// Slopes along the line of saturated points at one of them.
pub(super) fn tangent(blend: &Blend<'_>, point: &Point) -> Option<Tangent> {
    let n = blend.n;
    let sides = point.sides(blend);
    let (row, pascals) = pressure_row(n, &sides);
    let held = Held::LnDensity(point.ln_density);
    let (matrix, _) = linearized(blend, point, &sides, held, (&row, pascals));
    let mut right = [0.0; UNKNOWNS];
    right[n + 1] = 1.0;
    let slopes = solve(matrix, right, n + 2)?;
    let mut ln_k = [0.0; MOST];
    ln_k[..n].copy_from_slice(&slopes[..n]);
    let ln_pressure = (0..n + 2).map(|i| row[i] * slopes[i]).sum();
    Some(Tangent { temperature: slopes[n + 1], ln_pressure, ln_k })
}

/// The thinner one of two phases.
fn vapor<'a>(bulk: &'a Side, incipient: &'a Side) -> &'a Side {
    if bulk.molar_density() < incipient.molar_density() { bulk } else { incipient }
}

/// Slopes of the logarithm of the vapor's pressure with the unknowns, and that pressure in Pa.
fn pressure_row(n: usize, [bulk, incipient]: &[Side; 2]) -> ([f64; UNKNOWNS], f64) {
    let vapor = vapor(bulk, incipient);
    let pressure = vapor.pressure();
    let mut row = [0.0; UNKNOWNS];
    for j in 0..n {
        let slope = vapor.pressure_log(j) / pressure;
        row[n] += slope;
        if std::ptr::eq(vapor, incipient) {
            row[j] = slope;
        }
    }
    row[n + 1] = vapor.pressure_t() / pressure + vapor.temperature.recip();
    (row, vapor.pascals())
}

/// Newton's equations: matrix and right side.
fn linearized(
    blend: &Blend<'_>,
    point: &Point,
    sides: &[Side; 2],
    held: Held,
    (row, pascals): (&[f64; UNKNOWNS], f64),
) -> ([[f64; UNKNOWNS]; UNKNOWNS], [f64; UNKNOWNS]) {
    let n = blend.n;
    let [bulk, incipient] = sides;
    let mut matrix = [[0.0; UNKNOWNS]; UNKNOWNS];
    let mut right = [0.0; UNKNOWNS];
    let scale = vapor(bulk, incipient).pressure();
    for i in 0..n {
        for j in 0..n {
            matrix[i][j] = incipient.potential_log(i, j);
            matrix[i][n] += incipient.potential_log(i, j) - bulk.potential_log(i, j);
        }
        matrix[i][n + 1] = incipient.potential_t(i) - bulk.potential_t(i);
        right[i] = bulk.potential(i) - incipient.potential(i);
        matrix[n][i] = incipient.pressure_log(i) / scale;
        matrix[n][n] += (incipient.pressure_log(i) - bulk.pressure_log(i)) / scale;
    }
    matrix[n][n + 1] = (incipient.pressure_t() - bulk.pressure_t()) / scale;
    right[n] = (bulk.pressure() - incipient.pressure()) / scale;
    if point.contrast() < ALIKE && blend.components.smooth {
        let (potentials, pressure) = integrated(blend, point);
        for i in 0..n {
            right[i] = -potentials[i];
        }
        right[n] = -pressure / scale;
    }
    match held {
        Held::Temperature(temperature) => {
            matrix[n + 1][n + 1] = 1.0;
            right[n + 1] = temperature - point.temperature;
        }
        Held::LnDensity(ln_density) => {
            matrix[n + 1][n] = 1.0;
            right[n + 1] = ln_density - point.ln_density;
        }
        Held::LnPressure(ln_pressure) => {
            matrix[n + 1] = *row;
            right[n + 1] = ln_pressure - pascals.ln();
        }
    }
    (matrix, right)
}

/// Differences of potentials and pressure from the blend to the incipient phase, as integrals along the straight way between.
fn integrated(blend: &Blend<'_>, point: &Point) -> (PerComponent, f64) {
    let n = blend.n;
    let [bulk, _] = point.concentrations(blend);
    let mut way = [0.0; MOST];
    for i in 0..n {
        way[i] = bulk[i] * point.ln_k[i].exp_m1();
    }
    let (mut potentials, mut pressure) = ([0.0; MOST], 0.0);
    for (node, weight) in &*NODES {
        let (share, weight) = (0.5 * (1.0 + node), 0.5 * weight);
        let mut there = bulk;
        for i in 0..n {
            there[i] += share * way[i];
        }
        let side = Side::new(blend, point.temperature, there);
        for i in 0..n {
            let slope: f64 = (0..n).map(|j| side.potential_log(i, j) * way[j] / there[j]).sum();
            potentials[i] += weight * slope;
            pressure += weight * there[i] * slope;
        }
    }
    (potentials, pressure)
}

/// By how much the two phases of a point miss equilibrium: potentials over R T, and the pressure of the liquid over the
/// larger of its stiffness and the pressure.
pub(super) fn largest_residual(blend: &Blend<'_>, point: &Point) -> f64 {
    let [bulk, incipient] = point.sides(blend);
    let rt = GAS_CONSTANT * point.temperature;
    let pressure = point.pressure / rt;
    let of_pressure = |side: &Side| (side.pressure() - pressure).abs() / side.stiffness().abs().max(pressure);
    (0..blend.n)
        .map(|i| (bulk.potential(i) - incipient.potential(i)).abs())
        .fold(of_pressure(&bulk).max(of_pressure(&incipient)), f64::max)
}

//! A first bubble point, from nothing but the saturation of the components.

use super::incipient::{Held, Point, solve_point};
use super::side::Side;
use super::split::Split;
use super::wanted::{Wanted, solve_split};
use super::{Blend, GAS_CONSTANT, PerComponent, not_converged};
use crate::error::Result;
use crate::helmholtz::MOST;
use crate::saturation::equilibrium;

/// Rounds of substitution before Newton's method takes over.
const ROUNDS: usize = 12;

/// Newton steps for a density.
const STEPS: usize = 40;

/// Share of its critical temperature beyond which the saturation of a component is continued instead of solved.
const HOT: f64 = 0.95;

/// Molar density of liquid (mol/m3) and saturation pressure over R T (mol/m3) of each component.
fn components(blend: &Blend<'_>, temperature: f64) -> Result<[PerComponent; 2]> {
    let (mut densities, mut pressures) = ([0.0; MOST], [0.0; MOST]);
    for (i, (equation, fluid)) in blend.components.pure.iter().zip(blend.components.fluids()).enumerate() {
        let solved = |temperature: f64| {
            let guess = equilibrium::guess(fluid, temperature);
            let found = equilibrium::solve(equation, fluid, temperature, guess)?;
            let pressure = equation.at(temperature, found.vapor).pressure;
            Ok((found.liquid / fluid.molar_mass, pressure))
        };
        let hottest = HOT * fluid.critical.temperature;
        let (density, pressure) = solved(temperature.min(hottest))?;
        densities[i] = density;
        // Beyond: ln p straight in 1/T through the critical point.
        let rise = (fluid.critical.pressure / pressure).ln() / (HOT.recip() - 1.0);
        let beyond = if temperature > hottest {
            rise * (HOT.recip() - fluid.critical.temperature / temperature)
        } else {
            0.0
        };
        pressures[i] = pressure * beyond.exp() / (GAS_CONSTANT * temperature);
    }
    Ok([densities, pressures])
}

/// Concentrations of the same proportions at which the liquid has a pressure over R T.
fn liquid_at(blend: &Blend<'_>, temperature: f64, start: PerComponent, pressure: f64) -> Result<Side> {
    let mut concentrations = start;
    let mut last = f64::INFINITY;
    for _ in 0..STEPS {
        let side = Side::new(blend, temperature, concentrations);
        let (off, stiffness) = (pressure - side.pressure(), side.stiffness());
        // Where the liquid is stretched beyond what holds together it is made denser.
        let step = if stiffness > 0.0 { (off / stiffness).clamp(-0.05, 0.05) } else { 0.05 };
        if step.abs() < 1e-13 || (step.abs() < 1e-8 && step.abs() >= 0.5 * last) {
            return Ok(side);
        }
        last = step.abs();
        concentrations = concentrations.map(|c| c * step.exp());
    }
    Err(not_converged("density of a liquid blend", STEPS, last))
}

/// The bubble point at a temperature well below the critical one: the liquid tells the potentials, and a thin vapor follows from
/// them.
pub(super) fn bubble(blend: &Blend<'_>, temperature: f64) -> Result<Point> {
    let n = blend.n;
    let [densities, pressures] = components(blend, temperature)?;
    let volume: f64 = (0..n).map(|i| blend.z[i] / densities[i]).sum();
    let mut pressure = blend.mean(&pressures);
    let mut liquid = liquid_at(blend, temperature, blend.at_density(volume.recip()), pressure)?;
    let mut residual = [0.0; MOST];
    let mut vapor = [0.0; MOST];
    for _ in 0..ROUNDS {
        for i in 0..n {
            vapor[i] = ((liquid.potential(i) - residual[i]) / blend.components.weights[i]).exp();
        }
        let side = Side::new(blend, temperature, vapor);
        let before = pressure;
        // A vapor too dense to hold together is no guide.
        if !(side.stiffness() > 0.0 && side.pressure() > 0.0) {
            break;
        }
        pressure = side.pressure();
        residual = side.model.gradient;
        liquid = liquid_at(blend, temperature, liquid.concentrations, pressure)?;
        if (pressure / before - 1.0).abs() < 1e-4 {
            break;
        }
    }
    let mut ln_k = [0.0; MOST];
    for i in 0..n {
        ln_k[i] = (vapor[i] / liquid.concentrations[i]).ln();
    }
    let ln_density = liquid.molar_density().ln();
    let start = Point { temperature, pressure: f64::NAN, ln_density, ln_k };
    solve_point(blend, &start, Held::Temperature(temperature))
}

/// Shares of vapor on the way from a bubble to a dew point.
const SHARES: [f64; 9] = [0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.97, 0.995, 0.9995];

/// The dew point at the temperature of a bubble point, by way of ever more vapor.
pub(super) fn dew(blend: &Blend<'_>, bubble: &Point) -> Result<Point> {
    let held = Wanted::Temperature(bubble.temperature);
    let mut before = Split::of(blend, bubble);
    let mut last = before;
    for share in SHARES {
        let start = if last.vapor_fraction == before.vapor_fraction {
            last.with_vapor_fraction(blend, share)
        } else {
            Split::between(blend, [&before, &last], share)
        };
        let next = solve_split(blend, &start, [held, Wanted::VaporFraction(share)])?;
        (before, last) = (last, next);
    }
    let start = Split::between(blend, [&before, &last], 1.0);
    let density: f64 = start.vapor.iter().sum();
    let mut ln_k = [0.0; MOST];
    for i in 0..blend.n {
        ln_k[i] = (start.liquid[i] / start.vapor[i]).ln();
    }
    let start = Point { ln_density: density.ln(), ln_k, ..*bubble };
    solve_point(blend, &start, Held::Temperature(bubble.temperature))
}

/// What to try beside a phase, and what to make of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Liquids {
    /// Molar densities and saturation pressures over R T of the components, mol/m3.
    densities: PerComponent,
    pressures: PerComponent,
}

impl Liquids {
    pub(super) fn new(blend: &Blend<'_>, temperature: f64) -> Result<Self> {
        let [densities, pressures] = components(blend, temperature)?;
        Ok(Self { densities, pressures })
    }

    /// Each component by itself with little of the others, and what would condense from an ideal vapor of the blend's
    /// composition, mol/m3.
    pub(super) fn trials(&self, blend: &Blend<'_>) -> impl Iterator<Item = PerComponent> {
        let n = blend.n;
        let (mut condensate, z) = ([0.0; MOST], blend.z);
        for i in 0..n {
            condensate[i] = z[i] / self.pressures[i];
        }
        let densities = self.densities;
        let at_volume = move |shares: PerComponent| {
            let volume: f64 = (0..n).map(|i| shares[i] / densities[i]).sum();
            shares.map(|share| share / volume)
        };
        let pure = (0..n).map(move |main| {
            let mut shares = [0.0; MOST];
            for (i, share) in shares.iter_mut().enumerate().take(n) {
                *share = if i == main { 1.0 } else { 0.02 };
            }
            shares
        });
        pure.chain([condensate]).map(at_volume)
    }

    /// Density over that of the liquid components together.
    pub(super) fn compactness(&self, concentrations: &PerComponent, n: usize) -> f64 {
        (0..n).map(|i| concentrations[i] / self.densities[i]).sum()
    }
}

//! Newton's method for a split of which two quantities are wanted.

use super::caloric::{self, IdealGases, Sloped};
use super::side::Side;
use super::split::{Split, total};
use super::{Blend, GAS_CONSTANT, PerComponent, not_converged};
use crate::error::Result;
use crate::helmholtz::MOST;
use crate::numeric::solve;

/// What a split is asked to have. Extensive quantities are of one mole of the blend.
#[derive(Debug, Clone, Copy)]
pub(super) enum Wanted {
    Temperature(f64),
    /// Logarithm of a pressure in Pa.
    LnPressure(f64),
    /// m3
    Volume(f64),
    /// J
    Enthalpy(f64),
    /// J
    InternalEnergy(f64),
    /// J/K
    Entropy(f64),
    /// Mass of vapor over all.
    Quality(f64),
    /// Amount of vapor over all.
    VaporFraction(f64),
}

/// Logarithms of vapor over liquid amounts, logarithms of both volumes, temperature.
const UNKNOWNS: usize = MOST + 3;

type Row = [f64; UNKNOWNS];

/// Contrast of the phases from which on the liquid of the start is no more than [`MOST_MOVED`] off, in the logarithm of its density:
/// farther away lies a liquid that is none.
const APART: f64 = 3.0;
const MOST_MOVED: f64 = 0.1;

/// Change with which the next one would be rounding.
const SETTLED: f64 = 1e-8;

/// Change of concentrations and temperature that is rounding where it does not shrink.
const STILL: f64 = 1e-12;

/// What a wanted quantity may be missed by before the last step: phases may settle, or change places, without it.
const MET: f64 = 1e-6;

/// Newton steps before the search gives up.
const LIMIT: usize = 40;

/// Unknowns, and the two phases they stand for.
struct Trial {
    /// Amounts of vapor over those of liquid, logarithms.
    ratio: PerComponent,
    ln_volumes: [f64; 2],
    temperature: f64,
    /// Amounts in a mole of the blend.
    amounts: [PerComponent; 2],
    sides: [Side; 2],
    gases: Option<IdealGases>,
}

impl Trial {
    fn new(
        blend: &Blend<'_>,
        ratio: PerComponent,
        ln_volumes: [f64; 2],
        temperature: f64,
        caloric: bool,
    ) -> Self {
        let mut amounts = [[0.0; MOST]; 2];
        for i in 0..blend.n {
            // Either amount by itself, so that the smaller keeps its digits.
            amounts[0][i] = blend.z[i] / (1.0 + ratio[i].exp());
            amounts[1][i] = blend.z[i] / (1.0 + (-ratio[i]).exp());
        }
        let side = |phase: usize| {
            let volume = ln_volumes[phase].exp();
            Side::new(blend, temperature, amounts[phase].map(|amount| amount / volume))
        };
        let gases = caloric.then(|| IdealGases::new(blend.components, temperature));
        let sides = [side(0), side(1)];
        Self { ratio, ln_volumes, temperature, amounts, sides, gases }
    }

    /// The unknowns of a split.
    fn at(blend: &Blend<'_>, split: &Split, caloric: bool) -> Self {
        let amounts = [1.0 - split.vapor_fraction, split.vapor_fraction];
        let volumes = [amounts[0] / total(&split.liquid), amounts[1] / total(&split.vapor)];
        let mut ratio = [0.0; MOST];
        for i in 0..blend.n {
            ratio[i] = (split.vapor[i] * volumes[1] / (split.liquid[i] * volumes[0])).ln();
        }
        Self::new(blend, ratio, volumes.map(f64::ln), split.temperature, caloric)
    }

    fn contrast(&self) -> f64 {
        let [l, v] = &self.sides;
        (0..l.n).map(|i| (v.concentrations[i] / l.concentrations[i]).ln().abs()).fold(0.0, f64::max)
    }

    /// Turns slopes with the logarithms of the concentrations of a phase into those with the unknowns.
    fn unknowns(&self, blend: &Blend<'_>, phase: usize, log: &PerComponent, t: f64) -> Row {
        let mut row = [0.0; UNKNOWNS];
        for j in 0..blend.n {
            row[j] = log[j] * self.moved(blend, phase, j);
            row[blend.n + phase] -= log[j];
        }
        row[blend.n + 2] = t;
        row
    }

    /// Slope of the logarithm of an amount with that of the ratio.
    fn moved(&self, blend: &Blend<'_>, phase: usize, j: usize) -> f64 {
        if phase == 0 { -self.amounts[1][j] / blend.z[j] } else { self.amounts[0][j] / blend.z[j] }
    }

    /// Something per volume, of both phases together: value, and slopes with the unknowns.
    fn total(&self, blend: &Blend<'_>, of: impl Fn(&Side) -> Sloped) -> (f64, Row) {
        let (mut value, mut row) = (0.0, [0.0; UNKNOWNS]);
        for phase in 0..2 {
            let volume = self.ln_volumes[phase].exp();
            let here = of(&self.sides[phase]);
            value += volume * here.value;
            let slopes = self.unknowns(blend, phase, &here.log, here.t);
            for (entry, slope) in row.iter_mut().zip(slopes) {
                *entry += volume * slope;
            }
            row[blend.n + phase] += volume * here.value;
        }
        (value, row)
    }

    /// How far a wanted quantity is missed, with the slopes of what it is with the unknowns.
    fn wanted(&self, blend: &Blend<'_>, wanted: Wanted) -> (f64, Row) {
        let n = blend.n;
        let mut row = [0.0; UNKNOWNS];
        let scaled = |(value, row): (f64, Row), target: f64, scale: f64| {
            ((target - value) / scale, row.map(|slope| slope / scale))
        };
        match wanted {
            Wanted::Temperature(temperature) => {
                row[n + 2] = 1.0;
                (temperature - self.temperature, row)
            }
            Wanted::LnPressure(ln_pressure) => {
                let vapor = &self.sides[1];
                let pressure = vapor.pressure();
                let mut log = [0.0; MOST];
                for (j, log) in log.iter_mut().enumerate().take(n) {
                    *log = vapor.pressure_log(j) / pressure;
                }
                let t = vapor.pressure_t() / pressure + self.temperature.recip();
                (ln_pressure - vapor.pascals().ln(), self.unknowns(blend, 1, &log, t))
            }
            Wanted::Volume(volume) => {
                let one = Sloped { value: 1.0, t: 0.0, log: [0.0; MOST] };
                scaled(self.total(blend, |_| one), volume, volume)
            }
            Wanted::Enthalpy(enthalpy) => match &self.gases {
                Some(gases) => scaled(
                    self.total(blend, |side| caloric::enthalpy(side, gases)),
                    enthalpy,
                    GAS_CONSTANT * self.temperature,
                ),
                None => (f64::NAN, row),
            },
            Wanted::InternalEnergy(energy) => match &self.gases {
                Some(gases) => scaled(
                    self.total(blend, |side| caloric::internal_energy(side, gases)),
                    energy,
                    GAS_CONSTANT * self.temperature,
                ),
                None => (f64::NAN, row),
            },
            Wanted::Entropy(entropy) => match &self.gases {
                Some(gases) => {
                    scaled(self.total(blend, |side| caloric::entropy(side, gases)), entropy, GAS_CONSTANT)
                }
                None => (f64::NAN, row),
            },
            Wanted::Quality(quality) => self.share(blend, quality, &blend.components.molar_masses),
            Wanted::VaporFraction(fraction) => self.share(blend, fraction, &[1.0; MOST]),
        }
    }

    /// A share of vapor, each component counted by a weight.
    fn share(&self, blend: &Blend<'_>, target: f64, weights: &PerComponent) -> (f64, Row) {
        let all = blend.mean(weights);
        let [liquid, vapor] = &self.amounts;
        let mut row = [0.0; UNKNOWNS];
        let (mut of_liquid, mut of_vapor) = (0.0, 0.0);
        for j in 0..blend.n {
            of_liquid += liquid[j] * weights[j] / all;
            of_vapor += vapor[j] * weights[j] / all;
            row[j] = vapor[j] * liquid[j] / blend.z[j] * weights[j] / all;
        }
        // By the smaller share, so that it keeps its digits.
        let off = if target < 0.5 { target - of_vapor } else { of_liquid - (1.0 - target) };
        let scale = target.min(1.0 - target).max(f64::MIN_POSITIVE);
        (off / scale, row.map(|slope| slope / scale))
    }
}

/// Slopes of temperature, volume and entropy of a mole of the blend with the logarithm of pressure at constant enthalpy, and with enthalpy at
/// constant pressure; `None` where they are not determined.
pub(super) fn slopes(blend: &Blend<'_>, split: &Split) -> Option<[[f64; 3]; 2]> {
    let n = blend.n;
    let trial = Trial::at(blend, split, true);
    let gases = IdealGases::new(blend.components, split.temperature);
    let wanted = [Wanted::LnPressure(split.pressure.ln()), Wanted::Enthalpy(0.0)];
    let (matrix, _) = linearized(blend, &trial, &wanted);
    let one = Sloped { value: 1.0, t: 0.0, log: [0.0; MOST] };
    let (_, volume) = trial.total(blend, |_| one);
    let (_, entropy) = trial.total(blend, |side| caloric::entropy(side, &gases));
    let along = |equation: usize, change: f64| {
        let mut right = [0.0; UNKNOWNS];
        right[equation] = change;
        let moved = solve(matrix, right, n + 3)?;
        let of =
            |row: &Row| -> f64 { row.iter().zip(moved).take(n + 3).map(|(slope, step)| slope * step).sum() };
        Some([moved[n + 2], of(&volume), of(&entropy)])
    };
    Some([along(n + 1, 1.0)?, along(n + 2, (GAS_CONSTANT * split.temperature).recip())?])
}

/// Solves for the split with two wanted quantities, by Newton's method from a start near it, whose phases must not be alike.
pub(super) fn solve_split(blend: &Blend<'_>, start: &Split, wanted: [Wanted; 2]) -> Result<Split> {
    let n = blend.n;
    let is_caloric =
        |w: &Wanted| matches!(w, Wanted::Enthalpy(_) | Wanted::Entropy(_) | Wanted::InternalEnergy(_));
    let caloric = wanted.iter().any(is_caloric);
    let mut trial = Trial::at(blend, start, caloric);
    let contrast = trial.contrast();
    let (mut last, mut last_of_phases) = (f64::INFINITY, f64::INFINITY);
    for _ in 0..LIMIT {
        let (matrix, right) = linearized(blend, &trial, &wanted);
        let Some(step) = solve(matrix, right, n + 3) else { break };
        // Change of the logarithms of all concentrations.
        let (mut change, mut fraction) = (0.0_f64, 1.0_f64);
        for phase in 0..2 {
            let mut of_density = 0.0;
            for j in 0..n {
                let moved = trial.moved(blend, phase, j) * step[j] - step[n + phase];
                change = change.max(moved.abs());
                of_density += moved * trial.sides[phase].concentrations[j];
            }
            of_density /= trial.sides[phase].molar_density();
            fraction = fraction.min(if phase == 0 { 0.15 } else { 0.7 } / of_density.abs());
        }
        let largest = step.iter().take(n).fold(0.0, |largest: f64, s| largest.max(s.abs()));
        let relative = step[n + 2] / trial.temperature;
        fraction = fraction.min(1.5 / largest).min(1.0 / change).min(0.05 / relative.abs());
        let mut ratio = trial.ratio;
        for i in 0..n {
            ratio[i] += fraction * step[i];
        }
        let ln_volumes = std::array::from_fn(|phase| trial.ln_volumes[phase] + fraction * step[n + phase]);
        let temperature = trial.temperature + fraction * step[n + 2];
        trial = Trial::new(blend, ratio, ln_volumes, temperature, caloric);
        // Of a trace of a phase rounding may leave no digits, while the phases themselves are known.
        let of_phases = change.max(relative.abs());
        let still = of_phases < STILL && of_phases >= 0.5 * last_of_phases;
        last_of_phases = of_phases;
        let change = change.max(relative.abs()).max(largest);
        let now = trial.contrast();
        if !(change.is_finite() && now > 0.1 * contrast) {
            break;
        }
        let noise = change < 1e-5 * now && change >= 0.5 * last;
        if change < SETTLED * now.min(1.0).powi(2) || noise || still {
            let [l, v] = &trial.sides;
            let moved = (l.molar_density() / total(&start.liquid)).ln().abs();
            let is_other = contrast > APART && moved > MOST_MOVED;
            let is_missed = right[n + 1].abs().max(right[n + 2].abs()) > MET;
            if is_other || is_missed || l.molar_density() <= v.molar_density() {
                break;
            }
            return Ok(Split {
                temperature,
                pressure: v.pascals(),
                vapor_fraction: trial.amounts[1].iter().sum(),
                liquid: l.concentrations,
                vapor: v.concentrations,
            });
        }
        last = change;
    }
    Err(not_converged("split into liquid and vapor", LIMIT, last))
}

/// Newton's equations.
fn linearized(
    blend: &Blend<'_>,
    trial: &Trial,
    wanted: &[Wanted; 2],
) -> ([[f64; UNKNOWNS]; UNKNOWNS], [f64; UNKNOWNS]) {
    let n = blend.n;
    let mut matrix = [[0.0; UNKNOWNS]; UNKNOWNS];
    let mut right = [0.0; UNKNOWNS];
    let [l, v] = &trial.sides;
    let scale = v.pressure();
    let mut fill = |equation: usize, of: &dyn Fn(&Side) -> (PerComponent, f64, f64)| {
        for (phase, sign) in [(0, -1.0), (1, 1.0)] {
            let (log, t, value) = of(&trial.sides[phase]);
            let row = trial.unknowns(blend, phase, &log, t);
            for (entry, slope) in matrix[equation].iter_mut().zip(row) {
                *entry += sign * slope;
            }
            right[equation] -= sign * value;
        }
    };
    for i in 0..n {
        fill(i, &|side| {
            let mut log = [0.0; MOST];
            for (j, log) in log.iter_mut().enumerate().take(n) {
                *log = side.potential_log(i, j);
            }
            (log, side.potential_t(i), side.potential(i))
        });
    }
    fill(n, &|side| {
        let mut log = [0.0; MOST];
        for (j, log) in log.iter_mut().enumerate().take(n) {
            *log = side.pressure_log(j) / scale;
        }
        (log, side.pressure_t() / scale, side.pressure() / scale)
    });
    debug_assert!(l.n == v.n);
    for (k, wanted) in wanted.iter().enumerate() {
        let (off, row) = trial.wanted(blend, *wanted);
        matrix[n + 1 + k] = row;
        right[n + 1 + k] = off;
    }
    (matrix, right)
}

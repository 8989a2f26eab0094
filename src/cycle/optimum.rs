//! Interstage pressures that solve for something: equal heads, or the best COP.

use std::ops::RangeInclusive;

use super::PerStage;
use super::circuit::Circuit;
use super::conditions::Conditions;
use super::ends::Ends;
use super::inputs::Inputs;
use super::pressures::InterstagePressures;
use crate::error::{Error, Result};
use crate::numeric::{Bracket, Dual, Real, Secant, newton, solve};

/// Most interstages of the rules that solve.
const MOST: usize = 15;

/// Rounds before a search gives up.
const LIMIT: usize = 60;

/// Change of the logarithm of a pressure that ends a search.
const SETTLED: f64 = 1e-12;

/// The same of the best pressures, about which the COP is flat, and of one of them in one round.
const SETTLED_AT_BEST: f64 = 1e-9;
const ROOT: f64 = 1e-10;

/// Relative difference below which two COPs are the same but for rounding.
const SAME_COP: f64 = 1e-12;

/// Nearest that the best pressure comes to its neighbors, as a share of the distance between them in the logarithm.
const MARGIN: f64 = 0.02;

/// Where the best interstage pressures stand and how flat the COP is about them.
#[derive(Debug, Clone, PartialEq)]
pub struct PressureOptimum {
    pub(crate) pressures: Vec<f64>,
    pub(crate) exponents: Vec<f64>,
    pub(crate) cop: f64,
    pub(crate) cop_lost: Vec<f64>,
}

impl PressureOptimum {
    /// Inlet pressures of the second to the last stage, Pa.
    pub fn pressures(&self) -> &[f64] {
        &self.pressures
    }

    /// The same as exponents `ln(p / p_e) / ln(p_c / p_e)`.
    pub fn exponents(&self) -> &[f64] {
        &self.exponents
    }

    /// COP there.
    pub fn cop(&self) -> f64 {
        self.cop
    }

    /// Share of the COP that is lost where one of the pressures is off by 0.1 in its exponent, the worse of both sides, the others
    /// held: how flat the optimum is. NaN where a pressure that far off does not lie between its neighbors.
    pub fn cop_lost_off_by_a_tenth(&self) -> &[f64] {
        &self.cop_lost
    }
}

/// Flow over pressures that may carry derivatives.
struct Trial<'a, R> {
    circuit: &'a Circuit,
    inputs: Inputs<R>,
    ends: Ends<R>,
}

impl<'a, R: Real> Trial<'a, R> {
    fn new(circuit: &'a Circuit, inputs: Inputs<R>) -> Result<Self> {
        let refrigerant = circuit.refrigerant();
        let evaporating = refrigerant.saturated_at_temperature(inputs.evaporating_temperature)?;
        let condensing = refrigerant.saturated_at_temperature(inputs.condensing_temperature)?;
        let ends = Ends::new(refrigerant, &inputs, &evaporating, &condensing)?;
        Ok(Self { circuit, inputs, ends })
    }

    /// Differences of the heads of neighboring stages, the upper less the lower.
    fn differences(&self, ln: &[R]) -> Result<PerStage<R>> {
        let between: PerStage<R> = ln.iter().map(|ln| ln.exp()).collect();
        let flow = self.circuit.circulate(&self.inputs, &self.ends, &between)?;
        let heads: PerStage<R> = flow.stages.iter().map(|stage| stage.compressed.head).collect();
        Ok(heads.windows(2).map(|pair| pair[1] - pair[0]).collect())
    }

    fn cop(&self, ln: &[R]) -> Result<R> {
        let between: PerStage<R> = ln.iter().map(|ln| ln.exp()).collect();
        let flow = self.circuit.circulate(&self.inputs, &self.ends, &between)?;
        Ok(flow.refrigerating_effect(&self.ends) / flow.work())
    }
}

/// Numbers with the derivative to some of them that move together.
fn along(ln: &[f64], places: &RangeInclusive<usize>) -> PerStage<Dual<1>> {
    let lift =
        |(k, &ln): (usize, &f64)| if places.contains(&k) { Dual::input(ln, 0) } else { Dual::constant(ln) };
    ln.iter().enumerate().map(lift).collect()
}

impl Circuit {
    /// Where the best interstage pressures stand, whatever the rule of the circuit.
    ///
    /// The derivative of the COP with each pressure is exact; its root is searched between the neighbors, one pressure after the other, until
    /// none moves; those of economizers that would pass each other together. For an optimum so flat the position matters little: see
    /// [`cop_lost_off_by_a_tenth`](PressureOptimum::cop_lost_off_by_a_tenth).
    ///
    /// # Errors
    ///
    /// Those of [`Circuit::solve`]; [`Error::Inconsistent`] where the tanks part a blend.
    pub fn pressure_optimum(&self, conditions: &Conditions) -> Result<PressureOptimum> {
        conditions.check(self.refrigerant())?;
        if self.parts_blend() {
            return Err(Error::Inconsistent {
                arguments: "interstage pressures and tank separation",
                reason: "the best pressures are searched at fixed composition".to_owned(),
            });
        }
        let best = self.clone().with_interstage_pressures(InterstagePressures::BestCop)?;
        let trial = Trial::new(&best, Inputs::new(&best, conditions))?;
        let ln: Vec<f64> = best.best_pressures(&trial.inputs)?.iter().map(|p: &f64| p.ln()).collect();
        let (low, high) = (trial.ends.evaporating_pressure.ln(), trial.ends.condensing_pressure.ln());
        let cop = trial.cop(&ln)?;
        let lost = |place: usize| {
            let off = |by: f64| -> Option<f64> {
                let mut moved = ln.clone();
                *moved.get_mut(place)? += by * (high - low);
                let inside = std::iter::once(&low).chain(&moved).chain([&high]).is_sorted();
                inside.then(|| Some(1.0 - trial.cop(&moved).ok()? / cop)).flatten()
            };
            match (off(-0.1), off(0.1)) {
                (Some(below), Some(above)) => below.max(above),
                _ => f64::NAN,
            }
        };
        Ok(PressureOptimum {
            pressures: ln.iter().map(|ln| ln.exp()).collect(),
            exponents: ln.iter().map(|ln| (ln - low) / (high - low)).collect(),
            cop,
            cop_lost: (0..ln.len()).map(lost).collect(),
        })
    }

    fn refuse_too_many(&self) -> Result<()> {
        let interstages = self.interstages().len();
        if interstages <= MOST {
            return Ok(());
        }
        Err(Error::Inconsistent {
            arguments: "interstage pressures and stages",
            reason: format!(
                "{interstages} pressures are to be solved for; {MOST} at most: give them, or use another rule"
            ),
        })
    }

    /// Pressures that give all stages the same head. Their derivatives are those of the solution, not of the iteration.
    pub(super) fn equal_heads<R: Real>(&self, inputs: &Inputs<R>, ends: &Ends<R>) -> Result<PerStage<R>> {
        self.refuse_too_many()?;
        let start = self.simple_pressures(
            &inputs.constants::<f64>(),
            ends.evaporating_pressure.value(),
            ends.condensing_pressure.value(),
        )?;
        let mut ln: PerStage<f64> = start.iter().map(|p| p.ln()).collect();
        let n = ln.len();
        let slopes = Trial::new(self, inputs.constants::<Dual<1>>())?;
        let given_up = |residual| Error::NotConverged {
            solver: "interstage pressures of equal head",
            iterations: LIMIT,
            residual,
            lower: f64::NAN,
            upper: f64::NAN,
        };
        let mut residual = f64::NAN;
        for _ in 0..LIMIT {
            let mut matrix = [[0.0; MOST]; MOST];
            let mut right = [0.0; MOST];
            for column in 0..n {
                let found = slopes.differences(&along(&ln, &(column..=column)))?;
                for ((row, right), difference) in matrix.iter_mut().zip(&mut right).zip(found) {
                    row[column] = difference.slope[0];
                    *right = -difference.value;
                }
            }
            residual = right.iter().fold(0.0_f64, |largest, r| largest.max(r.abs()));
            let step = solve(matrix, right, n).ok_or_else(|| given_up(residual))?;
            let longest = step.iter().fold(0.0_f64, |longest, s| longest.max(s.abs()));
            if longest <= SETTLED {
                // One step more, which carries the derivatives.
                let here: PerStage<R> = ln.iter().map(|&ln| R::constant(ln)).collect();
                let trial = Trial { circuit: self, inputs: inputs.clone(), ends: *ends };
                let differences = trial.differences(&here)?;
                return Ok(here
                    .iter()
                    .enumerate()
                    .map(|(k, &ln)| (ln - inverse_row(matrix, n, k, &differences)).exp())
                    .collect());
            }
            // No step crosses a neighbor.
            let gap = smallest_gap(&ln, ends.evaporating_pressure.value(), ends.condensing_pressure.value());
            let shorter = (0.4 * gap / longest).min(1.0);
            ln.iter_mut().zip(step).for_each(|(ln, step)| *ln += shorter * step);
        }
        Err(given_up(residual))
    }

    /// Pressures of the best COP, without derivatives.
    pub(super) fn best_pressures<R: Real>(&self, inputs: &Inputs<R>) -> Result<PerStage<R>> {
        self.refuse_too_many()?;
        let trial = Trial::new(self, inputs.constants::<Dual<1>>())?;
        let low = trial.ends.evaporating_pressure.value;
        let high = trial.ends.condensing_pressure.value;
        let cop = |ln: &[f64]| trial.cop(&along(ln, &(0..=0))).map(|cop| cop.value);
        let plain = inputs.constants::<f64>();
        let start = self.simple_pressures(&plain, low, high)?;
        let mut ln: PerStage<f64> = start.iter().map(|p| p.ln()).collect();
        let mut best = (f64::NEG_INFINITY, ln.clone());
        let mut try_these = |others: Vec<PerStage<f64>>| {
            for other in others {
                match cop(&other) {
                    Ok(found) if found > best.0 => best = (found, other),
                    _ => {}
                }
            }
        };
        let first = cop(&ln);
        if first.is_ok() {
            try_these(vec![ln.clone()]);
        }
        if self.interstages().iter().all(|between| !between.is_direct()) {
            // From the best of the other rules, so that none of them is better where there are several optima.
            try_these(self.by_other_rules(&plain));
        }
        if first.is_err() {
            try_these(lattice(ln.len(), low.ln(), high.ln()));
        }
        if best.0 == f64::NEG_INFINITY {
            // No pressures were found at which everything works: why not at the first.
            first?;
            return Err(Error::Inconsistent {
                arguments: "interstage pressures and conditions",
                reason: "no interstage pressures were found at which there is a COP".to_owned(),
            });
        }
        ln.clone_from(&best.1);
        for _ in 0..LIMIT {
            let before = ln.clone();
            for place in 0..ln.len() {
                let below = if place == 0 { low.ln() } else { ln[place - 1] };
                if self.interstages()[place].is_direct() {
                    // Halfway, stage by stage, to the next that is fixed by an economizer.
                    let rest = &self.interstages()[place..];
                    let steps = rest.iter().position(|between| !between.is_direct()).unwrap_or(rest.len());
                    let next = ln.get(place + steps).copied().unwrap_or(high.ln());
                    ln[place] = below + (next - below) / (steps + 1) as f64;
                    continue;
                }
                let above = ln.get(place + 1).copied().unwrap_or(high.ln());
                ln[place] = trial.best_between(&ln, &(place..=place), (below, above))?;
            }
            self.move_together(&trial, &mut ln, (low.ln(), high.ln()))?;
            let moved =
                ln.iter().zip(&before).fold(0.0_f64, |most, (now, then)| most.max((now - then).abs()));
            // Pressed against each other or against an end they may have lost some.
            let found = cop(&ln)?;
            if found >= best.0 * (1.0 - SAME_COP) {
                best = (found, ln.clone());
            }
            if moved <= SETTLED_AT_BEST {
                break;
            }
        }
        // Only economizers that are worth nothing keep moving, from one place that is no use to another: of all the best is told.
        Ok(best.1.iter().map(|ln| R::constant(ln.exp())).collect())
    }
}

impl Circuit {
    /// Logarithms of the pressures by the rules that ask for no temperatures, as far as they can be told.
    fn by_other_rules(&self, inputs: &Inputs<f64>) -> Vec<PerStage<f64>> {
        [InterstagePressures::EqualRatio, InterstagePressures::EqualHead]
            .into_iter()
            .filter_map(|rule| {
                let other = self.clone().with_interstage_pressures(rule).ok()?;
                let ends = Trial::new(&other, inputs.clone()).ok()?.ends;
                let pressures = other.pressures_between(inputs, &ends).ok()?;
                Some(pressures.iter().map(|p| p.ln()).collect())
            })
            .collect()
    }

    /// Economizers that stand as close as they may would pass each other, as where one of them is worth nothing: one by one they would
    /// creep, so they are moved together.
    fn move_together(
        &self,
        trial: &Trial<'_, Dual<1>>,
        ln: &mut [f64],
        (low, high): (f64, f64),
    ) -> Result<()> {
        let end_below = |ln: &[f64], k: usize| if k == 0 { low } else { ln[k - 1] };
        let end_above = |ln: &[f64], k: usize| ln.get(k + 1).copied().unwrap_or(high);
        let close = |ln: &[f64], k: usize| {
            let economizers = self.interstages().get(k..=k + 1);
            economizers.is_some_and(|pair| pair.iter().all(|between| !between.is_direct()))
                && ln[k + 1] - ln[k] <= 2.0 * MARGIN * (end_above(ln, k + 1) - end_below(ln, k))
        };
        let mut first = 0;
        while first < ln.len() {
            let mut last = first;
            while close(ln, last) {
                last += 1;
            }
            if last > first {
                let ends = (end_below(ln, first), end_above(ln, last));
                let by = trial.best_between(ln, &(first..=last), ends)? - ln[first];
                ln[first..=last].iter_mut().for_each(|ln| *ln += by);
            }
            first = last + 1;
        }
        Ok(())
    }
}

impl Trial<'_, Dual<1>> {
    /// Logarithm of the best pressure at one place, the others held; or of the first of several that move together.
    fn best_between(
        &self,
        ln: &[f64],
        places: &RangeInclusive<usize>,
        (below, above): (f64, f64),
    ) -> Result<f64> {
        let start = ln[*places.start()];
        let above = above - (ln[*places.end()] - start);
        let margin = MARGIN * (above - below);
        let bracket = Bracket { lower: below + margin, upper: above - margin, rising: false };
        let (mut secant, mut possible) = (None, start);
        let moved = |x: f64| {
            let mut trial = ln.to_vec();
            trial[places.clone()].iter_mut().for_each(|ln| *ln += x - start);
            self.cop(&along(&trial, places))
        };
        let best = newton("interstage pressure of the best COP", bracket, start, ROOT, |x| {
            match moved(x) {
                Ok(cop) => {
                    possible = x;
                    // The COP loses a few percent of itself where it is off by the whole distance.
                    let rough = -0.3 * cop.value / (above - below).powi(2);
                    let slope = secant.get_or_insert_with(|| Secant::new(rough)).at(x, cop.slope[0]);
                    Ok((cop.slope[0], slope.min(0.1 * rough)))
                }
                // Where an exchanger or a tank cannot work the best is on the side where the search began.
                Err(Error::Inconsistent { .. } | Error::OutOfRange { .. }) if x != start => {
                    Ok((if x > start { f64::NEG_INFINITY } else { f64::INFINITY }, 1.0))
                }
                Err(error) => Err(error),
            }
        })?;
        // At the end of what can work rounding may lead beyond it.
        Ok(if moved(best).is_ok() { best } else { possible })
    }
}

/// Rising pressures on marks that divide the way between the ends evenly: every choice of marks, about a thousand choices at most.
fn lattice(places: usize, low: f64, high: f64) -> Vec<PerStage<f64>> {
    let choices = |marks: usize| (0..places).fold(1, |n: usize, k| n * (marks - k) / (k + 1));
    let marks = (places..60).take_while(|&marks| choices(marks) <= 1000).last().unwrap_or(places);
    let mut chosen: Vec<usize> = (0..places).collect();
    let mut all = Vec::new();
    loop {
        let share = |mark: usize| (mark + 1) as f64 / (marks + 1) as f64;
        all.push(chosen.iter().map(|&mark| low + share(mark) * (high - low)).collect());
        // The last that can move up moves, those after it follow closely.
        let Some(moving) = (0..places).rev().find(|&k| chosen[k] < marks - places + k) else { return all };
        let next = chosen[moving] + 1;
        chosen[moving..].iter_mut().enumerate().for_each(|(k, mark)| *mark = next + k);
    }
}

/// Smallest distance of neighbors among pressures and the two ends, in the logarithm.
fn smallest_gap(ln: &[f64], low: f64, high: f64) -> f64 {
    let (low, high) = (low.ln(), high.ln());
    let above = ln.iter().copied().chain([high]);
    std::iter::once(low)
        .chain(ln.iter().copied())
        .zip(above)
        .fold(f64::INFINITY, |gap, (a, b)| gap.min(b - a))
        .max(0.0)
}

/// One row of the inverse of a matrix times a vector.
fn inverse_row<R: Real>(matrix: [[f64; MOST]; MOST], n: usize, row: usize, vector: &[R]) -> R {
    let mut sum = R::constant(0.0);
    for (column, &entry) in vector.iter().enumerate() {
        let mut unit = [0.0; MOST];
        unit[column] = 1.0;
        if let Some(inverse) = solve(matrix, unit, n) {
            sum = sum + entry * inverse[row];
        }
    }
    sum
}

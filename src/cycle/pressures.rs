//! Where the interstage pressures stand.

use super::PerStage;
use super::circuit::Circuit;
use super::ends::Ends;
use super::inputs::Inputs;
use crate::error::{Error, Result, within};
use crate::numeric::Real;

/// The rule for the inlet pressures of the second to the last stage. Losses are not included: what delivers into a stage inlet stands
/// higher.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum InterstagePressures {
    /// The same pressure ratio in every stage: `p_k = p_e (p_c / p_e)^(k / n)`.
    EqualRatio,
    /// Saturation temperatures at equal steps between evaporating and condensing temperature.
    EqualTemperatureStep,
    /// The same head in every stage, isentropic or polytropic as its efficiency is defined.
    EqualHead,
    /// The highest COP. Between stages without an economizer, where the COP would only favor fewer stages, pressure ratios are equal.
    BestCop,
    /// Given pressures, Pa absolute, from the lowest up.
    Given(Vec<f64>),
}

impl InterstagePressures {
    pub(crate) fn check(&self, interstages: usize) -> Result<()> {
        let Self::Given(given) = self else { return Ok(()) };
        if given.len() != interstages {
            return Err(Error::WrongLength {
                argument: "interstage pressures",
                found: given.len(),
                expected: interstages,
            });
        }
        let mut last = 0.0;
        for &pressure in given {
            within(
                "interstage pressure",
                pressure,
                f64::MIN_POSITIVE,
                1e12,
                "Pa",
                "an absolute pressure is positive",
            )?;
            if pressure <= last {
                return Err(Error::Inconsistent {
                    arguments: "interstage pressures",
                    reason: format!(
                        "they must rise from stage to stage, but {pressure} Pa follows {last} Pa"
                    ),
                });
            }
            last = pressure;
        }
        Ok(())
    }
}

impl Circuit {
    /// Pressures at the inlets of stage 2 on, by the rule of the circuit.
    pub(crate) fn pressures_between<R: Real>(
        &self,
        inputs: &Inputs<R>,
        ends: &Ends<R>,
    ) -> Result<PerStage<R>> {
        match self.interstage_pressures() {
            InterstagePressures::EqualHead => self.equal_heads(inputs, ends),
            InterstagePressures::BestCop => self.best_pressures(inputs),
            _ => self.simple_pressures(inputs, ends.evaporating_pressure, ends.condensing_pressure),
        }
    }

    /// The same by a rule that asks for nothing but the ends; equal temperature steps in place of other rules.
    pub(crate) fn simple_pressures<R: Real>(
        &self,
        inputs: &Inputs<R>,
        low: R,
        high: R,
    ) -> Result<PerStage<R>> {
        let stages = self.stages().len();
        let share = |k: usize| k as f64 / stages as f64;
        match self.interstage_pressures() {
            InterstagePressures::EqualRatio => {
                let ln_ratio = (high / low).ln();
                Ok((1..stages).map(|k| low * (ln_ratio * share(k)).exp()).collect())
            }
            InterstagePressures::Given(_) => {
                let (lowest, highest) = (low.value(), high.value());
                let outside = |p: &&R| p.value() < lowest || p.value() > highest;
                if let Some(outside) = inputs.given.iter().find(outside) {
                    return Err(Error::Inconsistent {
                        arguments: "interstage pressures",
                        reason: format!(
                            "{} Pa is not between the evaporating pressure {lowest} Pa and the condensing pressure {highest} Pa",
                            outside.value()
                        ),
                    });
                }
                Ok(inputs.given.clone())
            }
            _ => {
                let (cold, hot) = (inputs.evaporating_temperature, inputs.condensing_temperature);
                (1..stages)
                    .map(|k| {
                        let temperature = cold + (hot - cold) * share(k);
                        Ok(self.refrigerant().saturated_at_temperature(temperature)?.pressure)
                    })
                    .collect()
            }
        }
    }
}

//! Where the interstage pressures stand.

use crate::error::{Error, Result, within};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;

/// The rule for the inlet pressures of the second to the last stage.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum InterstagePressures {
    /// The same pressure ratio in every stage: `p_k = p_e (p_c / p_e)^(k / n)`.
    EqualRatio,
    /// Saturation temperatures at equal steps between evaporating and condensing temperature.
    EqualTemperatureStep,
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

    /// Pressures at the inlets of stage 2 to `stages`.
    pub(crate) fn between<R: Real>(
        &self,
        refrigerant: &Refrigerant,
        stages: usize,
        (cold, evaporating): (R, R),
        (hot, condensing): (R, R),
    ) -> Result<Vec<R>> {
        let share = |k: usize| k as f64 / stages as f64;
        match self {
            Self::EqualRatio => {
                let ln_ratio = (condensing / evaporating).ln();
                Ok((1..stages).map(|k| evaporating * (ln_ratio * share(k)).exp()).collect())
            }
            Self::EqualTemperatureStep => (1..stages)
                .map(|k| Ok(refrigerant.saturated_at_temperature(cold + (hot - cold) * share(k))?.pressure))
                .collect(),
            Self::Given(given) => {
                let (lowest, highest) = (evaporating.value(), condensing.value());
                if let Some(outside) = given.iter().find(|&&p| p < lowest || p > highest) {
                    return Err(Error::Inconsistent {
                        arguments: "interstage pressures",
                        reason: format!(
                            "{outside} Pa is not between the evaporating pressure {lowest} Pa and the condensing pressure \
                             {highest} Pa"
                        ),
                    });
                }
                Ok(given.iter().map(|&p| R::constant(p)).collect())
            }
        }
    }
}

//! From a duty to the saturation temperatures of every circuit.

use super::duty::{ChilledWater, Duty};
use super::{Chiller, WaterPaths, WateredCircuit};
use crate::cycle::{Conditions, Inputs, Size, Solution};
use crate::error::{Error, Result};
use crate::exchanger::{Exchange, Known, Terms, WaterFlow};
use crate::numeric::{Bracket, Dual, Real, Secant, newton};

/// Every number of a duty and a chiller, over any [`Real`].
#[derive(Debug, Clone)]
pub(super) struct Numbers<R> {
    pub(super) capacity: R,
    pub(super) chilled_temperature: R,
    pub(super) chilled_flow: R,
    pub(super) condenser_temperature: R,
    pub(super) condenser_flow: R,
    /// One entry a circuit.
    pub(super) circuits: Vec<CircuitNumbers<R>>,
}

/// Those of one circuit.
#[derive(Debug, Clone)]
pub(super) struct CircuitNumbers<R> {
    /// Factors on what describes the exchangers.
    pub(super) evaporator: R,
    pub(super) condenser: R,
    /// Saturation temperatures in it are not used.
    pub(super) inputs: Inputs<R>,
}

/// A solved circuit over any [`Real`].
#[derive(Debug, Clone)]
pub(super) struct Solved<R> {
    pub(super) capacity: R,
    pub(super) evaporator: Exchange<R>,
    pub(super) condenser: Exchange<R>,
    pub(super) solution: Solution<R>,
    pub(super) inputs: Inputs<R>,
}

/// How far from the entering water a condensing temperature is searched first, K, and how often the distance is doubled.
const FIRST: f64 = 10.0;
const DOUBLINGS: usize = 8;

impl WateredCircuit {
    /// Conditions at saturation temperatures with a capacity.
    pub(super) fn conditions(&self, evaporating: f64, condensing: f64, capacity: f64) -> Conditions {
        Conditions::new(evaporating, condensing, Size::Capacity(capacity))
            .with_suction_superheat(self.suction_superheat)
            .with_subcooling(self.subcooling)
            .with_liquid_carryover(self.liquid_carryover)
            .with_hot_gas_bypass(self.hot_gas_bypass)
    }

    /// The cycle between two saturation temperatures.
    fn cycle<R: Real>(&self, inputs: &Inputs<R>, evaporating: R, condensing: R) -> Result<Inputs<R>> {
        // Checked by value, so that errors name what was asked for.
        self.conditions(evaporating.value(), condensing.value(), 1.0).check(self.circuit.refrigerant())?;
        Ok(Inputs {
            evaporating_temperature: evaporating,
            condensing_temperature: condensing,
            ..inputs.clone()
        })
    }
}

/// An exchanger's terms with a factor on what describes it and a share of the water flow.
fn terms<R: Real>(terms: Terms<R>, factor: R, flow: R) -> Terms<R> {
    Terms { transfer: terms.transfer * factor, mass_flow: flow }
}

/// Refuses vapor that leaves hotter than the water that heats it, and liquid that leaves colder than the water that cools it.
fn refuse_crossing<R: Real>(
    evaporator: &Exchange<R>,
    condenser: &Exchange<R>,
    solution: &Solution<R>,
) -> Result<()> {
    let vapor = solution.ends.evaporator_outlet.temperature.value();
    let liquid = solution.ends.condenser_outlet.temperature.value();
    let (chilled, cooling) = (evaporator.water_entering.value(), condenser.water_entering.value());
    if vapor > chilled {
        return Err(Error::Inconsistent {
            arguments: "suction superheat and chilled water",
            reason: format!(
                "vapor would leave the evaporator at {vapor:.3} K, heated by water at {chilled:.3} K"
            ),
        });
    }
    if liquid < cooling {
        return Err(Error::Inconsistent {
            arguments: "subcooling and condenser water",
            reason: format!(
                "liquid would leave the condenser at {liquid:.3} K, cooled by water at {cooling:.3} K"
            ),
        });
    }
    Ok(())
}

/// Heat that a solved cycle gives up in the condenser, per capacity.
fn heat_ratio<R: Real>(solution: &Solution<R>) -> R {
    let given = solution.discharge().enthalpy - solution.ends.condenser_outlet.enthalpy;
    solution.condenser_flow() * given / solution.refrigerating_effect()
}

impl Chiller {
    /// The numbers of a duty, made by a function of each.
    pub(super) fn numbers(&self, duty: &Duty) -> Numbers<f64> {
        Numbers {
            capacity: duty.capacity(),
            chilled_temperature: duty.chilled_water_temperature().temperature(),
            chilled_flow: duty.chilled_water().mass_flow(),
            condenser_temperature: duty.condenser_water_entering(),
            condenser_flow: duty.condenser_water().mass_flow(),
            circuits: self
                .circuits
                .iter()
                .map(|of| CircuitNumbers {
                    evaporator: 1.0,
                    condenser: 1.0,
                    inputs: Inputs::new(&of.circuit, &of.conditions(1.0, 2.0, 1.0)),
                })
                .collect(),
        }
    }

    /// Every circuit at its saturation temperatures, along the chilled water.
    pub(super) fn solve_over<R: Real>(&self, duty: &Duty, numbers: &Numbers<R>) -> Result<Vec<Solved<R>>> {
        let evaporators = self.evaporators(duty, numbers)?;
        let mut solved: Vec<Option<Solved<R>>> = vec![None; self.circuits.len()];
        let mut entering = numbers.condenser_temperature;
        let along = 0..self.circuits.len();
        let order: Vec<usize> = match self.paths {
            WaterPaths::SeriesCounterFlow => along.rev().collect(),
            WaterPaths::Parallel | WaterPaths::SeriesParallelFlow => along.collect(),
        };
        for k in order {
            let (Some(of), Some(own), Some(evaporator), Some(&share)) =
                (self.circuits.get(k), numbers.circuits.get(k), evaporators.get(k), self.shares.get(k))
            else {
                continue;
            };
            let flow = self.share_of_flow(numbers.condenser_flow, share);
            let side = CondenserSide { of, own, water: duty.condenser_water(), flow, entering };
            let found = side.solve(evaporator)?;
            if self.paths != WaterPaths::Parallel {
                entering = found.condenser.water_leaving;
            }
            if let Some(place) = solved.get_mut(k) {
                *place = Some(found);
            }
        }
        Ok(solved.into_iter().flatten().collect())
    }

    fn share_of_flow<R: Real>(&self, flow: R, share: f64) -> R {
        if self.paths == WaterPaths::Parallel { flow * share } else { flow }
    }

    /// The evaporators, along the chilled water.
    fn evaporators<R: Real>(&self, duty: &Duty, numbers: &Numbers<R>) -> Result<Vec<Exchange<R>>> {
        let each = self.circuits.iter().zip(&numbers.circuits).zip(&self.shares);
        let known = |temperature| match duty.chilled_water_temperature() {
            ChilledWater::Leaving(_) => Known::Leaving(temperature),
            ChilledWater::Entering(_) => Known::Entering(temperature),
        };
        let mut temperature = numbers.chilled_temperature;
        let water = duty.chilled_water();
        let mut exchange = |((of, own), &share): ((&WateredCircuit, &CircuitNumbers<R>), &f64)| {
            let flow = self.share_of_flow(numbers.chilled_flow, share);
            let terms = terms(of.evaporator.terms(&water), own.evaporator, flow);
            let found = of.evaporator.over(&water, terms, known(temperature), numbers.capacity * share)?;
            if self.paths != WaterPaths::Parallel {
                temperature = match duty.chilled_water_temperature() {
                    ChilledWater::Leaving(_) => found.water_entering,
                    ChilledWater::Entering(_) => found.water_leaving,
                };
            }
            Ok(found)
        };
        match duty.chilled_water_temperature() {
            ChilledWater::Leaving(_) => {
                let found: Result<Vec<_>> = each.rev().map(exchange).collect();
                found.map(|mut found| {
                    found.reverse();
                    found
                })
            }
            ChilledWater::Entering(_) => each.map(&mut exchange).collect(),
        }
    }
}

/// One circuit beside the condenser water that reaches it.
struct CondenserSide<'a, R> {
    of: &'a WateredCircuit,
    own: &'a CircuitNumbers<R>,
    water: WaterFlow,
    flow: R,
    entering: R,
}

impl<R: Real> CondenserSide<'_, R> {
    /// What the condenser would have for a saturation temperature if the cycle condensed at another, and that cycle.
    fn answer<T: Real>(
        &self,
        (inputs, factor, flow, entering): (&Inputs<T>, T, T, T),
        (evaporating, capacity): (T, T),
        condensing: T,
    ) -> Result<(Exchange<T>, Solution<T>, Inputs<T>)> {
        let at = self.of.cycle(inputs, evaporating, condensing)?;
        let solution = self.of.circuit.solve_over(&at)?;
        let heat = capacity * heat_ratio(&solution);
        let terms = terms(self.of.condenser.terms(&self.water), factor, flow);
        let exchange = self.of.condenser.over(&self.water, terms, Known::Entering(entering), heat)?;
        Ok((exchange, solution, at))
    }

    /// The condensing temperature at which both agree.
    fn solve(&self, evaporator: &Exchange<R>) -> Result<Solved<R>> {
        let (evaporating, capacity) = (evaporator.saturation_temperature, evaporator.heat);
        let inputs = self.own.inputs.constants::<f64>();
        let values = (&inputs, self.own.condenser.value(), self.flow.value(), self.entering.value());
        let known = (evaporating.value(), capacity.value());
        let surplus = |condensing: f64| {
            let (exchange, ..) = self.answer(values, known, condensing)?;
            Ok(condensing - exchange.saturation_temperature)
        };
        // Below this no heat passes; the surplus there is below zero, and above zero far above.
        let lowest = known.0.max(values.3);
        let hottest = self.hottest()?;
        let mut upper = (lowest + FIRST).min(hottest);
        // Where no cycle is left, at the latest, the condenser would pass more than the cycle gives.
        let enough = |condensing| match surplus(condensing) {
            Err(Error::OutOfRange { .. } | Error::Inconsistent { .. }) if condensing < hottest => Ok(true),
            found => found.map(|surplus| surplus >= 0.0),
        };
        for _ in 0..DOUBLINGS {
            if upper >= hottest || enough(upper)? {
                break;
            }
            upper = (lowest + 2.0 * (upper - lowest)).min(hottest);
        }
        if !enough(upper)? {
            return Err(Error::Inconsistent {
                arguments: "condenser and capacity",
                reason: format!(
                    "even condensing at {upper} K the condenser does not pass the heat of {} W of cooling to water at {} K",
                    known.1, values.3
                ),
            });
        }
        let bracket = Bracket { lower: lowest, upper, rising: true };
        let mut slope = Secant::new(1.0);
        let start = 0.5 * (lowest + upper);
        let condensing = newton("condensing temperature", bracket, start, 1e-14, |condensing| {
            let value = surplus(condensing)?;
            Ok((value, slope.at(condensing, value)))
        })?;
        let condensing = self.with_derivatives(condensing, &inputs, (evaporating, capacity))?;
        let (exchange, solution, at) = self.answer(
            (&self.own.inputs, self.own.condenser, self.flow, self.entering),
            (evaporating, capacity),
            condensing,
        )?;
        refuse_crossing(evaporator, &exchange, &solution)?;
        Ok(Solved { capacity, evaporator: *evaporator, condenser: exchange, solution, inputs: at })
    }

    /// A root with the derivatives it has: one step of Newton's method over what carries them, with the exact slope.
    fn with_derivatives(
        &self,
        condensing: f64,
        inputs: &Inputs<f64>,
        (evaporating, capacity): (R, R),
    ) -> Result<R> {
        if !R::CARRIES_DERIVATIVES {
            return Ok(R::constant(condensing));
        }
        let c = Dual::<1>::constant;
        let lifted = inputs.constants::<Dual<1>>();
        let (factor, flow) = (self.own.condenser.value(), self.flow.value());
        let (alone, ..) = self.answer(
            (&lifted, c(factor), c(flow), c(self.entering.value())),
            (c(evaporating.value()), c(capacity.value())),
            Dual::input(condensing, 0),
        )?;
        let slope = 1.0 - alone.saturation_temperature.slope[0];
        let (exchange, ..) = self.answer(
            (&self.own.inputs, self.own.condenser, self.flow, self.entering),
            (evaporating, capacity),
            R::constant(condensing),
        )?;
        let residual = -exchange.saturation_temperature + condensing;
        Ok(R::constant(condensing) - residual / slope)
    }

    /// Hottest condensing temperature: a little below the end of the line, where liquid and vapor are the same.
    fn hottest(&self) -> Result<f64> {
        Ok(0.998 * self.of.circuit.refrigerant().hottest_saturation_temperature()?)
    }
}

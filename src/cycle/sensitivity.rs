//! How the figures of a cycle answer to its inputs.

use super::PerStage;
use super::circuit::{Circuit, Interstage};
use super::conditions::Conditions;
use super::inputs::{Input, Inputs};
use super::pressures::InterstagePressures;
use super::solve::{Solution, without_economizers};
use crate::economizer::Metering;
use crate::error::{Error, Result};
use crate::numeric::{Dual, Real};

/// Derivatives of every figure of a cycle to every number of its circuit and conditions, exact to rounding. With the interstage pressures of
/// the best COP those of the COP are exact, those of other figures good to some 1e-3.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivities {
    pub(crate) inputs: Vec<Input>,
    pub(crate) figures: Vec<(String, f64)>,
    /// One row an input, one entry a figure.
    pub(crate) slopes: Vec<Vec<f64>>,
}

impl Sensitivities {
    /// The inputs that this circuit and its conditions have.
    pub fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// The figures, SI units, by the names of the methods of [`Cycle`](crate::Cycle); those of a stage are `stage_2_work` and so on.
    pub fn figures(&self) -> impl Iterator<Item = (&str, f64)> {
        self.figures.iter().map(|(name, value)| (name.as_str(), *value))
    }

    /// Derivative of a figure to an input, in the SI units of both; `None` if there is no such figure or input.
    pub fn slope(&self, figure: &str, input: Input) -> Option<f64> {
        let column = self.figures.iter().position(|(name, _)| name == figure)?;
        let row = self.inputs.iter().position(|own| *own == input)?;
        self.slopes.get(row)?.get(column).copied()
    }
}

impl Circuit {
    /// Exact derivatives of the figures at the given conditions.
    ///
    /// The solve itself is carried out over dual numbers; each property call contributes the analytic slopes of the
    /// equation of state. Given interstage pressures stay where they are, other rules move with the temperatures: by their formula, or, where
    /// heads are equal, by implicit differentiation. The pressures of the best COP move by differences of the optimum,
    /// good to some 1e-3; of the COP itself that is no loss, since it does not answer to the pressures there. Each input takes two searches
    /// of the optimum then: 0.8 s for four stages with three tanks (release build), 15 s for eight.
    ///
    /// A superheat, subcooling, carryover or loss of zero is differentiated toward positive values.
    ///
    /// # Errors
    ///
    /// Those of [`Circuit::solve`]; [`Error::Undefined`] at the critical point, where the enthalpy of saturated liquid rises
    /// without bound, and where tanks part the components of a blend.
    pub fn sensitivities(&self, conditions: &Conditions) -> Result<Sensitivities> {
        conditions.check(self.refrigerant())?;
        if self.parts_blend() {
            let state = "a cycle whose tanks part the components of a blend";
            return Err(Error::Undefined { property: "a sensitivity", state });
        }
        for temperature in [conditions.evaporating_temperature, conditions.condensing_temperature] {
            if self.refrigerant().saturation_at_dew_temperature(temperature)?.critical_slope.is_some() {
                return Err(Error::Undefined { property: "a sensitivity", state: "the critical point" });
            }
        }
        let inputs = self.inputs(conditions);
        let best = *self.interstage_pressures() == InterstagePressures::BestCop;
        let held = if best {
            let own = Inputs::new(self, conditions);
            let pressures = self.best_pressures(&own)?;
            self.clone().with_interstage_pressures(InterstagePressures::Given(pressures.into_vec()))?
        } else {
            self.clone()
        };
        let mut figures = Vec::new();
        let mut slopes: Vec<Vec<f64>> = Vec::with_capacity(inputs.len());
        for &input in &inputs {
            let found = held.figures_along(conditions, input)?;
            slopes.push(found.iter().map(|(_, figure)| figure.slope[0]).collect());
            if figures.is_empty() {
                figures = found.into_iter().map(|(name, figure)| (name, figure.value)).collect();
            }
        }
        if best {
            // The best pressures move with the inputs, and the figures with them.
            let mut by_pressure = Vec::with_capacity(self.interstages().len());
            for k in 2..=self.stages().len() {
                let found = held.figures_along(conditions, Input::StageInletPressure(k))?;
                by_pressure.push(found.iter().map(|(_, figure)| figure.slope[0]).collect::<Vec<f64>>());
            }
            for (&input, slopes) in inputs.iter().zip(&mut slopes) {
                for (moves, by_pressure) in
                    self.best_pressures_along(conditions, input)?.iter().zip(&by_pressure)
                {
                    slopes.iter_mut().zip(by_pressure).for_each(|(slope, by)| *slope += by * moves);
                }
            }
        }
        Ok(Sensitivities { inputs, figures, slopes })
    }

    /// How the best pressures (Pa) move with an input: central differences of the optimum, one-sided of second order where an input
    /// cannot be negative or its step leaves the saturation line. The steps are wide, since the optimum moves by up to 1e-4 of a pressure where the number of steps along a
    /// polytropic path changes: slopes are good to some 1e-3.
    fn best_pressures_along(&self, conditions: &Conditions, along: Input) -> Result<Vec<f64>> {
        let step = match along {
            Input::EvaporatingTemperature
            | Input::CondensingTemperature
            | Input::SuctionSuperheat
            | Input::Subcooling
            | Input::EconomizerApproach(_)
            | Input::InjectionSuperheat(_) => 0.2,
            _ => 5e-3,
        };
        let moved = |by: f64| -> Result<PerStage<f64>> {
            let inputs = Inputs::lifted(self, conditions, |input, value| {
                let common =
                    along == Input::CommonStageEfficiency && matches!(input, Input::StageEfficiency(_));
                if input == along || common { value + by } else { value }
            });
            self.best_pressures(&inputs)
        };
        let at = std::cell::Cell::new(f64::INFINITY);
        Inputs::lifted(self, conditions, |input, own| {
            if input == along {
                at.set(own);
            }
            own
        });
        let one_sided = |step: f64| -> Result<Vec<f64>> {
            let (here, near, far) = (moved(0.0)?, moved(step)?, moved(2.0 * step)?);
            let slopes = here.iter().zip(near).zip(far);
            Ok(slopes.map(|((a, b), c)| (4.0 * b - 3.0 * a - c) / (2.0 * step)).collect())
        };
        if at.get() < step {
            return one_sided(step);
        }
        match (moved(-step), moved(step)) {
            (Ok(below), Ok(above)) => {
                Ok(below.iter().zip(above).map(|(a, b)| (b - a) / (2.0 * step)).collect())
            }
            // Within a step of an end of the saturation line.
            (Err(Error::OutOfRange { .. }), Ok(_)) => one_sided(step),
            (Ok(_), Err(Error::OutOfRange { .. })) => one_sided(-step),
            (Err(error), _) | (_, Err(error)) => Err(error),
        }
    }

    /// The numbers that this circuit and these conditions hold.
    fn inputs(&self, conditions: &Conditions) -> Vec<Input> {
        let mut inputs = vec![
            Input::EvaporatingTemperature,
            Input::CondensingTemperature,
            Input::SuctionSuperheat,
            Input::Subcooling,
            Input::EvaporatorLiquidCarryover,
            Input::HotGasBypass,
            Input::CommonStageEfficiency,
        ];
        if conditions.liquid_carryover() > 0.0 {
            inputs.retain(|input| *input != Input::SuctionSuperheat);
        } else if conditions.suction_superheat() > 0.0 {
            inputs.retain(|input| *input != Input::EvaporatorLiquidCarryover);
        }
        inputs.extend((1..=self.stages().len()).map(Input::StageEfficiency));
        if matches!(self.interstage_pressures(), InterstagePressures::Given(_)) {
            inputs.extend((2..=self.stages().len()).map(Input::StageInletPressure));
        }
        inputs.push(Input::SuctionLoss);
        if self.stages().len() > 1 {
            inputs.push(Input::InterstageLoss);
        }
        if self.economizers() > 0 {
            inputs.push(Input::PortLoss);
        }
        inputs.push(Input::DischargeLoss);
        if self.suction_exchanger().is_some_and(|effectiveness| effectiveness > 0.0) {
            inputs.push(Input::SuctionExchangerEffectiveness);
        }
        if self.metering() != Metering::Valve {
            inputs.push(Input::EvaporatorExpanderEfficiency);
        }
        for (interstage, k) in self.interstages().iter().zip(2..) {
            let mut metering = Metering::Valve;
            match interstage {
                Interstage::Direct => {}
                Interstage::FlashTank(tank) => {
                    inputs.extend([Input::TankLiquidCarryover(k), Input::TankVaporBlowthrough(k)]);
                    metering = tank.metering();
                }
                Interstage::IntercooledTank(tank) => {
                    inputs.push(Input::TankLiquidCarryover(k));
                    inputs.push(match tank.coil_approach() {
                        Some(_) => Input::EconomizerApproach(k),
                        None => Input::TankVaporBlowthrough(k),
                    });
                    metering = tank.metering();
                }
                Interstage::ClosedEconomizer(exchanger) => {
                    inputs.extend([Input::EconomizerApproach(k), Input::InjectionSuperheat(k)]);
                    metering = exchanger.metering();
                }
                Interstage::LiquidInjection(_) => inputs.push(Input::InjectionSuperheat(k)),
            }
            if metering != Metering::Valve {
                inputs.push(Input::ExpanderEfficiency(k));
            }
        }
        inputs.extend([Input::MechanicalEfficiency, Input::MotorEfficiency, Input::DriveEfficiency]);
        inputs
    }

    /// Figures with their derivatives to one input.
    fn figures_along(&self, conditions: &Conditions, along: Input) -> Result<Vec<(String, Dual<1>)>> {
        let inputs = Inputs::lifted(self, conditions, |input, value| {
            let common = along == Input::CommonStageEfficiency && matches!(input, Input::StageEfficiency(_));
            if input == along || common { Dual::input(value, 0) } else { Dual::constant(value) }
        });
        let solution = self.solve_over(&inputs)?;
        self.figures(conditions, &inputs, &solution)
    }

    /// Figures of a solution by the names of the methods of a cycle.
    fn figures<R: Real>(
        &self,
        conditions: &Conditions,
        inputs: &Inputs<R>,
        solution: &Solution<R>,
    ) -> Result<Vec<(String, R)>> {
        let flow = solution.mass_flow(conditions.size);
        let power = flow * solution.work();
        let shaft = power / inputs.mechanical;
        let motor = shaft / inputs.motor;
        let benefit = if self.economizers() > 0 {
            -(R::constant(1.0) / without_economizers(self, inputs, solution)?) + 1.0
        } else {
            R::constant(0.0)
        };
        let discharge = solution.discharge();
        let condenser = &solution.ends.condenser_outlet;
        let rejected = flow * solution.condenser_flow() * (discharge.enthalpy - condenser.enthalpy);
        let mut figures: Vec<(String, R)> = [
            ("cop", solution.cop()),
            ("refrigerating_effect", solution.refrigerating_effect()),
            ("work", solution.work()),
            ("discharge_temperature", discharge.temperature),
            ("economizer_benefit", benefit),
            ("capacity", flow * solution.refrigerating_effect()),
            ("power", power),
            ("shaft_power", shaft),
            ("motor_input_power", motor),
            ("drive_input_power", motor / inputs.drive),
            ("heat_rejected", rejected),
            ("evaporator_mass_flow", flow),
            ("condenser_mass_flow", flow * solution.condenser_flow()),
            ("evaporating_pressure", solution.ends.evaporating_pressure),
            ("condensing_pressure", solution.ends.condensing_pressure),
        ]
        .map(|(name, figure)| (name.to_owned(), figure))
        .to_vec();
        for (stage, k) in solution.flow.stages.iter().zip(1..) {
            figures.push((format!("stage_{k}_work"), stage.work()));
            figures.push((format!("stage_{k}_head"), stage.compressed.head));
            figures.push((format!("stage_{k}_mass_flow"), flow * stage.flow));
            figures.push((format!("stage_{k}_inlet_volume_flow"), flow * stage.flow * stage.inlet.volume));
        }
        for (pressure, k) in solution.interstage_pressures.iter().zip(2..) {
            figures.push((format!("stage_{k}_inlet_pressure"), *pressure));
        }
        for (economized, k) in solution.flow.economizers.iter().zip(2..) {
            if let Some(at) = economized {
                figures.push((format!("stage_{k}_flash_fraction"), at.fraction()));
            }
        }
        Ok(figures)
    }
}

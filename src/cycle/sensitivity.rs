//! How the figures of a cycle answer to its inputs.

use super::circuit::Circuit;
use super::conditions::Conditions;
use super::separation::TankSeparation;
use super::solve::Inputs;
use crate::error::{Error, Result};
use crate::numeric::{Dual, Real};

/// Derivatives of one figure, exact to rounding.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Slopes {
    /// Per kelvin of evaporating temperature.
    pub evaporating_temperature: f64,
    /// Per kelvin of condensing temperature.
    pub condensing_temperature: f64,
    /// Per kelvin of superheat at the evaporator outlet.
    pub suction_superheat: f64,
    /// Per kelvin of subcooling at the condenser outlet.
    pub subcooling: f64,
    /// Per unit of efficiency, all stages together.
    pub stage_efficiency: f64,
}

/// Derivatives of the figures of a cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Sensitivities {
    /// Of the COP.
    pub cop: Slopes,
    /// Of the refrigerating effect, J/kg.
    pub refrigerating_effect: Slopes,
    /// Of the work of all stages per kilogram through the evaporator, J/kg.
    pub work: Slopes,
    /// Of the discharge temperature, K.
    pub discharge_temperature: Slopes,
}

impl Circuit {
    /// Exact derivatives of the figures at the given conditions.
    ///
    /// The solve itself is carried out over dual numbers; each property call contributes the analytic slopes of the
    /// equation of state. Given interstage pressures stay where they are, other rules move with the saturation
    /// temperatures.
    ///
    /// # Errors
    ///
    /// Those of [`Circuit::solve`]; [`Error::Undefined`] at the critical point, where the enthalpy of saturated liquid rises
    /// without bound, and where tanks part the components of a blend.
    pub fn sensitivities(&self, conditions: &Conditions) -> Result<Sensitivities> {
        conditions.check(self.refrigerant())?;
        if self.tank_separation() == TankSeparation::Equilibrium && self.tanks() > 0 {
            let state = "a cycle whose tanks part the components of a blend";
            return Err(Error::Undefined { property: "a sensitivity", state });
        }
        for temperature in [conditions.evaporating_temperature, conditions.condensing_temperature] {
            if self.refrigerant().saturation_at_dew_temperature(temperature)?.critical_slope.is_some() {
                return Err(Error::Undefined { property: "a sensitivity", state: "the critical point" });
            }
        }
        let input = Dual::<5>::input;
        let solution = self.solve_over(&Inputs {
            evaporating_temperature: input(conditions.evaporating_temperature, 0),
            condensing_temperature: input(conditions.condensing_temperature, 1),
            suction_superheat: input(conditions.suction_superheat, 2),
            subcooling: input(conditions.subcooling, 3),
            efficiencies: self.stages().iter().map(|stage| input(stage.efficiency(), 4)).collect(),
        })?;
        Ok(Sensitivities {
            cop: slopes(solution.cop()),
            refrigerating_effect: slopes(solution.refrigerating_effect()),
            work: slopes(solution.work()),
            discharge_temperature: slopes(solution.discharge().temperature),
        })
    }
}

fn slopes(figure: Dual<5>) -> Slopes {
    let [evaporating_temperature, condensing_temperature, suction_superheat, subcooling, stage_efficiency] =
        figure.slope;
    debug_assert!(figure.value().is_finite());
    Slopes {
        evaporating_temperature,
        condensing_temperature,
        suction_superheat,
        subcooling,
        stage_efficiency,
    }
}

//! How closely the fitted saturation line meets the equation of state.

use super::{Saturation, SaturationLine};
use crate::error::Result;
use crate::helmholtz::Equation;

/// Temperatures, and as many pressures, that are tried: enough for some in every cell of the fit.
const TRIED: u32 = 1000;

/// Largest scaled residual of saturation between two temperatures on the line of a pure fluid, at temperatures and at pressures in
/// turn.
pub(crate) fn largest_residual(
    equation: &Equation,
    line: &SaturationLine,
    (lowest, highest): (f64, f64),
) -> Result<f64> {
    let mut largest = 0.0_f64;
    for i in 0..=TRIED {
        let share = f64::from(i) / f64::from(TRIED);
        let temperature = (lowest + share * (highest - lowest)).clamp(lowest, highest);
        let at_temperature = line.at_temperature(equation, temperature)?;
        let at_pressure = line.at_pressure(equation, at_temperature.pressure())?;
        for saturation in [at_temperature, at_pressure] {
            largest = residuals(equation, &saturation).into_iter().fold(largest, |a, b| a.max(b.abs()));
        }
    }
    Ok(largest)
}

/// Pressure by the larger of itself and `rho dp/drho`, energies by R T, entropies by R.
fn residuals(equation: &Equation, saturation: &Saturation) -> [f64; 7] {
    let (temperature, pressure) = (saturation.temperature(), saturation.pressure());
    let Saturation { liquid, vapor, .. } = saturation;
    let (l, v) = (equation.at(temperature, liquid.density), equation.at(temperature, vapor.density));
    let (r, rt) = (equation.gas_constant, equation.gas_constant * temperature);
    let gibbs = (l.enthalpy - temperature * l.entropy) - (v.enthalpy - temperature * v.entropy);
    [
        (l.pressure - pressure) / (l.density * l.p_rho).max(pressure),
        (v.pressure - pressure) / pressure,
        gibbs / rt,
        (l.enthalpy - liquid.enthalpy) / rt,
        (v.enthalpy - vapor.enthalpy) / rt,
        (l.entropy - liquid.entropy) / r,
        (v.entropy - vapor.entropy) / r,
    ]
}

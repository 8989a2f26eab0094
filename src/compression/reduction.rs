//! Efficiencies of a stage from the states at its two ends.

use crate::error::{Error, Result};
use crate::refrigerant::Refrigerant;
use crate::state::State;

/// Isentropic efficiency of a compression between two states, `(h(p_out, s_in) - h_in) / (h_out - h_in)`.
///
/// # Errors
///
/// [`Error::Inconsistent`] if the pressure or the enthalpy does not rise; range errors of the states between.
pub fn isentropic_efficiency(refrigerant: &Refrigerant, inlet: &State, outlet: &State) -> Result<f64> {
    rising(inlet, outlet)?;
    let ideal = refrigerant.state_ps(outlet.pressure(), inlet.entropy())?;
    Ok((ideal.enthalpy() - inlet.enthalpy()) / (outlet.enthalpy() - inlet.enthalpy()))
}

/// Polytropic efficiency of a compression between two states, by the three-point method.
///
/// The compressibility factor along the path is taken as `z = a + b p/p_in + c ln(p/p_in)` through both ends and
/// a point at the geometric mean pressure, which is iterated onto the path (R. A. Huntington, J. Eng. Gas
/// Turbines Power 107 (1985) 872-878; from memory). Within 3e-6 of the path integral at the conditions of chillers.
///
/// # Errors
///
/// [`Error::Inconsistent`] if the pressure or the enthalpy does not rise; [`Error::NotConverged`]; range errors of
/// the states between.
pub fn polytropic_efficiency(refrigerant: &Refrigerant, inlet: &State, outlet: &State) -> Result<f64> {
    rising(inlet, outlet)?;
    let gas_constant = refrigerant.gas_constant();
    let factor = |state: &State| state.pressure() / (state.density() * gas_constant * state.temperature());
    let ratio = outlet.pressure() / inlet.pressure();
    let (root, half) = (ratio.sqrt(), 0.5 * ratio.ln());
    let entropy_rise = (outlet.entropy() - inlet.entropy()) / gas_constant;
    let (z_in, z_out) = (factor(inlet), factor(outlet));
    let mut z_middle = 0.5 * (z_in + z_out);
    let mut last = f64::NAN;
    for _ in 0..LIMIT {
        // a + b + 0 = z_in, a + b root + c half = z_middle, a + b ratio + 2 c half = z_out.
        let b = (z_out - 2.0 * z_middle + z_in) / (ratio - 2.0 * root + 1.0);
        let c = (z_middle - z_in - b * (root - 1.0)) / half;
        let a = z_in - b;
        // Integral of z d(ln p), in units of R: what the entropy rise is proportional to.
        let integral = |r: f64, ln_r: f64| a * ln_r + b * (r - 1.0) + 0.5 * c * ln_r * ln_r;
        let loss = entropy_rise / integral(ratio, 2.0 * half);
        let efficiency = 1.0 / (1.0 + loss);
        if (efficiency - last).abs() <= TOLERANCE {
            return Ok(efficiency);
        }
        last = efficiency;
        let entropy = inlet.entropy() + gas_constant * loss * integral(root, half);
        z_middle = factor(&refrigerant.state_ps(root * inlet.pressure(), entropy)?);
    }
    Err(Error::NotConverged {
        solver: "polytropic efficiency by the three-point method",
        iterations: LIMIT,
        residual: f64::NAN,
        lower: last,
        upper: last,
    })
}

const LIMIT: usize = 50;
const TOLERANCE: f64 = 1e-12;

fn rising(inlet: &State, outlet: &State) -> Result<()> {
    let contradiction = |what: &str, from: f64, to: f64, unit: &str| {
        Err(Error::Inconsistent {
            arguments: "inlet and outlet",
            reason: format!("{what} must rise in a compression, from {from} to {to} {unit} here"),
        })
    };
    if outlet.pressure().is_nan() || outlet.pressure() <= inlet.pressure() {
        return contradiction("pressure", inlet.pressure(), outlet.pressure(), "Pa");
    }
    if outlet.enthalpy().is_nan() || outlet.enthalpy() <= inlet.enthalpy() {
        return contradiction("enthalpy", inlet.enthalpy(), outlet.enthalpy(), "J/kg");
    }
    Ok(())
}

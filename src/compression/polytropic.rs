//! The polytropic path, `dh = v dp / efficiency`.

use crate::error::Result;
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// Longest step in ln(p). Halving it changes the work of a stage by less than 1e-9 of itself at pressure ratios up to 5.
const STEP: f64 = 0.15;

/// Enthalpy at the end of the path from `inlet` to `pressure`.
///
/// Classical Runge-Kutta integration of dh/d(ln p) = p v(p, h) / efficiency, where v is the equilibrium
/// value also where the path runs through wet vapor.
pub(crate) fn outlet_enthalpy<R: Real>(
    refrigerant: &Refrigerant,
    inlet: &Stream<R>,
    pressure: R,
    efficiency: R,
) -> Result<R> {
    let span = (pressure / inlet.pressure).ln();
    let steps = (span.value().abs() / STEP).ceil().clamp(1.0, 1000.0);
    let step = span / steps;
    let slope = |position: f64, enthalpy: R| -> Result<R> {
        let pressure = inlet.pressure * (step * position).exp();
        Ok(pressure * refrigerant.stream_ph(pressure, enthalpy)?.volume / efficiency)
    };
    let mut enthalpy = inlet.enthalpy;
    let mut first = inlet.pressure * inlet.volume / efficiency;
    for k in 0..steps as usize {
        let at = k as f64;
        if k > 0 {
            first = slope(at, enthalpy)?;
        }
        let second = slope(at + 0.5, enthalpy + step * first * 0.5)?;
        let third = slope(at + 0.5, enthalpy + step * second * 0.5)?;
        let fourth = slope(at + 1.0, enthalpy + step * third)?;
        enthalpy = enthalpy + step * (first + (second + third) * 2.0 + fourth) / 6.0;
    }
    Ok(enthalpy)
}

//! The polytropic path, `dh = v dp / efficiency`.

use crate::error::Result;
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::Stream;

/// Longest step in ln(p): the work of a stage is then within 1e-8 of that with a step of 0.02 at pressure ratios
/// of chillers and heat pumps (2e-8 for water).
const STEP: f64 = 0.3;

/// State at the end of the path from `inlet` to `pressure`.
///
/// With `T ds = dh - v dp` the path is `ds / d(ln p) = (1 / efficiency - 1) p v / T`: close to a constant in a gas, so
/// that few steps of the classical Runge-Kutta method follow it. v is the equilibrium value also where the path
/// runs through wet vapor.
pub(crate) fn outlet<R: Real>(
    refrigerant: &Refrigerant,
    inlet: &Stream<R>,
    pressure: R,
    efficiency: R,
) -> Result<Stream<R>> {
    let loss = (-efficiency + 1.0) / efficiency;
    let slope = |at: &Stream<R>| loss * at.pressure * at.volume / at.temperature;
    let span = (pressure / inlet.pressure).ln();
    let steps = (span.value().abs() / STEP).ceil().clamp(1.0, 1000.0);
    let step = span / steps;
    let mut here = *inlet;
    for k in 1..=steps as usize {
        let last = k as f64 == steps;
        let middle_pressure = here.pressure * (step * 0.5).exp();
        let end_pressure = if last { pressure } else { here.pressure * step.exp() };
        let first = slope(&here);
        let second = slope(&refrigerant.stream_ps(middle_pressure, here.entropy + step * first * 0.5)?);
        let third = slope(&refrigerant.stream_ps(middle_pressure, here.entropy + step * second * 0.5)?);
        let fourth = slope(&refrigerant.stream_ps(end_pressure, here.entropy + step * third)?);
        let entropy = here.entropy + step * (first + (second + third) * 2.0 + fourth) / 6.0;
        here = refrigerant.stream_ps(end_pressure, entropy)?;
    }
    Ok(here)
}

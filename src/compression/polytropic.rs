//! The polytropic path, `dh = v dp / efficiency`.

use crate::error::{Error, Result};
use crate::numeric::Real;
use crate::refrigerant::Refrigerant;
use crate::state::{State, Stream};

/// Longest step in ln(p): the work of a stage is then within 1e-8 of that with a step of 0.02 at pressure ratios
/// of chillers and heat pumps (2e-8 for water; 3e-6 where the path crosses the dew line).
const STEP: f64 = 0.3;

/// State at the end of the path from `inlet` to `pressure`, and whether a part of the path is wet.
///
/// With `T ds = dh - v dp` the path is `ds / d(ln p) = (1 / efficiency - 1) p v / T`: close to a constant in a gas, so
/// that few steps of the classical Runge-Kutta method follow it. v is the equilibrium value also where the path
/// runs through wet vapor.
pub(crate) fn outlet<R: Real>(
    refrigerant: &Refrigerant,
    inlet: &Stream<R>,
    pressure: R,
    efficiency: R,
) -> Result<(Stream<R>, bool)> {
    let loss = (-efficiency + 1.0) / efficiency;
    let slope = |at: &Stream<R>| loss * at.pressure * at.volume / at.temperature;
    let span = (pressure / inlet.pressure).ln();
    let steps = (span.value().abs() / STEP).ceil().clamp(1.0, 1000.0);
    let step = span / steps;
    let mut here = *inlet;
    let mut wet = false;
    for k in 1..=steps as usize {
        let last = k as f64 == steps;
        let middle_pressure = here.pressure * (step * 0.5).exp();
        let end_pressure = if last { pressure } else { here.pressure * step.exp() };
        let first = slope(&here);
        let middle = refrigerant.stream_ps(middle_pressure, here.entropy + step * first * 0.5)?;
        let second = slope(&middle);
        let third = slope(&refrigerant.stream_ps(middle_pressure, here.entropy + step * second * 0.5)?);
        let fourth = slope(&refrigerant.stream_ps(end_pressure, here.entropy + step * third)?);
        let entropy = here.entropy + step * (first + (second + third) * 2.0 + fourth) / 6.0;
        here = refrigerant.stream_ps(end_pressure, entropy)?;
        wet |= is_wet(&middle.state) || is_wet(&here.state);
    }
    Ok((here, wet))
}

/// The same by the three-point method: the compressibility factor along the path is `z = a + b p/p_in + c ln(p/p_in)` through both
/// ends and the geometric mean pressure, which are iterated onto the path. For the source see
/// [`polytropic_efficiency`](super::polytropic_efficiency), whose inverse it is.
pub(crate) fn outlet_three_point<R: Real>(
    refrigerant: &Refrigerant,
    inlet: &Stream<R>,
    pressure: R,
    efficiency: R,
) -> Result<(Stream<R>, bool)> {
    let gas_constant = refrigerant.gas_constant();
    let factor = |at: &Stream<R>| at.pressure * at.volume / (at.temperature * gas_constant);
    let ratio = pressure / inlet.pressure;
    let half = ratio.ln() * 0.5;
    let root = half.exp();
    let middle_pressure = inlet.pressure * root;
    let loss = (-efficiency + 1.0) / efficiency * gas_constant;
    let z_in = factor(inlet);
    let (mut z_middle, mut z_out) = (z_in, z_in);
    let (mut last, mut before) = (f64::NAN, f64::INFINITY);
    for _ in 0..LIMIT {
        let b = (z_out - z_middle * 2.0 + z_in) / (ratio - root * 2.0 + 1.0);
        let c = (z_middle - z_in - b * (root - 1.0)) / half;
        let a = z_in - b;
        let entropy = |r: R, ln: R| inlet.entropy + loss * (a * ln + b * (r - 1.0) + c * ln * ln * 0.5);
        let middle = refrigerant.stream_ps(middle_pressure, entropy(root, half))?;
        let end = refrigerant.stream_ps(pressure, entropy(ratio, half * 2.0))?;
        let moved = (end.entropy.value() - last).abs();
        let stands = moved <= ROUNDING * gas_constant && moved >= before;
        if moved <= SETTLED * gas_constant || stands {
            return Ok((end, is_wet(&middle.state) || is_wet(&end.state)));
        }
        (last, before) = (end.entropy.value(), moved);
        (z_middle, z_out) = (factor(&middle), factor(&end));
    }
    let residual = f64::NAN;
    Err(Error::NotConverged {
        solver: "polytropic discharge by the three-point method",
        iterations: LIMIT,
        residual,
        lower: last,
        upper: last,
    })
}

/// Iterations before the three-point method gives up: each leaves some hundredth of the error before it.
const LIMIT: usize = 100;

/// Change of the entropy, in gas constants, that ends them; and below which rounding of the states may keep it from shrinking further.
const SETTLED: f64 = 1e-15;
const ROUNDING: f64 = 1e-10;

pub(super) fn is_wet(state: &State) -> bool {
    state.quality().is_some_and(|quality| quality < 1.0)
}

//! How large the terms of an equation are: what rounding can leave of their sum.

use crate::fluid::Fluid;

/// Rounding errors of a term, in distances of neighboring numbers: half of one each for the value and the slope, for the
/// three factors of the value that are computed and the three products that join them.
const PER_TERM: f64 = 4.0;

/// What rounding of the terms leaves of an enthalpy in units of R T.
pub(crate) fn rounding(fluid: &Fluid, temperature: f64, density: f64) -> f64 {
    PER_TERM * f64::EPSILON * size_of_terms(fluid, temperature, density)
}

/// The same in the coldest saturated liquid, where it is largest.
pub(crate) fn rounding_in_coldest_liquid(fluid: &Fluid) -> f64 {
    let temperature = fluid.coldest.temperature;
    let liquid = &fluid.saturation_guess.liquid_density;
    let density = liquid.scale * (1.0 + liquid.sum(temperature)) * fluid.molar_mass;
    rounding(fluid, temperature, density)
}

/// Sizes of all terms of the enthalpy over R T at temperature (K) and density (kg/m3), added up.
///
/// Where they are much larger than their sum they cancel, and the sum keeps as many digits less. A term `f` of the reduced
/// Helmholtz energy gives `tau f_tau + delta f_delta` to the enthalpy; the two parts count by themselves. Terms singular at the
/// critical point are of order one and left out.
pub(crate) fn size_of_terms(fluid: &Fluid, temperature: f64, density: f64) -> f64 {
    let tau = fluid.reducing.temperature / temperature;
    let delta = density / (fluid.reducing.molar_density * fluid.molar_mass);
    let ideal = &fluid.ideal_gas;
    let mut size = 1.0 + (ideal.linear * tau).abs() + ideal.logarithm.abs();
    for term in ideal.power {
        size += (term.n * term.t * tau.powf(term.t)).abs();
    }
    for term in ideal.oscillators {
        let x = term.theta * tau;
        size += (term.n * x / x.exp_m1()).abs();
    }
    for term in fluid.residual.power {
        let (d, l) = (f64::from(term.d), f64::from(term.l));
        let damping = if term.l == 0 { 0.0 } else { term.g * delta.powf(l) };
        let cooling = if term.m == 0.0 { 0.0 } else { tau.powf(term.m) };
        let f = term.n * delta.powf(d) * tau.powf(term.t) * (-damping - cooling).exp();
        size += f.abs() * ((d - l * damping).abs() + (term.t - term.m * cooling).abs());
    }
    let bumps = fluid.residual.gaussian.iter().map(|term| {
        let from_gamma = tau - term.gamma;
        let (g, g_t) = (-term.beta * from_gamma * from_gamma, -2.0 * term.beta * tau * from_gamma);
        ([term.n, term.t, term.eta, term.epsilon], term.d, g, g_t)
    });
    let gao_bumps = fluid.residual.gao.iter().map(|term| {
        let from_gamma = tau - term.gamma;
        let width = term.beta * from_gamma * from_gamma + term.b;
        let g_t = -2.0 * term.beta * tau * from_gamma / (width * width);
        ([term.n, term.t, term.eta, term.epsilon], term.d, width.recip(), g_t)
    });
    for ([n, t, eta, epsilon], d, g, g_t) in bumps.chain(gao_bumps) {
        let (d, from_epsilon) = (f64::from(d), delta - epsilon);
        let f = n * delta.powf(d) * tau.powf(t) * (g - eta * from_epsilon * from_epsilon).exp();
        size += f.abs() * ((d - 2.0 * eta * delta * from_epsilon).abs() + (t + g_t).abs());
    }
    size
}

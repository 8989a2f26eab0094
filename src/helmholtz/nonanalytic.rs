//! The terms singular at the critical point, which few equations have.

use super::residual::Alpha;
use crate::fluid::Nonanalytic;

/// A term whose exponent is below this is smaller than 1e-30 anywhere, with its derivatives.
const NOTHING_LEFT: f64 = -100.0;

/// The terms of IAPWS R6-95 (2018), table 5; all powers of (delta - 1)^2 are taken together so that
/// delta = 1 needs no special case. Only the critical point itself is singular, where the term is zero.
pub(super) fn add(term: &Nonanalytic, delta: f64, tau: f64, sum: &mut Alpha) {
    let Nonanalytic { n, a, b, beta, big_a, big_b, big_c, big_d } = *term;
    let from_one = delta - 1.0;
    let square = from_one * from_one;
    let exponent = -big_c * square - big_d * (tau - 1.0) * (tau - 1.0);
    if exponent < NOTHING_LEFT {
        return;
    }
    let psi = exponent.exp();
    let theta_power = square.powf(0.5 / beta - 1.0);
    let theta = (1.0 - tau) + big_a * square * theta_power;
    let width = theta * theta + big_b * square.powf(a);
    if width <= 0.0 {
        return;
    }
    let psi_d = -2.0 * big_c * from_one * psi;
    let psi_dd = (2.0 * big_c * square - 1.0) * 2.0 * big_c * psi;
    let psi_t = -2.0 * big_d * (tau - 1.0) * psi;
    let psi_tt = (2.0 * big_d * (tau - 1.0) * (tau - 1.0) - 1.0) * 2.0 * big_d * psi;
    let psi_dt = 4.0 * big_c * big_d * from_one * (tau - 1.0) * psi;

    let inner = big_a * theta * (2.0 / beta) * theta_power + 2.0 * big_b * a * square.powf(a - 1.0);
    let width_d = from_one * inner;
    let width_dd = inner
        + 4.0 * big_b * a * (a - 1.0) * square.powf(a - 1.0)
        + 2.0 * big_a * big_a / (beta * beta) * square * theta_power * theta_power
        + big_a * theta * (4.0 / beta) * (0.5 / beta - 1.0) * theta_power;
    let power = width.powf(b);
    let power_d = b * power / width * width_d;
    let power_dd = b * power / width * (width_dd + (b - 1.0) * width_d * width_d / width);
    let power_t = -2.0 * theta * b * power / width;
    let power_tt = 2.0 * b * power / width + 4.0 * theta * theta * b * (b - 1.0) * power / (width * width);
    let power_dt = -big_a * b * (2.0 / beta) * power / width * from_one * theta_power
        - 2.0 * theta * b * (b - 1.0) * power / (width * width) * width_d;

    sum.value += n * power * delta * psi;
    sum.d += delta * n * (power * (psi + delta * psi_d) + power_d * delta * psi);
    sum.dd += delta
        * delta
        * n
        * (power * (2.0 * psi_d + delta * psi_dd)
            + 2.0 * power_d * (psi + delta * psi_d)
            + power_dd * delta * psi);
    sum.t += tau * n * delta * (power_t * psi + power * psi_t);
    sum.dt += delta
        * tau
        * n
        * (power * (psi_t + delta * psi_dt)
            + delta * power_d * psi_t
            + power_t * (psi + delta * psi_d)
            + power_dt * delta * psi);
    sum.tt += tau * tau * n * delta * (power_tt * psi + 2.0 * power_t * psi_t + power * psi_tt);
}

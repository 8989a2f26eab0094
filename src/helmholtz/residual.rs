//! Residual part of the reduced Helmholtz energy with its first and second derivatives, in one pass.
//!
//! Derivatives are carried scaled: `d` is `delta d/d delta`, `t` is `tau d/d tau`. A term
//! `f = n delta^d tau^t exp(-g delta^l)` then has `delta f_delta = A f` with `A = d - g l delta^l`, and
//! `delta^2 f_delta delta = (A (A - 1) - g l^2 delta^l) f`: no division anywhere.

use crate::fluid::{Gao, Gaussian, Nonanalytic, Power, Residual};

/// A reduced Helmholtz energy and its scaled derivatives.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Alpha {
    /// alpha
    pub(crate) value: f64,
    /// delta alpha_delta
    pub(crate) d: f64,
    /// delta^2 alpha_delta delta
    pub(crate) dd: f64,
    /// tau alpha_tau
    pub(crate) t: f64,
    /// delta tau alpha_delta tau
    pub(crate) dt: f64,
    /// tau^2 alpha_tau tau
    pub(crate) tt: f64,
}

/// The terms of one fluid, ordered so that each power of tau is computed once.
#[derive(Debug)]
pub(crate) struct Terms {
    power: Vec<PowerTerm>,
    gaussian: &'static [Gaussian],
    gao: &'static [Gao],
    nonanalytic: &'static [Nonanalytic],
    damping: Vec<(i32, f64)>,
}

#[derive(Debug)]
struct PowerTerm {
    n: f64,
    t: f64,
    m: f64,
    /// Whether the function of tau differs from that of the term before.
    new_function_of_tau: bool,
    d: u8,
    /// 0: no exponential; k: the (k-1)th entry of `damping`.
    damping: usize,
    /// A term without a power of delta whose bare twin (same n and t, other sign) is merged into it:
    /// exp(-g delta^l) - 1 replaces exp(-g delta^l), which keeps the digits at low density.
    merged: bool,
}

/// Highest power of delta in the catalogue, and most exponentials in one equation.
const POWERS: usize = 16;
const DAMPINGS: usize = 8;

impl Terms {
    /// Compiles published terms.
    pub(crate) fn new(residual: &Residual) -> Self {
        let mut damping: Vec<(i32, f64)> = Vec::new();
        let is_twin = |bare: &Power, damped: &Power| {
            bare.d == 0
                && bare.l == 0
                && damped.d == 0
                && damped.l > 0
                && (bare.t, bare.m) == (damped.t, damped.m)
                && bare.n == -damped.n
        };
        let mut power: Vec<PowerTerm> = residual
            .power
            .iter()
            .filter(|bare| !residual.power.iter().any(|damped| is_twin(bare, damped)))
            .map(|term| {
                let index = if term.l == 0 {
                    0
                } else {
                    let kind = (i32::from(term.l), term.g);
                    let found = damping.iter().position(|known| *known == kind);
                    1 + found.unwrap_or_else(|| {
                        damping.push(kind);
                        damping.len() - 1
                    })
                };
                PowerTerm {
                    n: term.n,
                    t: term.t,
                    m: term.m,
                    new_function_of_tau: true,
                    d: term.d,
                    damping: index,
                    merged: residual.power.iter().any(|bare| is_twin(bare, term)),
                }
            })
            .collect();
        power.sort_by(|a, b| a.t.total_cmp(&b.t).then(a.m.total_cmp(&b.m)).then(a.damping.cmp(&b.damping)));
        let mut last = (f64::NAN, f64::NAN);
        for term in &mut power {
            term.new_function_of_tau = (term.t, term.m) != last;
            last = (term.t, term.m);
        }
        debug_assert!(damping.len() < DAMPINGS && power.iter().all(|term| usize::from(term.d) < POWERS));
        let Residual { gaussian, gao, nonanalytic, .. } = *residual;
        Self { power, gaussian, gao, nonanalytic, damping }
    }

    /// The residual part at reduced density and inverse reduced temperature.
    pub(crate) fn evaluate(&self, delta: f64, tau: f64) -> Alpha {
        let ln_tau = tau.ln();
        let mut delta_power = [1.0; POWERS];
        for i in 1..POWERS {
            delta_power[i] = delta_power[i - 1] * delta;
        }
        // Per exponential: its value, its value less one, g l delta^l and g l^2 delta^l.
        let mut damping = [[1.0, 0.0, 0.0, 0.0]; DAMPINGS];
        for (slot, &(l, g)) in damping[1..].iter_mut().zip(&self.damping) {
            let argument = g * delta.powi(l);
            let l = f64::from(l);
            *slot = [(-argument).exp(), (-argument).exp_m1(), l * argument, l * l * argument];
        }
        let mut sum = Alpha::default();
        let mut of_tau = [1.0, 0.0, 0.0];
        for term in &self.power {
            if term.new_function_of_tau {
                of_tau = function_of_tau(tau, ln_tau, term.t, term.m);
            }
            let [tau_factor, tau_slope, tau_curve] = of_tau;
            let [exponential, less_one, first, second] = damping[term.damping];
            let base = term.n * tau_factor * delta_power[usize::from(term.d)];
            let f = base * exponential;
            let slope = f64::from(term.d) - first;
            let value = if term.merged { base * less_one } else { f };
            let d = slope * f;
            sum.value += value;
            sum.d += d;
            sum.dd += (slope * (slope - 1.0) - second) * f;
            sum.t += tau_slope * value;
            sum.dt += tau_slope * d;
            sum.tt += tau_curve * value;
        }
        for term in self.gaussian {
            let from_gamma = tau - term.gamma;
            let shape = [
                -term.beta * from_gamma * from_gamma,
                -2.0 * term.beta * tau * from_gamma,
                -2.0 * term.beta * tau * tau,
            ];
            bump(
                [term.n, term.t, term.eta, term.epsilon],
                term.d,
                shape,
                delta,
                &delta_power,
                ln_tau,
                &mut sum,
            );
        }
        for term in self.gao {
            let from_gamma = tau - term.gamma;
            let width = term.beta * from_gamma * from_gamma + term.b;
            let fall = 2.0 * term.beta / (width * width);
            let shape = [
                1.0 / width,
                -fall * tau * from_gamma,
                tau * tau * fall * (4.0 * term.beta * from_gamma * from_gamma / width - 1.0),
            ];
            bump(
                [term.n, term.t, term.eta, term.epsilon],
                term.d,
                shape,
                delta,
                &delta_power,
                ln_tau,
                &mut sum,
            );
        }
        for term in self.nonanalytic {
            nonanalytic(term, delta, tau, &mut sum);
        }
        sum
    }
}

/// tau^t, by products where t is a small whole number (fewer rounding errors than through the logarithm).
fn power_of(tau: f64, ln_tau: f64, t: f64) -> f64 {
    if t == t.trunc() && t.abs() <= 64.0 { tau.powi(t as i32) } else { (t * ln_tau).exp() }
}

/// `f = tau^t exp(-tau^m)` (without the exponential where `m` is 0), `tau f'/f` and `tau^2 f''/f`.
fn function_of_tau(tau: f64, ln_tau: f64, t: f64, m: f64) -> [f64; 3] {
    let power = power_of(tau, ln_tau, t);
    if m == 0.0 {
        return [power, t, t * (t - 1.0)];
    }
    let argument = power_of(tau, ln_tau, m);
    let slope = t - m * argument;
    [power * (-argument).exp(), slope, slope * (slope - 1.0) - m * m * argument]
}

/// `n delta^d tau^t exp(-eta (delta - epsilon)^2 + g(tau))`, given `g`, `tau g'` and `tau^2 g''`.
fn bump(
    [n, t, eta, epsilon]: [f64; 4],
    d: u8,
    [g, g_t, g_tt]: [f64; 3],
    delta: f64,
    delta_power: &[f64; POWERS],
    ln_tau: f64,
    sum: &mut Alpha,
) {
    let from_epsilon = delta - epsilon;
    let exponent = t * ln_tau - eta * from_epsilon * from_epsilon + g;
    let f = n * delta_power[usize::from(d)] * exponent.exp();
    let slope_d = f64::from(d) - 2.0 * eta * delta * from_epsilon;
    let slope_t = t + g_t;
    sum.value += f;
    sum.d += slope_d * f;
    sum.dd += (slope_d * slope_d - f64::from(d) - 2.0 * eta * delta * delta) * f;
    sum.t += slope_t * f;
    sum.dt += slope_d * slope_t * f;
    sum.tt += (slope_t * slope_t - t + g_tt) * f;
}

/// The terms of IAPWS R6-95 (2018), table 5; all powers of (delta - 1)^2 are taken together so that
/// delta = 1 needs no special case. Only the critical point itself is singular, where the term is zero.
fn nonanalytic(term: &Nonanalytic, delta: f64, tau: f64, sum: &mut Alpha) {
    let Nonanalytic { n, a, b, beta, big_a, big_b, big_c, big_d } = *term;
    let from_one = delta - 1.0;
    let square = from_one * from_one;
    let psi = (-big_c * square - big_d * (tau - 1.0) * (tau - 1.0)).exp();
    if psi == 0.0 {
        return;
    }
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

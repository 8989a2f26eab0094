//! Ideal-gas part of the reduced Helmholtz energy.

use crate::fluid::{IdealGas, IdealPower, Oscillator};
use crate::numeric::{Exponentials, Lanes};

/// The ideal-gas part without ln(delta), with the two integration constants that fix where enthalpy and entropy are zero.
#[derive(Debug, Clone, Default)]
pub(super) struct Ideal {
    pub(super) constant: f64,
    pub(super) linear: f64,
    pub(super) logarithm: f64,
    pub(super) power: Vec<IdealPower>,
    pub(super) oscillators: Vec<Oscillator>,
}

impl Ideal {
    /// The published terms with integration constants `(constant, linear)`.
    pub(super) fn new(published: &IdealGas, (constant, linear): (f64, f64)) -> Self {
        Self {
            constant,
            linear,
            logarithm: published.logarithm,
            power: published.power.to_vec(),
            oscillators: published.oscillators.to_vec(),
        }
    }

    /// How many exponentials it needs.
    pub(super) fn exponentials(&self) -> usize {
        self.power.len() + self.oscillators.len()
    }

    /// The value at inverse reduced temperatures, and its scaled derivatives; `ROOM` is for the exponentials, in eights.
    #[inline(always)]
    pub(super) fn evaluate<const L: usize, const ROOM: usize>(&self, tau: Lanes<L>) -> [Lanes<L>; 3] {
        let ln_tau = tau.ln();
        let mut exponentials = Exponentials::<L, ROOM>::new();
        for term in &self.power {
            exponentials.push(ln_tau * term.t);
        }
        for term in &self.oscillators {
            exponentials.push(tau * -term.theta);
        }
        exponentials.work_out();
        let mut used = 0;
        let mut value = tau * self.linear + ln_tau * self.logarithm + self.constant;
        let mut t = tau * self.linear + self.logarithm;
        let mut tt = Lanes::all(-self.logarithm);
        for term in &self.power {
            let f = exponentials.get(used) * term.n;
            value = value + f;
            t = t + f * term.t;
            tt = tt + f * (term.t * (term.t - 1.0));
            used += 1;
        }
        for term in &self.oscillators {
            let x = tau * term.theta;
            // 1 - exp(-x), and x / (exp(x) - 1).
            let rest = -exponentials.get(used) + 1.0;
            let occupied = x * (-rest + 1.0) / rest;
            value = value + rest.ln() * term.n;
            t = t + occupied * term.n;
            tt = tt - occupied * x / rest * term.n;
            used += 1;
        }
        [value, t, tt]
    }
}

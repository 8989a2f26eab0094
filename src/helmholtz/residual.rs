//! Residual part of the reduced Helmholtz energy with its first and second derivatives, in one pass.
//!
//! Derivatives are carried scaled: `d` is `delta d/d delta`, `t` is `tau d/d tau`. Terms
//! `n delta^d tau^t exp(-g delta^l - tau^m)` with the same exponential form a class. Six sums over its bare terms,
//! weighted with 1, `d`, `d (d - 1)`, `t`, `d t` and `t (t - 1)`, give the bare sum and its derivatives; the exponential
//! and its own derivatives are then applied once a class: no division anywhere, and two products and six sums a term.

use std::ops::Range;

use super::nonanalytic;
use crate::fluid::{Gao, Gaussian, Nonanalytic, Power, Residual};
use crate::numeric::{Exponentials, Lanes};

/// A reduced Helmholtz energy and its scaled derivatives.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Alpha<V = f64> {
    /// alpha
    pub(crate) value: V,
    /// delta alpha_delta
    pub(crate) d: V,
    /// delta^2 alpha_delta delta
    pub(crate) dd: V,
    /// tau alpha_tau
    pub(crate) t: V,
    /// delta tau alpha_delta tau
    pub(crate) dt: V,
    /// tau^2 alpha_tau tau
    pub(crate) tt: V,
}

/// Terms by kind: those of a fluid, of a departure function, or of a mixture with each coefficient weighted.
#[derive(Debug, Clone, Default)]
pub(crate) struct TermLists {
    pub(crate) power: Vec<Power>,
    pub(crate) gaussian: Vec<Gaussian>,
    pub(crate) gao: Vec<Gao>,
    pub(crate) nonanalytic: Vec<Nonanalytic>,
}

impl TermLists {
    /// The terms of a fluid.
    pub(crate) fn of(residual: &Residual) -> Self {
        Self {
            power: residual.power.to_vec(),
            gaussian: residual.gaussian.to_vec(),
            gao: residual.gao.to_vec(),
            nonanalytic: residual.nonanalytic.to_vec(),
        }
    }
}

impl TermLists {
    /// Adds terms, their coefficients times a factor.
    pub(crate) fn add(&mut self, more: &Self, factor: f64) {
        self.power.extend(more.power.iter().map(|term| Power { n: factor * term.n, ..*term }));
        self.gaussian.extend(more.gaussian.iter().map(|term| Gaussian { n: factor * term.n, ..*term }));
        self.gao.extend(more.gao.iter().map(|term| Gao { n: factor * term.n, ..*term }));
        self.nonanalytic
            .extend(more.nonanalytic.iter().map(|term| Nonanalytic { n: factor * term.n, ..*term }));
    }
}

/// The terms of one fluid or mixture, ordered so that each power and each exponential is worked out once.
#[derive(Debug)]
pub(crate) struct Terms {
    /// Highest power of delta.
    highest: usize,
    of_tau: FunctionsOfTau,
    classes: Vec<Class>,
    terms: Vec<Term>,
    gaussian: Vec<Gaussian>,
    gao: Vec<Gao>,
    nonanalytic: Vec<Nonanalytic>,
    /// Whether the room for one fluid is too small, as for a mixture of several.
    is_large: bool,
}

/// The powers of tau that the terms need: multiples of 1/8 by roots and products, others as such a product and an
/// exponential.
#[derive(Debug, Default)]
struct FunctionsOfTau {
    /// How many of the square, fourth and eighth root are needed.
    roots: usize,
    /// Exponents, in eighths, of the powers by products; the first six are [`FIRST`].
    eighths: Vec<i32>,
    /// Each further power as a product of two before it.
    products: Vec<[u8; 2]>,
    /// Exponents between 0 and 1, each needing an exponential.
    fractions: Vec<f64>,
    /// The other powers: a whole power and a fraction, standing behind the powers by products.
    mixed: Vec<[u8; 2]>,
}

/// tau^0, tau, 1/tau and the three roots, exponents in eighths.
const FIRST: [i32; 6] = [0, 8, -8, 4, 2, 1];

/// Terms that share an exponential.
#[derive(Debug)]
struct Class {
    terms: Range<usize>,
    damping: Damping,
}

/// What multiplies the bare terms of a class.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Damping {
    /// 0: no exponential of delta.
    l: u8,
    g: f64,
    /// 0: no exponential of tau.
    m: f64,
    /// Terms without a power of delta whose bare twins (same n and t, other sign) are merged into them:
    /// exp(-g delta^l) - 1 replaces exp(-g delta^l), which keeps the digits at low density.
    merged: bool,
}

/// A term without its exponential: which powers, and n times the six weights.
#[derive(Debug)]
struct Term {
    tau: u8,
    delta: u8,
    weighted: [f64; 6],
}

/// Room for powers of delta, for functions of tau, and for exponentials (in eights): the most in the catalogue rounded up,
/// and that for a mixture of several fluids.
const POWERS: usize = 16;
const FUNCTIONS: [usize; 2] = [64, 256];
const EIGHTS: [usize; 2] = [6, 24];

impl FunctionsOfTau {
    /// The powers with these exponents; all made by products have their places before the others.
    fn new(exponents: impl Iterator<Item = f64> + Clone) -> Self {
        let mut functions = Self { eighths: FIRST.to_vec(), ..Self::default() };
        for exponent in exponents.clone() {
            match in_eighths(exponent) {
                Some(eighths) => functions.add_product(eighths),
                None => functions.add_product(8 * exponent.floor() as i32),
            };
        }
        for exponent in exponents.filter(|exponent| in_eighths(*exponent).is_none()) {
            let fraction = exponent - exponent.floor();
            let known = functions.fractions.iter().position(|known| *known == fraction);
            let place = known.unwrap_or_else(|| {
                functions.fractions.push(fraction);
                functions.fractions.len() - 1
            });
            let factors = [functions.add_product(8 * exponent.floor() as i32), place as u8];
            if !functions.mixed.contains(&factors) {
                functions.mixed.push(factors);
            }
        }
        functions
    }

    /// The place of a power by products, which is added where it is missing.
    fn add_product(&mut self, eighths: i32) -> u8 {
        if let Some(root) = FIRST[3..].iter().position(|root| *root == eighths) {
            self.roots = self.roots.max(root + 1);
        }
        if let Some(known) = self.eighths.iter().position(|known| *known == eighths) {
            return known as u8;
        }
        let whole = eighths.div_euclid(8) * 8;
        let one = match eighths - whole {
            0 => whole / 16 * 8,
            fraction if whole == 0 => FIRST[3..].iter().copied().find(|root| *root <= fraction).unwrap_or(1),
            _ => whole,
        };
        let factors = [self.add_product(one), self.add_product(eighths - one)];
        self.products.push(factors);
        self.eighths.push(eighths);
        (self.eighths.len() - 1) as u8
    }

    /// The place of a power.
    fn place(&self, exponent: f64) -> Option<u8> {
        let find = |eighths| self.eighths.iter().position(|known| *known == eighths);
        if let Some(eighths) = in_eighths(exponent) {
            return find(eighths).map(|place| place as u8);
        }
        let whole = find(8 * exponent.floor() as i32)?;
        let fraction = exponent - exponent.floor();
        let fraction = self.fractions.iter().position(|known| *known == fraction)?;
        let mixed = self.mixed.iter().position(|known| *known == [whole as u8, fraction as u8])?;
        Some((self.eighths.len() + mixed) as u8)
    }
}

/// An exponent in eighths, if it is a whole number of them.
fn in_eighths(exponent: f64) -> Option<i32> {
    let eighths = 8.0 * exponent;
    (eighths == eighths.trunc()).then_some(eighths as i32)
}

impl Terms {
    /// Compiles published terms.
    pub(crate) fn new(residual: &Residual) -> Self {
        Self::of(&TermLists::of(residual))
    }

    /// Compiles terms in lists of their own.
    pub(crate) fn of(lists: &TermLists) -> Self {
        let TermLists { power, gaussian, gao, nonanalytic } = lists.clone();
        let is_twin = |bare: &Power, damped: &Power| {
            bare.d == 0
                && bare.l == 0
                && damped.d == 0
                && damped.l > 0
                && (bare.t, bare.m) == (damped.t, damped.m)
                && bare.n == -damped.n
        };
        let is_merged = |term: &Power| power.iter().any(|bare| is_twin(bare, term));
        let of_tau = FunctionsOfTau::new(power.iter().map(|term| term.t));
        let mut kinds: Vec<(Damping, Vec<Term>)> = Vec::new();
        for term in &power {
            if power.iter().any(|damped| is_twin(term, damped)) {
                continue;
            }
            let damping = Damping { l: term.l, g: term.g, m: term.m, merged: is_merged(term) };
            let [d, t] = [f64::from(term.d), term.t];
            let weighted = [1.0, d, d * (d - 1.0), t, d * t, t * (t - 1.0)].map(|weight| weight * term.n);
            let bare = Term { tau: of_tau.place(t).unwrap_or_default(), delta: term.d, weighted };
            match kinds.iter_mut().find(|(known, _)| *known == damping) {
                Some((_, members)) => members.push(bare),
                None => kinds.push((damping, vec![bare])),
            }
        }
        // Terms without an exponential come first: they start the sum.
        kinds.sort_by(|(a, _), (b, _)| (a.l, a.merged).cmp(&(b.l, b.merged)).then(a.m.total_cmp(&b.m)));
        let mut terms = Vec::new();
        let mut classes = Vec::new();
        for (damping, members) in kinds {
            let first = terms.len();
            terms.extend(members);
            classes.push(Class { terms: first..terms.len(), damping });
        }
        let bumps = gaussian.iter().map(|term| term.d).chain(gao.iter().map(|term| term.d));
        let powers = power.iter().flat_map(|term| [term.d, term.l]);
        let highest = usize::from(powers.chain(bumps).max().unwrap_or(0));
        let mut terms = Self { highest, of_tau, classes, terms, gaussian, gao, nonanalytic, is_large: false };
        debug_assert!(highest < POWERS && terms.fits(1));
        terms.is_large = !terms.fits(0);
        terms
    }

    /// How many functions of tau and how many exponentials there are.
    pub(super) fn sizes(&self) -> [usize; 2] {
        let Self { of_tau, classes, gaussian, gao, .. } = self;
        let exponentials = of_tau.fractions.len() + classes.len() + gaussian.len() + gao.len();
        [of_tau.eighths.len() + of_tau.mixed.len(), exponentials]
    }

    /// Whether there is room for them.
    pub(super) fn fits(&self, room: usize) -> bool {
        let [functions, exponentials] = self.sizes();
        functions <= FUNCTIONS[room] && exponentials <= 8 * EIGHTS[room]
    }

    /// The residual part at one reduced density and inverse reduced temperature.
    #[cfg(test)]
    pub(crate) fn at(&self, delta: f64, tau: f64) -> Alpha {
        self.evaluate(Lanes([delta]), Lanes([tau])).lane(0)
    }

    /// The residual part at reduced densities and inverse reduced temperatures.
    #[inline(always)]
    pub(crate) fn evaluate<const L: usize>(&self, delta: Lanes<L>, tau: Lanes<L>) -> Alpha<Lanes<L>> {
        if self.is_large {
            self.evaluate_in::<L, { FUNCTIONS[1] }, { EIGHTS[1] }>(delta, tau)
        } else {
            self.evaluate_in::<L, { FUNCTIONS[0] }, { EIGHTS[0] }>(delta, tau)
        }
    }

    #[inline(always)]
    fn evaluate_in<const L: usize, const FUNCTIONS: usize, const EIGHTS: usize>(
        &self,
        delta: Lanes<L>,
        tau: Lanes<L>,
    ) -> Alpha<Lanes<L>> {
        let ln_tau = tau.ln();
        let one = Lanes::all(1.0);
        let mut of_delta = [Lanes::ZERO; POWERS];
        of_delta[0] = one;
        for power in 1..=self.highest {
            of_delta[power % POWERS] = of_delta[(power - 1) % POWERS] * delta;
        }
        let mut of_tau = [Lanes::ZERO; FUNCTIONS];
        of_tau[0] = one;
        of_tau[1] = tau;
        of_tau[2] = one / tau;
        let mut root = tau;
        for of_tau in &mut of_tau[3..3 + self.of_tau.roots.min(3)] {
            root = root.sqrt();
            *of_tau = root;
        }
        for (place, [a, b]) in (FIRST.len()..).zip(&self.of_tau.products) {
            of_tau[place % FUNCTIONS] =
                of_tau[usize::from(*a) % FUNCTIONS] * of_tau[usize::from(*b) % FUNCTIONS];
        }
        let mut exponentials = Exponentials::<L, EIGHTS>::new();
        for fraction in &self.of_tau.fractions {
            exponentials.push(ln_tau * *fraction);
        }
        for Class { damping, .. } in self.classes.iter().filter(|class| class.damping.exists()) {
            let [argument, warped] = damping.arguments(&of_delta, ln_tau);
            exponentials.push(-(argument + warped));
        }
        for term in &self.gaussian {
            let from_epsilon = delta - term.epsilon;
            let from_gamma = tau - term.gamma;
            let square = from_epsilon * from_epsilon * term.eta + from_gamma * from_gamma * term.beta;
            exponentials.push(ln_tau * term.t - square);
        }
        for term in &self.gao {
            let from_epsilon = delta - term.epsilon;
            let from_gamma = tau - term.gamma;
            let width = from_gamma * from_gamma * term.beta + term.b;
            exponentials.push(ln_tau * term.t - from_epsilon * from_epsilon * term.eta + one / width);
        }
        exponentials.work_out();

        for (place, [whole, fraction]) in (self.of_tau.eighths.len()..).zip(&self.of_tau.mixed) {
            of_tau[place % FUNCTIONS] =
                of_tau[usize::from(*whole) % FUNCTIONS] * exponentials.get(usize::from(*fraction));
        }
        let mut sum = Alpha::nothing();
        let mut used = self.of_tau.fractions.len();
        for class in &self.classes {
            let mut bare = [Lanes::ZERO; 6];
            for term in &self.terms[class.terms.clone()] {
                let power =
                    of_tau[usize::from(term.tau) % FUNCTIONS] * of_delta[usize::from(term.delta) % POWERS];
                for (sum, weight) in bare.iter_mut().zip(term.weighted) {
                    *sum = *sum + power * weight;
                }
            }
            if class.damping.exists() {
                let arguments = class.damping.arguments(&of_delta, ln_tau);
                class.damping.apply(bare, exponentials.get(used), arguments, &mut sum);
                used += 1;
            } else {
                let [value, d, dd, t, dt, tt] = bare;
                sum = Alpha { value, d, dd, t, dt, tt };
            }
        }
        for term in &self.gaussian {
            let from_gamma = tau - term.gamma;
            let shape = [tau * from_gamma * (-2.0 * term.beta), tau * tau * (-2.0 * term.beta)];
            let power = of_delta[usize::from(term.d) % POWERS] * exponentials.get(used);
            bump([term.n, f64::from(term.d), term.t, term.eta, term.epsilon], delta, power, shape, &mut sum);
            used += 1;
        }
        for term in &self.gao {
            let from_gamma = tau - term.gamma;
            let square = from_gamma * from_gamma * term.beta;
            let width = square + term.b;
            let fall = Lanes::all(2.0 * term.beta) / (width * width);
            let shape = [-(fall * tau * from_gamma), tau * tau * fall * (square * 4.0 / width - 1.0)];
            let power = of_delta[usize::from(term.d) % POWERS] * exponentials.get(used);
            bump([term.n, f64::from(term.d), term.t, term.eta, term.epsilon], delta, power, shape, &mut sum);
            used += 1;
        }
        for term in &self.nonanalytic {
            for lane in 0..L {
                let mut alone = Alpha::default();
                nonanalytic::add(term, delta.0[lane], tau.0[lane], &mut alone);
                sum.add_in(lane, alone);
            }
        }
        sum
    }
}

impl Damping {
    /// Whether there is an exponential.
    fn exists(&self) -> bool {
        self.l > 0 || self.m > 0.0
    }

    /// `g delta^l` and `tau^m`, zero where there is no exponential.
    #[inline(always)]
    fn arguments<const L: usize>(&self, of_delta: &[Lanes<L>; POWERS], ln_tau: Lanes<L>) -> [Lanes<L>; 2] {
        [
            if self.l == 0 { Lanes::ZERO } else { of_delta[usize::from(self.l) % POWERS] * self.g },
            if self.m == 0.0 { Lanes::ZERO } else { (ln_tau * self.m).exp() },
        ]
    }

    /// Adds the terms of a class, given their bare sums, to the sum.
    #[inline(always)]
    fn apply<const L: usize>(
        &self,
        [value, d, dd, t, dt, tt]: [Lanes<L>; 6],
        exponential: Lanes<L>,
        [argument, warped]: [Lanes<L>; 2],
        sum: &mut Alpha<Lanes<L>>,
    ) {
        let l = f64::from(self.l);
        // delta and tau derivatives of the exponent, with changed sign, and what the second ones have beside the square.
        let first = argument * l;
        let second = first * (first - (l - 1.0));
        let warp = warped * self.m;
        let warp_second = warp * (warp - (self.m - 1.0));
        let of_value = if self.merged { argument.map(|argument| (-argument).exp_m1()) } else { exponential };
        sum.value = sum.value + value * of_value;
        sum.d = sum.d + (d - value * first) * exponential;
        sum.dd = sum.dd + (dd - d * first * 2.0 + value * second) * exponential;
        sum.t = sum.t + (t - value * warp) * of_value;
        sum.dt = sum.dt + ((dt - t * first) - (d - value * first) * warp) * exponential;
        sum.tt = sum.tt + (tt - t * warp * 2.0 + value * warp_second) * of_value;
    }
}

/// Adds `n delta^d tau^t exp(-eta (delta - epsilon)^2 + g(tau))`, given the product without `n` as `power`, `tau g'` and
/// `tau^2 g''`.
#[inline(always)]
fn bump<const L: usize>(
    [n, d, t, eta, epsilon]: [f64; 5],
    delta: Lanes<L>,
    power: Lanes<L>,
    [g_t, g_tt]: [Lanes<L>; 2],
    sum: &mut Alpha<Lanes<L>>,
) {
    let f = power * n;
    let slope_d = delta * (delta - epsilon) * (-2.0 * eta) + d;
    let slope_t = g_t + t;
    sum.value = sum.value + f;
    sum.d = sum.d + slope_d * f;
    sum.dd = sum.dd + (slope_d * slope_d - delta * delta * (2.0 * eta) - d) * f;
    sum.t = sum.t + slope_t * f;
    sum.dt = sum.dt + slope_d * slope_t * f;
    sum.tt = sum.tt + (slope_t * slope_t + g_tt - t) * f;
}

impl Alpha {
    /// Adds another one times a factor.
    pub(super) fn add(&mut self, other: &Self, factor: f64) {
        self.value += factor * other.value;
        self.d += factor * other.d;
        self.dd += factor * other.dd;
        self.t += factor * other.t;
        self.dt += factor * other.dt;
        self.tt += factor * other.tt;
    }
}

impl<const L: usize> Alpha<Lanes<L>> {
    #[inline(always)]
    fn nothing() -> Self {
        let zero = Lanes::ZERO;
        Self { value: zero, d: zero, dd: zero, t: zero, dt: zero, tt: zero }
    }

    /// Adds to one lane.
    #[inline(always)]
    fn add_in(&mut self, lane: usize, alone: Alpha) {
        self.value.0[lane] += alone.value;
        self.d.0[lane] += alone.d;
        self.dd.0[lane] += alone.dd;
        self.t.0[lane] += alone.t;
        self.dt.0[lane] += alone.dt;
        self.tt.0[lane] += alone.tt;
    }

    /// The sum in one lane.
    #[inline(always)]
    pub(crate) fn lane(&self, lane: usize) -> Alpha {
        let Self { value, d, dd, t, dt, tt } = self;
        let [value, d, dd, t, dt, tt] = [value, d, dd, t, dt, tt].map(|lanes| lanes.0[lane]);
        Alpha { value, d, dd, t, dt, tt }
    }
}

//! The Helmholtz energy written out term by term over dual numbers, and every derivative of this module against it.
//!
//! The reference below knows only the published forms of the terms (the doc comments of [`crate::fluid`]); its
//! derivatives are those of hyper-dual numbers. Deviations are counted against the sum of the sizes of all terms, since
//! that is what a sum in floating point can keep: in a cold liquid terms thousands of times their sum cancel.

use num_dual::{DualNum, HyperDual64};

use super::Equation;
use super::residual::Terms;
use super::size::size_of_terms;
use crate::fluid::{FLUIDS, Fluid, Gao, Gaussian, Nonanalytic, Power};

/// Largest deviation allowed, relative to the size of the terms. A power such as tau^50 alone carries some fifty rounding
/// errors, 1e-14; nothing more is granted anywhere.
const TOLERANCE: f64 = 1e-13;

/// A value with the slopes to two variables (or twice to the same one).
type Dual = HyperDual64;

fn power(term: &Power, delta: Dual, tau: Dual) -> Dual {
    let bare = delta.powi(i32::from(term.d)) * tau.powf(term.t) * term.n;
    let damped = if term.l == 0 { bare } else { bare * (-delta.powi(i32::from(term.l)) * term.g).exp() };
    if term.m == 0.0 { damped } else { damped * (-tau.powf(term.m)).exp() }
}

fn gao(term: &Gao, delta: Dual, tau: Dual) -> Dual {
    let width = (tau - term.gamma).powi(2) * term.beta + term.b;
    let exponent = (delta - term.epsilon).powi(2) * -term.eta + width.recip();
    delta.powi(i32::from(term.d)) * tau.powf(term.t) * exponent.exp() * term.n
}

fn gaussian(term: &Gaussian, delta: Dual, tau: Dual) -> Dual {
    let exponent = (delta - term.epsilon).powi(2) * -term.eta - (tau - term.gamma).powi(2) * term.beta;
    delta.powi(i32::from(term.d)) * tau.powf(term.t) * exponent.exp() * term.n
}

fn nonanalytic(term: &Nonanalytic, delta: Dual, tau: Dual) -> Dual {
    let square = (delta - 1.0).powi(2);
    let theta = -(tau - 1.0) + square.powf(0.5 / term.beta) * term.big_a;
    let distance = theta * theta + square.powf(term.a) * term.big_b;
    let psi = (square * -term.big_c - (tau - 1.0).powi(2) * term.big_d).exp();
    distance.powf(term.b) * delta * psi * term.n
}

/// The terms of the residual part, one by one. `twins` writes a pair of terms without a power of delta, one bare and
/// one with an exponential, as the one term it amounts to.
pub(super) fn residual_terms(fluid: &Fluid, delta: Dual, tau: Dual, twins: bool) -> Vec<Dual> {
    let residual = &fluid.residual;
    let powers = residual.power.iter().map(|term| match (twins && term.d == 0, term.l) {
        (true, 0) => Dual::from(0.0),
        (true, l) => tau.powf(term.t) * (-delta.powi(i32::from(l)) * term.g).exp_m1() * term.n,
        (false, _) => power(term, delta, tau),
    });
    let gaussians = residual.gaussian.iter().map(|term| gaussian(term, delta, tau));
    let gaos = residual.gao.iter().map(|term| gao(term, delta, tau));
    let nonanalytics = residual.nonanalytic.iter().map(|term| nonanalytic(term, delta, tau));
    powers.chain(gaussians).chain(gaos).chain(nonanalytics).collect()
}

/// The terms of the ideal-gas part.
fn ideal_terms(fluid: &Fluid, delta: Dual, tau: Dual) -> Vec<Dual> {
    let ideal = &fluid.ideal_gas;
    let mut terms =
        vec![delta.ln(), Dual::from(ideal.constant), tau * ideal.linear, tau.ln() * ideal.logarithm];
    terms.extend(ideal.power.iter().map(|term| tau.powf(term.t) * term.n));
    terms.extend(ideal.oscillators.iter().map(|o| (-(-tau * o.theta).exp() + 1.0).ln() * o.n));
    terms
}

/// Variables with the derivatives asked for: `(1, 1)` twice to the first, `(1, 2)` to both, `(2, 2)` twice to the second.
fn variables(x: f64, y: f64, (first, second): (u8, u8)) -> (Dual, Dual) {
    let seed = |variable: u8, asked: u8| if variable == asked { 1.0 } else { 0.0 };
    let variable = |value, number| Dual::new(value, seed(number, first), seed(number, second), 0.0);
    (variable(x, 1), variable(y, 2))
}

/// Sum of some part of each term, and of the sizes of the terms or of that part where it is larger.
fn sums(terms: &[Dual], part: impl Fn(&Dual) -> f64) -> (f64, f64) {
    terms.iter().fold((0.0, 0.0), |(sum, size), term| {
        let part = part(term);
        (sum + part, size + part.abs().max(term.re.abs()))
    })
}

/// Keeps the largest of some deviations and where it was.
#[derive(Debug, Default)]
struct Worst {
    deviation: f64,
    place: String,
    checked: usize,
}

impl Worst {
    fn see(&mut self, got: f64, (expected, size): (f64, f64), place: impl Fn() -> String) {
        self.checked += 1;
        let deviation = (got - expected).abs() / size.max(f64::MIN_POSITIVE);
        assert!(deviation.is_finite(), "{}: {got} against {expected} of size {size}", place());
        if deviation > self.deviation {
            self.deviation = deviation;
            self.place = place();
        }
    }

    fn finish(self, what: &str, checked: usize) {
        println!(
            "{what}: {} checked, largest deviation {:.1e} ({})",
            self.checked, self.deviation, self.place
        );
        assert!(self.checked >= checked, "{what}: only {} checked", self.checked);
        assert!(self.deviation < TOLERANCE, "{what}: {:e} at {}", self.deviation, self.place);
    }
}

/// Reduced density and inverse reduced temperature over gas, dome, liquid and dense fluid, from a vacuum on, and around
/// the critical point as close as `nearest`.
fn places(fluid: &Fluid, nearest: f64) -> Vec<(f64, f64)> {
    let (coldest, hottest) = (fluid.validity.minimum_temperature, fluid.validity.maximum_temperature);
    let mut places = Vec::new();
    for i in 0..=24 {
        let temperature = coldest + (1.3 * hottest - coldest) * f64::from(i) / 24.0;
        for j in 0..=40 {
            // From 1e-14 of the reducing density by steps of a fixed ratio, then evenly up to 3.9 times.
            let delta =
                if j < 20 { 1e-14 * 1e14_f64.powf(f64::from(j) / 20.0) } else { 0.19 * f64::from(j - 19) };
            places.push((delta, fluid.reducing.temperature / temperature));
        }
    }
    let critical = fluid.critical.molar_density / fluid.reducing.molar_density;
    let tau = fluid.reducing.temperature / fluid.critical.temperature;
    let distances = [0.3, 0.1, 0.03, 1e-2, 1e-3, 1e-4, 1e-6, 1e-8, 1e-10];
    for from_density in distances.into_iter().filter(|&distance| distance >= nearest) {
        for from_temperature in [0.03, 1e-2, 1e-3, 1e-5, 1e-8, 0.0] {
            for (sign_d, sign_t) in [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)] {
                places.push((
                    critical * (1.0 + sign_d * from_density),
                    tau * (1.0 + sign_t * from_temperature),
                ));
            }
        }
    }
    places
}

/// Compares the residual part and its scaled derivatives at some places.
fn check_residual(fluid: &'static Fluid, places: &[(f64, f64)], twins: bool) {
    let compiled = Terms::new(&fluid.residual);
    let mut worst = Worst::default();
    for &(delta, tau) in places {
        let got = compiled.at(delta, tau);
        let at = |asked| {
            let (d, t) = variables(delta, tau, asked);
            residual_terms(fluid, d, t, twins)
        };
        let (twice_d, both, twice_t) = (at((1, 1)), at((1, 2)), at((2, 2)));
        for (name, got, expected) in [
            ("alpha", got.value, sums(&both, |x| x.re)),
            ("delta alpha_d", got.d, sums(&both, |x| delta * x.eps1)),
            ("tau alpha_t", got.t, sums(&both, |x| tau * x.eps2)),
            ("delta^2 alpha_dd", got.dd, sums(&twice_d, |x| delta * delta * x.eps1eps2)),
            ("delta tau alpha_dt", got.dt, sums(&both, |x| delta * tau * x.eps1eps2)),
            ("tau^2 alpha_tt", got.tt, sums(&twice_t, |x| tau * tau * x.eps1eps2)),
        ] {
            worst.see(got, expected, || format!("{name} at delta {delta:e}, tau {tau}"));
        }
    }
    worst.finish(&format!("{} residual part", fluid.designation), 6 * places.len());
}

#[test]
fn residual_derivatives_are_those_of_dual_numbers() {
    for fluid in FLUIDS {
        check_residual(fluid, &places(fluid, 1e-10), false);
    }
}

/// In a thin gas a term and its twin cancel to many digits in the published form. Written as one, they keep them all.
#[test]
fn twin_terms_keep_their_digits_in_a_thin_gas() {
    let with_twins = FLUIDS.into_iter().filter(|fluid| fluid.residual.power.iter().any(|term| term.d == 0));
    let mut fluids = Vec::new();
    for fluid in with_twins {
        check_residual(fluid, &places(fluid, 1e-10), true);
        fluids.push(fluid.designation);
    }
    assert_eq!(fluids, ["R-114", "R-123", "R-152a"]);
}

/// Where density is the critical one the terms of water that are not analytic have powers of zero, which dual numbers
/// cannot follow: there the derivatives must be the limit of those at either side, temperature being another.
#[test]
fn critical_density_of_water_is_a_limit() {
    let fluid = FLUIDS.into_iter().find(|fluid| !fluid.residual.nonanalytic.is_empty()).unwrap();
    let terms = Terms::new(&fluid.residual);
    let parts = |delta: f64, tau: f64| {
        let at = terms.at(delta, tau);
        [at.value, at.d, at.t, at.dd, at.dt, at.tt]
    };
    for from_critical in [0.3, 0.03, 1e-3, 1e-5, -1e-5, -1e-3, -0.03, -0.3] {
        let tau = 1.0 + from_critical;
        let step = 1e-9_f64;
        let (below, at, above) = (parts(1.0 - step, tau), parts(1.0, tau), parts(1.0 + step, tau));
        for ((b, at), a) in below.into_iter().zip(at).zip(above) {
            assert!((0.5 * (a + b) - at).abs() <= 1e-9 * (1.0 + at.abs()), "tau {tau}: {b} {at} {a}");
        }
    }
}

/// One term of the Helmholtz energy `a = R T (alpha0 + alphar)` and its slopes with temperature and density.
#[derive(Debug, Clone, Copy)]
struct Term {
    a: f64,
    t: f64,
    rho: f64,
    tt: f64,
    t_rho: f64,
    rho_rho: f64,
}

fn helmholtz_terms(fluid: &Fluid, temperature: f64, density: f64) -> Vec<Term> {
    let r = fluid.gas_constant / fluid.molar_mass;
    let reducing_density = fluid.reducing.molar_density * fluid.molar_mass;
    let terms = |asked| {
        let (t, rho) = variables(temperature, density, asked);
        let (delta, mut tau) = (rho / reducing_density, t.recip() * fluid.reducing.temperature);
        // Next to the critical point singular terms answer to the last digit of tau: one rounding here, as there.
        tau.re = fluid.reducing.temperature / temperature;
        let mut terms = ideal_terms(fluid, delta, tau);
        terms.extend(residual_terms(fluid, delta, tau, false));
        terms.into_iter().map(move |term| t * term * r)
    };
    let (twice_t, both, twice_rho) = (terms((1, 1)), terms((1, 2)), terms((2, 2)));
    twice_t
        .zip(both)
        .zip(twice_rho)
        .map(|((tt, both), rho_rho)| Term {
            a: both.re,
            t: both.eps1,
            rho: both.eps2,
            tt: tt.eps1eps2,
            t_rho: both.eps1eps2,
            rho_rho: rho_rho.eps1eps2,
        })
        .collect()
}

/// A property with its value and how it is made of the slopes of the Helmholtz energy; `unit` is that of the property
/// over that of the Helmholtz energy, in powers of temperature and density.
type Definition<'a> = (&'static str, f64, f64, &'a dyn Fn(&Term) -> f64);

/// Every property and slope of [`Thermo`](super::Thermo) against its definition.
#[test]
fn properties_are_those_of_the_helmholtz_energy() {
    for fluid in FLUIDS {
        let equation = Equation::new(fluid, (fluid.ideal_gas.constant, fluid.ideal_gas.linear));
        let mut worst = Worst::default();
        let places = places(fluid, 1e-10);
        for &(delta, tau) in &places {
            let t = fluid.reducing.temperature / tau;
            let rho = delta * fluid.reducing.molar_density * fluid.molar_mass;
            let terms = helmholtz_terms(fluid, t, rho);
            let got = equation.at(t, rho);
            let definitions: [Definition<'_>; 12] = [
                ("pressure", got.pressure, rho, &|x| rho * rho * x.rho),
                ("entropy", got.entropy, 1.0 / t, &|x| -x.t),
                ("internal energy", got.internal_energy, 1.0, &|x| x.a - t * x.t),
                ("enthalpy", got.enthalpy, 1.0, &|x| x.a - t * x.t + rho * x.rho),
                ("cv", got.cv, 1.0 / t, &|x| -t * x.tt),
                ("p_t", got.p_t, rho / t, &|x| rho * rho * x.t_rho),
                ("p_rho", got.p_rho, 1.0, &|x| 2.0 * rho * x.rho + rho * rho * x.rho_rho),
                ("h_t", got.h_t(), 1.0 / t, &|x| -t * x.tt + rho * x.t_rho),
                ("h_rho", got.h_rho(), 1.0 / rho, &|x| 2.0 * x.rho - t * x.t_rho + rho * x.rho_rho),
                ("s_t", got.s_t(), 1.0 / (t * t), &|x| -x.tt),
                ("s_rho", got.s_rho(), 1.0 / (rho * t), &|x| -x.t_rho),
                ("u_rho", got.u_rho(), 1.0 / rho, &|x| x.rho - t * x.t_rho),
            ];
            let size_of_a: f64 = terms.iter().map(|term| term.a.abs()).sum();
            for (name, value, unit, part) in definitions {
                let (sum, size) = terms
                    .iter()
                    .map(part)
                    .fold((0.0, 0.0), |(sum, size): (f64, f64), x| (sum + x, size + x.abs()));
                let size = size.max(unit * size_of_a);
                worst.see(value, (sum, size), || format!("{name} at {t} K, {rho:e} kg/m3"));
            }
        }
        worst.finish(&format!("{} properties", fluid.designation), 12 * places.len());
    }
}

/// The counted sizes are those of the terms written out. In the coldest liquid of most fluids they are some hundreds, those
/// of R-22 are more than 100,000 and cancel: its properties there are good to several 1e-11 R T and no better.
#[test]
fn size_of_terms_is_that_of_the_terms_written_out() {
    let mut large = Vec::new();
    for fluid in FLUIDS {
        let temperature = fluid.validity.minimum_temperature;
        let liquid = &fluid.saturation_guess.liquid_density;
        let density = liquid.scale * (1.0 + liquid.sum(temperature)) * fluid.molar_mass;
        let (delta, tau) = (
            density / (fluid.reducing.molar_density * fluid.molar_mass),
            fluid.reducing.temperature / temperature,
        );
        let (d, t) = variables(delta, tau, (1, 2));
        let terms = ideal_terms(fluid, d, t).into_iter().chain(residual_terms(fluid, d, t, false));
        let expected: f64 = terms.map(|x| (delta * x.eps1).abs() + (tau * x.eps2).abs()).sum();
        let got = size_of_terms(fluid, temperature, density);
        assert!((got / expected - 1.0).abs() < 1e-12, "{}: {got} for {expected}", fluid.designation);
        if got > 5000.0 {
            large.push(fluid.designation);
        }
    }
    assert_eq!(large, ["R-22", "R-123", "R-152a"]);
}

//! Random numbers and states, and how a property is tried on them.

use std::fmt::Debug;

use interstage::{Error, Refrigerant, Result, State};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseResult, TestError, TestRng, TestRunner};

use super::{NEAR_SINGULAR, hottest_saturation, outside_gap};

/// Cases of one property for one refrigerant and pair.
pub(crate) const CASES: u32 = if cfg!(debug_assertions) { 1000 } else { 20_000 };

pub(crate) fn seed() -> u64 {
    std::env::var("INTERSTAGE_SEED").ok().and_then(|text| text.parse().ok()).unwrap_or(20_260_115)
}

/// Tries a property on random values and prints the seed and the simplest value that fails.
#[track_caller]
pub(crate) fn check<S: Strategy>(
    what: &str,
    cases: u32,
    strategy: &S,
    property: impl Fn(S::Value) -> TestCaseResult,
) where
    S::Value: Debug,
{
    let config = Config { cases, failure_persistence: None, max_shrink_iters: 2000, ..Config::default() };
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed().to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    match TestRunner::new_with_rng(config, rng).run(strategy, property) {
        Ok(()) => {}
        Err(TestError::Fail(reason, value)) => panic!("{what} (seed {}): {reason}\nfor {value:?}", seed()),
        Err(TestError::Abort(reason)) => panic!("{what} (seed {}): {reason}", seed()),
    }
}

/// Any double: all bit patterns, the awkward ones more often, and numbers of ordinary size.
pub(crate) fn anything() -> impl Strategy<Value = f64> {
    let awkward = prop::sample::select(vec![
        0.0,
        -0.0,
        1.0,
        f64::NAN,
        -f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        f64::MAX,
        f64::MIN,
        f64::MIN_POSITIVE,
        5e-324,
        -5e-324,
        1e-300,
        1e300,
        f64::EPSILON,
        273.15,
        273.16,
        101_325.0,
    ]);
    prop_oneof![
        3 => prop::num::f64::ANY,
        2 => awkward,
        4 => (-6.0..10.0_f64).prop_map(|exponent| 10_f64.powf(exponent)),
        1 => (-6.0..10.0_f64).prop_map(|exponent| -10_f64.powf(exponent)),
        2 => 100.0..1500.0_f64,
    ]
}

pub(crate) fn all_finite(state: &State) -> bool {
    let numbers = [
        state.temperature(),
        state.pressure(),
        state.density(),
        state.specific_volume(),
        state.enthalpy(),
        state.entropy(),
        state.internal_energy(),
        state.quality().unwrap_or(0.0),
    ];
    let x = state.quality().unwrap_or(0.0);
    numbers.iter().all(|number| number.is_finite())
        && state.temperature() > 0.0
        && state.pressure() > 0.0
        && state.density() > 0.0
        && (0.0..=1.0).contains(&x)
}

/// A solver that gives up on odd input would be a defect as well.
pub(crate) fn is_about_input(error: &Error) -> bool {
    matches!(error, Error::OutOfRange { .. } | Error::NotFinite { .. } | Error::Inconsistent { .. })
        && !error.to_string().is_empty()
}

/// A random state of a refrigerant, as numbers from 0 to 1: where it is, and two coordinates.
pub(crate) type Draw = (f64, f64, f64);

pub(crate) fn draws() -> (std::ops::Range<f64>, std::ops::Range<f64>, std::ops::Range<f64>) {
    (0.0..1.0, 0.0..1.0, 0.0..1.0)
}

pub(crate) fn between(share: f64, lower: f64, upper: f64) -> f64 {
    lower + share * (upper - lower)
}

pub(crate) fn between_logarithms(share: f64, lower: f64, upper: f64) -> f64 {
    (lower * (upper / lower).powf(share)).clamp(lower, upper)
}

/// Seven in ten at a temperature and pressure of the whole validity range, two wet, one around the critical point.
pub(crate) fn random_state(refrigerant: &Refrigerant, draw: Draw) -> State {
    try_random_state(refrigerant, draw).unwrap()
}

/// The same, for who counts failures.
pub(crate) fn try_random_state(refrigerant: &Refrigerant, (where_, x, y): Draw) -> Result<State> {
    let (coldest, hottest) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
    let (triple, critical) =
        (refrigerant.minimum_saturation_temperature(), refrigerant.critical_temperature());
    let anywhere = || {
        let p = between_logarithms(y, 1e-2, refrigerant.maximum_pressure());
        refrigerant.state_pt(outside_gap(refrigerant, p), between(x, coldest, hottest))
    };
    if where_ < 0.7 {
        anywhere()
    } else if where_ < 0.9 {
        let t = between(x, triple, hottest_saturation(refrigerant) * (1.0 - 2.0 * NEAR_SINGULAR));
        refrigerant.state_tx(t, y)
    } else {
        let (sign, distance) = if x < 0.5 { (-1.0, 2.0 * x) } else { (1.0, 2.0 * x - 1.0) };
        let t = critical * (1.0 + sign * between_logarithms(distance, 2e-6, 0.03));
        let t = t.min(hottest);
        let rho = refrigerant.critical_density() * between(y, 0.4, 1.6);
        match refrigerant.state_t_rho(t, rho) {
            // Short of the critical point a blend has no states.
            Err(Error::OutOfRange { argument: "pressure", .. }) if refrigerant.composition().is_some() => {
                anywhere()
            }
            state => state,
        }
    }
}

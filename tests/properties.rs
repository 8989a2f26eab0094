//! Random states and random pairs of properties: the answer holds, or it is an error about the input.
//!
//! The seed is fixed and printed with every failure; `INTERSTAGE_SEED=<number>` sets another. An optimised build without
//! debug assertions tries twenty thousand cases for each refrigerant and pair.
#![expect(clippy::unwrap_used, reason = "a helper that fails is a failed test")]

mod states;

use interstage::{Derivatives, Error, Refrigerant, Result, Saturation, State};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{TestCaseResult, TestRunner};
use states::random::{
    CASES, all_finite, anything, between, between_logarithms, check, draws, is_about_input, random_state,
};
use states::{Of, PAIRS, Pair, is_stable, refrigerants, residual, tolerance_of, wet_tolerance};

fn error_or_state(outcome: &Result<State>) -> TestCaseResult {
    match outcome {
        Ok(state) => prop_assert!(all_finite(state), "{state:?}"),
        Err(error) => prop_assert!(is_about_input(error), "{error}"),
    }
    Ok(())
}

fn error_or_saturation(outcome: &Result<Saturation>) -> TestCaseResult {
    match outcome {
        Ok(saturation) => {
            prop_assert!(
                all_finite(&saturation.liquid()) && all_finite(&saturation.vapor()),
                "{saturation:?}"
            );
            prop_assert!(saturation.latent_heat() >= 0.0);
        }
        Err(error) => prop_assert!(is_about_input(error), "{error}"),
    }
    Ok(())
}

#[test]
fn any_numbers_give_an_error_or_a_state() {
    for refrigerant in refrigerants() {
        for refrigerant in [refrigerant.clone(), refrigerant.with_extrapolation()] {
            let what = format!("{refrigerant:?}");
            check(&what, CASES, &(anything(), anything()), |(a, b)| {
                error_or_saturation(&refrigerant.saturation_at_temperature(a))?;
                error_or_saturation(&refrigerant.saturation_at_pressure(a))?;
                error_or_state(&refrigerant.state_px(a, b))?;
                error_or_state(&refrigerant.state_tx(a, b))?;
                for pair in &PAIRS {
                    let outcome = (pair.make)(&refrigerant, a, b);
                    error_or_state(&outcome)?;
                    if let Ok(state) = outcome {
                        prop_assert_eq!(
                            pair.of(&state),
                            (a, b),
                            "{} does not return what it was given",
                            pair.name
                        );
                        prop_assert!(is_stable(&refrigerant, &state), "{} {:?}", pair.name, state);
                        let left = residual(&refrigerant, &state);
                        prop_assert!(left <= tolerance_of(&refrigerant, &state), "{} {left:e}", pair.name);
                        if let Ok(derivatives) = refrigerant.derivatives(&state) {
                            prop_assert!(derivatives_hold(&derivatives), "{:?} in {:?}", derivatives, state);
                        }
                    }
                }
                Ok(())
            });
        }
    }
}

/// Finite, but for the infinities that belong to the critical point.
fn derivatives_hold(derivatives: &Derivatives) -> bool {
    let numbers = [derivatives.cv(), derivatives.joule_thomson(), derivatives.compressibility_factor()];
    numbers.iter().all(|number| number.is_finite())
        && derivatives.cv() > 0.0
        && derivatives.cp() >= derivatives.cv()
        && derivatives.speed_of_sound() >= 0.0
        && derivatives.isothermal_compressibility() > 0.0
}

#[test]
fn every_pair_of_a_random_state_gives_a_state_that_holds() {
    for refrigerant in refrigerants() {
        for pair in &PAIRS {
            let what = format!("{refrigerant:?} {}", pair.name);
            check(&what, CASES, &draws(), |draw| {
                let state = random_state(&refrigerant, draw);
                if pair.name == "state_pt" && state.quality().is_some() {
                    return Ok(());
                }
                let (a, b) = pair.of(&state);
                let back = (pair.make)(&refrigerant, a, b)
                    .map_err(|error| TestCaseError::fail(format!("({a:?}, {b:?}) of {state:?}: {error}")))?;
                prop_assert_eq!(pair.of(&back), (a, b));
                let left = residual(&refrigerant, &back);
                prop_assert!(
                    left <= tolerance_of(&refrigerant, &back),
                    "{left:e} left by {back:?} for {state:?}"
                );
                prop_assert!(is_stable(&refrigerant, &back), "{back:?} for {state:?}");
                Ok(())
            });
        }
    }
}

/// The lowest and highest value of a property within the limits, and a share of the span beyond each.
fn span(refrigerant: &Refrigerant, of: Of) -> (f64, f64) {
    let (coldest, hottest) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
    let ends = match of {
        Of::Temperature => return (0.97 * coldest, 1.03 * hottest),
        Of::Pressure => return (1e-3, 1.5 * refrigerant.maximum_pressure()),
        Of::Density => return (1e-9, 4.0 * refrigerant.critical_density()),
        _ => {
            let at = |p: f64, t: f64| of.value(&refrigerant.state_pt(p, t).unwrap());
            let highest = refrigerant.maximum_pressure();
            [at(1e-3, coldest), at(1e-3, hottest), at(highest, coldest), at(highest, hottest)]
        }
    };
    let (low, high) = ends.iter().fold((f64::MAX, f64::MIN), |(low, high), &x| (low.min(x), high.max(x)));
    (low - 0.1 * (high - low), high + 0.1 * (high - low))
}

/// Both values drawn by themselves, so that they often belong to no state.
#[test]
fn random_pairs_give_a_state_that_holds_or_a_range_error() {
    let draw = |of: Of, (low, high): (f64, f64), share: f64| match of {
        Of::Pressure | Of::Density => between_logarithms(share, low, high),
        _ => between(share, low, high),
    };
    for refrigerant in refrigerants() {
        for pair in &PAIRS {
            let Pair { name, given: [first, second], make } = pair;
            let spans = (span(&refrigerant, *first), span(&refrigerant, *second));
            let solved = std::cell::Cell::new(0_u32);
            check(&format!("{refrigerant:?} {name}"), CASES, &(0.0..1.0, 0.0..1.0), |(x, y)| {
                let (a, b) = (draw(*first, spans.0, x), draw(*second, spans.1, y));
                match make(&refrigerant, a, b) {
                    Ok(state) => {
                        solved.set(solved.get() + 1);
                        prop_assert_eq!(pair.of(&state), (a, b));
                        let left = residual(&refrigerant, &state);
                        prop_assert!(
                            left <= tolerance_of(&refrigerant, &state),
                            "{left:e} left by {state:?} for {a:?}, {b:?}"
                        );
                        prop_assert!(is_stable(&refrigerant, &state), "{state:?} for {a:?}, {b:?}");
                        let t = state.temperature();
                        prop_assert!(
                            t >= refrigerant.minimum_temperature() && t <= refrigerant.maximum_temperature()
                        );
                        prop_assert!(state.pressure() <= refrigerant.maximum_pressure() * (1.0 + 1e-9));
                    }
                    Err(Error::OutOfRange { value, minimum, maximum, .. }) => {
                        prop_assert!(
                            minimum <= maximum && !(minimum..=maximum).contains(&value),
                            "{minimum} {value} {maximum}"
                        );
                    }
                    Err(Error::Inconsistent { .. }) => prop_assert_eq!(*name, "state_hs"),
                    Err(error) => prop_assert!(false, "{error} for {a:?}, {b:?}"),
                }
                Ok(())
            });
            // Neither all refused nor, with a margin beyond the limits, all answered.
            assert!(solved.get() > CASES / 200, "{refrigerant:?} {name}: {} solved", solved.get());
        }
    }
}

/// The draws themselves reach everywhere: gas, liquid, dense fluid, wet states and the critical region.
#[test]
fn random_states_cover_all_phases() {
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let mut runner = TestRunner::deterministic();
    let mut seen = std::collections::HashSet::new();
    for _ in 0..500 {
        let draw = draws().new_tree(&mut runner).unwrap().current();
        seen.insert(random_state(&refrigerant, draw).phase());
    }
    assert_eq!(seen.len(), 4);
}

/// The achieved error of the fitted saturation line can be asked for, and is small in the range of chillers.
#[test]
fn saturation_tells_its_own_residual() {
    for refrigerant in refrigerants() {
        let coldest = refrigerant.minimum_saturation_temperature().max(258.15);
        let chiller = (coldest, (0.98 * refrigerant.critical_temperature()).min(338.15));
        match refrigerant.saturation_residual(chiller.0, chiller.1).unwrap() {
            // Where terms cancel that are large in the coldest liquid, their rounding is left.
            Some(residual) => {
                let allowed = wet_tolerance(&refrigerant, chiller.0);
                assert!(residual > 0.0 && residual < allowed, "{refrigerant:?} {residual:e}");
            }
            None => assert!(refrigerant.composition().is_some()),
        }
        assert!(refrigerant.saturation_residual(chiller.1, chiller.0).is_err());
        assert!(refrigerant.saturation_residual(f64::NAN, chiller.1).is_err());
        assert!(refrigerant.saturation_residual(chiller.0, 2.0 * chiller.1).is_err());
    }
}

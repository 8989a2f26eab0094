//! Random input: whatever is asked for, the answer is an error or a state that holds.
//!
//! The seed is fixed and printed with every failure; `INTERSTAGE_SEED=<number>` sets another. An optimised build without
//! debug assertions tries twenty thousand cases for each refrigerant and pair.

mod states;

use std::fmt::Debug;

use interstage::{
    Circuit, Conditions, Derivatives, Error, FlashTank, Interstage, InterstagePressures, Location, Reference,
    Refrigerant, Result, Saturation, Size, Stage, State, isentropic_efficiency, polytropic_efficiency, units,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseResult, TestError, TestRng, TestRunner};
use states::{Of, PAIRS, Pair, is_stable, refrigerants, residual, tolerance};

/// Cases of one property for one refrigerant and pair.
const CASES: u32 = if cfg!(debug_assertions) { 1000 } else { 20_000 };

fn seed() -> u64 {
    std::env::var("INTERSTAGE_SEED").ok().and_then(|text| text.parse().ok()).unwrap_or(20_260_115)
}

/// Tries a property on random values and prints the seed and the simplest value that fails.
#[track_caller]
fn check<S: Strategy>(what: &str, cases: u32, strategy: &S, property: impl Fn(S::Value) -> TestCaseResult)
where
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
fn anything() -> impl Strategy<Value = f64> {
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

fn all_finite(state: &State) -> bool {
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
fn is_about_input(error: &Error) -> bool {
    matches!(error, Error::OutOfRange { .. } | Error::NotFinite { .. } | Error::Inconsistent { .. })
        && !error.to_string().is_empty()
}

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
                        prop_assert!(
                            left <= tolerance(&refrigerant, state.density()),
                            "{} {left:e}",
                            pair.name
                        );
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
    numbers.iter().all(|number| number.is_finite()) && derivatives.cv() > 0.0 && !derivatives.cp().is_nan()
}

/// A random state of a refrigerant, as numbers from 0 to 1: where it is, and two coordinates.
type Draw = (f64, f64, f64);

fn draws() -> (std::ops::Range<f64>, std::ops::Range<f64>, std::ops::Range<f64>) {
    (0.0..1.0, 0.0..1.0, 0.0..1.0)
}

fn between(share: f64, lower: f64, upper: f64) -> f64 {
    lower + share * (upper - lower)
}

fn between_logarithms(share: f64, lower: f64, upper: f64) -> f64 {
    (lower * (upper / lower).powf(share)).clamp(lower, upper)
}

/// Seven in ten at a temperature and pressure of the whole validity range, two wet, one around the critical point.
fn random_state(refrigerant: &Refrigerant, (where_, x, y): Draw) -> State {
    let (coldest, hottest) = (refrigerant.minimum_temperature(), refrigerant.maximum_temperature());
    let (triple, critical) = (refrigerant.triple_temperature(), refrigerant.critical_temperature());
    let anywhere = || {
        let p = between_logarithms(y, 1e-2, refrigerant.maximum_pressure());
        refrigerant.state_pt(p, between(x, coldest, hottest)).unwrap()
    };
    if where_ < 0.7 {
        anywhere()
    } else if where_ < 0.9 {
        let t = between(x, triple, critical * (1.0 - 2.0 * states::NEAR_CRITICAL_WATER));
        refrigerant.state_tx(t, y).unwrap()
    } else {
        let (sign, distance) = if x < 0.5 { (-1.0, 2.0 * x) } else { (1.0, 2.0 * x - 1.0) };
        let t = critical * (1.0 + sign * between_logarithms(distance, 2e-6, 0.03));
        let t = t.min(hottest);
        let rho = refrigerant.critical_density() * between(y, 0.4, 1.6);
        refrigerant.state_t_rho(t, rho).unwrap()
    }
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
                    left <= tolerance(&refrigerant, back.density()),
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
                            left <= tolerance(&refrigerant, state.density()),
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

fn sizes() -> impl Strategy<Value = Size> {
    (0..3, anything()).prop_map(|(kind, value)| match kind {
        0 => Size::Capacity(value),
        1 => Size::MassFlow(value),
        _ => Size::Power(value),
    })
}

fn rules() -> impl Strategy<Value = InterstagePressures> {
    prop_oneof![
        Just(InterstagePressures::EqualRatio),
        Just(InterstagePressures::EqualTemperatureStep),
        prop::collection::vec(anything(), 0..4).prop_map(InterstagePressures::Given),
        // Pressures that rise, and may lie between the two of a machine.
        prop::collection::vec(4.5..6.5_f64, 0..4).prop_map(|mut exponents| {
            exponents.sort_by(f64::total_cmp);
            InterstagePressures::Given(exponents.into_iter().map(|exponent| 10_f64.powf(exponent)).collect())
        }),
    ]
}

/// Stages and what sits between them: mostly as many as belong together and of efficiencies that exist.
fn machines() -> impl Strategy<Value = (Vec<(bool, f64)>, Vec<bool>)> {
    let efficiency = || prop_oneof![9 => 0.3..1.0_f64, 1 => anything()];
    let stages = move |count| prop::collection::vec((any::<bool>(), efficiency()), count);
    prop_oneof![
        4 => (1..4_usize).prop_flat_map(move |n| (stages(n..n + 1), prop::collection::vec(any::<bool>(), n - 1))),
        1 => (stages(0..4), prop::collection::vec(any::<bool>(), 0..4)),
    ]
}

/// Evaporating and condensing temperature, superheat, subcooling and size: mostly those of chillers.
fn runs() -> impl Strategy<Value = (f64, f64, f64, f64, Size)> {
    let change = |highest: f64| prop_oneof![4 => Just(0.0), 4 => 0.0..highest, 1 => anything()];
    let size = prop_oneof![4 => Just(Size::Capacity(1e6)), 1 => sizes()];
    let temperatures = prop_oneof![
        4 => (265.0..295.0_f64, 5.0..60.0_f64).prop_map(|(cold, lift)| (cold, cold + lift)),
        1 => (anything(), anything()),
    ];
    (temperatures, change(30.0), change(20.0), size)
        .prop_map(|((cold, hot), superheat, subcooling, size)| (cold, hot, superheat, subcooling, size))
}

#[test]
fn any_machine_gives_an_error_or_a_cycle() {
    let all = refrigerants();
    let solved = std::cell::Cell::new(0_u32);
    let strategy = (0..all.len(), machines(), rules(), runs());
    check("machine", 2 * CASES, &strategy, |(fluid, (stages, tanks), rule, run)| {
        let made = stages
            .iter()
            .map(
                |&(isentropic, efficiency)| {
                    if isentropic { Stage::isentropic(efficiency) } else { Stage::polytropic(efficiency) }
                },
            )
            .collect::<Result<Vec<_>>>();
        let Ok(stages) = made else {
            prop_assert!(made.is_err_and(|error| is_about_input(&error)));
            return Ok(());
        };
        let between = tanks
            .iter()
            .map(|&tank| if tank { Interstage::FlashTank(FlashTank::new()) } else { Interstage::Direct })
            .collect();
        let circuit = Circuit::new(all[fluid].clone(), stages, between)
            .and_then(|circuit| circuit.with_interstage_pressures(rule));
        let circuit = match circuit {
            Ok(circuit) => circuit,
            Err(error) => {
                prop_assert!(is_about_input(&error) || matches!(error, Error::WrongLength { .. }), "{error}");
                return Ok(());
            }
        };
        let (evaporating, condensing, superheat, subcooling, size) = run;
        let conditions = Conditions::new(evaporating, condensing, size)
            .with_suction_superheat(superheat)
            .with_subcooling(subcooling);
        prop_assert!(!conditions.refrigerant_lift().is_nan() || !(evaporating - condensing).is_finite());
        match circuit.solve(&conditions) {
            Ok(cycle) => {
                solved.set(solved.get() + 1);
                let figures = [
                    cycle.cop(),
                    cycle.power(),
                    cycle.capacity(),
                    cycle.heat_rejected(),
                    cycle.refrigerating_effect(),
                    cycle.kw_per_ton(),
                    cycle.carnot_cop(),
                    cycle.economizer_benefit(),
                    cycle.discharge_temperature(),
                    cycle.evaporator_inlet_quality(),
                    cycle.mass_closure(),
                    cycle.energy_closure(),
                ];
                prop_assert!(figures.iter().all(|figure| figure.is_finite()), "{figures:?}");
                prop_assert!(cycle.mass_closure().abs() < 1e-9 && cycle.energy_closure().abs() < 1e-9);
                prop_assert!(
                    cycle.points().iter().all(|point| all_finite(point.state()) && point.mass_flow() >= 0.0)
                );
                prop_assert!(cycle.point(Location::StageOutlet(circuit.stages().len())).is_some());
                if let Err(error) = circuit.sensitivities(&conditions) {
                    prop_assert!(false, "solved, but no sensitivities: {error}");
                }
            }
            Err(error) => prop_assert!(is_about_input(&error), "{error}"),
        }
        Ok(())
    });
    assert!(solved.get() > CASES / 5, "{} solved", solved.get());
}

#[test]
fn any_two_states_give_an_error_or_an_efficiency() {
    for refrigerant in refrigerants() {
        let what = format!("{refrigerant:?}");
        let solved = std::cell::Cell::new(0_u32);
        check(&what, CASES / 4, &(draws(), draws()), |(first, second)| {
            let (inlet, outlet) = (random_state(&refrigerant, first), random_state(&refrigerant, second));
            for outcome in [
                isentropic_efficiency(&refrigerant, &inlet, &outlet),
                polytropic_efficiency(&refrigerant, &inlet, &outlet),
            ] {
                match outcome {
                    Ok(efficiency) => {
                        solved.set(solved.get() + 1);
                        prop_assert!(efficiency.is_finite(), "{efficiency} from {inlet:?} to {outlet:?}");
                    }
                    // States at random are no compression: the path between them need not exist.
                    Err(error) => prop_assert!(!error.to_string().is_empty()),
                }
            }
            Ok(())
        });
        assert!(solved.get() > 0);
    }
}

#[test]
fn any_name_gives_an_error_or_a_refrigerant() {
    let references = [
        Reference::LiquidAt0C,
        Reference::LiquidAtMinus40C,
        Reference::LiquidAtNormalBoilingPoint,
        Reference::AsPublished,
    ];
    check("name", CASES, &(".{0,40}", 0..4_usize), |(name, reference)| {
        match Refrigerant::named(&name) {
            Ok(refrigerant) => match refrigerant.with_reference(references[reference]) {
                Ok(switched) => prop_assert_eq!(switched.reference(), references[reference]),
                Err(error) => prop_assert!(matches!(error, Error::ReferenceUnavailable { .. }), "{error}"),
            },
            Err(Error::UnknownRefrigerant { name: given, nearest }) => {
                prop_assert_eq!(given, name);
                prop_assert!(nearest.iter().all(|known| Refrigerant::named(known).is_ok()));
            }
            Err(error) => prop_assert!(false, "{error}"),
        }
        Ok(())
    });
    check("point", CASES, &"(stage_)?[0-9]{0,30}_?[a-z_]{0,20}", |name| {
        if let Ok(location) = name.parse::<Location>() {
            prop_assert_eq!(location.to_string().parse::<Location>().unwrap(), location);
        }
        Ok(())
    });
}

/// Conversions take any number: what is finite and of ordinary size comes back, the rest does not panic.
#[test]
fn any_number_passes_through_the_units() {
    macro_rules! there_and_back {
        ($($there:ident, $back:ident;)*) => {
            [$((stringify!($there), units::$there as fn(f64) -> f64, units::$back as fn(f64) -> f64)),*]
        };
    }
    let pairs = there_and_back![
        kelvin_from_celsius, celsius_from_kelvin;
        kelvin_from_fahrenheit, fahrenheit_from_kelvin;
        kelvin_difference_from_fahrenheit_difference, fahrenheit_difference_from_kelvin_difference;
        pascal_from_kilopascal, kilopascal_from_pascal;
        pascal_from_hectopascal, hectopascal_from_pascal;
        pascal_from_bar, bar_from_pascal;
        pascal_from_psia, psia_from_pascal;
        pascal_from_inhg_absolute, inhg_absolute_from_pascal;
        pascal_difference_from_psi_difference, psi_difference_from_pascal_difference;
        pascal_difference_from_bar_difference, bar_difference_from_pascal_difference;
        pascal_difference_from_kilopascal_difference, kilopascal_difference_from_pascal_difference;
        joule_per_kilogram_from_kilojoule_per_kilogram, kilojoule_per_kilogram_from_joule_per_kilogram;
        joule_per_kilogram_from_btu_per_pound, btu_per_pound_from_joule_per_kilogram;
        joule_per_kilogram_kelvin_from_kilojoule_per_kilogram_kelvin,
            kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin;
        joule_per_kilogram_kelvin_from_btu_per_pound_rankine, btu_per_pound_rankine_from_joule_per_kilogram_kelvin;
        kilogram_per_cubic_meter_from_pound_per_cubic_foot, pound_per_cubic_foot_from_kilogram_per_cubic_meter;
        cubic_meter_per_second_from_gpm, gpm_from_cubic_meter_per_second;
        cubic_meter_per_second_from_cfm, cfm_from_cubic_meter_per_second;
        cubic_meter_per_second_from_liter_per_second, liter_per_second_from_cubic_meter_per_second;
        cubic_meter_per_second_from_cubic_meter_per_hour, cubic_meter_per_hour_from_cubic_meter_per_second;
        kilogram_per_second_from_pound_per_hour, pound_per_hour_from_kilogram_per_second;
        kilogram_per_second_from_pound_per_minute, pound_per_minute_from_kilogram_per_second;
        watt_from_kilowatt, kilowatt_from_watt;
        watt_from_ton, ton_from_watt;
        watt_from_btu_per_hour, btu_per_hour_from_watt;
        watt_from_horsepower, horsepower_from_watt;
        meter_from_foot, foot_from_meter;
        cop_from_kw_per_ton, kw_per_ton_from_cop;
        cop_from_eer, eer_from_cop;
    ];
    macro_rules! with_barometer {
        ($($there:ident, $back:ident;)*) => {
            [$((
                stringify!($there),
                units::$there as fn(f64, f64) -> f64,
                units::$back as fn(f64, f64) -> f64,
            )),*]
        };
    }
    let gauges = with_barometer![
        pascal_from_psig, psig_from_pascal;
        pascal_from_kilopascal_gauge, kilopascal_gauge_from_pascal;
        pascal_from_bar_gauge, bar_gauge_from_pascal;
        pascal_from_inhg_vacuum, inhg_vacuum_from_pascal;
    ];
    // As many as the module has, so that a new one is not forgotten here.
    let source = include_str!("../src/units.rs");
    let names = |name: &str| source.contains(&format!("{name},")) || source.contains(&format!("fn {name}("));
    assert!(pairs.iter().all(|(name, ..)| names(name)) && gauges.iter().all(|(name, ..)| names(name)));
    check("units", CASES, &(anything(), anything()), |(x, barometer)| {
        let ordinary = |x: f64| x.is_finite() && (1e-6..1e12).contains(&x.abs());
        for (name, there, back) in &pairs {
            let again = back(there(x));
            prop_assert!(!ordinary(x) || (again - x).abs() <= 1e-12 * x.abs().max(1e3), "{name} {x} {again}");
        }
        for (name, there, back) in &gauges {
            let again = back(there(x, barometer), barometer);
            let scale = x.abs().max(1e3).max(barometer.abs());
            prop_assert!(
                !(ordinary(x) && ordinary(barometer)) || (again - x).abs() <= 1e-12 * scale,
                "{name} {x} {again}"
            );
        }
        let pressure = units::standard_barometer_from_altitude(x);
        prop_assert!(pressure.is_nan() || pressure > 0.0);
        Ok(())
    });
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

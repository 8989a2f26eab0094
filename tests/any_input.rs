//! Any input at all to machines, efficiencies, names and units: an error about the input or figures that are finite.
//!
//! Seed and number of cases as in `properties.rs`.

mod states;

use interstage::{
    Brine, Circuit, Conditions, Error, FlashTank, Interstage, InterstagePressures, Location, Reference,
    Refrigerant, Result, Size, Stage, isentropic_efficiency, polytropic_efficiency, units,
};
use proptest::prelude::*;
use states::random::{CASES, all_finite, anything, check, draws, is_about_input, random_state};
use states::refrigerants;

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
                    cycle.discharge_temperature(),
                    cycle.evaporator_inlet_quality(),
                    cycle.mass_closure(),
                    cycle.energy_closure(),
                ];
                prop_assert!(figures.iter().all(|figure| figure.is_finite()), "{figures:?}");
                // Without its economizers the machine need not have a cycle: their benefit is then missing.
                let pressures = InterstagePressures::Given(cycle.interstage_pressures().to_vec());
                let without =
                    circuit.clone().without_economizers().with_interstage_pressures(pressures).unwrap();
                let missing = circuit.tanks() > 0 && without.solve(&conditions).is_err();
                prop_assert_eq!(cycle.economizer_benefit().is_finite(), !missing);
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
fn any_brine_gives_an_error_or_figures() {
    let held = std::cell::Cell::new(0_u32);
    let strength = || prop_oneof![3 => 0.0..0.6_f64, 1 => anything()];
    let temperature = || prop_oneof![3 => 220.0..400.0_f64, 1 => anything()];
    check("brine", CASES, &(strength(), temperature(), temperature()), |(strength, entering, leaving)| {
        for brine in
            [Brine::ethylene_glycol(strength), Brine::propylene_glycol(strength)].into_iter().flatten()
        {
            for outcome in
                [brine.density(entering), brine.heat_capacity(leaving), brine.cooling_heat(entering, leaving)]
            {
                match outcome {
                    Ok(value) => {
                        held.set(held.get() + 1);
                        prop_assert!(value.is_finite(), "{value} of {brine:?} from {entering} to {leaving}");
                    }
                    Err(error) => prop_assert!(is_about_input(&error), "{error}"),
                }
            }
        }
        Ok(())
    });
    assert!(held.get() > CASES / 5, "{} held", held.get());
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

//! Conversions of any number, and names, codes and words that need not exist.
#![no_main]

mod common;

use arbitrary::Arbitrary;
use common::{Fluid, Number};
use interstage::{
    Brine, Error, Figure, Location, Phase, Reading, Reference, Refrigerant, RowStatus, Status, units,
    water_density, water_enthalpy,
};
use libfuzzer_sys::fuzz_target;

#[derive(Arbitrary, Debug)]
enum Input<'a> {
    Name {
        text: &'a str,
        reference: u8,
        equation: &'a str,
    },
    /// A designation that exists, with a character put in, taken out or written otherwise.
    Almost {
        fluid: Fluid,
        place: u8,
        change: Change,
    },
    Words(&'a str),
    Stage {
        number: u64,
        kind: u8,
    },
    Codes {
        status: u32,
        row: u8,
        phase: u8,
    },
    Units {
        value: Number,
        barometer: Number,
    },
    Water(Number),
    Brine {
        strength: Number,
        sheet: [Number; 2],
        temperatures: [Number; 2],
    },
}

#[derive(Arbitrary, Debug)]
enum Change {
    Insert(char),
    Remove,
    Replace(char),
    Case,
}

fuzz_target!(|input: Input<'_>| match input {
    Input::Name { text, reference, equation } => {
        if let Some(refrigerant) = named(text) {
            let references = [
                Reference::LiquidAt0C,
                Reference::LiquidAtMinus40C,
                Reference::LiquidAtNormalBoilingPoint,
                Reference::AsPublished,
            ];
            let reference = references[usize::from(reference) % references.len()];
            match refrigerant.clone().with_reference(reference) {
                Ok(switched) => assert_eq!(switched.reference(), reference),
                Err(error) => assert!(matches!(error, Error::ReferenceUnavailable { .. }), "{error}"),
            }
            match refrigerant.clone().with_equation(equation) {
                Ok(switched) => assert_eq!(switched.name(), refrigerant.name()),
                Err(error) => assert!(matches!(error, Error::UnknownOption { .. }), "{error}"),
            }
        }
    }
    Input::Almost { fluid, place, change } => {
        let mut text: Vec<char> = fluid.refrigerant().name().chars().collect();
        let place = usize::from(place) % text.len();
        match change {
            Change::Insert(new) => text.insert(place, new),
            Change::Remove => {
                text.remove(place);
            }
            Change::Replace(new) => text[place] = new,
            Change::Case => text = text.iter().flat_map(|one| one.to_lowercase()).collect(),
        }
        named(&text.iter().collect::<String>());
    }
    Input::Words(text) => words(text),
    Input::Stage { number, kind } => {
        let kinds = [
            "inlet",
            "outlet",
            "tank_inlet",
            "tank_vapor",
            "tank_liquid",
            "tank_pressure",
            "tank_temperature",
            "flash_fraction",
        ];
        words(&format!("stage_{number}_{}", kinds[usize::from(kind) % kinds.len()]));
    }
    Input::Codes { status, row, phase } => {
        let known = Status::from_bits(status);
        assert_eq!(Status::from_bits(known.bits()), known);
        assert_eq!(known.bits() & !status, 0);
        assert_eq!(known.is_ok(), known.to_string() == "ok");
        if let Some(status) = RowStatus::from_code(row) {
            assert_eq!(status.code(), row);
            assert!(!status.to_string().is_empty());
        }
        if let Some(known) = Phase::from_code(phase) {
            assert_eq!(known.code(), phase);
        }
    }
    Input::Units { value, barometer } => conversions(value.within(-1e3, 1e6), barometer.within(3e4, 1.2e5)),
    Input::Water(temperature) => {
        let temperature = temperature.of((273.16, 393.15), &[273.16, 393.15]);
        let answers = [water_density(temperature), water_enthalpy(temperature)];
        let inside = (273.16..=393.15).contains(&temperature);
        for answer in answers {
            match answer {
                Ok(value) => assert!(inside && value.is_finite(), "{temperature:?} {value:?}"),
                Err(error) => {
                    assert!(!inside, "{temperature:?}: {error}");
                    common::error_holds(&error, "water");
                }
            }
        }
    }
    Input::Brine { strength, sheet, temperatures } => {
        let strength = strength.of((0.0, 0.6), &[0.0, 0.6]);
        let made = [
            Brine::ethylene_glycol(strength),
            Brine::propylene_glycol(strength),
            Brine::from_data_sheet(sheet[0].within(500.0, 2000.0), sheet[1].within(1e3, 5e3)),
        ];
        let [entering, leaving] = temperatures.map(|temperature| temperature.within(220.0, 400.0));
        for brine in made {
            match brine {
                Ok(brine) => brine_holds(&brine, entering, leaving),
                Err(error) => common::error_holds(&error, "brine"),
            }
        }
    }
});

/// Inside its temperatures a brine answers, outside it says so.
fn brine_holds(brine: &Brine, entering: f64, leaving: f64) {
    let (coldest, hottest) = brine.temperature_range();
    let inside = |temperature: f64| (coldest..=hottest).contains(&temperature);
    let answers = [
        (brine.density(entering), inside(entering)),
        (brine.heat_capacity(leaving), inside(leaving)),
        (brine.cooling_heat(entering, leaving), inside(entering) && inside(leaving)),
    ];
    for (answer, inside) in answers {
        match answer {
            Ok(value) => assert!(inside && value.is_finite(), "{brine:?} {entering:?} {leaving:?} {value:?}"),
            Err(error) => {
                assert!(!inside, "{brine:?} {entering:?} {leaving:?}: {error}");
                common::error_holds(&error, "brine");
            }
        }
    }
}

/// The refrigerant of a name, or an error that names it and others that exist.
fn named(text: &str) -> Option<Refrigerant> {
    match Refrigerant::named(text) {
        Ok(refrigerant) => {
            assert_eq!(Refrigerant::named(refrigerant.name()).as_ref(), Ok(&refrigerant), "{text:?}");
            Some(refrigerant)
        }
        Err(error) => {
            // The message stays short, whatever was given.
            let message = error.to_string();
            assert!(message.len() < 1000, "{message}");
            let Error::UnknownRefrigerant { name, nearest } = error else { panic!("{text:?}: {message}") };
            assert_eq!(name, text);
            assert!(nearest.iter().all(|known| Refrigerant::named(known).is_ok()));
            None
        }
    }
}

/// Words that are read are those that are written.
fn words(text: &str) {
    match text.parse::<Location>() {
        Ok(location) => assert_eq!(location.to_string().parse(), Ok(location)),
        Err(error) => {
            assert!(matches!(error, Error::UnknownOption { .. }) && error.to_string().len() < 1000, "{error}")
        }
    }
    match text.parse::<Reading>() {
        Ok(reading) => assert_eq!(reading.to_string().parse(), Ok(reading)),
        Err(error) => {
            assert!(matches!(error, Error::UnknownOption { .. }) && error.to_string().len() < 1500, "{error}")
        }
    }
    match text.parse::<Figure>() {
        Ok(figure) => assert_eq!(figure.to_string(), text),
        Err(error) => {
            assert!(matches!(error, Error::UnknownOption { .. }) && error.to_string().len() < 1500, "{error}")
        }
    }
}

macro_rules! there_and_back {
    ($value:ident: $($there:ident, $back:ident;)*) => {
        [$((stringify!($there), units::$there($value), units::$back(units::$there($value)), units::$back($value))),*]
    };
}

/// NaN gives NaN, what is finite and of ordinary size comes back, and no sign is lost.
fn conversions(x: f64, barometer: f64) {
    let all = there_and_back![x:
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
    let ordinary = |x: f64| x.is_finite() && (1e-200..1e200).contains(&x.abs());
    for (name, there, again, back) in all {
        assert_eq!(x.is_nan(), there.is_nan() && back.is_nan(), "{name} {x:?}");
        let scale = x.abs().max(if name.starts_with("kelvin_from") { 500.0 } else { 0.0 });
        assert!(!ordinary(x) || (again - x).abs() <= 1e-14 * scale, "{name} {x:?} {again:?}");
    }
    macro_rules! gauges {
        ($($there:ident, $back:ident;)*) => {
            [$((stringify!($there), units::$there(x, barometer), units::$back(units::$there(x, barometer), barometer))),*]
        };
    }
    for (name, there, again) in gauges![
        pascal_from_psig, psig_from_pascal;
        pascal_from_kilopascal_gauge, kilopascal_gauge_from_pascal;
        pascal_from_bar_gauge, bar_gauge_from_pascal;
        pascal_from_inhg_gauge, inhg_gauge_from_pascal;
        pascal_from_inhg_vacuum, inhg_vacuum_from_pascal;
    ] {
        if x.is_nan() || barometer.is_nan() {
            assert!(there.is_nan(), "{name} {x:?} {barometer:?}");
        } else if ordinary(x) && ordinary(barometer) {
            let scale = x.abs().max(barometer.abs());
            assert!((again - x).abs() <= 1e-14 * scale, "{name} {x:?} {barometer:?} {again:?}");
        }
    }
    let pressure = units::standard_barometer_from_altitude(x);
    assert!(pressure.is_nan() || pressure > 0.0, "{x:?} {pressure:?}");
    assert!(!(-5e3..=11e3).contains(&x) || (2e4..2e5).contains(&pressure), "{x:?} {pressure:?}");
}

//! Unit conversions against published factors and points, and there and back again.
//!
//! Tolerances: *published* is half a unit of the last printed digit, taken from the printed text itself;
//! *precision* is a few units in the last place of an `f64`.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

use interstage::units::*;
use proptest::prelude::*;

type Conversion = fn(f64) -> f64;
/// Reading and barometer.
type GaugeConversion = fn(f64, f64) -> f64;

/// Compares with a figure as printed: half a unit of its last digit.
#[track_caller]
fn assert_printed(found: f64, printed: &str) {
    let (mantissa, exponent) = printed.split_once('e').unwrap_or((printed, "0"));
    let decimals = mantissa.split_once('.').map_or(0, |(_, digits)| digits.len());
    let unit = 10f64.powi(exponent.parse::<i32>().unwrap() - i32::try_from(decimals).unwrap());
    let expected: f64 = printed.parse().unwrap();
    assert!((found - expected).abs() <= 0.5 * unit, "found {found}, printed {printed}");
}

/// Compares with an exact figure: two units in the last place.
#[track_caller]
fn assert_exact(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 2.0 * f64::EPSILON * expected.abs(),
        "found {found}, exact {expected}"
    );
}

/// Every pair of units that differ by a factor: to SI, from SI, SI value of one unit as printed, whether the
/// printed value is exact.
///
/// NIST SP 811 (2008), appendix B.8 and B.9, where exact factors are in bold; checked against transcriptions
/// of the tables, lb/ft3, lb/h and lb/min from memory. Marked otherwise where SP 811 has no such line.
const FACTORS: [(Conversion, Conversion, &str, bool); 25] = [
    // The kelvin and the degree Fahrenheit as intervals: SP 811, B.8, from memory.
    (
        kelvin_difference_from_fahrenheit_difference,
        fahrenheit_difference_from_kelvin_difference,
        "5.555556e-1",
        false,
    ),
    (pascal_from_kilopascal, kilopascal_from_pascal, "1e3", true), // SI prefix
    (pascal_from_hectopascal, hectopascal_from_pascal, "1e2", true), // SI prefix; SP 811, millibar
    (pascal_from_bar, bar_from_pascal, "1.0e5", true),
    (pascal_from_psia, psia_from_pascal, "6.894757e3", false),
    (pascal_from_inhg_absolute, inhg_absolute_from_pascal, "3.386389e3", false), // inch of mercury, conventional
    (pascal_difference_from_kilopascal_difference, kilopascal_difference_from_pascal_difference, "1e3", true),
    (pascal_difference_from_bar_difference, bar_difference_from_pascal_difference, "1.0e5", true),
    (pascal_difference_from_psi_difference, psi_difference_from_pascal_difference, "6.894757e3", false),
    (meter_from_foot, foot_from_meter, "3.048e-1", true),
    (
        joule_per_kilogram_from_kilojoule_per_kilogram,
        kilojoule_per_kilogram_from_joule_per_kilogram,
        "1e3",
        true,
    ),
    (joule_per_kilogram_from_btu_per_pound, btu_per_pound_from_joule_per_kilogram, "2.326e3", true),
    (
        joule_per_kilogram_kelvin_from_kilojoule_per_kilogram_kelvin,
        kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin,
        "1e3",
        true,
    ),
    (
        joule_per_kilogram_kelvin_from_btu_per_pound_rankine,
        btu_per_pound_rankine_from_joule_per_kilogram_kelvin,
        "4.1868e3",
        true,
    ),
    (
        kilogram_per_cubic_meter_from_pound_per_cubic_foot,
        pound_per_cubic_foot_from_kilogram_per_cubic_meter,
        "1.601846e1",
        false,
    ),
    (
        cubic_meter_per_second_from_liter_per_second,
        liter_per_second_from_cubic_meter_per_second,
        "1e-3",
        true,
    ),
    // One hour is 3600 s, exact; printed here to seven digits.
    (
        cubic_meter_per_second_from_cubic_meter_per_hour,
        cubic_meter_per_hour_from_cubic_meter_per_second,
        "2.777778e-4",
        false,
    ),
    (cubic_meter_per_second_from_gpm, gpm_from_cubic_meter_per_second, "6.309020e-5", false),
    (cubic_meter_per_second_from_cfm, cfm_from_cubic_meter_per_second, "4.719474e-4", false),
    (kilogram_per_second_from_pound_per_hour, pound_per_hour_from_kilogram_per_second, "1.259979e-4", false),
    (
        kilogram_per_second_from_pound_per_minute,
        pound_per_minute_from_kilogram_per_second,
        "7.559873e-3",
        false,
    ),
    (watt_from_kilowatt, kilowatt_from_watt, "1e3", true),
    (watt_from_btu_per_hour, btu_per_hour_from_watt, "2.930711e-1", false),
    (watt_from_ton, ton_from_watt, "3.516853e3", false),
    (watt_from_horsepower, horsepower_from_watt, "7.456999e2", false),
];

#[test]
fn factors_are_those_published() {
    for (to_si, from_si, printed, exact) in FACTORS {
        if exact {
            assert_exact(to_si(1.0), printed.parse().unwrap());
        } else {
            assert_printed(to_si(1.0), printed);
        }
        assert_exact(from_si(to_si(1.0)), 1.0);
        assert_eq!((to_si(0.0), from_si(0.0)), (0.0, 0.0));
    }
}

#[test]
fn factors_follow_from_the_definitions_at_every_digit() {
    // Products of the definitions in the module docs, worked out in decimal arithmetic without rounding:
    // pound-force 4.448 221 615 260 5 N (NIST SP 811, footnote 23) over 0.000 645 16 m2.
    assert_exact(pascal_from_psia(0.000_645_16), 4.448_221_615_260_5);
    // 550 ft lbf/s.
    assert_exact(watt_from_horsepower(1.0), 550.0 * 0.3048 * 4.448_221_615_260_5);
    // 13 595.1 x 9.806 65 x 0.0254 Pa.
    assert_exact(pascal_from_inhg_absolute(1.0), 3_386.388_640_341);
    // 231 x 0.0254^3 m3 and 0.3048^3 m3.
    assert_exact(cubic_meter_per_second_from_gpm(60.0), 0.003_785_411_784);
    assert_exact(cubic_meter_per_second_from_cfm(60.0), 0.028_316_846_592);
    // 1 Btu = 1055.055 852 62 J; a ton is 12 000 of them an hour.
    assert_exact(watt_from_btu_per_hour(3600.0), 1_055.055_852_62);
    assert_exact(watt_from_ton(3.0), 10_550.558_526_2);
    assert_exact(btu_per_hour_from_watt(watt_from_ton(1.0)), 12_000.0);
    // A pound in a cubic foot.
    assert_exact(kilogram_per_cubic_meter_from_pound_per_cubic_foot(0.028_316_846_592), 0.453_592_37);
    assert_exact(kilogram_per_second_from_pound_per_hour(3600.0), 0.453_592_37);
    assert_exact(kilogram_per_second_from_pound_per_minute(60.0), 0.453_592_37);
    assert_exact(cubic_meter_per_second_from_cubic_meter_per_hour(3600.0), 1.0);
}

#[test]
fn temperatures_at_known_points() {
    // Celsius: BIPM, The International System of Units, 9th ed.; Fahrenheit: NIST SP 811, B.9.
    // Ice point, steam point, the crossing of both scales, absolute zero (-459.67 degF).
    for (celsius, fahrenheit, kelvin) in
        [(0.0, 32.0, 273.15), (100.0, 212.0, 373.15), (-40.0, -40.0, 233.15), (-273.15, -459.67, 0.0)]
    {
        let close =
            |found: f64, expected: f64| assert!((found - expected).abs() < 1e-12, "{found} {expected}");
        close(kelvin_from_celsius(celsius), kelvin);
        close(celsius_from_kelvin(kelvin), celsius);
        close(kelvin_from_fahrenheit(fahrenheit), kelvin);
        close(fahrenheit_from_kelvin(kelvin), fahrenheit);
    }
}

#[test]
fn standard_atmosphere_in_other_units() {
    // U.S. Standard Atmosphere 1976: 14.696 psi, 29.921 inHg; WMO-No. 8, annex 3.A: 760 mm of mercury.
    assert_printed(psia_from_pascal(STANDARD_ATMOSPHERE), "14.696");
    assert_printed(inhg_absolute_from_pascal(STANDARD_ATMOSPHERE), "29.921");
    assert_printed(inhg_absolute_from_pascal(STANDARD_ATMOSPHERE) * 25.4, "760.00");
    assert_exact(hectopascal_from_pascal(STANDARD_ATMOSPHERE), 1013.25);
    assert_exact(bar_from_pascal(STANDARD_ATMOSPHERE), 1.01325);
}

#[test]
fn standard_barometer_against_the_tables() {
    // ISO 2533:1975, pressure in Pa by geopotential altitude in m; transcriptions of the table.
    for (altitude, printed) in [
        (100.0, "100129"),
        (500.0, "95460.8"),
        (1000.0, "89874.6"),
        (2000.0, "79495.2"),
        (3000.0, "70108.5"),
        (5000.0, "54019.9"),
        (10_000.0, "26436.3"),
    ] {
        assert_printed(standard_barometer_from_altitude(altitude), printed);
    }
    // ASHRAE Handbook Fundamentals, chapter Psychrometrics, table 1, in kPa; from memory.
    for (altitude, printed) in
        [(-500.0, "107.478"), (0.0, "101.325"), (1500.0, "84.556"), (4000.0, "61.640"), (8000.0, "35.600")]
    {
        assert_printed(kilopascal_from_pascal(standard_barometer_from_altitude(altitude)), printed);
    }
    // U.S. Standard Atmosphere 1976, top of the layer: 226.32 mbar.
    assert_printed(hectopascal_from_pascal(standard_barometer_from_altitude(11_000.0)), "226.32");
}

#[test]
fn standard_barometer_has_no_value_outside_its_layer() {
    assert_exact(standard_barometer_from_altitude(0.0), STANDARD_ATMOSPHERE);
    assert!(standard_barometer_from_altitude(-5000.0) > STANDARD_ATMOSPHERE);
    for altitude in [-5000.1, 11_000.1, 50_000.0, f64::INFINITY, f64::NEG_INFINITY, f64::NAN] {
        assert!(standard_barometer_from_altitude(altitude).is_nan(), "{altitude}");
    }
}

#[test]
fn gauge_and_vacuum_count_from_the_barometer() {
    for barometer in [STANDARD_ATMOSPHERE, 84_000.0] {
        assert_eq!(pascal_from_psig(0.0, barometer), barometer);
        assert_eq!(pascal_from_kilopascal_gauge(0.0, barometer), barometer);
        assert_eq!(pascal_from_bar_gauge(0.0, barometer), barometer);
        assert_eq!(pascal_from_inhg_vacuum(0.0, barometer), barometer);
        assert_eq!(pascal_from_inhg_gauge(0.0, barometer), barometer);
        // A vacuum counts down, a gauge up.
        assert_exact(pascal_from_inhg_gauge(-12.0, barometer), pascal_from_inhg_vacuum(12.0, barometer));
        assert_eq!(pascal_from_kilopascal_gauge(-20.0, barometer), barometer - 20_000.0);
        assert_eq!(pascal_from_bar_gauge(2.0, barometer), barometer + 200_000.0);
        // NIST SP 811, B.9: 1 psi and 1 conventional inch of mercury.
        assert_printed(pascal_from_psig(1.0, barometer) - barometer, "6894.757");
        assert_printed(barometer - pascal_from_inhg_vacuum(1.0, barometer), "3386.389");
        // A full vacuum.
        assert_exact(psig_from_pascal(0.0, barometer), -psia_from_pascal(barometer));
        assert_exact(inhg_vacuum_from_pascal(0.0, barometer), inhg_absolute_from_pascal(barometer));
    }
}

#[test]
fn performance_figures() {
    // 12 000 Btu/h per ton over 3412.142 Btu/h per kW, from the factors of NIST SP 811, B.8 and B.9.
    assert_printed(kw_per_ton_from_cop(1.0), "3.516853");
    assert_printed(cop_from_kw_per_ton(1.0), "3.516853");
    assert_printed(eer_from_cop(1.0), "3.412142");
    assert_exact(cop_from_eer(eer_from_cop(6.0)), 6.0);
    // EER x kW/ton = 12, whatever the COP: Btu/h per W times kW per 12 000 Btu/h.
    for cop in [0.5, 3.0, 7.25] {
        assert_exact(eer_from_cop(cop) * kw_per_ton_from_cop(cop), 12.0);
    }
    // Better is less power a ton and more Btu/h a watt.
    assert!(kw_per_ton_from_cop(6.0) < kw_per_ton_from_cop(5.0));
    assert!(eer_from_cop(6.0) > eer_from_cop(5.0));
    assert_eq!(cop_from_kw_per_ton(0.0), f64::INFINITY);
}

const OTHER_CONVERSIONS: [Conversion; 9] = [
    kelvin_from_celsius,
    celsius_from_kelvin,
    kelvin_from_fahrenheit,
    fahrenheit_from_kelvin,
    standard_barometer_from_altitude,
    cop_from_eer,
    eer_from_cop,
    cop_from_kw_per_ton,
    kw_per_ton_from_cop,
];

const GAUGES: [(GaugeConversion, GaugeConversion); 5] = [
    (pascal_from_psig, psig_from_pascal),
    (pascal_from_kilopascal_gauge, kilopascal_gauge_from_pascal),
    (pascal_from_bar_gauge, bar_gauge_from_pascal),
    (pascal_from_inhg_vacuum, inhg_vacuum_from_pascal),
    (pascal_from_inhg_gauge, inhg_gauge_from_pascal),
];

#[test]
fn nan_passes_through() {
    let both = FACTORS.iter().flat_map(|&(to_si, from_si, ..)| [to_si, from_si]);
    for conversion in both.chain(OTHER_CONVERSIONS) {
        assert!(conversion(f64::NAN).is_nan());
    }
    for conversion in GAUGES.iter().flat_map(|&(to_si, from_si)| [to_si, from_si]) {
        assert!(conversion(f64::NAN, STANDARD_ATMOSPHERE).is_nan());
        assert!(conversion(10.0, f64::NAN).is_nan());
    }
}

proptest! {
    #[test]
    fn factors_there_and_back(value in -1e12..1e12f64) {
        for (to_si, from_si, ..) in FACTORS {
            let tolerance = 2.0 * f64::EPSILON * value.abs();
            prop_assert!((from_si(to_si(value)) - value).abs() <= tolerance);
            prop_assert!((to_si(from_si(value)) - value).abs() <= tolerance);
        }
    }

    #[test]
    fn temperatures_there_and_back(kelvin in 0.0..2000.0f64) {
        // Four operations on numbers of up to 4000, rounded to half a unit in the last place each.
        let tolerance = 4.0 * 4000.0 * f64::EPSILON;
        prop_assert!((kelvin_from_celsius(celsius_from_kelvin(kelvin)) - kelvin).abs() <= tolerance);
        prop_assert!((kelvin_from_fahrenheit(fahrenheit_from_kelvin(kelvin)) - kelvin).abs() <= tolerance);
    }

    #[test]
    fn temperature_differences_are_differences_of_temperatures(low in -100.0..200.0f64, rise in -50.0..50.0f64) {
        let kelvin = kelvin_from_fahrenheit(low + rise) - kelvin_from_fahrenheit(low);
        prop_assert!((kelvin_difference_from_fahrenheit_difference(rise) - kelvin).abs() < 1e-12);
    }

    #[test]
    fn gauges_there_and_back(pressure in 0.0..5e6f64, barometer in 5e4..1.1e5f64) {
        for (to_si, from_si) in GAUGES {
            let found = to_si(from_si(pressure, barometer), barometer);
            prop_assert!((found - pressure).abs() <= 4.0 * f64::EPSILON * (pressure + barometer));
        }
    }

    #[test]
    fn gauges_agree_with_absolute_pressure(pressure in 0.0..5e6f64, barometer in 5e4..1.1e5f64) {
        let tolerance = |unit: f64| 4.0 * f64::EPSILON * (pressure + barometer) / unit;
        let psi = psia_from_pascal(pressure) - psia_from_pascal(barometer);
        prop_assert!((psig_from_pascal(pressure, barometer) - psi).abs() <= tolerance(pascal_from_psia(1.0)));
        let kilopascal = kilopascal_from_pascal(pressure) - kilopascal_from_pascal(barometer);
        let found = kilopascal_gauge_from_pascal(pressure, barometer);
        prop_assert!((found - kilopascal).abs() <= tolerance(1000.0));
        let bar = bar_from_pascal(pressure) - bar_from_pascal(barometer);
        prop_assert!((bar_gauge_from_pascal(pressure, barometer) - bar).abs() <= tolerance(1e5));
        let inhg = inhg_absolute_from_pascal(barometer) - inhg_absolute_from_pascal(pressure);
        let found = inhg_vacuum_from_pascal(pressure, barometer);
        prop_assert!((found - inhg).abs() <= tolerance(pascal_from_inhg_absolute(1.0)));
    }

    #[test]
    fn performance_figures_there_and_back(cop in 0.01..100.0f64) {
        let tolerance = 2.0 * f64::EPSILON * cop;
        prop_assert!((cop_from_eer(eer_from_cop(cop)) - cop).abs() <= tolerance);
        prop_assert!((cop_from_kw_per_ton(kw_per_ton_from_cop(cop)) - cop).abs() <= tolerance);
    }

    #[test]
    fn barometer_falls_with_altitude(altitude in -5000.0..10_999.0f64) {
        let here = standard_barometer_from_altitude(altitude);
        prop_assert!(here > standard_barometer_from_altitude(altitude + 1.0));
        // The rounded form of the same equation (ASHRAE Handbook Fundamentals, chapter Psychrometrics,
        // equation 3, with one more digit in the exponent) to the rounding of its constants.
        let rounded = 101_325.0 * (1.0 - 2.25577e-5 * altitude).powf(5.25588);
        prop_assert!((here - rounded).abs() < 3e-6 * here);
    }
}

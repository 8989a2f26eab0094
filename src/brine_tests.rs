//! Against measurements that the polynomials do not come from, and against water.

use super::*;
use crate::water::{water_density, water_heat_capacity};

/// Mass percent of ethylene glycol, density at 20 degC (g/cm3), depression of the freezing point (K): CRC Handbook of Chemistry
/// and Physics, Concentrative Properties of Aqueous Solutions (102nd edition, after A. V. Wolf, Aqueous Solutions and Body
/// Fluids, 1966), second-hand from a public transcription.
const WOLF: [(f64, f64, f64); 11] = [
    (5.0, 1.0044, 1.58),
    (10.0, 1.0108, 3.37),
    (16.0, 1.0188, 5.91),
    (20.0, 1.0241, 7.93),
    (24.0, 1.0296, 10.28),
    (32.0, 1.0405, 16.23),
    (36.0, 1.0460, 19.82),
    (40.0, 1.0514, 23.84),
    (48.0, 1.0619, 33.30),
    (52.0, 1.0670, 38.81),
    (60.0, 1.0765, 51.23),
];

/// Mass percent of propylene glycol, density at 25 degC (kg/m3): pycnometer, K. Nakanishi and others 1967, second-hand from a
/// public transcription.
const NAKANISHI: [(f64, f64); 12] = [
    (3.617, 999.39),
    (8.03, 1002.65),
    (14.39, 1007.80),
    (19.846, 1012.49),
    (21.782, 1014.16),
    (28.554, 1019.95),
    (35.798, 1025.58),
    (40.26, 1028.95),
    (44.649, 1031.56),
    (47.054, 1033.24),
    (54.121, 1036.61),
    (56.879, 1037.55),
];

/// Volume percent of propylene glycol, specific gravity of the mixture at 60/60 degF, freezing point in degF: Lange's Handbook
/// of Chemistry, 15th edition, table 5.13, second-hand; pure propylene glycol has 1.038 there (from memory).
const LANGE: [(f64, f64, f64); 7] = [
    (20.0, 1.017, 20.0),
    (25.0, 1.020, 16.0),
    (30.0, 1.024, 9.0),
    (35.0, 1.028, 3.0),
    (40.0, 1.032, -5.0),
    (45.0, 1.037, -16.0),
    (50.0, 1.040, -28.0),
];

#[test]
fn ethylene_glycol_has_the_density_and_freezing_point_of_the_handbook() {
    for (percent, density, depression) in WOLF {
        let brine = Brine::ethylene_glycol(percent / 100.0).unwrap();
        let off = brine.density(293.15).unwrap() / (1e3 * density) - 1.0;
        assert!(off.abs() < 7e-4, "{percent} %: {off}");
        let off = brine.freezing_temperature().unwrap() - (ZERO - depression);
        assert!(off.abs() < 0.2, "{percent} %: {off} K");
    }
}

#[test]
fn propylene_glycol_has_the_measured_density_and_the_freezing_point_of_a_handbook() {
    for (percent, density) in NAKANISHI {
        let off = Brine::propylene_glycol(percent / 100.0).unwrap().density(298.15).unwrap() / density - 1.0;
        assert!(off.abs() < 1.5e-3, "{percent} %: {off}");
    }
    for (volume, gravity, fahrenheit) in LANGE {
        let strength = volume / 100.0 * 1.038 / gravity;
        let freezing = Brine::propylene_glycol(strength).unwrap().freezing_temperature().unwrap();
        let off = freezing - (ZERO + (fahrenheit - 32.0) / 1.8);
        // The handbook has whole degrees Fahrenheit.
        assert!(off.abs() < 1.3, "{volume} % by volume: {off} K");
    }
}

#[test]
fn without_glycol_it_is_nearly_water() {
    for brine in [Brine::ethylene_glycol(0.0).unwrap(), Brine::propylene_glycol(0.0).unwrap()] {
        for temperature in [275.0, 283.15, 293.15, 313.15, 333.15] {
            let density = brine.density(temperature).unwrap() / water_density(temperature).unwrap() - 1.0;
            let heat =
                brine.heat_capacity(temperature).unwrap() / water_heat_capacity(temperature).unwrap() - 1.0;
            assert!(density.abs() < 1.2e-3 && heat.abs() < 2e-3, "{temperature} K: {density} {heat}");
        }
        assert!((brine.freezing_temperature().unwrap() - ZERO).abs() < 0.06);
    }
}

#[test]
fn heat_is_the_integral_of_the_heat_capacity_and_slopes_are_slopes() {
    let brine = Brine::propylene_glycol(0.35).unwrap();
    let (from, to) = (285.0, 262.0);
    let steps = 1000;
    let width = (from - to) / f64::from(steps);
    let sum: f64 = (0..steps)
        .map(|step| brine.heat_capacity(to + width * (f64::from(step) + 0.5)).unwrap() * width)
        .sum();
    assert!((brine.cooling_heat(from, to).unwrap() / sum - 1.0).abs() < 1e-9);
    assert!((brine.cooling_heat(to, from).unwrap() / sum + 1.0).abs() < 1e-9);
    #[cfg(feature = "trend")]
    {
        let by_difference = (brine.density(275.5).unwrap() - brine.density(274.5).unwrap()) / 1.0;
        assert!((brine.density_slope(275.0).unwrap() / by_difference - 1.0).abs() < 1e-4);
    }
}

#[test]
fn what_is_no_liquid_brine_is_refused() {
    let brine = Brine::ethylene_glycol(0.3).unwrap();
    let freezing = brine.freezing_temperature().unwrap();
    assert!(brine.density(freezing).is_ok());
    for frozen in [freezing - 1e-3, 373.2, f64::NAN] {
        assert!(brine.density(frozen).is_err() && brine.cooling_heat(frozen, 280.0).is_err());
    }
    for strength in [-0.1, 0.61, 30.0, f64::NAN] {
        assert!(Brine::ethylene_glycol(strength).is_err() && Brine::propylene_glycol(strength).is_err());
    }
    let other = Brine::from_data_sheet(1190.0, 2900.0).unwrap();
    assert_eq!(other.freezing_temperature(), None);
    assert_eq!(other.density(250.0).unwrap(), 1190.0);
    assert_eq!(other.cooling_heat(268.0, 265.0).unwrap(), 2900.0 * 3.0);
    assert!(Brine::from_data_sheet(1.19, 2900.0).is_err() && Brine::from_data_sheet(1190.0, 2.9).is_err());
}

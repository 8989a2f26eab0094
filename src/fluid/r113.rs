//! R-113, 1,1,2-trichloro-1,2,2-trifluoroethane: a reduced Helmholtz energy.
//!
//! V. Marx, A. Pruss, W. Wagner: Neue Zustandsgleichungen fuer R 12, R 22, R 11 und R 113. Beschreibung des thermodynamischen Zustandsverhaltens bei Temperaturen bis 525 K und Druecken bis 200 MPa.
//! VDI Fortschritt-Berichte, Reihe 19, Nr. 57 (1992).
//!
//! Valid from 236.93 K to 525.0 K and up to 200 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-113; the source is named at the top of this file.
pub(crate) static R113: Fluid = Fluid {
    designation: "R-113",
    equation: "Marx et al. 1992",
    aliases: &["CFC-113"],
    name: "1,1,2-trichloro-1,2,2-trifluoroethane",
    formula: Some("C2Cl3F3"),
    cas: Some("76-13-1"),
    molar_mass: 0.187375,
    gas_constant: 8.314471,
    reducing: Reducing { temperature: 487.21, molar_density: 2988.659106071 },
    critical: CriticalPoint {
        temperature: 487.2100000167,
        pressure: 3392266.3311,
        molar_density: 2988.6591013,
    },
    coldest: Coldest { temperature: 236.93, pressure: 1871.4275, is_triple: true },
    validity: Validity {
        minimum_temperature: 236.93,
        maximum_temperature: 525.0,
        maximum_pressure: 200000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -21.8557715726949,
        linear: 11.9424441256033,
        logarithm: 2.9999966,
        power: &[],
        oscillators: &[
            Oscillator { n: 12.4464495, theta: 1.04971737 },
            Oscillator { n: 2.72181845, theta: 3.29788641 },
            Oscillator { n: 0.692712415, theta: 8.62650812 },
            Oscillator { n: 3.32248298, theta: 3.29670446 },
        ],
    },
    as_published: Some((13.1479282, -5.4053715)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.8432092286, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.019185967, t: 1.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.2920612996, t: 1.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.05323107661, t: -0.5, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.003214971931, t: 2.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 4.667858574e-05, t: 0.0, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.227522799e-06, t: 3.0, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.8167288718, t: -0.5, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.340790803, t: 0.0, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.4065752705, t: 2.0, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.1534754634, t: 1.5, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.02414435149, t: 6.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.02113056197, t: 2.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.03565436205, t: 10.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.001364654968, t: 6.0, d: 9, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.01251838755, t: 18.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.001385761351, t: 15.0, d: 7, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0007206335486, t: 33.0, d: 8, l: 4, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 487.2100000166549,
            scale: 2988.6591012733375,
            terms: &[
                (-1.53563129471, 0.325),
                (19.0243850196, 0.45),
                (-39.2475549606, 0.6),
                (37.6101334743, 0.8),
                (-18.4428397708, 1.2),
                (7.15240066913, 2.0),
                (-2.44555449438, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 487.2100000166549,
            scale: 2988.6591012733375,
            terms: &[
                (-11.7951937553, 0.5),
                (19.0978807617, 0.65),
                (-17.2118248327, 0.9),
                (2.39927409541, 1.5),
                (-20.7536911243, 3.0),
                (-63.5810950245, 7.0),
                (-78.870033089, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "V. Marx, A. Pruss, W. Wagner",
        title: "Neue Zustandsgleichungen fuer R 12, R 22, R 11 und R 113. Beschreibung des thermodynamischen Zustandsverhaltens bei Temperaturen bis 525 K und Druecken bis 200 MPa",
        journal: "VDI Fortschritt-Berichte, Reihe 19, Nr. 57",
        year: 1992,
        volume: None,
        pages: None,
        doi: None,
    },
    uncertainty: Some((
        "0.2 % in density, 2 % in heat capacity, 1 % in speed of sound, 0.3 % in vapor pressure",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.8),
        odp_source: "Montreal Protocol value, from memory",
        gwp: [Some(Gwp::Value(6130.0)), Some(Gwp::Value(5820.0)), Some(Gwp::Value(6520.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

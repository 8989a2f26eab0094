//! R-114, 1,2-dichloro-1,1,2,2-tetrafluoroethane: a reduced Helmholtz energy.
//!
//! B. Platzer, A. Polt, G. Maurer: Thermophysical Properties of Refrigerants.
//! Springer-Verlag, Berlin (book) (1990), doi 10.1007/978-3-662-02608-3.
//!
//! Valid from 273.15 K to 507.0 K and up to 21 MPa.
//!
//! The equation is valid from 273.15 K only; its saturation line is given from there. Its critical temperature lies
//! 1.8 K above the measured one: the top of the dome is unreliable above about 410 K.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-114; the source is named at the top of this file.
pub(crate) static R114: Fluid = Fluid {
    designation: "R-114",
    equation: "Platzer et al. 1990",
    aliases: &["CFC-114"],
    name: "1,2-dichloro-1,1,2,2-tetrafluoroethane",
    formula: Some("C2Cl2F4"),
    cas: Some("76-14-2"),
    molar_mass: 0.170921,
    gas_constant: 8.31451,
    reducing: Reducing { temperature: 418.83, molar_density: 3393.2 },
    critical: CriticalPoint {
        temperature: 420.6077250634,
        pressure: 3352482.0281,
        molar_density: 3353.8454422,
    },
    coldest: Coldest { temperature: 273.15, pressure: 88162.387, is_triple: false },
    validity: Validity {
        minimum_temperature: 273.15,
        maximum_temperature: 507.0,
        maximum_pressure: 21000000.0,
        source: "a general-purpose property library (the equation is valid from 273.15 K only, although the triple point is 180.63 K)",
    },
    ideal_gas: IdealGas {
        constant: -11.3874871403531,
        linear: 10.9323830972245,
        logarithm: 1.0074149313645662,
        power: &[
            IdealPower { n: -13.951694432055056, t: -1.0 },
            IdealPower { n: 3.543183977793783, t: -2.0 },
            IdealPower { n: -0.8480418696132922, t: -3.0 },
            IdealPower { n: 0.11216650976820333, t: -4.0 },
        ],
        oscillators: &[],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 1.07938940032879, t: 0.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.99243731009857, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.155135220175231, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.121465858429101, t: 3.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0165038674558161, t: 4.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.186916017480622, t: 0.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.308074956770949, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.115861545567346, t: 2.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.027635877981389, t: 0.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.108043424159349, t: 1.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0460684822539207, t: 0.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.174822007470687, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0317531741331376, t: 1.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.340776521025164, t: 3.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.323001398918284, t: 4.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0424950543505197, t: 5.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.66940287525002, t: 3.0, d: 2, l: 2, g: 1.21104, m: 0.0 },
            Power { n: 4.08693538568874, t: 4.0, d: 2, l: 2, g: 1.21104, m: 0.0 },
            Power { n: -2.4173923391137, t: 5.0, d: 2, l: 2, g: 1.21104, m: 0.0 },
            Power { n: 0.340776521025164, t: 3.0, d: 0, l: 2, g: 1.21104, m: 0.0 },
            Power { n: -0.323001398918284, t: 4.0, d: 0, l: 2, g: 1.21104, m: 0.0 },
            Power { n: 0.0424950543505197, t: 5.0, d: 0, l: 2, g: 1.21104, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 420.60772506335553,
            scale: 3353.84544220921,
            terms: &[
                (0.397774469029, 0.333333),
                (10.5946105078, 0.666667),
                (-27.3306612915, 1.0),
                (35.5707946067, 1.33333),
                (-18.361562782, 1.66667),
                (2.48766575321, 3.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 420.60772506335553,
            scale: 3353.84544220921,
            terms: &[
                (-0.970648267147, 0.42),
                (-4.79775421875, 0.6),
                (2.24185597631, 0.9),
                (-7.18388517013, 1.5),
                (-11.8965667, 3.0),
                (-60.8971529817, 6.0),
                (9205.81961592, 14.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "B. Platzer, A. Polt, G. Maurer",
        title: "Thermophysical Properties of Refrigerants",
        journal: "Springer-Verlag, Berlin (book)",
        year: 1990,
        volume: None,
        pages: None,
        doi: Some("10.1007/978-3-662-02608-3"),
    },
    uncertainty: Some((
        "0.2 % in vapor pressure, 0.2-1 % in density, 3-5 % in heat capacity; the top of the dome is unreliable above about 410 K",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(1.0),
        odp_source: "Montreal Protocol value, from memory",
        gwp: [Some(Gwp::Value(10000.0)), Some(Gwp::Value(8590.0)), Some(Gwp::Value(9430.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

//! R-1233zd(E), trans-1-chloro-3,3,3-trifluoroprop-1-ene: a reduced Helmholtz energy.
//!
//! R. Akasaka, E. W. Lemmon: An International Standard Formulation for trans-1-Chloro-3,3,3-trifluoroprop-1-ene [R1233zd(E)] Covering Temperatures from the Triple-point Temperature to 450 K and Pressures up to 100 MPa.
//! J. Phys. Chem. Ref. Data 51 (2022) 023101, doi 10.1063/5.0083026.
//!
//! Valid from 165.75 K to 450.0 K and up to 100 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1233zd(E); the source is named at the top of this file.
pub(crate) static R1233ZDE: Fluid = Fluid {
    designation: "R-1233zd(E)",
    equation: "Akasaka & Lemmon 2022",
    aliases: &["HCFO-1233zd(E)", "R-1233zd"],
    name: "trans-1-chloro-3,3,3-trifluoroprop-1-ene",
    formula: Some("C3H2ClF3"),
    cas: Some("102687-65-0"),
    molar_mass: 0.1304962,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 438.86, molar_density: 3704.0 },
    critical: CriticalPoint { temperature: 438.86, pressure: 3582752.8896, molar_density: 3704.0 },
    coldest: Coldest { temperature: 165.75, pressure: 8.6279704, is_triple: true },
    validity: Validity {
        minimum_temperature: 165.75,
        maximum_temperature: 450.0,
        maximum_pressure: 100000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -17.2912299318876,
        linear: 10.4049474468842,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 13.7, theta: 1.7340381898555348 },
            Oscillator { n: 7.0974, theta: 6.539670965683817 },
        ],
    },
    as_published: Some((-17.291229931888, 10.404947446884)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.04394257, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.062919, t: 0.182, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.2879140374971, t: 0.865, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.8088618920845, t: 1.0924, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.2372427, t: 0.49, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.9403, t: 1.958, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -2.831967, t: 2.05, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.373421, t: 0.658, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.515798, t: 2.051, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.02755627, t: 0.862, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 4.24023, t: 1.852, d: 1, eta: 1.532, beta: 0.2912, gamma: 1.7171, epsilon: 0.8834 },
            Gaussian { n: -0.03152671, t: 1.92, d: 2, eta: 0.635, beta: 0.6245, gamma: 0.63, epsilon: 1.386 },
            Gaussian {
                n: -1.366494,
                t: 1.936,
                d: 3,
                eta: 1.4056,
                beta: 0.669,
                gamma: 0.7852,
                epsilon: 0.5196,
            },
            Gaussian { n: 2.647143, t: 1.515, d: 1, eta: 1.451, beta: 0.5798, gamma: 2.251, epsilon: 1.133 },
            Gaussian {
                n: -2.325463,
                t: 2.668,
                d: 1,
                eta: 1.395,
                beta: 0.4643,
                gamma: 1.821,
                epsilon: 0.9788,
            },
            Gaussian { n: -0.2541521, t: 1.755, d: 1, eta: 2.259, beta: 2.449, gamma: 2.074, epsilon: 1.166 },
            Gaussian {
                n: 0.1330834,
                t: 0.526,
                d: 1,
                eta: 24.3,
                beta: 1061.4,
                gamma: 1.0797,
                epsilon: 0.9244,
            },
            Gaussian { n: -0.1569217, t: 2.98, d: 1, eta: 23.6, beta: 917.8, gamma: 1.084, epsilon: 0.9372 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 438.86000000003816,
            scale: 3704.00000002347,
            terms: &[
                (3.39943190904, 0.345),
                (-5.87944043712, 0.5),
                (13.7582028952, 0.75),
                (-13.1448507174, 1.0),
                (6.14635081138, 1.5),
                (-2.18894949945, 2.5),
                (0.956289438413, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 438.86000000003816,
            scale: 3704.00000002347,
            terms: &[
                (-2.04804156103, 0.325),
                (0.834047694375, 0.5),
                (-5.22896198362, 0.8),
                (-1.35064494141, 1.3),
                (-12.4753492263, 2.5),
                (-35.5881945045, 5.0),
                (-86.5199835977, 10.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Akasaka, E. W. Lemmon",
        title: "An International Standard Formulation for trans-1-Chloro-3,3,3-trifluoroprop-1-ene [R1233zd(E)] Covering Temperatures from the Triple-point Temperature to 450 K and Pressures up to 100 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2022,
        volume: Some("51"),
        pages: Some("023101"),
        doi: Some("10.1063/5.0083026"),
    },
    uncertainty: Some((
        "for the 2019 preliminary version of the same equation (215 K to 444 K, up to 35 MPa): 0.01 % liquid density, 0.04 % vapor density, 0.04 % vapor pressure, 0.12 % speed of sound",
        "abstract of the congress paper of 2019 by the same authors",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0003),
        odp_source: "from memory (published model values 0.0003 to 0.0004; regulators usually round to 0)",
        gwp: [None, Some(Gwp::Value(1.0)), Some(Gwp::Value(3.88))],
        gwp_source: "from memory",
        note: None,
    },
};

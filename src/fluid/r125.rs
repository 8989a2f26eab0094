//! R-125, pentafluoroethane: a reduced Helmholtz energy.
//!
//! E. W. Lemmon, R. T. Jacobsen: A New Functional Form and New Fitting Techniques for Equations of State with Application to Pentafluoroethane (HFC-125).
//! J. Phys. Chem. Ref. Data 34 (2005) 69-108, doi 10.1063/1.1797813.
//!
//! Valid from 172.52 K to 500.0 K and up to 60 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-125; the source is named at the top of this file.
pub(crate) static R125: Fluid = Fluid {
    designation: "R-125",
    equation: "Lemmon & Jacobsen 2005",
    aliases: &["HFC-125"],
    name: "pentafluoroethane",
    formula: Some("C2HF5"),
    cas: Some("354-33-6"),
    molar_mass: 0.1200214,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 339.173, molar_density: 4779.0 },
    critical: CriticalPoint {
        temperature: 339.1772824561,
        pressure: 3618276.0556,
        molar_density: 4777.4385226,
    },
    coldest: Coldest { temperature: 172.52, pressure: 2914.046, is_triple: true },
    validity: Validity {
        minimum_temperature: 172.52,
        maximum_temperature: 500.0,
        maximum_pressure: 60000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: 37.2674161211586,
        linear: 8.88404059221027,
        logarithm: -1.0,
        power: &[IdealPower { n: -49.86507067649829, t: -0.1 }],
        oscillators: &[
            Oscillator { n: 2.303, theta: 0.9257812384830161 },
            Oscillator { n: 5.086, theta: 2.2289510073030576 },
            Oscillator { n: 7.3, theta: 5.032829853791428 },
        ],
    },
    as_published: Some((37.2674, 8.88404)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 5.28076, t: 0.669, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -8.67658, t: 1.05, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.7501127, t: 2.75, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.7590023, t: 0.956, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.01451899, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 4.777189, t: 2.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -3.330988, t: 2.75, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 3.775673, t: 2.38, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -2.290919, t: 3.37, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.8888268, t: 3.47, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.6234864, t: 2.63, d: 4, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.04127263, t: 3.45, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.08455389, t: 0.72, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.1308752, t: 4.23, d: 5, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.008344962, t: 0.2, d: 1, l: 3, g: 1.0, m: 0.0 },
            Power { n: -1.532005, t: 4.5, d: 2, l: 2, g: 1.0, m: 1.7 },
            Power { n: -0.05883649, t: 29.0, d: 3, l: 3, g: 1.0, m: 7.0 },
            Power { n: 0.02296658, t: 24.0, d: 5, l: 3, g: 1.0, m: 6.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 339.17728245610425,
            scale: 4777.4385225825135,
            terms: &[
                (-1.60076998183, 0.325),
                (16.7212491323, 0.45),
                (-31.017865266, 0.6),
                (27.1398632176, 0.8),
                (-11.5300023987, 1.2),
                (3.8457969117, 2.0),
                (-1.04689125575, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 339.17728245610425,
            scale: 4777.4385225825135,
            terms: &[
                (-12.6194937178, 0.5),
                (20.4578074572, 0.65),
                (-18.0414502158, 0.9),
                (2.23227525654, 1.5),
                (-21.7057944336, 3.0),
                (-70.5346814708, 7.0),
                (318.621999808, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "E. W. Lemmon, R. T. Jacobsen",
        title: "A New Functional Form and New Fitting Techniques for Equations of State with Application to Pentafluoroethane (HFC-125)",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2005,
        volume: Some("34"),
        pages: Some("69-108"),
        doi: Some("10.1063/1.1797813"),
    },
    uncertainty: Some((
        "0.1 % in vapor pressure and density, 0.5 % in heat capacity, 0.05-0.5 % in speed of sound",
        "memory (abstract)",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(3500.0)), Some(Gwp::Value(3170.0)), Some(Gwp::Value(3740.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

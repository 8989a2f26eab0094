//! R-245fa, 1,1,1,3,3-pentafluoropropane: a reduced Helmholtz energy.
//!
//! R. Akasaka, Y. Zhou, E. W. Lemmon: A Fundamental Equation of State for 1,1,1,3,3-Pentafluoropropane (R-245fa).
//! J. Phys. Chem. Ref. Data 44 (2015) 013104, doi 10.1063/1.4913493.
//!
//! Valid from 171.05 K to 430.0 K and up to 200 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-245fa; the source is named at the top of this file.
pub(crate) static R245FA: Fluid = Fluid {
    designation: "R-245fa",
    equation: "Akasaka et al. 2015",
    aliases: &["HFC-245fa"],
    name: "1,1,1,3,3-pentafluoropropane",
    formula: Some("C3H3F5"),
    cas: Some("460-73-1"),
    molar_mass: 0.13404794,
    gas_constant: 8.3144621,
    reducing: Reducing { temperature: 427.01, molar_density: 3875.0 },
    critical: CriticalPoint {
        temperature: 427.0099896956,
        pressure: 3650995.0241,
        molar_density: 3873.872884,
    },
    coldest: Coldest { temperature: 171.05, pressure: 13.757433, is_triple: true },
    validity: Validity {
        minimum_temperature: 171.05,
        maximum_temperature: 430.0,
        maximum_pressure: 200000000.0,
        source: "abstract; a general-purpose property library gives 440 K",
    },
    ideal_gas: IdealGas {
        constant: -13.3856088253526,
        linear: 9.84537437112304,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 5.5728, theta: 0.5198941476780403 },
            Oscillator { n: 10.385, theta: 2.3652841853820754 },
            Oscillator { n: 12.554, theta: 5.737570548699094 },
        ],
    },
    as_published: Some((-13.38560883, 9.845374371)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.057506623, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.5615975, t: 0.27, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.3614485, t: 0.9, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.51773521, t: 1.09, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.18509788, t: 0.4, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.87405626, t: 2.9, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.27530955, t: 1.7, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.57971151, t: 0.8, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.39934306, t: 3.6, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.033230277, t: 1.05, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 0.83210508, t: 1.8, d: 1, eta: 1.011, beta: 1.879, gamma: 1.081, epsilon: 0.709 },
            Gaussian { n: -0.335443, t: 4.0, d: 1, eta: 1.447, beta: 2.454, gamma: 0.651, epsilon: 0.939 },
            Gaussian { n: -0.10117801, t: 4.5, d: 3, eta: 1.079, beta: 1.256, gamma: 0.468, epsilon: 0.703 },
            Gaussian { n: -0.0091495867, t: 2.0, d: 3, eta: 7.86, beta: 21.1, gamma: 1.293, epsilon: 0.777 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 427.00998969558856,
            scale: 3873.872884009656,
            terms: &[
                (4.47203378833, 0.325),
                (-9.05832835585, 0.45),
                (9.91709140217, 0.6),
                (-1.66002622776, 0.8),
                (-2.16838239704, 1.2),
                (1.67895759587, 2.0),
                (-0.388247285947, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 427.00998969558856,
            scale: 3873.872884009656,
            terms: &[
                (-2.88282520523, 0.325),
                (3.30257157642, 0.5),
                (-8.75904231802, 0.8),
                (1.32690803612, 1.3),
                (-15.992114076, 2.5),
                (-36.8426213883, 5.0),
                (-97.49763176, 10.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Akasaka, Y. Zhou, E. W. Lemmon",
        title: "A Fundamental Equation of State for 1,1,1,3,3-Pentafluoropropane (R-245fa)",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2015,
        volume: Some("44"),
        pages: Some("013104"),
        doi: Some("10.1063/1.4913493"),
    },
    uncertainty: Some((
        "0.1 % in vapor pressure, saturated-liquid density and liquid density below 70 MPa, 0.2 % in liquid density at higher pressure, 0.3 % in vapor density, 0.15 % (liquid) and 0.1 % (vapor) in speed of sound",
        "abstract",
    )),
    environment: Environment {
        safety_class: Some("B1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(1030.0)), Some(Gwp::Value(858.0)), Some(Gwp::Value(962.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

//! R-13I1, trifluoroiodomethane: a reduced Helmholtz energy.
//!
//! E. W. Lemmon, R. Span: Thermodynamic Properties of R-227ea, R-365mfc, R-115, and R-13I1.
//! J. Chem. Eng. Data 60 (2015) 3745-3758, doi 10.1021/acs.jced.5b00684.
//!
//! Valid from 120.0 K to 420.0 K and up to 20 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-13I1; the source is named at the top of this file.
pub(crate) static R13I1: Fluid = Fluid {
    designation: "R-13I1",
    equation: "Lemmon & Span 2015",
    aliases: &["CF3I"],
    name: "trifluoroiodomethane",
    formula: Some("CF3I"),
    cas: Some("2314-97-8"),
    molar_mass: 0.1959104,
    gas_constant: 8.3144621,
    reducing: Reducing { temperature: 396.44, molar_density: 4430.6 },
    critical: CriticalPoint {
        temperature: 396.439690446,
        pressure: 3952544.562,
        molar_density: 4430.5955397,
    },
    coldest: Coldest { temperature: 120.0, pressure: 0.46237424, is_triple: true },
    validity: Validity {
        minimum_temperature: 120.0,
        maximum_temperature: 420.0,
        maximum_pressure: 20000000.0,
        source: "from memory; a general-purpose property library gives 50 MPa",
    },
    ideal_gas: IdealGas {
        constant: -24.6914997848279,
        linear: 14.2175252628153,
        logarithm: 3.0,
        power: &[],
        oscillators: &[Oscillator { n: 6.2641, theta: 1.7505801634547473 }],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 1.12191, t: 0.25, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -3.08087, t: 1.125, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.11307, t: 1.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.184885, t: 1.375, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.110971, t: 0.25, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.000325, t: 0.875, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.333357, t: 0.625, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0288288, t: 1.75, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.371554, t: 3.625, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0997985, t: 3.625, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0333205, t: 14.5, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0207882, t: 12.0, d: 4, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 396.4396904459701,
            scale: 4430.595539678691,
            terms: &[
                (-2.36403796689, 0.325),
                (16.8207590805, 0.45),
                (-27.6958487314, 0.6),
                (22.1739067452, 0.8),
                (-8.11684741306, 1.2),
                (1.90536357183, 2.0),
                (0.00676029142242, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 396.4396904459701,
            scale: 4430.595539678691,
            terms: &[
                (-9.58308479254, 0.5),
                (12.9971253938, 0.65),
                (-10.9905787306, 0.9),
                (-0.436424251304, 1.5),
                (-17.3099751842, 3.0),
                (-49.1973530554, 7.0),
                (-75.3182993957, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "E. W. Lemmon, R. Span",
        title: "Thermodynamic Properties of R-227ea, R-365mfc, R-115, and R-13I1",
        journal: "J. Chem. Eng. Data",
        year: 2015,
        volume: Some("60"),
        pages: Some("3745-3758"),
        doi: Some("10.1021/acs.jced.5b00684"),
    },
    uncertainty: None,
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: None,
        odp_source: "from memory",
        gwp: [None, Some(Gwp::Value(0.0)), None],
        gwp_source: "from memory",
        note: Some(
            "ODP below 0.01 to 0.09 in the literature, unverified; AR4 lists 0.4 in some tables, unverified",
        ),
    },
};

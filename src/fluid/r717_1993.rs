//! R-717, ammonia: a reduced Helmholtz energy.
//!
//! R. Tillner-Roth, F. Harms-Watzenberg, H. D. Baehr: Eine neue Fundamentalgleichung fuer Ammoniak.
//! DKV-Tagungsbericht 20 (II) (1993) 167-181.
//!
//! Valid from 195.495 K to 700.0 K and up to 1000 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-717; the source is named at the top of this file.
pub(crate) static R717_1993: Fluid = Fluid {
    designation: "R-717",
    equation: "Tillner-Roth et al. 1993",
    aliases: &[],
    name: "ammonia",
    formula: Some("NH3"),
    cas: Some("7664-41-7"),
    molar_mass: 0.01703026,
    gas_constant: 8.314471,
    reducing: Reducing { temperature: 405.4, molar_density: 13211.77715431 },
    critical: CriticalPoint {
        temperature: 405.5001629674,
        pressure: 11359196.242,
        molar_density: 13198.712713,
    },
    coldest: Coldest { temperature: 195.495, pressure: 6091.2231, is_triple: true },
    validity: Validity {
        minimum_temperature: 195.495,
        maximum_temperature: 700.0,
        maximum_pressure: 1000000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -15.8150191844169,
        linear: 4.2557256534569,
        logarithm: -1.0,
        power: &[
            IdealPower { n: 11.47434, t: 0.3333333333333333 },
            IdealPower { n: -1.296211, t: -1.5 },
            IdealPower { n: 0.5706757, t: -1.75 },
        ],
        oscillators: &[],
    },
    as_published: Some((-15.81502, 4.255726)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.04554431, t: -0.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.7238548, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0122947, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.858814, t: 1.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 2.141882e-11, t: 3.0, d: 15, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0143002, t: 0.0, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.3441324, t: 3.0, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.2873571, t: 4.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 2.352589e-05, t: 4.0, d: 8, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.03497111, t: 5.0, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.02397852, t: 3.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.001831117, t: 5.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.04085375, t: 6.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.2379275, t: 8.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.03548972, t: 8.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.1823729, t: 10.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.02281556, t: 10.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.006663444, t: 5.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.008847486, t: 7.5, d: 1, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.002272635, t: 15.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0005588655, t: 30.0, d: 4, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 405.5001629673763,
            scale: 13198.712712788925,
            terms: &[
                (-2.52039510853, 0.325),
                (26.2327317724, 0.5),
                (-41.9711677641, 0.666667),
                (42.2177579875, 1.0),
                (-26.0992666774, 1.33333),
                (5.52036778762, 2.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 405.5001629673763,
            scale: 13198.712712788925,
            terms: &[
                (-7.1188384263, 0.5),
                (7.04591590467, 0.65),
                (-6.50072354033, 0.9),
                (-2.79487563333, 1.5),
                (-16.9937973809, 3.0),
                (-66.4510139316, 7.0),
                (572.690720283, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Tillner-Roth, F. Harms-Watzenberg, H. D. Baehr",
        title: "Eine neue Fundamentalgleichung fuer Ammoniak",
        journal: "DKV-Tagungsbericht",
        year: 1993,
        volume: Some("20 (II)"),
        pages: Some("167-181"),
        doi: None,
    },
    uncertainty: Some((
        "0.2 % in density, 2 % in heat capacity, 2 % in speed of sound, 0.2 % in vapor pressure, except near the critical point",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("B2L"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(0.0)), Some(Gwp::Value(0.0)), Some(Gwp::Value(0.0))],
        gwp_source: "from memory",
        note: None,
    },
};

//! R-404A, the blend of 44 % R-125, 52 % R-143a, 4 % R-134a by mass, as a pseudo-pure fluid: a reduced Helmholtz energy of the blend at its
//! fixed composition.
//!
//! E. W. Lemmon: Pseudo-Pure Fluid Equations of State for the Refrigerant Blends R-410A, R-404A, R-507A, and R-407C.
//! Int. J. Thermophys. 24 (2003) 991-1006, doi 10.1023/A:1025048800563.
//!
//! Valid from 200.0 K to 450.0 K and up to 50 MPa.
//!
//! Saturation is no equilibrium of this equation: the paper gives a curve for the bubble and one for the dew pressure.
//! Dew and bubble temperature differ by up to 0.8 K. The starting values for the densities are not part of the paper.

use super::data::{
    Blend, Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-404A; the source is named at the top of this file.
pub(crate) static R404A: Fluid = Fluid {
    designation: "R-404A",
    equation: "Lemmon 2003",
    aliases: &[],
    name: "blend of R-125 44 %, R-143a 52 %, R-134a 4 %",
    formula: None,
    cas: None,
    molar_mass: 0.0976038,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 345.27, molar_density: 4940.0 },
    critical: CriticalPoint { temperature: 345.27, pressure: 3734800.0, molar_density: 4940.0 },
    coldest: Coldest { temperature: 200.0, pressure: 21264.274, is_triple: false },
    validity: Validity {
        minimum_temperature: 200.0,
        maximum_temperature: 450.0,
        maximum_pressure: 50000000.0,
        source: "abstract: 200 K to 450 K, may be extrapolated to higher temperatures; pressure limit from a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: 7.00408250125578,
        linear: 7.98694880338384,
        logarithm: -1.0,
        power: &[IdealPower { n: -18.8664, t: -0.3 }],
        oscillators: &[
            Oscillator { n: 0.63078, theta: 1.1961653198945754 },
            Oscillator { n: 3.5979, theta: 2.328612390303241 },
            Oscillator { n: 5.0335, theta: 5.001882584643902 },
        ],
    },
    as_published: Some((7.00407, 7.98695)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 6.10984, t: 0.67, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -7.79453, t: 0.91, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0183377, t: 5.96, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.26227, t: 0.7, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.00351688, t: 6.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0116181, t: 0.3, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00105992, t: 0.7, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.850922, t: 1.7, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.520084, t: 3.3, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0464225, t: 7.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.62119, t: 2.05, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.195505, t: 4.3, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.336159, t: 2.7, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0376062, t: 1.8, d: 4, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.00636579, t: 1.25, d: 7, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0758262, t: 12.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0221041, t: 6.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0310441, t: 8.7, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0132798, t: 11.6, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0689437, t: 13.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0507525, t: 17.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0161382, t: 16.0, d: 5, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 345.27,
            scale: 4940.0,
            terms: &[
                (-1.4656605297, 0.325),
                (15.3535184606, 0.45),
                (-27.2368644309, 0.6),
                (23.3348915792, 0.8),
                (-9.72343047365, 1.2),
                (3.21800913355, 2.0),
                (-0.584260566019, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 345.27,
            scale: 4940.0,
            terms: &[
                (-4.22735037755, 0.42),
                (3.15379651336, 0.6),
                (-5.57808232016, 0.9),
                (-3.01771752351, 1.5),
                (-16.4345769109, 3.0),
                (-48.0348712083, 6.0),
                (-640.249547085, 14.0),
            ],
        },
    },
    blend: Some(Blend {
        composition: &[("R-125", 0.44), ("R-143a", 0.52), ("R-134a", 0.04)],
        bubble: Expansion {
            temperature: 345.27,
            scale: 3734800.0,
            terms: &[(0.061067, 0.54), (-6.5646, 0.965), (-3.6162, 3.7), (-3.9771, 9.0)],
        },
        dew: Expansion {
            temperature: 345.27,
            scale: 3734800.0,
            terms: &[(-0.00026863, 0.1), (-6.5757, 0.972), (-4.1802, 3.8), (-7.9102, 9.0)],
        },
    }),
    citation: Citation {
        authors: "E. W. Lemmon",
        title: "Pseudo-Pure Fluid Equations of State for the Refrigerant Blends R-410A, R-404A, R-507A, and R-407C",
        journal: "Int. J. Thermophys.",
        year: 2003,
        volume: Some("24"),
        pages: Some("991-1006"),
        doi: Some("10.1023/A:1025048800563"),
    },
    uncertainty: Some((
        "against the full mixture model it was fitted to: density within 0.1 % (0.01 % on average, except critical region), heat capacity and speed of sound within 0.5 % (0.1 % on average)",
        "abstract",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(3921.6)), Some(Gwp::Value(3942.8)), Some(Gwp::Value(4728.0))],
        gwp_source: "mass-weighted from the component values of the same report",
        note: None,
    },
};

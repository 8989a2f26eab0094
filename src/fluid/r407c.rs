//! R-407C, the blend of 23 % R-32, 25 % R-125, 52 % R-134a by mass, as a pseudo-pure fluid: a reduced Helmholtz energy of the blend at its
//! fixed composition.
//!
//! E. W. Lemmon: Pseudo-Pure Fluid Equations of State for the Refrigerant Blends R-410A, R-404A, R-507A, and R-407C.
//! Int. J. Thermophys. 24 (2003) 991-1006, doi 10.1023/A:1025048800563.
//!
//! Valid from 200.0 K to 450.0 K and up to 50 MPa.
//!
//! Saturation is no equilibrium of this equation: the paper gives a curve for the bubble and one for the dew pressure.
//! Dew and bubble temperature differ by 5 K to 7 K at the pressures of chillers. The starting values for the densities are not part of the paper.

use super::data::{
    Blend, Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-407C; the source is named at the top of this file.
pub(crate) static R407C: Fluid = Fluid {
    designation: "R-407C",
    equation: "Lemmon 2003",
    aliases: &[],
    name: "blend of R-32 23 %, R-125 25 %, R-134a 52 %",
    formula: None,
    cas: None,
    molar_mass: 0.0862036,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 359.345, molar_density: 5260.0 },
    critical: CriticalPoint { temperature: 359.345, pressure: 4631700.0, molar_density: 5260.000046 },
    coldest: Coldest { temperature: 200.0, pressure: 11311.511, is_triple: false },
    validity: Validity {
        minimum_temperature: 200.0,
        maximum_temperature: 450.0,
        maximum_pressure: 50000000.0,
        source: "abstract: 200 K to 450 K, may be extrapolated to higher temperatures; pressure limit from a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: 2.13191440235584,
        linear: 8.05008231852691,
        logarithm: -1.0,
        power: &[IdealPower { n: -14.3914, t: -0.4 }],
        oscillators: &[
            Oscillator { n: 1.4245, theta: 2.40437462605574 },
            Oscillator { n: 3.9419, theta: 5.2512209714897935 },
            Oscillator { n: 3.1209, theta: 13.363202493425536 },
        ],
    },
    as_published: Some((2.13194, 8.05008)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 1.0588, t: 0.241, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.12018, t: 0.69, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.629064, t: 2.58, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.351953, t: 1.15, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00455978, t: 0.248, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.75725, t: 2.15, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.12009, t: 2.43, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.0277353, t: 5.3, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.898881, t: 0.76, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.17591, t: 1.48, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.0818591, t: 0.24, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0794097, t: 2.86, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.04047e-05, t: 8.0, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.233779, t: 3.3, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.29179, t: 4.7, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0154776, t: 0.45, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0314579, t: 8.4, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00442552, t: 16.2, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0101254, t: 26.0, d: 4, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.00915953, t: 16.0, d: 5, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.003615, t: 8.7, d: 6, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 359.345,
            scale: 5260.0,
            terms: &[
                (-14.3030480594, 0.325),
                (72.2074556313, 0.45),
                (-116.433641842, 0.6),
                (84.0740543066, 0.8),
                (-28.0048149058, 1.2),
                (6.9320087623, 2.0),
                (-1.42758710194, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 359.345,
            scale: 5260.0,
            terms: &[
                (-0.455481981001, 0.325),
                (-3.31413494475, 0.5),
                (-0.261833296453, 0.8),
                (-5.11908342077, 1.3),
                (-11.041187614, 2.5),
                (-40.7591405247, 5.0),
                (-85.5419468854, 10.0),
            ],
        },
    },
    blend: Some(Blend {
        composition: &[("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)],
        bubble: Expansion {
            temperature: 359.345,
            scale: 4631700.0,
            terms: &[(0.48722, 0.54), (-6.6959, 0.925), (-1.4165, 2.7), (-2.5109, 4.7)],
        },
        dew: Expansion {
            temperature: 359.345,
            scale: 4631700.0,
            terms: &[(-0.086077, 0.4), (-6.6364, 0.965), (-2.4648, 3.1), (-3.4776, 5.0)],
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
        gwp: [Some(Gwp::Value(1773.8)), Some(Gwp::Value(1624.2)), Some(Gwp::Value(1907.9))],
        gwp_source: "mass-weighted from the component values of the same report",
        note: None,
    },
};

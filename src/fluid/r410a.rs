//! R-410A, the blend of 50 % R-32, 50 % R-125 by mass, as a pseudo-pure fluid: a reduced Helmholtz energy of the blend at its
//! fixed composition.
//!
//! E. W. Lemmon: Pseudo-Pure Fluid Equations of State for the Refrigerant Blends R-410A, R-404A, R-507A, and R-407C.
//! Int. J. Thermophys. 24 (2003) 991-1006, doi 10.1023/A:1025048800563.
//!
//! Valid from 200.0 K to 450.0 K and up to 50 MPa.
//!
//! Saturation is no equilibrium of this equation: the paper gives a curve for the bubble and one for the dew pressure.
//! Dew and bubble temperature differ by about 0.1 K. The starting values for the densities are not part of the paper.

use super::data::{
    Blend, Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-410A; the source is named at the top of this file.
pub(crate) static R410A: Fluid = Fluid {
    designation: "R-410A",
    equation: "Lemmon 2003",
    aliases: &[],
    name: "blend of R-32 50 %, R-125 50 %",
    formula: None,
    cas: None,
    molar_mass: 0.0725854,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 344.494, molar_density: 6324.0 },
    critical: CriticalPoint { temperature: 344.494, pressure: 4901200.0, molar_density: 6324.0 },
    coldest: Coldest { temperature: 200.0, pressure: 29009.782, is_triple: false },
    validity: Validity {
        minimum_temperature: 200.0,
        maximum_temperature: 450.0,
        maximum_pressure: 50000000.0,
        source: "abstract: 200 K to 450 K, may be extrapolated to higher temperatures; pressure limit from a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: 36.8870642297716,
        linear: 7.15806554848954,
        logarithm: -1.0,
        power: &[IdealPower { n: -46.87575, t: -0.1 }],
        oscillators: &[
            Oscillator { n: 2.0623, theta: 2.02325729911116 },
            Oscillator { n: 5.9751, theta: 5.001538488333614 },
            Oscillator { n: 1.5612, theta: 11.248381684441528 },
        ],
    },
    as_published: Some((36.8871, 7.15807)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.987252, t: 0.44, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.03017, t: 1.2, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.17666, t: 2.97, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.138991, t: 2.95, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00302373, t: 0.2, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.53639, t: 1.93, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.9668, t: 1.78, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.83048, t: 3.0, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.172477, t: 0.2, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.261116, t: 0.74, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0745473, t: 3.0, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.679757, t: 2.1, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.652431, t: 4.3, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0553849, t: 0.25, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.071097, t: 7.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.000875332, t: 4.7, d: 9, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.020076, t: 13.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0139761, t: 16.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.018511, t: 25.0, d: 4, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0171939, t: 17.0, d: 5, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.00482049, t: 7.4, d: 6, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 344.494,
            scale: 6323.999999999999,
            terms: &[
                (-8.72555599286, 0.325),
                (45.7808065786, 0.45),
                (-71.1206894836, 0.6),
                (49.3999190426, 0.8),
                (-14.9755786956, 1.2),
                (3.16365681221, 2.0),
                (-0.124150280125, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 344.494,
            scale: 6323.999999999999,
            terms: &[
                (-0.234936865795, 0.325),
                (-3.86116146194, 0.5),
                (0.219927464362, 0.8),
                (-5.09657587853, 1.3),
                (-10.322524594, 2.5),
                (-36.3512221222, 5.0),
                (-57.3804513894, 10.0),
            ],
        },
    },
    blend: Some(Blend {
        composition: &[("R-32", 0.5), ("R-125", 0.5)],
        bubble: Expansion {
            temperature: 344.494,
            scale: 4901200.0,
            terms: &[(-7.2818, 1.0), (2.5093, 1.8), (-3.2695, 2.4), (-2.8022, 4.9)],
        },
        dew: Expansion {
            temperature: 344.494,
            scale: 4901200.0,
            terms: &[(-7.4411, 1.0), (1.9883, 1.6), (-2.4925, 2.4), (-3.2633, 5.0)],
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
        gwp: [Some(Gwp::Value(2087.5)), Some(Gwp::Value(1923.5)), Some(Gwp::Value(2255.5))],
        gwp_source: "mass-weighted from the component values of the same report",
        note: None,
    },
};

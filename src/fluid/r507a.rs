//! R-507A, the blend of 50 % R-125, 50 % R-143a by mass, as a pseudo-pure fluid: a reduced Helmholtz energy of the blend at its
//! fixed composition.
//!
//! E. W. Lemmon: Pseudo-Pure Fluid Equations of State for the Refrigerant Blends R-410A, R-404A, R-507A, and R-407C.
//! Int. J. Thermophys. 24 (2003) 991-1006, doi 10.1023/A:1025048800563.
//!
//! Valid from 200.0 K to 450.0 K and up to 50 MPa.
//!
//! Saturation is no equilibrium of this equation: the paper gives a curve for the bubble and one for the dew pressure.
//! Azeotropic in practice: dew and bubble pressure are nearly equal. The starting values for the densities are not part of the paper.

use super::data::{
    Blend, Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-507A; the source is named at the top of this file.
pub(crate) static R507A: Fluid = Fluid {
    designation: "R-507A",
    equation: "Lemmon 2003",
    aliases: &[],
    name: "blend of R-125 50 %, R-143a 50 %",
    formula: None,
    cas: None,
    molar_mass: 0.0988592,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 343.765, molar_density: 4964.0 },
    critical: CriticalPoint { temperature: 343.765, pressure: 3704900.0, molar_density: 4964.02965 },
    coldest: Coldest { temperature: 200.0, pressure: 23221.942, is_triple: false },
    validity: Validity {
        minimum_temperature: 200.0,
        maximum_temperature: 450.0,
        maximum_pressure: 50000000.0,
        source: "abstract: 200 K to 450 K, may be extrapolated to higher temperatures; pressure limit from a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: 9.9354559062948,
        linear: 7.99848828621578,
        logarithm: -1.0,
        power: &[IdealPower { n: -21.6054, t: -0.25 }],
        oscillators: &[
            Oscillator { n: 0.95006, theta: 1.058862885983157 },
            Oscillator { n: 4.1887, theta: 2.370805637572179 },
            Oscillator { n: 5.5184, theta: 5.143048303346763 },
        ],
    },
    as_published: Some((9.93541, 7.9985)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 6.24982, t: 0.692, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -8.07855, t: 0.943, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0264843, t: 5.8, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.286215, t: 0.77, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.00507076, t: 5.84, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0109552, t: 0.24, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00116124, t: 0.69, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.38469, t: 2.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.922473, t: 3.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0503562, t: 7.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.822098, t: 2.2, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.277727, t: 4.3, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.358172, t: 2.7, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0126426, t: 1.2, d: 4, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0060701, t: 1.23, d: 7, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0815653, t: 12.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0233323, t: 6.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0352952, t: 8.5, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0159566, t: 11.5, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0755927, t: 13.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0542007, t: 17.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0170451, t: 16.2, d: 5, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 343.765,
            scale: 4964.0,
            terms: &[
                (-2.14416647725, 0.325),
                (17.4819280998, 0.45),
                (-29.6223257985, 0.6),
                (24.2669442485, 0.8),
                (-9.67955508175, 1.2),
                (3.11559220207, 2.0),
                (-0.549103157614, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 343.765,
            scale: 4964.0,
            terms: &[
                (-3.97015916423, 0.42),
                (2.22530953516, 0.6),
                (-4.30523635826, 0.9),
                (-3.94684957211, 1.5),
                (-15.4818804223, 3.0),
                (-47.6367143928, 6.0),
                (-359.637005786, 14.0),
            ],
        },
    },
    blend: Some(Blend {
        composition: &[("R-125", 0.5), ("R-143a", 0.5)],
        bubble: Expansion {
            temperature: 343.765,
            scale: 3704900.0,
            terms: &[(-7.4853, 1.0), (2.0115, 1.5), (-2.0141, 2.2), (-3.7763, 4.6)],
        },
        dew: Expansion {
            temperature: 343.765,
            scale: 3704900.0,
            terms: &[(-7.5459, 1.0), (2.338, 1.5), (-2.237, 2.1), (-4.1535, 4.7)],
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
        gwp: [Some(Gwp::Value(3985.0)), Some(Gwp::Value(3985.0)), Some(Gwp::Value(4775.0))],
        gwp_source: "mass-weighted from the component values of the same report",
        note: None,
    },
};

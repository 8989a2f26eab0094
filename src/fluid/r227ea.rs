//! R-227ea, 1,1,1,2,3,3,3-heptafluoropropane: a reduced Helmholtz energy.
//!
//! E. W. Lemmon, R. Span: Thermodynamic Properties of R-227ea, R-365mfc, R-115, and R-13I1.
//! J. Chem. Eng. Data 60 (2015) 3745-3758, doi 10.1021/acs.jced.5b00684.
//!
//! Valid from 146.35 K to 475.0 K and up to 60 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-227ea; the source is named at the top of this file.
pub(crate) static R227EA: Fluid = Fluid {
    designation: "R-227ea",
    equation: "Lemmon & Span 2015",
    aliases: &["HFC-227ea"],
    name: "1,1,1,2,3,3,3-heptafluoropropane",
    formula: Some("C3HF7"),
    cas: Some("431-89-0"),
    molar_mass: 0.17002886,
    gas_constant: 8.3144621,
    reducing: Reducing { temperature: 374.9, molar_density: 3495.0 },
    critical: CriticalPoint {
        temperature: 374.9001034452,
        pressure: 2925248.6657,
        molar_density: 3494.9768255,
    },
    coldest: Coldest { temperature: 146.35, pressure: 7.3315584, is_triple: true },
    validity: Validity {
        minimum_temperature: 146.35,
        maximum_temperature: 475.0,
        maximum_pressure: 60000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -15.8291124136839,
        linear: 11.0879509962157,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 11.43, theta: 1.07495332088557 },
            Oscillator { n: 12.83, theta: 3.809015737530008 },
        ],
    },
    as_published: Some((-15.8291124137, 11.0879509962)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 2.024341, t: 0.34, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.60593, t: 0.77, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.4957216, t: 0.36, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.824082, t: 0.9, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.06543703, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.02461, t: 2.82, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.6247065, t: 2.1, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.2997521, t: 0.9, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.353917, t: 1.13, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.232043, t: 3.8, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.8824483, t: 2.75, d: 3, l: 2, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 0.1349661, t: 1.5, d: 1, eta: 0.83, beta: 1.72, gamma: 0.414, epsilon: 1.13 },
            Gaussian { n: -0.2662928, t: 2.5, d: 2, eta: 2.19, beta: 5.2, gamma: 1.051, epsilon: 0.71 },
            Gaussian { n: 0.1764733, t: 2.5, d: 1, eta: 2.44, beta: 2.31, gamma: 1.226, epsilon: 1.2 },
            Gaussian { n: 0.01536163, t: 5.4, d: 1, eta: 3.65, beta: 1.02, gamma: 1.7, epsilon: 1.7 },
            Gaussian { n: -0.004667185, t: 4.0, d: 4, eta: 8.88, beta: 5.63, gamma: 0.904, epsilon: 0.546 },
            Gaussian { n: -11.70854, t: 1.0, d: 2, eta: 8.23, beta: 50.9, gamma: 1.42, epsilon: 0.896 },
            Gaussian { n: 0.9114512, t: 3.5, d: 1, eta: 2.01, beta: 1.56, gamma: 0.926, epsilon: 0.747 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 374.90010344524677,
            scale: 3494.9768255448503,
            terms: &[
                (-0.264971266093, 0.325),
                (8.89658775219, 0.45),
                (-14.5191335657, 0.6),
                (11.9321813876, 0.8),
                (-4.54832792194, 1.2),
                (1.56769861008, 2.0),
                (-0.346830173863, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 374.90010344524677,
            scale: 3494.9768255448503,
            terms: &[
                (-15.5981999481, 0.5),
                (28.3754353358, 0.65),
                (-25.9463977067, 0.9),
                (6.33590675104, 1.5),
                (-25.9585304612, 3.0),
                (-67.3254140107, 7.0),
                (-115.98756406, 15.0),
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
    uncertainty: Some((
        "density: 0.05 % (liquid up to 360 K), 0.3 % (vapor), 0.5 % (supercritical); vapor pressure: 0.1 % above 270 K, 0.4 % from 240 K to 270 K; heat capacity 1 %; speed of sound: 0.05 % (vapor up to 0.5 MPa), 0.03 % (liquid 280 K to 420 K)",
        "abstract",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(3220.0)), Some(Gwp::Value(3350.0)), Some(Gwp::Value(3600.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

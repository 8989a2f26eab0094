//! R-1234yf, 2,3,3,3-tetrafluoroprop-1-ene: a reduced Helmholtz energy.
//!
//! E. W. Lemmon, R. Akasaka: An International Standard Formulation for 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf) Covering Temperatures from the Triple Point Temperature to 410 K and Pressures Up to 100 MPa.
//! Int. J. Thermophys. 43 (2022) 119, doi 10.1007/s10765-022-03015-y.
//!
//! Valid from 121.6 K to 410.0 K and up to 100 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1234yf; the source is named at the top of this file.
pub(crate) static R1234YF: Fluid = Fluid {
    designation: "R-1234yf",
    equation: "Lemmon & Akasaka 2022",
    aliases: &["HFO-1234yf"],
    name: "2,3,3,3-tetrafluoroprop-1-ene",
    formula: Some("C3H2F4"),
    cas: Some("754-12-1"),
    molar_mass: 0.1140416,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 367.85, molar_density: 4180.0 },
    critical: CriticalPoint { temperature: 367.8499999999, pressure: 3384373.6956, molar_density: 4180.0 },
    coldest: Coldest { temperature: 121.6, pressure: 0.41268355, is_triple: true },
    validity: Validity {
        minimum_temperature: 121.6,
        maximum_temperature: 410.0,
        maximum_pressure: 100000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -12.081525543189,
        linear: 8.52896238365012,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 8.65, theta: 1.3918716868288703 },
            Oscillator { n: 9.75, theta: 4.268044039690091 },
            Oscillator { n: 2.11, theta: 12.233247247519369 },
        ],
    },
    as_published: Some((-12.081525543189, 8.52896238365)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.0340387, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.912859, t: 0.222, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.1984719881617, t: 0.61, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.8147645305033, t: 1.122, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.2288282, t: 0.5, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.65436, t: 2.14, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -1.446628, t: 2.284, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.5961722, t: 1.05, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.6148209, t: 2.33, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0180069, t: 0.778, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 0.2845275, t: 1.0, d: 1, eta: 28.1, beta: 1016.0, gamma: 1.061, epsilon: 0.96 },
            Gaussian { n: -0.3050809, t: 2.0, d: 1, eta: 28.0, beta: 1000.0, gamma: 1.062, epsilon: 0.96 },
            Gaussian { n: 2.198935, t: 1.236, d: 1, eta: 1.307, beta: 1.16, gamma: 1.3, epsilon: 0.853 },
            Gaussian { n: -0.4270329, t: 1.6, d: 1, eta: 1.96, beta: 1.2, gamma: 1.04, epsilon: 1.15 },
            Gaussian { n: -0.4015581, t: 1.85, d: 1, eta: 1.25, beta: 1.26, gamma: 1.0, epsilon: 1.3 },
            Gaussian { n: 0.1179587, t: 0.7, d: 1, eta: 1.0, beta: 1.6, gamma: 1.14, epsilon: 1.5 },
            Gaussian { n: -0.3141002, t: 1.75, d: 1, eta: 2.2, beta: 0.87, gamma: 1.1, epsilon: 0.762 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 367.84999999994704,
            scale: 4179.999999996161,
            terms: &[
                (-6.43952766714, 0.325),
                (38.071231064, 0.45),
                (-65.9991604885, 0.6),
                (52.2994504869, 0.8),
                (-19.4495139399, 1.2),
                (5.03199002314, 2.0),
                (-0.611480925632, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 367.84999999994704,
            scale: 4179.999999996161,
            terms: &[
                (-0.146315704608, 0.325),
                (-5.78017705981, 0.5),
                (4.91078859166, 0.8),
                (-9.60914666849, 1.3),
                (-7.10976160251, 2.5),
                (-38.0804881569, 5.0),
                (-77.9238121539, 10.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "E. W. Lemmon, R. Akasaka",
        title: "An International Standard Formulation for 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf) Covering Temperatures from the Triple Point Temperature to 410 K and Pressures Up to 100 MPa",
        journal: "Int. J. Thermophys.",
        year: 2022,
        volume: Some("43"),
        pages: Some("119"),
        doi: Some("10.1007/s10765-022-03015-y"),
    },
    uncertainty: Some((
        "about 0.1 % in vapor pressure and liquid density, 0.1 % or better in speed of sound",
        "memory (approximate; not re-read)",
    )),
    environment: Environment {
        safety_class: Some("A2L"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(4.0)), Some(Gwp::Below(1.0)), Some(Gwp::Value(0.501))],
        gwp_source: "from memory",
        note: Some(
            "the value 4 is the pre-AR5 literature value (Nielsen et al. 2007), used in the EU F-gas regulation of 2014",
        ),
    },
};

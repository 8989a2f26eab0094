//! R-1224yd(Z), cis-1-chloro-2,3,3,3-tetrafluoroprop-1-ene: a reduced Helmholtz energy.
//!
//! R. Akasaka, E. W. Lemmon: A Helmholtz Energy Equation of State for cis-1-Chloro-2,3,3,3-tetrafluoro-1-propene [R-1224yd(Z)].
//! Int. J. Thermophys. 44 (2023), doi 10.1007/s10765-023-03266-3.
//!
//! Valid from 157.8 K to 473.15 K and up to 35.2 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, IdealGas,
    Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1224yd(Z); the source is named at the top of this file.
pub(crate) static R1224YDZ: Fluid = Fluid {
    designation: "R-1224yd(Z)",
    equation: "Akasaka & Lemmon 2023",
    aliases: &["HCFO-1224yd(Z)", "R-1224yd"],
    name: "cis-1-chloro-2,3,3,3-tetrafluoroprop-1-ene",
    formula: Some("C3HClF4"),
    cas: Some("111512-60-8"),
    molar_mass: 0.1484867,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 428.69, molar_density: 3632.0 },
    critical: CriticalPoint { temperature: 428.6900000001, pressure: 3334038.4706, molar_density: 3632.0 },
    coldest: Coldest { temperature: 157.8, pressure: 2.5366056, is_triple: true },
    validity: Validity {
        minimum_temperature: 157.8,
        maximum_temperature: 473.15,
        maximum_pressure: 35200000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -17.859292209417,
        linear: 11.0529016802423,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 9.057, theta: 1.1920035456856937 },
            Oscillator { n: 11.91, theta: 3.324080337773216 },
        ],
    },
    as_published: Some((-17.85929081092342, 11.05290064941713)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.05515868, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.9416962, t: 0.226, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.2385064629867, t: 0.661, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.8414463720438, t: 1.128, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.22459576, t: 0.51, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.6513724, t: 1.98, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.022916841, t: 8.5, d: 1, l: 3, g: 1.0, m: 0.0 },
            Power { n: -1.588437, t: 2.27, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.56220803, t: 0.89, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.67885338, t: 2.78, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.027421084, t: 1.0, d: 7, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.021429988, t: 6.36, d: 2, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 0.26924542, t: 4.5, d: 2, eta: 23.96, beta: 1028.0, gamma: 1.06, epsilon: 0.9578 },
            Gaussian {
                n: -0.33022951,
                t: 2.84,
                d: 2,
                eta: 23.81,
                beta: 1014.0,
                gamma: 1.062,
                epsilon: 0.9577,
            },
            Gaussian { n: 2.2799188, t: 1.15, d: 1, eta: 1.327, beta: 1.23, gamma: 1.296, epsilon: 0.8713 },
            Gaussian { n: -0.42644754, t: 1.25, d: 1, eta: 1.941, beta: 1.146, gamma: 1.245, epsilon: 1.183 },
            Gaussian { n: -0.38611218, t: 2.32, d: 1, eta: 1.516, beta: 0.803, gamma: 1.0, epsilon: 1.25 },
            Gaussian { n: 0.13232403, t: 3.5, d: 1, eta: 1.7, beta: 0.83, gamma: 1.45, epsilon: 1.19 },
            Gaussian { n: -0.33124629, t: 1.06, d: 1, eta: 2.23, beta: 1.21, gamma: 1.215, epsilon: 0.842 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 428.6900000000669,
            scale: 3632.0000000132277,
            terms: &[
                (16.5821490422, 0.45),
                (-44.9884316596, 0.6),
                (55.0912961918, 0.8),
                (-32.8162470025, 1.1),
                (9.94992979748, 1.6),
                (-1.38883432621, 3.0),
                (0.919939134523, 6.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 428.6900000000669,
            scale: 3632.0000000132277,
            terms: &[
                (-3.36650956194, 0.325),
                (4.23820712974, 0.5),
                (-9.1445665401, 0.8),
                (1.29353784732, 1.3),
                (-14.5474626336, 2.5),
                (-36.9494447757, 5.0),
                (-93.7911845808, 10.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Akasaka, E. W. Lemmon",
        title: "A Helmholtz Energy Equation of State for cis-1-Chloro-2,3,3,3-tetrafluoro-1-propene [R-1224yd(Z)]",
        journal: "Int. J. Thermophys.",
        year: 2023,
        volume: Some("44"),
        pages: None,
        doi: Some("10.1007/s10765-023-03266-3"),
    },
    uncertainty: None,
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.00012),
        odp_source: "from memory",
        gwp: [None, None, None],
        gwp_source: "from memory",
        note: Some("GWP below 1 in the literature, unverified"),
    },
};

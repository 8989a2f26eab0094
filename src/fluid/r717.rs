//! R-717, ammonia: a reduced Helmholtz energy.
//!
//! K. Gao, J. Wu, I. H. Bell, A. H. Harvey, E. W. Lemmon: A Reference Equation of State with an Associating Term for the Thermodynamic Properties of Ammonia.
//! J. Phys. Chem. Ref. Data 52 (2023) 013102, doi 10.1063/5.0128269.
//!
//! Valid from 195.49 K to 725.0 K and up to 1000 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gao, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-717; the source is named at the top of this file.
pub(crate) static R717: Fluid = Fluid {
    designation: "R-717",
    equation: "Gao et al. 2023",
    aliases: &["ammonia", "NH3"],
    name: "ammonia",
    formula: Some("NH3"),
    cas: Some("7664-41-7"),
    molar_mass: 0.01703052,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 405.56, molar_density: 13696.0 },
    critical: CriticalPoint {
        temperature: 405.5599999733,
        pressure: 11363395.009,
        molar_density: 13695.999651,
    },
    coldest: Coldest { temperature: 195.49, pressure: 6053.3889, is_triple: true },
    validity: Validity {
        minimum_temperature: 195.49,
        maximum_temperature: 725.0,
        maximum_pressure: 1000000000.0,
        source: "abstract; density up to 53130 mol/m3",
    },
    ideal_gas: IdealGas {
        constant: -5.60372393907792,
        linear: 4.86527247656587,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 2.224, theta: 4.0585856593352405 },
            Oscillator { n: 3.148, theta: 9.776605187888352 },
            Oscillator { n: 0.9579, theta: 17.829667620080876 },
        ],
    },
    as_published: Some((-6.59406093943886, 5.60101151987913)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.006132232, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.7395866, t: 0.382, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.2261792, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.30127553, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.08967023, t: 0.677, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.076387037, t: 2.915, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.84063963, t: 3.51, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.27026327, t: 1.063, d: 3, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian {
                n: 6.212578,
                t: 0.655,
                d: 1,
                eta: 0.42776,
                beta: 1.708,
                gamma: 1.036,
                epsilon: -0.0726,
            },
            Gaussian {
                n: -5.7844357,
                t: 1.3,
                d: 1,
                eta: 0.6424,
                beta: 1.4865,
                gamma: 1.2777,
                epsilon: -0.1274,
            },
            Gaussian { n: 2.4817542, t: 3.1, d: 1, eta: 0.8175, beta: 2.0915, gamma: 1.083, epsilon: 0.7527 },
            Gaussian {
                n: -2.3739168,
                t: 1.4395,
                d: 2,
                eta: 0.7995,
                beta: 2.43,
                gamma: 1.2906,
                epsilon: 0.57,
            },
            Gaussian { n: 0.01493697, t: 1.623, d: 2, eta: 0.91, beta: 0.488, gamma: 0.928, epsilon: 2.2 },
            Gaussian { n: -3.7749264, t: 0.643, d: 1, eta: 0.3574, beta: 1.1, gamma: 0.934, epsilon: -0.243 },
            Gaussian { n: 0.0006254348, t: 1.13, d: 3, eta: 1.21, beta: 0.85, gamma: 0.919, epsilon: 2.96 },
            Gaussian { n: -1.7359e-05, t: 4.5, d: 3, eta: 4.14, beta: 1.14, gamma: 1.852, epsilon: 3.02 },
            Gaussian {
                n: -0.13462033,
                t: 1.0,
                d: 1,
                eta: 22.56,
                beta: 945.64,
                gamma: 1.05897,
                epsilon: 0.9574,
            },
            Gaussian {
                n: 0.07749072839,
                t: 4.0,
                d: 1,
                eta: 22.68,
                beta: 993.85,
                gamma: 1.05277,
                epsilon: 0.9576,
            },
        ],
        gao: &[
            Gao {
                n: -1.6909858,
                t: 4.3315,
                d: 1,
                eta: 2.8452,
                beta: 0.3696,
                gamma: 1.108,
                epsilon: 0.4478,
                b: 1.244,
            },
            Gao {
                n: 0.93739074,
                t: 4.015,
                d: 1,
                eta: 2.8342,
                beta: 0.2962,
                gamma: 1.313,
                epsilon: 0.44689,
                b: 0.6826,
            },
        ],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 405.5599999732535,
            scale: 13695.999650913753,
            terms: &[
                (1.90814688626, 0.325),
                (-2.97680072128, 0.45),
                (8.37906369399, 0.6),
                (-6.93874812068, 0.8),
                (3.30205964909, 1.2),
                (-0.96884028558, 2.0),
                (0.452160393349, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 405.5599999732535,
            scale: 13695.999650913753,
            terms: &[
                (-1.88714282431, 0.35),
                (-2.56246512488, 0.7),
                (-1.95053422862, 1.0),
                (-8.22584931657, 2.0),
                (-21.5397584433, 4.0),
                (-62.3650417174, 8.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "K. Gao, J. Wu, I. H. Bell, A. H. Harvey, E. W. Lemmon",
        title: "A Reference Equation of State with an Associating Term for the Thermodynamic Properties of Ammonia",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2023,
        volume: Some("52"),
        pages: Some("013102"),
        doi: Some("10.1063/5.0128269"),
    },
    uncertainty: Some(("about 0.1 % in liquid density and vapor pressure", "from memory, approximate")),
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

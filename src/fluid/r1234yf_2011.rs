//! R-1234yf, 2,3,3,3-tetrafluoroprop-1-ene: a reduced Helmholtz energy.
//!
//! M. Richter, M. O. McLinden, E. W. Lemmon: Thermodynamic Properties of 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf): Vapor Pressure and p-rho-T Measurements and an Equation of State.
//! J. Chem. Eng. Data 56 (2011) 3254-3264, doi 10.1021/je200369m.
//!
//! Valid from 220.0 K to 410.0 K and up to 30 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1234yf; the source is named at the top of this file.
pub(crate) static R1234YF_2011: Fluid = Fluid {
    designation: "R-1234yf",
    equation: "Richter et al. 2011",
    aliases: &[],
    name: "2,3,3,3-tetrafluoroprop-1-ene",
    formula: Some("C3H2F4"),
    cas: Some("754-12-1"),
    molar_mass: 0.1140415928,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 367.85, molar_density: 4170.0 },
    critical: CriticalPoint {
        temperature: 367.8499888234,
        pressure: 3382244.9422,
        molar_density: 4169.9874583,
    },
    coldest: Coldest { temperature: 220.0, pressure: 31507.559, is_triple: false },
    validity: Validity {
        minimum_temperature: 220.0,
        maximum_temperature: 410.0,
        maximum_pressure: 30000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -12.8379284042223,
        linear: 8.04260467494662,
        logarithm: 4.944,
        power: &[],
        oscillators: &[
            Oscillator { n: 7.549, theta: 1.951882560826424 },
            Oscillator { n: 1.537, theta: 2.384123963572108 },
            Oscillator { n: 2.03, theta: 12.13809976892755 },
            Oscillator { n: 7.455, theta: 4.770966426532554 },
        ],
    },
    as_published: Some((-12.837928, 8.042605)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.04592563, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.546958, t: 0.32, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.355237, t: 0.929, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.4827835, t: 0.94, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.1758022, t: 0.38, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.210006, t: 2.28, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.6177084, t: 1.76, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.6805262, t: 0.97, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.6968555, t: 2.44, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.02695779, t: 1.05, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 1.389966, t: 1.4, d: 1, eta: 1.02, beta: 1.42, gamma: 1.13, epsilon: 0.712 },
            Gaussian { n: -0.4777136, t: 3.0, d: 1, eta: 1.336, beta: 2.31, gamma: 0.67, epsilon: 0.91 },
            Gaussian { n: -0.1975184, t: 3.5, d: 3, eta: 1.055, beta: 0.89, gamma: 0.46, epsilon: 0.677 },
            Gaussian { n: -1.147646, t: 1.0, d: 3, eta: 5.84, beta: 80.0, gamma: 1.28, epsilon: 0.718 },
            Gaussian { n: 0.0003428541, t: 3.5, d: 2, eta: 16.2, beta: 108.0, gamma: 1.2, epsilon: 1.64 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 367.8499888234148,
            scale: 4169.987458319444,
            terms: &[
                (-1.18373881045, 0.325),
                (15.0390497284, 0.45),
                (-29.3299511747, 0.6),
                (27.7772020957, 0.8),
                (-13.7588180696, 1.2),
                (5.98101300352, 2.0),
                (-3.46288709877, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 367.8499888234148,
            scale: 4169.987458319444,
            terms: &[
                (-13.1299410157, 0.5),
                (22.3473148436, 0.65),
                (-20.5576023405, 0.9),
                (4.45239330824, 1.5),
                (-23.4505866151, 3.0),
                (-27.1976350903, 7.0),
                (-15075.4043273, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "M. Richter, M. O. McLinden, E. W. Lemmon",
        title: "Thermodynamic Properties of 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf): Vapor Pressure and p-rho-T Measurements and an Equation of State",
        journal: "J. Chem. Eng. Data",
        year: 2011,
        volume: Some("56"),
        pages: Some("3254-3264"),
        doi: Some("10.1021/je200369m"),
    },
    uncertainty: Some((
        "0.1 % in vapor pressure and liquid density (240 K to 320 K, up to 10 MPa), 0.05-0.1 % in vapor speed of sound",
        "from memory",
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

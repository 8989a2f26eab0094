//! R-1234ze(E), trans-1,3,3,3-tetrafluoroprop-1-ene: a reduced Helmholtz energy.
//!
//! M. Thol, E. W. Lemmon: Equation of State for the Thermodynamic Properties of trans-1,3,3,3-Tetrafluoropropene [R-1234ze(E)].
//! Int. J. Thermophys. 37 (2016) 28, doi 10.1007/s10765-016-2040-6.
//!
//! Valid from 168.62 K to 420.0 K and up to 100 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1234ze(E); the source is named at the top of this file.
pub(crate) static R1234ZEE: Fluid = Fluid {
    designation: "R-1234ze(E)",
    equation: "Thol & Lemmon 2016",
    aliases: &["HFO-1234ze(E)", "R-1234ze"],
    name: "trans-1,3,3,3-tetrafluoroprop-1-ene",
    formula: Some("C3H2F4"),
    cas: Some("29118-24-9"),
    molar_mass: 0.1140415928,
    gas_constant: 8.3144621,
    reducing: Reducing { temperature: 382.513, molar_density: 4290.0 },
    critical: CriticalPoint {
        temperature: 382.5130026046,
        pressure: 3634866.193,
        molar_density: 4289.7573153,
    },
    coldest: Coldest { temperature: 168.62, pressure: 218.65467, is_triple: true },
    validity: Validity {
        minimum_temperature: 168.62,
        maximum_temperature: 420.0,
        maximum_pressure: 100000000.0,
        source: "from memory (the viscosity correlation paper of Huber & Assael 2016 quotes 169 K to 420 K and 100 MPa for this EOS)",
    },
    ideal_gas: IdealGas {
        constant: -12.5583466710529,
        linear: 8.79122930965099,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 9.3575, theta: 1.34113088966911 },
            Oscillator { n: 10.717, theta: 5.15538034001459 },
        ],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.03982797, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.812227, t: 0.223, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.537512, t: 0.755, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.5333254, t: 1.24, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.1677031, t: 0.44, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.323801, t: 2.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.6694654, t: 2.2, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.8072718, t: 1.2, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.7740229, t: 1.5, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.01843846, t: 0.9, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 1.407916, t: 1.33, d: 1, eta: 1.0, beta: 1.21, gamma: 0.943, epsilon: 0.728 },
            Gaussian { n: -0.4237082, t: 1.75, d: 1, eta: 1.61, beta: 1.37, gamma: 0.642, epsilon: 0.87 },
            Gaussian { n: -0.2270068, t: 2.11, d: 3, eta: 1.24, beta: 0.98, gamma: 0.59, epsilon: 0.855 },
            Gaussian { n: -0.805213, t: 1.0, d: 3, eta: 9.34, beta: 171.0, gamma: 1.2, epsilon: 0.79 },
            Gaussian { n: 0.00994318, t: 1.5, d: 2, eta: 5.78, beta: 47.4, gamma: 1.33, epsilon: 1.3 },
            Gaussian { n: -0.008798793, t: 1.0, d: 1, eta: 3.08, beta: 15.4, gamma: 0.64, epsilon: 0.71 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 382.5130026046493,
            scale: 4289.757315305454,
            terms: &[
                (3.89012903294, 0.325),
                (-8.5228395135, 0.45),
                (12.4077502242, 0.6),
                (-6.25842626662, 0.8),
                (0.941826668799, 1.2),
                (0.374928449122, 2.0),
                (0.215941055525, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 382.5130026046493,
            scale: 4289.757315305454,
            terms: &[
                (-2.61895330183, 0.325),
                (2.35326386911, 0.5),
                (-6.92553907392, 0.8),
                (-0.206088430752, 1.3),
                (-13.6460064486, 2.5),
                (-34.1775240648, 5.0),
                (-103.393805319, 10.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "M. Thol, E. W. Lemmon",
        title: "Equation of State for the Thermodynamic Properties of trans-1,3,3,3-Tetrafluoropropene [R-1234ze(E)]",
        journal: "Int. J. Thermophys.",
        year: 2016,
        volume: Some("37"),
        pages: Some("28"),
        doi: Some("10.1007/s10765-016-2040-6"),
    },
    uncertainty: Some((
        "0.1 % in liquid density (200 K to 380 K, up to 40 MPa), up to 0.5 % in vapor density, 0.1 % in vapor pressure, 0.05 % (gas) and 0.1-0.2 % (liquid) in speed of sound, 5 % in heat capacity",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A2L"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [None, Some(Gwp::Below(1.0)), Some(Gwp::Value(1.37))],
        gwp_source: "from memory",
        note: None,
    },
};

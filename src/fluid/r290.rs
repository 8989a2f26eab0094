//! R-290, propane: a reduced Helmholtz energy.
//!
//! E. W. Lemmon, M. O. McLinden, W. Wagner: Thermodynamic Properties of Propane. III. A Reference Equation of State for Temperatures from the Melting Line to 650 K and Pressures up to 1000 MPa.
//! J. Chem. Eng. Data 54 (2009) 3141-3180, doi 10.1021/je900217v.
//!
//! Valid from 85.525 K to 650.0 K and up to 1000 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-290; the source is named at the top of this file.
pub(crate) static R290: Fluid = Fluid {
    designation: "R-290",
    equation: "Lemmon et al. 2009",
    aliases: &["propane", "HC-290"],
    name: "propane",
    formula: Some("C3H8"),
    cas: Some("74-98-6"),
    molar_mass: 0.04409562,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 369.89, molar_density: 5000.0 },
    critical: CriticalPoint {
        temperature: 369.890008951,
        pressure: 4251165.328,
        molar_density: 5000.0006235,
    },
    coldest: Coldest { temperature: 85.525, pressure: 0.00017204618, is_triple: true },
    validity: Validity {
        minimum_temperature: 85.525,
        maximum_temperature: 650.0,
        maximum_pressure: 1000000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -4.97058342143592,
        linear: 4.29352021662332,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 3.043, theta: 1.0624780340101112 },
            Oscillator { n: 5.874, theta: 3.34423747600638 },
            Oscillator { n: 9.337, theta: 5.3637567925599505 },
            Oscillator { n: 7.922, theta: 11.762956554651383 },
        ],
    },
    as_published: Some((-4.970583, 4.29352)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.042910051, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.7313671, t: 0.33, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.4516524, t: 0.8, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.34157466, t: 0.43, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.46047898, t: 0.9, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.66847295, t: 2.46, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.20889705, t: 2.09, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.19421381, t: 0.88, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.22917851, t: 1.09, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.60405866, t: 3.25, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.066680654, t: 4.62, d: 3, l: 2, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 0.017534618, t: 0.76, d: 1, eta: 0.963, beta: 2.33, gamma: 0.684, epsilon: 1.283 },
            Gaussian { n: 0.33874242, t: 2.5, d: 1, eta: 1.977, beta: 3.47, gamma: 0.829, epsilon: 0.6936 },
            Gaussian { n: 0.22228777, t: 2.75, d: 1, eta: 1.917, beta: 3.15, gamma: 1.419, epsilon: 0.788 },
            Gaussian { n: -0.23219062, t: 3.05, d: 2, eta: 2.307, beta: 3.19, gamma: 0.817, epsilon: 0.473 },
            Gaussian { n: -0.09220694, t: 2.55, d: 2, eta: 2.546, beta: 0.92, gamma: 1.5, epsilon: 0.8577 },
            Gaussian { n: -0.47575718, t: 8.4, d: 4, eta: 3.28, beta: 18.8, gamma: 1.426, epsilon: 0.271 },
            Gaussian { n: -0.017486824, t: 6.75, d: 1, eta: 14.6, beta: 547.8, gamma: 1.093, epsilon: 0.948 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 369.8900089509655,
            scale: 5000.000623464788,
            terms: &[
                (-0.151647008399, 0.325),
                (7.60845603459, 0.45),
                (-12.1257476403, 0.6),
                (9.94706966327, 0.8),
                (-3.5724124523, 1.2),
                (1.03005229347, 2.0),
                (-0.0108021188623, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 369.8900089509655,
            scale: 5000.000623464788,
            terms: &[
                (-3.91751601688, 0.42),
                (2.53014727504, 0.6),
                (-4.01850733912, 0.9),
                (-4.01084139983, 1.5),
                (-11.7498566215, 3.0),
                (-40.9021548202, 6.0),
                (-108.863160155, 14.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "E. W. Lemmon, M. O. McLinden, W. Wagner",
        title: "Thermodynamic Properties of Propane. III. A Reference Equation of State for Temperatures from the Melting Line to 650 K and Pressures up to 1000 MPa",
        journal: "J. Chem. Eng. Data",
        year: 2009,
        volume: Some("54"),
        pages: Some("3141-3180"),
        doi: Some("10.1021/je900217v"),
    },
    uncertainty: Some((
        "0.01-0.03 % in density below 350 K, 0.02 % in vapor pressure above 180 K, 0.5 % in heat capacity, 0.01-0.1 % in speed of sound",
        "memory (abstract)",
    )),
    environment: Environment {
        safety_class: Some("A3"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(3.3)), Some(Gwp::Value(3.3)), Some(Gwp::Value(0.02))],
        gwp_source: "from memory",
        note: None,
    },
};

//! R-744, carbon dioxide: a reduced Helmholtz energy.
//!
//! R. Span, W. Wagner: A New Equation of State for Carbon Dioxide Covering the Fluid Region from the Triple-Point Temperature to 1100 K at Pressures up to 800 MPa.
//! J. Phys. Chem. Ref. Data 25 (1996) 1509-1596, doi 10.1063/1.555991.
//!
//! Valid from 216.592 K to 1100.0 K and up to 800 MPa.
//!
//! Three terms are not analytic at the critical point, where the derivatives are singular.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Nonanalytic, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-744; the source is named at the top of this file.
pub(crate) static R744: Fluid = Fluid {
    designation: "R-744",
    equation: "Span & Wagner 1996",
    aliases: &["carbon dioxide", "CO2"],
    name: "carbon dioxide",
    formula: Some("CO2"),
    cas: Some("124-38-9"),
    molar_mass: 0.0440098,
    gas_constant: 8.31451,
    reducing: Reducing { temperature: 304.1282, molar_density: 10624.9063 },
    critical: CriticalPoint { temperature: 304.1282, pressure: 7377298.372938652, molar_density: 10624.9063 },
    coldest: Coldest { temperature: 216.592, pressure: 517964.34, is_triple: true },
    validity: Validity {
        minimum_temperature: 216.592,
        maximum_temperature: 1100.0,
        maximum_pressure: 800000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -6.12487106243185,
        linear: 5.11559631801452,
        logarithm: 2.5,
        power: &[],
        oscillators: &[
            Oscillator { n: 1.99427042, theta: 3.15163 },
            Oscillator { n: 0.62105248, theta: 6.1119 },
            Oscillator { n: 0.41195293, theta: 6.77708 },
            Oscillator { n: 1.04028922, theta: 11.32384 },
            Oscillator { n: 0.08327678, theta: 27.08792 },
        ],
    },
    as_published: Some((8.37304456, -3.70454304)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.388568232032, t: 0.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 2.93854759427, t: 0.75, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -5.5867188535, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.767531995925, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.317290055804, t: 0.75, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.548033158978, t: 2.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.122794112203, t: 0.75, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 2.16589615432, t: 1.5, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 1.58417351097, t: 1.5, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.231327054055, t: 2.5, d: 4, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.0581169164314, t: 0.0, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.553691372054, t: 1.5, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.489466159094, t: 2.0, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0242757398435, t: 0.0, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.0624947905017, t: 1.0, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.121758602252, t: 2.0, d: 6, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.370556852701, t: 3.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0167758797004, t: 6.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.11960736638, t: 3.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0456193625088, t: 6.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0356127892703, t: 8.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00744277271321, t: 6.0, d: 7, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00173957049024, t: 0.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0218101212895, t: 7.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0243321665592, t: 12.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0374401334235, t: 16.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.143387157569, t: 22.0, d: 5, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.134919690833, t: 24.0, d: 5, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.0231512250535, t: 16.0, d: 6, l: 4, g: 1.0, m: 0.0 },
            Power { n: 0.0123631254929, t: 24.0, d: 7, l: 4, g: 1.0, m: 0.0 },
            Power { n: 0.00210583219729, t: 8.0, d: 8, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.000339585190264, t: 2.0, d: 10, l: 4, g: 1.0, m: 0.0 },
            Power { n: 0.00559936517716, t: 28.0, d: 4, l: 5, g: 1.0, m: 0.0 },
            Power { n: -0.000303351180556, t: 14.0, d: 8, l: 6, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: -213.654886883, t: 1.0, d: 2, eta: 25.0, beta: 325.0, gamma: 1.16, epsilon: 1.0 },
            Gaussian { n: 26641.5691493, t: 0.0, d: 2, eta: 25.0, beta: 300.0, gamma: 1.19, epsilon: 1.0 },
            Gaussian { n: -24027.2122046, t: 1.0, d: 2, eta: 25.0, beta: 300.0, gamma: 1.19, epsilon: 1.0 },
            Gaussian { n: -283.41603424, t: 3.0, d: 3, eta: 15.0, beta: 275.0, gamma: 1.25, epsilon: 1.0 },
            Gaussian { n: 212.472844002, t: 3.0, d: 3, eta: 20.0, beta: 275.0, gamma: 1.22, epsilon: 1.0 },
        ],
        gao: &[],
        nonanalytic: &[
            Nonanalytic {
                n: -0.666422765408,
                a: 3.5,
                b: 0.875,
                beta: 0.3,
                big_a: 0.7,
                big_b: 0.3,
                big_c: 10.0,
                big_d: 275.0,
            },
            Nonanalytic {
                n: 0.726086323499,
                a: 3.5,
                b: 0.925,
                beta: 0.3,
                big_a: 0.7,
                big_b: 0.3,
                big_c: 10.0,
                big_d: 275.0,
            },
            Nonanalytic {
                n: 0.0550686686128,
                a: 3.0,
                b: 0.875,
                beta: 0.3,
                big_a: 0.7,
                big_b: 1.0,
                big_c: 12.5,
                big_d: 275.0,
            },
        ],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 304.1282,
            scale: 10624.9063,
            terms: &[
                (2.68103069631, 0.325),
                (-5.77204510785, 0.45),
                (12.1031407752, 0.6),
                (-10.130415648, 0.8),
                (5.5204191846, 1.2),
                (-2.78343247804, 2.0),
                (3.95724551381, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 304.1282,
            scale: 10624.9063,
            terms: &[
                (-1.69365330187, 0.333333),
                (-2.34806123592, 0.666667),
                (-5.17636834422, 1.33333),
                (-16.0140715174, 3.0),
                (-28.481455599, 6.0),
                (-24548.9836674, 13.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Span, W. Wagner",
        title: "A New Equation of State for Carbon Dioxide Covering the Fluid Region from the Triple-Point Temperature to 1100 K at Pressures up to 800 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 1996,
        volume: Some("25"),
        pages: Some("1509-1596"),
        doi: Some("10.1063/1.555991"),
    },
    uncertainty: Some((
        "up to 30 MPa and 523 K: 0.03-0.05 % in density, 0.03-1 % in speed of sound, 0.15-1.5 % in heat capacity",
        "memory (abstract)",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(1.0)), Some(Gwp::Value(1.0)), Some(Gwp::Value(1.0))],
        gwp_source: "by definition",
        note: None,
    },
};

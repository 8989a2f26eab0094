//! R-236fa, 1,1,1,3,3,3-hexafluoropropane: a reduced Helmholtz energy.
//!
//! J. Pan, X. Rui, X. Zhao, L. Qiu: An equation of state for the thermodynamic properties of 1,1,1,3,3,3-hexafluoropropane (HFC-236fa).
//! Fluid Phase Equilib. 321 (2012) 10-16, doi 10.1016/j.fluid.2012.02.012.
//!
//! Valid from 179.6 K to 400.0 K and up to 70 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-236fa; the source is named at the top of this file.
pub(crate) static R236FA: Fluid = Fluid {
    designation: "R-236fa",
    equation: "Pan et al. 2012",
    aliases: &["HFC-236fa"],
    name: "1,1,1,3,3,3-hexafluoropropane",
    formula: Some("C3H2F6"),
    cas: Some("690-39-1"),
    molar_mass: 0.1520384,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 398.07, molar_density: 3626.0 },
    critical: CriticalPoint {
        temperature: 398.0700516052,
        pressure: 3190869.4221,
        molar_density: 3626.0146358,
    },
    coldest: Coldest { temperature: 179.6, pressure: 160.32678, is_triple: true },
    validity: Validity {
        minimum_temperature: 179.6,
        maximum_temperature: 400.0,
        maximum_pressure: 70000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -17.5983848630697,
        linear: 8.87150448829191,
        logarithm: 9.175,
        power: &[],
        oscillators: &[
            Oscillator { n: 9.8782, theta: 2.416660386364208 },
            Oscillator { n: 18.236, theta: 6.014017635089306 },
            Oscillator { n: 49.934, theta: 13.03288366367724 },
        ],
    },
    as_published: Some((-17.5983849, 8.87150449)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.04453255, t: 1.07, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.777017, t: 0.222, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.230519, t: 0.66, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.6708606, t: 1.33, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.1587907, t: 0.227, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.425119, t: 2.33, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.6461628, t: 1.94, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.8469985, t: 1.53, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.5635356, t: 2.65, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.01535611, t: 0.722, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 1.156362, t: 1.11, d: 1, eta: 1.02, beta: 1.42, gamma: 1.13, epsilon: 0.712 },
            Gaussian { n: -0.407031, t: 2.31, d: 1, eta: 1.336, beta: 2.31, gamma: 0.67, epsilon: 0.91 },
            Gaussian { n: -0.2172753, t: 3.68, d: 3, eta: 1.055, beta: 0.89, gamma: 0.46, epsilon: 0.677 },
            Gaussian { n: -1.007176, t: 4.23, d: 3, eta: 5.84, beta: 80.0, gamma: 1.28, epsilon: 0.718 },
            Gaussian { n: -6.902909e-05, t: 0.614, d: 2, eta: 16.2, beta: 108.0, gamma: 1.2, epsilon: 1.64 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 398.0700516052295,
            scale: 3626.014635847091,
            terms: &[
                (-1.76404310637, 0.325),
                (15.1261375131, 0.45),
                (-24.5419512901, 0.6),
                (19.6170801732, 0.8),
                (-7.83540974228, 1.2),
                (2.89716997261, 2.0),
                (-0.808725769824, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 398.0700516052295,
            scale: 3626.014635847091,
            terms: &[
                (-10.322629101, 0.5),
                (14.3866003902, 0.65),
                (-12.8677388148, 0.9),
                (-0.145609640114, 1.5),
                (-22.3987359223, 3.0),
                (-84.9198369012, 7.0),
                (122.61748844, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "J. Pan, X. Rui, X. Zhao, L. Qiu",
        title: "An equation of state for the thermodynamic properties of 1,1,1,3,3,3-hexafluoropropane (HFC-236fa)",
        journal: "Fluid Phase Equilib.",
        year: 2012,
        volume: Some("321"),
        pages: Some("10-16"),
        doi: Some("10.1016/j.fluid.2012.02.012"),
    },
    uncertainty: None,
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(9810.0)), Some(Gwp::Value(8060.0)), Some(Gwp::Value(8690.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

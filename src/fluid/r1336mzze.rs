//! R-1336mzz(E), trans-1,1,1,4,4,4-hexafluorobut-2-ene: a reduced Helmholtz energy.
//!
//! R. Akasaka, M. L. Huber, L. D. Simoni, E. W. Lemmon: A Helmholtz Energy Equation of State for trans-1,1,1,4,4,4-Hexafluoro-2-butene [R-1336mzz(E)].
//! Int. J. Thermophys. 44 (2023) 50, doi 10.1007/s10765-022-03143-5.
//!
//! Valid from 200.15 K to 410.0 K and up to 5.7 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1336mzz(E); the source is named at the top of this file.
pub(crate) static R1336MZZE: Fluid = Fluid {
    designation: "R-1336mzz(E)",
    equation: "Akasaka et al. 2023",
    aliases: &["HFO-1336mzz(E)"],
    name: "trans-1,1,1,4,4,4-hexafluorobut-2-ene",
    formula: Some("C4H2F6"),
    cas: Some("66711-86-2"),
    molar_mass: 0.1640491,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 403.53, molar_density: 3129.0 },
    critical: CriticalPoint { temperature: 403.53, pressure: 2779002.2155, molar_density: 3129.0 },
    coldest: Coldest { temperature: 200.15, pressure: 649.27433, is_triple: true },
    validity: Validity {
        minimum_temperature: 200.15,
        maximum_temperature: 410.0,
        maximum_pressure: 5700000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -17.583859885194,
        linear: 11.5244170129489,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 15.891, theta: 1.3629717740936238 },
            Oscillator { n: 14.143, theta: 8.609025351275 },
        ],
    },
    as_published: Some((-17.583859885194016, 11.524417012948918)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.08297005, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.1213658, t: 0.117, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.0279038680756, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.3486706213113, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.13227952, t: 0.413, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.3751844, t: 2.44, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -1.3939029, t: 2.51, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.11190839, t: 0.535, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.90635088, t: 1.927, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.050014594, t: 1.186, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 1.7953748, t: 0.876, d: 1, eta: 1.234, beta: 1.237, gamma: 1.21, epsilon: 1.23 },
            Gaussian { n: 2.0579712, t: 1.23, d: 1, eta: 1.34, beta: 0.384, gamma: 2.0, epsilon: 0.751 },
            Gaussian { n: -1.0433081, t: 0.875, d: 3, eta: 1.13, beta: 1.24, gamma: 1.216, epsilon: 0.522 },
            Gaussian { n: -1.2459808, t: 0.5181, d: 2, eta: 1.15, beta: 0.46, gamma: 2.27, epsilon: 0.32 },
            Gaussian { n: -0.49712249, t: 0.86, d: 2, eta: 1.3, beta: 1.326, gamma: 1.26, epsilon: 1.22 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 403.53000000003016,
            scale: 3129.000000004205,
            terms: &[
                (-3.94791730441, 0.325),
                (27.7992294586, 0.45),
                (-50.0014213097, 0.6),
                (42.182794057, 0.8),
                (-17.2455155765, 1.2),
                (4.69037574813, 2.0),
                (-0.607455821761, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 403.53000000003016,
            scale: 3129.000000004205,
            terms: &[
                (-12.5918846437, 0.5),
                (19.2377756711, 0.65),
                (-16.0081263949, 0.9),
                (-0.242477572453, 1.5),
                (-21.9686770509, 3.0),
                (-106.245254973, 7.0),
                (1351.79933524, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Akasaka, M. L. Huber, L. D. Simoni, E. W. Lemmon",
        title: "A Helmholtz Energy Equation of State for trans-1,1,1,4,4,4-Hexafluoro-2-butene [R-1336mzz(E)]",
        journal: "Int. J. Thermophys.",
        year: 2023,
        volume: Some("44"),
        pages: Some("50"),
        doi: Some("10.1007/s10765-022-03143-5"),
    },
    uncertainty: None,
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [None, None, Some(Gwp::Value(17.9))],
        gwp_source: "from memory",
        note: None,
    },
};

//! R-1130(E), trans-1,2-dichloroethene: a reduced Helmholtz energy.
//!
//! M. L. Huber, A. F. Kazakov, E. W. Lemmon: Equation of State for the Thermodynamic Properties of Trans-1,2-dichloroethene [R-1130(E)].
//! Int. J. Thermophys. 46 (2025) 76, doi 10.1007/s10765-025-03535-3.
//!
//! Valid from 223.31 K to 525.0 K and up to 30 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, IdealGas,
    Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1130(E); the source is named at the top of this file.
#[allow(clippy::approx_constant, reason = "a fitted coefficient, not 1/pi")]
pub(crate) static R1130E: Fluid = Fluid {
    designation: "R-1130(E)",
    equation: "Huber et al. 2025",
    aliases: &["HCO-1130(E)", "R-1130"],
    name: "trans-1,2-dichloroethene",
    formula: Some("C2H2Cl2"),
    cas: Some("156-60-5"),
    molar_mass: 0.09694328,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 515.69, molar_density: 4540.0 },
    critical: CriticalPoint {
        temperature: 515.6899999994,
        pressure: 5255464.1793,
        molar_density: 4540.0000002,
    },
    coldest: Coldest { temperature: 223.31, pressure: 648.40117, is_triple: true },
    validity: Validity {
        minimum_temperature: 223.31,
        maximum_temperature: 525.0,
        maximum_pressure: 30000000.0,
        source: "abstract",
    },
    ideal_gas: IdealGas {
        constant: -14.9118584547843,
        linear: 8.64654665062083,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 2.697, theta: 0.7116678624755182 },
            Oscillator { n: 6.264, theta: 2.4161802633365004 },
            Oscillator { n: 3.041, theta: 7.814772440807461 },
        ],
    },
    as_published: Some((-14.91185845478433, 8.646546650620836)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.0256, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.9, t: 0.188, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.054, t: 0.2496, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.153, t: 0.458, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.49787364754, t: 0.77, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.99000024872, t: 1.0385, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.318, t: 0.9, d: 1, l: 1, g: 2.43, m: 0.0 },
            Power { n: -0.973, t: 1.21, d: 1, l: 2, g: 1.236548, m: 0.0 },
            Power { n: -0.098, t: 4.7, d: 1, l: 3, g: 0.722, m: 0.0 },
            Power { n: -0.034, t: 6.61575, d: 2, l: 3, g: 1.483, m: 0.0 },
            Power { n: -0.0971, t: 2.257, d: 3, l: 3, g: 0.2255, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: -0.26, t: 3.2664, d: 1, eta: 5.10245, beta: 0.0, gamma: 1.0, epsilon: -0.31662 },
            Gaussian { n: -0.135, t: 3.59, d: 2, eta: 4.572, beta: 0.0, gamma: 1.0, epsilon: 0.065 },
            Gaussian { n: -0.21, t: 1.2, d: 1, eta: 4.63, beta: 0.0, gamma: 1.0, epsilon: -0.28568 },
            Gaussian { n: -0.197, t: 1.42, d: 1, eta: 1.785, beta: 0.0, gamma: 1.0, epsilon: 0.99 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 515.6899999994372,
            scale: 4540.00000015313,
            terms: &[
                (-2.16935924515, 0.325),
                (13.9279190138, 0.45),
                (-17.1602688308, 0.6),
                (9.51747874008, 0.8),
                (-1.79692707625, 1.2),
                (0.59980493811, 2.0),
                (0.192109385752, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 515.6899999994372,
            scale: 4540.00000015313,
            terms: &[
                (-0.999226595297, 0.38),
                (-5.94664638788, 0.6),
                (6.43082770581, 1.0),
                (-14.7708091589, 1.7),
                (-3.10307034358, 3.0),
                (-56.7532881388, 6.0),
                (0.761681083715, 13.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "M. L. Huber, A. F. Kazakov, E. W. Lemmon",
        title: "Equation of State for the Thermodynamic Properties of Trans-1,2-dichloroethene [R-1130(E)]",
        journal: "Int. J. Thermophys.",
        year: 2025,
        volume: Some("46"),
        pages: Some("76"),
        doi: Some("10.1007/s10765-025-03535-3"),
    },
    uncertainty: Some((
        "k=2: 0.25 % in vapor pressure for 300 K < T < 454 K, rising to 1.5 % towards 265 K; 0.14 % in liquid density for 270 K < T < 410 K up to 30 MPa; 3 % in vapor density",
        "abstract",
    )),
    environment: Environment {
        safety_class: None,
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.00024),
        odp_source: "value carried by a general-purpose property library; scale and edition not stated",
        gwp: [None, None, None],
        gwp_source: "from memory",
        note: Some(
            "not classified alone from memory; component of R-514A (class B1, from memory). GWP below 1 to 5 in the literature, unverified",
        ),
    },
};

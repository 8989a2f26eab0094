//! R-718, water: the IAPWS-95 formulation.
//!
//! W. Wagner, A. Pruss: The IAPWS Formulation 1995 for the Thermodynamic Properties of Ordinary Water Substance for General and Scientific Use.
//! J. Phys. Chem. Ref. Data 31 (2002) 387-535, doi 10.1063/1.1461829.
//!
//! Valid from 273.16 K to 1273.0 K and up to 1000 MPa.
//!
//! The release gives the reducing density as 322 kg/m3. Coefficients as in the release IAPWS R6-95(2018). Two terms are not analytic at the critical
//! point, where the derivatives are singular.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, CriticalPoint, DefaultReference, Expansion, Fluid, Gaussian, IdealGas, Nonanalytic, Oscillator,
    Power, Reducing, Residual, SaturationGuess, TriplePoint, Validity,
};

/// Coefficients of R-718; the source is named at the top of this file.
pub(crate) static R718: Fluid = Fluid {
    designation: "R-718",
    aliases: &["water", "H2O"],
    name: "water",
    formula: "H2O",
    cas: "7732-18-5",
    molar_mass: 0.018015268,
    gas_constant: 8.314371357587,
    reducing: Reducing { temperature: 647.096, molar_density: 322.0 / 0.018015268 },
    critical: CriticalPoint {
        temperature: 647.096,
        pressure: 22064000.00000229,
        molar_density: 322.0 / 0.018015268,
    },
    triple: TriplePoint { temperature: 273.16, pressure: 611.65477 },
    validity: Validity {
        minimum_temperature: 273.16,
        maximum_temperature: 1273.0,
        maximum_pressure: 1000000000.0,
        source: "IAPWS R6-95 (liquid also valid below 273.16 K down to the melting line)",
    },
    ideal_gas: IdealGas {
        constant: -8.3204464837497,
        linear: 6.6832105275932,
        logarithm: 3.00632,
        power: &[],
        oscillators: &[
            Oscillator { n: 0.012436, theta: 1.28728967 },
            Oscillator { n: 0.97315, theta: 3.53734222 },
            Oscillator { n: 1.2795, theta: 7.74073708 },
            Oscillator { n: 0.96956, theta: 9.24437796 },
            Oscillator { n: 0.24873, theta: 27.5075105 },
        ],
    },
    as_published: Some((-8.3204464837497, 6.6832105275932)),
    default_reference: DefaultReference::AsPublished,
    residual: Residual {
        power: &[
            Power { n: 0.012533547935523, t: -0.5, d: 1, l: 0, g: 1.0 },
            Power { n: 7.8957634722828, t: 0.875, d: 1, l: 0, g: 1.0 },
            Power { n: -8.7803203303561, t: 1.0, d: 1, l: 0, g: 1.0 },
            Power { n: 0.31802509345418, t: 0.5, d: 2, l: 0, g: 1.0 },
            Power { n: -0.26145533859358, t: 0.75, d: 2, l: 0, g: 1.0 },
            Power { n: -0.0078199751687981, t: 0.375, d: 3, l: 0, g: 1.0 },
            Power { n: 0.0088089493102134, t: 1.0, d: 4, l: 0, g: 1.0 },
            Power { n: -0.66856572307965, t: 4.0, d: 1, l: 1, g: 1.0 },
            Power { n: 0.20433810950965, t: 6.0, d: 1, l: 1, g: 1.0 },
            Power { n: -6.6212605039687e-05, t: 12.0, d: 1, l: 1, g: 1.0 },
            Power { n: -0.19232721156002, t: 1.0, d: 2, l: 1, g: 1.0 },
            Power { n: -0.25709043003438, t: 5.0, d: 2, l: 1, g: 1.0 },
            Power { n: 0.16074868486251, t: 4.0, d: 3, l: 1, g: 1.0 },
            Power { n: -0.040092828925807, t: 2.0, d: 4, l: 1, g: 1.0 },
            Power { n: 3.9343422603254e-07, t: 13.0, d: 4, l: 1, g: 1.0 },
            Power { n: -7.5941377088144e-06, t: 9.0, d: 5, l: 1, g: 1.0 },
            Power { n: 0.00056250979351888, t: 3.0, d: 7, l: 1, g: 1.0 },
            Power { n: -1.5608652257135e-05, t: 4.0, d: 9, l: 1, g: 1.0 },
            Power { n: 1.1537996422951e-09, t: 11.0, d: 10, l: 1, g: 1.0 },
            Power { n: 3.6582165144204e-07, t: 4.0, d: 11, l: 1, g: 1.0 },
            Power { n: -1.3251180074668e-12, t: 13.0, d: 13, l: 1, g: 1.0 },
            Power { n: -6.2639586912454e-10, t: 1.0, d: 15, l: 1, g: 1.0 },
            Power { n: -0.10793600908932, t: 7.0, d: 1, l: 2, g: 1.0 },
            Power { n: 0.017611491008752, t: 1.0, d: 2, l: 2, g: 1.0 },
            Power { n: 0.22132295167546, t: 9.0, d: 2, l: 2, g: 1.0 },
            Power { n: -0.40247669763528, t: 10.0, d: 2, l: 2, g: 1.0 },
            Power { n: 0.58083399985759, t: 10.0, d: 3, l: 2, g: 1.0 },
            Power { n: 0.0049969146990806, t: 3.0, d: 4, l: 2, g: 1.0 },
            Power { n: -0.031358700712549, t: 7.0, d: 4, l: 2, g: 1.0 },
            Power { n: -0.74315929710341, t: 10.0, d: 4, l: 2, g: 1.0 },
            Power { n: 0.4780732991548, t: 10.0, d: 5, l: 2, g: 1.0 },
            Power { n: 0.020527940895948, t: 6.0, d: 6, l: 2, g: 1.0 },
            Power { n: -0.13636435110343, t: 10.0, d: 6, l: 2, g: 1.0 },
            Power { n: 0.014180634400617, t: 10.0, d: 7, l: 2, g: 1.0 },
            Power { n: 0.0083326504880713, t: 1.0, d: 9, l: 2, g: 1.0 },
            Power { n: -0.029052336009585, t: 2.0, d: 9, l: 2, g: 1.0 },
            Power { n: 0.038615085574206, t: 3.0, d: 9, l: 2, g: 1.0 },
            Power { n: -0.020393486513704, t: 4.0, d: 9, l: 2, g: 1.0 },
            Power { n: -0.0016554050063734, t: 8.0, d: 9, l: 2, g: 1.0 },
            Power { n: 0.0019955571979541, t: 6.0, d: 10, l: 2, g: 1.0 },
            Power { n: 0.00015870308324157, t: 9.0, d: 10, l: 2, g: 1.0 },
            Power { n: -1.638856834253e-05, t: 8.0, d: 12, l: 2, g: 1.0 },
            Power { n: 0.043613615723811, t: 16.0, d: 3, l: 3, g: 1.0 },
            Power { n: 0.034994005463765, t: 22.0, d: 4, l: 3, g: 1.0 },
            Power { n: -0.076788197844621, t: 23.0, d: 4, l: 3, g: 1.0 },
            Power { n: 0.022446277332006, t: 23.0, d: 5, l: 3, g: 1.0 },
            Power { n: -6.2689710414685e-05, t: 10.0, d: 14, l: 4, g: 1.0 },
            Power { n: -5.5711118565645e-10, t: 50.0, d: 3, l: 6, g: 1.0 },
            Power { n: -0.19905718354408, t: 44.0, d: 6, l: 6, g: 1.0 },
            Power { n: 0.31777497330738, t: 46.0, d: 6, l: 6, g: 1.0 },
            Power { n: -0.11841182425981, t: 50.0, d: 6, l: 6, g: 1.0 },
        ],
        gaussian: &[
            Gaussian { n: -31.306260323435, t: 0.0, d: 3, eta: 20.0, beta: 150.0, gamma: 1.21, epsilon: 1.0 },
            Gaussian { n: 31.546140237781, t: 1.0, d: 3, eta: 20.0, beta: 150.0, gamma: 1.21, epsilon: 1.0 },
            Gaussian { n: -2521.3154341695, t: 4.0, d: 3, eta: 20.0, beta: 250.0, gamma: 1.25, epsilon: 1.0 },
        ],
        nonanalytic: &[
            Nonanalytic {
                n: -0.14874640856724,
                a: 3.5,
                b: 0.85,
                beta: 0.3,
                big_a: 0.32,
                big_b: 0.2,
                big_c: 28.0,
                big_d: 700.0,
            },
            Nonanalytic {
                n: 0.31806110878444,
                a: 3.5,
                b: 0.95,
                beta: 0.3,
                big_a: 0.32,
                big_b: 0.2,
                big_c: 32.0,
                big_d: 800.0,
            },
        ],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 647.096,
            scale: 17873.72799560906,
            terms: &[
                (1.24377608552, 0.325),
                (2.92722467729, 0.45),
                (-4.73763990042, 0.6),
                (5.7845822411, 0.8),
                (-3.46209897524, 1.2),
                (1.55736357297, 2.0),
                (-2.38159938215, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 647.096,
            scale: 17873.72799560906,
            terms: &[
                (-1.74495180303, 0.325),
                (-1.10069674022, 0.5),
                (-2.54636534346, 0.8),
                (-3.46440025377, 1.3),
                (-11.6684195839, 2.5),
                (-34.2218758623, 5.0),
                (-71.8817864173, 10.0),
            ],
        },
    },
    citation: Citation {
        authors: "W. Wagner, A. Pruss",
        title: "The IAPWS Formulation 1995 for the Thermodynamic Properties of Ordinary Water Substance for General and Scientific Use",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2002,
        volume: "31",
        pages: "387-535",
        doi: "10.1063/1.1461829",
    },
    uncertainty: "0.0001 % in liquid density at 0.1 MPa, 0.001 % up to 10 MPa below 423 K, 0.03-0.1 % elsewhere; vapor pressure 0.025 %",
    uncertainty_source: "memory (IAPWS release)",
    safety_class: Some("A1"),
};

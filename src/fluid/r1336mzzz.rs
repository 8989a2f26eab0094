//! R-1336mzz(Z), cis-1,1,1,4,4,4-hexafluorobut-2-ene: a reduced Helmholtz energy.
//!
//! M. O. McLinden, R. Akasaka: Thermodynamic Properties of cis-1,1,1,4,4,4-Hexafluorobutene [R-1336mzz(Z)]: Vapor Pressure, (p, rho, T) Behavior, and Speed of Sound Measurements and Equation of State.
//! J. Chem. Eng. Data 65 (2020) 4201-4214, doi 10.1021/acs.jced.9b01198.
//!
//! Valid from 182.65 K to 500.0 K and up to 46 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-1336mzz(Z); the source is named at the top of this file.
pub(crate) static R1336MZZZ: Fluid = Fluid {
    designation: "R-1336mzz(Z)",
    equation: "McLinden & Akasaka 2020",
    aliases: &["HFO-1336mzz(Z)"],
    name: "cis-1,1,1,4,4,4-hexafluorobut-2-ene",
    formula: Some("C4H2F6"),
    cas: Some("692-49-9"),
    molar_mass: 0.164056,
    gas_constant: 8.314462618,
    reducing: Reducing { temperature: 444.5, molar_density: 3044.0 },
    critical: CriticalPoint {
        temperature: 444.4999910253,
        pressure: 2903710.4699,
        molar_density: 3044.5287609,
    },
    coldest: Coldest { temperature: 182.65, pressure: 18.079909, is_triple: true },
    validity: Validity {
        minimum_temperature: 182.65,
        maximum_temperature: 500.0,
        maximum_pressure: 46000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -20.2112432593856,
        linear: 12.0028981141569,
        logarithm: 3.0,
        power: &[],
        oscillators: &[
            Oscillator { n: 20.2, theta: 1.6557930258717661 },
            Oscillator { n: 5.275, theta: 5.172103487064117 },
        ],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.036673095, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.1956619, t: 0.26, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.8462376, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.60599297, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.24973833, t: 0.515, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.2548278, t: 2.6, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -1.4389612, t: 3.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.35168887, t: 0.74, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.82104051, t: 2.68, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.031747538, t: 0.96, d: 7, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian { n: 1.0281388, t: 1.06, d: 1, eta: 0.746, beta: 1.118, gamma: 0.962, epsilon: 1.225 },
            Gaussian { n: 0.21094074, t: 3.4, d: 1, eta: 2.406, beta: 3.065, gamma: 1.111, epsilon: 0.161 },
            Gaussian { n: 0.701701, t: 1.617, d: 3, eta: 0.7804, beta: 0.7274, gamma: 1.135, epsilon: 1.231 },
            Gaussian { n: 0.24638528, t: 1.865, d: 2, eta: 1.25, beta: 0.8435, gamma: 1.163, epsilon: 1.395 },
            Gaussian {
                n: -1.5295034,
                t: 1.737,
                d: 3,
                eta: 0.6826,
                beta: 0.6754,
                gamma: 0.969,
                epsilon: 0.9072,
            },
            Gaussian { n: 0.33424978, t: 3.29, d: 2, eta: 1.677, beta: 0.436, gamma: 1.286, epsilon: 0.958 },
            Gaussian { n: 1.011324, t: 1.242, d: 2, eta: 1.762, beta: 3.808, gamma: 1.274, epsilon: 0.412 },
            Gaussian { n: -0.023457179, t: 2.0, d: 1, eta: 21.0, beta: 1888.0, gamma: 1.056, epsilon: 0.944 },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 444.4999910253329,
            scale: 3044.5287608669614,
            terms: &[
                (3.48847501565, 0.38),
                (-3.22076203371, 0.55),
                (4.2089941304, 0.8),
                (-2.69273213279, 1.2),
                (1.68846186673, 2.0),
                (-0.906205630276, 4.0),
                (1.87154703135, 8.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 444.4999910253329,
            scale: 3044.5287608669614,
            terms: &[
                (-1.78473626539, 0.325),
                (-0.545725349193, 0.5),
                (-3.12185136137, 0.8),
                (-3.35975122658, 1.3),
                (-12.7481179273, 2.5),
                (-41.4463954657, 5.0),
                (-91.7528472789, 10.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "M. O. McLinden, R. Akasaka",
        title: "Thermodynamic Properties of cis-1,1,1,4,4,4-Hexafluorobutene [R-1336mzz(Z)]: Vapor Pressure, (p, rho, T) Behavior, and Speed of Sound Measurements and Equation of State",
        journal: "J. Chem. Eng. Data",
        year: 2020,
        volume: Some("65"),
        pages: Some("4201-4214"),
        doi: Some("10.1021/acs.jced.9b01198"),
    },
    uncertainty: Some((
        "average absolute deviations from the data: 0.0081 % in density, 0.027 % in vapor pressure, 0.017 % in vapor speed of sound, 0.023 % in liquid speed of sound, 0.049 % in saturated-liquid density (fit statistics, not expanded uncertainties)",
        "abstract",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [None, Some(Gwp::Value(2.0)), Some(Gwp::Value(2.08))],
        gwp_source: "from memory",
        note: None,
    },
};

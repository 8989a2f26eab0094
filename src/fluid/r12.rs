//! R-12, dichlorodifluoromethane: a reduced Helmholtz energy.
//!
//! V. Marx, A. Pruss, W. Wagner: Neue Zustandsgleichungen fuer R 12, R 22, R 11 und R 113. Beschreibung des thermodynamischen Zustandsverhaltens bei Temperaturen bis 525 K und Druecken bis 200 MPa.
//! VDI Fortschritt-Berichte, Reihe 19, Nr. 57 (1992).
//!
//! Valid from 116.099 K to 525.0 K and up to 200 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-12; the source is named at the top of this file.
pub(crate) static R12: Fluid = Fluid {
    designation: "R-12",
    equation: "Marx et al. 1992",
    aliases: &["CFC-12"],
    name: "dichlorodifluoromethane",
    formula: Some("CCl2F2"),
    cas: Some("75-71-8"),
    molar_mass: 0.120913,
    gas_constant: 8.314471,
    reducing: Reducing { temperature: 385.12, molar_density: 4672.781255944 },
    critical: CriticalPoint {
        temperature: 385.1199997681,
        pressure: 4136165.6284,
        molar_density: 4672.7812604,
    },
    coldest: Coldest { temperature: 116.099, pressure: 0.2425502, is_triple: true },
    validity: Validity {
        minimum_temperature: 116.099,
        maximum_temperature: 525.0,
        maximum_pressure: 200000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -14.7178998483583,
        linear: 9.40302167413676,
        logarithm: 3.00361975,
        power: &[],
        oscillators: &[
            Oscillator { n: 3.16062357, theta: 3.72204562 },
            Oscillator { n: 0.371258136, theta: 6.30985083 },
            Oscillator { n: 3.56226039, theta: 1.78037889 },
            Oscillator { n: 2.12152336, theta: 1.07087607 },
        ],
    },
    as_published: Some((10.0100905, -4.66434985)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 2.075343402, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.962525996, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.01001589616, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.01781347612, t: 2.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.02556929157, t: -0.5, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.002352142637, t: 0.0, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: -8.495553314e-05, t: 0.0, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.01535945599, t: -0.5, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.2108816776, t: 1.5, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.01654228806, t: 2.5, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.0118131613, t: -0.5, d: 7, l: 1, g: 1.0, m: 0.0 },
            Power { n: -4.16029583e-05, t: 0.0, d: 12, l: 1, g: 1.0, m: 0.0 },
            Power { n: 2.784861664e-05, t: 0.5, d: 12, l: 1, g: 1.0, m: 0.0 },
            Power { n: 1.618686433e-06, t: -0.5, d: 14, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.1064614686, t: 4.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0009369665207, t: 4.0, d: 9, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.02590095447, t: 2.0, d: 1, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.04347025025, t: 4.0, d: 1, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.1012308449, t: 12.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.1100003438, t: 14.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.003361012009, t: 0.0, d: 5, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0003789190008, t: 14.0, d: 9, l: 4, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 385.119999768139,
            scale: 4672.7812604494875,
            terms: &[
                (-2.71458369593, 0.325),
                (20.8738475195, 0.45),
                (-37.4002163525, 0.6),
                (31.3334591968, 0.8),
                (-12.4130943891, 1.2),
                (3.52290663232, 2.0),
                (-0.500586265737, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 385.119999768139,
            scale: 4672.7812604494875,
            terms: &[
                (-9.66271224687, 0.5),
                (13.5836951827, 0.65),
                (-11.925872985, 0.9),
                (0.311357688491, 1.5),
                (-18.0629953069, 3.0),
                (-53.5008360883, 7.0),
                (-101.220069882, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "V. Marx, A. Pruss, W. Wagner",
        title: "Neue Zustandsgleichungen fuer R 12, R 22, R 11 und R 113. Beschreibung des thermodynamischen Zustandsverhaltens bei Temperaturen bis 525 K und Druecken bis 200 MPa",
        journal: "VDI Fortschritt-Berichte, Reihe 19, Nr. 57",
        year: 1992,
        volume: None,
        pages: None,
        doi: None,
    },
    uncertainty: Some((
        "0.2 % in density, 1 % in heat capacity and speed of sound, 0.2 % in vapor pressure",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(1.0),
        odp_source: "Montreal Protocol value, from memory",
        gwp: [Some(Gwp::Value(10900.0)), Some(Gwp::Value(10200.0)), Some(Gwp::Value(12500.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

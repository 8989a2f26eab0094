//! R-143a, 1,1,1-trifluoroethane: a reduced Helmholtz energy.
//!
//! E. W. Lemmon, R. T. Jacobsen: An International Standard Formulation for the Thermodynamic Properties of 1,1,1-Trifluoroethane (HFC-143a) for Temperatures from 161 to 450 K and Pressures to 50 MPa.
//! J. Phys. Chem. Ref. Data 29 (2000) 521-552, doi 10.1063/1.1318909.
//!
//! Valid from 161.34 K to 450.0 K and up to 50 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-143a; the source is named at the top of this file.
pub(crate) static R143A: Fluid = Fluid {
    designation: "R-143a",
    equation: "Lemmon & Jacobsen 2000",
    aliases: &["HFC-143a"],
    name: "1,1,1-trifluoroethane",
    formula: Some("C2H3F3"),
    cas: Some("420-46-2"),
    molar_mass: 0.084041,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 345.857, molar_density: 5128.45 },
    critical: CriticalPoint {
        temperature: 345.8570008679,
        pressure: 3761818.2714,
        molar_density: 5128.4542842,
    },
    coldest: Coldest { temperature: 161.34, pressure: 1074.9454, is_triple: true },
    validity: Validity {
        minimum_temperature: 161.34,
        maximum_temperature: 450.0,
        maximum_pressure: 50000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: 5.90304811943166,
        linear: 7.30725062149164,
        logarithm: -1.0,
        power: &[IdealPower { n: -16.591049152078973, t: -0.33 }],
        oscillators: &[
            Oscillator { n: 4.4402, theta: 5.178440800677737 },
            Oscillator { n: 3.7515, theta: 2.379596191489546 },
        ],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 7.7736443, t: 0.67, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -8.70185, t: 0.833, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.27779799, t: 1.7, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.1460922, t: 1.82, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0089581616, t: 0.35, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.20552116, t: 3.9, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.10653258, t: 0.95, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.023270816, t: 0.0, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.013247542, t: 1.19, d: 7, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.04279387, t: 7.2, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.36221685, t: 5.9, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.25671899, t: 7.65, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.092326113, t: 7.5, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.083774837, t: 7.45, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.017128445, t: 15.5, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.01725611, t: 22.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0049080492, t: 19.0, d: 5, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 345.8570008678583,
            scale: 5128.454284175662,
            terms: &[
                (-2.50804603811, 0.325),
                (20.3608368452, 0.45),
                (-36.3154322601, 0.6),
                (30.6346796308, 0.8),
                (-12.570341206, 1.2),
                (4.07422274278, 2.0),
                (-1.01886432467, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 345.8570008678583,
            scale: 5128.454284175662,
            terms: &[
                (-11.6534898535, 0.5),
                (17.7062780156, 0.65),
                (-15.2580574264, 0.9),
                (0.915977835326, 1.5),
                (-19.2369738298, 3.0),
                (-65.0271767722, 7.0),
                (172.7364922, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "E. W. Lemmon, R. T. Jacobsen",
        title: "An International Standard Formulation for the Thermodynamic Properties of 1,1,1-Trifluoroethane (HFC-143a) for Temperatures from 161 to 450 K and Pressures to 50 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2000,
        volume: Some("29"),
        pages: Some("521-552"),
        doi: Some("10.1063/1.1318909"),
    },
    uncertainty: Some((
        "0.1 % in density, 0.5 % in heat capacity, 0.02 % (vapor) to 0.5 % (liquid) in speed of sound, 0.1 % in vapor pressure",
        "memory (abstract)",
    )),
    environment: Environment {
        safety_class: Some("A2L"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(4470.0)), Some(Gwp::Value(4800.0)), Some(Gwp::Value(5810.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

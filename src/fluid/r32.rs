//! R-32, difluoromethane: a reduced Helmholtz energy.
//!
//! R. Tillner-Roth, A. Yokozeki: An International Standard Equation of State for Difluoromethane for Temperatures from the Triple Point at 136.34 K to 435 K and Pressures up to 70 MPa.
//! J. Phys. Chem. Ref. Data 26 (1997) 1273-1328, doi 10.1063/1.556002.
//!
//! Valid from 136.34 K to 435.0 K and up to 70 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-32; the source is named at the top of this file.
pub(crate) static R32: Fluid = Fluid {
    designation: "R-32",
    equation: "Tillner-Roth & Yokozeki 1997",
    aliases: &["HFC-32"],
    name: "difluoromethane",
    formula: Some("CH2F2"),
    cas: Some("75-10-5"),
    molar_mass: 0.052024,
    gas_constant: 8.314471,
    reducing: Reducing { temperature: 351.255, molar_density: 8150.0846 },
    critical: CriticalPoint {
        temperature: 351.2550004494,
        pressure: 5782645.0939,
        molar_density: 8150.0839995,
    },
    coldest: Coldest { temperature: 136.34, pressure: 47.999894, is_triple: true },
    validity: Validity {
        minimum_temperature: 136.34,
        maximum_temperature: 435.0,
        maximum_pressure: 70000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -8.25809596345087,
        linear: 6.35309775986538,
        logarithm: 3.004486,
        power: &[],
        oscillators: &[
            Oscillator { n: 1.160761, theta: 2.2718538 },
            Oscillator { n: 2.645151, theta: 11.914421 },
            Oscillator { n: 5.794987, theta: 5.1415638 },
            Oscillator { n: 1.129475, theta: 32.768217 },
        ],
    },
    as_published: Some((-8.258096, 6.353098)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 1.046634, t: 0.25, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.5451165, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.002448595, t: -0.25, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.04877002, t: -1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.03520158, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00162275, t: 2.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 2.377225e-05, t: 0.75, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.029149, t: 0.25, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.003386203, t: 18.0, d: 4, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.004202444, t: 26.0, d: 4, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.0004782025, t: -1.0, d: 8, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.005504323, t: 25.0, d: 3, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.02418396, t: 1.75, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.4209034, t: 4.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.4616537, t: 5.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -1.200513, t: 1.0, d: 3, l: 1, g: 1.0, m: 0.0 },
            Power { n: -2.59155, t: 1.5, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -1.400145, t: 1.0, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.8263017, t: 0.5, d: 3, l: 1, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 351.25500044943334,
            scale: 8150.083999468625,
            terms: &[
                (12.9553628382, 0.45),
                (-33.2142295079, 0.6),
                (43.5400356268, 0.8),
                (-29.8203682273, 1.1),
                (11.4678431373, 1.6),
                (-2.64037693331, 3.0),
                (1.54912235947, 6.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 351.25500044943334,
            scale: 8150.083999468625,
            terms: &[
                (-3.41729696246, 0.38),
                (2.15213223154, 0.6),
                (-7.65471381227, 1.0),
                (-0.0593819556487, 1.7),
                (-16.9902944122, 3.0),
                (-40.3203432575, 6.0),
                (-130.798722323, 13.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Tillner-Roth, A. Yokozeki",
        title: "An International Standard Equation of State for Difluoromethane (R-32) for Temperatures from the Triple Point at 136.34 K to 435 K and Pressures up to 70 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 1997,
        volume: Some("26"),
        pages: Some("1273-1328"),
        doi: Some("10.1063/1.556002"),
    },
    uncertainty: Some((
        "0.05 % in density, 0.02 % in vapor pressure above 180 K, 0.5-1 % in heat capacity",
        "memory (abstract)",
    )),
    environment: Environment {
        safety_class: Some("A2L"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(675.0)), Some(Gwp::Value(677.0)), Some(Gwp::Value(771.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

//! R-134a, 1,1,1,2-tetrafluoroethane: a reduced Helmholtz energy.
//!
//! R. Tillner-Roth, H. D. Baehr: An International Standard Formulation for the Thermodynamic Properties of 1,1,1,2-Tetrafluoroethane (HFC-134a) for Temperatures from 170 K to 455 K and Pressures up to 70 MPa.
//! J. Phys. Chem. Ref. Data 23 (1994) 657-729, doi 10.1063/1.555958.
//!
//! Valid from 169.85 K to 455.0 K and up to 70 MPa.
//!
//! The reducing temperature and density are not the critical ones.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-134a; the source is named at the top of this file.
pub(crate) static R134A: Fluid = Fluid {
    designation: "R-134a",
    equation: "Tillner-Roth & Baehr 1994",
    aliases: &["HFC-134a", "1,1,1,2-tetrafluoroethane"],
    name: "1,1,1,2-tetrafluoroethane",
    formula: Some("C2H2F4"),
    cas: Some("811-97-2"),
    molar_mass: 0.102032,
    gas_constant: 8.314471,
    reducing: Reducing { temperature: 374.18, molar_density: 4978.830171 },
    critical: CriticalPoint {
        temperature: 374.2119665849,
        pressure: 4059276.3738,
        molar_density: 5017.4956218,
    },
    coldest: Coldest { temperature: 169.85, pressure: 389.56379, is_triple: true },
    validity: Validity {
        minimum_temperature: 169.85,
        maximum_temperature: 455.0,
        maximum_pressure: 70000000.0,
        source: "title",
    },
    ideal_gas: IdealGas {
        constant: -1.01953454650067,
        linear: 9.04713537629684,
        logarithm: -1.629789,
        power: &[IdealPower { n: -9.723916, t: -0.5 }, IdealPower { n: -3.92717, t: -0.75 }],
        oscillators: &[],
    },
    as_published: Some((-1.019535, 9.047135)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.05586817, t: -0.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.498223, t: 0.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.02458698, t: 0.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0008570145, t: 0.0, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0004788584, t: 1.5, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.800808, t: 1.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.2671641, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.04781652, t: 2.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.01423987, t: 1.0, d: 5, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.3324062, t: 3.0, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.007485907, t: 5.0, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.0001017263, t: 1.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.5184567, t: 5.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.08692288, t: 5.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.2057144, t: 6.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.005000457, t: 10.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0004603262, t: 10.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.003497836, t: 10.0, d: 1, l: 3, g: 1.0, m: 0.0 },
            Power { n: 0.006995038, t: 18.0, d: 5, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.01452184, t: 22.0, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0001285458, t: 50.0, d: 10, l: 4, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 374.21196658494824,
            scale: 5017.495621783685,
            terms: &[
                (-1.82416852557, 0.325),
                (16.6260191778, 0.45),
                (-28.9552014225, 0.6),
                (24.238521524, 0.8),
                (-9.78336423734, 1.2),
                (3.14345968058, 2.0),
                (-0.66568191218, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 374.21196658494824,
            scale: 5017.495621783685,
            terms: &[
                (-12.6291697234, 0.5),
                (20.2782346496, 0.65),
                (-17.94600084, 0.9),
                (2.16469917107, 1.5),
                (-22.1872013467, 3.0),
                (-69.8203350198, 7.0),
                (28.8052657918, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. Tillner-Roth, H. D. Baehr",
        title: "An International Standard Formulation for the Thermodynamic Properties of 1,1,1,2-Tetrafluoroethane (HFC-134a) for Temperatures from 170 K to 455 K and Pressures up to 70 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 1994,
        volume: Some("23"),
        pages: Some("657-729"),
        doi: Some("10.1063/1.555958"),
    },
    uncertainty: Some((
        "0.05 % in density, 0.02 % in vapor pressure, 0.5 to 1 % in heat capacity (typical; larger for heat capacity and speed of sound near the critical point)",
        "abstract",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(1430.0)), Some(Gwp::Value(1300.0)), Some(Gwp::Value(1530.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

//! R-123, 2,2-dichloro-1,1,1-trifluoroethane: a reduced Helmholtz energy.
//!
//! B. A. Younglove, M. O. McLinden: An International Standard Equation of State for the Thermodynamic Properties of Refrigerant 123 (2,2-Dichloro-1,1,1-Trifluoroethane).
//! J. Phys. Chem. Ref. Data 23 (1994) 731-779, doi 10.1063/1.555950.
//!
//! Valid from 166.0 K to 500.0 K and up to 40 MPa.
//!
//! The paper prints a 32-term modified Benedict-Webb-Rubin equation. The 40 terms below are its
//! exact rewriting as a reduced Helmholtz energy. Six terms without a power of density come in
//! pairs, one bare and one with exp(-delta^2), that cancel at low density.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-123; the source is named at the top of this file.
pub(crate) static R123: Fluid = Fluid {
    designation: "R-123",
    equation: "Younglove & McLinden 1994",
    aliases: &["HCFC-123"],
    name: "2,2-dichloro-1,1,1-trifluoroethane",
    formula: Some("C2HCl2F3"),
    cas: Some("306-83-2"),
    molar_mass: 0.152931,
    gas_constant: 8.31451,
    reducing: Reducing { temperature: 456.831, molar_density: 3596.417 },
    critical: CriticalPoint {
        temperature: 456.8300258131,
        pressure: 3661805.2694,
        molar_density: 3596.4774628,
    },
    coldest: Coldest { temperature: 166.0, pressure: 4.2020957, is_triple: true },
    validity: Validity {
        minimum_temperature: 166.0,
        maximum_temperature: 500.0,
        maximum_pressure: 40000000.0,
        source: "from memory (paper: 166 K to 500 K, up to 40 MPa)",
    },
    ideal_gas: IdealGas {
        constant: -13.23246592159,
        linear: 10.9480633043478,
        logarithm: 1.0460090000000002,
        power: &[
            IdealPower { n: -11.11626316768202, t: -1.0 },
            IdealPower { n: 1.9431754113618924, t: -2.0 },
            IdealPower { n: -0.224321620547823, t: -3.0 },
        ],
        oscillators: &[],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: -0.2843794314511017, t: 0.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 5.939281103209252, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -9.3656038952803, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 4.166607936753421, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.7402329295113845, t: 3.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.17701990536487813, t: 0.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.5472169226048678, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.618204955902326, t: 2.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 2.889035293831577, t: 3.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.11849387475720602, t: 0.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.3095226620887583, t: 1.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.1730810371070863, t: 2.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.1281251319502905, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.07860873875128996, t: 2.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.08160004993052974, t: 3.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.053645105431063045, t: 2.0, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.006800782119285551, t: 2.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.007012640821910758, t: 3.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0009017623973110119, t: 3.0, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: -10.024264609507279, t: 3.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.28060765935596244, t: 4.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.020681452051475355, t: 5.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: 10.024264609507279, t: 3.0, d: 0, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.28060765935596244, t: 4.0, d: 0, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.020681452051475355, t: 5.0, d: 0, l: 2, g: 1.0, m: 0.0 },
            Power { n: 7.989238691092167, t: 3.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.5479720681527366, t: 4.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.020681452051475355, t: 5.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 2.4914272182002284, t: 3.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.2739860340763683, t: 4.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.23600186106591514, t: 5.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.5405282468302359, t: 3.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.06004575637764492, t: 4.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.07866728702197172, t: 5.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0708085870232336, t: 3.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.01501143909441123, t: 4.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.001822051976772171, t: 5.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0031497857360693253, t: 3.0, d: 10, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.007844555699191144, t: 4.0, d: 10, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0003644103953544342, t: 5.0, d: 10, l: 2, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 456.8300258131267,
            scale: 3596.477462782637,
            terms: &[
                (-2.59236731544, 0.325),
                (19.4038429324, 0.45),
                (-32.1517597045, 0.6),
                (24.9245655044, 0.8),
                (-8.9045177503, 1.2),
                (2.51112853377, 2.0),
                (-0.396023140015, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 456.8300258131267,
            scale: 3596.477462782637,
            terms: &[
                (-11.6094191918, 0.5),
                (17.4891196994, 0.65),
                (-14.8168509889, 0.9),
                (0.642912549336, 1.5),
                (-20.6375035151, 3.0),
                (-66.1083527567, 7.0),
                (-76.7760319543, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "B. A. Younglove, M. O. McLinden",
        title: "An International Standard Equation of State for the Thermodynamic Properties of Refrigerant 123 (2,2-Dichloro-1,1,1-Trifluoroethane)",
        journal: "J. Phys. Chem. Ref. Data",
        year: 1994,
        volume: Some("23"),
        pages: Some("731-779"),
        doi: Some("10.1063/1.555950"),
    },
    uncertainty: Some((
        "0.1 % in liquid density, 0.2 % in vapor pressure, about 1.5 % in heat capacity and 2 % in speed of sound, except near the critical point",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("B1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.02),
        odp_source: "Montreal Protocol value, from memory",
        gwp: [Some(Gwp::Value(77.0)), Some(Gwp::Value(79.0)), Some(Gwp::Value(90.4))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: Some("WMO model-derived ODPs are lower (about 0.01)"),
    },
};

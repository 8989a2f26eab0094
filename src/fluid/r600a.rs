//! R-600a, 2-methylpropane (isobutane): a reduced Helmholtz energy.
//!
//! D. Buecker, W. Wagner: Reference Equations of State for the Thermodynamic Properties of Fluid Phase n-Butane and Isobutane.
//! J. Phys. Chem. Ref. Data 35 (2006) 929-1019, doi 10.1063/1.1901687.
//!
//! Valid from 113.73 K to 575.0 K and up to 35 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gaussian, Gwp,
    IdealGas, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-600a; the source is named at the top of this file.
pub(crate) static R600A: Fluid = Fluid {
    designation: "R-600a",
    equation: "Buecker & Wagner 2006",
    aliases: &["isobutane", "HC-600a"],
    name: "2-methylpropane (isobutane)",
    formula: Some("C4H10"),
    cas: Some("75-28-5"),
    molar_mass: 0.0581222,
    gas_constant: 8.314472,
    reducing: Reducing { temperature: 407.81, molar_density: 3879.756788284 },
    critical: CriticalPoint { temperature: 407.81, pressure: 3629000.0166, molar_density: 3879.7567883 },
    coldest: Coldest { temperature: 113.73, pressure: 0.022890661, is_triple: true },
    validity: Validity {
        minimum_temperature: 113.73,
        maximum_temperature: 575.0,
        maximum_pressure: 35000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -5.99950938869946,
        linear: 5.01894581044394,
        logarithm: 3.05956619,
        power: &[],
        oscillators: &[
            Oscillator { n: 4.94641014, theta: 0.951277902 },
            Oscillator { n: 4.09475197, theta: 2.387895885 },
            Oscillator { n: 15.6632824, theta: 4.346904269 },
            Oscillator { n: 9.73918122, theta: 10.36885864 },
        ],
    },
    as_published: Some((11.60865546, -5.29450411)),
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 2.0686820727966, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -3.6400098615204, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.51968754427244, t: 1.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.17745845870123, t: 0.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.12361807851599, t: 0.5, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.045145314010528, t: 0.5, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.03047647996598, t: 0.75, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.75508387706302, t: 2.0, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.85885381015629, t: 2.5, d: 1, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.036324009830684, t: 2.5, d: 2, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.01954879945055, t: 1.5, d: 7, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.004445239290496, t: 1.0, d: 8, l: 1, g: 1.0, m: 0.0 },
            Power { n: 0.004641076366646, t: 1.5, d: 8, l: 1, g: 1.0, m: 0.0 },
            Power { n: -0.071444097992825, t: 4.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.080765060030713, t: 7.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.15560460945053, t: 3.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0020318752160332, t: 7.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.10624883571689, t: 3.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.039807690546305, t: 1.0, d: 5, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.016371431292386, t: 6.0, d: 5, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.00053212200682628, t: 0.0, d: 10, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.0078681561156387, t: 6.0, d: 2, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0030981191888963, t: 13.0, d: 6, l: 3, g: 1.0, m: 0.0 },
        ],
        gaussian: &[
            Gaussian {
                n: -0.042276036810382,
                t: 2.0,
                d: 1,
                eta: 10.0,
                beta: 150.0,
                gamma: 1.16,
                epsilon: 0.85,
            },
            Gaussian {
                n: -0.0053001044558079,
                t: 0.0,
                d: 2,
                eta: 10.0,
                beta: 200.0,
                gamma: 1.13,
                epsilon: 1.0,
            },
        ],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 407.81000000000654,
            scale: 3879.756788281661,
            terms: &[
                (8.57376507878, 0.45),
                (-17.6248051941, 0.6),
                (20.3977200559, 0.8),
                (-12.4667295164, 1.1),
                (4.30758004704, 1.6),
                (-0.57995731361, 3.0),
                (0.215188170756, 6.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 407.81000000000654,
            scale: 3879.756788281661,
            terms: &[
                (-3.14033615651, 0.38),
                (1.97033679875, 0.6),
                (-6.80548429958, 1.0),
                (-0.648734581173, 1.7),
                (-14.5608344406, 3.0),
                (-39.9080841468, 6.0),
                (-97.212373458, 13.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "D. Buecker, W. Wagner",
        title: "Reference Equations of State for the Thermodynamic Properties of Fluid Phase n-Butane and Isobutane",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2006,
        volume: Some("35"),
        pages: Some("929-1019"),
        doi: Some("10.1063/1.1901687"),
    },
    uncertainty: Some((
        "0.02 % in density below 340 K and 12 MPa (liquid), about 0.1 % in vapor pressure, 0.5 % in heat capacity",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A3"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(3.0)), Some(Gwp::Value(3.0)), Some(Gwp::Value(0.006))],
        gwp_source: "from memory",
        note: Some(
            "indirect-effect values of AR4/AR5 are about 3 (as for propane); AR6 direct value of the order 0.01, unverified",
        ),
    },
};

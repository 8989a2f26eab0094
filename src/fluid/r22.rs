//! R-22, chlorodifluoromethane: a reduced Helmholtz energy.
//!
//! A. Kamei, S. W. Beyerlein, R. T. Jacobsen: Application of Nonlinear Regression in the Development of a Wide Range Formulation for HCFC-22.
//! Int. J. Thermophys. 16 (1995) 1155-1164, doi 10.1007/BF02081283.
//!
//! Valid from 115.73 K to 550.0 K and up to 60 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-22; the source is named at the top of this file.
pub(crate) static R22: Fluid = Fluid {
    designation: "R-22",
    equation: "Kamei et al. 1995",
    aliases: &["HCFC-22"],
    name: "chlorodifluoromethane",
    formula: Some("CHClF2"),
    cas: Some("75-45-6"),
    molar_mass: 0.086468,
    gas_constant: 8.31451,
    reducing: Reducing { temperature: 369.295, molar_density: 6058.22 },
    critical: CriticalPoint {
        temperature: 369.295000008,
        pressure: 4990000.0005,
        molar_density: 6058.2200007,
    },
    coldest: Coldest { temperature: 115.73, pressure: 0.37946967, is_triple: true },
    validity: Validity {
        minimum_temperature: 115.73,
        maximum_temperature: 550.0,
        maximum_pressure: 60000000.0,
        source: "a general-purpose property library",
    },
    ideal_gas: IdealGas {
        constant: -11.8534209226298,
        linear: 8.08689498210765,
        logarithm: 3.0052614044599997,
        power: &[IdealPower { n: -0.0222800387550675, t: -1.0 }],
        oscillators: &[
            Oscillator { n: 1.0, theta: 11.78545471777306 },
            Oscillator { n: 1.0, theta: 5.240144329059424 },
            Oscillator { n: 1.0, theta: 5.111575732138263 },
            Oscillator { n: 1.0, theta: 4.589509308276581 },
            Oscillator { n: 1.0, theta: 4.34795618678834 },
            Oscillator { n: 1.0, theta: 3.147982615524174 },
            Oscillator { n: 1.0, theta: 2.322026780757931 },
            Oscillator { n: 1.0, theta: 1.640223615266927 },
            Oscillator { n: 1.0, theta: 1.437630674663887 },
        ],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 0.0695645445236, t: -1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 25.2275419999, t: 1.75, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -202.351148311, t: 2.25, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 350.063090302, t: 2.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -223.134648863, t: 2.75, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 48.8345904592, t: 3.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.0108874958556, t: 5.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.590315073614, t: 1.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.689043767432, t: 1.75, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.284224445844, t: 3.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.125436457897, t: 1.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0113338666416, t: 4.5, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.063138895917, t: 1.5, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00974021015232, t: 0.5, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.000408406844722, t: 4.5, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00074194877357, t: 1.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.000315912525922, t: 4.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: 8.76009723338e-06, t: 5.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.000110343340301, t: -0.5, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: -7.05323356879e-05, t: 3.5, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.23585073151, t: 5.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.192640494729, t: 7.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.00375218008557, t: 12.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -4.48926036678e-05, t: 15.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0198120520635, t: 3.5, d: 3, l: 3, g: 1.0, m: 0.0 },
            Power { n: -0.0356958425255, t: 3.5, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0319594161562, t: 8.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 2.60284291078e-06, t: 15.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00897629021967, t: 25.0, d: 4, l: 4, g: 1.0, m: 0.0 },
            Power { n: 0.0345482791645, t: 3.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00411831711251, t: 9.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.00567428536529, t: 19.0, d: 6, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.00563368989908, t: 2.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.00191384919423, t: 7.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00178930036389, t: 13.0, d: 8, l: 4, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 369.29500000802386,
            scale: 6058.220000736932,
            terms: &[
                (8.23319939917, 0.45),
                (-16.4033666435, 0.6),
                (18.9240292298, 0.8),
                (-11.7736270022, 1.1),
                (4.43417859575, 1.6),
                (-0.889369269, 3.0),
                (0.587885488728, 6.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 369.29500000802386,
            scale: 6058.220000736932,
            terms: &[
                (-3.01029559004, 0.38),
                (1.20221227072, 0.6),
                (-5.50543470043, 1.0),
                (-2.43937945296, 1.7),
                (-13.777713005, 3.0),
                (-43.7003433821, 6.0),
                (-105.056975587, 13.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "A. Kamei, S. W. Beyerlein, R. T. Jacobsen",
        title: "Application of Nonlinear Regression in the Development of a Wide Range Formulation for HCFC-22",
        journal: "Int. J. Thermophys.",
        year: 1995,
        volume: Some("16"),
        pages: Some("1155-1164"),
        doi: Some("10.1007/BF02081283"),
    },
    uncertainty: Some((
        "0.1 % in density, 0.2 % in vapor pressure, 1 % in heat capacity, 0.3 % (vapor) to 1 % (liquid) in speed of sound, except near the critical point",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.055),
        odp_source: "Montreal Protocol value, from memory",
        gwp: [Some(Gwp::Value(1810.0)), Some(Gwp::Value(1760.0)), Some(Gwp::Value(1960.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

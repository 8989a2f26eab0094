//! R-11, trichlorofluoromethane: a reduced Helmholtz energy.
//!
//! R. T. Jacobsen, S. G. Penoncello, E. W. Lemmon: A Fundamental Equation for Trichlorofluoromethane.
//! Fluid Phase Equilib. 80 (1992) 45-56, doi 10.1016/0378-3812(92)87054-Q.
//!
//! Valid from 162.68 K to 625.0 K and up to 30 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Oscillator, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-11; the source is named at the top of this file.
pub(crate) static R11: Fluid = Fluid {
    designation: "R-11",
    equation: "Jacobsen et al. 1992",
    aliases: &["CFC-11"],
    name: "trichlorofluoromethane",
    formula: Some("CCl3F"),
    cas: Some("75-69-4"),
    molar_mass: 0.137368,
    gas_constant: 8.31451,
    reducing: Reducing { temperature: 471.11, molar_density: 4032.962 },
    critical: CriticalPoint { temperature: 471.1099999986, pressure: 4407638.0, molar_density: 4032.962 },
    coldest: Coldest { temperature: 162.68, pressure: 6.5100899, is_triple: true },
    validity: Validity {
        minimum_temperature: 162.68,
        maximum_temperature: 625.0,
        maximum_pressure: 30000000.0,
        source: "from memory (paper)",
    },
    ideal_gas: IdealGas {
        constant: -17.7937115923184,
        linear: 10.0839288660147,
        logarithm: 3.0056492324863404,
        power: &[IdealPower { n: -0.05250225521407755, t: -1.0 }],
        oscillators: &[
            Oscillator { n: 1.0, theta: 3.313613168898983 },
            Oscillator { n: 2.0, theta: 2.586756086688884 },
            Oscillator { n: 1.0, theta: 1.634512228566577 },
            Oscillator { n: 2.0, theta: 1.215500498821931 },
            Oscillator { n: 1.0, theta: 1.06738046316147 },
            Oscillator { n: 2.0, theta: 0.7360191462715714 },
        ],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: 1.25993633881, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.60818574641, t: 1.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00982122542463, t: 5.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -1.06085385839, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.2282036351, t: 1.5, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.118000776439, t: 0.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.000698956926463, t: 5.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0355428373358, t: 2.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00197169579643, t: 3.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.00848363012252, t: 1.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00417997567653, t: 2.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.000242772533848, t: 4.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.00313371368974, t: 1.0, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: 3.96182646586e-06, t: 4.0, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.339736319502, t: 5.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.203010634531, t: 6.0, d: 1, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.1060178599, t: 3.5, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.45156488259, t: 5.5, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.339265767612, t: 7.5, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.114338523359, t: 3.0, d: 3, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0319537833995, t: 2.5, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.036790825978, t: 5.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: -9.61768948364e-06, t: 1.5, d: 10, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.00246717966418, t: 11.0, d: 3, l: 4, g: 1.0, m: 0.0 },
            Power { n: -0.00167030256045, t: 9.0, d: 5, l: 6, g: 1.0, m: 0.0 },
            Power { n: 0.00240710110806, t: 13.0, d: 8, l: 6, g: 1.0, m: 0.0 },
            Power { n: 0.00156214678738, t: 5.0, d: 9, l: 6, g: 1.0, m: 0.0 },
            Power { n: -0.00323352596704, t: 9.0, d: 9, l: 6, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 471.109999998557,
            scale: 4032.9620000038058,
            terms: &[
                (-2.85776982317, 0.325),
                (22.4249140327, 0.45),
                (-41.9835829782, 0.6),
                (37.0290295394, 0.8),
                (-16.0642903886, 1.2),
                (5.11916067482, 2.0),
                (-1.14149501723, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 471.109999998557,
            scale: 4032.9620000038058,
            terms: &[
                (-9.36270590153, 0.5),
                (13.2058512846, 0.65),
                (-11.9264594848, 0.9),
                (0.281782496992, 1.5),
                (-18.0328538978, 3.0),
                (-56.4849699876, 7.0),
                (-68.6231679905, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "R. T. Jacobsen, S. G. Penoncello, E. W. Lemmon",
        title: "A Fundamental Equation for Trichlorofluoromethane (R-11)",
        journal: "Fluid Phase Equilib.",
        year: 1992,
        volume: Some("80"),
        pages: Some("45-56"),
        doi: Some("10.1016/0378-3812(92)87054-Q"),
    },
    uncertainty: Some((
        "0.1 % in density (liquid), 2 % in heat capacity, 1 % in speed of sound, except near the critical point",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A1"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(1.0),
        odp_source: "Montreal Protocol reference substance",
        gwp: [Some(Gwp::Value(4750.0)), Some(Gwp::Value(4660.0)), Some(Gwp::Value(6230.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

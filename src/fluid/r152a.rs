//! R-152a, 1,1-difluoroethane: a reduced Helmholtz energy.
//!
//! S. L. Outcalt, M. O. McLinden: A Modified Benedict-Webb-Rubin Equation of State for the Thermodynamic Properties of R152a (1,1-difluoroethane).
//! J. Phys. Chem. Ref. Data 25 (1996) 605-636, doi 10.1063/1.555979.
//!
//! Valid from 154.56 K to 500.0 K and up to 60 MPa.
//!
//! The critical point is the one the equation itself has (dp/drho = d2p/drho2 = 0), the top of its
//! saturation line. The fitted starting values for the saturation line are not part of the paper.

use super::data::{
    Citation, Coldest, CriticalPoint, DefaultReference, Environment, Expansion, Fluid, Gwp, IdealGas,
    IdealPower, Power, Reducing, Residual, SaturationGuess, Validity,
};

/// Coefficients of R-152a; the source is named at the top of this file.
pub(crate) static R152A: Fluid = Fluid {
    designation: "R-152a",
    equation: "Outcalt & McLinden 1996",
    aliases: &["HFC-152a"],
    name: "1,1-difluoroethane",
    formula: Some("C2H4F2"),
    cas: Some("75-37-6"),
    molar_mass: 0.066051,
    gas_constant: 8.314471,
    reducing: Reducing { temperature: 386.411, molar_density: 5571.45 },
    critical: CriticalPoint {
        temperature: 386.4109977772,
        pressure: 4516749.941,
        molar_density: 5571.4499946,
    },
    coldest: Coldest { temperature: 154.56, pressure: 64.138597, is_triple: true },
    validity: Validity {
        minimum_temperature: 154.56,
        maximum_temperature: 500.0,
        maximum_pressure: 60000000.0,
        source: "from memory; a general-purpose property library gives 58 MPa",
    },
    ideal_gas: IdealGas {
        constant: -7.95050677163077,
        linear: 6.87007865654294,
        logarithm: 2.354951,
        power: &[
            IdealPower { n: -2.122650499999833, t: -1.0 },
            IdealPower { n: -0.6225413333328242, t: -2.0 },
            IdealPower { n: 0.13402116666643668, t: -3.0 },
        ],
        oscillators: &[],
    },
    as_published: None,
    default_reference: DefaultReference::LiquidAt0C,
    residual: Residual {
        power: &[
            Power { n: -3.546579500185174, t: 3.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.3646312799563631, t: 4.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.03332333306112814, t: 5.0, d: 0, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.6809684338301859, t: 0.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 7.3521264810280345, t: 0.5, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -11.247306378057127, t: 1.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: 5.499167142976577, t: 2.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -2.401863270213656, t: 3.0, d: 1, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.07090364464394744, t: 0.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.2132008868213696, t: 1.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.19783973673284622, t: 2.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: 1.824947698265976, t: 3.0, d: 2, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.08605464767044602, t: 0.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.8881373668542004, t: 1.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.9661273471407773, t: 2.0, d: 3, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.09852234785295554, t: 1.0, d: 4, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.018341936863418316, t: 2.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.03385502040688226, t: 3.0, d: 5, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.012492110085780536, t: 2.0, d: 6, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.002210567071037713, t: 2.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: 0.002168791332779416, t: 3.0, d: 7, l: 0, g: 1.0, m: 0.0 },
            Power { n: -0.0002335976904702689, t: 3.0, d: 8, l: 0, g: 1.0, m: 0.0 },
            Power { n: 3.546579500185174, t: 3.0, d: 0, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.3646312799563631, t: 4.0, d: 0, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.03332333306112814, t: 5.0, d: 0, l: 2, g: 1.0, m: 0.0 },
            Power { n: 2.7613383040168675, t: 3.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.06911857102367282, t: 4.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.03332333306112814, t: 5.0, d: 2, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.7827613268561544, t: 3.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.03455928551183641, t: 4.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.13781353206688696, t: 5.0, d: 4, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.18617312581521558, t: 3.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.03411193928992716, t: 4.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.04593784402229564, t: 5.0, d: 6, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.021647001270605898, t: 3.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: -0.00852798482248179, t: 4.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.006203940397171849, t: 5.0, d: 8, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0018521029114874563, t: 3.0, d: 10, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.00101674662708817, t: 4.0, d: 10, l: 2, g: 1.0, m: 0.0 },
            Power { n: 0.0012407880794343697, t: 5.0, d: 10, l: 2, g: 1.0, m: 0.0 },
        ],
        gaussian: &[],
        gao: &[],
        nonanalytic: &[],
    },
    saturation_guess: SaturationGuess {
        liquid_density: Expansion {
            temperature: 386.4109977772079,
            scale: 5571.449994633825,
            terms: &[
                (-3.09883494678, 0.325),
                (21.4290814608, 0.45),
                (-34.9953881418, 0.6),
                (26.7931221217, 0.8),
                (-9.30223454765, 1.2),
                (2.3889997834, 2.0),
                (-0.235956414451, 4.0),
            ],
        },
        vapor_density: Expansion {
            temperature: 386.4109977772079,
            scale: 5571.449994633825,
            terms: &[
                (-10.9173249804, 0.5),
                (14.9886887776, 0.65),
                (-11.8381595093, 0.9),
                (-1.48437028366, 1.5),
                (-18.0321217971, 3.0),
                (-66.7765638909, 7.0),
                (26.6517944197, 15.0),
            ],
        },
    },
    blend: None,
    citation: Citation {
        authors: "S. L. Outcalt, M. O. McLinden",
        title: "A Modified Benedict-Webb-Rubin Equation of State for the Thermodynamic Properties of R152a (1,1-difluoroethane)",
        journal: "J. Phys. Chem. Ref. Data",
        year: 1996,
        volume: Some("25"),
        pages: Some("605-636"),
        doi: Some("10.1063/1.555979"),
    },
    uncertainty: Some((
        "0.1 % in liquid density, 0.1 % in vapor pressure, 2 % in heat capacity",
        "from memory",
    )),
    environment: Environment {
        safety_class: Some("A2"),
        safety_source: "ASHRAE 34, from memory",
        odp: Some(0.0),
        odp_source: "from memory",
        gwp: [Some(Gwp::Value(124.0)), Some(Gwp::Value(138.0)), Some(Gwp::Value(164.0))],
        gwp_source: "IPCC table, via an open data package of IPCC GWP tables",
        note: None,
    },
};

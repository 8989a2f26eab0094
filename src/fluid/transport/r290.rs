//! viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, FreeVolume, InitialDensity, Range,
    ThermalConductivity, Viscosity,
};
use super::rainwater_friend::VOGEL_1998;
use crate::fluid::Citation;

/// Viscosity.
///
/// E. Vogel, C. Kuechenmeister, E. Bich, A. Laesecke: Reference Correlation of the Viscosity of Propane.
/// J. Phys. Chem. Ref. Data 27 (1998) 947-970, doi 10.1063/1.556025.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "E. Vogel, C. Kuechenmeister, E. Bich, A. Laesecke",
        title: "Reference Correlation of the Viscosity of Propane",
        journal: "J. Phys. Chem. Ref. Data",
        year: 1998,
        volume: Some("27"),
        pages: Some("947-970"),
        doi: Some("10.1063/1.556025"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 2.1357e-8,
        molar_mass: 44.0956,
        sigma: 0.49748,
        energy: 263.88,
        collision: Collision::Series(&[0.25104574, -0.47271238, 0.0, 0.060836515]),
    },
    initial_density: Some(InitialDensity { sigma: 0.49748, energy: 263.88, terms: VOGEL_1998 }),
    dense: Dense::Added {
        temperature: 369.825,
        density: 5000.0,
        scale: 1.0,
        terms: &[
            (3.59873030195e-5, 2.0, 0.0),
            (-0.000180512188564, 2.0, -1.0),
            (8.77124888223e-5, 2.0, -2.0),
            (-0.000105773052525, 3.0, 0.0),
            (0.000205319740877, 3.0, -1.0),
            (-0.00012921093261, 3.0, -2.0),
            (5.89491587759e-5, 4.0, 0.0),
            (-0.0001297400331, 4.0, -1.0),
            (7.66280419971e-5, 4.0, -2.0),
            (-9.59407868475e-6, 5.0, 0.0),
            (2.10726986598e-5, 5.0, -1.0),
            (-1.43971968187e-5, 5.0, -2.0),
        ],
        quotient: None,
        free_volume: Some(FreeVolume {
            terms: &[(0.00161688405374, 1.0, 0.0)],
            numerator: &[(2.50053938863, 0.0), (2.1517543007382995, 0.5)],
            denominator: &[(1.0, 0.0)],
        }),
    },
    enhancement: None,
    range: Some(Range {
        minimum_temperature: 90.0,
        steps: &[(600.0, 100e6)],
        source: "abstract, from memory",
    }),
};

/// Thermal conductivity.
///
/// K. N. Marsh, R. A. Perkins, M. L. V. Ramires: Measurement and Correlation of the Thermal Conductivity of Propane from 86 K to 600 K at Pressures to 70 MPa.
/// J. Chem. Eng. Data 47 (2002) 932-940, doi 10.1021/je010001m.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "K. N. Marsh, R. A. Perkins, M. L. V. Ramires",
        title: "Measurement and Correlation of the Thermal Conductivity of Propane from 86 K to 600 K at Pressures to 70 MPa",
        journal: "J. Chem. Eng. Data",
        year: 2002,
        volume: Some("47"),
        pages: Some("932-940"),
        doi: Some("10.1021/je010001m"),
    },
    dilute: Dilute::Ratio {
        temperature: 369.85,
        scale: 1.0,
        numerator: &[(-0.00124778, 0.0), (0.00816371, 1.0), (0.0199374, 2.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 369.82,
        density: 220.3,
        scale: 1.0,
        terms: &[
            (-0.03695, 1.0, 0.0),
            (0.148658, 2.0, 0.0),
            (-0.119986, 3.0, 0.0),
            (0.0412431, 4.0, 0.0),
            (-0.00486905, 5.0, 0.0),
            (0.0482798, 1.0, 1.0),
            (-0.135636, 2.0, 1.0),
            (0.117588, 3.0, 1.0),
            (-0.0436911, 4.0, 1.0),
            (0.00616079, 5.0, 1.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CorrelationLength {
            xi0: 1.94e-10,
            gamma0: 0.0496,
            nu: 0.63,
            gamma: 1.239,
            reference_temperature: None,
        },
        amplitude: 1.03,
        cutoff: 1395410494.88,
    }),
    range: Some(Range { minimum_temperature: 86.0, steps: &[(600.0, 70e6)], source: "title" }),
};

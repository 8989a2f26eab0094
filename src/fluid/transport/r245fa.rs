//! R-245fa: viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, InitialDensity,
    ThermalConductivity, Viscosity,
};
use super::rainwater_friend::ROUNDED;
use crate::fluid::Citation;

/// Viscosity.
///
/// R. A. Perkins, M. L. Huber, M. J. Assael: Measurements of the Thermal Conductivity of 1,1,1,3,3-Pentafluoropropane (R245fa) and Correlations for the Viscosity and Thermal Conductivity Surfaces.
/// J. Chem. Eng. Data 61 (2016) 3286-3294, doi 10.1021/acs.jced.6b00350 (title from memory).
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "R. A. Perkins, M. L. Huber, M. J. Assael",
        title: "Measurements of the Thermal Conductivity of 1,1,1,3,3-Pentafluoropropane (R245fa) and Correlations for the Viscosity and Thermal Conductivity Surfaces",
        journal: "J. Chem. Eng. Data",
        year: 2016,
        volume: Some("61"),
        pages: Some("3286-3294"),
        doi: Some("10.1021/acs.jced.6b00350"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 2.1357e-8,
        molar_mass: 134.04794,
        sigma: 0.588,
        energy: 258.15,
        collision: Collision::Series(&[0.250746, -0.6031, 0.271008]),
    },
    initial_density: Some(InitialDensity { sigma: 0.588, energy: 258.15, terms: ROUNDED }),
    dense: Dense::Added {
        temperature: 427.01,
        density: 3875.0,
        scale: 1e-6,
        terms: &[
            (0.83502935, 17.0 / 3.0, 0.5),
            (10.245205, 8.0 / 3.0, -0.5),
            (0.00023356206, 38.0 / 3.0, -2.5),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity.
///
/// R. A. Perkins, M. L. Huber, M. J. Assael: Measurements of the Thermal Conductivity of 1,1,1,3,3-Pentafluoropropane (R245fa) and Correlations for the Viscosity and Thermal Conductivity Surfaces.
/// J. Chem. Eng. Data 61 (2016) 3286-3294, doi 10.1021/acs.jced.6b00350 (title from memory).
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. A. Perkins, M. L. Huber, M. J. Assael",
        title: "Measurements of the Thermal Conductivity of 1,1,1,3,3-Pentafluoropropane (R245fa) and Correlations for the Viscosity and Thermal Conductivity Surfaces",
        journal: "J. Chem. Eng. Data",
        year: 2016,
        volume: Some("61"),
        pages: Some("3286-3294"),
        doi: Some("10.1021/acs.jced.6b00350"),
    },
    dilute: Dilute::Ratio {
        temperature: 427.01,
        scale: 1.0,
        numerator: &[(-0.0143644, 0.0), (0.03872622, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 427.01,
        density: 519.4357675,
        scale: 1.0,
        terms: &[
            (-0.0120505, 1.0, 0.0),
            (0.00937193, 1.0, 1.0),
            (0.0652392, 2.0, 0.0),
            (-0.0397844, 2.0, 1.0),
            (-0.0501653, 3.0, 0.0),
            (0.0355883, 3.0, 1.0),
            (0.0176338, 4.0, 0.0),
            (-0.0141777, 4.0, 1.0),
            (-0.00219652, 5.0, 0.0),
            (0.00230154, 5.0, 1.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CorrelationLength {
            xi0: 2.04e-10,
            gamma0: 0.06,
            nu: 0.63,
            gamma: 1.239,
            reference_temperature: Some(640.515),
        },
        amplitude: 1.02,
        cutoff: 1597444089.46,
    }),
    range: None,
};

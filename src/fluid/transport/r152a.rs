//! R-152a: viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, FreeVolume, Range,
    ThermalConductivity, Viscosity,
};
use crate::fluid::Citation;

/// Viscosity.
///
/// R. Krauss, V. C. Weiss, T. A. Edison, J. V. Sengers, K. Stephan: Transport Properties of 1,1-Difluoroethane (R152a).
/// Int. J. Thermophys. 17 (1996) 731-757, doi 10.1007/BF01439187.
///
/// The paper prints 0.2169614 for the factor of the dilute gas with the square root of the molar mass in it.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "R. Krauss, V. C. Weiss, T. A. Edison, J. V. Sengers, K. Stephan",
        title: "Transport Properties of 1,1-Difluoroethane (R152a)",
        journal: "Int. J. Thermophys.",
        year: 1996,
        volume: Some("17"),
        pages: Some("731-757"),
        doi: Some("10.1007/BF01439187"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 0.2169614e-6,
        molar_mass: 1.0,
        sigma: 0.46115,
        energy: 354.84,
        collision: Collision::Series(&[0.4425728, -0.5138403, 0.1547566, -0.02821844, 0.001578286]),
    },
    initial_density: None,
    dense: Dense::Added {
        temperature: 386.411,
        density: 5571.53671461,
        scale: 1.0,
        terms: &[
            (-3.772282824e-6, 1.0, 0.0),
            (2.647627488e-5, 2.0, 0.0),
            (-1.578969e-5, 3.0, 0.0),
            (5.52346488e-6, 4.0, 0.0),
        ],
        quotient: None,
        free_volume: Some(FreeVolume {
            terms: &[(2.087674344e-5, 0.0, 0.0)],
            numerator: &[(2.91733, 0.0)],
            denominator: &[(1.0, 0.0)],
        }),
    },
    enhancement: None,
    range: Some(Range {
        minimum_temperature: 240.0,
        steps: &[(440.0, 20e6)],
        source: "abstract, from memory",
    }),
};

/// Thermal conductivity.
///
/// R. Krauss, V. C. Weiss, T. A. Edison, J. V. Sengers, K. Stephan: Transport Properties of 1,1-Difluoroethane (R152a).
/// Int. J. Thermophys. 17 (1996) 731-757, doi 10.1007/BF01439187.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. Krauss, V. C. Weiss, T. A. Edison, J. V. Sengers, K. Stephan",
        title: "Transport Properties of 1,1-Difluoroethane (R152a)",
        journal: "Int. J. Thermophys.",
        year: 1996,
        volume: Some("17"),
        pages: Some("731-757"),
        doi: Some("10.1007/BF01439187"),
    },
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-0.014942, 0.0), (9.73283e-5, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 386.411,
        density: 368.0,
        scale: 1.0,
        terms: &[
            (0.0106039395, 1.0, 0.0),
            (0.0136956435, 2.0, 0.0),
            (-0.0062916315, 3.0, 0.0),
            (0.00197942745, 4.0, 0.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CorrelationLength {
            xi0: 1.894e-10,
            gamma0: 0.0487,
            nu: 0.63,
            gamma: 1.239,
            reference_temperature: None,
        },
        amplitude: 1.03,
        cutoff: 2288329519.45,
    }),
    range: Some(Range {
        minimum_temperature: 240.0,
        steps: &[(440.0, 20e6)],
        source: "abstract, from memory",
    }),
};

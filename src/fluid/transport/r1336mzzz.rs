//! R-1336mzz(Z): thermal conductivity.

use super::data::{ConductivityEnhancement, CorrelationLength, Dense, Dilute, ThermalConductivity};
use crate::fluid::Citation;

/// Thermal conductivity.
///
/// R. A. Perkins, M. L. Huber: Measurement and Correlation of the Thermal Conductivity of cis-1,1,1,4,4,4-Hexafluoro-2-butene.
/// Int. J. Thermophys. 41 (2020) 103, doi 10.1007/s10765-020-02681-0 (title from memory).
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. A. Perkins, M. L. Huber",
        title: "Measurement and Correlation of the Thermal Conductivity of cis-1,1,1,4,4,4-Hexafluoro-2-butene",
        journal: "Int. J. Thermophys.",
        year: 2020,
        volume: Some("41"),
        pages: Some("103"),
        doi: Some("10.1007/s10765-020-02681-0"),
    },
    dilute: Dilute::Root {
        temperature: 444.5,
        scale: 0.001,
        denominator: &[(0.033207, 0.0), (-0.089513, -0.5), (0.101275, -1.0)],
    },
    dense: Dense::Added {
        temperature: 444.5,
        density: 499.386464,
        scale: 1.0,
        terms: &[
            (0.018267, 1.0, 0.0),
            (0.105672, 2.0, 0.0),
            (-0.119719, 3.0, 0.0),
            (0.0431845, 4.0, 0.0),
            (-0.00497023, 5.0, 0.0),
            (-0.0138014, 1.0, 1.0),
            (-0.0756253, 2.0, 1.0),
            (0.0919892, 3.0, 1.0),
            (-0.0327931, 4.0, 1.0),
            (0.00384035, 5.0, 1.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CorrelationLength {
            xi0: 2.21e-10,
            gamma0: 0.058,
            nu: 0.63,
            gamma: 1.239,
            reference_temperature: Some(666.75),
        },
        amplitude: 1.02,
        cutoff: 1047120418.85,
    }),
    range: None,
};

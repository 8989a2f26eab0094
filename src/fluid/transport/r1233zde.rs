//! R-1233zd(E): thermal conductivity.

use super::data::{ConductivityEnhancement, CorrelationLength, Dense, Dilute, Range, ThermalConductivity};
use crate::fluid::Citation;

/// Thermal conductivity.
///
/// R. A. Perkins, M. L. Huber: Measurement and Correlation of the Thermal Conductivity of trans-1-Chloro-3,3,3-trifluoropropene (R1233zd(E)).
/// J. Chem. Eng. Data 62 (2017) 2659-2665, doi 10.1021/acs.jced.7b00106 (title from memory).
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. A. Perkins, M. L. Huber",
        title: "Measurement and Correlation of the Thermal Conductivity of trans-1-Chloro-3,3,3-trifluoropropene (R1233zd(E))",
        journal: "J. Chem. Eng. Data",
        year: 2017,
        volume: Some("62"),
        pages: Some("2659-2665"),
        doi: Some("10.1021/acs.jced.7b00106"),
    },
    dilute: Dilute::Ratio {
        temperature: 439.6,
        scale: 1.0,
        numerator: &[(-0.0140033, 0.0), (0.037816, 1.0), (-0.00245832, 2.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 439.6,
        density: 480.219,
        scale: 1.0,
        terms: &[
            (0.00862816, 1.0, 0.0),
            (0.000914709, 1.0, 1.0),
            (-0.0208988, 2.0, 0.0),
            (-0.00407914, 2.0, 1.0),
            (0.0511968, 3.0, 0.0),
            (0.00845668, 3.0, 1.0),
            (-0.0349076, 4.0, 0.0),
            (-0.0108985, 4.0, 1.0),
            (0.00975727, 5.0, 0.0),
            (0.00538262, 5.0, 1.0),
            (-0.000926484, 6.0, 0.0),
            (-0.000806009, 6.0, 1.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CorrelationLength {
            xi0: 2.13e-10,
            gamma0: 0.059,
            nu: 0.63,
            gamma: 1.239,
            reference_temperature: Some(659.4),
        },
        amplitude: 1.02,
        cutoff: 1672240802.68,
    }),
    range: Some(Range {
        minimum_temperature: 204.0,
        steps: &[(453.0, 67e6)],
        source: "abstract, from memory",
    }),
};

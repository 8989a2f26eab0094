//! viscosity.

use super::data::{Dense, Dilute, InitialDensity, Range, Viscosity};
use super::rainwater_friend::ROUNDED;
use crate::fluid::Citation;

/// Viscosity.
///
/// D. Velliadou, K. D. Antoniadis, M. J. Assael, M. L. Huber: Reference Correlation for the Viscosity of Difluoromethane from the Triple Point to 425 K and up to 70 MPa.
/// Int. J. Thermophys. 43 (2022) 129, doi 10.1007/s10765-022-03050-9 (title from memory).
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "D. Velliadou, K. D. Antoniadis, M. J. Assael, M. L. Huber",
        title: "Reference Correlation for the Viscosity of Difluoromethane (R-32) from the Triple Point to 425 K and up to 70 MPa",
        journal: "Int. J. Thermophys.",
        year: 2022,
        volume: Some("43"),
        pages: Some("129"),
        doi: Some("10.1007/s10765-022-03050-9"),
    },
    dilute: Dilute::Ratio {
        temperature: 351.255,
        scale: 1e-6,
        numerator: &[(0.577885, 0.0), (10.2498, 1.0), (-4.95882, 2.0), (14.1485, 3.0), (-0.816434, 4.0)],
        denominator: &[(0.896478, 0.0), (-0.595706, 1.0), (1.0, 2.0)],
    },
    initial_density: Some(InitialDensity { sigma: 0.411, energy: 290.0, terms: ROUNDED }),
    dense: Dense::Added {
        temperature: 351.255,
        density: 8150.0846,
        scale: 1e-6,
        terms: &[
            (1.24655, 2.0 / 3.0, 0.5),
            (8.85264, 5.0 / 3.0, 0.5),
            (0.587282, 14.0 / 3.0, -0.5),
            (2.81507e-6, 44.0 / 3.0, -0.5),
            (4.4106, 8.0 / 3.0, -1.5),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: Some(Range { minimum_temperature: 136.34, steps: &[(425.0, 70e6)], source: "title" }),
};

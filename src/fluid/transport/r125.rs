//! viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, FreeVolume, InitialDensity, Range,
    ThermalConductivity, Viscosity,
};
use super::rainwater_friend::VOGEL_1998;
use crate::fluid::Citation;

/// Viscosity.
///
/// M. L. Huber, A. Laesecke: Correlation for the Viscosity of Pentafluoroethane (R125) from the Triple Point to 500 K at Pressures up to 60 MPa.
/// Ind. Eng. Chem. Res. 45 (2006) 4447-4453, doi 10.1021/ie051367l.
#[expect(clippy::approx_constant, reason = "0.5235 nm is a molecular diameter")]
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "M. L. Huber, A. Laesecke",
        title: "Correlation for the Viscosity of Pentafluoroethane (R125) from the Triple Point to 500 K at Pressures up to 60 MPa",
        journal: "Ind. Eng. Chem. Res.",
        year: 2006,
        volume: Some("45"),
        pages: Some("4447-4453"),
        doi: Some("10.1021/ie051367l"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 2.6692e-8,
        molar_mass: 120.0214,
        sigma: 0.5235,
        energy: 237.077,
        collision: Collision::Neufeld,
    },
    initial_density: Some(InitialDensity { sigma: 0.5235, energy: 237.077, terms: VOGEL_1998 }),
    dense: Dense::Added {
        temperature: 339.173,
        density: 4779.0,
        scale: 1.0,
        terms: &[(5.677448e-6, 2.0, -2.0), (-5.096662e-6, 3.0, -1.0)],
        quotient: None,
        free_volume: Some(FreeVolume {
            terms: &[(0.0001412564, 1.0, 0.0)],
            numerator: &[(3.033797, 0.0), (0.2992464, 0.5)],
            denominator: &[(1.0, 0.0)],
        }),
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity.
///
/// R. A. Perkins, M. L. Huber: Measurement and Correlation of the Thermal Conductivity of Pentafluoroethane (R125) from 190 K to 512 K at Pressures to 70 MPa.
/// J. Chem. Eng. Data 51 (2006) 898-904, doi 10.1021/je050372t.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. A. Perkins, M. L. Huber",
        title: "Measurement and Correlation of the Thermal Conductivity of Pentafluoroethane (R125) from 190 K to 512 K at Pressures to 70 MPa",
        journal: "J. Chem. Eng. Data",
        year: 2006,
        volume: Some("51"),
        pages: Some("898-904"),
        doi: Some("10.1021/je050372t"),
    },
    dilute: Dilute::Ratio {
        temperature: 339.173,
        scale: 1.0,
        numerator: &[(-0.0046082, 0.0), (0.0168688, 1.0), (0.00488345, 2.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 339.173,
        density: 573.5822706,
        scale: 1.0,
        terms: &[
            (-0.0072941, 1.0, 0.0),
            (0.01105, 1.0, 1.0),
            (0.041634, 2.0, 0.0),
            (-0.028924, 2.0, 1.0),
            (-0.031149, 3.0, 0.0),
            (0.0278399, 3.0, 1.0),
            (0.0112682, 4.0, 0.0),
            (-0.01211, 4.0, 1.0),
            (-0.00138322, 5.0, 0.0),
            (0.00211196, 5.0, 1.0),
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
        cutoff: 1713900000.0,
    }),
    range: Some(Range { minimum_temperature: 190.0, steps: &[(512.0, 70e6)], source: "title" }),
};

//! viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, InitialDensity, Range,
    ThermalConductivity, Viscosity,
};
use super::rainwater_friend::ROUNDED;
use crate::fluid::Citation;

/// Viscosity.
///
/// S. A. Monogenidou, M. J. Assael, M. L. Huber: Reference Correlation for the Viscosity of Ammonia from the Triple Point to 725 K and up to 50 MPa.
/// J. Phys. Chem. Ref. Data 47 (2018) 023102, doi 10.1063/1.5036724 (title from memory).
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "S. A. Monogenidou, M. J. Assael, M. L. Huber",
        title: "Reference Correlation for the Viscosity of Ammonia from the Triple Point to 725 K and up to 50 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2018,
        volume: Some("47"),
        pages: Some("023102"),
        doi: Some("10.1063/1.5036724"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 2.1357e-8,
        molar_mass: 17.03052,
        sigma: 0.2957,
        energy: 386.0,
        collision: Collision::Series(&[0.39175, -0.59918, -0.00022, 0.19871, -0.06942]),
    },
    initial_density: Some(InitialDensity { sigma: 0.2957, energy: 386.0, terms: ROUNDED }),
    dense: Dense::Added {
        temperature: 405.56,
        density: 13696.0,
        scale: 1e-6,
        terms: &[
            (0.0393308, 2.0 / 3.0, 0.5),
            (16.724735, 5.0 / 3.0, 0.5),
            (1.1975934, 14.0 / 3.0, 0.5),
            (0.0016995, 26.0 / 3.0, -3.5),
            (-4.2399794, 8.0 / 3.0, 1.5),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: Some(Range { minimum_temperature: 195.49, steps: &[(725.0, 50e6)], source: "title" }),
};

/// Thermal conductivity.
///
/// S. A. Monogenidou, M. J. Assael, M. L. Huber: Reference Correlation for the Thermal Conductivity of Ammonia from the Triple-Point Temperature to 680 K and Pressures up to 80 MPa.
/// J. Phys. Chem. Ref. Data 47 (2018) 043101, doi 10.1063/1.5053087 (title from memory).
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "S. A. Monogenidou, M. J. Assael, M. L. Huber",
        title: "Reference Correlation for the Thermal Conductivity of Ammonia from the Triple-Point Temperature to 680 K and Pressures up to 80 MPa",
        journal: "J. Phys. Chem. Ref. Data",
        year: 2018,
        volume: Some("47"),
        pages: Some("043101"),
        doi: Some("10.1063/1.5053087"),
    },
    dilute: Dilute::Ratio {
        temperature: 405.56,
        scale: 0.001,
        numerator: &[(86.9294, 0.0), (-170.5502, 1.0), (608.0287, 2.0), (-100.9764, 3.0), (85.1986, 4.0)],
        denominator: &[(4.68994, 0.0), (9.21307, 1.0), (-1.53637, 2.0), (1.0, 3.0)],
    },
    dense: Dense::Added {
        temperature: 405.56,
        density: 233.25,
        scale: 1.0,
        terms: &[
            (0.103432, 1.0, 0.0),
            (-0.112597, 2.0, 0.0),
            (0.233301, 3.0, 0.0),
            (-0.112536, 4.0, 0.0),
            (0.0141129, 5.0, 0.0),
            (-0.0283976, 1.0, 1.0),
            (0.048252, 2.0, 1.0),
            (-0.0644124, 3.0, 1.0),
            (0.00529376, 4.0, 1.0),
            (0.00891203, 5.0, 1.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CorrelationLength {
            xi0: 1.4e-10,
            gamma0: 0.053,
            nu: 0.63,
            gamma: 1.239,
            reference_temperature: Some(608.34),
        },
        amplitude: 1.02,
        cutoff: 2500000000.0,
    }),
    range: Some(Range { minimum_temperature: 195.49, steps: &[(680.0, 80e6)], source: "title" }),
};

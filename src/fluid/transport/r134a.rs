//! R-134a: viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, FreeVolume, InitialDensity,
    ThermalConductivity, Viscosity,
};
use super::rainwater_friend::VOGEL_1998;
use crate::fluid::Citation;

/// Viscosity.
///
/// M. L. Huber, A. Laesecke, R. A. Perkins: Model for the Viscosity and Thermal Conductivity of Refrigerants, Including a New Correlation for the Viscosity of R134a.
/// Ind. Eng. Chem. Res. 42 (2003) 3163-3178, doi 10.1021/ie0300880.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "M. L. Huber, A. Laesecke, R. A. Perkins",
        title: "Model for the Viscosity and Thermal Conductivity of Refrigerants, Including a New Correlation for the Viscosity of R134a",
        journal: "Ind. Eng. Chem. Res.",
        year: 2003,
        volume: Some("42"),
        pages: Some("3163-3178"),
        doi: Some("10.1021/ie0300880"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 2.1357e-8,
        molar_mass: 102.031,
        sigma: 0.468932,
        energy: 299.363,
        collision: Collision::Series(&[0.355404, -0.464337, 0.0257353]),
    },
    initial_density: Some(InitialDensity { sigma: 0.468932, energy: 299.363, terms: VOGEL_1998 }),
    dense: Dense::Added {
        temperature: 374.21,
        density: 5017.053,
        scale: 1.0,
        terms: &[
            (-2.06900719e-5, 1.0, 0.0),
            (3.56029549e-7, 2.0, -6.0),
            (2.11101816e-6, 2.0, -2.0),
            (1.39601415e-5, 2.0, -0.5),
            (-4.5643502e-6, 2.0, 2.0),
            (-3.51593275e-6, 3.0, 0.0),
        ],
        quotient: None,
        free_volume: Some(FreeVolume {
            terms: &[(0.00021476332, 0.0, 0.0)],
            numerator: &[(3.163695636, 0.0)],
            denominator: &[(1.0, 0.0), (-0.0890173375, 1.0), (0.100035295, 2.0)],
        }),
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity.
///
/// M. O. McLinden, S. A. Klein, R. A. Perkins: An Extended Corresponding States Model for the Thermal Conductivity of Refrigerants and Refrigerant Mixtures.
/// Int. J. Refrig. 23 (2000) 43-63, doi 10.1016/S0140-7007(99)00024-9.
/// The surface is that of R. A. Perkins, A. Laesecke, J. B. Howley, M. L. V. Ramires, A. N. Gurova, L. Cusco: NISTIR 6605 (2000).
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "M. O. McLinden, S. A. Klein, R. A. Perkins",
        title: "An Extended Corresponding States Model for the Thermal Conductivity of Refrigerants and Refrigerant Mixtures",
        journal: "Int. J. Refrig.",
        year: 2000,
        volume: Some("23"),
        pages: Some("43-63"),
        doi: Some("10.1016/S0140-7007(99)00024-9"),
    },
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-0.0105248, 0.0), (8.00982e-5, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 1.0,
        density: 515.249968352,
        scale: 1.0,
        terms: &[
            (0.00377406093, 1.0, 0.0),
            (0.010534223865, 2.0, 0.0),
            (-0.002952794565, 3.0, 0.0),
            (0.00128672592, 4.0, 0.0),
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
        cutoff: 1892020000.0,
    }),
    range: None,
};

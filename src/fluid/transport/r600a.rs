//! R-600a: viscosity and thermal conductivity.

use super::data::{
    Collision, ConductivityEnhancement, CorrelationLength, Dense, Dilute, FreeVolume, InitialDensity, Range,
    ThermalConductivity, Viscosity,
};
use super::rainwater_friend::VOGEL_1998;
use crate::fluid::Citation;

/// Viscosity.
///
/// E. Vogel, C. Kuechenmeister, E. Bich: Viscosity Correlation for Isobutane over Wide Ranges of the Fluid Region.
/// Int. J. Thermophys. 21 (2000) 343-356, doi 10.1023/A:1006623310780.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "E. Vogel, C. Kuechenmeister, E. Bich",
        title: "Viscosity Correlation for Isobutane over Wide Ranges of the Fluid Region",
        journal: "Int. J. Thermophys.",
        year: 2000,
        volume: Some("21"),
        pages: Some("343-356"),
        doi: Some("10.1023/A:1006623310780"),
    },
    dilute: Dilute::ChapmanEnskog {
        scale: 2.1357e-8,
        molar_mass: 58.1222,
        sigma: 0.46445,
        energy: 307.55,
        collision: Collision::Series(&[0.53583008, -0.4562963, 0.049911282]),
    },
    initial_density: Some(InitialDensity { sigma: 0.46445, energy: 307.55, terms: VOGEL_1998 }),
    dense: Dense::Added {
        temperature: 407.817,
        density: 3860.0,
        scale: 1.0,
        terms: &[
            (0.000103511763411, 2.0, 0.0),
            (-0.000312670896234, 2.0, -1.0),
            (0.000145253750239, 2.0, -2.0),
            (-0.000210649894193, 3.0, 0.0),
            (0.000386269696509, 3.0, -1.0),
            (-0.000214963015527, 3.0, -2.0),
            (0.00011258036092, 4.0, 0.0),
            (-0.000223242033154, 4.0, -1.0),
            (0.000119114788598, 4.0, -2.0),
            (-1.819097459e-5, 5.0, 0.0),
            (3.60438957232e-5, 5.0, -1.0),
            (-2.1396018405e-5, 5.0, -2.0),
        ],
        quotient: None,
        free_volume: Some(FreeVolume {
            terms: &[(0.0019403760699, 1.0, 0.0)],
            numerator: &[(2.33859774637, 0.0), (2.352551508384381, 0.5)],
            denominator: &[(1.0, 0.0)],
        }),
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity.
///
/// R. A. Perkins: Measurement and Correlation of the Thermal Conductivity of Isobutane from 114 K to 600 K at Pressures to 70 MPa.
/// J. Chem. Eng. Data 47 (2002) 1272-1279, doi 10.1021/je010121u.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. A. Perkins",
        title: "Measurement and Correlation of the Thermal Conductivity of Isobutane from 114 K to 600 K at Pressures to 70 MPa",
        journal: "J. Chem. Eng. Data",
        year: 2002,
        volume: Some("47"),
        pages: Some("1272-1279"),
        doi: Some("10.1021/je010121u"),
    },
    dilute: Dilute::Ratio {
        temperature: 407.85,
        scale: 1.0,
        numerator: &[(-0.00237901, 0.0), (0.0106601, 1.0), (0.0215811, 2.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 407.85,
        density: 224.4,
        scale: 1.0,
        terms: &[
            (-0.0411789, 1.0, 0.0),
            (0.146805, 2.0, 0.0),
            (-0.11919, 3.0, 0.0),
            (0.0410226, 4.0, 0.0),
            (-0.00488704, 5.0, 0.0),
            (0.0476346, 1.0, 1.0),
            (-0.128445, 2.0, 1.0),
            (0.107565, 3.0, 1.0),
            (-0.0385968, 4.0, 1.0),
            (0.00520901, 5.0, 1.0),
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
        cutoff: 1520540217.5,
    }),
    range: Some(Range { minimum_temperature: 114.0, steps: &[(600.0, 70e6)], source: "title" }),
};

//! R-1234ze(E): viscosity and thermal conductivity.

use super::data::{
    ConductivityEnhancement, CorrelationLength, Dense, Dilute, InitialDensity, Quotient, ThermalConductivity,
    Viscosity,
};
use super::rainwater_friend::ROUNDED;
use crate::fluid::Citation;

/// Viscosity.
///
/// M. L. Huber, M. J. Assael: Correlations for the Viscosity of 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf) and trans-1,3,3,3-Tetrafluoropropene (R1234ze(E)).
/// Int. J. Refrig. 71 (2016) 39-45, doi 10.1016/j.ijrefrig.2016.08.007 (title from memory).
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "M. L. Huber, M. J. Assael",
        title: "Correlations for the Viscosity of 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf) and trans-1,3,3,3-Tetrafluoropropene (R1234ze(E))",
        journal: "Int. J. Refrig.",
        year: 2016,
        volume: Some("71"),
        pages: Some("39-45"),
        doi: Some("10.1016/j.ijrefrig.2016.08.007"),
    },
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1e-6,
        numerator: &[(-963382.0, 0.0), (9614.09, 1.0), (-13.233, 2.0), (0.0360562, 3.0)],
        denominator: &[(122059.0, 0.0), (-224.741, 1.0), (1.0, 2.0)],
    },
    initial_density: Some(InitialDensity { sigma: 0.5, energy: 340.0, terms: ROUNDED }),
    dense: Dense::Added {
        temperature: 382.513,
        density: 4290.0,
        scale: 1e-6,
        terms: &[(8.61691913, 2.0 / 3.0, 0.5), (20.83024738, 8.0 / 3.0, 0.5)],
        quotient: Some(Quotient {
            numerator: &[
                (0.5424369, 20.0 / 3.0, 0.5),
                (-10.49684841, 5.0 / 3.0, 2.5),
                (-1.38137689, 17.0 / 3.0, 1.5),
            ],
            denominator: &[(1.0, 0.0, 1.0)],
        }),
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity.
///
/// R. A. Perkins, M. L. Huber: Measurement and Correlation of the Thermal Conductivity of 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf) and trans-1,3,3,3-Tetrafluoropropene (R1234ze(E)).
/// J. Chem. Eng. Data 56 (2011) 4868-4874, doi 10.1021/je200811n.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "R. A. Perkins, M. L. Huber",
        title: "Measurement and Correlation of the Thermal Conductivity of 2,3,3,3-Tetrafluoroprop-1-ene (R1234yf) and trans-1,3,3,3-Tetrafluoropropene (R1234ze(E))",
        journal: "J. Chem. Eng. Data",
        year: 2011,
        volume: Some("56"),
        pages: Some("4868-4874"),
        doi: Some("10.1021/je200811n"),
    },
    dilute: Dilute::Ratio {
        temperature: 382.52,
        scale: 1.0,
        numerator: &[(-0.0103589, 0.0), (0.0308929, 1.0), (0.000230348, 2.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 382.52,
        density: 489.24,
        scale: 1.0,
        terms: &[
            (-0.0428296, 1.0, 0.0),
            (0.0927099, 2.0, 0.0),
            (-0.0702107, 3.0, 0.0),
            (0.0249708, 4.0, 0.0),
            (-0.00301838, 5.0, 0.0),
            (0.0434288, 1.0, 1.0),
            (-0.0605844, 2.0, 1.0),
            (0.0440187, 3.0, 1.0),
            (-0.0155082, 4.0, 1.0),
            (0.0021019, 5.0, 1.0),
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
        cutoff: 1713796058.2,
    }),
    range: None,
};

//! R-1234yf: viscosity and thermal conductivity.

use super::data::{
    ConductivityEnhancement, CorrelationLength, Dense, Dilute, InitialDensity, Quotient, Range,
    ThermalConductivity, Viscosity,
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
        numerator: &[(-836950.0, 0.0), (6336.28, 1.0), (-2.3547, 2.0), (0.0395563, 3.0)],
        denominator: &[(39509.1, 0.0), (121.018, 1.0), (1.0, 2.0)],
    },
    initial_density: Some(InitialDensity { sigma: 0.531, energy: 275.0, terms: ROUNDED }),
    dense: Dense::Added {
        temperature: 367.85,
        density: 4170.0,
        scale: 1e-6,
        terms: &[(-0.1942591, 2.0 / 3.0, 0.5), (-2.079577245, 5.0 / 3.0, 0.5)],
        quotient: Some(Quotient {
            numerator: &[(-43.47027288, 5.0 / 3.0, 0.5)],
            denominator: &[(-3.53682791, 0.0, 1.0), (1.0, 1.0, 1.0)],
        }),
        free_volume: None,
    },
    enhancement: None,
    range: Some(Range {
        minimum_temperature: 220.0,
        steps: &[(410.0, 30e6)],
        source: "that of the equation of state of 2011, with which it was fitted",
    }),
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
        temperature: 367.85,
        scale: 1.0,
        numerator: &[(-0.0102778, 0.0), (0.0291098, 1.0), (0.000860643, 2.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 367.85,
        density: 475.55,
        scale: 1.0,
        terms: &[
            (-0.0368219, 1.0, 0.0),
            (0.0883226, 2.0, 0.0),
            (-0.0705909, 3.0, 0.0),
            (0.0259026, 4.0, 0.0),
            (-0.0032295, 5.0, 0.0),
            (0.0397166, 1.0, 1.0),
            (-0.077239, 2.0, 1.0),
            (0.0664707, 3.0, 1.0),
            (-0.0249071, 4.0, 1.0),
            (0.00336228, 5.0, 1.0),
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
    range: Some(Range {
        minimum_temperature: 220.0,
        steps: &[(410.0, 30e6)],
        source: "that of the equation of state of 2011, with which it was fitted",
    }),
};

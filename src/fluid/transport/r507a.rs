//! R-507A: viscosity and thermal conductivity.

use super::data::{Dense, Dilute, ThermalConductivity, Viscosity};
use super::{GELLER_2000, GELLER_2001};

/// Viscosity.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: GELLER_2000,
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-2.53e-06, 0.0), (5.626e-08, 1.0), (-2.323e-11, 2.0)],
        denominator: &[],
    },
    initial_density: None,
    dense: Dense::Added {
        temperature: 343.765,
        density: 4964.02965025,
        scale: 1.0,
        terms: &[
            (2.60484792e-07, 1.0, 0.0),
            (5.380047201384e-05, 2.0, 0.0),
            (-7.967886221772443e-05, 3.0, 0.0),
            (8.183382443771656e-05, 4.0, 0.0),
            (-3.9504517246163185e-05, 5.0, 0.0),
            (7.366291094257731e-06, 6.0, 0.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity, without a critical enhancement.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: GELLER_2001,
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-0.008656, 0.0), (7.383e-05, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 343.765,
        density: 490.74,
        scale: 1.0,
        terms: &[
            (0.013735812600000001, 1.0, 0.0),
            (0.00738130916394, 2.0, 0.0),
            (-0.004306582229626043, 3.0, 0.0),
            (0.0015131427920482105, 4.0, 0.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

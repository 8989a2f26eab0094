//! R-404A: viscosity and thermal conductivity.

use super::data::{Dense, Dilute, ThermalConductivity, Viscosity};
use super::{GELLER_2000, GELLER_2001};

/// Viscosity.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: GELLER_2000,
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(9.766e-07, 0.0), (3.676e-08, 1.0), (2.938e-12, 2.0)],
        denominator: &[],
    },
    initial_density: None,
    dense: Dense::Added {
        temperature: 345.27,
        density: 4940.0,
        scale: 1.0,
        terms: &[
            (1.08968786472e-06, 1.0, 0.0),
            (4.152109565230651e-05, 2.0, 0.0),
            (-4.710175334443676e-05, 3.0, 0.0),
            (4.588082670553865e-05, 4.0, 0.0),
            (-2.2593706031401724e-05, 5.0, 0.0),
            (4.4806744468118286e-06, 6.0, 0.0),
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
        numerator: &[(-0.008624, 0.0), (7.36e-05, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 345.27,
        density: 482.162772,
        scale: 1.0,
        terms: &[
            (0.01553528451384, 1.0, 0.0),
            (0.0059724353152729795, 2.0, 0.0),
            (-0.0030186820979668776, 3.0, 0.0),
            (0.0010847310542822014, 4.0, 0.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

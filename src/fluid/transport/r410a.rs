//! R-410A: viscosity and thermal conductivity.

use super::data::{Dense, Dilute, ThermalConductivity, Viscosity};
use super::{GELLER_2000, GELLER_2001};

/// Viscosity.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: GELLER_2000,
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-2.695e-06, 0.0), (5.85e-08, 1.0), (-2.129e-11, 2.0)],
        denominator: &[],
    },
    initial_density: None,
    dense: Dense::Added {
        temperature: 344.4943434,
        density: 6324.0,
        scale: 1.0,
        terms: &[
            (4.1528450396712e-06, 1.0, 0.0),
            (1.2187385701457372e-05, 2.0, 0.0),
            (1.2660855545258757e-05, 3.0, 0.0),
            (-1.0753223728015742e-05, 4.0, 0.0),
            (1.9206178288211474e-06, 5.0, 0.0),
            (3.6793471063956824e-07, 6.0, 0.0),
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
        numerator: &[(-0.008872, 0.0), (7.41e-05, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 344.494,
        density: 459.0300696,
        scale: 1.0,
        terms: &[
            (0.016414915288896, 1.0, 0.0),
            (-0.0019058593303886919, 2.0, 0.0),
            (0.00420061845936278, 3.0, 0.0),
            (-0.0001644950202819914, 4.0, 0.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

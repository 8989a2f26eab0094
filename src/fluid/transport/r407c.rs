//! R-407C: viscosity and thermal conductivity.

use super::data::{Dense, Dilute, ThermalConductivity, Viscosity};
use super::{GELLER_2000, GELLER_2001};

/// Viscosity.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: GELLER_2000,
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-1.507e-06, 0.0), (4.894e-08, 1.0), (-9.305e-12, 2.0)],
        denominator: &[],
    },
    initial_density: None,
    dense: Dense::Added {
        temperature: 359.345,
        density: 5260.000046402,
        scale: 1.0,
        terms: &[
            (-1.3775231957200001e-06, 1.0, 0.0),
            (6.0179007998135324e-05, 2.0, 0.0),
            (-8.911399521418381e-05, 3.0, 0.0),
            (7.350962141560484e-05, 4.0, 0.0),
            (-2.788808852966893e-05, 5.0, 0.0),
            (4.133412533885438e-06, 6.0, 0.0),
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
        numerator: &[(-0.009628, 0.0), (7.638e-05, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 359.345,
        density: 453.43094,
        scale: 1.0,
        terms: &[
            (0.012310650021, 1.0, 0.0),
            (0.010203909009044946, 2.0, 0.0),
            (-0.004579223187488973, 3.0, 0.0),
            (0.001219101484546316, 4.0, 0.0),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: None,
    range: None,
};

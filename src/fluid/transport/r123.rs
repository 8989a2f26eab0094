//! viscosity and thermal conductivity.

use super::data::{ConductivityEnhancement, Dense, Dilute, FreeVolume, ThermalConductivity, Viscosity};
use crate::fluid::Citation;

/// Viscosity.
///
/// Y. Tanaka, T. Sotani: Thermal Conductivity and Viscosity of 2,2-Dichloro-1,1,1-Trifluoroethane (HCFC-123).
/// Int. J. Thermophys. 17 (1996) 293-328, doi 10.1007/BF01443394.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "Y. Tanaka, T. Sotani",
        title: "Thermal Conductivity and Viscosity of 2,2-Dichloro-1,1,1-Trifluoroethane (HCFC-123)",
        journal: "Int. J. Thermophys.",
        year: 1996,
        volume: Some("17"),
        pages: Some("293-328"),
        doi: Some("10.1007/BF01443394"),
    },
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-2.273638e-6, 0.0), (5.099859e-8, 1.0), (-2.402786e-11, 2.0)],
        denominator: &[],
    },
    initial_density: None,
    dense: Dense::Added {
        temperature: 456.831,
        density: 3596.417,
        scale: 1.0,
        terms: &[
            (-1.2245673e-5, 1.0, 0.0),
            (1.39463316064215e-5, 1.0, 1.0),
            (-5.553966e-5, 1.0, 0.0),
            (1.863975355e-5, 2.0, 0.0),
            (-1.47083652375e-5, 3.0, 0.0),
        ],
        quotient: None,
        free_volume: Some(FreeVolume {
            terms: &[(0.000585991090909, 0.0, 0.0)],
            numerator: &[(3.32411454545, 0.0)],
            denominator: &[(1.0, 0.0)],
        }),
    },
    enhancement: None,
    range: None,
};

/// Thermal conductivity.
///
/// A. Laesecke, R. A. Perkins, J. B. Howley: An Improved Correlation for the Thermal Conductivity of HCFC123 (2,2-Dichloro-1,1,1-Trifluoroethane).
/// Int. J. Refrig. 19 (1996) 231-238, doi 10.1016/0140-7007(96)00019-9.
///
/// The peak near the critical point as in an open library (CoolProp 8.0.0); the paper's check values at 430 K
/// confirm it.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "A. Laesecke, R. A. Perkins, J. B. Howley",
        title: "An Improved Correlation for the Thermal Conductivity of HCFC123 (2,2-Dichloro-1,1,1-Trifluoroethane)",
        journal: "Int. J. Refrig.",
        year: 1996,
        volume: Some("19"),
        pages: Some("231-238"),
        doi: Some("10.1016/0140-7007(96)00019-9"),
    },
    dilute: Dilute::Ratio {
        temperature: 1.0,
        scale: 1.0,
        numerator: &[(-0.00778, 0.0), (5.695e-5, 1.0)],
        denominator: &[],
    },
    dense: Dense::Added {
        temperature: 456.831,
        density: 550.0,
        scale: 1.0,
        terms: &[
            (0.0642894, 1.0, -1.5),
            (-0.0530474, 1.0, -2.0),
            (4.53522e-5, 1.0, -6.0),
            (-0.139928, 2.0, 0.0),
            (0.16654, 2.0, -0.5),
            (-0.0162656, 2.0, -1.5),
            (0.136819, 3.0, 0.0),
            (-0.183291, 3.0, -0.5),
            (0.0357146, 3.0, -1.5),
            (-0.023121, 4.0, 0.0),
            (0.0341945, 4.0, -0.5),
            (-0.00757341, 4.0, -1.5),
        ],
        quotient: None,
        free_volume: None,
    },
    enhancement: Some(ConductivityEnhancement::Peak {
        temperature: 456.831,
        density: 550.0,
        height: 0.486742e-2,
        slope_t: -100.0,
        slope_rho: -7.08535,
    }),
    range: None,
};

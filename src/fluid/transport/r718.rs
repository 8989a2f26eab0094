//! R-718, water: viscosity, thermal conductivity and surface tension, releases of the International Association
//! for the Properties of Water and Steam.
//!
//! Coefficients from memory of the releases, compared with the tables of an open library (iapws 1.5.5) digit by
//! digit, and confirmed by the releases' tables for program verification.

use std::f64::consts::PI;

use super::data::{
    BOLTZMANN, ConductivityEnhancement, CorrelationLength, Dense, Dilute, Range, SurfaceTension,
    ThermalConductivity, Viscosity, ViscosityEnhancement,
};
use crate::fluid::Citation;

/// Reducing temperature of the releases, K.
const TEMPERATURE: f64 = 647.096;

/// Reducing density of the releases, kg/m3.
const DENSITY: f64 = 322.0;

/// J/(kg K)
const SPECIFIC_GAS_CONSTANT: f64 = 461.51805;

/// Cutoff length of the thermal conductivity, 1 / q_D, m.
const CUTOFF_LENGTH: f64 = 0.40e-9;

/// What R15-11 prints for the product of the amplitude R0 = 1.01, the Boltzmann constant and the reducing constants
/// (of viscosity 1e-6 Pa s, of thermal conductivity 1e-3 W/(m K)).
const FACTOR: f64 = 177.8514;

/// The correlation length is the same in both releases; the reference temperature is 1.5 times the critical one.
const CORRELATION_LENGTH: CorrelationLength = CorrelationLength {
    xi0: 0.13e-9,
    gamma0: 0.06,
    nu: 0.630,
    gamma: 1.239,
    reference_temperature: Some(1.5 * TEMPERATURE),
};

/// Viscosity.
///
/// IAPWS R12-08, Release on the IAPWS Formulation 2008 for the Viscosity of Ordinary Water Substance; M. L. Huber
/// et al., J. Phys. Chem. Ref. Data 38 (2009) 101-125, doi 10.1063/1.3088050.
pub(crate) static VISCOSITY: Viscosity = Viscosity {
    citation: Citation {
        authors: "International Association for the Properties of Water and Steam",
        title: "Release on the IAPWS Formulation 2008 for the Viscosity of Ordinary Water Substance",
        journal: "IAPWS R12-08",
        year: 2008,
        volume: None,
        pages: None,
        doi: None,
    },
    dilute: Dilute::Root {
        temperature: TEMPERATURE,
        scale: 100e-6,
        denominator: &[(1.67752, 0.0), (2.20462, -1.0), (0.6366564, -2.0), (-0.241605, -3.0)],
    },
    initial_density: None,
    dense: Dense::Factor {
        temperature: TEMPERATURE,
        // kg/m3 over kg/mol, as the equation of state has it.
        density: DENSITY / 0.018015268,
        rows: &[
            &[0.520094, 0.222531, -0.281378, 0.161913, -0.0325372],
            &[0.0850895, 0.999115, -0.906851, 0.257399],
            &[-1.08374, 1.88797, -0.772479],
            &[-0.289555, 1.26613, -0.489837, 0.0, 0.0698452, 0.0, -0.00435673],
            &[0.0, 0.0, -0.25704, 0.0, 0.0, 0.00872102],
            &[0.0, 0.120573, 0.0, 0.0, 0.0, 0.0, -0.000593264],
        ],
    },
    enhancement: Some(ViscosityEnhancement {
        correlation_length: CORRELATION_LENGTH,
        exponent: 0.068,
        cutoff_c: 1.0 / 1.9e-9,
        cutoff_d: 1.0 / 1.1e-9,
    }),
    range: Some(Range {
        minimum_temperature: 273.16,
        steps: &[(373.15, 1000e6), (433.15, 500e6), (873.15, 350e6), (1173.15, 300e6)],
        source: "IAPWS R12-08, from memory",
    }),
};

/// Thermal conductivity.
///
/// IAPWS R15-11, Release on the IAPWS Formulation 2011 for the Thermal Conductivity of Ordinary Water Substance;
/// M. L. Huber et al., J. Phys. Chem. Ref. Data 41 (2012) 033102, doi 10.1063/1.4738955.
pub(crate) static THERMAL_CONDUCTIVITY: ThermalConductivity = ThermalConductivity {
    citation: Citation {
        authors: "International Association for the Properties of Water and Steam",
        title: "Release on the IAPWS Formulation 2011 for the Thermal Conductivity of Ordinary Water Substance",
        journal: "IAPWS R15-11",
        year: 2011,
        volume: None,
        pages: None,
        doi: None,
    },
    dilute: Dilute::Root {
        temperature: TEMPERATURE,
        scale: 1e-3,
        denominator: &[
            (2.443221e-3, 0.0),
            (1.323095e-2, -1.0),
            (6.770357e-3, -2.0),
            (-3.454586e-3, -3.0),
            (4.096266e-4, -4.0),
        ],
    },
    dense: Dense::Factor {
        temperature: TEMPERATURE,
        density: DENSITY,
        rows: &[
            &[1.60397357, -0.646013523, 0.111443906, 0.102997357, -0.0504123634, 0.00609859258],
            &[2.33771842, -2.78843778, 1.53616167, -0.463045512, 0.0832827019, -0.00719201245],
            &[2.19650529, -4.54580785, 3.55777244, -1.40944978, 0.275418278, -0.0205938816],
            &[-1.21051378, 1.60812989, -0.621178141, 0.0716373224],
            &[-2.7203370, 4.57586331, -3.18369245, 1.1168348, -0.19268305, 0.012913842],
        ],
    },
    enhancement: Some(ConductivityEnhancement::Crossover {
        correlation_length: CORRELATION_LENGTH,
        amplitude: FACTOR * 6.0 * PI * 1e-6 * 1e-3 * CUTOFF_LENGTH
            / (BOLTZMANN * DENSITY * SPECIFIC_GAS_CONSTANT * TEMPERATURE),
        cutoff: 1.0 / CUTOFF_LENGTH,
    }),
    range: Some(Range {
        minimum_temperature: 273.16,
        steps: &[(348.0, 1000e6), (403.0, 785e6), (573.0, 687e6), (874.0, 250e6), (1173.15, 100e6)],
        source: "IAPWS R15-11, from memory",
    }),
};

/// Surface tension, `B tau^mu (1 + b tau)` with B = 0.2358 N/m, b = -0.625, mu = 1.256, written as two terms.
///
/// IAPWS R1-76(2014), Revised Release on Surface Tension of Ordinary Water Substance. From the triple point to the
/// critical point.
pub(crate) static SURFACE_TENSION: SurfaceTension = SurfaceTension {
    citation: Citation {
        authors: "International Association for the Properties of Water and Steam",
        title: "Revised Release on Surface Tension of Ordinary Water Substance",
        journal: "IAPWS R1-76",
        year: 2014,
        volume: None,
        pages: None,
        doi: None,
    },
    temperature: TEMPERATURE,
    terms: &[(0.2358, 1.256), (0.2358 * -0.625, 2.256)],
};

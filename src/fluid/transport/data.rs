//! The shape of published correlations for viscosity, thermal conductivity and surface tension.
//!
//! Temperatures are reduced as `T_r = T / temperature`, densities as `rho_r = rho / density`; a density is in
//! mol/m3 in a viscosity and in kg/m3 in a thermal conductivity, as the papers print them.

use crate::fluid::Citation;

/// Boltzmann constant, J/K (exact by definition of the kelvin).
pub(crate) const BOLTZMANN: f64 = 1.380649e-23;

/// What is published about one fluid.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Transport {
    /// Designation of the fluid.
    pub(crate) designation: &'static str,
    pub(crate) viscosity: Option<&'static Viscosity>,
    pub(crate) thermal_conductivity: Option<&'static ThermalConductivity>,
    pub(crate) surface_tension: Option<&'static SurfaceTension>,
}

/// Dilute gas, initial density dependence, dense fluid; Pa s.
#[derive(Debug)]
pub(crate) struct Viscosity {
    pub(crate) citation: Citation,
    pub(crate) dilute: Dilute,
    pub(crate) initial_density: Option<InitialDensity>,
    pub(crate) dense: Dense,
    pub(crate) enhancement: Option<ViscosityEnhancement>,
    pub(crate) range: Option<Range>,
}

/// Dilute gas, dense fluid, critical enhancement; W/(m K).
#[derive(Debug)]
pub(crate) struct ThermalConductivity {
    pub(crate) citation: Citation,
    pub(crate) dilute: Dilute,
    pub(crate) dense: Dense,
    pub(crate) enhancement: Option<ConductivityEnhancement>,
    pub(crate) range: Option<Range>,
}

/// Where the authors vouch for a correlation, if that is less than the range of the equation of state or not the same.
#[derive(Debug)]
pub(crate) struct Range {
    /// K
    pub(crate) minimum_temperature: f64,
    /// Up to a temperature (K) a highest pressure (Pa), temperatures rising.
    pub(crate) steps: &'static [(f64, f64)],
    /// Where the range was read.
    pub(crate) source: &'static str,
}

/// Pairs (n, t) of `sum n T_r^t`.
pub(crate) type Pairs = &'static [(f64, f64)];

/// Triples (n, d, t) of `sum n rho_r^d T_r^t`.
pub(crate) type Triples = &'static [(f64, f64, f64)];

/// The gas without density.
#[derive(Debug)]
pub(crate) enum Dilute {
    /// `scale sum(numerator) / sum(denominator)`; without a denominator the sum alone.
    Ratio { temperature: f64, scale: f64, numerator: Pairs, denominator: Pairs },
    /// `scale sqrt(T_r) / sum(denominator)`.
    Root { temperature: f64, scale: f64, denominator: Pairs },
    /// `scale sqrt(M T) / (sigma^2 Omega(T / energy))` with M in g/mol, sigma in nm, energy in K.
    ChapmanEnskog { scale: f64, molar_mass: f64, sigma: f64, energy: f64, collision: Collision },
}

/// Collision integral `Omega` at a temperature `T*` divided by the energy parameter.
#[derive(Debug)]
pub(crate) enum Collision {
    /// `exp(sum a_i ln(T*)^i)`, beginning with `i = 0`.
    Series(&'static [f64]),
    /// The equation of Neufeld, Janzen and Aziz (J. Chem. Phys. 57 (1972) 1100-1102), its first three terms.
    Neufeld,
}

/// First order in density: `dilute N_A sigma^3 B(T*) rho` with `B = sum n T*^t`, `T* = T / energy`, sigma in nm,
/// rho in mol/m3.
#[derive(Debug)]
pub(crate) struct InitialDensity {
    pub(crate) sigma: f64,
    pub(crate) energy: f64,
    pub(crate) terms: Pairs,
}

/// How the dense fluid differs from the dilute gas.
#[derive(Debug)]
pub(crate) enum Dense {
    /// Added: `scale (sum(terms) + sum(numerator) / sum(denominator) + free volume)`.
    Added {
        temperature: f64,
        density: f64,
        scale: f64,
        terms: Triples,
        quotient: Option<Quotient>,
        free_volume: Option<FreeVolume>,
    },
    /// A factor: `exp(rho_r sum n (1 / T_r - 1)^i (rho_r - 1)^j)`; row i holds n for j = 0, 1, ...
    Factor { temperature: f64, density: f64, rows: &'static [&'static [f64]] },
}

/// `sum(numerator) / sum(denominator)`.
#[derive(Debug)]
pub(crate) struct Quotient {
    pub(crate) numerator: Triples,
    pub(crate) denominator: Triples,
}

/// `sum(terms) (1 / (packed - rho_r) - 1 / packed)` with `packed = sum(numerator) / sum(denominator)`: the
/// reduced density of close packing.
#[derive(Debug)]
pub(crate) struct FreeVolume {
    pub(crate) terms: Triples,
    pub(crate) numerator: Pairs,
    pub(crate) denominator: Pairs,
}

/// Correlation length `xi0 (chi / gamma0)^(nu / gamma)` with
/// `chi = p_c rho / rho_c^2 ((drho/dp)_T - T_R / T (drho/dp)_T_R)`, m.
#[derive(Debug)]
pub(crate) struct CorrelationLength {
    pub(crate) xi0: f64,
    pub(crate) gamma0: f64,
    pub(crate) nu: f64,
    pub(crate) gamma: f64,
    /// T_R; 1.5 times the critical temperature where none is given. K.
    pub(crate) reference_temperature: Option<f64>,
}

/// Critical enhancement of the thermal conductivity, W/(m K).
#[derive(Debug)]
pub(crate) enum ConductivityEnhancement {
    /// The simplified crossover form of Olchowy and Sengers, with amplitude R0 (also R_D) and the wave number
    /// `cutoff` q_D, 1/m.
    Crossover { correlation_length: CorrelationLength, amplitude: f64, cutoff: f64 },
    /// `height exp(slope_t (1 / T_r - 1)^4 + slope_rho (rho_r - 1)^2)`.
    Peak { temperature: f64, density: f64, height: f64, slope_t: f64, slope_rho: f64 },
}

/// Critical enhancement of the viscosity: the factor `exp(exponent Y(q_C xi, q_D xi))`.
#[derive(Debug)]
pub(crate) struct ViscosityEnhancement {
    pub(crate) correlation_length: CorrelationLength,
    pub(crate) exponent: f64,
    /// Wave number q_C, 1/m.
    pub(crate) cutoff_c: f64,
    /// Wave number q_D, 1/m.
    pub(crate) cutoff_d: f64,
}

/// `sum a (1 - T / temperature)^n`, N/m.
#[derive(Debug)]
pub(crate) struct SurfaceTension {
    pub(crate) citation: Citation,
    pub(crate) temperature: f64,
    /// Pairs (a, n).
    pub(crate) terms: &'static [(f64, f64)],
}

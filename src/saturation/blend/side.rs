//! One phase: potentials and pressure at temperature and concentrations, and their slopes.

use super::{Blend, GAS_CONSTANT, PerComponent};
use crate::helmholtz::PerVolume;

/// The model at one temperature (K) and concentrations (mol/m3).
#[derive(Debug, Clone, Copy)]
pub(super) struct Side {
    pub(super) n: usize,
    pub(super) temperature: f64,
    pub(super) concentrations: PerComponent,
    pub(super) weights: PerComponent,
    pub(super) model: PerVolume,
}

impl Side {
    pub(super) fn new(blend: &Blend<'_>, temperature: f64, concentrations: PerComponent) -> Self {
        let n = blend.n;
        let model = blend.components.mixture.at(temperature, &concentrations[..n]);
        Self { n, temperature, concentrations, weights: blend.components.weights, model }
    }

    /// Chemical potential over R T, without terms of temperature alone.
    pub(super) fn potential(&self, i: usize) -> f64 {
        self.weights[i] * self.concentrations[i].ln() + self.model.gradient[i]
    }

    /// Its slope with temperature at constant concentrations.
    pub(super) fn potential_t(&self, i: usize) -> f64 {
        self.model.gradient_t[i]
    }

    /// Its slope with the logarithm of a concentration.
    pub(super) fn potential_log(&self, i: usize, j: usize) -> f64 {
        let own = if i == j { self.weights[i] } else { 0.0 };
        own + self.model.hessian[i][j] * self.concentrations[j]
    }

    /// Pressure over R T, mol/m3.
    pub(super) fn pressure(&self) -> f64 {
        let of_gas: f64 = (0..self.n).map(|i| self.weights[i] * self.concentrations[i]).sum();
        let of_model: f64 = (0..self.n).map(|i| self.model.gradient[i] * self.concentrations[i]).sum();
        of_gas + (of_model - self.model.value)
    }

    /// Its slope with temperature at constant concentrations.
    pub(super) fn pressure_t(&self) -> f64 {
        let sum: f64 = (0..self.n).map(|i| self.model.gradient_t[i] * self.concentrations[i]).sum();
        sum - self.model.t
    }

    /// Its slope with the logarithm of a concentration.
    pub(super) fn pressure_log(&self, j: usize) -> f64 {
        let sum: f64 = (0..self.n).map(|i| self.concentrations[i] * self.model.hessian[i][j]).sum();
        self.concentrations[j] * (self.weights[j] + sum)
    }

    /// Pressure, Pa.
    pub(super) fn pascals(&self) -> f64 {
        GAS_CONSTANT * self.temperature * self.pressure()
    }

    /// Molar density, mol/m3.
    pub(super) fn molar_density(&self) -> f64 {
        self.concentrations.iter().sum()
    }

    /// Slope of pressure over R T with the logarithm of density at constant composition.
    pub(super) fn stiffness(&self) -> f64 {
        (0..self.n).map(|j| self.pressure_log(j)).sum()
    }
}

//! Equilibrium of liquid and vapor of different compositions, by the mixture model.
//!
//! Everything is written in the concentrations of the two phases: at one temperature, equal chemical potentials of every
//! component and equal pressure. A [`Blend`] is a composition; its [`Envelope`] the bubble and dew points from its coldest
//! liquid over the critical point to its coldest vapor; a [`Split`] two phases that together have the composition.

#![expect(clippy::needless_range_loop, reason = "vectors and matrices are indexed by component")]

mod caloric;
mod critical;
mod ends;
mod envelope;
mod incipient;
mod ladder;
mod making;
mod side;
mod split;
mod stability;
mod start;
mod tops;
mod wanted;

#[cfg(test)]
mod check;

pub(crate) use ends::{Ends, at_enthalpy_entropy};
pub(crate) use envelope::Envelope;
pub(crate) use incipient::Point;
pub(crate) use split::{Composed, Split};

use crate::error::{Error, Result, within};
use crate::fluid::Fluid;
use crate::helmholtz::{Equation, MOST, Mixture};

/// Molar gas constant the model divides by, J/(mol K).
const GAS_CONSTANT: f64 = 8.314462618;

/// One number for each component.
pub(crate) type PerComponent = [f64; MOST];

/// The components of blends, with what the model and their ideal gases need.
#[derive(Debug)]
pub(crate) struct Components {
    mixture: Mixture,
    pure: Vec<Equation>,
    molar_masses: PerComponent,
    weights: PerComponent,
    /// Whether no component has terms that are singular at its critical point.
    smooth: bool,
}

impl Components {
    /// # Errors
    ///
    /// What the mixture model says of the fluids: pairs without published parameters.
    pub(crate) fn new(fluids: &[&'static Fluid]) -> Result<Self> {
        let mixture = Mixture::new(fluids)?;
        let constants = |fluid: &Fluid| (fluid.ideal_gas.constant, fluid.ideal_gas.linear);
        let pure = fluids.iter().map(|fluid| Equation::new(fluid, constants(fluid))).collect();
        let (mut molar_masses, mut weights) = ([0.0; MOST], [0.0; MOST]);
        for ((mass, weight), fluid) in molar_masses.iter_mut().zip(&mut weights).zip(fluids) {
            *mass = fluid.molar_mass;
            *weight = fluid.gas_constant / GAS_CONSTANT;
        }
        let smooth = fluids.iter().all(|fluid| fluid.residual.nonanalytic.is_empty());
        Ok(Self { mixture, pure, molar_masses, weights, smooth })
    }

    pub(crate) fn len(&self) -> usize {
        self.pure.len()
    }

    pub(crate) fn mixture(&self) -> &Mixture {
        &self.mixture
    }

    fn fluids(&self) -> &[&'static Fluid] {
        self.mixture.fluids()
    }

    /// The composition of given mole fractions.
    ///
    /// # Errors
    ///
    /// [`Error::WrongLength`], or [`Error::OutOfRange`] for a component that is not there: it has no place in a blend.
    pub(crate) fn blend(&self, mole_fractions: &[f64]) -> Result<Blend<'_>> {
        let n = self.len();
        if mole_fractions.len() != n {
            return Err(Error::WrongLength {
                argument: "mole_fractions",
                found: mole_fractions.len(),
                expected: n,
            });
        }
        let reason = "every component of a blend has a share of it";
        for x in mole_fractions {
            within("mole_fraction", *x, f64::MIN_POSITIVE, 1.0, "mol/mol", reason)?;
        }
        let sum: f64 = mole_fractions.iter().sum();
        let mut z = [0.0; MOST];
        for (z, x) in z.iter_mut().zip(mole_fractions) {
            *z = x / sum;
        }
        Ok(Blend { components: self, n, z })
    }
}

/// A blend of fixed composition.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Blend<'a> {
    components: &'a Components,
    n: usize,
    /// Mole fractions.
    z: PerComponent,
}

impl Blend<'_> {
    /// Mean of one number of each component by mole fractions.
    fn mean(&self, of: &PerComponent) -> f64 {
        self.z.iter().zip(of).map(|(z, value)| z * value).sum()
    }

    /// kg/mol
    pub(crate) fn molar_mass(&self) -> f64 {
        self.mean(&self.components.molar_masses)
    }

    /// Whether one phase of the blend holds together at a temperature (K) and a density (kg/m3), against falling apart into others.
    ///
    /// # Errors
    ///
    /// What the saturation of the components says, from which phases to try are made.
    #[cfg(test)]
    pub(crate) fn is_stable(&self, temperature: f64, density: f64) -> Result<bool> {
        let phase = self.at_density(density / self.molar_mass());
        Ok(stability::better_phase(self, temperature, phase)?.is_none())
    }

    /// Concentrations of the blend at a molar density, mol/m3.
    fn at_density(&self, molar_density: f64) -> PerComponent {
        self.z.map(|z| z * molar_density)
    }

    /// What rounding of the terms leaves of a potential over R T at worst.
    fn rounding(&self) -> f64 {
        self.components.pure.iter().zip(self.z).map(|(equation, z)| z * equation.rounding).sum()
    }

    /// Highest of the temperatures where its components begin, K.
    fn coldest(&self) -> f64 {
        self.components.fluids().iter().map(|fluid| fluid.coldest.temperature).fold(0.0, f64::max)
    }

    /// Names of the components.
    fn names(&self) -> String {
        let names: Vec<_> = self.components.fluids().iter().map(|fluid| fluid.designation).collect();
        names.join("/")
    }
}

/// The error of a search that did not end.
fn not_converged(solver: &'static str, iterations: usize, residual: f64) -> Error {
    Error::NotConverged { solver, iterations, residual, lower: f64::NAN, upper: f64::NAN }
}

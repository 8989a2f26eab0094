//! Liquid and vapor of a blend in equilibrium, each with a composition of its own.

use std::sync::{Arc, OnceLock};

use super::mixed::Mixed;
use super::substance::Substance;
use super::{Basis, Inner, Reference, Refrigerant};
use crate::error::{Error, Result};
use crate::saturation::Composed;
use crate::state::{Phase, State};

/// Liquid and vapor in equilibrium with their compositions, made by [`Refrigerant::phases`].
///
/// States are on the basis of a kilogram of the phase. SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct Phases {
    liquid: State,
    vapor: State,
    liquid_composition: Vec<f64>,
    vapor_composition: Vec<f64>,
}

impl Phases {
    /// The liquid.
    pub fn liquid(&self) -> &State {
        &self.liquid
    }

    /// The vapor.
    pub fn vapor(&self) -> &State {
        &self.vapor
    }

    /// Mass fractions of the components in the liquid, in the order of [`Refrigerant::composition`].
    pub fn liquid_composition(&self) -> &[f64] {
        &self.liquid_composition
    }

    /// Mass fractions of the components in the vapor, in the order of [`Refrigerant::composition`].
    pub fn vapor_composition(&self) -> &[f64] {
        &self.vapor_composition
    }
}

impl Refrigerant {
    /// Liquid and vapor of a mixture of both, or of a saturated state, with the composition each has.
    ///
    /// Of a blend by the [mixture model](super::Model::Mixture). What leaves first at a bubble point is the vapor of a saturated liquid.
    ///
    /// ```
    /// use interstage::{Basis, Refrigerant};
    ///
    /// let blend = Refrigerant::blend(&[("R-32", 0.5), ("R-134a", 0.5)], Basis::Mass)?;
    /// let wet = blend.state_px(5e5, 0.2)?;
    /// let phases = blend.phases(&wet)?;
    /// // More of what boils first is in the vapor, and both phases together are the blend.
    /// let (liquid, vapor) = (phases.liquid_composition()[0], phases.vapor_composition()[0]);
    /// assert!(liquid < 0.5 && 0.5 < vapor);
    /// assert!((0.8 * liquid + 0.2 * vapor - 0.5).abs() < 1e-12);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::Undefined`] for a state of one phase and for a refrigerant that is described by one equation; what
    /// [`state_px`](Self::state_px) says of a state of another refrigerant.
    pub fn phases(&self, state: &State) -> Result<Phases> {
        const PROPERTY: &str = "a composition of liquid and vapor";
        let undefined = |state| Error::Undefined { property: PROPERTY, state };
        let Substance::Blend(mixed) = &self.inner.substance else {
            return Err(undefined("a refrigerant with one equation of state"));
        };
        let quality = state.quality().ok_or_else(|| undefined("a state of one phase"))?;
        let flash = self.flash()?;
        let [liquid, vapor] = flash.phases(state, quality).map_err(|error| error.of(self.name()))?;
        let composition = |of: &Composed| {
            let n = mixed.mole_fractions.len();
            mixed.components.mixture().mass_fractions(&of.mole_fractions[..n])
        };
        let (liquid_composition, vapor_composition) = (composition(&liquid), composition(&vapor));
        let [zero_enthalpy, zero_entropy] = self.inner.equation.lowered;
        let (temperature, pressure) = (state.temperature(), state.pressure());
        let state = |of: Composed, phase| State {
            temperature,
            pressure,
            density: of.density,
            enthalpy: of.enthalpy - zero_enthalpy,
            entropy: of.entropy - zero_entropy,
            internal_energy: of.enthalpy - zero_enthalpy - pressure / of.density,
            quality: Some(if phase == Phase::Liquid { 0.0 } else { 1.0 }),
            phase,
        };
        Ok(Phases {
            liquid: state(liquid, Phase::Liquid),
            vapor: state(vapor, Phase::Vapor),
            liquid_composition,
            vapor_composition,
        })
    }

    /// The same components in other proportions, with the same zero of enthalpy and entropy: what liquid or vapor of this blend becomes
    /// alone.
    ///
    /// Mass fractions stand in the order of [`composition`](Self::composition). Nothing is tabulated for it.
    ///
    /// # Errors
    ///
    /// [`Error::Undefined`] for a refrigerant that is described by one equation, [`Error::WrongLength`], and as for
    /// [`blend`](Self::blend).
    pub fn with_composition(&self, mass_fractions: &[f64]) -> Result<Self> {
        let Substance::Blend(mixed) = &self.inner.substance else {
            let state = "a refrigerant with one equation of state";
            return Err(Error::Undefined { property: "another composition", state });
        };
        let mixed = Mixed::with_composition(mixed, mass_fractions)?;
        let substance = Substance::Blend(Arc::new(mixed));
        Ok(Self::with_zero(substance, self.inner.equation.lowered, self.extrapolate))
    }

    fn with_zero(substance: Substance, [enthalpy, entropy]: [f64; 2], extrapolate: bool) -> Self {
        let equation = substance.equation().lowered(enthalpy, entropy);
        let reference = Reference::OfAnotherComposition;
        let inner = Inner { substance, reference, equation, tables: false, line: OnceLock::new() };
        Self { inner: Arc::new(inner), extrapolate }
    }

    /// What was taken off enthalpy (J/kg) and entropy (J/(kg K)) as the equations of the components have them.
    #[doc(hidden)]
    pub fn zero(&self) -> [f64; 2] {
        self.inner.equation.lowered
    }

    /// The same blend with what [`zero`](Self::zero) said of another one.
    #[doc(hidden)]
    #[must_use]
    pub fn moved_to_zero(&self, zero: [f64; 2]) -> Self {
        Self::with_zero(self.inner.substance.clone(), zero, self.extrapolate)
    }

    /// What the fractions of a blend count, as they were given, and they; `None` but for the mixture model.
    pub fn given_composition(&self) -> Option<(Basis, &[f64])> {
        match &self.inner.substance {
            Substance::Fluid(_) => None,
            Substance::Blend(mixed) => Some((mixed.given.0, &mixed.given.1)),
        }
    }

    /// Mole fractions of the components, in the order of [`composition`](Self::composition); `None` but for the mixture model.
    pub fn mole_fractions(&self) -> Option<&[f64]> {
        match &self.inner.substance {
            Substance::Fluid(_) => None,
            Substance::Blend(mixed) => Some(&mixed.mole_fractions),
        }
    }
}

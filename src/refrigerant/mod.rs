//! The handle users hold: a refrigerant with its equation of state, saturation line and reference.

mod facts;
mod mixed;
mod pairs;
mod phases;
mod reference;
mod streams;
mod substance;

pub use mixed::Basis;
pub use phases::Phases;
pub use reference::Reference;
pub use substance::{Model, PairOfComponents};

use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, LazyLock, Mutex, OnceLock, PoisonError};

use crate::error::{Error, Result, within};
use crate::fluid::{self, Fluid};
use crate::helmholtz::Equation;
use crate::saturation::{Saturation, SaturationLine, largest_residual};
use crate::state::{Derivatives, Flash, Limits, Patches, State};
use reference::in_reference;
use substance::Substance;

/// A refrigerant: cheap to clone, safe to share between threads, never changing.
///
/// All quantities are SI: K, Pa absolute, J/kg, J/(kg K), kg/m3. The saturation line is built at the first
/// use and shared by every handle of the same refrigerant and reference.
///
/// ```
/// use interstage::Refrigerant;
///
/// let refrigerant = Refrigerant::named("r1233zde")?; // case, dashes and brackets do not matter
/// assert_eq!(refrigerant.name(), "R-1233zd(E)");
/// let condensing = refrigerant.saturation_at_temperature(273.15 + 37.0)?;
/// let flashed = refrigerant.state_ph(108.6e3, condensing.liquid().enthalpy())?;
/// assert!(flashed.quality().is_some_and(|x| x > 0.10 && x < 0.11));
/// # Ok::<(), interstage::Error>(())
/// ```
#[derive(Clone)]
pub struct Refrigerant {
    inner: Arc<Inner>,
    extrapolate: bool,
}

struct Inner {
    substance: Substance,
    reference: Reference,
    equation: Equation,
    /// Whether polynomials are fitted to the saturation line of a blend, and patches made.
    tables: bool,
    line: OnceLock<Result<(SaturationLine, Patches)>>,
}

/// Designation, equation and reference.
type Key = (String, &'static str, Reference);

/// Handles of the same refrigerant and reference share their equation and saturation line.
static KNOWN: LazyLock<Mutex<HashMap<Key, Arc<Inner>>>> = LazyLock::new(Mutex::default);

impl Refrigerant {
    /// The refrigerant with a designation such as `R-134a` or another of its names, in its default reference.
    ///
    /// Capitals, dashes, spaces and brackets do not matter, and the R in front may be missing: `r 1336 mzz z`, `134a`.
    ///
    /// # Errors
    ///
    /// [`Error::UnknownRefrigerant`] with the names that come close, if any do.
    pub fn named(name: &str) -> Result<Self> {
        let substance = Substance::named(name)?;
        let reference = substance.default_reference();
        Self::shared(substance, reference, false)
    }

    /// A blend of refrigerants by the mixture model, from their names and their fractions by mass or by amount.
    ///
    /// Liquid and vapor in equilibrium have compositions of their own ([`phases`](Self::phases)): bubble and dew points differ, and
    /// the temperature glides between them. The model combines the equations of state of the components at the same reduced
    /// state; how each two of them mix is published, or the blend is refused.
    ///
    /// ```
    /// use interstage::{Basis, Refrigerant};
    ///
    /// let blend = Refrigerant::blend(&[("R-32", 0.5), ("R-125", 0.5)], Basis::Mass)?;
    /// assert_eq!(blend.name(), "R-32/R-125 (50/50)");
    /// let saturation = blend.saturation_at_temperature(273.15)?;
    /// assert!((saturation.liquid().pressure() - 800.7e3).abs() < 0.1e3);
    /// assert!(saturation.temperature_glide() < 0.2);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::UnknownRefrigerant`]; [`Error::OutOfRange`] for a fraction that is not above 0 and up to 1, and unless there are one
    /// to six components; [`Error::Inconsistent`] where fractions do not add up to 1, a component stands there twice or is a blend
    /// itself, or the model has no line of bubble and dew points for it; [`Error::PairNotPublished`].
    pub fn blend(components: &[(&str, f64)], basis: Basis) -> Result<Self> {
        Self::new(Substance::blend(components, basis)?, Reference::LiquidAt0C, false)
    }

    /// The same refrigerant by another model, in the same reference: a blend with an equation of its own by the mixture model,
    /// or back.
    ///
    /// ```
    /// use interstage::{Model, Refrigerant};
    ///
    /// let blend = Refrigerant::named("R-407C")?;
    /// assert_eq!(blend.model(), Model::PseudoPure);
    /// let mixture = blend.with_model(Model::Mixture)?;
    /// let evaporating = mixture.saturation_at_temperature(278.15)?;
    /// assert!((evaporating.temperature_glide() - 6.2).abs() < 0.5);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::UnknownOption`] with the models there are.
    pub fn with_model(self, model: Model) -> Result<Self> {
        Self::shared(self.inner.substance.by_model(model)?, self.inner.reference, self.extrapolate)
    }

    /// How liquid and vapor are described.
    pub fn model(&self) -> Model {
        self.inner.substance.model()
    }

    /// The same refrigerant with enthalpy and entropy set elsewhere.
    ///
    /// # Errors
    ///
    /// [`Error::ReferenceUnavailable`] where the refrigerant has no such state (water at 0 degC), or where the
    /// paper prints no convention of its own.
    pub fn with_reference(self, reference: Reference) -> Result<Self> {
        Self::shared(self.inner.substance.clone(), reference, self.extrapolate)
    }

    /// The same refrigerant by another of its equations of state, in the same reference.
    ///
    /// The default one never changes its meaning. Older equations stand behind tables printed in their time. A part of the
    /// name that only one of them has is enough: an author, a year.
    ///
    /// ```
    /// use interstage::Refrigerant;
    ///
    /// let newest = Refrigerant::named("R-1234yf")?;
    /// let older = newest.clone().with_equation("Richter et al. 2011")?;
    /// let at = |refrigerant: &Refrigerant| refrigerant.saturation_at_temperature(300.0).map(|s| s.pressure());
    /// assert!((at(&older)? / at(&newest)? - 1.0).abs() < 2e-3);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::UnknownOption`] with the equations there are, [`Error::ReferenceUnavailable`].
    pub fn with_equation(self, equation: &str) -> Result<Self> {
        if self.fluid().is_none() && equation == self.equation_of_state() {
            return Ok(self);
        }
        let fluid =
            fluid::equation(self.own_designation(), equation).ok_or_else(|| Error::UnknownOption {
                argument: "equation of state",
                value: equation.to_owned(),
                options: self.equations().map(String::from).collect(),
            })?;
        Self::shared(Substance::Fluid(fluid), self.inner.reference, self.extrapolate)
    }

    /// Authors and year of the equation of state, or the name of the mixture model.
    pub fn equation_of_state(&self) -> &'static str {
        self.inner.substance.equation_of_state()
    }

    /// The equations of state there are for this refrigerant, the default one first; the name of the mixture model alone for a blend by
    /// it.
    pub fn equations(&self) -> impl Iterator<Item = &'static str> {
        let model = self.fluid().is_none().then(|| self.equation_of_state());
        model.into_iter().chain(fluid::equations(self.own_designation()).map(|fluid| fluid.equation))
    }

    /// Designation of a fluid with an equation of its own; nothing for a blend by the mixture model.
    fn own_designation(&self) -> &'static str {
        self.fluid().map_or("", |fluid| fluid.designation)
    }

    /// The same refrigerant, answering up to 1.5 times the highest temperature and twice the highest pressure
    /// its authors vouch for.
    ///
    /// Some papers print tables beyond their own range. The result is the equation's; nobody states its
    /// uncertainty.
    #[must_use]
    pub fn with_extrapolation(self) -> Self {
        Self { extrapolate: true, ..self }
    }

    /// A handle that shares nothing with others but its clones.
    fn new(substance: Substance, reference: Reference, extrapolate: bool) -> Result<Self> {
        let equation = in_reference(&substance, reference)?;
        let inner = Arc::new(Inner { substance, reference, equation, tables: true, line: OnceLock::new() });
        Ok(Self { inner, extrapolate })
    }

    fn shared(substance: Substance, reference: Reference, extrapolate: bool) -> Result<Self> {
        if !substance.is_named() {
            return Self::new(substance, reference, extrapolate);
        }
        let key = (substance.name().to_owned(), substance.equation_of_state(), reference);
        if let Some(inner) = KNOWN.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return Ok(Self { inner: Arc::clone(inner), extrapolate });
        }
        let made = Self::new(substance, reference, extrapolate)?;
        let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
        let inner = Arc::clone(known.entry(key).or_insert(made.inner));
        Ok(Self { inner, extrapolate })
    }

    /// The fluid with its own equation; `None` for a blend by the mixture model.
    pub(crate) fn fluid(&self) -> Option<&'static Fluid> {
        match self.inner.substance {
            Substance::Fluid(fluid) => Some(fluid),
            Substance::Blend(_) => None,
        }
    }

    pub(crate) fn equation(&self) -> &Equation {
        &self.inner.equation
    }

    /// What rounding of the equation's terms leaves of an enthalpy in units of R T at a temperature (K) and density
    /// (kg/m3). Tests count deviations against it.
    #[doc(hidden)]
    pub fn rounding(&self, temperature: f64, density: f64) -> f64 {
        self.inner.equation.rounding_at(temperature, density)
    }

    /// Where enthalpy and entropy are set.
    pub fn reference(&self) -> Reference {
        self.inner.reference
    }

    /// Whether the handle answers beyond the published range.
    pub fn extrapolates(&self) -> bool {
        self.extrapolate
    }

    /// Builds what is otherwise built at the first use, so that the first answer is as quick as the others.
    ///
    /// # Errors
    ///
    /// [`Error::NotConverged`] if the saturation line cannot be solved.
    pub fn prepare(&self) -> Result<()> {
        self.line().map(|_| ())
    }

    fn solved(&self) -> Result<&(SaturationLine, Patches)> {
        let inner = &*self.inner;
        let solve = || {
            let line = inner.substance.line(&inner.equation, inner.tables)?;
            let patches =
                if inner.tables { Patches::new(&inner.equation, &line)? } else { Patches::default() };
            Ok((line, patches))
        };
        inner.line.get_or_init(solve).as_ref().map_err(Clone::clone)
    }

    #[inline]
    fn line(&self) -> Result<&SaturationLine> {
        Ok(&self.solved()?.0)
    }

    pub(crate) fn flash(&self) -> Result<Flash<'_>> {
        let limits = Limits {
            minimum_temperature: self.minimum_temperature(),
            maximum_temperature: self.maximum_temperature(),
            maximum_pressure: self.maximum_pressure(),
            reason: if self.extrapolate {
                "range of the extrapolating handle"
            } else {
                "validity range of the equation of state"
            },
        };
        let (line, patches) = self.solved()?;
        Ok(Flash { equation: &self.inner.equation, line, patches, limits })
    }

    /// Saturated liquid and vapor at a temperature (K): of a blend each at a pressure of its own.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] outside triple point to critical point; of a pseudo-pure blend outside its lowest published temperature to
    /// 0.998 of the critical one; of one by the mixture model outside its bubble line, which ends at the critical point or where it turns
    /// back.
    pub fn saturation_at_temperature(&self, temperature: f64) -> Result<Saturation> {
        match self.line()?.read_at_temperature(temperature) {
            Some(saturation) => Ok(saturation),
            None => self.saturation_solved_at_temperature(temperature),
        }
    }

    /// The same where it is not read off. Apart, so that what is read off is made where it is wanted: it takes longer to copy.
    #[cold]
    #[inline(never)]
    fn saturation_solved_at_temperature(&self, temperature: f64) -> Result<Saturation> {
        let line = self.line()?;
        line.holds(temperature)
            .and_then(|temperature| line.at_temperature(&self.inner.equation, temperature))
            .map_err(|error| error.of(self.name()))
    }

    /// Saturated liquid and vapor at a pressure (Pa absolute): of a blend each at a temperature of its own, the liquid at the
    /// lowest pressures colder than states are given for.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] outside triple point to critical point; of a pseudo-pure blend outside its coldest published dew point to
    /// its bubble point at 0.998 of the critical temperature; of one by the mixture model below its coldest bubble point and above the
    /// highest pressure that both its lines reach.
    pub fn saturation_at_pressure(&self, pressure: f64) -> Result<Saturation> {
        match self.line()?.read_at_pressure(pressure) {
            Some(saturation) => Ok(saturation),
            None => self.saturation_solved_at_pressure(pressure),
        }
    }

    #[cold]
    #[inline(never)]
    fn saturation_solved_at_pressure(&self, pressure: f64) -> Result<Saturation> {
        self.line()?.at_pressure(&self.inner.equation, pressure).map_err(|error| error.of(self.name()))
    }

    /// Saturation temperature (K) at a pressure (Pa absolute), of a blend its dew temperature: that of
    /// [`saturation_at_pressure`](Self::saturation_at_pressure), in a fraction of the time.
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-134a")?;
    /// let temperature = refrigerant.saturation_temperature(350e3)?;
    /// assert_eq!(temperature, refrigerant.saturation_at_pressure(350e3)?.temperature());
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// As for [`saturation_at_pressure`](Self::saturation_at_pressure).
    pub fn saturation_temperature(&self, pressure: f64) -> Result<f64> {
        let mut result = self.line()?.temperature_at_pressure(&self.inner.equation, pressure);
        if let Err(error) = &mut result {
            error.name(self.name());
        }
        result
    }

    /// Largest residual of saturation as it is given here, between two temperatures (K), at a thousand of them and at the
    /// pressures that belong to them.
    ///
    /// Saturation is read off polynomials fitted to the phase equilibrium of the equation of state. This puts what they say
    /// back into the equation: deviations of the two pressures from each other and from the one that was read, and of the two Gibbs
    /// energies, enthalpies and entropies, scaled (pressure by the larger of itself and `rho (dp/drho)_T`, energies by R T,
    /// entropies by R). `None` for a blend: its bubble and dew curves are published beside its equation, or, by the mixture model,
    /// its phases have compositions of their own.
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-134a")?;
    /// let residual = refrigerant.saturation_residual(268.15, 328.15)?;
    /// assert!(residual.is_some_and(|residual| residual < 1e-13));
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] for a temperature outside triple point to critical point, or a `highest` below `lowest`.
    pub fn saturation_residual(&self, lowest: f64, highest: f64) -> Result<Option<f64>> {
        let lowest = self.saturation_temperature_in_range("lowest", lowest)?;
        let highest = self.saturation_temperature_in_range("highest", highest)?;
        within("highest", highest, lowest, self.line()?.hottest(), "K", "the lowest temperature or above")?;
        if self.composition().is_some() {
            return Ok(None);
        }
        largest_residual(&self.inner.equation, self.line()?, (lowest, highest)).map(Some)
    }

    /// Heat capacities, speed of sound and other slopes at a state of this refrigerant.
    ///
    /// # Errors
    ///
    /// [`Error::Undefined`] inside the dome, where they have no meaning; [`Error::OutOfRange`] and [`Error::Inconsistent`] for
    /// a state of another refrigerant, or of an extrapolating handle beyond the range of this one.
    pub fn derivatives(&self, state: &State) -> Result<Derivatives> {
        let (temperature, pressure, density) = (state.temperature(), state.pressure(), state.density());
        let of_name = |error: Error| error.of(self.name());
        let flash = self.flash()?;
        flash.may_have_slopes(state.phase(), temperature, pressure, density).map_err(of_name)?;
        flash.slopes(pressure, &self.inner.equation.at(temperature, density)).map_err(of_name)
    }

    /// State at temperature (K) and density (kg/m3) with its slopes, `None` of them inside the dome: what
    /// [`state_t_rho`](Self::state_t_rho) and [`derivatives`](Self::derivatives) give, from one look at the equation of state.
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-134a")?;
    /// let (vapor, slopes) = refrigerant.state_with_derivatives(300.0, 10.0)?;
    /// assert!(slopes.is_some_and(|slopes| slopes.cp() > slopes.cv()));
    /// assert_eq!(vapor, refrigerant.state_t_rho(300.0, 10.0)?);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    ///
    /// # Errors
    ///
    /// As for [`state_t_rho`](Self::state_t_rho).
    pub fn state_with_derivatives(
        &self,
        temperature: f64,
        density: f64,
    ) -> Result<(State, Option<Derivatives>)> {
        let flash = self.flash()?;
        let of_name = |error: Error| error.of(self.name());
        if let Some(state) = flash.t_rho_from_line(temperature, density).map_err(of_name)? {
            return match self.derivatives(&state) {
                Ok(slopes) => Ok((state, Some(slopes))),
                Err(Error::Undefined { .. }) => Ok((state, None)),
                Err(error) => Err(error),
            };
        }
        let at = self.inner.equation.at(temperature, density);
        let state = flash.t_rho_from_equation(&at).map_err(of_name)?;
        match flash.slopes(state.pressure(), &at) {
            Ok(slopes) => Ok((state, Some(slopes))),
            Err(Error::Undefined { .. }) => Ok((state, None)),
            Err(error) => Err(of_name(error)),
        }
    }
}

impl fmt::Debug for Refrigerant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Refrigerant")
            .field("name", &self.name())
            .field("equation", &self.equation_of_state())
            .field("reference", &self.reference())
            .field("extrapolates", &self.extrapolate)
            .finish()
    }
}

impl PartialEq for Refrigerant {
    fn eq(&self, other: &Self) -> bool {
        let of = |one: &Self| {
            (one.equation_of_state(), one.reference(), one.extrapolate, one.inner.equation.lowered)
        };
        self.name() == other.name()
            && of(self) == of(other)
            && self.given_composition() == other.given_composition()
    }
}

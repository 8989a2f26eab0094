//! The handle users hold: a refrigerant with its equation of state, saturation line and reference.

use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, LazyLock, Mutex, OnceLock, PoisonError};

use crate::error::{Error, Result, within};
use crate::fluid::{self, Citation, DefaultReference, Environment, Fluid};
use crate::helmholtz::{Equation, rounding};
use crate::numeric::Real;
use crate::saturation::{Saturation, SaturationLine, largest_residual, saturated_liquid};
use crate::state::{Derivatives, Flash, Limits, Patches, Phase, Property, SaturatedStreams, State, Stream};
use crate::units::STANDARD_ATMOSPHERE;

/// Where enthalpy and entropy are set.
///
/// Printed tables differ in this; only differences have a meaning. Values of two references, or of two
/// refrigerants, must never be mixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Reference {
    /// 200 kJ/kg and 1 kJ/(kg K) for saturated liquid at 0 degC: the default of every refrigerant but water.
    LiquidAt0C,
    /// Zero for saturated liquid at -40 degC, as many tables in inch-pound units have it.
    LiquidAtMinus40C,
    /// Zero for saturated liquid at the normal boiling point.
    LiquidAtNormalBoilingPoint,
    /// The convention of the paper, where the paper prints one: the default of water (internal energy and
    /// entropy of saturated liquid are zero at the triple point).
    AsPublished,
}

impl fmt::Display for Reference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

impl Reference {
    fn text(self) -> &'static str {
        match self {
            Self::LiquidAt0C => "liquid at 0 degC",
            Self::LiquidAtMinus40C => "liquid at -40 degC",
            Self::LiquidAtNormalBoilingPoint => "liquid at normal boiling point",
            Self::AsPublished => "as published",
        }
    }
}

/// How far beyond the published range an extrapolating handle goes, as factors on temperature and pressure.
const EXTRAPOLATION: (f64, f64) = (1.5, 2.0);

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
    fluid: &'static Fluid,
    reference: Reference,
    equation: Equation,
    line: OnceLock<Result<(SaturationLine, Patches)>>,
}

/// Designation, equation and reference.
type Key = (&'static str, &'static str, Reference);

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
        let fluid = fluid::find(name)?;
        let reference = match fluid.default_reference {
            DefaultReference::LiquidAt0C => Reference::LiquidAt0C,
            DefaultReference::AsPublished => Reference::AsPublished,
        };
        Self::shared(fluid, reference, false)
    }

    /// The same refrigerant with enthalpy and entropy set elsewhere.
    ///
    /// # Errors
    ///
    /// [`Error::ReferenceUnavailable`] where the refrigerant has no such state (water at 0 degC), or where the
    /// paper prints no convention of its own.
    pub fn with_reference(self, reference: Reference) -> Result<Self> {
        Self::shared(self.inner.fluid, reference, self.extrapolate)
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
        let fluid = fluid::equation(self.name(), equation).ok_or_else(|| Error::UnknownOption {
            argument: "equation of state",
            value: equation.to_owned(),
            options: self.equations().map(String::from).collect(),
        })?;
        Self::shared(fluid, self.inner.reference, self.extrapolate)
    }

    /// Authors and year of the equation of state.
    pub fn equation_of_state(&self) -> &'static str {
        self.inner.fluid.equation
    }

    /// The equations of state there are for this refrigerant, the default one first.
    pub fn equations(&self) -> impl Iterator<Item = &'static str> {
        fluid::equations(self.name()).map(|fluid| fluid.equation)
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

    /// Designations of every refrigerant there is.
    ///
    /// The limits are those within which the authors of the equation of state vouch for it; safety classes are those of
    /// ASHRAE 34, from memory ([`environment`](Self::environment) has the source of each datum). A blend boils from
    /// its bubble point to its dew point.
    ///
    #[doc = include_str!("fluid/refrigerants.md")]
    pub fn catalogue() -> impl Iterator<Item = &'static str> {
        fluid::FLUIDS.iter().map(|fluid| fluid.designation)
    }

    fn shared(fluid: &'static Fluid, reference: Reference, extrapolate: bool) -> Result<Self> {
        let key = (fluid.designation, fluid.equation, reference);
        if let Some(inner) = KNOWN.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return Ok(Self { inner: Arc::clone(inner), extrapolate });
        }
        let equation = in_reference(fluid, reference)?;
        let inner = Arc::new(Inner { fluid, reference, equation, line: OnceLock::new() });
        let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
        let inner = Arc::clone(known.entry(key).or_insert(inner));
        Ok(Self { inner, extrapolate })
    }

    pub(crate) fn fluid(&self) -> &'static Fluid {
        self.inner.fluid
    }

    pub(crate) fn equation(&self) -> &Equation {
        &self.inner.equation
    }

    /// ASHRAE 34 designation.
    #[expect(
        clippy::misnamed_getters,
        reason = "users ask a refrigerant for its name and mean its designation"
    )]
    pub fn name(&self) -> &'static str {
        self.inner.fluid.designation
    }

    /// Chemical name.
    pub fn chemical_name(&self) -> &'static str {
        self.inner.fluid.name
    }

    /// Sum formula; `None` for a blend.
    pub fn formula(&self) -> Option<&'static str> {
        self.inner.fluid.formula
    }

    /// CAS registry number; `None` for a blend.
    pub fn cas(&self) -> Option<&'static str> {
        self.inner.fluid.cas
    }

    /// Components of a blend with their mass fractions; `None` for a pure fluid.
    ///
    /// A blend is described as a pseudo-pure fluid: one equation of state for its fixed composition, with published curves
    /// for the pressures of saturated liquid and saturated vapor. Between those the temperature at constant pressure glides
    /// in proportion to quality. What it cannot tell is the composition of either phase: a blend is refused where
    /// liquid and vapor part, as in a flash tank.
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-407C")?;
    /// let components = refrigerant.composition().unwrap_or_default();
    /// assert_eq!(components, [("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)]);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn composition(&self) -> Option<&'static [(&'static str, f64)]> {
        self.inner.fluid.blend.as_ref().map(|blend| blend.composition)
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        self.inner.fluid.molar_mass
    }

    /// Specific gas constant, J/(kg K), with the molar gas constant that the equation was fitted with.
    pub fn gas_constant(&self) -> f64 {
        self.inner.equation.gas_constant
    }

    /// What rounding of the equation's terms leaves of an enthalpy in units of R T at a temperature (K) and density
    /// (kg/m3). Tests count deviations against it.
    #[doc(hidden)]
    pub fn rounding(&self, temperature: f64, density: f64) -> f64 {
        rounding(self.inner.fluid, temperature, density)
    }

    /// The paper the equation of state comes from.
    pub fn citation(&self) -> &'static Citation {
        &self.inner.fluid.citation
    }

    /// The uncertainty of the equation, and where that statement was read; `None` where it is not known here.
    pub fn uncertainty(&self) -> Option<(&'static str, &'static str)> {
        self.inner.fluid.uncertainty
    }

    /// ASHRAE 34 safety class, from memory: check the current edition.
    pub fn safety_class(&self) -> Option<&'static str> {
        self.inner.fluid.environment.safety_class
    }

    /// Safety class, ozone depletion and global warming potential, each with its source.
    pub fn environment(&self) -> &'static Environment {
        &self.inner.fluid.environment
    }

    /// Where enthalpy and entropy are set.
    pub fn reference(&self) -> Reference {
        self.inner.reference
    }

    /// Whether the handle answers beyond the published range.
    pub fn extrapolates(&self) -> bool {
        self.extrapolate
    }

    /// Critical temperature of the equation of state, K: the top of its saturation line.
    pub fn critical_temperature(&self) -> f64 {
        self.inner.fluid.critical.temperature
    }

    /// Critical pressure of the equation of state, Pa: the top of its saturation line.
    pub fn critical_pressure(&self) -> f64 {
        self.line().map_or(self.inner.fluid.critical.pressure, SaturationLine::critical_pressure)
    }

    /// Critical density of the equation of state, kg/m3.
    pub fn critical_density(&self) -> f64 {
        self.inner.fluid.critical.molar_density * self.inner.fluid.molar_mass
    }

    /// Triple-point temperature, K; `None` where none is known with the equation, and for a blend.
    pub fn triple_temperature(&self) -> Option<f64> {
        let coldest = &self.inner.fluid.coldest;
        coldest.is_triple.then_some(coldest.temperature)
    }

    /// Saturation pressure at the triple point, Pa absolute; `None` where none is known with the equation, and for a blend.
    pub fn triple_pressure(&self) -> Option<f64> {
        let coldest = &self.inner.fluid.coldest;
        coldest.is_triple.then(|| self.minimum_saturation_pressure())
    }

    /// Lower end of the saturation line, K: the triple point, or where the equation, or the curves of a blend, begin.
    pub fn minimum_saturation_temperature(&self) -> f64 {
        self.inner.fluid.coldest.temperature
    }

    /// Saturation pressure there, Pa absolute; of a blend its dew pressure.
    pub fn minimum_saturation_pressure(&self) -> f64 {
        self.line().map_or(self.inner.fluid.coldest.pressure, SaturationLine::coldest_pressure)
    }

    /// Temperature of saturated liquid at a standard atmosphere, K: of a blend the bubble point.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] for a refrigerant whose saturation line does not reach the standard atmosphere.
    pub fn normal_boiling_point(&self) -> Result<f64> {
        Ok(self.saturation_at_pressure(STANDARD_ATMOSPHERE)?.liquid().temperature())
    }

    /// Lowest temperature the authors vouch for, K.
    pub fn minimum_temperature(&self) -> f64 {
        self.inner.fluid.validity.minimum_temperature
    }

    /// Highest temperature the handle answers at, K.
    pub fn maximum_temperature(&self) -> f64 {
        let published = self.inner.fluid.validity.maximum_temperature;
        if self.extrapolate { EXTRAPOLATION.0 * published } else { published }
    }

    /// Highest pressure the handle answers at, Pa.
    pub fn maximum_pressure(&self) -> f64 {
        let published = self.inner.fluid.validity.maximum_pressure;
        if self.extrapolate { EXTRAPOLATION.1 * published } else { published }
    }

    /// Where the validity range was read.
    pub fn validity_source(&self) -> &'static str {
        self.inner.fluid.validity.source
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
            let line = SaturationLine::new(&inner.equation, inner.fluid)?;
            let patches = Patches::new(&inner.equation, &line)?;
            Ok((line, patches))
        };
        inner.line.get_or_init(solve).as_ref().map_err(Clone::clone)
    }

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
    /// [`Error::OutOfRange`] outside triple point to critical point; of a blend outside its lowest published temperature to
    /// 0.998 of the critical one.
    pub fn saturation_at_temperature(&self, temperature: f64) -> Result<Saturation> {
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
    /// [`Error::OutOfRange`] outside triple point to critical point; of a blend outside its coldest published dew point to
    /// its bubble point at 0.998 of the critical temperature.
    pub fn saturation_at_pressure(&self, pressure: f64) -> Result<Saturation> {
        self.line()?.at_pressure(&self.inner.equation, pressure).map_err(|error| error.of(self.name()))
    }

    /// Largest residual of saturation as it is given here, between two temperatures (K), at a thousand of them and at the
    /// pressures that belong to them.
    ///
    /// Saturation is read off polynomials fitted to the phase equilibrium of the equation of state. This puts what they say
    /// back into the equation: deviations of the two pressures from each other and from the one that was read, and of the two Gibbs
    /// energies, enthalpies and entropies, scaled (pressure by the larger of itself and `rho (dp/drho)_T`, energies by R T,
    /// entropies by R). `None` for a blend, whose bubble and dew curves are published beside its equation.
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
}

/// The equation with its two integration constants set for a reference.
fn in_reference(fluid: &'static Fluid, reference: Reference) -> Result<Equation> {
    let unavailable = |reason: String| Error::ReferenceUnavailable {
        refrigerant: fluid.designation,
        reference: reference.text(),
        reason,
    };
    let published = (fluid.ideal_gas.constant, fluid.ideal_gas.linear);
    let base = Equation::new(fluid, published);
    let at_temperature = |temperature: f64, h: f64, s: f64| {
        if temperature < fluid.coldest.temperature {
            let coldest = fluid.coldest.temperature;
            return Err(unavailable(match fluid.blend {
                None if fluid.coldest.is_triple => format!("it freezes at {coldest} K"),
                None => format!("its equation begins at {coldest} K"),
                Some(_) => format!("its bubble curve begins at {coldest} K"),
            }));
        }
        let liquid = saturated_liquid(&base, fluid, temperature)?;
        Ok((liquid.enthalpy - h, liquid.entropy - s))
    };
    let (h, s) = match reference {
        Reference::AsPublished => {
            let constants = fluid
                .as_published
                .ok_or_else(|| unavailable("the paper's own convention is not recorded".to_owned()))?;
            return Ok(Equation::new(fluid, constants));
        }
        Reference::LiquidAt0C => at_temperature(273.15, 200e3, 1e3)?,
        Reference::LiquidAtMinus40C => at_temperature(233.15, 0.0, 0.0)?,
        Reference::LiquidAtNormalBoilingPoint if fluid.coldest.pressure > STANDARD_ATMOSPHERE => {
            return Err(unavailable(format!(
                "it has no normal boiling point: no liquid exists below {} Pa, {} K",
                fluid.coldest.pressure, fluid.coldest.temperature
            )));
        }
        Reference::LiquidAtNormalBoilingPoint => {
            let liquid = SaturationLine::new(&base, fluid)?.at_pressure(&base, STANDARD_ATMOSPHERE)?.liquid;
            (liquid.enthalpy, liquid.entropy)
        }
    };
    Ok(base.lowered(h, s))
}

macro_rules! pairs {
    ($($(#[$doc:meta])* $name:ident($first:ident, $second:ident) = $flash:expr;)*) => {
        /// A state from two of its properties; the arguments stand in the order of the name.
        ///
        /// Every method checks its arguments ([`Error::NotFinite`], [`Error::OutOfRange`]), decides the phase and
        /// solves the equation of state to a few units in the last place. What was given is returned unchanged.
        impl Refrigerant {
            $(
                $(#[$doc])*
                ///
                /// # Errors
                ///
                /// [`Error::NotFinite`], [`Error::OutOfRange`], [`Error::Inconsistent`] if no state has both, and
                /// [`Error::NotConverged`] if the solver fails.
                pub fn $name(&self, $first: f64, $second: f64) -> Result<State> {
                    let flash = self.flash()?;
                    $flash(&flash, $first, $second).map_err(|error: Error| error.of(self.name()))
                }
            )*
        }
    };
}

pairs! {
    /// State at pressure (Pa) and temperature (K). On the saturation line itself: saturated vapor.
    state_pt(pressure, temperature) = |f: &Flash<'_>, p, t| f.pt(p, t);
    /// State at pressure (Pa) and specific enthalpy (J/kg).
    state_ph(pressure, enthalpy) = |f: &Flash<'_>, p, h| f.at_pressure(p, Property::Enthalpy, h);
    /// State at pressure (Pa) and specific entropy (J/(kg K)).
    state_ps(pressure, entropy) = |f: &Flash<'_>, p, s| f.at_pressure(p, Property::Entropy, s);
    /// State at pressure (Pa) and specific internal energy (J/kg).
    state_pu(pressure, internal_energy) = |f: &Flash<'_>, p, u| f.at_pressure(p, Property::InternalEnergy, u);
    /// State at specific enthalpy (J/kg) and specific entropy (J/(kg K)). Of several solutions (cold blends next to
    /// the bubble curve) the liquid.
    state_hs(enthalpy, entropy) = |f: &Flash<'_>, h, s| f.hs(h, s);
    /// State at temperature (K) and specific entropy (J/(kg K)). Of several solutions that of lowest pressure.
    state_ts(temperature, entropy) = |f: &Flash<'_>, t, s| f.at_temperature(t, Property::Entropy, s);
    /// State at temperature (K) and specific enthalpy (J/kg). Of several solutions that of lowest pressure.
    state_th(temperature, enthalpy) = |f: &Flash<'_>, t, h| f.at_temperature(t, Property::Enthalpy, h);
    /// State at temperature (K) and specific internal energy (J/kg). Of several solutions that of lowest pressure.
    state_tu(temperature, internal_energy) = |f: &Flash<'_>, t, u| f.at_temperature(t, Property::InternalEnergy, u);
    /// State at temperature (K) and density (kg/m3).
    state_t_rho(temperature, density) = |f: &Flash<'_>, t, rho| f.t_rho(t, rho);
    /// State at density (kg/m3) and pressure (Pa). Of two solutions (liquid water near 4 degC) the warmer one.
    state_rho_p(density, pressure) = |f: &Flash<'_>, rho, p| f.rho_p(rho, p);
    /// State at density (kg/m3) and specific enthalpy (J/kg).
    state_rho_h(density, enthalpy) = |f: &Flash<'_>, rho, h| f.at_density(rho, Property::Enthalpy, h);
    /// State at density (kg/m3) and specific entropy (J/(kg K)).
    state_rho_s(density, entropy) = |f: &Flash<'_>, rho, s| f.at_density(rho, Property::Entropy, s);
    /// State at density (kg/m3) and specific internal energy (J/kg).
    state_rho_u(density, internal_energy) = |f: &Flash<'_>, rho, u| f.at_density(rho, Property::InternalEnergy, u);
    /// State at pressure (Pa) and quality (mass fraction of vapor, 0 to 1).
    state_px(pressure, quality) = |f: &Flash<'_>, p, x| f.px(p, x);
    /// State at temperature (K) and quality (mass fraction of vapor, 0 to 1).
    state_tx(temperature, quality) = |f: &Flash<'_>, t, x| f.tx(t, x);
}

/// What components and cycles ask for, over any [`Real`].
impl Refrigerant {
    /// Saturation with derivatives for states that mix liquid and vapor.
    fn mixed(&self, state: &State) -> Option<Saturation> {
        (state.phase() == Phase::TwoPhase)
            .then(|| self.saturation_at_pressure(state.pressure()).ok())
            .flatten()
    }

    fn lift<R: Real>(
        &self,
        state: State,
        pair: (R, R),
        lift: fn(&Equation, Option<Saturation>, State, R, R) -> Stream<R>,
    ) -> Stream<R> {
        let saturation = if R::CARRIES_DERIVATIVES { self.mixed(&state) } else { None };
        lift(&self.inner.equation, saturation, state, pair.0, pair.1)
    }

    pub(crate) fn stream_ph<R: Real>(&self, pressure: R, enthalpy: R) -> Result<Stream<R>> {
        let state = self.state_ph(pressure.value(), enthalpy.value())?;
        Ok(self.lift(state, (pressure, enthalpy), Stream::from_ph))
    }

    /// A state that is known already, as a function of its pressure and enthalpy. Not for two-phase states.
    pub(crate) fn stream_of<R: Real>(&self, state: State, pressure: R, enthalpy: R) -> Stream<R> {
        Stream::from_ph(&self.inner.equation, None, state, pressure, enthalpy)
    }

    pub(crate) fn stream_ps<R: Real>(&self, pressure: R, entropy: R) -> Result<Stream<R>> {
        let state = self.state_ps(pressure.value(), entropy.value())?;
        Ok(self.lift(state, (pressure, entropy), Stream::from_ps))
    }

    pub(crate) fn stream_pt<R: Real>(&self, pressure: R, temperature: R) -> Result<Stream<R>> {
        let state = self.state_pt(pressure.value(), temperature.value())?;
        Ok(Stream::from_pt(&self.inner.equation, state, pressure, temperature))
    }

    /// Both phases at the pressure at which vapor is saturated at a temperature (K).
    ///
    /// Evaporating and condensing temperature of a blend are dew temperatures; its liquid is colder.
    pub(crate) fn saturation_at_dew_temperature(&self, temperature: f64) -> Result<Saturation> {
        let mut saturation = self.saturation_at_temperature(temperature)?;
        if saturation.glide.is_some() {
            saturation = self.saturation_at_pressure(saturation.pressure())?;
            saturation.vapor.temperature = temperature;
        }
        Ok(saturation)
    }

    pub(crate) fn saturated_at_temperature<R: Real>(&self, temperature: R) -> Result<SaturatedStreams<R>> {
        let saturation = self.saturation_at_dew_temperature(temperature.value())?;
        Ok(SaturatedStreams::new(&self.inner.equation, &saturation, temperature, true))
    }

    pub(crate) fn saturated_at_pressure<R: Real>(&self, pressure: R) -> Result<SaturatedStreams<R>> {
        let saturation = self.saturation_at_pressure(pressure.value())?;
        Ok(SaturatedStreams::new(&self.inner.equation, &saturation, pressure, false))
    }

    /// Refuses a saturation temperature outside the saturation line, under the argument's own name.
    pub(crate) fn saturation_temperature_in_range(
        &self,
        argument: &'static str,
        temperature: f64,
    ) -> Result<f64> {
        let (minimum, maximum) = (self.minimum_saturation_temperature(), self.line()?.hottest());
        let reason = match self.composition() {
            None => format!("{} to critical point of {}", self.inner.fluid.coldest.name(), self.name()),
            Some(_) => format!("published dew points of {}, just short of the critical point", self.name()),
        };
        within(argument, temperature, minimum, maximum, "K", &reason)
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
        (self.name(), self.equation_of_state(), self.reference(), self.extrapolate)
            == (other.name(), other.equation_of_state(), other.reference(), other.extrapolate)
    }
}

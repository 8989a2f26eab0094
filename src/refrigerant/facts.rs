//! What is known of a refrigerant beside its states: names, papers, environment, where it begins and ends.

use super::{PairOfComponents, Refrigerant};
use crate::error::Result;
use crate::fluid::{self, Citation, Environment};
use crate::saturation::SaturationLine;
use crate::units::STANDARD_ATMOSPHERE;

/// How far beyond the published range an extrapolating handle goes, as factors on temperature and pressure.
const EXTRAPOLATION: (f64, f64) = (1.5, 2.0);

/// What there is, and what is known of it.
impl Refrigerant {
    /// Designations of every refrigerant with an equation of state of its own; [`blends`](Self::blends) has the other names.
    ///
    /// The limits are those within which the authors of the equation of state vouch for it; safety classes are those of
    /// ASHRAE 34, from memory ([`environment`](Self::environment) has the source of each datum). A blend boils from
    /// its bubble point to its dew point.
    ///
    #[doc = include_str!("../fluid/refrigerants.md")]
    pub fn catalogue() -> impl Iterator<Item = &'static str> {
        fluid::FLUIDS.iter().map(|fluid| fluid.designation)
    }

    /// Designations of the blends there are by the mixture model; compositions are those of ASHRAE 34, from memory.
    ///
    /// R-404A, R-407C, R-410A and R-507A have equations of their own and stand in the [`catalogue`](Self::catalogue);
    /// [`with_model`](Self::with_model) gives them by the mixture model.
    pub fn blends() -> impl Iterator<Item = &'static str> {
        fluid::BLENDS.iter().map(|blend| blend.designation)
    }

    /// How the components of a blend by the mixture model mix, pair by pair, and how well that is known; empty for others.
    ///
    /// ```
    /// let blend = interstage::Refrigerant::named("R-448A")?;
    /// let pairs = blend.component_pairs();
    /// assert_eq!(pairs.len(), 10);
    /// // Some of its pairs are known from few data.
    /// assert!(pairs.iter().any(|pair| pair.fit != "fitted reference model"));
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn component_pairs(&self) -> Vec<PairOfComponents> {
        self.inner.substance.mixing()
    }

    /// The papers behind the pairs of the mixture model.
    pub fn pair_citations() -> impl Iterator<Item = &'static Citation> {
        fluid::pair_citations()
    }

    /// ASHRAE 34 designation; of a blend without one its components and their percentages by mass.
    pub fn name(&self) -> &str {
        self.inner.substance.name()
    }

    /// Chemical name; of a blend its components and their percentages by mass.
    pub fn chemical_name(&self) -> &str {
        self.inner.substance.chemical_name()
    }

    /// Sum formula; `None` for a blend.
    pub fn formula(&self) -> Option<&'static str> {
        self.fluid()?.formula
    }

    /// CAS registry number; `None` for a blend.
    pub fn cas(&self) -> Option<&'static str> {
        self.fluid()?.cas
    }

    /// Components of a blend with their mass fractions; `None` for a pure fluid.
    ///
    /// Described as a pseudo-pure fluid a blend has one equation of state for its fixed composition, with published curves
    /// for the pressures of saturated liquid and saturated vapor. Between those the temperature at constant pressure glides
    /// in proportion to quality. What that cannot tell is the composition of either phase; the
    /// [mixture model](super::Model::Mixture) can.
    ///
    /// ```
    /// let refrigerant = interstage::Refrigerant::named("R-407C")?;
    /// let components = refrigerant.composition().unwrap_or_default();
    /// assert_eq!(components, [("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)]);
    /// # Ok::<(), interstage::Error>(())
    /// ```
    pub fn composition(&self) -> Option<&[(&'static str, f64)]> {
        self.inner.substance.composition()
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        self.inner.substance.molar_mass()
    }

    /// Specific gas constant, J/(kg K), with the molar gas constant that the equation was fitted with.
    pub fn gas_constant(&self) -> f64 {
        self.inner.equation.gas_constant
    }

    /// The paper the equation of state comes from; of a blend by the mixture model the first of its
    /// [`citations`](Self::citations).
    pub fn citation(&self) -> &'static Citation {
        self.inner.substance.citation()
    }

    /// Every paper behind the figures: one, or of a blend by the mixture model those of its pairs and of its components.
    pub fn citations(&self) -> Vec<&'static Citation> {
        self.inner.substance.citations()
    }

    /// The uncertainty of the equation, and where that statement was read; `None` where it is not known here.
    pub fn uncertainty(&self) -> Option<(&'static str, &'static str)> {
        self.fluid()?.uncertainty
    }

    /// ASHRAE 34 safety class, from memory: check the current edition.
    pub fn safety_class(&self) -> Option<&'static str> {
        self.inner.substance.environment().safety_class
    }

    /// Safety class, ozone depletion and global warming potential, each with its source.
    pub fn environment(&self) -> &Environment {
        self.inner.substance.environment()
    }

    /// Critical temperature of the equation of state, K: the top of its saturation line; of a blend by the mixture model where bubble
    /// and dew line meet, NaN where its phases fall apart before they do (R-514A).
    pub fn critical_temperature(&self) -> f64 {
        self.inner.substance.critical().temperature
    }

    /// Critical pressure of the equation of state, Pa: the top of its saturation line; NaN where the critical temperature is.
    pub fn critical_pressure(&self) -> f64 {
        match self.fluid() {
            Some(fluid) => self.line().map_or(fluid.critical.pressure, SaturationLine::critical_pressure),
            None => self.inner.substance.critical().pressure,
        }
    }

    /// Critical density of the equation of state, kg/m3; NaN where the critical temperature is.
    pub fn critical_density(&self) -> f64 {
        self.inner.substance.critical().density
    }

    /// Triple-point temperature, K; `None` where none is known with the equation, and for a blend.
    pub fn triple_temperature(&self) -> Option<f64> {
        let coldest = &self.fluid()?.coldest;
        coldest.is_triple.then_some(coldest.temperature)
    }

    /// Saturation pressure at the triple point, Pa absolute; `None` where none is known with the equation, and for a blend.
    pub fn triple_pressure(&self) -> Option<f64> {
        let coldest = &self.fluid()?.coldest;
        coldest.is_triple.then(|| self.minimum_saturation_pressure())
    }

    /// Lower end of the saturation line, K: the triple point, or where the equation, or the curves of a blend, begin; by the mixture
    /// model where all components have liquid and that does not fall apart.
    pub fn minimum_saturation_temperature(&self) -> f64 {
        self.inner.substance.coldest().0
    }

    /// Saturation pressure there, Pa absolute; of a blend its dew pressure.
    pub fn minimum_saturation_pressure(&self) -> f64 {
        self.line().map_or(self.inner.substance.coldest().1, SaturationLine::coldest_pressure)
    }

    /// Temperature of saturated liquid at a standard atmosphere, K: of a blend the bubble point.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`](crate::Error::OutOfRange) for a refrigerant whose saturation line does not reach the standard atmosphere.
    pub fn normal_boiling_point(&self) -> Result<f64> {
        Ok(self.saturation_at_pressure(STANDARD_ATMOSPHERE)?.liquid().temperature())
    }

    /// Lowest temperature the authors vouch for, K.
    pub fn minimum_temperature(&self) -> f64 {
        self.inner.substance.limits().minimum_temperature
    }

    /// Highest temperature the handle answers at, K.
    pub fn maximum_temperature(&self) -> f64 {
        let published = self.inner.substance.limits().maximum_temperature;
        if self.extrapolate { EXTRAPOLATION.0 * published } else { published }
    }

    /// Highest pressure the handle answers at, Pa.
    pub fn maximum_pressure(&self) -> f64 {
        let published = self.inner.substance.limits().maximum_pressure;
        if self.extrapolate { EXTRAPOLATION.1 * published } else { published }
    }

    /// Where the validity range was read.
    pub fn validity_source(&self) -> &'static str {
        self.inner.substance.limits().source
    }
}

//! What a refrigerant is made of, and what is known of it beside its equation.

use std::fmt;
use std::sync::Arc;

use super::Reference;
use super::mixed::{Basis, Mixed};
use crate::error::{Error, Result};
use crate::fluid::{self, Citation, DefaultReference, Environment, Fluid, NamedBlend};
use crate::helmholtz::{Equation, Thermo};
use crate::saturation::{SaturationLine, saturated_liquid};

/// How liquid and vapor of a refrigerant are described.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Model {
    /// One equation of state of one fluid.
    Pure,
    /// One equation of state of a blend at its fixed composition, with published curves of its bubble and dew pressures.
    PseudoPure,
    /// The equations of state of the components and how they mix: liquid and vapor have compositions of their own.
    Mixture,
}

impl Model {
    /// Its name in a word or two.
    pub fn text(self) -> &'static str {
        match self {
            Self::Pure => "pure",
            Self::PseudoPure => "pseudo-pure",
            Self::Mixture => "mixture",
        }
    }
}

impl fmt::Display for Model {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

/// How two components of a blend mix, and how well that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct PairOfComponents {
    /// Designation of one.
    pub first: &'static str,
    /// Designation of the other.
    pub second: &'static str,
    /// What kind of fit the parameters come from: a reference model, or one or two parameters from few data.
    pub fit: &'static str,
    /// The paper.
    pub citation: &'static Citation,
}

/// One fluid, or a blend by the mixture model.
#[derive(Debug, Clone)]
pub(super) enum Substance {
    Fluid(&'static Fluid),
    Blend(Arc<Mixed>),
}

/// The published range, K and Pa, and where it was read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    pub(super) minimum_temperature: f64,
    pub(super) maximum_temperature: f64,
    pub(super) maximum_pressure: f64,
    pub(super) source: &'static str,
}

/// A point at an end of the saturation line: K, Pa, kg/m3.
#[derive(Debug, Clone, Copy)]
pub(super) struct End {
    pub(super) temperature: f64,
    pub(super) pressure: f64,
    pub(super) density: f64,
}

impl Substance {
    /// A fluid or blend by its name.
    pub(super) fn named(name: &str) -> Result<Self> {
        match fluid::named(name)? {
            fluid::Named::Fluid(fluid) => Ok(Self::Fluid(fluid)),
            fluid::Named::Blend(blend) => Self::named_blend(blend),
        }
    }

    /// The mixture model of a blend that has a designation.
    fn named_blend(blend: &'static NamedBlend) -> Result<Self> {
        let mut mixed = Mixed::new(blend.composition, Basis::Mass)?;
        blend.designation.clone_into(&mut mixed.name);
        mixed.environment.safety_class = Some(blend.safety_class);
        mixed.environment.safety_source = "ASHRAE 34, from memory";
        Ok(Self::Blend(Arc::new(mixed)))
    }

    /// A blend of components by name.
    pub(super) fn blend(components: &[(&str, f64)], basis: Basis) -> Result<Self> {
        let known = components.iter().map(|(name, fraction)| match fluid::named(name)? {
            fluid::Named::Fluid(fluid) => Ok((fluid.designation, *fraction)),
            fluid::Named::Blend(blend) => Err(Error::Inconsistent {
                arguments: "components",
                reason: format!("{} is a blend itself; name its components", blend.designation),
            }),
        });
        Ok(Self::Blend(Arc::new(Mixed::new(&known.collect::<Result<Vec<_>>>()?, basis)?)))
    }

    /// The same by another model.
    pub(super) fn by_model(&self, model: Model) -> Result<Self> {
        match (self, model) {
            (Self::Fluid(fluid), Model::Mixture) if let Some(blend) = &fluid.blend => {
                let mut mixed = Mixed::new(blend.composition, Basis::Mass)?;
                fluid.designation.clone_into(&mut mixed.name);
                fluid.name.clone_into(&mut mixed.description);
                mixed.environment = fluid.environment;
                Ok(Self::Blend(Arc::new(mixed)))
            }
            (Self::Blend(mixed), Model::PseudoPure) => match fluid::named(&mixed.name) {
                Ok(fluid::Named::Fluid(fluid)) if fluid.blend.is_some() => Ok(Self::Fluid(fluid)),
                _ => Err(self.without(model)),
            },
            (substance, model) if substance.model() == model => Ok(substance.clone()),
            _ => Err(self.without(model)),
        }
    }

    fn without(&self, model: Model) -> Error {
        let options: &[Model] = match self {
            Self::Fluid(fluid) if fluid.blend.is_some() => &[Model::PseudoPure, Model::Mixture],
            Self::Fluid(_) => &[Model::Pure],
            Self::Blend(_) => &[Model::Mixture],
        };
        Error::UnknownOption {
            argument: "model",
            value: model.to_string(),
            options: options.iter().map(ToString::to_string).collect(),
        }
    }

    pub(super) fn model(&self) -> Model {
        match self {
            Self::Fluid(fluid) if fluid.blend.is_some() => Model::PseudoPure,
            Self::Fluid(_) => Model::Pure,
            Self::Blend(_) => Model::Mixture,
        }
    }

    pub(super) fn default_reference(&self) -> Reference {
        match self {
            Self::Fluid(Fluid { default_reference: DefaultReference::AsPublished, .. }) => {
                Reference::AsPublished
            }
            _ => Reference::LiquidAt0C,
        }
    }

    pub(super) fn name(&self) -> &str {
        match self {
            Self::Fluid(fluid) => fluid.designation,
            Self::Blend(mixed) => &mixed.name,
        }
    }

    pub(super) fn equation_of_state(&self) -> &'static str {
        match self {
            Self::Fluid(fluid) => fluid.equation,
            Self::Blend(_) => "multi-fluid mixture model",
        }
    }

    pub(super) fn molar_mass(&self) -> f64 {
        match self {
            Self::Fluid(fluid) => fluid.molar_mass,
            Self::Blend(mixed) => mixed.molar_mass,
        }
    }

    pub(super) fn composition(&self) -> Option<&[(&'static str, f64)]> {
        match self {
            Self::Fluid(fluid) => fluid.blend.as_ref().map(|blend| blend.composition),
            Self::Blend(mixed) => Some(&mixed.composition),
        }
    }

    pub(super) fn environment(&self) -> &Environment {
        match self {
            Self::Fluid(fluid) => &fluid.environment,
            Self::Blend(mixed) => &mixed.environment,
        }
    }

    pub(super) fn limits(&self) -> Limits {
        match self {
            Self::Fluid(Fluid { validity, .. }) => Limits {
                minimum_temperature: validity.minimum_temperature,
                maximum_temperature: validity.maximum_temperature,
                maximum_pressure: validity.maximum_pressure,
                source: validity.source,
            },
            Self::Blend(mixed) => mixed.limits,
        }
    }

    /// The critical point.
    pub(super) fn critical(&self) -> End {
        match self {
            Self::Fluid(fluid) => End {
                temperature: fluid.critical.temperature,
                pressure: fluid.critical.pressure,
                density: fluid.critical.molar_density * fluid.molar_mass,
            },
            Self::Blend(mixed) => {
                let density = mixed.envelope.top_density() * mixed.molar_mass;
                let Some(point) = mixed.envelope.critical() else {
                    return End { temperature: f64::NAN, pressure: f64::NAN, density: f64::NAN };
                };
                End { temperature: point.temperature, pressure: point.pressure, density }
            }
        }
    }

    /// Temperature (K) and pressure (Pa) of the coldest saturated vapor.
    pub(super) fn coldest(&self) -> (f64, f64) {
        match self {
            Self::Fluid(fluid) => (fluid.coldest.temperature, fluid.coldest.pressure),
            Self::Blend(mixed) => {
                let [_, dew] = mixed.envelope.cold_ends();
                (dew.temperature, dew.pressure)
            }
        }
    }

    /// Solves the saturation line; that of a blend is fitted by polynomials only for `tables`.
    pub(super) fn line(&self, equation: &Equation, tables: bool) -> Result<SaturationLine> {
        match self {
            Self::Fluid(fluid) => SaturationLine::new(equation, fluid),
            Self::Blend(mixed) => SaturationLine::of_mixture(
                equation,
                &mixed.components,
                &mixed.mole_fractions,
                &mixed.envelope,
                tables,
            ),
        }
    }

    /// The equation with the integration constants of the data, of a blend those of its components.
    pub(super) fn equation(&self) -> Equation {
        match self {
            Self::Fluid(fluid) => Equation::new(fluid, (fluid.ideal_gas.constant, fluid.ideal_gas.linear)),
            Self::Blend(mixed) => mixed.components.mixture().equation(&mixed.mole_fractions),
        }
    }

    /// Saturated liquid at a temperature (K), without building the line.
    pub(super) fn saturated_liquid(&self, equation: &Equation, temperature: f64) -> Result<Thermo> {
        match self {
            Self::Fluid(fluid) => saturated_liquid(equation, fluid, temperature),
            Self::Blend(mixed) => {
                let blend = mixed.components.blend(&mixed.mole_fractions)?;
                let point = mixed.envelope.bubble(&blend, temperature)?;
                Ok(equation.at(temperature, point.molar_density() * mixed.molar_mass))
            }
        }
    }

    /// Whether others may ask for the same by its name.
    pub(super) fn is_named(&self) -> bool {
        match self {
            Self::Fluid(_) => true,
            Self::Blend(mixed) => fluid::named(&mixed.name).is_ok(),
        }
    }

    pub(super) fn chemical_name(&self) -> &str {
        match self {
            Self::Fluid(fluid) => fluid.name,
            Self::Blend(mixed) => &mixed.description,
        }
    }

    /// The first paper behind the equation.
    pub(super) fn citation(&self) -> &'static Citation {
        match self {
            Self::Fluid(fluid) => &fluid.citation,
            Self::Blend(_) => self.citations().first().copied().unwrap_or(&fluid::MODEL),
        }
    }

    /// How the components of a blend mix, pair by pair.
    pub(super) fn mixing(&self) -> Vec<PairOfComponents> {
        let Self::Blend(mixed) = self else { return Vec::new() };
        let fluids = mixed.components.mixture().fluids();
        let mut pairs = Vec::new();
        for (place, second) in fluids.iter().enumerate() {
            for first in fluids.iter().take(place) {
                if let Some((pair, _)) = fluid::between(first, second) {
                    let (first, second) = (first.designation, second.designation);
                    pairs.push(PairOfComponents { first, second, fit: pair.quality, citation: pair.source });
                }
            }
        }
        pairs
    }

    /// The papers behind the equation: of a blend those of its pairs, then those of its components.
    pub(super) fn citations(&self) -> Vec<&'static Citation> {
        let mixed = match self {
            Self::Fluid(fluid) => return vec![&fluid.citation],
            Self::Blend(mixed) => mixed,
        };
        let mut citations: Vec<&'static Citation> = Vec::new();
        let mut add = |citation: &'static Citation| {
            if !citations.contains(&citation) {
                citations.push(citation);
            }
        };
        let fluids = mixed.components.mixture().fluids();
        for (place, second) in fluids.iter().enumerate() {
            for first in fluids.iter().take(place) {
                if let Some((pair, _)) = fluid::between(first, second) {
                    add(pair.source);
                    pair.departure.into_iter().for_each(|(_, departure)| add(departure.citation));
                }
            }
        }
        fluids.iter().for_each(|fluid| add(&fluid.citation));
        citations
    }
}

//! Where enthalpy and entropy are zero.

use std::fmt;

use super::substance::Substance;
use crate::error::{Error, Result};
use crate::fluid::Fluid;
use crate::helmholtz::Equation;
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
    /// That of the blend it is a liquid or vapor of: only [`Refrigerant::with_composition`](super::Refrigerant::with_composition)
    /// gives it.
    OfAnotherComposition,
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
    pub(super) fn text(self) -> &'static str {
        match self {
            Self::LiquidAt0C => "liquid at 0 degC",
            Self::LiquidAtMinus40C => "liquid at -40 degC",
            Self::LiquidAtNormalBoilingPoint => "liquid at normal boiling point",
            Self::OfAnotherComposition => "that of another composition",
            Self::AsPublished => "as published",
        }
    }
}

/// The equation with its integration constants set for a reference.
pub(super) fn in_reference(substance: &Substance, reference: Reference) -> Result<Equation> {
    let unavailable = |reason: String| Error::ReferenceUnavailable {
        refrigerant: substance.name().to_owned(),
        reference: reference.text(),
        reason,
    };
    let base = substance.equation();
    let (coldest, lowest) = substance.coldest();
    let at_temperature = |temperature: f64, h: f64, s: f64| {
        if temperature < coldest {
            return Err(unavailable(match substance {
                Substance::Fluid(Fluid { blend: Some(_), .. }) => {
                    format!("its bubble curve begins at {coldest} K")
                }
                Substance::Fluid(fluid) if fluid.coldest.is_triple => format!("it freezes at {coldest} K"),
                Substance::Fluid(_) => format!("its equation begins at {coldest} K"),
                Substance::Blend(_) => format!("its bubble line begins at {coldest} K"),
            }));
        }
        let liquid = substance.saturated_liquid(&base, temperature)?;
        Ok((liquid.enthalpy - h, liquid.entropy - s))
    };
    let (h, s) = match reference {
        Reference::AsPublished => {
            let constants = match substance {
                Substance::Fluid(fluid) => {
                    fluid.as_published.map(|constants| Equation::new(fluid, constants))
                }
                Substance::Blend(_) => None,
            };
            return constants
                .ok_or_else(|| unavailable("the paper's own convention is not recorded".to_owned()));
        }
        Reference::OfAnotherComposition => {
            return Err(unavailable("only with_composition gives it".to_owned()));
        }
        Reference::LiquidAt0C => at_temperature(273.15, 200e3, 1e3)?,
        Reference::LiquidAtMinus40C => at_temperature(233.15, 0.0, 0.0)?,
        Reference::LiquidAtNormalBoilingPoint if lowest > STANDARD_ATMOSPHERE => {
            return Err(unavailable(format!(
                "it has no normal boiling point: no liquid exists below {lowest} Pa, {coldest} K"
            )));
        }
        Reference::LiquidAtNormalBoilingPoint => {
            let liquid = match substance.line(&base, false)?.at_pressure(&base, STANDARD_ATMOSPHERE) {
                Err(Error::OutOfRange { minimum, maximum, .. }) => {
                    return Err(unavailable(format!(
                        "it has no normal boiling point: its bubble line runs from {minimum} Pa to {maximum} Pa"
                    )));
                }
                saturation => saturation?.liquid,
            };
            (liquid.enthalpy, liquid.entropy)
        }
    };
    Ok(base.lowered(h, s))
}

//! A blend by the mixture model: components, composition, and what follows from them.

use std::sync::Arc;

use super::substance::Limits;
use crate::error::{Error, Result, within};
use crate::fluid::{self, Environment, Fluid, Gwp};
use crate::helmholtz::MOST;
use crate::saturation::{Components, Envelope};

/// What the fractions of a composition count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Kilograms in a kilogram, as standards state compositions.
    Mass,
    /// Moles in a mole.
    Mole,
}

/// By how much fractions may miss a sum of one before they are refused: they are printed with three digits, or divided.
const ROUNDED: f64 = 1e-6;

/// A blend by the mixture model.
#[derive(Debug)]
pub(super) struct Mixed {
    pub(super) name: String,
    pub(super) components: Arc<Components>,
    pub(super) mole_fractions: Vec<f64>,
    /// As it was given: what the fractions count, and they.
    pub(super) given: (Basis, Vec<f64>),
    /// Designations with mass fractions.
    pub(super) composition: Vec<(&'static str, f64)>,
    pub(super) envelope: Arc<Envelope>,
    pub(super) molar_mass: f64,
    pub(super) environment: Environment,
    pub(super) description: String,
    pub(super) limits: Limits,
}

impl Mixed {
    /// Of components by designation.
    pub(super) fn new(given: &[(&'static str, f64)], basis: Basis) -> Result<Self> {
        within("components", given.len() as f64, 1.0, MOST as f64, "-", "components of one blend")?;
        let fractions: Vec<f64> = given.iter().map(|(_, fraction)| *fraction).collect();
        let fractions = shares("components", "fraction", &fractions)?;
        let named =
            |designation: &str| fluid::FLUIDS.into_iter().find(|fluid| fluid.designation == designation);
        let fluids: Vec<_> = given.iter().filter_map(|(designation, _)| named(designation)).collect();
        let components = Arc::new(Components::new(&fluids)?);
        let mixture = components.mixture();
        let given = (basis, fractions.clone());
        let (mole_fractions, mass_fractions) = match basis {
            Basis::Mass => (mixture.mole_fractions(&fractions), fractions),
            Basis::Mole => (fractions.clone(), mixture.mass_fractions(&fractions)),
        };
        Self::of(components, given, mole_fractions, &mass_fractions)
    }

    /// The same components by other mass fractions.
    pub(super) fn with_composition(mixed: &Self, mass_fractions: &[f64]) -> Result<Self> {
        let (found, expected) = (mass_fractions.len(), mixed.composition.len());
        if found != expected {
            return Err(Error::WrongLength { argument: "mass_fractions", found, expected });
        }
        let mass_fractions = shares("mass_fractions", "mass fraction", mass_fractions)?;
        let mole_fractions = mixed.components.mixture().mole_fractions(&mass_fractions);
        let given = (Basis::Mass, mass_fractions.clone());
        Self::of(Arc::clone(&mixed.components), given, mole_fractions, &mass_fractions)
    }

    fn of(
        components: Arc<Components>,
        given: (Basis, Vec<f64>),
        mole_fractions: Vec<f64>,
        mass_fractions: &[f64],
    ) -> Result<Self> {
        let fluids = components.mixture().fluids().to_vec();
        let composition: Vec<_> =
            fluids.iter().map(|fluid| fluid.designation).zip(mass_fractions.iter().copied()).collect();
        let least =
            |of: fn(&Fluid) -> f64| fluids.iter().map(|fluid| of(fluid)).fold(f64::INFINITY, f64::min);
        let envelope = Envelope::new(&components.blend(&mole_fractions)?)?;
        Ok(Self {
            name: name(&composition),
            description: description(&composition),
            molar_mass: components.mixture().molar_mass(&mole_fractions),
            environment: environment(&fluids, mass_fractions),
            limits: Limits {
                minimum_temperature: envelope.coldest(),
                maximum_temperature: least(|fluid| fluid.validity.maximum_temperature),
                maximum_pressure: least(|fluid| fluid.validity.maximum_pressure),
                source: "ranges of all components together",
            },
            given,
            composition,
            mole_fractions,
            envelope: Arc::new(envelope),
            components,
        })
    }
}

/// Fractions that add up to one.
fn shares(arguments: &'static str, argument: &'static str, given: &[f64]) -> Result<Vec<f64>> {
    let reason = "every component of a blend has a share of it";
    let mut sum = 0.0;
    for fraction in given {
        sum += within(argument, *fraction, f64::MIN_POSITIVE, 1.0, "-", reason)?;
    }
    if (sum - 1.0).abs() > ROUNDED {
        let reason = format!("the fractions add up to {sum}, not to 1");
        return Err(Error::Inconsistent { arguments, reason });
    }
    // Fractions that were divided once stay as they are.
    let sum = if (sum - 1.0).abs() <= 8.0 * f64::EPSILON { 1.0 } else { sum };
    Ok(given.iter().map(|fraction| fraction / sum).collect())
}

/// What a blend without a designation is called: its components and their percentages by mass.
fn name(composition: &[(&'static str, f64)]) -> String {
    let names: Vec<_> = composition.iter().map(|(designation, _)| *designation).collect();
    let shares: Vec<_> = composition.iter().map(|(_, fraction)| percent(*fraction)).collect();
    format!("{} ({})", names.join("/"), shares.join("/"))
}

/// The same as a sentence.
fn description(composition: &[(&'static str, f64)]) -> String {
    let parts: Vec<_> =
        composition.iter().map(|(name, fraction)| format!("{name} {} %", percent(*fraction))).collect();
    format!("blend of {}", parts.join(", "))
}

/// A fraction in percent with up to two decimals.
fn percent(fraction: f64) -> String {
    let text = format!("{:.2}", 100.0 * fraction);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Potentials of a blend from those of its components by mass; a component of which only an upper limit is known counts with
/// that, and if all are such the sum is one.
fn environment(fluids: &[&'static Fluid], mass_fractions: &[f64]) -> Environment {
    let parts = || fluids.iter().map(|fluid| &fluid.environment).zip(mass_fractions);
    let odp = parts().map(|(of, w)| Some(of.odp? * w)).sum::<Option<f64>>();
    let gwp = [0, 1, 2].map(|report| {
        let mut sum = 0.0;
        let mut is_limit = true;
        for (of, w) in parts() {
            let (Gwp::Value(value) | Gwp::Below(value)) = of.gwp[report]?;
            is_limit &= matches!(of.gwp[report], Some(Gwp::Below(_)));
            sum += w * value;
        }
        // Reports have three or four digits.
        let sum = (100.0 * sum).round() / 100.0;
        Some(if is_limit { Gwp::Below(sum) } else { Gwp::Value(sum) })
    });
    Environment {
        safety_class: None,
        safety_source: "not classified here",
        odp,
        odp_source: "by mass from the components",
        gwp,
        gwp_source: "by mass from the components; one reported as below a limit counts with that limit",
        note: None,
    }
}

//! A refrigerant as the recipe of its handle.

use std::fmt;

use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::form::{Form, Refused, Version, kind, stored, word, word_for};
use crate::error::finite;
use crate::refrigerant::{Basis, Model, Reference, Refrigerant};

const BASES: [(&str, Basis); 2] = [("mass", Basis::Mass), ("mole", Basis::Mole)];

const MODELS: [Model; 3] = [Model::Pure, Model::PseudoPure, Model::Mixture];

const REFERENCES: [Reference; 5] = [
    Reference::LiquidAt0C,
    Reference::LiquidAtMinus40C,
    Reference::LiquidAtNormalBoilingPoint,
    Reference::AsPublished,
    Reference::OfAnotherComposition,
];

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RefrigerantForm {
    format_version: Version,
    r#type: kind::Refrigerant,
    name: String,
    equation: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    model: Option<String>,
    reference: String,
    extrapolate: bool,
    /// Of a blend that cannot be had by its name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    components: Option<Components>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    basis: Option<String>,
    /// Where enthalpy and entropy are set by another composition.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    zero: Option<[f64; 2]>,
}

/// Names and fractions, as a map.
#[derive(Debug)]
struct Components(Vec<(String, f64)>);

impl Serialize for Components {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, fraction)| (name, fraction)))
    }
}

impl<'de> Deserialize<'de> for Components {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Entries;

        impl<'de> Visitor<'de> for Entries {
            type Value = Vec<(String, f64)>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("components with their fractions")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(entries)
            }
        }

        deserializer.deserialize_map(Entries).map(Self)
    }
}

impl Components {
    /// In the order of the blend's name: not every format keeps that of a map.
    fn ordered(mut self, name: &str) -> Vec<(String, f64)> {
        let names = name.split(" (").next().unwrap_or_default();
        let place = |component: &str| names.split('/').position(|own| own == component);
        self.0.sort_by_key(|(component, _)| place(component).unwrap_or(usize::MAX));
        self.0
    }
}

impl Form for RefrigerantForm {
    type Value = Refrigerant;

    fn of(refrigerant: &Refrigerant) -> Self {
        let moved = refrigerant.reference() == Reference::OfAnotherComposition;
        let given = refrigerant
            .given_composition()
            .filter(|_| moved || Refrigerant::named(refrigerant.name()).is_err());
        let names = refrigerant.composition().unwrap_or_default().iter().map(|(name, _)| (*name).to_owned());
        Self {
            format_version: Version,
            r#type: kind::Refrigerant,
            name: refrigerant.name().to_owned(),
            equation: refrigerant.equation_of_state().to_owned(),
            model: Some(refrigerant.model().text().to_owned()),
            reference: refrigerant.reference().to_string(),
            extrapolate: refrigerant.extrapolates(),
            components: given
                .map(|(_, fractions)| Components(names.zip(fractions.iter().copied()).collect())),
            basis: given.map(|(basis, _)| word_for(&basis, &BASES)),
            zero: moved.then(|| refrigerant.zero()),
        }
    }

    fn read(self) -> Result<Refrigerant, Refused> {
        let is_blend = self.components.is_some();
        let mut refrigerant = match (self.components, &self.basis) {
            (Some(components), Some(basis)) => {
                let components = components.ordered(&self.name);
                let given: Vec<_> =
                    components.iter().map(|(name, fraction)| (name.as_str(), *fraction)).collect();
                Refrigerant::blend(&given, word("basis", basis, &BASES)?)?
            }
            (None, None) => Refrigerant::named(&self.name)?,
            _ => {
                return Err(Refused::because(
                    "components and basis of a blend are both there or both missing",
                ));
            }
        };
        if let Some(model) = &self.model {
            let known = MODELS.map(|model| (model.text(), model));
            refrigerant = refrigerant.with_model(word("model", model, &known)?)?;
        }
        if self.equation != refrigerant.equation_of_state() {
            refrigerant = refrigerant.with_equation(&self.equation)?;
        }
        let names = REFERENCES.map(|reference| reference.to_string());
        let known: Vec<_> = names.iter().map(String::as_str).zip(REFERENCES).collect();
        let reference = word("reference", &self.reference, &known)?;
        refrigerant = match (reference, self.zero) {
            (Reference::OfAnotherComposition, Some([enthalpy, entropy])) if is_blend => {
                finite("zero of enthalpy", enthalpy, "J/kg")?;
                finite("zero of entropy", entropy, "J/(kg K)")?;
                refrigerant.moved_to_zero([enthalpy, entropy])
            }
            (_, Some(_)) => {
                return Err(Refused::because(
                    "zero belongs to a blend in the reference of another composition",
                ));
            }
            (reference, None) => refrigerant.with_reference(reference)?,
        };
        Ok(if self.extrapolate { refrigerant.with_extrapolation() } else { refrigerant })
    }
}

stored!(Refrigerant as RefrigerantForm);

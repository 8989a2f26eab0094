//! How the handle of a refrigerant is made, stored and shown.

use interstage::{Basis, Model, Reference, Refrigerant};
use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict};

use crate::arguments::{number, text, truth};
use crate::errors::{OrRaise, unknown_option};
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, storage};

const REFERENCES: [Reference; 4] = [
    Reference::LiquidAt0C,
    Reference::LiquidAtMinus40C,
    Reference::LiquidAtNormalBoilingPoint,
    Reference::AsPublished,
];

/// How liquid and vapor are described.
const MODELS: [Model; 3] = [Model::Pure, Model::PseudoPure, Model::Mixture];

/// What fractions count.
const BASES: [(&str, Basis); 2] = [("mass", Basis::Mass), ("mole", Basis::Mole)];

impl PyRefrigerant {
    /// A refrigerant by another model, equation or reference, each if it is given.
    pub(crate) fn made(
        py: Python<'_>,
        mut inner: Refrigerant,
        [model, equation, reference]: [Option<&str>; 3],
        extrapolate: bool,
    ) -> PyResult<Self> {
        if let Some(wanted) = model {
            let Some(known) = MODELS.into_iter().find(|known| known.text() == wanted) else {
                return Err(unknown_option(py, "model", wanted, &MODELS.map(Model::text)));
            };
            inner = inner.with_model(known).or_raise(py)?;
        }
        if let Some(equation) = equation
            && equation != inner.equation_of_state()
        {
            inner = inner.with_equation(equation).or_raise(py)?;
        }
        if let Some(wanted) = reference {
            let Some(known) = REFERENCES.into_iter().find(|known| known.to_string() == wanted) else {
                let known = REFERENCES.map(|known| known.to_string());
                let known: Vec<&str> = known.iter().map(String::as_str).collect();
                return Err(unknown_option(py, "reference", wanted, &known));
            };
            inner = inner.with_reference(known).or_raise(py)?;
        }
        Ok(Self { inner: if extrapolate { inner.with_extrapolation() } else { inner } })
    }

    /// A blend of components with their fractions.
    pub(crate) fn blended(components: &Bound<'_, PyDict>, basis: &str) -> PyResult<Refrigerant> {
        let py = components.py();
        let Some((_, basis)) = BASES.into_iter().find(|(name, _)| *name == basis) else {
            return Err(unknown_option(py, "basis", basis, &BASES.map(|(name, _)| name)));
        };
        let mut given = Vec::with_capacity(components.len());
        for (name, fraction) in components.iter() {
            given.push((text("components", &name)?, number("components", &fraction)?));
        }
        let given: Vec<_> = given.iter().map(|(name, fraction)| (name.as_str(), *fraction)).collect();
        Refrigerant::blend(&given, basis).or_raise(py)
    }

    /// What the fractions count and they, of a blend that cannot be had by its name.
    fn unnamed(&self) -> Option<(&'static str, &[f64])> {
        let (given, fractions) = self.inner.given_composition()?;
        let (basis, _) = BASES.into_iter().find(|(_, basis)| *basis == given)?;
        let is_named = Refrigerant::named(self.inner.name()).is_ok();
        (!is_named || self.inner.reference() == Reference::OfAnotherComposition).then_some((basis, fractions))
    }

    pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = data.py();
        let stored = Stored::new(data, "Refrigerant")?;
        let (equation, reference) = (stored.text("equation")?, stored.text("reference")?);
        let model = if stored.has("model") { Some(stored.text("model")?) } else { None };
        let extrapolate = truth("extrapolate", &stored.get("extrapolate")?)?;
        let inner = if stored.has("components") {
            Self::blended(&stored.dict("components")?, &stored.text("basis")?)?
        } else {
            Refrigerant::named(&stored.text("name")?).or_raise(py)?
        };
        if stored.has("zero") {
            let zero: [f64; 2] = stored.get("zero")?.extract()?;
            let inner = if extrapolate { inner.with_extrapolation() } else { inner };
            return Ok(Self { inner: inner.moved_to_zero(zero) });
        }
        Self::made(py, inner, [model.as_deref(), Some(&equation), Some(&reference)], extrapolate)
    }

    /// The recipe as a dictionary, which `restored` reads.
    pub(crate) fn stored<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Refrigerant")?;
        data.set_item("name", self.inner.name())?;
        data.set_item("equation", self.inner.equation_of_state())?;
        data.set_item("model", self.inner.model().text())?;
        data.set_item("reference", self.inner.reference().to_string())?;
        data.set_item("extrapolate", self.inner.extrapolates())?;
        if let Some((basis, fractions)) = self.unnamed() {
            let names = self.inner.composition().unwrap_or_default().iter().map(|(name, _)| *name);
            data.set_item("components", names.zip(fractions.iter().copied()).into_py_dict(py)?)?;
            data.set_item("basis", basis)?;
        }
        if self.inner.reference() == Reference::OfAnotherComposition {
            data.set_item("zero", self.inner.zero())?;
        }
        Ok(data)
    }

    /// The recipe as the call that makes the handle.
    pub(crate) fn shown(&self) -> String {
        let mut text = match self.unnamed() {
            Some((basis, fractions)) => {
                let names = self.inner.composition().unwrap_or_default().iter().map(|(name, _)| *name);
                let parts: Vec<_> =
                    names.zip(fractions).map(|(name, fraction)| format!("{name:?}: {fraction}")).collect();
                format!("Refrigerant.blend({{{}}}, basis={basis:?}", parts.join(", "))
            }
            None => format!("Refrigerant({:?}", self.inner.name()),
        };
        let default =
            if self.unnamed().is_some() { None } else { Refrigerant::named(self.inner.name()).ok() };
        let reference = default.as_ref().map_or(Reference::LiquidAt0C, Refrigerant::reference);
        if self.inner.reference() != reference {
            text += &format!(", reference={:?}", self.inner.reference().to_string());
        }
        if let Some(default) = default {
            if self.inner.model() != default.model() {
                text += &format!(", model={:?}", self.inner.model().text());
            } else if self.inner.equation_of_state() != default.equation_of_state() {
                text += &format!(", equation={:?}", self.inner.equation_of_state());
            }
        }
        if self.inner.extrapolates() {
            text += ", extrapolate=True";
        }
        text + ")"
    }
}

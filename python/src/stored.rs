//! How values are stored, shown and hashed.

use std::hash::{DefaultHasher, Hash, Hasher};

use pyo3::PyClass;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple};

use crate::arguments::{number, text};
use crate::errors::unreadable;

/// The form of stored data: a dictionary with its own version and the name of the class.
pub(crate) const FORMAT_VERSION: u32 = 1;

/// A dictionary to store a value in.
pub(crate) fn storage<'py>(py: Python<'py>, class: &str) -> PyResult<Bound<'py, PyDict>> {
    let data = PyDict::new(py);
    data.set_item("format_version", FORMAT_VERSION)?;
    data.set_item("type", class)?;
    Ok(data)
}

/// A figure to store: one that is missing is None, since JSON knows no NaN.
pub(crate) fn known(figure: f64) -> Option<f64> {
    (!figure.is_nan()).then_some(figure)
}

/// Width of a terminal that texts of objects fit in.
const WIDTH: usize = 110;

/// A text of an object, broken after commas where it is too long for a terminal; never within quotes.
pub(crate) fn fitted(text: &str) -> String {
    let (mut lines, mut line, mut quoted) = (Vec::new(), String::new(), None);
    let mut part = String::new();
    for letter in text.chars() {
        part.push(letter);
        match quoted {
            Some(quote) if letter == quote => quoted = None,
            None if letter == '"' || letter == '\'' => quoted = Some(letter),
            _ => {}
        }
        if quoted.is_none() && part.ends_with(", ") {
            if line.chars().count() + part.trim_end().chars().count() > WIDTH {
                lines.push(std::mem::replace(&mut line, "    ".to_owned()));
            }
            line.push_str(&part);
            part.clear();
        }
    }
    if line.chars().count() + part.chars().count() > WIDTH && !line.trim().is_empty() {
        lines.push(std::mem::replace(&mut line, "    ".to_owned()));
    }
    line.push_str(&part);
    lines.push(line);
    lines.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n")
}

/// Stored data, checked for version and class.
#[derive(Debug)]
pub(crate) struct Stored<'a, 'py>(&'a Bound<'py, PyDict>);

impl<'a, 'py> Stored<'a, 'py> {
    pub(crate) fn new(data: &'a Bound<'py, PyDict>, class: &str) -> PyResult<Self> {
        let stored = Self(data);
        let version = stored.get("format_version")?;
        if !version.eq(FORMAT_VERSION)? {
            return Err(unreadable(
                data.py(),
                format!("format version {version} is not {FORMAT_VERSION}, the one known here"),
            ));
        }
        let found = stored.get("type")?;
        if found.eq(class)? {
            Ok(stored)
        } else {
            Err(unreadable(data.py(), format!("it holds a {found}, not a {class}")))
        }
    }

    /// A part of stored data, which has no version of its own.
    pub(crate) fn part(data: &'a Bound<'py, PyDict>) -> Self {
        Self(data)
    }

    pub(crate) fn has(&self, key: &str) -> bool {
        self.0.contains(key).unwrap_or(false)
    }

    pub(crate) fn get(&self, key: &str) -> PyResult<Bound<'py, PyAny>> {
        match self.0.get_item(key)? {
            Some(value) => Ok(value),
            None => Err(unreadable(self.0.py(), format!("{key:?} is missing"))),
        }
    }

    /// What is there and not None.
    pub(crate) fn present(&self, key: &str) -> PyResult<Bound<'py, PyAny>> {
        let value = self.get(key)?;
        if value.is_none() {
            return Err(unreadable(self.0.py(), format!("{key:?} is None")));
        }
        Ok(value)
    }

    pub(crate) fn number(&self, key: &str) -> PyResult<f64> {
        number(key, &self.get(key)?)
    }

    /// A number that is neither NaN nor infinite.
    pub(crate) fn finite(&self, key: &str) -> PyResult<f64> {
        match self.number(key)? {
            value if value.is_finite() => Ok(value),
            value => Err(unreadable(self.0.py(), format!("{key} is {value}"))),
        }
    }

    pub(crate) fn text(&self, key: &str) -> PyResult<String> {
        text(key, &self.get(key)?)
    }

    pub(crate) fn list(&self, key: &str) -> PyResult<Bound<'py, PyList>> {
        let value = self.get(key)?;
        match value.cast_into::<PyList>() {
            Ok(list) => Ok(list),
            Err(_) => Err(unreadable(self.0.py(), format!("{key:?} must be a list"))),
        }
    }

    pub(crate) fn dict(&self, key: &str) -> PyResult<Bound<'py, PyDict>> {
        let value = self.get(key)?;
        match value.cast_into::<PyDict>() {
            Ok(dict) => Ok(dict),
            Err(_) => Err(unreadable(self.0.py(), format!("{key:?} must be a dict"))),
        }
    }
}

/// What `__reduce__` returns: the value made again from its stored data.
pub(crate) fn rebuilt<'py, T: PyClass>(
    value: &Bound<'py, T>,
    data: Bound<'py, PyDict>,
) -> PyResult<Bound<'py, PyTuple>> {
    (value.as_any().get_type().getattr("from_dict")?, (data,)).into_pyobject(value.py())
}

/// A number with up to six significant digits, for people.
pub(crate) fn shown(value: f64) -> String {
    let magnitude = value.abs();
    if !value.is_finite() || magnitude == 0.0 {
        return format!("{value}");
    }
    if !(1e-4..1e9).contains(&magnitude) {
        return format!("{value:.5e}");
    }
    let decimals = (5 - magnitude.log10().floor() as i32).clamp(0, 9) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// The same hash for equal numbers.
pub(crate) fn hash_numbers(state: &mut impl Hasher, numbers: &[f64]) {
    for number in numbers {
        // Adding zero makes one zero of the two.
        state.write_u64((number + 0.0).to_bits());
    }
}

/// The hash of a value.
pub(crate) fn hash_of(value: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}

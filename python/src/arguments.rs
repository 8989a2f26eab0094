//! What callers pass: single numbers, columns, and everything that is refused.

use numpy::{IntoPyArray, PyArrayMethods};
use pyo3::PyClass;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyBool, PyFloat, PyInt, PyString};

use crate::errors::{classes, unknown_option, wrong_argument};

static ARRAY_LAYER: PyOnceLock<Py<PyModule>> = PyOnceLock::new();

/// The module `interstage._arrays`, which knows the containers of columns.
pub(crate) fn array_layer(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    let module = ARRAY_LAYER.get_or_try_init(py, || py.import("interstage._arrays").map(Bound::unbind))?;
    Ok(module.bind(py))
}

/// What was given for a quantity.
#[derive(Debug)]
pub(crate) enum Given {
    Number(f64),
    Column,
}

/// A `float` or `int`, without a look at anything else.
fn plain_number(value: &Bound<'_, PyAny>) -> Option<f64> {
    if let Ok(number) = value.cast::<PyFloat>() {
        return Some(number.value());
    }
    if value.is_exact_instance_of::<PyInt>() {
        // A whole number beyond the range of a float is infinite.
        return Some(value.extract().unwrap_or(f64::INFINITY));
    }
    None
}

/// Tells a number from a column; refuses what is neither.
pub(crate) fn given(argument: &str, value: &Bound<'_, PyAny>) -> PyResult<Given> {
    if let Some(number) = plain_number(value) {
        return Ok(Given::Number(number));
    }
    let number = array_layer(value.py())?.getattr("as_number")?.call1((argument, value))?;
    Ok(if number.is_none() { Given::Column } else { Given::Number(number.extract()?) })
}

/// A single number.
pub(crate) fn number(argument: &str, value: &Bound<'_, PyAny>) -> PyResult<f64> {
    match given(argument, value)? {
        Given::Number(number) => Ok(number),
        Given::Column => {
            let message = format!("{argument} must be a single number, got {}", value.get_type().name()?);
            Err(wrong_argument(value.py(), argument, &message))
        }
    }
}

/// An object of a class of this package, such as a `State`.
pub(crate) fn object<'a, 'py, T: PyClass>(
    argument: &str,
    value: &'a Bound<'py, PyAny>,
) -> PyResult<&'a Bound<'py, T>> {
    value.cast::<T>().or_else(|_| {
        let (wanted, found) = (T::type_object(value.py()).name()?, value.get_type().name()?);
        let message = format!("{argument} must be a {wanted}, got {found}");
        Err(wrong_argument(value.py(), argument, &message))
    })
}

/// A text.
pub(crate) fn text(argument: &str, value: &Bound<'_, PyAny>) -> PyResult<String> {
    if let Ok(value) = value.cast::<PyString>() {
        return Ok(value.to_cow()?.into_owned());
    }
    let message = format!("{argument} must be a text, got {}", value.get_type().name()?);
    Err(wrong_argument(value.py(), argument, &message))
}

/// `True` or `False`.
pub(crate) fn truth(argument: &str, value: &Bound<'_, PyAny>) -> PyResult<bool> {
    if let Ok(value) = value.cast::<PyBool>() {
        return Ok(value.is_true());
    }
    let message = format!("{argument} must be True or False, got {}", value.get_type().name()?);
    Err(wrong_argument(value.py(), argument, &message))
}

/// What becomes of bad rows: `"status"`, the default, or `"raise"`.
pub(crate) fn raises(errors: Option<&Bound<'_, PyAny>>) -> PyResult<bool> {
    let Some(errors) = errors else { return Ok(false) };
    match text("errors", errors)?.as_str() {
        "status" => Ok(false),
        "raise" => Ok(true),
        other => Err(unknown_option(errors.py(), "errors", other, &["status", "raise"])),
    }
}

static DISPLAY: PyOnceLock<Py<PyModule>> = PyOnceLock::new();

/// The module `interstage._display`, which shows results to people.
pub(crate) fn display(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    let module = DISPLAY.get_or_try_init(py, || py.import("interstage._display").map(Bound::unbind))?;
    Ok(module.bind(py))
}

/// What a notebook shows of an object, as HTML.
pub(crate) fn html_of(shown: &Bound<'_, PyAny>) -> PyResult<String> {
    display(shown.py())?.getattr("html_of")?.call1((shown,))?.extract()
}

/// What a terminal shows of an object, as plain text.
pub(crate) fn text_of(shown: &Bound<'_, PyAny>) -> PyResult<String> {
    display(shown.py())?.getattr("text_of")?.call1((shown,))?.extract()
}

/// What draws the schematic of a circuit, a cycle, a chiller or a point of it.
pub(crate) fn schematic<'py>(
    of: &Bound<'py, PyAny>,
    units: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let units = units.map_or(Ok("SI".to_owned()), |units| text("units", units))?;
    of.py().import("interstage._schematic")?.getattr("schematic")?.call1((of, units))
}

/// Fetches everything that is otherwise fetched at its first use.
///
/// The package calls it once it is imported. An import that another thread has under way at the moment of a fork
/// never ends in the child.
#[pyfunction]
pub(crate) fn _fetch(py: Python<'_>) -> PyResult<()> {
    array_layer(py)?;
    display(py)?;
    classes(py)?;
    vec![0_u8].into_pyarray(py).try_readonly()?;
    vec![0.0_f64].into_pyarray(py).try_readonly()?;
    Ok(())
}

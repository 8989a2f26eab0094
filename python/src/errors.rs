//! Errors of the core as the exception classes of `interstage.errors`.

use interstage::Error;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::types::{PyDict, PyTuple};

static CLASSES: PyOnceLock<Py<PyModule>> = PyOnceLock::new();

/// The module `interstage.errors`.
pub(crate) fn classes(py: Python<'_>) -> PyResult<&Bound<'_, PyModule>> {
    let module = CLASSES.get_or_try_init(py, || py.import("interstage.errors").map(Bound::unbind))?;
    Ok(module.bind(py))
}

/// An exception of `interstage.errors`, or what went wrong on the way to it.
fn exception<'py>(
    py: Python<'py>,
    class: &str,
    message: &str,
    fill: impl FnOnce(&Bound<'py, PyDict>) -> PyResult<()>,
) -> PyErr {
    let made = || {
        let fields = PyDict::new(py);
        fill(&fields)?;
        classes(py)?.getattr(class)?.call((message,), Some(&fields))
    };
    match made() {
        Ok(value) => PyErr::from_value(value),
        Err(error) => error,
    }
}

macro_rules! exception {
    ($py:expr, $class:literal, $message:expr $(, $field:ident $(= $value:expr)?)+) => {
        exception($py, $class, $message, |fields| {
            $(fields.set_item(stringify!($field), exception!(@ $field $($value)?))?;)+
            Ok(())
        })
    };
    (@ $field:ident) => { $field };
    (@ $field:ident $value:expr) => { $value };
}

/// The exception for an error of the core: same message, same fields.
pub(crate) fn from_core(py: Python<'_>, error: &Error) -> PyErr {
    let message = &error.to_string();
    match error {
        Error::OutOfRange { argument, value, minimum, maximum, unit, reason } => {
            exception!(py, "OutOfRange", message, argument, value, minimum, maximum, unit, reason)
        }
        Error::NotFinite { argument, value, unit } => {
            exception!(py, "NotFinite", message, argument, value, unit)
        }
        Error::Inconsistent { arguments, reason } => {
            exception!(py, "Inconsistent", message, arguments, reason)
        }
        Error::NotConverged { solver, iterations, residual, lower, upper } => {
            exception!(py, "NotConverged", message, solver, iterations, residual, lower, upper)
        }
        Error::UnknownRefrigerant { name, nearest } => {
            let message = &message.replace("Refrigerant::catalogue()", "interstage.names()");
            exception!(py, "UnknownRefrigerant", message, name, nearest = PyTuple::new(py, nearest)?)
        }
        Error::ReferenceUnavailable { refrigerant, reference, reason } => {
            exception!(py, "ReferenceUnavailable", message, refrigerant, reference, reason)
        }
        Error::UnknownOption { argument, value, options } => {
            exception!(py, "UnknownOption", message, argument, value, options = PyTuple::new(py, options)?)
        }
        Error::Undefined { property, state } => exception!(py, "Undefined", message, property, state),
        Error::NotPublished { property, refrigerant, available } => {
            let available = PyTuple::new(py, available);
            exception!(py, "NotPublished", message, property, refrigerant, available = available?)
        }
        Error::WrongLength { argument, found, expected } => {
            exception!(py, "WrongLength", message, argument, found, expected)
        }
        _ => exception(py, "InterstageError", message, |_| Ok(())),
    }
}

/// Turns an error of the core into a Python exception.
pub(crate) trait OrRaise<T> {
    /// The value, or the exception.
    fn or_raise(self, py: Python<'_>) -> PyResult<T>;
}

impl<T> OrRaise<T> for interstage::Result<T> {
    fn or_raise(self, py: Python<'_>) -> PyResult<T> {
        self.map_err(|error| from_core(py, &error))
    }
}

/// The exception for arguments of a wrong type or number.
pub(crate) fn wrong_argument(py: Python<'_>, argument: &str, message: &str) -> PyErr {
    exception!(py, "WrongArgument", message, argument)
}

/// The exception for a word that is none of those an argument knows.
pub(crate) fn unknown_option(py: Python<'_>, argument: &str, value: &str, options: &[&str]) -> PyErr {
    let known: Vec<String> = options.iter().map(|option| format!("{option:?}")).collect();
    let message = format!("{argument} must be {}, got {value:?}", known.join(" or "));
    exception!(py, "UnknownOption", &message, argument, value, options = PyTuple::new(py, options)?)
}

/// The exception for a point that a cycle does not have.
pub(crate) fn unknown_point(py: Python<'_>, name: &str, names: &[String]) -> PyErr {
    let message = format!("the cycle has no point {name:?}; its points are {}", names.join(", "));
    exception!(py, "UnknownPoint", &message, name, names = PyTuple::new(py, names)?)
}

/// The exception for stored data that cannot be read back.
pub(crate) fn unreadable(py: Python<'_>, reason: String) -> PyErr {
    from_core(py, &Error::Inconsistent { arguments: "stored data", reason })
}

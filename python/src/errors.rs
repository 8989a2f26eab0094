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

/// Arguments of the core whose keyword here is another word; of all others the keyword has underscores for spaces.
const KEYWORDS: [(&str, &str); 2] =
    [("tank exponent", "tank_exponents"), ("interstage pressure", "interstage_pressures")];

/// What is no argument but named in its place.
const NO_KEYWORDS: [&str; 1] = ["stored data"];

/// The properties that a state is asked for by, as the core names them and as the keyword is.
const SYMBOLS: [(&str, &str); 7] = [
    ("temperature", "T"),
    ("pressure", "p"),
    ("enthalpy", "h"),
    ("entropy", "s"),
    ("density", "rho"),
    ("quality", "x"),
    ("internal energy", "u"),
];

/// Arguments of the core, one or two, by their keywords.
fn keywords(arguments: &str, symbols: &[(&str, &str)]) -> String {
    if NO_KEYWORDS.contains(&arguments) {
        return arguments.to_owned();
    }
    let keyword = |argument: &str| match symbols.iter().chain(&KEYWORDS).find(|(core, _)| *core == argument) {
        Some((_, keyword)) => (*keyword).to_owned(),
        None => argument.replace(' ', "_"),
    };
    arguments.split(" and ").map(keyword).collect::<Vec<_>>().join(" and ")
}

/// The exception for an error of the core, with arguments named by their keywords.
pub(crate) fn from_core(py: Python<'_>, error: &Error) -> PyErr {
    translated(py, error, &[])
}

fn translated(py: Python<'_>, error: &Error, symbols: &[(&str, &str)]) -> PyErr {
    let text = error.to_string();
    let named = |arguments: &str| match text.strip_prefix(arguments) {
        Some(rest) => (keywords(arguments, symbols), keywords(arguments, symbols) + rest),
        None => (keywords(arguments, symbols), text.clone()),
    };
    let message = &text;
    match error {
        Error::OutOfRange { argument, value, minimum, maximum, unit, reason } => {
            let (argument, message) = &named(argument);
            exception!(py, "OutOfRange", message, argument, value, minimum, maximum, unit, reason)
        }
        Error::NotFinite { argument, value, unit } => {
            let (argument, message) = &named(argument);
            exception!(py, "NotFinite", message, argument, value, unit)
        }
        Error::Inconsistent { arguments, reason } => {
            let (arguments, message) = &named(arguments);
            exception!(py, "Inconsistent", message, arguments, reason)
        }
        Error::NotConverged { solver, iterations, residual, lower, upper } => {
            exception!(py, "NotConverged", message, solver, iterations, residual, lower, upper)
        }
        Error::UnknownRefrigerant { name, nearest } => {
            let message = &message.replace(
                "Refrigerant::catalogue() and Refrigerant::blends() list",
                "interstage.names() lists",
            );
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
        Error::PairNotPublished { first, second } => {
            exception!(py, "PairNotPublished", message, first, second)
        }
        Error::WrongLength { argument, found, expected } => {
            let (argument, message) = &named(argument);
            exception!(py, "WrongLength", message, argument, found, expected)
        }
        _ => exception(py, "InterstageError", message, |_| Ok(())),
    }
}

/// Turns an error of the core into a Python exception.
pub(crate) trait OrRaise<T> {
    /// The value, or the exception.
    fn or_raise(self, py: Python<'_>) -> PyResult<T>;

    /// The same where properties of states are arguments: `T` for the temperature and so on.
    fn or_raise_by_symbol(self, py: Python<'_>) -> PyResult<T>;
}

impl<T> OrRaise<T> for interstage::Result<T> {
    fn or_raise(self, py: Python<'_>) -> PyResult<T> {
        self.map_err(|error| from_core(py, &error))
    }

    fn or_raise_by_symbol(self, py: Python<'_>) -> PyResult<T> {
        self.map_err(|error| translated(py, &error, &SYMBOLS))
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

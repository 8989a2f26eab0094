//! Figures of plain numbers, or of columns of them.

use interstage::Result;
use numpy::{IntoPyArray, PyArray1, PyArrayMethods};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::PyDict;

use crate::arguments::{Given, array_layer, given, raises};
use crate::errors::OrRaise;

/// A figure of `N` numbers, or a column of it where any of them is a column.
///
/// Plain columns of one length are worked out here, NaN where there is no figure; the array layer makes such columns
/// of all others and calls the function `name` again.
pub(crate) fn figure<'py, const N: usize>(
    py: Python<'py>,
    name: &str,
    arguments: [(&str, &Bound<'py, PyAny>); N],
    errors: Option<&Bound<'py, PyAny>>,
    function: fn([f64; N]) -> Result<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let raises = raises(errors)?;
    if !raises && let Some(found) = plain_columns(py, arguments, function) {
        return found;
    }
    let mut numbers = [f64::NAN; N];
    let mut columns = false;
    for (number, (argument, value)) in numbers.iter_mut().zip(arguments) {
        match given(argument, value)? {
            Given::Number(found) => *number = found,
            Given::Column => columns = true,
        }
    }
    if !columns {
        return function(numbers).or_raise(py)?.into_bound_py_any(py);
    }
    let named = PyDict::new(py);
    for (argument, value) in arguments {
        named.set_item(argument, value)?;
    }
    array_layer(py)?.getattr("figure")?.call1((name, named, raises))
}

/// The figure of plain columns of one length; none where they are not.
fn plain_columns<'py, const N: usize>(
    py: Python<'py>,
    arguments: [(&str, &Bound<'py, PyAny>); N],
    function: fn([f64; N]) -> Result<f64>,
) -> Option<PyResult<Bound<'py, PyAny>>> {
    let columns: Vec<_> = arguments
        .iter()
        .map(|(_, value)| value.cast_exact::<PyArray1<f64>>().ok()?.try_readonly().ok())
        .collect::<Option<_>>()?;
    let columns: Vec<&[f64]> = columns.iter().map(|column| column.as_slice().ok()).collect::<Option<_>>()?;
    let rows = columns.first()?.len();
    if columns.iter().any(|column| column.len() != rows) {
        return None;
    }
    let row = |row: usize| {
        let mut numbers = [f64::NAN; N];
        for (number, column) in numbers.iter_mut().zip(&columns) {
            *number = column.get(row).copied().unwrap_or(f64::NAN);
        }
        function(numbers).unwrap_or(f64::NAN)
    };
    let values: Vec<f64> = py.detach(|| (0..rows).map(row).collect());
    Some(values.into_pyarray(py).into_bound_py_any(py))
}

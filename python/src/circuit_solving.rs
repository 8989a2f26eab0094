//! What a circuit is asked for: its cycle at conditions, slopes, best interstage pressures.

use interstage::Circuit;
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};

use crate::arguments::{array_layer, raises};
use crate::circuit::PyCircuit;
use crate::conditions::{Asked, single_conditions};
use crate::cycle::PyCycle;
use crate::errors::OrRaise;

/// Evaporating and condensing temperature.
type Temperatures<'a, 'py> = (&'a Bound<'py, PyAny>, &'a Bound<'py, PyAny>);
type Given<'a, 'py> = Option<&'a Bound<'py, PyAny>>;

/// A cycle, or cycles where a condition is a column; `options` are `errors` and `threads`.
pub(crate) fn solve<'py>(
    circuit: &Bound<'py, PyCircuit>,
    temperatures: Temperatures<'_, 'py>,
    others: [Given<'_, 'py>; 4],
    sizes: [Given<'_, 'py>; 3],
    (errors, threads): (Given<'_, 'py>, Given<'_, 'py>),
) -> PyResult<Bound<'py, PyAny>> {
    let py = circuit.py();
    let asked = Asked::new(py, temperatures, others, sizes)?;
    let raises = raises(errors)?;
    if let Some(conditions) = asked.single()? {
        let cycle = circuit.get().inner.solve(&conditions).or_raise(py)?;
        return PyCycle::new(circuit.clone().unbind(), cycle).into_bound_py_any(py);
    }
    let columns = PyDict::new(py);
    for (name, value) in asked.conditions {
        match value {
            Some(value) => columns.set_item(name, value)?,
            None => columns.set_item(name, 0.0)?,
        }
    }
    columns.set_item(asked.size.0, asked.size.1)?;
    array_layer(py)?.getattr("solve")?.call1((circuit, columns, raises, threads))
}

/// The slope of every figure to every input, by name.
pub(crate) fn sensitivities<'py>(
    py: Python<'py>,
    circuit: &Circuit,
    temperatures: Temperatures<'_, 'py>,
    others: [Given<'_, 'py>; 4],
    sizes: [Given<'_, 'py>; 3],
) -> PyResult<Bound<'py, PyDict>> {
    let conditions = single_conditions(py, temperatures, others, sizes)?;
    let found = circuit.sensitivities(&conditions).or_raise(py)?;
    let result = PyDict::new(py);
    for (figure, _) in found.figures() {
        let by_input = PyDict::new(py);
        for &input in found.inputs() {
            by_input.set_item(input.to_string(), found.slope(figure, input))?;
        }
        result.set_item(figure, by_input)?;
    }
    Ok(result)
}

/// The best interstage pressures and how flat the COP is about them.
pub(crate) fn pressure_optimum<'py>(
    py: Python<'py>,
    circuit: &Circuit,
    temperatures: Temperatures<'_, 'py>,
    others: [Given<'_, 'py>; 4],
) -> PyResult<Bound<'py, PyDict>> {
    let conditions = single_conditions(py, temperatures, others, [None; 3])?;
    let found = circuit.pressure_optimum(&conditions).or_raise(py)?;
    let result = PyDict::new(py);
    result.set_item("pressures", PyTuple::new(py, found.pressures())?)?;
    result.set_item("exponents", PyTuple::new(py, found.exponents())?)?;
    result.set_item("cop", found.cop())?;
    result.set_item("cop_lost_off_by_a_tenth", PyTuple::new(py, found.cop_lost_off_by_a_tenth())?)?;
    Ok(result)
}

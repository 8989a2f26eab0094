//! Efficiencies of a stage from the states at its two ends.

use interstage::{Error, Refrigerant, Result, State};
use pyo3::prelude::*;

use crate::arguments::object;
use crate::errors::OrRaise;
use crate::state::PyState;

fn between(
    inlet: &Bound<'_, PyAny>,
    outlet: &Bound<'_, PyAny>,
    efficiency: fn(&Refrigerant, &State, &State) -> Result<f64>,
) -> PyResult<f64> {
    let from = object::<PyState>("inlet", inlet)?.get();
    let to = object::<PyState>("outlet", outlet)?.get();
    let found = if from.refrigerant == to.refrigerant {
        efficiency(&from.refrigerant, &from.state, &to.state)
    } else {
        let reason = format!("they are states of {:?} and {:?}", from.refrigerant, to.refrigerant);
        Err(Error::Inconsistent { arguments: "inlet and outlet", reason })
    };
    found.or_raise(inlet.py())
}

/// Isentropic efficiency of a compression between two states, (h(p_out, s_in) - h_in) / (h_out - h_in).
///
/// Parameters
/// ----------
/// inlet : State
/// outlet : State
///     Of the same refrigerant handle.
///
/// Returns
/// -------
/// float
///
/// Raises
/// ------
/// Inconsistent
///     If pressure or enthalpy does not rise, or the states are of different refrigerants.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-134a")
/// >>> inlet = r.saturation(T=278.15).vapor
/// >>> ideal = r.state(p=900e3, s=inlet.s)
/// >>> outlet = r.state(p=900e3, h=inlet.h + (ideal.h - inlet.h) / 0.8)
/// >>> round(interstage.isentropic_efficiency(inlet, outlet), 12)
/// 0.8
#[pyfunction]
pub(crate) fn isentropic_efficiency(inlet: &Bound<'_, PyAny>, outlet: &Bound<'_, PyAny>) -> PyResult<f64> {
    between(inlet, outlet, interstage::isentropic_efficiency)
}

/// Polytropic efficiency of a compression between two states, by the three-point method.
///
/// Parameters
/// ----------
/// inlet : State
/// outlet : State
///     Of the same refrigerant handle.
///
/// Returns
/// -------
/// float
///
/// Raises
/// ------
/// Inconsistent
///     If pressure or enthalpy does not rise, or the states are of different refrigerants.
/// NotConverged, OutOfRange
///     If a state between cannot be found.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-134a")
/// >>> circuit = interstage.Circuit(r, stages=[interstage.Stage(polytropic_efficiency=0.8)])
/// >>> points = circuit.solve(
/// ...     evaporating_temperature=278.15, condensing_temperature=310.15, mass_flow=1.0
/// ... ).points
/// >>> inlet, outlet = points["stage_1_inlet"].state, points["stage_1_outlet"].state
/// >>> round(interstage.polytropic_efficiency(inlet, outlet), 4)
/// 0.8
#[pyfunction]
pub(crate) fn polytropic_efficiency(inlet: &Bound<'_, PyAny>, outlet: &Bound<'_, PyAny>) -> PyResult<f64> {
    between(inlet, outlet, interstage::polytropic_efficiency)
}

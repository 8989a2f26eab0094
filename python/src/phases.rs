//! Liquid and vapor of a blend, each with its own composition.

use interstage::{Phases, Refrigerant};
use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict};

use crate::arguments::html_of;
use crate::errors::OrRaise;
use crate::state::PyState;
use crate::stored::shown;

/// Liquid and vapor in equilibrium, each with its own composition.
///
/// Made by `State.phases` for a blend by the mixture model. The states are on the basis of a kilogram of the phase; their refrigerant is the
/// blend in the phase's proportions, with the same zero of enthalpy and entropy.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-407C", model="mixture")
/// >>> phases = r.state(p=500e3, x=0.2).phases()
/// >>> round(phases.liquid_composition["R-32"], 3), round(phases.vapor_composition["R-32"], 3)
/// (0.206, 0.325)
#[pyclass(module = "interstage", name = "Phases", frozen)]
#[derive(Debug)]
pub(crate) struct PyPhases {
    refrigerant: Refrigerant,
    phases: Phases,
}

impl PyPhases {
    pub(crate) fn new(refrigerant: Refrigerant, phases: Phases) -> Self {
        Self { refrigerant, phases }
    }

    fn composition<'py>(&self, py: Python<'py>, fractions: &[f64]) -> PyResult<Bound<'py, PyDict>> {
        let names = self.refrigerant.composition().unwrap_or_default().iter().map(|(name, _)| *name);
        names.zip(fractions.iter().copied()).into_py_dict(py)
    }
}

#[pymethods]
impl PyPhases {
    /// The liquid, as a state of the blend in its proportions.
    #[getter]
    fn liquid(&self, py: Python<'_>) -> PyResult<PyState> {
        let refrigerant = self.refrigerant.with_composition(self.phases.liquid_composition()).or_raise(py)?;
        Ok(PyState::new(refrigerant, *self.phases.liquid()))
    }

    /// The vapor, as a state of the blend in its proportions.
    #[getter]
    fn vapor(&self, py: Python<'_>) -> PyResult<PyState> {
        let refrigerant = self.refrigerant.with_composition(self.phases.vapor_composition()).or_raise(py)?;
        Ok(PyState::new(refrigerant, *self.phases.vapor()))
    }

    /// Mass fractions of the components in the liquid.
    #[getter]
    fn liquid_composition<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.composition(py, self.phases.liquid_composition())
    }

    /// Mass fractions of the components in the vapor.
    #[getter]
    fn vapor_composition<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.composition(py, self.phases.vapor_composition())
    }

    fn __repr__(&self) -> String {
        let state = self.phases.vapor();
        format!(
            "Phases({}: T={} K, p={} Pa)",
            self.refrigerant.name(),
            shown(state.temperature()),
            shown(state.pressure())
        )
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

//! Brines of the water circuits: the kernel behind `interstage.WaterLoop`.
#![expect(clippy::needless_pass_by_value, reason = "extracted arguments arrive by value")]

use interstage::Brine;
use numpy::{IntoPyArray, PyArray1, PyReadonlyArray1};
use pyo3::prelude::*;

use crate::arguments::number;
use crate::errors::{OrRaise, wrong_argument};

/// A brine: a glycol by its strength, or any by its data sheet.
#[pyclass(module = "interstage._core", name = "Brine", frozen)]
#[derive(Debug)]
pub(crate) struct PyBrine {
    pub(crate) inner: Brine,
}

#[pymethods]
impl PyBrine {
    #[new]
    #[pyo3(signature = (*, kind=None, strength=None, density=None, heat_capacity=None))]
    fn new(
        py: Python<'_>,
        kind: Option<&str>,
        strength: Option<&Bound<'_, PyAny>>,
        density: Option<&Bound<'_, PyAny>>,
        heat_capacity: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let brine = match (kind, strength, density, heat_capacity) {
            (Some("ethylene glycol"), Some(strength), None, None) => {
                Brine::ethylene_glycol(number("strength", strength)?)
            }
            (Some("propylene glycol"), Some(strength), None, None) => {
                Brine::propylene_glycol(number("strength", strength)?)
            }
            (None, None, Some(density), Some(heat)) => {
                Brine::from_data_sheet(number("density", density)?, number("heat_capacity", heat)?)
            }
            _ => {
                let message = "a brine is a glycol and its strength, or a density and a heat capacity";
                return Err(wrong_argument(py, "kind", message));
            }
        };
        Ok(Self { inner: brine.or_raise(py)? })
    }

    /// Freezing point, K; None for a brine by its data sheet.
    #[getter]
    fn freezing_temperature(&self) -> Option<f64> {
        self.inner.freezing_temperature()
    }

    /// Density at one temperature, kg/m3.
    fn density(&self, temperature: &Bound<'_, PyAny>) -> PyResult<f64> {
        self.inner.density(number("temperature", temperature)?).or_raise(temperature.py())
    }

    /// Heat capacity at one temperature, J/(kg K).
    fn heat_capacity(&self, temperature: &Bound<'_, PyAny>) -> PyResult<f64> {
        self.inner.heat_capacity(number("temperature", temperature)?).or_raise(temperature.py())
    }

    /// Densities of a column; NaN where it is not liquid.
    fn densities<'py>(
        &self,
        py: Python<'py>,
        temperatures: PyReadonlyArray1<'py, f64>,
    ) -> Bound<'py, PyArray1<f64>> {
        column(py, &temperatures, |temperature| self.inner.density(temperature))
    }

    /// Heat capacities of a column; NaN where it is not liquid.
    fn heat_capacities<'py>(
        &self,
        py: Python<'py>,
        temperatures: PyReadonlyArray1<'py, f64>,
    ) -> Bound<'py, PyArray1<f64>> {
        column(py, &temperatures, |temperature| self.inner.heat_capacity(temperature))
    }
}

fn column<'py>(
    py: Python<'py>,
    temperatures: &PyReadonlyArray1<'py, f64>,
    of: impl Fn(f64) -> interstage::Result<f64>,
) -> Bound<'py, PyArray1<f64>> {
    let at = temperatures.as_array();
    let told: Vec<f64> = at.iter().map(|&temperature| of(temperature).unwrap_or(f64::NAN)).collect();
    told.into_pyarray(py)
}

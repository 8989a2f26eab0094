//! Saturated liquid and vapor as one object.

use interstage::{Refrigerant, Saturation, State};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::html_of;
use crate::refrigerant::PyRefrigerant;
use crate::state::PyState;
use crate::stored::{Stored, hash_of, rebuilt, shown, storage};

/// Saturated liquid and saturated vapor in equilibrium.
///
/// Made by `Refrigerant.saturation`. `T` or `p`, whichever was given, is returned unchanged; of a blend the other is that
/// of the dew point, and its bubble point is `liquid`. SI units.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-123")
/// >>> s = r.saturation(T=278.15)
/// >>> s.T, s.liquid.phase, s.vapor.phase
/// (278.15, 'liquid', 'vapor')
/// >>> s.latent_heat == s.vapor.h - s.liquid.h
/// True
#[pyclass(module = "interstage", name = "Saturation", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PySaturation {
    refrigerant: Refrigerant,
    liquid: State,
    vapor: State,
    glide: f64,
}

impl PySaturation {
    pub(crate) fn new(refrigerant: Refrigerant, saturation: &Saturation) -> Self {
        let glide = saturation.temperature_glide();
        Self { refrigerant, liquid: saturation.liquid(), vapor: saturation.vapor(), glide }
    }

    fn phase(&self, state: State) -> PyState {
        PyState::new(self.refrigerant.clone(), state)
    }
}

#[pymethods]
impl PySaturation {
    /// Saturation temperature, K: of a blend the dew temperature.
    #[getter]
    #[expect(non_snake_case, reason = "the symbol of the trade")]
    fn T(&self) -> f64 {
        self.vapor.temperature()
    }

    /// Saturation pressure, Pa absolute: of a blend the dew pressure.
    #[getter]
    fn p(&self) -> f64 {
        self.vapor.pressure()
    }

    /// Saturated liquid (the bubble point).
    #[getter]
    fn liquid(&self) -> PyState {
        self.phase(self.liquid)
    }

    /// Saturated vapor (the dew point).
    #[getter]
    fn vapor(&self) -> PyState {
        self.phase(self.vapor)
    }

    /// Dew less bubble temperature at the pressure of the vapor, K: the temperature glide of a blend, zero for a pure
    /// fluid.
    #[getter]
    fn temperature_glide(&self) -> f64 {
        self.glide
    }

    /// Enthalpy of saturated vapor less that of saturated liquid, J/kg.
    #[getter]
    fn latent_heat(&self) -> f64 {
        self.vapor.enthalpy() - self.liquid.enthalpy()
    }

    /// The refrigerant.
    #[getter]
    fn refrigerant(&self) -> PyRefrigerant {
        PyRefrigerant { inner: self.refrigerant.clone() }
    }

    /// Both states as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Saturation")?;
        data.set_item("liquid", self.liquid().to_dict(py)?)?;
        data.set_item("vapor", self.vapor().to_dict(py)?)?;
        data.set_item("temperature_glide", self.glide)?;
        Ok(data)
    }

    /// The saturation of a dictionary that `to_dict` made, to the bit.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "Saturation")?;
        let liquid = PyState::restored(&stored.dict("liquid")?)?;
        let vapor = PyState::restored(&stored.dict("vapor")?)?;
        let glide = stored.finite("temperature_glide")?;
        Ok(Self { refrigerant: vapor.refrigerant, liquid: liquid.state, vapor: vapor.state, glide })
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        rebuilt(slf, slf.get().to_dict(slf.py())?)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self == other
    }

    fn __hash__(&self) -> u64 {
        hash_of(&self.vapor())
    }

    fn __repr__(&self) -> String {
        format!(
            "Saturation({}: T={} K, p={} Pa, latent_heat={} J/kg)",
            self.refrigerant.name(),
            shown(self.T()),
            shown(self.p()),
            shown(self.latent_heat()),
        )
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

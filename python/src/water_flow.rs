//! Flows of water and brine.

use std::hash::{Hash, Hasher};

use interstage::WaterFlow;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::number;
use crate::errors::{OrRaise, wrong_argument};
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, storage};

/// A flow of water or brine through an exchanger. SI units.
///
/// Plain water has the density and heat capacity of IAPWS-95 at 0.3 MPa; a brine has those that are given for it, the
/// same at all temperatures.
///
/// Parameters
/// ----------
/// mass_flow : float, optional
///     kg/s. Plain water unless ``heat_capacity`` is given.
/// volume_flow : float, optional
///     m3/s, instead of ``mass_flow``: with ``temperature`` for plain water, with ``density`` and ``heat_capacity`` for
///     a brine.
/// temperature : float, optional
///     Of plain water at the meter, K.
/// density : float, optional
///     Of a brine at the meter, kg/m3.
/// heat_capacity : float, optional
///     Of a brine, J/(kg K).
///
/// Raises
/// ------
/// WrongArgument
///     For another choice of arguments.
/// OutOfRange, NotFinite
///     If the flow is outside 1e-9 to 1e9 kg/s, the density outside 300 to 3000 kg/m3, the heat capacity outside 500 to
///     10,000 J/(kg K), or the temperature not that of liquid water.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> water = interstage.WaterFlow(volume_flow=0.1514, temperature=285.37)
/// >>> round(water.heat(285.37, 279.82) / 3516.853)  # tons: 2.4 gpm/ton between 54 and 44 degF
/// 1002
/// >>> interstage.WaterFlow(mass_flow=100.0, heat_capacity=3600.0).heat(270.0, 265.0)
/// 1800000.0
#[pyclass(module = "interstage", name = "WaterFlow", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyWaterFlow {
    pub(crate) inner: WaterFlow,
}

#[pymethods]
impl PyWaterFlow {
    #[new]
    #[pyo3(signature = (*, mass_flow=None, volume_flow=None, temperature=None, density=None, heat_capacity=None))]
    fn new(
        py: Python<'_>,
        mass_flow: Option<&Bound<'_, PyAny>>,
        volume_flow: Option<&Bound<'_, PyAny>>,
        temperature: Option<&Bound<'_, PyAny>>,
        density: Option<&Bound<'_, PyAny>>,
        heat_capacity: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let volume = |value| number("volume_flow", value);
        let inner = match (mass_flow, volume_flow, temperature, density, heat_capacity) {
            (Some(mass), None, None, None, None) => WaterFlow::water(number("mass_flow", mass)?),
            (Some(mass), None, None, None, Some(heat)) => {
                WaterFlow::brine(number("mass_flow", mass)?, number("heat_capacity", heat)?)
            }
            (None, Some(flow), Some(at), None, None) => {
                WaterFlow::water_by_volume(volume(flow)?, number("temperature", at)?)
            }
            (None, Some(flow), None, Some(density), Some(heat)) => WaterFlow::brine_by_volume(
                volume(flow)?,
                number("density", density)?,
                number("heat_capacity", heat)?,
            ),
            _ => {
                let message = "a water flow has mass_flow, or volume_flow and temperature; a brine mass_flow and \
                               heat_capacity, or volume_flow, density and heat_capacity";
                return Err(wrong_argument(py, "mass_flow, volume_flow", message));
            }
        };
        Ok(Self { inner: inner.or_raise(py)? })
    }

    /// Heat that is given between two temperatures, W: positive where the water is cooled.
    ///
    /// Parameters
    /// ----------
    /// water_entering, water_leaving : float
    ///     K.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     For water outside 273.16 K to 393.15 K, brine outside 173.15 K to 473.15 K.
    fn heat(&self, water_entering: &Bound<'_, PyAny>, water_leaving: &Bound<'_, PyAny>) -> PyResult<f64> {
        let (entering, leaving) =
            (number("water_entering", water_entering)?, number("water_leaving", water_leaving)?);
        self.inner.heat(entering, leaving).or_raise(water_entering.py())
    }

    /// Heat per kelvin between two temperatures, W/K: mass flow times the mean heat capacity.
    ///
    /// Parameters
    /// ----------
    /// water_entering, water_leaving : float
    ///     K.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     As ``heat``.
    fn capacity_rate(
        &self,
        water_entering: &Bound<'_, PyAny>,
        water_leaving: &Bound<'_, PyAny>,
    ) -> PyResult<f64> {
        let (entering, leaving) =
            (number("water_entering", water_entering)?, number("water_leaving", water_leaving)?);
        self.inner.capacity_rate(entering, leaving).or_raise(water_entering.py())
    }

    /// Temperature of the water once it has given heat, K.
    ///
    /// Parameters
    /// ----------
    /// water_entering : float
    ///     K.
    /// heat : float
    ///     W; negative where the water takes heat up.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     As ``heat``, and for more heat than leaves the water liquid.
    fn leaving_temperature(
        &self,
        water_entering: &Bound<'_, PyAny>,
        heat: &Bound<'_, PyAny>,
    ) -> PyResult<f64> {
        let (entering, heat) = (number("water_entering", water_entering)?, number("heat", heat)?);
        self.inner.leaving_temperature(entering, heat).or_raise(water_entering.py())
    }

    /// Mass flow, kg/s.
    #[getter]
    fn mass_flow(&self) -> f64 {
        self.inner.mass_flow()
    }

    /// Heat capacity of a brine, J/(kg K); None for plain water, which has its own at each temperature.
    #[getter]
    fn heat_capacity(&self) -> Option<f64> {
        self.inner.heat_capacity()
    }

    /// The flow as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "WaterFlow")?;
        data.set_item("mass_flow", self.mass_flow())?;
        if let Some(heat_capacity) = self.heat_capacity() {
            data.set_item("heat_capacity", heat_capacity)?;
        }
        Ok(data)
    }

    /// The flow of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "WaterFlow")?;
        let mass_flow = stored.number("mass_flow")?;
        let inner = if stored.has("heat_capacity") {
            WaterFlow::brine(mass_flow, stored.number("heat_capacity")?)
        } else {
            WaterFlow::water(mass_flow)
        };
        Ok(Self { inner: inner.or_raise(data.py())? })
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        rebuilt(slf, slf.get().to_dict(slf.py())?)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self == other
    }

    fn __hash__(&self) -> u64 {
        hash_of(self)
    }

    fn __repr__(&self) -> String {
        match self.heat_capacity() {
            Some(cp) => format!("WaterFlow(mass_flow={:?}, heat_capacity={cp:?})", self.mass_flow()),
            None => format!("WaterFlow(mass_flow={:?})", self.mass_flow()),
        }
    }
}

impl Hash for PyWaterFlow {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.inner.heat_capacity().is_some().hash(state);
        hash_numbers(state, &[self.inner.mass_flow(), self.inner.heat_capacity().unwrap_or(0.0)]);
    }
}

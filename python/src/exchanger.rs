//! Flooded evaporators and condensers.

use std::hash::{Hash, Hasher};

use interstage::{Exchanger, HeatTransfer, Vessel};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{number, object};
use crate::errors::{OrRaise, wrong_argument};
use crate::exchange::{PyHeatExchange, vessel_of};
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, storage};
use crate::variable_ua::PyVariableUa;
use crate::water_flow::PyWaterFlow;

/// A flooded evaporator or condenser at constant refrigerant temperature. SI units.
///
/// One zone at the saturation temperature is the standard reduction for both vessels. In a condenser vapor arrives
/// superheated, but the wall of the tubes is below the saturation temperature, so that vapor condenses on it from the
/// start.
///
/// Made by ``Exchanger.evaporator`` and ``Exchanger.condenser``.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> evaporator = interstage.Exchanger.evaporator(ua=1.1e6)
/// >>> water = interstage.WaterFlow(mass_flow=167.0)
/// >>> full = evaporator.at_leaving(water, 280.15, 3.5e6)
/// >>> half = evaporator.at_leaving(water, 280.15, 1.75e6)
/// >>> round(full.approach, 2), round(half.approach, 2)
/// (1.31, 0.66)
#[pyclass(module = "interstage", name = "Exchanger", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyExchanger {
    pub(crate) inner: Exchanger,
}

impl PyExchanger {
    fn made(
        py: Python<'_>,
        vessel: Vessel,
        ua: Option<&Bound<'_, PyAny>>,
        approach: Option<&Bound<'_, PyAny>>,
        effectiveness: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let transfer = match (ua, approach, effectiveness) {
            (Some(ua), None, None) => match ua.cast::<PyVariableUa>() {
                Ok(variable) => HeatTransfer::VariableUa(variable.get().inner),
                Err(_) => HeatTransfer::Ua(number("ua", ua)?),
            },
            (None, Some(approach), None) => HeatTransfer::Approach(number("approach", approach)?),
            (None, None, Some(value)) => HeatTransfer::Effectiveness(number("effectiveness", value)?),
            _ => {
                let message = "an exchanger has exactly one of ua, approach and effectiveness";
                return Err(wrong_argument(py, "ua, approach, effectiveness", message));
            }
        };
        Self::of(vessel, transfer).or_raise(py)
    }

    fn of(vessel: Vessel, transfer: HeatTransfer) -> interstage::Result<Self> {
        let inner = match vessel {
            Vessel::Evaporator => Exchanger::evaporator(transfer)?,
            Vessel::Condenser => Exchanger::condenser(transfer)?,
        };
        Ok(Self { inner })
    }

    /// The name and the number that describe the heat transfer; for a variable conductance no number.
    fn described(&self) -> (&'static str, Option<f64>) {
        match self.inner.heat_transfer() {
            HeatTransfer::Ua(value) => ("ua", Some(value)),
            HeatTransfer::Approach(value) => ("approach", Some(value)),
            HeatTransfer::Effectiveness(value) => ("effectiveness", Some(value)),
            _ => ("ua", None),
        }
    }
}

#[pymethods]
impl PyExchanger {
    /// An evaporator.
    ///
    /// Parameters
    /// ----------
    /// ua : float or VariableUa, optional
    ///     Conductance, W/K.
    /// approach : float, optional
    ///     Difference between leaving water and saturation temperature, K, whatever the load.
    /// effectiveness : float, optional
    ///     Water range over the largest possible one, above 0 and below 1.
    ///
    /// Returns
    /// -------
    /// Exchanger
    ///
    /// Raises
    /// ------
    /// WrongArgument
    ///     Unless exactly one of the three is given.
    /// OutOfRange, NotFinite
    ///     If it is not positive, or an effectiveness of 1 or more.
    #[classmethod]
    #[pyo3(signature = (*, ua=None, approach=None, effectiveness=None))]
    fn evaporator(
        class: &Bound<'_, PyType>,
        ua: Option<&Bound<'_, PyAny>>,
        approach: Option<&Bound<'_, PyAny>>,
        effectiveness: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        Self::made(class.py(), Vessel::Evaporator, ua, approach, effectiveness)
    }

    /// A condenser.
    ///
    /// Parameters
    /// ----------
    /// ua : float or VariableUa, optional
    ///     Conductance, W/K.
    /// approach : float, optional
    ///     Difference between saturation temperature and leaving water, K, whatever the load.
    /// effectiveness : float, optional
    ///     Water range over the largest possible one, above 0 and below 1.
    ///
    /// Returns
    /// -------
    /// Exchanger
    ///
    /// Raises
    /// ------
    /// WrongArgument, OutOfRange, NotFinite
    ///     As ``evaporator``.
    #[classmethod]
    #[pyo3(signature = (*, ua=None, approach=None, effectiveness=None))]
    fn condenser(
        class: &Bound<'_, PyType>,
        ua: Option<&Bound<'_, PyAny>>,
        approach: Option<&Bound<'_, PyAny>>,
        effectiveness: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        Self::made(class.py(), Vessel::Condenser, ua, approach, effectiveness)
    }

    /// What the exchanger does with water that enters at a temperature, with heat to pass.
    ///
    /// Parameters
    /// ----------
    /// water : WaterFlow
    /// water_entering : float
    ///     K.
    /// heat : float
    ///     Positive in either vessel, W.
    ///
    /// Returns
    /// -------
    /// HeatExchange
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If the heat is not positive or more than leaves the water liquid, or the water is no liquid.
    /// Inconsistent
    ///     If the refrigerant would have to be below absolute zero.
    fn at_entering(
        &self,
        water: &Bound<'_, PyAny>,
        water_entering: &Bound<'_, PyAny>,
        heat: &Bound<'_, PyAny>,
    ) -> PyResult<PyHeatExchange> {
        let flow = &object::<PyWaterFlow>("water", water)?.get().inner;
        let (entering, heat) = (number("water_entering", water_entering)?, number("heat", heat)?);
        Ok(PyHeatExchange::new(&self.inner.at_entering(flow, entering, heat).or_raise(water.py())?))
    }

    /// What the exchanger does with water that leaves at a temperature, with heat to pass.
    ///
    /// Parameters
    /// ----------
    /// water : WaterFlow
    /// water_leaving : float
    ///     K.
    /// heat : float
    ///     Positive in either vessel, W.
    ///
    /// Returns
    /// -------
    /// HeatExchange
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent
    ///     As ``at_entering``.
    fn at_leaving(
        &self,
        water: &Bound<'_, PyAny>,
        water_leaving: &Bound<'_, PyAny>,
        heat: &Bound<'_, PyAny>,
    ) -> PyResult<PyHeatExchange> {
        let flow = &object::<PyWaterFlow>("water", water)?.get().inner;
        let (leaving, heat) = (number("water_leaving", water_leaving)?, number("heat", heat)?);
        Ok(PyHeatExchange::new(&self.inner.at_leaving(flow, leaving, heat).or_raise(water.py())?))
    }

    /// What the exchanger does between entering water and refrigerant: the heat is found.
    ///
    /// Parameters
    /// ----------
    /// water : WaterFlow
    /// water_entering : float
    ///     K.
    /// saturation_temperature : float
    ///     Of the refrigerant, K.
    ///
    /// Returns
    /// -------
    /// HeatExchange
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If the water is no liquid, or would freeze.
    /// Inconsistent
    ///     If no heat passes in the direction of this vessel, or less than the approach is between the two.
    /// NotConverged
    fn at_saturation(
        &self,
        water: &Bound<'_, PyAny>,
        water_entering: &Bound<'_, PyAny>,
        saturation_temperature: &Bound<'_, PyAny>,
    ) -> PyResult<PyHeatExchange> {
        let flow = &object::<PyWaterFlow>("water", water)?.get().inner;
        let entering = number("water_entering", water_entering)?;
        let saturation = number("saturation_temperature", saturation_temperature)?;
        Ok(PyHeatExchange::new(&self.inner.at_saturation(flow, entering, saturation).or_raise(water.py())?))
    }

    /// Whether the refrigerant evaporates or condenses: ``"evaporator"`` or ``"condenser"``.
    #[getter]
    fn vessel(&self) -> String {
        self.inner.vessel().to_string()
    }

    /// Conductance, W/K, as it was given; None where another number describes the exchanger.
    #[getter]
    fn ua<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        match self.inner.heat_transfer() {
            HeatTransfer::Ua(value) => Ok(Some(value.into_pyobject(py)?.into_any())),
            HeatTransfer::VariableUa(inner) => Ok(Some(Bound::new(py, PyVariableUa { inner })?.into_any())),
            _ => Ok(None),
        }
    }

    /// Difference between leaving water and saturation temperature, K; None where another number describes the
    /// exchanger.
    #[getter]
    fn approach(&self) -> Option<f64> {
        if let HeatTransfer::Approach(value) = self.inner.heat_transfer() { Some(value) } else { None }
    }

    /// Water range over the largest possible one, dimensionless; None where another number describes the exchanger.
    #[getter]
    fn effectiveness(&self) -> Option<f64> {
        if let HeatTransfer::Effectiveness(value) = self.inner.heat_transfer() { Some(value) } else { None }
    }

    /// The exchanger as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Exchanger")?;
        data.set_item("vessel", self.vessel())?;
        let (name, value) = self.described();
        match (value, self.inner.heat_transfer()) {
            (None, HeatTransfer::VariableUa(inner)) => {
                data.set_item(name, PyVariableUa { inner }.to_dict(py)?)?;
            }
            _ => data.set_item(name, value)?,
        }
        Ok(data)
    }

    /// The exchanger of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "Exchanger")?;
        let vessel = vessel_of(&stored.get("vessel")?)?;
        let transfer = if stored.has("approach") {
            HeatTransfer::Approach(stored.number("approach")?)
        } else if stored.has("effectiveness") {
            HeatTransfer::Effectiveness(stored.number("effectiveness")?)
        } else {
            match stored.get("ua")?.cast::<PyDict>() {
                Ok(variable) => HeatTransfer::VariableUa(PyVariableUa::restored(variable)?.inner),
                Err(_) => HeatTransfer::Ua(stored.number("ua")?),
            }
        };
        Self::of(vessel, transfer).or_raise(data.py())
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
        let vessel = self.inner.vessel();
        match (self.described(), self.inner.heat_transfer()) {
            ((name, Some(value)), _) => format!("Exchanger.{vessel}({name}={value:?})"),
            (_, HeatTransfer::VariableUa(inner)) => {
                format!("Exchanger.{vessel}(ua={})", PyVariableUa { inner }.__repr__())
            }
            _ => format!("Exchanger.{vessel}(...)"),
        }
    }
}

impl Hash for PyExchanger {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let (name, value) = self.described();
        (self.inner.vessel(), name).hash(state);
        match (value, self.inner.heat_transfer()) {
            (None, HeatTransfer::VariableUa(inner)) => PyVariableUa { inner }.hash(state),
            _ => hash_numbers(state, &[value.unwrap_or(0.0)]),
        }
    }
}

//! From a design sheet to a chiller.

use interstage::{Arrangement, ChillerPoint, DesignSheet, DesignedChiller, Exchanger, WateredCircuit};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{html_of, number, object, text};
use crate::chiller::PyChiller;
use crate::chiller_point::PyChillerPoint;
use crate::circuit::PyCircuit;
use crate::circuit_options::with_options;
use crate::duty::{BOUNDARIES, Maybe, waters, word};
use crate::economizers::optional;
use crate::errors::{OrRaise, wrong_argument};
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, hash_of, rebuilt, shown, storage};

/// A chiller of one circuit made from a design sheet. Made by `Circuit.from_design_point`.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> designed = interstage.Circuit.from_design_point(
/// ...     interstage.Refrigerant("R-1233zd(E)"),
/// ...     "2 stages: tank@2",
/// ...     capacity=3.5e6,
/// ...     power=580e3,
/// ...     power_boundary="motor input",
/// ...     chilled_water=interstage.WaterFlow(mass_flow=167.0),
/// ...     chilled_water_leaving=280.15,
/// ...     condenser_water=interstage.WaterFlow(mass_flow=190.0),
/// ...     condenser_water_entering=303.15,
/// ...     evaporator_approach=1.2,
/// ...     condenser_approach=1.0,
/// ...     motor_efficiency=0.95,
/// ... )
/// >>> round(designed.polytropic_efficiency, 3)
/// 0.743
#[pyclass(module = "interstage", name = "DesignPoint", frozen)]
#[derive(Debug)]
pub(crate) struct PyDesignPoint {
    chiller: Py<PyChiller>,
    point: ChillerPoint,
}

impl PyDesignPoint {
    fn of(py: Python<'_>, designed: &DesignedChiller) -> PyResult<Self> {
        let chiller = Py::new(py, PyChiller { inner: designed.chiller().clone() })?;
        Ok(Self { chiller, point: designed.point().clone() })
    }

    fn only(&self) -> PyResult<&WateredCircuit> {
        let of = self.chiller.get().inner.circuits().first();
        of.ok_or_else(|| pyo3::exceptions::PyRuntimeError::new_err("a design has one circuit"))
    }
}

/// UA of an exchanger that is described by it.
fn ua_of(exchanger: Exchanger) -> f64 {
    match exchanger.heat_transfer() {
        interstage::HeatTransfer::Ua(ua) => ua,
        _ => f64::NAN,
    }
}

#[pymethods]
impl PyDesignPoint {
    /// Polytropic efficiency of all stages, dimensionless.
    #[getter]
    fn polytropic_efficiency(&self) -> PyResult<f64> {
        Ok(self.only()?.circuit().stages().first().map_or(f64::NAN, interstage::Stage::efficiency))
    }

    /// Conductance of the evaporator, W/K.
    #[getter]
    fn evaporator_ua(&self) -> PyResult<f64> {
        Ok(ua_of(self.only()?.evaporator()))
    }

    /// Conductance of the condenser, W/K.
    #[getter]
    fn condenser_ua(&self) -> PyResult<f64> {
        Ok(ua_of(self.only()?.condenser()))
    }

    /// The chiller, its exchangers by UA.
    #[getter]
    fn chiller(&self, py: Python<'_>) -> Py<PyChiller> {
        self.chiller.clone_ref(py)
    }

    /// The circuit.
    #[getter]
    fn circuit(&self) -> PyResult<PyCircuit> {
        Ok(PyCircuit { inner: self.only()?.circuit().clone() })
    }

    /// The chiller at the duty of the sheet.
    #[getter]
    fn point(&self, py: Python<'_>) -> PyChillerPoint {
        PyChillerPoint { chiller: self.chiller.clone_ref(py), point: self.point.clone() }
    }

    /// Chiller and duty as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "DesignPoint")?;
        data.set_item("point", self.point(py).to_dict(py)?)?;
        Ok(data)
    }

    /// The design of a dictionary that `to_dict` made, solved again at its duty.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "DesignPoint")?;
        let point = PyChillerPoint::restored(&stored.dict("point")?)?;
        Ok(Self { chiller: point.chiller, point: point.point })
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        rebuilt(slf, slf.get().to_dict(slf.py())?)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.chiller.get() == other.chiller.get() && self.point == other.point
    }

    fn __hash__(&self) -> u64 {
        hash_of(&(self.point.cop().to_bits(), self.point.power().to_bits()))
    }

    fn __repr__(&self) -> PyResult<String> {
        Ok(format!(
            "DesignPoint(polytropic_efficiency={}, evaporator_ua={} W/K, condenser_ua={} W/K)",
            shown(self.polytropic_efficiency()?),
            shown(self.evaporator_ua()?),
            shown(self.condenser_ua()?),
        ))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

/// What `Circuit.from_design_point` does.
#[expect(clippy::too_many_arguments, reason = "one for each number of a sheet")]
pub(crate) fn design<'py>(
    refrigerant: &Bound<'py, PyAny>,
    arrangement: &Bound<'py, PyAny>,
    (capacity, power, power_boundary): (&Bound<'py, PyAny>, &Bound<'py, PyAny>, &Bound<'py, PyAny>),
    chilled: (&Bound<'py, PyAny>, Maybe<'_, 'py>, Maybe<'_, 'py>),
    condenser: (&Bound<'py, PyAny>, &Bound<'py, PyAny>),
    approaches: (&Bound<'py, PyAny>, &Bound<'py, PyAny>),
    (superheat, subcooling): (Maybe<'_, 'py>, Maybe<'_, 'py>),
    options: Option<&Bound<'py, PyDict>>,
) -> PyResult<PyDesignPoint> {
    let py = refrigerant.py();
    let refrigerant = object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner.clone();
    let arrangement: Arrangement = text("arrangement", arrangement)?.parse().or_raise(py)?;
    let waters = waters(capacity, chilled, condenser)?;
    let Some(numbers) = waters.single()? else {
        return Err(wrong_argument(py, "capacity", "a design sheet has single numbers, not columns"));
    };
    let duty = waters.duty(numbers).or_raise(py)?;
    let boundary = word("power_boundary", power_boundary, &BOUNDARIES)?;
    let approaches =
        (number("evaporator_approach", approaches.0)?, number("condenser_approach", approaches.1)?);
    // Losses and drive as in a circuit; what a sheet has no place for is refused.
    let stage = interstage::Stage::polytropic(1.0).or_raise(py)?;
    let plain = arrangement.circuit(refrigerant.clone(), stage).or_raise(py)?;
    let with = with_options(py, plain.clone(), options)?;
    if with.metering() != plain.metering() || with.suction_exchanger() != plain.suction_exchanger() {
        let message = "expander and suction exchanger are written in the arrangement of a design sheet";
        return Err(wrong_argument(py, "expander_efficiency, suction_exchanger_effectiveness", message));
    }
    let sheet = DesignSheet::new(duty, (number("power", power)?, boundary), approaches)
        .or_raise(py)?
        .with_suction_superheat(optional("suction_superheat", superheat)?.unwrap_or(0.0))
        .with_subcooling(optional("subcooling", subcooling)?.unwrap_or(0.0))
        .with_drive(with.drive())
        .with_pressure_losses(with.pressure_losses());
    PyDesignPoint::of(py, &sheet.design(refrigerant, &arrangement).or_raise(py)?)
}

//! A chiller at a duty.

use interstage::{ChilledWater, ChillerPoint, Duty};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{html_of, schematic, text_of};
use crate::chiller::PyChiller;
use crate::circuit::PyCircuit;
use crate::cycle::PyCycle;
use crate::errors::{OrRaise, unreadable, wrong_argument};
use crate::exchange::PyHeatExchange;
use crate::figures::figure_methods;
use crate::stored::{Stored, fitted, hash_of, rebuilt, shown, storage};
use crate::water_flow::PyWaterFlow;
use crate::zones::PyCondenserZones;

/// A chiller at a duty: the cycles and exchangers of its circuits and the figures of the whole. SI units. Made by `Chiller.solve`.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> circuit = interstage.Circuit(
/// ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(polytropic_efficiency=0.8)]
/// ... )
/// >>> chiller = interstage.Chiller(
/// ...     circuit,
/// ...     evaporator=interstage.Exchanger.evaporator(approach=1.5),
/// ...     condenser=interstage.Exchanger.condenser(approach=1.0),
/// ... )
/// >>> point = chiller.solve(
/// ...     capacity=1e6,
/// ...     chilled_water=interstage.WaterFlow(mass_flow=48.0),
/// ...     chilled_water_leaving=280.15,
/// ...     condenser_water=interstage.WaterFlow(mass_flow=55.0),
/// ...     condenser_water_entering=303.15,
/// ... )
/// >>> round(point.evaporating_temperatures[0], 2), abs(point.energy_closure) < 1e-9
/// (278.65, True)
#[pyclass(module = "interstage", name = "ChillerPoint", frozen)]
#[derive(Debug)]
pub(crate) struct PyChillerPoint {
    pub(crate) chiller: Py<PyChiller>,
    pub(crate) point: ChillerPoint,
}

impl PyChillerPoint {
    /// What makes it again.
    fn recipe<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "ChillerPoint")?;
        let duty = self.point.duty();
        data.set_item("chiller", self.chiller.get().to_dict(py)?)?;
        data.set_item("capacity", duty.capacity())?;
        for (name, inner) in
            [("chilled_water", duty.chilled_water()), ("condenser_water", duty.condenser_water())]
        {
            data.set_item(name, PyWaterFlow { inner }.to_dict(py)?)?;
        }
        let name = match duty.chilled_water_temperature() {
            ChilledWater::Leaving(_) => "chilled_water_leaving",
            _ => "chilled_water_entering",
        };
        data.set_item(name, duty.chilled_water_temperature().temperature())?;
        data.set_item("condenser_water_entering", duty.condenser_water_entering())?;
        Ok(data)
    }

    pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = data.py();
        let stored = Stored::new(data, "ChillerPoint")?;
        let chiller = PyChiller::restored(&stored.dict("chiller")?)?;
        let water = |key: &str| -> PyResult<_> {
            let of = py.get_type::<PyWaterFlow>().call_method1("from_dict", (stored.dict(key)?,))?;
            Ok(of.cast::<PyWaterFlow>()?.get().inner)
        };
        let known = match (stored.has("chilled_water_leaving"), stored.has("chilled_water_entering")) {
            (true, false) => ChilledWater::Leaving(stored.number("chilled_water_leaving")?),
            (false, true) => ChilledWater::Entering(stored.number("chilled_water_entering")?),
            _ => return Err(unreadable(py, "it holds no single chilled water temperature".to_owned())),
        };
        let duty = Duty::new(
            stored.number("capacity")?,
            (water("chilled_water")?, known),
            (water("condenser_water")?, stored.number("condenser_water_entering")?),
        )
        .or_raise(py)?;
        let point = chiller.inner.solve(&duty).or_raise(py)?;
        Ok(Self { chiller: Py::new(py, chiller)?, point })
    }
}

impl PartialEq for PyChillerPoint {
    fn eq(&self, other: &Self) -> bool {
        self.chiller.get() == other.chiller.get() && self.point == other.point
    }
}

figure_methods! {
    PyChillerPoint, point: numbers {
        /// Refrigerating capacity, W.
        capacity
        /// Compression power of all circuits, W.
        power
        /// Power at all compressor shafts, W.
        shaft_power
        /// Power into all motors, W.
        motor_input_power
        /// Power into all drives, W.
        drive_input_power
        /// Heat given up in all condensers, W.
        heat_rejected
        /// Capacity per compression power.
        cop
        /// Compression power per capacity, kW per ton of refrigeration.
        kw_per_ton
        /// Temperature of the chilled water that enters, K.
        chilled_water_entering
        /// Temperature of the chilled water that leaves, K; of streams in parallel the mean by flow.
        chilled_water_leaving
        /// Temperature of the condenser water that enters, K.
        condenser_water_entering
        /// Temperature of the condenser water that leaves, K; of streams in parallel the mean by flow.
        condenser_water_leaving
        /// Leaving condenser water less leaving chilled water, K.
        water_lift
        /// Capacity plus power plus motor heat less heat rejected, per heat rejected: zero but for rounding.
        energy_closure
    }
    tuples {
        /// Evaporating temperature of each circuit, K.
        evaporating_temperatures
        /// Condensing temperature of each circuit, K.
        condensing_temperatures
        /// Discharge temperature of each circuit, K.
        discharge_temperatures
        /// What the economizers of each circuit save, dimensionless.
        economizer_benefits
    }

    /// COP of the loss-free machine between these waters (Lorenz), dimensionless.
    #[getter]
    fn lorenz_cop(&self, py: Python<'_>) -> PyResult<f64> {
        self.point.lorenz_cop().or_raise(py)
    }

    /// Cycle of each circuit, along the chilled water.
    #[getter]
    fn cycles<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let circuits = self.chiller.get().inner.circuits();
        let each = circuits.iter().zip(self.point.cycles()).map(|(of, cycle)| {
            let circuit = Py::new(py, PyCircuit { inner: of.circuit().clone() })?;
            Py::new(py, PyCycle::new(circuit, cycle.clone()))
        });
        PyTuple::new(py, each.collect::<PyResult<Vec<_>>>()?)
    }

    /// Evaporator of each circuit, along the chilled water.
    #[getter]
    fn evaporators<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.point.evaporators().iter().map(PyHeatExchange::new).collect::<Vec<_>>())
    }

    /// Condenser of each circuit, along the chilled water.
    #[getter]
    fn condensers<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.point.condensers().iter().map(PyHeatExchange::new).collect::<Vec<_>>())
    }

    /// The condenser of a circuit in zones, with the pinch at the dew point that the single zone leaves out.
    ///
    /// Parameters
    /// ----------
    /// circuit : int, optional
    ///     Counted along the chilled water from 1.
    ///
    /// Returns
    /// -------
    /// CondenserZones
    ///
    /// Raises
    /// ------
    /// Inconsistent
    ///     If the water would be warmer than the refrigerant at the dew point.
    /// WrongArgument
    ///     If there is no such circuit.
    #[pyo3(signature = (circuit=1))]
    fn condenser_zones(&self, py: Python<'_>, circuit: usize) -> PyResult<PyCondenserZones> {
        match circuit.checked_sub(1).and_then(|place| self.point.condenser_zones(place)) {
            Some(zones) => Ok(PyCondenserZones::of(&zones.or_raise(py)?)),
            None => {
                let most = self.point.cycles().len();
                let message = format!("circuit must be 1 to {most}, got {circuit}");
                Err(wrong_argument(py, "circuit", &message))
            }
        }
    }

    /// The chiller that was solved.
    #[getter]
    fn chiller(&self, py: Python<'_>) -> Py<PyChiller> {
        self.chiller.clone_ref(py)
    }

    /// Chiller and duty as a dictionary that `from_dict` reads, with the figures for others.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = self.recipe(py)?;
        data.set_item("figures", self.figures(py)?)?;
        Ok(data)
    }

    /// The chiller of a dictionary that `to_dict` made, solved again at its duty.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        Self::restored(data)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyTuple>> {
        rebuilt(slf, slf.get().recipe(slf.py())?)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self == other
    }

    fn __hash__(&self) -> u64 {
        hash_of(&(self.point.cop().to_bits(), self.point.power().to_bits()))
    }

    /// The schematic of the chiller, with the figures of every circuit and of the water.
    ///
    /// Parameters
    /// ----------
    /// units : {"SI", "I-P"}, optional
    ///     degC, kPa and kg/s, or degF, psia and lb/min.
    ///
    /// Returns
    /// -------
    /// Schematic
    ///     Shown by notebooks; ``to_svg()``, ``save(path)``.
    #[pyo3(signature = (units=None), text_signature = "($self, units='SI')")]
    fn schematic<'py>(
        slf: &Bound<'py, Self>,
        units: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        schematic(slf, units)
    }

    fn __repr__(&self) -> String {
        fitted(&format!(
            "ChillerPoint(circuits: {}, {}; water {} K to {} K and {} K to {} K, cop={}, capacity={} W, power={} W)",
            self.point.cycles().len(),
            self.chiller.get().water_paths(),
            shown(self.chilled_water_entering()),
            shown(self.chilled_water_leaving()),
            shown(self.condenser_water_entering()),
            shown(self.condenser_water_leaving()),
            shown(self.cop()),
            shown(self.capacity()),
            shown(self.power()),
        ))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }

    fn __str__(slf: &Bound<'_, Self>) -> PyResult<String> {
        text_of(slf)
    }
}

//! Chillers of one or more circuits on common water.

use std::hash::{Hash, Hasher};

use interstage::{
    ChilledWater, Chiller, ChillerColumns, Duty, Exchanger, PowerBoundary, SERIAL_CYCLES, WaterPaths,
    WateredCircuit,
};
use numpy::{IntoPyArray, PyArray1, PyArrayMethods};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple, PyType};

use crate::arguments::{array_layer, html_of, number, object, raises, schematic};
use crate::arrays::{View, by_name, in_blocks};
use crate::chiller_point::PyChillerPoint;
use crate::circuit::PyCircuit;
use crate::duty::{BOUNDARIES, Maybe, waters, word};
use crate::errors::{OrRaise, unreadable, wrong_argument};
use crate::exchanger::PyExchanger;
use crate::rating::PyRatingConditions;
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, storage};
use crate::water_flow::PyWaterFlow;

const PATHS: [(&str, WaterPaths); 3] = [
    ("parallel", WaterPaths::Parallel),
    ("series parallel-flow", WaterPaths::SeriesParallelFlow),
    ("series counter-flow", WaterPaths::SeriesCounterFlow),
];

/// One object, or a list or tuple of them.
fn one_or_several<'py>(value: &Bound<'py, PyAny>) -> PyResult<Vec<Bound<'py, PyAny>>> {
    if value.is_instance_of::<PyList>() || value.is_instance_of::<PyTuple>() {
        value.try_iter()?.collect()
    } else {
        Ok(vec![value.clone()])
    }
}

/// One or more independent circuits on common water.
///
/// Water-side conditions and exchangers give the saturation temperatures, so that machines can be compared at the same water
/// temperatures and the same exchangers. Circuits are counted along the chilled water.
///
/// Parameters
/// ----------
/// circuits : Circuit or list of Circuit
/// evaporator, condenser : Exchanger or list of Exchanger
///     One for every circuit; a single one stands for one of its kind in each.
/// water_paths : {"parallel", "series parallel-flow", "series counter-flow"}, optional
///     How the waters pass several circuits: divided between them in proportion to their shares of the capacity, one after another in
///     the same order, or condenser water in the opposite order.
/// capacity_shares : list of float, optional
///     Shares of the circuits in the capacity; equal if not given.
/// suction_superheat, subcooling : float, optional
///     At the outlets of evaporators and condensers, K.
/// liquid_carryover, hot_gas_bypass : float, optional
///     As in `Circuit.solve`.
///
/// Raises
/// ------
/// WrongLength, OutOfRange, NotFinite, Inconsistent, UnknownOption
///
/// Examples
/// --------
/// >>> import interstage
/// >>> circuit = interstage.Circuit.arranged(
/// ...     interstage.Refrigerant("R-134a"), "2 stages: tank@2", stage=interstage.Stage(polytropic_efficiency=0.8)
/// ... )
/// >>> chiller = interstage.Chiller(
/// ...     [circuit, circuit],
/// ...     evaporator=interstage.Exchanger.evaporator(ua=0.6e6),
/// ...     condenser=interstage.Exchanger.condenser(ua=0.7e6),
/// ...     water_paths="series counter-flow",
/// ... )
/// >>> point = chiller.solve(
/// ...     capacity=3.5e6,
/// ...     chilled_water=interstage.WaterFlow(mass_flow=167.0),
/// ...     chilled_water_leaving=280.15,
/// ...     condenser_water=interstage.WaterFlow(mass_flow=190.0),
/// ...     condenser_water_entering=303.15,
/// ... )
/// >>> round(point.cop, 1), len(point.cycles)
/// (6.9, 2)
#[pyclass(module = "interstage", name = "Chiller", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyChiller {
    pub(crate) inner: Chiller,
}

#[pymethods]
impl PyChiller {
    #[new]
    #[pyo3(
        signature = (
            circuits, *, evaporator, condenser, water_paths=None, capacity_shares=None, suction_superheat=None, subcooling=None,
            liquid_carryover=None, hot_gas_bypass=None,
        ),
        text_signature = "(circuits, *, evaporator, condenser, water_paths='parallel', capacity_shares=None, \
            suction_superheat=0.0, subcooling=0.0, liquid_carryover=0.0, hot_gas_bypass=0.0)"
    )]
    #[expect(clippy::too_many_arguments, reason = "one for each number of a chiller")]
    fn new(
        circuits: &Bound<'_, PyAny>,
        evaporator: &Bound<'_, PyAny>,
        condenser: &Bound<'_, PyAny>,
        water_paths: Maybe<'_, '_>,
        capacity_shares: Maybe<'_, '_>,
        suction_superheat: Maybe<'_, '_>,
        subcooling: Maybe<'_, '_>,
        liquid_carryover: Maybe<'_, '_>,
        hot_gas_bypass: Maybe<'_, '_>,
    ) -> PyResult<Self> {
        let py = circuits.py();
        let circuits = one_or_several(circuits)?;
        let exchangers = |argument: &str, value: &Bound<'_, PyAny>| -> PyResult<Vec<Exchanger>> {
            let several = one_or_several(value)?;
            let each = several.iter().map(|of| Ok(object::<PyExchanger>(argument, of)?.get().inner));
            let each = each.collect::<PyResult<Vec<_>>>()?;
            match each.as_slice() {
                [one] => Ok(vec![*one; circuits.len()]),
                _ if each.len() == circuits.len() => Ok(each),
                _ => {
                    let message =
                        format!("{argument} must be one Exchanger or {}, got {}", circuits.len(), each.len());
                    Err(wrong_argument(py, argument, &message))
                }
            }
        };
        let evaporators = exchangers("evaporator", evaporator)?;
        let condensers = exchangers("condenser", condenser)?;
        let or_zero =
            |argument: &str, value: Maybe<'_, '_>| value.map_or(Ok(0.0), |value| number(argument, value));
        let superheat = or_zero("suction_superheat", suction_superheat)?;
        let subcooling = or_zero("subcooling", subcooling)?;
        let carryover = or_zero("liquid_carryover", liquid_carryover)?;
        let bypass = or_zero("hot_gas_bypass", hot_gas_bypass)?;
        let mut watered = Vec::with_capacity(circuits.len());
        for ((circuit, evaporator), condenser) in circuits.iter().zip(evaporators).zip(condensers) {
            let circuit = object::<PyCircuit>("circuits", circuit)?.get().inner.clone();
            let of = WateredCircuit::new(circuit, evaporator, condenser).or_raise(py)?;
            let of = of.with_suction_superheat(superheat).or_raise(py)?;
            let of = of.with_subcooling(subcooling).or_raise(py)?;
            let of = of.with_liquid_carryover(carryover).or_raise(py)?;
            watered.push(of.with_hot_gas_bypass(bypass).or_raise(py)?);
        }
        let paths =
            water_paths.map_or(Ok(WaterPaths::Parallel), |value| word("water_paths", value, &PATHS))?;
        let mut inner = Chiller::of_circuits(watered, paths).or_raise(py)?;
        if let Some(shares) = capacity_shares.filter(|shares| !shares.is_none()) {
            let column = array_layer(py)?.getattr("numbers")?.call1(("capacity_shares", shares))?;
            inner = inner.with_capacity_shares(&column.extract::<Vec<f64>>()?).or_raise(py)?;
        }
        Ok(Self { inner })
    }

    /// Solve the chiller.
    ///
    /// Numbers give a `ChillerPoint`; as soon as capacity or a temperature is a column, the result is a `ChillerPoints` whose attributes
    /// come in the same container.
    ///
    /// Parameters
    /// ----------
    /// capacity : float or column
    ///     Refrigerating capacity of all circuits, W.
    /// chilled_water, condenser_water : WaterFlow
    ///     The whole flows.
    /// chilled_water_leaving, chilled_water_entering : float or column, optional
    ///     Give exactly one of the two, K.
    /// condenser_water_entering : float or column
    ///     K.
    /// errors : {"status", "raise"}, optional
    ///     Columns only: give NaN and a status for a bad row, or raise the error of the first one.
    /// threads : int, optional
    ///     Columns only: how many threads to use, see ``interstage.set_threads``.
    ///
    /// Returns
    /// -------
    /// ChillerPoint or ChillerPoints
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent
    ///     If the duty is not possible with these exchangers and circuits.
    /// NotConverged
    ///     If a state cannot be solved.
    #[pyo3(
        signature = (
            *, capacity, chilled_water, condenser_water, condenser_water_entering, chilled_water_leaving=None,
            chilled_water_entering=None, errors=None, threads=None,
        ),
        text_signature = "($self, *, capacity, chilled_water, condenser_water, condenser_water_entering, \
            chilled_water_leaving=None, chilled_water_entering=None, errors='status', threads=None)"
    )]
    #[expect(clippy::too_many_arguments, reason = "one for each number of a duty")]
    fn solve<'py>(
        slf: &Bound<'py, Self>,
        capacity: &Bound<'py, PyAny>,
        chilled_water: &Bound<'py, PyAny>,
        condenser_water: &Bound<'py, PyAny>,
        condenser_water_entering: &Bound<'py, PyAny>,
        chilled_water_leaving: Option<&Bound<'py, PyAny>>,
        chilled_water_entering: Option<&Bound<'py, PyAny>>,
        errors: Option<&Bound<'py, PyAny>>,
        threads: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let chilled = (chilled_water, chilled_water_leaving, chilled_water_entering);
        let waters = waters(capacity, chilled, (condenser_water, condenser_water_entering))?;
        let raises = raises(errors)?;
        if let Some(numbers) = waters.single()? {
            let duty = waters.duty(numbers).or_raise(py)?;
            let point = slf.get().inner.solve(&duty).or_raise(py)?;
            return PyChillerPoint { chiller: slf.clone().unbind(), point }.into_bound_py_any(py);
        }
        let columns = PyDict::new(py);
        for (name, value) in waters.asked {
            columns.set_item(name, value)?;
        }
        let waters = (chilled_water, condenser_water);
        array_layer(py)?.getattr("solve_chiller")?.call1((slf, waters, columns, raises, threads))
    }

    /// Exact derivatives of the figures at a duty.
    ///
    /// Condensing temperatures are roots; their derivatives are those of the root, by the implicit function theorem.
    ///
    /// Parameters
    /// ----------
    /// capacity, chilled_water, condenser_water, condenser_water_entering, chilled_water_leaving, chilled_water_entering
    ///     As in `solve`, single numbers.
    ///
    /// Returns
    /// -------
    /// dict of dict
    ///     ``result[figure][input]`` in the SI units of both. Figures: capacity, power at its boundaries, heat_rejected, cop, and
    ///     ``circuit_1_condensing_temperature`` and the like. Inputs: capacity, chilled_water_temperature (that which is given),
    ///     chilled_water_flow, condenser_water_entering, condenser_water_flow, evaporators and condensers (relative change of what
    ///     describes them), stage_efficiency and other numbers of all circuits together.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent, NotConverged, Undefined
    #[pyo3(signature = (
        *, capacity, chilled_water, condenser_water, condenser_water_entering, chilled_water_leaving=None, chilled_water_entering=None,
    ))]
    fn sensitivities<'py>(
        slf: &Bound<'py, Self>,
        capacity: &Bound<'py, PyAny>,
        chilled_water: &Bound<'py, PyAny>,
        condenser_water: &Bound<'py, PyAny>,
        condenser_water_entering: &Bound<'py, PyAny>,
        chilled_water_leaving: Option<&Bound<'py, PyAny>>,
        chilled_water_entering: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let py = slf.py();
        let chilled = (chilled_water, chilled_water_leaving, chilled_water_entering);
        let waters = waters(capacity, chilled, (condenser_water, condenser_water_entering))?;
        let Some(numbers) = waters.single()? else {
            let message = "the duty must be single numbers, not columns";
            return Err(wrong_argument(py, "capacity", message));
        };
        let duty = waters.duty(numbers).or_raise(py)?;
        let found = slf.get().inner.sensitivities(&duty).or_raise(py)?;
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

    /// The chiller at the four loads of a rating.
    ///
    /// Stage efficiencies and what describes the exchangers stay what they are at every load: a real machine is rated by test.
    ///
    /// Parameters
    /// ----------
    /// conditions : RatingConditions
    /// capacity : float
    ///     At full load, W.
    /// power_boundary : {"compression", "shaft", "motor input", "drive input"}, optional
    ///     Where the power is counted.
    ///
    /// Returns
    /// -------
    /// dict
    ///     ``points`` (`ChillerPoint` at 100, 75, 50 and 25 % of the capacity), ``cop`` of each, ``power_boundary``, and the integrated
    ///     part-load value as ``iplv`` (COP), ``iplv_kw_per_ton`` and ``iplv_eer``: at conditions other than the standard's own it is an
    ///     NPLV.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent, NotConverged, UnknownOption
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> circuit = interstage.Circuit.arranged(
    /// ...     interstage.Refrigerant("R-134a"), "2 stages: tank@2", stage=interstage.Stage(polytropic_efficiency=0.8)
    /// ... )
    /// >>> chiller = interstage.Chiller(
    /// ...     circuit,
    /// ...     evaporator=interstage.Exchanger.evaporator(ua=1.1e6),
    /// ...     condenser=interstage.Exchanger.condenser(ua=1.3e6),
    /// ... )
    /// >>> rated = chiller.rate(interstage.RatingConditions("AHRI 551/591 (SI)-2015"), capacity=3.5e6)
    /// >>> rated["iplv"] > rated["cop"][0]
    /// True
    #[pyo3(
        signature = (conditions, *, capacity, power_boundary=None),
        text_signature = "($self, conditions, *, capacity, power_boundary='drive input')"
    )]
    fn rate<'py>(
        slf: &Bound<'py, Self>,
        conditions: &Bound<'py, PyAny>,
        capacity: &Bound<'py, PyAny>,
        power_boundary: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let py = slf.py();
        let conditions = object::<PyRatingConditions>("conditions", conditions)?.get().inner;
        let boundary = power_boundary
            .map_or(Ok(PowerBoundary::Compression), |value| word("power_boundary", value, &BOUNDARIES))?;
        let rated =
            slf.get().inner.rate(&conditions, number("capacity", capacity)?, boundary).or_raise(py)?;
        let cop = rated.points().iter().map(|point| point.capacity() / boundary.power_of(point));
        let data = PyDict::new(py);
        data.set_item("cop", PyTuple::new(py, cop.collect::<Vec<_>>())?)?;
        let points = rated
            .points()
            .iter()
            .map(|point| Py::new(py, PyChillerPoint { chiller: slf.clone().unbind(), point: point.clone() }));
        data.set_item("points", PyTuple::new(py, points.collect::<PyResult<Vec<_>>>()?)?)?;
        let iplv = rated.iplv();
        data.set_item("power_boundary", boundary.to_string())?;
        data.set_item("iplv", iplv)?;
        data.set_item("iplv_kw_per_ton", interstage::units::kw_per_ton_from_cop(iplv))?;
        data.set_item("iplv_eer", interstage::units::eer_from_cop(iplv))?;
        Ok(data)
    }

    /// The schematic of the chiller, drawn from its data: every circuit, and how the water passes them.
    ///
    /// Returns
    /// -------
    /// Schematic
    ///     Shown by notebooks; ``to_svg()``, ``save(path)``.
    fn schematic<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        schematic(slf, None)
    }

    /// The circuits, along the chilled water.
    #[getter]
    fn circuits<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let each = self.inner.circuits().iter().map(|of| PyCircuit { inner: of.circuit().clone() });
        PyTuple::new(py, each.collect::<Vec<_>>())
    }

    /// The evaporators, along the chilled water.
    #[getter]
    fn evaporators<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let each = self.inner.circuits().iter().map(|of| PyExchanger { inner: of.evaporator() });
        PyTuple::new(py, each.collect::<Vec<_>>())
    }

    /// The condensers, along the chilled water.
    #[getter]
    fn condensers<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let each = self.inner.circuits().iter().map(|of| PyExchanger { inner: of.condenser() });
        PyTuple::new(py, each.collect::<Vec<_>>())
    }

    /// How the waters pass the circuits.
    #[getter]
    pub(crate) fn water_paths(&self) -> String {
        self.inner.water_paths().to_string()
    }

    /// Shares of the circuits in the capacity, dimensionless.
    #[getter]
    fn capacity_shares<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.inner.capacity_shares())
    }

    /// Superheat at the evaporator outlets, K.
    #[getter]
    fn suction_superheat(&self) -> f64 {
        self.inner.circuits().first().map_or(0.0, WateredCircuit::suction_superheat)
    }

    /// Subcooling at the condenser outlets, K.
    #[getter]
    fn subcooling(&self) -> f64 {
        self.inner.circuits().first().map_or(0.0, WateredCircuit::subcooling)
    }

    /// Mass fraction of liquid in what leaves the evaporators, kg/kg.
    #[getter]
    fn liquid_carryover(&self) -> f64 {
        self.inner.circuits().first().map_or(0.0, WateredCircuit::liquid_carryover)
    }

    /// Hot gas led to the evaporators per flow through the first stage, kg/kg.
    #[getter]
    fn hot_gas_bypass(&self) -> f64 {
        self.inner.circuits().first().map_or(0.0, WateredCircuit::hot_gas_bypass)
    }

    /// The chiller as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Chiller")?;
        for (name, parts) in [
            ("circuits", self.circuits(py)?),
            ("evaporator", self.evaporators(py)?),
            ("condenser", self.condensers(py)?),
        ] {
            let stored = PyList::empty(py);
            for part in parts {
                stored.append(part.call_method0("to_dict")?)?;
            }
            data.set_item(name, stored)?;
        }
        data.set_item("water_paths", self.water_paths())?;
        data.set_item("capacity_shares", self.inner.capacity_shares())?;
        data.set_item("suction_superheat", self.suction_superheat())?;
        data.set_item("subcooling", self.subcooling())?;
        for (name, value) in
            [("liquid_carryover", self.liquid_carryover()), ("hot_gas_bypass", self.hot_gas_bypass())]
        {
            if value != 0.0 {
                data.set_item(name, value)?;
            }
        }
        Ok(data)
    }

    /// The chiller of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        Self::restored(data)
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

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        let part = |name: &str| slf.getattr(name)?.repr()?.extract::<String>();
        Ok(fitted(&format!(
            "Chiller({}, evaporator={}, condenser={}, water_paths={})",
            part("circuits")?,
            part("evaporators")?,
            part("condensers")?,
            part("water_paths")?,
        )))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

impl Hash for PyChiller {
    fn hash<H: Hasher>(&self, state: &mut H) {
        for of in self.inner.circuits() {
            PyCircuit { inner: of.circuit().clone() }.hash(state);
        }
        hash_numbers(state, self.inner.capacity_shares());
    }
}

impl PyChiller {
    pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = data.py();
        let stored = Stored::new(data, "Chiller")?;
        let parts = |key: &str, class: &Bound<'_, PyType>| -> PyResult<Vec<Py<PyAny>>> {
            let of = |part: Bound<'_, PyAny>| Ok(class.call_method1("from_dict", (part,))?.unbind());
            let list = stored.list(key)?;
            if list.is_empty() {
                return Err(unreadable(py, format!("{key:?} is empty")));
            }
            list.iter().map(of).collect()
        };
        // Not in what was stored before they were there.
        let optional_part = |key: &str| stored.has(key).then(|| stored.present(key)).transpose();
        let exchanger = py.get_type::<PyExchanger>();
        let circuits = PyList::new(py, parts("circuits", &py.get_type::<PyCircuit>())?)?;
        let evaporators = PyList::new(py, parts("evaporator", &exchanger)?)?;
        let condensers = PyList::new(py, parts("condenser", &exchanger)?)?;
        Self::new(
            circuits.as_any(),
            evaporators.as_any(),
            condensers.as_any(),
            Some(&stored.present("water_paths")?),
            Some(stored.list("capacity_shares")?.as_any()),
            Some(&stored.present("suction_superheat")?),
            Some(&stored.present("subcooling")?),
            optional_part("liquid_carryover")?.as_ref(),
            optional_part("hot_gas_bypass")?.as_ref(),
        )
    }
}

/// Columns of a chiller at duties: capacity, chilled water temperature (leaving, or entering) and condenser water entering.
#[pyfunction]
#[expect(clippy::needless_pass_by_value, reason = "arrays of arguments are extracted by value")]
pub(crate) fn _chiller_rows<'py>(
    chiller: &Bound<'py, PyChiller>,
    waters: (Bound<'py, PyWaterFlow>, Bound<'py, PyWaterFlow>),
    columns: [Bound<'py, PyArray1<f64>>; 3],
    leaving: bool,
    threads: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyDict>> {
    let py = chiller.py();
    let chiller = &chiller.get().inner;
    for of in chiller.circuits() {
        of.circuit().refrigerant().prepare().or_raise(py)?;
    }
    let columns = columns.iter().map(|column| Ok(column.try_readonly()?)).collect::<PyResult<Vec<_>>>()?;
    let columns: Vec<View<'_>> = columns.iter().map(|column| column.as_array()).collect();
    let (chilled, condenser) = (waters.0.get().inner, waters.1.get().inner);
    let mut out = ChillerColumns::with_rows(columns.first().map_or(0, View::len), chiller);
    in_blocks(py, threads, SERIAL_CYCLES, out.as_slices(), |rows, out| {
        let duty = |row: usize| {
            let at = |column: usize| {
                columns.get(column).and_then(|of| of.get(rows.start + row)).copied().unwrap_or(f64::NAN)
            };
            let temperature = at(1);
            let known = if leaving {
                ChilledWater::Leaving(temperature)
            } else {
                ChilledWater::Entering(temperature)
            };
            Duty::new(at(0), (chilled, known), (condenser, at(2)))
        };
        chiller.solve_rows(duty, out)
    })?;
    Ok(by_name!(
        py,
        out,
        cop,
        kw_per_ton,
        power,
        shaft_power,
        motor_input_power,
        drive_input_power,
        heat_rejected,
        chilled_water_entering,
        chilled_water_leaving,
        condenser_water_leaving,
        energy_closure,
        evaporating_temperatures,
        condensing_temperatures,
        discharge_temperatures,
        economizer_benefits
    ))
}

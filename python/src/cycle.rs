//! The solved cycle.

use std::hash::{Hash, Hasher};

use interstage::{Conditions, Cycle, Size};
use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict, PyTuple, PyType};

use crate::arguments::tables;
use crate::circuit::PyCircuit;
use crate::conditions::size;
use crate::errors::{OrRaise, unreadable};
use crate::points::PyPoints;
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, shown, storage};

/// A circuit solved at its conditions: every state, flow and figure.
///
/// Made by `Circuit.solve`. SI units. Power is compression power: what the stages put into the refrigerant, before
/// bearing, gear, motor and drive losses. Cycles pickle as circuit and conditions and are solved again.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> circuit = interstage.Circuit(
/// ...     interstage.Refrigerant("R-134a"),
/// ...     stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2,
/// ...     interstages=[interstage.FlashTank()],
/// ... )
/// >>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6)
/// >>> round(cycle.capacity)
/// 1000000
/// >>> len(cycle.stage_work), len(cycle.flash_fractions)
/// (2, 1)
/// >>> abs(cycle.energy_closure) < 1e-12
/// True
/// >>> cycle.points["stage_1_inlet"].T
/// 278.15
#[pyclass(module = "interstage", name = "Cycle", frozen)]
#[derive(Debug)]
pub(crate) struct PyCycle {
    circuit: Py<PyCircuit>,
    pub(crate) cycle: Cycle,
}

impl PyCycle {
    pub(crate) fn new(circuit: Py<PyCircuit>, cycle: Cycle) -> Self {
        Self { circuit, cycle }
    }

    /// Circuit and conditions: what the cycle can be solved from again.
    fn recipe<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Cycle")?;
        data.set_item("circuit", self.circuit.get().to_dict(py)?)?;
        let conditions = self.cycle.conditions();
        let stored = PyDict::new(py);
        stored.set_item("evaporating_temperature", conditions.evaporating_temperature())?;
        stored.set_item("condensing_temperature", conditions.condensing_temperature())?;
        stored.set_item("suction_superheat", conditions.suction_superheat())?;
        stored.set_item("subcooling", conditions.subcooling())?;
        match conditions.size() {
            Size::Capacity(value) => stored.set_item("capacity", value)?,
            Size::MassFlow(value) => stored.set_item("mass_flow", value)?,
            Size::Power(value) => stored.set_item("power", value)?,
            _ => return Err(unreadable(py, "the size is of an unknown kind".to_owned())),
        }
        data.set_item("conditions", stored)?;
        Ok(data)
    }

    /// The cycle of stored data, solved again.
    fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = data.py();
        let stored = Stored::new(data, "Cycle")?;
        let circuit = PyCircuit::restored(&stored.dict("circuit")?)?;
        let conditions = stored.dict("conditions")?;
        let conditions = Stored::part(&conditions);
        let sizes = ["capacity", "mass_flow", "power"];
        let Some(name) = sizes.into_iter().find(|name| conditions.has(name)) else {
            return Err(unreadable(py, "the conditions hold no size".to_owned()));
        };
        let conditions = Conditions::new(
            conditions.number("evaporating_temperature")?,
            conditions.number("condensing_temperature")?,
            size(name, conditions.number(name)?),
        )
        .with_suction_superheat(conditions.number("suction_superheat")?)
        .with_subcooling(conditions.number("subcooling")?);
        let cycle = circuit.inner.solve(&conditions).or_raise(py)?;
        Ok(Self { circuit: Py::new(py, circuit)?, cycle })
    }
}

impl PartialEq for PyCycle {
    fn eq(&self, other: &Self) -> bool {
        self.circuit.get() == other.circuit.get() && self.cycle == other.cycle
    }
}

impl Hash for PyCycle {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.circuit.get().hash(state);
        hash_numbers(state, &[self.cycle.cop(), self.cycle.power()]);
    }
}

/// Writes the methods of the cycle: getters of numbers, getters of one number a stage, interstage or tank, the others.
macro_rules! cycle_methods {
    ($class:ty: numbers { $($(#[$doc:meta])* $number:ident)* } tuples { $($(#[$tuple_doc:meta])* $tuple:ident)* }
     $($own:tt)*) => {
        #[pymethods]
        impl $class {
            $($(#[$doc])* #[getter] fn $number(&self) -> f64 { self.cycle.$number() })*
            $(
                $(#[$tuple_doc])*
                #[getter]
                fn $tuple<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
                    PyTuple::new(py, self.cycle.$tuple())
                }
            )*
            $($own)*
        }

        impl $class {
            /// Every figure by name.
            fn figures<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
                let figures = PyDict::new(py);
                $(figures.set_item(stringify!($number), self.$number())?;)*
                $(figures.set_item(stringify!($tuple), self.$tuple(py)?.to_list())?;)*
                Ok(figures)
            }
        }
    };
}

cycle_methods! {
    PyCycle: numbers {
        /// Capacity per compression power.
        cop
        /// Compression power per capacity, kW per ton of refrigeration.
        kw_per_ton
        /// COP of a Carnot cycle between the two saturation temperatures.
        carnot_cop
        /// Refrigerating capacity, W.
        capacity
        /// Compression power: the sum over the stages, W.
        power
        /// Heat given up in the condenser, W.
        heat_rejected
        /// Cooling per kilogram through the evaporator, J/kg.
        refrigerating_effect
        /// Power saved by the economizers, 1 - P / P_none at the same capacity, temperatures, stages, efficiencies and
        /// interstage pressures; dimensionless, 0 without an economizer.
        economizer_benefit
        /// Mass fraction of vapor after the last expansion, kg/kg; 0 if the liquid arrives colder than saturation.
        evaporator_inlet_quality
        /// Temperature at the discharge of the last stage, K.
        discharge_temperature
        /// Evaporating pressure, Pa absolute.
        evaporating_pressure
        /// Condensing pressure, Pa absolute.
        condensing_pressure
        /// Mass flow through the evaporator, kg/s.
        evaporator_mass_flow
        /// Mass flow through the condenser, kg/s.
        condenser_mass_flow
        /// Condenser flow less evaporator flow less tank vapor, per condenser flow: zero but for rounding.
        mass_closure
        /// Capacity plus power less heat rejected, per heat rejected: zero but for rounding.
        energy_closure
    }
    tuples {
        /// Inlet pressures of the second to the last stage, Pa absolute.
        interstage_pressures
        /// Vapor taken off in each tank per flow into it, kg/kg, from the lowest pressure up.
        flash_fractions
        /// Work of each stage per kilogram through it, J/kg.
        stage_work
        /// Isentropic or polytropic head of each stage, as its efficiency is defined, J/kg.
        stage_head
        /// Power of each stage, W.
        stage_power
        /// Mass flow through each stage, kg/s.
        stage_mass_flow
        /// Volume flow into each stage, m3/s.
        stage_inlet_volume_flow
    }

    /// Every point of the circuit, in the order of the flow from the evaporator outlet on.
    #[getter]
    fn points(slf: &Bound<'_, Self>) -> PyPoints {
        PyPoints::new(slf.clone().unbind())
    }

    /// Mass fractions of a blend's components at every point, as a dictionary of dictionaries by the names of the points; None for a pure
    /// fluid.
    #[getter]
    fn compositions<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        let refrigerant = self.circuit.get().inner.refrigerant();
        let Some(components) = refrigerant.composition() else { return Ok(None) };
        let compositions = PyDict::new(py);
        for point in self.cycle.points() {
            let fractions = self.cycle.composition(point.location()).unwrap_or_default();
            let names = components.iter().map(|(name, _)| *name);
            let of = names.zip(fractions.iter().copied()).into_py_dict(py)?;
            compositions.set_item(point.location().to_string(), of)?;
        }
        Ok(Some(compositions))
    }

    /// Condenser flow less evaporator flow less tank vapor of each component of a blend, per condenser flow: zero but for rounding; None
    /// for a pure fluid.
    #[getter]
    fn species_closure<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        let refrigerant = self.circuit.get().inner.refrigerant();
        let names = refrigerant.composition().map(|of| of.iter().map(|(name, _)| *name));
        names.map(|names| names.zip(self.cycle.species_closure()).into_py_dict(py)).transpose()
    }

    /// The circuit that was solved.
    #[getter]
    fn circuit(&self, py: Python<'_>) -> Py<PyCircuit> {
        self.circuit.clone_ref(py)
    }

    /// The refrigerant.
    #[getter]
    pub(crate) fn refrigerant(&self) -> PyRefrigerant {
        PyRefrigerant { inner: self.circuit.get().inner.refrigerant().clone() }
    }

    /// Saturation temperature in the evaporator, K.
    #[getter]
    fn evaporating_temperature(&self) -> f64 {
        self.cycle.conditions().evaporating_temperature()
    }

    /// Saturation temperature in the condenser, K.
    #[getter]
    fn condensing_temperature(&self) -> f64 {
        self.cycle.conditions().condensing_temperature()
    }

    /// Superheat at the evaporator outlet, K.
    #[getter]
    fn suction_superheat(&self) -> f64 {
        self.cycle.conditions().suction_superheat()
    }

    /// Subcooling at the condenser outlet, K.
    #[getter]
    fn subcooling(&self) -> f64 {
        self.cycle.conditions().subcooling()
    }

    /// Condensing less evaporating temperature, K.
    #[getter]
    fn refrigerant_lift(&self) -> f64 {
        self.cycle.conditions().refrigerant_lift()
    }

    /// Circuit, conditions, figures and points as a dictionary. `from_dict` reads circuit and conditions.
    fn to_dict<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyDict>> {
        let py = slf.py();
        let data = slf.get().recipe(py)?;
        data.set_item("figures", slf.get().figures(py)?)?;
        data.set_item("points", Self::points(slf).to_dict(py)?)?;
        Ok(data)
    }

    /// The cycle of a dictionary that `to_dict` made: its circuit, solved again at its conditions.
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
        hash_of(self)
    }

    fn __repr__(&self) -> String {
        let circuit = &self.circuit.get().inner;
        format!(
            "Cycle({}, stages: {}, flash tanks: {}; {} K to {} K, cop={}, capacity={} W, power={} W)",
            circuit.refrigerant().name(),
            circuit.stages().len(),
            circuit.tanks(),
            shown(self.evaporating_temperature()),
            shown(self.condensing_temperature()),
            shown(self.cop()),
            shown(self.capacity()),
            shown(self.power()),
        )
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        tables(slf.py())?.getattr("cycle_html")?.call1((slf,))?.extract()
    }
}

//! The solved cycle.

use std::hash::{Hash, Hasher};

use interstage::{Balance, Cycle, Size, Surroundings};
use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict, PyTuple, PyType};

use crate::arguments::{html_of, number, schematic, text, text_of};
use crate::circuit::PyCircuit;
use crate::conditions::{conditions as with_numbers, size};
use crate::errors::{OrRaise, unreadable, wrong_argument};
use crate::figures::figure_methods;
use crate::points::PyPoints;
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, shown, storage};

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
        stored.set_item("liquid_carryover", conditions.liquid_carryover())?;
        stored.set_item("hot_gas_bypass", conditions.hot_gas_bypass())?;
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
        let or_zero = |key| if conditions.has(key) { conditions.number(key) } else { Ok(0.0) };
        let numbers = [
            conditions.number("evaporating_temperature")?,
            conditions.number("condensing_temperature")?,
            conditions.number("suction_superheat")?,
            conditions.number("subcooling")?,
            or_zero("liquid_carryover")?,
            or_zero("hot_gas_bypass")?,
        ];
        let conditions = with_numbers(numbers, size(name, conditions.number(name)?));
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

figure_methods! {
    PyCycle, cycle: numbers {
        /// Capacity per compression power.
        cop
        /// Compression power per capacity, kW per ton of refrigeration.
        kw_per_ton
        /// COP of a Carnot cycle between the two saturation temperatures.
        carnot_cop
        /// Refrigerating capacity, W.
        capacity
        /// Energy efficiency ratio: cooling in Btu/h per W of compression power.
        eer
        /// Compression power: the sum over the stages less what expanders recover, W.
        power
        /// Power that expanders in place of metering devices recover, W.
        expander_power
        /// Power at the compressor shaft: compression power and the losses of bearings and gears, W.
        shaft_power
        /// Power that goes into the motor, W.
        motor_input_power
        /// Power that goes into the drive, W.
        drive_input_power
        /// Heat of the motor that the refrigerant takes up, W.
        motor_heat
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
        /// What joins the gas in each economizer per flow of liquid that reaches it (in a flash tank: the flash gas), kg/kg, from the
        /// lowest pressure up.
        flash_fractions
        /// Work of each stage per kilogram through it, J/kg.
        stage_work
        /// Isentropic or polytropic head of each stage, as its efficiency is defined, J/kg.
        stage_head
        /// Share of each stage in the sum of the heads, dimensionless.
        head_split
        /// Power of each stage, W.
        stage_power
        /// Mass flow through each stage, kg/s.
        stage_mass_flow
        /// Volume flow into each stage, m3/s.
        stage_inlet_volume_flow
    }

    /// Whether the compression is wet somewhere in each stage.
    #[getter]
    fn stage_wet<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.cycle.stage_wet())
    }

    /// The balance of every component.
    ///
    /// Returns
    /// -------
    /// list of dict
    ///     ``component``; ``inlets`` and ``outlets`` as dictionaries of the points with the mass flow of each stream, kg/s; ``heat`` and
    ///     ``work`` into the refrigerant, W; ``mass_residual`` (kg/s) and ``energy_residual`` (W), zero but for rounding;
    ///     ``entropy_rise``, W/K.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> circuit = interstage.Circuit(
    /// ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
    /// ... )
    /// >>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, mass_flow=2.0)
    /// >>> [balance["component"] for balance in cycle.balances()]
    /// ['evaporator', 'suction_line', 'stage_1', 'condenser', 'evaporator_metering']
    fn balances<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyDict>>> {
        let of = |balance: &Balance| {
            let data = PyDict::new(py);
            data.set_item("component", balance.component().to_string())?;
            for (name, streams) in [("inlets", balance.inlets()), ("outlets", balance.outlets())] {
                let streams = streams.iter().map(|stream| (stream.location.to_string(), stream.mass_flow));
                data.set_item(name, streams.into_py_dict(py)?)?;
            }
            data.set_item("heat", balance.heat())?;
            data.set_item("work", balance.work())?;
            data.set_item("mass_residual", balance.mass_residual(&self.cycle))?;
            data.set_item("energy_residual", balance.energy_residual(&self.cycle))?;
            data.set_item("entropy_rise", balance.entropy_rise(&self.cycle))?;
            Ok(data)
        };
        self.cycle.balances().iter().map(of).collect()
    }

    /// Where the power goes: the exergy destroyed in every component.
    ///
    /// Parameters
    /// ----------
    /// chilled_water, condenser_water : tuple of float
    ///     Entering and leaving temperature, K.
    /// dead_state_temperature : float
    ///     Temperature of the surroundings, K.
    ///
    /// Returns
    /// -------
    /// ExergyLedger
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent
    ///     If the temperatures are not possible with this cycle.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> circuit = interstage.Circuit.arranged(
    /// ...     interstage.Refrigerant("R-1233zd(E)"), "2 stages: tank@2", stage=interstage.Stage(polytropic_efficiency=0.8)
    /// ... )
    /// >>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6)
    /// >>> ledger = cycle.exergy(
    /// ...     chilled_water=(285.15, 280.15), condenser_water=(303.15, 308.15), dead_state_temperature=303.15
    /// ... )
    /// >>> round(ledger.cooling / ledger.power, 3), abs(ledger.closure) < 1e-12
    /// (0.469, True)
    #[pyo3(signature = (*, chilled_water, condenser_water, dead_state_temperature))]
    fn exergy<'py>(
        &self,
        py: Python<'py>,
        chilled_water: &Bound<'py, PyAny>,
        condenser_water: &Bound<'py, PyAny>,
        dead_state_temperature: &Bound<'py, PyAny>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let pair = |argument: &str, value: &Bound<'py, PyAny>| {
            value.extract::<(f64, f64)>().map_err(|_| {
                let message = format!("{argument} must be two numbers: entering and leaving temperature, K");
                wrong_argument(py, argument, &message)
            })
        };
        let surroundings = Surroundings::new(
            pair("chilled_water", chilled_water)?,
            pair("condenser_water", condenser_water)?,
            number("dead_state_temperature", dead_state_temperature)?,
        )
        .or_raise(py)?;
        let found = self.cycle.exergy(&surroundings).or_raise(py)?;
        let destroyed = PyDict::new(py);
        for (component, exergy) in found.destroyed() {
            destroyed.set_item(component.to_string(), exergy)?;
        }
        let figures = PyDict::new(py);
        figures.set_item("destroyed", destroyed)?;
        for (name, value) in [
            ("power", found.power()),
            ("cooling", found.cooling()),
            ("rejected", found.rejected()),
            ("destruction", found.destruction()),
            ("efficiency", found.efficiency()),
            ("lorenz_cop", found.lorenz_cop()),
            ("closure", found.closure()),
        ] {
            figures.set_item(name, value)?;
        }
        py.import("interstage._ledger")?.getattr("ExergyLedger")?.call((), Some(&figures))
    }

    /// The schematic of the circuit, drawn from its data, with temperature, pressure and mass flow at every point.
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
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> circuit = interstage.Circuit.arranged(
    /// ...     interstage.Refrigerant("R-134a"), "2 stages: tank@2", stage=interstage.Stage(polytropic_efficiency=0.8)
    /// ... )
    /// >>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6)
    /// >>> "5.00 degC" in cycle.schematic().to_svg()
    /// True
    #[pyo3(signature = (units=None), text_signature = "($self, units='SI')")]
    fn schematic<'py>(
        slf: &Bound<'py, Self>,
        units: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        schematic(slf, units)
    }

    /// Points, and every balance and relation with symbols, numbers that reproduce the result, and units.
    ///
    /// Parameters
    /// ----------
    /// units : {"SI", "I-P"}, optional
    ///
    /// Returns
    /// -------
    /// Working
    ///     Text by ``str``, a table in notebooks.
    #[pyo3(signature = (units=None), text_signature = "($self, units='SI')")]
    fn working<'py>(slf: &Bound<'py, Self>, units: Option<&Bound<'py, PyAny>>) -> PyResult<Bound<'py, PyAny>> {
        let units = units.map_or(Ok("SI".to_owned()), |units| text("units", units))?;
        slf.py().import("interstage._working")?.getattr("working")?.call1((slf, units))
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
        fitted(&format!(
            "Cycle({}, {}; {} K to {} K, cop={}, capacity={} W, power={} W)",
            circuit.refrigerant().name(),
            circuit.arrangement(),
            shown(self.evaporating_temperature()),
            shown(self.condensing_temperature()),
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

//! The circuit: a machine of stages and what sits between them.

use std::hash::{Hash, Hasher};

use interstage::{Arrangement, Circuit, InterstagePressures, TankSeparation};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyTuple, PyType};

use crate::arguments::{html_of, object, schematic, text};
use crate::circuit_options::{
    OPTIONS, own_options, pressures_given, read_interstages, read_pressures, read_separation, read_stages,
    separation_given, with_options,
};
use crate::circuit_solving::{pressure_optimum, sensitivities, solve};
use crate::components::{PyStage, component};
use crate::design::{PyDesignPoint, design};
use crate::economizers::object_of;
use crate::errors::OrRaise;
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, fitted, hash_of, rebuilt, storage};

/// One refrigerant circuit: refrigerant, stages from suction to discharge, what sits between them, and the rule for the
/// pressures there.
///
/// Parameters
/// ----------
/// refrigerant : Refrigerant
/// stages : list or tuple of Stage
///     From suction to discharge; one to 100.
/// interstages : list or tuple of FlashTank, IntercooledTank, ClosedEconomizer, LiquidInjection and Direct
///     What sits between the stages, from the lowest pressure up; one fewer than stages.
/// interstage_pressures : str or sequence of float, optional
///     ``"equal ratio"`` (the same pressure ratio in every stage), ``"equal temperature step"`` (saturation
///     temperatures at equal steps), ``"equal head"`` (in every stage), ``"best COP"`` or the inlet pressures of the second to the
///     last stage, Pa absolute, lowest first.
/// tank_separation : {"fixed composition", "equilibrium"}, optional
///     What flash tanks do to the composition of a blend: nothing, the usual assumption, or liquid and vapor leave with the
///     compositions they have in equilibrium, for a blend by the mixture model. The evaporating temperature is then the dew
///     temperature of what reaches the evaporator; the blend itself circulates through the condenser.
/// suction_loss, interstage_loss, port_loss, discharge_loss : float, optional
///     Pressure losses as fractions, 0 to 0.5: between evaporator and first stage, between a stage and the inlet of the next, between
///     an economizer and the inlet of its stage, between last stage and condenser. The inlet pressures are those of the rule; what
///     delivers into them stands higher.
/// expander_efficiency : float, optional
///     Isentropic efficiency of a work-recovering expander in place of the evaporator's metering device.
/// suction_exchanger_effectiveness : float, optional
///     Adds an exchanger between the liquid on its way to the evaporator and the vapor on its way to the first stage: rise of the
///     vapor's temperature as a share of the largest possible one.
/// mechanical_efficiency, motor_efficiency, drive_efficiency : float, optional
///     Compression power per shaft power, shaft power per motor input, motor input per drive input.
/// motor_cooling : str or int, optional
///     Where the motor's heat goes: ``"room"`` (open drive), ``"evaporator"`` (refrigerant from the condenser takes it up and returns to
///     the evaporator as vapor) or the number of the stage whose inlet that vapor joins.
///
/// Raises
/// ------
/// WrongLength
///     If stages, interstages and pressures do not fit each other.
/// OutOfRange, NotFinite, Inconsistent
///     If there are more than 100 stages, or given pressures are not positive or do not rise.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> circuit = interstage.Circuit(
/// ...     interstage.Refrigerant("R-1233zd(E)"),
/// ...     stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2,
/// ...     interstages=[interstage.FlashTank()],
/// ... )
/// >>> cycle = circuit.solve(
/// ...     evaporating_temperature=278.15, condensing_temperature=310.15, capacity=3.5e6
/// ... )
/// >>> round(cycle.cop, 2)
/// 6.46
/// >>> round(cycle.economizer_benefit, 3)
/// 0.058
#[pyclass(module = "interstage", name = "Circuit", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyCircuit {
    pub(crate) inner: Circuit,
}

impl Hash for PyCircuit {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let circuit = &self.inner;
        (circuit.refrigerant().name(), circuit.refrigerant().reference(), circuit.tanks()).hash(state);
        for stage in circuit.stages() {
            PyStage { inner: *stage }.hash(state);
        }
    }
}

#[pymethods]
impl PyCircuit {
    #[new]
    #[pyo3(
        signature = (refrigerant, *, stages, interstages=None, interstage_pressures=None, tank_separation=None, **options),
        text_signature = "(refrigerant, *, stages, interstages=(), interstage_pressures='equal ratio', \
            tank_separation='fixed composition', suction_loss=0.0, interstage_loss=0.0, port_loss=0.0, discharge_loss=0.0, \
            expander_efficiency=None, suction_exchanger_effectiveness=None, mechanical_efficiency=1.0, motor_efficiency=1.0, \
            drive_efficiency=1.0, motor_cooling='room')"
    )]
    fn new(
        refrigerant: &Bound<'_, PyAny>,
        stages: &Bound<'_, PyAny>,
        interstages: Option<&Bound<'_, PyAny>>,
        interstage_pressures: Option<&Bound<'_, PyAny>>,
        tank_separation: Option<&Bound<'_, PyAny>>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Self> {
        let py = stages.py();
        let refrigerant = object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner.clone();
        let interstages = interstages.map_or(Ok(Vec::new()), read_interstages)?;
        let inner = Circuit::new(refrigerant, read_stages(stages)?, interstages).or_raise(py)?;
        let pressures = interstage_pressures.map_or(Ok(InterstagePressures::EqualRatio), read_pressures)?;
        let inner = inner.with_interstage_pressures(pressures).or_raise(py)?;
        let separation = tank_separation.map_or(Ok(TankSeparation::default()), read_separation)?;
        let inner = with_options(py, inner, options)?;
        Ok(Self { inner: inner.with_tank_separation(separation).or_raise(py)? })
    }

    /// A circuit of an arrangement written as text.
    ///
    /// Parameters
    /// ----------
    /// refrigerant : Refrigerant
    /// arrangement : str
    ///     The number of stages and each economizer with the stage whose inlet it feeds, as `arrangement` gives it, for example
    ///     ``"3 stages: tank@3, tank@2"`` or ``"2 stages: closed@2 (approach 3 K)"``.
    /// stage : Stage
    ///     The same for all stages.
    /// interstage_pressures : optional
    ///     As in `Circuit`.
    /// **options
    ///     Losses, drive and tank_separation as in `Circuit`.
    ///
    /// Returns
    /// -------
    /// Circuit
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> circuit = interstage.Circuit.arranged(
    /// ...     interstage.Refrigerant("R-134a"),
    /// ...     "3 stages: tank@3, tank@2",
    /// ...     stage=interstage.Stage(polytropic_efficiency=0.8),
    /// ... )
    /// >>> circuit.arrangement
    /// '3 stages: tank@3, tank@2'
    #[staticmethod]
    #[pyo3(
        signature = (refrigerant, arrangement, *, stage, interstage_pressures=None, tank_separation=None, **options),
        text_signature = "(refrigerant, arrangement, *, stage, interstage_pressures='equal ratio', \
            tank_separation='fixed composition', **options)"
    )]
    fn arranged(
        refrigerant: &Bound<'_, PyAny>,
        arrangement: &Bound<'_, PyAny>,
        stage: &Bound<'_, PyAny>,
        interstage_pressures: Option<&Bound<'_, PyAny>>,
        tank_separation: Option<&Bound<'_, PyAny>>,
        options: Option<&Bound<'_, PyDict>>,
    ) -> PyResult<Self> {
        let py = stage.py();
        let refrigerant = object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner.clone();
        let stage = object::<PyStage>("stage", stage)?.get().inner;
        let arrangement: Arrangement = text("arrangement", arrangement)?.parse().or_raise(py)?;
        let inner = arrangement.circuit(refrigerant, stage).or_raise(py)?;
        let pressures = interstage_pressures.map_or(Ok(InterstagePressures::EqualRatio), read_pressures)?;
        let inner = inner.with_interstage_pressures(pressures).or_raise(py)?;
        let inner = with_options(py, inner, options)?;
        let separation = tank_separation.map_or(Ok(TankSeparation::default()), read_separation)?;
        Ok(Self { inner: inner.with_tank_separation(separation).or_raise(py)? })
    }

    /// The chiller of one circuit that reproduces a design sheet: one polytropic efficiency for all stages, and both UA.
    ///
    /// Parameters
    /// ----------
    /// refrigerant : Refrigerant
    /// arrangement : str
    ///     As in `arranged`.
    /// capacity : float
    ///     W.
    /// power : float
    ///     W.
    /// power_boundary : {"compression", "shaft", "motor input", "drive input"}
    ///     Where the power is measured.
    /// chilled_water, condenser_water : WaterFlow
    /// chilled_water_leaving, chilled_water_entering : float, optional
    ///     Exactly one of the two, K.
    /// condenser_water_entering : float
    ///     K.
    /// evaporator_approach, condenser_approach : float
    ///     Leaving chilled water less evaporating temperature, condensing temperature less leaving condenser water, K.
    /// suction_superheat, subcooling : float, optional
    ///     K.
    /// **options
    ///     Pressure losses, efficiencies of gears, motor and drive, and motor_cooling as in `Circuit`.
    ///
    /// Returns
    /// -------
    /// DesignPoint
    ///
    /// Raises
    /// ------
    /// Inconsistent
    ///     If the power needs a polytropic efficiency above 0.92, with the number.
    /// OutOfRange, NotFinite
    ///     For an approach or a power that is not positive.
    #[staticmethod]
    #[pyo3(signature = (
        refrigerant, arrangement, *, capacity, power, power_boundary, chilled_water, condenser_water, condenser_water_entering,
        evaporator_approach, condenser_approach, chilled_water_leaving=None, chilled_water_entering=None, suction_superheat=None,
        subcooling=None, **options,
    ))]
    #[expect(clippy::too_many_arguments, reason = "one for each number of a sheet")]
    fn from_design_point<'py>(
        refrigerant: &Bound<'py, PyAny>,
        arrangement: &Bound<'py, PyAny>,
        capacity: &Bound<'py, PyAny>,
        power: &Bound<'py, PyAny>,
        power_boundary: &Bound<'py, PyAny>,
        chilled_water: &Bound<'py, PyAny>,
        condenser_water: &Bound<'py, PyAny>,
        condenser_water_entering: &Bound<'py, PyAny>,
        evaporator_approach: &Bound<'py, PyAny>,
        condenser_approach: &Bound<'py, PyAny>,
        chilled_water_leaving: Option<&Bound<'py, PyAny>>,
        chilled_water_entering: Option<&Bound<'py, PyAny>>,
        suction_superheat: Option<&Bound<'py, PyAny>>,
        subcooling: Option<&Bound<'py, PyAny>>,
        options: Option<&Bound<'py, PyDict>>,
    ) -> PyResult<PyDesignPoint> {
        design(
            refrigerant,
            arrangement,
            (capacity, power, power_boundary),
            (chilled_water, chilled_water_leaving, chilled_water_entering),
            (condenser_water, condenser_water_entering),
            (evaporator_approach, condenser_approach),
            (suction_superheat, subcooling),
            options,
        )
    }

    /// How stages and economizers are arranged, as a text that `arranged` reads.
    #[getter]
    fn arrangement(&self) -> String {
        self.inner.arrangement().to_string()
    }

    /// Every option that is not as it is by default, as a dictionary of the keywords of `Circuit`.
    #[getter]
    fn options<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        own_options(py, &self.inner)
    }

    /// Solve the circuit.
    ///
    /// Numbers give a `Cycle`; as soon as one condition is a column (list, NumPy array, pandas or polars Series), the
    /// result is a `Cycles` whose attributes come in the same container.
    ///
    /// Parameters
    /// ----------
    /// evaporating_temperature : float or column
    ///     Saturation temperature in the evaporator, K.
    /// condensing_temperature : float or column
    ///     Saturation temperature in the condenser, K.
    /// suction_superheat : float or column, optional
    ///     Superheat of the vapor that leaves the evaporator, counted as useful cooling, K.
    /// subcooling : float or column, optional
    ///     Subcooling of the liquid that leaves the condenser, K, no more than the refrigerant lift.
    /// liquid_carryover : float or column, optional
    ///     Mass fraction of liquid in what leaves the evaporator, 0 to 0.5, with no superheat.
    /// hot_gas_bypass : float or column, optional
    ///     Hot gas led from the discharge to the evaporator, per flow through the first stage.
    /// capacity : float or column, optional
    ///     Refrigerating capacity, W. Give exactly one of capacity, mass_flow and power.
    /// mass_flow : float or column, optional
    ///     Mass flow through the evaporator, kg/s.
    /// power : float or column, optional
    ///     Compression power (the sum over the stages, before motor and drive losses), W.
    /// errors : {"status", "raise"}, optional
    ///     Columns only: give NaN and a status for a bad row, or raise the error of the first one.
    /// threads : int, optional
    ///     Columns only: how many threads to use, see ``interstage.set_threads``.
    ///
    /// Returns
    /// -------
    /// Cycle or Cycles
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent
    ///     If the conditions are not possible with this refrigerant and circuit.
    /// NotConverged
    ///     If a state cannot be solved.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant("R-134a")
    /// >>> circuit = interstage.Circuit(r, stages=[interstage.Stage(isentropic_efficiency=0.8)])
    /// >>> cycle = circuit.solve(
    /// ...     evaporating_temperature=278.15, condensing_temperature=310.15, mass_flow=1.0
    /// ... )
    /// >>> cycle.points["condenser_outlet"].phase
    /// 'liquid'
    #[pyo3(
        signature = (
            *, evaporating_temperature, condensing_temperature, suction_superheat=None, subcooling=None,
            liquid_carryover=None, hot_gas_bypass=None, capacity=None, mass_flow=None, power=None, errors=None, threads=None,
        ),
        text_signature = "($self, *, evaporating_temperature, condensing_temperature, suction_superheat=0.0, \
            subcooling=0.0, liquid_carryover=0.0, hot_gas_bypass=0.0, capacity=None, mass_flow=None, power=None, errors='status', threads=None)"
    )]
    #[expect(clippy::too_many_arguments, reason = "one for each condition")]
    fn solve<'py>(
        slf: &Bound<'py, Self>,
        evaporating_temperature: &Bound<'py, PyAny>,
        condensing_temperature: &Bound<'py, PyAny>,
        suction_superheat: Option<&Bound<'py, PyAny>>,
        subcooling: Option<&Bound<'py, PyAny>>,
        liquid_carryover: Option<&Bound<'py, PyAny>>,
        hot_gas_bypass: Option<&Bound<'py, PyAny>>,
        capacity: Option<&Bound<'py, PyAny>>,
        mass_flow: Option<&Bound<'py, PyAny>>,
        power: Option<&Bound<'py, PyAny>>,
        errors: Option<&Bound<'py, PyAny>>,
        threads: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let temperatures = (evaporating_temperature, condensing_temperature);
        let others = [suction_superheat, subcooling, liquid_carryover, hot_gas_bypass];
        solve(slf, temperatures, others, [capacity, mass_flow, power], (errors, threads))
    }

    /// Exact derivatives of every figure of the cycle to every number of circuit and conditions.
    ///
    /// Given interstage pressures stay where they are, other rules move with the temperatures; those of the best COP by differences of the
    /// optimum, good to some 1e-3, which leaves the derivatives of the COP exact. A superheat, subcooling, carryover or loss of zero is differentiated toward positive values.
    ///
    /// Parameters
    /// ----------
    /// evaporating_temperature, condensing_temperature, suction_superheat, subcooling, liquid_carryover, hot_gas_bypass : float
    ///     As in `solve`.
    /// capacity, mass_flow, power : float, optional
    ///     As in `solve`; 1 kg/s of liquid sent to the evaporator if none is given.
    ///
    /// Returns
    /// -------
    /// dict of dict
    ///     ``result[figure][input]`` in the SI units of both. Figures have the names of the attributes of `Cycle` (and ``work``, J per
    ///     kilogram of liquid sent to the evaporator), those of a stage are ``stage_2_work`` and so on; inputs are those of `solve` and
    ///     of the circuit, ``stage_2_efficiency`` or ``stage_efficiency`` (all stages together) for example.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent, NotConverged
    ///     As in `solve`.
    /// Undefined
    ///     At the critical point, and where tanks part the components of a blend.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant("R-134a")
    /// >>> circuit = interstage.Circuit(r, stages=[interstage.Stage(isentropic_efficiency=0.8)])
    /// >>> slopes = circuit.sensitivities(evaporating_temperature=278.15, condensing_temperature=310.15)
    /// >>> slopes["cop"]["condensing_temperature"] < 0 < slopes["cop"]["evaporating_temperature"]
    /// True
    #[pyo3(
        signature = (
            *, evaporating_temperature, condensing_temperature, suction_superheat=None, subcooling=None,
            liquid_carryover=None, hot_gas_bypass=None, capacity=None, mass_flow=None, power=None,
        ),
        text_signature = "($self, *, evaporating_temperature, condensing_temperature, suction_superheat=0.0, \
            subcooling=0.0, liquid_carryover=0.0, hot_gas_bypass=0.0, capacity=None, mass_flow=None, power=None)"
    )]
    #[expect(clippy::too_many_arguments, reason = "one for each condition")]
    fn sensitivities<'py>(
        &self,
        evaporating_temperature: &Bound<'py, PyAny>,
        condensing_temperature: &Bound<'py, PyAny>,
        suction_superheat: Option<&Bound<'py, PyAny>>,
        subcooling: Option<&Bound<'py, PyAny>>,
        liquid_carryover: Option<&Bound<'py, PyAny>>,
        hot_gas_bypass: Option<&Bound<'py, PyAny>>,
        capacity: Option<&Bound<'py, PyAny>>,
        mass_flow: Option<&Bound<'py, PyAny>>,
        power: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let py = evaporating_temperature.py();
        let temperatures = (evaporating_temperature, condensing_temperature);
        let others = [suction_superheat, subcooling, liquid_carryover, hot_gas_bypass];
        sensitivities(py, &self.inner, temperatures, others, [capacity, mass_flow, power])
    }

    /// Where the best interstage pressures stand, whatever the rule of the circuit, and how flat the COP is about them.
    ///
    /// Parameters
    /// ----------
    /// evaporating_temperature, condensing_temperature, suction_superheat, subcooling, liquid_carryover, hot_gas_bypass : float
    ///     As in `solve`.
    ///
    /// Returns
    /// -------
    /// dict
    ///     ``pressures`` (Pa absolute, inlets of the second to the last stage), ``exponents`` (ln(p / p_e) / ln(p_c / p_e)), ``cop``
    ///     and ``cop_lost_off_by_a_tenth``: the share of the COP that is lost where one of the pressures is off by 0.1 in its exponent,
    ///     the worse of both sides.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent, NotConverged
    ///     As in `solve`.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> circuit = interstage.Circuit.arranged(
    /// ...     interstage.Refrigerant("R-1233zd(E)"), "2 stages: tank@2", stage=interstage.Stage(polytropic_efficiency=0.8)
    /// ... )
    /// >>> best = circuit.pressure_optimum(evaporating_temperature=278.15, condensing_temperature=310.15)
    /// >>> round(best["exponents"][0], 2)
    /// 0.53
    #[pyo3(
        signature = (
            *, evaporating_temperature, condensing_temperature, suction_superheat=None, subcooling=None,
            liquid_carryover=None, hot_gas_bypass=None,
        ),
        text_signature = "($self, *, evaporating_temperature, condensing_temperature, suction_superheat=0.0, \
            subcooling=0.0, liquid_carryover=0.0, hot_gas_bypass=0.0)"
    )]
    fn pressure_optimum<'py>(
        &self,
        evaporating_temperature: &Bound<'py, PyAny>,
        condensing_temperature: &Bound<'py, PyAny>,
        suction_superheat: Option<&Bound<'py, PyAny>>,
        subcooling: Option<&Bound<'py, PyAny>>,
        liquid_carryover: Option<&Bound<'py, PyAny>>,
        hot_gas_bypass: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let py = evaporating_temperature.py();
        let temperatures = (evaporating_temperature, condensing_temperature);
        let others = [suction_superheat, subcooling, liquid_carryover, hot_gas_bypass];
        pressure_optimum(py, &self.inner, temperatures, others)
    }

    /// The schematic of the circuit, drawn from its data: vessels, stages, metering devices and what flows between them.
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
    /// >>> circuit.schematic()
    /// Schematic(R-134a, 2 stages: tank@2)
    fn schematic<'py>(slf: &Bound<'py, Self>) -> PyResult<Bound<'py, PyAny>> {
        schematic(slf, None)
    }

    /// The refrigerant.
    #[getter]
    fn refrigerant(&self) -> PyRefrigerant {
        PyRefrigerant { inner: self.inner.refrigerant().clone() }
    }

    /// The stages, from suction to discharge.
    #[getter]
    fn stages<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let stages: Vec<PyStage> = self.inner.stages().iter().map(|&inner| PyStage { inner }).collect();
        PyTuple::new(py, stages)
    }

    /// What sits between the stages, from the lowest pressure up.
    #[getter]
    fn interstages<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let interstages = self.inner.interstages().iter().map(|between| object_of(py, between));
        PyTuple::new(py, interstages.collect::<PyResult<Vec<_>>>()?)
    }

    /// The rule for the interstage pressures: its words, or the given pressures as a tuple, Pa absolute.
    #[getter]
    fn interstage_pressures<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        pressures_given(py, &self.inner)
    }

    /// What flash tanks do to the composition of a blend: ``"fixed composition"`` or ``"equilibrium"``.
    #[getter]
    fn tank_separation(&self) -> &'static str {
        separation_given(&self.inner)
    }

    /// The same machine with another refrigerant.
    fn with_refrigerant(&self, refrigerant: &Bound<'_, PyAny>) -> PyResult<Self> {
        let other = object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner.clone();
        Ok(Self { inner: self.inner.clone().with_refrigerant(other).or_raise(refrigerant.py())? })
    }

    /// The same machine with every economizer off: the base its benefit is counted from.
    fn without_economizers(&self) -> Self {
        Self { inner: self.inner.clone().without_economizers() }
    }

    /// The circuit as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Circuit")?;
        data.set_item("refrigerant", self.refrigerant().to_dict(py)?)?;
        let stages = PyList::empty(py);
        for stage in self.inner.stages() {
            stages.append(PyStage { inner: *stage }.to_dict(py)?)?;
        }
        data.set_item("stages", stages)?;
        let interstages = PyList::empty(py);
        for between in self.inner.interstages() {
            interstages.append(object_of(py, between)?.call_method0("to_dict")?)?;
        }
        data.set_item("interstages", interstages)?;
        let pressures = self.interstage_pressures(py)?;
        match pressures.cast::<PyTuple>() {
            Ok(given) => data.set_item("interstage_pressures", given.to_list())?,
            Err(_) => data.set_item("interstage_pressures", pressures)?,
        }
        data.set_item("tank_separation", self.tank_separation())?;
        data.update(self.options(py)?.as_mapping())?;
        Ok(data)
    }

    /// The circuit of a dictionary that `to_dict` made.
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
            "Circuit({}, stages={}, interstages={}, interstage_pressures={}{}{})",
            part("refrigerant")?,
            part("stages")?,
            part("interstages")?,
            part("interstage_pressures")?,
            match slf.get().inner.tank_separation() {
                TankSeparation::FixedComposition => String::new(),
                _ => format!(", tank_separation={}", part("tank_separation")?),
            },
            slf.get().options(slf.py())?.iter().try_fold(String::new(), |shown, (name, value)| {
                PyResult::Ok(format!("{shown}, {name}={}", value.repr()?))
            })?,
        )))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

impl PyCircuit {
    /// The circuit of stored data.
    pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = data.py();
        let stored = Stored::new(data, "Circuit")?;
        let refrigerant = Bound::new(py, PyRefrigerant::restored(&stored.dict("refrigerant")?)?)?;
        let parts = |key: &str| -> PyResult<Bound<'_, PyAny>> {
            let parts = stored.list(key)?.iter().map(|part| component(&part));
            PyList::new(py, parts.collect::<PyResult<Vec<_>>>()?)?.into_bound_py_any(py)
        };
        let pressures = stored.get("interstage_pressures")?;
        let options = PyDict::new(py);
        for name in OPTIONS.into_iter().filter(|name| stored.has(name)) {
            options.set_item(name, stored.present(name)?)?;
        }
        let separation =
            if stored.has("tank_separation") { Some(stored.get("tank_separation")?) } else { None };
        Self::new(
            refrigerant.as_any(),
            &parts("stages")?,
            Some(&parts("interstages")?),
            Some(&pressures),
            separation.as_ref(),
            Some(&options),
        )
    }
}

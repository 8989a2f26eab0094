//! The circuit: a machine of stages and what sits between them.

use std::hash::{Hash, Hasher};

use interstage::{
    Arrangement, Circuit, Drive, Interstage, InterstagePressures, Metering, MotorCooling, Stage,
    TankSeparation,
};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyString, PyTuple, PyType};

use crate::arguments::{array_layer, html_of, number, object, raises, schematic, text};
use crate::components::{PyStage, component};
use crate::conditions::{Asked, single_conditions};
use crate::cycle::PyCycle;
use crate::design::{PyDesignPoint, design};
use crate::economizers::{expander_efficiency, interstage_of, metering, object_of, optional};
use crate::errors::{OrRaise, unknown_option, wrong_argument};
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, fitted, hash_of, rebuilt, storage};

/// The elements of a sequence argument; texts and single components are refused.
fn elements<'py>(argument: &str, value: &Bound<'py, PyAny>, of: &str) -> PyResult<Vec<Bound<'py, PyAny>>> {
    let refused = |found: String| {
        let message = format!("{argument} must be a sequence of {of}, got {found}");
        wrong_argument(value.py(), argument, &message)
    };
    if !(value.is_instance_of::<PyList>() || value.is_instance_of::<PyTuple>()) {
        return Err(refused(value.get_type().name()?.to_string()));
    }
    value.try_iter()?.collect()
}

fn element_refused(argument: &str, at: usize, value: &Bound<'_, PyAny>, of: &str) -> PyErr {
    let found = value.get_type().name().map_or_else(|_| "something else".to_owned(), |name| name.to_string());
    wrong_argument(value.py(), argument, &format!("{argument}[{at}] must be {of}, got {found}"))
}

fn read_stages(value: &Bound<'_, PyAny>) -> PyResult<Vec<Stage>> {
    let of = "Stage objects";
    let each = elements("stages", value, of)?.into_iter().enumerate().map(|(at, element)| {
        let stage =
            element.cast::<PyStage>().map_err(|_| element_refused("stages", at, &element, "a Stage"))?;
        Ok(stage.get().inner)
    });
    each.collect()
}

fn read_interstages(value: &Bound<'_, PyAny>) -> PyResult<Vec<Interstage>> {
    let of = "tanks, economizers and Direct objects";
    let each = elements("interstages", value, of)?.into_iter().enumerate().map(|(at, element)| {
        let expected = "a FlashTank, IntercooledTank, ClosedEconomizer, LiquidInjection or Direct";
        interstage_of(&element).ok_or_else(|| element_refused("interstages", at, &element, expected))
    });
    each.collect()
}

const EQUAL_RATIO: &str = "equal ratio";
const EQUAL_STEP: &str = "equal temperature step";
const EQUAL_HEAD: &str = "equal head";
const BEST_COP: &str = "best COP";

/// What tanks do to the composition of a blend.
const SEPARATIONS: [(&str, TankSeparation); 2] =
    [("fixed composition", TankSeparation::FixedComposition), ("equilibrium", TankSeparation::Equilibrium)];

fn read_separation(value: &Bound<'_, PyAny>) -> PyResult<TankSeparation> {
    let word = text("tank_separation", value)?;
    match SEPARATIONS.into_iter().find(|(name, _)| *name == word) {
        Some((_, separation)) => Ok(separation),
        None => Err(unknown_option(value.py(), "tank_separation", &word, &SEPARATIONS.map(|(name, _)| name))),
    }
}

fn read_pressures(value: &Bound<'_, PyAny>) -> PyResult<InterstagePressures> {
    if let Ok(word) = value.cast::<PyString>() {
        return match word.to_cow()?.as_ref() {
            EQUAL_RATIO => Ok(InterstagePressures::EqualRatio),
            EQUAL_STEP => Ok(InterstagePressures::EqualTemperatureStep),
            EQUAL_HEAD => Ok(InterstagePressures::EqualHead),
            BEST_COP => Ok(InterstagePressures::BestCop),
            other => {
                let known = [EQUAL_RATIO, EQUAL_STEP, EQUAL_HEAD, BEST_COP];
                Err(unknown_option(value.py(), "interstage_pressures", other, &known))
            }
        };
    }
    let column = array_layer(value.py())?.getattr("numbers")?.call1(("interstage_pressures", value))?;
    Ok(InterstagePressures::Given(column.extract()?))
}

/// Options of a circuit by keyword.
const OPTIONS: [&str; 10] = [
    "suction_loss",
    "interstage_loss",
    "port_loss",
    "discharge_loss",
    "expander_efficiency",
    "suction_exchanger_effectiveness",
    "mechanical_efficiency",
    "motor_efficiency",
    "drive_efficiency",
    "motor_cooling",
];

pub(crate) fn with_options(
    py: Python<'_>,
    circuit: Circuit,
    options: Option<&Bound<'_, PyDict>>,
) -> PyResult<Circuit> {
    let Some(options) = options else { return Ok(circuit) };
    for name in options.keys() {
        let name = name.extract::<String>()?;
        if !OPTIONS.contains(&name.as_str()) {
            let message = format!("Circuit() got an unexpected keyword argument {name:?}");
            return Err(wrong_argument(py, &name, &message));
        }
    }
    let given = |name: &str| optional(name, options.get_item(name)?.as_ref());
    let mut losses = circuit.pressure_losses();
    if let Some(loss) = given("suction_loss")? {
        losses = losses.with_suction(loss).or_raise(py)?;
    }
    if let Some(loss) = given("interstage_loss")? {
        losses = losses.with_interstage(loss).or_raise(py)?;
    }
    if let Some(loss) = given("port_loss")? {
        losses = losses.with_port(loss).or_raise(py)?;
    }
    if let Some(loss) = given("discharge_loss")? {
        losses = losses.with_discharge(loss).or_raise(py)?;
    }
    let mut circuit = circuit.with_pressure_losses(losses);
    let twice = |name: &str, what: &str| {
        Err(wrong_argument(py, name, &format!("{name} and the arrangement both name {what}: give one")))
    };
    if let Some(efficiency) = given("expander_efficiency")? {
        if circuit.metering() != Metering::Valve {
            return twice("expander_efficiency", "an expander before the evaporator");
        }
        circuit = circuit.with_metering(metering(py, Some(efficiency))?);
    }
    if let Some(effectiveness) = given("suction_exchanger_effectiveness")? {
        if circuit.suction_exchanger().is_some() {
            return twice("suction_exchanger_effectiveness", "a suction exchanger");
        }
        circuit = circuit.with_suction_exchanger(effectiveness).or_raise(py)?;
    }
    let mut drive = Drive::new();
    if let Some(efficiency) = given("mechanical_efficiency")? {
        drive = drive.with_mechanical_efficiency(efficiency).or_raise(py)?;
    }
    if let Some(efficiency) = given("drive_efficiency")? {
        drive = drive.with_drive_efficiency(efficiency).or_raise(py)?;
    }
    let cooling =
        options.get_item("motor_cooling")?.map_or(Ok(MotorCooling::Room), |of| read_cooling(&of))?;
    drive = drive.with_motor(given("motor_efficiency")?.unwrap_or(1.0), cooling).or_raise(py)?;
    circuit.with_drive(drive).or_raise(py)
}

const ROOM: &str = "room";
const EVAPORATOR: &str = "evaporator";

fn read_cooling(value: &Bound<'_, PyAny>) -> PyResult<MotorCooling> {
    if let Ok(word) = value.cast::<PyString>() {
        return match word.to_cow()?.as_ref() {
            ROOM => Ok(MotorCooling::Room),
            EVAPORATOR => Ok(MotorCooling::RefrigerantToEvaporator),
            other => Err(unknown_option(
                value.py(),
                "motor_cooling",
                other,
                &[ROOM, EVAPORATOR, "2 (the number of a stage, not as text)"],
            )),
        };
    }
    let stage = number("motor_cooling", value)?;
    if stage.fract() == 0.0 && (0.0..=1e6).contains(&stage) {
        return Ok(MotorCooling::RefrigerantToStage(stage as usize));
    }
    let message = format!("motor_cooling must be 'room', 'evaporator' or the number of a stage, got {stage}");
    Err(wrong_argument(value.py(), "motor_cooling", &message))
}

/// The options of a circuit that are not as they are by default.
fn own_options<'py>(py: Python<'py>, circuit: &Circuit) -> PyResult<Bound<'py, PyDict>> {
    let options = PyDict::new(py);
    let (losses, drive) = (circuit.pressure_losses(), circuit.drive());
    for (name, value, default) in [
        ("suction_loss", losses.suction(), 0.0),
        ("interstage_loss", losses.interstage(), 0.0),
        ("port_loss", losses.port(), 0.0),
        ("discharge_loss", losses.discharge(), 0.0),
        ("mechanical_efficiency", drive.mechanical_efficiency(), 1.0),
        ("motor_efficiency", drive.motor_efficiency(), 1.0),
        ("drive_efficiency", drive.drive_efficiency(), 1.0),
    ] {
        if value != default {
            options.set_item(name, value)?;
        }
    }
    if let Some(efficiency) = expander_efficiency(circuit.metering()) {
        options.set_item("expander_efficiency", efficiency)?;
    }
    if let Some(effectiveness) = circuit.suction_exchanger() {
        options.set_item("suction_exchanger_effectiveness", effectiveness)?;
    }
    match drive.motor_cooling() {
        MotorCooling::RefrigerantToEvaporator => options.set_item("motor_cooling", EVAPORATOR)?,
        MotorCooling::RefrigerantToStage(stage) => options.set_item("motor_cooling", stage)?,
        _ => {}
    }
    Ok(options)
}

/// One refrigerant circuit: refrigerant, stages from suction to discharge, what sits between them, and the rule for the
/// pressures there.
///
/// Parameters
/// ----------
/// refrigerant : Refrigerant
/// stages : list or tuple of Stage
///     From suction to discharge; one or more.
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
///     If given pressures are not positive or do not rise.
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
        let py = slf.py();
        let temperatures = (evaporating_temperature, condensing_temperature);
        let sizes = [capacity, mass_flow, power];
        let others = [suction_superheat, subcooling, liquid_carryover, hot_gas_bypass];
        let asked = Asked::new(py, temperatures, others, sizes)?;
        let raises = raises(errors)?;
        if let Some(conditions) = asked.single()? {
            let cycle = slf.get().inner.solve(&conditions).or_raise(py)?;
            return PyCycle::new(slf.clone().unbind(), cycle).into_bound_py_any(py);
        }
        let columns = PyDict::new(py);
        for (name, value) in asked.conditions {
            match value {
                Some(value) => columns.set_item(name, value)?,
                None => columns.set_item(name, 0.0)?,
            }
        }
        columns.set_item(asked.size.0, asked.size.1)?;
        array_layer(py)?.getattr("solve")?.call1((slf, columns, raises, threads))
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
        let conditions = single_conditions(py, temperatures, others, [capacity, mass_flow, power])?;
        let found = self.inner.sensitivities(&conditions).or_raise(py)?;
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
        let conditions = single_conditions(py, temperatures, others, [None; 3])?;
        let found = self.inner.pressure_optimum(&conditions).or_raise(py)?;
        let result = PyDict::new(py);
        result.set_item("pressures", PyTuple::new(py, found.pressures())?)?;
        result.set_item("exponents", PyTuple::new(py, found.exponents())?)?;
        result.set_item("cop", found.cop())?;
        result.set_item("cop_lost_off_by_a_tenth", PyTuple::new(py, found.cop_lost_off_by_a_tenth())?)?;
        Ok(result)
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
        match self.inner.interstage_pressures() {
            InterstagePressures::EqualRatio => EQUAL_RATIO.into_bound_py_any(py),
            InterstagePressures::EqualTemperatureStep => EQUAL_STEP.into_bound_py_any(py),
            InterstagePressures::EqualHead => EQUAL_HEAD.into_bound_py_any(py),
            InterstagePressures::BestCop => BEST_COP.into_bound_py_any(py),
            InterstagePressures::Given(pressures) => PyTuple::new(py, pressures)?.into_bound_py_any(py),
            _ => py.None().into_bound_py_any(py),
        }
    }

    /// What flash tanks do to the composition of a blend: ``"fixed composition"`` or ``"equilibrium"``.
    #[getter]
    fn tank_separation(&self) -> &'static str {
        let own = self.inner.tank_separation();
        SEPARATIONS.into_iter().find(|(_, known)| *known == own).map_or("", |(name, _)| name)
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

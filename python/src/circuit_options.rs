//! What the arguments of a circuit may be: its stages, what sits between them, rules and options.

use interstage::{
    Circuit, Drive, Interstage, InterstagePressures, Metering, MotorCooling, Stage, TankSeparation,
};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyString, PyTuple};

use crate::arguments::{array_layer, number, text};
use crate::components::PyStage;
use crate::economizers::{expander_efficiency, interstage_of, metering, optional};
use crate::errors::{OrRaise, unknown_option, wrong_argument};

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

pub(crate) fn read_stages(value: &Bound<'_, PyAny>) -> PyResult<Vec<Stage>> {
    let of = "Stage objects";
    let each = elements("stages", value, of)?.into_iter().enumerate().map(|(at, element)| {
        let stage =
            element.cast::<PyStage>().map_err(|_| element_refused("stages", at, &element, "a Stage"))?;
        Ok(stage.get().inner)
    });
    each.collect()
}

pub(crate) fn read_interstages(value: &Bound<'_, PyAny>) -> PyResult<Vec<Interstage>> {
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

pub(crate) fn read_separation(value: &Bound<'_, PyAny>) -> PyResult<TankSeparation> {
    let word = text("tank_separation", value)?;
    match SEPARATIONS.into_iter().find(|(name, _)| *name == word) {
        Some((_, separation)) => Ok(separation),
        None => Err(unknown_option(value.py(), "tank_separation", &word, &SEPARATIONS.map(|(name, _)| name))),
    }
}

pub(crate) fn read_pressures(value: &Bound<'_, PyAny>) -> PyResult<InterstagePressures> {
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
pub(crate) const OPTIONS: [&str; 10] = [
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
pub(crate) fn own_options<'py>(py: Python<'py>, circuit: &Circuit) -> PyResult<Bound<'py, PyDict>> {
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

/// The rule for the interstage pressures: its words, or the given pressures as a tuple.
pub(crate) fn pressures_given<'py>(py: Python<'py>, circuit: &Circuit) -> PyResult<Bound<'py, PyAny>> {
    match circuit.interstage_pressures() {
        InterstagePressures::EqualRatio => EQUAL_RATIO.into_bound_py_any(py),
        InterstagePressures::EqualTemperatureStep => EQUAL_STEP.into_bound_py_any(py),
        InterstagePressures::EqualHead => EQUAL_HEAD.into_bound_py_any(py),
        InterstagePressures::BestCop => BEST_COP.into_bound_py_any(py),
        InterstagePressures::Given(pressures) => PyTuple::new(py, pressures)?.into_bound_py_any(py),
        _ => py.None().into_bound_py_any(py),
    }
}

/// What flash tanks do to the composition of a blend, in words.
pub(crate) fn separation_given(circuit: &Circuit) -> &'static str {
    let own = circuit.tank_separation();
    SEPARATIONS.into_iter().find(|(_, known)| *known == own).map_or("", |(name, _)| name)
}

//! The circuit: a machine of stages and what sits between them.

use std::hash::{Hash, Hasher};

use interstage::{
    Circuit, Conditions, FlashTank, Interstage, InterstagePressures, Size, Stage, TankSeparation,
};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList, PyString, PyTuple, PyType};

use crate::arguments::{array_layer, number, object, raises, text};
use crate::components::{PyDirect, PyFlashTank, PyStage, component};
use crate::conditions::Asked;
use crate::cycle::PyCycle;
use crate::errors::{OrRaise, unknown_option, wrong_argument};
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, hash_of, rebuilt, storage};

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
    let of = "FlashTank and Direct objects";
    let each = elements("interstages", value, of)?.into_iter().enumerate().map(|(at, element)| {
        if element.is_instance_of::<PyFlashTank>() {
            Ok(Interstage::FlashTank(FlashTank::new()))
        } else if element.is_instance_of::<PyDirect>() {
            Ok(Interstage::Direct)
        } else {
            Err(element_refused("interstages", at, &element, "a FlashTank or Direct"))
        }
    });
    each.collect()
}

const EQUAL_RATIO: &str = "equal ratio";
const EQUAL_STEP: &str = "equal temperature step";

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
            other => {
                let known = [EQUAL_RATIO, EQUAL_STEP];
                Err(unknown_option(value.py(), "interstage_pressures", other, &known))
            }
        };
    }
    let column = array_layer(value.py())?.getattr("numbers")?.call1(("interstage_pressures", value))?;
    Ok(InterstagePressures::Given(column.extract()?))
}

/// One refrigerant circuit: refrigerant, stages from suction to discharge, what sits between them, and the rule for the
/// pressures there.
///
/// Parameters
/// ----------
/// refrigerant : Refrigerant
/// stages : list or tuple of Stage
///     From suction to discharge; one or more.
/// interstages : list or tuple of FlashTank and Direct
///     What sits between the stages, from the lowest pressure up; one fewer than stages.
/// interstage_pressures : str or sequence of float, optional
///     ``"equal ratio"`` (the same pressure ratio in every stage), ``"equal temperature step"`` (saturation
///     temperatures at equal steps) or the inlet pressures of the second to the last stage, Pa absolute, lowest first.
/// tank_separation : {"fixed composition", "equilibrium"}, optional
///     What flash tanks do to the composition of a blend: nothing, the usual assumption, or liquid and vapor leave with the
///     compositions they have in equilibrium, for a blend by the mixture model. The evaporating temperature is then the dew
///     temperature of what reaches the evaporator; the blend itself circulates through the condenser.
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
        signature = (refrigerant, *, stages, interstages=None, interstage_pressures=None, tank_separation=None),
        text_signature = "(refrigerant, *, stages, interstages=(), interstage_pressures='equal ratio', tank_separation='fixed composition')"
    )]
    fn new(
        refrigerant: &Bound<'_, PyAny>,
        stages: &Bound<'_, PyAny>,
        interstages: Option<&Bound<'_, PyAny>>,
        interstage_pressures: Option<&Bound<'_, PyAny>>,
        tank_separation: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let py = stages.py();
        let refrigerant = object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner.clone();
        let interstages = interstages.map_or(Ok(Vec::new()), read_interstages)?;
        let inner = Circuit::new(refrigerant, read_stages(stages)?, interstages).or_raise(py)?;
        let pressures = interstage_pressures.map_or(Ok(InterstagePressures::EqualRatio), read_pressures)?;
        let inner = inner.with_interstage_pressures(pressures).or_raise(py)?;
        let separation = tank_separation.map_or(Ok(TankSeparation::default()), read_separation)?;
        Ok(Self { inner: inner.with_tank_separation(separation).or_raise(py)? })
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
            capacity=None, mass_flow=None, power=None, errors=None, threads=None,
        ),
        text_signature = "($self, *, evaporating_temperature, condensing_temperature, suction_superheat=0.0, \
            subcooling=0.0, capacity=None, mass_flow=None, power=None, errors='status', threads=None)"
    )]
    #[expect(clippy::too_many_arguments, reason = "one for each condition")]
    fn solve<'py>(
        slf: &Bound<'py, Self>,
        evaporating_temperature: &Bound<'py, PyAny>,
        condensing_temperature: &Bound<'py, PyAny>,
        suction_superheat: Option<&Bound<'py, PyAny>>,
        subcooling: Option<&Bound<'py, PyAny>>,
        capacity: Option<&Bound<'py, PyAny>>,
        mass_flow: Option<&Bound<'py, PyAny>>,
        power: Option<&Bound<'py, PyAny>>,
        errors: Option<&Bound<'py, PyAny>>,
        threads: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let temperatures = (evaporating_temperature, condensing_temperature);
        let sizes = [capacity, mass_flow, power];
        let asked = Asked::new(py, temperatures, (suction_superheat, subcooling), sizes)?;
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

    /// Exact derivatives of the figures of the cycle with respect to the conditions.
    ///
    /// Given interstage pressures stay where they are, other rules move with the saturation temperatures.
    ///
    /// Parameters
    /// ----------
    /// evaporating_temperature : float
    ///     Saturation temperature in the evaporator, K.
    /// condensing_temperature : float
    ///     Saturation temperature in the condenser, K.
    /// suction_superheat : float, optional
    ///     Superheat of the vapor that leaves the evaporator, K.
    /// subcooling : float, optional
    ///     Subcooling of the liquid that leaves the condenser, K, no more than the refrigerant lift.
    ///
    /// Returns
    /// -------
    /// dict of dict
    ///     ``result[figure][input]`` for the figures cop, refrigerating_effect (J/kg), work (J/kg, all stages per
    ///     kilogram through the evaporator) and discharge_temperature (K), per kelvin of each condition and per unit of
    ///     stage_efficiency (all stages together).
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent, NotConverged
    ///     As in `solve`.
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
        signature = (*, evaporating_temperature, condensing_temperature, suction_superheat=None, subcooling=None),
        text_signature = "($self, *, evaporating_temperature, condensing_temperature, suction_superheat=0.0, \
            subcooling=0.0)"
    )]
    fn sensitivities<'py>(
        &self,
        evaporating_temperature: &Bound<'py, PyAny>,
        condensing_temperature: &Bound<'py, PyAny>,
        suction_superheat: Option<&Bound<'py, PyAny>>,
        subcooling: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let py = evaporating_temperature.py();
        let evaporating = number("evaporating_temperature", evaporating_temperature)?;
        let condensing = number("condensing_temperature", condensing_temperature)?;
        let or_zero =
            |name, value: Option<&Bound<'_, PyAny>>| value.map_or(Ok(0.0), |value| number(name, value));
        // The figures are those of a kilogram: any size gives them.
        let conditions = Conditions::new(evaporating, condensing, Size::MassFlow(1.0))
            .with_suction_superheat(or_zero("suction_superheat", suction_superheat)?)
            .with_subcooling(or_zero("subcooling", subcooling)?);
        let found = self.inner.sensitivities(&conditions).or_raise(py)?;
        let result = PyDict::new(py);
        for (figure, slopes) in [
            ("cop", found.cop),
            ("refrigerating_effect", found.refrigerating_effect),
            ("work", found.work),
            ("discharge_temperature", found.discharge_temperature),
        ] {
            let by_input = PyDict::new(py);
            for (input, slope) in [
                ("evaporating_temperature", slopes.evaporating_temperature),
                ("condensing_temperature", slopes.condensing_temperature),
                ("suction_superheat", slopes.suction_superheat),
                ("subcooling", slopes.subcooling),
                ("stage_efficiency", slopes.stage_efficiency),
            ] {
                by_input.set_item(input, slope)?;
            }
            result.set_item(figure, by_input)?;
        }
        Ok(result)
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
        let interstages = self.inner.interstages().iter().map(|between| match between {
            Interstage::FlashTank(_) => PyFlashTank.into_bound_py_any(py),
            _ => PyDirect.into_bound_py_any(py),
        });
        PyTuple::new(py, interstages.collect::<PyResult<Vec<_>>>()?)
    }

    /// The rule for the interstage pressures: its words, or the given pressures as a tuple, Pa absolute.
    #[getter]
    fn interstage_pressures<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        match self.inner.interstage_pressures() {
            InterstagePressures::EqualRatio => EQUAL_RATIO.into_bound_py_any(py),
            InterstagePressures::EqualTemperatureStep => EQUAL_STEP.into_bound_py_any(py),
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
            interstages.append(match between {
                Interstage::FlashTank(_) => PyFlashTank.to_dict(py)?,
                _ => PyDirect.to_dict(py)?,
            })?;
        }
        data.set_item("interstages", interstages)?;
        let pressures = self.interstage_pressures(py)?;
        match pressures.cast::<PyTuple>() {
            Ok(given) => data.set_item("interstage_pressures", given.to_list())?,
            Err(_) => data.set_item("interstage_pressures", pressures)?,
        }
        data.set_item("tank_separation", self.tank_separation())?;
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
        Ok(format!(
            "Circuit({}, stages={}, interstages={}, interstage_pressures={}{})",
            part("refrigerant")?,
            part("stages")?,
            part("interstages")?,
            part("interstage_pressures")?,
            match slf.get().inner.tank_separation() {
                TankSeparation::FixedComposition => String::new(),
                _ => format!(", tank_separation={}", part("tank_separation")?),
            },
        ))
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
        let separation =
            if stored.has("tank_separation") { Some(stored.get("tank_separation")?) } else { None };
        Self::new(
            refrigerant.as_any(),
            &parts("stages")?,
            Some(&parts("interstages")?),
            Some(&pressures),
            separation.as_ref(),
        )
    }
}

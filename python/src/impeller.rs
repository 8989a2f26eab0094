//! First sizes of centrifugal impellers.

use std::hash::{Hash, Hasher};

use interstage::{Impeller, StageDuty};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PySequence, PyTuple, PyType};

use crate::arguments::{number, object};
use crate::errors::{OrRaise, wrong_argument};
use crate::record::record;
use crate::state::PyState;
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, shown, storage};

/// What an impeller has to do. SI units.
///
/// Parameters
/// ----------
/// head : float
///     Polytropic head, J/kg.
/// volume_flow : float
///     At the inlet, m3/s.
/// speed_of_sound : float
///     At the inlet, m/s.
///
/// Raises
/// ------
/// OutOfRange, NotFinite
///     If head is outside 1 J/kg to 1 MJ/kg, flow outside 1e-9 to 1e6 m3/s, speed of sound outside 10 to 2000 m/s.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-134a")
/// >>> stages = [interstage.Stage(polytropic_efficiency=0.8)] * 2
/// >>> circuit = interstage.Circuit(r, stages=stages, interstages=[interstage.FlashTank()])
/// >>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=3.5e6)
/// >>> inlets = [cycle.points[f"stage_{k}_inlet"] for k in (1, 2)]
/// >>> duties = [
/// ...     interstage.StageDuty.at_inlet(inlet.state, inlet.mass_flow, head)
/// ...     for inlet, head in zip(inlets, cycle.stage_head)
/// ... ]
/// >>> [round(impeller.tip_mach, 2) for impeller in interstage.Impeller.on_one_shaft(duties, 0.52, 0.07)]
/// [0.96, 0.97]
#[pyclass(module = "interstage", name = "StageDuty", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyStageDuty {
    inner: StageDuty,
}

#[pymethods]
impl PyStageDuty {
    #[new]
    fn new(
        head: &Bound<'_, PyAny>,
        volume_flow: &Bound<'_, PyAny>,
        speed_of_sound: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let inner = StageDuty::new(
            number("head", head)?,
            number("volume_flow", volume_flow)?,
            number("speed_of_sound", speed_of_sound)?,
        );
        Ok(Self { inner: inner.or_raise(head.py())? })
    }

    /// From a state of the refrigerant at the inlet.
    ///
    /// Parameters
    /// ----------
    /// inlet : State
    /// mass_flow : float
    ///     kg/s.
    /// head : float
    ///     Polytropic head, J/kg.
    ///
    /// Returns
    /// -------
    /// StageDuty
    ///
    /// Raises
    /// ------
    /// Undefined
    ///     If the inlet is wet: it has no speed of sound here.
    /// OutOfRange, NotFinite
    ///     As the class.
    #[classmethod]
    fn at_inlet(
        _class: &Bound<'_, PyType>,
        inlet: &Bound<'_, PyAny>,
        mass_flow: &Bound<'_, PyAny>,
        head: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let state = object::<PyState>("inlet", inlet)?.get();
        let (mass_flow, head) = (number("mass_flow", mass_flow)?, number("head", head)?);
        let inner = StageDuty::at_inlet(&state.refrigerant, &state.state, mass_flow, head);
        Ok(Self { inner: inner.or_raise(inlet.py())? })
    }

    /// Polytropic head, J/kg.
    #[getter]
    fn head(&self) -> f64 {
        self.inner.head()
    }

    /// Volume flow at the inlet, m3/s.
    #[getter]
    fn volume_flow(&self) -> f64 {
        self.inner.volume_flow()
    }

    /// Speed of sound at the inlet, m/s.
    #[getter]
    fn speed_of_sound(&self) -> f64 {
        self.inner.speed_of_sound()
    }

    /// The duty as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "StageDuty")?;
        data.set_item("head", self.head())?;
        data.set_item("volume_flow", self.volume_flow())?;
        data.set_item("speed_of_sound", self.speed_of_sound())?;
        Ok(data)
    }

    /// The duty of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "StageDuty")?;
        Self::new(&stored.get("head")?, &stored.get("volume_flow")?, &stored.get("speed_of_sound")?)
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
        let (head, flow, sound) = (self.head(), self.volume_flow(), self.speed_of_sound());
        format!("StageDuty(head={head:?}, volume_flow={flow:?}, speed_of_sound={sound:?})")
    }
}

impl Hash for PyStageDuty {
    fn hash<H: Hasher>(&self, state: &mut H) {
        hash_numbers(state, &[self.head(), self.volume_flow(), self.speed_of_sound()]);
    }
}

record! {
    /// An impeller sized by head coefficient and flow coefficient. SI units.
    ///
    /// Head coefficient: polytropic head over the square of the tip speed, H / u^2. Flow coefficient: volume flow at
    /// the inlet over tip speed and the square of the diameter, V / (D^2 u). Other texts have 2 H / u^2 and 4 V / (pi
    /// D^2 u): half and 0.785 of their numbers are meant here. Head coefficients of 0.45 to 0.55 at design are common
    /// practice.
    ///
    /// A first size for studies: losses, choking of the inlet and the strength of the wheel are not looked at. Made
    /// by ``Impeller.sized``, ``Impeller.at_speed`` and ``Impeller.on_one_shaft``.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> duty = interstage.StageDuty(head=10e3, volume_flow=5.0, speed_of_sound=130.0)
    /// >>> impeller = interstage.Impeller.sized(duty, head_coefficient=0.52, flow_coefficient=0.07)
    /// >>> round(impeller.tip_speed, 1), round(impeller.tip_mach, 2), round(impeller.diameter, 3)
    /// (138.7, 1.07, 0.718)
    /// >>> round(60.0 * impeller.speed)  # revolutions per minute
    /// 3690
    PyImpeller, "Impeller" {
        /// Polytropic head, J/kg.
        head: " J/kg",
        /// Volume flow at the inlet, m3/s.
        volume_flow: " m3/s",
        /// Speed of sound at the inlet, m/s.
        speed_of_sound: " m/s",
        /// Tip speed, m/s.
        tip_speed: " m/s",
        /// Tip speed over the speed of sound at the inlet, dimensionless.
        tip_mach: "",
        /// Diameter at the outlet, m.
        diameter: " m",
        /// Rotational speed, 1/s; times 60 in revolutions per minute.
        speed: " 1/s",
        /// Polytropic head over the square of the tip speed, dimensionless.
        head_coefficient: "",
        /// Volume flow at the inlet over tip speed and the square of the diameter, dimensionless.
        flow_coefficient: "",
    }

    /// The impeller with these coefficients.
    ///
    /// Parameters
    /// ----------
    /// duty : StageDuty
    /// head_coefficient, flow_coefficient : float
    ///
    /// Returns
    /// -------
    /// Impeller
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If the head coefficient is outside 0.01 to 2 or the flow coefficient outside 1e-4 to 1.
    #[classmethod]
    fn sized(
        _class: &Bound<'_, PyType>,
        duty: &Bound<'_, PyAny>,
        head_coefficient: &Bound<'_, PyAny>,
        flow_coefficient: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let duty = object::<PyStageDuty>("duty", duty)?.get();
        let (head, flow) = coefficients(head_coefficient, flow_coefficient)?;
        Ok(Self::of(&Impeller::sized(&duty.inner, head, flow).or_raise(head_coefficient.py())?))
    }

    /// The impeller with this head coefficient on a shaft that turns at a rotational speed.
    ///
    /// Parameters
    /// ----------
    /// duty : StageDuty
    /// head_coefficient : float
    /// speed : float
    ///     Rotational speed, 1/s.
    ///
    /// Returns
    /// -------
    /// Impeller
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If the head coefficient is outside 0.01 to 2 or the speed outside 0.1 to 10,000 1/s.
    #[classmethod]
    fn at_speed(
        _class: &Bound<'_, PyType>,
        duty: &Bound<'_, PyAny>,
        head_coefficient: &Bound<'_, PyAny>,
        speed: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let duty = object::<PyStageDuty>("duty", duty)?.get();
        let (head, turns) = (number("head_coefficient", head_coefficient)?, number("speed", speed)?);
        Ok(Self::of(&Impeller::at_speed(&duty.inner, head, turns).or_raise(speed.py())?))
    }

    /// Impellers of all stages on one shaft: all with one head coefficient, the first with this flow coefficient.
    ///
    /// The first stage sets the speed; the flow coefficients of the others follow.
    ///
    /// Parameters
    /// ----------
    /// duties : sequence of StageDuty
    ///     From the first stage on.
    /// head_coefficient, flow_coefficient : float
    ///
    /// Returns
    /// -------
    /// list of Impeller
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     As ``sized``.
    /// WrongLength
    ///     If there is no stage.
    #[classmethod]
    fn on_one_shaft(
        _class: &Bound<'_, PyType>,
        duties: &Bound<'_, PyAny>,
        head_coefficient: &Bound<'_, PyAny>,
        flow_coefficient: &Bound<'_, PyAny>,
    ) -> PyResult<Vec<Self>> {
        let py = duties.py();
        let Ok(sequence) = duties.cast::<PySequence>() else {
            let message = format!("duties must be a sequence of StageDuty, got {}", duties.get_type().name()?);
            return Err(wrong_argument(py, "duties", &message));
        };
        let mut stages = Vec::new();
        for duty in sequence.try_iter()? {
            stages.push(object::<PyStageDuty>("duties", &duty?)?.get().inner);
        }
        let (head, flow) = coefficients(head_coefficient, flow_coefficient)?;
        Ok(Impeller::on_one_shaft(&stages, head, flow).or_raise(py)?.iter().map(Self::of).collect())
    }
}

impl PyImpeller {
    fn of(impeller: &Impeller) -> Self {
        let duty = impeller.duty();
        Self {
            head: duty.head(),
            volume_flow: duty.volume_flow(),
            speed_of_sound: duty.speed_of_sound(),
            tip_speed: impeller.tip_speed(),
            tip_mach: impeller.tip_mach(),
            diameter: impeller.diameter(),
            speed: impeller.speed(),
            head_coefficient: impeller.head_coefficient(),
            flow_coefficient: impeller.flow_coefficient(),
        }
    }
}

fn coefficients(head: &Bound<'_, PyAny>, flow: &Bound<'_, PyAny>) -> PyResult<(f64, f64)> {
    Ok((number("head_coefficient", head)?, number("flow_coefficient", flow)?))
}

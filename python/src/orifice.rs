//! Orifices and what passes them.

use std::hash::{Hash, Hasher};

use interstage::{Error, Orifice, OrificeFlow, OrificeModel, Refrigerant};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{html_of, number, object, text};
use crate::errors::{OrRaise, from_core, unknown_option, unreadable};
use crate::refrigerant::PyRefrigerant;
use crate::state::PyState;
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, shown, storage};

const MODELS: [OrificeModel; 3] =
    [OrificeModel::MetastableLiquid, OrificeModel::FrozenMixture, OrificeModel::Equilibrium];

/// The model of a word.
fn model(value: &Bound<'_, PyAny>) -> PyResult<OrificeModel> {
    let word = text("model", value)?;
    MODELS.into_iter().find(|model| model.to_string() == word).ok_or_else(|| {
        let words = MODELS.map(|model| model.to_string());
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        unknown_option(value.py(), "model", &word, &words)
    })
}

/// The model that was given, or the usual one.
fn model_or_default(value: Option<&Bound<'_, PyAny>>) -> PyResult<OrificeModel> {
    value.map_or(Ok(OrificeModel::default()), model)
}

/// A length that may be left out: none then.
fn number_or_zero(argument: &str, value: Option<&Bound<'_, PyAny>>) -> PyResult<f64> {
    value.map_or(Ok(0.0), |value| number(argument, value))
}

/// Refuses a state of another refrigerant, reference or range.
fn same_refrigerant(py: Python<'_>, refrigerant: &Refrigerant, upstream: &PyState) -> PyResult<()> {
    if *refrigerant == upstream.refrigerant {
        return Ok(());
    }
    let reason = format!("{refrigerant:?} and a state of {:?}", upstream.refrigerant);
    Err(from_core(py, &Error::Inconsistent { arguments: "refrigerant and upstream", reason }))
}

/// A fixed orifice: its flow area and the model of the flow. SI units.
///
/// The models are far apart. For saturated liquid of 37 degC, throttled to the geometric mean of its pressure and the
/// saturation pressure at 5 degC, metastable liquid gives 5.8, 5.1 (R-1233zd(E)) or 3.0 (R-134a) times the
/// flow of equilibrium. Calibrate at a point where the orifice is known to be sealed (``Orifice.calibrated``), use a
/// model to scale from there, and report which one it was. Never a basis for sizing a protection.
///
/// Parameters
/// ----------
/// flow_area : float
///     Bore area times discharge coefficient, m2. Sharp-edged bores have coefficients of 0.60 to 0.65 in liquid that
///     does not flash (ISO 5167, from memory).
/// model : str, optional
///     ``"metastable liquid"`` (the default): sqrt(2 rho (p0 - p_downstream)) per area, with p0 the pressure at the
///     orifice. Thin sharp-edged orifices that are sealed; never chokes.
///     ``"frozen mixture"``: the same with the density of a mixture of liquid and vapor. Orifices that draw some
///     vapor; never chokes.
///     ``"equilibrium"``: the largest rho sqrt(2 (h0 - h)) on the isentrope, liquid and vapor in equilibrium. The
///     lowest of the three, for long passages.
///
/// Raises
/// ------
/// OutOfRange, NotFinite
///     If the area is not a positive number up to 100 m2.
/// UnknownOption
///     If there is no such model.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-1233zd(E)")
/// >>> liquid = r.saturation(T=310.15).liquid
/// >>> orifice = interstage.Orifice(2e-3)
/// >>> flow = orifice.mass_flow(r, liquid, 108.6e3, liquid_head=0.3)
/// >>> flow.choked, flow.throat_pressure
/// (False, 108600.0)
/// >>> interstage.Orifice(2e-3, model="equilibrium").mass_flow(r, liquid, 108.6e3).choked
/// True
#[pyclass(module = "interstage", name = "Orifice", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyOrifice {
    inner: Orifice,
}

impl Hash for PyOrifice {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.inner.model().hash(state);
        hash_numbers(state, &[self.inner.flow_area()]);
    }
}

#[pymethods]
impl PyOrifice {
    #[new]
    #[pyo3(
        signature = (flow_area, model=None),
        text_signature = "(flow_area, model='metastable liquid')"
    )]
    fn new(flow_area: &Bound<'_, PyAny>, model: Option<&Bound<'_, PyAny>>) -> PyResult<Self> {
        let model = model_or_default(model)?;
        let inner = Orifice::new(number("flow_area", flow_area)?).or_raise(flow_area.py())?;
        Ok(Self { inner: inner.with_model(model) })
    }

    /// The orifice that passes a known flow at a point where it is known to be sealed.
    ///
    /// Parameters
    /// ----------
    /// refrigerant : Refrigerant
    /// upstream : State
    ///     Subcooled or saturated liquid, at its surface.
    /// downstream_pressure : float
    ///     Pa absolute.
    /// mass_flow : float
    ///     The known flow, kg/s.
    /// liquid_head : float, optional
    ///     Height of the liquid over the orifice, m.
    /// model : str, optional
    ///     As for ``Orifice``. The area belongs to it.
    ///
    /// Returns
    /// -------
    /// Orifice
    ///
    /// Raises
    /// ------
    /// Inconsistent
    ///     If vapor enters, or no pressure difference drives the flow.
    /// OutOfRange, NotFinite, Undefined
    ///     As ``Orifice.mass_flow``, and for a flow that is not positive.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant("R-123")
    /// >>> full = r.saturation(T=310.15).liquid
    /// >>> orifice = interstage.Orifice.calibrated(r, full, downstream_pressure=75.5e3, mass_flow=20.0)
    /// >>> part = r.saturation(T=300.15).liquid
    /// >>> 13.0 < orifice.mass_flow(r, part, 60e3).mass_flow < 17.0
    /// True
    #[classmethod]
    #[pyo3(
        signature = (refrigerant, upstream, *, downstream_pressure, mass_flow, liquid_head=None, model=None),
        text_signature = "($cls, refrigerant, upstream, *, downstream_pressure, mass_flow, liquid_head=0.0, \
                          model='metastable liquid')"
    )]
    #[expect(clippy::too_many_arguments, reason = "keywords in Python")]
    fn calibrated(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        refrigerant: &Bound<'_, PyAny>,
        upstream: &Bound<'_, PyAny>,
        downstream_pressure: &Bound<'_, PyAny>,
        mass_flow: &Bound<'_, PyAny>,
        liquid_head: Option<&Bound<'_, PyAny>>,
        model: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let refrigerant = &object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner;
        let upstream = object::<PyState>("upstream", upstream)?.get();
        same_refrigerant(py, refrigerant, upstream)?;
        let inner = Orifice::calibrated(
            model_or_default(model)?,
            refrigerant,
            &upstream.state,
            number("downstream_pressure", downstream_pressure)?,
            number_or_zero("liquid_head", liquid_head)?,
            number("mass_flow", mass_flow)?,
        );
        Ok(Self { inner: inner.or_raise(py)? })
    }

    /// What passes to a downstream pressure.
    ///
    /// Parameters
    /// ----------
    /// refrigerant : Refrigerant
    /// upstream : State
    ///     Subcooled or saturated liquid, at its surface; or a two-phase state, but not with the model
    ///     ``"metastable liquid"``.
    /// downstream_pressure : float
    ///     Pa absolute.
    /// liquid_head : float, optional
    ///     Height of the liquid over the orifice, m. Liquid over an orifice seals it: with vapor upstream it must be 0.
    ///
    /// Returns
    /// -------
    /// OrificeFlow
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If the downstream pressure is above that at the orifice or below 0, or the head below 0 or above 100 m.
    /// Inconsistent
    ///     If upstream is a state of another refrigerant handle, or holds vapor where it must not.
    /// Undefined
    ///     If upstream is superheated or supercritical.
    #[pyo3(
        signature = (refrigerant, upstream, downstream_pressure, liquid_head=None),
        text_signature = "($self, refrigerant, upstream, downstream_pressure, liquid_head=0.0)"
    )]
    fn mass_flow(
        &self,
        py: Python<'_>,
        refrigerant: &Bound<'_, PyAny>,
        upstream: &Bound<'_, PyAny>,
        downstream_pressure: &Bound<'_, PyAny>,
        liquid_head: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<PyOrificeFlow> {
        let refrigerant = &object::<PyRefrigerant>("refrigerant", refrigerant)?.get().inner;
        let upstream = object::<PyState>("upstream", upstream)?.get();
        same_refrigerant(py, refrigerant, upstream)?;
        let pressure = number("downstream_pressure", downstream_pressure)?;
        let head = number_or_zero("liquid_head", liquid_head)?;
        let flow = self.inner.mass_flow(refrigerant, &upstream.state, pressure, head).or_raise(py)?;
        Ok(PyOrificeFlow::new(&flow))
    }

    /// Flow area, m2: bore area times discharge coefficient.
    #[getter]
    fn flow_area(&self) -> f64 {
        self.inner.flow_area()
    }

    /// Model of the flow.
    #[getter]
    fn model(&self) -> String {
        self.inner.model().to_string()
    }

    /// The orifice as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Orifice")?;
        data.set_item("flow_area", self.flow_area())?;
        data.set_item("model", self.model())?;
        Ok(data)
    }

    /// The orifice of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "Orifice")?;
        Self::new(&stored.get("flow_area")?, Some(&stored.get("model")?))
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
        format!("Orifice({:?}, model={:?})", self.flow_area(), self.model())
    }
}

/// What passes an orifice, with the model it stands on. SI units.
///
/// Made by `Orifice.mass_flow`.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-134a")
/// >>> liquid = r.saturation(T=310.15).liquid
/// >>> flow = interstage.Orifice(1e-3, model="equilibrium").mass_flow(r, liquid, 572e3)
/// >>> flow.model, flow.throat_pressure > 572e3
/// ('equilibrium', True)
#[pyclass(module = "interstage", name = "OrificeFlow", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyOrificeFlow {
    model: OrificeModel,
    mass_flow: f64,
    mass_flux: f64,
    throat_pressure: f64,
    choked: bool,
}

impl PyOrificeFlow {
    fn new(flow: &OrificeFlow) -> Self {
        Self {
            model: flow.model(),
            mass_flow: flow.mass_flow(),
            mass_flux: flow.mass_flux(),
            throat_pressure: flow.throat_pressure(),
            choked: flow.choked(),
        }
    }
}

impl Hash for PyOrificeFlow {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.model, self.choked).hash(state);
        hash_numbers(state, &[self.mass_flow, self.mass_flux, self.throat_pressure]);
    }
}

#[pymethods]
impl PyOrificeFlow {
    /// Model of the flow.
    #[getter]
    fn model(&self) -> String {
        self.model.to_string()
    }

    /// Mass flow, kg/s.
    #[getter]
    fn mass_flow(&self) -> f64 {
        self.mass_flow
    }

    /// Mass flow per flow area, kg/(m2 s).
    #[getter]
    fn mass_flux(&self) -> f64 {
        self.mass_flux
    }

    /// Pressure in the narrowest section, Pa absolute: the downstream pressure unless the flow is choked.
    #[getter]
    fn throat_pressure(&self) -> f64 {
        self.throat_pressure
    }

    /// Whether a lower downstream pressure would leave the flow as it is.
    #[getter]
    fn choked(&self) -> bool {
        self.choked
    }

    /// The flow as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "OrificeFlow")?;
        data.set_item("model", self.model())?;
        for (key, value) in [
            ("mass_flow", self.mass_flow),
            ("mass_flux", self.mass_flux),
            ("throat_pressure", self.throat_pressure),
        ] {
            data.set_item(key, value)?;
        }
        data.set_item("choked", self.choked)?;
        Ok(data)
    }

    /// The flow of a dictionary that `to_dict` made, to the bit.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "OrificeFlow")?;
        let finite = |key: &str| match stored.number(key)? {
            value if value.is_finite() => Ok(value),
            value => Err(unreadable(data.py(), format!("{key} is {value}"))),
        };
        Ok(Self {
            model: model(&stored.get("model")?)?,
            mass_flow: finite("mass_flow")?,
            mass_flux: finite("mass_flux")?,
            throat_pressure: finite("throat_pressure")?,
            choked: stored.get("choked")?.extract()?,
        })
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
        fitted(&format!(
            "OrificeFlow({}: mass_flow={} kg/s, mass_flux={} kg/(m2 s), throat_pressure={} Pa, choked={})",
            self.model,
            shown(self.mass_flow),
            shown(self.mass_flux),
            shown(self.throat_pressure),
            if self.choked { "True" } else { "False" },
        ))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

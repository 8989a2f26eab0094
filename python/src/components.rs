//! The stages of a circuit.

use std::hash::{Hash, Hasher};

use interstage::{Efficiency, Stage};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{number, text};
use crate::economizers::restored_of;
use crate::errors::{OrRaise, unknown_option, unreadable, wrong_argument};
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, storage};

const INTEGRAL: &str = "integral";
const THREE_POINTS: &str = "three points";

/// One stage of compression of constant efficiency: an impeller with its inlet vanes and diffuser.
///
/// At the same number an isentropic efficiency makes a stage of a high pressure ratio look better than one of a low
/// ratio; a polytropic efficiency does not depend on how a compression is divided into stages.
///
/// Parameters
/// ----------
/// isentropic_efficiency : float, optional
///     (h(p_out, s_in) - h_in) / (h_out - h_in), above 0 and up to 1.
/// polytropic_efficiency : float, optional
///     The efficiency in dh = v dp / efficiency all along the path, above 0 and up to 1.
/// path : {"integral", "three points"}, optional
///     How the polytropic path is followed: integrated, or by the three-point method, within 3e-6 of it at the conditions of chillers.
///
/// Raises
/// ------
/// WrongArgument
///     Unless exactly one of the two is given.
/// OutOfRange, NotFinite
///     If it is no possible efficiency.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> stage = interstage.Stage(polytropic_efficiency=0.8)
/// >>> stage.kind, stage.efficiency
/// ('polytropic', 0.8)
#[pyclass(module = "interstage", name = "Stage", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyStage {
    pub(crate) inner: Stage,
}

#[pymethods]
impl PyStage {
    #[new]
    #[pyo3(
        signature = (*, isentropic_efficiency=None, polytropic_efficiency=None, path=None),
        text_signature = "(*, isentropic_efficiency=None, polytropic_efficiency=None, path='integral')"
    )]
    fn new(
        py: Python<'_>,
        isentropic_efficiency: Option<&Bound<'_, PyAny>>,
        polytropic_efficiency: Option<&Bound<'_, PyAny>>,
        path: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let path = path.map(|path| text("path", path)).transpose()?;
        let polytropic = match path.as_deref() {
            None | Some(INTEGRAL) => Stage::polytropic,
            Some(THREE_POINTS) if polytropic_efficiency.is_some() => Stage::polytropic_three_point,
            Some(THREE_POINTS) => {
                return Err(wrong_argument(py, "path", "an isentropic efficiency has no polytropic path"));
            }
            Some(other) => return Err(unknown_option(py, "path", other, &[INTEGRAL, THREE_POINTS])),
        };
        let inner = match (isentropic_efficiency, polytropic_efficiency) {
            (Some(value), None) => Stage::isentropic(number("isentropic_efficiency", value)?),
            (None, Some(value)) => polytropic(number("polytropic_efficiency", value)?),
            _ => {
                let argument = "isentropic_efficiency, polytropic_efficiency";
                let message = "a stage has exactly one of isentropic_efficiency and polytropic_efficiency";
                return Err(wrong_argument(py, argument, message));
            }
        };
        Ok(Self { inner: inner.or_raise(py)? })
    }

    /// How the efficiency is defined: ``"isentropic"`` or ``"polytropic"``.
    #[getter]
    fn kind(&self) -> &'static str {
        match self.inner.kind() {
            Efficiency::Isentropic => "isentropic",
            Efficiency::Polytropic | Efficiency::PolytropicThreePoint => "polytropic",
            _ => "other",
        }
    }

    /// How a polytropic path is followed: ``"integral"`` or ``"three points"``; None for an isentropic efficiency.
    #[getter]
    fn path(&self) -> Option<&'static str> {
        match self.inner.kind() {
            Efficiency::Polytropic => Some(INTEGRAL),
            Efficiency::PolytropicThreePoint => Some(THREE_POINTS),
            _ => None,
        }
    }

    /// The efficiency, 0 to 1.
    #[getter]
    fn efficiency(&self) -> f64 {
        self.inner.efficiency()
    }

    /// The stage as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "Stage")?;
        data.set_item("kind", self.kind())?;
        data.set_item("efficiency", self.efficiency())?;
        if let Some(path) = self.path() {
            data.set_item("path", path)?;
        }
        Ok(data)
    }

    /// The stage of a dictionary that `to_dict` made.
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

    fn __repr__(&self) -> String {
        let path = if self.path() == Some(THREE_POINTS) { ", path='three points'" } else { "" };
        format!("Stage({}_efficiency={:?}{path})", self.kind(), self.efficiency())
    }
}

impl PyStage {
    /// The stage of stored data.
    fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "Stage")?;
        let efficiency = stored.number("efficiency")?;
        let path = if stored.has("path") { stored.text("path")? } else { INTEGRAL.to_owned() };
        if ![INTEGRAL, THREE_POINTS].contains(&path.as_str()) {
            return Err(unreadable(data.py(), format!("{path:?} is no kind of path")));
        }
        let three_points = path == THREE_POINTS;
        let inner = match stored.text("kind")?.as_str() {
            "isentropic" => Stage::isentropic(efficiency),
            "polytropic" if three_points => Stage::polytropic_three_point(efficiency),
            "polytropic" => Stage::polytropic(efficiency),
            other => return Err(unreadable(data.py(), format!("{other:?} is no kind of efficiency"))),
        };
        Ok(Self { inner: inner.or_raise(data.py())? })
    }
}

impl Hash for PyStage {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.inner.kind().hash(state);
        hash_numbers(state, &[self.inner.efficiency()]);
    }
}

/// The component of stored data, whichever it is.
pub(crate) fn component<'py>(data: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    let py = data.py();
    let Ok(data) = data.cast::<PyDict>() else {
        return Err(unreadable(py, "a component must be a dict".to_owned()));
    };
    let class = data.get_item("type")?.map_or(Ok(String::new()), |class| class.extract())?;
    match class.as_str() {
        "Stage" => PyStage::restored(data)?.into_bound_py_any(py),
        other => restored_of(other, data),
    }
}

//! The points of a solved cycle: one by one and as a table.

use std::hash::{Hash, Hasher};

use interstage::{Derivatives, Location, Point, Refrigerant};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyIterator, PyTuple, PyType};

use crate::arguments::{display, html_of, text, text_of};
use crate::cycle::PyCycle;
use crate::errors::unknown_point;
use crate::state::{PyState, phase_text, with_state_getters};
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, shown, storage};

/// One point of a solved cycle, with the properties of the state there.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> circuit = interstage.Circuit(
/// ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
/// ... )
/// >>> cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, mass_flow=2.0)
/// >>> point = cycle.points["evaporator_outlet"]
/// >>> point.mass_flow, point.x, point.h == point.state.h
/// (2.0, 1.0, True)
#[pyclass(module = "interstage", name = "Point", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyPoint {
    name: String,
    state: PyState,
    mass_flow: f64,
}

impl AsRef<PyState> for PyPoint {
    fn as_ref(&self) -> &PyState {
        &self.state
    }
}

impl Hash for PyPoint {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (&self.name, &self.state).hash(state);
        hash_numbers(state, &[self.mass_flow]);
    }
}

with_state_getters! {
    PyPoint {
        /// Name of the point.
        #[getter]
        fn name(&self) -> &str {
            &self.name
        }

        /// State there.
        #[getter]
        fn state(&self) -> PyState {
            PyState::new(self.state.refrigerant.clone(), self.state.state)
        }

        /// Mass flow there, kg/s.
        #[getter]
        fn mass_flow(&self) -> f64 {
            self.mass_flow
        }

        /// The point as a dictionary.
        fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
            let data = storage(py, "Point")?;
            data.set_item("name", &self.name)?;
            data.set_item("mass_flow", self.mass_flow)?;
            data.set_item("state", self.state.to_dict(py)?)?;
            Ok(data)
        }

        /// The point of a dictionary that `to_dict` made, to the bit.
        #[classmethod]
        fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
            let stored = Stored::new(data, "Point")?;
            let state = PyState::restored(&stored.dict("state")?)?;
            Ok(Self { name: stored.text("name")?, state, mass_flow: stored.finite("mass_flow")? })
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
            fitted(&format!("Point({}: {}, mass_flow={} kg/s)", self.name, self.state.summary(), shown(self.mass_flow)))
        }

        fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
            html_of(slf)
        }
    }
}

/// The points of a solved cycle by name: a mapping that a notebook shows as a table.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> circuit = interstage.Circuit(
/// ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
/// ... )
/// >>> points = circuit.solve(
/// ...     evaporating_temperature=278.15, condensing_temperature=310.15, mass_flow=2.0
/// ... ).points
/// >>> list(points)
/// ['evaporator_outlet', 'stage_1_inlet', 'stage_1_outlet', 'condenser_outlet', 'evaporator_inlet']
/// >>> points["evaporator_inlet"].phase
/// 'two-phase'
/// >>> points.to_dict()["mass_flow"]
/// [2.0, 2.0, 2.0, 2.0, 2.0]
#[pyclass(module = "interstage", name = "Points", frozen)]
#[derive(Debug)]
pub(crate) struct PyPoints {
    cycle: Py<PyCycle>,
}

impl PyPoints {
    pub(crate) fn new(cycle: Py<PyCycle>) -> Self {
        Self { cycle }
    }

    fn points(&self) -> &[Point] {
        self.cycle.get().cycle.points()
    }

    fn all_names(&self) -> Vec<String> {
        self.points().iter().map(|point| point.location().to_string()).collect()
    }

    fn point(&self, point: &Point) -> PyPoint {
        let refrigerant = self.refrigerant_at(point.location());
        let state = PyState::new(refrigerant, *point.state());
        PyPoint { name: point.location().to_string(), state, mass_flow: point.mass_flow() }
    }

    /// The refrigerant in the proportions it has at a point.
    fn refrigerant_at(&self, location: Location) -> Refrigerant {
        let cycle = self.cycle.get();
        let own = cycle.refrigerant().inner;
        let fractions = cycle.cycle.composition(location).unwrap_or_default();
        let components = own.composition().unwrap_or_default();
        if components.iter().zip(fractions).all(|((_, own), here)| own == here) {
            return own;
        }
        own.with_composition(fractions).unwrap_or(own)
    }

    fn find(&self, name: &str) -> Option<&Point> {
        let location: Location = name.parse().ok()?;
        // Other spellings of the number of a stage are no names.
        self.cycle.get().cycle.point(location).filter(|point| point.location().to_string() == name)
    }
}

#[pymethods]
impl PyPoints {
    /// Names of the points, in the order of the flow from the evaporator outlet on.
    #[getter]
    fn names<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        PyTuple::new(py, self.all_names())
    }

    /// Names of the points, as a list.
    fn keys(&self) -> Vec<String> {
        self.all_names()
    }

    /// The points, as a list.
    fn values(&self) -> Vec<PyPoint> {
        self.points().iter().map(|point| self.point(point)).collect()
    }

    /// Names and points, as a list of pairs.
    fn items(&self) -> Vec<(String, PyPoint)> {
        self.all_names().into_iter().zip(self.values()).collect()
    }

    /// The table as a dictionary of columns: point, T (K), p (Pa), rho (kg/m3), h (J/kg), s (J/(kg K)), u (J/kg), x,
    /// phase and mass_flow (kg/s).
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = PyDict::new(py);
        data.set_item("point", self.all_names())?;
        let column = |name: &str, of: fn(&Point) -> f64| {
            data.set_item(name, self.points().iter().map(of).collect::<Vec<_>>())
        };
        column("T", |point| point.state().temperature())?;
        column("p", |point| point.state().pressure())?;
        column("rho", |point| point.state().density())?;
        column("h", |point| point.state().enthalpy())?;
        column("s", |point| point.state().entropy())?;
        column("u", |point| point.state().internal_energy())?;
        let quality: Vec<Option<f64>> = self.points().iter().map(|point| point.state().quality()).collect();
        data.set_item("x", quality)?;
        let phase: Vec<&str> = self.points().iter().map(|point| phase_text(point.state().phase())).collect();
        data.set_item("phase", phase)?;
        column("mass_flow", Point::mass_flow)?;
        Ok(data)
    }

    /// The table as a pandas DataFrame with the names of the points as its index.
    ///
    /// Parameters
    /// ----------
    /// units : {"SI", "I-P"}, optional
    ///     SI (K, Pa, J/kg, ...) or inch-pound units (degF, psia, Btu/lb, ...). Each column has its unit in its name.
    ///
    /// Returns
    /// -------
    /// pandas.DataFrame
    #[pyo3(signature = (units=None), text_signature = "($self, units='SI')")]
    fn to_pandas<'py>(
        slf: &Bound<'py, Self>,
        units: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let units = units.map_or(Ok("SI".to_owned()), |units| text("units", units))?;
        display(slf.py())?.getattr("points_frame")?.call1((slf, units))
    }

    /// The table as HTML.
    ///
    /// Parameters
    /// ----------
    /// units : {"SI", "I-P"}, optional
    ///     SI or inch-pound units.
    ///
    /// Returns
    /// -------
    /// str
    #[pyo3(signature = (units=None), text_signature = "($self, units='SI')")]
    fn to_html(slf: &Bound<'_, Self>, units: Option<&Bound<'_, PyAny>>) -> PyResult<String> {
        let units = units.map_or(Ok("SI".to_owned()), |units| text("units", units))?;
        display(slf.py())?.getattr("points_html")?.call1((slf, units))?.extract()
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        Self::to_html(slf, None)
    }

    fn __len__(&self) -> usize {
        self.points().len()
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyIterator>> {
        PyTuple::new(py, self.all_names())?.try_iter()
    }

    fn __contains__(&self, name: &Bound<'_, PyAny>) -> bool {
        name.extract::<&str>().is_ok_and(|name| self.find(name).is_some())
    }

    fn __getitem__(&self, name: &Bound<'_, PyAny>) -> PyResult<PyPoint> {
        let wanted = text("name", name)?;
        match self.find(&wanted) {
            Some(point) => Ok(self.point(point)),
            None => Err(unknown_point(name.py(), &wanted, &self.all_names())),
        }
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let getattr = py.import("builtins")?.getattr("getattr")?;
        (getattr, (self.cycle.clone_ref(py), "points")).into_pyobject(py)
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.cycle.get() == other.cycle.get()
    }

    fn __hash__(&self) -> u64 {
        hash_of(self.cycle.get())
    }

    fn __repr__(&self) -> String {
        fitted(&format!("Points({})", self.all_names().join(", ")))
    }

    fn __str__(slf: &Bound<'_, Self>) -> PyResult<String> {
        text_of(slf)
    }
}

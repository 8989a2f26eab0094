//! States as objects that know their refrigerant.

use std::hash::{Hash, Hasher};

use interstage::{Derivatives, Error, Phase, Refrigerant, RowStatus, State, StateColumns};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::html_of;
use crate::errors::{OrRaise, unreadable};
use crate::phases::PyPhases;
use crate::refrigerant::PyRefrigerant;
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, shown, storage};

/// A thermodynamic state of a refrigerant.
///
/// Made by `Refrigerant.state`, `Refrigerant.saturation` and `Circuit.solve`. SI units. What the state was made from
/// is returned unchanged. Inside the dome the slopes (`cp`, `cv`, `speed_of_sound`, ...) and transport properties have no
/// meaning and are None.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("R-134a")
/// >>> x = r.state(p=101325.0, T=300.0)
/// >>> x.p, x.T, x.phase
/// (101325.0, 300.0, 'vapor')
/// >>> r.state(p=300e3, x=0.5).cp is None
/// True
#[pyclass(module = "interstage", name = "State", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyState {
    pub(crate) refrigerant: Refrigerant,
    pub(crate) state: State,
}

/// How well enthalpy and internal energy of stored data must agree, relative to their size.
const AGREE: f64 = 1e-9;

impl PyState {
    pub(crate) fn new(refrigerant: Refrigerant, state: State) -> Self {
        Self { refrigerant, state }
    }

    /// A slope of the equation of state, or none inside the dome.
    pub(crate) fn slope(&self, py: Python<'_>, of: impl Fn(&Derivatives) -> f64) -> PyResult<Option<f64>> {
        match self.refrigerant.derivatives(&self.state) {
            Ok(slopes) => Ok(Some(of(&slopes))),
            Err(Error::Undefined { .. }) => Ok(None),
            Err(error) => Err(error).or_raise(py),
        }
    }

    /// A transport property, or none inside the dome.
    pub(crate) fn transport(
        &self,
        py: Python<'_>,
        of: fn(&Refrigerant, &State) -> interstage::Result<f64>,
    ) -> PyResult<Option<f64>> {
        match of(&self.refrigerant, &self.state) {
            Ok(value) => Ok(Some(value)),
            Err(Error::Undefined { .. }) if self.state.phase() == Phase::TwoPhase => Ok(None),
            Err(error) => Err(error).or_raise(py),
        }
    }

    /// The state of stored data, to the bit.
    pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let py = data.py();
        let stored = Stored::new(data, "State")?;
        let refrigerant = PyRefrigerant::restored(&stored.dict("refrigerant")?)?.inner;
        let phase = stored.text("phase")?;
        let phases = [Phase::Liquid, Phase::Vapor, Phase::TwoPhase, Phase::Supercritical];
        let Some(phase) = phases.into_iter().find(|known| known.to_string() == phase) else {
            return Err(unreadable(py, format!("{phase:?} is no phase")));
        };
        let finite = |key: &str| stored.finite(key).map(|value| vec![value]);
        // Where a format knows no null, it is NaN.
        let missing = stored.get("x")?.is_none() || stored.number("x")?.is_nan();
        let quality = if missing { vec![f64::NAN] } else { finite("x")? };
        let columns = StateColumns {
            temperature: finite("T")?,
            pressure: finite("p")?,
            density: finite("rho")?,
            enthalpy: finite("h")?,
            entropy: finite("s")?,
            internal_energy: finite("u")?,
            quality,
            phase: vec![phase.code()],
            status: vec![RowStatus::Ok.code()],
        };
        let state = columns.get(0).ok_or_else(|| unreadable(py, "it holds no state".to_owned()))?;
        // Whether the numbers are those of the equation is not calculated again, but they must be of one state.
        let (pressure, density) = (state.pressure(), state.density());
        let (enthalpy, energy) = (state.enthalpy(), state.internal_energy());
        for (key, value) in [("T", state.temperature()), ("p", pressure), ("rho", density)] {
            if value <= 0.0 {
                return Err(unreadable(py, format!("{key} is {value}, which is not positive")));
            }
        }
        let flow_work = pressure / density;
        if (enthalpy - energy - flow_work).abs() > AGREE * (enthalpy.abs() + energy.abs() + flow_work) {
            let sum = shown(energy + flow_work);
            return Err(unreadable(py, format!("h is {} J/kg, but u + p/rho are {sum}", shown(enthalpy))));
        }
        let saturated = state.quality().is_some_and(|quality| (0.0..=1.0).contains(&quality));
        if phase == Phase::TwoPhase && !saturated {
            return Err(unreadable(py, "a two-phase state has a quality x from 0 to 1".to_owned()));
        }
        Ok(Self { refrigerant, state })
    }
}

impl Hash for PyState {
    fn hash<H: Hasher>(&self, hasher: &mut H) {
        let state = &self.state;
        hash_numbers(hasher, &[state.temperature(), state.pressure(), state.density(), state.enthalpy()]);
        self.refrigerant.name().hash(hasher);
    }
}

impl AsRef<PyState> for PyState {
    fn as_ref(&self) -> &PyState {
        self
    }
}

/// Writes the methods of a class that has a state: the getters of the state, then its own.
macro_rules! with_state_getters {
    ($class:ty { $($own:tt)* }) => {
        #[pymethods]
        impl $class {
            /// Temperature, K.
            #[getter]
            #[expect(non_snake_case, reason = "the symbol of the trade")]
            fn T(&self) -> f64 {
                self.as_ref().state.temperature()
            }

            /// Pressure, Pa absolute.
            #[getter]
            fn p(&self) -> f64 {
                self.as_ref().state.pressure()
            }

            /// Density, kg/m3.
            #[getter]
            fn rho(&self) -> f64 {
                self.as_ref().state.density()
            }

            /// Specific enthalpy, J/kg.
            #[getter]
            fn h(&self) -> f64 {
                self.as_ref().state.enthalpy()
            }

            /// Specific entropy, J/(kg K).
            #[getter]
            fn s(&self) -> f64 {
                self.as_ref().state.entropy()
            }

            /// Specific internal energy, J/kg.
            #[getter]
            fn u(&self) -> f64 {
                self.as_ref().state.internal_energy()
            }

            /// Quality: mass fraction of vapor, 0 to 1 on and inside the saturation line, None elsewhere.
            #[getter]
            fn x(&self) -> Option<f64> {
                self.as_ref().state.quality()
            }

            /// Phase: ``"liquid"``, ``"vapor"``, ``"two-phase"`` or ``"supercritical"``.
            #[getter]
            fn phase(&self) -> &'static str {
                phase_text(self.as_ref().state.phase())
            }

            /// Isobaric heat capacity, J/(kg K); None inside the dome.
            #[getter]
            fn cp(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::cp)
            }

            /// Isochoric heat capacity, J/(kg K); None inside the dome.
            #[getter]
            fn cv(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::cv)
            }

            /// Speed of sound, m/s; None inside the dome.
            #[getter]
            fn speed_of_sound(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::speed_of_sound)
            }

            /// Isentropic exponent -(v/p) (dp/dv)_s, dimensionless; None inside the dome.
            #[getter]
            fn isentropic_exponent(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::isentropic_exponent)
            }

            /// Joule-Thomson coefficient (dT/dp)_h, K/Pa; None inside the dome.
            #[getter]
            fn joule_thomson(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::joule_thomson)
            }

            /// Compressibility factor p / (rho R T), dimensionless; None inside the dome.
            #[getter]
            fn compressibility_factor(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::compressibility_factor)
            }

            /// Isothermal compressibility (1/rho) (drho/dp)_T, 1/Pa; None inside the dome.
            #[getter]
            fn isothermal_compressibility(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::isothermal_compressibility)
            }

            /// Coefficient of thermal expansion -(1/rho) (drho/dT)_p, 1/K; None inside the dome.
            #[getter]
            fn thermal_expansion(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().slope(py, Derivatives::thermal_expansion)
            }

            /// Viscosity, Pa s; None inside the dome.
            ///
            /// Raises ``NotPublished`` where the library has no correlation for the refrigerant, ``OutOfRange``
            /// outside the range of the correlation, ``Undefined`` where it breaks down.
            #[getter]
            fn viscosity(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().transport(py, Refrigerant::viscosity)
            }

            /// Thermal conductivity, W/(m K); None inside the dome.
            ///
            /// Raises as `viscosity` does, and ``Undefined`` at the critical point too.
            #[getter]
            fn thermal_conductivity(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().transport(py, Refrigerant::thermal_conductivity)
            }

            /// Prandtl number, dimensionless: cp times viscosity over thermal conductivity; None inside the dome.
            ///
            /// Raises as `viscosity` and `thermal_conductivity` do.
            #[getter]
            fn prandtl_number(&self, py: Python<'_>) -> PyResult<Option<f64>> {
                self.as_ref().transport(py, Refrigerant::prandtl_number)
            }

            $($own)*
        }
    };
}
pub(crate) use with_state_getters;

/// The word for a phase.
pub(crate) fn phase_text(phase: Phase) -> &'static str {
    match phase {
        Phase::Liquid => "liquid",
        Phase::Vapor => "vapor",
        Phase::TwoPhase => "two-phase",
        Phase::Supercritical => "supercritical",
        _ => "unknown",
    }
}

with_state_getters! {
    PyState {
        /// Liquid and vapor of a mixture of both, or of a saturated state, each with its own composition.
    ///
    /// Returns
    /// -------
    /// Phases
    ///
    /// Raises
    /// ------
    /// Undefined
    ///     For a state of one phase, and for a refrigerant that is not described by the mixture model.
    fn phases(&self, py: Python<'_>) -> PyResult<PyPhases> {
        let phases = self.refrigerant.phases(&self.state).or_raise(py)?;
        Ok(PyPhases::new(self.refrigerant.clone(), phases))
    }

    /// The refrigerant.
        #[getter]
        fn refrigerant(&self) -> PyRefrigerant {
            PyRefrigerant { inner: self.refrigerant.clone() }
        }

        /// The state as a dictionary, with the recipe of its refrigerant.
        pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
            let data = storage(py, "State")?;
            data.set_item("refrigerant", self.refrigerant().to_dict(py)?)?;
            for (key, value) in [
                ("T", self.T()),
                ("p", self.p()),
                ("rho", self.rho()),
                ("h", self.h()),
                ("s", self.s()),
                ("u", self.u()),
            ] {
                data.set_item(key, value)?;
            }
            data.set_item("x", self.x())?;
            data.set_item("phase", self.phase())?;
            Ok(data)
        }

        /// The state of a dictionary that `to_dict` made, to the bit.
        ///
        /// Changed numbers are found where they contradict each other (h = u + p/rho, the phase and x); that all of them
        /// lie on the equation of state is not calculated again.
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
            fitted(&format!("State({})", self.summary()))
        }

        fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
            html_of(slf)
        }
    }
}

impl PyState {
    /// Refrigerant, phase and the main properties with units.
    pub(crate) fn summary(&self) -> String {
        let state = &self.state;
        let quality = state.quality().map_or_else(String::new, |x| format!(", x={}", shown(x)));
        format!(
            "{} {}: T={} K, p={} Pa, rho={} kg/m3, h={} J/kg, s={} J/(kg K){quality}",
            self.refrigerant.name(),
            state.phase(),
            shown(state.temperature()),
            shown(state.pressure()),
            shown(state.density()),
            shown(state.enthalpy()),
            shown(state.entropy()),
        )
    }
}

//! The handle of a refrigerant.

use std::hash::{Hash, Hasher};

use interstage::{Error, Refrigerant};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyDict, PyTuple, PyType};

use crate::arguments::{Given, array_layer, given, html_of, raises, text, truth};
use crate::catalogue::{PyCitation, PyEnvironment, TRANSPORT};
use crate::errors::{OrRaise, wrong_argument};
use crate::pairs::{PROPERTIES, pair, refused};
use crate::saturation::PySaturation;
use crate::state::PyState;
use crate::stored::{hash_of, rebuilt};

/// A refrigerant with its equation of state.
///
/// All quantities are SI: K, Pa absolute, J/kg, J/(kg K), kg/m3. Handles compare, hash and pickle by name, equation,
/// reference and range; what they build at the first use is shared and never stored.
///
/// Parameters
/// ----------
/// name : str
///     ASHRAE 34 designation or another name of the refrigerant. Case, dashes, spaces and brackets do not matter:
///     ``"R-1233zd(E)"`` and ``"r1233zde"`` are the same, and so are ``"R-134a"`` and ``"134a"``.
///     ``interstage.names()`` lists what there is.
/// reference : str, optional
///     Where enthalpy and entropy are set: ``"liquid at 0 degC"`` (200 kJ/kg and 1 kJ/(kg K); the default but for
///     water), ``"liquid at -40 degC"`` (zero), ``"liquid at normal boiling point"`` (zero) or ``"as published"``
///     (the paper's own convention; the default for water).
/// equation : str, optional
///     Authors and year of another equation of state than the default one, such as ``"Richter et al. 2011"`` for
///     R-1234yf; ``equations`` lists them. Older equations stand behind tables printed in their time.
/// model : {"pure", "pseudo-pure", "mixture"}, optional
///     How a blend is described: by one equation of its own (``"pseudo-pure"``), which is the default where there is one, or by the
///     equations of its components and how they mix (``"mixture"``). ``Refrigerant.blend`` makes blends that have no name.
/// extrapolate : bool, optional
///     Answer up to 1.5 times the highest temperature and twice the highest pressure the authors vouch for. Nobody
///     states the uncertainty there.
///
/// Raises
/// ------
/// UnknownRefrigerant
///     With the designations that come close, if any does.
/// ReferenceUnavailable
///     Where the refrigerant has no such state (water at 0 degC).
///
/// Examples
/// --------
/// >>> import interstage
/// >>> r = interstage.Refrigerant("r1233zde")
/// >>> r.name
/// 'R-1233zd(E)'
/// >>> r.state(p=108.6e3, h=250e3).phase
/// 'two-phase'
#[pyclass(module = "interstage", name = "Refrigerant", frozen)]
#[derive(Debug)]
pub(crate) struct PyRefrigerant {
    pub(crate) inner: Refrigerant,
}

impl Hash for PyRefrigerant {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let inner = &self.inner;
        (inner.name(), inner.equation_of_state(), inner.reference(), inner.extrapolates()).hash(state);
    }
}

impl PartialEq for PyRefrigerant {
    fn eq(&self, other: &Self) -> bool {
        self.inner == other.inner
    }
}

#[pymethods]
impl PyRefrigerant {
    #[new]
    #[pyo3(
        signature = (name, *, reference=None, equation=None, model=None, extrapolate=None),
        text_signature = "(name, *, reference=None, equation=None, model=None, extrapolate=False)"
    )]
    fn new(
        name: &Bound<'_, PyAny>,
        reference: Option<&Bound<'_, PyAny>>,
        equation: Option<&Bound<'_, PyAny>>,
        model: Option<&Bound<'_, PyAny>>,
        extrapolate: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let equation = equation.map(|equation| text("equation", equation)).transpose()?;
        let reference = reference.map(|reference| text("reference", reference)).transpose()?;
        let extrapolate = extrapolate.map_or(Ok(false), |extrapolate| truth("extrapolate", extrapolate))?;
        let model = model.map(|model| text("model", model)).transpose()?;
        let py = name.py();
        let named = Refrigerant::named(&text("name", name)?).or_raise(py)?;
        Self::made(py, named, [model.as_deref(), equation.as_deref(), reference.as_deref()], extrapolate)
    }

    /// A blend of refrigerants by the mixture model.
    ///
    /// Liquid and vapor in equilibrium have compositions of their own (`State.phases`): bubble and dew points differ, and the
    /// temperature glides between them. How each two components mix is published, or the blend is refused.
    ///
    /// Parameters
    /// ----------
    /// components : dict of str to float
    ///     Names of up to six refrigerants with their fractions, which add up to 1.
    /// basis : {"mass", "mole"}
    ///     What the fractions count: kilograms, as standards state compositions, or moles.
    /// reference : str, optional
    ///     Where enthalpy and entropy are set, as for any refrigerant; by default 200 kJ/kg and 1 kJ/(kg K) for the bubble point at
    ///     0 degC.
    /// extrapolate : bool, optional
    ///     Answer beyond the range the authors vouch for.
    ///
    /// Returns
    /// -------
    /// Refrigerant
    ///
    /// Raises
    /// ------
    /// PairNotPublished
    ///     For two components whose mixing is not published.
    /// UnknownRefrigerant, OutOfRange, Inconsistent, ReferenceUnavailable
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant.blend({"R-32": 0.5, "R-125": 0.5}, basis="mass")
    /// >>> r.name
    /// 'R-32/R-125 (50/50)'
    /// >>> s = r.saturation(T=273.15)
    /// >>> round(s.liquid.p / 1e3, 1), round(s.vapor.p / 1e3, 1)
    /// (800.7, 798.1)
    #[classmethod]
    #[pyo3(
        signature = (components, *, basis, reference=None, extrapolate=None),
        text_signature = "(components, *, basis, reference=None, extrapolate=False)"
    )]
    fn blend(
        class: &Bound<'_, PyType>,
        components: &Bound<'_, PyDict>,
        basis: &Bound<'_, PyAny>,
        reference: Option<&Bound<'_, PyAny>>,
        extrapolate: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let py = class.py();
        let reference = reference.map(|reference| text("reference", reference)).transpose()?;
        let extrapolate = extrapolate.map_or(Ok(false), |extrapolate| truth("extrapolate", extrapolate))?;
        let blend = Self::blended(components, &text("basis", basis)?)?;
        Self::made(py, blend, [None, None, reference.as_deref()], extrapolate)
    }

    /// State from two of its properties.
    ///
    /// What was given is returned unchanged. Numbers give a `State`; as soon as one property is a column (list, NumPy
    /// array, pandas or polars Series), the result is a `States` whose attributes come in the same container.
    ///
    /// Valid pairs are (T, p), (T, h), (T, s), (T, rho), (T, x), (T, u), (p, h), (p, s), (p, rho), (p, x), (p, u),
    /// (h, s), (h, rho), (s, rho) and (rho, u). Of several solutions (T, h) and (T, u) give that of lowest pressure,
    /// (p, rho) that of highest temperature.
    ///
    /// Parameters
    /// ----------
    /// T : float or column, optional
    ///     Temperature, K.
    /// p : float or column, optional
    ///     Pressure, Pa absolute.
    /// h : float or column, optional
    ///     Specific enthalpy, J/kg.
    /// s : float or column, optional
    ///     Specific entropy, J/(kg K).
    /// rho : float or column, optional
    ///     Density, kg/m3.
    /// x : float or column, optional
    ///     Quality: mass fraction of vapor, 0 to 1.
    /// u : float or column, optional
    ///     Specific internal energy, J/kg.
    /// errors : {"status", "raise"}, optional
    ///     Columns only: give NaN and a status for a bad row, or raise the error of the first one.
    /// threads : int, optional
    ///     Columns only: how many threads to use, see ``interstage.set_threads``.
    ///
    /// Returns
    /// -------
    /// State or States
    ///
    /// Raises
    /// ------
    /// WrongArgument
    ///     Unless exactly two properties are given that fix a state.
    /// OutOfRange, NotFinite, Inconsistent, NotConverged
    ///     If there is no such state within the range of the equation.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> import numpy as np
    /// >>> r = interstage.Refrigerant("R-134a")
    /// >>> r.state(T=300.0, p=101325.0).phase
    /// 'vapor'
    /// >>> x = r.state(p=np.array([300e3, -1.0]), h=250e3)
    /// >>> x.status
    /// array([0, 3], dtype=uint8)
    /// >>> interstage.status_text(3)
    /// 'an input is out of range'
    #[pyo3(
        signature = (*, T=None, p=None, h=None, s=None, rho=None, x=None, u=None, errors=None, threads=None),
        text_signature = "($self, *, T=None, p=None, h=None, s=None, rho=None, x=None, u=None, errors='status', threads=None)"
    )]
    #[expect(
        non_snake_case,
        clippy::too_many_arguments,
        reason = "the symbols of the trade, one for each property"
    )]
    fn state<'py>(
        slf: &Bound<'py, Self>,
        T: Option<&Bound<'py, PyAny>>,
        p: Option<&Bound<'py, PyAny>>,
        h: Option<&Bound<'py, PyAny>>,
        s: Option<&Bound<'py, PyAny>>,
        rho: Option<&Bound<'py, PyAny>>,
        x: Option<&Bound<'py, PyAny>>,
        u: Option<&Bound<'py, PyAny>>,
        errors: Option<&Bound<'py, PyAny>>,
        threads: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let all = PROPERTIES.into_iter().zip([T, p, h, s, rho, x, u]).enumerate();
        let mut asked = all.filter_map(|(place, (name, value))| Some((place, name, value?)));
        let (Some((i, first, a)), Some((j, second, b)), None) = (asked.next(), asked.next(), asked.next())
        else {
            let all = [T, p, h, s, rho, x, u].into_iter().enumerate();
            let places: Vec<usize> = all.filter_map(|(place, value)| value.map(|_| place)).collect();
            return Err(refused(py, &places));
        };
        let pair = pair(py, i, j)?;
        let raises = raises(errors)?;
        if let (Given::Number(a), Given::Number(b)) = (given(first, a)?, given(second, b)?) {
            let refrigerant = &slf.get().inner;
            let state = (pair.state)(refrigerant, a, b).or_raise_by_symbol(py)?;
            return PyState::new(refrigerant.clone(), state).into_bound_py_any(py);
        }
        array_layer(py)?.getattr("state")?.call1((slf, first, a, second, b, raises, threads))
    }

    /// Saturated liquid and vapor at a temperature or a pressure.
    ///
    /// Parameters
    /// ----------
    /// T : float or column, optional
    ///     Temperature, K.
    /// p : float or column, optional
    ///     Pressure, Pa absolute.
    /// errors : {"status", "raise"}, optional
    ///     Columns only: give NaN and a status for a bad row, or raise the error of the first one.
    /// threads : int, optional
    ///     Columns only: how many threads to use, see ``interstage.set_threads``.
    ///
    /// Returns
    /// -------
    /// Saturation or Saturations
    ///
    /// Raises
    /// ------
    /// WrongArgument
    ///     Unless exactly one of the two is given.
    /// OutOfRange, NotFinite
    ///     Outside triple point to critical point.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant("R-123")
    /// >>> s = r.saturation(T=278.15)
    /// >>> round(s.p)
    /// 40821
    /// >>> s.liquid.x, s.vapor.x
    /// (0.0, 1.0)
    #[pyo3(
        signature = (*, T=None, p=None, errors=None, threads=None),
        text_signature = "($self, *, T=None, p=None, errors='status', threads=None)"
    )]
    #[expect(non_snake_case, reason = "the symbol of the trade")]
    fn saturation<'py>(
        slf: &Bound<'py, Self>,
        T: Option<&Bound<'py, PyAny>>,
        p: Option<&Bound<'py, PyAny>>,
        errors: Option<&Bound<'py, PyAny>>,
        threads: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let (name, value) = match (T, p) {
            (Some(value), None) => ("T", value),
            (None, Some(value)) => ("p", value),
            _ => return Err(wrong_argument(py, "T, p", "saturation is asked for by exactly one of T and p")),
        };
        let raises = raises(errors)?;
        match given(name, value)? {
            Given::Number(number) => {
                let refrigerant = &slf.get().inner;
                let saturation = if name == "T" {
                    refrigerant.saturation_at_temperature(number)
                } else {
                    refrigerant.saturation_at_pressure(number)
                };
                PySaturation::new(refrigerant.clone(), &saturation.or_raise_by_symbol(py)?)
                    .into_bound_py_any(py)
            }
            Given::Column => {
                array_layer(py)?.getattr("saturation")?.call1((slf, name, value, raises, threads))
            }
        }
    }

    /// The card of saturation pressures against temperature, as gauges read them.
    ///
    /// Above the barometer in psig, below it in inches of mercury of vacuum, in columns of their own; or in kPa or bar gauge, where a
    /// vacuum is negative and named in words. Of a blend liquid (bubble point) and vapor (dew point) have columns of their own.
    ///
    /// Parameters
    /// ----------
    /// fahrenheit, celsius : sequence of float, optional
    ///     Temperatures of the rows in degF or in degC, such as ``range(-20, 121, 5)``; one of the two. If neither is given: every 5 degF
    ///     from -20 to 150 degF (every 5 degC from -30 to 65 degC with a gauge in kPa or bar), as far as the refrigerant goes.
    /// gauge : {"psig", "kPa", "bar"}, optional
    ///     What the gauge shows; psig by default, kPa where temperatures are given in degC.
    /// barometer : float, optional
    ///     Barometric pressure at the machine, Pa absolute.
    /// altitude : float, optional
    ///     Altitude of the machine, m, in place of a barometer: the pressure there is that of the U.S. Standard Atmosphere 1976. With
    ///     neither, sea level is assumed, and the card says so.
    ///
    /// Returns
    /// -------
    /// PressureTable
    ///     A table in notebooks and by ``print``; ``to_frame()``, ``to_csv()``.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     For a temperature off the saturation line and for a barometer or an altitude where there is no machine.
    /// WrongArgument
    ///     If both scales, or barometer and altitude, are given; for no temperatures.
    /// UnknownOption
    ///     For another gauge.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> card = interstage.Refrigerant("R-123").pressure_table(fahrenheit=[38, 70, 96], altitude=0)
    /// >>> print(card.to_csv(), end="")
    /// temperature [degF],pressure [psig],vacuum [inHg]
    /// 38,,18.7
    /// 70,,6.6
    /// 96,4.6,
    #[pyo3(signature = (*, fahrenheit=None, celsius=None, gauge=None, barometer=None, altitude=None))]
    fn pressure_table<'py>(
        slf: &Bound<'py, Self>,
        fahrenheit: Option<Bound<'py, PyAny>>,
        celsius: Option<Bound<'py, PyAny>>,
        gauge: Option<Bound<'py, PyAny>>,
        barometer: Option<Bound<'py, PyAny>>,
        altitude: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let card = slf.py().import("interstage._pressure_table")?.getattr("pressure_table")?;
        card.call1((slf, fahrenheit, celsius, gauge, barometer, altitude))
    }

    /// Saturation temperature at a pressure, K: of a blend its dew temperature.
    ///
    /// What ``saturation(p=...).T`` gives, in a fraction of the time: columns of it are what a trend of pressures needs most.
    ///
    /// Parameters
    /// ----------
    /// p : float or column
    ///     Pressure, Pa absolute.
    /// errors : {"status", "raise"}, optional
    ///     Columns only: give NaN for a bad row, or raise the error of the first one.
    ///
    /// Returns
    /// -------
    /// float or column
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     Outside the saturation line.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant("R-134a")
    /// >>> round(r.saturation_temperature(p=350e3), 3)
    /// 278.178
    /// >>> r.saturation_temperature(p=[350e3, -1.0]).round(3).tolist()
    /// [278.178, nan]
    #[pyo3(signature = (*, p, errors=None), text_signature = "($self, *, p, errors='status')")]
    fn saturation_temperature<'py>(
        slf: &Bound<'py, Self>,
        p: &Bound<'py, PyAny>,
        errors: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let raises = raises(errors)?;
        match given("p", p)? {
            Given::Number(number) => {
                slf.get().inner.saturation_temperature(number).or_raise_by_symbol(py)?.into_bound_py_any(py)
            }
            Given::Column => array_layer(py)?.getattr("saturation_temperature")?.call1((slf, p, raises)),
        }
    }

    /// Surface tension of the liquid against its own vapor, N/m.
    ///
    /// From a published correlation (``transport_citations["surface_tension"]``) with a critical temperature of its
    /// own; zero from there on.
    ///
    /// Parameters
    /// ----------
    /// T : float or column
    ///     Temperature, K.
    /// errors : {"status", "raise"}, optional
    ///     Columns only: give NaN for a bad row, or raise the error of the first one.
    ///
    /// Returns
    /// -------
    /// float or column
    ///     In the container that the temperatures came in.
    ///
    /// Raises
    /// ------
    /// NotPublished
    ///     Where the library has no correlation, with the refrigerants that have one.
    /// OutOfRange, NotFinite
    ///     Below the triple point and above ``maximum_temperature``.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> water = interstage.Refrigerant("R-718")
    /// >>> round(water.surface_tension(T=293.15), 5)
    /// 0.07274
    /// >>> water.surface_tension(T=[293.15, 100.0]).round(5)
    /// array([0.07274,     nan])
    #[pyo3(signature = (*, T, errors=None), text_signature = "($self, *, T, errors='status')")]
    #[expect(non_snake_case, reason = "the symbol of the trade")]
    fn surface_tension<'py>(
        slf: &Bound<'py, Self>,
        T: &Bound<'py, PyAny>,
        errors: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let raises = raises(errors)?;
        match given("T", T)? {
            Given::Number(number) => {
                slf.get().inner.surface_tension(number).or_raise_by_symbol(py)?.into_bound_py_any(py)
            }
            Given::Column => array_layer(py)?.getattr("surface_tension")?.call1((slf, T, raises)),
        }
    }

    /// Builds what is otherwise built at the first use, so that the first answer is as quick as the others.
    ///
    /// Raises
    /// ------
    /// NotConverged
    ///     If the saturation line cannot be solved.
    fn prepare(&self, py: Python<'_>) -> PyResult<()> {
        self.inner.prepare().or_raise(py)
    }

    /// ASHRAE 34 designation.
    #[getter]
    fn name(&self) -> &str {
        self.inner.name()
    }

    /// Chemical name.
    #[getter]
    fn chemical_name(&self) -> &str {
        self.inner.chemical_name()
    }

    /// Sum formula; None for a blend.
    #[getter]
    fn formula(&self) -> Option<&'static str> {
        self.inner.formula()
    }

    /// CAS registry number; None for a blend.
    #[getter]
    fn cas(&self) -> Option<&'static str> {
        self.inner.cas()
    }

    /// Components of a blend with their mass fractions, kg/kg; None for a pure fluid.
    ///
    /// Described as a pseudo-pure fluid a blend has one equation of state for its fixed composition, with published
    /// curves for the pressures of saturated liquid and saturated vapor. Between those the temperature at constant
    /// pressure glides in proportion to quality. What that cannot tell is the composition of either phase: it is
    /// refused where liquid and vapor part, as in a flash tank. The mixture model (``model="mixture"``) can.
    ///
    /// Examples
    /// --------
    /// >>> import interstage
    /// >>> r = interstage.Refrigerant("R-407C")
    /// >>> r.composition
    /// {'R-32': 0.23, 'R-125': 0.25, 'R-134a': 0.52}
    /// >>> round(r.saturation(p=0.5e6).temperature_glide, 1)
    /// 6.2
    #[getter]
    fn composition<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        self.inner.composition().map(|components| components.iter().copied().into_py_dict(py)).transpose()
    }

    /// Components with their mole fractions; None but for the mixture model.
    #[getter]
    fn mole_fractions<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyDict>>> {
        let names = self.inner.composition().unwrap_or_default().iter().map(|(name, _)| *name);
        self.inner
            .mole_fractions()
            .map(|fractions| names.zip(fractions.iter().copied()).into_py_dict(py))
            .transpose()
    }

    /// How the components of a blend by the mixture model mix, pair by pair: a list of (component, component, kind of fit, citation), empty
    /// for other refrigerants. Some pairs come from reference models, others from one or two parameters fitted to few data.
    #[getter]
    fn component_pairs(&self) -> Vec<(&'static str, &'static str, &'static str, PyCitation)> {
        let pairs = self.inner.component_pairs().into_iter();
        pairs.map(|pair| (pair.first, pair.second, pair.fit, PyCitation::of_pair(pair.citation))).collect()
    }

    /// How liquid and vapor are described: ``"pure"``, ``"pseudo-pure"`` (one equation for a blend of fixed composition) or
    /// ``"mixture"``.
    #[getter]
    fn model(&self) -> &'static str {
        self.inner.model().text()
    }

    /// Molar mass, kg/mol.
    #[getter]
    fn molar_mass(&self) -> f64 {
        self.inner.molar_mass()
    }

    /// Specific gas constant, J/(kg K), with the molar gas constant that the equation was fitted with.
    #[getter]
    fn gas_constant(&self) -> f64 {
        self.inner.gas_constant()
    }

    /// Critical temperature of the equation of state, K; NaN for a blend by the mixture model whose phases fall apart before they meet (R-514A).
    #[getter]
    fn critical_temperature(&self) -> f64 {
        self.inner.critical_temperature()
    }

    /// Critical pressure of the equation of state, Pa absolute; NaN for a blend by the mixture model whose phases fall apart before they meet (R-514A).
    #[getter]
    fn critical_pressure(&self) -> f64 {
        self.inner.critical_pressure()
    }

    /// Critical density of the equation of state, kg/m3; NaN for a blend by the mixture model whose phases fall apart before they meet (R-514A).
    #[getter]
    fn critical_density(&self) -> f64 {
        self.inner.critical_density()
    }

    /// Triple-point temperature, K; None where none is known with the equation, and for a blend.
    #[getter]
    fn triple_temperature(&self) -> Option<f64> {
        self.inner.triple_temperature()
    }

    /// Saturation pressure at the triple point, Pa absolute; None where none is known with the equation, and for a blend.
    #[getter]
    fn triple_pressure(&self) -> Option<f64> {
        self.inner.triple_pressure()
    }

    /// Lower end of the saturation line, K: the triple point, or where the equation, or the curves of a blend, begin.
    #[getter]
    fn minimum_saturation_temperature(&self) -> f64 {
        self.inner.minimum_saturation_temperature()
    }

    /// Saturation pressure there, Pa absolute; of a blend its dew pressure.
    #[getter]
    fn minimum_saturation_pressure(&self) -> f64 {
        self.inner.minimum_saturation_pressure()
    }

    /// Saturation temperature at a standard atmosphere (101 325 Pa), K, of a blend the bubble point; None where the saturation line does not reach
    /// it.
    #[getter]
    fn normal_boiling_point(&self, py: Python<'_>) -> PyResult<Option<f64>> {
        match self.inner.normal_boiling_point() {
            Ok(temperature) => Ok(Some(temperature)),
            Err(Error::OutOfRange { .. }) => Ok(None),
            Err(error) => Err(error).or_raise(py),
        }
    }

    /// Largest scaled residual of saturation as it is given here, put back into the equation of state at a thousand temperatures
    /// between two (K) and at the pressures that belong to them; None for a blend.
    ///
    /// Pressure is scaled by the larger of itself and rho (dp/drho)_T, energies by R T, entropies by R.
    ///
    /// Raises OutOfRange for a temperature outside triple point to critical point, or a highest below lowest.
    ///
    /// >>> import interstage
    /// >>> interstage.Refrigerant("R-134a").saturation_residual(268.15, 328.15) < 1e-13
    /// True
    fn saturation_residual(&self, py: Python<'_>, lowest: f64, highest: f64) -> PyResult<Option<f64>> {
        self.inner.saturation_residual(lowest, highest).or_raise(py)
    }

    /// Lowest temperature the authors vouch for, K.
    #[getter]
    fn minimum_temperature(&self) -> f64 {
        self.inner.minimum_temperature()
    }

    /// Highest temperature the handle answers at, K.
    #[getter]
    fn maximum_temperature(&self) -> f64 {
        self.inner.maximum_temperature()
    }

    /// Highest pressure the handle answers at, Pa absolute.
    #[getter]
    fn maximum_pressure(&self) -> f64 {
        self.inner.maximum_pressure()
    }

    /// Where the validity range was read.
    #[getter]
    fn validity_source(&self) -> &'static str {
        self.inner.validity_source()
    }

    /// Range of the handle as a dictionary: minimum and maximum temperature (K), maximum pressure (Pa), source.
    #[getter]
    fn limits<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let limits = PyDict::new(py);
        limits.set_item("minimum_temperature", self.inner.minimum_temperature())?;
        limits.set_item("maximum_temperature", self.inner.maximum_temperature())?;
        limits.set_item("maximum_pressure", self.inner.maximum_pressure())?;
        limits.set_item("source", self.inner.validity_source())?;
        Ok(limits)
    }

    /// The paper the equation of state comes from.
    #[getter]
    fn citation(&self) -> PyCitation {
        PyCitation::of_equation(&self.inner)
    }

    /// Every paper behind the figures: one, or of a blend by the mixture model those of its pairs and of its components.
    #[getter]
    fn citations(&self) -> Vec<PyCitation> {
        PyCitation::of_all(&self.inner)
    }

    /// The papers that ``"viscosity"``, ``"thermal_conductivity"`` and ``"surface_tension"`` come from, as a dictionary
    /// with None where no correlation is published.
    #[getter]
    fn transport_citations<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let citations = PyDict::new(py);
        for (of, citation) in TRANSPORT.into_iter().zip(PyCitation::of_transport(&self.inner)) {
            citations.set_item(of, citation)?;
        }
        Ok(citations)
    }

    /// The uncertainty of the equation of state as its authors state it; None where it is not known here.
    #[getter]
    fn uncertainty(&self) -> Option<&'static str> {
        self.inner.uncertainty().map(|(stated, _)| stated)
    }

    /// Where the statement of uncertainty was read; None with it.
    #[getter]
    fn uncertainty_source(&self) -> Option<&'static str> {
        self.inner.uncertainty().map(|(_, source)| source)
    }

    /// ASHRAE 34 safety class, from memory: check the current edition. None if it has none.
    #[getter]
    fn safety_class(&self) -> Option<&'static str> {
        self.inner.safety_class()
    }

    /// Safety class, ozone depletion and global warming potential, each with its source.
    #[getter]
    fn environment(&self) -> PyEnvironment {
        PyEnvironment::of(&self.inner)
    }

    /// Authors and year of the equation of state.
    #[getter]
    fn equation(&self) -> &'static str {
        self.inner.equation_of_state()
    }

    /// The equations of state there are for this refrigerant, the default one first.
    #[getter]
    fn equations(&self) -> Vec<&'static str> {
        self.inner.equations().collect()
    }

    /// Where enthalpy and entropy are set.
    #[getter]
    fn reference(&self) -> String {
        self.inner.reference().to_string()
    }

    /// Whether the handle answers beyond the published range.
    #[getter]
    fn extrapolates(&self) -> bool {
        self.inner.extrapolates()
    }

    /// The recipe of the handle as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        self.stored(py)
    }

    /// The handle of a dictionary that `to_dict` made.
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
        self.shown()
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

//! Ratings of water chillers.

use std::hash::{Hash, Hasher};

use interstage::{Error, RatedFlow, RatingConditions, RatingStandard};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{html_of, number, text};
use crate::columns::figure;
use crate::errors::{OrRaise, unknown_option, wrong_argument};
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, storage};

fn standard_of(value: &Bound<'_, PyAny>) -> PyResult<RatingStandard> {
    let word = text("standard", value)?;
    word.parse().map_err(|error| match error {
        Error::UnknownOption { options, .. } => {
            let options: Vec<&str> = options.iter().map(String::as_str).collect();
            unknown_option(value.py(), "standard", &word, &options)
        }
        other => crate::errors::from_core(value.py(), &other),
    })
}

/// Water temperatures and flows that a water-cooled chiller is rated at. SI units.
///
/// Parameters
/// ----------
/// standard : str
///     ``"AHRI 550/590 (I-P)-2003"`` (2003 and 2011 editions: 2.4 and 3.0 gpm/ton), ``"AHRI 550/590 (I-P)-2015"`` (leaving
///     condenser water of 94.30 degF instead of a flow), ``"AHRI 551/591 (SI)-2015"`` (from memory).
/// chilled_water_leaving, condenser_water_entering : float, optional
///     Other temperatures at full load, K, for an NPLV. Entering condenser water falls in a straight line to that of the
///     standard at half load, and stays there.
/// chilled_water_entering, condenser_water_leaving : float, optional
///     The other water temperatures at full load, K: they fix the flows.
/// chilled_water_flow, condenser_water_flow : float, optional
///     Instead of them, volume flows per capacity, m3/s per W.
///
/// Raises
/// ------
/// WrongArgument
///     If a temperature and a flow of the same water are given.
/// UnknownOption, OutOfRange, NotFinite, Inconsistent
///     If there is no such standard, a temperature outside 230 K to 400 K, a flow that is not positive, chilled water
///     that warms or condenser water that cools.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> conditions = interstage.RatingConditions("AHRI 551/591 (SI)-2015")
/// >>> for load, weight, entering in conditions.part_loads:
/// ...     print(load, weight, round(entering - 273.15, 1))
/// 1.0 0.01 30.0
/// 0.75 0.42 24.5
/// 0.5 0.45 19.0
/// 0.25 0.12 19.0
/// >>> chosen = interstage.RatingConditions("AHRI 551/591 (SI)-2015", condenser_water_entering=305.15)
/// >>> round(chosen.part_loads[1][2] - 273.15, 1)
/// 25.5
#[pyclass(module = "interstage", name = "RatingConditions", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyRatingConditions {
    pub(crate) inner: RatingConditions,
}

/// The keywords that a dictionary has, in their order.
const KEYS: [&str; 6] = [
    "chilled_water_leaving",
    "chilled_water_entering",
    "chilled_water_flow",
    "condenser_water_entering",
    "condenser_water_leaving",
    "condenser_water_flow",
];

/// A flow from a temperature or a volume flow per capacity; as the standard has it where there is neither.
fn flow_of(
    names: [&str; 2],
    temperature: Option<&Bound<'_, PyAny>>,
    flow: Option<&Bound<'_, PyAny>>,
    usual: RatedFlow,
) -> PyResult<RatedFlow> {
    match (temperature, flow) {
        (None, None) => Ok(usual),
        (Some(value), None) => number(names[0], value).map(RatedFlow::Temperature),
        (None, Some(value)) => number(names[1], value).map(RatedFlow::PerCapacity),
        (Some(value), Some(_)) => {
            let message = format!("give {} or {}, not both", names[0], names[1]);
            Err(wrong_argument(value.py(), &names.join(", "), &message))
        }
    }
}

fn temperature_of(flow: RatedFlow) -> Option<f64> {
    if let RatedFlow::Temperature(other) = flow { Some(other) } else { None }
}

fn per_capacity(flow: RatedFlow) -> Option<f64> {
    if let RatedFlow::PerCapacity(flow) = flow { Some(flow) } else { None }
}

#[pymethods]
impl PyRatingConditions {
    #[new]
    #[pyo3(signature = (
        standard, *, chilled_water_leaving=None, chilled_water_entering=None, chilled_water_flow=None,
        condenser_water_entering=None, condenser_water_leaving=None, condenser_water_flow=None
    ))]
    fn new(
        standard: &Bound<'_, PyAny>,
        chilled_water_leaving: Option<&Bound<'_, PyAny>>,
        chilled_water_entering: Option<&Bound<'_, PyAny>>,
        chilled_water_flow: Option<&Bound<'_, PyAny>>,
        condenser_water_entering: Option<&Bound<'_, PyAny>>,
        condenser_water_leaving: Option<&Bound<'_, PyAny>>,
        condenser_water_flow: Option<&Bound<'_, PyAny>>,
    ) -> PyResult<Self> {
        let usual = standard_of(standard)?.conditions();
        let temperature = |name: &str, given: Option<&Bound<'_, PyAny>>, usual: f64| {
            given.map_or(Ok(usual), |value| number(name, value))
        };
        let inner = RatingConditions::non_standard(
            usual.standard(),
            temperature(KEYS[0], chilled_water_leaving, usual.chilled_water_leaving())?,
            flow_of([KEYS[1], KEYS[2]], chilled_water_entering, chilled_water_flow, usual.chilled_water())?,
            temperature(KEYS[3], condenser_water_entering, usual.condenser_water_entering())?,
            flow_of(
                [KEYS[4], KEYS[5]],
                condenser_water_leaving,
                condenser_water_flow,
                usual.condenser_water(),
            )?,
        );
        Ok(Self { inner: inner.or_raise(standard.py())? })
    }

    /// The four loads from full load down: load (fraction), weight, and temperature of the entering condenser water,
    /// K.
    #[getter]
    fn part_loads(&self) -> Vec<(f64, f64, f64)> {
        let figures = self.inner.part_loads();
        figures.iter().map(|p| (p.load(), p.weight(), p.condenser_water_entering())).collect()
    }

    /// Temperature of the entering condenser water at a load, K.
    ///
    /// Parameters
    /// ----------
    /// load : float
    ///     Fraction of the full-load capacity.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If the load is outside 0 to 1.
    fn condenser_water_entering_at(&self, load: &Bound<'_, PyAny>) -> PyResult<f64> {
        self.inner.condenser_water_entering_at(number("load", load)?).or_raise(load.py())
    }

    /// The standard whose rules they follow.
    #[getter]
    fn standard(&self) -> String {
        self.inner.standard().to_string()
    }

    /// Temperature of the leaving chilled water, K, at all loads.
    #[getter]
    fn chilled_water_leaving(&self) -> f64 {
        self.inner.chilled_water_leaving()
    }

    /// Temperature of the entering chilled water at full load, K; None where a flow is given instead.
    #[getter]
    fn chilled_water_entering(&self) -> Option<f64> {
        temperature_of(self.inner.chilled_water())
    }

    /// Volume flow of the chilled water per capacity, m3/s per W; None where a temperature is given instead.
    #[getter]
    fn chilled_water_flow(&self) -> Option<f64> {
        per_capacity(self.inner.chilled_water())
    }

    /// Temperature of the entering condenser water at full load, K.
    #[getter]
    fn condenser_water_entering(&self) -> f64 {
        self.inner.condenser_water_entering()
    }

    /// Temperature of the leaving condenser water at full load, K; None where a flow is given instead.
    #[getter]
    fn condenser_water_leaving(&self) -> Option<f64> {
        temperature_of(self.inner.condenser_water())
    }

    /// Volume flow of the condenser water per capacity, m3/s per W; None where a temperature is given instead.
    #[getter]
    fn condenser_water_flow(&self) -> Option<f64> {
        per_capacity(self.inner.condenser_water())
    }

    /// The conditions as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "RatingConditions")?;
        data.set_item("standard", self.standard())?;
        for (key, value) in self.given() {
            data.set_item(key, value)?;
        }
        Ok(data)
    }

    /// The conditions of a dictionary that `to_dict` made.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "RatingConditions")?;
        let mut values = Vec::new();
        for key in KEYS {
            values.push(if stored.has(key) { Some(stored.number(key)?) } else { None });
        }
        let py = data.py();
        let object = |place: usize| -> PyResult<Option<Bound<'_, PyAny>>> {
            let value: Option<f64> = values.get(place).copied().flatten();
            value.map(|value| Ok(value.into_pyobject(py)?.into_any())).transpose()
        };
        let [a, b, c, d, e, f] = [object(0)?, object(1)?, object(2)?, object(3)?, object(4)?, object(5)?];
        let standard = stored.get("standard")?;
        Self::new(&standard, a.as_ref(), b.as_ref(), c.as_ref(), d.as_ref(), e.as_ref(), f.as_ref())
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
        let given = self.given().map(|(key, value)| format!(", {key}={value:?}"));
        format!("RatingConditions({:?}{})", self.standard(), given.collect::<String>())
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

impl PyRatingConditions {
    /// What it was given, by its keywords.
    fn given(&self) -> impl Iterator<Item = (&'static str, f64)> {
        let values = [
            Some(self.chilled_water_leaving()),
            self.chilled_water_entering(),
            self.chilled_water_flow(),
            Some(self.condenser_water_entering()),
            self.condenser_water_leaving(),
            self.condenser_water_flow(),
        ];
        KEYS.into_iter().zip(values).filter_map(|(key, value)| Some((key, value?)))
    }
}

impl Hash for PyRatingConditions {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.inner.standard().hash(state);
        for (key, value) in self.given() {
            key.hash(state);
            hash_numbers(state, &[value]);
        }
    }
}

/// Integrated part-load value from the COP at 100, 75, 50 and 25 % load: 0.01 A + 0.42 B + 0.45 C + 0.12 D.
///
/// Serves EER too, and NPLV, which is the same formula at other conditions. AHRI 550/590 (I-P) and 551/591 (SI).
///
/// Parameters
/// ----------
/// at_100, at_75, at_50, at_25 : float or column
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
///     If a figure is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.iplv_from_cop(5.5, 6.4, 7.6, 6.9), 3)
/// 6.991
#[pyfunction]
#[pyo3(
    signature = (at_100, at_75, at_50, at_25, *, errors=None),
    text_signature = "(at_100, at_75, at_50, at_25, *, errors='status')"
)]
pub(crate) fn iplv_from_cop<'py>(
    at_100: &Bound<'py, PyAny>,
    at_75: &Bound<'py, PyAny>,
    at_50: &Bound<'py, PyAny>,
    at_25: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("at_100", at_100), ("at_75", at_75), ("at_50", at_50), ("at_25", at_25)];
    figure(at_100.py(), "iplv_from_cop", arguments, errors, interstage::iplv_from_cop)
}

/// Integrated part-load value in kW/ton from the kW/ton at four loads: 1 / (0.01/A + 0.42/B + 0.45/C + 0.12/D).
///
/// Parameters
/// ----------
/// at_100, at_75, at_50, at_25 : float or column
///     kW/ton at 100, 75, 50 and 25 % load.
/// errors : {"status", "raise"}, optional
///     Columns only: give NaN for a bad row, or raise the error of the first one.
///
/// Returns
/// -------
/// float or column
///     kW/ton.
///
/// Raises
/// ------
/// OutOfRange, NotFinite
///     If a figure is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.iplv_from_kw_per_ton(0.58, 0.50, 0.41, 0.45), 6)
/// 0.450153
#[pyfunction]
#[pyo3(
    signature = (at_100, at_75, at_50, at_25, *, errors=None),
    text_signature = "(at_100, at_75, at_50, at_25, *, errors='status')"
)]
pub(crate) fn iplv_from_kw_per_ton<'py>(
    at_100: &Bound<'py, PyAny>,
    at_75: &Bound<'py, PyAny>,
    at_50: &Bound<'py, PyAny>,
    at_25: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("at_100", at_100), ("at_75", at_75), ("at_50", at_50), ("at_25", at_25)];
    figure(at_100.py(), "iplv_from_kw_per_ton", arguments, errors, interstage::iplv_from_kw_per_ton)
}

/// Tolerance of capacity, efficiency and heat balance in a test, as a fraction: 0.105 - 0.07 L + 0.15 / (dT L).
///
/// ANSI/AHRI 550/590 (I-P)-2011 with Addendum 3, Table 10, where the range dT of the chilled water at full load is in
/// degF; here it is given in K.
///
/// Parameters
/// ----------
/// load : float or column
///     Fraction of the full-load capacity, 0.01 to 1.2.
/// full_load_range : float or column
///     Range of the chilled water at full load, K.
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
///     If load or range is outside its limits.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.rating_tolerance([1.0, 0.75, 0.5, 0.25], 10.0 / 1.8).round(4).tolist()
/// [0.05, 0.0725, 0.1, 0.1475]
#[pyfunction]
#[pyo3(
    signature = (load, full_load_range, *, errors=None),
    text_signature = "(load, full_load_range, *, errors='status')"
)]
pub(crate) fn rating_tolerance<'py>(
    load: &Bound<'py, PyAny>,
    full_load_range: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("load", load), ("full_load_range", full_load_range)];
    figure(load.py(), "rating_tolerance", arguments, errors, |[load, range]| {
        interstage::rating_tolerance(load, range)
    })
}

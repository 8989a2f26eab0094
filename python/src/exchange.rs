//! What exchangers do at one point of operation.

use std::hash::{Hash, Hasher};

use interstage::{HeatExchange, Vessel};
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::{html_of, number, text};
use crate::columns::figure;
use crate::errors::{OrRaise, unknown_option};
use crate::stored::{Stored, fitted, hash_numbers, hash_of, rebuilt, shown, storage};

const VESSELS: [Vessel; 2] = [Vessel::Evaporator, Vessel::Condenser];

/// The vessel of a word.
pub(crate) fn vessel_of(value: &Bound<'_, PyAny>) -> PyResult<Vessel> {
    let word = text("vessel", value)?;
    VESSELS
        .into_iter()
        .find(|vessel| vessel.to_string() == word)
        .ok_or_else(|| unknown_option(value.py(), "vessel", &word, &["evaporator", "condenser"]))
}

/// Heat, water temperatures and saturation temperature of an exchanger, and what follows from them. SI units.
///
/// Made by the methods of `Exchanger` and by ``HeatExchange.measured``.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> exchange = interstage.HeatExchange.measured(
/// ...     "evaporator", heat=3.5e6, water_entering=285.15, water_leaving=280.15, saturation_temperature=278.95
/// ... )
/// >>> round(exchange.approach, 2), round(exchange.effectiveness, 3), round(exchange.ua)
/// (1.2, 0.806, 1149559)
#[pyclass(module = "interstage", name = "HeatExchange", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyHeatExchange {
    vessel: Vessel,
    figures: [f64; 10],
}

const FIGURES: [(&str, &str); 10] = [
    ("heat", " W"),
    ("water_entering", " K"),
    ("water_leaving", " K"),
    ("saturation_temperature", " K"),
    ("water_range", " K"),
    ("approach", " K"),
    ("transfer_units", ""),
    ("effectiveness", ""),
    ("logarithmic_mean_difference", " K"),
    ("ua", " W/K"),
];

impl PyHeatExchange {
    pub(crate) fn new(exchange: &HeatExchange) -> Self {
        let figures = [
            exchange.heat(),
            exchange.water_entering(),
            exchange.water_leaving(),
            exchange.saturation_temperature(),
            exchange.water_range(),
            exchange.approach(),
            exchange.transfer_units(),
            exchange.effectiveness(),
            exchange.logarithmic_mean_difference(),
            exchange.ua(),
        ];
        Self { vessel: exchange.vessel(), figures }
    }
}

#[pymethods]
impl PyHeatExchange {
    /// From measured temperatures and heat.
    ///
    /// Parameters
    /// ----------
    /// vessel : str
    ///     ``"evaporator"`` or ``"condenser"``.
    /// heat : float
    ///     Positive in either vessel, W.
    /// water_entering, water_leaving, saturation_temperature : float
    ///     K.
    ///
    /// Returns
    /// -------
    /// HeatExchange
    ///
    /// Raises
    /// ------
    /// Inconsistent
    ///     If water warms in an evaporator or cools in a condenser, or its leaving temperature reaches the saturation
    ///     temperature.
    /// OutOfRange, NotFinite, UnknownOption
    ///     If heat or a temperature is not positive, or the vessel neither of the two.
    #[classmethod]
    #[pyo3(signature = (vessel, *, heat, water_entering, water_leaving, saturation_temperature))]
    fn measured(
        _class: &Bound<'_, PyType>,
        vessel: &Bound<'_, PyAny>,
        heat: &Bound<'_, PyAny>,
        water_entering: &Bound<'_, PyAny>,
        water_leaving: &Bound<'_, PyAny>,
        saturation_temperature: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let exchange = HeatExchange::measured(
            vessel_of(vessel)?,
            number("heat", heat)?,
            number("water_entering", water_entering)?,
            number("water_leaving", water_leaving)?,
            number("saturation_temperature", saturation_temperature)?,
        );
        Ok(Self::new(&exchange.or_raise(vessel.py())?))
    }

    /// Whether the refrigerant evaporates or condenses: ``"evaporator"`` or ``"condenser"``.
    #[getter]
    fn vessel(&self) -> String {
        self.vessel.to_string()
    }

    /// Heat that passes, positive, W.
    #[getter]
    fn heat(&self) -> f64 {
        self.figures[0]
    }

    /// Temperature of the entering water, K.
    #[getter]
    fn water_entering(&self) -> f64 {
        self.figures[1]
    }

    /// Temperature of the leaving water, K.
    #[getter]
    fn water_leaving(&self) -> f64 {
        self.figures[2]
    }

    /// Saturation temperature of the refrigerant, K.
    #[getter]
    fn saturation_temperature(&self) -> f64 {
        self.figures[3]
    }

    /// Difference between entering and leaving water, positive in both vessels, K.
    #[getter]
    fn water_range(&self) -> f64 {
        self.figures[4]
    }

    /// Difference between leaving water and saturation temperature, positive in both vessels, K.
    #[getter]
    fn approach(&self) -> f64 {
        self.figures[5]
    }

    /// Number of transfer units, UA/(m cp), dimensionless.
    #[getter]
    fn transfer_units(&self) -> f64 {
        self.figures[6]
    }

    /// Water range over the largest possible one, 1 - exp(-NTU), dimensionless.
    #[getter]
    fn effectiveness(&self) -> f64 {
        self.figures[7]
    }

    /// Logarithmic mean temperature difference, K.
    #[getter]
    fn logarithmic_mean_difference(&self) -> f64 {
        self.figures[8]
    }

    /// Conductance, W/K.
    #[getter]
    fn ua(&self) -> f64 {
        self.figures[9]
    }

    /// The figures as a dictionary.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "HeatExchange")?;
        data.set_item("vessel", self.vessel())?;
        for ((key, _), value) in FIGURES.into_iter().zip(self.figures) {
            data.set_item(key, value)?;
        }
        Ok(data)
    }

    /// The figures of a dictionary that `to_dict` made, to the bit.
    #[classmethod]
    fn from_dict(_class: &Bound<'_, PyType>, data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "HeatExchange")?;
        let mut figures = [f64::NAN; 10];
        for (figure, (key, _)) in figures.iter_mut().zip(FIGURES) {
            *figure = stored.finite(key)?;
        }
        Ok(Self { vessel: vessel_of(&stored.get("vessel")?)?, figures })
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
        let parts: Vec<String> = FIGURES
            .into_iter()
            .zip(self.figures)
            .map(|((key, unit), value)| format!("{key}={}{unit}", shown(value)))
            .collect();
        fitted(&format!("HeatExchange({}: {})", self.vessel, parts.join(", ")))
    }

    fn _repr_html_(slf: &Bound<'_, Self>) -> PyResult<String> {
        html_of(slf)
    }
}

impl Hash for PyHeatExchange {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.vessel.hash(state);
        hash_numbers(state, &self.figures);
    }
}

/// Logarithmic mean of the temperature differences at the two ends of an exchanger.
///
/// Parameters
/// ----------
/// first, second : float or column
///     K, positive.
/// errors : {"status", "raise"}, optional
///     Columns only: give NaN for a bad row, or raise the error of the first one.
///
/// Returns
/// -------
/// float or column
///     K.
///
/// Raises
/// ------
/// OutOfRange, NotFinite
///     If a difference is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.logarithmic_mean_difference(6.2, 1.2), 3)
/// 3.045
#[pyfunction]
#[pyo3(signature = (first, second, *, errors=None), text_signature = "(first, second, *, errors='status')")]
pub(crate) fn logarithmic_mean_difference<'py>(
    first: &Bound<'py, PyAny>,
    second: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("first", first), ("second", second)];
    figure(first.py(), "logarithmic_mean_difference", arguments, errors, |[first, second]| {
        interstage::logarithmic_mean_difference(first, second)
    })
}

/// Conductance UA from heat and temperatures, of an evaporator or a condenser.
///
/// Parameters
/// ----------
/// heat : float or column
///     W, positive in either vessel.
/// water_entering, water_leaving, saturation_temperature : float or column
///     K. The water comes closer to the saturation temperature and does not reach it.
/// errors : {"status", "raise"}, optional
///     Columns only: give NaN for a bad row, or raise the error of the first one.
///
/// Returns
/// -------
/// float or column
///     W/K.
///
/// Raises
/// ------
/// Inconsistent
///     If the water does not come closer to the saturation temperature, or reaches it.
/// OutOfRange, NotFinite
///     If heat or a temperature is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.ua_from_temperatures(
/// ...     [3.5e6, 1.7e6, 1.7e6], [285.15, 282.65, 280.0], 280.15, [278.95, 279.6, 279.6]
/// ... ).round(-2).tolist()
/// [1149600.0, 1164800.0, nan]
#[pyfunction]
#[pyo3(
    signature = (heat, water_entering, water_leaving, saturation_temperature, *, errors=None),
    text_signature = "(heat, water_entering, water_leaving, saturation_temperature, *, errors='status')"
)]
pub(crate) fn ua_from_temperatures<'py>(
    heat: &Bound<'py, PyAny>,
    water_entering: &Bound<'py, PyAny>,
    water_leaving: &Bound<'py, PyAny>,
    saturation_temperature: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [
        ("heat", heat),
        ("water_entering", water_entering),
        ("water_leaving", water_leaving),
        ("saturation_temperature", saturation_temperature),
    ];
    figure(heat.py(), "ua_from_temperatures", arguments, errors, |[heat, entering, leaving, saturation]| {
        interstage::ua_from_temperatures(heat, entering, leaving, saturation)
    })
}

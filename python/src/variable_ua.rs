//! Conductances of exchangers: how they change with flow and heat, and what fouling takes off them.

use std::hash::{Hash, Hasher};

use interstage::VariableUa;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple, PyType};

use crate::arguments::number;
use crate::columns::figure;
use crate::errors::OrRaise;
use crate::exchange::vessel_of;
use crate::stored::{Stored, hash_numbers, hash_of, rebuilt, storage};

/// Conductance that depends on water flow and heat: 1/UA = wall + water m^-0.8 + refrigerant q^-n.
///
/// The form of a Wilson plot, with the water flow m in kg/s and the heat q in W. Nucleate boiling rises with the heat
/// flux to the power 0.67, film condensation on tubes falls with the power 1/3 (M. G. Cooper 1984, W. Nusselt 1916;
/// both from memory): ``VariableUa.BOILING`` and ``VariableUa.CONDENSATION`` are the n for them.
///
/// Parameters
/// ----------
/// wall_resistance : float
///     K/W, fouling included.
/// water_resistance : float
///     K/W at 1 kg/s.
/// refrigerant_resistance : float
///     K/W at 1 W.
/// exponent : float
///     n, from -0.95 to 0.95.
///
/// Raises
/// ------
/// OutOfRange, NotFinite
///     If a resistance is negative or the exponent out of its range.
/// Inconsistent
///     If all resistances are zero.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> V = interstage.VariableUa
/// >>> ua = V.at_design(
/// ...     ua=1.1e6, mass_flow=167.0, heat=3.5e6, water_share=0.5, refrigerant_share=0.35, exponent=V.BOILING
/// ... )
/// >>> round(ua.ua(167.0, 3.5e6)), round(ua.ua(167.0, 1.75e6))
/// (1100000, 911444)
#[pyclass(module = "interstage", name = "VariableUa", frozen)]
#[derive(Debug, PartialEq)]
pub(crate) struct PyVariableUa {
    pub(crate) inner: VariableUa,
}

#[pymethods]
impl PyVariableUa {
    /// Exponent of nucleate boiling, dimensionless: for evaporators.
    #[classattr]
    const BOILING: f64 = VariableUa::BOILING;

    /// Exponent of film condensation on tubes, dimensionless: for condensers.
    #[classattr]
    const CONDENSATION: f64 = VariableUa::CONDENSATION;

    #[new]
    fn new(
        wall_resistance: &Bound<'_, PyAny>,
        water_resistance: &Bound<'_, PyAny>,
        refrigerant_resistance: &Bound<'_, PyAny>,
        exponent: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let inner = VariableUa::new(
            number("wall_resistance", wall_resistance)?,
            number("water_resistance", water_resistance)?,
            number("refrigerant_resistance", refrigerant_resistance)?,
            number("exponent", exponent)?,
        );
        Ok(Self { inner: inner.or_raise(exponent.py())? })
    }

    /// From the conductance at one water flow and heat, and the shares of the resistance there.
    ///
    /// Parameters
    /// ----------
    /// ua : float
    ///     Conductance there, W/K.
    /// mass_flow : float
    ///     Of the water, kg/s.
    /// heat : float
    ///     W.
    /// water_share, refrigerant_share : float
    ///     Of the whole resistance; the rest is that of the wall, fouling included.
    /// exponent : float
    ///     Of the heat.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite, Inconsistent
    ///     As the class, and if the shares are more than the whole.
    #[classmethod]
    #[pyo3(signature = (*, ua, mass_flow, heat, water_share, refrigerant_share, exponent))]
    fn at_design(
        _class: &Bound<'_, PyType>,
        ua: &Bound<'_, PyAny>,
        mass_flow: &Bound<'_, PyAny>,
        heat: &Bound<'_, PyAny>,
        water_share: &Bound<'_, PyAny>,
        refrigerant_share: &Bound<'_, PyAny>,
        exponent: &Bound<'_, PyAny>,
    ) -> PyResult<Self> {
        let inner = VariableUa::at_design(
            number("ua", ua)?,
            number("mass_flow", mass_flow)?,
            number("heat", heat)?,
            number("water_share", water_share)?,
            number("refrigerant_share", refrigerant_share)?,
            number("exponent", exponent)?,
        );
        Ok(Self { inner: inner.or_raise(ua.py())? })
    }

    /// The same exchanger with a fouling resistance that joins that of the wall.
    ///
    /// Parameters
    /// ----------
    /// resistance : float
    ///     m2 K/W.
    /// tube_area : float
    ///     Of the side that fouls, m2.
    ///
    /// Returns
    /// -------
    /// VariableUa
    fn with_fouling(&self, resistance: &Bound<'_, PyAny>, tube_area: &Bound<'_, PyAny>) -> PyResult<Self> {
        let (resistance, area) = (number("resistance", resistance)?, number("tube_area", tube_area)?);
        Ok(Self { inner: self.inner.with_fouling(resistance, area).or_raise(tube_area.py())? })
    }

    /// Conductance at a water flow and heat, W/K.
    ///
    /// Parameters
    /// ----------
    /// mass_flow : float
    ///     Of the water, kg/s.
    /// heat : float
    ///     W.
    ///
    /// Raises
    /// ------
    /// OutOfRange, NotFinite
    ///     If flow or heat is not positive.
    fn ua(&self, mass_flow: &Bound<'_, PyAny>, heat: &Bound<'_, PyAny>) -> PyResult<f64> {
        self.inner.ua(number("mass_flow", mass_flow)?, number("heat", heat)?).or_raise(heat.py())
    }

    /// Resistance of the wall, fouling included, K/W.
    #[getter]
    fn wall_resistance(&self) -> f64 {
        self.inner.wall_resistance()
    }

    /// Resistance of the water side at 1 kg/s, K/W.
    #[getter]
    fn water_resistance(&self) -> f64 {
        self.inner.water_resistance()
    }

    /// Resistance of the refrigerant side at 1 W, K/W.
    #[getter]
    fn refrigerant_resistance(&self) -> f64 {
        self.inner.refrigerant_resistance()
    }

    /// Exponent of the heat, dimensionless.
    #[getter]
    fn exponent(&self) -> f64 {
        self.inner.exponent()
    }

    /// The conductance as a dictionary.
    pub(crate) fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyDict>> {
        let data = storage(py, "VariableUa")?;
        for (key, value) in PARTS.into_iter().zip(self.parts()) {
            data.set_item(key, value)?;
        }
        Ok(data)
    }

    /// The conductance of a dictionary that `to_dict` made.
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

    pub(crate) fn __repr__(&self) -> String {
        let parts: Vec<String> =
            PARTS.into_iter().zip(self.parts()).map(|(key, value)| format!("{key}={value:?}")).collect();
        format!("VariableUa({})", parts.join(", "))
    }
}

const PARTS: [&str; 4] = ["wall_resistance", "water_resistance", "refrigerant_resistance", "exponent"];

impl PyVariableUa {
    fn parts(&self) -> [f64; 4] {
        [
            self.inner.wall_resistance(),
            self.inner.water_resistance(),
            self.inner.refrigerant_resistance(),
            self.inner.exponent(),
        ]
    }

    pub(crate) fn restored(data: &Bound<'_, PyDict>) -> PyResult<Self> {
        let stored = Stored::new(data, "VariableUa")?;
        let mut parts = [f64::NAN; 4];
        for (part, key) in parts.iter_mut().zip(PARTS) {
            *part = stored.number(key)?;
        }
        let [wall, water, refrigerant, exponent] = parts;
        Ok(Self { inner: VariableUa::new(wall, water, refrigerant, exponent).or_raise(data.py())? })
    }
}

impl Hash for PyVariableUa {
    fn hash<H: Hasher>(&self, state: &mut H) {
        hash_numbers(state, &self.parts());
    }
}

/// Field fouling allowance on the water side of tubes in AHRI 550/590 (I-P), editions 2003 to 2018, from memory.
///
/// Parameters
/// ----------
/// vessel : str
///     ``"evaporator"`` (0.0001 h ft2 degF/Btu) or ``"condenser"`` (0.00025 h ft2 degF/Btu).
///
/// Returns
/// -------
/// float
///     m2 K/W.
///
/// Raises
/// ------
/// UnknownOption
///     If the vessel is neither of the two.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> interstage.fouling_allowance("condenser")  # doctest: +ELLIPSIS
/// 4.4027...e-05
#[pyfunction]
pub(crate) fn fouling_allowance(vessel: &Bound<'_, PyAny>) -> PyResult<f64> {
    Ok(interstage::fouling_allowance(vessel_of(vessel)?))
}

/// Conductance of an exchanger that fouls: 1/UA = 1/UA_clean + R/A.
///
/// Parameters
/// ----------
/// clean_ua : float or column
///     W/K.
/// resistance : float or column
///     Fouling resistance, m2 K/W.
/// tube_area : float or column
///     Of the side that fouls, m2.
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
/// OutOfRange, NotFinite
///     If conductance or area is not positive, or the resistance negative.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.fouled_ua(1e6, interstage.fouling_allowance("condenser"), 200.0))
/// 819580
#[pyfunction]
#[pyo3(
    signature = (clean_ua, resistance, tube_area, *, errors=None),
    text_signature = "(clean_ua, resistance, tube_area, *, errors='status')"
)]
pub(crate) fn fouled_ua<'py>(
    clean_ua: &Bound<'py, PyAny>,
    resistance: &Bound<'py, PyAny>,
    tube_area: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("clean_ua", clean_ua), ("resistance", resistance), ("tube_area", tube_area)];
    figure(clean_ua.py(), "fouled_ua", arguments, errors, |[clean, resistance, area]| {
        interstage::fouled_ua(clean, resistance, area)
    })
}

/// Fouling resistance behind a conductance that has fallen.
///
/// Parameters
/// ----------
/// clean_ua, fouled_ua : float or column
///     W/K.
/// tube_area : float or column
///     Of the side that fouls, m2.
/// errors : {"status", "raise"}, optional
///     Columns only: give NaN for a bad row, or raise the error of the first one.
///
/// Returns
/// -------
/// float or column
///     m2 K/W.
///
/// Raises
/// ------
/// Inconsistent
///     If the fouled conductance is the higher one.
/// OutOfRange, NotFinite
///     If a conductance or the area is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(1e5 * interstage.fouling_resistance(1e6, 819580.0, 200.0), 3)
/// 4.403
#[pyfunction]
#[pyo3(
    signature = (clean_ua, fouled_ua, tube_area, *, errors=None),
    text_signature = "(clean_ua, fouled_ua, tube_area, *, errors='status')"
)]
pub(crate) fn fouling_resistance<'py>(
    clean_ua: &Bound<'py, PyAny>,
    fouled_ua: &Bound<'py, PyAny>,
    tube_area: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("clean_ua", clean_ua), ("fouled_ua", fouled_ua), ("tube_area", tube_area)];
    figure(clean_ua.py(), "fouling_resistance", arguments, errors, |[clean, fouled, area]| {
        interstage::fouling_resistance(clean, fouled, area)
    })
}

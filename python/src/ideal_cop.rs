//! COP of ideal machines.

use pyo3::prelude::*;

use crate::columns::figure;

/// COP of a Carnot cycle between two temperatures of the refrigerant, T_e / (T_c - T_e).
///
/// Parameters
/// ----------
/// evaporating_temperature, condensing_temperature : float or column
///     K.
/// errors : {"status", "raise"}, optional
///     Columns only: give NaN for a bad row, or raise the error of the first one.
///
/// Returns
/// -------
/// float or column
///
/// Raises
/// ------
/// Inconsistent
///     Unless the condensing temperature is the higher one.
/// OutOfRange, NotFinite
///     If a temperature is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.carnot_cop(278.15, 310.15), 2)
/// 8.69
#[pyfunction]
#[pyo3(
    signature = (evaporating_temperature, condensing_temperature, *, errors=None),
    text_signature = "(evaporating_temperature, condensing_temperature, *, errors='status')"
)]
pub(crate) fn carnot_cop<'py>(
    evaporating_temperature: &Bound<'py, PyAny>,
    condensing_temperature: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [
        ("evaporating_temperature", evaporating_temperature),
        ("condensing_temperature", condensing_temperature),
    ];
    figure(evaporating_temperature.py(), "carnot_cop", arguments, errors, |[cold, warm]| {
        interstage::carnot_cop(cold, warm)
    })
}

/// COP of a Lorenz cycle between the water of a chiller: that of a machine without any loss, exchangers included.
///
/// T_cold / (T_warm - T_cold) with the entropic mean temperatures of chilled water and condenser water. COP over this
/// is the second-law efficiency of the whole machine; COP over ``carnot_cop`` of the refrigerant leaves out the
/// exchangers.
///
/// Parameters
/// ----------
/// chilled_water_entering, chilled_water_leaving : float or column
///     K.
/// condenser_water_entering, condenser_water_leaving : float or column
///     K.
/// errors : {"status", "raise"}, optional
///     Columns only: give NaN for a bad row, or raise the error of the first one.
///
/// Returns
/// -------
/// float or column
///
/// Raises
/// ------
/// Inconsistent
///     If chilled water warms, condenser water cools, or condenser water is not the warmer one in the mean.
/// OutOfRange, NotFinite
///     If a temperature is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.lorenz_cop(285.15, 280.15, 303.15, 308.15), 2)
/// 12.29
#[pyfunction]
#[pyo3(
    signature = (
        chilled_water_entering, chilled_water_leaving, condenser_water_entering, condenser_water_leaving, *,
        errors=None
    ),
    text_signature = "(chilled_water_entering, chilled_water_leaving, condenser_water_entering, \
                      condenser_water_leaving, *, errors='status')"
)]
pub(crate) fn lorenz_cop<'py>(
    chilled_water_entering: &Bound<'py, PyAny>,
    chilled_water_leaving: &Bound<'py, PyAny>,
    condenser_water_entering: &Bound<'py, PyAny>,
    condenser_water_leaving: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [
        ("chilled_water_entering", chilled_water_entering),
        ("chilled_water_leaving", chilled_water_leaving),
        ("condenser_water_entering", condenser_water_entering),
        ("condenser_water_leaving", condenser_water_leaving),
    ];
    figure(chilled_water_entering.py(), "lorenz_cop", arguments, errors, |[a, b, c, d]| {
        interstage::lorenz_cop(a, b, c, d)
    })
}

/// Entropic mean of a stream's temperatures at its two ends, (T_a - T_b) / ln(T_a / T_b).
///
/// Parameters
/// ----------
/// first, second : float or column
///     K.
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
///     If a temperature is not positive.
///
/// Examples
/// --------
/// >>> import interstage
/// >>> round(interstage.entropic_mean_temperature(285.15, 280.15), 3)
/// 282.643
#[pyfunction]
#[pyo3(signature = (first, second, *, errors=None), text_signature = "(first, second, *, errors='status')")]
pub(crate) fn entropic_mean_temperature<'py>(
    first: &Bound<'py, PyAny>,
    second: &Bound<'py, PyAny>,
    errors: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let arguments = [("first", first), ("second", second)];
    figure(first.py(), "entropic_mean_temperature", arguments, errors, |[first, second]| {
        interstage::entropic_mean_temperature(first, second)
    })
}

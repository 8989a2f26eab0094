//! Conversions of numbers and columns. Names and arguments are those of the core.

use interstage::{Error, units};
use numpy::{IntoPyArray, PyArray1, PyArrayMethods};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;

use crate::arguments::{Given, array_layer, given};
use crate::errors::from_core;

/// Below this much less than nothing, K or Pa, a temperature or pressure is refused: less is rounding.
const ROUNDING: f64 = 1e-6;

/// What of a conversion is an absolute temperature or pressure, which is never below zero.
#[derive(Clone, Copy)]
enum Absolute {
    Nothing,
    Argument,
    /// The result; the argument at zero, by the barometer, is the limit.
    Result(fn(f64) -> f64),
}

/// How an argument with a unit is converted.
#[derive(Clone, Copy)]
struct Conversion {
    name: &'static str,
    argument: &'static str,
    unit: &'static str,
    absolute: Absolute,
}

impl Conversion {
    fn is_below_zero(&self, value: f64, converted: f64) -> bool {
        match self.absolute {
            Absolute::Nothing => false,
            Absolute::Argument => value < -ROUNDING,
            Absolute::Result(_) => converted < -ROUNDING,
        }
    }

    /// One of a column: NaN below zero.
    fn in_column(&self, value: f64, converted: f64) -> f64 {
        if self.is_below_zero(value, converted) { f64::NAN } else { converted }
    }

    /// A single number: refused below zero.
    fn single(&self, py: Python<'_>, value: f64, converted: f64, barometer: f64) -> PyResult<f64> {
        if !self.is_below_zero(value, converted) {
            return Ok(converted);
        }
        let limit = if let Absolute::Result(limit) = self.absolute { limit(barometer) } else { 0.0 };
        // A vacuum counts downward.
        let (minimum, maximum) = if value < limit { (limit, f64::INFINITY) } else { (-f64::INFINITY, limit) };
        let (argument, unit) = (self.argument, self.unit);
        let reason = "nothing is below absolute zero".to_owned();
        Err(from_core(py, &Error::OutOfRange { argument, value, minimum, maximum, unit, reason }))
    }
}

/// Converts a number or a plain column; the array layer makes plain columns of all others.
fn convert<'py>(
    conversion: Conversion,
    value: &Bound<'py, PyAny>,
    function: fn(f64) -> f64,
) -> PyResult<Bound<'py, PyAny>> {
    let py = value.py();
    let Conversion { name, argument, .. } = conversion;
    if let Ok(column) = value.cast_exact::<PyArray1<f64>>() {
        let column = column.try_readonly()?;
        if let Ok(column) = column.as_slice() {
            let converted = |&value: &f64| conversion.in_column(value, function(value));
            let converted: Vec<f64> = py.detach(|| column.iter().map(converted).collect());
            return converted.into_pyarray(py).into_bound_py_any(py);
        }
    }
    match given(argument, value)? {
        Given::Number(number) => {
            conversion.single(py, number, function(number), f64::NAN)?.into_bound_py_any(py)
        }
        Given::Column => array_layer(py)?.getattr("convert")?.call1((name, argument, value)),
    }
}

/// The same for functions that need the barometric pressure as well.
fn convert_with_barometer<'py>(
    conversion: Conversion,
    value: &Bound<'py, PyAny>,
    barometer: &Bound<'py, PyAny>,
    function: fn(f64, f64) -> f64,
) -> PyResult<Bound<'py, PyAny>> {
    let py = value.py();
    let Conversion { name, argument, .. } = conversion;
    if let (Ok(column), Ok(barometers)) =
        (value.cast_exact::<PyArray1<f64>>(), barometer.cast_exact::<PyArray1<f64>>())
        && let (column, barometers) = (column.try_readonly()?, barometers.try_readonly()?)
        && let (Ok(column), Ok(barometers)) = (column.as_slice(), barometers.as_slice())
        && column.len() == barometers.len()
    {
        let rows = column.iter().zip(barometers);
        let converted =
            |(&value, &barometer): (&f64, &f64)| conversion.in_column(value, function(value, barometer));
        let converted: Vec<f64> = py.detach(|| rows.map(converted).collect());
        return converted.into_pyarray(py).into_bound_py_any(py);
    }
    match (given(argument, value)?, given("barometer", barometer)?) {
        (Given::Number(number), Given::Number(barometer)) => {
            let converted = function(number, barometer);
            conversion.single(py, number, converted, barometer)?.into_bound_py_any(py)
        }
        _ => array_layer(py)?.getattr("convert")?.call1((name, argument, value, "barometer", barometer)),
    }
}

/// Documentation of a conversion of `$from` to `$to`.
macro_rules! text {
    ($quantity:literal, $from:literal, $to:literal, $note:literal, $argument:ident) => {
        concat!(
            $quantity,
            " in ",
            $to,
            " from ",
            $from,
            ": ",
            $note,
            ".\n\n",
            "Parameters\n----------\n",
            stringify!($argument),
            " : float or column\n    ",
            $quantity,
            ", ",
            $from,
            ".\n\nReturns\n-------\nfloat or column\n    ",
            $quantity,
            ", ",
            $to,
            "."
        )
    };
    ($quantity:literal, $from:literal, $to:literal, $note:literal, $argument:ident, barometer) => {
        concat!(
            $quantity,
            " in ",
            $to,
            " from ",
            $from,
            " and the barometric pressure: ",
            $note,
            ".\n\n",
            "Parameters\n----------\n",
            stringify!($argument),
            " : float or column\n    ",
            $quantity,
            ", ",
            $from,
            ".\nbarometer : float or column\n    Barometric pressure at the machine, Pa absolute.",
            "\n\nReturns\n-------\nfloat or column\n    ",
            $quantity,
            ", ",
            $to,
            "."
        )
    };
}

macro_rules! conversions {
    (
        pairs { $($quantity:literal, $si:literal, $unit:literal, $note:literal:
                  $to_si:ident($of_unit:ident), $from_si:ident($of_si:ident);)* }
        with_barometer { $($b_quantity:literal, $b_si:literal, $b_unit:literal, $b_note:literal:
                  $b_to_si:ident($b_of_unit:ident), $b_from_si:ident($b_of_si:ident);)* }
    ) => {
        $(
            #[doc = text!($quantity, $unit, $si, $note, $of_unit)]
            #[pyfunction]
            fn $to_si<'py>($of_unit: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
                let absolute = if matches!($quantity, "Temperature" | "Absolute pressure") {
                    Absolute::Result(|_| units::$from_si(0.0))
                } else {
                    Absolute::Nothing
                };
                let (name, argument, unit) = (stringify!($to_si), stringify!($of_unit), $unit);
                convert(Conversion { name, argument, unit, absolute }, $of_unit, |value| units::$to_si(value))
            }

            #[doc = text!($quantity, $si, $unit, $note, $of_si)]
            #[pyfunction]
            fn $from_si<'py>($of_si: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
                let absolute = if matches!($quantity, "Temperature" | "Absolute pressure") {
                    Absolute::Argument
                } else {
                    Absolute::Nothing
                };
                let (name, argument, unit) = (stringify!($from_si), stringify!($of_si), $si);
                convert(Conversion { name, argument, unit, absolute }, $of_si, |value| units::$from_si(value))
            }
        )*
        $(
            #[doc = text!($b_quantity, $b_unit, $b_si, $b_note, $b_of_unit, barometer)]
            #[pyfunction]
            fn $b_to_si<'py>($b_of_unit: &Bound<'py, PyAny>, barometer: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
                let absolute = Absolute::Result(|barometer| units::$b_from_si(0.0, barometer));
                let (name, argument, unit) = (stringify!($b_to_si), stringify!($b_of_unit), $b_unit);
                let conversion = Conversion { name, argument, unit, absolute };
                convert_with_barometer(conversion, $b_of_unit, barometer, |value, barometer| units::$b_to_si(value, barometer))
            }

            #[doc = text!($b_quantity, $b_si, $b_unit, $b_note, $b_of_si, barometer)]
            #[pyfunction]
            fn $b_from_si<'py>($b_of_si: &Bound<'py, PyAny>, barometer: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
                let (name, argument, unit) = (stringify!($b_from_si), stringify!($b_of_si), $b_si);
                let conversion = Conversion { name, argument, unit, absolute: Absolute::Argument };
                convert_with_barometer(conversion, $b_of_si, barometer, |value, barometer| units::$b_from_si(value, barometer))
            }
        )*

        /// Adds every function to the module.
        pub(crate) fn add(module: &Bound<'_, PyModule>) -> PyResult<()> {
            module.add("STANDARD_ATMOSPHERE", units::STANDARD_ATMOSPHERE)?;
            module.add_function(wrap_pyfunction!(standard_barometer_from_altitude, module)?)?;
            $(
                module.add_function(wrap_pyfunction!($to_si, module)?)?;
                module.add_function(wrap_pyfunction!($from_si, module)?)?;
            )*
            $(
                module.add_function(wrap_pyfunction!($b_to_si, module)?)?;
                module.add_function(wrap_pyfunction!($b_from_si, module)?)?;
            )*
            Ok(())
        }
    };
}

/// Barometric pressure of the standard atmosphere at an altitude, Pa absolute.
///
/// For want of a local reading: prefer a barometer at the machine. U.S. Standard Atmosphere 1976.
///
/// Parameters
/// ----------
/// altitude : float or column
///     Altitude above sea level, m, from -5000 to 11 000; NaN outside.
///
/// Returns
/// -------
/// float or column
///     Pressure, Pa absolute.
#[pyfunction]
fn standard_barometer_from_altitude<'py>(altitude: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    let name = "standard_barometer_from_altitude";
    let conversion = Conversion { name, argument: "altitude", unit: "m", absolute: Absolute::Nothing };
    convert(conversion, altitude, units::standard_barometer_from_altitude)
}

conversions! {
    pairs {
        "Temperature", "K", "degC", "0 degC = 273.15 K": kelvin_from_celsius(celsius), celsius_from_kelvin(kelvin);
        "Temperature", "K", "degF", "32 degF = 273.15 K": kelvin_from_fahrenheit(fahrenheit), fahrenheit_from_kelvin(kelvin);
        "Temperature difference", "K", "degF", "9 degF of difference are 5 K": kelvin_difference_from_fahrenheit_difference(fahrenheit_difference), fahrenheit_difference_from_kelvin_difference(kelvin_difference);
        "Absolute pressure", "Pa", "kPa", "1 kPa = 1000 Pa": pascal_from_kilopascal(kilopascal), kilopascal_from_pascal(pascal);
        "Absolute pressure", "Pa", "hPa", "1 hPa = 1 mbar = 100 Pa": pascal_from_hectopascal(hectopascal), hectopascal_from_pascal(pascal);
        "Absolute pressure", "Pa", "bar", "1 bar = 100 000 Pa": pascal_from_bar(bar), bar_from_pascal(pascal);
        "Absolute pressure", "Pa", "psia", "1 psi = 6894.757 Pa": pascal_from_psia(psia), psia_from_pascal(pascal);
        "Absolute pressure", "Pa", "inches of mercury absolute", "1 inHg = 3386.389 Pa, the conventional inch (0 degC)": pascal_from_inhg_absolute(inhg_absolute), inhg_absolute_from_pascal(pascal);
        "Pressure difference", "Pa", "kPa", "1 kPa = 1000 Pa": pascal_difference_from_kilopascal_difference(kilopascal_difference), kilopascal_difference_from_pascal_difference(pascal_difference);
        "Pressure difference", "Pa", "bar", "1 bar = 100 000 Pa": pascal_difference_from_bar_difference(bar_difference), bar_difference_from_pascal_difference(pascal_difference);
        "Pressure difference", "Pa", "psi", "1 psi = 6894.757 Pa": pascal_difference_from_psi_difference(psi_difference), psi_difference_from_pascal_difference(pascal_difference);
        "Length or altitude", "m", "ft", "1 ft = 0.3048 m": meter_from_foot(foot), foot_from_meter(meter);
        "Enthalpy", "J/kg", "kJ/kg", "1 kJ/kg = 1000 J/kg": joule_per_kilogram_from_kilojoule_per_kilogram(kilojoule_per_kilogram), kilojoule_per_kilogram_from_joule_per_kilogram(joule_per_kilogram);
        "Enthalpy", "J/kg", "Btu/lb", "1 Btu/lb = 2326 J/kg": joule_per_kilogram_from_btu_per_pound(btu_per_pound), btu_per_pound_from_joule_per_kilogram(joule_per_kilogram);
        "Entropy or heat capacity", "J/(kg K)", "kJ/(kg K)", "1 kJ/(kg K) = 1000 J/(kg K)": joule_per_kilogram_kelvin_from_kilojoule_per_kilogram_kelvin(kilojoule_per_kilogram_kelvin), kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin(joule_per_kilogram_kelvin);
        "Entropy or heat capacity", "J/(kg K)", "Btu/(lb R)", "1 Btu/(lb R) = 1 Btu/(lb degF) = 4186.8 J/(kg K)": joule_per_kilogram_kelvin_from_btu_per_pound_rankine(btu_per_pound_rankine), btu_per_pound_rankine_from_joule_per_kilogram_kelvin(joule_per_kilogram_kelvin);
        "Density", "kg/m3", "lb/ft3", "1 lb/ft3 = 16.01846 kg/m3": kilogram_per_cubic_meter_from_pound_per_cubic_foot(pound_per_cubic_foot), pound_per_cubic_foot_from_kilogram_per_cubic_meter(kilogram_per_cubic_meter);
        "Volume flow", "m3/s", "L/s", "1 L/s = 0.001 m3/s": cubic_meter_per_second_from_liter_per_second(liter_per_second), liter_per_second_from_cubic_meter_per_second(cubic_meter_per_second);
        "Volume flow", "m3/s", "m3/h", "3600 m3/h = 1 m3/s": cubic_meter_per_second_from_cubic_meter_per_hour(cubic_meter_per_hour), cubic_meter_per_hour_from_cubic_meter_per_second(cubic_meter_per_second);
        "Volume flow", "m3/s", "US gallons per minute", "1 gpm = 6.309020e-5 m3/s": cubic_meter_per_second_from_gpm(gpm), gpm_from_cubic_meter_per_second(cubic_meter_per_second);
        "Volume flow", "m3/s", "cubic feet per minute", "1 cfm = 4.719474e-4 m3/s": cubic_meter_per_second_from_cfm(cfm), cfm_from_cubic_meter_per_second(cubic_meter_per_second);
        "Mass flow", "kg/s", "lb/h", "1 lb/h = 1.259979e-4 kg/s": kilogram_per_second_from_pound_per_hour(pound_per_hour), pound_per_hour_from_kilogram_per_second(kilogram_per_second);
        "Mass flow", "kg/s", "lb/min", "1 lb/min = 7.559873e-3 kg/s": kilogram_per_second_from_pound_per_minute(pound_per_minute), pound_per_minute_from_kilogram_per_second(kilogram_per_second);
        "Power", "W", "kW", "1 kW = 1000 W": watt_from_kilowatt(kilowatt), kilowatt_from_watt(watt);
        "Capacity", "W", "Btu/h", "1 Btu/h = 0.2930711 W": watt_from_btu_per_hour(btu_per_hour), btu_per_hour_from_watt(watt);
        "Capacity", "W", "tons of refrigeration", "1 ton = 12 000 Btu/h = 3516.853 W": watt_from_ton(ton), ton_from_watt(watt);
        "Power", "W", "mechanical horsepower", "1 hp = 550 ft lbf/s = 745.6999 W": watt_from_horsepower(horsepower), horsepower_from_watt(watt);
        "Coefficient of performance", "W/W", "EER, Btu/h per W", "EER = 3.412142 COP": cop_from_eer(eer), eer_from_cop(cop);
        "Efficiency", "W/W (coefficient of performance)", "kW/ton", "COP = 3.516853/(kW/ton), infinite at zero; say which power is meant":
            cop_from_kw_per_ton(kw_per_ton), kw_per_ton_from_cop(cop);
    }
    with_barometer {
        "Pressure", "Pa absolute", "psig", "1 psi = 6894.757 Pa": pascal_from_psig(psig), psig_from_pascal(pascal);
        "Pressure", "Pa absolute", "kPa gauge", "1 kPa = 1000 Pa":
            pascal_from_kilopascal_gauge(kilopascal_gauge), kilopascal_gauge_from_pascal(pascal);
        "Pressure", "Pa absolute", "bar gauge", "1 bar = 100 000 Pa":
            pascal_from_bar_gauge(bar_gauge), bar_gauge_from_pascal(pascal);
        "Pressure", "Pa absolute", "inches of mercury of vacuum", "1 inHg = 3386.389 Pa, the conventional inch (0 degC)":
            pascal_from_inhg_vacuum(inhg_vacuum), inhg_vacuum_from_pascal(pascal);
        "Pressure", "Pa absolute", "inches of mercury gauge", "negative in a vacuum; 1 inHg = 3386.389 Pa, the conventional inch (0 degC)":
            pascal_from_inhg_gauge(inhg_gauge), inhg_gauge_from_pascal(pascal);
    }
}

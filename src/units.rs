//! Conversions between SI and the units of the trade.
//!
//! Everything else in this crate takes and returns SI: K, Pa absolute, J/kg, J/(kg K), kg/m3, W, kg/s, m3/s,
//! m. Readings and reports in other units pass through this module, and nowhere else.
//!
//! - **Names.** `kelvin_from_celsius` takes degC and gives K; `celsius_from_kelvin` is the way back. The
//!   argument carries the unit's name.
//! - **Gauge is not absolute.** Gauge and vacuum readings need a barometric pressure (Pa, absolute, at the
//!   machine): [`pascal_from_psig`], [`pascal_from_inhg_vacuum`]. Without a local reading take
//!   [`standard_barometer_from_altitude`]; the sea-level value [`STANDARD_ATMOSPHERE`] is never assumed.
//! - **A difference is not a level.** Superheat, subcooling, water ranges and approaches go through
//!   [`kelvin_difference_from_fahrenheit_difference`], pressure differences through
//!   [`pascal_difference_from_psi_difference`]. A difference in degC is the same number in K.
//! - **No rounding, no checks.** The functions are plain arithmetic on `f64`. NaN gives NaN, and a wrong
//!   reading gives a wrong state: a negative absolute pressure, for instance, is refused by the property
//!   functions and not here. (The Python package refuses absolute temperatures and pressures below zero.)
//! - **A vacuum has no sign of its own.** [`pascal_from_inhg_vacuum`] counts downward from the barometer, 12 inHg
//!   of vacuum are positive; [`pascal_from_inhg_gauge`] counts upward, the same reading is -12.
//!
//! ```
//! use interstage::units;
//!
//! // A gauge on the condenser of a machine 1609 m above the sea, and a vacuum on its evaporator.
//! let barometer = units::standard_barometer_from_altitude(units::meter_from_foot(5280.0));
//! let condensing = units::pascal_from_psig(7.5, barometer);
//! let evaporating = units::pascal_from_inhg_vacuum(13.0, barometer);
//! assert!(evaporating < barometer && barometer < condensing);
//!
//! // 44 degF leaving chilled water, 10 degF range.
//! let leaving = units::kelvin_from_fahrenheit(44.0);
//! let entering = leaving + units::kelvin_difference_from_fahrenheit_difference(10.0);
//! assert!((units::fahrenheit_from_kelvin(entering) - 54.0).abs() < 1e-9);
//!
//! // 500 tons at 0.56 kW/ton draw 280 kW.
//! let power = units::watt_from_ton(500.0) / units::cop_from_kw_per_ton(0.56);
//! assert!((units::kilowatt_from_watt(power) - 280.0).abs() < 1e-9);
//! ```
//!
//! # Definitions
//!
//! Every factor is computed from these. All are exact.
//!
//! | unit | definition | source |
//! |---|---|---|
//! | degree Celsius | T/K = t/degC + 273.15 | BIPM, The International System of Units, 9th ed. 2019 |
//! | degree Fahrenheit | t/degC = (t/degF - 32)/1.8 | NIST SP 811 (2008), appendix B.9 |
//! | inch, foot | 0.0254 m, 0.3048 m (international) | US Federal Register 24 FR 5348 (1959) |
//! | pound | 0.453 592 37 kg (international avoirdupois) | the same |
//! | standard gravity | 9.806 65 m/s2 | 3rd CGPM (1901) |
//! | psi | pound x standard gravity / inch² | NIST SP 811, appendix B.9 |
//! | bar | 100 000 Pa | BIPM, as above |
//! | standard atmosphere | 101 325 Pa | 10th CGPM (1954), resolution 4 |
//! | inch of mercury | 0.0254 m of mercury of 13 595.1 kg/m3 (0 degC) under standard gravity, 3386.389 Pa | the *conventional* inch of NIST SP 811, B.9; density as in U.S. Standard Atmosphere 1976 |
//! | Btu | International Table: 1 Btu/lb = 2326 J/kg, so 1055.055 852 62 J | 5th International Conference on the Properties of Steam, London 1956 |
//! | ton of refrigeration | 12 000 Btu/h, 3516.853 W | NIST SP 811, appendix B.9 |
//! | horsepower | mechanical: 550 ft lbf/s, 745.6999 W | NIST SP 811, appendix B.9 |
//! | gallon | US: 231 in3 | NIST Handbook 44, appendix C |
//!
//! Two other inches of mercury exist. That of 32 degF, 3386.38 Pa, differs from the one used here by 3
//! millionths; that of 60 degF, 3376.85 Pa, by 0.28 % (both NIST SP 811, B.9).

/// The standard atmosphere, 101 325 Pa absolute: the barometric pressure of a standard day at sea level.
///
/// Source: 10th CGPM (1954), resolution 4.
pub const STANDARD_ATMOSPHERE: f64 = 101_325.0;

// Definitions and sources: table in the module docs.
const ICE_POINT: f64 = 273.15; // K
const FAHRENHEIT_PER_KELVIN: f64 = 1.8; // of differences
const INCH: f64 = 0.0254; // m
const FOOT: f64 = 0.3048; // m
const CUBIC_FOOT: f64 = 0.028_316_846_592; // m3, FOOT cubed, all digits
const GALLON: f64 = 0.003_785_411_784; // m3, 231 INCH cubed, all digits
const POUND: f64 = 0.453_592_37; // kg
pub(crate) const GRAVITY: f64 = 9.806_65; // m/s2
const POUND_FORCE: f64 = POUND * GRAVITY; // N
const PSI: f64 = POUND_FORCE / (INCH * INCH); // Pa
const MERCURY_DENSITY: f64 = 13_595.1; // kg/m3
const INCH_OF_MERCURY: f64 = MERCURY_DENSITY * GRAVITY * INCH; // Pa
const BAR: f64 = 100_000.0; // Pa
const BTU_PER_POUND: f64 = 2326.0; // J/kg
const BTU: f64 = 1_055.055_852_62; // J, BTU_PER_POUND * POUND, all digits
const HOUR: f64 = 3600.0; // s
const MINUTE: f64 = 60.0; // s
const TON: f64 = 12_000.0 * BTU / HOUR; // W
const HORSEPOWER: f64 = 550.0 * FOOT * POUND_FORCE; // W
const EER_PER_COP: f64 = HOUR / BTU; // Btu/h per W

/// Writes the two functions of a pair of units that differ by a factor or a divisor.
macro_rules! pair {
    ($quantity:literal in $si_symbol:literal and $symbol:literal, $note:literal:
     $to_si:ident, $from_si:ident, $si:ident = $unit:ident $operator:tt $factor:expr) => {
        #[doc = concat!($quantity, " in ", $si_symbol, " from ", $symbol, ": ", $note, ".")]
        #[doc = concat!("\n\nThe way back is [`", stringify!($from_si), "`].")]
        #[inline]
        #[must_use]
        pub const fn $to_si($unit: f64) -> f64 {
            $unit $operator $factor
        }

        #[doc = concat!($quantity, " in ", $symbol, " from ", $si_symbol, ": ", $note, ".")]
        #[doc = concat!("\n\nThe way back is [`", stringify!($to_si), "`].")]
        #[inline]
        #[must_use]
        pub const fn $from_si($si: f64) -> f64 {
            pair!(@back $si $operator $factor)
        }
    };
    (@back $si:ident * $factor:expr) => { $si / $factor };
    (@back $si:ident / $divisor:expr) => { $si * $divisor };
}

// Temperature.

/// Temperature in K from degC.
///
/// The way back is [`celsius_from_kelvin`]. A temperature difference needs no conversion.
#[inline]
#[must_use]
pub const fn kelvin_from_celsius(celsius: f64) -> f64 {
    celsius + ICE_POINT
}

/// Temperature in degC from K.
///
/// The way back is [`kelvin_from_celsius`].
#[inline]
#[must_use]
pub const fn celsius_from_kelvin(kelvin: f64) -> f64 {
    kelvin - ICE_POINT
}

/// Temperature in K from degF.
///
/// The way back is [`fahrenheit_from_kelvin`]. For superheat, subcooling, ranges and approaches use
/// [`kelvin_difference_from_fahrenheit_difference`].
///
/// ```
/// use interstage::units;
///
/// assert_eq!(units::kelvin_from_fahrenheit(32.0), 273.15);
/// ```
#[inline]
#[must_use]
pub const fn kelvin_from_fahrenheit(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / FAHRENHEIT_PER_KELVIN + ICE_POINT
}

/// Temperature in degF from K.
///
/// The way back is [`kelvin_from_fahrenheit`].
#[inline]
#[must_use]
pub const fn fahrenheit_from_kelvin(kelvin: f64) -> f64 {
    (kelvin - ICE_POINT) * FAHRENHEIT_PER_KELVIN + 32.0
}

pair! {
    "Temperature difference" in "K" and "degF", "9 degF of difference are 5 K":
    kelvin_difference_from_fahrenheit_difference, fahrenheit_difference_from_kelvin_difference,
    kelvin_difference = fahrenheit_difference / FAHRENHEIT_PER_KELVIN
}

// Absolute pressure.

pair! {
    "Absolute pressure" in "Pa" and "kPa", "1 kPa = 1000 Pa":
    pascal_from_kilopascal, kilopascal_from_pascal, pascal = kilopascal * 1000.0
}
pair! {
    "Absolute pressure" in "Pa" and "hPa", "1 hPa = 1 mbar = 100 Pa":
    pascal_from_hectopascal, hectopascal_from_pascal, pascal = hectopascal * 100.0
}
pair! {
    "Absolute pressure" in "Pa" and "bar", "1 bar = 100 000 Pa":
    pascal_from_bar, bar_from_pascal, pascal = bar * BAR
}
pair! {
    "Absolute pressure" in "Pa" and "psia", "1 psi = 6894.757 Pa":
    pascal_from_psia, psia_from_pascal, pascal = psia * PSI
}
pair! {
    "Absolute pressure" in "Pa" and "inches of mercury absolute",
    "1 inHg = 3386.389 Pa, the conventional inch (0 degC)":
    pascal_from_inhg_absolute, inhg_absolute_from_pascal, pascal = inhg_absolute * INCH_OF_MERCURY
}

// Pressure difference.

pair! {
    "Pressure difference" in "Pa" and "kPa", "1 kPa = 1000 Pa":
    pascal_difference_from_kilopascal_difference, kilopascal_difference_from_pascal_difference,
    pascal_difference = kilopascal_difference * 1000.0
}
pair! {
    "Pressure difference" in "Pa" and "bar", "1 bar = 100 000 Pa":
    pascal_difference_from_bar_difference, bar_difference_from_pascal_difference,
    pascal_difference = bar_difference * BAR
}
pair! {
    "Pressure difference" in "Pa" and "psi", "1 psi = 6894.757 Pa":
    pascal_difference_from_psi_difference, psi_difference_from_pascal_difference,
    pascal_difference = psi_difference * PSI
}

// Gauge pressure and vacuum. The barometer is in Pa absolute everywhere.

/// Absolute pressure in Pa from psig and the barometric pressure in Pa.
///
/// The way back is [`psig_from_pascal`].
///
/// ```
/// use interstage::units;
///
/// let pressure = units::pascal_from_psig(37.1, units::STANDARD_ATMOSPHERE);
/// assert!((units::psia_from_pascal(pressure) - 51.796).abs() < 0.0005); // 14.696 psi more
/// ```
#[inline]
#[must_use]
pub const fn pascal_from_psig(psig: f64, barometer: f64) -> f64 {
    psig * PSI + barometer
}

/// Gauge pressure in psig from the absolute pressure and the barometric pressure, both in Pa.
///
/// The way back is [`pascal_from_psig`].
#[inline]
#[must_use]
pub const fn psig_from_pascal(pascal: f64, barometer: f64) -> f64 {
    (pascal - barometer) / PSI
}

/// Absolute pressure in Pa from kPa gauge and the barometric pressure in Pa.
///
/// The way back is [`kilopascal_gauge_from_pascal`].
#[inline]
#[must_use]
pub const fn pascal_from_kilopascal_gauge(kilopascal_gauge: f64, barometer: f64) -> f64 {
    kilopascal_gauge * 1000.0 + barometer
}

/// Gauge pressure in kPa from the absolute pressure and the barometric pressure, both in Pa.
///
/// The way back is [`pascal_from_kilopascal_gauge`].
#[inline]
#[must_use]
pub const fn kilopascal_gauge_from_pascal(pascal: f64, barometer: f64) -> f64 {
    (pascal - barometer) / 1000.0
}

/// Absolute pressure in Pa from bar gauge and the barometric pressure in Pa.
///
/// The way back is [`bar_gauge_from_pascal`].
#[inline]
#[must_use]
pub const fn pascal_from_bar_gauge(bar_gauge: f64, barometer: f64) -> f64 {
    bar_gauge * BAR + barometer
}

/// Gauge pressure in bar from the absolute pressure and the barometric pressure, both in Pa.
///
/// The way back is [`pascal_from_bar_gauge`].
#[inline]
#[must_use]
pub const fn bar_gauge_from_pascal(pascal: f64, barometer: f64) -> f64 {
    (pascal - barometer) / BAR
}

/// Absolute pressure in Pa from inches of mercury of vacuum and the barometric pressure in Pa.
///
/// Vacuum counts downward from the barometer: 0 is the barometer itself, and about 29.9 inHg is nothing left
/// at sea level. 1 inHg = 3386.389 Pa, the conventional inch (0 degC). The way back is
/// [`inhg_vacuum_from_pascal`].
///
/// ```
/// use interstage::units;
///
/// let sea_level = units::pascal_from_inhg_vacuum(18.0, units::STANDARD_ATMOSPHERE);
/// let mountain = units::pascal_from_inhg_vacuum(18.0, units::standard_barometer_from_altitude(1500.0));
/// assert!(sea_level - mountain > 16_000.0); // the same needle, another pressure
/// ```
#[inline]
#[must_use]
pub const fn pascal_from_inhg_vacuum(inhg_vacuum: f64, barometer: f64) -> f64 {
    barometer - inhg_vacuum * INCH_OF_MERCURY
}

/// Vacuum in inches of mercury from the absolute pressure and the barometric pressure, both in Pa.
///
/// Negative above the barometer. The way back is [`pascal_from_inhg_vacuum`].
#[inline]
#[must_use]
pub const fn inhg_vacuum_from_pascal(pascal: f64, barometer: f64) -> f64 {
    (barometer - pascal) / INCH_OF_MERCURY
}

/// Absolute pressure in Pa from inches of mercury gauge and the barometric pressure in Pa.
///
/// Gauge pressure counts upward from the barometer: a vacuum is negative. 1 inHg = 3386.389 Pa, the conventional inch
/// (0 degC). The way back is [`inhg_gauge_from_pascal`].
#[inline]
#[must_use]
pub const fn pascal_from_inhg_gauge(inhg_gauge: f64, barometer: f64) -> f64 {
    inhg_gauge * INCH_OF_MERCURY + barometer
}

/// Gauge pressure in inches of mercury from the absolute pressure and the barometric pressure, both in Pa.
///
/// Negative in a vacuum. The way back is [`pascal_from_inhg_gauge`].
#[inline]
#[must_use]
pub const fn inhg_gauge_from_pascal(pascal: f64, barometer: f64) -> f64 {
    (pascal - barometer) / INCH_OF_MERCURY
}

/// Barometric pressure in Pa of the standard atmosphere at an altitude in m above sea level.
///
/// For want of a local reading. Prefer a barometer at the machine. The barometer of a weather report is as a
/// rule reduced to sea level (US National Weather Service glossary, "sea level pressure" and "altimeter
/// setting"): at altitude it is not the pressure around the gauge, the *station pressure* is.
///
/// p = 101 325 Pa (1 - L z / T0)^(g M / (R L)), with T0 = 288.15 K, L = 0.0065 K/m, g = 9.806 65 m/s2,
/// M = 28.9644 kg/kmol, R = 8314.32 J/(kmol K). Source: U.S. Standard Atmosphere 1976 (NOAA, NASA, US Air
/// Force), the same as the ICAO Standard Atmosphere (Doc 7488) in this layer. In rounded form
/// 101 325 (1 - 2.25577e-5 z)^5.25588.
///
/// Valid from -5000 m to 11 000 m, where the layer ends; NaN outside. The formula means geopotential
/// altitude. Taking the surveyed one for it costs less than 13 Pa up to 3000 m.
///
/// ```
/// use interstage::units;
///
/// let barometer = units::standard_barometer_from_altitude(1000.0);
/// assert!((barometer - 89_874.6).abs() < 0.05);
/// ```
#[inline]
#[must_use]
pub fn standard_barometer_from_altitude(altitude: f64) -> f64 {
    const TEMPERATURE: f64 = 288.15;
    const LAPSE: f64 = 0.0065;
    const EXPONENT: f64 = GRAVITY * 28.9644 / (8314.32 * LAPSE);
    if (-5000.0..=11_000.0).contains(&altitude) {
        STANDARD_ATMOSPHERE * (1.0 - LAPSE * altitude / TEMPERATURE).powf(EXPONENT)
    } else {
        f64::NAN
    }
}

pair! {
    "Length or altitude" in "m" and "ft", "1 ft = 0.3048 m":
    meter_from_foot, foot_from_meter, meter = foot * FOOT
}

// Properties per mass and volume. Converting the unit does not move the zero of a table: two sources agree
// on enthalpy and entropy only after both use the same reference state.

pair! {
    "Enthalpy" in "J/kg" and "kJ/kg", "1 kJ/kg = 1000 J/kg":
    joule_per_kilogram_from_kilojoule_per_kilogram, kilojoule_per_kilogram_from_joule_per_kilogram,
    joule_per_kilogram = kilojoule_per_kilogram * 1000.0
}
pair! {
    "Enthalpy" in "J/kg" and "Btu/lb", "1 Btu/lb = 2326 J/kg":
    joule_per_kilogram_from_btu_per_pound, btu_per_pound_from_joule_per_kilogram,
    joule_per_kilogram = btu_per_pound * BTU_PER_POUND
}
pair! {
    "Entropy or heat capacity" in "J/(kg K)" and "kJ/(kg K)", "1 kJ/(kg K) = 1000 J/(kg K)":
    joule_per_kilogram_kelvin_from_kilojoule_per_kilogram_kelvin,
    kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin,
    joule_per_kilogram_kelvin = kilojoule_per_kilogram_kelvin * 1000.0
}
pair! {
    "Entropy or heat capacity" in "J/(kg K)" and "Btu/(lb R)", "1 Btu/(lb R) = 1 Btu/(lb degF) = 4186.8 J/(kg K)":
    joule_per_kilogram_kelvin_from_btu_per_pound_rankine, btu_per_pound_rankine_from_joule_per_kilogram_kelvin,
    joule_per_kilogram_kelvin = btu_per_pound_rankine * (BTU_PER_POUND * FAHRENHEIT_PER_KELVIN)
}
pair! {
    "Density" in "kg/m3" and "lb/ft3", "1 lb/ft3 = 16.01846 kg/m3":
    kilogram_per_cubic_meter_from_pound_per_cubic_foot, pound_per_cubic_foot_from_kilogram_per_cubic_meter,
    kilogram_per_cubic_meter = pound_per_cubic_foot * (POUND / CUBIC_FOOT)
}

// Volume flow and mass flow.

pair! {
    "Volume flow" in "m3/s" and "L/s", "1 L/s = 0.001 m3/s":
    cubic_meter_per_second_from_liter_per_second, liter_per_second_from_cubic_meter_per_second,
    cubic_meter_per_second = liter_per_second / 1000.0
}
pair! {
    "Volume flow" in "m3/s" and "m3/h", "3600 m3/h = 1 m3/s":
    cubic_meter_per_second_from_cubic_meter_per_hour, cubic_meter_per_hour_from_cubic_meter_per_second,
    cubic_meter_per_second = cubic_meter_per_hour / HOUR
}
pair! {
    "Volume flow" in "m3/s" and "US gallons per minute", "1 gpm = 6.309020e-5 m3/s":
    cubic_meter_per_second_from_gpm, gpm_from_cubic_meter_per_second,
    cubic_meter_per_second = gpm * (GALLON / MINUTE)
}
pair! {
    "Volume flow" in "m3/s" and "cubic feet per minute", "1 cfm = 4.719474e-4 m3/s":
    cubic_meter_per_second_from_cfm, cfm_from_cubic_meter_per_second,
    cubic_meter_per_second = cfm * (CUBIC_FOOT / MINUTE)
}
pair! {
    "Mass flow" in "kg/s" and "lb/h", "1 lb/h = 1.259979e-4 kg/s":
    kilogram_per_second_from_pound_per_hour, pound_per_hour_from_kilogram_per_second,
    kilogram_per_second = pound_per_hour * (POUND / HOUR)
}
pair! {
    "Mass flow" in "kg/s" and "lb/min", "1 lb/min = 7.559873e-3 kg/s":
    kilogram_per_second_from_pound_per_minute, pound_per_minute_from_kilogram_per_second,
    kilogram_per_second = pound_per_minute * (POUND / MINUTE)
}

// Power, capacity and efficiency.

pair! {
    "Power" in "W" and "kW", "1 kW = 1000 W":
    watt_from_kilowatt, kilowatt_from_watt, watt = kilowatt * 1000.0
}
pair! {
    "Capacity" in "W" and "Btu/h", "1 Btu/h = 0.2930711 W":
    watt_from_btu_per_hour, btu_per_hour_from_watt, watt = btu_per_hour * (BTU / HOUR)
}
pair! {
    "Capacity" in "W" and "tons of refrigeration", "1 ton = 12 000 Btu/h = 3516.853 W":
    watt_from_ton, ton_from_watt, watt = ton * TON
}
pair! {
    "Power" in "W" and "mechanical horsepower", "1 hp = 550 ft lbf/s = 745.6999 W":
    watt_from_horsepower, horsepower_from_watt, watt = horsepower * HORSEPOWER
}
pair! {
    "Coefficient of performance" in "W/W" and "EER, Btu/h per W", "EER = 3.412142 COP":
    cop_from_eer, eer_from_cop, cop = eer / EER_PER_COP
}

/// Coefficient of performance in W/W from the power per capacity in kW/ton: COP = 3.516853/(kW/ton).
///
/// Infinite at zero. The way back is [`kw_per_ton_from_cop`]. Say which power is meant: compression, shaft,
/// motor input or drive input.
#[inline]
#[must_use]
pub const fn cop_from_kw_per_ton(kw_per_ton: f64) -> f64 {
    TON / 1000.0 / kw_per_ton
}

/// Power per capacity in kW/ton from the coefficient of performance in W/W: kW/ton = 3.516853/COP.
///
/// Infinite at zero. The way back is [`cop_from_kw_per_ton`].
#[inline]
#[must_use]
pub const fn kw_per_ton_from_cop(cop: f64) -> f64 {
    TON / 1000.0 / cop
}

"""Units of trend columns: how they are declared, turned into SI, and shown to people."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from interstage import _core, units
from interstage._arrays import as_number
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

_TEMPERATURE: dict[str, Callable[[Any], Any]] = {
    "K": lambda value: value,
    "degC": units.kelvin_from_celsius,
    "degF": units.kelvin_from_fahrenheit,
}
_ABSOLUTE: dict[str, Callable[[Any], Any]] = {
    "Pa": lambda value: value,
    "kPa": units.pascal_from_kilopascal,
    "bar": units.pascal_from_bar,
    "psia": units.pascal_from_psia,
    "inHg absolute": units.pascal_from_inhg_absolute,
}
_GAUGE: dict[str, Callable[[Any, Any], Any]] = {
    "psig": units.pascal_from_psig,
    "kPa gauge": units.pascal_from_kilopascal_gauge,
    "bar gauge": units.pascal_from_bar_gauge,
    "inHg vacuum": units.pascal_from_inhg_vacuum,
    "inHg gauge": units.pascal_from_inhg_gauge,
}
_FLOW: dict[str, Callable[[Any], Any]] = {
    "m3/s": lambda value: value,
    "m3/h": units.cubic_meter_per_second_from_cubic_meter_per_hour,
    "L/s": units.cubic_meter_per_second_from_liter_per_second,
    "gpm": units.cubic_meter_per_second_from_gpm,
}
_POWER: dict[str, Callable[[Any], Any]] = {
    "W": lambda value: value,
    "kW": units.watt_from_kilowatt,
    "hp": units.watt_from_horsepower,
    "ton": units.watt_from_ton,
    "Btu/h": units.watt_from_btu_per_hour,
}
_BY_SI: dict[str, dict[str, Callable[[Any], Any]]] = {
    "K": _TEMPERATURE,
    "Pa": _ABSOLUTE,
    "m3/s": _FLOW,
    "W": _POWER,
}

_FAHRENHEIT_PER_KELVIN = units.fahrenheit_difference_from_kelvin_difference(1.0)

#: SI unit of a figure -> (unit shown, conversion) in either system; temperatures and their differences apart.
_SHOWN: dict[str, dict[str, tuple[str, Callable[[Any], Any]]]] = {
    "SI": {
        "K": ("degC", units.celsius_from_kelvin),
        "K difference": ("K", lambda value: value),
        "W": ("kW", units.kilowatt_from_watt),
        "W/K": ("kW/K", units.kilowatt_from_watt),
        "kg/s": ("kg/s", lambda value: value),
    },
    "I-P": {
        "K": ("degF", units.fahrenheit_from_kelvin),
        "K difference": ("F", units.fahrenheit_difference_from_kelvin_difference),
        "W": ("ton", units.ton_from_watt),
        "W/K": ("Btu/(h F)", lambda value: units.btu_per_hour_from_watt(value) / _FAHRENHEIT_PER_KELVIN),
        "kg/s": ("lb/min", units.pound_per_minute_from_kilogram_per_second),
    },
}
#: Powers that are no heat are shown in kW in both systems.
_POWERS = {"compression_power", "lost_power"}

#: Systems of units that figures are shown in.
SYSTEMS = tuple(_SHOWN)


#: Lowest and highest pressure around a gauge, Pa: higher than any mountain town and lower than any mine.
_ATMOSPHERE = (30e3, 120e3)

#: A vessel this little above the barometer, inHg, may read so in a column of vacuum.
_ABOVE_BAROMETER = 1.0


def to_si(si: str, unit: str, values: Any, barometer: Any = None) -> Any:
    """Turn a column into its SI unit; a gauge unit needs the pressure around the gauge (Pa).

    What is below absolute zero stays below it and is out of range, not missing.
    """
    turned = _GAUGE[unit](values, barometer) if unit in _GAUGE else _BY_SI[si][unit](values)
    known = ~np.isnan(values) if barometer is None or unit not in _GAUGE else ~np.isnan(values + barometer)
    return np.where(np.isnan(turned) & known, -1.0, turned)


def refuse_wrong_sign(column: str, unit: str, values: Any) -> None:
    """Refuse a column of vacuum that counts upward as a gauge does."""
    if unit != "inHg vacuum":
        return
    known = values[~np.isnan(values)]
    above = int(np.count_nonzero(known < -_ABOVE_BAROMETER))
    if 2 * above > known.size:
        reason = (
            f"{above} of {known.size} readings are below {-_ABOVE_BAROMETER:g}, so far above the barometer; "
            "a vacuum is positive here, and readings that are negative in a vacuum have the unit 'inHg gauge'"
        )
        arguments = f"column {column!r} and its unit 'inHg vacuum'"
        raise Inconsistent(f"{arguments} contradict each other: {reason}", arguments=arguments, reason=reason)


def barometer_column(unit: str, values: Any) -> tuple[Any, Any]:
    """Turn a barometer column into Pa.

    Returns
    -------
    (array, array)
        The pressures, NaN where there is none or it is no pressure of the atmosphere; and of each row whether
        it is that.
    """
    pressure = _ABSOLUTE[unit](values)
    lowest, highest = _ATMOSPHERE
    with np.errstate(invalid="ignore"):
        wrong = ~np.isnan(values) & ~((pressure >= lowest) & (pressure <= highest))
    return np.where(wrong, math.nan, pressure), wrong


def shown(figure: str, values: Any, system: str) -> tuple[str, Any]:
    """Convert a figure from SI to the units people read in a system of units.

    Parameters
    ----------
    figure : str
    values : array
        In SI.
    system : str
        ``"SI"`` or ``"I-P"``.

    Returns
    -------
    (str, array)
        The unit and the values in it.
    """
    unit, difference = _core._figure_unit(figure)
    key = "K difference" if difference else unit
    if figure in _POWERS:
        return "kW", units.kilowatt_from_watt(values)
    name, convert = _SHOWN[system].get(key, (unit, lambda same: same))
    return name, convert(values)


def declared(readings: Mapping[str, tuple[str, str]]) -> dict[str, tuple[str, str]]:
    """Check quantities and units; full names of quantities."""
    if not isinstance(readings, Mapping):
        raise WrongArgument(
            f"readings must be a mapping of quantity to (column, unit), got {type(readings).__name__}",
            argument="readings",
        )
    if not readings:
        raise WrongArgument("readings must declare at least one column", argument="readings")
    checked: dict[str, tuple[str, str]] = {}
    for quantity, pair in readings.items():
        if not isinstance(quantity, str):
            raise WrongArgument(
                f"readings: a quantity must be a text, got {type(quantity).__name__}", argument="readings"
            )
        name, si = _core._reading(quantity)
        if name in checked:
            raise WrongArgument(f"readings: {name} is declared twice", argument="readings")
        if (
            not isinstance(pair, (tuple, list))
            or len(pair) != 2
            or not all(isinstance(part, str) for part in pair)
        ):
            raise WrongArgument(
                f"readings[{quantity!r}] must be (column, unit), got {pair!r}", argument="readings"
            )
        column, unit = pair
        known = [*_BY_SI[si], *(_GAUGE if si == "Pa" else ())]
        if unit not in known:
            raise UnknownOption(
                f"unit of {quantity} must be one of {', '.join(known)}, got {unit!r}",
                argument=quantity,
                value=unit,
                options=tuple(known),
            )
        checked[name] = (column, unit)
    return checked


def _single(argument: str, wanted: str, value: Any) -> float:
    """Give a single number, refuse everything else by name."""
    try:
        number = as_number(argument, value)
    except WrongArgument:
        number = None
    if number is None:
        raise WrongArgument(f"{argument} must be {wanted}, got {value!r}", argument=argument)
    return number


def barometer_of(
    readings: Mapping[str, tuple[str, str]],
    barometer: float | tuple[str, str] | list[str] | None,
    altitude: float | None,
) -> float | tuple[str, str] | None:
    """Where the pressure around the gauges comes from."""
    if barometer is not None and altitude is not None:
        raise WrongArgument("give barometer or altitude, not both", argument="barometer, altitude")
    if isinstance(barometer, (tuple, list)):
        if len(barometer) != 2 or not all(isinstance(part, str) for part in barometer):
            raise WrongArgument(
                f"barometer must be a number of Pa or (column, unit), got {barometer!r}", argument="barometer"
            )
        column, unit = barometer
        if unit not in _ABSOLUTE:
            raise UnknownOption(
                f"unit of barometer must be one of {', '.join(_ABSOLUTE)}, got {unit!r}",
                argument="barometer",
                value=unit,
                options=tuple(_ABSOLUTE),
            )
        return column, unit
    if altitude is not None:
        altitude = _single("altitude", "a number of m", altitude)
        pressure = units.standard_barometer_from_altitude(altitude)
        if math.isnan(pressure):
            reason = f"{altitude} m is not between -5000 m and 11000 m"
            raise Inconsistent(
                f"altitude is outside the standard atmosphere: {reason}", arguments="altitude", reason=reason
            )
        return float(pressure)
    if barometer is not None:
        barometer = _single("barometer", "a number of Pa or (column, unit)", barometer)
        lowest, highest = _ATMOSPHERE
        if not lowest <= barometer <= highest:
            reason = f"{barometer:g} Pa is not between {lowest:g} Pa and {highest:g} Pa"
            raise Inconsistent(
                f"barometer is no pressure of the atmosphere: {reason}", arguments="barometer", reason=reason
            )
        return float(barometer)
    gauge = [f"{name} [{unit}]" for name, (_, unit) in readings.items() if unit in _GAUGE]
    if gauge:
        raise WrongArgument(
            f"{', '.join(gauge)}: a gauge unit needs barometer= (Pa) or altitude= (m)", argument="barometer"
        )
    return None

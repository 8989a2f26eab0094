"""Units of trend columns: how they are declared, turned into SI, and shown to people."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from interstage import _core, units
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
_POWERS = {"compression_power"}

#: Systems of units that figures are shown in.
SYSTEMS = tuple(_SHOWN)


def to_si(si: str, unit: str, values: Any, barometer: Any = None) -> Any:
    """Turn a column into its SI unit; a gauge unit needs the pressure around the gauge (Pa)."""
    if unit in _GAUGE:
        return _GAUGE[unit](values, barometer)
    return _BY_SI[si][unit](values)


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
    checked: dict[str, tuple[str, str]] = {}
    for quantity, pair in readings.items():
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


def barometer_of(
    readings: Mapping[str, tuple[str, str]], barometer: float | tuple[str, str] | None, altitude: float | None
) -> float | tuple[str, str] | None:
    """Where the pressure around the gauges comes from."""
    if barometer is not None and altitude is not None:
        raise WrongArgument("give barometer or altitude, not both", argument="barometer, altitude")
    if isinstance(barometer, tuple):
        if len(barometer) != 2 or barometer[1] not in _ABSOLUTE:
            raise UnknownOption(
                f"unit of the barometer must be one of {', '.join(_ABSOLUTE)}, got {barometer!r}",
                argument="barometer",
                value=str(barometer),
                options=tuple(_ABSOLUTE),
            )
        return barometer
    if altitude is not None:
        pressure = units.standard_barometer_from_altitude(altitude)
        if math.isnan(pressure):
            reason = f"{altitude} m is not between -5000 m and 11000 m"
            raise Inconsistent(
                f"altitude is outside the standard atmosphere: {reason}", arguments="altitude", reason=reason
            )
        return float(pressure)
    if barometer is not None:
        if not 30e3 <= barometer <= 120e3:
            reason = f"{barometer} Pa is not between 30000 Pa and 120000 Pa"
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

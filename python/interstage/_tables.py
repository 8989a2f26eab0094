"""Tables for people: HTML and data frames, each column with its unit in its name."""

from __future__ import annotations

import html
from collections.abc import Callable, Iterable, Mapping
from importlib import import_module
from typing import Any

import numpy as np

from interstage import _core
from interstage.errors import UnknownOption


def _same(value: Any) -> Any:
    return value


#: A ton of refrigeration is 200 Btu/min by definition.
_BTU_PER_MINUTE_OF_TON = 200.0


def _btu_per_minute(watt: Any) -> Any:
    return _core.ton_from_watt(watt) * _BTU_PER_MINUTE_OF_TON


def _cubic_foot_per_pound(cubic_meter_per_kilogram: Any) -> Any:
    return 1.0 / _core.pound_per_cubic_foot_from_kilogram_per_cubic_meter(1.0 / cubic_meter_per_kilogram)


#: Quantity -> system of units -> unit shown and the conversion to it from SI base units.
_SHOWN: dict[str, dict[str, tuple[str, Callable[[Any], Any]]]] = {
    "T": {"SI": ("degC", _core.celsius_from_kelvin), "I-P": ("degF", _core.fahrenheit_from_kelvin)},
    "p": {"SI": ("kPa", _core.kilopascal_from_pascal), "I-P": ("psia", _core.psia_from_pascal)},
    "rho": {
        "SI": ("kg/m3", _same),
        "I-P": ("lb/ft3", _core.pound_per_cubic_foot_from_kilogram_per_cubic_meter),
    },
    "v": {"SI": ("m3/kg", _same), "I-P": ("ft3/lb", _cubic_foot_per_pound)},
    "h": {
        "SI": ("kJ/kg", _core.kilojoule_per_kilogram_from_joule_per_kilogram),
        "I-P": ("Btu/lb", _core.btu_per_pound_from_joule_per_kilogram),
    },
    "s": {
        "SI": ("kJ/(kg K)", _core.kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin),
        "I-P": ("Btu/(lb R)", _core.btu_per_pound_rankine_from_joule_per_kilogram_kelvin),
    },
    "mass_flow": {"SI": ("kg/s", _same), "I-P": ("lb/min", _core.pound_per_minute_from_kilogram_per_second)},
    "power": {"SI": ("kW", _core.kilowatt_from_watt), "I-P": ("kW", _core.kilowatt_from_watt)},
    "capacity": {"SI": ("kW", _core.kilowatt_from_watt), "I-P": ("ton", _core.ton_from_watt)},
    # Of the terms of a balance: mass flow times enthalpy in the units of these.
    "energy_flow": {"SI": ("kW", _core.kilowatt_from_watt), "I-P": ("Btu/min", _btu_per_minute)},
    "quality": {"SI": ("", _same), "I-P": ("", _same)},
    "volume_flow": {"SI": ("m3/s", _same), "I-P": ("cfm", _core.cfm_from_cubic_meter_per_second)},
    "temperature_difference": {
        "SI": ("K", _same),
        "I-P": ("F", _core.fahrenheit_difference_from_kelvin_difference),
    },
}
for _name in ("u", "latent_heat", "refrigerating_effect", "liquid h", "vapor h"):
    _SHOWN[_name] = _SHOWN["h"]
for _name in ("evaporating_temperature", "condensing_temperature", "discharge_temperature"):
    _SHOWN[_name] = _SHOWN["T"]

#: Systems of units that tables are shown in.
SYSTEMS = ("SI", "I-P")

#: Most rows of a table that a notebook shows.
MOST_ROWS = 10


def unit_shown(quantity: str, units: str) -> tuple[str, Callable[[Any], Any]]:
    """Give the unit that a quantity is shown in, and the conversion to it from SI."""
    return _SHOWN[quantity][units]


def columns_for(data: Mapping[str, Any], units: str) -> dict[str, Any]:
    """Convert columns of SI base units to those of a system, with the unit in the name of each.

    Parameters
    ----------
    data : mapping of str to sequence
        Names of quantities -> values in SI base units.
    units : {"SI", "I-P"}

    Returns
    -------
    dict
    """
    if units not in SYSTEMS:
        message = f"units must be 'SI' or 'I-P', got {units!r}"
        raise UnknownOption(message, argument="units", value=units, options=SYSTEMS)
    shown = {}
    for name, values in data.items():
        if name in _SHOWN:
            unit, convert = _SHOWN[name][units]
            shown[f"{name} [{unit}]"] = convert(np.asarray(values, dtype=np.float64))
        else:
            shown[name] = values
    return shown


def _text(value: Any) -> str:
    if value is None or (isinstance(value, (float, np.floating)) and np.isnan(value)):
        return ""
    return f"{value:.6g}" if isinstance(value, (float, np.floating)) else str(value)


def _html(columns: Mapping[str, Iterable[Any]], caption: str) -> str:
    head = "".join(f"<th>{html.escape(name)}</th>" for name in columns)
    rows = "".join(
        "<tr>" + "".join(f"<td>{html.escape(_text(value))}</td>" for value in row) + "</tr>"
        for row in zip(*columns.values(), strict=True)
    )
    caption = f"<caption>{html.escape(caption)}</caption>" if caption else ""
    return f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def rows_html(columns: Mapping[str, Iterable[Any]], caption: str) -> str:
    """Write columns that carry their units already as a table."""
    return _html(columns, caption)


def columns_html(data: Mapping[str, Any], caption: str) -> str:
    """Write the first rows of columns as HTML."""
    return _html(columns_for({name: values[:MOST_ROWS] for name, values in data.items()}, "SI"), caption)


def _one_row(value: Any, names: Iterable[str]) -> dict[str, list[Any]]:
    return {name: [getattr(value, name)] for name in names}


def state_html(state: _core.State) -> str:
    """Write a state as a table of one row."""
    data = _one_row(state, ("phase", "T", "p", "rho", "h", "s", "u", "x"))
    return _html(columns_for(data, "SI"), state.refrigerant.name)


def saturation_html(saturation: _core.Saturation) -> str:
    """Write a saturation as a table of two rows."""
    data = {"phase": ["liquid", "vapor"]}
    for name in ("T", "p", "rho", "h", "s", "u"):
        data[name] = [getattr(saturation.liquid, name), getattr(saturation.vapor, name)]
    return _html(columns_for(data, "SI"), saturation.refrigerant.name)


def points_html(points: _core.Points, units: str) -> str:
    """Write the points of a cycle as a table."""
    return _html(columns_for(points.to_dict(), units), "")


def points_frame(points: _core.Points, units: str) -> Any:
    """Give the points of a cycle as a pandas DataFrame."""
    pandas = import_module("pandas")

    return pandas.DataFrame(columns_for(points.to_dict(), units)).set_index("point")


def cycle_html(cycle: _core.Cycle) -> str:
    """Write the main figures of a cycle and its points as two tables."""
    figures = (
        "evaporating_temperature",
        "condensing_temperature",
        "cop",
        "capacity",
        "power",
        "refrigerating_effect",
        "economizer_benefit",
        "discharge_temperature",
    )
    first = _html(columns_for(_one_row(cycle, figures), "SI"), cycle.refrigerant.name)
    return first + points_html(cycle.points, "SI")

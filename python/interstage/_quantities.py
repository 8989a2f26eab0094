"""What a column of a trend export may hold, in which units, and what can be its value at all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

import numpy as np

from interstage import _core, units
from interstage._declared import _BY_SI, _GAUGE, to_si
from interstage.errors import InterstageError, UnknownOption

if TYPE_CHECKING:
    from interstage._water_loop import WaterLoop

_Convert = Callable[[Any], Any]


def _same(value: Any) -> Any:
    return value


def _thousands(value: Any) -> Any:
    return value * 1e3


def _hundredths(value: Any) -> Any:
    return value / 100.0


#: Quantities that `Trend` does not know: name -> SI unit, or what stands for one.
_OTHERS = {
    "suction_superheat": "K difference",
    "discharge_superheat": "K difference",
    "liquid_subcooling": "K difference",
    "oil_temperature": "K",
    "oil_pressure": "Pa",
    "outdoor_temperature": "K",
    "motor_current": "A",
    "motor_voltage": "V",
    "power_factor": "fraction",
    "percent_of_rated_current": "fraction",
    "vane_position": "fraction",
    "evaporator_liquid_level": "fraction",
    "shaft_speed": "1/s",
    "purge_pump_time": "s",
}

#: SI unit -> unit that may be declared -> conversion.
UNITS: dict[str, dict[str, _Convert]] = {
    **_BY_SI,
    "K difference": {
        "K difference": _same,
        "F difference": units.kelvin_difference_from_fahrenheit_difference,
    },
    "A": {"A": _same},
    "V": {"V": _same, "kV": _thousands},
    "fraction": {"fraction": _same, "percent": _hundredths},
    "1/s": {"1/s": _same, "1/min": lambda value: value / 60.0},
    "s": {"s": _same, "min": lambda value: value * 60.0, "h": lambda value: value * 3600.0},
}

_DIFFERENCES = ("K difference", "F difference")


@dataclass(frozen=True)
class Quantity:
    """One quantity: its full name and the SI unit of its values."""

    name: str
    si: str
    #: Whether `Trend` analyses it.
    analysed: bool


def quantity(name: str) -> Quantity:
    """Look a quantity up, with the nearest names where there is none."""
    if name in _OTHERS:
        return Quantity(name, _OTHERS[name], False)
    try:
        full, si = _core._reading(name)
    except InterstageError as error:
        known = (*getattr(error, "options", ()), *_OTHERS)
        near = get_close_matches(name, known, n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else f"it is one of {', '.join(known)}"
        if "load" in name and "current" in name:
            hint = "percent of rated current is percent_of_rated_current, and no load"
        raise UnknownOption(
            f"unknown quantity {name!r}; {hint}", argument="quantity", value=name, options=known
        ) from None
    return Quantity(full, si, True)


def known_units(si: str) -> tuple[str, ...]:
    """List the units that a quantity of this kind may be declared in."""
    return (*UNITS[si], *(_GAUGE if si == "Pa" else ()))


def all_units() -> set[str]:
    """Every unit there is."""
    return {unit for si in UNITS for unit in known_units(si)}


def check_unit(name: str, si: str, unit: Any) -> None:
    """Refuse a unit that does not fit, and say what is meant by it."""
    known = known_units(si)
    if unit in known:
        return
    hint = ""
    if si == "K" and unit in _DIFFERENCES:
        hint = f": {unit} is a difference of temperatures, and {name} is a temperature"
    elif si == "K difference" and unit in UNITS["K"]:
        hint = f": {unit} is a temperature, and {name} is a difference of temperatures"
    elif si == "Pa" and unit in ("psi", "inHg", "kg/cm2"):
        hint = f": {unit} does not say whether it is gauge or absolute"
    elif si == "W" and unit in ("percent", "fraction", "A"):
        hint = f": {unit} is no power and no load, also where it is percent of rated current"
    raise UnknownOption(
        f"unit of {name} must be one of {', '.join(known)}, got {unit!r}{hint}",
        argument=name,
        value=str(unit),
        options=known,
    )


def is_gauge(unit: str) -> bool:
    """Whether a unit of pressure counts from the barometer."""
    return unit in _GAUGE


def converted(si: str, unit: str, values: Any, barometer: Any) -> Any:
    """Turn a column into its SI unit."""
    if si in _BY_SI:
        return to_si(si, unit, values, barometer)
    return UNITS[si][unit](values)


#: Lowest and highest value that a reading can have, SI; beyond it an instrument is broken or a message was
#: lost. Those of refrigerant and water are narrower and stand in `limits`. Common practice, no published
#: source.
_LIMITS = {
    "K": (200.0, 500.0),
    "K difference": (-50.0, 150.0),
    "Pa": (0.0, 2e7),
    "m3/s": (0.0, 10.0),
    "A": (0.0, 1e4),
    "V": (0.0, 2e4),
    "fraction": (0.0, 1.5),
    "1/s": (0.0, 2000.0),
    "s": (0.0, np.inf),
}
#: Highest power, W: an order of magnitude above the largest chillers.
_HIGHEST_POWER = 1e8
#: Range of water temperatures, K: just above freezing to well below boiling; and of a brine, down to -35
#: degC.
_WATER = (273.16, 393.15)
_BRINE = (238.15, 393.15)


def limits(name: str, si: str, refrigerant: Any = None, loop: WaterLoop | None = None) -> tuple[float, float]:
    """What a reading can be at all, SI: by its kind, the refrigerant and the water."""
    if "water" in name and si == "K":
        if loop is None or loop.plain:
            return _WATER
        return max(_BRINE[0], loop.freezing_temperature or 0.0), _BRINE[1]
    if si == "W":
        return -np.inf, _HIGHEST_POWER
    if refrigerant is not None and name not in _OTHERS:
        if si == "Pa":
            return refrigerant.minimum_saturation_pressure, refrigerant.critical_pressure
        if si == "K" and ("saturation" in name or "tank" in name):
            return refrigerant.minimum_saturation_temperature, refrigerant.critical_temperature
        if si == "K":
            return refrigerant.minimum_temperature, refrigerant.maximum_temperature
    return _LIMITS[si]

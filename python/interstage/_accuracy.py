"""How far instruments may err: each by itself, and several alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage import _core, units
from interstage._declared import _BY_SI
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["Accuracy", "CommonBias"]

#: Half widths are of intervals that hold the true value with 95 %, of a normal distribution.
COVERAGE = 1.96

#: SI unit of a reading -> unit of an error -> its size in SI. An error is a difference, never a level.
_ERROR_UNITS: dict[str, dict[str, float]] = {
    "K": {"K": 1.0, "F": units.kelvin_difference_from_fahrenheit_difference(1.0)},
    "Pa": {
        "Pa": 1.0,
        "kPa": units.pascal_difference_from_kilopascal_difference(1.0),
        "bar": units.pascal_difference_from_bar_difference(1.0),
        "psi": units.pascal_difference_from_psi_difference(1.0),
        "inHg": units.pascal_from_inhg_absolute(1.0),
    },
    **{si: {unit: float(convert(1.0)) for unit, convert in _BY_SI[si].items()} for si in ("m3/s", "W")},
}
#: Units of an error relative to the reading.
_RELATIVE = {"percent": 0.01, "fraction": 1.0}


def _half_width(argument: str, value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float, np.integer, np.floating)):
        raise WrongArgument(f"{argument} must be a number, got {value!r}", argument=argument)
    if not 0.0 <= value < np.inf:
        reason = f"{value!r} is no half width"
        raise Inconsistent(f"{argument} must not be negative: {reason}", arguments=argument, reason=reason)
    return float(value)


@dataclass(frozen=True)
class Accuracy:
    """How far an instrument may err: half widths of 95 % intervals.

    Parameters
    ----------
    bias : float
        What stays the same from row to row: calibration, place, installation.
    random : float, optional
        What changes from row to row.
    unit : str
        K, F; Pa, kPa, bar, psi, inHg; m3/s, m3/h, L/s, gpm; W, kW, hp, ton, Btu/h; or relative to the
        reading: percent, fraction.

    Examples
    --------
    >>> import interstage
    >>> interstage.Accuracy(2.0, unit="percent"), interstage.Accuracy(0.1, random=0.02, unit="K")
    (Accuracy(bias=2.0, random=0.0, unit='percent'), Accuracy(bias=0.1, random=0.02, unit='K'))
    """

    bias: float
    random: float = 0.0
    unit: str = ""

    def __post_init__(self) -> None:
        _half_width("bias", self.bias)
        _half_width("random", self.random)
        if not isinstance(self.unit, str) or not self.unit:
            raise WrongArgument(
                f"unit must say what bias and random count, such as 'K' or 'percent', got {self.unit!r}",
                argument="unit",
            )


@dataclass(frozen=True)
class CommonBias:
    """A bias that several readings share: a barometer, a bath that a pair of thermometers was matched in.

    Parameters
    ----------
    readings : sequence of str
        They all err by the same amount, or by the same share of their values.
    bias : float
        Half width of its 95 % interval, beside the own bias of each instrument.
    unit : str
        As in `Accuracy`.
    name : str, optional
        What it is called in the shares.
    """

    readings: Sequence[str]
    bias: float
    unit: str
    name: str = "common bias"

    def __post_init__(self) -> None:
        if (
            isinstance(self.readings, str)
            or not isinstance(self.readings, Sequence)
            or len(self.readings) < 2
        ):
            raise WrongArgument(
                f"readings of a common bias must be two or more names, got {self.readings!r}",
                argument="readings",
            )
        _half_width("bias", self.bias)


def _scale(name: str, unit: str) -> tuple[float, bool]:
    """Size of the unit of an error of a reading, and whether it is relative."""
    _, si = _core._reading(name)
    if unit in _RELATIVE:
        if si == "K":
            raise WrongArgument(
                f"{name}: an error of a temperature is not a share of it, give it in K or F", argument=name
            )
        return _RELATIVE[unit], True
    known = [*_ERROR_UNITS[si], *(_RELATIVE if si != "K" else ())]
    if unit not in _ERROR_UNITS[si]:
        raise UnknownOption(
            f"unit of the error of {name} must be one of {', '.join(known)}, got {unit!r}",
            argument=name,
            value=unit,
            options=tuple(known),
        )
    return _ERROR_UNITS[si][unit], False

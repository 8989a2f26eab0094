"""Figures beside those of a row: ranges and flows of the waters, and pressure above that of the liquid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage._departures import DRIFT
from interstage._uncertain_figures import UncertainFigures
from interstage.errors import Inconsistent, InterstageError

FloatArray = npt.NDArray[np.float64]

#: Figure -> its SI unit.
UNITS = {
    "condenser_water_range": "K",
    "chilled_water_range": "K",
    "condenser_water_flow": "m3/s",
    "chilled_water_flow": "m3/s",
    "apparent_gas_pressure": "Pa",
}

#: Water -> sums of figures that tell its heat without its flow.
_HEATS: dict[str, tuple[tuple[str, ...], ...]] = {
    "condenser_water": (("refrigerant_heat_rejected",), ("capacity", "power")),
    "chilled_water": (("capacity_from_power",), ("capacity",)),
}

#: A range is known well enough for a flow from this many of its standard uncertainties on.
_KNOWN = 3.0


@dataclass(frozen=True)
class Beside:
    """A figure in every row with its derivatives to the readings, SI."""

    values: FloatArray
    slopes: FloatArray
    #: What it follows from, where it is not read.
    by: str = ""
    #: How far it wanders without a fault as a fraction, where that is not the one of its name.
    wander: float | None = None


def beside(told: UncertainFigures, figure: str) -> Beside:
    """Tell a figure of `UNITS` from the readings.

    Raises
    ------
    Inconsistent
        If the readings do not tell it, with what is lacking.
    """
    water, _, what = figure.rpartition("_")
    if figure == "apparent_gas_pressure":
        return _gas(told)
    if what == "range":
        return _range(told, water)
    if figure in told.uncertainty.accuracies:
        return Beside(*_reading(told, figure))
    return _flow(told, water)


def _refused(reason: str) -> Inconsistent:
    return Inconsistent(reason, arguments="figure and readings", reason=reason)


def _reading(told: UncertainFigures, name: str) -> tuple[FloatArray, FloatArray]:
    names = list(told.uncertainty.accuracies)
    slopes = np.zeros((len(told), len(names)))
    slopes[:, names.index(name)] = 1.0
    return told._readings[:, names.index(name)], slopes


def _needs(told: UncertainFigures, names: Sequence[str]) -> None:
    lacking = [name for name in names if name not in told.uncertainty.accuracies]
    if lacking:
        raise _refused(f"needs {' and '.join(lacking)}")


def _range(told: UncertainFigures, water: str) -> Beside:
    """Water leaving less water entering, or the other way where it is cooled."""
    ends = f"{water}_entering", f"{water}_leaving"
    _needs(told, ends)
    (entering, by_entering), (leaving, by_leaving) = (_reading(told, end) for end in ends)
    sign = -1.0 if water == "chilled_water" else 1.0
    return Beside(sign * (leaving - entering), sign * (by_leaving - by_entering))


def _flow(told: UncertainFigures, water: str) -> Beside:
    """A flow that is not read: heat that something else tells, per range and heat capacity."""
    try:
        range_ = _range(told, water)
    except Inconsistent as error:
        raise _refused(f"needs {water}_flow, or its range and its heat: the range {error.reason}") from None
    variance = _variance(told, range_.slopes)
    found: list[tuple[float, Beside]] = []
    lacking = []
    for parts in _HEATS[water]:
        try:
            heat, by_heat = (sum(sides) for sides in zip(*(_heat(told, part) for part in parts), strict=True))
        except Inconsistent as error:
            lacking.append(error.reason)
            continue
        with np.errstate(invalid="ignore", divide="ignore"):
            known = (range_.values > _KNOWN * np.sqrt(variance)) & (heat > 0.0)
            flow = np.where(known, heat / (_unit_flow(told, water) * range_.values), np.nan)
            by = flow[:, None] * (by_heat / heat[:, None] - range_.slopes / range_.values[:, None])
        if not np.isfinite(by).all(axis=1).any():
            lacking.append(f"none of the rows tells {' and '.join(parts)} beside a range that is clear")
            continue
        usable = np.isfinite(by).all(axis=1)
        mean = float(range_.values[usable].mean())
        wander = float(np.hypot(DRIFT["heat_balance"][1], DRIFT[f"{water}_range"][1] / mean))
        relative = float(np.median(np.sqrt(_variance(told, by)[usable]) / flow[usable]))
        found.append((relative, Beside(flow, by, f"{water}_range and {' + '.join(parts)}", wander)))
    if not found:
        raise _refused(f"needs {water}_flow, or its range and its heat: {'; '.join(lacking)}")
    return min(found, key=lambda one: one[0])[1]


def _heat(told: UncertainFigures, part: str) -> tuple[Any, Any]:
    """A figure, or a reading, with its derivatives."""
    if part in told.uncertainty.accuracies:
        return _reading(told, part)
    if part in told.figures:
        return told.result._values(part), told._at(part)
    if part not in told.result.figures:
        raise _refused(f"needs {part}")
    why = told.result.unavailable.get(part)
    raise _refused(f"{part} {why}" if why else f"no interval of {part} was asked for")


def _variance(told: UncertainFigures, slopes: FloatArray) -> FloatArray:
    total: FloatArray = (told._biases(slopes) ** 2 + told._randoms(slopes) ** 2).sum(axis=1)
    return total


def _unit_flow(told: UncertainFigures, water: str) -> float:
    """Heat capacity rate of 1 m3/s at the usual temperatures, W/K."""
    ends = f"{water}_entering", f"{water}_leaving"
    entering, leaving = (float(np.nanmedian(_reading(told, end)[0])) for end in ends)
    try:
        flow = told.uncertainty.trend._loops[water]._flow(1.0, entering)
        return flow.capacity_rate(entering, leaving)
    except InterstageError as error:
        raise _refused(f"a flow follows from the range of a liquid only: {error}") from None


def _gas(told: UncertainFigures) -> Beside:
    """Pressure in the condenser less saturation pressure at the temperature of the liquid line."""
    accuracies = told.uncertainty.accuracies
    _needs(told, ["liquid_line_temperature"])
    liquid, by_liquid = _reading(told, "liquid_line_temperature")
    saturated, slope = _saturation_pressure(told, liquid)
    if "condenser_pressure" in accuracies:
        pressure, by_pressure = _reading(told, "condenser_pressure")
    elif "condenser_saturation_temperature" in accuracies:
        condensing, by_condensing = _reading(told, "condenser_saturation_temperature")
        pressure, rise = _saturation_pressure(told, condensing)
        by_pressure = rise[:, None] * by_condensing
    else:
        raise _refused("needs condenser_pressure or condenser_saturation_temperature")
    return Beside(pressure - saturated, by_pressure - slope[:, None] * by_liquid)


def _saturation_pressure(told: UncertainFigures, temperature: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Saturation pressure and its slope, by central differences of 0.01 K."""
    refrigerant = told.uncertainty.trend.circuit.refrigerant
    below, at, above = (
        np.asarray(refrigerant.saturation(T=temperature + step).p) for step in (-0.01, 0.0, 0.01)
    )
    return at, (above - below) / 0.02

"""Lines of a property diagram: where the dome and the lines of one property run."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core

FloatArray = npt.NDArray[np.float64]

#: Points of a line.
_POINTS = 160

#: How close the curves of the dome come to the end of the saturation line, as a share of its temperature.
_END = 1.0 - 1e-6

#: Names of the properties a line carries, SI units.
PROPERTIES = ("T", "p", "rho", "h", "s")


@dataclass(frozen=True)
class Line:
    """Points of one line: the properties at each, SI units; NaN where there is none."""

    value: float
    columns: dict[str, FloatArray]


def _columns(states: Any) -> dict[str, FloatArray]:
    return {name: np.asarray(getattr(states, name), dtype=np.float64) for name in PROPERTIES}


def coldest_of(refrigerant: _core.Refrigerant) -> float:
    """Temperature where the saturation line begins, K."""
    return float(refrigerant.minimum_saturation_temperature)


def hottest_of(refrigerant: _core.Refrigerant) -> float:
    """Temperature just below the end of the saturation line, K."""
    end = float(refrigerant.critical_temperature) * _END
    if _is_saturated(refrigerant, end):
        return end
    low, high = coldest_of(refrigerant), end
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _is_saturated(refrigerant, middle) else (low, middle)
    return low


def _is_saturated(refrigerant: _core.Refrigerant, temperature: float) -> bool:
    status = refrigerant.saturation(T=np.array([temperature])).status
    return bool(np.asarray(status)[0] == 0)


def dome(refrigerant: _core.Refrigerant, coldest: float) -> tuple[Line, Line]:
    """Bubble and dew line from a temperature up, crowded toward the critical point."""
    hottest = hottest_of(refrigerant)
    crowded = 1.0 - np.linspace(1.0, 0.0, _POINTS) ** 2
    temperatures = coldest + (hottest - coldest) * crowded
    saturations = refrigerant.saturation(T=temperatures)
    return Line(0.0, _columns(saturations.liquid)), Line(1.0, _columns(saturations.vapor))


def quality(refrigerant: _core.Refrigerant, coldest: float, values: Iterable[float]) -> list[Line]:
    """Lines of constant quality, by the lever between bubble and dew line at the same pressure."""
    hottest = hottest_of(refrigerant)
    temperatures = coldest + (hottest - coldest) * np.linspace(0.0, 1.0, _POINTS)
    pressures = np.asarray(refrigerant.saturation(T=temperatures).vapor.p)
    lines = []
    for value in values:
        states = refrigerant.state(p=pressures, x=value)
        lines.append(Line(value, _columns(states)))
    return lines


def isotherms(
    refrigerant: _core.Refrigerant, values: Iterable[float], pressures: tuple[float, float]
) -> list[Line]:
    """Lines of constant temperature (K) between two pressures (Pa)."""
    lines = []
    for temperature in values:
        grid = np.geomspace(*pressures, _POINTS)
        columns = _columns(refrigerant.state(T=temperature, p=grid))
        saturation = refrigerant.saturation(T=np.array([temperature]))
        if np.asarray(saturation.status)[0] == 0:
            columns = _with_saturation(columns, saturation)
        lines.append(Line(temperature, columns))
    return lines


def _with_saturation(columns: dict[str, FloatArray], saturation: Any) -> dict[str, FloatArray]:
    """Put the two saturated states among the points, vapor (lower pressures) first."""
    ends = (_columns(saturation.vapor), _columns(saturation.liquid))
    dew, bubble = (float(end["p"][0]) for end in ends)
    below = columns["p"] < min(dew, bubble)
    above = columns["p"] > max(dew, bubble)
    return {
        name: np.concatenate([column[below], ends[0][name], ends[1][name], column[above]])
        for name, column in columns.items()
    }


def isentropes(
    refrigerant: _core.Refrigerant, values: Iterable[float], pressures: tuple[float, float]
) -> list[Line]:
    """Lines of constant entropy (J/(kg K)) between two pressures (Pa)."""
    grid = np.geomspace(*pressures, _POINTS)
    return [Line(value, _columns(refrigerant.state(p=grid, s=value))) for value in values]


def isobars(
    refrigerant: _core.Refrigerant, values: Iterable[float], entropies: tuple[float, float]
) -> list[Line]:
    """Lines of constant pressure (Pa) between two entropies (J/(kg K))."""
    grid = np.linspace(*entropies, _POINTS)
    return [Line(value, _columns(refrigerant.state(p=value, s=grid))) for value in values]


def isochores(
    refrigerant: _core.Refrigerant, values: Iterable[float], temperatures: tuple[float, float]
) -> list[Line]:
    """Lines of constant density (kg/m3) between two temperatures (K)."""
    grid = np.linspace(*temperatures, _POINTS)
    return [Line(value, _columns(refrigerant.state(T=grid, rho=value))) for value in values]


def round_steps(low: float, high: float, about: int) -> FloatArray:
    """Round values between two numbers, about as many as asked for."""
    span = high - low
    if not span > 0.0:
        return np.array([])
    rough = span / max(about, 1)
    power = 10.0 ** np.floor(np.log10(rough))
    step = next(factor * power for factor in (1.0, 2.0, 2.5, 5.0, 10.0) if factor * power >= rough * 0.999)
    return np.asarray(np.arange(np.ceil(low / step), np.floor(high / step) + 0.5) * step + 0.0)


def round_ratios(low: float, high: float, about: int) -> FloatArray:
    """Round values between two positive numbers, evenly spread over the logarithm."""
    decades = np.log10(high / low)
    factors = (1.0, 2.0, 5.0) if decades * 3 <= about * 1.5 else (1.0,)
    powers = np.arange(np.floor(np.log10(low)), np.ceil(np.log10(high)) + 1)
    values = np.sort(np.array([factor * 10.0**power for power in powers for factor in factors]))
    return values[(values >= low) & (values <= high)]


def ways(balance: dict[str, Any]) -> list[tuple[str, str]]:
    """Ways of the streams through a component: from which point to which.

    In exchangers each stream keeps to itself, and so does what a coil cools in a tank; else all that
    enters meets.
    """
    inlets, outlets = list(balance["inlets"]), list(balance["outlets"])
    if "exchanger" in balance["component"]:
        return list(zip(inlets, outlets, strict=True))
    if outlets and outlets[-1].endswith("cooled_liquid"):
        return [(inlets[-1], outlets[-1]), *((start, outlets[0]) for start in inlets[:-1])]
    return [(start, end) for start in inlets for end in outlets]


def process(cycle: _core.Cycle, component: str, start: str, end: str, points: int = 40) -> Line:
    """States on the way of a stream through a component, SI units.

    A stage is followed along its polytropic path, on which entropy rises about evenly with the logarithm of
    pressure; all else along even steps of enthalpy and of the logarithm of pressure.
    """
    one, other = cycle.points[start], cycle.points[end]
    share = np.linspace(0.0, 1.0, points)
    pressures = one.p * (other.p / one.p) ** share
    if component.startswith("stage_") and component.count("_") == 1:
        states = cycle.refrigerant.state(p=pressures, s=one.s + share * (other.s - one.s))
    else:
        states = cycle.refrigerant.state(p=pressures, h=one.h + share * (other.h - one.h))
    columns = _columns(states)
    for name in PROPERTIES:
        columns[name] = columns[name].copy()
        columns[name][0], columns[name][-1] = getattr(one, name), getattr(other, name)
    return Line(0.0, columns)

"""Lines of a property diagram: where the dome and the lines of one property run."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
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
    low = coldest_of(refrigerant)
    grid = np.linspace(low, end if end > low else float(refrigerant.maximum_temperature), _POINTS)[1:]
    there = np.asarray(refrigerant.saturation(T=grid).status) == 0
    first = int(np.argmin(there))
    low, high = float(grid[first - 1]) if first else low, float(grid[first])
    for _ in range(40):
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
            columns = _with_wet(refrigerant, columns, saturation, temperature)
        lines.append(Line(temperature, columns))
    return lines


def _with_wet(
    refrigerant: _core.Refrigerant, columns: dict[str, FloatArray], saturation: Any, temperature: float
) -> dict[str, FloatArray]:
    """Put the wet states between both saturated ones among the points, vapor (lower pressures) first."""
    dew, bubble = (float(np.asarray(end.p)[0]) for end in (saturation.vapor, saturation.liquid))
    # Without glide the wet part is a straight line in every diagram.
    qualities = np.linspace(1.0, 0.0, 2 if abs(bubble / dew - 1.0) < 1e-9 else 21)
    wet = _columns(refrigerant.state(T=np.full(len(qualities), temperature), x=qualities))
    below, above = columns["p"] < min(dew, bubble), columns["p"] > max(dew, bubble)
    return {
        name: np.concatenate([column[below], wet[name], column[above]]) for name, column in columns.items()
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


def isenthalps(
    refrigerant: _core.Refrigerant, values: Iterable[float], pressures: tuple[float, float]
) -> list[Line]:
    """Lines of constant enthalpy (J/kg) between two pressures (Pa)."""
    grid = np.geomspace(*pressures, _POINTS)
    return [Line(value, _columns(refrigerant.state(p=grid, h=value))) for value in values]


def dry_part(refrigerant: _core.Refrigerant, isotherm: Line, highest: float) -> Line:
    """Leave of an isotherm what lies at pressures up to the dew point, or the highest above the dome."""
    saturation = refrigerant.saturation(T=np.array([isotherm.value]))
    dew = float(np.asarray(saturation.vapor.p)[0])
    # The saturated vapor follows on what is superheated.
    dry = int((isotherm.columns["p"] < (highest if np.isnan(dew) else dew)).sum()) + 1
    return Line(isotherm.value, {name: column[:dry] for name, column in isotherm.columns.items()})


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


#: Round numbers of a decade, from few to many.
_DECADES = (
    (1.0,),
    (1.0, 2.0, 5.0),
    (1.0, 1.5, 2.0, 3.0, 5.0, 7.0),
    (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0),
)


def round_ratios(low: float, high: float, about: int) -> FloatArray:
    """Round values between two positive numbers, evenly spread over the logarithm, not many more than asked
    for.
    """
    if not high > low > 0.0:
        return np.array([])
    powers = np.arange(np.floor(np.log10(low)), np.ceil(np.log10(high)) + 1)
    values = np.array([])
    for factors in _DECADES:
        found = np.sort(np.array([factor * 10.0**power for power in powers for factor in factors]))
        found = found[(found >= low) & (found <= high)]
        if len(values) and len(found) > 1.4 * about:
            break
        values = found
    if 3 * len(values) >= about:
        return values
    steps = round_steps(low, high, about)
    return steps[steps > 0.0] if len(steps) > len(values) else values


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


def is_throttled_first(component: str, start: str) -> bool:
    """Tell whether a stream is throttled before it does what it is drawn for: liquid that cools a motor, and
    hot gas on its way to the evaporator.
    """
    return component == "motor" or start == "hot_gas_bypass"


def process(cycle: _core.Cycle, component: str, start: str, end: str, points: int = 41) -> Line:
    """States on the way of a stream through a component, SI units.

    A stage is followed along its polytropic path, on which entropy rises about evenly with the logarithm of
    pressure; all else along even steps of enthalpy and of the logarithm of pressure. Where a stream changes
    its composition, by meeting another or in a tank that parts a blend, the way is straight.
    """
    one, other = cycle.points[start], cycle.points[end]
    share = np.linspace(0.0, 1.0, points)
    compositions = cycle.compositions
    if compositions is None:
        stream = Stream(cycle.refrigerant)
    elif _is_same(compositions[start], compositions[end]):
        stream = Stream.of(cycle.refrigerant, compositions[start], one)
    else:
        return Line(0.0, {name: _straight(name, one, other, share) for name in PROPERTIES})
    if component.startswith("stage_") and component.count("_") == 1:
        columns = stream.states(p=_between(one.p, other.p, share), s=one.s + share * (other.s - one.s))
    elif is_throttled_first(component, start):
        # First down to the pressure of what it meets, then on at that pressure.
        further = np.maximum(2.0 * share - 1.0, 0.0)
        pressures = np.maximum(_between(one.p, other.p, 2.0 * share), other.p)
        columns = stream.states(p=pressures, h=one.h + further * (other.h - one.h))
    else:
        share = np.sort(np.concatenate([share, _corners(stream, one, other)]))
        columns = stream.states(p=_between(one.p, other.p, share), h=one.h + share * (other.h - one.h))
    for name in PROPERTIES:
        columns[name][0], columns[name][-1] = getattr(one, name), getattr(other, name)
    return Line(0.0, columns)


#: Steps of mass fractions that a parted stream is drawn by.
_FRACTION = 1e-3


@dataclass(frozen=True)
class Stream:
    """What flows, with what is added to its enthalpy and entropy to count from where the cycle does."""

    refrigerant: _core.Refrigerant
    h: float = 0.0
    s: float = 0.0

    @classmethod
    def of(cls, refrigerant: _core.Refrigerant, composition: dict[str, float], point: Any) -> Stream:
        """A stream of a composition, known at a point; that of the refrigerant is the refrigerant."""
        if _is_same(composition, refrigerant.composition or composition):
            return cls(refrigerant)
        steps = {name: round(fraction / _FRACTION) for name, fraction in composition.items()}
        blend = _blend(tuple(steps.items()))
        wet = point.x is not None
        there: Any = blend.state(p=point.p, x=point.x) if wet else blend.state(p=point.p, T=point.T)
        return cls(blend, point.h - there.h, point.s - there.s)

    def states(self, **given: FloatArray) -> dict[str, FloatArray]:
        """Columns of states; enthalpies and entropies as in the cycle."""
        own: Any = {name: values - getattr(self, name, 0.0) for name, values in given.items()}
        found = {name: values.copy() for name, values in _columns(self.refrigerant.state(**own)).items()}
        found["h"] += self.h
        found["s"] += self.s
        return found


def _made(steps: tuple[tuple[str, int], ...]) -> _core.Refrigerant:
    many = sum(step for _, step in steps)
    return _core.Refrigerant.blend({name: step / many for name, step in steps if step}, basis="mass")


_blend = lru_cache(maxsize=64)(_made)


def _is_same(one: dict[str, float], other: dict[str, float]) -> bool:
    return all(abs(fraction - other.get(name, 0.0)) < 1e-9 for name, fraction in one.items())


def _straight(name: str, one: Any, other: Any, share: FloatArray) -> FloatArray:
    start, end = getattr(one, name), getattr(other, name)
    if name in ("p", "rho"):
        return _between(start, end, share)
    return np.asarray(start + share * (end - start))


def _between(one: float, other: float, share: FloatArray) -> FloatArray:
    return np.asarray(one * (other / one) ** share)


def _corners(stream: Stream, one: Any, other: Any) -> FloatArray:
    """Where a stream at about constant pressure crosses dew and bubble line, as shares of its way."""
    if abs(other.h - one.h) < 1.0 or abs(other.p / one.p - 1.0) > 0.2:
        return np.array([])
    share = np.array([0.5, 0.5])
    # The pressure where it crosses is known better each time.
    for _ in range(3):
        saturation: Any = stream.refrigerant.saturation(p=_between(one.p, other.p, share))
        enthalpies = np.array([np.asarray(saturation.vapor.h)[0], np.asarray(saturation.liquid.h)[1]])
        enthalpies += stream.h
        share = np.clip(np.nan_to_num((enthalpies - one.h) / (other.h - one.h), nan=0.0), 0.0, 1.0)
    return share[(share > 0.0) & (share < 1.0)]

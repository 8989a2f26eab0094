"""What a property diagram shows: its frame, the values of its lines and where they run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage import _diagram_lines as lines
from interstage._tables import columns_for

FloatArray = npt.NDArray[np.float64]
Bounds = dict[str, tuple[float, float]]

#: Abscissa and ordinate of each kind.
AXES: dict[str, tuple[str, str]] = {"p-h": ("h", "p"), "T-s": ("s", "T"), "h-s": ("s", "h")}
NAMES = {
    "h": "enthalpy",
    "p": "pressure",
    "T": "temperature",
    "s": "entropy",
    "rho": "density",
    "x": "quality",
}

#: Families of lines of each kind of diagram. In h-s the isobars are the isotherms of wet states.
FAMILIES: dict[str, tuple[str, ...]] = {
    "p-h": ("T", "s", "rho", "x"),
    "T-s": ("p", "h", "rho", "x"),
    "h-s": ("p", "T", "x"),
}

#: How far beyond the cycles the frame reaches: as an exponent of their pressure ratio, and as shares of
#: their lift and their span of temperature, with the least of each.
_BELOW, _ABOVE = 0.3, 0.4
_LEAST_RATIO = 3.0
_COLDER, _WARMER = 0.35, 0.25
_LEAST_COLDER, _LEAST_WARMER = 8.0, 12.0

#: Lowest and highest isobar, as shares of the pressures of the frame.
_THINNEST, _DENSEST = 0.3, 1.5

#: States along each side of the frame that tell which values are in it, and one of so many in a row inside.
_GRID, _INSIDE = 25, 2


def in_units(columns: Mapping[str, Any], units: str) -> dict[str, FloatArray]:
    """Columns in the units shown, under their plain names."""
    found = columns_for(columns, units)
    return {name: np.asarray(values) for name, values in zip(columns, found.values(), strict=True)}


def unit_of(name: str, units: str) -> str:
    """Unit that a property is shown in; nothing for a quality."""
    if name == "x":
        return ""
    (shown,) = columns_for({name: [1.0]}, units)
    return shown.split("[")[1].rstrip("]")


def axis_label(name: str, units: str) -> str:
    """Name and unit of a property."""
    unit = unit_of(name, units)
    return f"{NAMES[name]} [{unit}]" if unit else NAMES[name]


def value_text(name: str, value: float, units: str) -> str:
    """The round value of a line in the units shown."""
    if name != "x":
        value = float(in_units({name: np.array([value])}, units)[name][0])
    # Round values come back from SI but for rounding.
    return f"{float(f'{value:.9g}') + 0.0:.9g}" if abs(value) > 1e-9 else "0"


@dataclass(frozen=True)
class View:
    """The frame of a diagram and the lines in it."""

    refrigerant: _core.Refrigerant
    kind: str
    units: str
    #: Lowest and highest value shown of T, p, h and s, SI units.
    bounds: Bounds
    #: Temperature the dome begins at, K.
    coldest: float

    @classmethod
    def of(
        cls,
        refrigerant: _core.Refrigerant,
        kind: str,
        units: str,
        points: Sequence[Any],
        temperatures: tuple[float, float] | None,
    ) -> View:
        """Fit the frame to points, or to temperatures."""
        saturated = lines.coldest_of(refrigerant), lines.hottest_of(refrigerant)
        shown = {name: np.array([getattr(point, name) for point in points]) for name in ("T", "p", "h", "s")}
        bounds = _fitted(refrigerant, shown, saturated, temperatures)
        coldest = max(min(bounds["T"][0], _bubble_temperature(refrigerant, bounds["p"][0])), saturated[0])
        bounds |= _sides(refrigerant, kind, shown, bounds, coldest)
        return cls(refrigerant, kind, units, bounds, coldest)

    @property
    def axes(self) -> tuple[str, str]:
        """Abscissa and ordinate."""
        return AXES[self.kind]

    @property
    def families(self) -> tuple[str, ...]:
        """Families of lines."""
        return FAMILIES[self.kind]

    def frame(self) -> tuple[FloatArray, FloatArray]:
        """Limits of abscissa and ordinate in the units shown."""
        horizontal, vertical = self.axes
        limits = {name: np.array(self.bounds[name]) for name in (horizontal, vertical)}
        found = in_units(limits, self.units)
        return found[horizontal], found[vertical]

    def xy(self, columns: Mapping[str, Any]) -> tuple[FloatArray, FloatArray]:
        """Abscissa and ordinate of points in the units shown."""
        horizontal, vertical = self.axes
        found = in_units({horizontal: columns[horizontal], vertical: columns[vertical]}, self.units)
        return found[horizontal], found[vertical]

    def in_frame(self, x: Any, y: Any) -> tuple[FloatArray, FloatArray]:
        """Where points lie in the frame, as shares of its sides."""
        (x0, x1), (y0, y1) = self.frame()
        across = (np.asarray(x) - x0) / (x1 - x0)
        if self.axes[1] == "p":
            return across, np.log(np.asarray(y) / y0) / np.log(y1 / y0)
        return across, (np.asarray(y) - y0) / (y1 - y0)

    def visible(self, columns: Mapping[str, Any]) -> tuple[FloatArray, FloatArray]:
        """Points of a line in the units shown, NaN beyond the first point outside of the frame."""
        x, y = (np.array(values, dtype=np.float64) for values in self.xy(columns))
        with np.errstate(invalid="ignore", divide="ignore"):
            across, up = self.in_frame(x, y)
            inside = (across >= 0.0) & (across <= 1.0) & (up >= 0.0) & (up <= 1.0)
        beside = inside.copy()
        beside[1:] |= inside[:-1]
        beside[:-1] |= inside[1:]
        x[~beside], y[~beside] = np.nan, np.nan
        return x, y

    def dome(self) -> list[lines.Line]:
        """Bubble and dew line as one, or as two where they do not meet."""
        bubble, dew = lines.dome(self.refrigerant, self.coldest)
        ends = self.refrigerant.critical_temperature
        if lines.hottest_of(self.refrigerant) < ends * (1.0 - 1e-5) or np.isnan(ends):
            return [bubble, dew]
        joined = {
            name: np.concatenate([column, dew.columns[name][::-1]]) for name, column in bubble.columns.items()
        }
        return [lines.Line(0.0, joined)]

    def kept_free(self) -> list[tuple[FloatArray, FloatArray]]:
        """Where no value is written, in the units shown: on the dome, and where its curves do not meet."""
        sides = [self.xy(side.columns) for side in self.dome()]
        if len(sides) == 1:
            return sides
        (bubble_x, bubble_y), (dew_x, dew_y) = sides
        return [*sides, (np.array([bubble_x[-1], dew_x[-1]]), np.array([bubble_y[-1], dew_y[-1]]))]

    def family(self, name: str) -> list[lines.Line]:
        """Lines of one property at round values of the units shown."""
        refrigerant = self.refrigerant
        if name == "x":
            return lines.quality(refrigerant, self.coldest, np.arange(0.1, 0.95, 0.1))
        reached = self._reached
        low, high = reached[name]
        # Compressed liquid of any higher pressure lies in the frame too where pressure is no axis.
        lowest = max(reached["p"][0], _THINNEST * self.bounds["p"][0])
        hottest = min(self.bounds["T"][1], lines.hottest_of(refrigerant))
        saturated: Any = refrigerant.saturation(T=np.array([hottest]))
        dome_top = float(np.asarray(saturated.liquid.p)[0])
        highest = min(reached["p"][1], max(_DENSEST * self.bounds["p"][1], dome_top))
        pressures = (min(reached["p"][0], lowest) * 0.7, highest * 1.1)
        if name == "T":
            if self.kind != "h-s":
                return lines.isotherms(refrigerant, self._round("T", (low, high), 14), pressures)
            # Colder ones would be far from all else.
            values = self._round("T", (max(low, self.coldest), high), 9)
            found = lines.isotherms(refrigerant, values, (pressures[0], reached["p"][1]))
            return [lines.dry_part(refrigerant, line, pressures[1]) for line in found]
        if name == "s":
            return lines.isentropes(refrigerant, self._round("s", (low, high), 9), pressures)
        if name == "h":
            return lines.isenthalps(refrigerant, self._round("h", (low, high), 8), pressures)
        if name == "p":
            return lines.isobars(refrigerant, self._ratios("p", (lowest, highest)), self.bounds["s"])
        # Liquid hardly changes its density: its lines would all lie on the dome.
        dense = float(np.nanmax(lines.dome(refrigerant, self.coldest)[1].columns["rho"]))
        values = self._ratios("rho", (low, min(high, dense)))
        return lines.isochores(refrigerant, values, (reached["T"][0], reached["T"][1] + 1.0))

    @cached_property
    def _reached(self) -> Bounds:
        """Lowest and highest value of each property in the frame: on its sides or where states end."""
        horizontal, vertical = self.axes
        across = np.linspace(*self.bounds[horizontal], _GRID)
        up = (np.geomspace if vertical == "p" else np.linspace)(*self.bounds[vertical], _GRID)
        taken = np.zeros((_GRID, _GRID), dtype=bool)
        taken[:: _GRID - 1], taken[:, :: _GRID - 1], taken[::_INSIDE, ::_INSIDE] = True, True, True
        x, y = (side[taken] for side in np.meshgrid(across, up))
        given: dict[str, Any] = {horizontal: x, vertical: y}
        states: Any = self.refrigerant.state(**given)
        found = {}
        for name in lines.PROPERTIES:
            values = np.asarray(getattr(states, name), dtype=np.float64)
            values = values[np.isfinite(values)]
            found[name] = (
                (float(values.min()), float(values.max())) if len(values) else self.bounds.get(name, (0, 0))
            )
        return found

    def _si(self, name: str, values: FloatArray) -> FloatArray:
        # The units shown are straight lines over SI: two points tell them.
        unit = in_units({name: np.array([0.0, 1.0])}, self.units)[name]
        return np.asarray((values - unit[0]) / (unit[1] - unit[0]))

    def _round(self, name: str, bounds: tuple[float, float], about: int) -> FloatArray:
        """Values that are round in the units shown, back in SI."""
        low, high = in_units({name: np.array(bounds)}, self.units)[name]
        return self._si(name, lines.round_steps(low, high, about))

    def _ratios(self, name: str, bounds: tuple[float, float]) -> FloatArray:
        low, high = in_units({name: np.array(bounds)}, self.units)[name]
        return self._si(name, lines.round_ratios(low, high, 8))


def _bubble_temperature(refrigerant: _core.Refrigerant, pressure: float) -> float:
    found = float(np.asarray(refrigerant.saturation(p=np.array([pressure])).liquid.T)[0])
    return found if np.isfinite(found) else float("inf")


def _fitted(
    refrigerant: _core.Refrigerant,
    shown: Mapping[str, FloatArray],
    saturated: tuple[float, float],
    temperatures: tuple[float, float] | None,
) -> Bounds:
    """Temperatures and pressures shown: those asked for, those around the points, or the whole dome."""
    coldest, hottest = saturated
    if temperatures is None and len(shown["T"]):
        warm, cold = float(shown["T"].max()), float(shown["T"].min())
        lowest, highest = float(shown["p"].min()), float(shown["p"].max())
        ratio = max(highest / lowest, _LEAST_RATIO)
        ends: Any = refrigerant.saturation(p=np.array([lowest, min(highest, _top(refrigerant, hottest))]))
        lift = float(np.nan_to_num(np.diff(np.asarray(ends.vapor.T))[0]))
        low = max(cold - max(_COLDER * lift, _LEAST_COLDER), coldest)
        high = warm + max(_WARMER * (warm - cold), _LEAST_WARMER)
        least = float(refrigerant.minimum_saturation_pressure)
        bottom = lowest / ratio**_BELOW
        return {"T": (low, high), "p": (min(max(bottom, least), lowest), highest * ratio**_ABOVE)}
    if temperatures is None:
        low, high = max(coldest, 0.6 * hottest), hottest + 0.12 * (hottest - coldest)
    else:
        low, high = max(temperatures[0], coldest), temperatures[1]
    saturation: Any = refrigerant.saturation(T=np.array([low, min(high, hottest)]))
    pressure = float(np.asarray(saturation.vapor.p)[0])
    top = float(np.asarray(saturation.liquid.p)[1])
    return {"T": (low, high), "p": (pressure, top * (1.15 if high < hottest else 1.8))}


def _top(refrigerant: _core.Refrigerant, hottest: float) -> float:
    return float(np.asarray(refrigerant.saturation(T=np.array([hottest])).vapor.p)[0])


def _sides(
    refrigerant: _core.Refrigerant,
    kind: str,
    shown: Mapping[str, FloatArray],
    bounds: Bounds,
    coldest: float,
) -> Bounds:
    """Enthalpies and entropies shown: the dome within the frame and the points, with some room."""
    measure = "p" if kind == "p-h" else "T"
    ends = {"h": list(shown["h"]), "s": list(shown["s"])}
    for side in lines.dome(refrigerant, coldest):
        column = side.columns[measure]
        there = (column >= bounds[measure][0] * 0.999) & (column <= bounds[measure][1])
        for name, found in ends.items():
            found.extend(side.columns[name][there & np.isfinite(side.columns[name])])
    sides = {}
    for name, found in ends.items():
        low, high = min(found), max(found)
        sides[name] = (low - 0.07 * (high - low), high + 0.13 * (high - low))
    return sides

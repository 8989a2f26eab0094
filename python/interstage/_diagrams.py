"""Property diagrams with cycles on them, for print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from interstage import _core, _looks
from interstage import _diagram_lines as lines
from interstage._tables import columns_for
from interstage.errors import OutOfRange, UnknownOption, WrongArgument

Kind = Literal["p-h", "T-s", "h-s"]
Units = Literal["SI", "I-P"]

#: Abscissa and ordinate of each kind.
_AXES: dict[str, tuple[str, str]] = {"p-h": ("h", "p"), "T-s": ("s", "T"), "h-s": ("s", "h")}
_NAMES = {"h": "enthalpy", "p": "pressure", "T": "temperature", "s": "entropy", "rho": "density"}

#: Families of lines of each kind of diagram.
_FAMILIES: dict[str, tuple[str, ...]] = {
    "p-h": ("T", "s", "rho", "x"),
    "T-s": ("p", "h", "rho", "x"),
    "h-s": ("p", "T", "x"),
}


@dataclass(frozen=True)
class _Look:
    """How a family of lines looks; told apart by dashes too, for print without color."""

    color: str
    dashes: tuple[float, ...] | None
    width: float = 0.7


_LOOKS = {
    "T": _Look("#8c510a", None),
    "s": _Look("#35688c", (5.0, 2.0)),
    "rho": _Look("#5f6f52", (6.0, 2.0, 1.0, 2.0)),
    "x": _Look("#8a8a8a", (1.0, 2.0)),
    "p": _Look("#3f6f3f", (4.0, 1.5)),
    "h": _Look("#35688c", (5.0, 2.0)),
}

#: Streams that meet, divide or change by exchange with another stream are drawn thin.
_THIN = ("mixing", "tank", "exchanger", "suction_line", "motor")


def _shown(columns: Mapping[str, Any], units: str) -> dict[str, npt.NDArray[np.float64]]:
    """Columns in the units shown, under their plain names."""
    found = columns_for(columns, units)
    return {name: np.asarray(values) for name, values in zip(columns, found.values(), strict=True)}


def _label(name: str, units: str) -> str:
    (shown,) = columns_for({name: [1.0]}, units)
    return f"{_NAMES[name]} [{shown.split('[')[1]}"


class Diagram:
    """A property diagram of a refrigerant with its dome and lines, and cycles drawn on it.

    Needs matplotlib (``pip install interstage[plot]``).

    Parameters
    ----------
    refrigerant : Refrigerant
    kind : {"p-h", "T-s", "h-s"}, optional
    units : {"SI", "I-P"}, optional
        kPa or psia, degC or degF, kJ/kg or Btu/lb, kJ/(kg K) or Btu/(lb R), kg/m3 or lb/ft3.
    temperatures : (float, float), optional
        Lowest and highest temperature shown, K. If not given, the diagram fits the cycles on it.

    Examples
    --------
    >>> import interstage
    >>> r = interstage.Refrigerant("R-134a")
    >>> stage = interstage.Stage(polytropic_efficiency=0.8)
    >>> circuit = interstage.Circuit.arranged(r, "3 stages: tank@3, tank@2", stage=stage)
    >>> cycle = circuit.solve(
    ...     evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6
    ... )
    >>> diagram = interstage.Diagram(r).add(cycle, "two tanks")
    >>> diagram
    Diagram(R-134a, 'p-h', cycles: 1)
    >>> figure = diagram.draw()  # doctest: +SKIP
    """

    def __init__(
        self,
        refrigerant: _core.Refrigerant,
        kind: Kind = "p-h",
        *,
        units: Units = "SI",
        temperatures: tuple[float, float] | None = None,
    ) -> None:
        if kind not in _AXES:
            message = f"kind must be one of {', '.join(_AXES)}, got {kind!r}"
            raise UnknownOption(message, argument="kind", value=kind, options=tuple(_AXES))
        columns_for({}, units)
        if temperatures is not None and not temperatures[0] < temperatures[1]:
            message = f"temperatures must rise, got {temperatures[0]} K to {temperatures[1]} K"
            raise OutOfRange(
                message,
                argument="temperatures",
                value=temperatures[1],
                minimum=temperatures[0],
                maximum=float("inf"),
                unit="K",
                reason="highest above lowest",
            )
        self._refrigerant = refrigerant
        self._kind = kind
        self._units = units
        self._temperatures = temperatures
        self._cycles: list[tuple[_core.Cycle, str]] = []

    def add(self, cycle: _core.Cycle, label: str | None = None) -> Diagram:
        """Draw a cycle too.

        Parameters
        ----------
        cycle : Cycle
            Of the same refrigerant, in the same reference of enthalpy and entropy.
        label : str, optional
            Its name in the legend; the arrangement if not given.

        Returns
        -------
        Diagram
            The diagram itself.

        Raises
        ------
        WrongArgument
            If the cycle is of another refrigerant.
        """
        if cycle.refrigerant != self._refrigerant:
            message = f"the diagram is of {self._refrigerant!r}, the cycle of {cycle.refrigerant!r}"
            raise WrongArgument(message, argument="cycle")
        self._cycles.append((cycle, label or cycle.circuit.arrangement))
        return self

    def __repr__(self) -> str:
        return f"Diagram({self._refrigerant.name}, {self._kind!r}, cycles: {len(self._cycles)})"

    # ---- what is shown

    def _limits(self) -> dict[str, tuple[float, float]]:
        """Lowest and highest value of each property shown, SI units."""
        coldest, hottest = lines.coldest_of(self._refrigerant), lines.hottest_of(self._refrigerant)
        points = [cycle.points[name] for cycle, _ in self._cycles for name in cycle.points]
        if self._temperatures is not None:
            low, high = self._temperatures
        elif points:
            span = max(point.T for point in points) - min(point.T for point in points)
            low = min(point.T for point in points) - max(0.35 * span, 10.0)
            high = max(point.T for point in points) + max(0.6 * span, 20.0)
        else:
            low, high = max(coldest, 0.6 * hottest), hottest + 0.12 * (hottest - coldest)
        low = max(low, coldest)
        saturation = self._refrigerant.saturation(T=np.array([low, min(high, hottest)]))
        liquid, vapor = saturation.liquid, saturation.vapor
        pressure = float(np.asarray(vapor.p)[0])
        top = float(np.asarray(liquid.p)[1]) if high < hottest else 1.6 * float(np.asarray(liquid.p)[1])
        dome = lines.dome(self._refrigerant, low)
        enthalpies = np.concatenate([dome[0].columns["h"], dome[1].columns["h"]])
        if high < hottest:
            enthalpies = np.concatenate([np.asarray(liquid.h), np.asarray(vapor.h)])
        left, right = float(np.nanmin(enthalpies)), float(np.nanmax(enthalpies))
        right = max([right, *(point.h for point in points)])
        margin = 0.08 * (right - left)
        hot = self._refrigerant.state(p=np.array([pressure]), T=np.array([high]))
        entropies = np.concatenate([np.asarray(liquid.s), np.asarray(vapor.s), np.asarray(hot.s)])
        span_s = float(np.nanmax(entropies) - np.nanmin(entropies))
        return {
            "T": (low, high),
            "p": (pressure, top * 1.15),
            "h": (left - margin, right + 1.5 * margin),
            "s": (float(np.nanmin(entropies)) - 0.04 * span_s, float(np.nanmax(entropies)) + 0.02 * span_s),
        }

    def _family(self, name: str, limits: dict[str, tuple[float, float]]) -> list[lines.Line]:
        """Lines of one property at round values of the units shown."""
        refrigerant = self._refrigerant
        if name == "x":
            return lines.quality(refrigerant, limits["T"][0], np.arange(0.1, 0.95, 0.1))
        wide = (limits["p"][0] * 0.5, limits["p"][1] * 1.5)
        if name == "T":
            values = self._round("T", limits["T"], 9)
            return lines.isotherms(refrigerant, values, wide)
        if name == "s":
            return lines.isentropes(refrigerant, self._round("s", limits["s"], 9), wide)
        if name == "p":
            return lines.isobars(refrigerant, self._round("p", limits["p"], 8, ratio=True), limits["s"])
        warm = (limits["T"][0], limits["T"][1] * 1.1)
        vapor = refrigerant.saturation(T=np.array([limits["T"][0]])).vapor
        dense = float(lines.dome(refrigerant, limits["T"][0])[1].columns["rho"].max())
        if name == "rho":
            bounds = (float(np.asarray(vapor.rho)[0]), dense)
            return lines.isochores(refrigerant, self._round("rho", bounds, 7, ratio=True), warm)
        grid = np.geomspace(*wide, 160)
        return [
            lines.Line(value, {key: np.asarray(getattr(states, key)) for key in lines.PROPERTIES})
            for value in self._round("h", limits["h"], 8)
            for states in [refrigerant.state(p=grid, h=value)]
        ]

    def _round(
        self, name: str, bounds: tuple[float, float], about: int, *, ratio: bool = False
    ) -> npt.NDArray[np.float64]:
        """Values that are round in the units shown, back in SI."""
        low, high = _shown({name: np.array(bounds)}, self._units)[name]
        values = (lines.round_ratios if ratio else lines.round_steps)(low, high, about)
        # The units shown are straight lines over SI: two points tell them.
        unit = _shown({name: np.array([0.0, 1.0])}, self._units)[name]
        return np.asarray((values - unit[0]) / (unit[1] - unit[0]))

    # ---- drawing

    def draw(self, ax: Any = None) -> Any:
        """Draw the diagram.

        Parameters
        ----------
        ax : matplotlib Axes, optional
            Where to; a new figure if not given.

        Returns
        -------
        matplotlib Figure
        """
        ax = _looks.axes(ax, 5.6)
        figure = ax.figure
        horizontal, vertical = _AXES[self._kind]
        limits = self._limits()
        shown = {name: _shown({name: np.array(limits[name])}, self._units)[name] for name in limits}
        if vertical == "p":
            ax.set_yscale("log")
        ax.set_xlim(*shown[horizontal])
        ax.set_ylim(*shown[vertical])
        ax.set_xlabel(_label(horizontal, self._units))
        ax.set_ylabel(_label(vertical, self._units))
        _looks.bare(ax)
        if vertical == "p":
            self._plain_ticks(ax, shown[vertical])
        for family in _FAMILIES[self._kind]:
            look = _LOOKS[family]
            found = self._family(family, limits)
            for place, line in enumerate(found):
                self._line(ax, line, look.color, look.dashes, look.width, zorder=1)
                self._name_line(ax, family, line, place, look.color)
        for side in lines.dome(self._refrigerant, limits["T"][0]):
            self._line(ax, side, "#222222", None, 1.6, zorder=2)
        for (cycle, label), (color, marker) in zip(
            self._cycles, _looks.SERIES * len(self._cycles), strict=False
        ):
            self._cycle(ax, cycle, label, color, marker)
        if self._cycles:
            ax.legend(loc="upper left", frameon=True, framealpha=0.9, edgecolor="none", fontsize=9)
        self._key(figure)
        ax.set_title(self._refrigerant.name, fontsize=11)
        return figure

    def _key(self, figure: Any) -> None:
        """Say below the diagram which lines are which."""
        handles = []
        for family in _FAMILIES[self._kind]:
            look = _LOOKS[family]
            name = "quality" if family == "x" else _label(family, self._units)
            style: dict[str, Any] = {"color": look.color, "linewidth": 1.0, "label": name}
            if look.dashes:
                style["linestyle"] = (0, look.dashes)
            handles.append(import_module("matplotlib.lines").Line2D([], [], **style))
        figure.legend(
            handles=handles,
            loc="outside lower center",
            ncols=len(handles),
            frameon=False,
            fontsize=8,
            handlelength=3.5,
        )

    def _xy(self, columns: Mapping[str, Any]) -> tuple[Any, Any]:
        horizontal, vertical = _AXES[self._kind]
        shown = _shown({horizontal: columns[horizontal], vertical: columns[vertical]}, self._units)
        return shown[horizontal], shown[vertical]

    def _line(
        self,
        ax: Any,
        line: lines.Line,
        color: str,
        dashes: Sequence[float] | None,
        width: float,
        *,
        zorder: int,
    ) -> None:
        style: dict[str, Any] = {"color": color, "linewidth": width, "zorder": zorder}
        if dashes:
            style["dashes"] = dashes
        ax.plot(*self._xy(line.columns), **style)

    def _plain_ticks(self, ax: Any, bounds: npt.NDArray[np.float64]) -> None:
        ticker = import_module("matplotlib.ticker")
        values = lines.round_ratios(float(bounds[0]), float(bounds[1]), 8)
        if len(values) < 4:
            values = lines.round_steps(float(bounds[0]), float(bounds[1]), 6)
            values = values[values > 0]
        ax.yaxis.set_major_locator(ticker.FixedLocator(values))
        ax.yaxis.set_major_formatter(ticker.FuncFormatter(lambda value, _: f"{value:g}"))
        ax.yaxis.set_minor_formatter(ticker.NullFormatter())

    def _name_line(self, ax: Any, family: str, line: lines.Line, place: int, color: str) -> None:
        """Write the value of a line along it, where it is inside and steep or flat enough to read."""
        x, y = self._xy(line.columns)
        (x0, x1), (y0, y1) = ax.get_xlim(), ax.get_ylim()
        logarithmic = ax.get_yscale() == "log"
        inside = (x > min(x0, x1)) & (x < max(x0, x1)) & (y > min(y0, y1)) & (y < max(y0, y1))
        found = np.flatnonzero(inside & np.isfinite(x) & np.isfinite(y))
        if len(found) < 6:
            return
        spread = {"T": 0.06, "s": 0.93, "rho": 0.9, "x": 0.12, "p": 0.94, "h": 0.9}[family]
        share = spread if family != "x" else 0.10 + 0.02 * (place % 2)
        at = int(found[int(share * (len(found) - 1))])
        before, after = max(at - 2, found[0]), min(at + 2, found[-1])
        height = (np.log(y1 / y0) if logarithmic else y1 - y0) or 1.0
        rise = (np.log(y[after] / y[before]) if logarithmic else y[after] - y[before]) / height
        run = (x[after] - x[before]) / (x1 - x0)
        figure = ax.figure
        box = ax.get_position()
        width_in = figure.get_figwidth() * box.width
        height_in = figure.get_figheight() * box.height
        angle = np.degrees(np.arctan2(rise * height_in, run * width_in))
        angle = (angle + 90.0) % 180.0 - 90.0
        value = line.value
        if family != "x":
            value = float(_shown({family: np.array([value])}, self._units)[family][0])
            # Round values come back from SI but for rounding.
            value = round(value, 9) + 0.0
        ax.annotate(
            f"{value:.4g}",
            (float(x[at]), float(y[at])),
            rotation=float(angle),
            rotation_mode="anchor",
            ha="center",
            va="center",
            fontsize=6.5,
            color=color,
            zorder=3,
            bbox={"boxstyle": "square,pad=0.08", "facecolor": "white", "edgecolor": "none", "alpha": 0.85},
        )

    def _cycle(self, ax: Any, cycle: _core.Cycle, label: str, color: str, marker: str) -> None:
        for balance in cycle.balances():
            component = balance["component"]
            thin = any(part in component for part in _THIN)
            for start, end in lines.ways(balance):
                line = lines.process(cycle, component, start, end)
                ax.plot(
                    *self._xy(line.columns),
                    color=color,
                    linewidth=1.0 if thin else 2.0,
                    linestyle=(0, (2.0, 1.5)) if thin else "-",
                    zorder=5,
                )
        points = [cycle.points[name] for name in cycle.points]
        columns = {name: [getattr(point, name) for point in points] for name in ("T", "p", "h", "s")}
        x, y = self._xy(columns)
        ax.plot(x, y, linestyle="none", marker=marker, markersize=4.5, color=color, zorder=6)
        ax.plot([], [], color=color, marker=marker, markersize=4.5, linewidth=2.0, label=label)

"""Property diagrams with cycles on them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from interstage import _core, _looks
from interstage import _diagram_lines as lines
from interstage._diagram_interactive import interactive
from interstage._diagram_labels import Labels
from interstage._diagram_looks import LOOKS, CycleLook, is_thin
from interstage._diagram_view import AXES, View, axis_label, value_text
from interstage._tables import columns_for
from interstage._trend_cycles import TrendCycles
from interstage._trend_result import TrendResult
from interstage.errors import NotFinite, OutOfRange, UnknownOption, WrongArgument

if TYPE_CHECKING:
    from typing import TypeAlias

    _Kind: TypeAlias = Literal["p-h", "T-s", "h-s"]
    _Units: TypeAlias = Literal["SI", "I-P"]


#: Letters of a name of a cycle that stand in one line.
_LETTERS = 80


def _checked_temperatures(refrigerant: _core.Refrigerant, temperatures: Any) -> tuple[float, float]:
    """Refuse temperatures that cannot be the lowest and the highest of a diagram."""
    try:
        low, high = (float(value) for value in temperatures)
    except (TypeError, ValueError):
        message = f"temperatures must be the lowest and the highest, K, got {temperatures!r}"
        raise WrongArgument(message, argument="temperatures") from None
    for value in (low, high):
        if not math.isfinite(value):
            message = f"temperatures must be finite, got {value} K"
            raise NotFinite(message, argument="temperatures", value=value, unit="K")
    coldest, hottest = lines.coldest_of(refrigerant), lines.hottest_of(refrigerant)
    for value, minimum, maximum, reason in (
        (high, low, float(refrigerant.maximum_temperature), "highest above lowest"),
        (high, coldest, float(refrigerant.maximum_temperature), "above the beginning of the saturation line"),
        (low, 0.0, hottest, "lowest below the end of the saturation line"),
    ):
        if not minimum < value <= maximum or value == low == hottest:
            message = f"temperatures of {refrigerant.name}: {reason}, got {low} K to {high} K"
            raise OutOfRange(
                f"{message}; {value} K is not within {minimum:.6g} K to {maximum:.6g} K",
                argument="temperatures",
                value=value,
                minimum=minimum,
                maximum=maximum,
                unit="K",
                reason=reason,
            )
    return low, high


class Diagram:
    """A property diagram of a refrigerant with its dome and lines, and cycles drawn on it.

    `draw` needs matplotlib, `interactive` plotly (``pip install 'interstage[plot]'`` has both).

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
    >>> diagram.draw().figure.savefig("two_tanks.png")  # doctest: +SKIP
    """

    def __init__(
        self,
        refrigerant: _core.Refrigerant,
        kind: _Kind = "p-h",
        *,
        units: _Units = "SI",
        temperatures: tuple[float, float] | None = None,
    ) -> None:
        given: Any = refrigerant
        if not isinstance(given, _core.Refrigerant):
            message = f"refrigerant must be a Refrigerant, got {type(given).__name__}"
            raise WrongArgument(message, argument="refrigerant")
        if not isinstance(kind, str) or kind not in AXES:
            message = f"kind must be one of {', '.join(AXES)}, got {kind!r}"
            raise UnknownOption(message, argument="kind", value=str(kind), options=tuple(AXES))
        columns_for({}, units)
        if temperatures is not None:
            temperatures = _checked_temperatures(refrigerant, temperatures)
        self._refrigerant = refrigerant
        self._kind = kind
        self._units = units
        self._temperatures = temperatures
        self._cycles: list[tuple[_core.Cycle, str]] = []

    def add(self, cycle: _core.Cycle, label: str | None = None) -> Diagram:
        """Draw a cycle too: a solved one, or that of a row of a trend (`TrendResult.cycle`).

        Where tanks part a blend, each stream is drawn by its own composition; dome and lines stay those of
        the refrigerant, so the saturated states of parted streams lie beside the dome.

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
            If the cycle is of another refrigerant or reference, or no `Cycle` (of columns take one row).
        """
        given: Any = cycle
        if not isinstance(given, _core.Cycle):
            message = f"cycle must be a solved Cycle, got {type(given).__name__}"
            raise WrongArgument(message, argument="cycle")
        if label is not None and not isinstance(label, str):
            raise WrongArgument(f"label must be a text, got {label!r}", argument="label")
        if cycle.refrigerant != self._refrigerant:
            message = f"the diagram is of {self._refrigerant!r}, the cycle of {cycle.refrigerant!r}"
            raise WrongArgument(message, argument="cycle")
        self._cycles.append((cycle, label or cycle.circuit.arrangement))
        return self

    def __repr__(self) -> str:
        return f"Diagram({self._refrigerant.name}, {self._kind!r}, cycles: {len(self._cycles)})"

    def _view(self, others: Sequence[_core.Cycle] = ()) -> View:
        """The frame around the cycles added, and others."""
        cycles = [*(cycle for cycle, _ in self._cycles), *others]
        points = [cycle.points[name] for cycle in cycles for name in cycle.points]
        return View.of(self._refrigerant, self._kind, self._units, points, self._temperatures)

    def draw(self, ax: Any = None) -> Any:
        """Draw the diagram for print.

        Parameters
        ----------
        ax : matplotlib Axes, optional
            Where to; a new figure if not given.

        Returns
        -------
        matplotlib Axes
            What charts give too: ``.figure.savefig(path)`` stores the picture.

        Raises
        ------
        WrongArgument
            If ax is no Axes, or one without x and y at right angles.
        """
        lines_of_names = sum(label.count("\n") + 1 for label in self._written())
        ax = _looks.axes(ax, 5.6 + 0.19 * max(lines_of_names - 2, 0))
        figure = ax.figure
        view = self._view()
        self._axes(ax, view)
        families = {name: view.family(name) for name in view.families}
        for name, found in families.items():
            look = LOOKS[name]
            style: dict[str, Any] = {"color": look.color, "linewidth": 0.7, "zorder": 1}
            if look.dashes:
                style["dashes"] = look.dashes
            for line in found:
                ax.plot(*view.visible(line.columns), **style)
        for side in view.dome():
            ax.plot(*view.visible(side.columns), color=_looks.INK, linewidth=1.6, zorder=2)
        ways = [
            way
            for place, (cycle, _) in enumerate(self._cycles)
            for way in self._cycle(ax, view, cycle, place)
        ]
        self._key(ax, view)
        figure.draw_without_rendering()
        box = ax.get_window_extent()
        labels = Labels(box.width / figure.dpi, box.height / figure.dpi, 6.5)
        for x, y in view.kept_free():
            labels.keep_off(*view.in_frame(x, y), 0.01)
        for x, y in ways:
            labels.keep_off(*view.in_frame(x, y), 0.02)
        for name, found in families.items():
            for line in found:
                self._write(ax, view, labels, name, line)
        return ax

    def _written(self) -> list[str]:
        """Names of the cycles as they stand in the legend."""
        return [_looks.name(label, _LETTERS) for _, label in self._cycles]

    def interactive(
        self,
        result: TrendResult | None = None,
        *,
        rows: Any = None,
        times: Sequence[Any] | None = None,
        most_rows: int = 60,
        stage_efficiency: float | None = None,
    ) -> Any:
        """Make the diagram to look into, and with a trend one whose cycle moves with the time.

        Under the pointer stand the value of a line and the state of a point: name, temperature, pressure,
        enthalpy, entropy, density, quality and mass flow, in the units of the diagram. A trend adds the
        cycle of one row after another, as `TrendResult.cycle` gives it, and a slider; the cycles added stay
        for comparison. Rows without a cycle are named above the diagram with the reason, those of many
        stretches in short; ``figure.layout.meta["left_out"]`` lists every stretch with its first and last
        row, the number of rows and the reason (of more than 500 stretches, those of a reason together). One
        row alone goes on any diagram by ``diagram.add(result.cycle(row), label)``.

        Parameters
        ----------
        result : TrendResult, optional
            Of the same refrigerant.
        rows : sequence of int or of bool, optional
            Numbers of the rows to take, or one truth value a row; all unless given.
        times : sequence, optional
            What the rows are called, one value a row; the index of a pandas table unless given, or the number
            of the row.
        most_rows : int, optional
            If more rows than this have a cycle, so many evenly spread over them are shown.
        stage_efficiency : float, optional
            As in `TrendResult.cycle`.

        Returns
        -------
        plotly.graph_objects.Figure
            ``show()`` opens it, ``write_html(path, auto_play=False)`` stores it without playing at once.

        Raises
        ------
        Undefined
            If no row has a cycle, with what is remarked most often.
        WrongArgument, WrongLength, OutOfRange, Inconsistent
            If rows and times are none of the trend, or the trend is of another refrigerant.

        Examples
        --------
        >>> import interstage
        >>> r = interstage.Refrigerant("R-134a")
        >>> stage = interstage.Stage(polytropic_efficiency=0.8)
        >>> circuit = interstage.Circuit.arranged(r, "2 stages: tank@2", stage=stage)
        >>> readings = {"evaporator_pressure": ("evap", "kPa"), "condenser_pressure": ("cond", "kPa")}
        >>> result = interstage.Trend(circuit, readings).analyse({"evap": [350, 0], "cond": [900, 910]})
        >>> figure = interstage.Diagram(r).interactive(result, stage_efficiency=0.8)
        >>> len(figure.frames), figure.layout.meta["left_out"][0]["first"]
        (1, 'row 1')
        """
        trend = None
        if result is None:
            others = {"rows": rows, "times": times, "stage_efficiency": stage_efficiency}
            for name, value in others.items():
                if value is not None:
                    raise WrongArgument(f"{name} needs the result of a trend", argument=name)
        else:
            given: Any = result
            if not isinstance(given, TrendResult):
                message = f"result must be a TrendResult, got {type(given).__name__}"
                raise WrongArgument(message, argument="result")
            of = result._trend.circuit.refrigerant
            if of != self._refrigerant:
                message = f"the diagram is of {self._refrigerant!r}, the trend of {of!r}"
                raise WrongArgument(message, argument="result")
            trend = TrendCycles.of(result, rows, times, most_rows, stage_efficiency)
        return interactive(self._view(trend.cycles if trend else ()), self._cycles, trend)

    def _axes(self, ax: Any, view: View) -> None:
        horizontal, vertical = view.axes
        across, up = view.frame()
        ax.set_xlim(*across)
        ax.set_xlabel(axis_label(horizontal, self._units))
        ax.set_ylabel(axis_label(vertical, self._units))
        _looks.bare(ax)
        if vertical == "p":
            ticker = import_module("matplotlib.ticker")
            ax.set_yscale("log")
            ax.yaxis.set_major_locator(ticker.FixedLocator(lines.round_ratios(up[0], up[1], 10)))
            ax.yaxis.set_major_formatter(ticker.FuncFormatter(lambda value, _: f"{value:g}"))
            ax.yaxis.set_minor_locator(ticker.NullLocator())
        ax.set_ylim(*up)

    def _cycle(self, ax: Any, view: View, cycle: _core.Cycle, place: int) -> list[tuple[Any, Any]]:
        """Draw a cycle; gives the ways of its streams."""
        look = CycleLook.of(place, len(self._cycles))
        ways = []
        for balance in cycle.balances():
            component = balance["component"]
            for start, end in lines.ways(balance):
                thin = is_thin(component, start)
                way = view.xy(lines.process(cycle, component, start, end).columns)
                style: Any = (0, (2.0, 1.5)) if thin else "-"
                width = 1.0 + 0.4 * look.wider if thin else 1.8 + look.wider
                ax.plot(*way, color=look.color, linewidth=width, linestyle=style, zorder=5)
                ways.append(way)
        points = [cycle.points[name] for name in cycle.points]
        columns = {name: [getattr(point, name) for point in points] for name in ("T", "p", "h", "s")}
        ax.plot(*view.xy(columns), linestyle="none", zorder=6, **look.dots())
        return ways

    def _write(self, ax: Any, view: View, labels: Labels, name: str, line: lines.Line) -> None:
        """Write the value of a line along it, where there is room."""
        x, y = view.in_frame(*view.visible(line.columns))
        outside = ~((x >= 0.0) & (x <= 1.0) & (y >= 0.0) & (y <= 1.0))
        x[outside], y[outside] = np.nan, np.nan
        label = labels.place(x, y, value_text(name, line.value, self._units), LOOKS[name].written)
        if label is None:
            return
        ax.text(
            label.x,
            label.y,
            label.text,
            transform=ax.transAxes,
            rotation=label.angle,
            rotation_mode="anchor",
            ha="center",
            va="center",
            fontsize=labels.size,
            color=LOOKS[name].color,
            zorder=3,
            bbox={"boxstyle": "square,pad=0.08", "facecolor": "white", "edgecolor": "none", "alpha": 0.85},
        )

    def _key(self, ax: Any, view: View) -> None:
        """Name the cycles above the diagram, and say below it which lines are which."""
        line = import_module("matplotlib.lines").Line2D
        width = ax.figure.get_figwidth() * ax.get_position().width
        below = []
        for name in view.families:
            family = LOOKS[name]
            dashes: dict[str, Any] = {"linestyle": (0, family.dashes)} if family.dashes else {}
            label = axis_label(name, self._units)
            below.append(line([], [], color=family.color, linewidth=1.0, label=label, **dashes))
        families = ax.legend(
            handles=below,
            loc="upper center",
            bbox_to_anchor=(0.5, -0.11),
            ncols=len(below) if width > 5.0 else 2,
            frameon=False,
            fontsize=8,
            handlelength=3.5,
        )
        rows = 0
        if self._cycles:
            # The legend that the Axes know as theirs is that of the cycles.
            ax.add_artist(families)
            families.set_clip_on(False)
            above = []
            names = self._written()
            for place, label in enumerate(names):
                look = CycleLook.of(place, len(self._cycles))
                above.append(line([], [], linewidth=1.8 + look.wider, label=label, **look.dots()))
            longest = max(len(line) for label in names for line in label.split("\n"))
            columns = max(1, min(len(above), int(width / (0.075 * longest + 0.6))))
            each = max(label.count("\n") + 1 for label in names)
            rows = each * math.ceil(len(above) / columns)
            ax.legend(
                handles=above,
                loc="lower center",
                bbox_to_anchor=(0.5, 1.0),
                ncols=columns,
                frameon=False,
                fontsize=9,
                borderpad=0.2,
                labelspacing=0.3,
            )
        ax.set_title(self._refrigerant.name, fontsize=11, pad=6.0 + 13.5 * rows)

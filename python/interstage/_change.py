"""Why power or efficiency changed: a change split into causes that sum to it and depend on no order."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from interstage import _analysed, _core, _looks, _needed, _tables
from interstage._change_model import CAUSES, _Model
from interstage._charts_time import words
from interstage._declaring import loop
from interstage._instance import must_be
from interstage._operation import Operation
from interstage._progress import bar
from interstage._water_loop import WaterLoop
from interstage.errors import UnknownOption

if TYPE_CHECKING:
    from interstage._change_model import _Changed


_UNITS: Mapping[str, str] = {"power": "kW", "kw_per_ton": "kW/ton", "cop": "-"}

#: What readings may err, both periods alike: half width of the 95 % interval, a fraction or an amount (SI).
#: Common practice, no published source.
_COMMON: Mapping[str, tuple[str, float]] = {
    "capacity": ("fraction", 0.03),
    "power": ("fraction", 0.01),
    "chilled_water_leaving": ("amount", 0.1),
    "condenser_water_entering": ("amount", 0.1),
    "chilled_water_flow": ("fraction", 0.02),
    "condenser_water_flow": ("fraction", 0.02),
    "evaporating_temperature": ("amount", 0.2),
    "condensing_temperature": ("amount", 0.2),
    "stage_efficiency": ("amount", 0.02),
    "subcooling": ("amount", 0.3),
    "suction_superheat": ("amount", 0.3),
}

#: Share of that which differs from period to period.
_SEPARATE = 0.3


@dataclass(frozen=True)
class Change:
    """A change split into its causes. Made by `why_it_changed`.

    Attributes
    ----------
    figure : {"power", "kw_per_ton", "cop"}
    before, after : float
        The figure; power in W.
    parts : dict
        Cause -> its part of the change; they sum to ``after - before``.
    intervals : dict
        Cause -> half width of the 95 % interval of its part.
    notes : tuple of str
        What the split rests on.
    """

    figure: _Changed
    before: float
    after: float
    parts: Mapping[str, float]
    intervals: Mapping[str, float]
    notes: tuple[str, ...]

    @property
    def change(self) -> float:
        """After less before."""
        return self.after - self.before

    @property
    def largest(self) -> str:
        """The cause with the largest part."""
        return max(self.parts, key=lambda cause: abs(self.parts[cause]))

    def _columns(self) -> dict[str, list[Any]]:
        unit = _UNITS[self.figure]
        scale = 1e-3 if self.figure == "power" else 1.0
        causes = [*self.parts, "whole change"]
        values = [*self.parts.values(), self.change]
        return {
            "cause": causes,
            f"part [{unit}]": [value * scale for value in values],
            f"interval [{unit}]": [*(self.intervals[cause] * scale for cause in self.parts), math.nan],
        }

    def table(self) -> Any:
        """Causes, parts and intervals as a pandas DataFrame, the whole change last."""
        return _needed.pandas().DataFrame(self._columns())

    def to_csv(self, path: Any) -> None:
        """Write the table to a file of comma-separated values."""
        self.table().to_csv(path, index=False)

    def bars(self, ax: Any = None) -> Any:
        """Draw the parts as horizontal bars with their intervals; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional

        Returns
        -------
        matplotlib Axes
        """
        ax = _looks.axes(ax, 4.2)
        columns = self._columns()
        causes, parts, intervals = (column[:-1] for column in columns.values())
        places = range(len(causes))
        worse = [(part > 0.0) != (self.figure == "cop") for part in parts]
        colors = [_looks.WORSE if part else _looks.BETTER for part in worse]
        bars = ax.barh(places, parts, xerr=intervals, color=colors, capsize=3, height=0.65)
        # Told apart without color too.
        for drawn, hatched in zip(bars, worse, strict=True):
            drawn.set_hatch("///" if hatched else "")
            drawn.set_edgecolor("white")
        ax.set_yticks(list(places), causes)
        ax.invert_yaxis()
        ax.axvline(0.0, color="black", linewidth=0.8)
        unit = _UNITS[self.figure]
        ax.set_ylim(len(causes) - 0.4, -0.6)
        ax.tick_params(axis="y", length=0)
        ax.set_xlabel(f"part of the change [{unit}]")
        _looks.bare(ax, grid="x")
        _looks.say(
            ax,
            f"why {words(self.figure)} changed",
            f"{self}; hatched: for the worse; line: 95 % interval",
        )
        return ax

    def _repr_html_(self) -> str:
        return _tables.rows_html(self._columns(), f"{self.figure}: {self}")

    def __str__(self) -> str:
        unit = _UNITS[self.figure]
        scale = 1e-3 if self.figure == "power" else 1.0
        most = f"most by {self.largest}" if any(self.parts.values()) else "no change"
        before, after = (_looks.number(value * scale) for value in (self.before, self.after))
        return f"{before} to {after} {unit}, {most}"

    def __repr__(self) -> str:
        return f"Change({self.figure}: {self})"


def why_it_changed(
    circuit: _core.Circuit,
    before: Operation,
    after: Operation,
    *,
    figure: _Changed = "kw_per_ton",
    evaporator: _core.VariableUa | None = None,
    condenser: _core.VariableUa | None = None,
    common: Mapping[str, float] | None = None,
    separate: Mapping[str, float] | None = None,
    chilled_water: WaterLoop | None = None,
    condenser_water: WaterLoop | None = None,
    progress: bool | None = None,
) -> Change:
    """Split a change of power, kW/ton or COP into its causes.

    A chiller is modelled from each operation: the conductances that give its saturation temperatures, its
    stage efficiency, subcooling, superheat and economizers. It is then solved for every mixture of the causes
    of the two, and each cause gets the mean of what it adds over all orders in which they could have come:
    the Shapley value. Parts sum to the change to rounding and depend on no order. What the model does not
    explain is the power at the meter less the drive input power of the circuit: motor, gear and drive where
    the circuit has no efficiencies for them, and, of a period, that a mean is not a row. Its change is
    ``"unexplained"``.

    Parameters
    ----------
    circuit : Circuit
        The machine; its motor and drive efficiencies count.
    before, after : Operation
        Rows, periods or what a baseline expects.
    figure : {"kw_per_ton", "power", "cop"}, optional
    evaporator, condenser : VariableUa, optional
        How conductance goes with water flow and heat. With it ``"evaporator UA"`` is what is beyond that, and
        the effect of flow and load belongs to flow and load; without it every change of conductance is UA.
    common, separate : mapping of str to float, optional
        Field of `Operation` -> half width of the 95 % interval (SI) of what it may err alike in both
        operations, and in each on its own. Common practice unless given; 0 where only others are given.
    chilled_water, condenser_water : WaterLoop, optional
        What flows in the loops; plain water unless given.
    progress : bool, optional
        Whether a bar shows the progress, which needs tqdm; unless given, only of long runs in a terminal or a
        notebook.

    Returns
    -------
    Change
        Causes that do not differ are left out.

    Raises
    ------
    Inconsistent
        If an operation, or a mixture of the two, has no solution.

    Examples
    --------
    >>> import dataclasses, interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(polytropic_efficiency=0.78)]
    ... )
    >>> before = interstage.Operation(
    ...     capacity=1.0e6,
    ...     power=190e3,
    ...     chilled_water_leaving=280.0,
    ...     condenser_water_entering=302.0,
    ...     chilled_water_flow=0.040,
    ...     condenser_water_flow=0.050,
    ...     evaporating_temperature=278.0,
    ...     condensing_temperature=309.5,
    ... )
    >>> after = dataclasses.replace(before, power=200e3, condensing_temperature=311.0)
    >>> change = interstage.why_it_changed(circuit, before, after, figure="power")
    >>> change.largest, round(sum(change.parts.values()))
    ('condenser UA', 10000)
    """
    for argument, value, kind in (
        ("circuit", circuit, _core.Circuit),
        ("before", before, Operation),
        ("after", after, Operation),
    ):
        must_be(argument, value, kind)
    if figure not in _UNITS:
        raise UnknownOption(
            f"figure must be one of {', '.join(_UNITS)}, got {figure!r}",
            argument="figure",
            value=figure,
            options=tuple(_UNITS),
        )
    notes = []
    if (before.stage_efficiency is None) != (after.stage_efficiency is None):
        before, after = replace(before, stage_efficiency=None), replace(after, stage_efficiency=None)
        notes.append("one operation tells no stage efficiency: that of the circuit holds in both")
    elif before.stage_efficiency is None:
        notes.append("no stage efficiency is told: that of the circuit holds in both")
    loops = loop("chilled_water", chilled_water), loop("condenser_water", condenser_water)
    model = _Model(circuit, figure, evaporator, condenser, loops)
    parts = model.split(before, after)
    both, each = _errors(before, common, separate)
    squares = dict.fromkeys(parts, 0.0)
    steps = [name for name in _COMMON if max(each.get(name, 0.0), both.get(name, 0.0)) > 0.0]
    for name in bar(steps, progress, len(parts) > 7, "input"):
        alone, alike = each.get(name, 0.0), both.get(name, 0.0)
        step = max(alone, alike)
        # First order: what both err alike moves a part by the sum of what each moves it.
        first = model.split(_moved(before, name, step), after)
        second = model.split(before, _moved(after, name, step))
        for cause in {*parts, *first, *second}:
            usual = parts.get(cause, 0.0)
            by = [moved.get(cause, 0.0) - usual for moved in (first, second)]
            whole = (sum(by) * alike) ** 2 + ((by[0] ** 2 + by[1] ** 2) * alone**2)
            squares[cause] = squares.get(cause, 0.0) + whole / step**2
    shown = [cause for cause in CAUSES if cause in parts]
    return Change(
        figure=figure,
        before=float(getattr(before, figure)),
        after=float(getattr(after, figure)),
        parts={cause: parts[cause] for cause in shown},
        intervals={cause: math.sqrt(squares[cause]) for cause in shown},
        notes=tuple(notes),
    )


def _errors(
    operation: Operation, common: Mapping[str, float] | None, separate: Mapping[str, float] | None
) -> tuple[dict[str, float], dict[str, float]]:
    """What each field may err, in both operations alike and in each on its own."""
    for name, given in (("common", common), ("separate", separate)):
        for key, half in (given or {}).items():
            if key not in _COMMON:
                raise UnknownOption(
                    f"{name} must name fields of Operation, got {key!r}",
                    argument=name,
                    value=key,
                    options=tuple(_COMMON),
                )
            _analysed.refuse_below(f"{name}[{key!r}]", half, 0.0, "SI")
    if common is None and separate is None:
        usual = {
            name: half * (getattr(operation, name) if kind == "fraction" else 1.0)
            for name, (kind, half) in _COMMON.items()
            if getattr(operation, name) is not None
        }
        return usual, {name: _SEPARATE * half for name, half in usual.items()}
    return dict(common or {}), dict(separate or {})


def _moved(operation: Operation, name: str, by: float) -> Operation:
    value = getattr(operation, name)
    if by == 0.0 or value is None:
        return operation
    return replace(operation, **{name: value + by})

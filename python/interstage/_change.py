"""Why power or efficiency changed: a change split into causes that sum to it and depend on no order."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib import import_module
from itertools import product
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from interstage import _analysed, _core, _tables, units
from interstage._operation import Operation
from interstage._progress import bar
from interstage.errors import Inconsistent, InterstageError, UnknownOption

FloatArray = npt.NDArray[np.float64]
if TYPE_CHECKING:
    _Changed: TypeAlias = Literal["power", "kw_per_ton", "cop"]


#: Causes in the order they are shown.
CAUSES = (
    "load",
    "chilled-water temperature",
    "condenser-water temperature",
    "chilled-water flow",
    "condenser-water flow",
    "evaporator UA",
    "condenser UA",
    "compressor efficiency",
    "economizer",
    "subcooling",
    "suction superheat",
    "unexplained",
)

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
        return import_module("pandas").DataFrame(self._columns())

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
        if ax is None:
            _, ax = import_module("matplotlib.pyplot").subplots(figsize=(8.0, 4.2), layout="constrained")
        columns = self._columns()
        causes, parts, intervals = (column[:-1] for column in columns.values())
        places = range(len(causes))
        worse = [(part > 0.0) != (self.figure == "cop") for part in parts]
        colors = ["#b35806" if part else "#35688c" for part in worse]
        bars = ax.barh(places, parts, xerr=intervals, color=colors, capsize=3, height=0.65)
        # Told apart without color too.
        for drawn, hatched in zip(bars, worse, strict=True):
            drawn.set_hatch("///" if hatched else "")
            drawn.set_edgecolor("white")
        ax.set_yticks(list(places), causes)
        ax.invert_yaxis()
        ax.axvline(0.0, color="black", linewidth=0.8)
        ax.set_xlabel(f"part of the change of {self.figure} [{_UNITS[self.figure]}]; hatched: for the worse")
        for spine in ("top", "right"):
            ax.spines[spine].set_visible(False)
        return ax

    def _repr_html_(self) -> str:
        return _tables.rows_html(self._columns(), f"{self.figure}: {self}")

    def __str__(self) -> str:
        unit = _UNITS[self.figure]
        scale = 1e-3 if self.figure == "power" else 1.0
        most = f"most by {self.largest}" if any(self.parts.values()) else "no change"
        return f"{self.before * scale:.4g} to {self.after * scale:.4g} {unit}, {most}"

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
    model = _Model(circuit, figure, evaporator, condenser)
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


@dataclass(frozen=True)
class _State:
    """One operation as the inputs of the model, by cause."""

    inputs: dict[str, Any]
    power: float


class _Model:
    """A chiller that is solved for mixtures of causes."""

    def __init__(
        self,
        circuit: _core.Circuit,
        figure: _Changed,
        evaporator: _core.VariableUa | None,
        condenser: _core.VariableUa | None,
    ) -> None:
        self._circuit = circuit
        self._figure = figure
        self._clean = {"evaporator": evaporator, "condenser": condenser}

    def split(self, before: Operation, after: Operation) -> dict[str, float]:
        """Parts of the change by cause."""
        # One density of each water for both, so that equal volume flows are equal mass flows.
        waters = (
            0.5 * (before.chilled_water_leaving + after.chilled_water_leaving),
            0.5 * (before.condenser_water_entering + after.condenser_water_entering),
        )
        ends = [self._state(before, waters), self._state(after, waters)]
        causes = [cause for cause in CAUSES[:-1] if ends[0].inputs[cause] != ends[1].inputs[cause]]
        count = len(causes)
        masks = np.arange(1 << count)
        power = self._powers(ends, causes)
        # The rest that no model explains is one more cause: the last bit.
        rest = [ends[0].power - power[0], ends[1].power - power[-1]]
        total = np.concatenate([power + rest[0], power + rest[1]])
        of_load = [end.inputs["load"] for end in ends]
        later = masks >> causes.index("load") & 1 if "load" in causes else np.zeros(len(masks))
        load = np.where(later, of_load[1], of_load[0])
        worth = self._worth(total, np.concatenate([load, load]))
        return dict(zip([*causes, "unexplained"], _shapley(worth, count + 1), strict=True))

    def _worth(self, power: FloatArray, capacity: FloatArray) -> FloatArray:
        if self._figure == "power":
            return power
        cop = capacity / power
        return cop if self._figure == "cop" else np.asarray(units.kw_per_ton_from_cop(cop))

    def _state(self, operation: Operation, waters: tuple[float, float]) -> _State:
        """Inputs of the model that reproduce an operation."""
        at = operation
        chilled = _core.WaterFlow(volume_flow=at.chilled_water_flow, temperature=waters[0])
        tower = _core.WaterFlow(volume_flow=at.condenser_water_flow, temperature=waters[1])
        try:
            cycle = self._machine(at.stage_efficiency, at.economizer).solve(
                evaporating_temperature=at.evaporating_temperature,
                condensing_temperature=at.condensing_temperature,
                suction_superheat=max(at.suction_superheat, 0.0),
                subcooling=max(at.subcooling, 0.0),
                capacity=at.capacity,
            )
            cold = _core.Exchanger.evaporator(approach=at.chilled_water_leaving - at.evaporating_temperature)
            evaporator = cold.at_leaving(chilled, at.chilled_water_leaving, at.capacity)
            warm = _core.Exchanger.condenser(ua=1.0).at_entering(
                tower, at.condenser_water_entering, cycle.heat_rejected
            )
            condenser_ua = _core.ua_from_temperatures(
                cycle.heat_rejected,
                at.condenser_water_entering,
                warm.water_leaving,
                at.condensing_temperature,
                errors="raise",
            )
        except InterstageError as error:
            raise Inconsistent(
                f"operation and machine contradict each other: {error}",
                arguments="operation and machine",
                reason=str(error),
            ) from error
        heats = {"evaporator": at.capacity, "condenser": cycle.heat_rejected}
        flows = {"evaporator": chilled.mass_flow, "condenser": tower.mass_flow}
        conductances = {"evaporator": evaporator.ua, "condenser": condenser_ua}
        for vessel, clean in self._clean.items():
            if clean is not None:
                conductances[vessel] /= clean.ua(flows[vessel], heats[vessel])
        return _State(
            {
                "load": at.capacity,
                "chilled-water temperature": at.chilled_water_leaving,
                "condenser-water temperature": at.condenser_water_entering,
                "chilled-water flow": chilled.mass_flow,
                "condenser-water flow": tower.mass_flow,
                "evaporator UA": conductances["evaporator"],
                "condenser UA": conductances["condenser"],
                "compressor efficiency": at.stage_efficiency,
                "economizer": at.economizer,
                "subcooling": max(at.subcooling, 0.0),
                "suction superheat": max(at.suction_superheat, 0.0),
            },
            at.power,
        )

    def _machine(self, efficiency: float | None, economizer: bool) -> _core.Circuit:
        circuit = self._circuit if economizer else self._circuit.without_economizers()
        if efficiency is None:
            return circuit
        rule: Any = circuit.interstage_pressures
        return _core.Circuit(
            circuit.refrigerant,
            stages=[_with_efficiency(stage, efficiency) for stage in circuit.stages],
            interstages=circuit.interstages,
            interstage_pressures=rule,
            tank_separation=circuit.tank_separation,
            **circuit.options,
        )

    def _exchanger(self, vessel: str, conductance: float) -> _core.Exchanger:
        make = getattr(_core.Exchanger, vessel)
        clean = self._clean[vessel]
        if clean is None:
            exchanger: _core.Exchanger = make(ua=conductance)
            return exchanger
        scaled = _core.VariableUa(
            clean.wall_resistance / conductance,
            clean.water_resistance / conductance,
            clean.refrigerant_resistance / conductance,
            clean.exponent,
        )
        exchanger = make(ua=scaled)
        return exchanger

    def _powers(self, ends: list[_State], causes: list[str]) -> FloatArray:
        """Drive input power of every mixture: bit k of its number says whether cause k is as after."""
        power = np.full(1 << len(causes), math.nan)
        duties = [cause for cause in causes if cause in CAUSES[:3]]
        machines = [cause for cause in causes if cause not in CAUSES[:3]]
        bit = {cause: 1 << place for place, cause in enumerate(causes)}

        def taken(chosen: dict[str, int], cause: str) -> Any:
            return ends[chosen.get(cause, 0)].inputs[cause]

        rows = [dict(zip(duties, choice, strict=True)) for choice in product((0, 1), repeat=len(duties))]
        of_row = np.array([sum(bit[cause] * end for cause, end in row.items()) for row in rows])
        columns = [np.array([taken(row, cause) for row in rows], dtype=np.float64) for cause in CAUSES[:3]]
        for choice in product((0, 1), repeat=len(machines)):
            chosen = dict(zip(machines, choice, strict=True))
            try:
                chiller = _core.Chiller(
                    self._machine(taken(chosen, "compressor efficiency"), taken(chosen, "economizer")),
                    evaporator=self._exchanger("evaporator", taken(chosen, "evaporator UA")),
                    condenser=self._exchanger("condenser", taken(chosen, "condenser UA")),
                    suction_superheat=taken(chosen, "suction superheat"),
                    subcooling=taken(chosen, "subcooling"),
                )
                points = chiller.solve(
                    capacity=columns[0],
                    chilled_water=_core.WaterFlow(mass_flow=taken(chosen, "chilled-water flow")),
                    chilled_water_leaving=columns[1],
                    condenser_water=_core.WaterFlow(mass_flow=taken(chosen, "condenser-water flow")),
                    condenser_water_entering=columns[2],
                    errors="raise",
                )
            except InterstageError as error:
                raise Inconsistent(
                    f"a mixture of both operations has no solution: {error}",
                    arguments="before and after",
                    reason=str(error),
                ) from error
            power[of_row + sum(bit[cause] * end for cause, end in chosen.items())] = points.drive_input_power
        return power


def _with_efficiency(stage: _core.Stage, efficiency: float) -> _core.Stage:
    if stage.kind == "isentropic":
        return _core.Stage(isentropic_efficiency=efficiency)
    return _core.Stage(polytropic_efficiency=efficiency, path=stage.path or "integral")


def _shapley(worth: FloatArray, count: int) -> list[float]:
    """Mean over all orders of what each of `count` causes adds; `worth` of a mixture by its bits."""
    masks = np.arange(1 << count)
    size = np.array([int(mask).bit_count() for mask in masks])
    weights = np.array([1.0 / (count * math.comb(count - 1, k)) for k in range(count)])
    parts = []
    for place in range(count):
        without = masks[(masks >> place & 1) == 0]
        parts.append(float((weights[size[without]] * (worth[without | 1 << place] - worth[without])).sum()))
    return parts

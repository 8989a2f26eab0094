"""A chiller modelled from two operations, solved for every mixture of what differs between them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from interstage import _core, units
from interstage._circuits import rebuilt
from interstage._operation import Operation
from interstage._water_loop import WaterLoop
from interstage.errors import Inconsistent, InterstageError

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
        loops: tuple[WaterLoop, WaterLoop],
    ) -> None:
        self._circuit = circuit
        self._figure = figure
        self._clean = {"evaporator": evaporator, "condenser": condenser}
        self._loops = loops
        self._heat_capacities: tuple[float | None, float | None] = (None, None)

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
        chilled = self._loops[0]._flow(at.chilled_water_flow, waters[0])
        tower = self._loops[1]._flow(at.condenser_water_flow, waters[1])
        self._heat_capacities = chilled.heat_capacity, tower.heat_capacity
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
            if not warm.water_leaving < at.condensing_temperature:
                reason = (
                    f"the condenser water would leave at {warm.water_leaving:.2f} K, not below the "
                    f"condensing temperature {at.condensing_temperature:.2f} K"
                )
                raise Inconsistent(reason, arguments="operation", reason=reason)
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
        return circuit if efficiency is None else rebuilt(circuit, efficiency=efficiency)

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
                    chilled_water=_core.WaterFlow(
                        mass_flow=taken(chosen, "chilled-water flow"), heat_capacity=self._heat_capacities[0]
                    ),
                    chilled_water_leaving=columns[1],
                    condenser_water=_core.WaterFlow(
                        mass_flow=taken(chosen, "condenser-water flow"),
                        heat_capacity=self._heat_capacities[1],
                    ),
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

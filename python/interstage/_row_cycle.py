"""The cycle that a row of a trend tells."""

from __future__ import annotations

import operator
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._circuits import rebuilt
from interstage._remarks import remark_text
from interstage.errors import Inconsistent, OutOfRange, Undefined, WrongArgument

if TYPE_CHECKING:
    from interstage._trend_result import TrendResult

#: Remarks of rows whose readings contradict each other, or which have no cycle at all.
_NO_CYCLE = (
    "the machine is off",
    "condensing temperature is not above evaporating temperature",
    "a refrigerant temperature is impossible beside the others",
    "a tank pressure is not between its neighbors",
    "a state could not be computed",
)

_NEEDED = ("evaporating_temperature", "condensing_temperature", "stage_efficiency")


def _needed(result: TrendResult, stage_efficiency: float | None) -> tuple[str, ...]:
    """Figures a cycle is made of; refuses a trend that cannot have them."""
    needed = _NEEDED if stage_efficiency is None else _NEEDED[:2]
    for figure in needed:
        if figure in result.unavailable:
            reason = f"{figure} {result.unavailable[figure]}"
            if figure == "stage_efficiency":
                reason += ", or give stage_efficiency"
            raise Inconsistent(
                f"cycle and readings contradict each other: {reason}",
                arguments="cycle and readings",
                reason=reason,
            )
    return needed


def _tanks(result: TrendResult) -> dict[int, npt.NDArray[np.float64]]:
    """Place of an interstage -> pressure exponents read of its economizer."""
    found = {}
    for place in range(len(result._trend.circuit.interstages)):
        figure = f"stage_{place + 2}_tank_pressure_exponent"
        if figure in result.figures and figure not in result.unavailable:
            found[place] = result._values(figure)
    return found


def _are_all_read(result: TrendResult) -> bool:
    """Tell whether every economizer has a column: only then a row without its reading tells nothing.

    Else those without one stand where the rule of the circuit puts them, as they do in the figures.
    """
    names = [name for name in result.figures if name.endswith("_tank_pressure_exponent")]
    return bool(names) and not any(name in result.unavailable for name in names)


def _read_exponents(result: TrendResult) -> dict[str, npt.NDArray[np.float64]]:
    """Exponents of the economizers that a row must have, by their figures."""
    if not _are_all_read(result):
        return {}
    return {f"stage_{place + 2}_tank_pressure_exponent": found for place, found in _tanks(result).items()}


def why_no_cycle(result: TrendResult, stage_efficiency: float | None) -> npt.NDArray[np.object_]:
    """Tell of each row why it has no cycle; nothing where it has what a cycle is made of."""
    needed = {name: result._values(name) for name in _needed(result, stage_efficiency)}
    needed |= _read_exponents(result)
    lacking = np.column_stack([~np.isfinite(values) for values in needed.values()])
    bits = result._bits()
    refused = bits & np.uint32(_refused_bits())
    # What refuses a row is told alone: then all else lacks too, and is remarked on.
    lacking[refused > 0], bits[refused > 0] = False, refused[refused > 0]
    # Rows that lack the same share a text.
    kinds = bits.astype(np.uint64) | (lacking @ (1 << np.arange(32, 32 + len(needed), dtype=np.uint64)))
    _, first, kind = np.unique(kinds, return_index=True, return_inverse=True)
    texts = [_reason(np.array([*needed])[lacking[row]], int(bits[row])) for row in first]
    return np.array(texts, dtype=object)[kind]


def _reason(lacking: Sequence[str], bits: int) -> str:
    if len(lacking):
        return f"{', '.join(lacking)} cannot be told: {remark_text(bits)}"
    return remark_text(bits) if bits & _refused_bits() else ""


def _refused_bits() -> int:
    known = {text: bits for bits, text in _core._trend_remarks()}
    return sum(int(known[text]) for text in _NO_CYCLE)


def row_number(result: TrendResult, row: Any) -> int:
    """Check the number of a row."""
    try:
        number = operator.index(row)
    except TypeError:
        number = None
    if number is None or isinstance(row, bool):
        raise WrongArgument(f"row must be the number of a row, got {row!r}", argument="row")
    if not 0 <= number < len(result):
        raise OutOfRange(
            f"row must be 0 to {len(result) - 1}, got {number}" if len(result) else "the trend has no rows",
            argument="row",
            value=number,
            minimum=0.0,
            maximum=len(result) - 1.0,
            unit="-",
            reason="rows of the trend",
        )
    return number


def row_cycle(result: TrendResult, row: Any, stage_efficiency: float | None) -> _core.Cycle:
    """Solve the cycle of a row."""
    number = row_number(result, row)
    needed = _needed(result, stage_efficiency)
    figures = {name: float(result._values(name)[number]) for name in needed}
    bits = int(result._bits()[number])
    exponents = {place: float(read[number]) for place, read in _tanks(result).items()}
    read = {name: float(values[number]) for name, values in _read_exponents(result).items()}
    state = _reason([name for name, value in {**figures, **read}.items() if not np.isfinite(value)], bits)
    if state:
        raise Undefined(f"row {number} has no cycle: {state}", property="cycle", state=state, row=number)
    efficiency = figures["stage_efficiency"] if stage_efficiency is None else stage_efficiency
    conditions: dict[str, Any] = {name: figures[name] for name in _NEEDED[:2]}
    conditions["subcooling"] = _positive(result, "subcooling", number)
    superheat = _superheat(result, number, conditions["evaporating_temperature"])
    capacity = _one(result, "capacity", number)
    size = {"capacity": capacity} if np.isfinite(capacity) and capacity > 0.0 else {"mass_flow": 1.0}
    return _solve(result._trend.circuit, conditions, superheat, exponents, efficiency, size)


def _one(result: TrendResult, figure: str, row: int) -> float:
    return float("nan") if figure in result.unavailable else float(result._values(figure)[row])


def _positive(result: TrendResult, figure: str, row: int) -> float:
    """What is read, and 0 where nothing is: sensors at saturation read to either side of it."""
    value = _one(result, figure, row)
    return value if value > 0.0 else 0.0


def _superheat(result: TrendResult, row: int, evaporating: float) -> float | None:
    """Superheat at the evaporator, K, read behind the loss of the suction line; None where it is not."""
    superheat = _one(result, "suction_superheat", row)
    circuit = result._trend.circuit
    lost = circuit.options.get("suction_loss", 0.0)
    if not np.isfinite(superheat):
        return None
    if lost and superheat > 0.0:
        refrigerant = circuit.refrigerant
        pressure = refrigerant.saturation(T=evaporating).vapor.p
        behind = pressure * (1.0 - lost)
        if evaporating + superheat <= refrigerant.saturation(p=behind).vapor.T:
            return 0.0
        enthalpy = refrigerant.state(p=behind, T=evaporating + superheat).h
        superheat = refrigerant.state(p=pressure, h=enthalpy).T - evaporating
    return max(superheat, 0.0)


def _solve(
    circuit: _core.Circuit,
    conditions: dict[str, Any],
    superheat: float | None,
    exponents: dict[int, float],
    efficiency: float,
    size: dict[str, Any],
) -> _core.Cycle:
    """Solve a circuit with economizers where they are read, else where its rule puts them."""
    changed: dict[str, Any] = {}
    exchanged = circuit.options.get("suction_exchanger_effectiveness") is not None
    if not exchanged:
        conditions = {**conditions, "suction_superheat": superheat or 0.0}
    expected: _core.Cycle = circuit.solve(**conditions, mass_flow=1.0)
    low, high = expected.evaporating_pressure, expected.condensing_pressure
    port = 1.0 + circuit.options.get("port_loss", 0.0)
    pressures = list(expected.interstage_pressures)
    for place, exponent in exponents.items():
        if np.isfinite(exponent):
            pressures[place] = low * (high / low) ** exponent / port

    def built() -> _core.Circuit:
        return rebuilt(circuit, efficiency=efficiency, pressures=pressures or None, **changed)

    if exchanged and superheat is not None:
        # The exchanger gives what is read: its effectiveness follows from the liquid that reaches it.
        there: _core.Cycle = built().solve(**conditions, mass_flow=1.0)
        (inlets,) = [
            balance["inlets"] for balance in there.balances() if balance["component"] == "suction_exchanger"
        ]
        liquid, vapor = sorted((there.points[name].T for name in inlets), reverse=True)
        possible = liquid - vapor
        changed["suction_exchanger_effectiveness"] = min(superheat / possible, 1.0) if possible > 0.0 else 0.0
    cycle: _core.Cycle = built().solve(**conditions, **size)
    return cycle

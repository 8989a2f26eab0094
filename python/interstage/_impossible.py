"""Rows whose readings contradict each other, and which readings are suspect for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._axis import BoolArray, FloatArray
from interstage._quantities import quantity
from interstage._trend import Trend

if TYPE_CHECKING:
    from interstage._readings import Readings

__all__ = ["impossible_states"]

_EVAPORATOR = ("evaporator_pressure", "evaporator_saturation_temperature")
_CONDENSER = ("condenser_pressure", "condenser_saturation_temperature")
_CHILLED = ("chilled_water_entering", "chilled_water_leaving")
_COOLING = ("condenser_water_entering", "condenser_water_leaving")
_DISAGREE = "saturation temperature and pressure disagree"


@dataclass(frozen=True)
class _State:
    words: str
    #: Readings that have a part in it.
    readings: tuple[str, ...]


_STATES = (
    _State("chilled water warms", _CHILLED),
    _State("condenser water cools", _COOLING),
    _State("evaporator approach is negative", (_CHILLED[1], *_EVAPORATOR)),
    _State("condenser approach is negative", (_COOLING[1], *_CONDENSER)),
    _State("discharge is below saturation", ("discharge_temperature", *_CONDENSER)),
    _State("condenser is below the evaporator", (*_EVAPORATOR, *_CONDENSER)),
    _State(
        "COP is above Carnot",
        (*_CHILLED, "chilled_water_flow", "capacity", "power", *_EVAPORATOR, *_CONDENSER),
    ),
    _State("liquid line is above saturation", ("liquid_line_temperature", *_CONDENSER)),
    _State(f"evaporator {_DISAGREE}", _EVAPORATOR),
    _State(f"condenser {_DISAGREE}", _CONDENSER),
    _State(
        "tank is not between evaporator and condenser", ("stage_2_tank_pressure", *_EVAPORATOR, *_CONDENSER)
    ),
)


def impossible_states() -> dict[str, int]:
    """List the impossible states that a row can carry.

    Returns
    -------
    dict
        Words of the state -> its bit in `Quality.rows`.

    Examples
    --------
    >>> import interstage
    >>> interstage.impossible_states()["COP is above Carnot"]
    64
    """
    return {state.words: 1 << bit for bit, state in enumerate(_STATES)}


def words_of(bits: int) -> str:
    """Put the states of a row into words."""
    return "; ".join(words for words, bit in impossible_states().items() if bits & bit) or "ok"


def suspects(bits: int, declared: tuple[str, ...]) -> str:
    """Readings that most of the states of a row share."""
    votes: Counter[str] = Counter()
    for bit, state in enumerate(_STATES):
        if bits >> bit & 1:
            votes.update(name for name in state.readings if name in declared)
    most = max(votes.values(), default=0)
    return ", ".join(name for name in votes if votes[name] == most)


def impossible_rows(
    si: Mapping[str, FloatArray],
    refrigerant: _core.Refrigerant | None,
    readings: Readings,
    running: BoolArray,
    tolerance: float,
) -> npt.NDArray[np.uint32]:
    """Find the impossible states of rows.

    Parameters
    ----------
    si : mapping
        Readings in SI in the order of time, NaN where they may not be used.
    refrigerant : Refrigerant, optional
        What turns pressures into temperatures; without it only temperatures are compared.
    readings : Readings
    running : array of bool
    tolerance : float
        K.
    """
    rows = len(running)
    nothing = np.full(rows, np.nan)

    def of(name: str) -> FloatArray:
        return np.asarray(si.get(name, nothing))

    def saturated(pressure: FloatArray) -> FloatArray:
        if refrigerant is None or np.isnan(pressure).all():
            return nothing
        return np.asarray(refrigerant.saturation_temperature(p=pressure))

    by_pressure = {name: saturated(of(name)) for name in (_EVAPORATOR[0], _CONDENSER[0])}
    # The pressure first: a "saturation temperature" may be converted from it by another table.
    cold, warm = (
        np.where(np.isnan(by_pressure[pressure]), of(temperature), by_pressure[pressure])
        for pressure, temperature in (_EVAPORATOR, _CONDENSER)
    )
    tank = saturated(of("stage_2_tank_pressure"))
    cop = _cop(si, refrigerant, readings)
    with np.errstate(invalid="ignore", divide="ignore"):
        carnot = cold / (warm - cold)
        found = (
            of(_CHILLED[1]) > of(_CHILLED[0]) + tolerance,
            of(_COOLING[0]) > of(_COOLING[1]) + tolerance,
            cold > of(_CHILLED[1]) + tolerance,
            of(_COOLING[1]) > warm + tolerance,
            of("discharge_temperature") < warm - tolerance,
            warm < cold - tolerance,
            (warm > cold) & (cop > carnot),
            of("liquid_line_temperature") > warm + tolerance,
            np.abs(by_pressure[_EVAPORATOR[0]] - of(_EVAPORATOR[1])) > tolerance,
            np.abs(by_pressure[_CONDENSER[0]] - of(_CONDENSER[1])) > tolerance,
            (tank < cold - tolerance) | (tank > warm + tolerance),
        )
    bits = np.zeros(rows, dtype=np.uint32)
    for bit, where in enumerate(found):
        bits[where & running] |= np.uint32(1 << bit)
    return bits


def _cop(
    si: Mapping[str, FloatArray], refrigerant: _core.Refrigerant | None, readings: Readings
) -> FloatArray:
    """COP from capacity and motor power, by the compiled analysis."""
    rows = len(next(iter(si.values())))
    names = (*_CHILLED, "chilled_water_flow", "capacity")
    water = {name: np.ascontiguousarray(si[name]) for name in names if name in si}
    if refrigerant is None or "power" not in si or not ("capacity" in si or len(water) == 3):
        return np.full(rows, np.nan)
    stage = _core.Stage(isentropic_efficiency=0.7)
    circuit = _core.Circuit(refrigerant, stages=[stage], interstages=[])
    columns = {name: (name, quantity(name).si) for name in water}
    trend = Trend(circuit, columns, chilled_water=readings.loop_of("chilled_water_flow"))
    capacity = trend.analyse(water, progress=False)["capacity"]
    power = si["power"]
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(power > 0.0, capacity / power, np.nan)

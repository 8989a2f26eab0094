"""What an economizer saves: as the readings show at least, and as they show if it works as designed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _analysed, _core
from interstage._circuits import rebuilt
from interstage._remarks import remark_text
from interstage._row_cycle import _superheat
from interstage._shown import Shown
from interstage._uncertain_figures import MeanFigure, UncertainFigures
from interstage.errors import WrongArgument

__all__ = ["EconomizerSaving", "economizer_saving"]

FloatArray = npt.NDArray[np.float64]

#: Figures that it follows from; the last two where they are read.
_NEEDED = ("measured_saving", "economizer_potential", "cop", "stage_efficiency")
_STATE = ("evaporating_temperature", "condensing_temperature", "suction_superheat", "subcooling")
#: Stage efficiencies that the work is solved at and interpolated between, and the least distance of the ends.
_NODES = 6
_LEAST_SPAN = 0.02
#: Steps of the central differences, K.
_STEP = 0.05


@dataclass(frozen=True)
class EconomizerSaving(Shown):
    """Saving of the economizers over a period. Made by `economizer_saving`.

    Fractions of the power that the machine would take without them, with half widths of 95 % intervals; NaN
    where the readings do not tell them.

    Attributes
    ----------
    shown, shown_interval : float
        What the readings show at least: the stage efficiency is told as if no flash gas were taken off,
        unless the tanks show that it is (``measured_saving``).
    if_working, if_working_interval : float
        What the same readings show if the economizers work as designed: the stage efficiency is told with
        them.
    potential, potential_interval : float
        What working economizers save between these temperatures with the stages of the circuit.
    lacking, lacking_interval : float
        Potential less `if_working`. Clearly above zero, the economizers do not work as designed even if that
        is taken for granted.
    rows : int
        Rows that count.
    verdict : str
        ``"works"`` where `shown` is clearly above zero, ``"does not work as designed"`` where `lacking` is,
        else ``"cannot tell"``, also where both are.
    dominant : str
        What the interval of `if_working` mostly comes from.
    reason : str
        Why the readings tell no saving, where they do not.
    """

    shown: float
    shown_interval: float
    if_working: float
    if_working_interval: float
    potential: float
    potential_interval: float
    lacking: float
    lacking_interval: float
    rows: int
    verdict: str
    dominant: str = ""
    reason: str = ""

    def __repr__(self) -> str:
        if self.reason:
            return f"EconomizerSaving(cannot tell: {self.reason})"
        return (
            f"EconomizerSaving(at least {self.shown:.2%} +/- {self.shown_interval:.2%}, if working "
            f"{self.if_working:.2%} +/- {self.if_working_interval:.2%}, potential {self.potential:.2%}; "
            f"{self.verdict})"
        )


def economizer_saving(
    told: UncertainFigures, *, rows: Any = None, drive_uncertainty: float = 0.02
) -> EconomizerSaving:
    """Tell what the economizers of a machine save over a period, at least and if they work as designed.

    ``measured_saving`` takes the economizers for dead unless the tanks show that they work, so it is a lower
    bound. The other end of the readings takes for granted that they work: it is an upper one. Intervals are
    those of the instruments over all rows; random parts average out, biases do not. Derivatives are exact but
    for the machine without economizers, whose work is interpolated over the stage efficiency and differenced
    over its conditions (0.05 K).

    Parameters
    ----------
    told : UncertainFigures
        Of a trend with a drive efficiency.
    rows : array of bool, optional
        Rows of the period; all unless given. Rows without a measured saving do not count.
    drive_uncertainty : float, optional
        Relative half width of the 95 % interval of the drive efficiency. Common practice.

    Returns
    -------
    EconomizerSaving

    Examples
    --------
    A modelled machine whose economizer works, with sharp instruments:

    >>> import interstage
    >>> stage = interstage.Stage(polytropic_efficiency=0.8)
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-1233zd(E)"),
    ...     stages=[stage, stage],
    ...     interstages=[interstage.FlashTank()],
    ... )
    >>> cycle = circuit.solve(evaporating_temperature=279.0, condensing_temperature=309.0, capacity=1e6)
    >>> table = {
    ...     "pe": [cycle.evaporating_pressure],
    ...     "pc": [cycle.condensing_pressure],
    ...     "discharge": [cycle.discharge_temperature],
    ...     "capacity": [1e6],
    ...     "power": [cycle.power / 0.93],
    ... }
    >>> columns = {
    ...     "evaporator_pressure": ("pe", "Pa"),
    ...     "condenser_pressure": ("pc", "Pa"),
    ...     "discharge_temperature": ("discharge", "K"),
    ...     "capacity": ("capacity", "W"),
    ...     "power": ("power", "W"),
    ... }
    >>> sharp = interstage.Accuracy(0.2, unit="percent")
    >>> accuracies = dict.fromkeys(columns, sharp)
    >>> accuracies["discharge_temperature"] = interstage.Accuracy(0.1, unit="K")
    >>> trend = interstage.Trend(circuit, columns, drive_efficiency=0.93)
    >>> told = interstage.Uncertainty(trend, accuracies).analyse(table)
    >>> found = interstage.economizer_saving(told, drive_uncertainty=0.005)
    >>> found.verdict, round(found.shown, 3), round(found.if_working, 3), round(found.if_working_interval, 3)
    ('works', 0.044, 0.054, 0.007)
    """
    if not isinstance(told, UncertainFigures):
        raise WrongArgument(f"told must be UncertainFigures, got {type(told).__name__}", argument="told")
    _analysed.refuse_below("drive_uncertainty", drive_uncertainty, 0.0, "-")
    chosen = told._chosen(rows)
    reason = _lacking(told, chosen)
    if reason:
        return EconomizerSaving(*(math.nan,) * 8, rows=0, verdict="cannot tell", reason=reason)
    known = chosen & np.isfinite(told.result._values("measured_saving"))
    values, slopes = _if_working(told, known)
    potential, by_potential = told.result._values("economizer_potential"), told._at("economizer_potential")
    means = {
        "shown": told.mean("measured_saving", known),
        "if_working": told._mean("saving if working", values, slopes, known),
        "potential": told.mean("economizer_potential", known),
        "lacking": told._mean("lacking saving", potential - values, by_potential - slopes, known),
    }
    found: dict[str, Any] = {}
    for name, mean in means.items():
        saving = means["if_working"] if name == "lacking" else mean
        drive = 0.0 if name == "potential" else (1.0 - saving.value) * drive_uncertainty
        found |= {name: mean.value, f"{name}_interval": math.hypot(mean.half_width, drive)}
    works = found["shown"] > found["shown_interval"]
    fails = found["lacking"] > found["lacking_interval"]
    verdict = "cannot tell"
    if works != fails:
        verdict = "works" if works else "does not work as designed"
    return EconomizerSaving(
        **found,
        rows=means["if_working"].rows,
        verdict=verdict,
        dominant=_dominant(means["if_working"], found),
    )


def _dominant(mean: MeanFigure, found: dict[str, Any]) -> str:
    rest = found["if_working_interval"] ** 2 - mean.half_width**2
    return "drive efficiency" if rest > 0.5 * found["if_working_interval"] ** 2 else mean.dominant


def _lacking(told: UncertainFigures, chosen: npt.NDArray[np.bool_]) -> str:
    """Why no saving can be told; empty where it can."""
    result = told.result
    circuit = told.uncertainty.trend.circuit
    if "measured_saving" not in result.figures:
        return "the circuit has no economizer"
    for figure in (*_NEEDED, *_STATE[:2]):
        if figure in result.unavailable:
            return f"{figure} {result.unavailable[figure]}"
        if figure not in told.figures:
            return f"no interval of {figure} was asked for"
    if circuit.options.get("suction_exchanger_effectiveness") is not None:
        return "with a liquid-suction exchanger the work without economizers is not told"
    if not chosen.any():
        return "no row is chosen"
    known = np.isfinite(result._values("measured_saving"))
    if (chosen & known).any():
        return ""
    codes, counts = np.unique(result._bits()[chosen], return_counts=True)
    most = remark_text(int(codes[np.argmax(counts)]))
    return f"none of the {int(chosen.sum())} rows tells a measured saving; most often: {most}"


def _if_working(told: UncertainFigures, known: npt.NDArray[np.bool_]) -> tuple[FloatArray, FloatArray]:
    """Saving of every row with the stage efficiency told as if the economizers work, and its derivatives."""
    result = told.result
    places = np.flatnonzero(known)
    drive = float(told.uncertainty.trend._options["drive_efficiency"])
    efficiency = result._values("stage_efficiency")[places]
    state = _state(told, places)
    circuit = told.uncertainty.trend.circuit.without_economizers()
    low, high = float(efficiency.min()), float(efficiency.max())
    low = min(low, high - _LEAST_SPAN)
    nodes = 0.5 * (low + high) + 0.5 * (high - low) * np.cos(np.pi * np.arange(_NODES) / (_NODES - 1))
    at_nodes = np.stack([_log_work(circuit, float(node), state) for node in nodes])
    weights, by_efficiency = _lagrange(1.0 / nodes, 1.0 / efficiency)
    work = np.exp((weights * at_nodes).sum(axis=0))
    # Over the inverse of the efficiency, so times its slope.
    relative = {"stage_efficiency": -(by_efficiency * at_nodes).sum(axis=0) / efficiency**2}
    # Slopes to the conditions hardly depend on the efficiency: a straight line between both ends will do.
    toward_high = (efficiency - low) / (high - low)
    for name in state:
        at_low, at_high = (_slope(circuit, end, state, name) for end in (low, high))
        relative[name] = at_low + toward_high * (at_high - at_low)
    cop = result._values("cop")[places]
    slopes = told._at("cop")[places] / cop[:, None]
    for name, slope in relative.items():
        if name in told.figures:
            read = told._at(name)[places]
            # Below zero a superheat or a subcooling counts as none.
            positive = name not in _STATE[2:] or result._values(name)[places] > 0.0
            slopes = slopes + np.where(np.isnan(read), 0.0, read) * (slope * positive)[:, None]
    saving = 1.0 - drive / (cop * work)
    values = np.full(len(told), np.nan)
    by = np.full((len(told), slopes.shape[1]), np.nan)
    values[places], by[places] = saving, (1.0 - saving)[:, None] * slopes
    return values, by


def _state(told: UncertainFigures, places: npt.NDArray[np.intp]) -> dict[str, FloatArray]:
    """Conditions of the cycle in the rows: what is not read, or below zero, is none."""
    result = told.result
    found = {name: result._values(name)[places] for name in _STATE[:2]}
    for name in _STATE[2:]:
        read = name not in result.unavailable
        values = result._values(name)[places] if read else np.zeros(len(places))
        found[name] = np.where(values > 0.0, values, 0.0)
    if told.uncertainty.trend.circuit.options.get("suction_loss", 0.0):
        evaporating = found["evaporating_temperature"]
        each = [
            _superheat(result, int(row), float(at)) or 0.0
            for row, at in zip(places, evaporating, strict=True)
        ]
        found["suction_superheat"] = np.array(each)
    return found


def _log_work(circuit: _core.Circuit, efficiency: float, state: dict[str, FloatArray]) -> FloatArray:
    """Logarithm of the work per cooling of a circuit with one efficiency in all stages."""
    cycles: Any = rebuilt(circuit, efficiency=efficiency).solve(
        evaporating_temperature=state["evaporating_temperature"],
        condensing_temperature=state["condensing_temperature"],
        suction_superheat=state["suction_superheat"],
        subcooling=state["subcooling"],
        capacity=1.0,
    )
    logarithm: FloatArray = np.log(np.asarray(cycles.power))
    return logarithm


def _slope(circuit: _core.Circuit, efficiency: float, state: dict[str, FloatArray], name: str) -> FloatArray:
    """Slope of the logarithm of the work per cooling to one condition, by differences."""
    ends = state[name] - _STEP, state[name] + _STEP
    if name in _STATE[2:]:
        ends = np.maximum(ends[0], 0.0), ends[1]
    less, more = (_log_work(circuit, efficiency, {**state, name: end}) for end in ends)
    return (more - less) / (ends[1] - ends[0])


def _lagrange(nodes: FloatArray, at: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Weights of the values at nodes, nodes by points, of the polynomial through them and of its slope."""
    weights = np.empty((len(nodes), len(at)))
    slopes = np.empty_like(weights)
    for place, node in enumerate(nodes):
        others = np.delete(nodes, place)
        factors = (at[None] - others[:, None]) / (node - others)[:, None]
        weights[place] = factors.prod(axis=0)
        slopes[place] = sum(
            np.delete(factors, skipped, axis=0).prod(axis=0) / (node - other)
            for skipped, other in enumerate(others)
        )
    return weights, slopes

"""How figures depart from a baseline over a period, at the same conditions."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, Protocol

import numpy as np
import numpy.typing as npt

from interstage import _analysed
from interstage._shown import Shown
from interstage.errors import UnknownOption, WrongArgument

__all__ = ["Departure", "departures"]

FloatArray = npt.NDArray[np.float64]

#: Half width of a 95 % interval of a normal distribution, in standard deviations.
_COVERAGE = 1.959963984540054

#: Standard deviation of a median per that of a mean of many normal values.
_OF_MEDIAN = math.sqrt(math.pi / 2.0)

#: How far figures wander without a fault between one period and the next, however many rows are averaged: a
#: fraction of the expected value, or an amount in SI units. Common practice, no published source.
DRIFT: Mapping[str, tuple[Literal["fraction", "amount"], float]] = {
    "condenser_ua": ("fraction", 0.03),
    "evaporator_ua": ("fraction", 0.05),
    "condenser_approach": ("amount", 0.15),
    "evaporator_approach": ("amount", 0.2),
    "condensing_temperature": ("amount", 0.2),
    "evaporating_temperature": ("amount", 0.2),
    "subcooling": ("amount", 0.3),
    "apparent_gas_pressure": ("amount", 1500.0),
    "discharge_superheat": ("amount", 0.5),
    "suction_superheat": ("amount", 0.3),
    "stage_efficiency": ("amount", 0.015),
    "condenser_water_flow": ("fraction", 0.02),
    "chilled_water_flow": ("fraction", 0.02),
    "condenser_water_range": ("amount", 0.1),
    "chilled_water_range": ("amount", 0.1),
    "heat_balance": ("amount", 0.015),
    "tank_pressure_exponent": ("amount", 0.02),
    "measured_saving": ("amount", 0.01),
    "condensing_temperature_swing": ("amount", 0.05),
    "power_swing": ("fraction", 0.25),
    "tank_pressure_exponent_swing": ("amount", 0.01),
}


class Expectation(Protocol):
    """A baseline of one figure: what it would be at the conditions of each row."""

    def predict(self, frame: Any) -> Any:
        """Expected values and half widths of their 95 % intervals, SI, one of each a row."""


@dataclass(frozen=True)
class Departure(Shown):
    """How one figure departs from its baseline over a period. SI units.

    Attributes
    ----------
    figure : str
    shift : float
        Actual less expected value: the median over the blocks of rows of the median in each.
    interval : float
        Half width of the 95 % interval of the shift without a fault.
    expected : float
        Mean of the expected values.
    rows, blocks : int
        Rows with a value, and blocks of rows that count as one each.
    first, last : object
        Labels of the first and last of these rows.
    strongest : object
        Label of the row that departs most in the direction of the shift.
    """

    figure: str
    shift: float
    interval: float
    expected: float
    rows: int
    blocks: int
    first: Any
    last: Any
    strongest: Any

    @property
    def score(self) -> float:
        """Departure in standard deviations of a departure without a fault."""
        return self.shift / self.interval * _COVERAGE

    @property
    def kind(self) -> str:
        """The figure without the stage of a tank."""
        return _kind(self.figure)


def _kind(figure: str) -> str:
    return figure.split("_", 2)[2] if figure.startswith("stage_") and "_tank_" in figure else figure


class _Departures(list[Departure], Shown):
    """Departures that notebooks show as one table."""


def departures(
    frame: Any,
    baselines: Mapping[str, Expectation],
    *,
    block: Any,
    where: Any = None,
    drift: Mapping[str, float] | None = None,
) -> list[Departure]:
    """Compare figures with their baselines at the same conditions, over a period.

    Parameters
    ----------
    frame : pandas.DataFrame
        Figures and readings, as `analysed` gives them.
    baselines : mapping of str to baseline
        Figure -> what tells its expected value: anything with ``predict(frame)``, which gives expected values
        and half widths of their 95 % intervals in SI units, NaN where it cannot tell.
    block : str or sequence
        Rows that lean on each other and count as one: a step of time such as ``"6h"``, or a label for each
        row.
    where : array of bool, optional
        Rows of the period, steady and in operation; all unless given.
    drift : mapping of str to float, optional
        Figure -> standard deviation (SI) of how far it wanders without a fault from period to period, however
        many rows are averaged. Common practice unless given.

    Returns
    -------
    list of Departure
        Notebooks show it as a table.
        In the order of the baselines; figures without a single comparable row are left out.

    Raises
    ------
    UnknownOption
        If a figure, of the baselines or of the drift, tells no fault.
    WrongArgument
        If a baseline tells another figure, or not one value a row, or an argument is of a wrong kind.
    """
    frame = _analysed.pandas_frame("frame", frame)
    chosen = _analysed.rows_chosen("where", frame, where)
    labels = _analysed.block_labels(frame, block)
    amounts = refuse_drift(drift)
    if not isinstance(baselines, Mapping):
        raise WrongArgument(
            f"baselines must be a mapping of figure to baseline, got {type(baselines).__name__}",
            argument="baselines",
        )
    found = _Departures()
    for figure, baseline in baselines.items():
        kind = _kind(figure)
        if kind not in DRIFT:
            known = tuple(DRIFT)
            raise UnknownOption(
                f"no fault is told by {figure!r}; figures are {', '.join(known)}",
                argument="baselines",
                value=figure,
                options=known,
            )
        expected, half = _predicted(figure, baseline, frame)
        residual = _analysed.values(frame, figure) - expected
        usable = chosen & np.isfinite(residual) & np.isfinite(half)
        if not usable.any():
            continue
        in_blocks = [np.median(residual[usable & (labels == label)]) for label in np.unique(labels[usable])]
        shift, blocks = float(np.median(in_blocks)), len(in_blocks)
        level = float(expected[usable].mean())
        kind_of, amount = DRIFT[kind]
        wander = amount * abs(level) if kind_of == "fraction" else amount
        wander = amounts.get(figure, wander)
        noise = float(np.sqrt((half[usable] ** 2).mean())) / _COVERAGE
        spread = math.hypot(_OF_MEDIAN * noise / math.sqrt(blocks), wander)
        rows = np.flatnonzero(usable)
        strongest = rows[np.argmax(residual[rows] * (1.0 if shift >= 0.0 else -1.0))]
        index = frame.index
        found.append(
            Departure(
                figure=figure,
                shift=shift,
                interval=_COVERAGE * max(spread, 1e-300),
                expected=level,
                rows=len(rows),
                blocks=blocks,
                first=index[rows[0]],
                last=index[rows[-1]],
                strongest=index[strongest],
            )
        )
    return found


def refuse_drift(drift: Mapping[str, float] | None) -> dict[str, float]:
    """Refuse drifts of figures that tell no fault, and such as are no amounts; none is an empty mapping."""
    given = {} if drift is None else dict(drift)
    for figure, amount in given.items():
        if _kind(figure) not in DRIFT:
            raise UnknownOption(
                f"drift: no fault is told by {figure!r}; figures are {', '.join(DRIFT)}",
                argument="drift",
                value=str(figure),
                options=tuple(DRIFT),
            )
        _analysed.refuse_below(f"drift of {figure}", amount, 0.0, "SI")
    return {figure: float(amount) for figure, amount in given.items()}


def _predicted(figure: str, baseline: Expectation, frame: Any) -> tuple[FloatArray, FloatArray]:
    """Expected values and half widths of a baseline, checked."""
    if not hasattr(baseline, "predict"):
        raise WrongArgument(
            f"the baseline of {figure} must have predict(frame), got {type(baseline).__name__}",
            argument="baselines",
        )
    own = getattr(baseline, "figure", figure)
    if own != figure:
        raise WrongArgument(
            f"the baseline of {figure} must tell {figure}, got one of {own}", argument="baselines"
        )
    predicted = baseline.predict(frame)
    try:
        expected, half = (np.asarray(part, dtype=np.float64) for part in predicted)
    except (TypeError, ValueError):
        raise WrongArgument(
            f"the baseline of {figure} must predict (expected, interval), got {type(predicted).__name__}",
            argument="baselines",
        ) from None
    for part in (expected, half):
        if part.shape not in ((), (len(frame),)):
            raise WrongArgument(
                f"the baseline of {figure} must predict one value a row ({len(frame)}), got {part.shape}",
                argument="baselines",
            )
    expected, half = (np.broadcast_to(part, (len(frame),)) for part in (expected, half))
    return expected, half

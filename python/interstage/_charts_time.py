"""Rows over time as a screen can show them: each row of few, else medians of equal steps of time."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _looks, _needed
from interstage._declared import shown
from interstage._quantities import quantity
from interstage._tables import checked_units
from interstage.errors import InterstageError, WrongArgument

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
Times = npt.NDArray[np.datetime64]

#: Steps of time that a row of medians may have, s.
_MINUTE, _HOUR, _DAY = 60, 3600, 86400
_STEPS = (
    *(1, 2, 5, 10, 15, 30),
    *(_MINUTE * each for each in (1, 2, 5, 10, 15, 30)),
    *(_HOUR * each for each in (1, 2, 3, 6, 12)),
    *(_DAY * each for each in (1, 2, 7, 14, 28, 56, 112, 364)),
)
#: Most rows that are drawn one by one, and most steps where they are not.
EACH_ROW, MOST_STEPS = 1000, 300
#: Most steps of a length that was given.
_MOST_GIVEN = 20_000
#: A step between rows is a gap where it is longer than this many usual ones, as in `assess_quality`.
_GAP = 3.0


def times_of(argument: str, frame: Any) -> Times:
    """Times of the rows of a frame, as clocks showed them; NaT where there is none."""
    pandas = _needed.pandas()
    if not isinstance(frame.index, pandas.DatetimeIndex):
        raise WrongArgument(f"a chart over time needs times in the index of {argument}", argument=argument)
    return as_times(frame.index)


def as_times(index: Any) -> Times:
    """Times without a zone: what clocks showed."""
    if index.tz is not None:
        index = index.tz_localize(None)
    return np.asarray(index.to_numpy(), dtype="datetime64[ns]")


def step_of(argument: str, step: Any) -> int | None:
    """Give a step of time in ns; None where it is not given."""
    if step is None:
        return None
    pandas = _needed.pandas()
    try:
        found = pandas.Timedelta(step)
    except (ValueError, TypeError):
        found = pandas.NaT
    if found is pandas.NaT or found.value <= 0:
        message = f"{argument} must be a length of time such as '1D', got {step!r}"
        raise WrongArgument(message, argument=argument)
    return int(found.value)


def round_step(span: float, most: int) -> float:
    """Length of a step, s, of which a span has no more than there may be."""
    return float(next((each for each in _STEPS if span / each <= most), _STEPS[-1]))


def words_of_step(step: int) -> str:
    """Say how long a step (ns) is."""
    seconds = step / 1e9
    for unit, length in (("d", _DAY), ("h", _HOUR), ("min", _MINUTE)):
        if seconds >= length:
            return f"{seconds / length:g} {unit}"
    return f"{seconds:g} s"


@dataclass(frozen=True)
class Steps:
    """Steps of time that rows are gathered in; or the rows themselves, each with its own time."""

    #: Step of each row that counts, and the rows.
    label: npt.NDArray[np.intp]
    rows: npt.NDArray[np.intp]
    #: Start and end of each step.
    start: Times
    end: Times
    #: Length of a step, ns; 0 where each row is drawn.
    length: int

    @property
    def middle(self) -> Times:
        """Middle of each step; where each row is drawn, its time."""
        return self.start if self.length == 0 else self.start + (self.end - self.start) // 2

    def __len__(self) -> int:
        return len(self.start)

    def __str__(self) -> str:
        return "each row" if self.length == 0 else f"median of each {words_of_step(self.length)}"

    def of(self, values: FloatArray, share: float = 0.5, where: BoolArray | None = None) -> FloatArray:
        """Quantile of the values in each step; NaN where there is none."""
        label, given = self.label, values[self.rows]
        known = np.isfinite(given) if where is None else np.isfinite(given) & where[self.rows]
        label, given = label[known], given[known]
        order = np.lexsort((given, label))
        label, given = label[order], given[order]
        found = np.full(len(self), np.nan)
        if not label.size:
            return found
        first = np.flatnonzero(np.diff(label, prepend=-1))
        count = np.diff(np.append(first, label.size))
        place = first + share * (count - 1)
        low = np.floor(place).astype(np.intp)
        high = np.minimum(low + 1, first + count - 1)
        found[label[first]] = given[low] + (place - low) * (given[high] - given[low])
        return found

    def count(self, where: BoolArray) -> npt.NDArray[np.intp]:
        """Rows of each step that are chosen."""
        return np.bincount(self.label[where[self.rows]], minlength=len(self))


def steps(times: Times, where: BoolArray, step: int | None, most: int = MOST_STEPS) -> Steps:
    """Gather rows in steps of time.

    Parameters
    ----------
    times : array of datetime64[ns]
    where : array of bool
        Rows that count.
    step : int or None
        Length of a step in ns; unless given each row of few, or a length with which there are not too many.
    most : int, optional
        Most steps unless their length is given.
    """
    rows = np.flatnonzero(where & ~np.isnat(times))
    rows = rows[np.argsort(times[rows], kind="stable")]
    ordered = times[rows]
    if step is None and rows.size <= EACH_ROW:
        return _each(rows, ordered)
    if not rows.size:
        return Steps(rows, rows, ordered, ordered, step or 0)
    if step is None:
        span = (ordered[-1] - ordered[0]).astype(np.int64) / 1e9
        step = int(1e9 * round_step(span, most))
    number = int((ordered[-1] - ordered[0]).astype(np.int64) // step) + 1
    if number > _MOST_GIVEN:
        each = f"step must be longer than {words_of_step(step)}"
        message = f"{each}, of which there are {number:,}: at most {_MOST_GIVEN:,} are drawn"
        raise WrongArgument(message, argument="step")
    # Steps begin at midnight, and weeks with the first day.
    midnight = ordered[0].astype("datetime64[D]").astype("datetime64[ns]")
    first = midnight + ((ordered[0] - midnight) // step) * step
    label = ((ordered - first).astype(np.int64) // step).astype(np.intp)
    start = first + np.arange(int(label[-1]) + 1) * np.timedelta64(step, "ns")
    return Steps(label, rows, start, start + np.timedelta64(step, "ns"), step)


def _each(rows: npt.NDArray[np.intp], ordered: Times) -> Steps:
    """Rows as they are, with an empty step in every gap, so that no line crosses it."""
    between = np.diff(ordered).astype(np.int64)
    usual = int(np.median(between[between > 0])) if (between > 0).any() else 0
    gaps = np.flatnonzero(between > _GAP * usual) if usual else np.empty(0, dtype=np.intp)
    label = np.arange(rows.size) + np.searchsorted(gaps, np.arange(rows.size), side="left")
    start = np.full(rows.size + gaps.size, np.datetime64("NaT", "ns"))
    start[label] = ordered
    holes = np.flatnonzero(np.isnat(start))
    start[holes] = start[holes - 1] + np.timedelta64(usual, "ns") if holes.size else start[holes]
    width = np.timedelta64(usual or 10 * _MINUTE * int(1e9), "ns")
    return Steps(label, rows, start, start + width, 0)


def stairs(gathered: Steps, *columns: FloatArray) -> tuple[Times, list[FloatArray]]:
    """Outline of values that hold over their steps, broken where one is missing."""
    half = (gathered.end - gathered.start) // 2 if gathered.length == 0 else np.timedelta64(0, "ns")
    start, end = gathered.start - half, gathered.end - half
    x = np.column_stack([start, end, end]).reshape(-1)
    missing = np.asarray(np.isnan(np.column_stack(columns)).any(axis=1))
    after = np.append(missing[1:], True) if len(missing) else missing
    found = []
    for column in columns:
        # The third point breaks the outline before a step without a value; else it changes nothing.
        third = np.where(after, np.nan, column)
        found.append(np.column_stack([column, column, third]).reshape(-1))
    return x, found


def time_axis(ax: Any, first: Any, last: Any) -> None:
    """Lay out an axis of time, from the first to the last time shown."""
    dates = import_module("matplotlib.dates")
    if not (np.isnat(first) or np.isnat(last)):
        margin = max((last - first) // 60, np.timedelta64(10, "m"))
        ax.set_xlim(first - margin, last + margin)
    locator = dates.AutoDateLocator(minticks=4, maxticks=9)
    ax.xaxis.set_major_locator(locator)
    ax.xaxis.set_major_formatter(dates.ConciseDateFormatter(locator))


def in_units(figure: str, values: Any, units: str) -> tuple[str, FloatArray]:
    """Convert a figure or a reading from SI to the units shown; what is neither stays as it is."""
    checked_units(units)
    try:
        unit, found = shown(figure, values, units)
        return unit, np.asarray(found)
    except InterstageError:
        pass
    try:
        si = quantity(figure).si
    except InterstageError:
        return "", np.asarray(values)
    if figure == "power":
        return "kW", np.asarray(values) / 1e3
    stands_for = {"K": "condensing_temperature", "W": "capacity"}.get(si)
    if stands_for is None:
        return si, np.asarray(values)
    unit, found = shown(stands_for, values, units)
    return unit, np.asarray(found)


def words(figure: str) -> str:
    """Name of a figure as people write it."""
    text = figure.replace("kw_per_ton", "power per capacity").replace("_ua", " UA").replace("_", " ")
    return {"cop": "COP"}.get(text, text)


def labelled(figure: str, unit: str) -> str:
    """Name of a figure with its unit, for an axis."""
    return f"{words(figure)} [{unit or '-'}]"


def count(number: int) -> str:
    """A number of rows."""
    return f"{number:,} rows" if number != 1 else "1 row"


def point(**style: Any) -> dict[str, Any]:
    """Look of points without a line."""
    return {"linestyle": "none", "markersize": 4.0, "markeredgewidth": 0.9, **style}


#: Points that lie where they should, beyond, and where nothing can be said of them.
WITHIN = point(marker="o", markerfacecolor="white", markeredgecolor=_looks.BETTER)
BEYOND = point(marker="D", markerfacecolor=_looks.WORSE, markeredgecolor=_looks.WORSE)
UNSEEN = point(marker="x", color=_looks.FAINT, markersize=4.5)

"""The time of the rows of a table, in seconds, and where it has gaps."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage._arrays import numbers
from interstage.errors import WrongArgument

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
IndexArray = npt.NDArray[np.intp]

#: A step is a gap where it is longer than this many usual steps (the median). Common practice, no published
#: source.
_USUAL_STEPS = 3.0


@dataclass(frozen=True)
class Axis:
    """Rows in the order of time, without those that have none."""

    #: Time of the ordered rows, s.
    seconds: FloatArray
    #: Positions of the ordered rows in the table.
    order: IndexArray
    #: Of each ordered row: whether a gap lies before it; the first has one.
    after_gap: BoolArray
    #: Longest step that is no gap, s.
    longest_step: float

    @property
    def segment(self) -> IndexArray:
        """Number of the stretch without a gap that each ordered row belongs to."""
        return np.cumsum(self.after_gap) - 1

    @property
    def usual_step(self) -> float:
        """Median step between rows of a stretch, s; 0 where there is none."""
        step = np.diff(self.seconds)
        inside = step[(step > 0.0) & ~self.after_gap[1:]]
        return float(np.median(inside)) if inside.size else 0.0

    def held(self) -> FloatArray:
        """How long each ordered row lasts: to the next row, and the usual step at the end of a stretch, s."""
        if not self.seconds.size:
            return np.empty(0)
        step = np.diff(self.seconds, append=self.seconds[-1])
        return np.where(np.append(self.after_gap[1:], True), self.usual_step, step)


def axis(table: Any, time: str | None, rows: int, longest_gap: float | None = None) -> Axis:
    """Order the rows of a table by their time.

    Parameters
    ----------
    table : pandas.DataFrame, polars.DataFrame or mapping of columns
    time : str, optional
        Column or index level of the time: times, or numbers of seconds. A pandas index of times unless given.
    rows : int
        How many rows there are.
    longest_gap : float, optional
        Longest step that is no gap, s.
    """
    seconds = _seconds(table, time)
    if seconds.shape != (rows,):
        raise WrongArgument(f"time must have one entry a row, got {seconds.shape}", argument="time")
    known = np.flatnonzero(~np.isnan(seconds))
    order = known[np.argsort(seconds[known], kind="stable")]
    ordered = seconds[order]
    step = np.diff(ordered)
    if longest_gap is None:
        forward = step[step > 0.0]
        longest_gap = _USUAL_STEPS * float(np.median(forward)) if forward.size else 0.0
    elif not longest_gap > 0.0:
        raise WrongArgument(
            f"longest_gap must be a positive number of s, got {longest_gap!r}", argument="longest_gap"
        )
    after_gap = np.concatenate([[True], step > longest_gap])[: ordered.size]
    return Axis(ordered, order, after_gap, float(longest_gap))


def _seconds(table: Any, time: str | None) -> FloatArray:
    pandas = sys.modules.get("pandas")
    framed = pandas is not None and isinstance(table, pandas.DataFrame)
    if time is None:
        if framed and isinstance(table.index, pandas.DatetimeIndex):  # type: ignore[union-attr]
            return _of_times(table.index)
        raise WrongArgument(
            "time= must name the column of the time (times, or numbers of s), or the table must have a "
            "pandas index of times",
            argument="time",
        )
    if not isinstance(time, str):
        raise WrongArgument(f"time must be the name of a column, got {time!r}", argument="time")
    columns = table.columns if hasattr(table, "columns") else table
    if time in columns:
        return _of_times(table[time])
    if framed and time in table.index.names:
        return _of_times(table.index.get_level_values(time))
    raise WrongArgument(f"the table has no column {time!r} of the time", argument="time")


def _of_times(values: Any) -> FloatArray:
    if hasattr(values, "to_numpy") and "datetime" in str(values.dtype).lower():
        pandas = sys.modules.get("pandas")
        if pandas is not None and isinstance(getattr(values, "dtype", None), pandas.DatetimeTZDtype):
            values = values.dt.tz_convert("UTC") if hasattr(values, "dt") else values.tz_convert("UTC")
            values = values.dt.tz_localize(None) if hasattr(values, "dt") else values.tz_localize(None)
        values = values.to_numpy()
    array = np.asarray(values)
    if array.dtype.kind == "M":
        times = array.astype("datetime64[ns]")
        # Nanoseconds since 1970 do not fit a float: seconds since the first time do.
        known = times[~np.isnat(times)]
        since = (times - known.min()) if known.size else times - times
        return np.where(np.isnat(times), np.nan, since.astype("timedelta64[ns]").astype(np.int64) / 1e9)
    return np.atleast_1d(numbers("time", values))

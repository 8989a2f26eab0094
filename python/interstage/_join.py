"""Logs that hold changes only, joined to one table by the last value and a limit to how long it holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage import _needed
from interstage._shown import Shown
from interstage.errors import Inconsistent, WrongArgument

__all__ = ["JoinedLogs", "join_logs"]

#: Rows beyond which a step is a mistake: three years of seconds.
_MOST_ROWS = 1e8


@dataclass(frozen=True)
class JoinedLogs(Shown):
    """Logs side by side; made by `join_logs`."""

    #: pandas.DataFrame: one column a log, NaN where its last value is too old or there is none yet.
    table: Any
    #: pandas.DataFrame: how old each value is, s.
    age: Any
    #: Log -> what was found in it: entries, those left out, rows in which its value is too old.
    report: dict[str, dict[str, int]]

    def __repr__(self) -> str:
        return f"JoinedLogs({len(self.table)} rows of {', '.join(self.report)})"


def join_logs(
    logs: Mapping[str, Any],
    *,
    longest_hold: Any,
    step: Any = None,
    times: Any = None,
) -> JoinedLogs:
    """Join logs of single readings, each with times of its own, to one table.

    A log that writes changes only says nothing while nothing changes; a log that has died says nothing
    either. So the last value holds, and no longer than `longest_hold`.

    Parameters
    ----------
    logs : mapping
        Name -> pandas.Series of values with an index of times.
    longest_hold : timedelta, text, or mapping of name to such
        How long a value holds: somewhat more than the time after which the log writes a value though it did
        not change.
    step : timedelta or text, optional
        Step of the table, from the first entry of any log to the last.
    times : pandas.DatetimeIndex, optional
        Times of the table, in place of `step`.

    Returns
    -------
    JoinedLogs

    Raises
    ------
    WrongArgument
        If neither or both of `step` and `times` are given, or a log has no index of times.
    Inconsistent
        If some times have a zone and others do not.

    Examples
    --------
    >>> import interstage, pandas
    >>> index = pandas.to_datetime(["2030-01-01 00:00", "2030-01-01 00:20"])
    >>> joined = interstage.join_logs(
    ...     {"kw": pandas.Series([100.0, 120.0], index=index)}, longest_hold="15min", step="10min"
    ... )
    >>> joined.table["kw"].tolist()
    [100.0, 100.0, 120.0]
    """
    pandas = _needed.pandas()
    if not isinstance(logs, Mapping) or not logs:
        raise WrongArgument("logs must be a mapping of name to pandas.Series", argument="logs")
    if (step is None) == (times is None):
        raise WrongArgument("give either step= or times=", argument="step, times")
    cleaned, report = {}, {}
    for name, log in logs.items():
        cleaned[name], report[name] = _clean(name, log)
    grid = _grid(cleaned, step, times)
    zones = {log.index.tz is None for log in cleaned.values()} | {grid.tz is None}
    if len(zones) > 1:
        reason = "some times have a zone and others have none"
        raise Inconsistent(
            f"logs and times contradict each other: {reason}", arguments="logs and times", reason=reason
        )
    columns, ages = {}, {}
    order = grid.argsort()
    asked = pandas.DataFrame({"time": grid[order]})
    for name, log in cleaned.items():
        hold = _hold(name, longest_hold)
        values = pandas.DataFrame({"time": log.index, "at": log.index, "value": log.to_numpy()})
        values["time"] = values["time"].astype(asked["time"].dtype)
        joined = pandas.merge_asof(asked, values, on="time", direction="backward")
        age = (joined["time"] - joined["at"]).dt.total_seconds()
        old = age > hold.total_seconds()
        report[name]["rows too old"] = int(old.sum())
        report[name]["rows before the first entry"] = int(joined["at"].isna().sum())
        put = pandas.Series(order).argsort().to_numpy()
        columns[name] = joined["value"].where(~old).to_numpy()[put]
        ages[name] = age.to_numpy()[put]
    return JoinedLogs(pandas.DataFrame(columns, index=grid), pandas.DataFrame(ages, index=grid), report)


def _clean(name: str, log: Any) -> tuple[Any, dict[str, int]]:
    pandas = _needed.pandas()
    if not isinstance(log, pandas.Series) or not isinstance(log.index, pandas.DatetimeIndex):
        raise WrongArgument(f"log {name!r} must be a pandas.Series with an index of times", argument=name)
    if not pandas.api.types.is_numeric_dtype(log.dtype) or pandas.api.types.is_bool_dtype(log.dtype):
        raise WrongArgument(f"log {name!r} must hold numbers, got {log.dtype}", argument=name)
    timed = log[log.index.notna()]
    ordered = timed if timed.index.is_monotonic_increasing else timed.sort_index(kind="stable")
    # Of two entries of one time the later one is the correction.
    last = ordered[~ordered.index.duplicated(keep="last")]
    return last, {
        "entries": len(log),
        "without time": len(log) - len(timed),
        "out of order": int((timed.index[1:] < timed.index[:-1]).sum()),
        "corrected": len(ordered) - len(last),
    }


def _grid(logs: Mapping[str, Any], step: Any, times: Any) -> Any:
    pandas = _needed.pandas()
    if times is not None:
        if not isinstance(times, pandas.DatetimeIndex) or times.hasnans:
            raise WrongArgument("times must be a pandas.DatetimeIndex without gaps (NaT)", argument="times")
        return times
    filled = [log.index for log in logs.values() if len(log)]
    if not filled:
        return pandas.DatetimeIndex([], tz=next((log.index.tz for log in logs.values()), None))
    try:
        first, last = min(index[0] for index in filled), max(index[-1] for index in filled)
        size = pandas.Timedelta(step)
        if not size > pandas.Timedelta(0):
            raise ValueError("not above 0")
        if (last - first) / size > _MOST_ROWS:
            raise ValueError(f"the logs span {(last - first) / size:.2g} of them")
        return _steps(first, last, size)
    except TypeError:
        reason = "some times have a zone and others have none"
        raise Inconsistent(f"logs contradict each other: {reason}", arguments="logs", reason=reason) from None
    except ValueError as error:
        raise WrongArgument(f"step must be a span of time, got {step!r}: {error}", argument="step") from None


def _steps(first: Any, last: Any, size: Any) -> Any:
    """Whole steps from first to last: days by the wall clock, shorter steps through its changes."""
    pandas = _needed.pandas()
    zone = first.tz
    if zone is None:
        return pandas.date_range(first.ceil(size), last.floor(size), freq=size)
    if size % pandas.Timedelta(days=1):
        first, last = first.tz_convert("UTC"), last.tz_convert("UTC")
        return pandas.date_range(first.ceil(size), last.floor(size), freq=size).tz_convert(zone)
    last = last.tz_convert(zone)
    wall = pandas.date_range(
        first.tz_localize(None).floor(size), last.tz_localize(None).floor(size), freq=size
    )
    days = wall.tz_localize(zone, ambiguous=np.ones(len(wall), dtype=bool), nonexistent="shift_forward")
    return days[(days >= first) & (days <= last)]


def _hold(name: str, longest: Any) -> Any:
    pandas = _needed.pandas()
    given = longest.get(name) if isinstance(longest, Mapping) else longest
    try:
        hold = pandas.Timedelta(given)
    except (ValueError, TypeError):
        hold = pandas.NaT
    if hold is pandas.NaT or not hold > pandas.Timedelta(0):
        raise WrongArgument(
            f"longest_hold of {name!r} must be a span of time, got {given!r}", argument="longest_hold"
        )
    return hold

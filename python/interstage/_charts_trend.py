"""Charts of trends: figures at equal conditions and against their baselines, and sums of groups."""

from __future__ import annotations

from collections.abc import Mapping
from types import NoneType
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage import _analysed, _looks, _needed
from interstage import _charts_time as over
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

if TYPE_CHECKING:
    from interstage._baseline import Baseline
    from interstage._summary import Summary
    from interstage._trend_result import TrendResult

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

#: Most steps of figures of which each step is a point with its spread.
_POINTS = 120


def figure_over_time(
    result: TrendResult,
    figure: str,
    between: Any,
    where: Any,
    time: Any,
    step: Any,
    units: str,
    ax: Any,
) -> Any:
    """Draw a figure of the rows that lie between limits of other figures."""
    given: Any = figure
    if not isinstance(given, str):
        raise WrongArgument(f"figure must be the name of a figure, got {figure!r}", argument="figure")
    if not isinstance(between, (Mapping, NoneType)):
        message = f"between must be a mapping of figure to (lowest, highest), got {between!r}"
        raise WrongArgument(message, argument="between")
    unit, values = over.in_units(figure, result._values(figure), units)
    times = _times(result, time)
    chosen = _rows("where", result, where)
    notes = []
    for name, limits in (between or {}).items():
        low, high = _limits(name, limits)
        of = result._values(name)
        with np.errstate(invalid="ignore"):
            chosen = chosen & (of >= low) & (of <= high)
        shown_unit, (least, most) = over.in_units(name, np.array([low, high]), units)
        notes.append(f"{over.words(name)} {least:.4g} to {most:.4g} {shown_unit}".replace(" -", ""))
    length = over.step_of("step", step)
    ax = _looks.axes(ax, 3.9)
    title = f"{over.words(figure)}{' at equal conditions' if between else ' over time'}"
    told = chosen & np.isfinite(values) & ~np.isnat(times)
    rows = f"rows with {', '.join(notes)}" if notes else "all rows" if where is None else "rows chosen"
    if not told.any():
        why = result.unavailable.get(figure, "")
        sentence = f"{figure} {why}" if why else f"no row has a {over.words(figure)}"
        return _looks.nothing(ax, title, f"{sentence} ({rows}: {int(chosen.sum())})")
    gathered = over.steps(times, told, length, _POINTS)
    middle = gathered.of(values)
    if gathered.length:
        x, (under, above) = over.stairs(gathered, gathered.of(values, 0.25), gathered.of(values, 0.75))
        ax.fill_between(x, under, above, color=_looks.FILLS[3][0], alpha=0.7, linewidth=0.0)
        kind = f"{gathered}; shade: the middle half of its rows"
    else:
        kind = "each row"
    # A point with nothing beside it is seen by its marker alone; those of many would hide the line.
    size = 3.0 if len(gathered) <= _POINTS else 1.6
    look = {"color": _looks.SERIES[1][0], "marker": "o", "markersize": size, "linewidth": 1.2}
    ax.plot(gathered.middle, middle, **look)
    over.time_axis(ax, gathered.start[0], gathered.end[-1])
    ax.set_ylabel(_looks.fitted(ax, over.labelled(figure, unit), upright=True))
    _looks.bare(ax, grid="y")
    _looks.say(ax, title, f"{rows} ({over.count(int(told.sum()))}); {kind}")
    return ax


def _limits(name: str, limits: Any) -> tuple[float, float]:
    try:
        low, high = (float(each) for each in limits)
    except (TypeError, ValueError):
        low, high = np.nan, np.nan
    if not low < high:
        message = f"between[{name!r}] must be (lowest, highest) in SI units, got {limits!r}"
        raise WrongArgument(message, argument="between")
    return low, high


def _times(result: TrendResult, time: Any) -> over.Times:
    """Times of the rows of a result: given, or those of the index of the table."""
    pandas = _needed.pandas()
    index = result._container._index if time is None else time
    try:
        found = pandas.DatetimeIndex(index) if time is not None else index
    except (TypeError, ValueError) as error:
        raise WrongArgument(f"time must hold times: {error}", argument="time") from None
    if not isinstance(found, pandas.DatetimeIndex):
        message = "a chart over time needs times in the index of the table, or time= one for each row"
        raise WrongArgument(message, argument="time")
    if len(found) != len(result):
        message = f"time must have one entry a row, {len(result)}, got {len(found)}"
        raise WrongArgument(message, argument="time")
    return over.as_times(found)


def _rows(argument: str, result: Any, where: Any) -> BoolArray:
    if where is None:
        return np.ones(len(result), dtype=bool)
    chosen = np.asarray(where)
    if chosen.dtype != bool or chosen.shape != (len(result),):
        message = f"{argument} must have one truth value a row, {len(result)}, got the shape {chosen.shape}"
        raise WrongArgument(message, argument=argument)
    return chosen


def against_baseline(
    baseline: Baseline,
    frame: Any,
    at: Mapping[str, float] | None,
    where: Any,
    step: Any,
    units: str,
    ax: Any,
) -> Any:
    """Draw a figure over time with what its baseline expects, and the interval of that."""
    frame = _analysed.pandas_frame("frame", frame)
    times = over.times_of("frame", frame)
    length = over.step_of("step", step)
    chosen = _analysed.rows_chosen("where", frame, where)
    measured = _analysed.values(frame, baseline.figure)
    expected, half = baseline._told(baseline._drivers(frame))
    outside = np.asarray(baseline._beyond(baseline._drivers(frame)))
    missing = outside == "a condition is missing"
    unseen = (outside != "") & ~missing
    ax = _looks.axes(ax, 4.3)
    title = f"{over.words(baseline.figure)} against its baseline"
    told = chosen & np.isfinite(measured) & np.isfinite(expected) & ~np.isnat(times) & ~missing
    if not isinstance(at, (Mapping, NoneType)):
        raise WrongArgument(f"at must be a mapping of driver to its value, got {at!r}", argument="at")
    if at is not None:
        single = baseline.at(extrapolate=False, **at)
        with np.errstate(invalid="ignore", divide="ignore"):
            measured = single.expected * measured / expected
            half = half * single.expected / expected
        expected = np.full(len(frame), single.expected)
        told &= ~unseen & np.isfinite(measured)
        title += " at equal conditions"
    if not told.any():
        sentence = f"no row has both a measured and an expected {over.words(baseline.figure)}"
        return _looks.nothing(ax, title, sentence)
    gathered = over.steps(times, told, length)
    seen = gathered.of(measured, where=told & ~unseen)
    middle, width = (gathered.of(each, where=told & ~unseen) for each in (expected, half))
    beside = gathered.of(measured, where=told & unseen)
    unit, seen_shown = over.in_units(baseline.figure, seen, units)
    levels = [
        over.in_units(baseline.figure, each, units)[1] for each in (middle - width, middle, middle + width)
    ]
    x, (low, line, high) = over.stairs(gathered, *levels)
    ax.fill_between(
        x,
        low,
        high,
        color=_looks.FILLS[3][0],
        alpha=0.75,
        linewidth=0.0,
        label="expected, 95 % interval of a row",
    )
    ax.plot(x, line, color=_looks.INK, linewidth=1.0, label="expected")
    with np.errstate(invalid="ignore"):
        beyond = np.abs(seen - middle) > width
    within = np.isfinite(seen) & ~beyond
    place = gathered.middle
    points = int(np.isfinite(seen).sum())
    ax.plot(
        place[within],
        seen_shown[within],
        **over.WITHIN,
        label=f"measured, within: {int(within.sum())} of {points}",
    )
    ax.plot(
        place[beyond],
        seen_shown[beyond],
        **over.BEYOND,
        label=f"measured, beyond: {int(beyond.sum())} of {points}",
    )
    there = np.isfinite(beside)
    if there.any():
        reached = gathered.of(expected, where=told & unseen)
        x, (line,) = over.stairs(gathered, over.in_units(baseline.figure, reached, units)[1])
        ax.plot(
            x,
            line,
            color=_looks.FAINT,
            linewidth=1.0,
            linestyle=(0, (3.0, 2.0)),
            label="expected, extrapolated",
        )
        ax.plot(
            place[there],
            over.in_units(baseline.figure, beside, units)[1][there],
            **over.UNSEEN,
            label=f"measured, outside of the fit: {over.count(int((told & unseen).sum()))}",
        )
    _period(ax, baseline, gathered.start[0], gathered.end[-1])
    over.time_axis(ax, gathered.start[0], gathered.end[-1])
    ax.set_ylabel(_looks.fitted(ax, over.labelled(baseline.figure, unit), upright=True))
    _looks.bare(ax, grid="y")
    if at is None:
        how = f"expected at {', '.join(over.words(name) for name in baseline.drivers)} of the rows"
    else:
        how = "brought to " + ", ".join(_condition(name, value, units) for name, value in at.items())
        left_out = int((chosen & unseen).sum())
        how += f"; {over.count(left_out)} that the fit has seen nothing like left out" if left_out else ""
    _looks.say(ax, title, f"points: {gathered} ({over.count(int(told.sum()))}); {how}")
    _looks.key(ax)
    return ax


def _condition(name: str, value: float, units: str) -> str:
    unit, found = over.in_units(name, np.array([value]), units)
    return f"{over.words(name)} {found[0]:.4g} {unit}"


def _period(ax: Any, baseline: Baseline, first: Any, last: Any) -> None:
    """Mark the period of the fit at the foot of the chart, where it is a period of time."""
    pandas = _needed.pandas()
    try:
        ends = [over.as_times(pandas.DatetimeIndex([text]))[0] for text in baseline.period]
    except (TypeError, ValueError):
        return
    start, end = max(ends[0], first), min(ends[1], last)
    if start < end:
        ax.axvspan(
            start,
            end,
            0.0,
            0.022,
            color=_looks.SERIES[2][0],
            linewidth=0.0,
            label="period of the fit",
            zorder=0,
        )


def summary_bars(summary: Summary, figure: str, units: str, ax: Any) -> Any:
    """Draw a figure of every group as a bar with its interval."""
    columns = summary._shown(units)
    names = [name for name in columns if name not in summary.by and " interval [" not in name]
    found = next((name for name in names if figure in (name, name.split(" [")[0])), None)
    if found is None:
        known = tuple(name.split(" [")[0] for name in names)
        message = f"figure must be one of {', '.join(known)}, got {figure!r}"
        raise UnknownOption(message, argument="figure", value=str(figure), options=known)
    plain, unit = found[:-1].split(" [")
    labels = [", ".join(map(str, each)) for each in zip(*(columns[way] for way in summary.by), strict=True)]
    if len(labels) > 60:
        reason = f"there are {len(labels)} groups, more than can be read"
        message = f"summary and chart contradict each other: {reason}"
        raise Inconsistent(message, arguments="summary and chart", reason=reason)
    ax = _looks.axes(ax, _looks.names_height([_looks.name(label) for label in labels], 0.3))
    values = np.asarray(columns[found], dtype=np.float64)
    title = f"{over.words(plain)} by {', '.join(summary.by)}"
    if not np.isfinite(values).any():
        return _looks.nothing(ax, title, f"no group has a {over.words(plain)}")
    interval = columns.get(f"{plain} interval [{unit}]")
    ax.barh(range(len(labels)), values, 0.66, **_looks.fill(0))
    if interval is not None:
        ax.errorbar(
            values,
            range(len(labels)),
            xerr=interval,
            fmt="none",
            ecolor=_looks.INK,
            elinewidth=1.2,
            capsize=3,
        )
    margins = np.full(len(values), np.nan) if interval is None else np.asarray(interval, dtype=np.float64)
    ends = np.nan_to_num(values) + np.nan_to_num(margins)
    bars = zip(values, margins, ends, columns["coverage [-]"], strict=True)
    for row, (value, margin, end, known) in enumerate(bars):
        partly = f"  ({100.0 * known:.0f} % of the hours known)" if known < 0.995 else ""
        text = "not told" if np.isnan(value) else f"{_looks.number(value, margin)}{partly}"
        ax.annotate(text, (end, row), (5, 0), textcoords="offset points", va="center", fontsize=_looks.SMALL)
    ax.set_yticks(range(len(labels)), [_looks.name(label) for label in labels], fontsize=_looks.NOTE)
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(labels) - 0.4, -0.6)
    ax.set_xlim(0.0, float(np.nanmax(ends)) * 1.28 or 1.0)
    ax.set_xlabel(over.labelled(plain, unit))
    _looks.bare(ax, grid="x")
    note = "sums first, then their ratio" if plain in ("kw_per_ton", "cop") else "sums of the rows that count"
    note += "; line: 95 % interval" if interval is not None else ""
    _looks.say(ax, title, note)
    return ax

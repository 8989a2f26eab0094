"""Chart of flags: which reading carries which flag, and when; gaps, and when the machine is off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage import _charts_time as over
from interstage import _looks, _needed
from interstage.errors import UnknownOption, WrongArgument

if TYPE_CHECKING:
    from interstage._axis import Axis
    from interstage._quality import Quality

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

#: Flags that are drawn, in this order from the top: color and hatch.
_LOOKS: Mapping[str, tuple[str, str]] = {
    "missing": (_looks.BETTER, ""),
    "communication loss": ("#8f6bb1", "xxx"),
    "out of physical range": (_looks.WORSE, ""),
    "spike": (_looks.INK, ""),
    "stuck": ("#e3b778", "////"),
    "text that is no number": ("#2f9a94", "..."),
}
#: Rows whose readings contradict each other, rows of a machine that is off, and time without rows.
_IMPOSSIBLE, _OFF, _GAP = "rows that contradict themselves", "machine off", "no rows"
_IMPOSSIBLE_LOOK = {"facecolor": "#5f281b", "linewidth": 0.0}
_GAP_LOOK = {"facecolor": "#f1f1f1", "edgecolor": _looks.FAINT, "hatch": "////", "linewidth": 0.0}

#: Units of the time since the first row, and their lengths, s.
_UNITS = (("d", 86400.0), ("h", 3600.0), ("min", 60.0), ("s", 1.0))
#: Columns of a chart, its narrowest mark in columns, and most gaps that are drawn, the longest first.
_COLUMNS, _LEAST, _MOST_GAPS = 400, 2.0, 200


class _Board:
    """A chart of lanes over columns of time."""

    def __init__(self, ax: Any, line: Axis, first: Any) -> None:
        self.ax = ax
        self.line = line
        self.first = first
        seconds = line.seconds
        start, end = float(seconds[0]), float(seconds[-1] + line.held()[-1])
        span = max(end - start, 1.0)
        steps = math.ceil(span / line.usual_step) if line.usual_step > 0.0 else 1
        self.unit = next(unit for unit in _UNITS if span >= 2.0 * unit[1] or unit is _UNITS[-1])
        self.gathered = steps > _COLUMNS
        if not self.gathered:
            self.columns = max(1, steps)
            self.width = span / self.columns
        else:
            self.width = over.round_step(span, _COLUMNS)
            self.columns = math.ceil(span / self.width)
        self.edges = start + self.width * np.arange(self.columns + 1)
        self.column = np.minimum(((seconds - start) / self.width).astype(np.intp), self.columns - 1)

    def place(self, seconds: Any) -> FloatArray:
        """Where seconds of the rows lie on the axis: in days, or in the unit of time since the first row."""
        days = np.asarray(seconds, dtype=np.float64) / (86400.0 if self.first is not None else self.unit[1])
        return (
            days
            if self.first is None
            else days + float(import_module("matplotlib.dates").date2num(self.first))
        )

    def share(self, rows: BoolArray) -> FloatArray:
        """Share of the rows of each column that are marked; 0 where it has no row."""
        marked = np.bincount(self.column[rows], minlength=self.columns)
        return np.asarray(marked / np.maximum(np.bincount(self.column, minlength=self.columns), 1))

    def mark(self, rows: BoolArray, low: float, thick: float, name: str, look: Mapping[str, Any]) -> None:
        """Draw the columns that have a marked row in them, neighbors as one stretch."""
        change = np.diff(np.concatenate([[0], (self.share(rows) > 0.0).astype(np.int8), [0]]))
        left, right = self.edges[np.flatnonzero(change == 1)], self.edges[np.flatnonzero(change == -1)]
        if not left.size:
            return
        lacking = 0.5 * np.maximum(_LEAST * self.width - (right - left), 0.0) if self.gathered else 0.0
        starts, ends = self.place(left - lacking), self.place(right + lacking)
        self.ax.broken_barh(np.column_stack([starts, ends - starts]), (low, thick), **look).set_gid(name)

    def tell(self, row: int, share: float) -> None:
        """Write a share beside a lane."""
        at: dict[str, Any] = {"xycoords": ("axes fraction", "data"), "textcoords": "offset points"}
        self.ax.annotate(_looks.per_cent(share), (1.0, row), (5, 0), va="center", fontsize=_looks.SMALL, **at)

    def gaps(self) -> int:
        """Hatch the time without rows."""
        after = np.flatnonzero(self.line.after_gap[1:])
        start, end = self.line.seconds[after], self.line.seconds[after + 1]
        longest = np.argsort(start - end, kind="stable")[:_MOST_GAPS]
        for at in longest:
            left, right = self.place([start[at], max(end[at], start[at] + self.width)])
            self.ax.axvspan(left, right, zorder=0.5, **_GAP_LOOK).set_gid(_GAP)
        return len(after)


def flags_over_time(quality: Quality, readings: Any, flags: Mapping[str, int], bad: int, ax: Any) -> Any:
    """Draw which reading carries which flag (words -> bit), and when."""
    names = _names(quality, readings)
    line = quality.line
    bits = {name: quality._flags[name][line.order] for name in names}
    seen = [flag for flag in _LOOKS if any((of & flags[flag]).any() for of in bits.values())]
    ax = _looks.axes(ax, _looks.height(len(names) + 2, 0.31, least=2.4) + _looks.key_height([*seen, _GAP]))
    title = "flags of the readings over time"
    if not line.seconds.size:
        return _looks.nothing(ax, title, "no row has a time")
    board = _Board(ax, line, _first(quality))
    thick = 0.84 / max(len(seen), 1)
    for row, (name, of) in enumerate(bits.items()):
        for lane, flag in enumerate(seen):
            low = row - 0.42 + lane * thick
            board.mark((of & flags[flag]) != 0, low, 0.88 * thick, f"{name}: {flag}", _flag(flag))
        board.tell(row, float(((of & bad) != 0).mean()))
    lanes = [name.replace("_", " ") for name in names]
    states = quality._rows[line.order] != 0
    if states.any():
        board.mark(states, len(lanes) - 0.42, 0.84, _IMPOSSIBLE, _IMPOSSIBLE_LOOK)
        board.tell(len(lanes), float(states.mean()))
        lanes.append(_IMPOSSIBLE)
    off = quality.off[line.order]
    if off.any():
        # As high as the share of the rows of each column in which the machine is off.
        foot = len(lanes) + 0.42
        x, share = np.repeat(board.edges, 2)[1:-1], np.repeat(board.share(off), 2)
        area = ax.fill_between(board.place(x), foot, foot - 0.84 * share, color="#bdbdbd", linewidth=0.0)
        area.set_gid(_OFF)
        board.tell(len(lanes), float(off.mean()))
        lanes.append(_OFF)
    gaps = board.gaps()
    ax.set_yticks(range(len(lanes)), [_looks.name(lane) for lane in lanes], fontsize=_looks.NOTE)
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(lanes) - 0.45, -0.55)
    for row in range(len(lanes) - 1):
        ax.axhline(row + 0.5, color=_looks.SHADE, linewidth=0.6, zorder=0)
    first, last = (board.edges[end] for end in (0, -1))
    if board.first is None:
        ax.set_xlim(*board.place([first, last]))
        ax.set_xlabel(f"time since the first row [{board.unit[0]}]")
    else:
        ax.xaxis_date()
        over.time_axis(ax, *(board.first + np.timedelta64(int(each * 1e9), "ns") for each in (first, last)))
    _looks.bare(ax)
    patch = import_module("matplotlib.patches").Patch
    handles = [patch(label=flag, **_flag(flag)) for flag in seen]
    if gaps:
        handles.append(patch(label=_GAP, **_GAP_LOOK))
    _looks.say(ax, title, *_notes(quality, board, seen, bool(states.any()), gaps))
    _looks.key(ax, handles)
    return ax


def _names(quality: Quality, readings: Any) -> list[str]:
    """Check which readings are wanted."""
    if readings is None:
        return list(quality.readings)
    if not isinstance(readings, Iterable):
        raise WrongArgument(f"readings must be names of readings, got {readings!r}", argument="readings")
    names = [readings] if isinstance(readings, str) else list(readings)
    for name in names:
        if name not in quality.readings:
            message = f"readings must be of {', '.join(quality.readings)}; got {name!r}"
            raise UnknownOption(message, argument="readings", value=str(name), options=quality.readings)
    if not names:
        raise WrongArgument("readings must name at least one reading", argument="readings")
    return names


def _flag(flag: str) -> dict[str, Any]:
    color, hatch = _LOOKS[flag]
    return {"facecolor": color, "hatch": hatch, "edgecolor": _looks.INK if hatch else color, "linewidth": 0.0}


def _notes(quality: Quality, board: _Board, seen: Sequence[str], states: bool, gaps: int) -> list[str]:
    """Say how many rows there are, and what a mark stands for."""
    step = over.words_of_step(int(board.width * 1e9))
    marks = (
        f"marked: each {step} with the flag in one row or more" if board.gathered else "a mark for each row"
    )
    notes = [over.count(len(quality)), marks]
    lost = len(quality) - board.line.order.size
    if lost:
        notes.append(f"{over.count(lost)} without a time not shown")
    if gaps > _MOST_GAPS:
        notes.append(f"the {_MOST_GAPS} longest of {gaps} gaps")
    text = "; ".join(notes)
    if not seen and not states:
        return [text, "no reading carries a flag"]
    order = f"; from the top in each row: {', '.join(seen)}" if len(seen) > 1 else ""
    return [text, f"right: share of rows that cannot be used{order}"]


def _first(quality: Quality) -> Any:
    """Time of the first row; None where the index of the table holds no times."""
    pandas = _needed.pandas() if quality.container._index is not None else None
    index = quality.container._index
    if pandas is None or not isinstance(index, pandas.DatetimeIndex):
        return None
    # Seconds between zoned times are those of UTC: clock times would jump where summer time begins.
    times = over.as_times(index if index.tz is None else index.tz_convert("UTC"))
    known = times[~np.isnat(times)]
    return known.min() if known.size else None

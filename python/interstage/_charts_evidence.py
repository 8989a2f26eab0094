"""Charts of evidence: faults ranked, and what each period says; that it cannot be told is an answer too."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

from interstage import _charts_time as over
from interstage import _looks, _needed
from interstage.errors import OutOfRange

if TYPE_CHECKING:
    from interstage._evidence import Evidence
    from interstage._findings import Findings

CANNOT_TELL = "cannot tell"

#: A fault that is named, one that only fits best, and no fault that could be told.
_NAMED = {"facecolor": _looks.WORSE, "edgecolor": "white", "hatch": "///", "linewidth": 0.6}
_OTHER = {"facecolor": _looks.FILLS[7][0], "edgecolor": _looks.FAINT, "linewidth": 0.6}


def evidence_bars(evidence: Evidence, most: int, ax: Any) -> Any:
    """Draw the odds of the likeliest faults."""
    if isinstance(most, bool) or not isinstance(most, int) or most < 1:
        raise OutOfRange(
            f"most must be 1 or more, got {most!r}",
            argument="most",
            value=float(most) if isinstance(most, (int, float)) else float("nan"),
            minimum=1.0,
            maximum=float("inf"),
            unit="faults",
            reason="at least one fault",
        )
    shown = evidence.suspicions[:most]
    named = evidence.verdict != CANNOT_TELL
    title = f"suspicion: {evidence.verdict}" if named else "cannot tell which fault, or whether there is one"
    names = [_looks.name(item.fault) for item in shown]
    ax = _looks.axes(ax, max(2.6, _looks.names_height(names, 0.46)))
    if not shown:
        return _looks.nothing(ax, title, evidence.reason)
    odds = [item.odds for item in shown]
    for row, item in enumerate(shown):
        ax.barh(row, item.odds, 0.62, **(_NAMED if named and row == 0 else _OTHER))
    least, most_odds = min(0.0, *odds), max(evidence.clear, *odds)
    span = most_odds - least
    for row, item in enumerate(shown):
        parts = [("for", item.supporting), ("against", item.contradicting)]
        words = "; ".join(f"{side}: {_short(found)}" for side, found in parts if found)
        ax.annotate(
            _looks.name(words, 46),
            (max(item.odds, evidence.clear), row),
            (5, 0),
            textcoords="offset points",
            va="center",
            fontsize=7.5,
            color="#444444",
        )
    ax.axvline(0.0, color=_looks.INK, linewidth=0.8)
    ax.axvline(evidence.clear, color=_looks.INK, linewidth=0.9, linestyle=(0, (4.0, 3.0)))
    ax.annotate(
        f"clear: {np.exp(evidence.clear):.3g} to 1",
        (evidence.clear, -0.95),
        (3, 0),
        textcoords="offset points",
        va="top",
        fontsize=_looks.SMALL,
        color="#555555",
    )
    ax.set_yticks(range(len(shown)), names, fontsize=_looks.NOTE)
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(shown) - 0.4, -0.95)
    ax.set_xlim(least - 0.04 * span, most_odds + 0.95 * span)
    ax.set_xlabel("logarithm of the odds against no fault [-]")
    _looks.bare(ax)
    rest = len(evidence.suspicions) - len(shown)
    beside = [
        f"{rest} less likely not shown" if rest else "",
        f"nothing can be said of {', '.join(evidence.not_weighed)}" if evidence.not_weighed else "",
    ]
    _looks.say(ax, title, over.words(evidence.reason), "; ".join(filter(None, beside)))
    return ax


def _short(found: Any) -> str:
    """What speaks for or against a fault, the clearest first."""
    first = [f"{over.words(item.figure)} {round(item.score, 1) + 0.0:+.1f}" for item in found[:2]]
    return ", ".join(first) + (f" and {len(found) - 2} more" if len(found) > 2 else "")


def findings_over_time(findings: Findings, ax: Any) -> Any:
    """Draw the verdict of each period."""
    named = list(dict.fromkeys(item.verdict for item in findings.evidence if item.verdict != CANNOT_TELL))
    likeliest = [
        item.suspicions[0].fault if item.suspicions and item.suspicions[0].odds > 0.0 else ""
        for item in findings.evidence
    ]
    beside = [fault for fault in dict.fromkeys(likeliest) if fault and fault not in named]
    lanes = [*named, *beside, CANNOT_TELL]
    ax = _looks.axes(ax, max(2.5, _looks.names_height([_looks.name(lane) for lane in lanes], 0.42)))
    title = "what the evidence says, period by period"
    if not len(findings):
        return _looks.nothing(ax, title, "there is no period: no row was chosen")
    start, width, dated = _places(findings)
    for row, lane in enumerate(lanes):
        told = [place for place, item in enumerate(findings.evidence) if item.verdict == lane]
        if told:
            look = _OTHER if lane == CANNOT_TELL else _NAMED
            spans = np.column_stack([start[told], width[told]])
            drawn = ax.broken_barh(spans, (row - 0.3, 0.6), **look)
            drawn.set_gid(lane)
    fits = [
        (start[place] + 0.5 * width[place], lanes.index(fault))
        for place, fault in enumerate(likeliest)
        if fault and findings.evidence[place].verdict == CANNOT_TELL
    ]
    if fits:
        ax.plot(
            *np.array(fits).T,
            linestyle="none",
            marker="o",
            markersize=5.0,
            markerfacecolor="white",
            markeredgecolor=_looks.INK,
        )
    ax.set_yticks(range(len(lanes)), [_looks.name(lane) for lane in lanes], fontsize=_looks.NOTE)
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(lanes) - 0.4, -0.6)
    for row in range(len(lanes) - 1):
        ax.axhline(row + 0.5, color=_looks.SHADE, linewidth=0.6, zorder=0)
    first, last = float(start.min()), float((start + width).max())
    if dated:
        dates = import_module("matplotlib.dates")
        ends = [np.datetime64(dates.num2date(each).replace(tzinfo=None), "ns") for each in (first, last)]
        over.time_axis(ax, *ends)
    else:
        ax.set_xlim(first, last)
        ax.set_xlabel("period, counted from 0")
    _looks.bare(ax)
    count = sum(item.verdict != CANNOT_TELL for item in findings.evidence)
    notes = [
        f"{count} of {len(findings)} periods name a fault; none of it is a diagnosis{findings._lost()}",
    ]
    _looks.say(ax, title, *notes)
    patches = import_module("matplotlib.patches")
    handles = [patches.Patch(label="fault named", **_NAMED)] if named else []
    if any(item.verdict == CANNOT_TELL for item in findings.evidence):
        handles.append(patches.Patch(label="cannot tell", **_OTHER))
    if fits:
        handles.append(
            _looks.mark("o", "fits best, but not clearly: not named", markersize=5.0, markerfacecolor="white")
        )
    _looks.key(ax, handles)
    return ax


def _places(findings: Findings) -> tuple[Any, Any, bool]:
    """Start and width of each period on the axis, and whether that is one of time."""
    pandas = _needed.pandas()
    try:
        index = pandas.DatetimeIndex(list(findings.periods))
        dated = not index.isna().any() and not isinstance(findings.periods[0], (int, float, np.number))
    except (TypeError, ValueError):
        dated = False
    if not dated:
        return np.arange(len(findings), dtype=np.float64), np.ones(len(findings)), False
    start = import_module("matplotlib.dates").date2num(over.as_times(index))
    step = np.diff(start)
    usual = float(np.median(step)) if step.size else 1.0
    # A period ends where the next begins, but lasts no longer than usual: what lies between is no period.
    return start, np.append(np.minimum(step, 1.5 * usual), usual), True

"""What notebooks show of readings and of the figures of trends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

from interstage._declared import shown
from interstage._impossible import impossible_states
from interstage._remarks import remarks
from interstage._tables import Table, table, written
from interstage.errors import InterstageError

#: Most lines of what is counted.
MOST = 10


def in_unit(figure: str, values: Any) -> tuple[str, Any]:
    """A figure of a trend in the unit people read; as it is where it is no such figure."""
    try:
        return shown(figure, np.asarray(values, dtype=np.float64), "SI")
    except InterstageError:
        return "", np.asarray(values, dtype=np.float64)


def change(figure: str, by: float) -> tuple[str, float]:
    """A difference of a figure in the unit people read."""
    unit, (before, after) = in_unit(figure, [0.0, by])
    return ("K" if unit == "degC" else unit), float(after - before)


def own(words: str, unit: str, value: float) -> str:
    """Write one number by its unit."""
    return written(f"{words} [{unit}]", [float(value)])[0]


def _middle(values: Any) -> list[float]:
    known = values[~np.isnan(values)]
    if not known.size:
        return [float("nan")] * 3
    return [float(known.min()), float(np.median(known)), float(known.max())]


def _counted(words: Iterable[str], of: str, caption: str = "") -> list[Table]:
    """How often each of some words is said, the most frequent first; nothing where none is."""
    found = Counter(words)
    most = found.most_common(MOST)
    rows = {of: [word for word, _ in most], "rows": [str(count) for _, count in most]}
    left = sum(found.values()) - sum(count for _, count in most)
    note = f"{left} more rows with other words." if left else ""
    return [table(rows, caption, note)] if most else []


def percent(fraction: float | None) -> str:
    """A fraction as percent, and no more digits where it is as good as none."""
    return "" if fraction is None else f"{100.0 * fraction:.2f}".replace("-0.00", "0.00")


def _bits(codes: Any, meanings: Mapping[str, int], of: str) -> list[Table]:
    """How many rows carry each bit; nothing where none does."""
    codes = np.asarray(codes)
    counts = {words: int(np.count_nonzero(codes & bit)) for words, bit in meanings.items()}
    some = {words: str(count) for words, count in counts.items() if count}
    return [table({of: list(some), "rows": list(some.values())}, "")] if some else []


def _said(what: Mapping[str, str], of: str, why: str) -> list[Table]:
    return [table({of: list(what), why: list(what.values())}, "")] if what else []


# Readings.


def _readings(readings: Any) -> list[Table]:
    of = readings._all().items()
    rows = {
        "quantity": [name for name, _ in of],
        "column": [column for _, (column, _, _) in of],
        "unit": [unit for _, (_, unit, _) in of],
    }
    return [table(rows, f"{len(of)} columns are declared")]


def _trend(trend: Any) -> list[Table]:
    of = trend._readings.items()
    rows = {
        "quantity": [name for name, _ in of],
        "column": [column for _, (column, _) in of],
        "unit": [unit for _, (_, unit) in of],
    }
    circuit = trend.circuit
    caption = f"trend of {circuit.refrigerant.name}, {circuit.arrangement}"
    return [table(rows, caption, f"{len(trend.figures)} figures, see `needs`.")]


def _quality(quality: Any) -> list[Table]:
    counts = quality.counts()
    words = [word for word in next(iter(counts.values()), {}) if any(of[word] for of in counts.values())]
    rows: dict[str, list[Any]] = {"reading": list(counts)}
    for word in words:
        rows[word] = [str(of[word]) for of in counts.values()]
    return [table(rows, f"{repr(quality)[8:-1]}"), *_bits(quality.rows, impossible_states(), "impossible")]


def _steady(steady: Any) -> list[Table]:
    words = [str(word) for word in np.asarray(steady.reason) if word != "steady"]
    rows = {"rows": [str(len(steady))], "steady": [str(len(steady) - len(words))]}
    return [table(rows, "steady operation"), *_counted(words, "not steady")]


def _joined(joined: Any) -> list[Table]:
    report = joined.report
    said = list(dict.fromkeys(word for counts in report.values() for word in counts))
    rows: dict[str, list[Any]] = {"log": list(report)}
    for word in said:
        rows[word] = [str(counts.get(word, "")) for counts in report.values()]
    return [table(rows, f"{len(joined.table)} rows")]


def _times(times: Any) -> list[Table]:
    notes = [table({"found": list(times.notes)}, "")] if times.notes else []
    rows = {"rows": [str(len(times.index))], "not simply what they say": [str(len(times.changes))]}
    return [table(rows, "times"), *_counted(times.changes["why"], "why"), *notes]


def _direction(direction: Any) -> list[Table]:
    rows = {
        "above": [direction.above],
        "below": [direction.below],
        "verdict": [direction.verdict],
        "rows": [str(direction.rows)],
    }
    return [table(rows, direction.law, direction.text)]


def _directions(directions: Any) -> list[Table]:
    rows = {
        "must be above": [one.above for one in directions],
        "below": [one.below for one in directions],
        "verdict": [one.verdict for one in directions],
        "rows": [str(one.rows) for one in directions],
        "why": [one.text for one in directions],
    }
    return [table(rows, f"directions, pairs of readings: {len(directions)}")]


# Figures.


def _result(result: Any) -> list[Table]:
    names = ("lowest", "median", "highest")
    rows: dict[str, list[str]] = {name: [] for name in ("figure", "unit", "rows", *names)}
    untold = []
    for figure in result.figures:
        unit, values = in_unit(figure, result._values(figure))
        if np.isnan(values).all():
            untold.append(figure)
            continue
        texts = written(f"{figure} [{unit}]", _middle(values))
        cells = (figure, unit, str(np.count_nonzero(~np.isnan(values))), *texts)
        for column, cell in zip(rows.values(), cells, strict=True):
            column.append(cell)
    told = len(rows["figure"])
    note = f"No row tells {', '.join(untold)}." if untold else ""
    return [
        table(rows, f"{len(result)} rows, {told} of {len(result.figures)} figures told", note),
        *_bits(result._bits(), remarks(), "remark"),
        *_said(result.assumptions, "figure", "rests on"),
    ]


def _uncertain(told: Any) -> list[Table]:
    rows: dict[str, list[str]] = {name: [] for name in ("figure", "unit", "rows", "median", "half width")}
    for figure in told.figures:
        values = told.result._values(figure)
        unit, shown_values = in_unit(figure, values)
        half = np.asarray(told.half_width(figure), dtype=np.float64)
        _, middle, _ = _middle(half)
        _, width = change(figure, middle)
        cells = (
            figure,
            unit,
            str(np.count_nonzero(~np.isnan(half))),
            own(figure, unit, _middle(shown_values)[1]),
            own(figure, unit, width),
        )
        for column, cell in zip(rows.values(), cells, strict=True):
            column.append(cell)
    return [table(rows, f"{len(told)} rows", "Medians; half widths of intervals of 95 %.")]


def _mean(mean: Any) -> list[Table]:
    unit, value = in_unit(mean.figure, mean.value)
    rows = {"figure": [mean.figure], "unit": [unit], "mean": [own(mean.figure, unit, float(value))]}
    for words, width in (
        ("half width", mean.half_width),
        ("of it bias", mean.bias),
        ("of it random", mean.random),
    ):
        rows[words] = [own(mean.figure, unit, change(mean.figure, width)[1])]
    rows |= {"rows": [str(mean.rows)], "mostly from": [mean.dominant]}
    return [table(rows, "")]


def _uncertainty(uncertainty: Any) -> list[Table]:
    of = uncertainty.accuracies
    rows = {
        "reading": list(of),
        "bias": [f"{one.bias:g}" for one in of.values()],
        "random": [f"{one.random:g}" for one in of.values()],
        "unit": [one.unit for one in of.values()],
    }
    shared = {
        "shared by": [", ".join(one.readings) for one in uncertainty.common],
        "bias": [f"{one.bias:g}" for one in uncertainty.common],
        "unit": [one.unit for one in uncertainty.common],
    }
    first = table(rows, "", "Half widths of intervals of 95 %.")
    return [first, *([table(shared, "")] if uncertainty.common else [])]


def _reconciliation(reconciliation: Any) -> list[Table]:
    shares = {name: share for name, share in reconciliation._shares.items() if share is not None}
    rows = {"balance": list(reconciliation.balances)}
    note = "; ".join(f"{name} {share[0]:g} +/- {share[1]:g}" for name, share in shares.items())
    return [table(rows, "reconciliation", note)]


def _reconciled(reconciled: Any) -> list[Table]:
    words = [str(word) for word in np.asarray(reconciled.suspect) if word]
    counts = {
        "rows": len(reconciled),
        "tested": np.count_nonzero(~np.isnan(np.asarray(reconciled.statistic, dtype=np.float64))),
        "accepted": np.count_nonzero(np.asarray(reconciled.accepted)),
    }
    rows = {name: [str(count)] for name, count in counts.items()}
    return [table(rows, "reconciled"), *_counted(words, "suspect")]


def _vector(vector: Any) -> list[Table]:
    rows = {
        "value": [f"{value:.6g}" for value in vector.values],
        "standard uncertainty": [f"{value:.3g}" for value in np.sqrt(np.diag(vector.covariance))],
        "correction per its deviation": [f"{value:.2f}" for value in vector.tests],
    }
    verdict = "accepted" if vector.accepted else "not accepted"
    return [table(rows, f"{verdict}: statistic {vector.statistic:.3g}, limit {vector.limit:.3g}")]


TABLES: dict[str, Callable[[Any], list[Table]]] = {
    "Direction": _direction,
    "_Directions": _directions,
    "JoinedLogs": _joined,
    "MeanFigure": _mean,
    "Quality": _quality,
    "Readings": _readings,
    "Reconciled": _reconciled,
    "ReconciledVector": _vector,
    "Reconciliation": _reconciliation,
    "RepairedTimes": _times,
    "Steady": _steady,
    "Trend": _trend,
    "TrendResult": _result,
    "UncertainFigures": _uncertain,
    "Uncertainty": _uncertainty,
}

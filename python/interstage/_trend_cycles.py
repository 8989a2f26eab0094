"""The cycles of the rows of a trend: which rows have one, and which of them are shown."""

from __future__ import annotations

import operator
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._row_cycle import row_cycle, why_no_cycle
from interstage._trend_result import TrendResult
from interstage.errors import InterstageError, OutOfRange, Undefined, WrongArgument, WrongLength

#: Most reasons told in words above the diagram, and most stretches listed one by one.
_REASONS, _STRETCHES = 3, 500


@dataclass(frozen=True)
class LeftOut:
    """Rows that have no cycle for the same reason: one after another, or in several stretches."""

    first: str
    last: str
    rows: int
    why: str
    stretches: int = 1


@dataclass(frozen=True)
class TrendCycles:
    """Cycles of some rows of a trend, with what became of the others."""

    names: list[str]
    cycles: list[_core.Cycle]
    #: Rows asked for, and those of them that have what a cycle is made of.
    asked: int
    able: int
    left_out: list[LeftOut]

    @classmethod
    def of(
        cls,
        result: TrendResult,
        rows: Any,
        times: Sequence[Any] | None,
        most_rows: int,
        stage_efficiency: float | None,
    ) -> TrendCycles:
        """Solve the rows asked for, evenly thinned to the most there may be."""
        most = _checked_most(most_rows)
        chosen = _chosen(result, rows)
        name_of = _names(result, times)
        why = why_no_cycle(result, stage_efficiency)
        able = chosen[why[chosen] == ""]
        shown = able
        if len(able) > most:
            shown = able[np.unique(np.round(np.linspace(0, len(able) - 1, most)).astype(int))]
        solved = {}
        for row in shown.tolist():
            try:
                solved[row] = row_cycle(result, row, stage_efficiency)
            except InterstageError as error:
                why[row] = f"could not be solved: {error}"
        left_out = _left_out(chosen, why, name_of)
        if not solved:
            state = "of no rows"
            if left_out:
                often, _ = _by_reason(left_out)[0]
                state = f"of {len(chosen)} rows; most often: {often}"
            message = f"no row of the trend has a cycle to draw, {state}"
            raise Undefined(message, property="cycle", state=state)
        names = [name_of(row) for row in solved]
        return cls(names, list(solved.values()), len(chosen), len(able), left_out)

    def notes(self) -> list[str]:
        """Say how many rows are shown, and which are left out and why."""
        shown, many = len(self.cycles), sum(run.rows for run in self.left_out)
        first = f"{shown:,} of {self.asked:,} rows of the trend"
        if shown + many < self.asked:
            first += f", evenly thinned from {self.able:,} that have a cycle"
        if not many:
            return [first]
        reasons = _by_reason(self.left_out)
        told = [
            f"{_rows(sum(run.rows for run in runs))} left out ({_when(runs)}): {why}" for why, runs in reasons
        ]
        if len(told) > _REASONS + 1:
            others = sum(run.rows for _, runs in reasons[_REASONS:] for run in runs)
            told[_REASONS:] = [f"{_rows(others)} left out for {len(reasons) - _REASONS} other reasons"]
        return [first, *told]


def _rows(many: int) -> str:
    return f"{many:,} row" if many == 1 else f"{many:,} rows"


def _left_out(chosen: npt.NDArray[np.int64], why: npt.NDArray[np.object_], name_of: Any) -> list[LeftOut]:
    """Rows left out, those together that follow each other; of very many stretches those of a reason."""
    texts = why[chosen].tolist()
    reasons = list(dict.fromkeys(texts))
    number = {reason: at for at, reason in enumerate(reasons)}
    kinds = np.array([number[text] for text in texts], dtype=np.int64)
    starts = np.flatnonzero(np.diff(kinds, prepend=-1))
    ends = np.append(starts[1:], len(chosen))
    counted = kinds[starts] != number.get("", -1)
    starts, ends = starts[counted], ends[counted]

    def one(starts: Any, ends: Any) -> LeftOut:
        first, last = (name_of(int(chosen[row])) for row in (starts[0], ends[-1] - 1))
        reason = reasons[kinds[starts[0]]]
        return LeftOut(first, last, int((ends - starts).sum()), reason, len(starts))

    if len(starts) <= _STRETCHES:
        return [one(starts[at : at + 1], ends[at : at + 1]) for at in range(len(starts))]
    of_kind = [kinds[starts] == kind for kind in range(len(reasons))]
    return [one(starts[mine], ends[mine]) for mine in of_kind if mine.any()]


def _by_reason(left_out: Sequence[LeftOut]) -> list[tuple[str, list[LeftOut]]]:
    """Runs of each reason, that of most rows first."""
    found: dict[str, list[LeftOut]] = {}
    for run in left_out:
        found.setdefault(run.why, []).append(run)
    return sorted(found.items(), key=lambda reason: -sum(run.rows for run in reason[1]))


def _when(runs: Sequence[LeftOut]) -> str:
    """The rows themselves where they are few stretches, else the first and the last."""
    stretches = sum(run.stretches for run in runs)
    if stretches > 2:
        return f"{stretches:,} stretches between {runs[0].first} and {runs[-1].last}"
    return ", ".join(run.first if run.rows == 1 else f"{run.first} to {run.last}" for run in runs)


def _checked_most(most_rows: Any) -> int:
    try:
        most = operator.index(most_rows)
    except TypeError:
        message = f"most_rows must be a whole number, got {most_rows!r}"
        raise WrongArgument(message, argument="most_rows") from None
    if most < 1:
        raise OutOfRange(
            f"most_rows must be at least 1, got {most}",
            argument="most_rows",
            value=most,
            minimum=1.0,
            maximum=float("inf"),
            unit="-",
            reason="something must be shown",
        )
    return most


def _chosen(result: TrendResult, rows: Any) -> npt.NDArray[np.int64]:
    """Numbers of the rows asked for, in the order of time."""
    many = len(result)
    if rows is None:
        return np.arange(many)
    given = np.asarray(rows)
    if given.ndim == 1 and given.dtype == bool:
        if len(given) != many:
            message = f"rows must have one truth value a row, {many}, got {len(given)}"
            raise WrongLength(message, argument="rows", found=len(given), expected=many)
        return np.flatnonzero(given)
    if given.ndim != 1 or (len(given) and given.dtype.kind not in "iu"):
        message = f"rows must be numbers of rows or one truth value a row, got {rows!r}"
        raise WrongArgument(message, argument="rows")
    numbers = np.unique(given.astype(np.int64))
    for number in numbers[(numbers < 0) | (numbers >= many)][:1]:
        raise OutOfRange(
            f"rows must be 0 to {many - 1}, got {number}",
            argument="rows",
            value=int(number),
            minimum=0.0,
            maximum=many - 1.0,
            unit="-",
            reason="rows of the trend",
        )
    return numbers


def _names(result: TrendResult, times: Sequence[Any] | None) -> Any:
    """How a row is called: by the times given, by the index of a pandas table, or by its number."""
    labels = result._container.index if times is None else times
    if labels is None:
        return lambda row: f"row {row}"
    if times is not None:
        labels = list(times)
    if len(labels) != len(result):
        message = f"times must have one value a row, {len(result)}, got {len(labels)}"
        raise WrongLength(message, argument="times", found=len(labels), expected=len(result))

    def name(row: int) -> str:
        label = labels[row]
        return f"row {label}" if isinstance(label, (int, np.integer)) else str(label)

    return name

"""Spikes: readings that leave both their neighbors, which agree."""

from __future__ import annotations

import numpy as np

from interstage._axis import Axis, BoolArray, FloatArray, IndexArray

#: Further from the middle of the neighbors than this many times their distance, and than this many times the
#: usual change of the column. Those of the compiled analysis; common practice, no published source.
_GAP, _NOISE = 3.0, 10.0
#: Floors: temperatures and their differences in K; others relative to the middle of the neighbors, and to the
#: high end of the column so that the noise about zero of a machine that is off is none.
_FLOOR_TEMPERATURE, _FLOOR_RELATIVE, _FLOOR_OF_HIGH = 2.0, 0.15, 0.05
#: Longest spike in rows, whatever their step.
_MOST_ROWS = 6
#: Passes, each of which sees what the one before it left.
_PASSES = 5


def spikes(values: FloatArray, usable: BoolArray, line: Axis, kind: str, longest: float) -> BoolArray:
    """Find the spikes of a column in the order of time.

    Parameters
    ----------
    values : array
        SI.
    usable : array of bool
        Readings with no other fault.
    line : Axis
    kind : str
        SI unit.
    longest : float
        Longest spike of more than one row, s.
    """
    found = np.zeros(values.size, dtype=bool)
    segment = line.segment
    for _ in range(_PASSES):
        more = False
        for rows in range(1, _MOST_ROWS + 1):
            left = np.flatnonzero(usable & ~found)
            if left.size < rows + 2:
                break
            hit = _runs(
                values[left], line.seconds[left], segment[left], kind, rows, longest, line.longest_step
            )
            if hit.any():
                found[left[hit]] = True
                more = True
        if not more:
            break
    return found


def _runs(
    values: FloatArray,
    seconds: FloatArray,
    segment: IndexArray,
    kind: str,
    rows: int,
    longest: float,
    longest_step: float,
) -> BoolArray:
    """Members of runs of one value that leave the readings before and after them."""
    before, after = values[: -rows - 1], values[rows + 1 :]
    middle = 0.5 * (before + after)
    gap = np.abs(after - before)
    runs = np.lib.stride_tricks.sliding_window_view(values, rows)[1:-1]
    away = runs - middle[:, None]
    distance = np.abs(away).min(axis=1)
    usual = float(np.median(np.abs(np.diff(values))))
    if kind in ("K", "K difference"):
        floor = np.full(middle.shape, _FLOOR_TEMPERATURE)
    else:
        high = float(np.quantile(np.abs(values), 0.95))
        floor = np.maximum(_FLOOR_RELATIVE * np.abs(middle), _FLOOR_OF_HIGH * high)
    span = seconds[rows + 1 :] - seconds[: -rows - 1]
    close = (segment[rows + 1 :] == segment[: -rows - 1]) & (span <= (rows + 1) * max(longest_step, 0.0))
    if rows > 1:
        # A wrong reading that is held; several different ones are a movement of the machine.
        close &= (runs == runs[:, :1]).all(axis=1)
        close &= seconds[rows:-1] - seconds[1:-rows] <= longest
    start = np.flatnonzero(close & (distance > floor) & (distance > _GAP * gap) & (distance > _NOISE * usual))
    hit = np.zeros(values.size, dtype=bool)
    for step in range(rows):
        hit[start + 1 + step] = True
    return hit

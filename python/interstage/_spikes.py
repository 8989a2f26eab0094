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
#: Fewest readings that a column is looked at from.
_FEWEST = 3
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
        left = np.flatnonzero(usable & ~found)
        if left.size < _FEWEST:
            break
        hit = _away(values[left], line.seconds[left], segment[left], kind, longest, line.longest_step)
        if not hit.any():
            break
        found[left[hit]] = True
    return found


def _away(
    values: FloatArray,
    seconds: FloatArray,
    segment: IndexArray,
    kind: str,
    longest: float,
    longest_step: float,
) -> BoolArray:
    """Readings, and wrong readings that were held, that leave what stands before and after them.

    Several different readings away from their neighbors are a movement of the machine.
    """
    changes = np.flatnonzero(values[1:] != values[:-1]) + 1
    first, end = changes[:-1], changes[1:]
    rows = end - first
    before, after = values[first - 1], values[end]
    middle = 0.5 * (before + after)
    gap = np.abs(after - before)
    distance = np.abs(values[first] - middle)
    usual = float(np.median(np.abs(np.diff(values))))
    if kind in ("K", "K difference"):
        floor = np.full(middle.shape, _FLOOR_TEMPERATURE)
    else:
        high = float(np.quantile(np.abs(values), 0.95))
        floor = np.maximum(_FLOOR_RELATIVE * np.abs(middle), _FLOOR_OF_HIGH * high)
    together = (segment[end] == segment[first - 1]) & (
        seconds[end] - seconds[first - 1] <= (rows + 1) * longest_step
    )
    short = (rows == 1) | ((rows <= _MOST_ROWS) & (seconds[end - 1] - seconds[first] <= longest))
    spike = together & short & (distance > floor) & (distance > _GAP * gap) & (distance > _NOISE * usual)
    if (spike & (rows == 1)).any():
        # Good readings between two spikes are not held by them: single ones first.
        spike &= rows == 1
    # +1 where a spike begins and -1 behind it.
    edges = np.zeros(values.size + 1, dtype=np.int8)
    edges[first[spike]] += 1
    edges[end[spike]] -= 1
    return np.asarray(np.cumsum(edges[:-1]) > 0)

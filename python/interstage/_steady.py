"""Steady state: rows whose readings stood still over a moving window, and why the others did not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage._axis import Axis, BoolArray, FloatArray
from interstage._frames import Container
from interstage._quality import Quality
from interstage._shown import Shown
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["Steady", "SteadyLimit", "steady_state"]


@dataclass(frozen=True)
class SteadyLimit:
    """How far a reading may move within the window.

    Parameters
    ----------
    deviation : float
        Highest standard deviation of the readings in the window: in SI, or relative to their mean.
    relative : bool, optional
        Whether it is relative to the mean.
    drift : float, optional
        Furthest that a straight line through the readings may move over one window, in the unit of
        `deviation`; twice that unless given.
    reason : str, optional
        Where the numbers come from.
    """

    deviation: float
    relative: bool = False
    drift: float | None = None
    reason: str = "given"

    def __post_init__(self) -> None:
        for name, value in (("deviation", self.deviation), ("drift", self.drift)):
            if value is None and name == "drift":
                continue
            if isinstance(value, bool) or not isinstance(value, (int, float)):
                raise WrongArgument(f"{name} must be a number, got {value!r}", argument=name)
            if not value > 0.0:
                reason = f"{value!r} is not above 0"
                raise Inconsistent(f"{name} must be positive: {reason}", arguments=name, reason=reason)

    @property
    def furthest(self) -> float:
        """Furthest movement of the line over one window."""
        return 2.0 * self.deviation if self.drift is None else self.drift


_WATER = SteadyLimit(
    0.15,
    reason="what takes a minute through the machine is off by a tenth of the drift over ten minutes: "
    "0.03 K, or 0.6 % of a range of 5 K; a laboratory test by AHRI 550/590 allows 0.10 K (from memory)",
)
_PRESSURE = SteadyLimit(
    0.01, relative=True, reason="a third of a K of saturation temperature; common practice, no source"
)
_SATURATION = SteadyLimit(0.3, reason="a hundredth of the pressure; common practice, no source")
_FLOW = SteadyLimit(0.03, relative=True, reason="noise of field meters; common practice, no source")
_POWER = SteadyLimit(0.02, relative=True, reason="common practice, no source")

#: Readings that are looked at, with their limits.
_LIMITS = {
    "chilled_water_entering": _WATER,
    "chilled_water_leaving": _WATER,
    "condenser_water_entering": _WATER,
    "condenser_water_leaving": _WATER,
    "chilled_water_flow": _FLOW,
    "condenser_water_flow": _FLOW,
    "power": _POWER,
    "motor_current": _POWER,
    "evaporator_pressure": _PRESSURE,
    "condenser_pressure": _PRESSURE,
    "evaporator_saturation_temperature": _SATURATION,
    "condenser_saturation_temperature": _SATURATION,
}
#: What stands in for what, and is not looked at beside it.
_INSTEAD = {
    "motor_current": "power",
    "evaporator_saturation_temperature": "evaporator_pressure",
    "condenser_saturation_temperature": "condenser_pressure",
}

#: Rows worked on at once: sums of squares stay exact enough, memory bounded.
_BLOCK = 8192
#: Default window: s, and steps at least.
_WINDOW, _STEPS = 600.0, 5
#: Fewest readings in a window that a standard deviation is told from.
_FEWEST = 3

_OFF, _NO_WINDOW, _NO_TIME = 1, 2, 4
_WHY_NOT = {
    _OFF: "the machine was off within the window",
    _NO_WINDOW: "no full window since a gap",
    _NO_TIME: "the row has no time",
}


class Steady(Shown):
    """Which rows are steady, and why the others are not; made by `steady_state`."""

    def __init__(
        self,
        container: Container,
        why: Any,
        names: tuple[str, ...],
        limits: dict[str, SteadyLimit],
        window: float,
    ) -> None:
        self._container = container
        self._why = why
        self._names = names
        #: Reading -> limit that was used.
        self.limits = limits
        #: Length of the window, s.
        self.window = window

    def __reduce__(self) -> tuple[Any, ...]:
        return Steady, (self._container, self._why, self._names, self.limits, self.window)

    def __len__(self) -> int:
        return len(self._why)

    @property
    def mask(self) -> Any:
        """Whether each row is steady."""
        return self._container.column(self._why == 0, "steady")

    @property
    def reason(self) -> Any:
        """Why each row is not steady, and "steady"."""
        codes, where = np.unique(self._why, return_inverse=True)
        words = np.array([self._words(int(code)) for code in codes], dtype=object)
        return self._container.column(words[where], "reason")

    def _words(self, code: int) -> str:
        said = [words for bit, words in _WHY_NOT.items() if code & bit]
        for place, name in enumerate(self._names):
            bits = code >> (3 + 3 * place)
            what = [words for bit, words in ((1, "varies"), (2, "drifts"), (4, "has too few")) if bits & bit]
            if what:
                said.append(f"{name} {' and '.join(what)}".replace("few", "few good readings"))
        return "; ".join(said) or "steady"

    def __repr__(self) -> str:
        return f"Steady({int(np.count_nonzero(self._why == 0))} of {len(self)} rows steady)"


def steady_state(
    quality: Quality,
    *,
    window: float | None = None,
    limits: Mapping[str, SteadyLimit | None] | None = None,
    least_share: float = 0.8,
) -> Steady:
    """Find the rows before which the readings stood still for a window of time.

    A row is steady where, over the window that ends with it, the machine ran, no gap lies, and every reading
    that is looked at has a standard deviation and a drift (movement of a straight line through the window)
    within its limits. Readings that may not be used are left out; too few of them are a reason.

    Parameters
    ----------
    quality : Quality
        Of the table; it knows its times.
    window : float, optional
        Length of the window, s; ten minutes, or five usual steps where that is longer, unless given: several
        times what water takes through the machine. Common practice, no published source.
    limits : mapping, optional
        Reading -> its limit, in place of the default one; None leaves a reading out. Readings that are looked
        at without it: water temperatures (0.15 K), water flows (3 %), power or current (2 %), pressures (1 %)
        or saturation temperatures (0.3 K); `Steady.limits` holds the reason of each.
    least_share : float, optional
        Share of the usual number of readings that a window must hold.

    Returns
    -------
    Steady

    Raises
    ------
    UnknownOption
        If a limit is given for what is not read.
    WrongArgument
        If an argument is of a wrong kind, or nothing is left to look at.

    Examples
    --------
    >>> import interstage
    >>> readings = interstage.Readings({"out": ("chilled_water_leaving", "degC")})
    >>> table = {"t": [60.0 * row for row in range(30)], "out": [7.0] * 15 + [8.0] * 15}
    >>> steady = interstage.steady_state(interstage.assess_quality(table, readings, time="t"))
    >>> steady.reason[8], steady.reason[12], steady.reason[15]
    ('no full window since a gap', 'steady', 'chilled_water_leaving varies and drifts')
    """
    if not isinstance(quality, Quality):
        raise WrongArgument(f"quality must be Quality, got {type(quality).__name__}", argument="quality")
    for name, value, most in (
        ("window", 1.0 if window is None else window, np.inf),
        ("least_share", least_share, 1.0),
    ):
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0.0 < value <= most:
            raise WrongArgument(f"{name} must be a number above 0, got {value!r}", argument=name)
    used = _limits(tuple(quality.readings), limits or {})
    line = quality.line
    if window is None:
        window = max(_WINDOW, _STEPS * line.usual_step)
    rows = len(quality)
    why = np.full(rows, _NO_TIME, dtype=np.uint64)
    ordered = _reasons(quality, used, line, float(window), float(least_share))
    why[line.order] = ordered
    return Steady(quality.container, why, tuple(used), used, float(window))


def _limits(read: tuple[str, ...], given: Mapping[str, SteadyLimit | None]) -> dict[str, SteadyLimit]:
    for name, limit in given.items():
        if name not in read:
            raise UnknownOption(
                f"limits: {name!r} is not read; the readings are {', '.join(read)}",
                argument="limits",
                value=str(name),
                options=read,
            )
        if limit is not None and not isinstance(limit, SteadyLimit):
            raise WrongArgument(f"limits[{name!r}] must be a SteadyLimit, got {limit!r}", argument="limits")
    used = {name: limit for name, limit in _LIMITS.items() if name in read and _INSTEAD.get(name) not in read}
    for name, limit in given.items():
        if limit is None:
            used.pop(name, None)
        else:
            used[name] = limit
    if not used:
        raise WrongArgument("no reading is left that tells a steady state: give limits=", argument="limits")
    return used


def _reasons(
    quality: Quality, limits: Mapping[str, SteadyLimit], line: Axis, window: float, least_share: float
) -> Any:
    """Reasons against each ordered row, as bits."""
    seconds = line.seconds
    why = np.zeros(seconds.size, dtype=np.uint64)
    if not seconds.size:
        return why
    first = np.searchsorted(seconds, seconds - window, side="right")
    began = seconds[np.flatnonzero(line.after_gap)][line.segment]
    usual = line.usual_step
    why[seconds - began < window - usual * (1.0 + 1e-9)] |= np.uint64(_NO_WINDOW)
    off = np.concatenate([[0], np.cumsum(quality.off[line.order])])
    why[off[1:] - off[first] > 0] |= np.uint64(_OFF)
    needed = max(float(_FEWEST), least_share * window / usual if usual > 0.0 else 0.0)
    for place, (name, limit) in enumerate(limits.items()):
        values, good = quality.reading(name)
        for block, count, mean, deviation, drift in _moments(
            values[line.order], good[line.order], seconds, first, window
        ):
            scale = np.abs(mean) if limit.relative else 1.0
            with np.errstate(invalid="ignore"):
                # Right after a gap there cannot be more.
                few = (count < needed - 1e-9) & (why[block] & np.uint64(_NO_WINDOW) == 0)
                told = count >= _FEWEST
                bits = (
                    1 * (~few & told & ~(deviation <= limit.deviation * scale))
                    + 2 * (~few & told & ~(np.abs(drift) <= limit.furthest * scale))
                    + 4 * few
                )
            why[block] |= bits.astype(np.uint64) << np.uint64(3 + 3 * place)
    return why


def _moments(
    values: FloatArray, good: BoolArray, seconds: FloatArray, first: Any, window: float
) -> Iterator[tuple[slice, FloatArray, FloatArray, FloatArray, FloatArray]]:
    """Count, mean, standard deviation and drift over the window of each row, block by block."""
    for begin in range(0, values.size, _BLOCK):
        block = slice(begin, min(begin + _BLOCK, values.size))
        lowest = int(first[begin])
        part = slice(lowest, block.stop)
        weight = good[part].astype(float)
        known = values[part][good[part]]
        # Sums lose least where the numbers are small.
        middle = float(np.median(known)) if known.size else 0.0
        x = np.where(good[part], values[part] - middle, 0.0)
        t = (seconds[part] - seconds[lowest]) * weight
        start = first[block] - lowest
        end = np.arange(block.start, block.stop) + 1 - lowest

        def total(of: FloatArray, start: Any = start, end: Any = end) -> FloatArray:
            sums = np.concatenate([[0.0], np.cumsum(of)])
            return np.asarray(sums[end] - sums[start])

        count = total(weight)
        with np.errstate(invalid="ignore", divide="ignore"):
            mean, when = total(x) / count, total(t) / count
            scatter = np.maximum(total(x * x) - count * mean**2, 0.0)
            spread = total(t * t) - count * when**2
            slope = (total(t * x) - count * mean * when) / spread
            yield block, count, mean + middle, np.sqrt(scatter / (count - 1.0)), slope * window

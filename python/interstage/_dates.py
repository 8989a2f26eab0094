"""Texts of times taken apart, and the order of day and month found from how the days follow each other."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _needed
from interstage._axis import BoolArray

_TIME = r"(?:[T ,]+(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?\s*([AaPp])?\.?(?:[Mm]\.?)?)?"
_ZONE = r"\s*(Z|[+-]\d{2}:?\d{2}|[A-Z]{3,5})?\s*$"
_NUMBERS = re.compile(r"^\s*(\d{1,4})[-/. ](\d{1,2}|[A-Za-z]{3,9})[-/. ](\d{1,4})" + _TIME + _ZONE)
_NAME_FIRST = re.compile(r"^\s*([A-Za-z]{3,9})\.? +(\d{1,2}),? +(\d{4})" + _TIME + _ZONE)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")

#: Orders of a date; the last is a date written year first whose month and day were exchanged.
DAY_FIRST, MONTH_FIRST, YEAR_FIRST, YEAR_DAY_MONTH = range(4)
ORDERS = {"day first": DAY_FIRST, "month first": MONTH_FIRST, "year first": YEAR_FIRST}
ORDER_WORDS = ("day first", "month first", "year first", "year first, day and month exchanged")

Times = npt.NDArray[np.datetime64]
_DAY = np.timedelta64(1, "D")

# Costs of reading the days of a file one way or the other: a time that runs backward, the first day of
# another order than the day before, and each day of an exchanged one. Of a gap it is ln(1 + its days).
_BACKWARD, _OTHER_ORDER, _EXCHANGED, _EACH_EXCHANGED = 10.0, 1.0, 3.0, 0.3
#: Difference of the costs below which the order cannot be told.
_DOUBT = 0.5


@dataclass(frozen=True)
class Parts:
    """Texts taken apart: one entry a text."""

    #: Time of the day, ns.
    clock: npt.NDArray[np.int64]
    #: Offset from UTC, ns, where the text has one.
    offset: npt.NDArray[np.int64]
    has_offset: BoolArray
    #: Abbreviation of a zone, or nothing.
    zone: npt.NDArray[Any]
    readable: BoolArray
    #: Texts that say 24:00 for the end of the day.
    midnight: BoolArray
    #: By order: the day, NaT where the text cannot be read in that order.
    days: dict[int, Times]


def take_apart(texts: Any) -> Parts:
    """Read texts of dates and times, in every order of the date that they allow.

    Parameters
    ----------
    texts : sequence of str
        Each of them once: they are looked at one by one.
    """
    count = len(texts)
    clock, offset = np.zeros(count, dtype=np.int64), np.zeros(count, dtype=np.int64)
    has_offset, midnight = np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    zone = np.full(count, "", dtype=object)
    # A file has few days and few times of the day.
    time_of_day, days_of = lru_cache(1 << 16)(_time_of_day), lru_cache(1 << 12)(_days)
    days: dict[int, list[str]] = {order: ["NaT"] * count for order in range(4)}
    for row, text in enumerate(texts):
        match = _NUMBERS.match(text)
        name_first = match is None
        if match is None:
            match = _NAME_FIRST.match(text)
        if match is None:
            continue
        first, second, third, *time, where = match.groups(default="")
        told = time_of_day(*time)
        if told is None:
            continue
        clock[row], midnight[row] = told
        if where == "Z" or where[:1] in ("+", "-"):
            has_offset[row] = True
            if where != "Z":
                size = int(where[1:3]) * 60 + int(where[-2:])
                offset[row] = (-size if where[0] == "-" else size) * 60_000_000_000
        elif where in ("UTC", "GMT"):
            has_offset[row] = True
        else:
            zone[row] = where
        date = (third, first, second) if name_first else (first, second, third)
        for order, day in days_of(*date).items():
            days[order][row] = day
    pandas = _needed.pandas()
    read = {
        order: pandas.to_datetime(pandas.Series(of, dtype=object), format="%Y-%m-%d", errors="coerce")
        .to_numpy()
        .astype("datetime64[ns]")
        for order, of in days.items()
    }
    readable = ~np.all([np.isnat(of) for of in read.values()], axis=0) if count else np.zeros(0, dtype=bool)
    return Parts(clock, offset, has_offset, zone, readable, midnight, read)


def _time_of_day(hour: str, minute: str, second: str, fraction: str, half: str) -> tuple[int, bool] | None:
    """Time of the day, ns, and whether it is 24:00; None where there is no such time."""
    hours, minutes, seconds = (int(part or 0) for part in (hour, minute, second))
    if half:
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + 12 * (half in "pP")
    midnight = hours == 24 and minutes == seconds == 0
    if not (hours < 24 or midnight) or minutes > 59 or seconds > 59:
        return None
    return ((hours * 60 + minutes) * 60 + seconds) * 10**9 + int(fraction.ljust(9, "0")[:9]), midnight


def _days(first: str, second: str, third: str) -> dict[int, str]:
    """The day by the orders that three parts of a date allow."""
    if second.isalpha():
        parts = (first, second, third) if len(first) == 4 else (third, second, first)
        return {YEAR_FIRST: _iso(*parts)}
    if len(first) >= 3:
        return {YEAR_FIRST: _iso(first, second, third), YEAR_DAY_MONTH: _iso(first, third, second)}
    return {DAY_FIRST: _iso(third, second, first), MONTH_FIRST: _iso(third, first, second)}


def _iso(year: str, month: str, day: str) -> str:
    """One date as text, or what is none."""
    if month.isalpha():
        name = month[:3].lower()
        number = _MONTHS.index(name) + 1 if name in _MONTHS else 0
    else:
        number = int(month)
    whole = int(year)
    if len(year) <= 2:
        # Trend exports are of this century.
        whole += 2000
    if len(year) == 3 or not (1 <= number <= 12 and 1 <= int(day) <= 31 and 1900 <= whole <= 2200):
        return "NaT"
    return f"{whole:04d}-{number:02d}-{int(day):02d}"


def choose_orders(
    days: dict[int, Times], clock: npt.NDArray[np.int64]
) -> tuple[npt.NDArray[np.int8], BoolArray]:
    """Choose the order of each date so that time runs on with the fewest gaps and jumps.

    Rows of one date stay together. Over these blocks the cheapest way is found by dynamic programming, and
    from both ends, so that of each block the cost of the other order is known too.

    Parameters
    ----------
    days : dict
        Order -> day of each readable row, NaT where it cannot be.
    clock : array
        Time of the day of each row, ns.

    Returns
    -------
    (array, array of bool)
        Order of each row; whether it is doubtful, because another one is as good.
    """
    table = np.array([days[order] for order in range(4)])
    order, doubtful, cost = _choose(table, clock)
    turned, turned_doubtful, turned_cost = _choose(table[:, ::-1], clock[::-1])
    # Many exports write the newest row first.
    if turned_cost < cost - _DOUBT:
        return turned[::-1], turned_doubtful[::-1]
    return order, doubtful


def _choose(table: Times, clock: npt.NDArray[np.int64]) -> tuple[npt.NDArray[np.int8], BoolArray, float]:
    """Order of each row, whether it is doubtful, and the cost of the cheapest way."""
    if not clock.size:
        return np.zeros(0, dtype=np.int8), np.zeros(0, dtype=bool), 0.0
    same = (table[:, 1:] == table[:, :-1]) | (np.isnat(table[:, 1:]) & np.isnat(table[:, :-1]))
    starts = np.concatenate([[True], ~same.all(axis=0)])
    begin = np.flatnonzero(starts)
    end = np.append(begin[1:], clock.size) - 1
    blocks = table[:, begin]
    possible = ~np.isnat(blocks)
    # The first of each block comes after the last of the one before.
    first = blocks + clock[begin].astype("timedelta64[ns]")
    last = blocks + clock[end].astype("timedelta64[ns]")
    forward = _costs(first, last, possible)
    # The same from the end: time turned round.
    mirror = np.datetime64(0, "ns") - (last - np.datetime64(0, "ns"))
    mirrored = np.datetime64(0, "ns") - (first - np.datetime64(0, "ns"))
    backward = _costs(mirror[:, ::-1], mirrored[:, ::-1], possible[:, ::-1])[:, ::-1]
    own = _own(possible)
    with np.errstate(invalid="ignore"):
        through = np.where(possible, forward + backward - own, np.inf)
    best = through.argmin(axis=0)
    others = through.copy()
    here = np.arange(best.size)
    least = through[best, here]
    others[best, here] = np.inf
    # Two orders that give the same day are no doubt.
    others[blocks == blocks[best, here]] = np.inf
    doubtful = others.min(axis=0) - least < _DOUBT
    block = np.cumsum(starts) - 1
    return best[block].astype(np.int8), doubtful[block], float(least[0])


def _own(possible: BoolArray) -> npt.NDArray[np.float64]:
    own = np.where(possible, 0.0, np.inf)
    own[YEAR_DAY_MONTH] += _EACH_EXCHANGED
    return np.asarray(own)


def _costs(first: Times, last: Times, possible: BoolArray) -> npt.NDArray[np.float64]:
    """Least cost of the blocks up to each, by its order."""
    own = _own(possible)
    change = np.full((4, 4), _OTHER_ORDER)
    np.fill_diagonal(change, 0.0)
    change[YEAR_FIRST, :2] = change[:2, YEAR_FIRST] = 0.0
    change[YEAR_DAY_MONTH, YEAR_FIRST] = change[YEAR_FIRST, YEAR_DAY_MONTH] = _EXCHANGED
    change[YEAR_DAY_MONTH, :2] = change[:2, YEAR_DAY_MONTH] = _OTHER_ORDER
    total = own.copy()
    for block in range(1, own.shape[1]):
        gap = (first[None, :, block] - last[:, None, block - 1]) / _DAY
        with np.errstate(invalid="ignore"):
            step = np.where(gap < 0.0, _BACKWARD + np.log1p(np.abs(gap)), np.log1p(np.abs(gap)))
        step = np.where(np.isnan(step), np.inf, step)
        total[:, block] = own[:, block] + (total[:, None, block - 1] + change + step).min(axis=0)
    return np.asarray(total)

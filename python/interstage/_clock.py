"""The clock of an export: mixed formats, exchanged days and months, zones, repaired and told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _needed
from interstage._axis import BoolArray
from interstage._dates import ORDER_WORDS, ORDERS, Parts, choose_orders, take_apart
from interstage._fold import localized
from interstage._shown import Shown
from interstage._zone_letters import offsets_of, told
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["RepairedTimes", "repair_times", "time_steps"]

_NUMBERS = {
    # Words -> (nanoseconds of one, start). The spreadsheet counts a 29 February 1900 that never was.
    "seconds since 1970": (10**9, "1970-01-01"),
    "milliseconds since 1970": (10**6, "1970-01-01"),
    "spreadsheet days": (86_400 * 10**9, "1899-12-30"),
}
#: Numbers between the years 1980 and 2100, by what they count.
_PLAUSIBLE = {
    "seconds since 1970": (3.15e8, 4.11e9),
    "milliseconds since 1970": (3.15e11, 4.11e12),
    "spreadsheet days": (29_221.0, 73_051.0),
}
#: A step is a gap where it is longer than this many usual steps (the median). Common practice, no published
#: source.
_USUAL_STEPS = 3.0


@dataclass(frozen=True)
class RepairedTimes(Shown):
    """Times of the rows of an export, and all that was changed to get them; made by `repair_times`."""

    #: pandas.DatetimeIndex in the order of the rows, NaT where nothing can be read; of a zone where one is
    #: known.
    index: Any
    #: pandas.DataFrame of the rows whose time is not simply what they say: ``row``, ``found``, ``taken``,
    #: ``why``.
    changes: Any
    #: What was found in the whole column, and what cannot be told.
    notes: tuple[str, ...]

    def __repr__(self) -> str:
        return f"RepairedTimes({len(self.index)} rows, {len(self.changes)} not simply what they say)"

    def __str__(self) -> str:
        why = self.changes["why"].value_counts()
        return "\n".join([*self.notes, *(f"{count} rows: {words}" for words, count in why.items())])


def repair_times(
    times: Any,
    *,
    zone: str | None = None,
    date_order: str | None = None,
    numbers: str | None = None,
) -> RepairedTimes:
    """Read the times of an export.

    Texts may mix formats: year first, day or month first, months by name, 12 and 24 hours, 24:00, offsets and
    letters: Z, UTC, GMT, those of the zone, and EST, EDT, CST, CDT, MST, MDT, PST, PDT as in the United
    States where the zone has no others.
    Where a date can be read in two orders the days around it decide: the order is taken in which time runs on
    with the fewest gaps and jumps backward, so that days and months that some program exchanged are found.
    Rows must be in the order in which they were written.

    Parameters
    ----------
    times : column
        Texts, times, or numbers.
    zone : str, optional
        Zone of the clock that wrote them, as "Europe/Berlin"; for a clock without daylight saving a fixed one
        as "Etc/GMT-1". The hour that autumn repeats is told by the step back of the clock; times that spring
        leaves out are taken as written by a clock that was not set forward. Without it times stay local.
    date_order : str, optional
        "day first", "month first" or "year first": then nothing is exchanged.
    numbers : str, optional
        What numbers count: "seconds since 1970", "milliseconds since 1970", "spreadsheet days". By their size
        unless given. Numbers count from UTC, spreadsheet days from the local clock.

    Returns
    -------
    RepairedTimes

    Raises
    ------
    Inconsistent
        If the order of day and month cannot be told at all, numbers can be no time, letters behind a time are
        not known, or some texts have an offset and others do not and no zone is given.
    WrongArgument
        If the column or the zone is of a wrong kind.

    Examples
    --------
    >>> import interstage
    >>> told = interstage.repair_times(["30/06/2023 23:00", "01/07/2023 00:00", "7/1/2023 1:00 AM"])
    >>> [str(time) for time in told.index]
    ['2023-06-30 23:00:00', '2023-07-01 00:00:00', '2023-07-01 01:00:00']
    >>> told.changes["why"].tolist()
    ['read month first, the others day first']
    """
    pandas = _needed.pandas()
    if date_order is not None and date_order not in ORDERS:
        raise UnknownOption(
            f"date_order must be one of {', '.join(map(repr, ORDERS))}, got {date_order!r}",
            argument="date_order",
            value=str(date_order),
            options=tuple(ORDERS),
        )
    if numbers is not None and numbers not in _NUMBERS:
        raise UnknownOption(
            f"numbers must be one of {', '.join(map(repr, _NUMBERS))}, got {numbers!r}",
            argument="numbers",
            value=str(numbers),
            options=tuple(_NUMBERS),
        )
    if isinstance(times, (str, bytes)) or hasattr(times, "columns") or not hasattr(times, "__iter__"):
        raise WrongArgument(
            f"times must be one column of times, got {type(times).__name__}", argument="times"
        )
    column = pandas.Series(times.to_list() if hasattr(times, "to_list") else list(times), dtype=object)
    given = column.reset_index(drop=True)
    log = _Log(given)
    missing = given.isna().to_numpy()
    kinds = np.array([_kind(value) for value in given], dtype=object)
    kinds[missing] = "missing"
    log.add(missing, "no time")
    wrong = set(kinds) - {"text", "time", "number", "missing"}
    if wrong:
        found = ", ".join(sorted(wrong))
        raise WrongArgument(f"times must be texts, times or numbers, got {found}", argument="times")
    local = np.full(len(given), np.datetime64("NaT", "ns"))
    utc = np.zeros(len(given), dtype=bool)
    _read_times(given, kinds == "time", local, utc, log)
    _read_numbers(given, kinds == "number", numbers, local, utc, log)
    _read_texts(given, kinds == "text", date_order, zone, local, utc, log)
    read = ~np.isnat(local)
    if zone is None and (utc & read).any() and (~utc & read).any():
        of_utc, others = int((utc & read).sum()), int((~utc & read).sum())
        reason = f"{of_utc} times have an offset or count from UTC, {others} do not"
        raise Inconsistent(
            f"the times contradict each other: {reason}; give zone=", arguments="times", reason=reason
        )
    if zone is None:
        index = pandas.DatetimeIndex(local)
        if utc.any():
            index = index.tz_localize("UTC")
    else:
        index = localized(local, utc, zone, log)
    log.notes.extend(_step_notes(index, zone))
    return RepairedTimes(index, log.table(index), tuple(log.notes))


class _Log:
    """What was changed, row by row, and notes on the whole column."""

    def __init__(self, given: Any) -> None:
        self.given = given
        self.why: dict[int, list[str]] = {}
        self.notes: list[str] = []
        #: Whether rows are told from the last to the first.
        self.turned = False

    def add(self, rows: BoolArray, words: str) -> None:
        for row in np.flatnonzero(rows[::-1] if self.turned else rows):
            self.why.setdefault(int(row), []).append(words)

    def table(self, index: Any) -> Any:
        rows = sorted(self.why)
        return _needed.pandas().DataFrame(
            {
                "row": np.array(rows, dtype=np.int64),
                "found": [self.given.iloc[row] for row in rows],
                "taken": index[rows],
                "why": ["; ".join(self.why[row]) for row in rows],
            }
        )


def _kind(value: Any) -> str:
    if isinstance(value, str):
        return "text"
    if isinstance(value, (bool, np.bool_)):
        return "truth values"
    if isinstance(value, (int, float, np.integer, np.floating)):
        return "number"
    if isinstance(value, np.datetime64) or hasattr(value, "tzinfo"):
        return "time"
    return type(value).__name__


def _read_times(given: Any, rows: BoolArray, local: Any, utc: BoolArray, log: _Log) -> None:
    pandas = _needed.pandas()
    beyond = np.zeros(len(given), dtype=bool)
    for row in np.flatnonzero(rows):
        try:
            stamp = pandas.Timestamp(given.iloc[row])
            plain = stamp if stamp.tzinfo is None else stamp.tz_convert("UTC").tz_localize(None)
            # Nanoseconds hold the years 1678 to 2261; what is beyond must not wrap around.
            local[row] = plain.as_unit("ns").to_datetime64()
            utc[row] = stamp.tzinfo is not None
        except (ValueError, OverflowError):
            beyond[row] = True
    log.add(beyond, "a time before 1678 or after 2261")


def _read_numbers(
    given: Any, rows: BoolArray, counts: str | None, local: Any, utc: BoolArray, log: _Log
) -> None:
    if not rows.any():
        return
    values = given[rows].to_numpy(dtype=np.float64)
    if counts is None:
        finite = values[np.isfinite(values)]
        middle = float(np.median(finite)) if finite.size else float("nan")
        fitting = [words for words, (low, high) in _PLAUSIBLE.items() if low <= middle <= high]
        if not fitting:
            reason = f"their median is {middle:g}, which is no time between 1980 and 2100 by any count"
            raise Inconsistent(
                f"numbers are no times: {reason}; give numbers=", arguments="times", reason=reason
            )
        counts = fitting[0]
        log.notes.append(f"numbers count {counts}")
    unit, start = _NUMBERS[counts]
    low, high = _PLAUSIBLE[counts]
    good = (values >= low) & (values <= high)
    where = np.flatnonzero(rows)
    log.add(_at(len(given), where[~good]), "a number that is no time")
    # Whole and fraction apart, to the microsecond.
    whole = np.floor(values[good])
    parts = np.round((values[good] - whole) * unit / 1e3).astype(np.int64) * 1000
    ticks = whole.astype(np.int64) * unit + parts
    local[where[good]] = np.datetime64(start, "ns") + ticks.astype("timedelta64[ns]")
    utc[where[good]] = counts != "spreadsheet days"


def _at(size: int, rows: Any) -> BoolArray:
    mask = np.zeros(size, dtype=bool)
    mask[rows] = True
    return mask


def _read_texts(
    given: Any,
    rows: BoolArray,
    date_order: str | None,
    zone: str | None,
    local: Any,
    utc: BoolArray,
    log: _Log,
) -> None:
    where = np.flatnonzero(rows)
    if not where.size:
        return
    codes, texts = _needed.pandas().factorize(given[rows])
    once = take_apart(texts)
    parts = Parts(
        clock=once.clock[codes],
        offset=once.offset[codes],
        has_offset=once.has_offset[codes],
        zone=once.zone[codes],
        readable=once.readable[codes],
        midnight=once.midnight[codes],
        days={order: days[codes] for order, days in once.days.items()},
    )
    size = len(given)
    log.add(_at(size, where[~parts.readable]), "not readable")
    ok = np.flatnonzero(parts.readable)
    order, doubtful = _orders(parts, ok, date_order)
    days = np.full(where.size, np.datetime64("NaT", "ns"))
    for number in range(4):
        chosen = ok[order == number]
        days[chosen] = parts.days[number][chosen]
    lost = ok[np.isnat(days[ok])]
    log.add(_at(size, where[lost]), f"not readable {date_order}")
    _tell_orders(parts, ok, order, doubtful, where, size, log)
    log.add(_at(size, where[ok[parts.midnight[ok]]]), "24:00 is 0:00 of the next day")
    moment = days + parts.clock.astype("timedelta64[ns]")
    letters = np.where(np.isnat(moment), "", parts.zone)
    offset, has_offset = parts.offset.copy(), parts.has_offset.copy()
    for name, size_of in offsets_of(letters, moment, zone).items():
        mine = letters == name
        offset[mine], has_offset[mine] = size_of, True
        log.notes.append(f"{int(mine.sum())} times end in {name}: taken as {told(size_of)}")
    local[where] = np.where(has_offset, moment - offset.astype("timedelta64[ns]"), moment)
    utc[where] = has_offset


def _orders(parts: Parts, ok: Any, date_order: str | None) -> tuple[npt.NDArray[np.int8], BoolArray]:
    days = {order: values[ok] for order, values in parts.days.items()}
    if date_order is None:
        return choose_orders(days, parts.clock[ok])
    wanted = ORDERS[date_order]
    order = np.full(ok.size, wanted, dtype=np.int8)
    # Names of months and years in front leave no choice.
    certain = ~np.isnat(days[ORDERS["year first"]])
    order[certain] = ORDERS["year first"]
    return order, np.zeros(ok.size, dtype=bool)


def _tell_orders(
    parts: Parts, ok: Any, order: Any, doubtful: BoolArray, where: Any, size: int, log: _Log
) -> None:
    both = ~np.isnat(parts.days[0][ok]) & ~np.isnat(parts.days[1][ok])
    two = both & (parts.days[0][ok] != parts.days[1][ok])
    if two.any() and (doubtful | ~two).all():
        text = log.given.iloc[where[ok[np.flatnonzero(two)[0]]]]
        reason = f"every date can be read day first and month first, as {text!r}"
        raise Inconsistent(
            f"the order of day and month cannot be told: {reason}; give date_order=",
            arguments="times",
            reason=reason,
        )
    numeric = order[order < 2]
    usual = int(np.bincount(numeric, minlength=2).argmax()) if numeric.size else None
    if usual is not None:
        log.notes.append(f"dates are written {ORDER_WORDS[usual]}")
        other = (order < 2) & (order != usual)
        words = f"read {ORDER_WORDS[1 - usual]}, the others {ORDER_WORDS[usual]}"
        log.add(_at(size, where[ok[other]]), words)
    log.add(_at(size, where[ok[order == 3]]), "day and month exchanged back")
    log.add(_at(size, where[ok[doubtful & (two | (order == 3))]]), "the order of day and month is doubtful")


def time_steps(index: Any) -> dict[str, Any]:
    """Describe the steps between the times of an index.

    Parameters
    ----------
    index : pandas.DatetimeIndex

    Returns
    -------
    dict
        ``usual_step`` (s, the median of the steps onward), ``regular_share`` (steps that are that to 1 %),
        ``gaps`` (list of (row before, row after), where a step exceeds three usual steps),
        ``duplicates``, ``forward``, ``backward`` (numbers of steps), ``missing`` (times that are none).

    Examples
    --------
    >>> import interstage, pandas
    >>> steps = interstage.time_steps(pandas.date_range("2030-01-01", periods=5, freq="5min").delete(2))
    >>> steps["usual_step"], steps["duplicates"], round(steps["regular_share"], 2)
    (300.0, 0, 0.67)
    """
    pandas = _needed.pandas()
    if not isinstance(index, pandas.DatetimeIndex):
        found = type(index).__name__
        raise WrongArgument(f"index must be a pandas.DatetimeIndex, got {found}", argument="index")
    known = index[~index.isna()]
    moments = (known.tz_convert("UTC").tz_localize(None) if known.tz is not None else known).to_numpy()
    step = np.diff(moments.astype("datetime64[ns]")).astype(np.int64) / 1e9
    # Newest first is an order too.
    onward = -step if (step < 0.0).sum() > (step > 0.0).sum() else step
    usual = float(np.median(onward[onward > 0.0])) if (onward > 0.0).any() else float("nan")
    regular = np.abs(onward - usual) <= 0.01 * usual
    wide = np.flatnonzero(onward > _USUAL_STEPS * usual)
    return {
        "usual_step": usual,
        "regular_share": float(regular.mean()) if step.size else float("nan"),
        "gaps": [(known[row], known[row + 1]) for row in wide],
        "duplicates": int((step == 0.0).sum()),
        "forward": int((step > 0.0).sum()),
        "backward": int((step < 0.0).sum()),
        "missing": int(index.isna().sum()),
    }


def _step_notes(index: Any, zone: str | None) -> list[str]:
    steps = time_steps(index)
    notes = []
    if np.isfinite(steps["usual_step"]):
        share = f"{steps['regular_share']:.1%} of the steps are that"
        notes.append(f"usual step {steps['usual_step']:g} s, {share}")
    if steps["gaps"]:
        notes.append(f"{len(steps['gaps'])} gaps of more than three steps")
    if steps["duplicates"]:
        notes.append(f"{steps['duplicates']} times stand twice in a row")
    if steps["backward"] and steps["forward"] < steps["backward"]:
        notes.append("rows are written newest first")
    elif steps["backward"]:
        hint = "" if zone else "; where the clock is set back in autumn, zone= tells its hours apart"
        notes.append(f"time runs backward {steps['backward']} times{hint}")
    return notes

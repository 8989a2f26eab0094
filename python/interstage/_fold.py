"""Local times of a zone: the hour that autumn repeats and the one that spring leaves out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage import _needed
from interstage._axis import BoolArray
from interstage.errors import WrongArgument

if TYPE_CHECKING:
    from interstage._clock import _Log

_HOUR = np.timedelta64(1, "h")
#: Rows of one autumn lie within this time.
_APART = np.timedelta64(30, "D")


def localized(local: npt.NDArray[np.datetime64], utc: BoolArray, zone: str, log: _Log) -> Any:
    """Give times of a zone; those of UTC are turned into it.

    Parameters
    ----------
    local : array
        Local times, or UTC where `utc` says so.
    utc : array of bool
    zone : str
    log : _Log
        Is told what was changed.
    """
    pandas = _needed.pandas()
    known = local[~np.isnat(local)]
    step = np.diff(known)
    nothing = np.timedelta64(0, "ns")
    if (step < nothing).sum() > (step > nothing).sum():
        # Newest first: the same from the other end.
        log.turned = True
        told = localized(local[::-1], utc[::-1], zone, log)[::-1]
        log.turned = False
        return told
    wall = pandas.DatetimeIndex(np.where(utc, np.datetime64("NaT", "ns"), local))
    ones = np.ones(len(wall), dtype=bool)
    try:
        summer = wall.tz_localize(zone, ambiguous=ones, nonexistent="NaT")
    except (KeyError, ValueError, TypeError, OSError) as error:
        raise WrongArgument(f"zone {zone!r} is not known: {error}", argument="zone") from None
    winter = wall.tz_localize(zone, ambiguous=~ones, nonexistent="NaT")
    left_out = np.asarray(wall.notna() & summer.isna())
    twice = np.asarray(summer.notna() & (summer != winter))
    first, doubtful = _first_pass(wall.to_numpy(), twice)
    plain = twice & ~doubtful
    log.add(plain & first, "the first of the two hours of autumn, before the step back")
    log.add(plain & ~first, "the second of the two hours of autumn, after the step back")
    log.add(doubtful, "one of the two hours of autumn, the first taken: no step back tells")
    log.add(left_out, "an hour that spring leaves out: taken as standard time")
    if left_out.any():
        log.notes.append(
            f"{int(left_out.sum())} times of an hour that spring leaves out: the clock may not change to "
            "daylight saving; then its zone is a fixed one, as 'Etc/GMT-1'"
        )
    told = wall.tz_localize(zone, ambiguous=first, nonexistent=pandas.Timedelta(hours=1))
    # As numbers, because a column may hold times of both kinds.
    moments = np.array(told.tz_convert("UTC").tz_localize(None).to_numpy(), dtype="datetime64[ns]")
    moments[utc] = local[utc]
    return pandas.DatetimeIndex(moments).tz_localize("UTC").tz_convert(zone)


def _first_pass(wall: Any, twice: BoolArray) -> tuple[BoolArray, BoolArray]:
    """Whether each time of a repeated hour is of its first pass, and whether that is doubtful."""
    first, doubtful = np.ones(len(wall), dtype=bool), np.zeros(len(wall), dtype=bool)
    rows = np.flatnonzero(twice)
    if not rows.size:
        return first, doubtful
    # Rows of one autumn together.
    new = np.concatenate([[True], np.abs(np.diff(wall[rows])) > _APART])
    for autumn in np.split(rows, np.flatnonzero(new)[1:]):
        back = np.flatnonzero(np.diff(wall[autumn]) < np.timedelta64(0, "ns"))
        if back.size == 1:
            first[autumn[back[0] + 1 :]] = False
        else:
            doubtful[autumn] = True
    return first, doubtful

"""Letters behind a time that name its offset from UTC."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _needed
from interstage.errors import Inconsistent, WrongArgument

#: Hours from UTC of the letters in use in the United States (15 U.S.C. 260a to 263; from memory).
_UNITED_STATES = {
    "EST": -5,
    "EDT": -4,
    "CST": -6,
    "CDT": -5,
    "MST": -7,
    "MDT": -6,
    "PST": -8,
    "PDT": -7,
}
_HOUR = 3600 * 10**9


def offsets_of(
    letters: npt.NDArray[Any], moments: npt.NDArray[np.datetime64], zone: str | None
) -> dict[str, int]:
    """Offsets from UTC, ns, of the letters behind the times; those of the zone come before all others.

    Parameters
    ----------
    letters : array of str
        Empty where a time has none.
    moments : array of datetime64
        The times as they are written.
    zone : str, optional

    Raises
    ------
    Inconsistent
        If letters are neither those of the zone nor known without one.
    """
    found = sorted(set(letters) - {""})
    if not found:
        return {}
    known = {name: hours * _HOUR for name, hours in _UNITED_STATES.items()}
    if zone is not None:
        known.update(_of_zone(moments, zone))
    unknown = [name for name in found if name not in known]
    if unknown:
        where = f"and are not those of {zone}" if zone is not None else "without a zone"
        reason = f"the letters {', '.join(unknown)} say no offset that is known {where}"
        hint = "; give zone=" if zone is None else ""
        raise Inconsistent(
            f"the times cannot be told: {reason}{hint}", arguments="times and zone", reason=reason
        )
    return {name: known[name] for name in found}


def _of_zone(moments: npt.NDArray[np.datetime64], zone: str) -> dict[str, int]:
    """Letters of a zone in the years of the times, and their offsets."""
    pandas = _needed.pandas()
    years = np.unique(moments[~np.isnat(moments)].astype("datetime64[Y]"))
    quarters = [year.astype("datetime64[M]") + month for year in years for month in (0, 3, 6, 9)]
    try:
        times = [pandas.Timestamp(str(quarter)).tz_localize("UTC").tz_convert(zone) for quarter in quarters]
    except (KeyError, ValueError, TypeError, OSError) as error:
        raise WrongArgument(f"zone {zone!r} is not known: {error}", argument="zone") from None
    return {time.tzname(): int(time.utcoffset().total_seconds()) * 10**9 for time in times}


def told(offset: int) -> str:
    """Offset from UTC in words, as UTC-5."""
    hours, minutes = divmod(abs(offset) // (60 * 10**9), 60)
    return f"UTC{'-' if offset < 0 else '+'}{hours}" + (f":{minutes:02d}" if minutes else "")

"""What the rows say against the declaration of their columns: wrong units, exchanged thermometers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage._quality import Quality
from interstage._quantities import converted, is_gauge, known_units
from interstage._readings import Readings
from interstage._shown import Shown
from interstage.errors import WrongArgument

__all__ = ["Direction", "check_directions", "check_units"]

#: Usual values of running and resting chillers, K: wide, yet apart in degC and degF. Common practice, no
#: published source.
_USUAL = {
    "chilled_water": (258.15, 308.15),
    "condenser_water": (268.15, 328.15),
    "evaporator": (243.15, 313.15),
    "condenser": (268.15, 348.15),
}
_MOST, _FEW = 0.9, 0.1

#: Warmer or higher reading, other reading, what they show where the order is reversed.
_PAIRS = (
    ("chilled_water_entering", "chilled_water_leaving", "evaporator water must cool"),
    ("condenser_water_leaving", "condenser_water_entering", "condenser water must warm"),
    ("condenser_pressure", "evaporator_pressure", "the condenser is above the evaporator"),
    (
        "condenser_saturation_temperature",
        "evaporator_saturation_temperature",
        "the condenser is above the evaporator",
    ),
    ("discharge_temperature", "suction_temperature", "compression warms the gas"),
)
#: Differences below these are noise: K, and Pa.
_DEAD = {"K": 0.3, "Pa": 2e3}
#: Rows, and their share of the rows of operation, that a verdict needs; share of one sign that is a verdict.
_ROWS, _SHARE, _SURE = 30, 0.1, 0.95


@dataclass(frozen=True)
class Direction(Shown):
    """Whether two readings stand in the order in which they must."""

    #: Reading that must be above, and the one below.
    above: str
    below: str
    #: Why it must.
    law: str
    #: Rows of operation in which both are good and differ by more than noise.
    rows: int
    #: Share of these in which they stand as they must.
    share: float
    #: Mean difference, K or Pa.
    mean_difference: float
    #: "right", "exchanged" or "cannot tell".
    verdict: str
    #: The verdict in words.
    text: str


class _Directions(list[Direction], Shown):
    """Directions that notebooks show as one table."""


def check_directions(quality: Quality) -> list[Direction]:
    """Check that evaporator water cools, condenser water warms and the condenser is above the evaporator.

    Parameters
    ----------
    quality : Quality
        Of the table. Rows of a running machine and good readings count.

    Returns
    -------
    list of Direction
        Notebooks show it as a table.
        One for each pair of readings that is declared.

    Examples
    --------
    >>> import interstage
    >>> readings = interstage.Readings(
    ...     {"a": ("chilled_water_entering", "degC"), "b": ("chilled_water_leaving", "degC")}
    ... )
    >>> table = {"t": [60.0 * row for row in range(40)], "a": [7.0] * 40, "b": [12.0] * 40}
    >>> check = interstage.check_directions(interstage.assess_quality(table, readings, time="t"))[0]
    >>> check.verdict
    'exchanged'
    """
    if not isinstance(quality, Quality):
        raise WrongArgument(f"quality must be Quality, got {type(quality).__name__}", argument="quality")
    return _Directions(
        _direction(quality, above, below, law)
        for above, below, law in _PAIRS
        if above in quality.readings and below in quality.readings
    )


def _direction(quality: Quality, above: str, below: str, law: str) -> Direction:
    (high, high_good), (low, low_good) = quality.reading(above), quality.reading(below)
    running = ~quality.off & high_good & low_good
    difference = (high - low)[running]
    noise = _DEAD["Pa" if "pressure" in above else "K"]
    told = difference[np.abs(difference) > noise]
    share = float((told > 0.0).mean()) if told.size else float("nan")
    mean = float(difference.mean()) if difference.size else float("nan")
    verdict = "cannot tell"
    if told.size < _ROWS:
        text = f"{told.size} rows differ by more than noise, {_ROWS} are needed"
    elif told.size < _SHARE * difference.size:
        text = f"only {told.size} of {difference.size} rows of operation differ by more than noise"
    elif share >= _SURE:
        verdict, text = "right", f"as it must be in {share:.1%} of {told.size} rows"
    elif share <= 1.0 - _SURE:
        verdict = "exchanged"
        text = (
            f"{law}, and in {1.0 - share:.1%} of {told.size} rows it is the other way round: {above} and "
            f"{below} seem to be exchanged; have the columns and the instruments checked"
        )
    else:
        text = f"as it must be in {share:.1%} of {told.size} rows, the other way round in the others"
    return Direction(above, below, law, int(told.size), share, mean, verdict, text)


def check_units(table: Any, readings: Readings) -> dict[str, str]:
    """Find readings whose values do not suit their unit and would suit another.

    Parameters
    ----------
    table : pandas.DataFrame, polars.DataFrame or mapping of columns
    readings : Readings

    Returns
    -------
    dict
        Reading -> what speaks against its unit. Only water and saturation temperatures, and pressures where
        the refrigerant is declared, have values that tell.

    Examples
    --------
    >>> import interstage
    >>> readings = interstage.Readings({"chw": ("chilled_water_leaving", "degC")})
    >>> interstage.check_units({"chw": [44.0, 44.5, 45.0]}, readings)
    {'chilled_water_leaving': 'most values are unusual in degC and usual in degF'}
    """
    if not isinstance(readings, Readings):
        raise WrongArgument(f"readings must be Readings, got {type(readings).__name__}", argument="readings")
    _, raw, barometer = readings.raw(table)
    doubts = {}
    for name, unit in readings.columns.values():
        limits = _usual(name, readings)
        values = raw[name][np.isfinite(raw[name])]
        if limits is None or not values.size:
            continue
        around = np.nanmedian(barometer) if barometer is not None else None
        shares = {}
        for other in known_units(readings.kinds[name]):
            if is_gauge(other) and around is None:
                continue
            si = converted(readings.kinds[name], other, values, around)
            shares[other] = float(((si >= limits[0]) & (si <= limits[1])).mean())
        better = [other for other, share in shares.items() if share >= _MOST]
        if shares[unit] <= _FEW and better:
            doubts[name] = f"most values are unusual in {unit} and usual in {' or '.join(better)}"
    return doubts


def _usual(name: str, readings: Readings) -> tuple[float, float] | None:
    """Usual values of a reading, SI."""
    limits = next((limits for part, limits in _USUAL.items() if name.startswith(part)), None)
    if limits is None or readings.kinds[name] == "K":
        return limits
    if readings.kinds[name] != "Pa" or readings.refrigerant is None:
        return None
    low, high = (float(readings.refrigerant.saturation(T=temperature).p) for temperature in limits)
    return low, high

"""Which refrigerant, and which offset of the gauge, a pressure and a saturation temperature belong to."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage import _core
from interstage._arrays import numbers
from interstage._axis import FloatArray
from interstage._shown import Shown
from interstage.errors import WrongArgument, WrongLength

__all__ = ["Candidate", "Identification", "identify_refrigerant"]

#: Rows that are looked at; more are thinned out evenly over the temperatures.
_ROWS = 2000
#: Fewest rows, and the smallest range of temperatures (K, between the 5 % and 95 % quantiles), that tell
#: anything.
_FEWEST, _NARROWEST = 20, 2.0
#: Standard deviation of a normal distribution per median absolute deviation, and error of a median per that
#: of a mean.
_SIGMA, _MEDIAN = 1.4826, 1.2533
#: Largest offset of a gauge, and of a gauge together with a barometer that is not known, Pa.
_OFFSET, _OFFSET_AND_BAROMETER = 10e3, 25e3
#: Pressure of the atmosphere where none is given, Pa.
_ATMOSPHERE = 101_325.0
#: Share of the rows that a refrigerant must have a saturation state at.
_COVERED = 0.9


@dataclass(frozen=True)
class Candidate(Shown):
    """How well a refrigerant explains the readings."""

    #: Designation.
    refrigerant: str
    #: Vessel -> offset of its gauge: what is to be added to its pressure, Pa.
    offset: dict[str, float]
    #: Vessel -> standard error of that, Pa.
    offset_error: dict[str, float]
    #: Robust standard deviation of the temperature differences that are left, K.
    spread: float
    #: Spread and error of the thermometers together, K: what candidates are ranked by.
    misfit: float
    #: Why it cannot be, or nothing.
    excluded: str = ""


@dataclass(frozen=True)
class Identification(Shown):
    """Refrigerants in the order of how well they explain the readings; made by `identify_refrigerant`."""

    #: All that were tried, best first; those that cannot be come last.
    candidates: tuple[Candidate, ...]
    #: Misfit of the second best to that of the best.
    ratio: float
    #: Whether one refrigerant is told from all others.
    clear: bool
    #: The result in words.
    verdict: str
    #: Rows that were used.
    rows: int
    #: Vessel -> range of its temperatures, K, between the 5 % and 95 % quantiles.
    temperature_range: dict[str, float]

    @property
    def best(self) -> Candidate | None:
        """The best candidate that can be."""
        return next((one for one in self.candidates if not one.excluded), None)

    def table(self) -> list[dict[str, Any]]:
        """Give the candidates as rows for a table, best first."""
        return [
            {
                "refrigerant": one.refrigerant,
                "misfit [K]": one.misfit,
                "spread [K]": one.spread,
                **{f"offset {vessel} [Pa]": value for vessel, value in one.offset.items()},
                "excluded": one.excluded,
            }
            for one in self.candidates
        ]

    def __repr__(self) -> str:
        return f"Identification({self.verdict})"

    def __str__(self) -> str:
        return self.verdict


def identify_refrigerant(
    pressure: Any,
    saturation_temperature: Any,
    *,
    barometer: float | None = None,
    candidates: Sequence[str] | None = None,
    largest_offset: float | None = None,
    thermometer: float = 0.1,
    clear_from: float = 2.0,
) -> Identification:
    """Tell the refrigerant, and the offset of the gauge, from pressures and saturation temperatures.

    For every refrigerant each row says which offset its gauge would have: the saturation pressure at the
    temperature less the pressure read. The median of these is the offset; what the temperatures still differ
    by from saturation at the corrected pressure is the spread. A wrong refrigerant needs another offset at
    each temperature and keeps a large spread, so both are told apart where the temperatures range far enough.
    Medians throughout: single bad readings do no harm.

    Parameters
    ----------
    pressure, saturation_temperature : column, or mapping of vessel -> column
        Pa absolute as converted, and K, of rows of a steady machine or one at rest. Every vessel has a gauge,
        and an offset, of its own. Temperatures converted from the same pressures show how they were
        converted, and no refrigerant.
    barometer : float, optional
        Pa. An offset near to it is told to be gauge and absolute pressure mixed up; without it one near to
        that of sea level.
    candidates : sequence of str, optional
        Refrigerants to try; all designations (`names`) unless given. One alone tells the offset of a gauge on
        a known refrigerant. Dew temperatures count for those with a glide.
    largest_offset : float, optional
        Largest offset that a gauge may have, Pa: 10 kPa unless given, and 25 kPa without a `barometer`, for
        2,200 m of altitude left out. Common practice, no published source.
    thermometer : float, optional
        What the thermometers err at random, K: differences of spread below it tell nothing.
    clear_from : float, optional
        Ratio of the misfits of second best and best from which the best is told. Common practice, no
        published source.

    Returns
    -------
    Identification

    Raises
    ------
    WrongArgument
        If columns are of a wrong kind or vessels differ.
    WrongLength
        If the columns of a vessel differ in length.
    UnknownRefrigerant
        If a candidate is unknown.

    Examples
    --------
    >>> import interstage
    >>> T = [275.0 + 0.5 * row for row in range(70)]
    >>> p = [float(x) + 3e3 for x in interstage.Refrigerant("R-134a").saturation(T=T).p]
    >>> told = interstage.identify_refrigerant(p, T, candidates=["R-134a", "R-1234yf", "R-513A"])
    >>> told.best.refrigerant, round(told.best.offset["vessel"])
    ('R-134a', -3000)
    >>> told.clear
    True
    """
    vessels = _vessels(pressure, saturation_temperature)
    if largest_offset is None:
        largest_offset = _OFFSET if barometer is not None else _OFFSET_AND_BAROMETER
    for name, value in (
        ("largest_offset", largest_offset),
        ("thermometer", thermometer),
        ("clear_from", clear_from),
        ("barometer", 1.0 if barometer is None else barometer),
    ):
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0.0 < value < math.inf:
            raise WrongArgument(f"{name} must be a number above 0, got {value!r}", argument=name)
    if candidates is not None and (isinstance(candidates, str) or not candidates):
        raise WrongArgument(f"candidates must be a list of names, got {candidates!r}", argument="candidates")
    names = _core.names() if candidates is None else list(candidates)
    rows = sum(len(temperature) for _, temperature in vessels.values())
    widths = {vessel: _range(temperature) for vessel, (_, temperature) in vessels.items()}
    if rows < _FEWEST:
        return Identification((), math.nan, False, f"cannot tell: {rows} rows are too few", rows, widths)
    tried = [_try(name, vessels, thermometer, largest_offset, barometer) for name in names]
    tried.sort(key=lambda one: (bool(one.excluded), one.misfit))
    found = [one for one in tried if not one.excluded]
    ratio = found[1].misfit / found[0].misfit if len(found) > 1 else math.inf if found else math.nan
    clear, verdict = _verdict(tried, found, ratio, clear_from, thermometer, widths)
    return Identification(tuple(tried), ratio, clear, verdict, rows, widths)


def _vessels(pressure: Any, temperature: Any) -> dict[str, tuple[FloatArray, FloatArray]]:
    if not isinstance(pressure, Mapping):
        pressure = {"vessel": pressure}
    if not isinstance(temperature, Mapping):
        temperature = {"vessel": temperature}
    if set(pressure) != set(temperature) or not pressure:
        raise WrongArgument(
            f"pressure and saturation_temperature must be of the same vessels, got "
            f"{sorted(map(str, pressure))} and {sorted(map(str, temperature))}",
            argument="pressure, saturation_temperature",
        )
    vessels = {}
    for name in pressure:
        p = np.atleast_1d(numbers("pressure", pressure[name]))
        t = np.atleast_1d(numbers("saturation_temperature", temperature[name]))
        if p.shape != t.shape or p.ndim != 1:
            raise WrongLength(
                f"{name}: saturation_temperature has {t.size} rows where {p.size} are needed",
                argument="saturation_temperature",
                found=t.size,
                expected=p.size,
            )
        known = np.flatnonzero(np.isfinite(p) & np.isfinite(t))
        order = known[np.argsort(t[known], kind="stable")]
        if order.size > _ROWS:
            order = order[np.linspace(0, order.size - 1, _ROWS).round().astype(int)]
        vessels[str(name)] = (p[order], t[order])
    return vessels


def _range(temperature: FloatArray) -> float:
    if not temperature.size:
        return 0.0
    low, high = np.quantile(temperature, [0.05, 0.95])
    return float(high - low)


def _try(
    name: str,
    vessels: Mapping[str, tuple[FloatArray, FloatArray]],
    thermometer: float,
    largest: float,
    barometer: float | None,
) -> Candidate:
    refrigerant = _core.Refrigerant(name)
    offset, error, left = {}, {}, []
    excluded = ""
    for vessel, (pressure, temperature) in vessels.items():
        if not temperature.size:
            continue
        apart = np.asarray(refrigerant.saturation(T=temperature).p) - pressure
        known = np.isfinite(apart)
        if known.mean() < _COVERED:
            excluded = f"has no saturation at the temperatures of {vessel}"
            break
        middle = float(np.median(apart[known]))
        scatter = _SIGMA * float(np.median(np.abs(apart[known] - middle)))
        offset[vessel] = middle
        error[vessel] = _MEDIAN * scatter / math.sqrt(known.sum())
        again = np.asarray(refrigerant.saturation_temperature(p=np.maximum(pressure + middle, 1.0)))
        rest = (temperature - again)[known]
        left.append(np.where(np.isfinite(rest), rest, np.inf))
        if abs(middle) > largest and not excluded:
            excluded = f"would need {middle / 1e3:+.1f} kPa at the gauge of {vessel}"
            for word, shift in (("gauge", 1.0), ("absolute", -1.0)):
                around, what = (
                    (_ATMOSPHERE, "an atmosphere") if barometer is None else (barometer, "the barometer")
                )
                if abs(middle - shift * around) <= largest:
                    excluded += f", about {what}: as if its pressure were {word}"
    if not left or len(left) < len(vessels):
        return Candidate(name, offset, error, math.inf, math.inf, excluded or "has no row")
    rest = np.concatenate(left)
    spread = _SIGMA * float(np.median(np.abs(rest)))
    return Candidate(name, offset, error, spread, math.hypot(spread, thermometer), excluded)


def _verdict(
    tried: list[Candidate],
    found: list[Candidate],
    ratio: float,
    clear_from: float,
    thermometer: float,
    widths: Mapping[str, float],
) -> tuple[bool, str]:
    mixed = next((one for one in tried if "as if" in one.excluded), None)
    worse = not found or (mixed is not None and found[0].misfit >= clear_from * mixed.misfit)
    if mixed is not None and worse and mixed.misfit < clear_from * thermometer:
        limit = clear_from * mixed.misfit
        alike = [one.refrigerant for one in tried if "as if" in one.excluded and one.misfit < limit]
        return False, f"no refrigerant fits as it stands; {' or '.join(alike)} {mixed.excluded}"
    if not found:
        return False, "no refrigerant fits these pressures and temperatures"
    best = found[0]
    offsets = ", ".join(f"{value / 1e3:+.2f} kPa at {vessel}" for vessel, value in best.offset.items())
    told = f"{best.refrigerant}, offset {offsets}, spread {best.spread:.2f} K"
    if len(tried) == 1:
        return best.spread <= 3.0 * thermometer, told
    if best.spread > 10.0 * thermometer:
        return False, f"cannot tell: even the best leaves {best.spread:.1f} K ({best.refrigerant})"
    if ratio >= clear_from:
        second = f"; {found[1].refrigerant} fits {ratio:.1f} times worse" if len(found) > 1 else ""
        return True, told + second
    close = [one.refrigerant for one in found if one.misfit < clear_from * best.misfit]
    narrow = max(widths.values()) < _NARROWEST
    why = f"the temperatures range over {max(widths.values()):.1f} K only" if narrow else "they are too alike"
    return False, f"cannot tell {', '.join(close)} apart: {why}"

"""Non-condensable gas of a machine at rest."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage import _analysed, _core, _needed
from interstage._shown import Shown
from interstage.errors import Inconsistent, WrongArgument

#: Half width of a 95 % interval of a normal distribution, in standard deviations.
_COVERAGE = 1.959963984540054

#: Pressures of the air from sea level at its highest to some 2500 m, Pa (rounded, from memory).
_ATMOSPHERES = (75e3, 106e3)

#: A machine runs where the motor takes more than this share of its highest power and the condenser is so far
#: above the evaporator, K: at rest both have one pressure, but for some 35 kPa of gas. Common practice, no
#: published source.
_TAKEN, _HELD_APART = 0.05, 10.0


@dataclass(frozen=True)
class GasAtRest(Shown):
    """Partial pressure of non-condensable gas in a machine at rest. Made by `gas_at_rest`.

    Attributes
    ----------
    pressure : float
        Median of the rows in equilibrium, Pa; NaN where there is none.
    interval : float
        Half width of its 95 % interval, Pa: of the instruments, and how far the rows scatter.
    rows : int
        Rows in equilibrium.
    verdict : str
        ``"gas"``, ``"no gas beyond the interval"`` or ``"cannot tell"``.
    reason : str
    each : pandas.Series
        Pressure of the gas in every row, Pa; NaN out of equilibrium.
    """

    pressure: float
    interval: float
    rows: int
    verdict: str
    reason: str
    each: Any

    def __repr__(self) -> str:
        return (
            f"GasAtRest({self.verdict!r}: {self.pressure:.0f} Pa +/- {self.interval:.0f} Pa, {self.reason})"
        )


def gas_at_rest(
    frame: Any,
    refrigerant: _core.Refrigerant,
    *,
    at_rest: Any,
    temperatures: Sequence[str],
    pressure: str = "condenser_pressure",
    rest_before: str = "1h",
    most_spread: float = 0.5,
    pressure_uncertainty: float = 500.0,
    temperature_uncertainty: float = 0.3,
    barometer: float | None = None,
) -> GasAtRest:
    """Partial pressure of non-condensable gas in a machine at rest: pressure less saturation pressure.

    It holds only where liquid, vapor and thermometers have come to one temperature; other rows are left out.
    At rest refrigerant gathers in the coldest vessel, which sets the pressure of all: take one that holds
    liquid.

    Parameters
    ----------
    frame : pandas.DataFrame
        As `analysed` gives it, with times in the index, in their order.
    refrigerant : Refrigerant
    at_rest : array of bool
        Rows at which the machine stands. Rows whose ``power`` and ``refrigerant_lift`` show that it runs are
        left out.
    temperatures : sequence of str
        Readings that show the temperature of the same vessel: their spread tells equilibrium.
    pressure : str, optional
        Reading of the pressure of the vessel.
    rest_before : str, optional
        Time at rest before a row counts, such as ``"90min"``. A gap in the rows that is longer breaks a rest.
    most_spread : float, optional
        Largest difference of the temperatures, and of each from its value `rest_before` earlier, K.
    pressure_uncertainty, temperature_uncertainty : float, optional
        Half widths of the 95 % intervals of pressure (Pa) and temperature (K), the same in all rows.
    barometer : float, optional
        Pressure of the air, Pa. A difference as large hints at gauge and absolute pressure mixed up, and is
        not called gas; unless given, any pressure of the air that is found up to some 2500 m.

    Returns
    -------
    GasAtRest

    Examples
    --------
    >>> import interstage, pandas
    >>> r = interstage.Refrigerant("R-123")
    >>> p = r.saturation(T=294.15).p + 8000.0
    >>> frame = pandas.DataFrame(
    ...     {"condenser_pressure [Pa]": [p] * 30, "liquid_line_temperature [K]": [294.15] * 30},
    ...     index=pandas.date_range("2023-01-01", periods=30, freq="5min"),
    ... )
    >>> interstage.gas_at_rest(
    ...     frame, r, at_rest=[True] * 30, temperatures=["liquid_line_temperature"]
    ... ).verdict
    'gas'
    """
    frame = _analysed.pandas_frame("frame", frame)
    if isinstance(temperatures, str) or not temperatures:
        raise WrongArgument(
            f"temperatures must be a list of at least one reading, got {temperatures!r}",
            argument="temperatures",
        )
    for name, value, unit in (
        ("most_spread", most_spread, "K"),
        ("pressure_uncertainty", pressure_uncertainty, "Pa"),
        ("temperature_uncertainty", temperature_uncertainty, "K"),
    ):
        _analysed.refuse_below(name, value, 0.0, unit)
    standing = _analysed.rows_chosen("at_rest", frame, at_rest)
    if barometer is not None:
        _analysed.refuse_below("barometer", barometer, 0.0, "Pa", above=True)
    running = standing & _running(frame)
    standing = standing & ~running
    rested, back = _rest(frame, standing, rest_before)
    readings = np.array([_analysed.values(frame, name) for name in temperatures])
    before = readings[:, back]
    with np.errstate(invalid="ignore"):
        level = np.ptp(readings, axis=0) <= most_spread
        calm = (np.abs(readings - before) <= most_spread).all(axis=0)
        settled = rested & level & calm
    mean = readings.mean(axis=0)
    saturated: Any = refrigerant.saturation(T=np.where(settled, mean, np.nan))
    gas = np.where(settled, _analysed.values(frame, pressure) - np.asarray(saturated.p), np.nan)
    each = _needed.pandas().Series(gas, index=frame.index, name="gas_pressure [Pa]")
    known = np.isfinite(gas)
    if not known.any():
        reason = f"no row has stood for {rest_before} with its temperatures within {most_spread:g} K"
        if running.any():
            reason += (
                f"; in {int(running.sum())} of the rows at rest power and lift show that the machine runs"
            )
        return GasAtRest(np.nan, np.nan, 0, "cannot tell", reason, each)
    value = float(np.median(gas[known]))
    warmer: Any = refrigerant.saturation(T=float(mean[known].mean()) + temperature_uncertainty)
    usual: Any = refrigerant.saturation(T=float(mean[known].mean()))
    scatter = _COVERAGE * float(np.std(gas[known], ddof=1)) if known.sum() > 1 else 0.0
    interval = math.hypot(pressure_uncertainty, warmer.p - usual.p, scatter)
    reason = f"{int(known.sum())} rows in equilibrium"
    if running.any():
        reason += f", {int(running.sum())} left out because power and lift show that the machine runs"
    lowest, highest = (barometer, barometer) if barometer is not None else _ATMOSPHERES
    if abs(value) > interval and lowest - interval <= abs(value) <= highest + interval:
        verdict = "cannot tell"
        mixed = "gauge" if value < 0.0 else "absolute"
        taken = "absolute" if value < 0.0 else "gauge"
        reason += f", off by about the pressure of the air: {mixed} pressure seems to be taken for {taken}"
    elif value > interval:
        verdict = "gas"
        reason += "; have tightness and purge checked by certified refrigerant personnel"
    elif value < -interval:
        verdict = "cannot tell"
        reason += (
            ", below saturation: pressure or temperature reads wrong, the vessel holds no liquid, or it is "
            "another refrigerant"
        )
    else:
        verdict = "no gas beyond the interval"
    return GasAtRest(value, interval, int(known.sum()), verdict, reason, each)


def _running(frame: Any) -> Any:
    """Rows at which the motor takes power and holds the vessels apart, whatever is said of them."""
    if not (_analysed.has(frame, "power") and _analysed.has(frame, "refrigerant_lift")):
        return np.zeros(len(frame), dtype=bool)
    power = _analysed.values(frame, "power")
    most = np.nanmax(power, initial=0.0)
    with np.errstate(invalid="ignore"):
        return (power > _TAKEN * most) & (_analysed.values(frame, "refrigerant_lift") > _HELD_APART)


def _rest(frame: Any, standing: Any, rest_before: Any) -> tuple[Any, Any]:
    """Rows that have stood for long enough, and for each the last row that is at least so much earlier."""
    pandas = _needed.pandas()
    try:
        least = pandas.Timedelta(rest_before).to_timedelta64() if isinstance(rest_before, str) else None
    except ValueError:
        least = None
    if least is None or not least >= np.timedelta64(0):
        raise WrongArgument(
            f"rest_before must be a time such as '1h', got {rest_before!r}", argument="rest_before"
        )
    if not isinstance(frame.index, pandas.DatetimeIndex):
        raise WrongArgument("the frame must have times in the index", argument="frame")
    if frame.index.hasnans or not frame.index.is_monotonic_increasing:
        reason = "its times are not in order, or some are missing"
        raise Inconsistent(f"the frame contradicts itself: {reason}", arguments="frame", reason=reason)
    times = frame.index.tz_localize(None) if frame.index.tz is None else frame.index.tz_convert(None)
    times = times.to_numpy()
    rows = np.arange(len(frame))
    # A rest starts with the first row at rest after one that is not, and after a gap.
    starts = ~standing | (np.diff(times, prepend=times[:1]) > least)
    starts[1:] |= ~standing[:-1]
    first = np.maximum.accumulate(np.where(starts, rows, 0))
    back = np.searchsorted(times, times - least, side="right") - 1
    return standing & (back >= first), np.maximum(back, 0)

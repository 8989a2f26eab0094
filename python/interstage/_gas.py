"""Non-condensable gas of a machine at rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np

from interstage import _analysed, _core
from interstage.errors import WrongArgument


@dataclass(frozen=True)
class GasAtRest:
    """Partial pressure of non-condensable gas in a machine at rest. Made by `gas_at_rest`.

    Attributes
    ----------
    pressure : float
        Median of the rows in equilibrium, Pa; NaN where there is none.
    interval : float
        Half width of its 95 % interval, Pa.
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
    rest_before: int = 12,
    most_spread: float = 0.5,
    pressure_uncertainty: float = 500.0,
    temperature_uncertainty: float = 0.3,
) -> GasAtRest:
    """Partial pressure of non-condensable gas in a machine at rest: pressure less saturation pressure.

    It holds only where liquid, vapor and thermometers have come to one temperature; other rows are left out.

    Parameters
    ----------
    frame : pandas.DataFrame
        As `analysed` gives it, rows in the order of time.
    refrigerant : Refrigerant
    at_rest : array of bool
        Rows at which the machine stands.
    temperatures : sequence of str
        Readings that show the temperature of the same vessel: their spread tells equilibrium.
    pressure : str, optional
        Reading of the pressure of the vessel.
    rest_before : int, optional
        Rows at rest before a row counts.
    most_spread : float, optional
        Largest difference of the temperatures, and of each from its value `rest_before` rows before, K.
    pressure_uncertainty, temperature_uncertainty : float, optional
        Half widths of the 95 % intervals of pressure (Pa) and temperature (K), the same in all rows.

    Returns
    -------
    GasAtRest

    Examples
    --------
    >>> import interstage, pandas
    >>> r = interstage.Refrigerant("R-123")
    >>> p = r.saturation(T=294.15).p + 8000.0
    >>> frame = pandas.DataFrame(
    ...     {"condenser_pressure [Pa]": [p] * 30, "liquid_line_temperature [K]": [294.15] * 30}
    ... )
    >>> interstage.gas_at_rest(
    ...     frame, r, at_rest=[True] * 30, temperatures=["liquid_line_temperature"]
    ... ).verdict
    'gas'
    """
    frame = _analysed.pandas_frame("frame", frame)
    if isinstance(temperatures, str) or not temperatures:
        raise WrongArgument("temperatures must name at least one reading", argument="temperatures")
    for name, value, unit in (
        ("rest_before", rest_before, "-"),
        ("most_spread", most_spread, "K"),
        ("pressure_uncertainty", pressure_uncertainty, "Pa"),
        ("temperature_uncertainty", temperature_uncertainty, "K"),
    ):
        _analysed.refuse_below(name, value, 0.0, unit)
    standing = _analysed.rows_chosen("at_rest", frame, at_rest)
    rows = np.arange(len(frame))
    since = rows - np.maximum.accumulate(np.where(standing, -1, rows))
    shown = [_analysed.values(frame, name) for name in temperatures]
    readings = np.array(shown)
    before = np.full_like(readings, np.nan)
    back = int(rest_before)
    before[:, back:] = readings[:, : readings.shape[1] - back]
    with np.errstate(invalid="ignore"):
        level = np.ptp(readings, axis=0) <= most_spread
        calm = (np.abs(readings - before) <= most_spread).all(axis=0)
        settled = standing & (since > back) & level & calm
    mean = readings.mean(axis=0)
    saturated: Any = refrigerant.saturation(T=np.where(settled, mean, np.nan))
    gas = np.where(settled, _analysed.values(frame, pressure) - np.asarray(saturated.p), np.nan)
    each = import_module("pandas").Series(gas, index=frame.index, name="gas_pressure [Pa]")
    known = np.isfinite(gas)
    if not known.any():
        reason = f"no row has stood for {back} rows with its temperatures within {most_spread:g} K"
        return GasAtRest(np.nan, np.nan, 0, "cannot tell", reason, each)
    value = float(np.median(gas[known]))
    warmer: Any = refrigerant.saturation(T=float(mean[known].mean()) + temperature_uncertainty)
    usual: Any = refrigerant.saturation(T=float(mean[known].mean()))
    interval = float(np.hypot(pressure_uncertainty, warmer.p - usual.p))
    reason = f"{int(known.sum())} rows in equilibrium"
    if value > interval:
        verdict = "gas"
        reason += "; have tightness and purge checked by certified refrigerant personnel"
    elif value < -interval:
        verdict = "cannot tell"
        reason += ", below saturation: pressure or temperature reads wrong, or it is another refrigerant"
    else:
        verdict = "no gas beyond the interval"
    return GasAtRest(value, interval, int(known.sum()), verdict, reason, each)

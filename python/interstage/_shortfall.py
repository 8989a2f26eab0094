"""What a shortfall costs: energy beyond the baseline first, then money."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from interstage import _analysed
from interstage._departures import _COVERAGE, Expectation, _predicted
from interstage._shown import Shown


@dataclass(frozen=True)
class Shortfall(Shown):
    """Energy beyond a baseline and its cost. Made by `shortfall`.

    Attributes
    ----------
    energy, energy_interval : float
        Energy beyond the baseline and half width of its 95 % interval, kWh; NaN where no row can be judged.
    cost, cost_interval : float
        The same in the currency of the tariff.
    expected_energy : float
        Energy that the baseline expects in these rows, kWh.
    hours : float
        Hours that count.
    hours_without : float
        Hours in which power or baseline is missing: they count for nothing.
    reason : str
        Why there is no figure, where there is none.
    """

    energy: float
    energy_interval: float
    cost: float
    cost_interval: float
    expected_energy: float
    hours: float
    hours_without: float
    reason: str = ""

    @property
    def clear(self) -> bool:
        """Whether the shortfall is beyond its interval."""
        return abs(self.energy) > self.energy_interval

    def __repr__(self) -> str:
        without = f"; {self.hours_without:.0f} h cannot be judged" if self.hours_without > 0.0 else ""
        if self.reason:
            return f"Shortfall(cannot tell: {self.reason}{without})"
        return (
            f"Shortfall({self.energy:.0f} kWh +/- {self.energy_interval:.0f} kWh in {self.hours:.0f} h, "
            f"cost {self.cost:.0f} +/- {self.cost_interval:.0f}{without})"
        )


def shortfall(
    frame: Any,
    baseline: Expectation,
    *,
    tariff: Any,
    block: Any,
    where: Any = None,
    hours: Any = None,
    drift: float = 0.02,
) -> Shortfall:
    """Energy that a machine took beyond its baseline at the same conditions, and what it cost.

    Parameters
    ----------
    frame : pandas.DataFrame
        As `analysed` gives it, with ``power``.
    baseline : baseline of the power
        Anything with ``predict(frame)``: expected power and half width of its 95 % interval, W, for each row.
    tariff : float or sequence of float
        Price of a kWh, one for all rows or one for each.
    block : str or sequence
        Rows that lean on each other, as in `departures`: their errors add up, those of blocks average out.
    where : array of bool, optional
        Rows of the period.
    hours : float or sequence of float, optional
        Hours of each row; by the times of the index unless given.
    drift : float, optional
        Standard deviation of the expected power that no averaging takes away, as a fraction. Common practice.

    Returns
    -------
    Shortfall
        An estimate; it says what the readings show, not what a repair would save. What economizers save, at
        least and if they work, is told by `economizer_saving`.

    Examples
    --------
    >>> import interstage, numpy, pandas
    >>> class Steady:
    ...     def predict(self, frame):
    ...         return numpy.full(len(frame), 300e3), numpy.full(len(frame), 5e3)
    >>> rows = pandas.date_range("2023-07-01", periods=240, freq="h")
    >>> frame = pandas.DataFrame({"power [W]": 330e3}, index=rows)
    >>> interstage.shortfall(frame, Steady(), tariff=0.12, block="D")
    Shortfall(7200 kWh +/- 2848 kWh in 240 h, cost 864 +/- 342)
    """
    frame = _analysed.pandas_frame("frame", frame)
    _analysed.refuse_below("drift", drift, 0.0, "-")
    chosen = _analysed.rows_chosen("where", frame, where)
    labels = _analysed.block_labels(frame, block)
    each = _analysed.row_hours(frame, hours)
    price = _analysed.per_row("tariff", tariff, frame)
    expected, half = _predicted("power", baseline, frame)
    power = _analysed.values(frame, "power")
    known = chosen & np.isfinite(power) & np.isfinite(expected) & np.isfinite(half)
    weight = np.where(known, each, 0.0) / 1000.0

    def beyond(worth: Any) -> tuple[float, float]:
        per_row = np.where(known, (power - expected), 0.0) * weight * worth
        # Errors within a block add up; those of different blocks are independent; the drift is common to all.
        in_block = np.bincount(labels, np.where(known, half, 0.0) * weight * np.abs(worth))
        common = drift * abs(float((np.where(known, expected, 0.0) * weight * worth).sum()))
        return float(per_row.sum()), float(np.hypot(np.sqrt((in_block**2).sum()), _COVERAGE * common))

    reason = _nothing(chosen, power, each, known)
    if reason:
        energy = energy_interval = cost = cost_interval = expected_energy = math.nan
    else:
        energy, energy_interval = beyond(1.0)
        cost, cost_interval = beyond(price)
        expected_energy = float((np.where(known, expected, 0.0) * weight).sum())
    return Shortfall(
        energy=energy,
        energy_interval=energy_interval,
        cost=cost,
        cost_interval=cost_interval,
        expected_energy=expected_energy,
        hours=float(each[known].sum()),
        hours_without=float(each[chosen & ~known].sum()),
        reason=reason,
    )


def _nothing(chosen: Any, power: Any, each: Any, known: Any) -> str:
    """Why no hour counts; nothing where one does."""
    if each[known].sum() > 0.0:
        return ""
    if not chosen.any():
        return "no row is chosen"
    if not np.isfinite(power[chosen]).any():
        return "power is missing in every row"
    if not known.any():
        return "the baseline tells nothing of any row in which power is known"
    return "the rows stand for no time"

"""How a machine runs in a row or over a period: what a change is traced back to."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from interstage import _analysed, units
from interstage._departures import Expectation, _predicted
from interstage._shown import Shown
from interstage.errors import Inconsistent, NotFinite, WrongArgument


@dataclass(frozen=True)
class Operation(Shown):
    """How a machine runs: one row, the mean of a period, or what a baseline expects. SI units.

    Parameters
    ----------
    capacity, power : float
        Heat taken from the chilled water and power at the meter, W.
    chilled_water_leaving, condenser_water_entering : float
        K.
    chilled_water_flow, condenser_water_flow : float
        m3/s.
    evaporating_temperature, condensing_temperature : float
        K.
    stage_efficiency : float, optional
        Of the kind that the stages of the circuit have; those of the circuit hold unless given.
    subcooling, suction_superheat : float, optional
        K.
    economizer : bool, optional
        Whether the economizers work.

    Examples
    --------
    >>> import interstage
    >>> row = interstage.Operation(
    ...     capacity=1.0e6,
    ...     power=190e3,
    ...     chilled_water_leaving=280.0,
    ...     condenser_water_entering=302.0,
    ...     chilled_water_flow=0.040,
    ...     condenser_water_flow=0.050,
    ...     evaporating_temperature=278.0,
    ...     condensing_temperature=309.5,
    ... )
    >>> round(row.kw_per_ton, 3), round(row.cop, 2)
    (0.668, 5.26)
    """

    capacity: float
    power: float
    chilled_water_leaving: float
    condenser_water_entering: float
    chilled_water_flow: float
    condenser_water_flow: float
    evaporating_temperature: float
    condensing_temperature: float
    stage_efficiency: float | None = None
    subcooling: float = 0.0
    suction_superheat: float = 0.0
    economizer: bool = True

    def __post_init__(self) -> None:
        for name in _NUMBERS:
            value = getattr(self, name)
            if value is None and name == "stage_efficiency":
                continue
            if isinstance(value, (bool, np.bool_)) or not isinstance(value, (float, int, np.number)):
                raise WrongArgument(f"{name} must be a number, got {value!r}", argument=name)
            if not math.isfinite(value):
                raise NotFinite(
                    f"{name} must be a finite number, got {value}",
                    argument=name,
                    value=value,
                    unit="SI",
                )
            if name not in ("subcooling", "suction_superheat"):
                _analysed.refuse_below(name, float(value), 0.0, "SI", above=True)
        if not self.condensing_temperature > self.evaporating_temperature:
            reason = f"{self.condensing_temperature} K is not above {self.evaporating_temperature} K"
            raise Inconsistent(
                f"condensing and evaporating temperature contradict each other: {reason}",
                arguments="condensing_temperature and evaporating_temperature",
                reason=reason,
            )

    @property
    def kw_per_ton(self) -> float:
        """Power at the meter per capacity, kW per ton of refrigeration."""
        return float(units.kw_per_ton_from_cop(self.cop))

    @property
    def cop(self) -> float:
        """Capacity per power at the meter."""
        return self.capacity / self.power

    @classmethod
    def of(cls, frame: Any, where: Any = None, hours: Any = None) -> Operation:
        """Mean operation of a period, each row by the hours it stands for.

        Capacity and power are energies over hours, so their ratio is that of the energies.

        Parameters
        ----------
        frame : pandas.DataFrame
            As `analysed` gives it.
        where : array of bool, optional
            Rows of the period; of these only such count as have every quantity.
        hours : float or sequence of float, optional
            Hours of each row; all alike unless given.

        Returns
        -------
        Operation
            `stage_efficiency` is None, subcooling and superheat are 0 where they are not read. The
            economizers work unless most of the rows that can tell say that they do not.
        """
        frame = _analysed.pandas_frame("frame", frame)
        columns = {
            name: _analysed.values(frame, name)
            for name in _NUMBERS
            if name not in _OPTIONAL or _analysed.has(frame, name)
        }
        # What no row tells is not asked for.
        columns = {
            name: column
            for name, column in columns.items()
            if name not in _OPTIONAL or np.isfinite(column).any()
        }
        usable = _analysed.rows_chosen("where", frame, where)
        for column in columns.values():
            usable = usable & np.isfinite(column)
        weight = _analysed.row_hours(frame, 1.0 if hours is None else hours)
        if not usable.any() or not weight[usable].sum() > 0.0:
            reason = f"no row of the period has all of {', '.join(columns)}"
            raise Inconsistent(
                f"frame and period contradict each other: {reason}",
                arguments="frame and period",
                reason=reason,
            )
        means: dict[str, Any] = {
            name: float(np.average(column[usable], weights=weight[usable]))
            for name, column in columns.items()
        }
        working = True
        if _analysed.has(frame, "economizer_evidence"):
            told = _analysed.values(frame, "economizer_evidence")[usable]
            told = told[np.isfinite(told)]
            working = not len(told) or bool(told.mean() >= 0.5)
        return cls(**means, economizer=working)

    @classmethod
    def expected(
        cls, frame: Any, baselines: Mapping[str, Expectation], where: Any = None, hours: Any = None
    ) -> Operation:
        """Operation that baselines expect at the conditions of a period.

        Parameters
        ----------
        frame, where, hours
            As in `of`.
        baselines : mapping of str to baseline
            Quantity -> what tells its expected value. Quantities without a baseline are taken as they are:
            load and water temperatures usually.

        Returns
        -------
        Operation
        """
        frame = _analysed.pandas_frame("frame", frame)
        replaced = {}
        for name, baseline in baselines.items():
            if name not in _NUMBERS:
                reason = f"an operation has no {name}"
                raise Inconsistent(
                    f"baselines and operation contradict each other: {reason}",
                    arguments="baselines and operation",
                    reason=reason,
                )
            replaced[name] = _predicted(name, baseline, frame)[0]
        kept = [column for column in frame.columns if _analysed.plain(column) not in replaced]
        return cls.of(frame[kept].assign(**replaced), where, hours)


_NUMBERS = tuple(item.name for item in fields(Operation) if item.name != "economizer")
_OPTIONAL = ("stage_efficiency", "subcooling", "suction_superheat")

"""Balances of a chiller that its redundant readings are to meet, row by row."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage._accuracy import COVERAGE, _half_width
from interstage._frames import Container
from interstage._progress import bar, blocks
from interstage._reconcile import _limit, _solve, _Solved
from interstage._shown import Shown
from interstage._uncertainty import Uncertainty
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["Reconciled", "Reconciliation"]

FloatArray = npt.NDArray[np.float64]

_BLOCK = 2048
#: Rows from which a bar shows the progress.
_LONG = 10_000

#: Balance -> figures that it needs, and the readings that it needs besides.
_BALANCES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "water_heat": (("capacity", "heat_rejected"), ("power",)),
    "compression_power": (("compression_power",), ("power",)),
    "condenser_heat": (("refrigerant_heat_rejected", "heat_rejected"), ()),
}
_LOST, _DRIVE = "lost_share", "drive_share"


class Reconciliation(Shown):
    """Redundant readings of a chiller, brought into agreement row by row.

    Parameters
    ----------
    uncertainty : Uncertainty
        Trend and instruments.
    balances : sequence of str, optional
        Which balances are to be met:

        - ``"water_heat"``: capacity + (1 - `lost_share`) x motor power = heat given to the condenser water;
        - ``"compression_power"``: `drive_share` x motor power = work that the discharge temperature shows;
        - ``"condenser_heat"``: heat that the refrigerant gives up in the condenser = heat to the water.
    lost_share : (float, float)
        Share of motor power that reaches neither water, and the half width of its 95 % interval. It must be
        given for ``"water_heat"``: on a measured machine a third of the motor power never reached the gas,
        and part of that left the machine otherwise.
    drive_share : (float, float)
        Share of motor power that reaches the refrigerant, and its half width; for ``"compression_power"``.

    Notes
    -----
    Biases and random parts count alike: the test asks whether this row fits the stated accuracies. With one
    balance every reading in it fails the test by the same amount: the balance tells that something is wrong,
    but not what. `Reconciled.suspect` says so.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"),
    ...     stages=[interstage.Stage(isentropic_efficiency=0.7)],
    ...     interstages=[],
    ... )
    >>> columns = {
    ...     "chilled_water_entering": ("in", "degC"),
    ...     "chilled_water_leaving": ("out", "degC"),
    ...     "chilled_water_flow": ("flow", "L/s"),
    ...     "condenser_water_entering": ("cin", "degC"),
    ...     "condenser_water_leaving": ("cout", "degC"),
    ...     "condenser_water_flow": ("cflow", "L/s"),
    ...     "power": ("kW", "kW"),
    ... }
    >>> near = interstage.Accuracy(0.1, unit="K")
    >>> percent = interstage.Accuracy(2.0, unit="percent")
    >>> accuracies = {name: percent if name.endswith(("flow", "power")) else near for name in columns}
    >>> uncertainty = interstage.Uncertainty(interstage.Trend(circuit, columns), accuracies)
    >>> table = {
    ...     "in": [12.0], "out": [7.0], "flow": [100.0], "cin": [30.0], "cout": [35.0], "cflow": [117.0],
    ...     "kW": [350.0],
    ... }
    >>> found = interstage.Reconciliation(uncertainty, lost_share=(0.0, 0.0)).analyse(table)
    >>> before = uncertainty.analyse(table)
    >>> round(float(before.half_width("capacity")[0] / before.result["capacity"][0]), 3)
    0.035
    >>> round(float(found.half_width("capacity")[0] / found.figure("capacity")[0]), 3)
    0.026
    """

    def __init__(
        self,
        uncertainty: Uncertainty,
        balances: Sequence[str] = ("water_heat",),
        *,
        lost_share: tuple[float, float] | None = None,
        drive_share: tuple[float, float] | None = None,
    ) -> None:
        if not isinstance(uncertainty, Uncertainty):
            raise WrongArgument(
                f"uncertainty must be an Uncertainty, got {type(uncertainty).__name__}",
                argument="uncertainty",
            )
        if isinstance(balances, str) or not balances or len(set(balances)) != len(balances):
            raise WrongArgument(f"balances must be different names, got {balances!r}", argument="balances")
        declared = list(uncertainty.accuracies)
        for balance in balances:
            if balance not in _BALANCES:
                raise UnknownOption(
                    f"balances must be of {', '.join(_BALANCES)}, got {balance!r}",
                    argument="balances",
                    value=str(balance),
                    options=tuple(_BALANCES),
                )
            figures, readings = _BALANCES[balance]
            needed = [set(way) for figure in figures for way in [_nearest(uncertainty, figure)]]
            lacking = sorted(set().union(*needed, readings) - set(declared))
            if lacking:
                reason = f"{balance} needs {', '.join(lacking)}"
                raise Inconsistent(
                    f"balances and readings contradict each other: {reason}",
                    arguments="balances and readings",
                    reason=reason,
                )
        self._uncertainty = uncertainty
        self._balances = tuple(balances)
        self._shares = {
            _LOST: _share(_LOST, lost_share, "water_heat" in balances),
            _DRIVE: _share(_DRIVE, drive_share, "compression_power" in balances),
        }

    @property
    def balances(self) -> tuple[str, ...]:
        """The balances that are met."""
        return self._balances

    @property
    def variables(self) -> list[str]:
        """What is corrected: the readings, and the shares of motor power."""
        return [*self._uncertainty.accuracies, _LOST, _DRIVE]

    def analyse(self, table: Any, *, progress: bool | None = None, threads: int | None = None) -> Reconciled:
        """Reconcile every row of a table.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns
        progress : bool, optional
            As in `Trend.analyse`; a second bar shows the balances.
        threads : int, optional

        Returns
        -------
        Reconciled
        """
        uncertainty = self._uncertainty
        result = uncertainty.trend.analyse(table, progress=progress, threads=threads)
        readings = uncertainty._usable(table, result)
        parts = blocks(len(readings), _BLOCK) or [slice(0, 0)]
        found = [
            self._block(readings[rows], threads)
            for rows in bar(parts, progress, len(readings) > _LONG, "block of balances")
        ]
        y, spread, solved = (list(of_parts) for of_parts in zip(*found, strict=True))
        join = np.concatenate
        good = join([part.solvable & part.settled for part in solved])

        def of(pick: Callable[[_Solved], FloatArray]) -> FloatArray:
            values = join([pick(part) for part in solved])
            values[~good] = np.nan
            return values

        covariance = join([before - part.taken for before, part in zip(spread, solved, strict=True)])
        covariance[~good] = np.nan
        return Reconciled(
            self,
            result._container,
            join(y),
            of(lambda part: part.values),
            covariance,
            of(lambda part: part.statistic),
            of(lambda part: part.tests),
        )

    def _block(self, readings: FloatArray, threads: int | None) -> tuple[FloatArray, FloatArray, _Solved]:
        y, spread = self.prior(readings)
        return y, spread, _solve(y, spread, lambda x: self.balance(x, threads))

    def prior(self, readings: FloatArray) -> tuple[FloatArray, FloatArray]:
        """What was read or given, and its covariance, rows by variables (by variables)."""
        bias, random, common = self._uncertainty.errors(readings)
        count = readings.shape[1]
        y = np.empty((len(readings), count + 2))
        y[:, :count] = readings
        spread = np.zeros((len(readings), count + 2, count + 2))
        spread[:, :count, :count] = np.einsum("rsi,rsj->rij", common, common)
        index = np.arange(count)
        spread[:, index, index] += bias**2 + random**2
        for place, (value, half) in enumerate(self._shares.values(), start=count):
            y[:, place] = value
            spread[:, place, place] = (half / COVERAGE) ** 2
        return y, spread

    def balance(self, x: FloatArray, threads: int | None = None) -> tuple[FloatArray, FloatArray]:
        """What is left of each balance at the variables, and its exact derivatives.

        Parameters
        ----------
        x : array of float64
            Rows by variables, in SI.
        threads : int, optional

        Returns
        -------
        (array, array)
            Rows by balances, W; rows by balances by variables.
        """
        uncertainty = self._uncertainty
        figures = list(dict.fromkeys(name for balance in self._balances for name in _BALANCES[balance][0]))
        count = len(uncertainty.accuracies)
        values = uncertainty.told(x[:, :count], figures, threads)
        slopes = uncertainty.slopes(x[:, :count], figures, threads)
        names = list(uncertainty.accuracies)
        left = np.zeros((len(x), len(self._balances)))
        by = np.zeros((len(x), len(self._balances), count + 2))
        for place, balance in enumerate(self._balances):
            signs = {
                "water_heat": {"capacity": 1.0, "heat_rejected": -1.0},
                "compression_power": {"compression_power": -1.0},
                "condenser_heat": {"refrigerant_heat_rejected": 1.0, "heat_rejected": -1.0},
            }[balance]
            for figure, sign in signs.items():
                at = figures.index(figure)
                left[:, place] += sign * values[:, at]
                by[:, place, :count] += sign * slopes[:, at]
            if balance == "condenser_heat":
                continue
            motor = names.index("power")
            power = x[:, motor]
            if balance == "water_heat":
                share, to_share, where = 1.0 - x[:, count], -power, count
            else:
                share, to_share, where = x[:, count + 1], power, count + 1
            left[:, place] += share * power
            by[:, place, motor] += share
            by[:, place, where] += to_share
        return left, by

    def __reduce__(self) -> tuple[Any, ...]:
        shares = {name: share for name, share in self._shares.items()}
        return _reconciliation, (self._uncertainty, self._balances, shares)

    def __repr__(self) -> str:
        return f"Reconciliation({', '.join(self._balances)})"


def _reconciliation(
    uncertainty: Uncertainty, balances: tuple[str, ...], shares: Mapping[str, tuple[float, float]]
) -> Reconciliation:
    return Reconciliation(uncertainty, balances, lost_share=shares[_LOST], drive_share=shares[_DRIVE])


def _nearest(uncertainty: Uncertainty, figure: str) -> list[str]:
    """The set of readings of a figure that lacks the fewest."""
    declared = set(uncertainty.accuracies)
    return min(uncertainty.trend.needs(figure), key=lambda way: len(set(way) - declared))


def _share(name: str, given: tuple[float, float] | None, needed: bool) -> tuple[float, float]:
    if given is None:
        if needed:
            raise WrongArgument(
                f"{name} must be given: (share of motor power, half width of its interval)", argument=name
            )
        return 0.0, 0.0
    if not isinstance(given, (tuple, list)) or len(given) != 2:
        raise WrongArgument(f"{name} must be (share, half width), got {given!r}", argument=name)
    value, half = _half_width(name, given[0]), _half_width(name, given[1])
    if value > 1.0:
        reason = f"{value!r} is above 1"
        raise Inconsistent(f"{name} is no share: {reason}", arguments=name, reason=reason)
    return value, half


class Reconciled(Shown):
    """Rows after reconciliation. Made by `Reconciliation.analyse`; NaN where a balance cannot be told."""

    def __init__(
        self,
        reconciliation: Reconciliation,
        container: Container,
        read: FloatArray,
        values: FloatArray,
        covariance: FloatArray,
        statistic: FloatArray,
        tests: FloatArray,
    ) -> None:
        self._reconciliation = reconciliation
        self._container = container
        self._read = read
        self._values = values
        self._covariance = covariance
        self._statistic = statistic
        self._tests = tests

    def __len__(self) -> int:
        return len(self._values)

    @property
    def limit(self) -> float:
        """What the statistic stays below in 95 of 100 rows whose instruments are as accurate as stated."""
        return _limit(len(self._reconciliation.balances), 0.95)

    @property
    def statistic(self) -> Any:
        """The global test of every row: sum of squared corrections in units of their covariance."""
        return self._container.column(self._statistic, "statistic")

    @property
    def accepted(self) -> Any:
        """Whether a row passes the global test; also false where there is nothing to test."""
        with np.errstate(invalid="ignore"):
            return self._container.column(self._statistic <= self.limit, "accepted")

    @property
    def readings(self) -> Any:
        """Reconciled readings and shares in SI, as a table of the kind that came in."""
        names = self._reconciliation.variables
        return self._container.table({name: self._values[:, i].copy() for i, name in enumerate(names)})

    @property
    def tests(self) -> Any:
        """``|x - y|`` of every variable in units of its standard deviation; above 1.96 suspect. A table."""
        names = self._reconciliation.variables
        return self._container.table({name: self._tests[:, i].copy() for i, name in enumerate(names)})

    @property
    def suspect(self) -> Any:
        """What contradicts the balances most, in words.

        Empty where the row passes. Readings that enter the balances together fail alike and are named
        together; "cannot tell which" where all do.
        """
        names = np.array(self._reconciliation.variables, dtype=object)
        with np.errstate(invalid="ignore"):
            fails = self._statistic > self.limit
        words = np.full(len(self), "", dtype=object)
        tests = np.where(np.isnan(self._tests), -1.0, self._tests)
        alike = tests >= tests.max(axis=1, initial=0.0, keepdims=True) * (1.0 - 1e-3)
        for row in np.flatnonzero(fails):
            every = (alike[row] == (tests[row] >= 0.0)).all()
            words[row] = "cannot tell which" if every else " or ".join(names[alike[row]])
        return self._container.column(words, "suspect")

    def figure(self, name: str) -> Any:
        """A figure of the reconciled readings in every row, SI units."""
        count = len(self._reconciliation._uncertainty.accuracies)
        values = self._reconciliation._uncertainty.told(self._values[:, :count], [self._known(name)])
        return self._container.column(values[:, 0], name)

    def half_width(self, name: str) -> Any:
        """Half width of the 95 % interval of a figure of the reconciled readings."""
        uncertainty = self._reconciliation._uncertainty
        count = len(uncertainty.accuracies)
        slopes = uncertainty.slopes(self._values[:, :count], [self._known(name)])[:, 0]
        inner = self._covariance[:, :count, :count]
        variance = np.einsum("ri,rij,rj->r", slopes, inner, slopes)
        return self._container.column(COVERAGE * np.sqrt(np.clip(variance, 0.0, None)), name)

    def _known(self, name: str) -> str:
        known = self._reconciliation._uncertainty.trend.figures
        if name not in known:
            raise UnknownOption(
                f"figure must be one of {', '.join(known)}, got {name!r}",
                argument="figure",
                value=str(name),
                options=tuple(known),
            )
        return name

    def __repr__(self) -> str:
        told = ~np.isnan(self._statistic)
        passed = int((self._statistic[told] <= self.limit).sum())
        return f"Reconciled({len(self)} rows, {int(told.sum())} tested, {passed} accepted)"

"""Readings that are known twice, brought into agreement: data reconciliation.

The readings x nearest to those read, y, by their covariance V, that meet the balances f(x) = 0; with the
tests of VDI 2048. R. S. H. Mah et al. 1976, S. Narasimhan and C. Jordache 2000. All from memory.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage._frames import Container
from interstage._progress import bar, blocks
from interstage._uncertainty import COVERAGE, Uncertainty, _half_width
from interstage.errors import Inconsistent, NotConverged, UnknownOption, WrongArgument, WrongLength

__all__ = ["Reconciled", "ReconciledVector", "Reconciliation", "reconcile"]

FloatArray = npt.NDArray[np.float64]
_Constraints = Callable[[FloatArray], tuple[FloatArray, FloatArray]]

#: Rounds of linearisation, and the change relative to the standard uncertainties at which they end.
_ROUNDS = 20
_SETTLED = 1e-6
_BLOCK = 2048
#: Rows from which a bar shows the progress.
_LONG = 10_000


def _limit(freedom: int, level: float) -> float:
    """Quantile of the chi-square distribution."""
    try:
        stats = import_module("scipy.stats")
    except ImportError as error:
        raise ImportError("reconciliation needs scipy: pip install 'interstage[trend]'") from error
    return float(stats.chi2.ppf(level, freedom))


@dataclass(frozen=True)
class ReconciledVector:
    """Reconciled values of one set of readings. Made by `reconcile`."""

    #: The values that meet the balances, and their covariance.
    values: FloatArray
    covariance: FloatArray
    #: Sum of squared corrections in units of their covariance, and what it stays below in 95 of 100 cases.
    statistic: float
    limit: float
    #: |x - y| per its standard deviation; above 1.96 in 5 of 100 cases. NaN for what no balance tests.
    tests: FloatArray
    #: Number of independent balances.
    freedom: int

    @property
    def accepted(self) -> bool:
        """Whether readings and balances agree within the stated accuracies."""
        return self.statistic <= self.limit


def reconcile(values: Any, covariance: Any, constraints: _Constraints) -> ReconciledVector:
    """Find the values nearest to those read that meet balances.

    Parameters
    ----------
    values : array of float
        What was read.
    covariance : array of float
        Its covariance, symmetric and not negative.
    constraints : callable
        Takes values; returns what is left of each balance and the exact derivatives of that, balances by
        values.

    Returns
    -------
    ReconciledVector

    Raises
    ------
    Inconsistent
        If balances are not independent, or all that is in one is taken for exact.
    NotConverged
        If linearising again and again does not settle.

    Examples
    --------
    A flow read before and behind a branch, 10 = 6 + 4.6 within 0.5 each:

    >>> import numpy as np
    >>> import interstage
    >>> balance = lambda x: (np.array([x[0] - x[1] - x[2]]), np.array([[1.0, -1.0, -1.0]]))
    >>> found = interstage.reconcile([10.0, 6.0, 4.6], np.eye(3) * 0.25, balance)
    >>> found.values.round(2).tolist(), round(found.statistic, 2), found.accepted
    ([10.2, 5.8, 4.4], 0.48, True)
    """
    read = np.asarray(values, dtype=np.float64)
    spread = np.asarray(covariance, dtype=np.float64)
    if read.ndim != 1 or not np.isfinite(read).all():
        raise WrongArgument("values must be a row of finite numbers", argument="values")
    if spread.shape != (read.size, read.size):
        raise WrongLength(
            f"covariance must be {read.size} by {read.size}, got {spread.shape}",
            argument="covariance",
            found=spread.size,
            expected=read.size**2,
        )
    if not np.isfinite(spread).all() or not np.allclose(spread, spread.T, rtol=1e-9, atol=0.0):
        raise WrongArgument("covariance must be finite and symmetric", argument="covariance")

    def rows(x: FloatArray) -> tuple[FloatArray, FloatArray]:
        left, slopes = constraints(x[0])
        return np.asarray(left, dtype=np.float64)[None], np.asarray(slopes, dtype=np.float64)[None]

    found = _solve(read[None], spread[None], rows)
    if not found.solvable[0]:
        reason = "they are not independent, or all that is in one of them is taken for exact"
        raise Inconsistent(f"the balances cannot be met: {reason}", arguments="constraints", reason=reason)
    if not found.settled[0]:
        raise NotConverged(f"reconciliation did not settle within {_ROUNDS} rounds", solver="reconciliation")
    freedom = found.freedom
    return ReconciledVector(
        values=found.values[0],
        covariance=spread - found.taken[0],
        statistic=float(found.statistic[0]),
        limit=_limit(freedom, 0.95),
        tests=found.tests[0],
        freedom=freedom,
    )


@dataclass(frozen=True)
class _Solved:
    values: FloatArray
    #: What reconciling takes off the covariance.
    taken: FloatArray
    statistic: FloatArray
    tests: FloatArray
    solvable: npt.NDArray[np.bool_]
    settled: npt.NDArray[np.bool_]
    freedom: int


def _solve(read: FloatArray, spread: FloatArray, constraints: _Constraints) -> _Solved:
    """Reconcile rows at once: x = y - V A' (A V A')^-1 (f(x) + A (y - x)), again until it settles."""
    x = read.copy()
    deviation = np.sqrt(np.einsum("rii->ri", spread))
    count = len(read)
    settled, solvable = np.zeros(count, dtype=bool), np.ones(count, dtype=bool)
    for _ in range(_ROUNDS):
        left, slopes = constraints(x)
        across = np.einsum("rij,rmj->rim", spread, slopes)
        balance = np.einsum("rmi,rin->rmn", slopes, across)
        # In units of the balances' own deviations, so that a rank can be told.
        size = np.sqrt(np.einsum("rmm->rm", balance))
        with np.errstate(invalid="ignore", divide="ignore"):
            scaled = balance / (size[:, :, None] * size[:, None, :])
        good = np.isfinite(scaled).all(axis=(1, 2))
        smallest = np.zeros(count)
        smallest[good] = np.linalg.eigvalsh(scaled[good])[:, 0] if good.any() else 0.0
        solvable = good & (smallest > 1e-10)
        inverse = np.full_like(balance, np.nan)
        if solvable.any():
            inverse[solvable] = np.linalg.inv(balance[solvable])
        off = left + np.einsum("rmi,ri->rm", slopes, read - x)
        gain = np.einsum("rim,rmn->rin", across, inverse)
        new = read - np.einsum("rim,rm->ri", gain, off)
        with np.errstate(invalid="ignore", divide="ignore"):
            move = np.abs(new - x) / np.where(deviation > 0.0, deviation, 1.0)
        settled = solvable & (move.max(axis=1, initial=0.0) < _SETTLED)
        x = new
        if (settled | ~solvable).all():
            break
    taken = np.einsum("rim,rjm->rij", gain, across)
    statistic = np.einsum("rm,rmn,rn->r", off, inverse, off)
    moved = np.sqrt(np.clip(np.einsum("rii->ri", taken), 0.0, None))
    # What no balance holds moves by rounding only.
    known = moved > 1e-9 * deviation
    with np.errstate(invalid="ignore", divide="ignore"):
        tests = np.where(known, np.abs(x - read) / moved, np.nan)
    return _Solved(x, taken, statistic, tests, solvable, settled, balance.shape[1])


#: Balance -> figures that it needs, and the readings that it needs besides.
_BALANCES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "water_heat": (("capacity", "heat_rejected"), ("power",)),
    "compression_power": (("compression_power",), ("power",)),
    "condenser_heat": (("refrigerant_heat_rejected", "heat_rejected"), ()),
}
_LOST, _DRIVE = "lost_share", "drive_share"


class Reconciliation:
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


class Reconciled:
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
        """|x - y| of every variable in units of its standard deviation; above 1.96 it is suspect. A table."""
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

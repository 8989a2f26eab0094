"""Readings that are known twice, brought into agreement: data reconciliation.

The readings x nearest to those read, y, by their covariance V, that meet the balances f(x) = 0; with the
tests of VDI 2048. R. S. H. Mah et al. 1976, S. Narasimhan and C. Jordache 2000. All from memory.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage._shown import Shown
from interstage.errors import Inconsistent, NotConverged, WrongArgument, WrongLength

__all__ = ["ReconciledVector", "reconcile"]

FloatArray = npt.NDArray[np.float64]
_Constraints = Callable[[FloatArray], tuple[FloatArray, FloatArray]]

#: Rounds of linearisation, and the change relative to the standard uncertainties at which they end.
_ROUNDS = 20
_SETTLED = 1e-6


def _limit(freedom: int, level: float) -> float:
    """Quantile of the chi-square distribution."""
    try:
        stats = import_module("scipy.stats")
    except ImportError as error:
        raise ImportError("reconciliation needs scipy: pip install 'interstage[trend]'") from error
    return float(stats.chi2.ppf(level, freedom))


@dataclass(frozen=True)
class ReconciledVector(Shown):
    """Reconciled values of one set of readings. Made by `reconcile`."""

    #: The values that meet the balances, and their covariance.
    values: FloatArray
    covariance: FloatArray
    #: Sum of squared corrections in units of their covariance, and what it stays below in 95 of 100 cases.
    statistic: float
    limit: float
    #: ``|x - y|`` per its standard deviation; above 1.96 in 5 of 100 cases. NaN for what no balance tests.
    tests: FloatArray
    #: Number of independent balances.
    freedom: int

    @property
    def accepted(self) -> bool:
        """Whether readings and balances agree within the stated accuracies."""
        return self.statistic <= self.limit

    def __repr__(self) -> str:
        verdict = "accepted" if self.accepted else "not accepted"
        return (
            f"ReconciledVector({len(self.values)} values, {verdict}: statistic {self.statistic:.3g}, "
            f"limit {self.limit:.3g})"
        )


def _numbers(argument: str, given: Any) -> FloatArray:
    try:
        return np.asarray(given, dtype=np.float64)
    except (TypeError, ValueError):
        message = f"{argument} must be an array of numbers, got {type(given).__name__}"
        raise WrongArgument(message, argument=argument) from None


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
        If balances are not independent, are no numbers, or all that is in one is taken for exact.
    WrongArgument, WrongLength
        If values, covariance or what the constraints return are of a wrong kind or shape.
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
    read, spread = (_numbers(name, of) for name, of in (("values", values), ("covariance", covariance)))
    if read.ndim != 1 or not np.isfinite(read).all():
        raise WrongArgument(
            f"values must be a row of finite numbers, got {values!r}"[:300], argument="values"
        )
    if spread.shape != (read.size, read.size):
        raise WrongLength(
            f"covariance must be {read.size} by {read.size}, got {spread.shape}",
            argument="covariance",
            found=spread.size,
            expected=read.size**2,
        )
    if not np.isfinite(spread).all() or not np.allclose(spread, spread.T, rtol=1e-9, atol=0.0):
        raise WrongArgument("covariance must be finite and symmetric", argument="covariance")
    variances = np.linalg.eigvalsh(spread)
    if variances.size and variances[0] < -1e-9 * np.abs(variances).max():
        raise WrongArgument(
            f"covariance must not be negative, its lowest eigenvalue is {variances[0]:.3g}",
            argument="covariance",
        )

    def rows(x: FloatArray) -> tuple[FloatArray, FloatArray]:
        left, slopes = _balances(constraints(x[0]), read.size)
        if not (np.isfinite(left).all() and np.isfinite(slopes).all()):
            reason = f"at the values {x[0].tolist()} they are no numbers"
            raise Inconsistent(
                f"the balances cannot be met: {reason}", arguments="constraints", reason=reason
            )
        return left[None], slopes[None]

    found = _solve(read[None], spread[None], rows)
    if not found.solvable[0]:
        reason = "they are not independent, or all that is in one of them is taken for exact"
        raise Inconsistent(f"the balances cannot be met: {reason}", arguments="constraints", reason=reason)
    if not found.settled[0]:
        moved = float(found.moved[0])
        raise NotConverged(
            f"reconciliation did not settle within {_ROUNDS} rounds: the last moved a value by {moved:.3g} "
            f"of its standard uncertainty, {_SETTLED:g} is needed",
            solver="reconciliation",
            iterations=_ROUNDS,
            residual=moved,
            lower=math.nan,
            upper=math.nan,
        )
    freedom = found.freedom
    return ReconciledVector(
        values=found.values[0],
        covariance=spread - found.taken[0],
        statistic=float(found.statistic[0]),
        limit=_limit(freedom, 0.95),
        tests=found.tests[0],
        freedom=freedom,
    )


def _balances(told: Any, count: int) -> tuple[FloatArray, FloatArray]:
    """What is left of balances and their derivatives, as arrays of the right shape."""
    wanted = f"constraints must return what is left of each balance and its derivatives to {count} values"
    try:
        left, slopes = (np.asarray(part, dtype=np.float64) for part in told)
    except (TypeError, ValueError) as error:
        raise WrongArgument(f"{wanted}: {error}", argument="constraints") from None
    if left.ndim != 1 or not left.size or slopes.shape != (left.size, count):
        raise WrongArgument(
            f"{wanted}, got the shapes {left.shape} and {slopes.shape}", argument="constraints"
        )
    return left, slopes


@dataclass(frozen=True)
class _Solved:
    values: FloatArray
    #: What reconciling takes off the covariance.
    taken: FloatArray
    statistic: FloatArray
    tests: FloatArray
    solvable: npt.NDArray[np.bool_]
    settled: npt.NDArray[np.bool_]
    #: Furthest movement in the last round, in standard uncertainties.
    moved: FloatArray
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
        furthest = move.max(axis=1, initial=0.0)
        settled = solvable & (furthest < _SETTLED)
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
    return _Solved(x, taken, statistic, tests, solvable, settled, furthest, balance.shape[1])

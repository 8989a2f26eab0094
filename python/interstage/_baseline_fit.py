"""The fit behind a baseline: which rows carry it, least squares, and its errors on rows not seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any, NoReturn

import numpy as np
import numpy.typing as npt

from interstage import _baseline_model as model
from interstage._shown import Shown
from interstage.errors import Inconsistent

FloatArray = npt.NDArray[np.float64]

#: Rows that each coefficient needs. Common practice, no published source.
_ROWS_EACH = 5

#: Highest condition number of the scaled terms: beyond it coefficients are no longer told apart. D. A.
#: Belsley, E. Kuh and R. E. Welsch (1980; from memory) call 30 to 100 strong.
_CONDITION = 1000.0


@dataclass(frozen=True)
class BaselineFit(Shown):
    """How well a baseline fits: CV(RMSE) and NMBE with n - p, as in ASHRAE Guideline 14 (from memory)."""

    rows: int
    coefficients: int
    #: Root mean square of the residuals with n - p, per mean of the figure.
    cv_rmse: float
    #: Sum of the residuals (measured less expected) per n - p and mean of the figure.
    nmbe: float
    r_squared: float
    #: Correlation of a residual with the one before, and how many rows count as independent for it.
    autocorrelation: float
    effective_rows: float
    #: The same two measures on blocks of time held back from the fit one after another, with n; None where no
    #: block could be told from the others.
    held_back_cv_rmse: float | None
    held_back_nmbe: float | None
    #: Worst mean error of a block that was held back, per mean of the figure.
    worst_block: float | None
    blocks: int
    #: Share of the rows held back that lie outside of the others and are left out of these measures.
    held_back_outside: float

    def __repr__(self) -> str:
        bias = f"{100.0 * self.nmbe:.2f}".replace("-0.00", "0.00")
        return (
            f"BaselineFit({self.rows} rows, CV(RMSE) {100.0 * self.cv_rmse:.2f} %, NMBE {bias} %, "
            f"R2 {self.r_squared:.4f})"
        )


@dataclass(frozen=True)
class Fitted:
    coefficients: FloatArray
    covariance: FloatArray


def terms_of(kind: str, drivers: Sequence[str]) -> Sequence[str]:
    return model.quadratic_terms(drivers) if kind == "quadratic" else model.GORDON_NG_TERMS


def _refuse(reason: str) -> NoReturn:
    raise Inconsistent(
        f"the rows do not carry a baseline: {reason}", arguments="frame and drivers", reason=reason
    )


def refuse_poor(kind: str, drivers: Sequence[str], x: FloatArray) -> None:
    """Refuse too few rows, and drivers that do not vary or that move together."""
    needed = _ROWS_EACH * len(terms_of(kind, drivers))
    if len(x) < needed:
        _refuse(f"{len(x)} rows are usable, {needed} are needed ({_ROWS_EACH} for each coefficient)")
    spread = x.std(axis=0)
    for name, size, middle in zip(drivers, spread, np.abs(x.mean(axis=0)), strict=True):
        if size <= 1e-6 * middle or size == 0.0:
            _refuse(f"{name} does not vary")
    scaled = (x - x.mean(axis=0)) / spread
    terms = model.quadratic(scaled) if kind == "quadratic" else scaled
    size = np.linalg.norm(terms, axis=0)
    condition = np.linalg.cond(terms / np.where(size > 0.0, size, 1.0))
    if not condition < _CONDITION:
        if len(drivers) == 1:
            _refuse(f"{drivers[0]} takes too few different values (condition number {condition:.2g})")
        together = np.abs(np.corrcoef(x.T)) - 2.0 * np.eye(len(drivers))
        one, other = divmod(int(np.argmax(together)), len(drivers))
        _refuse(
            f"what {drivers[one]} and {drivers[other]} do cannot be told apart: they correlate by "
            f"{together[one, other]:.4f}, or take too few different values (condition number {condition:.2g})"
        )


def regression_of(kind: str, x: FloatArray, y: FloatArray) -> Fitted:
    """Least squares by statsmodels."""
    try:
        regression = import_module("statsmodels.regression.linear_model")
    except ImportError as error:
        raise ImportError("a fit needs statsmodels: pip install 'interstage[trend]'") from error
    if kind == "quadratic":
        terms, left = model.quadratic((x - x.mean(axis=0)) / x.std(axis=0)), y
    else:
        terms, left = model.gordon_ng(x, y)
    # Columns of one size: those of the thermodynamic form are ten decades apart.
    size = np.linalg.norm(terms, axis=0)
    found = regression.OLS(left, terms / size).fit()
    return Fitted(np.asarray(found.params) / size, np.asarray(found.cov_params()) / np.outer(size, size))


def _expected(kind: str, fitted: Fitted, fit_x: FloatArray, x: FloatArray) -> FloatArray:
    if kind == "quadratic":
        terms = model.quadratic((x - fit_x.mean(axis=0)) / fit_x.std(axis=0))
        return np.asarray(terms @ fitted.coefficients)
    return model.gordon_ng_power(x, fitted.coefficients)[0]


def assembled(
    figure: str,
    kind: str,
    drivers: tuple[str, ...],
    x: FloatArray,
    y: FloatArray,
    fitted: Fitted,
    blocks: int,
) -> dict[str, Any]:
    count, terms = len(x), len(fitted.coefficients)
    residual = y - _expected(kind, fitted, x, x)
    if not np.isfinite(residual).all():
        _refuse("the form has no power at some of them")
    squares = float(residual @ residual)
    level = float(np.abs(y.mean()))
    if level == 0.0:
        _refuse(f"{figure} is zero in the mean, and errors are told per mean")
    total = float(((y - y.mean()) ** 2).sum())
    lag = float(residual[1:] @ residual[:-1] / squares) if squares > 0.0 else 0.0
    lag = min(max(lag, 0.0), 0.999)
    # Rows that lean on each other, by the first-order correlation, as in ASHRAE Guideline 14 (from memory).
    effective = max(count * (1.0 - lag) / (1.0 + lag), terms + 1.0)
    quality = BaselineFit(
        rows=count,
        coefficients=terms,
        cv_rmse=float(np.sqrt(squares / (count - terms)) / level),
        nmbe=float(residual.sum() / (count - terms) / level),
        # What does not vary leaves nothing to explain.
        r_squared=1.0 - squares / total if total > (1e-9 * level) ** 2 * count else 0.0,
        autocorrelation=lag,
        effective_rows=float(effective),
        **_held_back(kind, drivers, x, y, blocks, level),
    )
    scaled = (x - x.mean(axis=0)) / x.std(axis=0)
    shape = np.linalg.inv(np.atleast_2d(np.cov(scaled.T, bias=True)))
    stats = import_module("scipy.stats")
    return {
        "figure": figure,
        "kind": kind,
        "drivers": drivers,
        "quality": quality,
        "coefficients": dict(zip(terms_of(kind, drivers), map(float, fitted.coefficients), strict=True)),
        "covariance": tuple(map(tuple, (fitted.covariance * (count / effective)).tolist())),
        "deviation": float(np.sqrt(squares / (count - terms))),
        "coverage": float(stats.t.ppf(0.975, effective - terms)),
        "means": tuple(x.mean(axis=0).tolist()),
        "deviations": tuple(x.std(axis=0).tolist()),
        "lowest": tuple(x.min(axis=0).tolist()),
        "highest": tuple(x.max(axis=0).tolist()),
        "shape": tuple(map(tuple, shape.tolist())),
        "furthest": float(np.einsum("ri,ij,rj->r", scaled, shape, scaled).max()),
    }


def _held_back(
    kind: str, drivers: Sequence[str], x: FloatArray, y: FloatArray, blocks: int, level: float
) -> dict[str, Any]:
    """Errors on blocks of time that a fit on the others has not seen."""
    errors: list[FloatArray] = []
    outside = 0
    for rows in np.array_split(np.arange(len(x)), blocks):
        others = np.ones(len(x), dtype=bool)
        others[rows] = False
        low, high = x[others].min(axis=0), x[others].max(axis=0)
        inside = ((x[rows] >= low) & (x[rows] <= high)).all(axis=1)
        outside += int((~inside).sum())
        try:
            refuse_poor(kind, drivers, x[others])
        except Inconsistent:
            outside += int(inside.sum())
            continue
        fitted = regression_of(kind, x[others], y[others])
        error = (y[rows] - _expected(kind, fitted, x[others], x[rows]))[inside]
        if error.size:
            errors.append(error)
    every = np.concatenate(errors) if errors else np.array([])
    return {
        "held_back_cv_rmse": float(np.sqrt((every**2).mean()) / level) if every.size else None,
        "held_back_nmbe": float(every.mean() / level) if every.size else None,
        "worst_block": max((float(error.mean() / level) for error in errors), key=abs, default=None),
        "blocks": blocks,
        "held_back_outside": outside / len(x),
    }

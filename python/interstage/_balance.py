"""The heat balance of many rows, by load."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage.errors import WrongArgument

#: Edges of the load bins; the standard has no tolerance above 120 % of the rated capacity.
LOADS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2)


def balance_by_load(
    load: npt.NDArray[np.float64],
    balance: npt.NDArray[np.float64],
    tolerance: npt.NDArray[np.float64],
    loads: Sequence[float],
) -> dict[str, Any]:
    """Sum rows up in bins of the load; columns of the table."""
    edges = np.asarray(loads, dtype=np.float64)
    if edges.ndim != 1 or edges.size < 2 or not (np.isfinite(edges).all() and (np.diff(edges) > 0.0).all()):
        raise WrongArgument(f"loads must be two or more rising numbers, got {loads!r}", argument="loads")
    told = np.isfinite(load) & np.isfinite(balance)
    columns: dict[str, Any] = {"load from [-]": edges[:-1], "load to [-]": edges[1:]}
    rows, figures = [], []
    for low, high in pairwise(edges):
        there = told & (load >= low) & (load < high)
        with_tolerance = there & np.isfinite(tolerance)
        rows.append(int(there.sum()))
        figures.append(
            (
                balance[there].mean() if there.any() else np.nan,
                balance[there].std(ddof=1) if there.sum() > 1 else np.nan,
                tolerance[with_tolerance].mean() if with_tolerance.any() else np.nan,
                (np.abs(balance) <= tolerance)[with_tolerance].mean() if with_tolerance.any() else np.nan,
            )
        )
    columns["rows"] = np.array(rows)
    names = ("bias [-]", "spread [-]", "tolerance [-]", "within tolerance [-]")
    columns.update(zip(names, np.array(figures, dtype=np.float64).T, strict=True))
    return columns

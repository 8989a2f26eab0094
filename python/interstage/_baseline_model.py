"""The two forms of a baseline: a quadratic in its drivers, and the universal form of Gordon and Ng.

J. M. Gordon and K. C. Ng, Cool Thermodynamics (2000), in the linear form of T. A. Reddy and K. K. Andersen
(2002); both from memory. It follows from the two laws over the refrigerant, with entropy made inside (`s`,
W/K), a heat leak (`q`, W) and a thermal resistance of both exchangers (`r`, K/W):

    (1 + 1/COP) To/Ti - 1 = s To/Q + q (Ti - To)/(Ti Q) + r (1 + 1/COP) Q/Ti

with the capacity Q, the leaving chilled water To and the entering condenser water Ti.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations_with_replacement

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

#: What the thermodynamic form is written in, in this order.
GORDON_NG = ("capacity", "chilled_water_leaving", "condenser_water_entering")
GORDON_NG_TERMS = ("entropy made inside [W/K]", "heat leak [W]", "thermal resistance [K/W]")


def quadratic_terms(drivers: Sequence[str]) -> list[str]:
    """Names of the terms, of drivers that are centered and scaled."""
    products = combinations_with_replacement(drivers, 2)
    return ["1", *drivers, *(f"{a} x {b}" for a, b in products)]


def quadratic(scaled: FloatArray) -> FloatArray:
    """Terms of rows of scaled drivers, rows by terms."""
    columns = [np.ones(len(scaled)), *scaled.T]
    columns += [a * b for a, b in combinations_with_replacement(scaled.T, 2)]
    return np.column_stack(columns)


def gordon_ng(drivers: FloatArray, power: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Terms and left side of the linear form, for rows of drivers and power."""
    capacity, leaving, entering = drivers.T
    inverse = power / capacity
    terms = np.column_stack(
        [
            leaving / capacity,
            (entering - leaving) / (entering * capacity),
            (1.0 + inverse) * capacity / entering,
        ]
    )
    return terms, (1.0 + inverse) * leaving / entering - 1.0


def gordon_ng_power(drivers: FloatArray, coefficients: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Power of rows of drivers, W, and its derivatives to the coefficients; NaN where there is none."""
    capacity, leaving, entering = drivers.T
    made, leak, resistance = coefficients
    top = 1.0 + made * leaving / capacity + leak * (entering - leaving) / (entering * capacity)
    below = leaving / entering - resistance * capacity / entering
    with np.errstate(invalid="ignore", divide="ignore"):
        below = np.where(below > 0.0, below, np.nan)
        power = capacity * (top / below - 1.0)
        slopes = np.column_stack(
            [
                leaving / below,
                (entering - leaving) / entering / below,
                capacity * top / below**2 * capacity / entering,
            ]
        )
    return power, slopes

"""Constants that the library stores otherwise than the papers print them.

A correction is what turns the library's constants into those of the paper. What a constant does is measured
on the library alone, its equation as stored against its equation with the printed constant; what is left
between the latter and the package has to be rounding.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple


class Correction(NamedTuple):
    """A deviation of the library from a paper."""

    constant: str
    stored: str
    printed: str
    paper: str
    change: Callable[[dict[str, Any]], None]


def _gas_constant(value: float) -> Callable[[dict[str, Any]], None]:
    def change(stored: dict[str, Any]) -> None:
        stored["EOS"][0]["gas_constant"] = value

    return change


def _terms(stored: dict[str, Any], kind: str) -> dict[str, Any]:
    """The one block of a kind in the ideal-gas part."""
    (found,) = (term for term in stored["EOS"][0]["alpha0"] if term["type"] == f"IdealGasHelmholtz{kind}")
    return found


def _characteristic_temperatures(*kelvin: float) -> Callable[[dict[str, Any]], None]:
    def change(stored: dict[str, Any]) -> None:
        reducing = stored["EOS"][0]["STATES"]["reducing"]["T"]
        block = _terms(stored, "PlanckEinstein")
        # A mistaken constant is off by a small part: more would be another term.
        for old, new in zip(block["t"], kelvin, strict=True):
            if abs(old * reducing / new - 1.0) > 1e-3:
                raise ValueError(f"{old * reducing} K is stored where {new} K is printed")
        block["t"] = [theta / reducing for theta in kelvin]

    return change


def _r125(stored: dict[str, Any]) -> None:
    _characteristic_temperatures(314.0, 756.0, 1707.0)(stored)
    # cp0/R has the term 3.063 T^0.1: -n t (t - 1) tau^t with t = -0.1.
    reducing = stored["EOS"][0]["STATES"]["reducing"]["T"]
    _terms(stored, "Power")["n"] = [-3.063 * reducing**0.1 / 0.11]


def _r123(stored: dict[str, Any]) -> None:
    """The temperature that turns tau back into T in the terms of cp0: that of the paper's equation."""
    for kind in ("CP0Constant", "CP0PolyT"):
        _terms(stored, kind)["Tc"] = 456.831


def _r407c(stored: dict[str, Any]) -> None:
    _characteristic_temperatures(864.0, 1887.0, 4802.0)(stored)
    stored["EOS"][0]["STATES"]["reducing"]["rhomolar"] = 5260.0


def _r507a(stored: dict[str, Any]) -> None:
    _characteristic_temperatures(364.0, 815.0, 1768.0)(stored)
    stored["EOS"][0]["STATES"]["reducing"]["rhomolar"] = 4964.0


_LEMMON_2003 = "Lemmon 2003, Table V"
_ROUNDED = "ratios to six digits"

CORRECTIONS = {
    "R-123": Correction(
        "reducing temperature in cp0",
        "456.82 K",
        "456.831 K",
        "Younglove & McLinden 1994, Tables C1 and C2",
        _r123,
    ),
    "R-125": Correction(
        "characteristic temperatures, coefficient of T^0.1 in cp0/R",
        "ratios to five decimals; -49.8651 for tau^-0.1",
        "314, 756, 1707 K; 3.063",
        "Lemmon & Jacobsen 2005, Table 12",
        _r125,
    ),
    "R-245fa": Correction(
        "characteristic temperatures",
        "ratios to 427.16 K, an older critical temperature",
        "222, 1010, 2450 K over 427.01 K",
        "Akasaka, Zhou & Lemmon 2015, Table 7",
        _characteristic_temperatures(222.0, 1010.0, 2450.0),
    ),
    "R-290": Correction(
        "characteristic temperatures",
        "ratios to six decimals",
        "393, 1237, 1984, 4351 K",
        "Lemmon, McLinden & Wagner 2009, Table 5",
        _characteristic_temperatures(393.0, 1237.0, 1984.0, 4351.0),
    ),
    "R-717": Correction(
        "gas constant",
        "8.3144598 J/(mol K)",
        "8.314462618 J/(mol K)",
        "Gao et al. 2023, Table 7",
        _gas_constant(8.314462618),
    ),
    "R-1234ze(E)": Correction(
        "gas constant",
        "8.314472 J/(mol K)",
        "8.3144621 J/(mol K)",
        "Thol & Lemmon 2016, Table 3",
        _gas_constant(8.3144621),
    ),
    "R-404A": Correction(
        "characteristic temperatures",
        _ROUNDED,
        "413, 804, 1727 K",
        _LEMMON_2003,
        _characteristic_temperatures(413.0, 804.0, 1727.0),
    ),
    "R-407C": Correction(
        "characteristic temperatures, reducing density",
        f"{_ROUNDED}; 5260.00005 mol/m3",
        "864, 1887, 4802 K; 5260 mol/m3",
        _LEMMON_2003,
        _r407c,
    ),
    "R-410A": Correction(
        "characteristic temperatures",
        _ROUNDED,
        "697, 1723, 3875 K",
        _LEMMON_2003,
        _characteristic_temperatures(697.0, 1723.0, 3875.0),
    ),
    "R-507A": Correction(
        "characteristic temperatures, reducing density",
        f"{_ROUNDED}; 4964.0297 mol/m3",
        "364, 815, 1768 K; 4964 mol/m3",
        _LEMMON_2003,
        _r507a,
    ),
}

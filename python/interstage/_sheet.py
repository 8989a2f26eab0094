"""Formulas with numbers that reproduce their printed result."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from interstage import _core
from interstage._tables import unit_shown

#: A property of a point, ``h[stage_1_inlet]``, or a number with a name, ``eta``; no function, ``ln(``.
_TOKEN = re.compile(r"\b([mhpsv])\[(\w+)\]|\b([A-Za-z_]\w*)\b(?!\()")

#: Significant digits of results; fewest and most of the numbers they are made of.
_RESULT = 5
_FEWEST = 6
_MOST = 17

#: Less than this share of the flow or power of the machine is rounding.
_NOISE = 1e-9


@dataclass(frozen=True)
class Step:
    """One line of the working.

    Attributes
    ----------
    component : str
    law : str
        What is balanced or defined.
    formula : str
        With symbols; a point of the circuit in brackets says where.
    numbers : str
        The same with numbers, of so many digits that they reproduce the result to its last one.
    result : str
        With unit; of a balance both sides and what it closes to.
    """

    component: str
    law: str
    formula: str
    numbers: str
    result: str


def significant(value: float, digits: int) -> str:
    """Write a number without exponent; zeros at its end stay where it is rounded."""
    if value == 0.0:
        return "0"
    decimals = max(digits - 1 - math.floor(math.log10(abs(value))), 0)
    text = f"{value:.{decimals}f}"
    short = text.rstrip("0").rstrip(".") if "." in text else text
    exact = math.isclose(float(short), value, rel_tol=1e-14)
    return short if exact else text


def _evaluated(numbers: str) -> float:
    # Formulas are written in this package; what is put into them are numbers.
    return float(eval(numbers, {"__builtins__": {}, "ln": math.log}))


class Sheet:
    """Steps that are written one after another about the points of a solved cycle."""

    def __init__(self, cycle: _core.Cycle, units: str) -> None:
        self._units = units
        self.steps: list[Step] = []
        self.flow = self.shown("mass_flow", cycle.condenser_mass_flow)
        self.power = self.shown("energy_flow", cycle.heat_rejected)
        self._points: dict[tuple[str, str], float] = {}
        for name, point in cycle.points.items():
            for symbol, quantity, value in (
                ("m", "mass_flow", point.mass_flow),
                ("h", "h", point.h),
                ("p", "p", point.p),
                ("s", "s", point.s),
                ("v", "v", 1.0 / point.rho),
            ):
                self._points[symbol, name] = self.shown(quantity, value)

    def unit(self, quantity: str) -> str:
        """Give the unit that a quantity is shown in."""
        return unit_shown(quantity, self._units)[0]

    def shown(self, quantity: str, value: float) -> float:
        """Convert a number from SI to the unit shown."""
        return float(unit_shown(quantity, self._units)[1](value))

    def at(self, symbol: str, point: str) -> float:
        """Give a property of a point in the unit shown."""
        return self._points[symbol, point]

    def _put(self, formula: str, named: Mapping[str, float], text: Callable[[float], str]) -> str:
        """Put numbers in the place of symbols."""

        def number(match: re.Match[str]) -> str:
            symbol, point, name = match.groups()
            written = text(named[name] if name else self._points[symbol, point])
            return f"({written})" if written.startswith("-") else written

        return _TOKEN.sub(number, formula)

    def _reproducing(
        self, formulas: list[str], named: Mapping[str, float], scale: float, digits: int
    ) -> tuple[list[str], list[float], list[str]]:
        """Give formulas with the digits that they need, their exact values, and their results."""

        def written(value: float) -> str:
            return "0" if abs(value) < _NOISE * scale else significant(value, digits)

        exact = [_evaluated(self._put(formula, named, repr)) for formula in formulas]
        results = [written(value) for value in exact]
        numbers: list[str] = []
        for most in range(_FEWEST, _MOST + 1):
            text = partial(significant, digits=most)
            numbers = [self._put(formula, named, text) for formula in formulas]
            if [written(_evaluated(each)) for each in numbers] == results:
                break
        return [each.replace(" * ", " x ") for each in numbers], exact, results

    def define(
        self,
        component: str,
        law: str,
        symbol: str,
        formula: str,
        unit: str = "",
        named: Mapping[str, float] | None = None,
        *,
        scale: float = 0.0,
        digits: int = _RESULT,
    ) -> float:
        """Write how a number follows from others, and give it."""
        (numbers,), (value,), (result,) = self._reproducing([formula], named or {}, scale, digits)
        shown = f"{symbol} = {formula.replace(' * ', ' ')}"
        self.steps.append(Step(component, law, shown, numbers, f"{result} {unit}".rstrip()))
        return value

    def balance(
        self,
        component: str,
        law: str,
        sides: tuple[str, str],
        unit: str,
        scale: float,
        named: Mapping[str, float] | None = None,
        *,
        digits: int = _RESULT,
    ) -> None:
        """Write both sides of a balance, and what it closes to."""
        numbers, exact, results = self._reproducing(list(sides), named or {}, scale, digits)
        rest = exact[0] - exact[1]
        closes = "0" if abs(rest) < _NOISE * scale else significant(rest, 2)
        equal = results[0] == results[1]
        amount = f"both sides {results[0]}" if equal else " = ".join(results)
        formula = " = ".join(sides).replace(" * ", " ")
        result = f"{amount} {unit}, closes to {closes}"
        self.steps.append(Step(component, law, formula, " = ".join(numbers), result))

    def read(
        self,
        component: str,
        law: str,
        formula: str,
        given: dict[str, tuple[str, float]],
        of: tuple[str, float],
    ) -> float:
        """Write a property that is read off the equation of state: what was given, and the property in SI."""

        def written(quantity: str, value: float) -> str:
            number = significant(self.shown(quantity, value), _FEWEST)
            return f"{number} {self.unit(quantity)}".rstrip()

        numbers = ", ".join(f"{name} {written(*each)}" for name, each in given.items())
        self.steps.append(Step(component, law, formula, f"at {numbers}", written(*of)))
        return self.shown(*of)


def point_columns(cycle: _core.Cycle, units: str) -> dict[str, list[Any]]:
    """Give the points of a cycle as columns of numbers, each with its unit in its name."""
    columns: dict[str, list[Any]] = {"point": list(cycle.points)}
    points = cycle.points.values()
    quantities: dict[str, Callable[[_core.Point], float]] = {
        "p": lambda point: point.p,
        "T": lambda point: point.T,
        "h": lambda point: point.h,
        "s": lambda point: point.s,
        "v": lambda point: 1.0 / point.rho,
    }
    for name, of in quantities.items():
        unit, convert = unit_shown(name, units)
        columns[f"{name} [{unit}]"] = [float(convert(of(point))) for point in points]
    columns["quality"] = [math.nan if point.x is None else point.x for point in points]
    unit, convert = unit_shown("mass_flow", units)
    columns[f"m [{unit}]"] = [float(convert(point.mass_flow)) for point in points]
    return columns

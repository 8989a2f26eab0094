"""The package and the library at the same states: deviations by quantity, and every state that gave none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

import interstage

from . import states
from .corrections import CORRECTIONS
from .library import Library, Refused, Saturated, Values, name_of, older
from .published import refrigerant

#: Quantities in the order of the tables.
AT_DENSITY = ("p", "h", "s", "cp", "cv", "w")
AT_PRESSURE = ("rho", "h", "s", "cp", "cv", "w")
SATURATED = ("p of vapor", "p bubble", "p dew", "rho'", "rho''")
#: A density further away than this is another solution of the equation, no deviation.
OTHER_BRANCH = 1e-3


@dataclass
class Deviations:
    """What one kind of state gave."""

    asked: int = 0
    by_quantity: dict[str, list[float]] = field(default_factory=dict)
    #: States without a comparison, by reason.
    without: Counter[str] = field(default_factory=Counter)
    phases: Counter[str] = field(default_factory=Counter)

    @property
    def compared(self) -> int:
        """States with a comparison."""
        return self.asked - self.without.total()

    def add(self, found: dict[str, float]) -> None:
        """Deviations of one state."""
        for quantity, deviation in found.items():
            self.by_quantity.setdefault(quantity, []).append(deviation)

    def largest(self, quantity: str) -> float:
        """The largest deviation of a quantity."""
        return max(self.by_quantity[quantity])


@dataclass
class Comparison:
    """A fluid against the library, or against the library with the paper's constants."""

    fluid: str
    library: str
    key: str
    density: Deviations
    pressure: Deviations
    saturation: Deviations
    #: Largest difference between the pressure asked for and the one the library keeps, relative.
    kept_pressure: float = 0.0
    #: Largest deviation of the library's saturation pressure in units of the critical pressure.
    critical_share: float = 0.0


class Ours:
    """The package, in the shape of `Library`."""

    def __init__(self, handle: interstage.Refrigerant) -> None:
        self.handle = handle

    @staticmethod
    def values(at: interstage.State) -> Values | None:
        """Properties of a single-phase state."""
        if at.phase == "two-phase":
            return None
        return Values(at.p, at.rho, at.h, at.s, at.cp, at.cv, at.speed_of_sound)

    def at_density(self, temperature: float, density: float) -> Values | None:
        """The state at a temperature and a density."""
        return self.values(self.handle.state(T=temperature, rho=density))

    def at_pressure(self, temperature: float, pressure: float) -> Values | None:
        """The state at a temperature and a pressure."""
        return self.values(self.handle.state(T=temperature, p=pressure))

    def saturated(self, temperature: float) -> Saturated:
        """Both sides of the saturation line."""
        line = self.handle.saturation(T=temperature)
        return Saturated(line.liquid.p, line.vapor.p, line.liquid.rho, line.vapor.rho, line.vapor.p)


class Measure:
    """How two states differ.

    Densities, heat capacities and speeds of sound relative; pressures relative to the larger of p and
    rho R T, for in a liquid p is a small difference of large terms; enthalpies in R T and entropies in R,
    from a common state on: that of the critical temperature and a tenth of the critical density.
    """

    def __init__(self, handle: interstage.Refrigerant, one: Library, other: Library | Ours) -> None:
        self.gas_constant = handle.gas_constant
        common = handle.critical_temperature, 0.1 * handle.critical_density
        self.zero = one.at_density(*common), other.at_density(*common)

    def __call__(self, temperature: float, one: Values, other: Values) -> dict[str, float]:
        rt = self.gas_constant * temperature
        h = (one.h - self.zero[0].h) - (other.h - self.zero[1].h)
        s = (one.s - self.zero[0].s) - (other.s - self.zero[1].s)
        return {
            "p": abs(one.p - other.p) / max(abs(other.p), other.rho * rt),
            "rho": abs(one.rho / other.rho - 1.0),
            "h": abs(h) / rt,
            "s": abs(s) / self.gas_constant,
            "cp": abs(one.cp / other.cp - 1.0),
            "cv": abs(one.cv / other.cv - 1.0),
            "w": abs(one.w / other.w - 1.0),
        }


def _reason(error: Exception) -> str:
    """The kind of a refusal, without its numbers."""
    text = str(error)
    if "Tmelt" in text or "melting" in text:
        return "beyond the library's melting line"
    return "refused by the library: " + " ".join(text.split("[")[0].split()[:8])


def _single_phase(
    kind: str,
    handle: interstage.Refrigerant,
    asked: Sequence[states.Asked],
    one: Library,
    other: Ours | Library,
) -> tuple[Deviations, float]:
    """Deviations of `one` from `other` at a density or a pressure, and the largest of the kept pressures."""
    result, kept = Deviations(asked=len(asked)), 0.0
    measure = Measure(handle, one, other)
    quantities = AT_DENSITY if kind == "density" else AT_PRESSURE
    for temperature, value in asked:
        at = "at_density" if kind == "density" else "at_pressure"
        try:
            mine = getattr(other, at)(temperature, value)
            if mine is None:
                result.without["two-phase"] += 1
                continue
            theirs = getattr(one, at)(temperature, value)
        except interstage.OutOfRange:
            result.without["refused by interstage"] += 1
            continue
        except Refused as error:
            result.without[_reason(error)] += 1
            continue
        kept = max(kept, abs(one.kept_pressure / value - 1.0)) if kind == "pressure" else 0.0
        found = measure(temperature, theirs, mine)
        if found["rho"] > OTHER_BRANCH:
            result.without["another branch"] += 1
            continue
        phase = handle.state(T=temperature, rho=mine.rho).phase
        result.phases[phase] += 1
        result.add({name: found[name] for name in quantities})
    return result, kept


def _saturation(
    handle: interstage.Refrigerant, fluid: str, one: Library, other: Library | Ours
) -> tuple[Deviations, float]:
    """Deviations on the saturation line, and the largest of the pressure in critical pressures."""
    temperatures = states.saturated(handle, fluid)
    result, share = Deviations(asked=len(temperatures)), 0.0
    for temperature in temperatures:
        try:
            theirs, mine = one.saturated(temperature), other.saturated(temperature)
        except Refused as error:
            result.without[_reason(error)] += 1
            continue
        bubble, dew, liquid, vapor, of_vapor = (abs(a / b - 1.0) for a, b in zip(theirs, mine, strict=True))
        share = max(share, abs(theirs.p_bubble - mine.p_bubble) / handle.critical_pressure)
        share = max(share, abs(theirs.p_dew - mine.p_dew) / handle.critical_pressure)
        result.add(dict(zip(SATURATED, (of_vapor, bubble, dew, liquid, vapor), strict=True)))
    return result, share


def compare(fluid: str, one: Library, other: Library | Ours, name: str) -> Comparison:
    """All three kinds of states of a fluid."""
    handle = refrigerant(fluid, "", False)
    density, _ = _single_phase("density", handle, states.at_density(handle, fluid), one, other)
    pressure, kept = _single_phase("pressure", handle, states.at_pressure(handle, fluid), one, other)
    saturation, share = _saturation(handle, fluid, one, other)
    return Comparison(fluid, name, one.key, density, pressure, saturation, kept, share)


@cache
def fluids() -> tuple[str, ...]:
    """All fluids of the package with an equation of their own, older ones as "A by B"."""
    found = []
    for name in interstage.names():
        if name in interstage.blends():
            continue
        _default, *rest = interstage.Refrigerant(name).equations
        found += [name, *(f"{name} by {equation}" for equation in rest)]
    return tuple(found)


@cache
def as_stored(fluid: str) -> Comparison | None:
    """The library as it is against the package; None where it lacks the fluid."""
    handle = refrigerant(fluid, "", False)
    name = name_of(handle)
    return None if name is None else compare(fluid, Library(name, older(fluid)), Ours(handle), name)


@cache
def as_printed(fluid: str) -> Comparison:
    """The library with the constants of the paper against the package."""
    handle = refrigerant(fluid, "", False)
    name = name_of(handle)
    return compare(fluid, Library(name, CORRECTIONS[fluid].change), Ours(handle), name)


@cache
def expected(fluid: str) -> Comparison:
    """The library as it is against itself with the constants of the paper: the package has no part in it."""
    name = name_of(refrigerant(fluid, "", False))
    return compare(fluid, Library(name), Library(name, CORRECTIONS[fluid].change), name)

"""Which of the library's constants the papers' own check tables ask for.

The printed values of a fluid are computed by the library alone, once with the constants it stores and once
with the printed ones. Enthalpies and entropies are counted where the table has saturated liquid at 0 degC
for its zero.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from . import published
from .corrections import CORRECTIONS
from .library import Library, Refused, Values, name_of

_NAMES = {
    "pressure": "p",
    "density": "rho",
    "enthalpy": "h",
    "entropy": "s",
    "cp": "cp",
    "cv": "cv",
    "speed_of_sound": "w",
}
_AT_0_DEGC = {"enthalpy": 200e3, "entropy": 1000.0}


class Evidence(NamedTuple):
    """Printed values that the library can compute, and how many it misses by more than their tolerance."""

    values: int
    missed_as_stored: int
    missed_as_printed: int


def _state(library: Library, fixed: dict[str, str], molar_mass: float) -> Values:
    warm = published.temperature(fixed)
    if "phase" in fixed:
        liquid = fixed["phase"] == "saturated liquid"
        if warm is None:
            raise Refused("saturation at a pressure: the library's fit of it has the stored gas constant")
        line = library.saturated(warm)
        found = library.at_density(
            warm, line.rho_liquid if liquid else line.rho_vapor, "liquid" if liquid else "gas"
        )
        return found._replace(p=line.p_bubble if library.is_blend and liquid else line.p_of_vapor)
    rho = published.density(fixed, molar_mass)
    if rho is None:
        return library.at_pressure(warm, float(fixed["pressure_pa"]))
    return library.at_density(warm, rho)


def _off(library: Library, row: dict[str, str], molar_mass: float) -> float:
    """A row's deviation in units of its tolerance."""
    name = row["property"]
    found = getattr(_state(library, published.given(row), molar_mass), _NAMES[name])
    if name in _AT_0_DEGC:
        line = library.saturated(published.ZERO_CELSIUS)
        zero = library.at_density(published.ZERO_CELSIUS, line.rho_liquid, "liquid")
        found += _AT_0_DEGC[name] - getattr(zero, _NAMES[name])
    if row["unit"] in ("J/mol", "J/(mol K)"):
        found *= molar_mass
    elif row["unit"] == "mol/m3":
        found /= molar_mass
    return abs(found - float(row["expected"])) / float(row["tolerance"])


@cache
def evidence(fluid: str) -> Evidence:
    """Counts for a fluid of the corrections."""
    handle = published.refrigerant(fluid, "", False)
    name = name_of(handle)
    stored, printed = Library(name), Library(name, CORRECTIONS[fluid].change)
    values, missed = 0, [0, 0]
    for row in published.read("check_values.csv"):
        zero = row["reference"] == "liquid at 0 degC" or row["property"] not in _AT_0_DEGC
        if row["fluid"] != fluid or not zero:
            continue
        try:
            off = [_off(library, row, handle.molar_mass) for library in (stored, printed)]
        except Refused:
            continue
        values += 1
        missed = [count + (share > 1.0) for count, share in zip(missed, off, strict=True)]
    return Evidence(values, *missed)

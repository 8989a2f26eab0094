"""The printed values of `tests/data`, recomputed through the package."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import NamedTuple

import interstage

DATA = Path(__file__).parents[1] / "data"
FILES = ("check_values.csv", "published_checks.csv", "transport_values.csv")

ZERO_CELSIUS = 273.15
#: A density of 0 stands for the ideal-gas limit, taken at this density in mol/m3.
VANISHING = 1e-8

#: Rows that no handle reaches, and where they are tested instead.
OUT_OF_REACH = {
    "r1336mzze-02-": "a state of R-1336mzz(E) at 22.7 MPa, beyond the range of the extrapolating handle; "
    "a test beside the equation, `src/helmholtz/equation.rs`, has its values",
}

ATTRIBUTES = {
    "temperature": "T",
    "pressure": "p",
    "density": "rho",
    "enthalpy": "h",
    "entropy": "s",
    "internal_energy": "u",
    "quality": "x",
    "viscosity": "viscosity",
    "thermal conductivity": "thermal_conductivity",
    "cp": "cp",
    "cv": "cv",
    "speed_of_sound": "speed_of_sound",
    "joule_thomson": "joule_thomson",
}
#: Enthalpies, entropies and temperatures in degC have an arbitrary zero: a relative deviation of theirs
#: counts against at least this, as in the tests of the core.
LEAST = {"enthalpy": 100e3, "internal_energy": 100e3, "enthalpy_of_vaporization": 100e3}
LEAST |= {"entropy": 500.0, "entropy_of_vaporization": 500.0}


class Outcome(NamedTuple):
    """What became of one printed value."""

    file: str
    id: str
    fluid: str
    source: str
    kind: str
    property: str
    expected: float
    tolerance: float
    #: None where no handle reaches the state.
    got: float | None
    #: Whether the state lies beyond the limits of the equation and needs an extrapolating handle.
    beyond: bool
    scale: float

    @property
    def deviation(self) -> float:
        """How far the package is off, in the unit of the row."""
        if self.got is None:
            raise ValueError(f"{self.id} was not reached")
        return abs(self.got - self.expected)

    @property
    def share(self) -> float:
        """The deviation in units of the tolerance."""
        return self.deviation / self.tolerance

    @property
    def relative(self) -> float:
        """The deviation relative to the value."""
        return self.deviation / self.scale


def read(file: str) -> list[dict[str, str]]:
    """The rows of a table."""
    with (DATA / file).open(newline="") as lines:
        return list(csv.DictReader(lines, delimiter=";", strict=True))


@cache
def refrigerant(name: str, reference: str, extrapolate: bool) -> interstage.Refrigerant:
    """The handle for the fluid and reference of a row: "A by B" is fluid A by the older equation B."""
    designation, _, equation = name.partition(" by ")
    return interstage.Refrigerant(
        designation, reference=reference or None, equation=equation or None, extrapolate=extrapolate
    )


def given(row: dict[str, str]) -> dict[str, str]:
    """What fixes the state of a row, by name."""
    pairs = ((row.get(f"given{k}", ""), row.get(f"value{k}", "")) for k in (1, 2, 3))
    return {name: value for name, value in pairs if name}


def temperature(fixed: dict[str, str]) -> float | None:
    """Temperature in K, given in K or in degC."""
    if "temperature_k" in fixed:
        return float(fixed["temperature_k"])
    return float(fixed["temperature_degc"]) + ZERO_CELSIUS if "temperature_degc" in fixed else None


def density(fixed: dict[str, str], molar_mass: float) -> float | None:
    """Density in kg/m3, given by mass or by amount of substance."""
    if "molar_density_mol_m3" in fixed:
        return (float(fixed["molar_density_mol_m3"]) or VANISHING) * molar_mass
    return float(fixed["density_kg_m3"]) if "density_kg_m3" in fixed else None


def state(handle: interstage.Refrigerant, fixed: dict[str, str]) -> interstage.State:
    """The state that a row describes."""
    if "outlet_pressure_pa" in fixed:
        if "inlet_saturated_liquid_pressure_pa" in fixed:
            inlet = handle.saturation(p=float(fixed["inlet_saturated_liquid_pressure_pa"])).liquid
        else:
            warm = float(fixed["inlet_temperature_degc"]) + ZERO_CELSIUS
            inlet = handle.state(p=float(fixed["inlet_pressure_pa"]), T=warm)
        return handle.state(p=float(fixed["outlet_pressure_pa"]), h=inlet.h)
    found = {"T": temperature(fixed), "rho": density(fixed, handle.molar_mass)}
    found["p"] = float(fixed["pressure_pa"]) if "pressure_pa" in fixed else None
    arguments = {name: value for name, value in found.items() if value is not None}
    if "phase" not in fixed:
        return handle.state(**arguments)
    saturation = handle.saturation(**arguments)
    return {"saturated liquid": saturation.liquid, "saturated vapor": saturation.vapor}[fixed["phase"]]


def value(handle: interstage.Refrigerant, at: interstage.State, name: str, unit: str) -> float:
    """A property of a state in the unit of its row."""
    if name in ("enthalpy_of_vaporization", "entropy_of_vaporization"):
        latent = handle.saturation(T=at.T).latent_heat
        found = latent if name.startswith("enthalpy") else latent / at.T
    elif name == "specific_volume":
        found = 1.0 / at.rho
    else:
        found = getattr(at, ATTRIBUTES[name])
    if found is None:
        raise ValueError(f"{name} has no value in {at}")
    if unit == "degC":
        return found - ZERO_CELSIUS
    if unit in ("J/mol", "J/(mol K)"):
        return found * handle.molar_mass
    return found / handle.molar_mass if unit == "mol/m3" else found


def nearest(handle: interstage.Refrigerant, row: dict[str, str], expected: float) -> float:
    """A transport property, nearest to the printed one for densities within half a unit of the last digit."""
    fixed = given(row)
    warm = temperature(fixed)
    if row["property"] == "surface tension":
        return handle.surface_tension(T=warm)
    middle = density(fixed, handle.molar_mass)
    half = float(row["half_unit2"]) / max(float(row["value2"]), 1e-300)
    found = []
    for rho in (middle * (1.0 - half), middle, middle * (1.0 + half)):
        at = handle.state(T=warm, rho=rho)
        if at.phase != "two-phase":
            found.append(value(handle, at, row["property"], row["unit"]))
    return min(max(expected, min(found)), max(found))


def outcome(file: str, row: dict[str, str]) -> Outcome:
    """One row, recomputed."""
    expected, tolerance = float(row["expected"]), float(row["tolerance"])
    name, unit, reference = row["property"], row["unit"], row.get("reference", "")
    scale = max(abs(expected), 50.0 if unit == "degC" else LEAST.get(name, 0.0))
    if unit in ("J/mol", "J/(mol K)"):
        scale = max(abs(expected), LEAST.get(name, 0.0) * refrigerant(row["fluid"], "", False).molar_mass)
    if row.get("relative"):
        tolerance = max(tolerance, float(row["relative"]) * scale)
    got, beyond = None, False
    for extrapolate in (False, True):
        handle = refrigerant(row["fluid"], reference, extrapolate)
        try:
            if file == "transport_values.csv":
                got = nearest(handle, row, expected)
            else:
                got = value(handle, state(handle, given(row)), name, unit)
            beyond = extrapolate
            break
        except interstage.OutOfRange:
            continue
    if got is None and not any(row["id"].startswith(prefix) for prefix in OUT_OF_REACH):
        raise ValueError(f"{row['id']} is out of reach and not listed as such")
    source = ", ".join(part for part in (row["source"], row.get("table", "")) if part not in ("", "-"))
    kind = row.get("kind") or ("transport" if file == "transport_values.csv" else "equation of state")
    scale = scale or tolerance
    return Outcome(file, row["id"], row["fluid"], source, kind, name, expected, tolerance, got, beyond, scale)


@cache
def outcomes() -> tuple[Outcome, ...]:
    """Every printed value of the three tables."""
    return tuple(outcome(file, row) for file in FILES for row in read(file))

"""The catalogue of refrigerants as a table."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from interstage import _core

_REPORTS = ("AR4", "AR5", "AR6")


def catalogue() -> Any:
    """Every refrigerant there is by a name, with its main data, as a table.

    A row for each of ``interstage.names()``: what ``interstage.Refrigerant(name)`` gives.

    Returns
    -------
    pandas.DataFrame or dict of str to list
        A DataFrame with the designations as its index; without pandas a dictionary of columns, the first of
        which is ``designation``. Missing data are NaN or None. The columns are:

        - ``chemical_name``, ``formula``, ``cas``, ``molar_mass [kg/mol]``;
          ``composition``: of a blend, in mass fractions
        - ``model``: ``"pure"``, ``"pseudo-pure"`` (one equation for a blend of fixed composition) or
          ``"mixture"`` (the equations of its components)
        - ``critical_temperature [K]``, ``critical_pressure [Pa]``, ``critical_density [kg/m3]``,
          ``triple_temperature [K]``, ``triple_pressure [Pa]``, ``normal_boiling_point [K]`` and
          ``normal_dew_point [K]``, which differ for a blend
        - ``minimum_temperature [K]``, ``maximum_temperature [K]``, ``maximum_pressure [Pa]``: what the
          authors of the equation of state vouch for; ``uncertainty``: as they state it; ``citation`` and
          ``doi``: their paper, of a mixture the first of its ``citations``
        - ``safety_class``, ``odp``, ``gwp_ar4``, ``gwp_ar5``, ``gwp_ar6``: dimensionless, GWP over 100 years;
          ``gwp_upper_limits`` names the reports that give only an upper limit, which then stands in the
          column; ``environment_note``: what else is to be said about them
        - ``validity_source``, ``uncertainty_source``, ``safety_source``, ``odp_source``, ``gwp_source``:
          where these data were read
        - ``equation``: its authors and year; ``older_equations``: others to be had by name
        - ``viscosity``, ``thermal_conductivity``, ``surface_tension``: the papers of the correlations

    Examples
    --------
    >>> import interstage
    >>> table = interstage.catalogue()
    >>> float(table.loc["R-134a", "gwp_ar5"])
    1300.0
    >>> list(table.index[table["gwp_ar6"].lt(10) & table["safety_class"].eq("A1")])
    ['R-718', 'R-744', 'R-1233zd(E)', 'R-1336mzz(Z)']
    """
    rows = [_row(_core.Refrigerant(name)) for name in _core.names()]
    columns = {name: [row[name] for row in rows] for name in rows[0]}
    try:
        pandas = import_module("pandas")
    except ImportError:
        return columns
    return pandas.DataFrame(columns).set_index("designation")


def _dew_point(refrigerant: _core.Refrigerant) -> float | None:
    if refrigerant.normal_boiling_point is None:
        return None
    return refrigerant.saturation(p=101325.0).T


def _written(composition: dict[str, float] | None) -> str | None:
    if composition is None:
        return None
    return ", ".join(f"{name} {part:g}" for name, part in composition.items())


def environment_columns(environment: _core.Environment) -> dict[str, Any]:
    """Safety class, ozone depletion and global warming with their sources, as the catalogue shows them."""
    potentials = (environment.gwp_ar4, environment.gwp_ar5, environment.gwp_ar6)
    limits = [report for report, gwp in zip(_REPORTS, potentials, strict=True) if isinstance(gwp, str)]
    ar4, ar5, ar6 = (float(gwp.removeprefix("<")) if isinstance(gwp, str) else gwp for gwp in potentials)
    return {
        "safety_class": environment.safety_class,
        "safety_source": environment.safety_source,
        "odp": environment.odp,
        "odp_source": environment.odp_source,
        "gwp_ar4": ar4,
        "gwp_ar5": ar5,
        "gwp_ar6": ar6,
        "gwp_upper_limits": ", ".join(limits),
        "gwp_source": environment.gwp_source,
        "environment_note": environment.note,
    }


def _row(refrigerant: _core.Refrigerant) -> dict[str, Any]:
    return {
        "designation": refrigerant.name,
        "chemical_name": refrigerant.chemical_name,
        "formula": refrigerant.formula,
        "cas": refrigerant.cas,
        "composition": _written(refrigerant.composition),
        "model": refrigerant.model,
        "molar_mass [kg/mol]": refrigerant.molar_mass,
        "critical_temperature [K]": refrigerant.critical_temperature,
        "critical_pressure [Pa]": refrigerant.critical_pressure,
        "critical_density [kg/m3]": refrigerant.critical_density,
        "triple_temperature [K]": refrigerant.triple_temperature,
        "triple_pressure [Pa]": refrigerant.triple_pressure,
        "normal_boiling_point [K]": refrigerant.normal_boiling_point,
        "normal_dew_point [K]": _dew_point(refrigerant),
        "minimum_temperature [K]": refrigerant.minimum_temperature,
        "maximum_temperature [K]": refrigerant.maximum_temperature,
        "maximum_pressure [Pa]": refrigerant.maximum_pressure,
        "validity_source": refrigerant.validity_source,
        "uncertainty": refrigerant.uncertainty,
        "uncertainty_source": refrigerant.uncertainty_source,
        "equation": refrigerant.equation,
        "older_equations": ", ".join(refrigerant.equations[1:]),
        "citation": str(refrigerant.citation),
        "doi": refrigerant.citation.doi,
        **environment_columns(refrigerant.environment),
        **{of: citation and str(citation) for of, citation in refrigerant.transport_citations.items()},
    }

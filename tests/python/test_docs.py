"""Documentation: everything has some, with units, and its examples run."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import interstage
from interstage import _core

#: What a dimensional getter says.
UNIT = re.compile(
    r", m\.|1/s|\bK\b|\bPa\b|J/kg|J/\(kg K\)|kg/m3|kg/kg|m/s|m3/s|kg/s|\bW\b|1/Pa|1/K|K/Pa|kg/mol|"
    r"\bPa s\b|W/\(m K\)|dimensionless|kW per ton"
)
#: Getters of texts, objects and ratios without a unit.
UNITLESS = {
    "arrangement",
    "chiller",
    "circuit",
    "circuits",
    "condensers",
    "cycles",
    "evaporators",
    "point",
    "water_paths",
    "carnot_cop",
    "cas",
    "chemical_name",
    "citation",
    "citations",
    "component_pairs",
    "compositions",
    "condensing",
    "cop",
    "desuperheating",
    "efficiency",
    "energy_closure",
    "environment",
    "equation",
    "equations",
    "extrapolates",
    "formula",
    "gwp_source",
    "injection_taken",
    "interstage_pressures",
    "interstages",
    "kind",
    "liquid",
    "liquid_composition",
    "mass_closure",
    "model",
    "mole_fractions",
    "name",
    "names",
    "note",
    "odp_source",
    "options",
    "path",
    "phase",
    "points",
    "quality",
    "reference",
    "refrigerant",
    "safety_class",
    "safety_source",
    "species_closure",
    "stage_wet",
    "stages",
    "standard",
    "state",
    "status",
    "subcooling",
    "tank_separation",
    "transport_citations",
    "uncertainty",
    "uncertainty_source",
    "validity_source",
    "vapor",
    "vapor_composition",
    "vessel",
    "x",
}
MODULES = sorted(
    module.name
    for module in pkgutil.iter_modules(interstage.__path__, "interstage.")
    if module.name != "interstage._core"
)
OURS = [
    getattr(interstage, name)
    for name in (
        "Citation",
        "Environment",
        "Refrigerant",
        "State",
        "States",
        "Saturation",
        "Saturations",
        "Stage",
        "FlashTank",
        "IntercooledTank",
        "ClosedEconomizer",
        "LiquidInjection",
        "Direct",
        "ExergyLedger",
        "Chiller",
        "ChillerPoint",
        "ChillerPoints",
        "DesignPoint",
        "Working",
        "Circuit",
        "Cycle",
        "Cycles",
        "Study",
        "EquivalentExpander",
        "Point",
        "Points",
        "CondenserZones",
        "Exchanger",
        "HeatExchange",
        "Impeller",
        "RatingConditions",
        "StageDuty",
        "VariableUa",
        "WaterFlow",
    )
]


def members(cls):
    return {name: value for name, value in inspect.getmembers(cls) if not name.startswith("_")}


@pytest.mark.parametrize("name", ["interstage", *MODULES])
def test_examples_run(name):
    module = importlib.import_module(name)
    result = doctest.testmod(module)
    assert result.failed == 0


def test_examples_of_the_compiled_module_are_found():
    finder = doctest.DocTestFinder(exclude_empty=True)
    found = {test.name for test in finder.find(interstage) if test.examples}
    expected = {"interstage.Refrigerant", "interstage.Refrigerant.state", "interstage.Circuit.solve"}
    expected |= {"interstage.Citation.bibtex", "interstage.Refrigerant.surface_tension"}
    assert expected <= found


@pytest.mark.parametrize("function", [value for value in vars(_core).values() if inspect.isbuiltin(value)])
def test_examples_of_functions_run(function):
    assert function.__doc__ or function.__name__.startswith("_")
    runner = doctest.DocTestRunner()
    for test in doctest.DocTestFinder().find(function, function.__name__, globs={"interstage": interstage}):
        assert runner.run(test).failed == 0


@pytest.mark.parametrize("cls", OURS, ids=lambda cls: cls.__name__)
def test_everything_is_documented(cls):
    assert cls.__doc__
    assert ">>>" in cls.__doc__
    for name, value in members(cls).items():
        assert value.__doc__, f"{cls.__name__}.{name}"
        if inspect.isdatadescriptor(value) and name not in UNITLESS and cls is not interstage.Citation:
            assert UNIT.search(value.__doc__), f"{cls.__name__}.{name}: {value.__doc__}"


@pytest.mark.parametrize("name", interstage.units.__all__[1:])
def test_conversions_say_their_units(name):
    text = getattr(interstage.units, name).__doc__
    assert "Parameters\n----------\n" in text
    assert "Returns\n-------\n" in text


def test_everything_public_is_exported():
    public = {
        name for name in vars(_core) if not name.startswith("_") and name not in interstage.units.__all__
    }
    assert public - {"Brine", "TrendAnalysis", "TrendTable"} <= set(interstage.__all__)
    for name in interstage.__all__:
        assert hasattr(interstage, name)


def test_the_distribution_names_its_authors():
    from importlib.metadata import metadata

    assert metadata("interstage")["Author"] == "interstage contributors"


def test_the_version_is_that_of_the_distribution():
    from importlib.metadata import version

    assert interstage.__version__ == version("interstage")

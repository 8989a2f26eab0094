"""Viscosity, thermal conductivity, Prandtl number and surface tension: printed values, columns, refusals."""

import csv
import re
from pathlib import Path

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage
from interstage import _core

DATA = Path(__file__).parents[1] / "data"
PROPERTIES = ("viscosity", "thermal_conductivity", "prandtl_number")


def rows(surface_tension):
    """Rows of the printed values; those by molar density are bare correlations, for the tests of the core."""
    with (DATA / "transport_values.csv").open() as file:
        found = list(csv.DictReader(file, delimiter=";"))
    given = "" if surface_tension else "density_kg_m3"
    kind = [row for row in found if (row["property"] == "surface tension") == surface_tension]
    return [row for row in kind if row["given1"] == "temperature_k" and row["given2"] == given]


def case(row):
    return row["id"]


@pytest.fixture(scope="module")
def water():
    return interstage.Refrigerant("R-718")


@pytest.mark.parametrize("row", rows(surface_tension=False), ids=case)
def test_published_values(row):
    refrigerant = interstage.Refrigerant(row["fluid"], extrapolate=True)
    attribute = row["property"].replace(" ", "_")
    T, rho, width = (float(row[key]) for key in ("value1", "value2", "half_unit2"))
    # The density is printed with few digits: the expected value lies among those of its ends.
    states = [refrigerant.state(T=T, rho=density) for density in (rho - width, rho, rho + width)]
    found = [getattr(state, attribute) for state in states if state.phase != "two-phase"]
    assert found
    tolerance = float(row["tolerance"])
    assert min(found) - tolerance <= float(row["expected"]) <= max(found) + tolerance
    column = refrigerant.state(T=[T] * 3, rho=[rho - width, rho, rho + width])
    assert [value for value in getattr(column, attribute) if not np.isnan(value)] == found


@pytest.mark.parametrize("row", rows(surface_tension=True), ids=case)
def test_published_surface_tensions(row):
    refrigerant = interstage.Refrigerant(row["fluid"], extrapolate=True)
    T, expected, tolerance = (float(row[key]) for key in ("value1", "expected", "tolerance"))
    found = refrigerant.surface_tension(T=T)
    assert type(found) is float
    assert found == pytest.approx(expected, rel=0, abs=tolerance)
    assert refrigerant.surface_tension(T=[T]).tolist() == [found]


def test_enough_published_values_are_read():
    enough = 85, 30
    assert (len(rows(surface_tension=False)), len(rows(surface_tension=True))) > enough
    assert len({row["fluid"] for row in rows(surface_tension=True)}) > 20


def test_the_prandtl_number_is_made_of_its_parts(r134a):
    for state in (r134a.state(p=1e6, T=280.0), r134a.saturation(T=300.0).vapor, r134a.state(p=5e6, T=400.0)):
        parts = state.cp * state.viscosity / state.thermal_conductivity
        assert state.prandtl_number == pytest.approx(parts, rel=1e-9)


def test_points_of_a_cycle_have_them():
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
    )
    points = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, power=1e5).points
    for point in points.values():
        assert point.viscosity == point.state.viscosity
    assert points["evaporator_inlet"].viscosity is None


#: Of blends by the mixture model none is published: `test_blends.py`.
WITH_OWN_EQUATION = [name for name in interstage.names() if name not in interstage.blends()]


@pytest.mark.parametrize("name", WITH_OWN_EQUATION)
def test_what_is_not_published_is_refused_by_name(name):
    refrigerant = interstage.Refrigerant(name)
    citations = refrigerant.transport_citations
    assert list(citations) == ["viscosity", "thermal_conductivity", "surface_tension"]
    vapor = refrigerant.saturation(T=0.8 * refrigerant.critical_temperature).vapor
    both = citations["viscosity"] and citations["thermal_conductivity"]
    for attribute, known in zip(PROPERTIES, (*list(citations.values())[:2], both), strict=True):
        column = refrigerant.state(T=[vapor.T, np.nan], x=1.0)
        if known:
            assert getattr(vapor, attribute) > 0
            assert getattr(column, attribute)[0] == pytest.approx(getattr(vapor, attribute), rel=1e-9)
            continue
        # Whatever the state, and for columns without any.
        for states in (vapor, refrigerant.state(T=vapor.T, x=0.5), column, refrigerant.state(T=[], x=0.5)):
            with pytest.raises(interstage.NotPublished) as raised:
                getattr(states, attribute)
            error = raised.value
            assert error.refrigerant == name
            assert error.property.replace(" ", "_").lower() == attribute
            assert "R-134a" in error.available
            assert name not in error.available
            assert f"of {name}; it has one for {error.available[0]}" in str(error)
    if not citations["surface_tension"]:
        for T in (vapor.T, [vapor.T], []):
            with pytest.raises(interstage.NotPublished, match=f"surface tension of {re.escape(name)};"):
                refrigerant.surface_tension(T=T)


def test_outside_the_range_of_a_correlation():
    # Krauss et al. 1996: 240 K to 440 K; the equation of state goes to 500 K.
    refrigerant = interstage.Refrigerant("R-152a")
    hot = refrigerant.state(p=1e5, T=450.0)
    with pytest.raises(interstage.OutOfRange) as raised:
        _ = hot.viscosity
    assert (raised.value.value, raised.value.maximum, raised.value.unit) == (450.0, 440.0, "K")
    column = refrigerant.state(p=1e5, T=[430.0, 450.0])
    assert column.status.tolist() == [0, 0]
    assert column.viscosity[0] == refrigerant.state(p=1e5, T=430.0).viscosity
    assert np.isnan(column.viscosity[1])
    beyond = interstage.Refrigerant("R-152a", extrapolate=True).state(p=1e5, T=450.0)
    assert beyond.viscosity > column.viscosity[0]


def test_columns_are_those_of_single_states(r134a):
    states = r134a.state(p=np.linspace(200e3, 900e3, 600), h=np.linspace(170e3, 450e3, 600))
    assert {"liquid", "vapor", "two-phase"} == set(states.phase)
    for attribute in PROPERTIES:
        column = getattr(states, attribute)
        assert column.shape == (600,)
        for found, state in zip(column, states, strict=True):
            single = getattr(state, attribute)
            assert np.isnan(found) if single is None else found == single
        with pytest.raises(ValueError, match="read-only"):
            column[0] = 1.0


def test_rows_without_result_have_no_transport_properties(r134a):
    states = r134a.state(p=[300e3, np.nan, np.inf, -1.0], T=300.0)
    for attribute in PROPERTIES:
        assert np.isnan(getattr(states, attribute)).tolist() == [False, True, True, True]


def test_saturated_columns(r134a):
    saturation = r134a.saturation(T=np.array([[270.0, 500.0], [300.0, 310.0]]))
    liquid = saturation.liquid.viscosity
    assert liquid.shape == (2, 2)
    assert liquid[1, 0] == r134a.saturation(T=300.0).liquid.viscosity
    assert np.isnan(liquid[0, 1])
    assert (liquid > 5 * saturation.vapor.viscosity).tolist() == [[True, False], [True, True]]


def test_containers(r134a):
    index = pd.Index(["a", "b"], name="row")
    series = r134a.state(p=pd.Series([1e5, 300e3], index=index), x=[1.0, 0.5]).viscosity
    assert isinstance(series, pd.Series)
    assert series.index.equals(index)
    assert series.name == "viscosity"
    assert series.isna().tolist() == [False, True]
    series = r134a.state(p=pl.Series([1e5, 300e3]), x=[1.0, 0.5]).prandtl_number
    assert isinstance(series, pl.Series)
    assert series.is_nan().to_list() == [False, True]


def test_surface_tension_of_columns(water):
    expected = [water.surface_tension(T=300.0), water.surface_tension(T=400.0)]
    assert expected[0] > expected[1] > 0
    for T in ([300.0, 400.0], (300, 400), np.array([300.0, 400.0]), range(300, 401, 100)):
        found = water.surface_tension(T=T)
        assert isinstance(found, np.ndarray)
        assert found.tolist() == expected
    assert water.surface_tension(T=np.array([[300.0], [400.0]])).shape == (2, 1)
    assert water.surface_tension(T=[]).shape == (0,)
    series = water.surface_tension(T=pd.Series([400.0, 300.0], index=[5, 7]))
    assert series.to_dict() == {5: expected[1], 7: expected[0]}
    assert series.name == "surface_tension"
    assert water.surface_tension(T=pl.Series([300.0, 400.0])).to_list() == expected
    frozen = water.surface_tension(T=[300.0])
    with pytest.raises(ValueError, match="read-only"):
        frozen[0] = 1.0


def test_bad_rows_of_surface_tension(water):
    T = [300.0, None, np.inf, 100.0, 1e4, -1.0]
    assert np.isnan(water.surface_tension(T=T)).tolist() == [False, True, True, True, True, True]
    with pytest.raises(interstage.NotFinite, match=r"^row 1: T is missing"):
        water.surface_tension(T=T, errors="raise")
    with pytest.raises(interstage.OutOfRange, match=r"^row 2: T 100 K") as raised:
        water.surface_tension(T=[300.0, 400.0, 100.0], errors="raise")
    assert raised.value.row == 2
    assert raised.value.minimum == water.minimum_saturation_temperature


def test_surface_tension_vanishes_at_the_critical_point(water):
    assert water.surface_tension(T=water.critical_temperature) == pytest.approx(0.0, abs=1e-9)
    assert water.surface_tension(T=700.0) == 0.0


@pytest.mark.parametrize("T", [True, "300", None, np.datetime64("2020-01-01"), [True, False], ["300"]])
def test_no_temperatures_are_refused(water, T):
    with pytest.raises(interstage.WrongArgument, match=r"^T must be a number or a column of numbers"):
        water.surface_tension(T=T)


def test_arguments_of_surface_tension(water):
    with pytest.raises(TypeError):
        water.surface_tension()
    with pytest.raises(TypeError):
        water.surface_tension(300.0)
    with pytest.raises(interstage.UnknownOption, match='errors must be "status" or "raise"'):
        water.surface_tension(T=[300.0], errors="ignore")
    for T in (np.nan, np.inf):
        with pytest.raises(interstage.NotFinite):
            water.surface_tension(T=T)
    with pytest.raises(interstage.OutOfRange, match=r"T 100 K is outside 273\.16 to"):
        water.surface_tension(T=100.0)


def test_kernels_refuse_what_does_not_fit(r134a):
    two, three = np.ones(2), np.ones(3)
    codes = np.zeros(2, dtype=np.uint8)
    with pytest.raises(interstage.WrongLength):
        _core._transport(r134a, "viscosity", two, three, two, codes)
    with pytest.raises(interstage.UnknownOption, match="property must be"):
        _core._transport(r134a, "colour", two, two, two, codes)
    with pytest.raises(interstage.UnknownOption, match="of must be"):
        _core._citation("R-134a", "colour")

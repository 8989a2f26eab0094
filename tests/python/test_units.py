"""Conversions: every function of the core, for numbers and columns."""

import inspect
import math

import numpy as np
import pytest

import interstage
from interstage import units

FUNCTIONS = [name for name in units.__all__ if name != "STANDARD_ATMOSPHERE"]
PAIRS = [name for name in FUNCTIONS if "_from_" in name and name != "standard_barometer_from_altitude"]


def back(name):
    to, of = name.split("_from_")
    return f"{of}_from_{to}"


def arguments(name):
    return list(inspect.signature(getattr(units, name)).parameters)


def test_all_functions_are_there():
    assert len(FUNCTIONS) == 67
    assert units.STANDARD_ATMOSPHERE == 101325.0


@pytest.mark.parametrize("name", PAIRS)
def test_there_and_back(name):
    there, again = getattr(units, name), getattr(units, back(name))
    others = [90000.0] * (len(arguments(name)) - 1)
    for value in (0.5, 12.0, 400.0):
        assert again(there(value, *others), *others) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_columns_are_converted_like_numbers(name):
    function = getattr(units, name)
    others = [np.float64(90000.0)] * (len(arguments(name)) - 1)
    column = np.array([1.0, 20.0, math.nan, 300.0])
    expected = [function(value, *others) for value in column.tolist()]
    np.testing.assert_array_equal(function(column, *others), expected)
    np.testing.assert_array_equal(function([1.0, 20.0, None, 300], *others), expected)
    np.testing.assert_array_equal(function(np.repeat(column, 2)[::2], *others), expected)
    np.testing.assert_array_equal(function(column.reshape(2, 2), *others), np.reshape(expected, (2, 2)))
    if others:
        np.testing.assert_array_equal(function(column, np.full(4, 90000.0)), expected)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_arguments_are_named_after_their_unit(name):
    first, *others = arguments(name)
    if name != "standard_barometer_from_altitude":
        assert name.endswith(f"_from_{first}")
    assert others in ([], ["barometer"])
    value = getattr(units, name)(**{first: 50.0}, **dict.fromkeys(others, 90000.0))
    assert type(value) is float


def test_definitions():
    # The definitions behind these are in the documentation of the core: NIST SP 811, appendix B.
    assert units.kelvin_from_celsius(0.0) == 273.15
    assert units.kelvin_from_fahrenheit(212.0) == pytest.approx(373.15, rel=1e-15)
    assert units.kelvin_difference_from_fahrenheit_difference(9.0) == pytest.approx(5.0, rel=1e-15)
    assert units.pascal_from_psia(1.0) == pytest.approx(6894.757, abs=5e-4)
    assert units.pascal_from_psig(0.0, 90000.0) == 90000.0
    assert units.pascal_from_inhg_vacuum(0.0, 90000.0) == 90000.0
    assert units.watt_from_ton(1.0) == pytest.approx(3516.853, abs=5e-4)
    assert units.kw_per_ton_from_cop(3.516853) == pytest.approx(1.0, abs=2e-7)
    assert units.standard_barometer_from_altitude(0.0) == 101325.0


def test_nan_gives_nan():
    assert math.isnan(units.kelvin_from_celsius(math.nan))
    assert math.isnan(units.standard_barometer_from_altitude(20_000.0))


def test_gauge_needs_a_barometer():
    with pytest.raises(TypeError, match="barometer"):
        units.pascal_from_psig(10.0)
    with pytest.raises(interstage.WrongLength, match="barometer has 3 rows where psig has 2"):
        units.pascal_from_psig([1.0, 2.0], [90000.0] * 3)
    with pytest.raises(TypeError, match="barometer must be a number"):
        units.pascal_from_psig(1.0, "sea level")
    assert units.pascal_from_psig(0.0, np.array([1e5, 9e4])).tolist() == [1e5, 9e4]

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
    assert len(FUNCTIONS) == 69
    assert units.STANDARD_ATMOSPHERE == 101325.0


@pytest.mark.parametrize("name", PAIRS)
def test_there_and_back(name):
    there, again = getattr(units, name), getattr(units, back(name))
    others = [90000.0] * (len(arguments(name)) - 1)
    for value in (0.5, 12.0, 20.0 if name == "pascal_from_inhg_vacuum" else 400.0):
        assert again(there(value, *others), *others) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_columns_are_converted_like_numbers(name):
    function = getattr(units, name)
    others = [np.float64(90000.0)] * (len(arguments(name)) - 1)
    column = np.array([1.0, 20.0, math.nan, 25.0 if name == "pascal_from_inhg_vacuum" else 300.0])
    expected = [function(value, *others) for value in column.tolist()]
    np.testing.assert_array_equal(function(column, *others), expected)
    np.testing.assert_array_equal(function([1.0, 20.0, None, column[3]], *others), expected)
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
    value = getattr(units, name)(**{first: 25.0}, **dict.fromkeys(others, 90000.0))
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


def test_nothing_is_below_absolute_zero():
    sea = 101325.0
    for name, value, barometer, limit in [
        ("kelvin_from_celsius", -300.0, [], -273.15),
        ("kelvin_from_fahrenheit", -460.0, [], -459.67),
        ("celsius_from_kelvin", -5.0, [], 0.0),
        ("pascal_from_psia", -1.0, [], 0.0),
        ("kilopascal_from_pascal", -1.0, [], 0.0),
        ("pascal_from_psig", -20.0, [sea], -sea / 6894.757),
        ("pascal_from_bar_gauge", -1.1, [sea], -1.01325),
        ("pascal_from_inhg_gauge", -31.0, [sea], -sea / 3386.389),
        ("pascal_from_inhg_vacuum", 31.0, [sea], sea / 3386.389),
        ("psig_from_pascal", -20.0, [sea], 0.0),
    ]:
        function, argument = getattr(units, name), arguments(name)[0]
        with pytest.raises(interstage.OutOfRange) as raised:
            function(value, *barometer)
        error = raised.value
        assert (error.argument, error.value) == (argument, value)
        side = error.minimum if value < error.minimum else error.maximum
        assert side == pytest.approx(limit, rel=1e-6)
        assert str(error).startswith(f"{argument} {value:g} ")
        column = function([value, value, side * (1.0 - 1e-9), math.nan], *barometer)
        assert np.isnan(column).tolist() == [True, True, False, True]
    # A difference may be negative, and absolute zero itself is reached through rounding.
    assert units.kelvin_difference_from_fahrenheit_difference(-900.0) == -500.0
    assert units.pascal_difference_from_bar_difference(-1.0) == -1e5
    assert units.kelvin_from_fahrenheit(-459.67) == pytest.approx(0.0, abs=1e-9)
    assert units.pascal_from_psig(units.psig_from_pascal(0.0, sea), sea) == pytest.approx(0.0, abs=1e-9)


def test_a_vacuum_counts_down_and_a_gauge_up():
    assert units.pascal_from_inhg_gauge(-12.0, 101325.0) == units.pascal_from_inhg_vacuum(12.0, 101325.0)
    assert units.inhg_gauge_from_pascal(101325.0 + 3386.389, 101325.0) == pytest.approx(1.0, rel=1e-6)


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

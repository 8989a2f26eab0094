"""Bad input: refused with a class, an argument and a message that say what is wrong; never a crash."""

import datetime
import decimal
import fractions
import math

import numpy as np
import pandas as pd
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import interstage

REFUSED = [
    True,
    np.True_,
    "1e5",
    b"1e5",
    1e5 + 0j,
    np.complex128(1e5),
    {"p": 1e5},
    {1e5},
    datetime.datetime(2020, 1, 1),
    datetime.timedelta(1),
    np.datetime64("2020-01-01"),
    np.timedelta64(3, "s"),
    np.array(True),
    np.array("1e5"),
    pd.Timestamp("2020-01-01"),
    pd.NaT,
    pd.NA,
    object(),
    (value for value in [1e5]),
    [True, False],
    [1e5, True],
    ["1e5"],
    [1e5, "x"],
    [1e5 + 0j],
    [[1e5], [1e5, 2e5]],
    [datetime.datetime(2020, 1, 1)],
    np.array([True]),
    np.array(["1e5"]),
    np.array([1e5], dtype=complex),
    np.array(["2020-01-01"], dtype="M8[s]"),
    np.array([1], dtype="m8[s]"),
    np.array([1e5, "x"], dtype=object),
    np.ma.array([True, False], mask=[True, False]),
    np.zeros(3, dtype=[("p", float)]),
    pd.Series([True, False]),
    pd.Series([True, None], dtype="boolean"),
    pd.Series(["1e5"]),
    pd.Series(["1e5"], dtype=object),
    pd.Series([1e5, "x"], dtype=object),
    pd.Series(pd.to_datetime(["2020-01-01"])),
    pd.Series(pd.to_datetime(["2020-01-01"]).tz_localize("UTC")),
    pd.Series(pd.to_timedelta([1], unit="s")),
    pd.Series([1e5], dtype="category"),
    pd.DataFrame({"p": [1e5]}),
    pl.Series([True]),
    pl.Series(["1e5"]),
    pl.Series([datetime.datetime(2020, 1, 1)]),
    pl.Series([datetime.timedelta(1)]),
    pl.DataFrame({"p": [1e5]}),
]


@pytest.mark.parametrize("value", REFUSED, ids=lambda value: f"{type(value).__name__}-{value!r:.25}")
def test_what_is_no_number_is_refused_by_name(r134a, circuit, value):
    for call, argument in (
        (lambda: r134a.state(p=value, T=300.0), "p"),
        (lambda: r134a.state(T=300.0, rho=value), "rho"),
        (lambda: r134a.saturation(T=value), "T"),
        (
            lambda: circuit.solve(evaporating_temperature=value, condensing_temperature=310.0, capacity=1e6),
            "evaporating_temperature",
        ),
        (
            lambda: circuit.solve(evaporating_temperature=280.0, condensing_temperature=310.0, power=value),
            "power",
        ),
        (lambda: interstage.units.kelvin_from_celsius(value), "celsius"),
    ):
        with pytest.raises(TypeError) as raised:
            call()
        assert isinstance(raised.value, interstage.WrongArgument)
        assert raised.value.argument == argument
        assert str(raised.value).startswith(f"{argument} must")


@pytest.mark.parametrize("value", [decimal.Decimal("300000"), fractions.Fraction(300000)])
def test_exact_numbers_are_numbers(r134a, value):
    assert r134a.state(p=value, T=300.0) == r134a.state(p=3e5, T=300.0)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 10**400, -(10**400), np.ma.masked])
def test_not_finite(r134a, circuit, value):
    for call in (
        lambda: r134a.state(p=value, T=300.0),
        lambda: r134a.state(p=1e5, h=value),
        lambda: r134a.saturation(T=value),
        lambda: r134a.saturation(p=value),
        lambda: interstage.Stage(polytropic_efficiency=value),
        lambda: circuit.solve(evaporating_temperature=value, condensing_temperature=310.0, capacity=1e6),
    ):
        with pytest.raises(interstage.NotFinite):
            call()


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda r: r.state(p=-1.0, T=300.0), "pressure"),
        (lambda r: r.state(p=0.0, T=300.0), "pressure"),
        (lambda r: r.state(p=1e12, T=300.0), "pressure"),
        (lambda r: r.state(p=1e5, T=1.0), "temperature"),
        (lambda r: r.state(p=1e5, T=1e4), "temperature"),
        (lambda r: r.state(T=280.0, x=1.5), "quality"),
        (lambda r: r.state(T=280.0, x=-1e-9), "quality"),
        (lambda r: r.state(p=1e5, h=1e9), "enthalpy"),
        (lambda r: r.state(T=300.0, rho=-5.0), "density"),
        (lambda r: r.saturation(T=380.0), "temperature"),
        (lambda r: r.saturation(p=5e6), "pressure"),
        (lambda r: r.state(T=380.0, x=0.5), "temperature"),
    ],
)
def test_out_of_range_names_argument_value_and_limits(r134a, call, argument):
    with pytest.raises(interstage.OutOfRange) as raised:
        call(r134a)
    error = raised.value
    assert error.argument == argument
    assert not error.minimum <= error.value <= error.maximum
    assert error.unit in str(error)


def test_contradicting_properties(r134a):
    with pytest.raises(interstage.Inconsistent) as raised:
        r134a.state(h=2e5, s=9e3)
    assert raised.value.arguments == "enthalpy and entropy"


@pytest.mark.parametrize("given", [{}, {"T": 280.0, "p": 3e5}])
def test_saturation_needs_exactly_one(r134a, given):
    with pytest.raises(interstage.WrongArgument, match="exactly one of T and p"):
        r134a.saturation(**given)


@pytest.mark.parametrize("name", [None, 134, b"R-134a", True, ["R-134a"]])
def test_names_are_texts(name):
    with pytest.raises(TypeError, match="name must be a text"):
        interstage.Refrigerant(name)


@pytest.mark.parametrize("name", ["", " ", "R-12345678", "\0", "é" * 1000, "R-134a; R-123", "(((", "\ud800"])
def test_unknown_names(name):
    with pytest.raises((interstage.UnknownRefrigerant, UnicodeEncodeError)):
        interstage.Refrigerant(name)


@pytest.mark.parametrize("extrapolate", [1, 0, "True", None])
def test_switches_are_true_or_false(extrapolate):
    if extrapolate is None:
        assert not interstage.Refrigerant("R-134a", extrapolate=None).extrapolates
        return
    with pytest.raises(TypeError, match="extrapolate must be True or False"):
        interstage.Refrigerant("R-134a", extrapolate=extrapolate)


@pytest.mark.parametrize("errors", ["ignore", "", "Raise"])
def test_errors_option(r134a, errors):
    with pytest.raises(interstage.UnknownOption, match="errors must be"):
        r134a.state(p=[1e5], T=300.0, errors=errors)
    with pytest.raises(interstage.UnknownOption):
        r134a.saturation(T=280.0, errors=errors)


@pytest.mark.parametrize("threads", [0, -1, 5000, 10**30])
def test_thread_counts_in_range(r134a, threads):
    with pytest.raises(interstage.OutOfRange, match="threads"):
        r134a.state(p=[1e5], T=300.0, threads=threads)
    with pytest.raises(interstage.OutOfRange, match="threads"):
        interstage.set_threads(threads)


@pytest.mark.parametrize("threads", [True, 1.5, "2"])
def test_thread_counts_are_whole_numbers(r134a, threads):
    with pytest.raises(TypeError, match="threads must be a whole number"):
        r134a.saturation(T=[280.0], threads=threads)


@pytest.mark.parametrize("code", [7, -1, 255, 300, 10**15])
def test_status_codes(code):
    with pytest.raises(interstage.UnknownOption, match="code must be"):
        interstage.status_text(code)


anything = (
    st.floats() | st.floats(1e3, 1e7) | st.floats(200.0, 500.0) | st.floats(1e5, 6e5) | st.floats(0, 2e3)
)


@settings(max_examples=400, deadline=None)
@given(
    a=anything, b=anything, pair=st.sampled_from(["Tp", "Th", "Ts", "Tx", "Tu", "ph", "ps", "px", "pu", "hs"])
)
def test_any_two_floats_give_a_finite_state_or_an_error(a, b, pair):
    try:
        state = interstage.Refrigerant("R-134a").state(**{pair[0]: a, pair[1]: b})
    except interstage.InterstageError:
        return
    assert all(math.isfinite(getattr(state, name)) for name in ("T", "p", "rho", "h", "s", "u"))

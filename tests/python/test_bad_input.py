"""Bad input: refused with a class, an argument and a message that say what is wrong; never a crash."""

import datetime
import decimal
import fractions
import math
import re

import numpy as np
import pandas as pd
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import interstage

OPERATION = {
    "capacity": 1.0e6,
    "power": 190e3,
    "chilled_water_leaving": 280.0,
    "condenser_water_entering": 302.0,
    "chilled_water_flow": 0.040,
    "condenser_water_flow": 0.050,
    "evaporating_temperature": 278.0,
    "condensing_temperature": 309.5,
}

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
        (lambda r: r.state(p=-1.0, T=300.0), "p"),
        (lambda r: r.state(p=0.0, T=300.0), "p"),
        (lambda r: r.state(p=1e12, T=300.0), "p"),
        (lambda r: r.state(p=1e5, T=1.0), "T"),
        (lambda r: r.state(p=1e5, T=1e4), "T"),
        (lambda r: r.state(T=280.0, x=1.5), "x"),
        (lambda r: r.state(T=280.0, x=-1e-9), "x"),
        (lambda r: r.state(p=1e5, h=1e9), "h"),
        (lambda r: r.state(T=300.0, rho=-5.0), "rho"),
        (lambda r: r.saturation(T=380.0), "T"),
        (lambda r: r.saturation(p=5e6), "p"),
        (lambda r: r.state(T=380.0, x=0.5), "T"),
    ],
)
def test_out_of_range_names_argument_value_and_limits(r134a, call, argument):
    with pytest.raises(interstage.OutOfRange) as raised:
        call(r134a)
    error = raised.value
    assert error.argument == argument
    assert not error.minimum <= error.value <= error.maximum
    assert error.unit in str(error) or error.unit == "-"
    assert str(error).startswith(f"{argument} ")


def test_contradicting_properties(r134a):
    with pytest.raises(interstage.Inconsistent) as raised:
        r134a.state(h=2e5, s=9e3)
    assert raised.value.arguments == "h and s"


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


def test_arguments_are_named_as_they_are_typed(r134a, circuit):
    """A program finds the argument of an error among its own keywords, and so does a reader."""
    solve = {"evaporating_temperature": 280.0, "condensing_temperature": 310.0, "capacity": 1e6}
    for call, argument, message in [
        (lambda: r134a.state(T=math.nan, p=1e5), "T", "T must be a finite number in K, got NaN"),
        (lambda: r134a.state(rho=math.inf, u=1e5), "rho", "rho must be a finite number in kg/m3, got inf"),
        (
            lambda: r134a.saturation(T=500.0),
            "T",
            "T 500 K is outside 169.85 to 374.212 K (R-134a: the saturation line runs from ",
        ),
        (
            lambda: circuit.solve(**{**solve, "evaporating_temperature": math.nan}),
            "evaporating_temperature",
            "evaporating_temperature must be a finite number in K, got NaN",
        ),
        (
            lambda: circuit.solve(**solve, suction_superheat=-1.0),
            "suction_superheat",
            "suction_superheat -1 K is outside 0 to ",
        ),
        (
            lambda: circuit.solve(**{**solve, "capacity": -5.0}),
            "capacity",
            "capacity must be positive, got -5 W",
        ),
        (
            lambda: interstage.Stage(isentropic_efficiency=80),
            "isentropic_efficiency",
            "isentropic_efficiency 80 is outside 0.01 to 1 (",
        ),
        (
            lambda: interstage.Orifice(-1.0),
            "flow_area",
            "flow_area must be positive, got -1 m2",
        ),
    ]:
        with pytest.raises((interstage.OutOfRange, interstage.NotFinite)) as raised:
            call()
        assert raised.value.argument == argument
        assert str(raised.value).startswith(message)
    with pytest.raises(interstage.Inconsistent) as raised:
        circuit.solve(**{**solve, "condensing_temperature": 270.0})
    assert raised.value.arguments == "evaporating_temperature and condensing_temperature"
    assert str(raised.value).startswith("evaporating_temperature and condensing_temperature contradict")


def test_limits_have_few_digits(circuit):
    with pytest.raises(interstage.OutOfRange) as raised:
        circuit.solve(
            evaporating_temperature=278.15, condensing_temperature=310.15, subcooling=300.0, capacity=1e6
        )
    assert re.fullmatch(r"subcooling 300 K is outside 0 to \d+(\.\d{1,3})? K \(.*\)", str(raised.value))


@pytest.mark.parametrize("code", [None, "0", True, [0]])
def test_a_status_is_a_number(code):
    with pytest.raises(interstage.WrongArgument) as raised:
        interstage.status_text(code)
    assert raised.value.argument == "code"
    with pytest.raises(interstage.WrongArgument, match="status must be an element of TrendResult"):
        interstage.remark_text(code)


def test_objects_of_another_class_are_refused_by_name(r134a, circuit):
    liquid = r134a.saturation(T=300.0).liquid
    orifice = interstage.Orifice(1e-3)
    for call, argument, wanted in [
        (lambda: orifice.mass_flow(r134a, [liquid], 1e5), "upstream", "State, got list"),
        (lambda: orifice.mass_flow("R-134a", liquid, 1e5), "refrigerant", "Refrigerant, got str"),
        (
            lambda: interstage.Orifice.calibrated(r134a, None, downstream_pressure=1e5, mass_flow=1.0),
            "upstream",
            "State, got NoneType",
        ),
        (lambda: interstage.isentropic_efficiency(liquid, 1.0), "outlet", "State, got float"),
        (lambda: interstage.polytropic_efficiency({}, liquid), "inlet", "State, got dict"),
        (lambda: circuit.with_refrigerant("R-123"), "refrigerant", "Refrigerant, got str"),
    ]:
        with pytest.raises(interstage.WrongArgument) as raised:
            call()
        assert raised.value.argument == argument
        assert str(raised.value) == f"{argument} must be a {wanted}"


def test_rows_are_whole_numbers_or_slices(r134a):
    states = r134a.state(p=[1e5, 2e5, 3e5], T=300.0)
    for row in ("a", 1.0, None, True, [0], ("a",)):
        with pytest.raises(interstage.WrongArgument, match="a row is given by whole numbers or a slice"):
            states[row]
    with pytest.raises(interstage.WrongArgument, match="a slice is made of whole numbers"):
        states["a":]
    with pytest.raises(interstage.WrongArgument, match="a slice is made of whole numbers"):
        states[::0]
    with pytest.raises(interstage.WrongArgument, match=r"only columns can be sliced, not the shape \(1, 3\)"):
        r134a.state(p=[[1e5, 2e5, 3e5]], T=300.0)[0:1]


@pytest.mark.parametrize("value", [3, None, "x", [3], {"x": 3}, float("nan")], ids=repr)
def test_what_is_of_another_class_is_refused_by_name(circuit, value):
    operation = interstage.Operation(**OPERATION)
    for call, argument in (
        (lambda: interstage.Trend(value, {}), "circuit"),
        (lambda: interstage.smallest_visible(value), "told"),
        (lambda: interstage.added_readings(value, None, "cop", {}), "uncertainty"),
        (lambda: interstage.weigh_evidence(value), "found"),
        (lambda: interstage.why_it_changed(value, operation, operation), "circuit"),
        (lambda: interstage.why_it_changed(circuit, value, operation), "before"),
        (lambda: interstage.why_it_changed(circuit, operation, value), "after"),
        (lambda: interstage.reconcile(value, [[1.0]], None), "values"),
        (lambda: interstage.check_directions(value), "quality"),
        (lambda: interstage.Diagram(value), "refrigerant"),
        (
            lambda: interstage.sweep_pressures(
                value, evaporating_temperature=280, condensing_temperature=300
            ),
            "circuit",
        ),
    ):
        if argument == "values" and value == [3]:
            continue
        with pytest.raises(interstage.WrongArgument) as refused:
            call()
        assert refused.value.argument == argument
        assert argument in str(refused.value)

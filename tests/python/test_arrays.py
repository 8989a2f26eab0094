"""Columns: the same numbers as one by one, with a status for each row, in the container that came in."""

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage
from interstage import _core

VALID = ["Tp", "Th", "Ts", "Tx", "Tu", "ph", "ps", "px", "pu", "hs"]
VALID += [("T", "rho"), ("p", "rho"), ("h", "rho"), ("s", "rho"), ("rho", "u")]
NUMBERS = ("T", "p", "rho", "h", "s", "u", "x")
SLOPES = (
    "cp",
    "cv",
    "speed_of_sound",
    "isentropic_exponent",
    "joule_thomson",
    "compressibility_factor",
    "isothermal_compressibility",
    "thermal_expansion",
)
OK, MISSING, NOT_FINITE, OUT_OF_RANGE, INCONSISTENT = range(5)


def wet(r134a, rows=5):
    """States on both sides of the saturation line and between."""
    return r134a.state(p=np.linspace(200e3, 900e3, rows), h=np.linspace(170e3, 450e3, rows))


@pytest.mark.parametrize("pair", VALID, ids="-".join)
def test_rows_are_those_of_single_calls(r134a, pair):
    first, second = pair
    states = r134a.state(T=np.array([270.0, 290.0, 310.0]), x=np.array([0.1, 0.5, 0.9]))
    if {first, second} == {"T", "p"}:
        states = r134a.state(T=np.array([270.0, 290.0, 310.0]), p=np.array([1e5, 2e6, 3e5]))
    a, b = getattr(states, first), getattr(states, second)
    found = r134a.state(**{first: a, second: b})
    assert isinstance(found, interstage.States)
    for row in range(3):
        single = r134a.state(**{first: a[row], second: b[row]})
        assert found[row] == single
        for name in ("T", "p", "rho", "h", "s", "u"):
            assert getattr(found, name)[row] == getattr(single, name)


def test_slopes_are_those_of_single_calls(r134a):
    states = wet(r134a, 9)
    assert {"liquid", "vapor", "two-phase"} == set(states.phase)
    for row, state in enumerate(states):
        for name in SLOPES:
            column, single = getattr(states, name)[row], getattr(state, name)
            assert np.isnan(column) if single is None else column == single


def test_bad_rows_have_a_status_and_no_numbers(r134a):
    p = np.array([300e3, np.nan, np.inf, -1.0, 300e3, 300e3])
    h = np.array([250e3, 250e3, 250e3, 250e3, np.nan, 1e9])
    x = r134a.state(p=p, h=h)
    assert x.status.tolist() == [OK, MISSING, NOT_FINITE, OUT_OF_RANGE, MISSING, OUT_OF_RANGE]
    assert x.status.dtype == np.uint8
    for name in (*NUMBERS[:-1], *SLOPES):
        assert np.isnan(getattr(x, name)[1:]).all()
    assert x.phase.tolist() == ["two-phase", "", "", "", "", ""]
    assert [state is None for state in x] == [False, True, True, True, True, True]
    assert r134a.state(h=[2e5, 250e3], s=[9e3, 1.2e3]).status.tolist() == [INCONSISTENT, OK]


def test_status_texts():
    texts = [interstage.status_text(code) for code in range(7)]
    assert texts[OK] == "ok"
    assert texts[MISSING] == "an input is missing"
    assert len(set(texts)) == 7
    assert interstage.status_text(np.uint8(OUT_OF_RANGE)) == "an input is out of range"


def test_errors_raise_asks_for_the_first_bad_row(r134a, circuit):
    with pytest.raises(interstage.OutOfRange, match=r"^row 1: p -1 Pa") as raised:
        r134a.state(p=[3e5, -1.0, np.nan], h=250e3, errors="raise")
    assert raised.value.row == 1
    with pytest.raises(interstage.NotFinite, match=r"^row 2: h is missing") as raised:
        r134a.state(p=[3e5, 3e5, -1.0], h=[250e3, 250e3, None], errors="raise")
    assert (raised.value.argument, raised.value.unit, raised.value.row) == ("h", "J/kg", 2)
    with pytest.raises(interstage.OutOfRange, match=r"^row 1, 0: T 500 K"):
        r134a.saturation(T=np.array([[280.0, 290.0], [500.0, 280.0]]), errors="raise")
    with pytest.raises(interstage.Inconsistent, match=r"^row 1: .*must be above"):
        circuit.solve(
            evaporating_temperature=[280.0, 300.0], condensing_temperature=290.0, power=1e5, errors="raise"
        )
    assert r134a.state(p=[3e5], h=250e3, errors="raise").status.tolist() == [OK]


def test_saturation_of_columns(r134a):
    s = r134a.saturation(T=np.array([270.0, 280.0, 400.0]))
    assert isinstance(s, interstage.Saturations)
    assert s.status.tolist() == [OK, OK, OUT_OF_RANGE]
    single = r134a.saturation(T=280.0)
    assert s[1] == single
    assert s[2] is None
    assert (s.T[1], s.p[1], s.latent_heat[1]) == (single.T, single.p, single.latent_heat)
    for phase in ("liquid", "vapor"):
        states = getattr(s, phase)
        assert states[1] == getattr(single, phase)
        assert states.cp[1] == getattr(single, phase).cp
        assert states.status.tolist() == s.status.tolist()
        assert np.isnan(states.x[2])
    by_pressure = r134a.saturation(p=s.p)
    assert by_pressure.T[:2] == pytest.approx(s.T[:2], rel=1e-12)
    assert by_pressure.status.tolist() == [OK, OK, MISSING]
    assert "3 rows, 1 without result" in repr(s)
    assert len(s) == 3


@pytest.mark.parametrize("rows", [0, 1, 255, 256, 257, 1000, 40_000])
def test_results_do_not_depend_on_the_number_of_threads_or_rows(r134a, rows):
    rng = np.random.default_rng(rows)
    p, h = rng.uniform(1e5, 1e6, rows), rng.uniform(1.8e5, 4.6e5, rows)
    p[::7] = np.nan
    serial, parallel = (r134a.state(p=p, h=h, threads=threads) for threads in (1, 3))
    assert serial == parallel
    assert len(serial) == rows
    if rows:
        last = r134a.state(p=p[-1:], h=h[-1:])
        assert last.T[0] == serial.T[-1] or np.isnan(p[-1])


@pytest.mark.parametrize("empty", [[], (), np.array([]), np.zeros((0, 3)), pd.Series([], dtype=float)])
def test_empty_columns(r134a, circuit, empty):
    x = r134a.state(p=empty, h=250e3)
    assert len(x) == 0
    assert len(x.T) == len(x.phase) == len(x.cp) == len(x.status) == 0
    assert len(r134a.saturation(T=empty).liquid.h) == 0
    cycles = circuit.solve(evaporating_temperature=empty, condensing_temperature=310.0, capacity=1e6)
    assert len(cycles.cop) == len(cycles.stage_power) == 0


def test_lists_tuples_and_numbers_broadcast(r134a):
    expected = [r134a.state(p=p, T=300.0).h for p in (1e5, 2e5)]
    for p in (
        [1e5, 2e5],
        (1e5, 2e5),
        [100000, 200000],
        np.array([100000, 200000]),
        range(100000, 200001, 100000),
    ):
        h = r134a.state(p=p, T=300).h
        assert isinstance(h, np.ndarray)
        assert h.tolist() == expected
    assert r134a.state(p=[1e5, 2e5], T=np.float32(300)).h.tolist() == expected
    assert r134a.state(p=[1e5, 2e5], T=[300.0]).h.tolist() == expected


def test_two_dimensions(r134a):
    p, T = np.array([[1e5], [2e5]]), np.array([300.0, 310.0, 320.0])
    x = r134a.state(p=p, T=T)
    assert x.h.shape == x.phase.shape == x.status.shape == x.cp.shape == (2, 3)
    assert x.h[1, 2] == r134a.state(p=2e5, T=320.0).h
    assert x[1, 2] == r134a.state(p=2e5, T=320.0)
    assert "shape (2, 3)" in repr(x)
    assert len(list(x)) == 6
    with pytest.raises(IndexError):
        x[1]


def test_strides_and_byte_orders_do_not_matter(r134a):
    table = np.array([[1e5, 300.0], [2e5, 310.0], [3e5, 320.0]])
    expected = r134a.state(p=table[:, 0].copy(), T=table[:, 1].copy())
    assert r134a.state(p=table[:, 0], T=table[:, 1]) == expected
    assert r134a.state(p=table[::-1, 0], T=table[::-1, 1]).h.tolist() == expected.h.tolist()[::-1]
    assert r134a.state(p=table[:, 0].astype(">f8"), T=table[:, 1].astype("<f4")) == expected
    packed = np.zeros(3, dtype=[("flag", "u1"), ("p", "f8")])
    packed["p"] = table[:, 0]
    assert not packed["p"].flags.aligned
    assert r134a.state(p=packed["p"], T=table[:, 1]) == expected
    frozen = table[:, 0].copy()
    frozen.flags.writeable = False
    assert r134a.state(p=frozen, T=table[:, 1]) == expected


def test_inputs_are_left_alone(r134a):
    p = np.array([1e5, np.nan])
    before = p.copy()
    states = r134a.state(p=p, T=300.0)
    np.testing.assert_array_equal(p, before)
    assert p.flags.writeable
    p[0] = 5e5
    assert states.p[0] == 1e5


def test_missing_entries(r134a):
    masked = np.ma.array([1e5, 2e5, 3e5], mask=[False, True, False])
    expected = [OK, MISSING, OK]
    for p in (
        masked,
        np.ma.array([100000, 200000, 300000], mask=[False, True, False]),
        [1e5, None, 3e5],
        np.array([1e5, None, 3e5], dtype=object),
        [1e5, pd.NA, 3e5],
        pd.Series([1e5, None, 3e5]),
        pd.Series([100000, None, 300000], dtype="Int64"),
        pd.Series([1e5, None, 3e5], dtype="Float64"),
        pd.Series([1e5, None, 3e5], dtype="double[pyarrow]"),
        pd.Series([1e5, None, 3e5], dtype=object),
        pd.array([1e5, None, 3e5], dtype="Float64"),
        pl.Series([1e5, None, 3e5]),
        pl.Series([100000, None, 300000]),
    ):
        x = r134a.state(p=p, T=300.0)
        assert list(x.status) == expected
        assert x[0] == r134a.state(p=1e5, T=300.0)
    assert list(r134a.state(p=pl.Series([None, None]), T=300.0).status) == [MISSING, MISSING]
    assert not isinstance(r134a.state(p=masked, T=300.0).h, np.ma.MaskedArray)


def test_lengths_that_differ_are_named(r134a, circuit):
    for p, h in (
        ([1e5, 2e5], [2e5, 3e5, 4e5]),
        (np.ones(2), np.ones(3)),
        (pd.Series([1e5, 2e5]), [2e5, 3e5, 4e5]),
        (pl.Series([1e5, 2e5]), np.ones(3)),
        (pl.Series([1e5, 2e5]), pl.Series([2e5, 3e5, 4e5])),
    ):
        with pytest.raises(interstage.WrongLength, match=r"^h has 3 rows where p has 2 rows$") as raised:
            r134a.state(p=p, h=h)
        assert (raised.value.argument, raised.value.found, raised.value.expected) == ("h", 3, 2)
        assert isinstance(raised.value, ValueError)
    with pytest.raises(interstage.WrongLength, match=r"shape"):
        r134a.state(p=np.ones((2, 3)), h=np.ones((2, 2)))
    with pytest.raises(interstage.WrongLength, match=r"condensing_temperature has 3 rows"):
        circuit.solve(evaporating_temperature=[280.0] * 2, condensing_temperature=[310.0] * 3, power=1e5)


def test_kernels_refuse_columns_of_other_lengths(r134a, circuit):
    two, three = np.ones(2), np.ones(3)
    with pytest.raises(interstage.WrongLength):
        _core._states(r134a, "p", two, "h", three, None)
    with pytest.raises(interstage.WrongLength):
        _core._derivatives(r134a, three, two, three, np.ones(3, dtype=np.uint8))
    with pytest.raises(interstage.WrongArgument):
        _core._states(r134a, "h", two, "u", two, None)
    cycles = _core._cycles(circuit, [three, two, two, two, two, two, two], "power", None)
    assert cycles["status"][2] == MISSING


def test_results_do_not_change(r134a):
    x = wet(r134a)
    with pytest.raises(AttributeError, match=r"does not change"):
        x.T = 1
    with pytest.raises(AttributeError, match=r"does not change"):
        del x.T
    for column in (x.T, x.status, x.cp):
        with pytest.raises(ValueError, match=r"read-only"):
            column[0] = 1
    series = r134a.state(p=pd.Series([1e5]), T=300.0)
    mine = series.T
    mine.iloc[0] = 0.0
    assert series.T.iloc[0] == 300.0


def test_equality(r134a):
    assert wet(r134a) == wet(r134a)
    assert wet(r134a) != wet(r134a, 6)
    assert wet(r134a) != 1
    assert r134a.saturation(T=[280.0, 500.0]) == r134a.saturation(T=[280.0, 500.0])
    assert r134a.saturation(T=[280.0]) != r134a.saturation(T=[281.0])
    with pytest.raises(TypeError):
        hash(wet(r134a))


def test_rows_by_number(r134a):
    x = wet(r134a)
    assert x[-1] == x[4]
    assert x[np.int64(2)] == x[2]
    for row in (5, -6):
        with pytest.raises(IndexError):
            x[row]


def test_shown_in_a_notebook(r134a):
    html = wet(r134a, 30)._repr_html_()
    assert "30 rows" in html
    # Head, five rows, dots, five rows.
    assert html.count("<tr>") == 12
    assert "T [degC]" in html
    assert "<table" in r134a.saturation(T=[280.0])._repr_html_()


def test_to_dict(r134a):
    x = r134a.state(p=[1e5, -1.0], T=300.0)
    data = x.to_dict()
    assert data["format_version"] == 1
    assert data["T"][0] == 300.0
    assert data["status"] == [OK, OUT_OF_RANGE]
    assert data["phase"] == ["vapor", ""]
    data = r134a.saturation(T=[280.0]).to_dict()
    assert data["format_version"] == 1
    assert data["T"] == [280.0]


@pytest.mark.parametrize(
    "rows", [slice(0, 1), slice(1, None), slice(None, None, -2), slice(5, 9), slice(-2, None)]
)
def test_slices_are_columns_of_these_rows(r134a, circuit, rows):
    p = np.array([1e5, -1.0, 3e5, 4e5])
    whole = r134a.state(p=p, T=300.0)
    part = whole[rows]
    assert part == r134a.state(p=p[rows], T=300.0)
    np.testing.assert_array_equal(part.cp, whole.cp[rows])
    np.testing.assert_array_equal(part.viscosity, whole.viscosity[rows])
    assert len(part) == len(p[rows])
    T = np.array([280.0, 500.0, 290.0, 300.0])
    assert r134a.saturation(T=T)[rows] == r134a.saturation(T=T[rows])
    conditions = {"evaporating_temperature": 278.15, "mass_flow": 1.0}
    cycles = circuit.solve(**conditions, condensing_temperature=T + 10.0)
    part = cycles[rows]
    assert part == circuit.solve(**conditions, condensing_temperature=T[rows] + 10.0)
    np.testing.assert_array_equal(part.stage_power, cycles.stage_power[rows])
    frame = pd.Series(p, index=list("abcd"))
    assert r134a.state(p=frame, T=300.0)[rows].h.index.tolist() == frame.index[rows].tolist()
    series = r134a.state(p=pl.Series(p), T=300.0)
    assert series[rows].h.equals(series.h[rows], null_equal=True)

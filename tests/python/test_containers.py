"""pandas and polars: the same container comes out, with its index."""

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage

TIMES = pd.date_range("2024-01-01", periods=3, freq="min", name="time", tz="UTC")


def test_pandas_series_keep_their_index(r134a):
    p = pd.Series([3e5, -1.0, 4e5], index=TIMES, name="suction")
    x = r134a.state(p=p, h=250e3)
    for name in ("T", "p", "rho", "h", "s", "u", "x", "cp", "phase", "status"):
        column = getattr(x, name)
        assert isinstance(column, pd.Series)
        assert column.index.equals(TIMES)
        assert column.index.name == "time"
        assert column.name == name
    assert x.T.iloc[0] == r134a.state(p=3e5, h=250e3).T
    assert x.phase.isna().tolist() == [False, True, False]
    assert x.status.tolist() == [0, 3, 0]
    assert x.status.dtype == np.uint8
    assert p.name == "suction"


def test_pandas_saturation(r134a):
    s = r134a.saturation(T=pd.Series([280.0, 290.0], index=["a", "b"]))
    assert s.p.index.tolist() == s.liquid.h.index.tolist() == s.latent_heat.index.tolist() == ["a", "b"]


def test_pandas_dtypes(r134a):
    expected = r134a.state(p=1e5, T=300.0).h
    for dtype in (
        "int64",
        "int32",
        "uint32",
        "float32",
        "Int64",
        "Float64",
        "double[pyarrow]",
        "int64[pyarrow]",
    ):
        h = r134a.state(p=pd.Series([100000, 100000]).astype(dtype), T=300.0).h
        assert h.tolist() == [expected, expected]


def test_columns_of_a_frame(r134a):
    frame = pd.DataFrame({"p": [1e5, 2e5], "T": [300.0, 310.0]}, index=[10, 20])
    frame["h"] = r134a.state(p=frame["p"], T=frame["T"]).h
    assert frame["h"].tolist() == [r134a.state(p=1e5, T=300.0).h, r134a.state(p=2e5, T=310.0).h]


def test_series_with_numbers_and_arrays(r134a):
    p = pd.Series([1e5, 2e5], index=[5, 6])
    expected = r134a.state(p=p, T=300.0)
    assert r134a.state(p=p, T=np.array([300.0, 300.0])) == expected
    assert r134a.state(p=p, T=[300.0, 300.0]) == expected
    assert r134a.state(T=300, p=p) == expected


def test_indexes_must_agree(r134a):
    p, T = pd.Series([1e5, 2e5]), pd.Series([300.0, 310.0], index=[1, 0])
    with pytest.raises(interstage.Inconsistent, match=r"T and p.*indexes differ") as raised:
        r134a.state(p=p, T=T)
    assert raised.value.arguments == "T and p"


def test_pandas_and_polars_do_not_mix(r134a):
    with pytest.raises(interstage.Inconsistent, match=r"p and T.*pandas.*polars"):
        r134a.state(p=pd.Series([1e5]), T=pl.Series([300.0]))


def test_polars_series(r134a):
    p = pl.Series("suction", [3e5, None, 4e5])
    x = r134a.state(p=p, h=250e3)
    for name in ("T", "p", "rho", "h", "s", "u", "x", "cp", "phase", "status"):
        column = getattr(x, name)
        assert isinstance(column, pl.Series)
        assert column.name == name
        assert len(column) == 3
    assert x.T[0] == r134a.state(p=3e5, h=250e3).T
    assert x.phase.to_list() == ["two-phase", None, "two-phase"]
    assert x.status.to_list() == [0, 1, 0]
    for dtype in (pl.Int32, pl.Float32, pl.UInt64, pl.Decimal(12, 2)):
        assert r134a.state(p=pl.Series([100000]).cast(dtype), T=300.0).h[0] == r134a.state(p=1e5, T=300.0).h


def test_polars_frames(r134a):
    frame = pl.DataFrame({"p": [1e5, 2e5], "T": [300.0, 310.0]})
    h = r134a.state(p=frame["p"], T=frame["T"]).h
    assert frame.with_columns(h.alias("h"))["h"].to_list() == h.to_list()


@pytest.mark.parametrize("library", [pd, pl])
def test_figures_of_cycles(circuit, library):
    column = library.Series([300.0, 310.0])
    cycles = circuit.solve(evaporating_temperature=278.15, condensing_temperature=column, capacity=1e6)
    assert isinstance(cycles.cop, library.Series)
    assert isinstance(cycles.stage_power, library.DataFrame)
    assert list(cycles.stage_power.columns) == ["stage_1", "stage_2"]
    assert list(cycles.interstage_pressures.columns) == ["stage_2_inlet"]
    assert list(cycles.flash_fractions.columns) == ["stage_2_economizer"]
    total = cycles.stage_power["stage_1"] + cycles.stage_power["stage_2"]
    assert list(total) == pytest.approx(list(cycles.power), rel=1e-12)


def test_conversions_keep_container_index_and_name():
    series = interstage.units.kelvin_from_celsius(pd.Series([0.0, None], index=[7, 8], name="leaving"))
    assert isinstance(series, pd.Series)
    assert series.index.tolist() == [7, 8]
    assert series.name == "leaving"
    assert series.iloc[0] == 273.15
    assert np.isnan(series.iloc[1])
    series = interstage.units.kelvin_from_celsius(pl.Series("leaving", [0.0, None]))
    assert isinstance(series, pl.Series)
    assert series.name == "leaving"
    gauge = pd.Series([0.0, 1.0], index=[3, 4], name="gauge")
    barometer = pd.Series([101325.0, 90000.0], index=[3, 4], name="barometer")
    assert interstage.units.pascal_from_bar_gauge(gauge, barometer).tolist() == [101325.0, 190000.0]
    assert interstage.units.pascal_from_bar_gauge(gauge, 90000.0).index.tolist() == [3, 4]

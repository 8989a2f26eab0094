"""Steady state: windows by time, gaps, and the reasons against a row."""

import math
import pickle
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage

READINGS = interstage.Readings(
    {
        "chw out": ("chilled_water_leaving", "degC"),
        "cw in": ("condenser_water_entering", "degC"),
        "kw": ("power", "kW"),
    }
)


def export(rows: int = 120) -> pd.DataFrame:
    wobble = 0.01 * np.sin(np.arange(rows) * 1.7)
    return pd.DataFrame(
        {"chw out": 7.0 + wobble, "cw in": 29.0 + wobble, "kw": 180.0 + wobble},
        index=pd.date_range("2030-03-01", periods=rows, freq="1min"),
    )


def steady(table: Any, time: str | None = None, **options: Any) -> interstage.Steady:
    return interstage.steady_state(interstage.assess_quality(table, READINGS, time=time), **options)


def test_the_first_window_and_steps_are_not_steady() -> None:
    table = export()
    table.loc[table.index[60:], "kw"] += 20.0
    found = steady(table)
    assert found.reason.iloc[:9].eq("no full window since a gap").all()
    assert found.mask.iloc[9:60].all()
    # The step has left the window of ten minutes after ten rows.
    assert found.reason.iloc[60:69].str.startswith("power varies").all()
    assert found.mask.iloc[69:].all()
    assert found.mask.index.equals(table.index)
    assert found.mask.dtype == bool


def test_standard_deviation_and_drift_are_those_of_the_window() -> None:
    """Limits a hair above and below what NumPy says of the same readings."""
    table = export()
    rng = np.random.default_rng(5)
    table["chw out"] = 7.0 + rng.normal(0.0, 0.05, 120)
    values = table["chw out"].to_numpy()[71:81]  # the window of row 80
    deviation = float(np.std(values, ddof=1))
    drift = abs(float(np.polyfit(np.arange(10) * 60.0, values, 1)[0])) * 600.0

    def reason(deviation: float, drift: float) -> str:
        limit = interstage.SteadyLimit(deviation, drift=drift)
        limits = {"chilled_water_leaving": limit, "condenser_water_entering": None, "power": None}
        return str(steady(table, limits=limits).reason.iloc[80])

    assert reason(deviation * 1.000001, drift * 1.000001) == "steady"
    assert reason(deviation * 0.999999, drift * 1.000001) == "chilled_water_leaving varies"
    assert reason(deviation * 1.000001, drift * 0.999999) == "chilled_water_leaving drifts"
    assert reason(deviation * 0.9, drift * 0.9) == "chilled_water_leaving varies and drifts"


def test_a_slow_drift_is_found_where_the_deviation_is_small() -> None:
    table = export()
    table["cw in"] = 29.0 + np.arange(120) * 0.035  # 0.35 K over the window, deviation 0.11 K
    assert steady(table).reason.iloc[50] == "condenser_water_entering drifts"


def test_gaps_off_times_and_bad_readings_are_reasons() -> None:
    table = export()
    table.loc[table.index[50:54], "kw"] = 0.0
    table.iloc[80:85, table.columns.get_loc("chw out")] = math.nan
    found = steady(table.drop(index=table.index[100:106])).reason
    assert "the machine was off within the window" in found.iloc[55]
    assert found.iloc[63] == "steady"
    assert found.iloc[83] == "chilled_water_leaving has too few good readings"
    assert found.iloc[81] == "steady"  # eight of ten are left
    assert found.iloc[101] == "no full window since a gap"
    assert found.iloc[110] == "steady"


def test_long_tables_are_as_exact_as_short_ones() -> None:
    """Blocks and the size of the clock do not show: a year of minutes far from zero."""
    rows = 20_000
    rng = np.random.default_rng(3)
    table = export(rows)
    table["kw"] = 180.0 + rng.normal(0.0, 3.6, rows)
    found = steady(table, limits={"chilled_water_leaving": None, "condenser_water_entering": None})
    rolling = table["kw"].rolling(10)
    expected = rolling.std() <= 0.02 * rolling.mean()
    line = np.arange(10) - 4.5
    windows = np.lib.stride_tricks.sliding_window_view(table["kw"].to_numpy(), 10)
    drift = windows @ line / (line @ line) * 10.0
    expected.iloc[9:] &= np.abs(drift) <= 0.04 * windows.mean(axis=1)
    assert 0.1 < expected.mean() < 0.9
    assert (found.mask == expected).all()


def test_the_window_is_five_steps_at_least() -> None:
    table = export()
    assert steady(table).window == 600.0
    slow = steady(table.set_axis(pd.date_range("2030-03-01", periods=120, freq="5min")))
    assert slow.window == 1500.0
    assert slow.mask.iloc[4:].all()
    # In a window of two readings no deviation can be told.
    few = steady(table.set_axis(pd.date_range("2030-03-01", periods=120, freq="5min")), window=600.0)
    assert few.reason.iloc[50].count("has too few good readings") == 3


def test_the_limits_say_where_they_come_from() -> None:
    found = steady(export())
    assert set(found.limits) == {"chilled_water_leaving", "condenser_water_entering", "power"}
    assert "AHRI" in found.limits["chilled_water_leaving"].reason
    assert all(limit.reason for limit in found.limits.values())
    # A current is looked at only where no power is read.
    current = interstage.Readings({"a": ("motor_current", "A")})
    table = {"a": [100.0] * 20, "t": [60.0 * row for row in range(20)]}
    quality = interstage.assess_quality(table, current, time="t")
    assert list(interstage.steady_state(quality).limits) == ["motor_current"]


def test_containers_pickles_and_empty_tables() -> None:
    table = export()
    frame = pl.DataFrame({"t": table.index.to_numpy(), **{name: table[name].to_numpy() for name in table}})
    found = steady(frame, time="t")
    assert isinstance(found.mask, pl.Series)
    assert found.mask.to_list() == steady(table).mask.tolist()
    assert pickle.loads(pickle.dumps(found)).mask.equals(found.mask)
    assert repr(found) == "Steady(111 of 120 rows steady)"
    assert len(steady(table.iloc[:0])) == 0
    shuffled = table.sample(frac=1.0, random_state=2)
    assert steady(shuffled).mask.sort_index().equals(steady(table).mask)
    index = table.index.to_series()
    index.iloc[7] = pd.NaT
    assert steady(table.set_axis(pd.DatetimeIndex(index))).reason.iloc[7] == "the row has no time"


@pytest.mark.parametrize(
    ("options", "error", "message"),
    [
        ({"window": 0.0}, interstage.WrongArgument, "window must be a number above 0"),
        ({"least_share": 1.5}, interstage.WrongArgument, "least_share must be"),
        ({"limits": {"capacity": None}}, interstage.UnknownOption, "'capacity' is not read"),
        ({"limits": {"power": 0.1}}, interstage.WrongArgument, "must be a SteadyLimit"),
        (
            {"limits": dict.fromkeys(READINGS.quantities)},
            interstage.WrongArgument,
            "no reading is left",
        ),
    ],
)
def test_wrong_arguments_are_named(options: Any, error: Any, message: str) -> None:
    with pytest.raises(error, match=message):
        steady(export(), **options)
    with pytest.raises(interstage.WrongArgument, match="quality must be Quality, got DataFrame"):
        interstage.steady_state(export())  # type: ignore[arg-type]


@pytest.mark.parametrize("limit", [0.0, -1.0, math.nan])
def test_limits_are_positive(limit: float) -> None:
    with pytest.raises(interstage.Inconsistent, match="deviation must be positive"):
        interstage.SteadyLimit(limit)
    with pytest.raises(interstage.WrongArgument, match="deviation must be a number"):
        interstage.SteadyLimit("0.1")  # type: ignore[arg-type]

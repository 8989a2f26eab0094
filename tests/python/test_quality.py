"""Quality of readings: every kind of flag, impossible rows, and that no row is lost."""

import math
import pickle
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage

FLAG = interstage.quality_flags()
STATE = interstage.impossible_states()

COLUMNS = {
    "pe": ("evaporator_pressure", "kPa"),
    "pc": ("condenser_pressure", "kPa"),
    "dis": ("discharge_temperature", "degC"),
    "chw in": ("chilled_water_entering", "degC"),
    "chw out": ("chilled_water_leaving", "degC"),
    "chw": ("chilled_water_flow", "L/s"),
    "cw in": ("condenser_water_entering", "degC"),
    "cw out": ("condenser_water_leaving", "degC"),
    "kw": ("power", "kW"),
}
READINGS = interstage.Readings(COLUMNS, refrigerant="R-134a")


def export(rows: int = 60, step: str = "1min") -> pd.DataFrame:
    """A machine of R-134a in good order: 5 K ranges, evaporator near 3 degC, condenser near 36 degC."""
    # Noise in the last digits, so that nothing is stuck.
    wobble = 0.01 * np.sin(np.arange(rows) * 1.7)
    row = {
        "pe": 326.0,
        "pc": 912.0,
        "dis": 48.0,
        "chw in": 12.0,
        "chw out": 7.0,
        "chw": 50.0,
        "cw in": 29.0,
        "cw out": 34.0,
        "kw": 180.0,
    }
    return pd.DataFrame(
        {name: value + wobble for name, value in row.items()},
        index=pd.date_range("2030-03-01", periods=rows, freq=step),
    )


def assess(table: Any, **options: Any) -> interstage.Quality:
    return interstage.assess_quality(table, READINGS, **options)


def test_a_machine_in_good_order_has_no_flags() -> None:
    table = export()
    quality = assess(table)
    assert (quality.flags == 0).all(axis=None)
    assert (quality.rows == 0).all()
    assert quality.good.all(axis=None)
    assert quality.running.all()
    assert quality.flags.index.equals(table.index)
    assert list(quality.flags) == [name for name, _ in COLUMNS.values()]
    assert quality.values["chilled_water_leaving"].iloc[0] == pytest.approx(280.15)


def test_every_flag_is_told_and_no_row_dropped() -> None:
    table = export()
    table.iloc[5, table.columns.get_loc("kw")] = math.nan
    table.iloc[10, table.columns.get_loc("pc")] = 1400.0
    table.iloc[15, table.columns.get_loc("cw in")] = -99.4
    table.iloc[20] = 0.0
    table.iloc[30:35, table.columns.get_loc("kw")] = 0.0
    table.iloc[30:35, table.columns.get_loc("chw")] = 1e-45
    quality = assess(table)
    flags = quality.flags
    assert len(flags) == len(table)
    assert flags["power"].iloc[5] == FLAG["missing"]
    assert flags["condenser_pressure"].iloc[10] == FLAG["spike"]
    assert flags["condenser_water_entering"].iloc[15] == FLAG["out of physical range"]
    assert (flags.iloc[20] & FLAG["communication loss"] > 0).all()
    # The machine does not count as off where its communication is lost.
    assert not (flags.iloc[20] & FLAG["machine off"]).any()
    assert (flags.iloc[30:35] == FLAG["machine off"]).sum(axis=None) == 5 * 8
    assert flags["chilled_water_flow"].iloc[33] == FLAG["machine off"] | FLAG["denormal zero"]
    others = flags.drop(index=flags.index[[5, 10, 15, 20, *range(30, 35)]])
    assert (others == 0).all(axis=None)
    values = quality.values
    assert np.isnan(values["condenser_pressure"].iloc[10])
    assert not np.isnan(values["chilled_water_flow"].iloc[33])
    counts = quality.counts()
    assert counts["condenser_pressure"]["spike"] == 1
    assert counts["power"]["machine off"] == 5
    assert interstage.quality_text(int(flags["power"].iloc[5])) == "missing"


def test_a_held_spike_is_one_and_a_movement_is_none() -> None:
    table = export(step="10s")
    column = table.columns.get_loc("kw")
    table.iloc[10:13, column] = 250.0  # held for 30 s
    table.iloc[30:33, column] = [250.0, 251.0, 250.5]  # a movement of the machine
    table.iloc[45:55, column] = 250.0  # too long
    spikes = (assess(table).flags["power"] & FLAG["spike"]) > 0
    assert np.flatnonzero(spikes).tolist() == [10, 11, 12]
    # At one-minute steps three readings are three minutes.
    slow = table.set_axis(pd.date_range("2030-03-01", periods=60, freq="1min"))
    assert not ((assess(slow).flags["power"] & FLAG["spike"]) > 0).any()
    assert ((assess(slow, longest_spike=180.0).flags["power"] & FLAG["spike"]) > 0).sum() == 3


def test_good_readings_between_two_spikes_are_good() -> None:
    table = export(step="10s")
    table["kw"] = table["kw"].round(0)
    table.iloc[[20, 23], table.columns.get_loc("kw")] = 100.0
    spikes = (assess(table).flags["power"] & FLAG["spike"]) > 0
    assert np.flatnonzero(spikes).tolist() == [20, 23]


def test_a_step_and_the_ends_of_a_stretch_are_no_spikes() -> None:
    table = export()
    column = table.columns.get_loc("kw")
    table.iloc[30:, column] += 100.0
    table.iloc[0, column] += 60.0
    # A gap: what stands beside it has only one neighbor.
    table.iloc[49, column] += 90.0
    gap = table.drop(index=table.index[50:58])
    assert not ((assess(gap).flags["power"] & FLAG["spike"]) > 0).any()
    assert ((assess(table).flags["power"] & FLAG["spike"]) > 0).sum() == 1


def test_stuck_counts_time_in_operation() -> None:
    table = export(rows=600)
    column = table.columns.get_loc("chw out")
    table.iloc[100:500, column] = 7.0
    stuck = (assess(table).flags["chilled_water_leaving"] & FLAG["stuck"]) > 0
    assert np.flatnonzero(stuck).tolist() == list(range(100, 500))
    assert not (assess(table, stuck_after=7 * 3600.0).flags["chilled_water_leaving"]).any()
    # Off for most of it: what stands still in a machine that is off is no wonder.
    table.iloc[100:400, table.columns.get_loc("kw")] = 0.0
    assert not (assess(table).flags["chilled_water_leaving"] & FLAG["stuck"]).any()


@pytest.mark.parametrize(
    ("changes", "state", "suspects"),
    [
        (
            {"chw in": 6.0, "chw out": 9.0},
            "chilled water warms",
            "chilled_water_entering, chilled_water_leaving",
        ),
        (
            {"cw in": 32.0, "cw out": 30.0},
            "condenser water cools",
            "condenser_water_entering, condenser_water_leaving",
        ),
        (
            {"chw out": 1.0, "chw in": 6.0},
            "evaporator approach is negative",
            "chilled_water_leaving, evaporator_pressure",
        ),
        (
            {"cw out": 38.0},
            "condenser approach is negative",
            "condenser_water_leaving, condenser_pressure",
        ),
        ({"dis": 30.0}, "discharge is below saturation", "discharge_temperature, condenser_pressure"),
        (
            {"kw": 60.0},
            "COP is above Carnot",
            "chilled_water_entering, chilled_water_leaving, chilled_water_flow, power, evaporator_pressure, "
            "condenser_pressure",
        ),
        # Everything hot contradicts the pressure: it is the one suspect.
        (
            {"pc": 700.0, "dis": 24.0, "kw": 180.0},
            "condenser approach is negative; discharge is below saturation",
            "condenser_pressure",
        ),
    ],
)
def test_impossible_states_name_their_suspects(changes: dict[str, float], state: str, suspects: str) -> None:
    table = export()
    for name, value in changes.items():
        table.loc[table.index[20:40], name] = value + 0.01 * np.sin(np.arange(20) * 1.7)
    quality = assess(table)
    assert quality.row_text.iloc[30] == state
    assert quality.suspects.iloc[30] == suspects
    assert quality.rows.iloc[30] == sum(STATE[words] for words in state.split("; "))
    assert quality.row_text.iloc[10] == "ok"
    assert quality.suspects.iloc[10] == ""


def test_saturation_temperatures_are_compared_with_pressures() -> None:
    columns = {**COLUMNS, "te": ("evaporator_saturation_temperature", "degC")}
    readings = interstage.Readings(columns, refrigerant="R-134a")
    saturated = interstage.Refrigerant("R-134a").saturation_temperature(p=326e3) - 273.15
    table = export()
    table["te"] = saturated + 0.01 * np.sin(np.arange(60))
    table.loc[table.index[30:], "te"] += 2.0
    quality = interstage.assess_quality(table, readings)
    assert quality.row_text.iloc[10] == "ok"
    assert quality.row_text.iloc[40] == "evaporator saturation temperature and pressure disagree"


def test_containers_and_orders_come_back() -> None:
    table = export()
    table.iloc[10, table.columns.get_loc("pc")] = 1400.0
    shuffled = table.sample(frac=1.0, random_state=1)
    again = assess(shuffled)
    pd.testing.assert_frame_equal(again.flags.sort_index(), assess(table).flags, check_freq=False)
    frame = pl.DataFrame({"time": table.index.to_numpy(), **{name: table[name].to_numpy() for name in table}})
    polars = assess(frame, time="time")
    assert isinstance(polars.flags, pl.DataFrame)
    assert polars.flags["condenser_pressure"].to_list() == assess(table).flags["condenser_pressure"].tolist()
    arrays = {name: table[name].to_numpy() for name in table}
    arrays["s"] = 60.0 * np.arange(60)
    assert assess(arrays, time="s").flags["condenser_pressure"][10] == FLAG["spike"]
    back = pickle.loads(pickle.dumps(polars))
    assert back.flags.equals(polars.flags)
    assert repr(back) == "Quality(60 rows, 1 of 540 readings bad, 0 rows impossible)"


def test_duplicates_and_rows_without_time() -> None:
    table = export()
    twice = pd.concat([table, table.iloc[[5]]])
    assert len(assess(twice).flags) == 61
    index = table.index.to_series()
    index.iloc[7] = pd.NaT
    quality = assess(table.set_axis(pd.DatetimeIndex(index)))
    assert len(quality.flags) == 60
    assert (quality.flags == 0).all(axis=None)


def test_an_empty_table_has_no_flags() -> None:
    quality = assess(export().iloc[:0])
    assert len(quality) == 0
    assert quality.flags.shape == (0, 9)
    assert quality.row_text.tolist() == []


def test_zones_do_not_move_rows() -> None:
    table = export()
    table.iloc[10, table.columns.get_loc("pc")] = 1400.0
    zoned = table.tz_localize("Europe/Berlin")
    assert (assess(zoned).flags.to_numpy() == assess(table).flags.to_numpy()).all()


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (lambda: interstage.assess_quality(export(), {}), "readings must be Readings, got dict"),
        (lambda: assess(export().reset_index(drop=True)), "time= must name the column"),
        (lambda: assess(export(), time="when"), "no column 'when' of the time"),
        (lambda: assess(export(), minimum_power=-1.0), "minimum_power must be a number from 0"),
        (lambda: assess(export(), stuck_after=math.nan), "stuck_after must be a number from 0"),
        (lambda: assess(export(), longest_gap=0.0), "longest_gap must be a positive number"),
        (lambda: assess(export(), running=[1] * 60), "one truth value for each of the 60 rows"),
        (
            lambda: assess(export(), limits={"suction_temperature": (0, 1)}),
            "no column is declared for suction",
        ),
        (lambda: assess(export(), limits={"power": "x"}), r"limits of power must be \(lowest, highest\)"),
        (lambda: assess(export(), limits={"power": (5, 1)}), r"must be \(lowest, highest\), got \(5, 1\)"),
        (lambda: assess(export(), devices={"a": ["nothing"]}), "no column is declared for nothing"),
        (lambda: interstage.quality_text(256), "flags must be an element of Quality.flags, got 256"),
    ],
)
def test_wrong_arguments_are_named(wrong: Any, message: str) -> None:
    with pytest.raises(interstage.WrongArgument, match=message):
        wrong()


def test_devices_limits_and_running_may_be_given() -> None:
    table = export()
    table.loc[table.index[20], ["cw in", "cw out"]] = 0.0
    lost = FLAG["communication loss"]
    assert not (assess(table).flags & lost).any(axis=None)
    device = {"tower panel": ["condenser_water_entering", "condenser_water_leaving"]}
    flags = assess(table, devices=device).flags
    assert (flags & lost).sum(axis=None) == 2 * lost
    narrow = assess(table, limits={"power": (0.0, 179.995e3)}).flags["power"]
    assert 0 < (narrow == FLAG["out of physical range"]).sum() < 60
    off = np.arange(60) >= 40
    assert (assess(table, running=~off).running == ~off).all()


@pytest.mark.parametrize("kind", ["object", "category", "polars"])
def test_texts_are_missing_and_flagged(kind) -> None:
    cells = ["12.0", "Bad", "60,1", "7"]
    readings = interstage.Readings({"in": ("chilled_water_entering", "degC")})
    table = pd.DataFrame({"t": [0.0, 60.0, 120.0, 180.0], "in": cells})
    if kind == "polars":
        table = pytest.importorskip("polars").DataFrame({"t": table["t"].tolist(), "in": cells})
    else:
        table["in"] = table["in"].astype(kind)
    quality = interstage.assess_quality(table, readings, time="t")
    told = [interstage.quality_text(bits) for bits in quality.flags["chilled_water_entering"]]
    assert told[1:3] == ["missing; text that is no number"] * 2
    assert quality.counts()["chilled_water_entering"]["text that is no number"] == 2
    told = "2 texts that are no number, 1 of them numbers with a decimal comma; first 'Bad' in row 1"
    with pytest.warns(UserWarning, match=told):
        values = readings.trend_table(table)["chilled_water_entering"].to_numpy()
    assert values[[0, 3]] == pytest.approx([285.15, 280.15])
    assert np.isnan(values[1:3]).all()


def test_the_plain_analysis_names_the_first_text() -> None:
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)]
    )
    trend = interstage.Trend(circuit, {"chilled_water_entering": ("in", "degC")})
    with pytest.raises(interstage.WrongArgument, match="text 'Bad' in row 1"):
        trend.analyse(pd.DataFrame({"in": [12.0, "Bad"]}))
    with pytest.raises(interstage.WrongArgument, match="text '60,1' in row 1, a decimal comma"):
        trend.analyse({"in": [12.0, "60,1"]})

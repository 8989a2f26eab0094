"""Summaries: energy and ton hours summed first, then divided."""

import pickle

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import summarize, units

TON = units.watt_from_ton(1.0)


def frame(rows: int = 24 * 60, seed: int = 3) -> pd.DataFrame:
    rng = np.random.default_rng(seed)
    capacity = rng.uniform(100.0, 500.0, rows) * TON
    return pd.DataFrame(
        {
            "capacity [kW]": capacity / 1e3,
            "power [kW]": capacity / TON * rng.uniform(0.5, 1.2, rows),
            "refrigerant_lift [K]": rng.uniform(15.0, 35.0, rows),
        },
        index=pd.date_range("2023-01-15", periods=rows, freq="h"),
    )


def test_sums_come_first() -> None:
    table = frame()
    summary = summarize(table, "month")
    shown = summary.table(units="I-P").set_index("month")
    assert list(shown.index) == ["2023-01", "2023-02", "2023-03"]
    for month, rows in table.groupby(table.index.strftime("%Y-%m")):
        energy = rows["power [kW]"].sum()
        tons = (rows["capacity [kW]"] * 1e3 / TON).sum()
        assert shown.loc[month, "energy [kWh]"] == pytest.approx(energy)
        assert shown.loc[month, "cooling [ton h]"] == pytest.approx(tons)
        assert shown.loc[month, "kw_per_ton [kW/ton]"] == pytest.approx(energy / tons)
        assert shown.loc[month, "coverage [-]"] == 1.0
    # The mean of row by row values is another number, and the summary does not have it.
    mean = (table["power [kW]"] / (table["capacity [kW]"] * 1e3 / TON)).mean()
    light = table["capacity [kW]"] < 1000.0
    table.loc[light, "power [kW]"] *= 3.0
    skewed = summarize(table, "month").total()
    rows_mean = (table["power [kW]"] / (table["capacity [kW]"] * 1e3 / TON)).mean()
    assert rows_mean > mean
    assert skewed["kw_per_ton [kW/ton]"] < 0.97 * rows_mean


def test_total_is_of_the_sums_and_has_intervals() -> None:
    total = summarize(frame(), "month", power_uncertainty=0.03, capacity_uncertainty=0.04).total()
    assert total["cop [-]"] == pytest.approx(total["cooling [kWh]"] / total["energy [kWh]"])
    assert total["cop interval [-]"] == pytest.approx(0.05 * total["cop [-]"])
    assert total["energy interval [kWh]"] == pytest.approx(0.03 * total["energy [kWh]"])
    assert total["cooling interval [kWh]"] == pytest.approx(0.04 * total["cooling [kWh]"])


def test_bins_of_load_and_lift() -> None:
    table = frame()
    table.iloc[5:9, 0] = np.nan
    edges = [200e3, 1000e3, 1500e3]
    by_load = summarize(table, "load", load_edges=edges).table()
    assert list(by_load["load"]) == [
        "200 to 1000 kW",
        "1000 to 1500 kW",
        "1500 kW and above",
        "not told",
    ]
    assert by_load["hours unknown [h]"].tolist() == [0.0, 0.0, 0.0, 4.0]
    assert np.isnan(by_load["kw_per_ton [kW/ton]"].iloc[-1])
    low = table[table["capacity [kW]"].between(200.0, 1000.0, inclusive="left")]
    assert by_load["energy [kWh]"].iloc[0] == pytest.approx(low["power [kW]"].sum())
    both = summarize(table, ["month", "lift"], lift_edges=[20.0, 25.0, 30.0]).table()
    assert list(both.columns[:2]) == ["month", "lift"]
    assert both["lift"].iloc[:4].tolist() == ["below 20 K", "20 to 25 K", "25 to 30 K", "30 K and above"]
    assert both["hours [h]"].sum() == len(table) - 4


def test_hours_off_unknown_and_gaps() -> None:
    table = frame(48)
    table.iloc[:10, 1] = 0.0
    table.iloc[10:12, 1] = np.nan
    short = pd.concat([table.iloc[:20], table.iloc[30:]])
    total = summarize(short, "month", where=np.arange(38) != 37).total()
    assert total["hours off [h]"] == 10.0
    # Two rows without power, one that does not count, ten missing rows less half a step that a row holds.
    assert total["hours unknown [h]"] == pytest.approx(2.0 + 1.0 + 9.5)
    assert total["hours [h]"] == pytest.approx(8.5 + 17.0)
    assert total["hours [h]"] + total["hours off [h]"] + total["hours unknown [h]"] == pytest.approx(48.0)
    assert total["coverage [-]"] == pytest.approx(25.5 / 38.0)


def test_the_remark_that_the_machine_is_off_counts() -> None:
    table = frame(10).assign(status=0)
    table.iloc[:4, 3] = interstage.remarks()["the machine is off"]
    assert summarize(table, "month").total()["hours off [h]"] == 4.0


def test_machines_have_their_own_times() -> None:
    fleet = pd.concat([frame(100).assign(unit="B"), frame(100, seed=4).assign(unit="A")])
    with pytest.raises(interstage.WrongArgument, match="must increase"):
        summarize(fleet, "unit")
    summary = summarize(fleet, "unit", machine="unit")
    assert summary.table()["unit"].tolist() == ["A", "B"]
    alone = summarize(frame(100), "month").total()
    assert summary.table()["energy [kWh]"].iloc[1] == pytest.approx(alone["energy [kWh]"])


def test_it_shows_and_exports_units(tmp_path) -> None:
    summary = summarize(frame(), "month")
    assert "kw_per_ton [kW/ton]" in summary._repr_html_()
    assert summary._repr_html_().count("<tr>") == 5  # header, three months, all
    assert repr(summary).startswith("Summary(by month: 3 groups, 1440 h")
    summary.to_csv(tmp_path / "a.csv", units="I-P")
    assert "cooling [ton h]" in pd.read_csv(tmp_path / "a.csv").columns
    pytest.importorskip("pyarrow")
    summary.to_parquet(tmp_path / "a.parquet")
    assert pd.read_parquet(tmp_path / "a.parquet").equals(summary.table())
    again = pickle.loads(pickle.dumps(summary))
    assert again.table().equals(summary.table())


def test_bad_input_is_refused() -> None:
    table = frame(10)
    for by, options, message in (
        ("quarter", {}, "month, load, lift"),
        ("load", {}, "needs load_edges"),
        ("lift", {"lift_edges": [3.0, 2.0]}, "increasing"),
        ([], {}, "at least one"),
        (5, {}, "at least one"),
        ("load", {"load_edges": "ab"}, "increasing"),
        (["month", "month"], {}, "each once"),
        ("month", {"hours": [1.0]}, "hours"),
        ("month", {"hours": -1.0}, "negative"),
        ("month", {"hours": np.nan}, "finite"),
        ("month", {"machine": "unit"}, "no column"),
        ("month", {"power_uncertainty": -0.1}, "power_uncertainty"),
    ):
        with pytest.raises(interstage.InterstageError, match=message):
            summarize(table, by, **options)
    with pytest.raises(interstage.WrongArgument, match="times in the index"):
        summarize(table.reset_index(drop=True), "month", hours=1.0)
    with pytest.raises(interstage.WrongArgument, match="must increase"):
        summarize(table[::-1], "month")
    with pytest.raises(interstage.UnknownOption, match="SI"):
        summarize(table, "month").table(units="metric")


def test_no_rows_are_no_groups() -> None:
    empty = summarize(frame(10).iloc[:0], "month", hours=1.0)
    assert len(empty) == 0
    assert np.isnan(empty.total()["cop [-]"])


def test_a_group_that_tells_nothing_has_no_energy() -> None:
    rows = pd.date_range("2023-01-31 22:00", periods=4, freq="h")
    frame = pd.DataFrame({"power [W]": [np.nan] * 2 + [100e3] * 2, "capacity [W]": 500e3}, index=rows)
    summary = summarize(frame, "month")
    table = summary.table()
    assert np.isnan(table["energy [kWh]"][0])
    assert np.isnan(table["energy interval [kWh]"][0])
    assert np.isnan(table["cooling [kWh]"][0])
    assert table["coverage [-]"][0] == 0.0
    assert table["energy [kWh]"][1] == pytest.approx(200.0)
    assert summary.total()["energy [kWh]"] == pytest.approx(200.0)
    assert "2 h unknown" in repr(summary)
    assert "nan kWh" in repr(summarize(frame.iloc[:2], "month"))

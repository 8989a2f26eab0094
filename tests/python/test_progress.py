"""Bars of progress on request, and tables analysed block by block: the same figures, interrupted or not."""

import pickle
import sys

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import _trend
from trend_machine import COLUMNS, TREND, accuracies, machine


def jumping(rows: int = 700) -> pd.DataFrame:
    """Readings with noise, gaps, and jumps on both sides of every place where a block may end."""
    table = pd.concat([machine(5)] * (rows // 5), ignore_index=True)
    rng = np.random.default_rng(8)
    table *= 1.0 + 1e-5 * rng.standard_normal(table.shape)
    for name in table.columns:
        table.loc[rng.choice(rows, 20, replace=False), name] *= 1.5
        table.loc[rng.choice(rows, 5, replace=False), name] = np.nan
    for edge in range(50, rows, 50):
        for row in (edge - 1, edge):
            table.loc[row, table.columns[(edge + row) % len(COLUMNS)]] *= 1.4
    return table


def assert_same(one: interstage.TrendResult, other: interstage.TrendResult) -> None:
    for figure in one.figures:
        np.testing.assert_array_equal(one[figure], other[figure])
    for reading in COLUMNS:
        np.testing.assert_array_equal(one.quality(reading), other.quality(reading))
    np.testing.assert_array_equal(one.status, other.status)
    assert one.unavailable == other.unavailable
    assert one.assumptions == other.assumptions
    pd.testing.assert_frame_equal(one.frame(), other.frame(), check_exact=True)


@pytest.mark.parametrize("block", [1, 7, 50, 150, 699])
def test_blocks_have_the_figures_of_the_whole_to_the_last_bit(monkeypatch, block) -> None:
    table = jumping()
    whole = TREND.analyse(table)
    assert (whole.quality("condenser_pressure") == "spike").sum() > 10
    monkeypatch.setattr(_trend, "_BLOCK", block)
    part = TREND.analyse(table)
    assert_same(part, whole)
    assert_same(pickle.loads(pickle.dumps(part)), whole)


def test_a_block_without_its_neighbors_would_not(monkeypatch) -> None:
    table = jumping()
    whole = TREND.analyse(table).status
    monkeypatch.setattr(_trend, "_BLOCK", 50)
    monkeypatch.setattr(interstage.Trend, "ROWS_BEFORE", 0)
    monkeypatch.setattr(interstage.Trend, "ROWS_AFTER", 0)
    assert (TREND.analyse(table).status != whole).any()


class Interrupted:
    """A bar that is interrupted after so many steps."""

    def __init__(self, steps: int) -> None:
        self.steps = steps

    def tqdm(self, items, unit):
        for place, item in enumerate(items):
            if place == self.steps:
                raise KeyboardInterrupt
            yield item


def test_an_interrupted_run_leaves_nothing_behind(monkeypatch) -> None:
    table = jumping()
    before = table.copy()
    uncertainty = interstage.Uncertainty(TREND, accuracies())
    whole = TREND.analyse(table)
    told = uncertainty.analyse(table[:20], figures=["cop"])
    drawn = told.monte_carlo(["cop"], rows=[0, 1, 2], draws=20)
    with monkeypatch.context() as patched:
        patched.setattr(_trend, "_BLOCK", 100)
        patched.setitem(sys.modules, "tqdm", Interrupted(3))
        with pytest.raises(KeyboardInterrupt):
            TREND.analyse(table, progress=True)
        patched.setitem(sys.modules, "tqdm", Interrupted(1))
        with pytest.raises(KeyboardInterrupt):
            told.monte_carlo(["cop"], rows=[0, 1, 2], draws=20, progress=True)
    pd.testing.assert_frame_equal(table, before, check_exact=True)
    assert_same(TREND.analyse(table), whole)
    assert told.monte_carlo(["cop"], rows=[0, 1, 2], draws=20) == drawn


def test_every_long_call_shows_a_bar_when_asked_and_gives_the_same(monkeypatch, capsys) -> None:
    pytest.importorskip("tqdm")
    monkeypatch.setattr(_trend, "_BLOCK", 40)
    table = jumping(100)
    uncertainty = interstage.Uncertainty(TREND, accuracies())
    told = uncertainty.analyse(table[:6], figures=["cop"])
    readings = interstage.Readings({column: (name, unit) for name, (column, unit) in COLUMNS.items()})
    timed = table.set_index(pd.date_range("2024-07-01", periods=100, freq="min"))
    reconciliation = interstage.Reconciliation(uncertainty, lost_share=(0.0, 0.05))
    second = {"chilled_water_flow": interstage.Accuracy(1.0, unit="percent")}
    calls = {
        "block": lambda progress: TREND.analyse(table, progress=progress).frame(),
        "block of derivatives": lambda progress: uncertainty.analyse(
            table[:6], figures=["cop"], progress=progress
        ).frame(),
        "row": lambda progress: pd.DataFrame(
            told.monte_carlo(["cop"], rows=range(3), draws=10, progress=progress)
        ),
        "reading": lambda progress: interstage.assess_quality(timed, readings, progress=progress).flags,
        "block of balances": lambda progress: reconciliation.analyse(table[:6], progress=progress).readings,
        "candidate": lambda progress: interstage.added_readings(
            uncertainty, table[:6], "cop", second, progress=progress
        ),
    }
    for unit, call in calls.items():
        quiet = call(None)
        assert capsys.readouterr().err == "", unit
        shown = call(True)
        said = capsys.readouterr().err
        assert unit in said
        assert "100%" in said, unit
        pd.testing.assert_frame_equal(shown, quiet, check_exact=True)
    TREND.analyse(table, progress=True)
    assert "3/3" in capsys.readouterr().err
    interstage.analysed(TREND, timed, progress=True)
    assert "block" in capsys.readouterr().err
    monkeypatch.setitem(sys.modules, "tqdm", None)
    for call in calls.values():
        with pytest.raises(interstage.WrongArgument, match="needs tqdm"):
            call(True)
        call(False)


def test_no_rows_and_no_bar_of_them() -> None:
    assert len(TREND.analyse(machine(1)[:0], progress=True)) == 0


def test_what_checks_readings_shows_no_bar_that_is_not_wanted(monkeypatch, capsys) -> None:
    readings = interstage.Readings(
        {
            "in": ("chilled_water_entering", "degC"),
            "out": ("chilled_water_leaving", "degC"),
            "flow": ("chilled_water_flow", "L/s"),
            "power": ("power", "kW"),
        },
        refrigerant=interstage.Refrigerant("R-134a"),
    )
    rows = 700
    table = {
        "t": 60.0 * np.arange(rows),
        "in": np.full(rows, 12.0),
        "out": np.full(rows, 7.0),
        "flow": np.full(rows, 50.0),
        "power": np.full(rows, 190.0),
    }
    monkeypatch.setitem(sys.modules, "ipykernel", sys)
    monkeypatch.setattr(_trend, "_BLOCK", 50)
    monkeypatch.setattr(_trend, "_LONG", 100)
    interstage.assess_quality(table, readings, time="t", progress=False)
    assert capsys.readouterr().err == ""

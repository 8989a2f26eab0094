"""Intervals of trend figures: known cases, laws, Monte Carlo, and bad input."""

import pickle

import numpy as np
import polars as pl
import pytest

import interstage
from interstage import Accuracy, CommonBias, Uncertainty
from trend_machine import COLUMNS, TREND, accuracies, machine


def test_capacity_within_3_5_percent_and_2_6_by_the_heat_balance() -> None:
    """Flow +-2 %, thermometers +-0.1 K, range 5 K: +-3.5 %; with the condenser side +-2.6 %."""
    table = machine()
    uncertainty = Uncertainty(TREND, accuracies())
    told = uncertainty.analyse(table)
    relative = told.half_width("capacity") / told.result["capacity"]
    assert np.allclose(relative, 0.035, atol=0.0005)
    lost = 1.0 - 0.93
    balanced = interstage.Reconciliation(uncertainty, lost_share=(lost, 0.0)).analyse(table)
    relative = balanced.half_width("capacity") / balanced.figure("capacity")
    assert np.allclose(relative, 0.026, atol=0.0005)
    # The readings fit, so nothing moves.
    assert np.allclose(balanced.statistic, 0.0, atol=1e-9)
    assert balanced.accepted.all()
    assert set(balanced.suspect) == {""}


def test_parts_add_up_and_shares_to_one() -> None:
    told = Uncertainty(
        TREND,
        accuracies(random=0.3),
        common=[CommonBias(("evaporator_pressure", "condenser_pressure"), 200.0, "Pa", "barometer")],
    ).analyse(machine())
    assert len(told.figures) >= 20
    for figure in told.figures:
        parts = np.hypot(told.bias(figure), told.random(figure))
        assert np.allclose(parts, told.half_width(figure), rtol=1e-12)
        shares = told.shares(figure).to_numpy()
        assert np.allclose(shares.sum(axis=1), 1.0)
        names = np.array(told.sources)[shares.argmax(axis=1)]
        assert (told.dominant(figure).to_numpy() == names).all()


def test_common_bias_of_a_pair_cancels_in_its_difference() -> None:
    """Matched thermometers: a bias that both share leaves the range alone, but not a level."""
    table = machine()
    exact = {name: Accuracy(0.0, unit="K" if COLUMNS[name][1] == "K" else "percent") for name in COLUMNS}
    pair = ("chilled_water_entering", "chilled_water_leaving")
    told = Uncertainty(TREND, exact, common=[CommonBias(pair, 0.1, "K", "bath")]).analyse(table)
    separate = Uncertainty(TREND, {**exact, **{name: Accuracy(0.1, unit="K") for name in pair}}).analyse(
        table
    )
    # What is left is the little that density and heat capacity change.
    assert (told.half_width("capacity") < 0.01 * separate.half_width("capacity")).all()
    assert np.allclose(told.half_width("evaporator_approach"), 0.1)
    assert np.allclose(separate.half_width("evaporator_approach"), 0.1)
    assert set(told.dominant("evaporator_approach")) == {"bath"}
    # A barometer that reads wrong moves both pressures up.
    barometer = CommonBias(("evaporator_pressure", "condenser_pressure"), 1.0, "kPa")
    lift = Uncertainty(TREND, exact, common=[barometer]).analyse(table)
    slopes = lift.slopes("refrigerant_lift")
    expected = 1000.0 * abs(slopes["evaporator_pressure"] + slopes["condenser_pressure"])
    assert np.allclose(lift.half_width("refrigerant_lift"), expected)


def test_a_mean_keeps_its_bias_and_loses_its_random_part() -> None:
    told = Uncertainty(TREND, accuracies(random=0.5)).analyse(machine(50))
    mean = told.mean("cop")
    assert mean.rows == 50
    assert mean.value == pytest.approx(told.result["cop"].mean())
    assert mean.random == pytest.approx(np.sqrt((told.random("cop") ** 2).mean() / 50))
    assert mean.bias == pytest.approx(told.bias("cop").mean(), rel=1e-3)
    assert mean.half_width == pytest.approx(np.hypot(mean.bias, mean.random))
    one = told.mean("cop", np.arange(50) == 3)
    assert one.half_width == pytest.approx(told.half_width("cop").iloc[3])
    assert one.dominant == told.dominant("cop").iloc[3]


def test_monte_carlo_agrees_with_first_order() -> None:
    """For errors a tenth as large as usual, within the scatter of the draws."""
    told = Uncertainty(
        TREND,
        accuracies(0.1, random=0.05),
        common=[CommonBias(("chilled_water_entering", "chilled_water_leaving"), 0.02, "K")],
    ).analyse(machine(3))
    figures = [figure for figure in told.figures if figure != "measured_saving"]
    draws = 4000
    seen = 0
    for entry in told.monte_carlo(figures, rows=[0, 2], draws=draws, seed=7):
        figure, row = entry["figure"], entry["row"]
        value = told.result[figure].iloc[row]
        half = told.half_width(figure).iloc[row]
        assert entry["told"] == 1.0
        # A quantile at 2.5 % of 4000 normal draws scatters by 2.1 % of the half width; five times that.
        assert entry["upper"] - entry["lower"] == pytest.approx(2.0 * half, rel=0.08, abs=1e-12), figure
        assert entry["mean"] == pytest.approx(value, abs=0.06 * half + 1e-12)
        seen += 1
    assert seen == 2 * len(figures) >= 40
    again = told.monte_carlo(["cop"], rows=[1], draws=50, seed=3)
    assert again == told.monte_carlo(["cop"], rows=[1], draws=50, seed=3)


def test_bad_readings_leave_gaps_and_nothing_else() -> None:
    table = machine(12)
    table.iloc[4, table.columns.get_loc("flow")] = np.nan
    table.iloc[6, table.columns.get_loc("out")] = 1e6
    told = Uncertainty(TREND, accuracies()).analyse(table)
    half = told.half_width("cop")
    assert half.index.equals(table.index)
    assert list(np.flatnonzero(half.isna())) == [4, 6]
    assert (told.dominant("cop") == "").sum() == 2
    assert told.mean("cop").rows == 10
    clean = Uncertainty(TREND, accuracies()).analyse(machine(12))
    assert np.array_equal(half.dropna(), clean.half_width("cop")[half.notna()])


def test_order_and_index_do_not_matter() -> None:
    table = machine(10)
    told = Uncertainty(TREND, accuracies()).analyse(table)
    turned = Uncertainty(TREND, accuracies()).analyse(table.iloc[::-1])
    assert np.array_equal(told.half_width("cop"), turned.half_width("cop")[::-1])
    doubled = table.set_axis([0] * 10)
    assert np.array_equal(
        Uncertainty(TREND, accuracies()).analyse(doubled).half_width("cop"), told.half_width("cop")
    )
    empty = Uncertainty(TREND, accuracies()).analyse(table.iloc[:0])
    assert len(empty) == 0
    assert len(empty.half_width("cop")) == 0


def test_containers_frames_and_pickles() -> None:
    table = machine(3)
    uncertainty = Uncertainty(TREND, accuracies())
    told = uncertainty.analyse(table, figures=["cop", "evaporating_temperature"])
    frame = told.frame(units="I-P")
    assert list(frame.columns)[2:] == ["evaporating_temperature [degF]", "evaporating_temperature +/- [F]"]
    kelvin = told.half_width("evaporating_temperature")
    assert np.allclose(frame.iloc[:, 3], 1.8 * kelvin)
    arrays = uncertainty.analyse({name: table[name].to_numpy() for name in table}, figures=["cop"])
    assert isinstance(arrays.half_width("cop"), np.ndarray)
    series = uncertainty.analyse(pl.from_pandas(table), figures=["cop"]).half_width("cop")
    assert isinstance(series, pl.Series)
    assert np.array_equal(series.to_numpy(), told.half_width("cop"))
    again = pickle.loads(pickle.dumps(uncertainty)).analyse(table, figures=["cop"])
    assert np.array_equal(again.half_width("cop"), told.half_width("cop"))
    thawed = pickle.loads(pickle.dumps(told))
    assert np.array_equal(thawed.half_width("cop"), told.half_width("cop"))


def test_bad_requests_are_refused_with_names() -> None:
    good = accuracies()
    with pytest.raises(interstage.WrongArgument, match="lacking: power"):
        Uncertainty(TREND, {name: value for name, value in good.items() if name != "power"})
    with pytest.raises(interstage.WrongArgument, match="not a share"):
        Uncertainty(TREND, {**good, "suction_temperature": Accuracy(1.0, unit="percent")})
    with pytest.raises(interstage.UnknownOption, match="degF"):
        Uncertainty(TREND, {**good, "suction_temperature": Accuracy(1.0, unit="degF")})
    with pytest.raises(interstage.Inconsistent, match="capacity"):
        Uncertainty(TREND, {**good, "capacity": Accuracy(1.0, unit="percent")})
    with pytest.raises(interstage.Inconsistent, match="negative"):
        Accuracy(-1.0, unit="K")
    with pytest.raises(interstage.Inconsistent, match="nan"):
        Accuracy(float("nan"), unit="K")
    with pytest.raises(interstage.WrongArgument, match="unit must say what"):
        Accuracy(1.0)
    with pytest.raises(interstage.WrongArgument, match="two or more"):
        CommonBias(["power"], 1.0, "kW")
    with pytest.raises(interstage.WrongArgument, match="taken"):
        Uncertainty(
            TREND, good, common=[CommonBias(("power", "chilled_water_flow"), 1.0, "percent", "power")]
        )
    told = Uncertainty(TREND, good).analyse(machine(2), figures=["cop"])
    with pytest.raises(interstage.UnknownOption, match="cop"):
        told.half_width("capacity")
    with pytest.raises(interstage.WrongArgument, match="leave it out"):
        Uncertainty(TREND, good).analyse(machine(2), figures=["economizer_evidence"])
    with pytest.raises(interstage.Inconsistent, match="none of the rows"):
        told.mean("cop", np.zeros(2, dtype=bool))
    with pytest.raises(interstage.WrongArgument, match="truth value"):
        told.mean("cop", [0, 1])
    with pytest.raises(interstage.WrongArgument, match="no row 2"):
        told.monte_carlo(["cop"], rows=[2])
    with pytest.raises(interstage.WrongArgument, match="draws"):
        told.monte_carlo(["cop"], rows=[1], draws=1)

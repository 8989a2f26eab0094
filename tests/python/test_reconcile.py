"""Reconciliation: closed solutions, what balances can and cannot tell, statistics of the tests, bad input."""

import pickle

import numpy as np
import pytest

import interstage
from interstage import Accuracy, Reconciliation, Uncertainty, reconcile
from trend_machine import COLUMNS, TREND, accuracies, machine

#: All three balances, with the shares of the readings of `machine`.
ALL = ("water_heat", "compression_power", "condenser_heat")
SHARES = {"lost_share": (0.07, 0.02), "drive_share": (0.93, 0.02)}


def test_a_linear_balance_has_the_closed_solution() -> None:
    """x = y - V A' (A V A')^-1 A y, worked by hand: three flows at a branch."""
    read, deviations = np.array([100.0, 60.0, 43.0]), np.array([2.0, 1.0, 1.0])
    balance = np.array([[1.0, -1.0, -1.0]])
    found = reconcile(read, np.diag(deviations**2), lambda x: (balance @ x, balance))
    # The imbalance of -3 is shared 4 : 1 : 1.
    assert np.allclose(found.values, [102.0, 59.5, 42.5])
    assert found.statistic == pytest.approx(9.0 / 6.0)
    assert np.allclose(found.tests, 3.0 / np.sqrt(6.0))
    assert np.allclose(np.diag(found.covariance), [4 - 16 / 6, 1 - 1 / 6, 1 - 1 / 6])
    assert found.freedom == 1
    assert found.limit == pytest.approx(3.841, abs=5e-4)  # chi-square tables: 95 %, one degree of freedom
    assert found.accepted


def test_a_curved_balance_is_met_in_the_end() -> None:
    def product(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return np.array([x[0] * x[1] - x[2]]), np.array([[x[1], x[0], -1.0]])

    read, spread = np.array([3.0, 4.0, 14.0]), np.diag([0.25, 0.25, 1.0])
    found = reconcile(read, spread, product)
    assert abs(product(found.values)[0][0]) < 1e-9

    # A minimum: moving along the balance costs more.
    def cost(x: np.ndarray) -> float:
        return float((x - read) @ np.linalg.solve(spread, x - read))

    for shift in (1e-3, -1e-3):
        x, y, _ = found.values
        assert cost(np.array([x + shift, y, (x + shift) * y])) > cost(found.values)
        assert cost(np.array([x, y + shift, x * (y + shift)])) > cost(found.values)


def test_wrong_readings_are_found_where_two_balances_tell_them() -> None:
    table = machine(4)
    uncertainty = Uncertainty(TREND, accuracies())
    single = Reconciliation(uncertainty, lost_share=SHARES["lost_share"])
    every = Reconciliation(uncertainty, ALL, **SHARES)
    good = every.analyse(table)
    assert np.allclose(good.statistic, 0.0, atol=1e-6)
    assert good.accepted.all()
    for column, name in (("tower_flow", "condenser_water_flow"), ("power", "power")):
        wrong = table.copy()
        wrong[column] *= 1.25
        one = single.analyse(wrong)
        if column == "tower_flow":
            # Something is wrong; one balance does not tell what.
            assert not one.accepted.any()
            assert set(one.suspect) == {"cannot tell which"}
        more = every.analyse(wrong)
        assert not more.accepted.any()
        # The three readings of the condenser water come in together and are told together.
        assert all(name in words.split(" or ") for words in more.suspect)
        assert not more.suspect.str.contains("chilled").any()
        assert (more.tests[name] > 1.96).all()
    # Balances are met afterwards.
    left, _ = every.balance(more.readings.to_numpy())
    assert np.abs(left).max() < 1.0


def test_reconciled_figures_are_never_less_certain() -> None:
    table = machine(3)
    uncertainty = Uncertainty(TREND, accuracies(random=0.4))
    before = uncertainty.analyse(table)
    after = Reconciliation(uncertainty, ALL, **SHARES).analyse(table)
    for figure in (
        "capacity",
        "heat_rejected",
        "cop",
        "condenser_ua",
        "compression_power",
        "stage_efficiency",
    ):
        assert (after.half_width(figure) <= before.half_width(figure) * (1.0 + 1e-9)).all(), figure
    assert (after.half_width("capacity") < 0.8 * before.half_width("capacity")).all()


def test_false_alarms_are_as_rare_as_the_test_says() -> None:
    """Readings with errors as stated: one row of twenty fails, give or take the scatter of 2000 rows."""
    rows = 2000
    table = machine(1).iloc[[0] * rows].reset_index(drop=True)
    rng = np.random.default_rng(20240701)
    for name, accuracy in accuracies().items():
        column = COLUMNS[name][0]
        size = accuracy.bias / 1.96 * (1.0 if accuracy.unit == "K" else 0.01 * table[column])
        table[column] += rng.standard_normal(rows) * size
    # What is read between pressure and saturation must stay on its side, or its slope is none.
    found = Reconciliation(Uncertainty(TREND, accuracies()), ("water_heat",), lost_share=(0.07, 0.0)).analyse(
        table
    )
    share = 1.0 - float(found.accepted.mean())
    assert share == pytest.approx(0.05, abs=4.0 * np.sqrt(0.05 * 0.95 / rows))
    # Corrections in units of their deviation are those of a normal distribution.
    assert float((found.tests["chilled_water_flow"] > 1.96).mean()) == pytest.approx(share, abs=1e-9)


def test_gaps_stay_gaps() -> None:
    table = machine(5)
    table.iloc[2, table.columns.get_loc("tower_flow")] = np.nan
    found = Reconciliation(Uncertainty(TREND, accuracies()), lost_share=(0.07, 0.0)).analyse(table)
    assert list(found.statistic.isna()) == [False, False, True, False, False]
    assert not found.accepted.iloc[2]
    assert found.suspect.iloc[2] == ""
    assert found.half_width("capacity").isna().sum() == 1
    assert found.readings.index.equals(table.index)
    empty = Reconciliation(Uncertainty(TREND, accuracies()), lost_share=(0.07, 0.0)).analyse(table.iloc[:0])
    assert len(empty) == 0


def test_bad_requests_are_refused_with_names() -> None:
    uncertainty = Uncertainty(TREND, accuracies())
    with pytest.raises(interstage.WrongArgument, match="lost_share"):
        Reconciliation(uncertainty)
    with pytest.raises(interstage.UnknownOption, match="water_heat"):
        Reconciliation(uncertainty, ["energy"])
    with pytest.raises(interstage.Inconsistent, match="above 1"):
        Reconciliation(uncertainty, lost_share=(7.0, 0.0))
    few = {name: pair for name, pair in COLUMNS.items() if name.startswith("chilled")}
    small = Uncertainty(interstage.Trend(TREND.circuit, few), {name: accuracies()[name] for name in few})
    with pytest.raises(interstage.Inconsistent, match="condenser_water_flow"):
        Reconciliation(small, lost_share=(0.0, 0.0))
    exact = {name: Accuracy(0.0, unit="K" if COLUMNS[name][1] == "K" else "percent") for name in COLUMNS}
    found = Reconciliation(Uncertainty(TREND, exact), lost_share=(0.07, 0.0)).analyse(machine(1))
    assert np.isnan(found.statistic.iloc[0])
    line = np.array([[1.0, -1.0]])
    with pytest.raises(interstage.Inconsistent, match="independent"):
        reconcile([1.0, 2.0], np.eye(2), lambda x: (np.repeat(line @ x, 2), np.repeat(line, 2, axis=0)))
    with pytest.raises(interstage.WrongLength):
        reconcile([1.0, 2.0], np.eye(3), lambda x: (line @ x, line))
    with pytest.raises(interstage.WrongArgument, match="symmetric"):
        reconcile([1.0, 2.0], [[1.0, 0.5], [0.0, 1.0]], lambda x: (line @ x, line))
    with pytest.raises(interstage.WrongArgument, match="finite"):
        reconcile([1.0, float("nan")], np.eye(2), lambda x: (line @ x, line))
    with pytest.raises(interstage.WrongArgument, match="eigenvalue"):
        reconcile([1.0, 2.0], -np.eye(2), lambda x: (line @ x, line))
    for wrong in (3, (np.zeros(2), line), (np.zeros(0), np.zeros((0, 2)))):
        with pytest.raises(interstage.WrongArgument, match="derivatives to 2 values"):
            reconcile([1.0, 2.0], np.eye(2), lambda x, wrong=wrong: wrong)
    with pytest.raises(interstage.Inconsistent, match="no numbers"):
        reconcile([1.0, 2.0], np.eye(2), lambda x: (np.array([np.nan]), line))


def test_what_never_settles_says_how_far_it_was() -> None:
    """No x has x^2 = -0.5: the line through the readings leads back and forth."""

    def never(x: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return np.array([x[0] ** 2 + 0.5]), np.array([[2.0 * x[0], 0.0]])

    with pytest.raises(interstage.NotConverged, match="of its standard uncertainty") as told:
        reconcile([0.1, 0.3], np.eye(2), never)
    assert (told.value.solver, told.value.iterations) == ("reconciliation", 20)
    assert told.value.residual > 1e-6
    assert np.isnan(told.value.lower)
    assert str(pickle.loads(pickle.dumps(told.value))) == str(told.value)

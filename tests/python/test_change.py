"""Why power and efficiency changed: parts sum to the change, depend on no order and find what was changed."""

import dataclasses
import itertools
import math

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import Operation, why_it_changed
from interstage._change_model import CAUSES, _shapley

REFRIGERANT = interstage.Refrigerant("R-134a")
FIGURES = ("power", "kw_per_ton", "cop")


def circuit(efficiency: float = 0.78) -> interstage.Circuit:
    return interstage.Circuit(
        REFRIGERANT,
        stages=[interstage.Stage(polytropic_efficiency=efficiency)] * 2,
        interstages=[interstage.FlashTank()],
        motor_efficiency=0.95,
    )


#: The modelled machine in good order.
GOOD = {
    "capacity": 1.0e6,
    "chilled": 280.0,
    "tower": 301.0,
    "chilled_flow": 40.0,
    "tower_flow": 50.0,
    "evaporator": 0.28e6,
    "condenser": 0.30e6,
    "efficiency": 0.78,
    "economizer": True,
    "subcooling": 2.0,
    "other_losses": 4e3,
}


def run(**changes: float) -> Operation:
    """Operation of the modelled machine, as its perfect instruments would show it."""
    at = {**GOOD, **changes}
    machine = circuit(at["efficiency"])
    if not at["economizer"]:
        machine = machine.without_economizers()
    point = interstage.Chiller(
        machine,
        evaporator=interstage.Exchanger.evaporator(ua=at["evaporator"]),
        condenser=interstage.Exchanger.condenser(ua=at["condenser"]),
        subcooling=at["subcooling"],
    ).solve(
        capacity=at["capacity"],
        chilled_water=interstage.WaterFlow(mass_flow=at["chilled_flow"]),
        chilled_water_leaving=at["chilled"],
        condenser_water=interstage.WaterFlow(mass_flow=at["tower_flow"]),
        condenser_water_entering=at["tower"],
    )
    return Operation(
        capacity=at["capacity"],
        power=point.drive_input_power + at["other_losses"],
        chilled_water_leaving=at["chilled"],
        condenser_water_entering=at["tower"],
        # About the density of water: what it errs is the same on both sides.
        chilled_water_flow=at["chilled_flow"] / 999.9,
        condenser_water_flow=at["tower_flow"] / 996.0,
        evaporating_temperature=point.evaporating_temperatures[0],
        condensing_temperature=point.condensing_temperatures[0],
        stage_efficiency=at["efficiency"],
        subcooling=at["subcooling"],
        economizer=at["economizer"],
    )


EXACT = {"common": {}, "separate": {}}

ONE_CAUSE = {
    "load": {"capacity": 0.8e6},
    "chilled-water temperature": {"chilled": 281.0},
    "condenser-water temperature": {"tower": 304.0},
    "chilled-water flow": {"chilled_flow": 34.0},
    "condenser-water flow": {"tower_flow": 42.0},
    "evaporator UA": {"evaporator": 0.22e6},
    "condenser UA": {"condenser": 0.22e6},
    "compressor efficiency": {"efficiency": 0.72},
    "economizer": {"economizer": False},
    "subcooling": {"subcooling": 0.0},
    "unexplained": {"other_losses": 12e3},
}


@pytest.mark.parametrize(("cause", "change"), ONE_CAUSE.items(), ids=ONE_CAUSE)
def test_a_single_cause_gets_the_whole_change(cause, change) -> None:
    before, after = run(), run(**change)
    for figure in FIGURES:
        found = why_it_changed(circuit(), before, after, figure=figure, **EXACT)
        assert found.largest == cause
        assert found.parts[cause] == pytest.approx(found.change, rel=0.02)
        assert all(value == 0.0 for value in found.intervals.values())


EVERYTHING = {key: value for change in ONE_CAUSE.values() for key, value in change.items()}


@pytest.mark.parametrize("figure", FIGURES)
def test_parts_sum_to_the_change(figure) -> None:
    before, after = run(), run(**EVERYTHING)
    found = why_it_changed(circuit(), before, after, figure=figure, **EXACT)
    assert set(found.parts) == set(CAUSES) - {"suction superheat"}
    assert (found.before, found.after) == (getattr(before, figure), getattr(after, figure))
    assert math.isclose(sum(found.parts.values()), found.change, rel_tol=1e-9)
    back = why_it_changed(circuit(), after, before, figure=figure, **EXACT)
    for cause, part in found.parts.items():
        # The way back is the way there with the sign turned: no order is preferred.
        assert back.parts[cause] == pytest.approx(-part, rel=1e-6, abs=1e-9 * abs(found.change))


def test_directions_are_those_of_physics() -> None:
    found = why_it_changed(circuit(), run(), run(**EVERYTHING), **EXACT).parts
    worse = {"condenser-water temperature", "condenser-water flow", "evaporator UA"}
    worse |= {"condenser UA", "compressor efficiency", "economizer", "subcooling", "unexplained"}
    assert {cause for cause, part in found.items() if part > 0.0} >= worse
    assert found["chilled-water temperature"] < 0.0
    # Less water at the same leaving temperature is warmer on the mean: the evaporator gains a little.
    assert found["chilled-water flow"] < 0.0


def test_shapley_values_against_every_order() -> None:
    rng = np.random.default_rng(5)
    worth = rng.normal(size=16)
    parts = np.zeros(4)
    orders = list(itertools.permutations(range(4)))
    for order in orders:
        mask = 0
        for place in order:
            parts[place] += worth[mask | 1 << place] - worth[mask]
            mask |= 1 << place
    assert _shapley(worth, 4) == pytest.approx(parts / len(orders), rel=1e-12)


def test_conductance_that_follows_the_flow_is_not_booked_as_fouling() -> None:
    usual = interstage.VariableUa.at_design(
        ua=0.30e6, mass_flow=50.0, heat=1.15e6, water_share=0.5, refrigerant_share=0.3, exponent=0.0
    )
    before = run()
    after = run(tower_flow=42.0, condenser=0.30e6 * usual.ua(42.0, 1.15e6) / usual.ua(50.0, 1.15e6))
    plain = why_it_changed(circuit(), before, after, figure="power", **EXACT)
    aware = why_it_changed(circuit(), before, after, figure="power", condenser=usual, **EXACT)
    assert plain.parts["condenser UA"] > 0.2 * plain.change
    assert abs(aware.parts["condenser UA"]) < 0.02 * aware.change
    assert aware.parts["condenser-water flow"] == pytest.approx(aware.change, rel=0.02)


def test_intervals_come_from_what_readings_err() -> None:
    before, after = run(), run(condenser=0.25e6)
    # Power of one row alone by 1 kW: all of it is unexplained.
    found = why_it_changed(circuit(), before, after, figure="power", separate={"power": 1e3})
    assert found.intervals["unexplained"] == pytest.approx(1e3 * math.sqrt(2.0), rel=1e-6)
    assert found.intervals["condenser UA"] == 0.0
    # What both err alike mostly cancels.
    alike = why_it_changed(circuit(), before, after, figure="power", common={"condensing_temperature": 0.2})
    alone = why_it_changed(circuit(), before, after, figure="power", separate={"condensing_temperature": 0.2})
    assert 0.0 < alike.intervals["condenser UA"] < 0.3 * alone.intervals["condenser UA"]
    # Against the exact difference when the reading after errs by its half width.
    moved = dataclasses.replace(after, condensing_temperature=after.condensing_temperature + 0.2)
    exact = why_it_changed(circuit(), before, moved, figure="power", **EXACT).parts["condenser UA"]
    once = abs(exact - alone.parts["condenser UA"])
    assert once < alone.intervals["condenser UA"] < 1.6 * once


def test_table_bars_and_files(tmp_path) -> None:
    found = why_it_changed(circuit(), run(), run(condenser=0.25e6, capacity=0.9e6))
    table = found.table()
    assert list(table.columns) == ["cause", "part [kW/ton]", "interval [kW/ton]"]
    assert table["part [kW/ton]"].iloc[:-1].sum() == pytest.approx(table["part [kW/ton]"].iloc[-1])
    found.to_csv(tmp_path / "change.csv")
    assert pd.read_csv(tmp_path / "change.csv").equals(
        table.astype(pd.read_csv(tmp_path / "change.csv").dtypes)
    )
    assert "condenser UA" in found._repr_html_()
    pyplot = pytest.importorskip("matplotlib.pyplot")
    _, ax = pyplot.subplots()
    assert found.bars(ax) is ax
    assert [label.get_text() for label in ax.get_yticklabels()] == list(found.parts)
    assert ax.get_title(loc="left") == "Why power per capacity changed"
    assert ax.get_xlabel() == "part of the change [kW/ton]"
    pyplot.close("all")


def test_periods_are_means_of_their_rows() -> None:
    rows = [run(), run(capacity=0.7e6), run(capacity=0.9e6)]
    frame = pd.DataFrame([dataclasses.asdict(row) for row in rows]).drop(columns="economizer")
    whole = Operation.of(frame)
    assert whole.kw_per_ton == pytest.approx(
        sum(row.power for row in rows) / sum(row.capacity for row in rows) * 3.516852842
    )
    weighted = Operation.of(frame, hours=[1.0, 0.0, 1.0])
    assert weighted.capacity == pytest.approx(0.95e6)
    chosen = Operation.of(frame, where=[False, True, False])
    assert chosen.capacity == pytest.approx(0.7e6)
    gone = Operation.of(frame.assign(economizer_evidence=[0.0, 0.0, np.nan], stage_efficiency=np.nan))
    assert not gone.economizer
    assert gone.stage_efficiency is None


def test_against_what_a_baseline_expects() -> None:
    frame = pd.DataFrame([dataclasses.asdict(run(condenser=0.24e6))]).drop(columns="economizer")
    good = run()

    class Constant:
        def __init__(self, value: float) -> None:
            self.value = value

        def predict(self, frame: pd.DataFrame) -> tuple[np.ndarray, np.ndarray]:
            return np.full(len(frame), self.value), np.full(len(frame), 0.0)

    names = ("power", "condensing_temperature", "evaporating_temperature")
    expected = Operation.expected(frame, {name: Constant(getattr(good, name)) for name in names})
    found = why_it_changed(circuit(), expected, Operation.of(frame), figure="power", **EXACT)
    assert found.largest == "condenser UA"
    with pytest.raises(interstage.Inconsistent, match="has no cop"):
        Operation.expected(frame, {"cop": Constant(5.0)})


def test_bad_input_is_refused() -> None:
    good = run()
    with pytest.raises(interstage.NotFinite, match="capacity"):
        dataclasses.replace(good, capacity=math.nan)
    with pytest.raises(interstage.OutOfRange, match="power"):
        dataclasses.replace(good, power=0.0)
    with pytest.raises(interstage.Inconsistent, match="not above"):
        dataclasses.replace(good, condensing_temperature=270.0)
    with pytest.raises(interstage.UnknownOption, match="kw_per_ton"):
        why_it_changed(circuit(), good, good, figure="kW")
    with pytest.raises(interstage.UnknownOption, match="fields of Operation"):
        why_it_changed(circuit(), good, good, common={"oil": 1.0})
    with pytest.raises(interstage.OutOfRange, match="separate"):
        why_it_changed(circuit(), good, good, separate={"power": -1.0})
    with pytest.raises(interstage.Inconsistent, match="operation and machine"):
        why_it_changed(circuit(), good, dataclasses.replace(good, evaporating_temperature=283.0))
    with pytest.raises(interstage.Inconsistent, match="not below the condensing temperature"):
        why_it_changed(circuit(), good, dataclasses.replace(good, condenser_water_entering=320.0))
    with pytest.raises(interstage.Inconsistent, match="no row"):
        Operation.of(pd.DataFrame([dataclasses.asdict(good)]).iloc[:0])


def test_an_efficiency_told_on_one_side_only_is_noted() -> None:
    found = why_it_changed(circuit(), run(), dataclasses.replace(run(), stage_efficiency=None), **EXACT)
    assert "that of the circuit holds in both" in found.notes[0]
    assert found.change == 0.0


def test_no_change_says_so() -> None:
    row = run()
    assert str(why_it_changed(circuit(), row, row)).endswith("no change")


@pytest.mark.parametrize("value", ["2", True, None])
def test_an_operation_refuses_what_is_no_number(value) -> None:
    with pytest.raises(interstage.WrongArgument, match="capacity must be a number"):
        dataclasses.replace(run(), capacity=value)

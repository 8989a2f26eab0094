"""Smallest visible faults and helpful readings: worked by hand, laws, bad input."""

import numpy as np
import pytest

import interstage
from interstage import Accuracy, Uncertainty, added_readings, smallest_visible
from trend_machine import CIRCUIT, COLUMNS, TREND, accuracies, machine

TOLD = Uncertainty(TREND, accuracies(random=0.5)).analyse(machine(20))
FLOW = "condenser_water_flow"


def entry(found, fault, figure):
    return next(one for one in found if (one.fault, one.figure) == (fault, figure))


def test_what_is_visible_is_the_detection_limit() -> None:
    """Twice 1.645 standard uncertainties of wander and random part, by hand."""
    found = smallest_visible(TOLD, drift={"condenser_ua": 2000.0})
    told = entry(found, "condenser fouling", "condenser_ua")
    random = TOLD.mean("condenser_ua").random / 1.96
    assert told.smallest == pytest.approx(3.29 * np.hypot(2000.0, random))
    assert told.relative == pytest.approx(told.smallest / TOLD.mean("condenser_ua").value)
    assert told.direction == "down"
    # Fewer independent rows see less, biases count against a design.
    fewer = entry(
        smallest_visible(TOLD, drift={"condenser_ua": 0.0}, independent_rows=5), told.fault, told.figure
    )
    assert fewer.smallest == pytest.approx(3.29 * random * 2.0)
    assert fewer.dominant in TOLD.sources
    usual, design = (
        entry(smallest_visible(TOLD, against=against), told.fault, told.figure).smallest
        for against in ("baseline", "design")
    )
    bias = 3.29 * TOLD.mean("condenser_ua").bias / 1.96
    assert design == pytest.approx(np.hypot(usual, bias))
    assert design > 1.2 * usual


def test_every_fault_is_told_or_says_why_not() -> None:
    found = smallest_visible(TOLD)
    assert {one.fault for one in found} >= {"condenser fouling", "low charge", "blocked tank vent"}
    for one in found:
        assert (one.smallest is None) == bool(one.reason), one
        assert one.direction in ("up", "down")
    tank = entry(found, "blocked tank vent", "stage_2_tank_pressure_exponent")
    assert 0.0 < tank.smallest < 0.3
    few = {name: pair for name, pair in COLUMNS.items() if name.startswith("condenser")}
    small = Uncertainty(interstage.Trend(CIRCUIT, few), {name: accuracies()[name] for name in few})
    blind = entry(smallest_visible(small.analyse(machine())), "evaporator fouling", "evaporator_ua")
    assert blind.smallest is None
    assert "evaporator_pressure" in blind.reason


def test_no_more_is_promised_than_the_evidence_names() -> None:
    kinds = (None, "holds liquid", "drains freely")
    named = {}
    for kind in kinds:
        found = smallest_visible(TOLD, condenser=kind)
        named[kind] = {one.fault: one.named for one in found}
        print(kind, named[kind])
        for one in found:
            assert not one.named or one.fault in one.named.split(" or ")
        # No two evaporator faults are told apart, and its pressure is behind all their figures.
        assert named[kind]["evaporator fouling"] == ""
    assert (
        "kind of condenser is not known" in entry(smallest_visible(TOLD), "overcharge", "subcooling").reason
    )
    held = smallest_visible(TOLD, condenser="holds liquid")
    assert entry(held, "overcharge", "subcooling").smallest is not None
    assert named["holds liquid"]["overcharge"] == "non-condensable gas or overcharge"
    assert named["holds liquid"]["condenser fouling"] == "condenser fouling"
    assert named[None]["overcharge"] == "condenser fouling or non-condensable gas or overcharge"
    with pytest.raises(interstage.UnknownOption, match="drains freely"):
        smallest_visible(TOLD, condenser="flooded")


def test_a_second_instrument_shrinks_the_interval_by_its_share() -> None:
    uncertainty = Uncertainty(TREND, accuracies())
    table = machine(4)
    candidates = {name: accuracies()[name] for name in COLUMNS}
    found = added_readings(uncertainty, table, "capacity", candidates).set_index("reading")
    told = uncertainty.analyse(table, figures=["capacity"])
    for reading, share in told.shares("capacity").iloc[0].items():
        # Two equal instruments leave half of the variance of one.
        assert found.loc[reading, "shrinks_to"] == pytest.approx(np.sqrt(1.0 - 0.5 * share))
    # A third of the variance from each of three readings.
    assert set(found.index[:3]) == {"chilled_water_entering", "chilled_water_leaving", "chilled_water_flow"}
    better = added_readings(
        uncertainty, table, "capacity", {"chilled_water_flow": Accuracy(0.0, unit="percent")}
    )
    assert better["shrinks_to"][0] == pytest.approx(np.sqrt(1.0 - told.shares("capacity").iloc[0, 8]))


def test_a_reading_that_completes_the_heat_balance() -> None:
    """Without a condenser flow meter +-3.5 %, with it +-2.6 %."""
    table = machine(1)
    # Without the discharge temperature, which would tell more by the heat of the refrigerant.
    left_out = (FLOW, "discharge_temperature")
    without = {name: pair for name, pair in COLUMNS.items() if name not in left_out}
    uncertainty = Uncertainty(
        interstage.Trend(CIRCUIT, without), {name: accuracies()[name] for name in without}
    )
    candidates = {FLOW: accuracies()[FLOW], "power": accuracies()["power"]}
    typical = {FLOW: float(table["tower_flow"].median())}
    found = added_readings(
        uncertainty, table, "capacity", candidates, typical=typical, lost_share=(0.07, 0.0)
    )
    assert list(found["reading"]) == [FLOW, "power"]
    capacity = float(uncertainty.analyse(table).result["capacity"].median())
    assert found["before"][0] / capacity == pytest.approx(0.0346, abs=0.0003)
    assert found["after"][0] / capacity == pytest.approx(0.026, abs=0.0005)
    assert found["by"][0] == "balance: water_heat"
    assert found["shrinks_to"][1] == pytest.approx(1.0)


def test_bad_requests_are_refused_with_names() -> None:
    uncertainty = Uncertainty(TREND, accuracies())
    with pytest.raises(interstage.UnknownOption, match="design"):
        smallest_visible(TOLD, against="dream")
    with pytest.raises(interstage.Inconsistent, match="independent_rows"):
        smallest_visible(TOLD, independent_rows=0.0)
    with pytest.raises(interstage.WrongArgument, match="candidates"):
        added_readings(uncertainty, machine(2), "capacity", {})
    with pytest.raises(interstage.WrongArgument, match="typical"):
        added_readings(uncertainty, machine(2), "capacity", {"capacity": Accuracy(3.0, unit="percent")})
    with pytest.raises(interstage.Inconsistent, match="none of the rows"):
        added_readings(uncertainty, machine(2) * np.nan, "capacity", {FLOW: accuracies()[FLOW]})

"""Smallest visible faults and helpful readings: worked by hand, laws, bad input."""

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import Accuracy, Uncertainty, added_readings, smallest_visible
from trend_machine import CIRCUIT, COLUMNS, TREND, accuracies, machine

TOLD = Uncertainty(TREND, accuracies(random=0.5)).analyse(machine(20))
FLOW = "condenser_water_flow"
#: Half width of the interval beyond which a departure counts, and the one-sided 95 % quantile above it.
SEEN = 1.96 + 1.645
#: How much more a median scatters than a mean.
MEDIAN = np.sqrt(np.pi / 2.0)


def entry(found, fault, figure):
    return next(one for one in found if (one.fault, one.figure) == (fault, figure))


def test_what_is_visible_is_the_detection_limit() -> None:
    """Standard uncertainties of wander and random part, by hand."""
    found = smallest_visible(TOLD, drift={"condenser_ua": 2000.0})
    told = entry(found, "condenser fouling", "condenser_ua")
    random = MEDIAN * TOLD.mean("condenser_ua").random / 1.96
    assert told.smallest == pytest.approx(SEEN * np.hypot(2000.0, random))
    assert told.relative == pytest.approx(told.smallest / TOLD.mean("condenser_ua").value)
    assert told.direction == "down"
    # Fewer independent rows see less, biases count against a design.
    fewer = entry(
        smallest_visible(TOLD, drift={"condenser_ua": 0.0}, independent_rows=5), told.fault, told.figure
    )
    assert fewer.smallest == pytest.approx(SEEN * random * 2.0)
    assert fewer.dominant in TOLD.sources
    usual, design = (
        entry(smallest_visible(TOLD, against=against), told.fault, told.figure).smallest
        for against in ("baseline", "design")
    )
    bias = SEEN * TOLD.mean("condenser_ua").bias / 1.96
    assert design == pytest.approx(np.hypot(usual, bias))
    assert design > 1.2 * usual


class Level:
    """A baseline that expects one value, as sharp as the instruments are from row to row."""

    def __init__(self, expected: float, half: float) -> None:
        self.expected, self.half = expected, half

    def predict(self, frame) -> tuple[np.ndarray, np.ndarray]:
        return np.full(len(frame), self.expected), np.full(len(frame), self.half)


@pytest.mark.parametrize("drift", [0.0, 0.4])
def test_a_fault_of_that_size_is_seen_in_19_of_20_cases(drift) -> None:
    """Periods drawn at random: with the fault, departures see it; without one, they allege in 1 of 20."""
    figure, cases, rows = "condenser_approach", 1000, len(TOLD)
    told = entry(smallest_visible(TOLD, drift={figure: drift}), "condenser fouling", figure)
    half = float(TOLD.random(figure).mean())
    clean = float(TOLD.result[figure].mean())
    generator = np.random.default_rng(5)
    seen = {}
    for fault in (0.0, told.smallest):
        noise = generator.normal(0.0, half / 1.96, (cases, rows)) + generator.normal(0.0, drift, (cases, 1))
        scores = []
        for period in clean + fault + noise:
            frame = pd.DataFrame({f"{figure} [K]": period})
            baselines = {figure: Level(clean, half)}
            found = interstage.departures(frame, baselines, block=np.arange(rows), drift={figure: drift})
            scores.append(found[0].score)
        seen[fault] = float((np.abs(scores) > 1.96).mean())
    # Four standard deviations of a share of that many cases.
    assert seen[0.0] < 0.05 + 4.0 * np.sqrt(0.05 * 0.95 / cases)
    assert seen[told.smallest] == pytest.approx(0.95, abs=4.0 * np.sqrt(0.05 * 0.95 / cases))


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


def without(*names: str) -> interstage.UncertainFigures:
    """Figures of the machine without some of its readings."""
    columns = {name: pair for name, pair in COLUMNS.items() if name not in names}
    trend = interstage.Trend(CIRCUIT, columns, drive_efficiency=0.93, widest_efficiency_interval=1.0)
    left = {name: one for name, one in accuracies(random=0.5).items() if name in columns}
    return Uncertainty(trend, left).analyse(machine(20))


def test_a_flow_that_is_read_is_seen_by_its_meter_and_by_its_range() -> None:
    found = smallest_visible(TOLD)
    flow = entry(found, "low condenser water flow", FLOW)
    # 2 % of drift and 1 % of noise in 20 rows, half widths of 95 %.
    assert flow.relative == pytest.approx(SEEN * np.hypot(0.02, MEDIAN * 0.01 / 1.96 / 20**0.5), rel=1e-3)
    assert (flow.direction, flow.unit, flow.by) == ("down", "m3/s", "")
    range_ = entry(found, "low condenser water flow", "condenser_water_range")
    noise = MEDIAN * 0.05 * 2**0.5 / 1.96 / 20**0.5
    assert range_.smallest == pytest.approx(SEEN * np.hypot(0.1, noise))
    assert (range_.direction, range_.unit, range_.relative) == ("up", "K", None)


@pytest.mark.parametrize("water", ["condenser_water", "chilled_water"])
def test_a_flow_that_is_not_read_is_told_by_its_range_at_a_known_heat(water) -> None:
    figure = f"{water}_flow"
    fault = "low condenser water flow" if water == "condenser_water" else "low chilled-water flow"
    told = without(figure)
    seen = entry(smallest_visible(told, against="design", drift={figure: 0.0}), fault, figure)
    heat = {"condenser_water": ("capacity", "power"), "chilled_water": ("capacity_from_power",)}[water]
    assert seen.by == f"{water}_range and {' + '.join(heat)}"
    # By hand: heat / (heat capacity of water x range); its errors are those of heat and range.
    machines = machine(20)
    true = machines[COLUMNS[figure][0]].mean()
    assert seen.smallest / seen.relative == pytest.approx(
        true, rel=0.01 if water == "chilled_water" else 0.08
    )
    values, parts = 0.0, []
    names = list(told.uncertainty.accuracies)
    for part in heat:
        value = told.result[part] if part != "power" else machines["power"]
        slopes = np.zeros((20, len(names))) if part == "power" else told.slopes(part).to_numpy()
        if part == "power":
            slopes[:, names.index("power")] = 1.0
        values = values + value.to_numpy()
        parts.append(slopes)
    relative = sum(parts) / values[:, None]
    for end, sign in (("entering", 1.0), ("leaving", -1.0)):
        sign = sign if water == "condenser_water" else -sign
        relative[:, names.index(f"{water}_{end}")] += sign / 5.0
    bias, random, _ = told.uncertainty.errors(told._readings)
    flow = values / values.mean() * true
    of_bias = (relative * bias * flow[:, None]).mean(axis=0)
    of_random = MEDIAN**2 * ((relative * random * flow[:, None]) ** 2).mean(axis=0) / 20
    assert seen.relative == pytest.approx(SEEN * np.sqrt((of_bias**2 + of_random).sum()) / true, rel=0.02)
    # What it wanders is what range and heat balance wander.
    usual = entry(smallest_visible(told), fault, figure)
    assert usual.relative > SEEN * np.hypot(0.015, 0.1 / 5.0)
    assert usual.dominant == "how far a sound machine wanders"


def test_flows_and_gas_that_cannot_be_seen_say_why() -> None:
    blind = smallest_visible(without(FLOW, "chilled_water_flow", "power", "condenser_water_leaving"))
    tower = entry(blind, "low condenser water flow", FLOW)
    assert tower.smallest is None
    assert tower.reason.endswith("the range needs condenser_water_leaving")
    chilled = entry(blind, "low chilled-water flow", "chilled_water_flow")
    assert "capacity_from_power needs power" in chilled.reason
    assert "capacity needs chilled_water_flow" in chilled.reason
    # A machine that stands has no range that tells a flow.
    still = machine(20).assign(tower=302.0, warm=302.0)
    told = without(FLOW).uncertainty.analyse(still)
    assert "range that is clear" in entry(smallest_visible(told), "low condenser water flow", FLOW).reason
    few = Uncertainty(TREND, accuracies()).analyse(machine(3), figures=["subcooling"])
    assert entry(smallest_visible(few), "low condenser water flow", FLOW).smallest is not None
    no_liquid = smallest_visible(without("liquid_line_temperature"), condenser="drains freely")
    gas = entry(no_liquid, "non-condensable gas", "apparent_gas_pressure")
    assert gas.reason == "needs liquid_line_temperature"


def test_gas_is_seen_by_pressure_and_liquid_temperature() -> None:
    found = smallest_visible(TOLD, condenser="drains freely", drift={"apparent_gas_pressure": 0.0})
    gas = entry(found, "non-condensable gas", "apparent_gas_pressure")
    liquid = CIRCUIT.refrigerant.saturation(T=309.0 - 2.5)
    # Clausius-Clapeyron by hand.
    slope = liquid.latent_heat / (306.5 * (1.0 / liquid.vapor.rho - 1.0 / liquid.liquid.rho))
    pressure = CIRCUIT.refrigerant.saturation(T=309.0).p
    random = np.hypot(0.0025 * pressure, 0.05 * slope) / 1.96 / 20**0.5
    assert gas.smallest == pytest.approx(SEEN * MEDIAN * random, rel=1e-3)
    assert (gas.unit, gas.relative) == ("Pa", None)
    assert gas.named == "non-condensable gas or overcharge"


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
    with pytest.raises(interstage.OutOfRange, match="independent_rows"):
        smallest_visible(TOLD, independent_rows=0.0)
    with pytest.raises(interstage.UnknownOption, match="condenser_au"):
        smallest_visible(TOLD, drift={"condenser_au": 1.0})
    with pytest.raises(interstage.OutOfRange, match="drift of condenser_ua"):
        smallest_visible(TOLD, drift={"condenser_ua": -1.0})
    with pytest.raises(interstage.WrongArgument, match="candidates"):
        added_readings(uncertainty, machine(2), "capacity", {})
    with pytest.raises(interstage.WrongArgument, match="typical"):
        added_readings(uncertainty, machine(2), "capacity", {"capacity": Accuracy(3.0, unit="percent")})
    with pytest.raises(interstage.Inconsistent, match="none of the rows"):
        added_readings(uncertainty, machine(2) * np.nan, "capacity", {FLOW: accuracies()[FLOW]})

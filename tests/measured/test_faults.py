"""Faults of a measured machine: four runs of a laboratory chiller, baselines from part of the normal run.

The chiller is that of `test_measured`: a run without a fault, one with 10 % less condenser water, one with
10 % of the charge out, one with 12 % of the condenser tubes blocked (meaning of the levels from memory).
"""

import os
from collections import Counter
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from scipy.stats import binomtest

import interstage

FOLDER = Path(os.environ["INTERSTAGE_MEASURED_DATA"])

READINGS = {
    "evaporator_pressure": ("PRE", "psig"),
    "condenser_pressure": ("PRC", "psig"),
    "liquid_line_temperature": ("liquid line", "degF"),
    "suction_temperature": ("T_suc", "degF"),
    "discharge_temperature": ("TR_dis", "degF"),
    "chilled_water_entering": ("TEI", "degF"),
    "chilled_water_leaving": ("TEO", "degF"),
    "chilled_water_flow": ("FWE", "gpm"),
    "condenser_water_entering": ("TCI", "degF"),
    "condenser_water_leaving": ("TCO", "degF"),
    "condenser_water_flow": ("FWC", "gpm"),
    "power": ("kW", "kW"),
}
FIGURES = (
    "condensing_temperature",
    "condenser_ua",
    "condenser_approach",
    "evaporator_ua",
    "evaporator_approach",
    "evaporating_temperature",
    "subcooling",
    "discharge_superheat",
    "stage_efficiency",
    "suction_superheat",
    "condenser_water_flow",
    "condenser_water_range",
    "chilled_water_flow",
    "chilled_water_range",
    "heat_balance",
)
CONDITION = 1800  # s: a test condition lasted about half an hour
DRIVERS = ("capacity", "chilled_water_leaving", "condenser_water_entering")
TRUTH = {
    "fwc10": "low condenser water flow",
    "rl10": "low charge",
    "cf12": "condenser fouling",
    "normal": None,
}


def steady(run: str) -> pd.DataFrame:
    """Figures of the steady rows of a run, as the package picks them in the window of the description."""
    table = pd.read_csv(FOLDER / f"rp1043_{run}.csv").set_index("time_s")
    table["liquid line"] = table["TRC"] - table["TRC_sub"]
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)]
    )
    columns = {column: (quantity, unit) for quantity, (column, unit) in READINGS.items()}
    readings = interstage.Readings(columns, altitude=0.0, refrigerant="R-134a", condenser="holds liquid")
    quality = interstage.assess_quality(table, readings, time="time_s", minimum_power=20e3)
    trend = readings.trend(circuit, minimum_power=20e3)
    frame = interstage.analysed(trend, readings.trend_table(table, quality))
    return frame[interstage.steady_state(quality, window=360.0).mask]


Part = tuple[interstage.Evidence, dict[str, interstage.Departure]]


def told(frame: pd.DataFrame, baselines: dict[str, interstage.Baseline]) -> list[Part]:
    """Evidence and departures of six parts of a run."""
    found = []
    for piece in np.array_split(np.unique(frame.index // CONDITION), 6):
        part = frame[np.isin(frame.index // CONDITION, piece)]
        departures = interstage.departures(part, baselines, block=part.index.to_numpy() // CONDITION)
        evidence = interstage.weigh_evidence(departures, condenser="holds liquid")
        found.append((evidence, {item.figure: item for item in departures}))
    return found


@pytest.fixture(scope="module")
def parts() -> dict[str, list[Part]]:
    """Run -> evidence and departures of each part of it that no fit has seen.

    Baselines of every other hour of the normal run; the hours between are held back, and the other way round.
    """
    normal = steady("normal")
    odd = (normal.index.to_numpy() // 3600) % 2 == 1
    of_even, of_odd = (
        {figure: interstage.Baseline.fit(normal, figure, drivers=DRIVERS, where=rows) for figure in FIGURES}
        for rows in (~odd, odd)
    )
    seen = {run: told(steady(run), of_even) for run, fault in TRUTH.items() if fault is not None}
    seen["normal"] = told(normal[odd], of_even) + told(normal[~odd], of_odd)
    return seen


def possible(run: str) -> tuple[str, ...]:
    """Outcomes that a run can have."""
    return ("false alarm", "cannot tell") if TRUTH[run] is None else ("hit", "miss", "cannot tell")


def outcome(run: str, verdict: str) -> str:
    """Hit: the fault is named. Miss: the run has one and another is named. False alarm: it has none."""
    if verdict == "cannot tell":
        return verdict
    if TRUTH[run] is None:
        return "false alarm"
    return "hit" if verdict == TRUTH[run] else "miss"


def rate(count: int, of: int) -> tuple[float, float]:
    """Exact 95 % interval of a rate (Clopper and Pearson), as if parts were independent: they are less."""
    told = binomtest(count, of).proportion_ci(0.95, method="exact")
    return told.low, told.high


def test_rates_on_parts_held_back_from_every_fit(parts) -> None:
    tally = {}
    for run, weighed in parts.items():
        tally[run] = Counter(outcome(run, item.verdict) for item, _ in weighed)
        for what in possible(run):
            low, high = rate(tally[run][what], len(weighed))
            print(f"{run}: {what} {tally[run][what]} of {len(weighed)} parts, {low:.0%} to {high:.0%}")
    faulty = [run for run in parts if TRUTH[run] is not None]
    for what in possible("fwc10"):
        count, of = sum(tally[run][what] for run in faulty), sum(len(parts[run]) for run in faulty)
        low, high = rate(count, of)
        print(f"runs with a fault: {what} {count} of {of} parts, {low:.0%} to {high:.0%}")
    # As measured: less water is always found; the others are too small for this machine's own drift.
    assert tally["fwc10"] == {"hit": 6}
    assert tally["rl10"] == {"cannot tell": 6}
    assert tally["cf12"] == {"cannot tell": 6}
    assert tally["normal"] == {"cannot tell": 12}


def test_rates_carry_their_intervals() -> None:
    """By hand: of n hits in n the lower limit is the n-th root of 0.025."""
    assert rate(6, 6) == pytest.approx((0.025 ** (1 / 6), 1.0))
    assert rate(0, 12) == pytest.approx((0.0, 1.0 - 0.025 ** (1 / 12)))
    assert rate(6, 6)[0] == pytest.approx(0.541, abs=5e-4)
    assert rate(0, 12)[1] == pytest.approx(0.265, abs=5e-4)


def test_less_condenser_water_is_told_by_flow_and_range_together(parts) -> None:
    for weighed, found in parts["fwc10"]:
        assert found["condenser_water_flow"].shift / found["condenser_water_flow"].expected == pytest.approx(
            -0.10, abs=0.02
        )
        assert found["condenser_water_range"].score > 1.96
        # The heat balance closes as before: it is the flow that is low and not its meter.
        assert abs(found["heat_balance"].score) < 1.96
        assert "condenser_water_flow down" in weighed.reason
        assert "qualified" in weighed.reason


def test_blocked_tubes_lower_the_conductance_by_less_than_can_be_told_from_drift(parts) -> None:
    lowered = [found["condenser_ua"].shift / found["condenser_ua"].expected for _, found in parts["cf12"]]
    print("condenser UA of the fouled run against the baseline:", np.round(lowered, 3))
    assert max(lowered) < 0.0
    assert -0.07 < np.median(lowered) < -0.02


def test_why_power_changed_with_less_condenser_water() -> None:
    """At about 90 tons and 24 degC tower water: the part of the flow stands out of those of the machine."""
    frames = {run: steady(run) for run in ("normal", "fwc10")}
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)]
    )
    means = {}
    for run, frame in frames.items():
        heavy = (frame["capacity [W]"] > 280e3) & frame["condenser_water_entering [K]"].between(294.0, 299.0)
        means[run] = interstage.Operation.of(frame, heavy)
    change = interstage.why_it_changed(circuit, means["normal"], means["fwc10"], figure="power")
    print(change.table().round(2).to_string())
    assert sum(change.parts.values()) == pytest.approx(change.change, rel=1e-9)
    # Ten per cent less water makes its range 10 % of 5.5 K wider: about 0.5 K of lift of 28 K.
    part, half = change.parts["condenser-water flow"], change.intervals["condenser-water flow"]
    assert 0.01 < part / change.before < 0.03
    assert half < part
    # What no reading explains is the smaller part.
    assert abs(change.parts["unexplained"]) < 0.5 * abs(change.change)

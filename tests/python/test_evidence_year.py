"""The invented year: its fouling and its failed vent are found with dates and cost, and nothing else."""

import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import interstage

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"

READINGS = {
    "evaporator_pressure": "evaporator vacuum",
    "stage_2_tank_pressure": "tank pressure",
    "condenser_pressure": "condenser pressure",
    "liquid_line_temperature": "liquid line temperature",
    "discharge_temperature": "discharge temperature",
    "chilled_water_entering": "chilled water entering",
    "chilled_water_leaving": "chilled water leaving",
    "chilled_water_flow": "chilled water flow",
    "condenser_water_entering": "condenser water entering",
    "condenser_water_leaving": "condenser water leaving",
    "condenser_water_flow": "condenser water flow",
    "power": "motor input",
}
FIGURES = (
    "condensing_temperature",
    "condenser_ua",
    "condenser_approach",
    "evaporator_ua",
    "evaporator_approach",
    "evaporating_temperature",
    "apparent_gas_pressure",
    "discharge_superheat",
    "stage_efficiency",
    "condenser_water_flow",
    "condenser_water_range",
    "heat_balance",
    "stage_2_tank_pressure_exponent",
)


class Surface:
    """A baseline of one figure, quadratic in load and tower water."""

    def __init__(self, figure: str, frame: pd.DataFrame) -> None:
        actual = frame.filter(regex=rf"^{figure} \[").iloc[:, 0].to_numpy()
        terms = self.terms(frame)
        known = np.isfinite(actual) & np.isfinite(terms).all(axis=1)
        self.factors = np.linalg.lstsq(terms[known], actual[known], rcond=None)[0]
        self.half = 1.96 * float(np.std(actual[known] - terms[known] @ self.factors))

    @staticmethod
    def terms(frame: pd.DataFrame) -> np.ndarray:
        load = frame["capacity [W]"] / 2.2e6
        tower = (frame["condenser_water_entering [K]"] - 297.0) / 5.0
        chilled = frame["chilled_water_leaving [K]"] - 280.0
        return np.column_stack([np.ones(len(frame)), load, tower, load**2, load * tower, tower**2, chilled])

    def predict(self, frame: pd.DataFrame) -> tuple[np.ndarray, np.ndarray]:
        return self.terms(frame) @ self.factors, np.full(len(frame), self.half)


@pytest.fixture(scope="module")
def year() -> tuple[pd.DataFrame, pd.Series, dict[str, Surface]]:
    """Figures of the year, rows that count, and baselines of the weeks after the tubes were cleaned."""
    sys.path.insert(0, str(NOTEBOOKS))
    try:
        import invented_plant
    finally:
        sys.path.remove(str(NOTEBOOKS))
    rows = pd.DataFrame(invented_plant.generate().export).set_index("time").asfreq("5min")
    unit = {name: facts[0] for name, facts in invented_plant.SENSORS.items()}
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-1233zd(E)"),
        stages=[interstage.Stage(polytropic_efficiency=0.80)] * 2,
        interstages=[interstage.FlashTank()],
    )
    trend = interstage.Trend(
        circuit,
        {quantity: (column, unit[column]) for quantity, column in READINGS.items()},
        barometer=("barometer", unit["barometer"]),
        minimum_power=20e3,
    )
    frame = interstage.analysed(trend, rows)
    steady = (frame["power [W]"] > 20e3).rolling(6).min() == 1.0
    steady &= frame["capacity [W]"].rolling(6).std() < 0.02 * 2.2e6
    # The thermometer of the leaving condenser water stands still on these days.
    steady &= ~((frame.index >= "2023-05-08") & (frame.index < "2023-05-29"))
    clean = steady & (frame.index >= "2023-08-16") & (frame.index < "2023-11-01")
    return frame, steady, {figure: Surface(figure, frame[clean]) for figure in (*FIGURES, "power")}


def test_fouling_and_the_failed_vent_are_found_and_nothing_else(year) -> None:
    frame, steady, baselines = year
    findings = interstage.evidence_over_time(
        frame,
        {figure: baselines[figure] for figure in FIGURES},
        period=frame.index.to_period("W").astype(str),
        block="D",
        where=steady,
        condenser="drains freely",
        tank=True,
    )
    faults = findings.faults()
    assert list(faults["fault"]) == ["blocked tank vent", "condenser fouling"]
    vent, fouling = (row for _, row in faults.iterrows())
    # Blocked from Monday 10 to Sunday 16 July.
    assert vent["first row"].date() == pd.Timestamp("2023-07-10").date()
    assert vent["last row"].date() == pd.Timestamp("2023-07-16").date()
    # Fouling grows all the year until the tubes are cleaned on 15 August. It is named in the three weeks in
    # which the condensing temperature departs too; in three before, conductance and approach alone do.
    assert fouling["first row"].date() == pd.Timestamp("2023-07-24").date()
    assert pd.Timestamp("2023-08-01") < fouling["last row"] < pd.Timestamp("2023-08-16")
    assert fouling["periods"] == 3
    table = findings.table()
    alone = table["reason"].str.startswith("condenser fouling fits best") & (
        table["verdict"] == "cannot tell"
    )
    assert list(table.loc[alone, "period"].dt.strftime("%m-%d")) == ["06-26", "07-03", "07-17"]
    assert "name a fault" in findings._repr_html_()
    assert (table["verdict"] == "cannot tell").sum() == len(table) - fouling["periods"] - 1


def test_stretches_are_kept_apart_and_rows_without_a_time_are_counted() -> None:
    def weighed(day: int, score: float) -> interstage.Evidence:
        def moved(figure: str, amount: float) -> interstage.Departure:
            return interstage.Departure(figure, amount, 1.96, 1.0, 9, 3, 10 * day, 10 * day + 8, 10 * day)

        still = interstage.Departure("heat_balance", 0.0, 1.96, 1.0, 10, 3, 10 * day - 1, 10 * day + 9, 0)
        return interstage.weigh_evidence(
            [moved("condenser_water_flow", -score), moved("condenser_water_range", score), still]
        )

    evidence = tuple(weighed(day, score) for day, score in enumerate([5.0, 5.0, 0.0, 5.0]))
    faults = interstage.Findings(tuple(range(4)), evidence).faults()
    assert faults[["first row", "last row", "periods"]].to_numpy().tolist() == [[0, 18, 2], [30, 38, 1]]

    class Flat:
        def predict(self, frame: pd.DataFrame) -> tuple[np.ndarray, np.ndarray]:
            return np.ones(len(frame)), np.ones(len(frame))

    index = pd.date_range("2023-01-01", periods=6, freq="12h").to_list()
    frame = pd.DataFrame({"condenser_ua [W/K]": 1.0}, index=pd.DatetimeIndex([pd.NaT, *index[1:]]))
    found = interstage.evidence_over_time(frame, {"condenser_ua": Flat()}, period="D", block="h")
    assert (len(found), found.without_period) == (3, 1)
    weeks = ["a", "a", "a", None, "b", "b"]
    labeled = interstage.evidence_over_time(frame, {"condenser_ua": Flat()}, period=weeks, block="h")
    assert (len(labeled), labeled.without_period) == (2, 2)
    assert not any(item.verdict != "cannot tell" for item in found.evidence)
    assert "1 rows belong to no period" in repr(found)


def test_what_the_fouling_costs_is_an_interval(year) -> None:
    frame, steady, baselines = year
    july = steady & (frame.index >= "2023-07-17") & (frame.index < "2023-08-13")
    cost = interstage.shortfall(frame, baselines["power"], tariff=0.12, block="D", where=july, drift=0.005)
    print(cost)
    assert cost.clear
    assert cost.cost == pytest.approx(0.12 * cost.energy)
    assert 0.0 < cost.energy < 0.1 * cost.expected_energy
    # Against what the clean machine took where it was fitted: nothing beyond its interval.
    after = steady & (frame.index >= "2023-09-01") & (frame.index < "2023-10-01")
    assert not interstage.shortfall(frame, baselines["power"], tariff=0.12, block="D", where=after).clear


def test_why_kw_per_ton_changed(year) -> None:
    frame, steady, _ = year
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-1233zd(E)"),
        stages=[interstage.Stage(polytropic_efficiency=0.80)] * 2,
        interstages=[interstage.FlashTank()],
        motor_efficiency=0.93,
    )
    busy = steady & frame["capacity [W]"].between(1.2e6, 1.8e6)

    def mean(first: str, last: str) -> interstage.Operation:
        return interstage.Operation.of(frame, busy & (frame.index >= first) & (frame.index < last))

    # The vent fails on 10 July: what the economizer saved is lost, and the condenser floods.
    failed = interstage.why_it_changed(
        circuit, mean("2023-07-03", "2023-07-10"), mean("2023-07-10", "2023-07-17")
    )
    # A potential is a share of the power without economizers; it is that of the lift of either week.
    fortnight = frame[busy].loc["2023-07-03":"2023-07-16", "economizer_potential [-]"]
    lowest, highest = fortnight.groupby(fortnight.index >= "2023-07-10").mean().sort_values()
    lost = failed.parts["economizer"] / failed.before
    assert 0.9 * lowest < lost < 1.1 * highest / (1.0 - highest)
    assert failed.parts["condenser UA"] > failed.intervals["condenser UA"]
    assert abs(failed.parts["compressor efficiency"]) < 2.0 * failed.intervals["compressor efficiency"]
    # The tubes are cleaned on 15 August: of what changed in the machine the condenser alone stands out.
    cleaned = interstage.why_it_changed(
        circuit, mean("2023-08-01", "2023-08-13"), mean("2023-08-16", "2023-08-31")
    )
    assert cleaned.parts["condenser UA"] < -3.0 * cleaned.intervals["condenser UA"]
    for cause in ("evaporator UA", "compressor efficiency", "unexplained"):
        assert abs(cleaned.parts[cause]) < cleaned.intervals[cause]
    assert "economizer" not in cleaned.parts


def test_progress_and_bad_input(year, monkeypatch, capsys) -> None:
    frame, _, baselines = year
    line = {"condenser_ua": baselines["condenser_ua"]}
    part = frame["2023-07-01":"2023-07-10"]
    with pytest.raises(interstage.WrongArgument, match="step of time"):
        interstage.evidence_over_time(part, line, period="often", block="D")
    assert len(interstage.evidence_over_time(part.iloc[:0], line, period="7D", block="D")) == 0
    monkeypatch.setitem(sys.modules, "tqdm", None)
    with pytest.raises(interstage.WrongArgument, match="needs tqdm"):
        interstage.evidence_over_time(part, line, period="7D", block="D", progress=True)
    monkeypatch.undo()
    pytest.importorskip("tqdm")
    interstage.evidence_over_time(part, line, period="7D", block="D", progress=True)
    assert "period" in capsys.readouterr().err

"""The invented plant of the notebooks: it is what it says, and a trend finds what is wrong with it."""

import json
import re
import sys
from pathlib import Path

import numpy as np
import pytest

import interstage

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"


@pytest.fixture(scope="module")
def plant():
    """The module that makes the readings."""
    sys.path.insert(0, str(NOTEBOOKS))
    try:
        import invented_plant
    finally:
        sys.path.remove(str(NOTEBOOKS))
    return invented_plant


@pytest.fixture(scope="module")
def machine(plant):
    return plant.Machine()


@pytest.fixture(scope="module")
def year(plant):
    return plant.generate()


@pytest.fixture(scope="module")
def days(year):
    """Day of the year of every row of the truth."""
    return np.arange(len(year.truth["time"])) / 288.0


def by_row(plant, year, rows):
    """Columns of the export at rows of the truth; NaN where the logger was off."""
    logged = np.flatnonzero(year.truth["logged"])
    columns = {}
    for name in plant.SENSORS:
        column = np.full(len(year.truth["time"]), np.nan)
        column[logged] = year.export[name]
        columns[name] = column[rows]
    return columns


QUANTITIES = {
    "evaporator_pressure": "evaporator vacuum",
    "tank_pressure": "tank pressure",
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


def analysed(plant, machine, year, rows, without=()):
    trend = interstage.Trend(
        machine.circuit,
        {q: (name, plant.SENSORS[name][0]) for q, name in QUANTITIES.items() if q not in without},
        barometer=("barometer", plant.SENSORS["barometer"][0]),
        minimum_power=20e3,
        drive_efficiency=plant.DRIVE_EFFICIENCY,
    )
    return trend.analyse(by_row(plant, year, rows))


def test_every_call_makes_the_same_year(plant, year):
    again = plant.generate()
    assert again.spikes == year.spikes
    for one, other in ((year.export, again.export), (year.truth, again.truth)):
        assert one.keys() == other.keys()
        for name in one:
            np.testing.assert_array_equal(one[name], other[name], err_msg=name)


def test_the_year_holds_the_faults_it_says(plant, year, days):
    truth, export = year.truth, year.export
    assert len(days) == 105_120
    blocked = np.flatnonzero(truth["vent_blocked"])
    assert len(blocked) == 7 * 288
    assert blocked[-1] - blocked[0] == len(blocked) - 1
    # Fouling grows while the machine runs and falls once.
    falls = np.flatnonzero(np.diff(truth["condenser_fouling"]) < 0.0)
    assert len(falls) == 1
    assert days[falls[0] + 1] == plant.CLEANED
    assert 0.3 < truth["running"].mean() < 0.95
    # Missing rows, missing readings, and the right number of both.
    assert len(export["time"]) == truth["logged"].sum() < len(days)
    for name, day, hours in plant.READING_OFF:
        assert np.isnan(export[name]).sum() == pytest.approx(12 * hours, abs=1), (name, day)
    # One reading stands still through days and nights; no other does for half a day of operation.
    stuck = by_row(plant, year, truth["stuck"])
    assert np.ptp(stuck[plant.STUCK_COLUMN]) == 0.0
    for name, column in by_row(plant, year, truth["stuck"] & truth["running"]).items():
        windows = np.lib.stride_tricks.sliding_window_view(column, 144)
        assert name in (plant.STUCK_COLUMN, "barometer") or np.ptp(windows, axis=1).min() > 0.0, name
    assert 60 < len(year.spikes) <= plant.SPIKES


def test_heat_and_work_balance(machine, year):
    # Consistency: what both water streams show against capacity and compression power. The water tables are
    # interpolated over 0.25 K.
    truth = year.truth
    on = truth["running"]
    sat = machine.saturation
    heat = truth["capacity"][on] + truth["compression_power"][on]
    after = sat.water_after(truth["tower_entering"][on], heat, machine.tower_water)
    np.testing.assert_allclose(after, truth["tower_leaving"][on], atol=1e-4)


@pytest.mark.parametrize("blocked", [False, True])
def test_interpolated_rows_are_cycles(machine, year, blocked):
    """Rows of the year against cycles solved at their conditions, where the orifices pass liquid alone."""
    truth = year.truth
    sealed = np.nan_to_num(truth["upper_vapor"] + truth["lower_vapor"], nan=1.0) < 1e-4
    rows = np.flatnonzero(sealed & truth["running"] & (truth["vent_blocked"] == blocked))
    assert len(rows) > 10
    for row in rows[:: len(rows) // 10]:
        at = {name: float(values[row]) for name, values in truth.items() if name != "time"}
        stage = interstage.Stage(polytropic_efficiency=at["stage_efficiency"])
        low, high = (
            machine.circuit.refrigerant.saturation(T=at[name]).p
            for name in ("evaporating_temperature", "condensing_temperature")
        )
        # A blocked tank does not feed the second stage: the compressor sets its own pressure in between.
        lift = at["condensing_temperature"] - at["evaporating_temperature"]
        exponent = float(machine.compressor.exponent(lift))
        cycle = interstage.Circuit(
            machine.circuit.refrigerant,
            stages=[stage, stage],
            interstages=[interstage.Direct() if blocked else interstage.FlashTank()],
            interstage_pressures=[low * (high / low) ** exponent],
        ).solve(
            evaporating_temperature=at["evaporating_temperature"],
            condensing_temperature=at["condensing_temperature"],
            subcooling=max(at["condensing_temperature"] - at["liquid_line_temperature"], 0.0),
            capacity=at["capacity"],
        )
        # Linear interpolation on a grid of 1 K; 1e-4 of vapor is 5e-4 of the refrigerating effect.
        assert at["compression_power"] == pytest.approx(cycle.power, rel=2e-3)
        assert at["discharge_temperature"] == pytest.approx(cycle.discharge_temperature, abs=0.05)
        assert at["saving"] == pytest.approx(cycle.economizer_benefit, abs=2e-3)


def test_orifices_pass_what_the_stages_take(machine, year):
    truth, refrigerant = year.truth, machine.circuit.refrigerant
    drawing = np.flatnonzero((truth["upper_vapor"] > 2e-3) & (truth["lower_vapor"] > 2e-3))
    stacked = np.flatnonzero(truth["flooded"] > 0.05)
    assert len(drawing) > 1000
    assert len(stacked) > 100
    for row in [*drawing[::4000], *stacked[::60]]:
        at = {name: float(values[row]) for name, values in truth.items() if name != "time"}
        condensing, evaporating = (
            refrigerant.saturation(T=at[name])
            for name in ("condensing_temperature", "evaporating_temperature")
        )
        tank = refrigerant.saturation(p=at["tank_pressure"])
        if at["flooded"] > 0.0:
            above = refrigerant.state(p=condensing.p, T=at["liquid_line_temperature"])
            head = 0.9 * at["flooded"]
            upper = machine.upper.mass_flow(refrigerant, above, tank.p, liquid_head=head)
            mixture = refrigerant.state(p=tank.p, h=above.h)  # all of it has to pass the lower orifice
            assert mixture.x > 0.0
        else:
            above = refrigerant.state(p=condensing.p, x=at["upper_vapor"])
            frozen = interstage.Orifice(machine.upper.flow_area, model="frozen mixture")
            upper = frozen.mass_flow(refrigerant, above, tank.p)
            mixture = refrigerant.state(p=tank.p, x=at["lower_vapor"])
        lower = interstage.Orifice(machine.lower.flow_area, model="frozen mixture")
        # The stacked liquid is subcooled and stands at its saturation density in the generator: 1e-4.
        assert upper.mass_flow == pytest.approx(at["condenser_flow"], rel=2e-3)
        passed = lower.mass_flow(refrigerant, mixture, evaporating.p).mass_flow
        assert passed == pytest.approx(at["evaporator_flow"], rel=2e-3)
    # With the vent blocked the orifices pass 55 to 70 % of the design flow at most.
    most = np.nanmax(truth["condenser_flow"][truth["vent_blocked"]]) / machine.design.condenser_mass_flow
    assert 0.55 < most < 0.70


def test_a_blocked_vent_does_more_than_take_the_saving(year):
    truth = year.truth
    inside, outside = (truth["running"] & (truth["vent_blocked"] == blocked) for blocked in (True, False))
    assert truth["tank_exponent"][inside].min() > 0.6
    assert truth["tank_exponent"][inside].max() < 0.9
    assert np.abs(truth["tank_exponent"][outside] - 0.5).max() < 0.02
    assert not truth["saving"][inside].any()
    short = inside & (truth["capacity"] < 0.99 * truth["demand"])
    assert short.sum() > 100
    # Short of capacity: the water leaves warmer, liquid stacks and subcools.
    assert truth["chilled_leaving"][short].min() > truth["chilled_leaving"][outside].max() - 0.3
    subcooling = (truth["condensing_temperature"] - truth["liquid_line_temperature"])[short]
    assert subcooling.min() > 1.0
    np.testing.assert_allclose(truth["capacity"][outside], truth["demand"][outside], rtol=1e-12)


def test_the_trend_finds_the_blocked_vent(plant, machine, year, days):
    rows = (days >= 184) & (days < 204)
    result = analysed(plant, machine, year, rows, without=("discharge_temperature",))
    blocked = year.truth["vent_blocked"][rows]
    evidence = result["economizer_evidence"]
    known = ~np.isnan(evidence)
    assert known[blocked].mean() > 0.98
    assert (evidence[blocked & known] == 0.0).mean() > 0.99
    assert (evidence[~blocked & known] == 1.0).mean() > 0.99
    exponent = result["stage_2_tank_pressure_exponent"][blocked]
    assert np.nanmin(exponent) > 0.6
    assert np.nanmax(exponent) < 0.9
    # The potential does not see the fault.
    assert np.nanmin(result["economizer_potential"][blocked]) > 0.01


def test_the_trend_finds_every_spike(plant, machine, year):
    name_of = {name: quantity for quantity, name in QUANTITIES.items()}
    for row, name in year.spikes:
        rows = slice(row - 60, row + 61)
        result = analysed(plant, machine, year, rows)
        assert result.quality(name_of[name])[60] in ("spike", "out of range"), (row, name)


def test_the_bad_readings_of_the_whole_year_are_flagged_and_no_other(plant, year):
    pandas = pytest.importorskip("pandas")
    table = pandas.DataFrame(year.export).set_index("time")
    readings = interstage.Readings(
        {name: (quantity, plant.SENSORS[name][0]) for quantity, name in QUANTITIES.items()},
        barometer=("barometer", plant.SENSORS["barometer"][0]),
        refrigerant="R-1233zd(E)",
    )
    quality = interstage.assess_quality(table, readings, minimum_power=20e3)
    flags = quality.flags.rename(columns={"stage_2_tank_pressure": "tank_pressure"})
    bits = interstage.quality_flags()
    logged = np.flatnonzero(year.truth["logged"])
    spikes = {(int(np.searchsorted(logged, row)), name) for row, name in year.spikes}
    wrong = bits["spike"] | bits["out of physical range"]
    found = {
        (int(row), name)
        for quantity, name in QUANTITIES.items()
        for row in np.flatnonzero(flags[quantity] & wrong)
    }
    assert found == spikes
    stuck = {q: np.flatnonzero(flags[q] & bits["stuck"]) for q in QUANTITIES}
    assert [QUANTITIES[q] for q, rows in stuck.items() if rows.size] == [plant.STUCK_COLUMN]
    assert np.array_equal(stuck["condenser_water_leaving"], np.flatnonzero(year.truth["stuck"][logged]))
    assert np.array_equal(quality.running, year.truth["running"][logged])
    # Nothing else contradicts itself once the standing thermometer is out.
    assert (quality.rows == 0).all()
    assert {check.verdict for check in interstage.check_directions(quality)} == {"right"}
    assert interstage.check_units(table, readings) == {}


def test_the_trend_sees_the_tubes_foul_and_come_clean(plant, machine, year, days):
    truth = year.truth
    half_load = (truth["capacity"] / plant.CAPACITY > 0.35) & (truth["capacity"] / plant.CAPACITY < 0.50)
    medians, true = [], []
    for first, last in ((0, 45), (80, 120), (205, 224), (227, 245)):
        rows = half_load & truth["logged"] & (days >= first) & (days < last)
        assert rows.sum() > 100
        result = analysed(plant, machine, year, rows, without=("discharge_temperature",))
        medians.append(np.nanmedian(result["condenser_ua"]))
        true.append(np.median(truth["condenser_ua"][rows]))
    assert medians[0] > medians[1] > medians[2]
    assert medians[3] > 1.25 * medians[2]
    # The median of readings with a resolution of 0.1 degF and 0.1 psi, at approaches of 0.5 to 1.5 K.
    np.testing.assert_allclose(medians, true, rtol=0.03)


def test_a_standing_thermometer_shows_in_the_balances(plant, machine, year, days):
    rows = year.truth["stuck"] & year.truth["running"]
    result = analysed(plant, machine, year, rows, without=("discharge_temperature",))
    assert result.rows_with("an approach is negative").mean() > 0.1
    assert np.nanstd(result["heat_balance"][np.isfinite(result["heat_balance"])]) > 0.2


def test_the_export_is_written_as_a_file(plant, year, tmp_path):
    file = tmp_path / "deeper" / "year.csv.gz"
    head = plant.Year({name: values[:2000] for name, values in year.export.items()}, {}, [])
    plant.write(head, file)
    columns = np.genfromtxt(file, delimiter=",", skip_header=1, usecols=range(1, 14))
    for at, name in enumerate(plant.SENSORS):
        np.testing.assert_allclose(columns[:, at], head.export[name], atol=1e-9, err_msg=name)


def test_the_report_says_where_each_figure_is(capsys):
    nbformat = pytest.importorskip("nbformat")
    sys.path.insert(0, str(NOTEBOOKS))
    try:
        import run_demo
    finally:
        sys.path.remove(str(NOTEBOOKS))
    for name, files in {
        "first_steps": ["over_the_lift.png"],
        "year_of_a_chiller": ["pressure_enthalpy.png", "condenser.png", "economizer.png", "blocked_vent.png"],
    }.items():
        notebook = nbformat.read(NOTEBOOKS / f"{name}.ipynb", as_version=4)
        run_demo.report(notebook)
        printed = capsys.readouterr().out
        assert re.findall(r"^figure: .*?([^/\\]+\.png)$", printed, re.MULTILINE) == files


def test_evidence_against_is_not_called_no_evidence():
    cells = json.loads((NOTEBOOKS / "year_of_a_chiller.ipynb").read_text(encoding="utf-8"))["cells"]
    text = "".join("".join(cell["source"]) for cell in cells)
    assert not re.search(r"no evidence|without evidence|potential with evidence", text)
    assert text.count("economizer not working") >= 3
    assert "cannot tell" in text

"""Glycols in water: against CoolProp, water itself, and the tables of a handbook."""

import pickle
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import WaterLoop

KINDS = {"ethylene glycol": "MEG", "propylene glycol": "MPG"}

#: Kind, mass percent -> heat capacity, J/(kg K), and density, kg/m3, at 0, 10, 20 and 35 degC: inhibited
#: glycols in ASHRAE Handbook - Fundamentals, chapter on physical properties of secondary coolants (edition
#: 2005 or 2009, from memory), second-hand from the fluid tables of an open-source building simulation.
HANDBOOK = {
    ("ethylene glycol", 10): ((3937, 3954, 3972, 3998), (1018.73, 1016.28, 1013.34, 1008.02)),
    ("ethylene glycol", 30): ((3589, 3617, 3645, 3688), (1051.78, 1048.76, 1045.25, 1039.08)),
    ("ethylene glycol", 50): ((3203, 3242, 3281, 3339), (1081.08, 1077.46, 1073.35, 1066.27)),
    ("ethylene glycol", 60): ((2997, 3040, 3084, 3149), (1094.64, 1090.70, 1086.27, 1078.71)),
    ("propylene glycol", 10): ((4042, 4058, 4075, 4099), (1013.85, 1011.24, 1008.13, 1002.56)),
    ("propylene glycol", 30): ((3793, 3820, 3848, 3889), (1036.24, 1032.55, 1028.35, 1021.09)),
    ("propylene glycol", 50): ((3455, 3493, 3532, 3590), (1052.71, 1048.04, 1042.87, 1034.15)),
    ("propylene glycol", 60): ((3250, 3295, 3339, 3405), (1059.00, 1053.88, 1048.25, 1038.85)),
}
#: By kind, the largest differences of heat capacity and density found to these tables of inhibited
#: glycols: a record, no source says what inhibitors may change.
INHIBITORS = {"ethylene glycol": (0.026, 0.010), "propylene glycol": (0.005, 0.007)}


@pytest.mark.parametrize("kind", KINDS)
def test_the_polynomials_are_those_that_others_have_transcribed(kind) -> None:
    """Its own coefficients of the same book; their ten digits leave rounding only."""
    properties = pytest.importorskip("CoolProp.CoolProp").PropsSI
    checked = 0
    for strength in np.linspace(0.02, 0.6, 13):
        loop = WaterLoop(kind, strength=float(strength))
        fluid = f"INCOMP::{KINDS[kind]}[{strength}]"
        freezing = properties("T_FREEZE", "T", 293.15, "P", 101325, fluid)
        assert loop.freezing_temperature == pytest.approx(min(freezing, 273.15), abs=2e-3)
        for temperature in np.linspace(loop.freezing_temperature + 0.1, 373.0, 9):
            for name, method in (("D", loop.density_at), ("C", loop.heat_capacity_at)):
                expected = properties(name, "T", temperature, "P", 101325, fluid)
                assert method(float(temperature)) == pytest.approx(expected, rel=1e-9)
                checked += 1
    assert checked == 234


@pytest.mark.parametrize("kind", KINDS)
def test_a_trace_of_it_is_water(kind) -> None:
    """The far end of the polynomials against the equation of state of water, which is independent of them."""
    loop, water = WaterLoop(kind, strength=1e-9), interstage.Refrigerant("R-718")
    for temperature in (275.0, 283.15, 293.15, 313.15):
        state = water.state(p=101325.0, T=temperature)
        assert loop.density_at(temperature) == pytest.approx(state.rho, rel=1.2e-3)
        assert loop.heat_capacity_at(temperature) == pytest.approx(state.cp, rel=2e-3)
    assert loop.freezing_temperature == pytest.approx(273.15, abs=0.05)


@pytest.mark.parametrize(("kind", "percent"), HANDBOOK)
def test_inhibited_glycols_of_a_handbook_are_near(kind, percent) -> None:
    loop = WaterLoop(kind, strength=percent / 100.0)
    capacities, densities = HANDBOOK[kind, percent]
    temperatures = np.array([0.0, 10.0, 20.0, 35.0]) + 273.15
    of_capacity = loop.heat_capacity_at(temperatures) / capacities - 1.0
    of_density = loop.density_at(temperatures) / densities - 1.0
    most = INHIBITORS[kind]
    assert np.abs(of_capacity).max() < most[0]
    # All inhibitors are heavier than water.
    assert (of_density < 0.0).all()
    assert np.abs(of_density).max() < most[1] + 1e-4


def test_numbers_columns_and_where_it_is_frozen() -> None:
    loop = WaterLoop("ethylene glycol", strength=0.25)
    with pytest.raises(interstage.OutOfRange, match=r"temperature 250 K is outside 262\.1\d* to 373\.15 K"):
        loop.density_at(250.0)
    column = pd.Series([250.0, 280.0, 380.0, np.nan], index=list("abcd"))
    told = loop.heat_capacity_at(column)
    assert told.index.tolist() == list("abcd")
    assert told.isna().tolist() == [True, False, True, True]
    assert told["b"] == loop.heat_capacity_at(280.0)
    given = WaterLoop("ethylene glycol", strength=0.25, heat_capacity=3740.0, density=1036.0)
    assert (given.heat_capacity_at(280.0), given.density_at(280.0)) == (3740.0, 1036.0)
    assert given.freezing_temperature == loop.freezing_temperature
    assert WaterLoop("calcium chloride", heat_capacity=2900.0, density=1190.0).freezing_temperature is None
    assert WaterLoop().freezing_temperature == 273.15
    with pytest.raises(interstage.WrongArgument, match="plain water has the properties of the analysis"):
        WaterLoop().density_at(280.0)


COLUMNS = {
    "in": ("chilled_water_entering", "degC"),
    "out": ("chilled_water_leaving", "degC"),
    "flow": ("chilled_water_flow", "L/s"),
    "cw in": ("condenser_water_entering", "degC"),
    "cw out": ("condenser_water_leaving", "degC"),
    "cw": ("condenser_water_flow", "L/s"),
    "kw": ("power", "kW"),
}
MACHINE = interstage.Circuit(
    interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)], interstages=[]
)
LOOP = WaterLoop("ethylene glycol", strength=0.3)
TOWER = WaterLoop("propylene glycol", strength=0.2)
READINGS = interstage.Readings(COLUMNS, chilled_water=LOOP, condenser_water=TOWER)


def export(rows: int = 4) -> pd.DataFrame:
    """Rows at -1, 12, -20 and 8 degC: the third is colder than the brine freezes."""
    data = {
        "in": [-1.0, 12.0, -20.0, 8.0],
        "out": [-5.0, 7.0, -25.0, 4.0],
        "flow": [50.0] * 4,
        "cw in": [30.0] * 4,
        "cw out": [35.0] * 4,
        "cw": [55.0] * 4,
        "kw": [180.0, 220.0, 180.0, 180.0],
    }
    return pd.DataFrame(data).iloc[:rows]


def heat(loop: WaterLoop, flow: float, entering: float, leaving: float) -> float:
    """Heat that a brine gives, W: density where it enters x flow x mean of the heat capacity x range."""
    at = np.linspace(leaving, entering, 2001) + 273.15
    mean = np.trapezoid(loop.heat_capacity_at(at), at) / (at[-1] - at[0])
    return flow * loop.density_at(entering + 273.15) * mean * (entering - leaving)


def test_capacity_and_heat_rejected_of_brine_loops() -> None:
    result = READINGS.trend(MACHINE).analyse(READINGS.trend_table(export()))
    cold, mild = (heat(LOOP, 0.05, *ends) for ends in ((-1.0, -5.0), (12.0, 7.0)))
    tower = -heat(TOWER, 0.055, 30.0, 35.0)
    assert result["capacity"][:2].tolist() == pytest.approx([cold, mild], rel=1e-9)
    assert result["heat_rejected"][:2].tolist() == pytest.approx([tower, tower], rel=1e-9)
    assert result["heat_balance"][0] == pytest.approx((cold + 180e3 - tower) / tower, rel=1e-9)
    # The freezing point is -14.6 degC: such a reading is none of this brine.
    assert np.isnan(result["capacity"][2])
    assert "below the freezing point of the declared brine" in result.status_text[2]
    assert "freezing" not in result.status_text[1]


def test_parts_of_a_table_rows_alone_and_pickles_have_the_same_figures() -> None:
    trend = READINGS.trend(MACHINE)
    table = READINGS.trend_table(export())
    whole = trend.analyse(table)["capacity"].to_numpy()
    alone = [trend.analyse(table.iloc[[row]])["capacity"].iloc[0] for row in range(4)]
    np.testing.assert_array_equal(whole, alone)
    again = pickle.loads(pickle.dumps(trend)).analyse(table)["capacity"].to_numpy()
    np.testing.assert_array_equal(whole, again)


def test_intervals_of_a_brine_loop_are_its_slopes() -> None:
    accuracies = {name: interstage.Accuracy(0.1, unit="K") for name in ("in", "out", "cw in", "cw out")}
    accuracies = {COLUMNS[name][0]: accuracy for name, accuracy in accuracies.items()}
    for flow in ("chilled_water_flow", "condenser_water_flow", "power"):
        accuracies[flow] = interstage.Accuracy(2.0, unit="percent")
    table = READINGS.trend_table(export(2))
    told = interstage.Uncertainty(READINGS.trend(MACHINE), accuracies).analyse(table)
    moved = []
    for column, step in (("in", 1e-4), ("out", 1e-4), ("flow", 1e-4)):
        ends = []
        for sign in (1.0, -1.0):
            data = export(2)
            data[column] += sign * step
            ends.append(READINGS.trend(MACHINE).analyse(READINGS.trend_table(data))["capacity"].to_numpy())
        moved.append((ends[0] - ends[1]) / (2.0 * step))
    by_hand = np.sqrt((0.1 * moved[0]) ** 2 + (0.1 * moved[1]) ** 2 + (0.02 * 50.0 * moved[2]) ** 2)
    assert np.asarray(told.half_width("capacity")).tolist() == pytest.approx(by_hand.tolist(), rel=1e-6)


def test_flags_know_the_freezing_point_and_cop_is_checked() -> None:
    table = export().set_axis(pd.date_range("2030-01-01", periods=4, freq="h"))
    quality = interstage.assess_quality(table, READINGS)
    outside = interstage.quality_flags()["out of physical range"]
    assert (quality.flags["chilled_water_leaving"] & outside).astype(bool).tolist() == [
        False,
        False,
        True,
        False,
    ]


def test_why_it_changed_between_rows_of_a_brine() -> None:
    row = interstage.Operation(
        capacity=heat(LOOP, 0.05, -1.0, -5.0),
        power=180e3,
        chilled_water_leaving=268.15,
        condenser_water_entering=303.15,
        chilled_water_flow=0.050,
        condenser_water_flow=0.055,
        evaporating_temperature=266.15,
        condensing_temperature=310.15,
    )
    after = replace(row, chilled_water_flow=0.04, condensing_temperature=311.15, power=185e3)
    with pytest.raises(interstage.OutOfRange, match="liquid water in the water circuits"):
        interstage.why_it_changed(MACHINE, row, after, figure="power")
    loops = {"chilled_water": LOOP, "condenser_water": TOWER}
    change = interstage.why_it_changed(MACHINE, row, after, figure="power", **loops)
    assert sum(change.parts.values()) == pytest.approx(5e3, abs=1e-3)
    assert change.parts["condenser UA"] > 0.0
    # A brine that is water but for its name changes nothing.
    row, after = (
        replace(at, chilled_water_leaving=280.15, evaporating_temperature=278.15) for at in (row, after)
    )
    water = interstage.Refrigerant("R-718")
    same = {}
    for loop, temperature in (("chilled_water", 280.15), ("condenser_water", 303.15)):
        state = water.state(p=0.3e6, T=temperature)
        same[loop] = WaterLoop("nothing", density=state.rho, heat_capacity=state.cp)
    plain = interstage.why_it_changed(MACHINE, row, after, figure="power").parts
    named = interstage.why_it_changed(MACHINE, row, after, figure="power", **same).parts
    assert list(named) == list(plain)
    assert list(named.values()) == pytest.approx(list(plain.values()), rel=2e-3, abs=1.0)


def test_a_wrong_loop_is_refused() -> None:
    columns = {quantity: (column, unit) for column, (quantity, unit) in COLUMNS.items()}
    with pytest.raises(interstage.WrongArgument, match="chilled_water must be a WaterLoop"):
        interstage.Trend(MACHINE, columns, chilled_water="glycol")
    with pytest.raises(interstage.OutOfRange) as told:
        LOOP.density_at(250.0)
    assert (told.value.value, told.value.unit) == (250.0, "K")
    assert told.value.minimum == LOOP.freezing_temperature

"""Chillers of one or more circuits through Python."""

import numpy as np
import pytest

import interstage

WATERS = {
    "chilled_water": interstage.WaterFlow(mass_flow=167.0),
    "condenser_water": interstage.WaterFlow(mass_flow=190.0),
}
DUTY = {**WATERS, "capacity": 3.5e6, "chilled_water_leaving": 280.15, "condenser_water_entering": 303.15}


@pytest.fixture(scope="module")
def circuit():
    return interstage.Circuit.arranged(
        interstage.Refrigerant("R-134a"),
        "2 stages: tank@2",
        stage=interstage.Stage(polytropic_efficiency=0.8),
    )


def make(circuit, number=2, **options):
    return interstage.Chiller(
        [circuit] * number,
        evaporator=interstage.Exchanger.evaporator(ua=1.2e6 / number),
        condenser=interstage.Exchanger.condenser(ua=1.4e6 / number),
        **options,
    )


@pytest.mark.parametrize("paths", ["parallel", "series parallel-flow", "series counter-flow"])
def test_columns_are_the_points(circuit, paths):
    chiller = make(circuit, water_paths=paths)
    capacities = np.linspace(1e6, 4e6, 7)
    points = chiller.solve(**{**DUTY, "capacity": capacities})
    assert points.status.max() == 0
    for row, capacity in enumerate(capacities):
        point = chiller.solve(**{**DUTY, "capacity": float(capacity)})
        for name in ("cop", "power", "condenser_water_leaving", "energy_closure"):
            assert getattr(points, name)[row] == getattr(point, name)
        assert tuple(points.condensing_temperatures[row]) == point.condensing_temperatures
        assert points[row] == point


def test_more_than_one_way_to_be_better(circuit):
    one, two = make(circuit, 1).solve(**DUTY), make(circuit, water_paths="series counter-flow").solve(**DUTY)
    # The same exchangers in all, the same water: two circuits need some percent less.
    assert 0.02 < 1 - two.power / one.power < 0.04
    assert make(circuit).solve(**DUTY).power == pytest.approx(one.power, rel=1e-9)
    zones = two.condenser_zones(2)
    assert zones.pinch > 0
    with pytest.raises(interstage.WrongArgument, match="circuit must be 1 to 2"):
        two.condenser_zones(3)


def test_bad_rows_say_why(circuit):
    chiller = make(circuit)
    columns = {**DUTY, "capacity": [3e6, np.nan, -1.0, 1e9], "condenser_water_entering": 303.15}
    points = chiller.solve(**columns)
    words = [interstage.status_text(int(code)) for code in points.status]
    assert words[0] == "ok"
    assert words[1] == "an input is missing"
    assert words[2] == "an input is out of range"
    assert words[3] != "ok"
    assert np.isnan(points.cop[1:]).all()
    with pytest.raises(interstage.InterstageError):
        chiller.solve(**columns, errors="raise")


@pytest.mark.parametrize(
    ("change", "error", "match"),
    [
        ({"chilled_water_entering": 285.0}, interstage.WrongArgument, "exactly one of"),
        ({"chilled_water": 167.0}, TypeError, "WaterFlow"),
        ({"capacity": -1.0}, interstage.OutOfRange, "capacity"),
        ({"capacity": float("nan")}, interstage.NotFinite, "capacity"),
        ({"condenser_water_entering": 270.0}, interstage.OutOfRange, "water"),
        ({"chilled_water_leaving": 400.0}, interstage.OutOfRange, "water"),
    ],
)
def test_bad_duties_are_refused(circuit, change, error, match):
    with pytest.raises(error, match=match):
        make(circuit).solve(**{**DUTY, **change})


@pytest.mark.parametrize(
    ("options", "match"),
    [
        ({"water_paths": "diagonal"}, "water_paths"),
        ({"capacity_shares": [1.0]}, "capacity_shares"),
        ({"capacity_shares": [1.0, -2.0]}, "capacity_share"),
        ({"evaporator": [interstage.Exchanger.evaporator(ua=1e6)] * 3}, "evaporator must be one"),
        ({"evaporator": interstage.Exchanger.condenser(ua=1e6)}, "evaporator"),
        ({"condenser": 1.0}, "Exchanger"),
    ],
)
def test_bad_chillers_are_refused(circuit, options, match):
    exchangers = {
        "evaporator": interstage.Exchanger.evaporator(ua=1e6),
        "condenser": interstage.Exchanger.condenser(ua=1e6),
    }
    with pytest.raises((interstage.InterstageError, TypeError), match=match):
        interstage.Chiller([circuit] * 2, **{**exchangers, **options})


def test_slopes_are_those_of_differences(circuit):
    chiller = make(circuit, water_paths="series counter-flow")
    slopes = chiller.sensitivities(**DUTY)
    step = 0.01
    low, high = (
        chiller.solve(**{**DUTY, "condenser_water_entering": 303.15 + change}) for change in (-step, step)
    )
    difference = (high.power - low.power) / (2 * step)
    assert slopes["power"]["condenser_water_entering"] == pytest.approx(difference, rel=1e-5)


def test_a_design_sheet_is_reproduced():
    sheet = {
        **DUTY,
        "power": 600e3,
        "power_boundary": "drive input",
        "evaporator_approach": 1.2,
        "condenser_approach": 1.0,
        "motor_efficiency": 0.95,
        "drive_efficiency": 0.97,
        "motor_cooling": "evaporator",
    }
    refrigerant = interstage.Refrigerant("R-1233zd(E)")
    designed = interstage.Circuit.from_design_point(refrigerant, "3 stages: tank@3, tank@2", **sheet)
    assert designed.point.drive_input_power == pytest.approx(600e3, rel=1e-9)
    assert designed.point.evaporators[0].approach == pytest.approx(1.2, rel=1e-9)
    assert designed.point.condensers[0].approach == pytest.approx(1.0, rel=1e-8)
    assert designed.circuit.stages[0].efficiency == designed.polytropic_efficiency
    assert designed.chiller.solve(**DUTY) == designed.point
    with pytest.raises(interstage.Inconsistent, match=r"polytropic efficiency of .*above 0\.92"):
        interstage.Circuit.from_design_point(
            refrigerant, "3 stages: tank@3, tank@2", **{**sheet, "power": 400e3}
        )
    with pytest.raises(interstage.OutOfRange, match="evaporator_approach"):
        interstage.Circuit.from_design_point(
            refrigerant, "3 stages: tank@3, tank@2", **{**sheet, "evaporator_approach": -0.5}
        )
    with pytest.raises(interstage.UnknownOption, match="power_boundary"):
        interstage.Circuit.from_design_point(
            refrigerant, "3 stages: tank@3, tank@2", **{**sheet, "power_boundary": "wall"}
        )

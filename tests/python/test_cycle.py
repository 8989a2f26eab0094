"""Solved cycles: figures, points and columns of cycles."""

import pickle

import numpy as np
import pandas as pd
import pytest

import interstage

CONDITIONS = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15}

NUMBERS = (
    "cop",
    "kw_per_ton",
    "eer",
    "carnot_cop",
    "capacity",
    "power",
    "expander_power",
    "shaft_power",
    "motor_input_power",
    "drive_input_power",
    "motor_heat",
    "heat_rejected",
    "refrigerating_effect",
    "economizer_benefit",
    "evaporator_inlet_quality",
    "discharge_temperature",
    "evaporating_pressure",
    "condensing_pressure",
    "evaporator_mass_flow",
    "condenser_mass_flow",
    "mass_closure",
    "energy_closure",
)
SEVERAL = {
    "interstage_pressures": 1,
    "flash_fractions": 1,
    "stage_work": 2,
    "stage_head": 2,
    "head_split": 2,
    "stage_power": 2,
    "stage_mass_flow": 2,
    "stage_inlet_volume_flow": 2,
}
POINTS = [
    "evaporator_outlet",
    "stage_1_inlet",
    "stage_1_outlet",
    "stage_2_inlet",
    "stage_2_outlet",
    "condenser_outlet",
    "stage_2_tank_inlet",
    "stage_2_tank_vapor",
    "stage_2_tank_liquid",
    "evaporator_inlet",
]


def test_figures_agree_with_each_other(cycle):
    assert cycle.cop == pytest.approx(cycle.capacity / cycle.power, rel=1e-12)
    assert cycle.kw_per_ton == pytest.approx(interstage.units.kw_per_ton_from_cop(cycle.cop), rel=1e-12)
    assert cycle.capacity == pytest.approx(3.5e6, rel=1e-12)
    assert cycle.capacity == pytest.approx(cycle.evaporator_mass_flow * cycle.refrigerating_effect, rel=1e-12)
    assert sum(cycle.stage_power) == pytest.approx(cycle.power, rel=1e-12)
    assert cycle.heat_rejected == pytest.approx(cycle.capacity + cycle.power, rel=1e-10)
    assert cycle.carnot_cop == pytest.approx(278.15 / 32.0, rel=1e-12)
    assert abs(cycle.mass_closure) < 1e-12
    assert abs(cycle.energy_closure) < 1e-12
    for name, count in SEVERAL.items():
        values = getattr(cycle, name)
        assert isinstance(values, tuple)
        assert len(values) == count
    for work, head in zip(cycle.stage_work, cycle.stage_head, strict=True):
        assert head == pytest.approx(0.8 * work, rel=1e-12)
    vapor, inlet = cycle.points["stage_2_tank_vapor"], cycle.points["stage_2_tank_inlet"]
    assert cycle.flash_fractions[0] == pytest.approx(vapor.mass_flow / inlet.mass_flow, rel=1e-12)
    assert cycle.interstage_pressures[0] == inlet.p


def test_a_cycle_knows_its_circuit_and_conditions(cycle, circuit):
    assert cycle.circuit == circuit
    assert cycle.refrigerant == circuit.refrigerant
    assert cycle.evaporating_temperature == 278.15
    assert cycle.condensing_temperature == 310.15
    assert (cycle.suction_superheat, cycle.subcooling) == (0.0, 0.0)
    assert cycle.refrigerant_lift == pytest.approx(32.0, rel=1e-14)


def test_the_size_is_what_was_asked_for(circuit):
    for name, attribute in (
        ("capacity", "capacity"),
        ("power", "power"),
        ("mass_flow", "evaporator_mass_flow"),
    ):
        # To the last bit: 1e6 W came back as 1000000.0000000001.
        for size in (12345.0, 1e6, 3.5e6, 1.0 / 3.0):
            cycle = circuit.solve(**CONDITIONS, **{name: size})
            assert getattr(cycle, attribute) == size
            assert getattr(circuit.solve(**CONDITIONS, **{name: [size]}), attribute)[0] == size
            assert cycle.capacity == pytest.approx(cycle.cop * cycle.power, rel=1e-14)


def test_superheat_and_subcooling(circuit):
    cycle = circuit.solve(**CONDITIONS, suction_superheat=4.0, subcooling=3.0, mass_flow=1.0)
    assert pytest.approx(282.15, rel=1e-14) == cycle.points["evaporator_outlet"].T
    assert pytest.approx(307.15, rel=1e-14) == cycle.points["condenser_outlet"].T
    assert (cycle.suction_superheat, cycle.subcooling) == (4.0, 3.0)


def test_equality_and_hash(circuit, cycle):
    same = circuit.solve(**CONDITIONS, capacity=3.5e6)
    assert same == cycle
    assert hash(same) == hash(cycle)
    assert circuit.solve(**CONDITIONS, capacity=3.6e6) != cycle
    assert circuit.without_economizers().solve(**CONDITIONS, capacity=3.5e6) != cycle
    assert cycle != 1


def test_repr_html_and_dict(cycle):
    assert "R-1233zd(E)" in repr(cycle)
    assert "capacity=3500000 W" in repr(cycle)
    html = cycle._repr_html_()
    assert "capacity</td>" in html
    assert "stage_2_tank_vapor" in html
    data = cycle.to_dict()
    assert data["format_version"] == 1
    assert data["conditions"]["capacity"] == 3.5e6
    assert data["figures"].keys() == {*NUMBERS, *SEVERAL}
    assert data["figures"]["cop"] == cycle.cop
    assert data["figures"]["stage_power"] == list(cycle.stage_power)
    assert data["points"] == cycle.points.to_dict()
    assert interstage.Cycle.from_dict(data) == cycle


def test_points_are_a_mapping(cycle):
    points = cycle.points
    assert list(points) == points.keys() == list(points.names) == POINTS
    assert len(points) == len(POINTS)
    assert "stage_1_inlet" in points
    assert "stage_3_inlet" not in points
    assert 3 not in points
    assert [name for name, _ in points.items()] == POINTS
    assert [point.name for point in points.values()] == POINTS
    assert dict(points)["condenser_outlet"] == points["condenser_outlet"]
    assert points == cycle.points
    assert hash(points) == hash(cycle.points)
    assert "stage_2_tank_liquid" in repr(points)


@pytest.mark.parametrize(
    "name", ["stage_3_inlet", "", "1", "stage_01_inlet", "stage_+1_inlet", "EVAPORATOR_INLET"]
)
def test_unknown_points(cycle, name):
    with pytest.raises(KeyError) as raised:
        cycle.points[name]
    assert isinstance(raised.value, interstage.UnknownPoint)
    assert raised.value.names == tuple(POINTS)
    assert name not in cycle.points
    with pytest.raises(TypeError, match="name must be a text"):
        cycle.points[0]


def test_a_point_has_the_attributes_of_its_state(cycle):
    point = cycle.points["stage_1_outlet"]
    assert point.name == "stage_1_outlet"
    assert point.mass_flow == cycle.stage_mass_flow[0]
    assert isinstance(point.state, interstage.State)
    for name in ("T", "p", "rho", "h", "s", "u", "x", "phase", "cp", "cv", "speed_of_sound", "joule_thomson"):
        assert getattr(point, name) == getattr(point.state, name)
    assert cycle.points["evaporator_inlet"].cp is None
    assert "mass_flow=" in repr(point)
    assert "kg/s" in repr(point)
    assert hash(point) == hash(cycle.points["stage_1_outlet"])
    assert point != cycle.points["stage_1_inlet"]


def test_tables_of_points(cycle):
    columns = cycle.points.to_dict()
    assert columns["point"] == POINTS
    assert columns["h"] == [point.h for point in cycle.points.values()]
    assert columns["x"][4] is None
    frame = pd.DataFrame(columns)
    assert len(frame) == len(POINTS)
    frame = cycle.points.to_pandas()
    assert frame.index.tolist() == POINTS
    assert frame.loc["stage_1_inlet", "T [degC]"] == pytest.approx(5.0, abs=1e-9)
    assert frame.loc["stage_1_inlet", "p [kPa]"] == pytest.approx(cycle.evaporating_pressure / 1e3)
    imperial = cycle.points.to_pandas(units="I-P")
    assert imperial.loc["stage_1_inlet", "T [degF]"] == pytest.approx(41.0, abs=1e-9)
    assert imperial.columns.tolist()[:2] == ["T [degF]", "p [psia]"]
    assert "T [degF]" in cycle.points.to_html("I-P")
    # The same table alone and in that of the cycle.
    assert cycle.points.to_html() in cycle._repr_html_()
    assert "T [degC]" in cycle.points._repr_html_()
    with pytest.raises(interstage.UnknownOption, match="units must be"):
        cycle.points.to_pandas("metric")


def test_columns_of_cycles(circuit):
    condensing = np.array([300.0, 310.0, np.nan, 270.0, 305.0])
    cycles = circuit.solve(evaporating_temperature=278.15, condensing_temperature=condensing, capacity=1e6)
    assert isinstance(cycles, interstage.Cycles)
    assert cycles.status.tolist() == [0, 0, 1, 4, 0]
    for row in (0, 1, 4):
        single = circuit.solve(
            evaporating_temperature=278.15, condensing_temperature=condensing[row], capacity=1e6
        )
        assert cycles[row] == single
        for name in NUMBERS:
            assert getattr(cycles, name)[row] == getattr(single, name)
        for name in SEVERAL:
            assert tuple(getattr(cycles, name)[row]) == getattr(single, name)
    assert cycles[2] is None
    assert np.isnan(cycles.cop[2:4]).all()
    assert np.isnan(cycles.stage_power[2:4]).all()
    assert cycles.circuit == circuit
    assert cycles.refrigerant == circuit.refrigerant
    assert "2 without result" in repr(cycles)
    assert "cop" in cycles._repr_html_()
    assert cycles.to_dict()["figures"]["stage_work"][0] == cycles.stage_work[0].tolist()
    assert cycles == circuit.solve(
        evaporating_temperature=278.15, condensing_temperature=condensing, capacity=1e6
    )


def test_columns_of_cycles_in_two_dimensions(circuit):
    evaporating, condensing = np.array([[276.0], [280.0]]), np.array([300.0, 305.0, 310.0])
    cycles = circuit.solve(evaporating_temperature=evaporating, condensing_temperature=condensing, power=1e5)
    assert cycles.cop.shape == (2, 3)
    assert cycles.stage_work.shape == (2, 3, 2)
    assert (np.diff(cycles.cop, axis=1) < 0).all()
    assert (np.diff(cycles.cop, axis=0) > 0).all()


def test_columns_of_a_circuit_without_interstages(r134a):
    circuit = interstage.Circuit(r134a, stages=[interstage.Stage(isentropic_efficiency=0.8)])
    cycles = circuit.solve(
        evaporating_temperature=[275.0, 280.0], condensing_temperature=310.0, mass_flow=1.0
    )
    assert cycles.flash_fractions.shape == cycles.interstage_pressures.shape == (2, 0)
    assert cycles.stage_work.shape == (2, 1)
    assert (cycles.economizer_benefit == 0).all()


def test_columns_of_cycles_do_not_depend_on_threads(circuit):
    condensing = np.linspace(295.0, 315.0, 60)
    given = {"evaporating_temperature": 278.15, "condensing_temperature": condensing, "capacity": 1e6}
    assert circuit.solve(**given, threads=1) == circuit.solve(**given, threads=3)


def test_wet_stages_in_columns():
    circuit = interstage.Circuit.arranged(
        interstage.Refrigerant("R-1336mzz(Z)"),
        "2 stages: tank@2",
        stage=interstage.Stage(polytropic_efficiency=0.8),
    )
    conditions = {
        "evaporating_temperature": 278.15,
        "condensing_temperature": [310.15, 270.0],
        "capacity": 1e6,
    }
    cycles = circuit.solve(**conditions)
    assert cycles.stage_wet.dtype == bool
    assert tuple(cycles.stage_wet[0]) == cycles[0].stage_wet
    assert any(cycles[0].stage_wet)
    assert not cycles.stage_wet[1].any()
    assert pickle.loads(pickle.dumps(cycles)) == cycles

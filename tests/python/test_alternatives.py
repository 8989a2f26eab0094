"""Economizers in other coin: equivalent expanders, and the slopes of all figures as a table."""

import numpy as np
import pytest

import interstage
from interstage import units
from worked_machines import AT_5_37, NONE, ONE, SIZE, arranged, printed


@pytest.mark.parametrize("name", ["R-1233zd(E)", "R-134a", "R-717"])
def test_equivalent_expander(name):
    circuit = arranged(name, ONE)
    found = interstage.equivalent_expander_efficiency(circuit, **AT_5_37)
    assert 0 < found.efficiency < 1
    assert found.reason == ""
    with_expander = arranged(name, f"2 stages: evaporator expander (efficiency {found.efficiency!r})")
    assert with_expander.solve(**AT_5_37, mass_flow=1.0).cop == pytest.approx(found.cop, rel=1e-12)
    assert found.cop_without == printed(name, "no tank", "cop")
    assert found.cop == printed(name, "one tank", "cop")
    # A loss-free expander takes the throttling loss whole, a tank half of it.
    assert found.cop_with_ideal_expander > found.cop


def test_the_machine_without_economizers_keeps_the_interstage_pressures():
    # Of isentropic efficiencies the pressure between matters; the best one without a tank is another.
    r, stage = interstage.Refrigerant("R-134a"), interstage.Stage(isentropic_efficiency=0.8)
    circuit = interstage.Circuit.arranged(r, ONE, stage=stage, interstage_pressures="best COP")
    cycle = circuit.solve(**AT_5_37, **SIZE)
    found = interstage.equivalent_expander_efficiency(circuit, **AT_5_37)
    assert 1 - found.cop_without / found.cop == pytest.approx(cycle.economizer_benefit, rel=1e-9)
    best = circuit.without_economizers().solve(**AT_5_37, **SIZE)
    assert abs(best.cop / found.cop_without - 1) > 1e-6
    with_expander = interstage.Circuit.arranged(
        r,
        f"2 stages: evaporator expander (efficiency {found.efficiency!r})",
        stage=stage,
        interstage_pressures=cycle.interstage_pressures,
    )
    assert with_expander.solve(**AT_5_37, mass_flow=1.0).cop == pytest.approx(found.cop, rel=1e-12)


def test_equivalent_expanders_that_are_not():
    nothing = interstage.equivalent_expander_efficiency(arranged("R-134a", NONE), **AT_5_37)
    assert (nothing.efficiency, nothing.reason) == (0.0, "")
    # Loss-free expanders before both tanks, and one tank's worth besides.
    better = interstage.equivalent_expander_efficiency(
        arranged("R-134a", "3 stages: tank@3 (expander 1), tank@2 (expander 1)"), **AT_5_37
    )
    assert better.efficiency is None
    assert "even a loss-free expander" in better.reason
    assert better.cop > better.cop_with_ideal_expander
    worse = interstage.equivalent_expander_efficiency(
        arranged("R-134a", "2 stages: liquid injection@2"), **AT_5_37
    )
    assert worse.efficiency is None
    assert "save nothing" in worse.reason
    with pytest.raises(interstage.WrongArgument, match="has an expander"):
        interstage.equivalent_expander_efficiency(arranged("R-134a", ONE, expander_efficiency=0.5), **AT_5_37)
    with pytest.raises(interstage.WrongArgument, match="single numbers"):
        interstage.equivalent_expander_efficiency(
            arranged("R-134a", ONE), evaporating_temperature=[278.15], condensing_temperature=310.15
        )


def test_sensitivities_as_a_table():
    circuit = arranged(
        "R-1233zd(E)",
        "4 stages: tank@4 (carryover 0.02, expander 0.3), closed@3 (approach 3 K, superheat 1 K), "
        "liquid injection@2",
        expander_efficiency=0.4,
        suction_exchanger_effectiveness=0.2,
        interstage_pressures=[80e3, 100e3, 140e3],
        motor_efficiency=0.95,
    )
    conditions = {**AT_5_37, "suction_superheat": 2.0, "subcooling": 3.0}
    table = interstage.sensitivity_table(circuit, **conditions, **SIZE)
    slopes = circuit.sensitivities(**conditions, **SIZE)
    assert len(table) == sum(map(len, slopes.values()))
    assert table["input_value"].notna().all()
    assert table["figure_value"].notna().all()
    cycle = circuit.solve(**conditions, **SIZE)
    by = table.set_index(["figure", "input"])
    for name, value in {
        "subcooling": 3.0,
        "stage_4_tank_liquid_carryover": 0.02,
        "stage_4_expander_efficiency": 0.3,
        "stage_3_economizer_approach": 3.0,
        "stage_3_injection_superheat": 1.0,
        "stage_2_injection_superheat": 0.0,
        "stage_3_inlet_pressure": 100e3,
        "evaporator_expander_efficiency": 0.4,
        "suction_exchanger_effectiveness": 0.2,
        "motor_efficiency": 0.95,
        "stage_efficiency": 0.8,
        "stage_2_efficiency": 0.8,
        "discharge_loss": 0.0,
    }.items():
        assert by.loc[("cop", name), "input_value"] == value
    for figure in ("cop", "work", "stage_2_work", "stage_4_inlet_pressure", "stage_4_flash_fraction"):
        row = by.loc[(figure, "condensing_temperature")]
        assert row["slope"] == slopes[figure]["condensing_temperature"]
        if row["slope"]:
            assert row["elasticity"] == pytest.approx(row["slope"] * 310.15 / row["figure_value"])
    assert by.loc[("work", "subcooling"), "figure_value"] == pytest.approx(
        cycle.power / cycle.evaporator_mass_flow
    )
    assert by.loc[("stage_3_head", "subcooling"), "figure_value"] == cycle.stage_head[2]
    assert np.isnan(by.loc[("cop", "discharge_loss"), "elasticity"])
    # Power goes with the inverse of the motor's efficiency.
    assert by.loc[("motor_input_power", "motor_efficiency"), "elasticity"] == pytest.approx(-1.0)


@pytest.mark.parametrize(
    ("figure", "of", "unit", "factor"),
    [
        ("cop", "condensing_temperature", "1/F", 5 / 9),
        ("power", "condensing_temperature", "kW/F", 1e-3 * 5 / 9),
        ("capacity", "stage_efficiency", "ton", units.ton_from_watt(1.0)),
        ("discharge_temperature", "subcooling", "F/F", 1.0),
        ("work", "stage_2_efficiency", "Btu/lb", units.btu_per_pound_from_joule_per_kilogram(1.0)),
        ("cop", "port_loss", "", 1.0),
    ],
)
def test_units_of_slopes(figure, of, unit, factor):
    table = interstage.sensitivity_table(arranged("R-134a", ONE), **AT_5_37, units="I-P")
    row = table.set_index(["figure", "input"]).loc[(figure, of)]
    assert row["unit_shown"] == unit
    assert row["slope_shown"] == pytest.approx(row["slope"] * factor)


def test_bad_sensitivity_tables():
    with pytest.raises(interstage.UnknownOption, match="units must be"):
        interstage.sensitivity_table(arranged("R-134a", ONE), **AT_5_37, units="metric")
    with pytest.raises(interstage.WrongArgument, match="single number"):
        interstage.sensitivity_table(
            arranged("R-134a", ONE), evaporating_temperature=[278.15], condensing_temperature=310.15
        )
    with pytest.raises(interstage.WrongArgument, match="circuit must be a Circuit"):
        interstage.sensitivity_table(None, **AT_5_37)

"""The cycle of a trend row is the one its figures were told from."""

import math

import numpy as np
import pytest

import interstage

STAGE = interstage.Stage(polytropic_efficiency=0.8)
READINGS = {
    "evaporator_pressure": ("pe", "Pa"),
    "condenser_pressure": ("pc", "Pa"),
    "suction_temperature": ("ts", "K"),
    "liquid_line_temperature": ("tl", "K"),
    "discharge_temperature": ("td", "K"),
    "capacity": ("q", "W"),
    "power": ("kw", "W"),
}
ARRANGEMENTS = [
    ("1 stage", {}),
    ("1 stage", {"suction_loss": 0.03, "discharge_loss": 0.02}),
    ("1 stage: suction exchanger (effectiveness 0.3)", {}),
    ("2 stages: tank@2", {"interstage_pressures": "best COP", "port_loss": 0.02}),
    ("3 stages: tank@3, tank@2", {"interstage_pressures": "equal head", "interstage_loss": 0.01}),
    ("3 stages: tank@3 (expander 0.5), tank@2, evaporator expander (efficiency 0.4)", {}),
    ("2 stages: intercooled tank@2 (coil 3 K)", {"suction_loss": 0.02}),
    ("3 stages: closed@3 (approach 3 K), liquid injection@2", {"port_loss": 0.01}),
    ("2 stages: tank@2", {"motor_efficiency": 0.95, "motor_cooling": "evaporator"}),
    ("2 stages: tank@2, suction exchanger (effectiveness 0.2)", {"interstage_pressures": [5.5e5]}),
]


def machine(arrangement="2 stages: tank@2", stage=STAGE, refrigerant="R-134a", **options):
    return interstage.Circuit.arranged(
        interstage.Refrigerant(refrigerant), arrangement, stage=stage, **options
    )


def tank_readings(circuit):
    """The columns of economizers that hold refrigerant at a pressure of their own."""
    bare = interstage.Trend(circuit, READINGS)
    exponents = [name for name in bare.figures if name.endswith("_tank_pressure_exponent")]
    names = [name.removesuffix("_exponent") for name in exponents]
    return {name: (name, "Pa") for name in names}


def analysed(circuit, rows, *, tanks=True, readings=READINGS):
    """Rows of readings that the circuit's own cycle does not give exactly."""
    readings = {**readings, **(tank_readings(circuit) if tanks else {})}
    table = {column: [row[column] for row in rows] for column, _ in readings.values()}
    return interstage.Trend(circuit, readings).analyse(table)


def row(circuit, **changed):
    low = circuit.refrigerant.saturation(T=278.15).vapor.p
    high = circuit.refrigerant.saturation(T=310.15).vapor.p
    found = {"pe": low, "pc": high, "ts": 281.0, "tl": 306.0, "td": 325.0, "q": 1e6, "kw": 2e5}
    tanks = sorted(tank_readings(circuit))
    for place, name in enumerate(tanks):
        exponent = (place + 1.1) / (len(circuit.stages) if len(tanks) > 1 else 2.0)
        found[name] = low * (high / low) ** exponent
    return {**found, **changed}


def check(result, number=0):
    cycle = result.cycle(number)
    cop = result["capacity"][number] / result["compression_power"][number]
    assert cycle.cop == pytest.approx(cop, rel=1e-9)
    assert cycle.capacity == pytest.approx(result["capacity"][number], rel=1e-12)
    assert cycle.evaporating_temperature == pytest.approx(result["evaporating_temperature"][number], abs=1e-9)
    assert cycle.condensing_temperature == pytest.approx(result["condensing_temperature"][number], abs=1e-9)
    return cycle


@pytest.mark.parametrize(("arrangement", "options"), ARRANGEMENTS)
@pytest.mark.parametrize("tanks", [True, False])
def test_cop_is_that_of_the_row(arrangement, options, tanks):
    circuit = machine(arrangement, **options)
    cycle = check(analysed(circuit, [row(circuit)], tanks=tanks))
    # What was read is found again at the points.
    assert cycle.discharge_temperature == pytest.approx(325.0, abs=1e-6)
    read_at = [cycle.points[name].T for name in ("stage_1_inlet", "condenser_outlet")]
    assert read_at == pytest.approx([281.0, 306.0], abs=1e-6)
    for name, read in row(circuit).items():
        if tanks and name.endswith("_tank_pressure"):
            stage = name.removesuffix("_tank_pressure")
            vessel = [f"{stage}_tank_vapor", f"{stage}_injection_outlet"]
            (point,) = [cycle.points[place] for place in vessel if place in cycle.points]
            assert point.p == pytest.approx(read, rel=1e-9)


@pytest.mark.parametrize(
    ("refrigerant", "discharge"), [("R-1233zd(E)", 321.0), ("R-407C", 335.0), ("R-513A", 321.0)]
)
def test_other_refrigerants_and_stages(refrigerant, discharge):
    for stage in (
        interstage.Stage(isentropic_efficiency=0.7),
        interstage.Stage(polytropic_efficiency=0.7, path="three points"),
    ):
        circuit = machine("2 stages: closed@2 (approach 3 K)", stage, refrigerant)
        result = analysed(circuit, [row(circuit, td=discharge, ts=282.0, tl=300.0)])
        assert check(result).circuit.stages[0].kind == stage.kind


def test_sensors_at_saturation_read_to_either_side():
    circuit = machine()
    cycle = check(analysed(circuit, [row(circuit, ts=277.9, tl=310.4)]))
    assert cycle.suction_superheat == cycle.subcooling == 0.0


def test_a_row_whose_discharge_may_be_wet_has_the_efficiency_given():
    circuit = machine()
    result = analysed(circuit, [row(circuit, td=310.3)])
    with pytest.raises(interstage.Undefined, match=r"row 0 has no cycle: stage_efficiency .* may be wet"):
        result.cycle(0)
    assert result.cycle(0, stage_efficiency=0.75).circuit.stages[0].efficiency == 0.75


def test_without_a_discharge_temperature():
    circuit = machine()
    readings = {name: READINGS[name] for name in ("evaporator_pressure", "condenser_pressure")}
    result = analysed(circuit, [row(circuit)], readings=readings)
    with pytest.raises(interstage.Inconsistent, match="discharge_temperature, or give stage_efficiency"):
        result.cycle(0)
    cycle = result.cycle(0, stage_efficiency=0.8)
    # Nothing is known of the flow.
    assert cycle.evaporator_mass_flow == pytest.approx(1.0, rel=1e-12)
    with pytest.raises(interstage.OutOfRange, match="efficiency"):
        result.cycle(0, stage_efficiency=1.2)
    with pytest.raises(interstage.NotFinite, match="efficiency"):
        result.cycle(0, stage_efficiency=math.nan)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"kw": 0.0}, "the machine is off"),
        ({"pe": math.nan}, "evaporating_temperature, .*a reading is missing"),
        ({"pe": 1e6}, "not above evaporating temperature"),
        ({"tl": 330.0}, "is impossible beside the others"),
        ({"stage_2_tank_pressure": 2e6}, "a tank pressure is not between its neighbors"),
        ({"stage_2_tank_pressure": math.nan}, "stage_2_tank_pressure_exponent cannot be told"),
        ({"td": 312.0}, "asks for an impossible stage efficiency"),
    ],
)
def test_rows_without_a_cycle_say_why(changed, said):
    circuit = machine()
    result = analysed(circuit, [row(circuit), row(circuit, **changed)])
    with pytest.raises(interstage.Undefined, match=said) as caught:
        result.cycle(1)
    assert caught.value.row == 1
    assert caught.value.property == "cycle"
    if "td" in changed:
        assert result.cycle(1, stage_efficiency=0.8).cop == result.cycle(0, stage_efficiency=0.8).cop
    else:
        with pytest.raises(interstage.Undefined, match=said):
            result.cycle(1, stage_efficiency=0.8)


def test_the_number_of_a_row():
    circuit = machine()
    result = analysed(circuit, [row(circuit)])
    for number in (1, -1):
        with pytest.raises(interstage.OutOfRange, match="row must be 0 to 0"):
            result.cycle(number)
    for number in (True, 0.0, "0", None):
        with pytest.raises(interstage.WrongArgument, match="number of a row"):
            result.cycle(number)
    empty = analysed(circuit, [])
    with pytest.raises(interstage.OutOfRange, match="no rows"):
        empty.cycle(0)
    assert check(result, np.int64(0)).capacity == 1e6

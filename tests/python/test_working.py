"""The shown working: its printed numbers give its printed results, read by other code than wrote them."""

import math
import re

import pytest

import interstage
from interstage import units

POLYTROPIC = interstage.Stage(polytropic_efficiency=0.8)
ISENTROPIC = interstage.Stage(isentropic_efficiency=0.75)
AT = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15}


def solved(name, arrangement, *, stage=POLYTROPIC, size=("capacity", 1e6), fluid=None, at=None, **options):
    r = interstage.Refrigerant(name, **(fluid or {}))
    circuit = interstage.Circuit.arranged(r, arrangement, stage=stage, **options)
    return circuit.solve(**AT, **dict([size]), **(at or {}))


CYCLES = {
    "everything": solved(
        "R-1233zd(E)",
        "5 stages: tank@5 (carryover 0.02, blowthrough 0.01, expander 0.3), "
        "closed@4 (approach 3 K, superheat 1 K), intercooled tank@3, liquid injection@2, "
        "suction exchanger (effectiveness 0.3), "
        "evaporator expander (efficiency 0.4)",
        mechanical_efficiency=0.98,
        motor_efficiency=0.95,
        motor_cooling="evaporator",
        drive_efficiency=0.97,
        suction_loss=0.01,
        interstage_loss=0.01,
        port_loss=0.02,
        discharge_loss=0.01,
        at={"hot_gas_bypass": 0.1, "suction_superheat": 3.0, "subcooling": 2.0},
    ),
    "one stage": solved("R-134a", "1 stage"),
    "isentropic": solved("R-717", "2 stages: tank@2", stage=ISENTROPIC, size=("mass_flow", 2.0)),
    "three points": solved(
        "R-134a",
        "2 stages: closed@2 (approach 3 K, superheat 2 K, injection after)",
        stage=interstage.Stage(polytropic_efficiency=0.8, path="three points"),
        size=("power", 1e5),
    ),
    "coil, motor to a stage": solved(
        "R-717",
        "3 stages: liquid injection@3, intercooled tank@2 (coil 3 K, expander 0.5)",
        motor_efficiency=0.95,
        motor_cooling=2,
    ),
    "injection of gas that is met by the motor": solved(
        "R-717", "2 stages: liquid injection@2", motor_efficiency=0.9, motor_cooling=2
    ),
    "negative enthalpies": solved(
        "R-123", "2 stages: tank@2", fluid={"reference": "liquid at normal boiling point"}
    ),
    "tanks that part": solved(
        "R-410A", "2 stages: tank@2", fluid={"model": "mixture"}, tank_separation="equilibrium"
    ),
    "wet suction": solved("R-1336mzz(Z)", "2 stages: tank@2", at={"liquid_carryover": 0.02}),
    "large": solved("R-123", "3 stages: tank@3, tank@2", size=("capacity", 3.2e9)),
    "small": solved("R-123", "3 stages: tank@3, tank@2", size=("capacity", 3.2)),
}
BOTH = [(name, system) for name in CYCLES for system in ("SI", "I-P")]


def evaluated(text):
    return eval(text.replace(" x ", " * "), {"ln": math.log})


def rounded_like(value, text):
    """Round a number to the decimals of a text."""
    decimals = len(text.partition(".")[2])
    return float(f"{value:.{decimals}f}")


def steps_of(working, component):
    return {step.law: step for step in working.steps if step.component == component}


@pytest.mark.parametrize(("name", "system"), BOTH)
def test_printed_numbers_give_the_printed_result(name, system):
    working = CYCLES[name].working(system)
    checked = 0
    for step in working.steps:
        if step.numbers.startswith("at "):
            continue
        checked += 1
        if " = " in step.numbers:
            both, unit, rest = re.fullmatch(r"both sides (\S+) (.+), closes to (\S+)", step.result).groups()
            assert unit
            assert rest == "0", step
            for side in step.numbers.split(" = "):
                assert rounded_like(evaluated(side), both) == float(both), step
        else:
            result = step.result.split()[0]
            assert rounded_like(evaluated(step.numbers), result) == float(result), step
            # Of a result that is something, five digits or more are shown, unless it is exact.
            if float(result) != 0.0 and rounded_like(float(result), "1.") != float(result):
                assert evaluated(step.numbers) == pytest.approx(float(result), rel=6e-4)
    assert checked > 8
    text = str(working)
    assert not re.search(r"\d[eE][-+]?\d|(?<![\d.])-0(\.0*)?(?![\d.])|nan|inf\b", text)


@pytest.mark.parametrize(("name", "system"), BOTH)
def test_formula_and_numbers_are_the_same_line(name, system):
    """Numbers stand where the symbols are: the points table and the numbers of the line agree."""
    working = CYCLES[name].working(system)
    columns = {column.split(" [")[0]: values for column, values in working.points.items()}
    place = {point: at for at, point in enumerate(columns["point"])}
    seen = 0
    for step in working.steps:
        if step.numbers.startswith("at "):
            continue
        balance = " = " in step.numbers
        formula = step.formula if balance else step.formula.partition(" = ")[2]
        symbols = re.findall(r"\b([mhpv])\[(\w+)\]|\b([A-Za-z_]\w*)\b(?!\()", formula)
        numbers = re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?", re.sub(r"(?<=[\w)]) - ", " + ", step.numbers))
        bare = re.findall(r"(?<![\w.])\d+(?![\w.\]])", re.sub(r"\[\w+\]", "", formula))
        assert len(numbers) == len(symbols) + len(bare), step
        if bare:
            continue
        for (symbol, point, _), number in zip(symbols, numbers, strict=True):
            if symbol:
                seen += 1
                assert float(number) == pytest.approx(columns[symbol][place[point]], rel=5e-6, abs=5e-9)
    assert seen > 10


@pytest.mark.parametrize("name", CYCLES)
def test_results_are_the_figures_of_the_cycle(name):
    cycle = CYCLES[name]
    working = cycle.working()
    close = {"rel": 6e-5}

    def result(component, law):
        return float(steps_of(working, component)[law].result.split()[0])

    whole = steps_of(working, "cycle")
    assert result("cycle", "COP") == pytest.approx(cycle.cop, **close)
    assert float(whole["compression power"].result.split()[0]) == pytest.approx(cycle.power / 1e3, **close)
    assert result("condenser", "heat rejected") == pytest.approx(cycle.heat_rejected / 1e3, **close)
    effect = result("evaporator", "refrigerating effect")
    assert effect == pytest.approx(cycle.refrigerating_effect / 1e3, **close)
    evaporator = steps_of(working, "evaporator")
    given = set(cycle.to_dict()["conditions"])
    if "capacity" in given:
        assert result("evaporator", "mass flow") == pytest.approx(cycle.evaporator_mass_flow, **close)
    else:
        assert "mass flow" not in evaporator
        assert result("evaporator", "capacity") == pytest.approx(cycle.capacity / 1e3, **close)
    for k, stage in enumerate(cycle.circuit.stages, 1):
        steps = steps_of(working, f"stage_{k}")
        assert result(f"stage_{k}", "power") == pytest.approx(cycle.stage_power[k - 1] / 1e3, **close)
        volume = cycle.stage_inlet_volume_flow[k - 1]
        assert result(f"stage_{k}", "inlet volume flow") == pytest.approx(volume, **close)
        head = cycle.stage_head[k - 1] / 1e3
        assert result(f"stage_{k}", f"{stage.kind} head") == pytest.approx(head, **close)
        inlet, outlet = cycle.points[f"stage_{k}_inlet"], cycle.points[f"stage_{k}_outlet"]
        if stage.kind == "isentropic":
            ideal = cycle.refrigerant.state(p=outlet.p, s=inlet.s).h / 1e3
            assert result(f"stage_{k}", "enthalpy at the same entropy") == pytest.approx(ideal, rel=1e-6)
        nearly = "check to about a percent: polytropic head by p v^n = constant through both ends"
        if nearly in steps:
            assert result(f"stage_{k}", nearly) == pytest.approx(head, rel=6e-3)
    economized = [
        k for k, part in enumerate(cycle.circuit.interstages, 2) if not isinstance(part, interstage.Direct)
    ]
    for k, fraction in zip(economized, cycle.flash_fractions, strict=True):
        part = cycle.circuit.interstages[k - 2]
        if isinstance(part, interstage.FlashTank):
            assert result(f"stage_{k}_tank", "flash fraction") == pytest.approx(fraction, **close)
            steps = [step.law for step in working.steps if step.component == f"stage_{k}_tank"]
            assert steps == ["flash fraction", "vapor", "mass", "energy"]
            vapor = cycle.points[f"stage_{k}_tank_vapor"].mass_flow
            assert result(f"stage_{k}_tank", "vapor") == pytest.approx(vapor, **close)
        if isinstance(part, interstage.ClosedEconomizer):
            law = "share that is injected, of the liquid that arrives"
            assert result(f"stage_{k}_exchanger", law) == pytest.approx(fraction, **close)
            vapor = cycle.points[f"stage_{k}_injection_outlet"].mass_flow
            assert result(f"stage_{k}_exchanger", "injected flow") == pytest.approx(vapor, **close)
        if isinstance(part, interstage.IntercooledTank):
            law = f"flow through stage {k} per flow through stage {k - 1}"
            flows = cycle.stage_mass_flow
            assert result(f"stage_{k}_tank", law) == pytest.approx(flows[k - 1] / flows[k - 2], **close)
        if isinstance(part, interstage.LiquidInjection):
            flow = cycle.points[f"stage_{k}_injection_inlet"].mass_flow
            law = "mass flow, from mass and energy"
            assert result(f"stage_{k}_mixing", law) == pytest.approx(flow, **close, abs=1e-8)
    if economized:
        assert result("cycle", "benefit") == pytest.approx(cycle.economizer_benefit, rel=1e-4)
    options = cycle.circuit.options
    for option, law, power in (
        ("mechanical_efficiency", "shaft power", cycle.shaft_power),
        ("motor_efficiency", "power into the motor", cycle.motor_input_power),
        ("drive_efficiency", "power into the drive", cycle.drive_input_power),
    ):
        assert (law in whole) == (option in options)
        if law in whole:
            assert result("cycle", law) == pytest.approx(power / 1e3, **close)
    if "motor_vapor" in cycle.points:
        assert result("motor", "heat of the motor") == pytest.approx(cycle.motor_heat / 1e3, **close)
        flow = cycle.points["motor_liquid"].mass_flow
        assert result("motor", "mass flow") == pytest.approx(flow, **close)
    if "hot_gas_bypass" in cycle.points:
        flow = cycle.points["hot_gas_bypass"].mass_flow
        assert result("evaporator", "hot-gas bypass") == pytest.approx(flow, **close)


def test_what_belongs_to_a_component_stands_together():
    for cycle in CYCLES.values():
        order = [step.component for step in cycle.working().steps]
        runs = [here for before, here in zip(["", *order], order, strict=False) if here != before]
        assert len(runs) == len(set(runs))
        components = [balance["component"] for balance in cycle.balances()]
        assert runs == [*components, "cycle"]


def test_expander():
    cycle = CYCLES["everything"]
    r, points = cycle.refrigerant, cycle.points
    steps = steps_of(cycle.working(), "stage_5_metering")
    ideal = r.state(p=points["stage_5_tank_inlet"].p, s=points["condenser_outlet"].s).h
    assert float(steps["enthalpy at the same entropy"].result.split()[0]) == pytest.approx(
        ideal / 1e3, rel=1e-6
    )
    assert float(steps["power recovered"].result.split()[0]) > 0.0


def test_points_have_temperature_and_pressure():
    cycle = CYCLES["isentropic"]
    for system, p, t in (("SI", "p [kPa]", "T [degC]"), ("I-P", "p [psia]", "T [degF]")):
        working = cycle.working(system)
        assert working.points["point"] == list(cycle.points)
        first = cycle.points["evaporator_outlet"]
        convert = {"SI": units.celsius_from_kelvin, "I-P": units.fahrenheit_from_kelvin}[system]
        assert working.points[t][0] == pytest.approx(convert(first.T))
        line = next(line for line in str(working).splitlines() if line.startswith("evaporator_outlet"))
        assert f"{working.points[t][0]:.2f}" in line.split()
        assert f"{working.points['quality'][0]:.5f}" in line.split()
        head = next(line for line in str(working).splitlines() if line.startswith("point"))
        assert p in head
        assert working.units.startswith("Units: m in ")


def test_volumes_in_ip():
    working = CYCLES["one stage"].working("I-P")
    point = CYCLES["one stage"].points["stage_1_inlet"]
    volume = 1 / units.pound_per_cubic_foot_from_kilogram_per_cubic_meter(point.rho)
    assert working.points["v [ft3/lb]"][working.points["point"].index("stage_1_inlet")] == pytest.approx(
        volume
    )
    flow = units.cfm_from_cubic_meter_per_second(CYCLES["one stage"].stage_inlet_volume_flow[0])
    step = steps_of(working, "stage_1")["inlet volume flow"]
    assert float(step.result.split()[0]) == pytest.approx(flow, rel=6e-5)
    assert step.result.endswith(" cfm")
    ratio = steps_of(working, "cycle")["power per capacity, P in kW and Q_e in tons"]
    assert float(ratio.result.split()[0]) == pytest.approx(CYCLES["one stage"].kw_per_ton, rel=6e-5)


def test_html():
    working = CYCLES["isentropic"].working()
    shown = working.to_html()
    assert shown == working._repr_html_()
    assert shown.count("<table") == 2
    assert shown.count(">stage_2_tank</td>") == 1
    assert "h_s = h(p[stage_1_outlet], s[stage_1_inlet])" in shown
    with pytest.raises(interstage.UnknownOption, match="units must be"):
        CYCLES["isentropic"].working("metric")

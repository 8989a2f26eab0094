"""Circuits: what they are made of, what they refuse, what they are solved at."""

import numpy as np
import pytest

import interstage

CONDITIONS = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15}


def stage():
    return interstage.Stage(isentropic_efficiency=0.8)


def test_stages():
    polytropic = interstage.Stage(polytropic_efficiency=0.8)
    assert (polytropic.kind, polytropic.efficiency) == ("polytropic", 0.8)
    assert (stage().kind, stage().efficiency) == ("isentropic", 0.8)
    assert polytropic != stage()
    assert stage() == interstage.Stage(isentropic_efficiency=0.8)
    assert len({stage(), stage(), polytropic}) == 2
    assert repr(polytropic) == "Stage(polytropic_efficiency=0.8)"
    assert eval(repr(polytropic), {"Stage": interstage.Stage}) == polytropic


@pytest.mark.parametrize("efficiency", [0.0, -0.5, 1.0000001, 80])
def test_efficiencies_out_of_range(efficiency):
    with pytest.raises(interstage.OutOfRange, match="efficiency"):
        interstage.Stage(isentropic_efficiency=efficiency)


@pytest.mark.parametrize(
    "given",
    [{}, {"isentropic_efficiency": 0.8, "polytropic_efficiency": 0.8}, {"isentropic_efficiency": None}],
)
def test_a_stage_has_one_efficiency(given):
    with pytest.raises(interstage.WrongArgument, match="exactly one"):
        interstage.Stage(**given)


def test_stages_take_no_columns():
    with pytest.raises(interstage.WrongArgument, match="must be a single number, got list"):
        interstage.Stage(isentropic_efficiency=[0.8])


def test_components():
    assert interstage.FlashTank() == interstage.FlashTank()
    assert interstage.FlashTank() != interstage.Direct()
    assert len({interstage.FlashTank(), interstage.FlashTank(), interstage.Direct()}) == 2
    assert (repr(interstage.FlashTank()), repr(interstage.Direct())) == ("FlashTank()", "Direct()")


def test_a_circuit_keeps_what_it_was_made_of(r134a):
    circuit = interstage.Circuit(
        r134a,
        stages=(stage(), stage(), stage()),
        interstages=[interstage.Direct(), interstage.FlashTank()],
        interstage_pressures=np.array([4e5, 6e5]),
    )
    assert circuit.refrigerant == r134a
    assert circuit.stages == (stage(),) * 3
    assert circuit.interstages == (interstage.Direct(), interstage.FlashTank())
    assert circuit.interstage_pressures == (4e5, 6e5)
    assert interstage.Circuit(r134a, stages=[stage()]).interstage_pressures == "equal ratio"
    for part in ("R-134a", "FlashTank()", "isentropic_efficiency=0.8", "400000"):
        assert part in repr(circuit)


def test_equality_and_hash(r134a, circuit):
    def make(**other):
        given = {"stages": [stage()] * 2, "interstages": [interstage.FlashTank()], **other}
        return interstage.Circuit(r134a, **given)

    assert make() == make()
    assert hash(make()) == hash(make())
    others = {
        make(interstages=[interstage.Direct()]),
        make(interstage_pressures="equal temperature step"),
        make(interstage_pressures=[5e5]),
        make(stages=[stage(), interstage.Stage(isentropic_efficiency=0.7)]),
        circuit,
    }
    assert len(others) == 5
    assert make() not in others


def test_machines_with_another_refrigerant_or_without_tanks(circuit, r134a):
    other = circuit.with_refrigerant(r134a)
    assert other.refrigerant == r134a
    assert other.stages == circuit.stages
    plain = circuit.without_economizers()
    assert plain.interstages == (interstage.Direct(),)
    with_tank, without = (c.solve(**CONDITIONS, capacity=1e6) for c in (circuit, plain))
    assert with_tank.economizer_benefit > 0
    assert without.economizer_benefit == 0
    with pytest.raises(TypeError):
        circuit.with_refrigerant("R-134a")


@pytest.mark.parametrize(
    ("given", "error", "message"),
    [
        ({"stages": []}, interstage.WrongLength, "stages has 0"),
        ({"stages": [stage()] * 101}, interstage.OutOfRange, "stages 101 is outside 1 to 100"),
        ({"stages": [stage()] * 2}, interstage.WrongLength, "interstages has 0 entries where 1"),
        (
            {"stages": [stage()], "interstages": [interstage.Direct()]},
            interstage.WrongLength,
            "interstages has 1",
        ),
        ({"stages": stage()}, TypeError, "stages must be a sequence of Stage objects, got Stage"),
        ({"stages": "ab"}, TypeError, "stages must be a sequence of Stage objects, got str"),
        ({"stages": [0.8]}, TypeError, r"stages\[0\] must be a Stage, got float"),
        (
            {"stages": [stage()] * 2, "interstages": ["tank"]},
            TypeError,
            r"interstages\[0\] must be a FlashTank",
        ),
        ({"stages": [stage()] * 2, "interstages": [None]}, TypeError, r"interstages\[0\]"),
    ],
)
def test_refused_components(r134a, given, error, message):
    with pytest.raises(error, match=message):
        interstage.Circuit(r134a, **given)


@pytest.mark.parametrize("refrigerant", ["R-134a", None, 3])
def test_a_circuit_needs_a_refrigerant(refrigerant):
    with pytest.raises(interstage.WrongArgument, match="refrigerant must be a Refrigerant"):
        interstage.Circuit(refrigerant, stages=[stage()])


@pytest.mark.parametrize(
    ("pressures", "error", "message"),
    [
        (
            "equal",
            interstage.UnknownOption,
            'interstage_pressures must be "equal ratio" or "equal temperature step"',
        ),
        ([5e5, 6e5], interstage.WrongLength, "interstage_pressures has 2"),
        ([], interstage.WrongLength, "interstage_pressures has 0"),
        ([-1.0], interstage.OutOfRange, "interstage_pressures must be positive, got -1 Pa"),
        ([float("nan")], interstage.NotFinite, "interstage_pressures"),
        ([True], TypeError, "interstage_pressures must"),
        (["5e5"], TypeError, "interstage_pressures must"),
        (object(), TypeError, "interstage_pressures must"),
    ],
)
def test_refused_pressures(r134a, pressures, error, message):
    with pytest.raises(error, match=message):
        interstage.Circuit(
            r134a,
            stages=[stage()] * 2,
            interstages=[interstage.FlashTank()],
            interstage_pressures=pressures,
        )


def test_pressures_must_rise_and_fit(r134a):
    parts = {"stages": [stage()] * 3, "interstages": [interstage.FlashTank()] * 2}
    with pytest.raises(interstage.Inconsistent, match="must rise"):
        interstage.Circuit(r134a, **parts, interstage_pressures=[6e5, 5e5])
    circuit = interstage.Circuit(r134a, **parts, interstage_pressures=[5e5, 5e6])
    with pytest.raises(interstage.Inconsistent, match="is not between"):
        circuit.solve(**CONDITIONS, capacity=1e6)


@pytest.mark.parametrize(
    "sizes", [{}, {"capacity": 1e6, "power": 1e5}, dict.fromkeys(("mass_flow", "power"), 1.0)]
)
def test_exactly_one_size(circuit, sizes):
    with pytest.raises(interstage.WrongArgument, match="exactly one of capacity, mass_flow and power"):
        circuit.solve(**CONDITIONS, **sizes)


@pytest.mark.parametrize(
    ("conditions", "error", "argument"),
    [
        ({"evaporating_temperature": 1.0}, interstage.OutOfRange, "evaporating_temperature"),
        ({"condensing_temperature": 600.0}, interstage.OutOfRange, "condensing_temperature"),
        ({"suction_superheat": -1.0}, interstage.OutOfRange, "suction_superheat"),
        ({"subcooling": -1.0}, interstage.OutOfRange, "subcooling"),
        ({"capacity": -1.0}, interstage.OutOfRange, "capacity"),
        ({"capacity": 0.0}, interstage.OutOfRange, "capacity"),
        ({"subcooling": float("inf")}, interstage.NotFinite, "subcooling"),
        ({"condensing_temperature": 270.0}, interstage.Inconsistent, None),
        ({"subcooling": 50.0}, interstage.Inconsistent, None),
    ],
)
def test_impossible_conditions(circuit, conditions, error, argument):
    with pytest.raises(error) as raised:
        circuit.solve(**{**CONDITIONS, "capacity": 1e6, **conditions})
    if argument:
        assert raised.value.argument == argument


def test_conditions_are_named(circuit):
    with pytest.raises(TypeError):
        circuit.solve(278.15, 310.15, capacity=1e6)
    with pytest.raises(TypeError, match="condensing_temperature"):
        circuit.solve(evaporating_temperature=278.15, capacity=1e6)


def test_sensitivities_are_the_slopes_of_the_figures(circuit):
    base = {"suction_superheat": 2.0, "subcooling": 3.0, **CONDITIONS}
    slopes = circuit.sensitivities(**base)
    assert slopes.keys() >= {"cop", "refrigerating_effect", "work", "discharge_temperature", "stage_1_work"}
    for condition in base:
        step = 1e-2
        low, high = (
            circuit.solve(**{**base, condition: base[condition] + change}, mass_flow=1.0)
            for change in (-step, step)
        )
        for figure in ("cop", "refrigerating_effect", "discharge_temperature"):
            difference = (getattr(high, figure) - getattr(low, figure)) / (2 * step)
            # Central differences are good to the square of the step.
            assert slopes[figure][condition] == pytest.approx(difference, rel=1e-5)
        assert slopes["work"][condition] == pytest.approx((high.power - low.power) / (2 * step), rel=1e-5)
    assert slopes["cop"]["stage_efficiency"] > 0
    with pytest.raises(interstage.WrongArgument, match="single number"):
        circuit.sensitivities(evaporating_temperature=[280.0], condensing_temperature=310.0)
    with pytest.raises(interstage.Inconsistent):
        circuit.sensitivities(evaporating_temperature=310.0, condensing_temperature=300.0)


@pytest.mark.parametrize(
    ("arrangement", "argument", "value"),
    [
        ("1 stage: suction exchanger (effectiveness 0.5)", "suction_exchanger_effectiveness", 0.3),
        ("1 stage: evaporator expander (efficiency 0.5)", "expander_efficiency", 0.3),
    ],
)
def test_what_the_arrangement_names_is_not_given_again(arrangement: str, argument: str, value: float) -> None:
    with pytest.raises(interstage.WrongArgument, match=f"{argument} and the arrangement both name"):
        interstage.Circuit.arranged(
            interstage.Refrigerant("R-134a"),
            arrangement,
            stage=interstage.Stage(polytropic_efficiency=0.8),
            **{argument: value},
        )

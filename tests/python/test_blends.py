"""Blends by the mixture model: by name and by components, their phases, circuits whose tanks part them."""

import copy
import pickle

import numpy as np
import pytest

import interstage


def r407c():
    return interstage.Refrigerant("R-407C", model="mixture")


def test_a_name_keeps_its_default_model():
    assert interstage.Refrigerant("R-407C").model == "pseudo-pure"
    assert interstage.Refrigerant("R-134a").model == "pure"
    assert interstage.Refrigerant("R-513A").model == "mixture"
    assert r407c() != interstage.Refrigerant("R-407C")
    assert repr(r407c()) == 'Refrigerant("R-407C", model="mixture")'
    assert interstage.Refrigerant("R-407C", model="pseudo-pure") == interstage.Refrigerant("R-407C")
    with pytest.raises(interstage.UnknownOption, match="pure"):
        interstage.Refrigerant("R-134a", model="mixture")
    with pytest.raises(interstage.UnknownOption, match="model must be"):
        interstage.Refrigerant("R-407C", model="real")


def test_every_named_blend_can_be_had():
    for name in interstage.blends():
        blend = interstage.Refrigerant(name)
        assert blend.name == name
        assert sum(blend.composition.values()) == pytest.approx(1.0, abs=1e-12)
        assert sum(blend.mole_fractions.values()) == pytest.approx(1.0, abs=1e-12)
        assert len(blend.component_pairs) == len(blend.composition) * (len(blend.composition) - 1) // 2
        assert blend.citation in blend.citations
        line = blend.saturation(T=273.15)
        assert line.liquid.h == pytest.approx(200e3, abs=1e-6)
        assert line.liquid.s == pytest.approx(1e3, abs=1e-8)
        assert line.liquid.p >= line.vapor.p * (1 - 1e-6)
        with pytest.raises(interstage.NotPublished):
            _ = line.liquid.viscosity


def test_compositions_are_dictionaries_on_a_stated_basis():
    by_mass = interstage.Refrigerant.blend({"R-32": 0.5, "R-125": 0.5}, basis="mass")
    assert by_mass.composition == {"R-32": 0.5, "R-125": 0.5}
    by_mole = interstage.Refrigerant.blend(by_mass.mole_fractions, basis="mole")
    assert by_mole.saturation(T=280.0).p == pytest.approx(by_mass.saturation(T=280.0).p, rel=1e-12)
    with pytest.raises(TypeError, match="basis"):
        interstage.Refrigerant.blend({"R-32": 0.5, "R-125": 0.5})
    with pytest.raises(interstage.UnknownOption, match="basis"):
        interstage.Refrigerant.blend({"R-32": 0.5, "R-125": 0.5}, basis="volume")
    with pytest.raises(interstage.Inconsistent, match="add up to"):
        interstage.Refrigerant.blend({"R-32": 0.5, "R-125": 0.4}, basis="mass")
    with pytest.raises(interstage.WrongArgument):
        interstage.Refrigerant.blend({"R-32": "half", "R-125": 0.5}, basis="mass")


def test_pickles_and_dictionaries_keep_every_bit():
    custom = interstage.Refrigerant.blend({"r32": 0.3, "R-134a": 0.7}, basis="mole")
    phases = r407c().state(p=500e3, x=0.2).phases()
    for value in (
        r407c(),
        custom,
        interstage.Refrigerant("R-454B", extrapolate=True),
        custom.state(p=500e3, x=0.3),
        phases.liquid,
        phases.vapor.refrigerant,
        *custom.citations,
        custom.environment,
    ):
        for again in (pickle.loads(pickle.dumps(value)), copy.deepcopy(value)):
            assert again == value
            assert hash(again) == hash(value)
    assert interstage.Refrigerant.from_dict(custom.to_dict()) == custom
    stored = pickle.loads(pickle.dumps(phases.liquid))
    assert (stored.h, stored.s, stored.rho) == (phases.liquid.h, phases.liquid.s, phases.liquid.rho)


def test_phases_of_a_wet_state_add_up():
    blend = r407c()
    wet = blend.state(p=500e3, x=0.25)
    phases = wet.phases()
    for name, fraction in blend.composition.items():
        together = 0.75 * phases.liquid_composition[name] + 0.25 * phases.vapor_composition[name]
        assert together == pytest.approx(fraction, abs=1e-12)
    assert 0.75 * phases.liquid.h + 0.25 * phases.vapor.h == pytest.approx(wet.h, abs=1e-6)
    assert phases.liquid.cp > phases.vapor.cp
    for value in (blend.state(p=101325.0, T=300.0), interstage.Refrigerant("R-134a").state(p=3e5, x=0.5)):
        with pytest.raises(interstage.Undefined):
            value.phases()


def test_columns_give_what_single_calls_give():
    blend = interstage.Refrigerant("R-454B")
    p, h = np.array([3e5, 8e5, np.nan, 2e6]), np.array([250e3, 320e3, 300e3, 500e3])
    states = blend.state(p=p, h=h)
    assert states.status.tolist()[2] != 0
    for row in (0, 1, 3):
        alone = blend.state(p=float(p[row]), h=float(h[row]))
        assert (states.T[row], states.rho[row], states.s[row]) == (alone.T, alone.rho, alone.s)
    lines = blend.saturation(T=np.array([260.0, 300.0]))
    assert lines.vapor.p[1] == blend.saturation(T=300.0).vapor.p


def circuit(blend, **options):
    return interstage.Circuit(
        blend,
        stages=[interstage.Stage(polytropic_efficiency=0.8)] * 3,
        interstages=[interstage.FlashTank()] * 2,
        **options,
    )


CONDITIONS = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15, "capacity": 1e6}


def test_tanks_part_a_blend():
    fixed = circuit(r407c()).solve(**CONDITIONS)
    assert fixed.circuit.tank_separation == "fixed composition"
    assert all(of == r407c().composition for of in fixed.compositions.values())
    parted = circuit(r407c(), tank_separation="equilibrium").solve(**CONDITIONS)
    assert list(parted.compositions) == list(parted.points)
    assert max(map(abs, parted.species_closure.values())) < 1e-12
    below, own = parted.compositions["evaporator_inlet"], r407c().composition
    assert below["R-134a"] > own["R-134a"] + 0.02
    assert parted.cop < fixed.cop
    outlet = parted.points["evaporator_outlet"].state
    assert outlet.refrigerant.composition == pytest.approx(below, abs=1e-12)
    assert outlet.refrigerant.saturation(T=278.15).p == pytest.approx(parted.evaporating_pressure, rel=1e-9)
    for value in (parted, parted.circuit):
        assert pickle.loads(pickle.dumps(value)) == value
    assert "tank_separation='equilibrium'" in repr(parted.circuit)


def test_what_cannot_part_is_refused():
    with pytest.raises(interstage.Inconsistent, match="mixture model"):
        circuit(interstage.Refrigerant("R-407C"))
    with pytest.raises(interstage.Inconsistent, match="mixture model"):
        circuit(interstage.Refrigerant("R-134a"), tank_separation="equilibrium")
    with pytest.raises(interstage.UnknownOption, match="tank_separation must be"):
        circuit(r407c(), tank_separation="perfect")
    pure = circuit(interstage.Refrigerant("R-134a")).solve(**CONDITIONS)
    assert pure.compositions is None
    assert pure.species_closure is None


def test_columns_of_conditions_of_a_blend():
    machine = circuit(interstage.Refrigerant("R-513A"))
    cycle = machine.solve(**CONDITIONS)
    assert cycle.cop < cycle.carnot_cop
    columns = machine.solve(**{**CONDITIONS, "condensing_temperature": np.array([305.0, 310.15])})
    assert columns.cop[1] == cycle.cop


def test_trends_take_a_blend_at_its_own_composition():
    blend = interstage.Refrigerant("R-513A")
    readings = {"evaporator_pressure": ("pe", "kPa"), "condenser_pressure": ("pc", "kPa")}
    with pytest.raises(interstage.Inconsistent, match="composition"):
        interstage.Trend(circuit(blend, tank_separation="equilibrium"), readings=readings)
    trend = interstage.Trend(circuit(blend), readings=readings)
    line = blend.saturation(T=278.15)
    result = trend.analyse({"pe": [line.vapor.p / 1e3], "pc": [blend.saturation(T=310.15).vapor.p / 1e3]})
    assert result["evaporating_temperature"][0] == pytest.approx(278.15, abs=1e-6)
    assert result["condensing_temperature"][0] == pytest.approx(310.15, abs=1e-6)

"""Everything pickles, to the bit, and reads its own dictionaries back."""

import copy
import json
import pickle
import struct
from pathlib import Path

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage

WATERS = {
    "chilled_water": interstage.WaterFlow(mass_flow=48.0),
    "condenser_water": interstage.WaterFlow(mass_flow=55.0),
    "condenser_water_entering": 303.15,
}
CONDITIONS = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15}

R134A = interstage.Refrigerant("R-134a")
CIRCUIT = interstage.Circuit(
    interstage.Refrigerant("R-1233zd(E)"),
    stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2,
    interstages=[interstage.FlashTank()],
)
CHILLER = interstage.Chiller(
    [CIRCUIT, CIRCUIT],
    evaporator=interstage.Exchanger.evaporator(ua=0.2e6),
    condenser=interstage.Exchanger.condenser(ua=0.25e6),
    water_paths="series counter-flow",
    capacity_shares=[3.0, 2.0],
    subcooling=1.0,
)
CYCLE = CIRCUIT.solve(**CONDITIONS, suction_superheat=1.1, subcooling=2.2, power=3.3e5)
WATER = interstage.WaterFlow(volume_flow=0.1514, temperature=285.37)
VARIABLE = interstage.VariableUa(1e-7, 2e-5, 1e-3, interstage.VariableUa.CONDENSATION)
DISCHARGE = R134A.state(p=R134A.saturation(T=310.15).p, T=322.15)
ZONES = interstage.CondenserZones(
    R134A, DISCHARGE, mass_flow=24.0, water=interstage.WaterFlow(mass_flow=200.0), water_entering=303.15
)
DUTY = interstage.StageDuty(12345.6, 5.4321, 130.1)
SINGLE = {
    "refrigerant": interstage.Refrigerant("R-718", extrapolate=True),
    "reference": interstage.Refrigerant("R-134a", reference="liquid at -40 degC"),
    "vapor": R134A.state(p=123456.789, h=412345.678),
    "two-phase": R134A.state(T=281.1, x=1.0 / 3.0),
    "liquid": R134A.state(T=280.0, x=0.0),
    "supercritical": R134A.state(p=5e6, T=400.0),
    "saturation": R134A.saturation(T=277.7),
    "stage": interstage.Stage(polytropic_efficiency=0.789),
    "isentropic": interstage.Stage(isentropic_efficiency=0.1),
    "three points": interstage.Stage(polytropic_efficiency=0.789, path="three points"),
    "tank": interstage.FlashTank(),
    "wet tank": interstage.FlashTank(liquid_carryover=0.01, vapor_blowthrough=0.02, expander_efficiency=0.5),
    "coil": interstage.IntercooledTank(coil_approach=3.0),
    "exchanger": interstage.ClosedEconomizer(approach=3.0, injection_taken="after exchanger"),
    "injection": interstage.LiquidInjection(superheat=2.0),
    "direct": interstage.Direct(),
    "circuit": CIRCUIT,
    "given pressures": interstage.Circuit(
        R134A,
        stages=[interstage.Stage(isentropic_efficiency=0.8)] * 2,
        interstages=[interstage.Direct()],
        interstage_pressures=[456789.1],
    ),
    "every option": interstage.Circuit.arranged(
        R134A,
        "3 stages: closed@3 (approach 3 K), intercooled tank@2",
        stage=interstage.Stage(isentropic_efficiency=0.8),
        interstage_pressures="equal head",
        suction_loss=0.01,
        interstage_loss=0.02,
        port_loss=0.03,
        discharge_loss=0.04,
        expander_efficiency=0.5,
        suction_exchanger_effectiveness=0.3,
        mechanical_efficiency=0.99,
        motor_efficiency=0.95,
        drive_efficiency=0.97,
        motor_cooling=2,
    ),
    "equal steps": interstage.Circuit(
        R134A,
        stages=[interstage.Stage(isentropic_efficiency=0.8)] * 2,
        interstages=[interstage.Direct()],
        interstage_pressures="equal temperature step",
    ),
    "chiller": CHILLER,
    "chiller at a duty": CHILLER.solve(capacity=1e6, chilled_water_leaving=280.15, **WATERS),
    "cycle": CYCLE,
    "by capacity": CIRCUIT.solve(**CONDITIONS, capacity=1.1e6),
    "by mass flow": CIRCUIT.solve(**CONDITIONS, mass_flow=1.1),
    "point": CYCLE.points["stage_2_inlet"],
    "water": WATER,
    "brine": interstage.WaterFlow(mass_flow=12.3, heat_capacity=3456.7),
    "variable UA": VARIABLE,
    "exchanger by UA": interstage.Exchanger.evaporator(ua=1.1e6),
    "exchanger by approach": interstage.Exchanger.condenser(approach=1.0 / 3.0),
    "exchanger by effectiveness": interstage.Exchanger.condenser(effectiveness=0.7),
    "exchanger by variable UA": interstage.Exchanger.evaporator(ua=VARIABLE),
    "exchange": interstage.Exchanger.evaporator(ua=1.1e6).at_leaving(WATER, 280.15, 3.5e6),
    "zones": ZONES,
    "zone": ZONES.condensing,
    "rating": interstage.RatingConditions("AHRI 550/590 (I-P)-2015"),
    "chosen rating": interstage.RatingConditions("AHRI 550/590 (I-P)-2003", condenser_water_entering=300.0),
    "duty": DUTY,
    "impeller": interstage.Impeller.sized(DUTY, 0.52, 0.07),
}
OTHERS = {
    "citation": R134A.citation,
    "paper of a viscosity": R134A.transport_citations["viscosity"],
    "release of a surface tension": interstage.Refrigerant("R-718").transport_citations["surface_tension"],
    "environment": interstage.Refrigerant("R-1234yf").environment,
    "points": CYCLE.points,
    "states": R134A.state(p=np.array([3e5, np.nan, -1.0]), h=250e3),
    "series": R134A.state(p=pd.Series([3e5, 4e5], index=["a", "b"]), h=250e3),
    "polars": R134A.state(p=pl.Series([3e5, None]), h=250e3),
    "saturations": R134A.saturation(T=[280.0, 500.0]),
    "cycles": CIRCUIT.solve(evaporating_temperature=[278.0, 400.0], condensing_temperature=310.0, power=1e5),
}
VALUES = {**SINGLE, **OTHERS}


# Values of every type that Rust stores too, as `to_dict` wrote them in version 1 of the form.
# tests/serde.rs holds Rust to the same file.
STORED = json.loads((Path(__file__).parent.parent / "data" / "stored_version_1.json").read_text())


def agrees(own, stored, *, solved=False):
    """The same but for rounding in figures and points, which are solved again."""
    if isinstance(stored, dict):
        return own.keys() == stored.keys() and all(
            agrees(own[key], stored[key], solved=solved or key in ("figures", "points")) for key in stored
        )
    if isinstance(stored, list):
        return len(own) == len(stored) and all(
            agrees(*pair, solved=solved) for pair in zip(own, stored, strict=True)
        )
    if solved and isinstance(stored, float):
        return own == pytest.approx(stored, rel=1e-9, abs=1e-12)
    return own == stored


@pytest.mark.parametrize("stored", STORED, ids=lambda stored: stored["type"])
def test_data_of_version_1_are_read_and_written(stored):
    value = getattr(interstage, stored["type"]).from_dict(stored)
    assert agrees(json.loads(json.dumps(value.to_dict(), allow_nan=False)), stored)


def test_a_figure_without_a_value_is_none():
    # Liquid close to the critical point: nothing would be cooled without the economizer.
    stage = interstage.Stage(isentropic_efficiency=0.5)
    circuit = interstage.Circuit.arranged(R134A, "2 stages: tank@2", stage=stage)
    cycle = circuit.solve(evaporating_temperature=240.0, condensing_temperature=374.1, capacity=1e6)
    assert np.isnan(cycle.economizer_benefit)
    assert cycle.to_dict()["figures"]["economizer_benefit"] is None


def bits(value):
    """Every number of an object, as bits."""
    data = value.to_dict()
    found = []

    def collect(part):
        if isinstance(part, dict):
            for entry in part.values():
                collect(entry)
        elif isinstance(part, (list, tuple)):
            for entry in part:
                collect(entry)
        elif isinstance(part, float):
            found.append(struct.pack("<d", part))
        else:
            found.append(part)

    collect(data)
    return found


@pytest.mark.parametrize("protocol", range(2, pickle.HIGHEST_PROTOCOL + 1))
@pytest.mark.parametrize("name", VALUES)
def test_pickles_to_the_bit(name, protocol):
    value = VALUES[name]
    again = pickle.loads(pickle.dumps(value, protocol))
    assert type(again) is type(value)
    assert again == value
    assert bits(again) == bits(value)
    assert repr(again) == repr(value)


@pytest.mark.parametrize("name", VALUES)
def test_copies(name):
    assert copy.copy(VALUES[name]) == copy.deepcopy(VALUES[name]) == VALUES[name]


@pytest.mark.parametrize("name", SINGLE)
def test_dictionaries_are_read_back(name):
    value = SINGLE[name]
    data = json.loads(json.dumps(value.to_dict()))
    assert data["format_version"] == 1
    assert data["type"] == type(value).__name__
    assert type(value).from_dict(data) == value
    assert bits(type(value).from_dict(data)) == bits(value)


@pytest.mark.parametrize("name", SINGLE)
def test_damaged_dictionaries_are_refused(name):
    cls, good = type(SINGLE[name]), SINGLE[name].to_dict()
    for key in ("format_version", "type"):
        with pytest.raises(interstage.Inconsistent, match=f'"{key}" is missing'):
            cls.from_dict({name: value for name, value in good.items() if name != key})
    with pytest.raises(interstage.Inconsistent, match="format version 2 is not 1"):
        cls.from_dict({**good, "format_version": 2})
    with pytest.raises(interstage.Inconsistent, match="not a"):
        cls.from_dict({**good, "type": "Other"})
    with pytest.raises(interstage.Inconsistent):
        cls.from_dict({})
    with pytest.raises(TypeError):
        cls.from_dict([])
    for key in good.keys() - {"format_version", "type", "figures", "points", "x"}:
        for wrong in (None, [], {}, "nonsense", float("nan"), object()):
            if key == "name" and wrong == "nonsense" and cls is interstage.Point:
                continue
            with pytest.raises((interstage.InterstageError, TypeError)):
                cls.from_dict({**good, key: wrong})


@pytest.mark.parametrize("name", ["vapor", "two-phase", "liquid", "supercritical"])
def test_a_state_whose_numbers_contradict_each_other_is_refused(name):
    good = SINGLE[name].to_dict()
    for key, factor, message in [
        ("h", 1.001, r"h is .* J/kg, but u \+ p/rho are"),
        ("u", 0.999, r"h is .* J/kg, but u \+ p/rho are"),
        ("p", -1.0, "p is -.*, which is not positive"),
        ("rho", 0.0, "rho is 0, which is not positive"),
        ("T", -1.0, "T is -.*, which is not positive"),
    ]:
        with pytest.raises(interstage.Inconsistent, match=message):
            interstage.State.from_dict({**good, key: good[key] * factor})
    with pytest.raises(interstage.Inconsistent, match="h is -1 J/kg"):
        interstage.State.from_dict({**good, "h": -1.0})
    for x in (None, 1.5, -0.1):
        with pytest.raises(interstage.Inconsistent, match="a two-phase state has a quality x from 0 to 1"):
            interstage.State.from_dict({**good, "phase": "two-phase", "x": x})


def test_a_refrigerant_pickles_as_its_recipe():
    R134A.prepare()
    assert len(pickle.dumps(R134A)) < 300


def test_states_share_nothing_with_their_pickle():
    again = pickle.loads(pickle.dumps(VALUES["states"]))
    with pytest.raises(ValueError, match="read-only"):
        again.T[0] = 1.0
    assert again.cp is not None

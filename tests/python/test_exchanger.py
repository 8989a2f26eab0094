"""Exchangers from Python: figures arrive, columns are taken, arguments are checked.

The figures themselves are tested in `tests/exchanger.rs`.
"""

from __future__ import annotations

import math

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage
from interstage import Exchanger, HeatExchange, VariableUa, WaterFlow


@pytest.fixture(scope="module")
def water() -> WaterFlow:
    return WaterFlow(mass_flow=167.0)


def test_the_three_descriptions_agree(water: WaterFlow) -> None:
    for made in (Exchanger.evaporator, Exchanger.condenser):
        known = made(ua=1.1e6).at_entering(water, 300.15, 3.5e6)
        assert known.ua == pytest.approx(1.1e6, rel=1e-12)
        for other in (
            made(approach=known.approach),
            made(effectiveness=known.effectiveness),
            made(ua=VariableUa(0.5 / 1.1e6, 0.5 / 1.1e6 * 167.0**0.8, 0.0, 0.67)),
        ):
            found = other.at_entering(water, 300.15, 3.5e6)
            assert found.saturation_temperature == pytest.approx(known.saturation_temperature, abs=1e-9)
            assert found.vessel == other.vessel == known.vessel
        back = made(ua=1.1e6).at_saturation(water, 300.15, known.saturation_temperature)
        assert back.heat == pytest.approx(3.5e6, rel=1e-9)
        leaving = made(ua=1.1e6).at_leaving(water, known.water_leaving, 3.5e6)
        assert leaving.water_entering == pytest.approx(300.15, abs=1e-9)
        mean = interstage.logarithmic_mean_difference(known.approach, known.approach + known.water_range)
        assert known.logarithmic_mean_difference == pytest.approx(mean, rel=1e-12)
        assert known.transfer_units == pytest.approx(-math.log1p(-known.effectiveness), rel=1e-12)


def test_what_describes_an_exchanger() -> None:
    variable = VariableUa(1e-7, 2e-5, 1e-3, VariableUa.BOILING)
    for exchanger, expected in (
        (Exchanger.evaporator(ua=1e6), ("evaporator", 1e6, None, None)),
        (Exchanger.condenser(approach=1.5), ("condenser", None, 1.5, None)),
        (Exchanger.condenser(effectiveness=0.8), ("condenser", None, None, 0.8)),
        (Exchanger.evaporator(ua=variable), ("evaporator", variable, None, None)),
    ):
        assert (exchanger.vessel, exchanger.ua, exchanger.approach, exchanger.effectiveness) == expected
        assert eval(repr(exchanger), vars(interstage)) == exchanger
    for arguments in ({}, {"ua": 1e6, "approach": 1.0}):
        with pytest.raises(interstage.WrongArgument, match="exactly one of"):
            Exchanger.evaporator(**arguments)


def test_water_flows(water: WaterFlow) -> None:
    assert water.heat_capacity is None
    assert water.heat(285.15, 280.15) == pytest.approx(water.capacity_rate(285.15, 280.15) * 5.0, rel=1e-12)
    assert water.leaving_temperature(285.15, water.heat(285.15, 280.15)) == pytest.approx(280.15, abs=1e-9)
    glycol = WaterFlow(volume_flow=0.1, density=1050.0, heat_capacity=3700.0)
    assert (glycol.mass_flow, glycol.heat_capacity) == (105.0, 3700.0)
    assert WaterFlow(volume_flow=0.1, temperature=277.15).mass_flow == pytest.approx(100.0, rel=1e-3)
    for arguments in (
        {},
        {"volume_flow": 0.1},
        {"mass_flow": 1.0, "volume_flow": 1.0},
        {"mass_flow": 1.0, "density": 1000.0},
        {"volume_flow": 0.1, "temperature": 280.0, "density": 1000.0, "heat_capacity": 4000.0},
    ):
        with pytest.raises(interstage.WrongArgument, match="a water flow has"):
            WaterFlow(**arguments)


def test_conductance_that_depends_on_flow_and_heat() -> None:
    design = {"ua": 1e6, "mass_flow": 200.0, "heat": 4e6, "water_share": 0.4, "refrigerant_share": 0.5}
    boiling = VariableUa.at_design(**design, exponent=VariableUa.BOILING)
    condensing = VariableUa.at_design(**design, exponent=VariableUa.CONDENSATION)
    assert boiling.ua(200.0, 2e6) < 1e6 < condensing.ua(200.0, 2e6)
    fouled = boiling.with_fouling(interstage.fouling_allowance("evaporator"), 400.0)
    expected = interstage.fouled_ua(1e6, interstage.fouling_allowance("evaporator"), 400.0)
    assert fouled.ua(200.0, 4e6) == pytest.approx(expected, rel=1e-12)
    assert fouled.wall_resistance > boiling.wall_resistance
    assert fouled.exponent == boiling.exponent == 0.67


def test_zones_of_a_condenser() -> None:
    r = interstage.Refrigerant("R-134a")
    discharge = r.state(p=r.saturation(T=310.15).p, T=322.15)
    arguments = {"mass_flow": 24.0, "water": WaterFlow(mass_flow=200.0), "water_entering": 303.15}
    zones = interstage.CondenserZones(r, discharge, **arguments, subcooling=4.0)
    assert zones.desuperheating is not None
    assert zones.subcooling is not None
    parts = (zones.desuperheating, zones.condensing, zones.subcooling)
    assert zones.heat == pytest.approx(sum(part.heat for part in parts), rel=1e-12)
    assert zones.ua == pytest.approx(sum(part.ua for part in parts), rel=1e-12)
    assert zones.water_leaving == zones.desuperheating.water_leaving
    assert zones.pinch == pytest.approx(310.15 - zones.condensing.water_leaving, abs=1e-9)
    for part in parts:
        assert part.mean_difference == pytest.approx(part.heat / part.ua, rel=1e-14)
        assert part.refrigerant_entering >= part.refrigerant_leaving > part.water_entering
    wet = interstage.CondenserZones(r, r.state(T=310.15, x=0.9), **arguments)
    assert (wet.desuperheating, wet.subcooling) == (None, None)
    with pytest.raises(interstage.Inconsistent, match="a pinch of -") as caught:
        interstage.CondenserZones(r, discharge, **{**arguments, "water": WaterFlow(mass_flow=120.0)})
    assert caught.value.arguments == "inlet and water_entering"
    with pytest.raises(interstage.Inconsistent, match="and a state of"):
        interstage.CondenserZones(interstage.Refrigerant("R-123"), discharge, **arguments)


HEAT = [3.5e6, 1.7e6, 1.7e6]
ENTERING = [285.15, 282.65, 280.0]
SATURATION = [278.95, 279.6, 279.6]


def test_columns_of_temperatures_give_columns_of_ua() -> None:
    alone = [
        interstage.ua_from_temperatures(HEAT[row], ENTERING[row], 280.15, SATURATION[row]) for row in (0, 1)
    ]
    arrays = [np.array(column) for column in (HEAT, ENTERING, [280.15] * 3, SATURATION)]
    found = interstage.ua_from_temperatures(*arrays)
    assert found[:2].tolist() == alone
    assert math.isnan(found[2])
    lists = interstage.ua_from_temperatures(HEAT, ENTERING, 280.15, SATURATION)
    np.testing.assert_array_equal(lists, found)
    table = interstage.ua_from_temperatures(
        np.array(HEAT)[:, None], 285.15, 280.15, np.array([278.95, 279.0])
    )
    assert table.shape == (3, 2)
    index = pd.date_range("2020-01-01", periods=3, freq="1min")
    series = interstage.ua_from_temperatures(pd.Series(HEAT, index=index), ENTERING, 280.15, SATURATION)
    assert series.index.equals(index)
    assert series.name == "ua_from_temperatures"
    np.testing.assert_array_equal(series.to_numpy(), found)
    polars = interstage.ua_from_temperatures(pl.Series([*HEAT[:2], None]), ENTERING, 280.15, SATURATION)
    np.testing.assert_array_equal(polars.to_numpy(), found)
    with pytest.raises(interstage.Inconsistent, match="cools in an evaporator") as caught:
        interstage.ua_from_temperatures(*arrays, errors="raise")
    assert caught.value.row == 2
    with pytest.raises(interstage.NotFinite, match="heat is missing"):
        interstage.ua_from_temperatures([math.nan], 285.15, 280.15, 278.95, errors="raise")
    with pytest.raises(interstage.WrongLength):
        interstage.ua_from_temperatures([1.0, 2.0], [1.0, 2.0, 3.0], 280.15, 278.95)
    with pytest.raises(interstage.UnknownOption):
        interstage.ua_from_temperatures(3.5e6, 285.15, 280.15, 278.95, errors="ignore")


def test_fouling_there_and_back() -> None:
    clean = np.array([4e5, 5e5])
    for vessel, allowance in (("evaporator", 1.761e-5), ("condenser", 4.403e-5)):
        resistance = interstage.fouling_allowance(vessel)
        assert resistance == pytest.approx(allowance, abs=5e-9)
        fouled = interstage.fouled_ua(clean, resistance, 200.0)
        np.testing.assert_allclose(
            interstage.fouling_resistance(clean, fouled, 200.0), resistance, rtol=1e-12
        )


@pytest.mark.parametrize(
    ("call", "error", "message"),
    [
        (lambda w: WaterFlow(mass_flow=0.0), interstage.OutOfRange, "mass_flow 0 kg/s is outside"),
        (lambda w: WaterFlow(mass_flow=math.nan), interstage.NotFinite, "mass_flow"),
        (lambda w: WaterFlow(mass_flow=1.0, heat_capacity=4.2), interstage.OutOfRange, "heat_capacity 4.2"),
        (lambda w: WaterFlow(mass_flow=[1.0]), interstage.WrongArgument, "mass_flow must be a single number"),
        (lambda w: Exchanger.evaporator(ua=-1.0), interstage.OutOfRange, "ua -1 W/K"),
        (lambda w: Exchanger.condenser(approach=0.0), interstage.OutOfRange, "approach 0 K"),
        (lambda w: Exchanger.condenser(effectiveness=1.0), interstage.OutOfRange, "effectiveness 1 "),
        (
            lambda w: Exchanger.evaporator(ua=1e6).at_entering(w, 285.15, -1e6),
            interstage.OutOfRange,
            "heat -1000000 W",
        ),
        (
            lambda w: Exchanger.evaporator(ua=1e6).at_entering(w, 12.0, 1e6),
            interstage.OutOfRange,
            "water_entering 12 K",
        ),
        (
            lambda w: Exchanger.evaporator(ua=1e3).at_leaving(w, 280.0, 1e6),
            interstage.Inconsistent,
            "heat and water_leaving",
        ),
        (
            lambda w: Exchanger.evaporator(ua=1e6).at_saturation(w, 280.0, 281.0),
            interstage.Inconsistent,
            "water_entering and saturation_temperature",
        ),
        (
            lambda w: Exchanger.evaporator(ua=1e6).at_entering(167.0, 285.15, 1e6),
            interstage.WrongArgument,
            "water must be a WaterFlow, got float",
        ),
        (
            lambda w: HeatExchange.measured(
                "evaporator",
                heat=1e6,
                water_entering=280.0,
                water_leaving=285.0,
                saturation_temperature=278.0,
            ),
            interstage.Inconsistent,
            "water_entering and water_leaving .* cools in an evaporator",
        ),
        (
            lambda w: HeatExchange.measured(
                "evaporator",
                heat=1e6,
                water_entering=285.0,
                water_leaving=280.0,
                saturation_temperature=280.5,
            ),
            interstage.Inconsistent,
            "water_leaving and saturation_temperature .* -0.5 K",
        ),
        (lambda w: interstage.fouling_allowance("boiler"), interstage.UnknownOption, "vessel must be"),
        (lambda w: interstage.fouled_ua(4e5, -1.0, 200.0), interstage.OutOfRange, "resistance -1 m2 K/W"),
        (
            lambda w: VariableUa(0.0, 0.0, 0.0, 0.5),
            interstage.Inconsistent,
            "wall_resistance and water_resistance and refrigerant_resistance",
        ),
    ],
)
def test_bad_input_is_named(call, error, message, water: WaterFlow) -> None:
    with pytest.raises(error, match=message):
        call(water)

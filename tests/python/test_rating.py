"""Ratings, ideal machines and impellers from Python.

The figures themselves are tested in `tests/rating.rs`.
"""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import Impeller, RatingConditions, StageDuty, units

CHECKS = {
    entry["id"]: entry
    for entry in json.loads(
        (Path(__file__).parents[1] / "data" / "rating_checks.json").read_text(encoding="utf-8")
    )["entries"]
}
STANDARDS = ("AHRI 550/590 (I-P)-2003", "AHRI 550/590 (I-P)-2015", "AHRI 551/591 (SI)-2015")


@pytest.mark.parametrize(
    ("check", "function"),
    [
        ("pc-rate-gen-003", interstage.iplv_from_cop),
        ("pc-rate-gen-004", interstage.iplv_from_kw_per_ton),
    ],
)
def test_part_load_values(check, function) -> None:
    # AHRI 550/590 (I-P) and 551/591 (SI); the entry names its source.
    figures = [CHECKS[check]["inputs"][name]["value"] for name in "ABCD"]
    expected = CHECKS[check]["expected"]["IPLV"]
    assert function(*figures) == pytest.approx(expected["value"], abs=expected["tol_abs"])
    columns = function(*(pd.Series([figure, figure, -1.0]) for figure in figures))
    assert columns.isna().tolist() == [False, False, True]
    assert columns[0] == function(*figures)
    with pytest.raises(interstage.OutOfRange, match="at_50 "):
        function(*figures[:2], 0.0, figures[3])


def test_tolerances() -> None:
    # ANSI/AHRI 550/590 (I-P)-2011 with Addendum 3, Table 10.
    expected = CHECKS["pc-rate-gen-005"]["expected"]
    found = interstage.rating_tolerance(np.array([1.0, 0.75, 0.5, 0.25]), 10.0 / 1.8)
    np.testing.assert_allclose(found, [value["value"] for value in expected.values()], atol=1e-6)
    with pytest.raises(interstage.OutOfRange, match="full_load_range 0 K"):
        interstage.rating_tolerance(1.0, 0.0)


def test_standard_conditions() -> None:
    expected = CHECKS["pc-rate-water-001"]["expected"]
    old, new, metric = (RatingConditions(standard) for standard in STANDARDS)
    for found, name in (
        (units.fahrenheit_from_kelvin(new.chilled_water_leaving), "evap_leaving"),
        (units.fahrenheit_from_kelvin(new.chilled_water_entering), "evap_entering"),
        (units.fahrenheit_from_kelvin(new.condenser_water_entering), "cond_entering"),
        (units.fahrenheit_from_kelvin(new.condenser_water_leaving), "cond_leaving_2015"),
        (
            units.gpm_from_cubic_meter_per_second(old.chilled_water_flow * units.watt_from_ton(1.0)),
            "evap_flow",
        ),
        (
            units.gpm_from_cubic_meter_per_second(old.condenser_water_flow * units.watt_from_ton(1.0)),
            "cond_flow_2003_2011",
        ),
    ):
        assert found == pytest.approx(expected[name]["value"], rel=1e-13)
    assert (new.chilled_water_flow, new.condenser_water_flow) == (None, None)
    assert (old.chilled_water_entering, old.condenser_water_leaving) == (None, None)
    assert [conditions.standard for conditions in (old, new, metric)] == list(STANDARDS)
    loads, weights, entering = zip(*metric.part_loads, strict=True)
    assert loads == (1.0, 0.75, 0.5, 0.25)
    assert sum(weights) == pytest.approx(1.0, rel=1e-15)
    assert [round(value - 273.15, 9) for value in entering] == [30.0, 24.5, 19.0, 19.0]


def test_chosen_conditions() -> None:
    chosen = RatingConditions(
        STANDARDS[1], chilled_water_leaving=279.15, condenser_water_entering=305.15, condenser_water_flow=5e-8
    )
    assert (chosen.chilled_water_leaving, chosen.condenser_water_flow) == (279.15, 5e-8)
    assert chosen.chilled_water_entering == units.kelvin_from_fahrenheit(54.0)
    assert chosen.condenser_water_leaving is None
    assert chosen.condenser_water_entering_at(1.0) == pytest.approx(305.15, abs=1e-12)
    assert chosen.condenser_water_entering_at(0.3) == units.kelvin_from_fahrenheit(65.0)
    assert eval(repr(chosen), vars(interstage)) == chosen
    with pytest.raises(interstage.WrongArgument, match="not both"):
        RatingConditions(STANDARDS[0], condenser_water_flow=5e-8, condenser_water_leaving=308.15)
    with pytest.raises(interstage.UnknownOption) as caught:
        RatingConditions("AHRI 550")
    assert caught.value.options == STANDARDS
    with pytest.raises(interstage.OutOfRange, match="chilled_water_leaving 44 K"):
        RatingConditions(STANDARDS[0], chilled_water_leaving=44.0)
    with pytest.raises(interstage.Inconsistent, match="condenser_water_entering and condenser_water_leaving"):
        RatingConditions(STANDARDS[1], condenser_water_entering=310.0)
    with pytest.raises(interstage.OutOfRange, match=r"load 1\.5 "):
        chosen.condenser_water_entering_at(1.5)


def test_ideal_machines() -> None:
    water = (285.15, 280.15, 303.15, 308.15)
    lorenz = interstage.lorenz_cop(*water)
    cold = interstage.entropic_mean_temperature(*water[:2])
    warm = interstage.entropic_mean_temperature(*water[2:])
    assert cold == pytest.approx(5.0 / math.log(285.15 / 280.15), rel=1e-12)
    assert lorenz == pytest.approx(interstage.carnot_cop(cold, warm), rel=1e-12)
    columns = interstage.lorenz_cop(*(np.array([value, value]) for value in water))
    assert columns.tolist() == [lorenz, lorenz]
    assert np.isnan(interstage.carnot_cop([278.15, 310.15], 310.15)).tolist() == [False, True]
    with pytest.raises(interstage.Inconsistent, match="chilled_water_entering and chilled_water_leaving"):
        interstage.lorenz_cop(280.15, 285.15, 303.15, 308.15)
    with pytest.raises(interstage.Inconsistent, match="evaporating_temperature and condensing_temperature"):
        interstage.carnot_cop(310.15, 310.15)


def test_impellers(cycle) -> None:
    inlets = [cycle.points[f"stage_{k}_inlet"] for k in (1, 2)]
    duties = [
        StageDuty.at_inlet(inlet.state, inlet.mass_flow, head)
        for inlet, head in zip(inlets, cycle.stage_head, strict=True)
    ]
    assert duties[0].volume_flow == pytest.approx(inlets[0].mass_flow / inlets[0].rho, rel=1e-14)
    assert duties[0].speed_of_sound == inlets[0].state.speed_of_sound
    first, second = Impeller.on_one_shaft(duties, head_coefficient=0.52, flow_coefficient=0.07)
    assert first.diameter == pytest.approx(Impeller.sized(duties[0], 0.52, 0.07).diameter, rel=1e-14)
    assert second.speed == pytest.approx(first.speed, rel=1e-14)
    assert second.flow_coefficient < first.flow_coefficient == pytest.approx(0.07, rel=1e-14)
    assert second.head_coefficient == pytest.approx(0.52, rel=1e-14)
    assert second.head == duties[1].head
    again = Impeller.at_speed(duties[1], 0.52, first.speed)
    assert again.diameter == pytest.approx(second.diameter, rel=1e-14)
    # R-1233zd(E), 5/37 degC: computed elsewhere, printed with two digits.
    assert first.tip_mach == pytest.approx(1.04, abs=0.005)
    with pytest.raises(interstage.WrongLength):
        Impeller.on_one_shaft([], 0.52, 0.07)
    with pytest.raises(interstage.WrongArgument, match="duties must be a StageDuty, got float"):
        Impeller.on_one_shaft([1.0], 0.52, 0.07)
    with pytest.raises(interstage.WrongArgument, match="duties must be a sequence"):
        Impeller.on_one_shaft(duties[0], 0.52, 0.07)
    with pytest.raises(interstage.OutOfRange, match="head_coefficient 0 "):
        Impeller.sized(duties[0], 0.0, 0.07)
    with pytest.raises(interstage.OutOfRange, match="speed 0 1/s"):
        Impeller.at_speed(duties[0], 0.52, 0.0)
    with pytest.raises(interstage.OutOfRange, match="head -1 J/kg"):
        StageDuty(-1.0, 5.0, 130.0)
    wet = interstage.Refrigerant("R-134a").state(T=278.15, x=0.9)
    with pytest.raises(interstage.Undefined):
        StageDuty.at_inlet(wet, 1.0, 1e4)

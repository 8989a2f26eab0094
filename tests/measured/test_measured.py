"""Readings of a real machine through the Python package, as an engineer would declare them.

A single-stage R-134a chiller of about 90 tons in a laboratory (ASHRAE research project 1043-RP). The readings
are not part of this project: `make test-measured DATA=...` names their folder. Expected figures come from the
description that accompanies them.
"""

import os
from pathlib import Path

import pandas as pd
import pytest

import interstage

FOLDER = Path(os.environ["INTERSTAGE_MEASURED_DATA"])

READINGS = {
    "evaporator_pressure": ("PRE", "psig"),
    "evaporator_saturation_temperature": ("TRE", "degF"),
    "condenser_pressure": ("PRC", "psig"),
    "condenser_saturation_temperature": ("TRC", "degF"),
    "suction_temperature": ("T_suc", "degF"),
    "discharge_temperature": ("TR_dis", "degF"),
    "chilled_water_entering": ("TEI", "degF"),
    "chilled_water_leaving": ("TEO", "degF"),
    "chilled_water_flow": ("FWE", "gpm"),
    "condenser_water_entering": ("TCI", "degF"),
    "condenser_water_leaving": ("TCO", "degF"),
    "condenser_water_flow": ("FWC", "gpm"),
    "power": ("kW", "kW"),
}


@pytest.fixture(scope="module")
def normal() -> tuple[pd.DataFrame, interstage.TrendResult]:
    table = pd.read_csv(FOLDER / "rp1043_normal.csv").set_index("time_s")
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)], interstages=[]
    )
    # The description converts gauge pressures with a standard atmosphere.
    trend = interstage.Trend(circuit, readings=READINGS, altitude=0.0, minimum_power=20e3)
    return table, trend.analyse(table)


def test_saturation_temperatures_agree_with_pressures(normal) -> None:
    _, result = normal
    for vessel, expected in {"evaporator": -0.09, "condenser": -0.08}.items():
        kelvin = result[f"{vessel}_saturation_difference"]
        fahrenheit = interstage.units.fahrenheit_difference_from_kelvin_difference(kelvin)
        assert abs(fahrenheit.mean() - expected) < 0.01
        assert fahrenheit.std() < 0.15


def test_rows_are_kept_and_bad_ones_say_why(normal) -> None:
    table, result = normal
    assert len(result) == len(table) == 5190
    assert result["cop"].index.equals(table.index)
    assert result.status_text[0] == "the machine is off"
    # A jump of the saturation temperature: the pressure still gives the condensing temperature.
    assert "a single reading jumped" in result.status_text[10170]
    assert abs(result["condensing_temperature"][10170] - result["condensing_temperature"][10160]) < 1.0
    # A jump of the pressure: the saturation temperature stands in for it.
    assert result.quality("condenser_pressure")[21640] == "spike"
    assert abs(result["condensing_temperature"][21640] - result["condensing_temperature"][21630]) < 1.0


def test_the_heat_balance_comes_out(normal) -> None:
    """The description: +5.9 % at 90 tons, +6.3 % at 57, +7.7 % at 30, from steady windows of four runs."""
    table, result = normal
    # Steady rows as the description picks them: over the last six minutes.
    rolling = table[["TEO", "TCI", "kW"]].rolling(36).std()
    steady = (
        (rolling["TEO"] < 0.1)
        & (rolling["TCI"] < 0.15)
        & (rolling["kW"] < 0.6)
        & table["kW"].between(20, 200)
    )
    tons = interstage.units.ton_from_watt(result["capacity"])
    for low, high, expected in [(85, 95, 0.059), (50, 65, 0.063), (20, 40, 0.077)]:
        balance = result["heat_balance"][steady & tons.between(low, high)]
        assert len(balance) > 100
        # One run of the four: half a unit of the last digit and a quarter of the described spread of 2.5 %.
        assert abs(balance.mean() - expected) < 0.0005 + 0.25 * 0.025, (low, balance.mean())


def test_there_is_no_economizer_to_speak_of(normal) -> None:
    _, result = normal
    assert not [figure for figure in result.figures if "economizer" in figure or "tank" in figure]

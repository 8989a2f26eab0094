"""The second invented machine of the notebooks: it is what it says, and what a trend can tell of it."""

import sys
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

import interstage

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"


@pytest.fixture(scope="module")
def second() -> ModuleType:
    sys.path.insert(0, str(NOTEBOOKS))
    try:
        import invented_second_machine
    finally:
        sys.path.remove(str(NOTEBOOKS))
    return invented_second_machine


def test_without_the_tank_a_row_cannot_tell_and_a_day_can(second: ModuleType) -> None:
    export, truth = second.generate()
    again, _ = second.generate()
    assert export.equals(again)
    options = {"barometer": second.BAROMETER, "drive_efficiency": second.DRIVE}
    result = interstage.Trend(second.CIRCUIT, readings=second.READINGS, **options).analyse(export)
    assert "stage_2_tank_pressure" in result.unavailable["stage_2_tank_pressure_exponent"]
    assert result["economizer_evidence"].isna().mean() > 0.9
    # What is told by power and water is what was put in, but for the noise: the mean of 288 rows and more.
    saving = result["measured_saving"].groupby(truth["blocked"]).mean()
    assert abs(saving[True]) < 0.005
    assert saving[False] > 0.8 * truth["benefit"].mean()
    healthy = ~truth["blocked"]
    lost = result["lost_power"][healthy].sum() / (1e3 * export["motor [kW]"][healthy].sum())
    assert lost == pytest.approx(1.0 - second.DRIVE, abs=0.003)
    capacity = truth["load"] * second.RATED_CAPACITY
    by_power = (result["capacity_from_power"] / capacity - 1.0).groupby(truth["blocked"]).mean()
    assert abs(by_power[False]) < 0.002
    assert by_power[True] > 0.03


def test_with_the_tank_every_row_tells(second: ModuleType) -> None:
    export, truth = second.generate()
    declared = {**second.READINGS, **second.TANK}
    options = {"barometer": second.BAROMETER, "drive_efficiency": second.DRIVE}
    result = interstage.Trend(second.CIRCUIT, readings=declared, **options).analyse(export)
    assert np.array_equal(result["economizer_evidence"] == 0.0, truth["blocked"])
    assert result["economizer_evidence"].notna().all()

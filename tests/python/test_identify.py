"""The refrigerant and the offset of a gauge, told apart from readings; what cannot be told is not."""

import math
import pickle
from typing import Any

import numpy as np
import pytest

import interstage

BAROMETER = 97e3
#: Pure fluids of chillers: quick to try, and the near twins among them.
FLUIDS = ["R-11", "R-123", "R-134a", "R-22", "R-1233zd(E)", "R-1234yf", "R-1234ze(E)", "R-245fa", "R-514A"]


def readings(name: str, low: float, high: float, offset: float = 0.0, rows: int = 300) -> Any:
    """Readings of a refrigerant with a gauge that reads `offset` Pa too high and 0.1 K of noise."""
    rng = np.random.default_rng(11)
    temperature = rng.uniform(low, high, rows)
    pressure = np.asarray(interstage.Refrigerant(name).saturation(T=temperature).p) + offset
    return pressure, temperature + rng.normal(0.0, 0.1, rows)


@pytest.mark.parametrize("name", ["R-123", "R-134a", "R-1233zd(E)", "R-1234ze(E)", "R-514A"])
def test_refrigerant_and_offset_are_told_over_a_wide_range(name: str) -> None:
    pressure, temperature = readings(name, 276.0, 312.0, offset=3e3)
    told = interstage.identify_refrigerant(pressure, temperature, candidates=FLUIDS)
    assert told.clear
    assert told.best.refrigerant == name
    error = told.best.offset_error["vessel"]
    assert abs(told.best.offset["vessel"] + 3e3) < 4.0 * error
    assert error < 500.0
    assert told.best.spread == pytest.approx(0.1, abs=0.03)
    assert told.ratio >= 2.0
    assert told.verdict.startswith(f"{name}, offset {told.best.offset['vessel'] / 1e3:+.2f} kPa at vessel")


def test_near_twins_over_a_narrow_range_are_not_told_apart() -> None:
    """At 4 to 6 degC R-123 with a gauge 20 kPa off is R-1233zd(E)."""
    pressure, temperature = readings("R-123", 277.15, 279.15)
    told = interstage.identify_refrigerant(pressure, temperature, candidates=FLUIDS)
    assert not told.clear
    assert told.verdict.startswith("cannot tell")
    assert "R-123" in told.verdict
    assert "R-1233zd(E)" in told.verdict
    assert "range over 1.8 K only" in told.verdict
    # A known barometer leaves no room for such an offset, and a wide range shows the curvature.
    twins = {"candidates": ["R-123", "R-1233zd(E)"]}
    known = interstage.identify_refrigerant(pressure, temperature, barometer=BAROMETER, **twins)
    assert known.clear
    assert known.best.refrigerant == "R-123"
    assert "would need +19" in known.candidates[1].excluded
    wide = readings("R-123", 277.15, 310.15)
    assert interstage.identify_refrigerant(*wide, **twins, largest_offset=1e5).clear


def test_two_vessels_have_gauges_of_their_own() -> None:
    cold, warm = readings("R-134a", 276.0, 281.0, 2e3), readings("R-134a", 300.0, 312.0, -4e3)
    told = interstage.identify_refrigerant(
        {"evaporator": cold[0], "condenser": warm[0]},
        {"evaporator": cold[1], "condenser": warm[1]},
        candidates=FLUIDS,
    )
    assert told.best.refrigerant == "R-134a"
    assert told.best.offset["evaporator"] == pytest.approx(-2e3, abs=4 * told.best.offset_error["evaporator"])
    assert told.best.offset["condenser"] == pytest.approx(4e3, abs=4 * told.best.offset_error["condenser"])
    assert set(told.table()[0]) >= {"refrigerant", "offset evaporator [Pa]", "offset condenser [Pa]"}


@pytest.mark.parametrize(("shift", "word"), [(-BAROMETER, "gauge"), (BAROMETER, "absolute")])
def test_gauge_and_absolute_mixed_up_is_told(shift: float, word: str) -> None:
    pressure, temperature = readings("R-134a", 276.0, 312.0)
    told = interstage.identify_refrigerant(
        pressure + shift, temperature, barometer=BAROMETER, candidates=["R-134a", "R-22"]
    )
    assert not told.clear
    assert f"as if its pressure were {word}" in told.verdict
    assert "R-134a" in told.verdict


@pytest.mark.parametrize("name", ["R-134a", "R-123", "R-410A"])
@pytest.mark.parametrize(("shift", "word"), [(-97e3, "gauge"), (97e3, "absolute")])
def test_it_is_told_without_a_barometer_and_no_other_refrigerant_instead(name, shift, word) -> None:
    """R-134a with an atmosphere added twice was R-500 with a gauge 5.5 kPa off, which leaves 0.9 K."""
    pressure, temperature = readings(name, 276.0, 312.0)
    told = interstage.identify_refrigerant(pressure + shift, temperature)
    assert not told.clear
    assert told.verdict.startswith("no refrigerant fits as it stands")
    # R-516A is too near to R-134a for 0.1 K of noise.
    assert {name} <= {one for one in interstage.names() if one in told.verdict.split()} <= {name, "R-516A"}
    assert f"about an atmosphere: as if its pressure were {word}" in told.verdict


def test_refrigerants_that_are_alike_are_all_named_where_gauge_and_absolute_are_mixed_up() -> None:
    pressure, temperature = readings("R-1234ze(E)", 276.0, 312.0)
    told = interstage.identify_refrigerant(pressure + 101e3, temperature)
    for name in ("R-1234ze(E)", "R-515A", "R-515B"):
        assert name in told.verdict


def test_single_bad_readings_do_no_harm() -> None:
    pressure, temperature = readings("R-134a", 276.0, 312.0)
    before = interstage.identify_refrigerant(pressure, temperature, candidates=["R-134a"])
    pressure[::20] = 1e30
    temperature[1::20] = np.nan
    pressure[2::20] = -1.0
    after = interstage.identify_refrigerant(pressure, temperature, candidates=["R-134a"])
    assert after.best.offset["vessel"] == pytest.approx(before.best.offset["vessel"], abs=300.0)
    assert after.rows == 285


def test_a_wrong_refrigerant_alone_is_not_called_clear() -> None:
    pressure, temperature = readings("R-134a", 276.0, 312.0)
    told = interstage.identify_refrigerant(pressure, temperature, candidates=["R-22"])
    assert not told.clear
    assert interstage.identify_refrigerant(pressure, temperature, candidates=["R-134a"]).clear
    nothing = interstage.identify_refrigerant(pressure, temperature, candidates=["R-123", "R-11"])
    assert nothing.best is None
    assert nothing.verdict == "no refrigerant fits these pressures and temperatures"


def test_too_few_rows_tell_nothing() -> None:
    for rows in (0, 5):
        pressure, temperature = readings("R-134a", 276.0, 312.0, rows=rows)
        told = interstage.identify_refrigerant(pressure, temperature, candidates=FLUIDS)
        assert told.verdict == f"cannot tell: {rows} rows are too few"
        assert math.isnan(told.ratio)
    assert pickle.loads(pickle.dumps(told)) == told or math.isnan(told.ratio)


def test_the_whole_catalogue_is_tried() -> None:
    pressure, temperature = readings("R-717", 270.0, 300.0)
    told = interstage.identify_refrigerant(pressure, temperature)
    assert {one.refrigerant for one in told.candidates} == set(interstage.names())
    assert told.best.refrigerant == "R-717"


@pytest.mark.parametrize(
    ("options", "error", "message"),
    [
        ({"candidates": ["R-9999"]}, interstage.UnknownRefrigerant, "R-9999"),
        ({"candidates": "R-22"}, interstage.WrongArgument, "must be a list of names"),
        ({"largest_offset": 0.0}, interstage.WrongArgument, "largest_offset must be a number above 0"),
        ({"thermometer": math.nan}, interstage.WrongArgument, "thermometer must be"),
        ({"barometer": "sea"}, interstage.WrongArgument, "barometer must be"),
    ],
)
def test_wrong_arguments_are_named(options: Any, error: Any, message: str) -> None:
    pressure, temperature = readings("R-134a", 276.0, 312.0)
    with pytest.raises(error, match=message):
        interstage.identify_refrigerant(pressure, temperature, **options)


def test_columns_must_belong_together() -> None:
    pressure, temperature = readings("R-134a", 276.0, 312.0)
    with pytest.raises(interstage.WrongLength, match="vessel: saturation_temperature has 299 rows"):
        interstage.identify_refrigerant(pressure, temperature[1:])
    with pytest.raises(interstage.WrongArgument, match="must be of the same vessels"):
        interstage.identify_refrigerant({"a": pressure}, {"b": temperature})

"""Bad readings that the description of the measured runs lists are flagged, and the steady rows found."""

import os
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import interstage

FOLDER = Path(os.environ["INTERSTAGE_MEASURED_DATA"])

#: The better set of instruments; those of the chiller's own controller and of the test stand beside it.
COLUMNS = {
    "PRE": ("evaporator_pressure", "psig"),
    "TRE": ("evaporator_saturation_temperature", "degF"),
    "PRC": ("condenser_pressure", "psig"),
    "TRC": ("condenser_saturation_temperature", "degF"),
    "T_suc": ("suction_temperature", "degF"),
    "TR_dis": ("discharge_temperature", "degF"),
    "TEI": ("chilled_water_entering", "degF"),
    "TEO": ("chilled_water_leaving", "degF"),
    "FWE": ("chilled_water_flow", "gpm"),
    "TCI": ("condenser_water_entering", "degF"),
    "TCO": ("condenser_water_leaving", "degF"),
    "FWC": ("condenser_water_flow", "gpm"),
    "kW": ("power", "kW"),
}
OTHERS = dict.fromkeys(("TWEI", "TWEO", "TWCI", "TWCO", "TWI"), "degF")
RUNS = ("normal", "fwc10", "rl10", "cf12")

#: Listed with run, column and time; of "TRC or PRC" one of both.
LISTED = [
    ("cf12", ("kW",), 46590),
    ("cf12", ("kW",), 37940),
    ("cf12", ("kW",), 39210),
    ("normal", ("TWCI",), 24890),
    *(("normal", ("TRC", "PRC"), time) for time in (10170, 17330, 21640, 36740)),
    *(("cf12", ("TRC", "PRC"), time) for time in (8510, 8540, 13710, 27240)),
    *(("fwc10", ("TRC", "PRC"), time) for time in (1720, 10520, 29320)),
    *(("rl10", ("TRC", "PRC"), time) for time in (30800, 30830, 32840)),
]
#: Listed with column and value only: single samples that read so, far from their neighbors.
LISTED_VALUES = {
    "TWEI": (28.0, 53.6),
    "TWEO": (28.0, 53.6),
    "TWCO": (28.0, 53.6),
    "TR_dis": (155.7, 130.3, 79.3),
    "TWI": (5.792e30,),
}


@pytest.fixture(scope="module", params=RUNS)
def run(request) -> tuple[str, pd.DataFrame, interstage.Quality]:
    table = pd.read_csv(FOLDER / f"rp1043_{request.param}.csv").set_index("time_s")
    readings = interstage.Readings(COLUMNS, others=OTHERS, altitude=0.0, refrigerant="R-134a")
    quality = interstage.assess_quality(table, readings, time="time_s", minimum_power=20e3)
    return request.param, table, quality


def bad(quality: interstage.Quality, column: str) -> pd.Series:
    return ~quality.good[COLUMNS.get(column, (column,))[0]]


def test_listed_bad_readings_are_flagged(run) -> None:
    name, table, quality = run
    listed = [(columns, time) for where, columns, time in LISTED if where == name]
    assert len(listed) >= 3
    for columns, time in listed:
        assert any(bad(quality, column)[time] for column in columns), (columns, time)
    # What is listed by its value.
    for column, values in LISTED_VALUES.items():
        around = pd.concat([table[column].shift(1), table[column].shift(-1)], axis=1)
        alone = (around.sub(table[column], axis=0).abs() > 15.0).all(axis=1)
        same = np.isclose(table[column].to_numpy()[:, None], values, rtol=1e-3).any(axis=1)
        found = alone & same & (table["kW"] > 20.0)
        assert bad(quality, column)[found].all(), column


def test_the_values_listed_without_a_time_do_occur() -> None:
    """Else the test above would look for nothing."""
    for column, values in LISTED_VALUES.items():
        occurs = 0
        for name in RUNS:
            table = pd.read_csv(FOLDER / f"rp1043_{name}.csv", usecols=[column])[column]
            occurs += int(np.isclose(table.to_numpy()[:, None], values, rtol=1e-3).sum())
        assert occurs, column


def test_good_readings_are_not_called_bad(run) -> None:
    """Bad readings of these runs are off by 25.6 units (one bit) or by powers of ten.

    One is not: a jump of the motor power as the machine starts, as quick as the sampling (fwc10, 500 s).
    """
    name, table, quality = run
    for column in [*COLUMNS, *OTHERS]:
        flagged = table[column][bad(quality, column)]
        if (name, column) == ("fwc10", "kW"):
            assert flagged.index.tolist() == [500]
            continue
        middle = table[column].rolling(7, center=True).median()[flagged.index]
        assert ((flagged - middle).abs() > 23.0).all(), column


def test_off_rows_are_kept_and_known(run) -> None:
    """The description: about 80 start-up and stop rows per run have less than 20 kW, zeros are 1e-45."""
    _, table, quality = run
    assert len(quality) == len(table) == 5190
    off = ~quality.running
    assert 75 <= off.sum() <= 85
    assert not off[table["kW"] > 20.0].any()
    flags = quality.flags
    denormal = interstage.quality_flags()["denormal zero"]
    tiny = (table["FWE"] != 0.0) & (table["FWE"].abs() < 1e-40)
    assert tiny.sum() == 15
    assert ((flags["chilled_water_flow"] & denormal) > 0).equals(tiny)


def test_no_steady_row_is_impossible(run) -> None:
    _, _, quality = run
    assert (quality.rows[interstage.steady_state(quality, window=360.0).mask] == 0).all()


def test_steady_rows_are_those_of_the_description(run) -> None:
    """The description's own filter: deviations over 36 rows of TEO < 0.1 F, TCI < 0.15 F, kW < 0.6."""
    _, table, quality = run
    fahrenheit, limit = 5.0 / 9.0, interstage.SteadyLimit
    names = ("chilled_water_leaving", "condenser_water_entering", "power")
    deviations = (0.1 * fahrenheit, 0.15 * fahrenheit, 600.0)
    limits = dict.fromkeys(quality.readings)
    for name, deviation in zip(names, deviations, strict=True):
        limits[name] = limit(deviation, drift=1e9)
    found = interstage.steady_state(quality, window=360.0, limits=limits).mask
    rolling = table[["TEO", "TCI", "kW"]].rolling(36).std()
    described = (
        (rolling["TEO"] < 0.1)
        & (rolling["TCI"] < 0.15)
        & (rolling["kW"] < 0.6)
        & table["kW"].between(20, 200)
    )
    assert described.sum() > 1000
    assert found[described].all()
    # The description's windows hold the bad readings, which are left out here; nothing else differs.
    wrong = bad(quality, "kW") | bad(quality, "TEO") | bad(quality, "TCI")
    beside = wrong.rolling(36, min_periods=1).max() > 0
    assert not (found & ~described & ~beside).any()


def test_refrigerant_and_gauges_are_told(run) -> None:
    """R-134a; with a standard atmosphere TRE - Tsat(PRE) is -0.09 F, TRC - Tsat(PRC) -0.08 F."""
    _, _, quality = run
    values = quality.values[quality.running]
    told = interstage.identify_refrigerant(
        {name: values[f"{name}_pressure"] for name in ("evaporator", "condenser")},
        {name: values[f"{name}_saturation_temperature"] for name in ("evaporator", "condenser")},
        barometer=interstage.units.STANDARD_ATMOSPHERE,
    )
    assert told.clear
    assert told.best.refrigerant == "R-134a"
    r134a = interstage.Refrigerant("R-134a")
    for vessel, expected in (("evaporator", -0.09), ("condenser", -0.08)):
        pressure = float(values[f"{vessel}_pressure"].median())
        moved = r134a.saturation_temperature(p=pressure + told.best.offset[vessel])
        kelvin = moved - r134a.saturation_temperature(p=pressure)
        fahrenheit = interstage.units.fahrenheit_difference_from_kelvin_difference(kelvin)
        # Half a unit of the last digit, and medians of four runs for means over all.
        assert abs(fahrenheit - expected) < 0.005 + 0.02, (vessel, fahrenheit)


def test_no_thermometer_is_exchanged(run) -> None:
    _, _, quality = run
    checks = interstage.check_directions(quality)
    assert len(checks) == 5
    assert {check.verdict for check in checks} == {"right"}

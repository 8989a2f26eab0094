"""Trends: declared columns and units in, figures of every row out."""

import copy
import datetime
import itertools
import math
import pickle
import subprocess
import sys
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage

BAROMETER = 97.5e3


def machine(stages: int = 2) -> interstage.Circuit:
    stage = interstage.Stage(polytropic_efficiency=0.8)
    tanks = [interstage.FlashTank()] * (stages - 1)
    return interstage.Circuit(
        interstage.Refrigerant("R-1233zd(E)"), stages=[stage] * stages, interstages=tanks
    )


DECLARED = {
    "evaporator_pressure": ("evap", "inHg vacuum"),
    "tank_pressure": ("tank", "psig"),
    "condenser_pressure": ("cond", "psig"),
    "discharge_temperature": ("dis", "degF"),
    "chilled_water_entering": ("chw in", "degF"),
    "chilled_water_leaving": ("chw out", "degF"),
    "chilled_water_flow": ("chw", "gpm"),
    "power": ("kw", "kW"),
}


def export(rows: int = 3) -> dict[str, list[float]]:
    """Readings of a solved cycle in inch-pound units, the same in every row."""
    cycle = machine().solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=3.5e6)
    u = interstage.units
    flow = cycle.capacity / 20_934.0 / 999.7 / 1000.0 * 1000.0  # about 5 K of range
    row = {
        "evap": u.inhg_vacuum_from_pascal(cycle.evaporating_pressure, BAROMETER),
        "tank": u.psig_from_pascal(cycle.interstage_pressures[0], BAROMETER),
        "cond": u.psig_from_pascal(cycle.condensing_pressure, BAROMETER),
        "dis": u.fahrenheit_from_kelvin(cycle.discharge_temperature),
        "chw in": u.fahrenheit_from_kelvin(285.15),
        "chw out": u.fahrenheit_from_kelvin(280.15),
        "chw": u.gpm_from_cubic_meter_per_second(flow),
        "kw": cycle.power / 0.93 / 1e3,
    }
    return {name: [float(value)] * rows for name, value in row.items()}


def trend(**options: object) -> interstage.Trend:
    return interstage.Trend(
        machine(), readings=DECLARED, barometer=BAROMETER, drive_efficiency=0.93, **options
    )


def test_units_and_gauge_pressures_come_out_in_si() -> None:
    result = trend().analyse(export())
    assert result["evaporating_temperature"] == pytest.approx([278.15] * 3, abs=1e-9)
    assert result["condensing_temperature"] == pytest.approx([310.15] * 3, abs=1e-9)
    assert result["stage_2_tank_pressure_exponent"] == pytest.approx([0.5] * 3, abs=1e-9)
    assert result["stage_efficiency"] == pytest.approx([0.8] * 3, abs=1e-6)
    assert result["economizer_evidence"].tolist() == [1.0] * 3
    assert result.status.tolist() == [0, 0, 0]
    assert len(result) == 3
    # A column may hold the barometer.
    with_barometer = {**export(), "baro": [BAROMETER / 1e3, BAROMETER / 1e3, math.nan]}
    own = interstage.Trend(machine(), readings=DECLARED, barometer=("baro", "kPa"))
    temperatures = own.analyse(with_barometer)["evaporating_temperature"]
    assert temperatures[:2] == pytest.approx([278.15] * 2, abs=1e-9)
    assert math.isnan(temperatures[2])
    # An altitude stands in for a barometer: 320 m are about 97.5 kPa.
    high = interstage.Trend(machine(), readings=DECLARED, altitude=320.0).analyse(export())
    assert abs(high["evaporating_temperature"][0] - 278.15) < 0.1


def test_the_container_comes_back() -> None:
    index = pd.date_range("2030-01-01", periods=3, freq="5min")
    pandas = trend().analyse(pd.DataFrame(export(), index=index))
    assert isinstance(pandas["cop"], pd.Series)
    assert pandas["cop"].index.equals(index)
    assert pandas["cop"].name == "cop"
    frame = pandas.frame(units="I-P")
    assert frame.index.equals(index)
    assert frame["evaporating_temperature [degF]"].iloc[0] == pytest.approx(41.0)
    assert frame["refrigerant_lift [F]"].iloc[0] == pytest.approx(57.6)
    assert frame["status_text"].tolist() == ["ok"] * 3
    assert isinstance(trend().analyse(pl.DataFrame(export())).frame(), pl.DataFrame)
    assert isinstance(trend().analyse(pl.DataFrame(export()))["cop"], pl.Series)
    arrays = trend().analyse({name: np.array(column) for name, column in export().items()})
    assert isinstance(arrays["cop"], np.ndarray)
    assert set(arrays.frame(figures=["cop"])) == {"cop [-]", "status", "status_text"}


def test_bad_readings_are_remarked_and_stop_nothing() -> None:
    data = export(9)
    data["kw"][2] = None  # type: ignore[call-overload]
    data["cond"][5] += 20.0
    data["chw out"][6] = -99.4
    data["kw"][8] = 0.0
    result = trend(minimum_power=5e3).analyse(pd.DataFrame(data))
    text = result.status_text.tolist()
    assert text[0] == "ok"
    assert text[2] == "a reading is missing"
    assert text[5] == "a single reading jumped"
    assert text[6] == "a reading is outside its physical range"
    assert text[8] == "the machine is off"
    assert result.quality("condenser_pressure").tolist()[4:7] == ["good", "spike", "good"]
    assert result.rows_with("a single reading jumped").tolist() == [i == 5 for i in range(9)]
    assert math.isnan(result["condensing_temperature"][5])
    assert result["evaporating_temperature"].notna().sum() == 8
    assert interstage.remark_text(int(result.status[8])) == "the machine is off"


def test_assumptions_are_named() -> None:
    read = trend().analyse(export())
    assert read.assumptions["evaporator_mass_flow"] == (
        "saturated liquid from the condenser, saturated vapor from the evaporator"
    )
    assert read.assumptions["economizer_potential"].startswith("a working economizer")
    assert "cop" not in read.assumptions
    bare = {name: pair for name, pair in DECLARED.items() if name != "tank_pressure"}
    unread = interstage.Trend(machine(), readings=bare, barometer=BAROMETER).analyse(export())
    assert unread.assumptions["stage_efficiency"].startswith(
        "working tanks at the pressures of the circuit's rule"
    )


def test_the_machine_may_have_a_baseline_of_its_own() -> None:
    low = trend(tank_exponents=[0.4]).analyse(export())
    assert low["economizer_evidence"].tolist() == [0.0] * 3  # 0.5 is too high for it
    high = trend(tank_exponents=[0.6]).analyse(export())
    assert np.isnan(high["economizer_evidence"]).all()
    assert high.status_text.tolist() == ["the readings cannot tell whether the economizer works"] * 3
    with pytest.raises(interstage.WrongLength, match="tank_exponents has 2 entries where 1 are needed"):
        trend(tank_exponents=[0.4, 0.6])


def test_missing_columns_are_named() -> None:
    result = trend().analyse(export())
    assert result.unavailable["heat_balance"] == (
        "needs condenser_water_entering, condenser_water_leaving and condenser_water_flow"
    )
    assert result.unavailable["suction_superheat"] == "needs suction_temperature"
    assert "cop" not in result.unavailable
    assert trend().needs("condenser_approach") == [
        ["condenser_pressure", "condenser_water_leaving"],
        ["condenser_saturation_temperature", "condenser_water_leaving"],
    ]
    assert trend().needs("cop") == [
        ["chilled_water_entering", "chilled_water_leaving", "chilled_water_flow", "power"],
        ["capacity", "power"],
    ]
    vessels = {name: DECLARED[name] for name in ("evaporator_pressure", "condenser_pressure")}
    bare = interstage.Trend(machine(), readings=vessels, barometer=BAROMETER, drive_efficiency=0.93)
    assert bare.analyse(export()).unavailable["economizer_evidence"] == (
        "needs a tank pressure or temperature, or capacity, discharge_temperature and power"
    )


def test_power_that_cannot_be_is_remarked_and_shows_no_saving() -> None:
    data = {name: column * 3 for name, column in export(3).items()}
    data["kw"] = [data["kw"][0]] * 3 + [100.0 * data["kw"][0]] * 3 + [1.45 * data["kw"][0]] * 3
    result = trend().analyse(data)
    ok, open_, implausible = (
        "ok",
        "the heat balance does not close",
        "the saving is beyond what an economizer can do",
    )
    assert result.status_text.tolist() == [ok] * 3 + [open_] * 3 + [implausible] * 3
    assert np.isfinite(result["measured_saving"]).tolist() == [True] * 3 + [False] * 6
    # The limit is the user's: the work of the refrigerant, 0.93 / 0.75 of the power, is within 30 %.
    data["kw"] = [data["kw"][0] * 0.75] * 9
    assert (trend().analyse(data).status_text == open_).all()
    assert (trend(heat_balance_limit=0.3).analyse(data).status_text != open_).all()


def test_a_doubtful_drive_efficiency_is_no_evidence() -> None:
    readings = {name: pair for name, pair in DECLARED.items() if name != "tank_pressure"}
    sharp = {"capacity_uncertainty": 0.001, "discharge_temperature_uncertainty": 0.02}

    def evidence(drive_efficiency: float, **options: float) -> float:
        one = interstage.Trend(
            machine(),
            readings=readings,
            barometer=BAROMETER,
            drive_efficiency=drive_efficiency,
            **sharp,
            **options,
        )
        return float(one.analyse(flow_of_the_cycle())["economizer_evidence"][0])

    assert evidence(0.93, power_uncertainty=0.005) == 1.0
    assert evidence(0.98, power_uncertainty=0.0) == 0.0  # false, and believed
    assert math.isnan(evidence(0.98, power_uncertainty=0.05))


def flow_of_the_cycle() -> dict[str, list[float]]:
    """The export with the chilled water of the cycle's capacity to the last digit."""
    data = export(1)
    told = trend().analyse(data)["capacity"][0]
    data["chw"] = [data["chw"][0] * 3.5e6 / told]
    return data


def test_brine_is_remarked() -> None:
    data = export(1)
    data["chw out"] = [28.0]
    assert "below 0.01 degC and no brine is declared" in trend().analyse(data).status_text[0]
    for broken in (-99.4, -40.0):
        data["chw out"] = [broken]
        assert trend().analyse(data).status_text[0] == "a reading is outside its physical range"


def test_a_jump_in_a_short_table_is_a_spike() -> None:
    data = export(7)
    data["kw"][5] *= 2.5
    assert trend().analyse(data).quality("power").tolist() == ["good"] * 5 + ["spike", "good"]
    # The first five have too few before them.
    early = export(7)
    early["kw"][4] *= 2.5
    assert "spike" not in trend().analyse(early).quality("power").tolist()


@pytest.mark.parametrize(
    ("wrong", "error", "message"),
    [
        (
            lambda: interstage.Trend(machine(), readings=DECLARED),
            interstage.WrongArgument,
            "a gauge unit needs barometer=",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, barometer=1.0),
            interstage.Inconsistent,
            "1 Pa is not between 30000 Pa and 120000 Pa",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, barometer=1e5, altitude=0.0),
            interstage.WrongArgument,
            "barometer or altitude, not both",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, altitude=5e4),
            interstage.Inconsistent,
            "is not between -5000 m and 11000 m",
        ),
        (
            lambda: interstage.Trend(machine(), readings={"evap": ("e", "Pa")}),
            interstage.UnknownOption,
            'unknown reading "evap"; it is one of evaporator_pressure',
        ),
        (
            lambda: interstage.Trend(machine(), readings={"power": ("e", "psig")}),
            interstage.UnknownOption,
            "unit of power must be one of W, kW, hp, ton, Btu/h, got 'psig'",
        ),
        (
            lambda: interstage.Trend(machine(), readings={"power": "kW"}),  # type: ignore[dict-item]
            interstage.WrongArgument,
            "must be (column, unit)",
        ),
        (
            lambda: interstage.Trend(machine(1), readings={"tank_pressure": ("t", "Pa")}),
            interstage.Inconsistent,
            "no tank feeds the inlet of stage 2",
        ),
        (
            lambda: interstage.Trend(machine(), readings={"stage_9_tank_pressure": ("t", "Pa")}),
            interstage.Inconsistent,
            "stage_9_tank_pressure is given, but no tank feeds the inlet of stage 9",
        ),
        (
            lambda: interstage.Trend(machine(), readings={}),
            interstage.WrongArgument,
            "readings must declare at least one column",
        ),
        (
            lambda: interstage.Trend(machine(), readings={5: ("kw", "kW")}),  # type: ignore[dict-item]
            interstage.WrongArgument,
            "readings: a quantity must be a text, got int",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, barometer="101325"),  # type: ignore[arg-type]
            interstage.WrongArgument,
            "barometer must be a number of Pa or (column, unit), got '101325'",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, barometer=("b", 3)),  # type: ignore[arg-type]
            interstage.WrongArgument,
            "barometer must be a number of Pa or (column, unit), got ('b', 3)",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, barometer=["b", "psig"]),
            interstage.UnknownOption,
            "unit of barometer must be one of Pa, kPa, bar, psia, inHg absolute, got 'psig'",
        ),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, altitude="high"),  # type: ignore[arg-type]
            interstage.WrongArgument,
            "altitude must be a number of m, got 'high'",
        ),
        (
            lambda: trend().analyse({name: [[value] * 2] for name, value in export(1).items()}),
            interstage.WrongArgument,
            "must have one number a row, got the shape (1, 2, 1)",
        ),
        (lambda: trend().analyse({"evap": [1.0]}), interstage.WrongArgument, "the table has no column 'chw'"),
        (lambda: trend().analyse(7), interstage.WrongArgument, "table must be a pandas or polars DataFrame"),
        (
            lambda: trend().analyse({**export(), "kw": ["a", "b", "c"]}),
            interstage.WrongArgument,
            "column 'kw'",
        ),
        (
            lambda: trend().analyse({**export(), "kw": [True, True, False]}),
            interstage.WrongArgument,
            "column 'kw'",
        ),
        (
            lambda: trend().analyse(pd.DataFrame(export()).assign(kw=datetime.datetime(2030, 1, 1))),
            interstage.WrongArgument,
            "column 'kw'",
        ),
        (
            lambda: trend().analyse({**export(), "kw": [1.0]}),
            interstage.WrongLength,
            "has 1 rows where 3 are needed",
        ),
        (
            lambda: trend().analyse(export())["shaft_power"],
            interstage.UnknownOption,
            'unknown figure "shaft_power"',
        ),
        (
            lambda: trend().analyse(export())["stage_3_flash_fraction"],
            interstage.Inconsistent,
            "the circuit has no stage_3_flash_fraction",
        ),
        (
            lambda: trend().analyse(export()).frame(units="metric"),
            interstage.UnknownOption,
            "units must be 'SI' or 'I-P'",
        ),
        (
            lambda: trend().analyse(export()).rows_with("sunny"),
            interstage.UnknownOption,
            "remark must be one of",
        ),
        (
            lambda: trend().analyse(export()).quality("capacity"),
            interstage.Inconsistent,
            "no column is declared for",
        ),
        (lambda: trend(drive_efficiency=0.93, minimum_power=-1.0), TypeError, "multiple values"),
        (
            lambda: interstage.Trend(machine(), readings=DECLARED, altitude=0.0, minimum_power=-1.0),
            interstage.OutOfRange,
            "minimum_power -1 W is outside 0 to 1000000000 W",
        ),
    ],
)
def test_what_is_wrong_is_named(wrong: object, error: type[Exception], message: str) -> None:
    with pytest.raises(error) as caught:
        wrong()  # type: ignore[operator]
    assert message in str(caught.value)


def test_a_barometer_column_is_held_to_the_atmosphere() -> None:
    # Inches of mercury declared as Pa, a missing one, a spike of zero.
    data = {**export(4), "baro": [BAROMETER, 29.9, math.nan, 0.0]}
    result = interstage.Trend(machine(), readings=DECLARED, barometer=["baro", "Pa"]).analyse(
        pd.DataFrame(data)
    )
    remark = "the barometer reads no pressure of the atmosphere"
    assert result.rows_with(remark).tolist() == [False, True, False, True]
    assert result.quality("barometer").tolist() == ["good", "out of range", "missing", "out of range"]
    assert result["evaporating_temperature"].notna().tolist() == [True, False, False, False]
    # What needs no gauge is still told.
    assert result["cop"].notna().all()
    assert result.status_text[0] == "ok"
    assert result.status_text[1] == f"a reading is missing; {remark}"
    assert result.status_text[2] == "a reading is missing"
    assert result.frame()["status"].tolist() == result.status.tolist()
    assert interstage.remark_text(interstage.remarks()[remark]) == remark
    assert interstage.remark_text(result.status[1]) == result.status_text[1]
    with pytest.raises(interstage.UnknownOption, match="unknown reading"):
        trend().analyse(export()).quality("barometer")


def test_a_vacuum_of_the_wrong_sign_is_refused() -> None:
    data = export(5)
    data["evap"] = [-value for value in data["evap"]]
    with pytest.raises(interstage.Inconsistent, match="5 of 5 readings are below -1") as raised:
        trend().analyse(data)
    assert "'inHg gauge'" in str(raised.value)
    # The same column with its true unit, and a vessel that is a little above the barometer.
    declared = {**DECLARED, "evaporator_pressure": ("evap", "inHg gauge")}
    gauge = interstage.Trend(machine(), readings=declared, barometer=BAROMETER).analyse(data)
    assert gauge["evaporating_temperature"] == pytest.approx([278.15] * 5, abs=1e-9)
    data["evap"] = [-0.5, -0.5, -0.5, math.nan, 12.0]
    assert len(trend().analyse(data)) == 5


def test_what_is_below_absolute_zero_is_out_of_range() -> None:
    data = export(5)
    data["chw out"][1] = -999.0
    data["evap"][2] = 99.0
    data["tank"][3] = -99.0
    result = trend().analyse(data)
    assert result.quality("chilled_water_leaving")[1] == "out of range"
    assert result.quality("evaporator_pressure")[2] == "out of range"
    assert result.quality("tank_pressure")[3] == "out of range"


@pytest.mark.parametrize("frame", [dict, pd.DataFrame, pl.DataFrame])
@pytest.mark.parametrize("again", [copy.deepcopy, lambda value: pickle.loads(pickle.dumps(value))])
def test_trends_and_their_results_pickle(frame: Any, again: Any) -> None:
    data = {**export(4), "baro": [BAROMETER, 0.0, BAROMETER, BAROMETER]}
    data["kw"][2] = math.nan
    options = {"barometer": ("baro", "Pa"), "tank_exponents": [0.45], "minimum_power": 5e3}
    made = interstage.Trend(machine(), readings=DECLARED, drive_efficiency=0.9, **options)
    copied = again(made)
    assert repr(copied) == repr(made)
    assert (copied.figures, copied.circuit) == (made.figures, made.circuit)
    first = made.analyse(frame(data))
    for other in (copied.analyse(frame(data)), again(first), again(again(first))):
        for figure in first.figures:
            assert type(other[figure]) is type(first[figure])
            assert np.array_equal(other[figure], first[figure], equal_nan=True), figure
        for name in (*DECLARED, "barometer"):
            assert list(other.quality(name)) == list(first.quality(name))
        assert list(other.status) == list(first.status)
        assert list(other.status_text) == list(first.status_text)
        assert (other.unavailable, other.assumptions) == (first.unavailable, first.assumptions)
        assert type(other.frame()) is type(first.frame())
        assert repr(other) == repr(first)
        with pytest.raises(interstage.UnknownOption, match="unknown figure"):
            other["shaft_power"]
        with pytest.raises(interstage.Inconsistent, match="the circuit has no"):
            other["stage_3_flash_fraction"]


@pytest.mark.parametrize("library", ["pandas", "polars"])
def test_results_are_read_back_where_the_library_is_not_yet_imported(library: str, tmp_path: Any) -> None:
    frame = {"pandas": pd, "polars": pl}[library].DataFrame(export())
    states = interstage.Refrigerant("R-134a").state(p=frame["kw"] * 1e3, T=300.0)
    (tmp_path / "stored").write_bytes(pickle.dumps((trend().analyse(frame), states)))
    program = (
        "import pickle, sys; result, states = pickle.load(open(sys.argv[1], 'rb'))\n"
        "print(type(result['cop']).__module__.split('.')[0], type(states.h).__module__.split('.')[0])"
    )
    command = [sys.executable, "-c", program, str(tmp_path / "stored")]
    found = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()
    assert found == [library, library]


def test_empty_tables_are_tables() -> None:
    result = trend().analyse(pd.DataFrame({name: [] for name in export()}, dtype=float))
    assert len(result) == 0
    assert list(result.frame().columns) == ["status", "status_text"]


def test_threads_do_not_change_a_bit() -> None:
    data = export(600)
    data["cond"] = list(np.linspace(data["cond"][0] - 3.0, data["cond"][0] + 1.0, 600))
    one, two = (trend().analyse(data, threads=n) for n in (1, 2))
    for figure in one.figures:
        assert np.array_equal(one[figure], two[figure], equal_nan=True), figure


def test_motor_losses_are_a_figure_and_capacity_has_three_estimates() -> None:
    result = trend().analyse(export())
    lost = result["lost_power"] / (result["lost_power"] + result["compression_power"])
    assert lost == pytest.approx([0.07] * 3, abs=2e-3)
    assert result["capacity_from_power"] == pytest.approx(result["capacity"], rel=2e-3)
    assert "lost_power [kW]" in result.frame(units="I-P")
    assert "capacity_from_power [ton]" in result.frame(units="I-P")
    unknown = interstage.Trend(machine(), readings=DECLARED, barometer=BAROMETER).analyse(export())
    assert "drive efficiency" in unknown.unavailable["capacity_from_power"]
    assert unknown["lost_power"] == pytest.approx(result["lost_power"])


def test_an_economizer_of_any_kind_may_be_read() -> None:
    stage = interstage.Stage(polytropic_efficiency=0.8)
    closed = interstage.Circuit(
        interstage.Refrigerant("R-1233zd(E)"),
        stages=[stage] * 2,
        interstages=[interstage.ClosedEconomizer(approach=3.0)],
    )
    result = interstage.Trend(closed, readings=DECLARED, barometer=BAROMETER).analyse(export())
    assert result["stage_2_tank_pressure_exponent"] == pytest.approx([0.5] * 3, abs=1e-9)
    assert (result["stage_2_flash_fraction"] > 0.05).all()
    assert np.isnan(result["economizer_evidence"]).all()


def test_the_heat_balance_by_load() -> None:
    data = export(40)
    data["chw"] = [flow * load for flow, load in zip(data["chw"], [0.9] * 20 + [0.5] * 20, strict=True)]
    data["kw"][20:] = [kw * 0.5 for kw in data["kw"][20:]]
    declared = {
        **DECLARED,
        "condenser_water_entering": ("cw in", "degC"),
        "condenser_water_leaving": ("cw out", "degC"),
        "condenser_water_flow": ("cw", "L/s"),
    }
    rated = {"rated_capacity": 3.5e6, "full_load_range": 10.0 / 1.8}
    # Condenser water that takes up a few percent more or less than capacity and power.
    flow = [200.0 * (1.0 + 0.02 * (-1) ** row) * (0.9 if row < 20 else 0.5) for row in range(40)]
    data |= {"cw in": [28.0] * 40, "cw out": [32.7] * 40, "cw": flow}
    made = interstage.Trend(machine(), readings=declared, barometer=BAROMETER, **rated)
    result = made.analyse(pd.DataFrame(data, index=pd.RangeIndex(100, 140)))
    table = result.heat_balance([0.0, 0.7, 1.0, 1.2])
    assert table["rows"].tolist() == [20, 20, 0]
    half = result["heat_balance"].to_numpy()[20:]
    assert table["bias [-]"][0] == pytest.approx(half.mean())
    assert table["spread [-]"][0] == pytest.approx(half.std(ddof=1))
    tolerance = result["heat_balance_tolerance"].to_numpy()[20:]
    assert tolerance == pytest.approx(interstage.rating_tolerance(float(result["load"].iloc[-1]), 10.0 / 1.8))
    assert table["within tolerance [-]"][0] == (np.abs(half) <= tolerance).mean()
    assert table.iloc[2].isna().sum() == 4
    assert isinstance(made.analyse(pl.DataFrame(data)).heat_balance(), pl.DataFrame)
    assert made.analyse(data).heat_balance()["rows"].sum() == 40
    # An overload has no tolerance and says so.
    small = interstage.Trend(
        machine(), readings=declared, barometer=BAROMETER, rated_capacity=1e6, full_load_range=5.0
    )
    assert "the load is outside 1 to 120 % of the rated capacity" in small.analyse(data).status_text[0]
    for wrong in ([0.5], [1.0, 0.5], [0.0, math.nan]):
        with pytest.raises(interstage.WrongArgument, match="loads must be two or more rising numbers"):
            result.heat_balance(wrong)
    with pytest.raises(interstage.Inconsistent, match="load needs the rated capacity"):
        trend().analyse(export()).heat_balance()
    with pytest.raises(interstage.Inconsistent, match="one is given without the other"):
        trend(rated_capacity=1e6)
    with pytest.raises(interstage.OutOfRange, match="full_load_range 0 K is outside"):
        trend(rated_capacity=1e6, full_load_range=0.0)


def test_a_part_with_the_rows_around_it_has_the_figures_of_the_whole() -> None:
    rng = np.random.default_rng(7)
    rows = 900
    data = pd.DataFrame(export(rows))
    data *= 1.0 + 1e-4 * rng.standard_normal(data.shape)
    for column in data:
        data.loc[rng.choice(rows, 12, replace=False), column] *= 1.3
        data.loc[rng.choice(rows, 20, replace=False), column] = np.nan
    made = pickle.loads(pickle.dumps(trend()))
    whole = made.analyse(data).frame(figures=made.figures)
    assert whole["status_text"].str.contains("jumped").sum() > 30
    before, after = interstage.Trend.ROWS_BEFORE, interstage.Trend.ROWS_AFTER
    cuts = np.sort(np.r_[0, rng.choice(rows, 15, replace=False), rows])
    alone = []
    for start, end in itertools.pairwise(cuts):
        part = data.iloc[max(start - before, 0) : end + after]
        result = pickle.loads(pickle.dumps(made.analyse(part))).frame(figures=made.figures)
        pd.testing.assert_frame_equal(result.loc[start : end - 1], whole.iloc[start:end], check_exact=True)
        alone.append(made.analyse(data.iloc[start:end]).frame(figures=made.figures))
    assert not pd.concat(alone)["status"].equals(whole["status"])

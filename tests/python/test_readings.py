"""Declared readings: units, what is refused as ambiguous, power from current, brines, checks of rows."""

import math
import pickle
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage

u = interstage.units
VACUUM = {"e": ("evaporator_pressure", "inHg vacuum")}


def one(quantity: str, unit: str, value: float, **options: Any) -> float:
    """One reading in SI."""
    table = interstage.Readings({"c": (quantity, unit)}, **options).si({"c": [value]})
    return float(table[quantity][0])


def test_facts_of_low_pressure_machines_at_sea_level() -> None:
    """R-123: idle at 70 degF 6.6 inHg vacuum, evaporator at 38 degF 18.7, condenser at 96 degF +4.6 psig.

    Facts of the trade; half a unit of the last digit, in pressure.
    """
    r123 = interstage.Refrigerant("R-123")
    for fahrenheit, unit, value in [
        (70.0, "inHg vacuum", 6.6),
        (38.0, "inHg vacuum", 18.7),
        (96.0, "psig", 4.6),
    ]:
        name = "condenser_pressure" if unit == "psig" else "evaporator_pressure"
        half = 0.05 * (u.pascal_from_psia(1.0) if unit == "psig" else u.pascal_from_inhg_absolute(1.0))
        read = one(name, unit, value, altitude=0.0)
        saturated = r123.saturation(T=u.kelvin_from_fahrenheit(fahrenheit)).p
        assert abs(read - saturated) < half, (fahrenheit, read, saturated)


@pytest.mark.parametrize(
    ("quantity", "unit", "value", "si"),
    [
        # Exact by definition of the units.
        ("chilled_water_leaving", "degF", 44.0, (44.0 + 459.67) / 1.8),
        ("chilled_water_leaving", "degC", 7.0, 280.15),
        ("chilled_water_flow", "gpm", 1000.0, 1000.0 * 231 * 0.0254**3 / 60),
        ("chilled_water_flow", "m3/h", 36.0, 0.01),
        ("chilled_water_flow", "L/s", 10.0, 0.01),
        ("capacity", "ton", 100.0, 351685.2842),
        ("power", "kW", 180.0, 180e3),
        ("condenser_pressure", "bar gauge", 2.0, 2e5 + 101325.0),
        ("condenser_pressure", "kPa gauge", 200.0, 2e5 + 101325.0),
        ("condenser_pressure", "kPa", 200.0, 2e5),
        ("vane_position", "percent", 40.0, 0.4),
        ("percent_of_rated_current", "percent", 80.0, 0.8),
        ("suction_superheat", "F difference", 9.0, 5.0),
        ("liquid_subcooling", "K difference", 5.0, 5.0),
        ("motor_voltage", "kV", 4.16, 4160.0),
        ("shaft_speed", "1/min", 6000.0, 100.0),
        ("purge_pump_time", "min", 2.0, 120.0),
    ],
)
def test_units(quantity: str, unit: str, value: float, si: float) -> None:
    assert one(quantity, unit, value, altitude=0.0) == pytest.approx(si, rel=1e-9)


def test_a_barometer_may_be_a_column() -> None:
    readings = interstage.Readings(VACUUM, barometer=("b", "kPa"))
    table = readings.si(pd.DataFrame({"e": [18.0, 18.0, 18.0], "b": [100.0, 90.0, math.nan]}))
    inch = u.pascal_from_inhg_absolute(1.0)
    assert table["evaporator_pressure"].iloc[0] == pytest.approx(100e3 - 18.0 * inch, rel=1e-9)
    assert table["evaporator_pressure"].iloc[1] == pytest.approx(90e3 - 18.0 * inch, rel=1e-9)
    assert math.isnan(table["evaporator_pressure"].iloc[2])


@pytest.mark.parametrize(
    ("columns", "error", "message"),
    [
        ({}, interstage.WrongArgument, "columns must be a mapping"),
        ({"a": "power"}, interstage.WrongArgument, "column 'a' needs its unit"),
        ({"a": ("power",)}, interstage.WrongArgument, r"must be declared as \(quantity, unit\)"),
        ({"a": ("power", None)}, interstage.WrongArgument, "must be declared as"),
        ({1: ("power", "kW")}, interstage.WrongArgument, "a column must be a text"),
        (
            {"TEI": ("chilled_water_entering", "degF"), "TWEI": ("chilled_water_entering", "degF")},
            interstage.WrongArgument,
            "columns 'TEI' and 'TWEI' both claim to be chilled_water_entering",
        ),
        (
            VACUUM,
            interstage.WrongArgument,
            r"evaporator_pressure \[inHg vacuum\]: a gauge unit needs barometer=",
        ),
        (
            {"a": ("condenser_pressure", "psi")},
            interstage.UnknownOption,
            "psi does not say whether it is gauge or absolute",
        ),
        (
            {"a": ("suction_superheat", "degF")},
            interstage.UnknownOption,
            "degF is a temperature, and suction_superheat is a difference",
        ),
        (
            {"a": ("suction_temperature", "F difference")},
            interstage.UnknownOption,
            "F difference is a difference of temperatures, and suction_temperature is a temperature",
        ),
        (
            {"a": ("power", "percent")},
            interstage.UnknownOption,
            "percent is no power and no load, also where it is percent of rated current",
        ),
        (
            {"a": ("capacity", "percent")},
            interstage.UnknownOption,
            "percent is no power and no load, also where it is percent of rated current",
        ),
        ({"a": ("evaporator_presure", "kPa")}, interstage.UnknownOption, "did you mean evaporator_pressure"),
        (
            {"a": ("load_from_current", "percent")},
            interstage.UnknownOption,
            "percent of rated current is percent_of_rated_current, and no load",
        ),
        (
            {"cond [psig]": ("condenser_pressure", "psia")},
            interstage.Inconsistent,
            "the name of the column says 'psig', the declaration 'psia'",
        ),
    ],
)
def test_what_could_mean_two_things_is_refused(columns: Any, error: Any, message: str) -> None:
    with pytest.raises(error, match=message):
        interstage.Readings(columns)


@pytest.mark.parametrize(
    ("options", "error", "message"),
    [
        ({"condenser": "floods"}, interstage.UnknownOption, "condenser must be one of 'holds liquid'"),
        ({"taps": {"condenser_pressure": "somewhere"}}, interstage.UnknownOption, "must be one of 'shell'"),
        ({"taps": {"power": "shell"}}, interstage.WrongArgument, "power is no pressure"),
        ({"thermometers": ["a"]}, interstage.WrongArgument, "must be a mapping of quantity to place"),
        ({"chilled_water": "glycol"}, interstage.WrongArgument, "chilled_water must be a WaterLoop"),
        ({"others": {"x": "furlong"}}, interstage.UnknownOption, "unit of column 'x' must be one of"),
        ({"others": {"e": "degC"}}, interstage.WrongArgument, "column 'e' is declared already"),
        ({"others": ["x"]}, interstage.WrongArgument, "others must be a mapping"),
        ({"rated_voltage": "460"}, interstage.WrongArgument, "rated_voltage must be a number"),
        ({"rated_power_factor": 90.0}, interstage.Inconsistent, "rated_power_factor is out of range"),
        ({"refrigerant": "R-9999"}, interstage.UnknownRefrigerant, "R-9999"),
    ],
)
def test_wrong_facts_are_refused(options: Any, error: Any, message: str) -> None:
    with pytest.raises(error, match=message):
        interstage.Readings(VACUUM, altitude=0.0, **options)


def test_facts_are_kept_and_missing_ones_named() -> None:
    readings = interstage.Readings(
        {"e": ("evaporator_pressure", "kPa"), "t": ("condenser_saturation_temperature", "degC")},
        taps={"evaporator_pressure": "suction pipe"},
    )
    assert readings.facts["taps"] == {"evaporator_pressure": "suction pipe"}
    assert set(readings.undeclared) == {"condenser", "condenser_saturation_temperature"}
    told = interstage.Readings(
        {"t": ("condenser_saturation_temperature", "degC")},
        thermometers={"condenser_saturation_temperature": "converted from a pressure"},
        condenser="holds liquid",
    )
    assert told.undeclared == {}
    assert told.facts["condenser"] == "holds liquid"


# ---- power from current

CURRENT = {"a": ("motor_current", "A")}
NAMEPLATE = {"rated_voltage": 460.0, "rated_current": 300.0, "rated_power_factor": 0.9}


def test_power_follows_from_current_voltage_and_power_factor() -> None:
    columns = {**CURRENT, "v": ("motor_voltage", "V"), "pf": ("power_factor", "percent")}
    readings = interstage.Readings(columns)
    table = {"a": [250.0], "v": [460.0], "pf": [87.0]}
    power = readings.power(table)
    assert power["power"][0] == pytest.approx(math.sqrt(3.0) * 460.0 * 250.0 * 0.87, rel=1e-12)
    assert power["lowest"][0] == power["highest"][0] == power["power"][0]
    assert readings.si(table)["power"][0] == power["power"][0]


def test_without_them_it_is_an_interval() -> None:
    readings = interstage.Readings(CURRENT, **NAMEPLATE)
    power = readings.power({"a": [300.0, 150.0, 0.0, math.nan, 100.0]})
    rated = math.sqrt(3.0) * 460.0 * 300.0 * 0.9
    # At rated current the power factor is that of the nameplate; the voltage is open by a tenth.
    assert power["lowest"][0] == pytest.approx(0.9 * rated, rel=1e-12)
    assert power["highest"][0] == pytest.approx(1.1 * rated, rel=1e-12)
    # Below it the interval is wider than that.
    assert (power["highest"][1] - power["lowest"][1]) / power["power"][1] > 0.2
    assert power["power"][2] == power["lowest"][2] == power["highest"][2] == 0.0
    assert math.isnan(power["power"][3])
    # Less current than the reactive one of rated load (131 A): there is no lower limit but 0.
    assert power["lowest"][4] == 0.0
    assert (power["lowest"] <= power["power"])[[0, 1, 4]].all()


def test_the_interval_holds_the_power_of_a_motor() -> None:
    """Magnetizing branch across the supply, leakage and rotor in series: slip from idle to rated load."""
    voltage, magnetizing, leakage, resistance = 460.0 / math.sqrt(3.0), 3.0, 0.15, 0.02
    slip = np.linspace(1e-4, 0.02, 50)
    branch = 1.0 / (resistance / slip + 1j * leakage) + 1.0 / (1j * magnetizing)
    current = voltage * np.abs(branch)
    factor = np.cos(np.angle(branch))
    power = 3.0 * voltage * current * factor
    readings = interstage.Readings(
        CURRENT,
        rated_voltage=460.0,
        rated_current=float(current[-1]),
        rated_power_factor=float(factor[-1]),
    )
    told = readings.power({"a": current})
    assert (told["lowest"] <= power).all()
    assert (power <= told["highest"]).all()


def test_percent_of_rated_current_is_no_power() -> None:
    readings = interstage.Readings({"rla": ("percent_of_rated_current", "percent")}, **NAMEPLATE)
    assert "power" not in readings.si({"rla": [80.0]})
    with pytest.raises(interstage.WrongArgument, match="percent of rated current is neither load nor power"):
        readings.power({"rla": [80.0]})
    with pytest.raises(interstage.WrongArgument, match="no power is declared"):
        interstage.Readings(CURRENT).power({"a": [100.0]})
    assert "power" not in interstage.Readings(CURRENT).si({"a": [100.0]})
    both = interstage.Readings({**CURRENT, "kw": ("power", "kW")}, **NAMEPLATE)
    assert both.power({"a": [100.0], "kw": [50.0]})["lowest"][0] == 50e3


def test_an_interval_is_no_power_of_the_analysis() -> None:
    """A COP from the middle of a wide interval would look like a measured one."""
    columns = {"a": ("motor_current", "A"), **{c: pair for c, pair in WATER.items() if c != "kw"}}
    readings = interstage.Readings(columns, **NAMEPLATE)
    table = {"in": [12.0], "out": [7.0], "flow": [50.0], "a": [250.0]}
    assert "power" not in readings.si(table)
    result = readings.trend(MACHINE).analyse(readings.trend_table(table))
    assert "needs power" in result.unavailable["cop"]
    # It does tell whether the machine runs.
    rows = {name: values * 3 for name, values in table.items()} | {"a": [250.0, 0.0, 0.0]}
    quality = interstage.assess_quality({**rows, "t": [0.0, 600.0, 1200.0]}, readings, time="t")
    assert quality.running.tolist() == [True, False, False]
    measured = {**columns, "v": ("motor_voltage", "V"), "pf": ("power_factor", "fraction")}
    exact = interstage.Readings(measured, **NAMEPLATE)
    full = {**table, "v": [460.0], "pf": [0.87]}
    assert exact.trend(MACHINE).analyse(exact.trend_table(full))["cop"][0] > 0.0


def test_bad_readings_stay_out_of_the_analysis() -> None:
    readings = interstage.Readings(WATER)
    rows = 600
    table = pd.DataFrame(
        {"in": 12.0, "out": 7.0, "flow": 50.0, "kw": 180.0},
        index=pd.date_range("2030", periods=rows, freq="1min"),
    )
    table["in"] += 0.01 * np.sin(np.arange(rows) * 1.7)
    table["kw"] += 0.01 * np.sin(np.arange(rows) * 1.7)
    table["flow"] += 0.01 * np.sin(np.arange(rows) * 1.7)
    quality = interstage.assess_quality(table, readings)
    assert not quality.good["chilled_water_leaving"].any()  # it stands still
    result = readings.trend(MACHINE).analyse(readings.trend_table(table, quality))
    assert result["cop"].isna().all()
    assert readings.trend(MACHINE).analyse(readings.trend_table(table))["cop"].notna().all()
    with pytest.raises(interstage.WrongArgument, match="quality must be that of the same table"):
        readings.trend_table(table.iloc[1:], quality)


def test_differences_of_a_controller_go_back_to_temperatures() -> None:
    readings = interstage.Readings(
        {
            "tc": ("condenser_saturation_temperature", "degF"),
            "sub": ("liquid_subcooling", "F difference"),
            "sh": ("suction_superheat", "F difference"),
        }
    )
    table = readings.trend_table({"tc": [95.0], "sub": [9.0], "sh": [2.0]})
    assert table["liquid_line_temperature"][0] == pytest.approx(u.kelvin_from_fahrenheit(86.0))
    # The superheat has no saturation temperature beside it.
    assert set(table) == {"condenser_saturation_temperature", "liquid_line_temperature"}


# ---- brines, and the analysis

WATER = {
    "in": ("chilled_water_entering", "degC"),
    "out": ("chilled_water_leaving", "degC"),
    "flow": ("chilled_water_flow", "L/s"),
    "kw": ("power", "kW"),
}
MACHINE = interstage.Circuit(
    interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)], interstages=[]
)


def test_plain_water_goes_through_the_analysis() -> None:
    readings = interstage.Readings(WATER)
    table = pd.DataFrame({"in": [12.0], "out": [7.0], "flow": [50.0], "kw": [180.0]})
    result = readings.trend(MACHINE).analyse(readings.trend_table(table))
    declared = {name: pair for name, pair in ((q, (c, unit)) for c, (q, unit) in WATER.items())}
    direct = interstage.Trend(MACHINE, declared).analyse(table)
    assert result["cop"].iloc[0] == direct["cop"].iloc[0]


def test_a_brine_needs_its_properties() -> None:
    for missing in ({"heat_capacity": 3700.0}, {"density": 1040.0}, {}):
        with pytest.raises(interstage.WrongArgument, match="knows ethylene glycol and propylene glycol only"):
            interstage.WaterLoop("calcium chloride", strength=0.3, **missing)
    with pytest.raises(interstage.WrongArgument, match="needs density= too"):
        interstage.WaterLoop("propylene glycol", strength=0.3, heat_capacity=3700.0)
    with pytest.raises(interstage.WrongArgument, match="needs its strength="):
        interstage.WaterLoop("propylene glycol")
    with pytest.raises(interstage.OutOfRange, match=r"at most 0\.6 kg/kg, got 0\.7"):
        interstage.WaterLoop("ethylene glycol", strength=0.7)
    with pytest.raises(interstage.WrongArgument, match="plain water takes no density"):
        interstage.WaterLoop(density=1000.0)
    with pytest.raises(interstage.Inconsistent, match="heat_capacity must be between"):
        interstage.WaterLoop("glycol", heat_capacity=3.7, density=1040.0)
    brine = interstage.WaterLoop("propylene glycol", strength=0.3, heat_capacity=3700.0, density=1040.0)
    readings = interstage.Readings(WATER, chilled_water=brine)
    table = pd.DataFrame({"in": [-1.0], "out": [-5.0], "flow": [50.0], "kw": [180.0]})
    result = readings.trend(MACHINE).analyse(readings.trend_table(table))
    assert result["capacity"].iloc[0] == pytest.approx(0.05 * 1040.0 * 3700.0 * 4.0, rel=1e-9)
    cold = table.set_axis(pd.DatetimeIndex(["2030-01-01"]))
    assert (interstage.assess_quality(cold, readings).flags == 0).all(axis=None)
    plain = interstage.assess_quality(cold, interstage.Readings(WATER)).flags
    assert plain["chilled_water_leaving"].iloc[0] == interstage.quality_flags()["out of physical range"]


def test_containers_and_pickles() -> None:
    readings = interstage.Readings(
        WATER, others={"oil": "degF"}, altitude=100.0, refrigerant="R-134a", condenser="holds liquid"
    )
    columns = {"in": [12.0], "out": [7.0], "flow": [50.0], "kw": [180.0], "oil": [122.0]}
    table = readings.si(pl.DataFrame(columns))
    assert isinstance(table, pl.DataFrame)
    assert table["oil"][0] == pytest.approx(323.15)
    assert readings.si(pd.DataFrame(columns, index=["x"])).index.tolist() == ["x"]
    again = pickle.loads(pickle.dumps(readings))
    assert repr(again) == repr(readings)
    assert again.facts == readings.facts
    assert again.si(columns)["power"][0] == 180e3
    with pytest.raises(interstage.WrongArgument, match="the table has no column 'oil'"):
        readings.si({name: value for name, value in columns.items() if name != "oil"})


# ---- checks of the rows against the declaration


def checked(columns: dict[str, list[float]], quantities: dict[str, tuple[str, str]]) -> Any:
    rows = len(next(iter(columns.values())))
    table = {**columns, "t": [60.0 * row for row in range(rows)]}
    quality = interstage.assess_quality(table, interstage.Readings(quantities, altitude=0.0), time="t")
    return {check.above: check for check in interstage.check_directions(quality)}


def test_exchanged_thermometers_are_found() -> None:
    quantities = {
        "in": ("chilled_water_entering", "degC"),
        "out": ("chilled_water_leaving", "degC"),
        "cin": ("condenser_water_entering", "degC"),
        "cout": ("condenser_water_leaving", "degC"),
    }
    columns = {"in": [7.0] * 60, "out": [12.0] * 60, "cin": [29.0] * 60, "cout": [34.0] * 60}
    found = checked(columns, quantities)
    assert found["chilled_water_entering"].verdict == "exchanged"
    assert "chilled_water_leaving seem to be exchanged" in found["chilled_water_entering"].text
    assert found["chilled_water_entering"].mean_difference == pytest.approx(-5.0)
    assert found["condenser_water_leaving"].verdict == "right"
    # A machine that does next to nothing shows no direction; half of the rows each way show none either.
    still = checked({**columns, "out": [7.1] * 60}, quantities)
    assert still["chilled_water_entering"].verdict == "cannot tell"
    half = checked({**columns, "out": [12.0] * 30 + [2.0] * 30}, quantities)
    assert half["chilled_water_entering"].verdict == "cannot tell"
    assert half["chilled_water_entering"].share == 0.5
    few = checked({name: values[:20] for name, values in columns.items()}, quantities)
    assert few["chilled_water_entering"].text == "20 rows differ by more than noise, 30 are needed"
    assert checked({"in": [7.0] * 60}, {"in": quantities["in"]}) == {}


def test_rows_of_a_machine_that_is_off_do_not_count() -> None:
    quantities = {**WATER}
    columns = {
        "in": [12.0] * 40 + [7.0] * 60,
        "out": [7.0] * 40 + [12.0] * 60,
        "flow": [50.0] * 100,
        "kw": [180.0] * 40 + [0.0] * 60,
    }
    found = checked(columns, quantities)
    assert (found["chilled_water_entering"].verdict, found["chilled_water_entering"].rows) == ("right", 40)


def test_wrong_units_are_doubted() -> None:
    readings = interstage.Readings(
        {
            "chw": ("chilled_water_leaving", "degC"),
            "pc": ("condenser_pressure", "kPa"),
            "kw": ("power", "kW"),
        },
        refrigerant="R-134a",
        altitude=0.0,
    )
    table = {"chw": [44.0, math.nan, 45.0], "pc": [118.0, 120.0, 119.0], "kw": [1e6, 1e6, 1e6]}
    doubts = interstage.check_units(table, readings)
    assert set(doubts) == {"chilled_water_leaving", "condenser_pressure"}
    assert doubts["chilled_water_leaving"].endswith("unusual in degC and usual in degF")
    assert "psia" in doubts["condenser_pressure"]
    assert "psig" in doubts["condenser_pressure"]
    right = {"chw": [7.0], "pc": [900.0], "kw": [180.0]}
    assert interstage.check_units(right, readings) == {}
    assert interstage.check_units({"chw": [], "pc": [], "kw": []}, readings) == {}
    with pytest.raises(interstage.WrongArgument, match="readings must be Readings"):
        interstage.check_units(right, {})  # type: ignore[arg-type]
    with pytest.raises(interstage.WrongArgument, match="quality must be Quality"):
        interstage.check_directions(right)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("column", "name", "unit", "said"),
    [
        ("evap_press_psig", "evaporator_pressure", "psia", "psig"),
        ("CHWST degF", "chilled_water_leaving", "degC", "degF"),
        ("P [PSIG]", "evaporator_pressure", "psia", "psig"),
        ("P_KPA", "evaporator_pressure", "psia", "kPa"),
    ],
)
def test_a_name_that_ends_in_another_unit_is_refused(column, name, unit, said) -> None:
    with pytest.raises(interstage.Inconsistent, match=f"says '{said}', the declaration '{unit}'"):
        interstage.Readings({column: (name, unit)})
    circuit = interstage.Circuit(
        interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)]
    )
    with pytest.raises(interstage.Inconsistent, match=f"says '{said}'"):
        interstage.Trend(circuit, {name: (column, unit)})


def test_names_that_only_look_like_units_pass() -> None:
    interstage.Readings(
        {"flow_min": ("chilled_water_flow", "gpm"), "P_PSIA": ("evaporator_pressure", "psia")}
    )
    interstage.Readings({"p_bar": ("evaporator_pressure", "bar gauge")}, altitude=0.0)


def test_a_current_below_zero_tells_no_power() -> None:
    plate = {"rated_voltage": 4160.0, "rated_current": 100.0, "rated_power_factor": 0.9}
    told = interstage.Readings({"i": ("motor_current", "A")}, **plate).power({"i": [80.0, 0.0, -5.0]})
    for name in ("power", "lowest", "highest"):
        assert np.isnan(told[name]).tolist() == [False, False, True]
    read = {"i": ("motor_current", "A"), "v": ("motor_voltage", "V"), "pf": ("power_factor", "fraction")}
    table = {"i": [80.0, -5.0], "v": [4160.0] * 2, "pf": [0.9] * 2}
    assert np.isnan(interstage.Readings(read).power(table)["power"]).tolist() == [False, True]


def test_known_liquids_are_known_in_any_case_and_as_any_number() -> None:
    loop = interstage.WaterLoop(" Ethylene Glycol", strength=np.float64(0.25))
    assert loop == interstage.WaterLoop("ethylene glycol", strength=0.25)
    assert interstage.WaterLoop("ethylene glycol", strength=np.float32(0.25)).density_at(280.0) > 1030.0
    assert interstage.WaterLoop("Water").plain

"""Evidence: faults put into a modelled machine are found again, and what cannot be told is not told."""

import math

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage
from interstage import Departure, units, weigh_evidence

REFRIGERANT = interstage.Refrigerant("R-134a")
CIRCUIT = interstage.Circuit(REFRIGERANT, stages=[interstage.Stage(polytropic_efficiency=0.78)])
FIGURES = (
    "condensing_temperature",
    "condenser_ua",
    "condenser_approach",
    "evaporator_ua",
    "evaporator_approach",
    "subcooling",
    "discharge_superheat",
    "stage_efficiency",
    "condenser_water_flow",
    "condenser_water_range",
    "chilled_water_flow",
    "chilled_water_range",
    "heat_balance",
)


def export(
    days=20, seed=1, evaporator=1.0, condenser=1.0, tower_flow=1.0, chilled_flow=1.0, subcooling=1.5
) -> pd.DataFrame:
    """An invented machine of 1 MW, hour by hour, with noise; factors are 1 where it is in good order."""
    rng = np.random.default_rng(seed)
    hours = 24 * days
    capacity = 0.65e6 + 0.3e6 * np.sin(2.0 * np.pi * np.arange(hours) / 24.0)
    tower = 297.0 + 3.0 * np.sin(2.0 * np.pi * np.arange(hours) / 24.0 + 0.7) + rng.normal(0.0, 1.0, hours)
    flows = {"chilled": 40.0 * chilled_flow, "tower": 50.0 * tower_flow}
    water = 0.45 / tower_flow**0.8 + 0.55  # resistance: water side and the rest
    chiller = interstage.Chiller(
        CIRCUIT,
        evaporator=interstage.Exchanger.evaporator(ua=0.25e6 * evaporator),
        condenser=interstage.Exchanger.condenser(ua=0.28e6 * condenser / water),
        subcooling=subcooling,
    )
    points = chiller.solve(
        capacity=capacity,
        chilled_water=interstage.WaterFlow(mass_flow=flows["chilled"]),
        chilled_water_leaving=np.full(hours, 280.0),
        condenser_water=interstage.WaterFlow(mass_flow=flows["tower"]),
        condenser_water_entering=tower,
    )
    condensing, evaporating = points.condensing_temperatures[:, 0], points.evaporating_temperatures[:, 0]
    columns = {
        "evaporator_saturation_temperature": evaporating,
        "condenser_saturation_temperature": condensing,
        "liquid_line_temperature": condensing - subcooling,
        "discharge_temperature": points.discharge_temperatures[:, 0],
        "chilled_water_entering": points.chilled_water_entering,
        "chilled_water_leaving": np.full(hours, 280.0),
        "condenser_water_entering": tower,
        "condenser_water_leaving": points.condenser_water_leaving,
    }
    table = pd.DataFrame({name: values + rng.normal(0.0, 0.05, hours) for name, values in columns.items()})
    table["chilled_water_flow"] = flows["chilled"] / 1000.0 * rng.normal(1.0, 0.004, hours)
    table["condenser_water_flow"] = flows["tower"] / 1000.0 * rng.normal(1.0, 0.004, hours)
    table["power"] = points.power * rng.normal(1.0, 0.003, hours)
    table.index = pd.date_range("2023-05-01", periods=hours, freq="h")
    return table


UNITS = {"chilled_water_flow": "m3/s", "condenser_water_flow": "m3/s", "power": "W"}


def analysed(table: pd.DataFrame) -> pd.DataFrame:
    readings = {name: (name, UNITS.get(name, "K")) for name in table.columns}
    return interstage.analysed(interstage.Trend(CIRCUIT, readings), table)


class Line:
    """A baseline of one figure, linear in load and tower water."""

    def __init__(self, figure: str, frame: pd.DataFrame) -> None:
        actual = frame.filter(regex=rf"^{figure} \[").iloc[:, 0].to_numpy()
        self.factors = np.linalg.lstsq(self.terms(frame), actual, rcond=None)[0]
        self.half = 1.96 * float(np.std(actual - self.terms(frame) @ self.factors))

    @staticmethod
    def terms(frame: pd.DataFrame) -> np.ndarray:
        load = frame["capacity [W]"] / 1e6
        tower = frame["condenser_water_entering [K]"] - 297.0
        return np.column_stack([np.ones(len(frame)), load, tower, load**2, load * tower])

    def predict(self, frame: pd.DataFrame) -> tuple[np.ndarray, np.ndarray]:
        return self.terms(frame) @ self.factors, np.full(len(frame), self.half)


@pytest.fixture(scope="module")
def baselines() -> dict[str, Line]:
    healthy = analysed(export())
    return {figure: Line(figure, healthy) for figure in (*FIGURES, "power")}


def evidence(baselines: dict[str, Line], **fault: float) -> interstage.Evidence:
    frame = analysed(export(days=6, seed=2, **fault))
    chosen = {figure: baselines[figure] for figure in FIGURES}
    found = interstage.departures(frame, chosen, block="6h")
    return weigh_evidence(found, condenser="holds liquid")


@pytest.mark.parametrize(
    ("fault", "expected"),
    [
        ({"condenser": 0.7}, "condenser fouling"),
        ({"tower_flow": 0.85}, "low condenser water flow"),
        ({"chilled_flow": 0.85}, "low chilled-water flow"),
    ],
)
def test_faults_of_a_modelled_machine_are_found(baselines, fault, expected) -> None:
    found = evidence(baselines, **fault)
    assert found.verdict == expected
    assert found.suspicions[0].supporting
    assert "qualified" in found.reason or "certified" in found.reason


def test_a_machine_in_good_order_is_accused_of_nothing(baselines) -> None:
    found = evidence(baselines)
    assert found.verdict == "cannot tell"
    assert found.reason.startswith("no figure departs")


def test_what_looks_alike_is_not_told_apart(baselines) -> None:
    # Oil and fouling lower the conductance of the evaporator alike.
    found = evidence(baselines, evaporator=0.7)
    assert found.verdict == "cannot tell"
    assert "evaporator fouling" in found.reason
    assert "excess oil in the evaporator" in found.reason


def test_evidence_names_rows_and_readings(baselines) -> None:
    found = evidence(baselines, condenser=0.7)
    table = found.departures_table().set_index("figure")
    assert table.loc["condenser_ua", "departure [SI]"] < -0.2 * table.loc["condenser_ua", "expected [SI]"]
    assert table.loc["condenser_ua", "rows"] == 144
    assert table.loc["condenser_ua", "strongest row"] in pd.date_range("2023-05-01", periods=144, freq="h")
    assert found.table()["fault"].iloc[0] == "condenser fouling"
    assert "condenser_ua down" in found.table()["supported by"].iloc[0]
    assert "condenser fouling" in found._repr_html_()
    assert found.not_weighed["blocked tank vent"] == "the machine has no flash tank"
    assert "condensing_temperature_swing" in found.not_weighed["near surge"]


def test_swings_near_surge_are_found(baselines) -> None:
    healthy = interstage.with_swings(analysed(export(days=20)))
    figures = ("power_swing", "condensing_temperature_swing")
    swings = {name: Line(name, healthy[12:]) for name in figures}
    lines = {**{name: baselines[name] for name in FIGURES}, **swings}
    table = export(days=6, seed=2)
    table["power"] *= 1.0 + 0.15 * (-1.0) ** np.arange(len(table))
    table["condenser_saturation_temperature"] += 1.0 * (-1.0) ** np.arange(len(table))
    surging = interstage.with_swings(analysed(table))
    found = interstage.departures(surging, lines, block="6h")
    # Every other row is warm: the condenser on the mean is as before.
    assert weigh_evidence(found, condenser="holds liquid").verdict == "near surge"
    ramp = interstage.with_swings(pd.DataFrame({"power [W]": 1e3 * np.arange(40.0)}), rows=10)
    assert ramp["power_swing [W]"].iloc[-1] == pytest.approx(1e3 / math.sqrt(2.0))
    assert ramp["power_swing [W]"].iloc[:9].isna().all()
    with pytest.raises(interstage.OutOfRange, match="rows must be at least 3"):
        interstage.with_swings(ramp, rows=2)


def moved(figure: str, score: float) -> Departure:
    return Departure(figure, score, 1.959963984540054, 100.0, 50, 5, 0, 49, 0)


@pytest.mark.parametrize("signature", interstage.SIGNATURES, ids=lambda signature: signature.fault)
def test_each_signature_is_recognised_by_itself(signature) -> None:
    figures = {figure for group in interstage._signatures.GROUPS for figure in group}
    size = {"up": 5.0, "down": -5.0}
    found = [moved(figure, size.get(signature.sign(figure) or "", 0.0)) for figure in sorted(figures)]
    ranked = weigh_evidence(found, condenser="drains freely", tank=True).suspicions
    alike = [fault for item in ranked if item.odds > ranked[0].odds - math.log(10.0) for fault in item.faults]
    assert signature.fault in alike
    assert not ranked[0].contradicting


def test_kind_of_condenser_and_tank_decide_what_counts() -> None:
    found = [moved("subcooling", 6.0), moved("condenser_ua", -1.0), moved("apparent_gas_pressure", 0.0)]
    assert set(weigh_evidence(found).not_used) == {"subcooling", "apparent_gas_pressure"}
    assert set(weigh_evidence(found, condenser="drains freely").not_used) == {"subcooling"}
    assert set(weigh_evidence(found, condenser="holds liquid").not_used) == {"apparent_gas_pressure"}
    tank = weigh_evidence([moved("stage_2_tank_pressure_exponent", -6.0)], tank=True)
    assert "lower metering device stuck open" in tank.suspicions[0].faults


def test_an_opposite_reading_is_named() -> None:
    found = [moved("condenser_ua", -6.0), moved("condensing_temperature", -4.0)]
    fouling = next(i for i in weigh_evidence(found).suspicions if "condenser fouling" in i.faults)
    assert [item.figure for item in fouling.contradicting] == ["condensing_temperature"]


def test_no_single_figure_outweighs_all_others() -> None:
    few = weigh_evidence([moved("condenser_ua", -6.0)]).suspicions[0].odds
    many = weigh_evidence([moved("condenser_ua", -600.0)]).suspicions[0].odds
    assert many < few + 3.0


STILL = ("condenser_ua", "condensing_temperature", "evaporator_ua", "discharge_superheat", "heat_balance")


@pytest.mark.parametrize("score", [-6.0, -3.0, 3.0, 6.0])
@pytest.mark.parametrize(
    "figure", sorted(figure for group in interstage._signatures.GROUPS for figure in group)
)
def test_one_figure_alone_names_no_fault(figure, score) -> None:
    for others in ((), STILL):
        found = [moved(figure, score), *(moved(name, 0.0) for name in others if name != figure)]
        for condenser in (None, "holds liquid", "drains freely"):
            weighed = weigh_evidence(found, condenser=condenser, tank=True)
            assert weighed.verdict == "cannot tell", weighed


def test_a_meter_that_drifts_is_not_low_flow() -> None:
    meter = [
        moved("condenser_water_flow", -4.0),
        moved("condenser_ua", 0.0),
        moved("condensing_temperature", 0.0),
    ]
    alone = weigh_evidence(meter)
    assert alone.verdict == "cannot tell"
    assert "sensor of its own" in alone.reason
    agreed = weigh_evidence([*meter, moved("condenser_water_range", 4.0)])
    assert agreed.verdict == "low condenser water flow"
    assert weigh_evidence([*meter, moved("condenser_water_range", 0.0)]).verdict == "cannot tell"


def test_a_pressure_that_drifts_is_not_fouling_unless_another_figure_vouches_for_it() -> None:
    found = [
        moved("condensing_temperature", 5.0),
        moved("condenser_approach", 5.0),
        moved("condenser_ua", -5.0),
    ]
    alone = weigh_evidence(found)
    assert alone.verdict == "cannot tell"
    assert "rest on the condenser pressure" in alone.reason
    vouched = weigh_evidence(
        [
            *found,
            moved("subcooling", 0.0),
            moved("discharge_superheat", 0.0),
            moved("condenser_water_flow", 0.0),
            moved("condenser_water_range", 0.0),
        ],
        condenser="holds liquid",
    )
    assert vouched.verdict == "condenser fouling"


def test_what_nothing_at_hand_tells_apart_is_one_suspicion() -> None:
    found = [
        moved("condensing_temperature", 5.0),
        moved("condenser_ua", -5.0),
        moved("discharge_superheat", 0.0),
        moved("condenser_water_flow", 0.0),
        moved("condenser_water_range", 0.0),
    ]
    unknown = weigh_evidence([*found, moved("subcooling", 5.0)])
    assert unknown.verdict == "condenser fouling or non-condensable gas or overcharge"
    gas = weigh_evidence([*found, moved("apparent_gas_pressure", 5.0)], condenser="drains freely")
    assert gas.verdict == "non-condensable gas or overcharge"
    assert "purge run time" in gas.reason


def test_a_departure_that_is_no_number_is_left_out() -> None:
    found = [moved("condenser_ua", math.nan), moved("heat_balance", 0.0)]
    weighed = weigh_evidence(found)
    assert weighed.not_used["condenser_ua"] == "its departure is not a number"
    assert weighed.reason.startswith("no figure departs") or weighed.reason.startswith("no figure could")
    assert all(math.isfinite(item.odds) for item in weighed.suspicions)


def test_nothing_to_compare_is_no_verdict(baselines) -> None:
    empty = analysed(export(days=1)).iloc[:0]
    line = {"condenser_ua": baselines["condenser_ua"]}
    assert interstage.departures(empty, line, block="D") == []
    assert weigh_evidence([]).verdict == "cannot tell"
    frame = analysed(export(days=1))
    frame["condenser_ua [W/K]"] = np.nan
    assert interstage.departures(frame, line, block="D") == []
    assert interstage.departures(frame, line, block="D", where=np.zeros(24, bool)) == []


class Short:
    """Tells three rows, whatever it is asked for."""

    def predict(self, frame):
        return np.ones(3), np.ones(3)


def test_bad_input_is_refused(baselines) -> None:
    frame = analysed(export(days=1))
    line = {"condenser_ua": baselines["condenser_ua"]}
    with pytest.raises(interstage.WrongArgument, match="pandas DataFrame"):
        interstage.departures({"condenser_ua": [1.0]}, line, block="D")
    with pytest.raises(interstage.WrongArgument, match=r"got a DataFrame of polars: pass its to_pandas\(\)"):
        interstage.departures(pl.from_pandas(frame), line, block="D")
    with pytest.raises(interstage.UnknownOption, match="oil_pressure"):
        interstage.departures(frame, {"oil_pressure": line["condenser_ua"]}, block="D")
    with pytest.raises(interstage.WrongArgument, match="one truth value a row"):
        interstage.departures(frame, line, block="D", where=[True])
    with pytest.raises(interstage.WrongArgument, match="step of time"):
        interstage.departures(frame, line, block="1 fortnight of days")
    for never in ("0D", "-1D"):
        with pytest.raises(interstage.WrongArgument, match="is not above 0"):
            interstage.departures(frame, line, block=never)
    with pytest.raises(interstage.WrongArgument, match="times in the index"):
        interstage.departures(frame.reset_index(), line, block="D")
    with pytest.raises(interstage.WrongArgument, match=r"condenser_ua must have predict\(frame\), got int"):
        interstage.departures(frame, {"condenser_ua": 3}, block="D")
    with pytest.raises(interstage.WrongArgument, match="found must hold departures"):
        weigh_evidence(frame)
    with pytest.raises(interstage.WrongArgument, match="no column of condenser_ua"):
        interstage.departures(frame.drop(columns="condenser_ua [W/K]"), line, block="D")
    with pytest.raises(interstage.UnknownOption, match="drains freely"):
        weigh_evidence([], condenser="flooded")
    with pytest.raises(interstage.OutOfRange, match="clear must be above 0"):
        weigh_evidence([], clear=0.0)
    with pytest.raises(interstage.OutOfRange, match="drift of condenser_ua"):
        interstage.departures(frame, line, block="D", drift={"condenser_ua": -1.0})
    with pytest.raises(interstage.WrongArgument, match="drift of condenser_ua must be a number"):
        interstage.departures(frame, line, block="D", drift={"condenser_ua": "much"})
    with pytest.raises(interstage.UnknownOption, match="drift: no fault is told by 'condenser_au'"):
        interstage.departures(frame, line, block="D", drift={"condenser_au": 1.0})
    with pytest.raises(interstage.WrongArgument, match="baselines must be a mapping"):
        interstage.departures(frame, list(line.values()), block="D")
    with pytest.raises(interstage.WrongArgument, match="must predict one value a row"):
        interstage.departures(frame, {"condenser_ua": Short()}, block="D")
    with pytest.raises(interstage.Inconsistent, match="twice"):
        weigh_evidence([moved("subcooling", 1.0)] * 2)


def test_declared_readings_are_analysed_alike() -> None:
    table = export(days=1)
    given = {name: (name, UNITS.get(name, "K")) for name in table.columns}
    readings = interstage.Readings(given, condenser="holds liquid")
    frame = interstage.analysed(readings.trend(CIRCUIT), readings.trend_table(table))
    pd.testing.assert_frame_equal(frame, analysed(table), check_like=True)


def test_units_in_column_names_do_not_matter(baselines) -> None:
    frame = analysed(export(days=2, condenser=0.8))
    line = {"condensing_temperature": baselines["condensing_temperature"]}
    celsius = frame.rename(columns={"condensing_temperature [K]": "condensing_temperature [degC]"})
    celsius["condensing_temperature [degC]"] -= 273.15
    a, b = (interstage.departures(f, line, block="D")[0].shift for f in (frame, celsius))
    assert a == pytest.approx(b, rel=1e-9)
    kelvin = units.kelvin_difference_from_fahrenheit_difference(1.0)
    assert kelvin == pytest.approx(5.0 / 9.0)


class Test_gas_at_rest:
    T = 294.15
    R123 = interstage.Refrigerant("R-123")

    def frame(self, gas: float, rows: int = 40, warming: float = 0.0) -> pd.DataFrame:
        temperature = self.T + warming * np.arange(rows)
        pressure = np.array([self.R123.saturation(T=float(t)).p for t in temperature]) + gas
        return pd.DataFrame(
            {
                "condenser_pressure [Pa]": pressure,
                "liquid_line_temperature [K]": temperature,
                "discharge_temperature [K]": temperature + 0.1,
            },
            index=pd.date_range("2023-01-07", periods=rows, freq="5min"),
        )

    def look(self, frame: pd.DataFrame, at_rest: object = None) -> interstage.GasAtRest:
        return interstage.gas_at_rest(
            frame,
            self.R123,
            at_rest=np.ones(len(frame), bool) if at_rest is None else at_rest,
            temperatures=["liquid_line_temperature", "discharge_temperature"],
        )

    def test_rows_that_run_are_no_rest_whatever_is_said_of_them(self) -> None:
        """Subcooled liquid below a condenser at work would look like gas."""
        frame = self.frame(6000.0).assign(**{"power [W]": 200e3, "refrigerant_lift [K]": 25.0})
        found = self.look(frame)
        assert found.verdict == "cannot tell"
        assert "in 40 of the rows at rest power and lift show that the machine runs" in found.reason
        frame.loc[frame.index[:30], ["power [W]", "refrigerant_lift [K]"]] = 1e3, 0.5
        found = self.look(frame)
        assert (found.verdict, found.rows) == ("gas", 18)
        assert "10 left out because" in found.reason
        # Heaters alone are no motor at work, and no power tells nothing.
        for power in (1e3, np.nan):
            assert (
                self.look(frame.assign(**{"power [W]": power, "refrigerant_lift [K]": 0.5})).verdict == "gas"
            )

    def test_gas_shows(self) -> None:
        found = self.look(self.frame(6000.0))
        assert found.verdict == "gas"
        # The mean of the two thermometers is 0.05 K above the liquid: 0.05 K is 180 Pa.
        assert abs(found.pressure - 6000.0) < 200.0
        assert found.rows == 28

    def test_an_atmosphere_is_a_gauge_mixed_up_and_no_gas(self) -> None:
        low, high = self.look(self.frame(-101325.0)), self.look(self.frame(101325.0))
        assert (low.verdict, high.verdict) == ("cannot tell", "cannot tell")
        assert "gauge pressure seems to be taken for absolute" in low.reason
        assert "absolute pressure seems to be taken for gauge" in high.reason
        rest = {"at_rest": np.ones(40, bool), "temperatures": ["liquid_line_temperature"]}
        frame = self.frame(84000.0)
        assert interstage.gas_at_rest(frame, self.R123, **rest, barometer=84000.0).verdict == "cannot tell"
        assert interstage.gas_at_rest(frame, self.R123, **rest, barometer=101325.0).verdict == "gas"

    def test_rest_is_counted_in_time(self) -> None:
        # Rows of one minute: an hour is 60 of them.
        frame = self.frame(6000.0, rows=100)
        frame.index = pd.date_range("2023-01-07", periods=100, freq="1min")
        assert self.look(frame).rows == 40
        # Nobody knows what the machine did in a gap of two hours.
        gap = self.frame(6000.0)
        gap.index = gap.index.where(np.arange(40) < 20, gap.index + pd.Timedelta("2h"))
        assert self.look(gap).rows == 2 * 8
        with pytest.raises(interstage.WrongArgument, match="times in the index"):
            self.look(frame.reset_index(drop=True))
        with pytest.raises(interstage.Inconsistent, match="not in order"):
            self.look(frame[::-1])
        for wrong in (12, "soon", "-1h"):
            with pytest.raises(interstage.WrongArgument, match="rest_before"):
                interstage.gas_at_rest(
                    frame,
                    self.R123,
                    at_rest=np.ones(100, bool),
                    temperatures=["liquid_line_temperature"],
                    rest_before=wrong,
                )

    def test_rows_that_scatter_widen_the_interval(self) -> None:
        calm = self.look(self.frame(2000.0))
        frame = self.frame(2000.0)
        frame["condenser_pressure [Pa]"] += 3000.0 * (-1.0) ** np.arange(40)
        wild = self.look(frame)
        scatter = 1.96 * 3000.0 * math.sqrt(28 / 27)
        assert wild.interval == pytest.approx(math.hypot(calm.interval, scatter), rel=1e-4)
        assert (calm.verdict, wild.verdict) == ("gas", "no gas beyond the interval")

    def test_no_gas_is_not_alleged(self) -> None:
        assert self.look(self.frame(0.0)).verdict == "no gas beyond the interval"

    def test_a_machine_out_of_equilibrium_cannot_tell(self) -> None:
        assert self.look(self.frame(6000.0, warming=0.1)).verdict == "cannot tell"
        assert self.look(self.frame(6000.0), at_rest=np.zeros(40, bool)).verdict == "cannot tell"
        assert self.look(self.frame(6000.0).iloc[:0]).verdict == "cannot tell"
        assert self.look(self.frame(-9000.0)).verdict == "cannot tell"


class Test_shortfall:
    class Steady:
        def predict(self, frame: pd.DataFrame) -> tuple[np.ndarray, np.ndarray]:
            return np.full(len(frame), 300e3), np.full(len(frame), 6e3)

    def frame(self, **columns: object) -> pd.DataFrame:
        index = pd.date_range("2023-07-01", periods=48, freq="30min")
        return pd.DataFrame({"power [kW]": 320.0, **columns}, index=index)

    def test_energy_comes_first_then_money(self) -> None:
        price = np.where(np.arange(48) < 24, 0.10, 0.30)
        cost = interstage.shortfall(self.frame(), self.Steady(), tariff=price, block="6h")
        assert cost.energy == pytest.approx(20.0 * 24.0)
        assert cost.cost == pytest.approx(20.0 * 12.0 * 0.10 + 20.0 * 12.0 * 0.30)
        # Four blocks of 36 kWh each, and 2 % of 7200 kWh at 95 %.
        assert cost.energy_interval == pytest.approx(math.hypot(2 * 36.0, 1.95996 * 0.02 * 7200.0), rel=1e-5)
        assert cost.hours == 24.0
        assert cost.clear

    def test_what_is_missing_counts_for_nothing(self) -> None:
        frame = self.frame()
        frame.iloc[:12] = np.nan
        cost = interstage.shortfall(frame, self.Steady(), tariff=0.1, block="6h")
        assert (cost.hours, cost.hours_without) == (18.0, 6.0)
        assert cost.energy == pytest.approx(20.0 * 18.0)

    def test_gaps_are_no_time(self) -> None:
        frame = pd.concat([self.frame().iloc[:10], self.frame().iloc[40:]])
        cost = interstage.shortfall(frame, self.Steady(), tariff=0.1, block="6h")
        assert cost.hours == 9 * 0.5 + 0.75 + 8 * 0.5

    def test_bad_input_is_refused(self) -> None:
        frame = self.frame()
        with pytest.raises(interstage.WrongArgument, match="must increase"):
            interstage.shortfall(frame[::-1], self.Steady(), tariff=0.1, block="6h")
        with pytest.raises(interstage.WrongArgument, match="must increase"):
            interstage.shortfall(pd.concat([frame, frame]), self.Steady(), tariff=0.1, block="6h")
        with pytest.raises(interstage.WrongArgument, match="tariff"):
            interstage.shortfall(frame, self.Steady(), tariff=[0.1, 0.2], block="6h")
        with pytest.raises(interstage.WrongArgument, match="give hours="):
            interstage.shortfall(frame.reset_index(), self.Steady(), tariff=0.1, block=np.zeros(48))

    def test_the_baseline_of_another_figure_tells_no_money(self) -> None:
        frame = self.frame().assign(**{"condenser_ua [W/K]": 1e5})
        frame["capacity [W]"] = np.linspace(1e6, 2e6, len(frame))
        other = interstage.Baseline.fit(frame, "condenser_ua", drivers=["capacity"])
        with pytest.raises(interstage.WrongArgument, match="must tell power, got one of condenser_ua"):
            interstage.shortfall(frame, other, tariff=0.1, block="6h")
        with pytest.raises(interstage.WrongArgument, match="must tell evaporator_ua"):
            interstage.departures(frame, {"evaporator_ua": other}, block="D")


class _Steady:
    def predict(self, frame):
        return np.full(len(frame), 300e3), np.full(len(frame), 5e3)


@pytest.mark.parametrize("zone", ["UTC", "Europe/Berlin", "America/Havana"])
@pytest.mark.parametrize("block", ["D", "h", "30min", "7D"])
def test_shortfall_of_a_zone_through_autumn_is_that_of_plain_times(zone, block):
    # The clocks of Berlin and Havana go back in these days; energy is power times hours all the same.
    rows = pd.date_range("2023-10-27", periods=288, freq="h", tz=zone)
    frame = pd.DataFrame({"power [W]": 330e3}, index=rows)
    told = interstage.shortfall(frame, _Steady(), tariff=0.1, block=block)
    assert told.energy == pytest.approx(30.0 * 288)
    assert told.hours == pytest.approx(288)


def test_a_day_of_25_hours_is_one_block():
    rows = pd.date_range("2023-10-29", periods=25, freq="h", tz="Europe/Berlin")
    frame = pd.DataFrame({"power [W]": 330e3}, index=rows)
    told = interstage.shortfall(frame, _Steady(), tariff=0.1, block="D", drift=0.0)
    assert told.energy_interval == pytest.approx(5.0 * 25)
    told = interstage.shortfall(frame, _Steady(), tariff=0.1, block="h", drift=0.0)
    assert told.energy_interval == pytest.approx(5.0 * 25**0.5)


def test_shortfall_of_nothing_is_missing_with_the_reason():
    rows = pd.date_range("2023-07-01", periods=24, freq="h")
    frame = pd.DataFrame({"power [W]": np.nan}, index=rows)
    told = interstage.shortfall(frame, _Steady(), tariff=0.1, block="D")
    assert np.isnan([told.energy, told.energy_interval, told.cost, told.cost_interval]).all()
    assert not told.clear
    assert repr(told) == "Shortfall(cannot tell: power is missing in every row; 24 h cannot be judged)"
    frame.iloc[:12] = 330e3
    told = interstage.shortfall(frame, _Steady(), tariff=0.1, block="D")
    assert told.energy == pytest.approx(360.0)
    assert "; 12 h cannot be judged" in repr(told)


def test_a_row_without_time_is_refused_though_hours_are_given():
    rows = pd.DatetimeIndex(["2023-07-01", pd.NaT, "2023-07-02"])
    frame = pd.DataFrame({"power [W]": 330e3}, index=rows)
    with pytest.raises(interstage.WrongArgument, match="NaT"):
        interstage.shortfall(frame, _Steady(), tariff=0.1, block="D", hours=1.0)
    with pytest.raises(interstage.WrongArgument, match="a frame without rows has no step of time"):
        interstage.shortfall(frame.iloc[:0], _Steady(), tariff=0.1, block="D")

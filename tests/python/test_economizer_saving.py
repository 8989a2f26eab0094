"""What an economizer saves, from both ends: against the compiled analysis, modelled machines and reasons."""

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import Trend, Uncertainty, economizer_saving
from interstage._economizer_saving import _if_working
from trend_machine import CIRCUIT, COLUMNS, TREND, accuracies, machine

#: Without the reading of the tank, which would decide by itself.
BLIND = {name: pair for name, pair in COLUMNS.items() if "tank" not in name}
SHARP = {name: one for name, one in accuracies(0.1, random=0.5).items() if name in BLIND}
OPTIONS = {"drive_efficiency": 0.93, "widest_efficiency_interval": 1.0}


def blind(circuit: interstage.Circuit = CIRCUIT, **options: float) -> Uncertainty:
    return Uncertainty(Trend(circuit, BLIND, **{**OPTIONS, **options}), SHARP)


def dead(rows: int = 8) -> pd.DataFrame:
    """Readings of the machine with its economizer off, at the same capacities."""
    table = machine(rows)
    for row, capacity in zip(table.index, np.linspace(1.5e6, 2.2e6, rows), strict=True):
        conditions = {
            "evaporating_temperature": 279.0,
            "condensing_temperature": 309.0,
            "capacity": capacity,
            "suction_superheat": 1.5,
            "subcooling": 2.5,
        }
        off, on = CIRCUIT.without_economizers().solve(**conditions), CIRCUIT.solve(**conditions)
        table.loc[row, ["discharge", "power"]] = off.discharge_temperature, off.power / 0.93
        table.loc[row, "tower_flow"] *= off.heat_rejected / on.heat_rejected
    return table


@pytest.mark.parametrize("pressures", ["equal ratio", "equal temperature step", [65e3]])
@pytest.mark.parametrize("stage", [{"isentropic_efficiency": 0.75}, {"polytropic_efficiency": 0.8}], ids=str)
def test_a_machine_as_designed_saves_what_its_cycle_says(pressures, stage) -> None:
    """Whatever the rule for the interstage pressure; from both ends, and nothing lacks."""
    circuit = interstage.Circuit(
        CIRCUIT.refrigerant,
        stages=[interstage.Stage(**stage)] * 2,
        interstages=[interstage.FlashTank()],
        interstage_pressures=pressures,
    )
    table = machine(circuit=circuit)
    trend = Trend(circuit, BLIND, drive_efficiency=0.93, widest_efficiency_interval=1.0)
    found = economizer_saving(Uncertainty(trend, SHARP).analyse(table))
    cycle = circuit.solve(
        evaporating_temperature=279.0,
        condensing_temperature=309.0,
        capacity=1.5e6,
        suction_superheat=1.5,
        subcooling=2.5,
    )
    assert found.if_working == pytest.approx(cycle.economizer_benefit, abs=1e-6)
    assert found.potential == pytest.approx(cycle.economizer_benefit, abs=1e-6)
    assert abs(found.lacking) < 1e-6


def test_it_is_the_measured_saving_where_the_tank_shows_that_it_works() -> None:
    """The compiled analysis then tells both alike: figures and derivatives are the same."""
    rng = np.random.default_rng(4)
    table = machine(30)
    table *= 1.0 + 1e-3 * rng.standard_normal(table.shape) * ~table.columns.isin(
        ["in", "out", "tower", "warm"]
    )
    table["suction"] = 280.5 + rng.uniform(-0.5, 2.0, 30)
    told = Uncertainty(TREND, accuracies()).analyse(table)
    rows = (told.result["economizer_evidence"] == 1.0).to_numpy() & told.result[
        "measured_saving"
    ].notna().to_numpy()
    assert rows.sum() > 20
    assert np.ptp(told.result["stage_efficiency"][rows]) > 0.02
    values, slopes = _if_working(told, rows)
    np.testing.assert_allclose(values[rows], told.result["measured_saving"][rows], rtol=0.0, atol=1e-9)
    expected = told._at("measured_saving")[rows]
    scale = np.abs(expected).max(axis=0) + 1e-300
    np.testing.assert_allclose(slopes[rows] / scale, expected / scale, rtol=2e-3, atol=1e-4)
    assert np.isnan(values[~rows]).all()


def test_derivatives_are_those_of_moved_readings() -> None:
    uncertainty = blind()
    table = machine(3)
    told = uncertainty.analyse(table)
    every = np.ones(3, dtype=bool)
    _, slopes = _if_working(told, every)
    for place, name in enumerate(BLIND):
        column = BLIND[name][0]
        step = 1e-4 * table[column].abs().mean() if table[column].mean() > 1e3 or "flow" in column else 0.01
        ends = [
            _if_working(uncertainty.analyse(table.assign(**{column: table[column] + move})), every)[0]
            for move in (-step, step)
        ]
        found = (ends[1] - ends[0]) / (2.0 * step)
        np.testing.assert_allclose(slopes[:, place], found, rtol=5e-3, atol=1e-6 / step)


def test_both_ends_of_a_machine_that_works_and_of_one_that_does_not() -> None:
    works = economizer_saving(blind().analyse(machine(20)), drive_uncertainty=0.003)
    assert works.verdict == "works"
    # The readings are those of a solved cycle: taken for working they give its potential.
    assert works.if_working == pytest.approx(works.potential, abs=1e-6)
    assert abs(works.lacking) < 1e-6
    assert 0.0 < works.shown < works.if_working
    off = economizer_saving(blind().analyse(dead(20)), drive_uncertainty=0.003)
    assert off.verdict == "does not work as designed"
    assert off.shown == pytest.approx(0.0, abs=1e-6)
    assert off.shown < off.if_working < off.potential
    assert off.lacking == pytest.approx(off.potential - off.if_working)
    assert "does not work as designed" in repr(off)
    dull = economizer_saving(blind().analyse(machine(20)), drive_uncertainty=0.05)
    assert dull.verdict == "cannot tell"
    assert dull.dominant == "drive efficiency"
    assert dull.if_working_interval == pytest.approx(
        np.hypot(
            np.sqrt(works.if_working_interval**2 - (0.003 * (1.0 - works.if_working)) ** 2),
            0.05 * (1.0 - works.if_working),
        ),
        rel=1e-3,
    )


def test_random_parts_average_out_and_biases_do_not() -> None:
    noisy = {
        name: interstage.Accuracy(0.0, random=one.bias * 10.0, unit=one.unit) for name, one in SHARP.items()
    }
    uncertainty = Uncertainty(Trend(CIRCUIT, BLIND, **OPTIONS), noisy)
    table = pd.concat([machine(1)] * 16)
    one = economizer_saving(uncertainty.analyse(table[:1]), drive_uncertainty=0.0)
    many = economizer_saving(uncertainty.analyse(table), drive_uncertainty=0.0)
    assert (one.rows, many.rows) == (1, 16)
    assert many.if_working_interval == pytest.approx(one.if_working_interval / 4.0, rel=1e-6)
    still = Uncertainty(Trend(CIRCUIT, BLIND, **OPTIONS), {name: accuracies()[name] for name in BLIND})
    few, more = (economizer_saving(still.analyse(table[:rows])).lacking_interval for rows in (1, 16))
    assert 0.9 < more / few < 1.0
    part = np.arange(16) < 4
    assert economizer_saving(uncertainty.analyse(table), rows=part, drive_uncertainty=0.0).rows == 4


def test_what_cannot_be_told_says_why() -> None:
    plain = CIRCUIT.without_economizers()
    cases = {
        "the circuit has no economizer": blind(plain).analyse(machine(2)),
        "drive efficiency": Uncertainty(Trend(CIRCUIT, BLIND), SHARP).analyse(machine(2)),
        "no interval of": blind().analyse(machine(2), figures=["measured_saving"]),
        "heat": blind().analyse(machine(2).assign(tower_flow=machine(2)["tower_flow"] * 1.5)),
        "no row is chosen": blind().analyse(machine(2)[:0]),
    }
    for words, told in cases.items():
        found = economizer_saving(told)
        assert words in found.reason, found.reason
        assert found.verdict == "cannot tell"
        assert np.isnan(found.if_working)
        assert found.rows == 0
        assert words in repr(found)
    without = {name: pair for name, pair in BLIND.items() if name != "discharge_temperature"}
    trend = Trend(CIRCUIT, without, **OPTIONS)
    told = Uncertainty(trend, {name: SHARP[name] for name in without}).analyse(machine(2))
    assert "discharge_temperature" in economizer_saving(told).reason
    exchanged = interstage.Circuit(
        CIRCUIT.refrigerant,
        stages=CIRCUIT.stages,
        interstages=CIRCUIT.interstages,
        suction_exchanger_effectiveness=0.3,
    )
    assert "liquid-suction exchanger" in economizer_saving(blind(exchanged).analyse(machine(2))).reason


def test_bad_requests() -> None:
    with pytest.raises(interstage.WrongArgument, match="must be UncertainFigures"):
        economizer_saving(TREND.analyse(machine(1)))
    with pytest.raises(interstage.OutOfRange, match="drive_uncertainty"):
        economizer_saving(blind().analyse(machine(1)), drive_uncertainty=-0.1)
    with pytest.raises(interstage.WrongArgument, match="truth value"):
        economizer_saving(blind().analyse(machine(2)), rows=[1, 0])

"""Baselines: what is put in comes out, errors on rows not seen, files, extrapolation, bad input."""

import json
import pickle

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import Baseline

DRIVERS = ("capacity", "chilled_water_leaving", "condenser_water_entering")


def frame(rows: int = 600, seed: int = 3, noise: float = 1.0, power=None) -> pd.DataFrame:
    """Conditions of a season, and a power by a quadratic unless another law is given."""
    rng = np.random.default_rng(seed)
    capacity = rng.uniform(0.5e6, 1.5e6, rows)
    leaving = rng.uniform(278.0, 283.0, rows)
    entering = rng.uniform(291.0, 304.0, rows)
    if power is None:
        load, lift = capacity / 1e6, entering - leaving
        told = 2e4 + 6e4 * load + 3e4 * load**2 + 1.5e3 * lift + 4e3 * load * lift
    else:
        told = power(capacity, leaving, entering)
    return pd.DataFrame(
        {
            "capacity [W]": capacity,
            "chilled_water_leaving [K]": leaving,
            "condenser_water_entering [K]": entering,
            "power [W]": told + rng.normal(0.0, 1e3 * noise, rows),
        },
        index=pd.date_range("2024-05-01", periods=rows, freq="h"),
    )


def two_laws(made: float, leak: float, resistance: float):
    """Power that meets the linear form of J. M. Gordon and K. C. Ng: entropy made, leaks, resistance.

    A round trip: the fit must give back what these readings were made of. Whether real machines follow
    the form is for measured readings to say.
    """

    def power(capacity, leaving, entering):
        found = capacity / 5.0
        for _ in range(200):
            # Entropy rejected less entropy taken up, to first order in the resistances.
            rejected = capacity + found
            ratio = leaving / entering * (1.0 + found / capacity)
            left = (
                ratio
                - 1.0
                - made * leaving / capacity
                - leak * (entering - leaving) / (entering * capacity)
                - resistance * rejected / entering
            )
            found = found - left * capacity * entering / leaving * 0.9
        return found

    return power


def test_a_quadratic_comes_out_exactly() -> None:
    table = frame(noise=0.0)
    baseline = Baseline.fit(table)
    assert baseline.quality.cv_rmse < 1e-12
    assert baseline.quality.coefficients == 10
    expected, _ = baseline.predict(table)
    assert np.allclose(expected, table["power [W]"], rtol=1e-12)
    assert expected.index.equals(table.index)
    # Linear and square parts by hand: what the law says at a place.
    told = baseline.at(capacity=1e6, chilled_water_leaving=280.0, condenser_water_entering=300.0)
    assert told.expected == pytest.approx(2e4 + 6e4 + 3e4 + 3e4 + 8e4)


def test_gordon_and_ng_give_back_entropy_leak_and_resistance() -> None:
    made, leak, resistance = 80.0, 5e4, 1.2e-5
    table = frame(noise=0.0, power=two_laws(made, leak, resistance))
    baseline = Baseline.fit(table, kind="gordon-ng")
    assert np.allclose(list(baseline.coefficients.values()), [made, leak, resistance], rtol=1e-6)
    assert baseline.quality.cv_rmse < 1e-9
    # Its slopes to the coefficients against differences.
    from interstage._baseline_model import gordon_ng_power

    x = np.array([[1.1e6, 280.0, 299.0]])
    at = np.array([made, leak, resistance])
    _, slopes = gordon_ng_power(x, at)
    for place in range(3):
        step = np.zeros(3)
        step[place] = 1e-4 * at[place]
        high, low = gordon_ng_power(x, at + step)[0], gordon_ng_power(x, at - step)[0]
        assert slopes[0, place] == pytest.approx((high[0] - low[0]) / (2e-4 * at[place]), rel=1e-6)


def test_measures_of_the_fit_are_those_of_their_definitions() -> None:
    table = frame()
    baseline = Baseline.fit(table)
    residual = table["power [W]"] - baseline.predict(table).expected
    mean, freedom = table["power [W]"].mean(), 600 - 10
    assert baseline.quality.cv_rmse == pytest.approx(np.sqrt((residual**2).sum() / freedom) / mean)
    assert baseline.quality.nmbe == pytest.approx(residual.sum() / freedom / mean, abs=1e-14)
    # Noise of 1 kW: that is what must be found, seen or not seen.
    assert baseline.quality.cv_rmse * mean == pytest.approx(1e3, rel=0.1)
    assert baseline.quality.held_back_cv_rmse * mean == pytest.approx(1e3, rel=0.1)
    assert abs(baseline.quality.held_back_nmbe) < 3e-3
    assert baseline.quality.autocorrelation < 0.15


def test_intervals_hold_what_they_say() -> None:
    """Of 4000 new rows 5 % lie outside, give or take four times the scatter."""
    baseline = Baseline.fit(frame(400))
    new = frame(4000, seed=11)
    found = baseline.compare(new)
    told = found.dropna()
    assert len(told) > 3500
    beyond = float((told["residual"].abs() > told["half_width"]).mean())
    assert beyond == pytest.approx(0.05, abs=4.0 * np.sqrt(0.05 * 0.95 / len(told)) + 0.01)


def test_rows_that_lean_on_each_other_count_less() -> None:
    table = frame(600, noise=0.0)
    rng = np.random.default_rng(5)
    drift = np.zeros(600)
    for i in range(1, 600):
        drift[i] = 0.9 * drift[i - 1] + rng.normal(0.0, 500.0)
    table["power [W]"] += drift
    quality = Baseline.fit(table).quality
    assert quality.autocorrelation == pytest.approx(0.9, abs=0.06)
    assert quality.effective_rows < 0.1 * quality.rows


def test_a_fault_shows_at_equal_conditions() -> None:
    baseline = Baseline.fit(frame())
    faulty = frame(200, seed=8)
    faulty["power [W]"] *= 1.08
    at = {"capacity": 1e6, "chilled_water_leaving": 280.0, "condenser_water_entering": 298.0}
    found = baseline.compare(faulty, at=at)
    assert (found["residual"] / found["expected"]).mean() == pytest.approx(0.08, abs=0.005)
    assert found["at_equal_conditions"].std() < 0.02 * found["at_equal_conditions"].mean()
    assert found["at_equal_conditions"].mean() == pytest.approx(1.08 * baseline.at(**at).expected, rel=0.005)


def test_extrapolation_is_flagged_and_not_told() -> None:
    table = frame()
    # Load and weather go together in the fit.
    table["capacity [W]"] = (
        1e6 + 4e4 * (table["condenser_water_entering [K]"] - 297.5) + 1e5 * np.sin(np.arange(600))
    )
    baseline = Baseline.fit(table)
    odd = table.iloc[:3].copy()
    odd.iloc[0, 0] = 5e6
    odd.iloc[1, [0, 2]] = [1.2e6, 292.0]  # each in its range, never together
    words = baseline.outside(odd)
    assert words.iloc[0].startswith("capacity above")
    assert words.iloc[1] == "a combination of conditions that the fit has not seen"
    assert words.iloc[2] == ""
    expected, half = baseline.predict(odd)
    assert list(expected.isna()) == list(half.isna()) == [True, True, False]
    assert not baseline.predict(odd, extrapolate=True).expected.isna().any()
    assert (baseline.outside(table) == "").all()


def test_period_mask_gaps_and_order() -> None:
    table = frame()
    table.iloc[5, 3] = np.nan
    start, end = table.index[100], table.index[400]
    baseline = Baseline.fit(table, period=(start, end))
    assert baseline.quality.rows == 300
    assert baseline.period == (str(start), str(table.index[399]))
    assert Baseline.fit(table).quality.rows == 599
    mixed = table.sample(frac=1.0, random_state=1)
    again = Baseline.fit(mixed, period=(start, end))
    assert again.quality.held_back_cv_rmse == pytest.approx(baseline.quality.held_back_cv_rmse, rel=1e-9)
    assert list(again.coefficients.values()) == pytest.approx(list(baseline.coefficients.values()), rel=1e-9)
    doubled = table.set_axis(np.zeros(600, dtype=int))
    assert Baseline.fit(doubled).quality.rows == 599
    mask = pd.Series(True, index=table.index)
    mask.iloc[:300] = False
    assert Baseline.fit(table, where=mask).quality.rows == 300
    # Units in names are read.
    kilowatts = table.rename(columns={"capacity [W]": "capacity [kW]"})
    kilowatts["capacity [kW]"] /= 1e3
    told = Baseline.fit(kilowatts, period=(start, end)).predict(table).expected
    assert np.allclose(told.dropna(), baseline.predict(table).expected.dropna(), rtol=1e-9)


@pytest.mark.parametrize("kind", ["quadratic", "gordon-ng"])
def test_files_are_readable_and_read_back(tmp_path, kind) -> None:
    table = frame(power=two_laws(80.0, 5e4, 1.2e-5))
    baseline = Baseline.fit(table, kind=kind)
    baseline.save(tmp_path / "baseline.json")
    text = (tmp_path / "baseline.json").read_text()
    kept = json.loads(text)
    assert kept["format_version"] == 1
    assert kept["unit"] == "W"
    again = Baseline.load(tmp_path / "baseline.json")
    assert again == baseline == pickle.loads(pickle.dumps(baseline))
    for one, other in zip(again.predict(table), baseline.predict(table), strict=True):
        assert np.array_equal(one, other, equal_nan=True)
    for bad in (
        "",
        "[]",
        "{}",
        text.replace('"format_version": 1', '"format_version": 99'),
        text.replace('"means"', '"other"'),
        text.replace('"capacity",', ""),
        json.dumps({**kept, "deviation": "wide"}),
    ):
        with pytest.raises(interstage.WrongArgument):
            Baseline.from_json(bad)


def test_what_carries_no_baseline_is_refused_in_words() -> None:
    table = frame()
    with pytest.raises(interstage.Inconsistent, match="20 rows are usable, 50 are needed"):
        Baseline.fit(table.iloc[:20])
    for nothing in (0.0, 0.0 * table["power [W]"]):
        with pytest.raises(interstage.Inconsistent, match="power is zero in the mean"):
            Baseline.fit(table.assign(**{"power [W]": nothing}))
    # A figure that never varies is told exactly, and the file of it is JSON.
    flat = Baseline.fit(table.assign(**{"power [W]": 5e4}))
    assert flat.quality.r_squared == 0.0
    assert Baseline.from_json(flat.to_json()) == flat
    with pytest.raises(interstage.WrongArgument, match="complex"):
        Baseline.fit(table.assign(**{"power [W]": 1j}))
    still = table.copy()
    still["chilled_water_leaving [K]"] = 280.0
    with pytest.raises(interstage.Inconsistent, match="chilled_water_leaving does not vary"):
        Baseline.fit(still)
    together = table.copy()
    together["chilled_water_leaving [K]"] = 0.3 * together["condenser_water_entering [K]"] + 190.0
    with pytest.raises(interstage.Inconsistent, match="cannot be told apart"):
        Baseline.fit(together)
    with pytest.raises(interstage.UnknownOption, match="quadratic"):
        Baseline.fit(table, kind="cubic")
    with pytest.raises(interstage.WrongArgument, match="gordon-ng"):
        Baseline.fit(table.assign(cop=5.0), "cop", kind="gordon-ng")
    with pytest.raises(interstage.WrongArgument, match="no column of cop"):
        Baseline.fit(table, "cop")
    with pytest.raises(interstage.WrongArgument, match="drivers"):
        Baseline.fit(table, drivers=["capacity", "capacity"])
    with pytest.raises(interstage.WrongArgument, match="power cannot be a driver of itself"):
        Baseline.fit(table, drivers=["power", "capacity"])
    with pytest.raises(interstage.WrongArgument, match="period"):
        Baseline.fit(table, period=(1, 2))
    with pytest.raises(interstage.WrongArgument, match="period must end after it begins"):
        Baseline.fit(table, period=(table.index[60], table.index[20]))
    with pytest.raises(interstage.Inconsistent, match="0 rows"):
        Baseline.fit(table.iloc[:0])
    baseline = Baseline.fit(table)
    with pytest.raises(interstage.WrongArgument, match="capacity is missing"):
        baseline.at(chilled_water_leaving=280.0, condenser_water_entering=298.0)
    with pytest.raises(interstage.WrongArgument, match="no driver"):
        baseline.at(capacity=1e6, chilled_water_leaving=280.0, condenser_water_entering=298.0, wind=2.0)
    assert len(baseline.predict(table.iloc[:0]).expected) == 0


def test_blocks_are_blocks_of_time_though_a_time_stands_twice() -> None:
    table = frame()
    table.index = pd.date_range("2023-01-01", periods=len(table), freq="h")
    table = pd.concat([table, table.iloc[[100]]]).sort_index(kind="stable")
    first = np.random.default_rng(5).permutation(len(table))
    mixed = Baseline.fit(table.iloc[first])
    ordered = Baseline.fit(table)
    assert mixed.period == ordered.period
    assert mixed.quality.held_back_cv_rmse == pytest.approx(ordered.quality.held_back_cv_rmse, rel=1e-9)
    assert mixed.quality.autocorrelation == pytest.approx(ordered.quality.autocorrelation, abs=1e-9)


def test_conditions_far_outside_are_not_told_unless_asked_for() -> None:
    baseline = Baseline.fit(frame())
    far = {"capacity": 50e6, "chilled_water_leaving": 280.0, "condenser_water_entering": 300.0}
    assert np.isnan(baseline.at(**far)).all()
    assert np.isfinite(baseline.at(**far, extrapolate=True)).all()

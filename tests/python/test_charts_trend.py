"""Charts of trends: what is drawn is what the figures, baselines, flags and findings say."""

import matplotlib

matplotlib.use("Agg")
import matplotlib.dates
import matplotlib.pyplot as plt
import numpy as np
import pytest

import interstage
from interstage import _charts_time as over

pd = pytest.importorskip("pandas")


@pytest.fixture(autouse=True)
def closed():
    yield
    plt.close("all")


def texts(ax):
    return [text.get_text().replace("\n", " ") for text in ax.texts]


def drawn(ax):
    ax.figure.canvas.draw()
    return ax


def line(ax, label):
    """The line whose entry in the legend begins so."""
    (found,) = (one for one in ax.lines if one.get_label().startswith(label))
    return found


# ---- steps of time


def test_few_rows_are_drawn_one_by_one_and_break_at_gaps():
    times = np.array(["00:00", "00:05", "00:10", "02:00", "NaT"])
    times = np.array([text if text == "NaT" else f"2023-01-01T{text}" for text in times], "datetime64[ns]")
    gathered = over.steps(times, np.array([True] * 5), None)
    np.testing.assert_array_equal(gathered.of(np.arange(5.0)), [0.0, 1.0, 2.0, np.nan, 3.0])
    assert str(gathered) == "each row"


def test_steps_are_medians_and_quantiles_from_midnight():
    times = np.datetime64("2023-03-05T20:00", "ns") + np.arange(60) * np.timedelta64(1, "h")
    values = np.random.default_rng(3).normal(size=60)
    values[7] = np.nan
    gathered = over.steps(times, np.ones(60, dtype=bool), int(86400e9))
    assert gathered.start[0] == np.datetime64("2023-03-05", "ns")
    parts = [values[:4], values[4:28], values[28:52], values[52:]]
    for share in (0.25, 0.5, 0.9):
        expected = [np.nanquantile(part, share) for part in parts]
        np.testing.assert_allclose(gathered.of(values, share), expected)


def test_empty_steps_are_missing():
    times = np.array(["2023-01-01", "2023-01-02", "2023-01-05"], "datetime64[ns]")
    gathered = over.steps(times, np.ones(3, dtype=bool), int(86400e9))
    np.testing.assert_array_equal(gathered.of(np.arange(3.0)), [0.0, 1.0, np.nan, np.nan, 2.0])


@pytest.mark.parametrize("rows", [5_000, 525_600])
def test_a_long_table_has_no_more_steps_than_a_screen_shows(rows):
    times = np.datetime64("2023-01-01", "ns") + np.arange(rows) * np.timedelta64(1, "m")
    gathered = over.steps(times, np.ones(rows, dtype=bool), None)
    assert 20 <= len(gathered) <= over.MOST_STEPS + 1
    assert gathered.rows.size == rows


def test_lengths_of_time_are_checked():
    assert over.step_of("step", "1D") == int(86400e9)
    assert over.words_of_step(int(7 * 86400e9)) == "7 d"
    for wrong in ("often", -5, "0s", object()):
        with pytest.raises(interstage.WrongArgument, match="step must be a length of time"):
            over.step_of("step", wrong)


# ---- figures at equal conditions


@pytest.fixture(scope="module")
def result():
    circuit = interstage.Circuit.arranged(
        interstage.Refrigerant("R-134a"), "1 stage", stage=interstage.Stage(isentropic_efficiency=0.8)
    )
    trend = interstage.Trend(
        circuit,
        {
            "chilled_water_entering": ("in", "degC"),
            "chilled_water_leaving": ("out", "degC"),
            "chilled_water_flow": ("flow", "L/s"),
            "condenser_pressure": ("p", "kPa"),
            "condenser_water_leaving": ("warm", "degC"),
        },
    )
    rng = np.random.default_rng(1)
    index = pd.date_range("2023-05-01", periods=1440, freq="h")
    return trend.analyse(
        pd.DataFrame(
            {
                "in": 12.0 + rng.uniform(-2.0, 2.0, 1440),
                "out": 7.0,
                "flow": 50.0,
                "p": 900.0 + rng.normal(0.0, 2.0, 1440),
                "warm": 33.0,
            },
            index=index,
        )
    )


def test_an_approach_at_equal_load_is_of_the_rows_within(result):
    low, high = 0.9e6, 1.2e6
    ax = drawn(result.over_time("condenser_approach", between={"capacity": (low, high)}, step="7D"))
    rows = result["condenser_approach"][result["capacity"].between(low, high)]
    weeks = rows.groupby(pd.Grouper(freq="7D", origin="start_day"))
    (drawn_line,) = ax.lines
    np.testing.assert_allclose(drawn_line.get_ydata(), weeks.median())
    assert ax.get_ylabel() == "condenser approach [K]"
    (band,) = ax.collections
    heights = {round(float(y), 9) for y in band.get_paths()[0].vertices[:, 1]}
    assert {round(float(each), 9) for each in weeks.quantile(0.25)} <= heights
    note = f"rows with capacity 900 to 1200 kW ({len(rows)} rows); median of each 7 d"
    assert any(text.startswith(note) for text in texts(ax))
    ax = result.over_time("condenser_approach", between={"capacity": (low, high)}, step="7D", units="I-P")
    np.testing.assert_allclose(ax.lines[0].get_ydata(), 1.8 * weeks.median())
    assert ax.get_ylabel() == "condenser approach [F]"
    assert any("255.9 to 341.2 ton" in text for text in texts(ax))


def test_one_row_and_no_row(result):
    one = np.arange(1440) == 700
    ax = drawn(result.over_time("condenser_approach", where=one))
    assert ax.lines[0].get_ydata().tolist() == [result["condenser_approach"].iloc[700]]
    ax = drawn(result.over_time("condenser_approach", between={"capacity": (9e6, 9.1e6)}))
    assert not ax.lines
    assert any(text.startswith("no row has a condenser approach") for text in texts(ax))
    # What cannot be told at all says what it needs.
    ax = drawn(result.over_time("cop"))
    assert any("cop " in text and "power" in text for text in texts(ax))


def test_absurd_requests_are_refused(result):
    for limits in ((2.0, 1.0), (1.0,), "ab", (float("nan"), 1.0)):
        with pytest.raises(interstage.WrongArgument, match=r"between\['capacity'\] must be"):
            result.over_time("condenser_approach", between={"capacity": limits})
    with pytest.raises(interstage.InterstageError):
        result.over_time("no such figure")
    with pytest.raises(interstage.WrongArgument, match="figure must be the name of a figure, got 3"):
        result.over_time(3)
    with pytest.raises(interstage.WrongArgument, match="between must be a mapping"):
        result.over_time("capacity", between=3)
    with pytest.raises(interstage.WrongArgument, match=r"step must be longer than .* at most 20,000"):
        result.over_time("capacity", step="1ms")
    with pytest.raises(interstage.WrongArgument, match="ax must be a matplotlib Axes, got int"):
        result.over_time("capacity", 3)
    with pytest.raises(interstage.UnknownOption, match="units"):
        result.over_time("capacity", units="cgs")
    with pytest.raises(interstage.WrongArgument, match="one truth value a row"):
        result.over_time("capacity", where=[True])
    with pytest.raises(interstage.WrongArgument, match="one entry a row"):
        result.over_time("capacity", time=["2023-01-01"])
    with pytest.raises(interstage.WrongArgument, match="time must hold times"):
        result.over_time("capacity", time=["noon"] * 1440)


def test_tables_without_times_take_them_apart(result):
    plain = result._trend.analyse(
        {"in": [12.0, 12.5], "out": [7.0, 7.0], "flow": [50.0, 50.0], "p": [900.0, 901.0], "warm": [33.0] * 2}
    )
    with pytest.raises(interstage.WrongArgument, match="time="):
        plain.over_time("capacity")
    ax = plain.over_time("capacity", time=["2023-01-01 00:00", "2023-01-01 00:05"])
    assert len(ax.lines[0].get_xdata()) == 2


# ---- baselines


@pytest.fixture(scope="module")
def frame():
    rng = np.random.default_rng(5)
    rows = 2000
    index = pd.date_range("2023-01-01", periods=rows, freq="h", tz="Europe/Berlin")
    capacity, water = rng.uniform(0.8e6, 1.2e6, rows), rng.uniform(290.0, 298.0, rows)
    per_ton = 0.4 + 0.01 * (water - 290.0) + rng.normal(0.0, 0.004, rows)
    per_ton[1000:] += 0.03
    capacity[1500:] += 0.6e6
    return pd.DataFrame(
        {"capacity [W]": capacity, "condenser_water_entering [K]": water, "kw_per_ton [kW/ton]": per_ton},
        index=index,
    )


@pytest.fixture(scope="module")
def baseline(frame):
    good = np.arange(len(frame)) < 1000
    drivers = ("capacity", "condenser_water_entering")
    return interstage.Baseline.fit(frame, "kw_per_ton", drivers=drivers, where=good)


def test_points_are_measured_against_the_interval(frame, baseline):
    part = frame.iloc[600:1400]
    ax = drawn(baseline.over_time(part))
    within, beyond = line(ax, "measured, within"), line(ax, "measured, beyond")
    told = baseline.compare(part).dropna(subset=["expected"])
    outside = (told["residual"].abs() > told["half_width"]).to_numpy()
    np.testing.assert_allclose(np.sort(beyond.get_ydata()), np.sort(told["measured"][outside]))
    np.testing.assert_allclose(np.sort(within.get_ydata()), np.sort(told["measured"][~outside]))
    assert beyond.get_label() == f"measured, beyond: {outside.sum()} of {len(told)}"
    # Filled and open, not only by color.
    assert within.get_markerfacecolor() != beyond.get_markerfacecolor()
    assert within.get_marker() != beyond.get_marker()
    vertices = np.concatenate([path.vertices[:, 1] for path in ax.collections[0].get_paths()])
    assert vertices.max() == pytest.approx((told["expected"] + told["half_width"]).max())
    assert vertices.min() == pytest.approx((told["expected"] - told["half_width"]).min())
    # Wall time of the rows.
    first = matplotlib.dates.num2date(ax.get_xlim()[0])
    assert (first.year, first.month) == (2023, 1)


def test_rows_that_the_fit_has_not_seen_show_as_such(frame, baseline):
    part = frame.iloc[1300:1700]
    ax = drawn(baseline.over_time(part))
    unseen = line(ax, "measured, outside of the fit: ")
    number = int((baseline.outside(part) != "").sum())
    assert number >= 200
    assert len(unseen.get_ydata()) == number
    assert unseen.get_label().endswith(f" {number} rows")
    assert unseen.get_marker() == "x"
    assert line(ax, "expected, extrapolated").get_linestyle() != "-"
    # They have no interval.
    band = ax.collections[0].get_paths()
    last = matplotlib.dates.date2num(
        part.index[int((baseline.outside(part) == "").to_numpy().nonzero()[0][-1])].tz_localize(None)
    )
    assert max(path.vertices[:, 0].max() for path in band) < last + 0.05


def test_long_tables_are_medians(frame, baseline):
    ax = drawn(baseline.over_time(frame.iloc[:1400], step="2D", units="I-P"))
    within, beyond = line(ax, "measured, within"), line(ax, "measured, beyond")
    rows = frame.iloc[:1400]["kw_per_ton [kW/ton]"].tz_localize(None)
    seen = (baseline.outside(frame.iloc[:1400]) == "").to_numpy()
    medians = rows[seen].groupby(pd.Grouper(freq="2D", origin="start_day")).median()
    both = np.concatenate([within.get_ydata(), beyond.get_ydata()])
    np.testing.assert_allclose(np.sort(both), np.sort(medians))
    assert any("median of each 2 d" in text for text in texts(ax))


def test_equal_conditions_are_those_of_compare(frame, baseline):
    at = {"capacity": 1.0e6, "condenser_water_entering": 294.0}
    part = frame.iloc[:1400]
    ax = drawn(baseline.over_time(part, at=at, step="7D"))
    brought = baseline.compare(part, at=at)["at_equal_conditions"].tz_localize(None)
    medians = brought.groupby(pd.Grouper(freq="7D", origin="start_day")).median()
    both = [line(ax, f"measured, {where}").get_ydata() for where in ("within", "beyond")]
    np.testing.assert_allclose(np.sort(np.concatenate(both)), np.sort(medians))
    expected = line(ax, "expected").get_ydata()
    np.testing.assert_allclose(expected[np.isfinite(expected)], baseline.at(**at).expected)
    assert any(
        "brought to capacity 1000 kW, condenser water entering 20.85 degC" in text for text in texts(ax)
    )


def test_nothing_to_compare_is_a_sentence(frame, baseline):
    empty = frame.iloc[:50].assign(**{"kw_per_ton [kW/ton]": np.nan})
    ax = drawn(baseline.over_time(empty))
    assert any("no row has both" in text for text in texts(ax))
    assert not ax.lines
    ax = drawn(baseline.over_time(frame.iloc[:1]))
    assert line(ax, "measured, within").get_label() == "measured, within: 1 of 1"


def test_conditions_must_be_numbers_by_driver(frame, baseline):
    with pytest.raises(interstage.WrongArgument, match="at must be a mapping of driver to its value, got 3"):
        baseline.over_time(frame, at=3)
    with pytest.raises(interstage.WrongArgument, match="must be a number, got 'full'"):
        baseline.over_time(frame, at=dict.fromkeys(baseline.drivers, "full"))


def test_frames_must_have_times_and_columns(frame, baseline):
    with pytest.raises(interstage.WrongArgument, match="times in the index of frame"):
        baseline.over_time(frame.reset_index(drop=True))
    with pytest.raises(interstage.WrongArgument, match="no column of capacity"):
        baseline.over_time(frame.drop(columns="capacity [W]"))
    with pytest.raises(interstage.WrongArgument, match="DataFrame"):
        baseline.over_time({"capacity": [1.0]})
    with pytest.raises(interstage.WrongArgument, match="step"):
        baseline.over_time(frame, step="soon")
    with pytest.raises(interstage.WrongArgument, match="condition capacity is missing"):
        baseline.over_time(frame, at={"condenser_water_entering": 294.0})


def test_figures_of_the_trade_are_in_units_people_read():
    assert over.in_units("power", [2e3], "I-P") == ("kW", [2.0])
    unit, value = over.in_units("condenser_water_entering", np.array([300.0]), "I-P")
    assert (unit, value.round(2).tolist()) == ("degF", [80.33])
    assert over.in_units("anything", [1.0], "SI")[0] == ""


# ---- flags


READINGS = {
    "in": ("chilled_water_entering", "degC"),
    "out": ("chilled_water_leaving", "degC"),
    "kw": ("power", "kW"),
}


def flagged(rows=600):
    rng = np.random.default_rng(2)
    table = pd.DataFrame(
        {
            "in": 12.0 + 0.3 * rng.normal(size=rows),
            "out": 7.0 + 0.1 * rng.normal(size=rows),
            "kw": 200.0 + rng.normal(size=rows),
        },
        index=pd.date_range("2023-01-01", periods=rows, freq="min"),
    )
    table.iloc[100:150, 0] = np.nan
    table.iloc[300, 1] = -99.4
    table.iloc[500:, 2] = 0.0
    table.iloc[400:420] = np.nan
    return table.drop(table.index[400:420])


def marks(ax):
    """What is drawn -> stretches of it, in days."""
    found = {}
    for one in ax.collections:
        if one.get_gid():
            boxes = [path.get_extents() for path in one.get_paths()]
            found[one.get_gid()] = [(box.x0, box.x1) for box in boxes]
    return found


def test_each_flag_stands_where_it_was():
    table = flagged()
    quality = interstage.assess_quality(table, interstage.Readings(READINGS), minimum_power=20e3)
    ax = drawn(quality.over_time())
    found = marks(ax)
    assert set(found) == {
        "chilled_water_entering: missing",
        "chilled_water_leaving: out of physical range",
        "machine off",
    }
    ((start, end),) = found["chilled_water_entering: missing"]
    day = matplotlib.dates.date2num(table.index[0])
    # A column of the chart is 1.5 min wide.
    assert start == pytest.approx(day + 100 / 1440, abs=2 / 1440)
    assert end == pytest.approx(day + 150 / 1440, abs=2 / 1440)
    (gap,) = (patch for patch in ax.patches if patch.get_gid() == "no rows")
    extent = gap.get_extents().transformed(ax.transData.inverted())
    assert (extent.x0 - day) * 1440 == pytest.approx(399, abs=1)
    assert (extent.x1 - day) * 1440 == pytest.approx(420, abs=1)
    labels = [label.get_text() for label in ax.get_yticklabels()]
    assert labels == ["chilled water entering", "chilled water leaving", "power", "machine off"]
    counts = quality.counts()["chilled_water_entering"]["missing"]
    assert f"{100 * counts / len(table):.2g} %" in texts(ax)
    only = quality.over_time(readings=["power"])
    assert [label.get_text() for label in only.get_yticklabels()] == ["power", "machine off"]


def test_contradictions_have_a_lane_of_their_own():
    table = {"t": [0.0, 60.0, 120.0], "in": [12.0, 12.0, 6.0], "out": [7.0, 7.0, 11.0], "kw": [200.0] * 3}
    quality = interstage.assess_quality(table, interstage.Readings(READINGS), time="t")
    ax = drawn(quality.over_time())
    assert "rows that contradict themselves" in marks(ax)
    assert ax.get_xlabel() == "time since the first row [min]"
    ((start, end),) = marks(ax)["rows that contradict themselves"]
    assert (start, end) == pytest.approx((2.0, 3.0))


def test_good_tables_and_single_rows_and_empty_ones():
    table = flagged()
    readings = interstage.Readings(READINGS)
    good = interstage.assess_quality(table.iloc[:50], readings)
    assert "no reading carries a flag" in " ".join(texts(drawn(good.over_time())))
    drawn(interstage.assess_quality(table.iloc[:1], readings).over_time())
    nothing = interstage.assess_quality(table.iloc[:80] * np.nan, readings)
    ax = drawn(nothing.over_time())
    assert "100 %" in texts(ax)
    timeless = table.iloc[:3].set_axis(pd.DatetimeIndex([pd.NaT] * 3))
    ax = drawn(interstage.assess_quality(timeless, readings).over_time())
    assert "no row has a time" in texts(ax)


def test_unknown_readings_are_refused():
    quality = interstage.assess_quality(flagged(), interstage.Readings(READINGS))
    with pytest.raises(interstage.UnknownOption, match="readings must be of chilled_water_entering"):
        quality.over_time(readings=["oil_pressure"])
    with pytest.raises(interstage.WrongArgument, match="at least one"):
        quality.over_time(readings=[])
    with pytest.raises(interstage.WrongArgument, match="names of readings, got 3"):
        quality.over_time(readings=3)


# ---- evidence


def moved(figure, mean, interval):
    return interstage.Departure(figure, mean, interval, 1.0, 90, 9, 0, 89, 0)


def named():
    return interstage.weigh_evidence(
        [
            moved("condenser_water_flow", -0.0018, 0.0003),
            moved("condenser_water_range", 0.5, 0.2),
            moved("condenser_ua", -500.0, 2000.0),
            moved("heat_balance", 0.001, 0.02),
        ],
        condenser="holds liquid",
    )


def untold():
    return interstage.weigh_evidence([moved("condenser_ua", -500.0, 2000.0)])


def test_bars_are_the_odds_of_the_faults_and_the_named_one_stands_out():
    evidence = named()
    ax = drawn(evidence.bars())
    assert [bar.get_width() for bar in ax.patches] == [item.odds for item in evidence.suspicions]
    assert [bool(bar.get_hatch()) for bar in ax.patches] == [True] + [False] * (len(ax.patches) - 1)
    assert ax.get_title(loc="left") == "Suspicion: low condenser water flow"
    assert "not shown" not in " ".join(texts(ax))
    rest = len(evidence.suspicions) - 1
    assert f"{rest} less likely not shown" in " ".join(texts(evidence.bars(most=1)))
    assert evidence.clear == pytest.approx(np.log(10.0))
    assert any(line.get_xdata()[0] == evidence.clear for line in ax.lines)


def test_that_it_cannot_be_told_is_the_title():
    evidence = untold()
    ax = drawn(evidence.bars())
    assert ax.get_title(loc="left").startswith("Cannot tell")
    assert not any(bar.get_hatch() for bar in ax.patches)
    assert any(evidence.reason[:40] in text for text in texts(ax))
    ax = drawn(interstage.weigh_evidence([]).bars())
    assert "no figure could be compared with a baseline" in texts(ax)
    with pytest.raises(interstage.OutOfRange, match="most"):
        evidence.bars(most=0)


def test_each_period_stands_in_the_lane_of_its_verdict():
    days = pd.date_range("2023-07-01", periods=6, freq="D")
    verdicts = [untold(), named(), named(), untold(), untold(), named()]
    findings = interstage.Findings(tuple(days.delete(3)), tuple(verdicts[:3] + verdicts[4:]), 7)
    ax = drawn(findings.over_time())
    lanes = [label.get_text() for label in ax.get_yticklabels()]
    assert lanes[0] == "low condenser water flow"
    assert lanes[-1] == "cannot tell"
    found = marks(ax)
    start = matplotlib.dates.date2num(days)
    assert [each[0] for each in found["low condenser water flow"]] == start[[1, 2, 5]].tolist()
    assert [each[0] for each in found["cannot tell"]] == start[[0, 4]].tolist()
    # A period lasts no longer than usual: the missing day stays empty.
    assert found["low condenser water flow"][1][1] <= start[2] + 1.5
    assert any("3 of 5 periods name a fault" in text and "7 rows" in text for text in texts(ax))


def test_findings_of_labels_and_none_at_all():
    findings = interstage.Findings(("spring", "summer"), (untold(), named()))
    ax = drawn(findings.over_time())
    assert [each[0] for each in marks(ax)["cannot tell"]] == [0.0]
    assert ax.get_xlabel() == "period, counted from 0"
    ax = drawn(interstage.Findings((), ()).over_time())
    assert any("no period" in text for text in texts(ax))


# ---- summaries


def test_sums_are_bars_with_their_intervals():
    index = pd.date_range("2023-01-15", periods=2000, freq="h")
    table = pd.DataFrame({"power [W]": 100e3, "capacity [W]": 550e3}, index=index)
    table.iloc[-50:, 1] = np.nan
    summary = interstage.summarize(table, "month")
    ax = drawn(summary.bars())
    shown = summary.table()
    np.testing.assert_allclose([bar.get_width() for bar in ax.patches], shown["kw_per_ton [kW/ton]"])
    segments = [path.vertices[:, 0] for path in ax.collections[0].get_paths()]
    half = shown["kw_per_ton interval [kW/ton]"]
    np.testing.assert_allclose([(ends[1] - ends[0]) / 2 for ends in segments], half)
    assert any("of the hours known" in text for text in texts(ax))
    ax = summary.bars("cooling", units="I-P")
    assert ax.get_xlabel() == "cooling [ton h]"
    with pytest.raises(interstage.UnknownOption, match="kw_per_ton"):
        summary.bars("money")
    many = interstage.summarize(table.assign(group=np.arange(2000).astype(str)), "group")
    with pytest.raises(interstage.Inconsistent, match="2000 groups"):
        many.bars()
    ax = drawn(interstage.summarize(table.assign(**{"power [W]": np.nan}), "month").bars())
    assert any("no group has a power per capacity" in text for text in texts(ax))

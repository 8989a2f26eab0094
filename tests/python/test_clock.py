"""The clock of an export: what is written in one way and read in another, and that every change is told."""

import datetime
import math
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest

import interstage


def stamps(start: str, rows: int, freq: str = "1h") -> pd.DatetimeIndex:
    return pd.date_range(start, periods=rows, freq=freq)


def same(found: Any, expected: pd.DatetimeIndex) -> bool:
    return bool((found.index == expected).all()) and len(found.index) == len(expected)


FORMATS = [
    "%Y-%m-%d %H:%M",
    "%Y-%m-%dT%H:%M:%S",
    "%d/%m/%Y %H:%M",
    "%m/%d/%Y %H:%M",
    "%m/%d/%y %I:%M %p",
    "%m/%d/%Y %I:%M:%S %p",
    "%d.%m.%Y %H:%M:%S",
    "%d-%b-%y %H:%M",
    "%d %B %Y %H:%M",
    "%b %d, %Y %I:%M %p",
    "%Y/%m/%d %H:%M:%S.%f",
]


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("start", ["2023-01-01", "2023-05-27 22:30", "2023-12-10"])
def test_every_format_is_read(form: str, start: str) -> None:
    """Forty days by the hour: the order of day and month comes from how the days follow each other."""
    truth = stamps(start, 960)
    told = interstage.repair_times([time.strftime(form) for time in truth])
    assert same(told, truth)
    assert told.changes.empty
    # The newest row first is an order too.
    back = interstage.repair_times([time.strftime(form) for time in truth[::-1]])
    assert same(back, truth[::-1])
    assert back.changes.empty
    assert "rows are written newest first" in back.notes


@pytest.mark.parametrize("form", ["%d/%m/%Y %H:%M", "%m/%d/%Y %H:%M"])
def test_a_few_ambiguous_days_are_enough(form: str) -> None:
    truth = stamps("2023-07-03", 72)
    assert same(interstage.repair_times([time.strftime(form) for time in truth]), truth)


def test_one_ambiguous_day_is_refused() -> None:
    texts = [time.strftime("%d/%m/%Y %H:%M") for time in stamps("2023-07-03", 24)]
    with pytest.raises(interstage.Inconsistent, match="day first and month first, as '03/07/2023 00:00'"):
        interstage.repair_times(texts)
    assert same(interstage.repair_times(texts, date_order="day first"), stamps("2023-07-03", 24))
    assert same(interstage.repair_times(texts, date_order="month first"), stamps("2023-03-07", 24))
    # The same number for both is no doubt.
    same_number = [time.strftime("%d/%m/%Y %H:%M") for time in stamps("2023-07-07", 24)]
    assert same(interstage.repair_times(same_number), stamps("2023-07-07", 24))


def test_days_and_months_that_a_program_exchanged_are_found() -> None:
    """Written day first, opened month first: some became dates that way, the rest stayed text."""
    truth = stamps("2023-01-01", 24 * 90)
    exchanged = truth.day <= 12
    texts = [
        time.strftime("%Y-%d-%m %H:%M:%S" if wrong else "%d/%m/%Y %H:%M")
        for time, wrong in zip(truth, exchanged, strict=True)
    ]
    told = interstage.repair_times(texts)
    assert same(told, truth)
    # Of 1/1, 2/2 and 3/3 both are the same.
    changed = told.changes[told.changes["why"] == "day and month exchanged back"]
    both = truth.day == truth.month
    assert set(changed["row"]) >= set(np.flatnonzero(exchanged & ~both))
    assert not set(changed["row"]) & set(np.flatnonzero(~exchanged))
    assert (told.index[changed["row"]] == changed["taken"]).all()
    assert changed["found"].iloc[-1] == "2023-12-03 23:00:00"
    assert "rows: day and month exchanged back" in str(told)


def test_a_part_of_the_file_may_have_another_order() -> None:
    truth = stamps("2023-06-01", 24 * 60)
    texts = [
        time.strftime("%m/%d/%Y %I:%M %p" if row >= 1000 else "%d/%m/%Y %H:%M")
        for row, time in enumerate(truth)
    ]
    told = interstage.repair_times(texts)
    assert same(told, truth)
    assert set(told.changes["why"]) == {"read month first, the others day first"}
    assert told.changes["row"].min() >= 1000


def test_a_gap_does_not_upset_the_order() -> None:
    truth = stamps("2023-06-01", 24 * 60).delete(range(200, 700))
    for form in ("%d/%m/%Y %H:%M", "%m/%d/%Y %H:%M"):
        told = interstage.repair_times([time.strftime(form) for time in truth])
        assert same(told, truth)
        assert "1 gaps of more than three steps" in told.notes


def test_unreadable_times_are_none_and_told() -> None:
    times = ["2023-01-01 00:00", None, "n/a", "2023-02-30 01:00", "2023-01-01 25:00", "2023-01-01 24:00", ""]
    told = interstage.repair_times(times)
    assert told.index.isna().tolist() == [False, True, True, True, True, False, True]
    assert told.index[5] == pd.Timestamp("2023-01-02")
    assert told.changes["why"].tolist() == [
        "no time",
        *["not readable"] * 3,
        "24:00 is 0:00 of the next day",
        "not readable",
    ]
    assert interstage.repair_times([]).index.size == 0


# ---- numbers


@pytest.mark.parametrize(
    ("numbers", "unit", "zero"),
    [
        ("seconds since 1970", 1.0, "1970-01-01"),
        ("milliseconds since 1970", 1e-3, "1970-01-01"),
        # 45658 is 1 January 2025 (common knowledge of spreadsheets).
        ("spreadsheet days", 86400.0, "1899-12-30"),
    ],
)
def test_numbers_are_told_by_their_size(numbers: str, unit: float, zero: str) -> None:
    truth = stamps("2025-01-01", 48, "10min")
    counts = (truth - pd.Timestamp(zero)).total_seconds().to_numpy() / unit
    told = interstage.repair_times(counts)
    assert told.notes[0] == f"numbers count {numbers}"
    naive = told.index if told.index.tz is None else told.index.tz_localize(None)
    assert (naive - truth).total_seconds().to_numpy() == pytest.approx(np.zeros(48), abs=1e-5)
    assert (told.index.tz is None) == (numbers == "spreadsheet days")
    if numbers == "spreadsheet days":
        assert counts[0] == 45658.0
    assert interstage.repair_times(counts, numbers=numbers).index.equals(told.index)
    broken = interstage.repair_times([*counts, 7.0])
    assert broken.changes["why"].tolist() == ["a number that is no time"]


def test_numbers_that_are_no_times_are_refused() -> None:
    with pytest.raises(
        interstage.Inconsistent, match="no time between 1980 and 2100 by any count; give numbers="
    ):
        interstage.repair_times([0.0, 10.0, 20.0])


# ---- zones


def test_the_hour_that_autumn_repeats_is_told_by_the_step_back() -> None:
    truth = pd.date_range("2023-10-29 00:00", periods=60, freq="5min", tz="Europe/Berlin")
    texts = truth.strftime("%Y-%m-%d %H:%M").tolist()
    told = interstage.repair_times(texts, zone="Europe/Berlin")
    assert same(told, truth)
    assert told.changes["why"].value_counts().to_dict() == {
        "the first of the two hours of autumn, before the step back": 12,
        "the second of the two hours of autumn, after the step back": 12,
    }
    back = interstage.repair_times(texts[::-1], zone="Europe/Berlin")
    assert same(back, truth[::-1])
    assert back.changes["why"].value_counts().to_dict() == told.changes["why"].value_counts().to_dict()
    local = interstage.repair_times(texts)
    assert local.index.tz is None
    assert any("time runs backward 1 times; where the clock is set back" in note for note in local.notes)


def test_two_autumns_are_two() -> None:
    truth = pd.date_range("2022-10-01", "2023-11-30", freq="30min", tz="America/New_York")
    told = interstage.repair_times(truth.strftime("%m/%d/%Y %I:%M %p").tolist(), zone="America/New_York")
    assert same(told, truth)
    assert len(told.changes) == 8


def test_letters_of_the_zone_tell_the_hour() -> None:
    truth = pd.date_range("2023-11-05 00:00", periods=8, freq="30min", tz="America/New_York")
    told = interstage.repair_times(
        [time.strftime("%Y-%m-%d %H:%M %Z") for time in truth], zone="America/New_York"
    )
    assert same(told, truth)
    assert told.changes.empty
    assert {"4 times end in EST: taken as UTC-5", "4 times end in EDT: taken as UTC-4"} <= set(told.notes)


def test_one_pass_of_the_hour_is_doubtful() -> None:
    texts = ["2023-10-29 01:30", "2023-10-29 02:00", "2023-10-29 02:30", "2023-10-29 03:00"]
    told = interstage.repair_times(texts, zone="Europe/Berlin")
    assert told.changes["row"].tolist() == [1, 2]
    assert "no step back tells" in told.changes["why"].iloc[0]


def test_the_hour_that_spring_leaves_out_is_standard_time() -> None:
    texts = ["2023-03-26 01:30", "2023-03-26 02:00", "2023-03-26 02:30", "2023-03-26 03:30"]
    told = interstage.repair_times(texts, zone="Europe/Berlin")
    assert told.index[1] == pd.Timestamp("2023-03-26 01:00", tz="UTC")
    assert told.changes["row"].tolist() == [1, 2]
    assert "a fixed one, as 'Etc/GMT-1'" in told.notes[0]
    fixed = interstage.repair_times(texts, zone="Etc/GMT-1")
    assert fixed.changes.empty
    assert fixed.index[3] == pd.Timestamp("2023-03-26 02:30", tz="UTC")


def test_offsets_are_kept() -> None:
    texts = [
        "2023-06-01T12:00:00Z",
        "2023-06-01 14:30+02:00",
        "2023-06-01 09:00-0400",
        "2023-06-01 13:30 UTC",
    ]
    told = interstage.repair_times(texts)
    assert same(told, pd.date_range("2023-06-01 12:00", periods=4, freq="30min", tz="UTC"))
    berlin = interstage.repair_times([*texts, "2023-06-01 16:00"], zone="Europe/Berlin")
    assert same(berlin, pd.date_range("2023-06-01 12:00", periods=5, freq="30min", tz="UTC"))
    assert str(berlin.index.tz) == "Europe/Berlin"
    with pytest.raises(interstage.Inconsistent, match="4 times have an offset or count from UTC, 1 do not"):
        interstage.repair_times([*texts, "2023-06-01 16:00"])


def test_times_that_are_times_already_pass() -> None:
    truth = stamps("2023-01-01", 5)
    for column in (truth, pd.Series(truth), truth.to_pydatetime(), pl.Series(truth.to_numpy())):
        assert same(interstage.repair_times(column), truth)
    mixed = [
        truth[0],
        datetime.datetime(2023, 1, 1, 1),
        "2023-01-01 02:00",
        np.datetime64("2023-01-01T03:00"),
    ]
    assert same(interstage.repair_times(mixed), truth[:4])


@pytest.mark.parametrize(
    ("times", "options", "error", "message"),
    [
        (
            ["2023-01-01"],
            {"zone": "Mars/Olympus"},
            interstage.WrongArgument,
            "zone 'Mars/Olympus' is not known",
        ),
        (["2023-01-01"], {"date_order": "year"}, interstage.UnknownOption, "date_order must be one of"),
        ([1.0], {"numbers": "days"}, interstage.UnknownOption, "numbers must be one of"),
        ([True], {}, interstage.WrongArgument, "got truth values"),
        ([[1]], {}, interstage.WrongArgument, "got list"),
    ],
)
def test_wrong_arguments_are_named(times: Any, options: Any, error: Any, message: str) -> None:
    with pytest.raises(error, match=message):
        interstage.repair_times(times, **options)


def test_steps_are_described() -> None:
    index = stamps("2023-01-01", 100, "1min").delete(range(50, 60))
    index = index.append(index[-1:]).append(pd.DatetimeIndex([pd.NaT]))
    steps = interstage.time_steps(index)
    assert steps["usual_step"] == 60.0
    assert steps["gaps"] == [(pd.Timestamp("2023-01-01 00:49"), pd.Timestamp("2023-01-01 01:00"))]
    assert (steps["duplicates"], steps["backward"], steps["missing"]) == (1, 0, 1)
    assert steps["regular_share"] == pytest.approx(88 / 90)
    empty = interstage.time_steps(index[:0])
    assert math.isnan(empty["usual_step"])
    assert empty["gaps"] == []
    with pytest.raises(interstage.WrongArgument, match=r"must be a pandas.DatetimeIndex, got list"):
        interstage.time_steps([1, 2])


# ---- logs of changes


def log(entries: dict[str, float], zone: str | None = None) -> pd.Series:
    index = pd.to_datetime([f"2030-01-01 {clock}" for clock in entries], format="ISO8601")
    return pd.Series(
        list(entries.values()), index=index if zone is None else index.tz_localize(zone), dtype=float
    )


def test_the_last_value_holds_up_to_its_limit() -> None:
    logs = {
        "kw": log({"00:00": 100.0, "00:05:30": 110.0, "01:00": 120.0}),
        "chw": log({"00:10": 7.0, "00:40": 6.5}),
    }
    joined = interstage.join_logs(logs, longest_hold={"kw": "20min", "chw": "1h"}, step="10min")
    assert joined.table.index.equals(stamps("2030-01-01", 7, "10min"))
    nan = math.nan
    assert joined.table["kw"].tolist() == pytest.approx([100, 110, 110, nan, nan, nan, 120], nan_ok=True)
    assert joined.table["chw"].tolist() == pytest.approx([nan, 7, 7, 7, 6.5, 6.5, 6.5], nan_ok=True)
    assert joined.age["kw"].iloc[2] == 870.0
    assert joined.report["kw"]["rows too old"] == 3
    assert joined.report["chw"]["rows before the first entry"] == 1


def test_the_limit_itself_still_holds() -> None:
    joined = interstage.join_logs(
        {"a": log({"00:00": 1.0, "00:30": 2.0})}, longest_hold="10min", step="10min"
    )
    assert joined.table["a"].tolist() == pytest.approx([1.0, 1.0, math.nan, 2.0], nan_ok=True)


def test_a_missing_entry_ends_what_was_before() -> None:
    joined = interstage.join_logs(
        {"a": log({"00:00": 1.0, "00:10": math.nan, "00:30": 2.0})}, longest_hold="1h", step="10min"
    )
    assert joined.table["a"].tolist() == pytest.approx([1.0, math.nan, math.nan, 2.0], nan_ok=True)


def test_unsorted_and_corrected_entries_are_counted() -> None:
    entries = pd.Series(
        [2.0, 1.0, 1.5, 9.0],
        index=pd.DatetimeIndex(["2030-01-01 00:10", "2030-01-01 00:00", "2030-01-01 00:00", pd.NaT]),
    )
    times = pd.DatetimeIndex(["2030-01-01 00:12", "2030-01-01 00:05"])
    joined = interstage.join_logs({"a": entries}, longest_hold="1h", times=times)
    assert joined.table.index.equals(times)
    assert joined.table["a"].tolist() == [2.0, 1.5]
    assert joined.age["a"].tolist() == [120.0, 300.0]
    report = joined.report["a"]
    assert (report["entries"], report["without time"], report["out of order"], report["corrected"]) == (
        4,
        1,
        1,
        1,
    )


def test_empty_logs_have_no_value() -> None:
    empty = log({})
    both = interstage.join_logs({"a": empty, "b": log({"00:00": 1.0})}, longest_hold="1h", step="1h")
    assert both.table["a"].isna().all()
    assert len(interstage.join_logs({"a": empty}, longest_hold="1h", step="1h").table) == 0


def test_joined_logs_are_assessed() -> None:
    """What is held stands still by nature."""
    minutes = {f"{m // 60:02d}:{m % 60:02d}": 12.0 + 0.1 * (m % 7) for m in range(0, 1200, 5)}
    logs = {"in": log(minutes), "out": log({"00:00": 7.0})}
    joined = interstage.join_logs(logs, longest_hold="1D", step="1min")
    readings = interstage.Readings(
        {"in": ("chilled_water_entering", "degC"), "out": ("chilled_water_leaving", "degC")}
    )
    stuck = interstage.quality_flags()["stuck"]
    flags = interstage.assess_quality(joined.table, readings).flags
    assert (flags["chilled_water_leaving"] == stuck).all()
    free = interstage.assess_quality(joined.table, readings, stuck_after=math.inf).flags
    assert (free == 0).all(axis=None)


@pytest.mark.parametrize(
    ("logs", "options", "error", "message"),
    [
        ({}, {"step": "1h"}, interstage.WrongArgument, "logs must be a mapping"),
        ({"a": log({"00:00": 1.0})}, {}, interstage.WrongArgument, "give either step= or times="),
        ({"a": [1.0]}, {"step": "1h"}, interstage.WrongArgument, "log 'a' must be a pandas.Series"),
        (
            {"a": log({"00:00": 1.0}).astype(str)},
            {"step": "1h"},
            interstage.WrongArgument,
            "must hold numbers",
        ),
        (
            {"a": log({"00:00": 1.0})},
            {"step": "soon"},
            interstage.WrongArgument,
            "step must be a span of time",
        ),
        (
            {"a": log({"00:00": 1.0})},
            {"step": "-1h"},
            interstage.WrongArgument,
            "step must be a span of time",
        ),
        (
            {"a": log({"00:00": 1.0}), "b": log({"00:00": 1.0}, "UTC")},
            {"step": "1h"},
            interstage.Inconsistent,
            "some times have a zone and others have none",
        ),
        (
            {"a": log({"00:00": 1.0})},
            {"step": "1h", "longest_hold": {"b": "1h"}},
            interstage.WrongArgument,
            "longest_hold of 'a' must be a span of time",
        ),
        (
            {"a": log({"00:00": 1.0})},
            {"times": pd.DatetimeIndex([pd.NaT])},
            interstage.WrongArgument,
            "times must be",
        ),
    ],
)
def test_wrong_logs_are_refused(logs: Any, options: Any, error: Any, message: str) -> None:
    with pytest.raises(error, match=message):
        interstage.join_logs(logs, **{"longest_hold": "1h", **options})


def test_logs_of_a_zone_join_through_autumn() -> None:
    index = pd.date_range("2023-10-28", periods=72, freq="h", tz="Europe/Berlin")
    log = {"kw": pd.Series(1.0, index=index)}
    hours = interstage.join_logs(log, longest_hold="2h", step="1h").table.index
    assert hours.equals(index)
    days = interstage.join_logs(log, longest_hold="2h", step="1D").table.index
    assert [str(day) for day in days] == [
        "2023-10-28 00:00:00+02:00",
        "2023-10-29 00:00:00+02:00",
        "2023-10-30 00:00:00+01:00",
    ]


def test_an_empty_log_keeps_its_zone() -> None:
    nothing = pd.Series([], dtype=float, index=pd.DatetimeIndex([], tz="Europe/Berlin"))
    joined = interstage.join_logs({"kw": nothing}, longest_hold="2h", step="1h")
    assert len(joined.table) == 0
    assert str(joined.table.index.tz) == "Europe/Berlin"


def test_letters_of_the_united_states_say_the_offset() -> None:
    letters = {"EST": 5, "EDT": 4, "CST": 6, "CDT": 5, "MST": 7, "MDT": 6, "PST": 8, "PDT": 7}
    told = interstage.repair_times([f"2023-01-13 00:00 {name}" for name in [*letters, "UTC", "GMT", "Z"]])
    assert [time.hour for time in told.index] == [*letters.values(), 0, 0, 0]
    assert str(told.index.tz) == "UTC"
    assert "1 times end in PST: taken as UTC-8" in told.notes


def test_letters_of_the_zone_come_before_those_of_the_united_states() -> None:
    told = interstage.repair_times(["2023-01-13 08:00 CST"], zone="Asia/Shanghai")
    assert told.index[0] == pd.Timestamp("2023-01-13 00:00", tz="UTC")
    # A clock that stays on standard time in summer.
    told = interstage.repair_times(["2023-07-01 00:00 EST"], zone="America/New_York")
    assert str(told.index[0]) == "2023-07-01 01:00:00-04:00"


def test_unknown_letters_are_refused_by_name() -> None:
    for zone in (None, "Europe/Berlin"):
        with pytest.raises(interstage.Inconsistent, match="letters XYZ"):
            interstage.repair_times(["2023-01-13 00:00 XYZ"], zone=zone)
    with pytest.raises(interstage.Inconsistent, match="1 times have an offset"):
        interstage.repair_times(["2023-01-13 00:00 EST", "2023-01-13 01:00"])


def test_times_that_no_table_holds_are_none() -> None:
    told = interstage.repair_times([datetime.datetime(1, 1, 1), datetime.datetime(2023, 1, 1)])
    assert told.index.isna().tolist() == [True, False]
    assert told.changes["why"].tolist() == ["a time before 1678 or after 2261"]
    told = interstage.repair_times([1.7e9, math.inf])
    assert told.index.isna().tolist() == [False, True]


@pytest.mark.parametrize("times", ["2030-01-01 00:00", pd.DataFrame({"a": ["2030-01-01"]}), 5, None])
def test_what_is_no_column_of_times_is_refused(times) -> None:
    with pytest.raises(interstage.WrongArgument, match="one column of times"):
        interstage.repair_times(times)


def test_a_step_that_makes_no_table_is_refused() -> None:
    log = pd.Series([1.0, 2.0], index=pd.to_datetime(["2030-01-01", "2030-01-02"]))
    with pytest.raises(interstage.WrongArgument, match=r"the logs span 8\.6e"):
        interstage.join_logs({"a": log}, longest_hold="15min", step="1ns")

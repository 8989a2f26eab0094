"""What a cell of a notebook and a terminal show: every public class has both, and they say what is there."""

import dataclasses
import doctest
import inspect
import pickle
import re
import xml.etree.ElementTree as ET

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import _display_faults, _display_trends
from interstage._shown import Shown, Tabular
from interstage._tables import Table

CLASSES = {
    name: value
    for name in interstage.__all__
    if inspect.isclass(value := getattr(interstage, name)) and not issubclass(value, Exception)
}

#: What is given, not found: its text is the call that makes it again.
CALLS = {
    "Accuracy": interstage.Accuracy(0.1, 0.2, unit="K"),
    "ClosedEconomizer": interstage.ClosedEconomizer(approach=3.0, expander_efficiency=0.5),
    "CommonBias": interstage.CommonBias(("evaporator_pressure", "condenser_pressure"), 500.0, "Pa"),
    "Direct": interstage.Direct(),
    "Exchanger": interstage.Exchanger.evaporator(ua=1.1e6),
    "FlashTank": interstage.FlashTank(liquid_carryover=0.01),
    "IntercooledTank": interstage.IntercooledTank(coil_approach=3.0),
    "LiquidInjection": interstage.LiquidInjection(superheat=2.0),
    "Orifice": interstage.Orifice(2e-3),
    "Signature": interstage.SIGNATURES[0],
    "Stage": interstage.Stage(polytropic_efficiency=0.8),
    "StageDuty": interstage.StageDuty(head=10e3, volume_flow=5.0, speed_of_sound=130.0),
    "SteadyLimit": interstage.SteadyLimit(0.1, relative=True),
    "VariableUa": interstage.VariableUa(1e-7, 2e-5, 1e-3, interstage.VariableUa.BOILING),
    "WaterFlow": interstage.WaterFlow(mass_flow=12.5),
    "WaterLoop": interstage.WaterLoop(),
    "WaterSide": interstage.WaterSide(
        evaporator=interstage.Exchanger.evaporator(ua=1e6),
        condenser=interstage.Exchanger.condenser(ua=1e6),
        chilled_water=interstage.WaterFlow(mass_flow=100.0),
        condenser_water=interstage.WaterFlow(mass_flow=100.0),
        condenser_water_entering=300.0,
        chilled_water_leaving=280.0,
    ),
}

#: A line of text, and what is drawn by its own call.
TEXTS = {"Citation", "Diagram"}


def test_every_public_class_is_shown():
    shown = {name for name, value in CLASSES.items() if hasattr(value, "_repr_html_")}
    assert set(CLASSES) - shown == set(CALLS) | TEXTS
    assert {name for name, value in CLASSES.items() if value.__repr__ is object.__repr__} == set()


@pytest.mark.parametrize("name", CALLS)
def test_what_is_given_is_shown_as_the_call_that_makes_it(name):
    value = CALLS[name]
    assert eval(repr(value), vars(interstage).copy()) == value


@pytest.fixture(scope="module")
def values():
    """One object at least of every class: those of the examples, and what these lead to."""
    found = {}

    def take(*several):
        for value in several:
            name = type(value).__name__
            if CLASSES.get(name) is type(value):
                found.setdefault(name, []).append(value)

    finder = doctest.DocTestFinder()
    for name in interstage.__all__:
        if not callable(getattr(interstage, name)):
            continue
        for test in finder.find(getattr(interstage, name), name, globs={}):
            doctest.DocTestRunner(verbose=False).run(test, out=lambda _: None, clear_globs=False)
            for value in test.globs.values():
                take(*(value if isinstance(value, list) else [value]))
    told = found["UncertainFigures"][0]
    evidence = found["Evidence"][0]
    take(
        found["Baseline"][0].quality,
        found["CondenserZones"][0].condensing,
        found["Cycle"][0].working(),
        found["Identification"][0].candidates[0],
        told.mean(told.figures[0]),
        interstage.Reconciliation(told.uncertainty, lost_share=(0.05, 0.02)),
        *evidence.suspicions[:1],
        interstage.GasAtRest(3200.0, 800.0, 40, "gas", "have it purged by a certified technician", None),
        interstage.Shortfall(1200.0, 300.0, 120.0, 30.0, 5e4, 600.0, 12.0),
        interstage.Findings(("2023-07-01",), (evidence,), 3),
    )
    return found


def tables(value):
    """Head and rows of every table of the HTML, which must be well-formed."""
    tree = ET.fromstring(f"<div>{value._repr_html_()}</div>")
    found = []
    for table in tree.iter("table"):
        rows = [["".join(cell.itertext()) for cell in row] for row in table.iter("tr")]
        found.append((rows[0], rows[1:]))
    return found


def test_examples_show_every_class(values):
    assert set(CLASSES) - set(CALLS) - set(values) == set()


@pytest.mark.parametrize("name", sorted(set(CLASSES) - set(CALLS)))
def test_shown_in_notebooks_and_terminals(name, values):
    for value in values[name]:
        text = repr(value)
        assert text.startswith(name)
        assert " object at 0x" not in text
        # A text, and no contents of whole columns.
        assert len(text) <= 1200
        if name in TEXTS or name == "Schematic":
            continue
        for head, rows in tables(value):
            assert all(len(row) == len(head) for row in rows)
            cells = {cell for row in rows for cell in row}
            assert cells.isdisjoint({"nan", "None", "-0", "-0.00"})
            assert not [cell for cell in cells if re.search(r"e-1\d", cell)]


def one(value, place=0):
    head, rows = tables(value)[place]
    return {row[0]: dict(zip(head[1:], row[1:], strict=True)) for row in rows}


def test_figures_of_a_trend(circuit):
    trend = interstage.Trend(
        circuit,
        {"evaporator_pressure": ("e", "kPa"), "condenser_pressure": ("c", "kPa")},
    )
    saturation = circuit.refrigerant.saturation
    low, high = [278.0, 279.0, 281.0, 280.0], [310.0, 311.0, 312.0]
    result = trend.analyse(
        {
            "e": [saturation(T=T).p / 1e3 for T in low],
            "c": [*(saturation(T=T).p / 1e3 for T in high), float("nan")],
        }
    )
    shown = one(result)
    # By hand: 278 K is 4.85 degC; of four values the median is the mean of the middle two.
    assert shown["evaporating_temperature"] == {
        "unit": "degC",
        "rows": "4",
        "lowest": "4.85",
        "median": "6.35",
        "highest": "7.85",
    }
    assert shown["condensing_temperature"]["rows"] == "3"
    # A difference is no temperature: 32, 32 and 31 K.
    assert shown["refrigerant_lift"]["median"] == "32.00"
    assert shown["refrigerant_lift"]["unit"] == "K"
    assert one(result, 1)["a reading is missing"] == {"rows": "1"}
    assert "power" not in shown
    assert "compression_power" in result._repr_html_()


def test_half_widths_are_differences(values):
    told = values["UncertainFigures"][0]
    shown = one(told)
    lift = np.median(np.asarray(told.half_width("water_lift")))
    assert float(shown["water_lift"]["half width"]) == pytest.approx(lift, abs=0.0051)
    capacity = np.median(np.asarray(told.half_width("capacity"))) / 1e3
    assert float(shown["capacity"]["half width"]) == pytest.approx(capacity, rel=1e-3)
    assert shown["capacity"]["unit"] == "kW"


def test_a_departure_of_a_temperature_is_in_kelvin():
    departure = interstage.Departure(
        "condensing_temperature", 1.25, 0.5, 310.15, 30, 5, "Monday", "Friday", "Tuesday"
    )
    shown = one(departure)["condensing_temperature"]
    assert shown["expected [degC]"] == "37.00"
    assert shown["departure [K]"] == "1.25"
    assert shown["interval [K]"] == "0.50"


def test_counts(values):
    quality = values["Quality"][0]
    shown = one(quality)
    for reading, counts in quality.counts().items():
        for words, count in counts.items():
            assert shown[reading].get(words, "0") == str(count)
    steady = values["Steady"][0]
    (mask,) = tables(steady)[0][1]
    assert mask == [str(len(steady)), str(int(np.sum(steady.mask)))]
    why = one(steady, 1)
    assert sum(int(row["rows"]) for row in why.values()) == len(steady) - int(np.sum(steady.mask))


def test_texts_are_escaped_and_long_lists_end():
    log = pd.Series([1.0, 2.0], index=pd.to_datetime(["2023-07-01 00:00", "2023-07-01 01:00"]))
    joined = interstage.join_logs({"<b>&": log}, longest_hold="2h", step="1h")
    assert "<b>&" not in joined._repr_html_()
    assert list(one(joined)) == ["<b>&"]
    candidate = interstage.Candidate("R-134a", {}, {}, 0.1, 0.2)
    many = interstage.Identification((candidate,) * 12, 2.0, True, "R-134a", 40, {})
    ((_, rows),) = tables(many)
    assert len(rows) == 10
    assert "2 more were tried." in many._repr_html_()


@pytest.mark.parametrize("name", sorted(name for name, cls in CLASSES.items() if issubclass(cls, Tabular)))
def test_printed_is_what_notebooks_show(name, values):
    for value in values[name]:
        if type(value).__str__ is not Tabular.__str__:
            continue
        text = str(value)
        assert not re.search(r"\n\n\n|\bnan\b|None", text)
        # Lines of a terminal, but where one cell and what names its row are longer.
        assert max(map(len, text.split("\n"))) <= 130
        words = "".join(text.split())
        for _, rows in tables(value):
            for cell in (cell for row in rows for cell in row):
                assert all(word in words for word in cell.split())


def test_long_cells_take_several_lines():
    long = Table("caption", {"name": ["a", "b"], "why [K]": ["word " * 20, ""], "x": ["1", "22"]})
    assert long.text().split("\n") == [
        "caption",
        "name  why                                            x",
        "      [K]",
        "a     word word word word word word word word word   1",
        "      word word word word word word word word word",
        "      word word",
        "b                                                   22",
    ]


def test_lists_of_results_are_one_table(values):
    departure = interstage.Departure(
        "condensing_temperature", 1.25, 0.5, 310.15, 30, 5, "Monday", "Friday", "Tuesday"
    )
    found = interstage.departures(pd.DataFrame({"cop": [5.0]}), {}, block=[0])
    assert found == []
    assert "departures of 0 figures" in found._repr_html_()
    found += [departure, dataclasses.replace(departure, figure="cop", shift=-0.5, expected=6.0)]
    shown = one(found)
    assert shown["condensing_temperature"]["expected"] == "37.00 degC"
    assert shown["condensing_temperature"]["departure"] == "1.25 K"
    assert shown["cop"]["departure"] == "-0.5000"
    # A list it stays, for whoever stores, compares or sends it.
    assert isinstance(found, list)
    assert pickle.loads(pickle.dumps(found)) == found == list(found)
    told = values["UncertainFigures"][0]
    seen = interstage.smallest_visible(told)
    (_, rows), (_, untold) = tables(seen)
    assert [row[:3] for row in rows] == [
        [each.fault, each.figure, each.direction] for each in seen if each.smallest is not None
    ]
    assert {row[0]: row[1] for row in untold} == {each.figure: each.reason for each in seen if each.reason}
    directions = interstage.check_directions(values["Quality"][0])
    ((_, rows),) = tables(directions)
    assert [row[2] for row in rows] == [each.verdict for each in directions]


def test_every_result_has_a_table():
    known = {**_display_trends.TABLES, **_display_faults.TABLES}
    assert set(known) == {cls.__name__ for cls in Shown.__subclasses__()} | {"Prediction"}

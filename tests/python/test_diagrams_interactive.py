"""Diagrams to look into: what stands under the pointer and which cycle the slider shows."""

import datetime
import re
import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import interstage
from interstage import _trend_cycles
from interstage import units as u

STAGE = interstage.Stage(polytropic_efficiency=0.8)
AT = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15, "capacity": 1e6}
ARRANGEMENTS = [
    ("1 stage: suction exchanger (effectiveness 0.3)", {}),
    ("3 stages: tank@3, tank@2", {"port_loss": 0.02, "suction_loss": 0.02}),
    ("2 stages: intercooled tank@2 (coil 3 K)", {}),
    ("3 stages: closed@3 (approach 3 K), liquid injection@2", {}),
    ("2 stages: tank@2 (expander 0.5), evaporator expander (efficiency 0.5)", {}),
    ("2 stages: tank@2", {"motor_efficiency": 0.95, "motor_cooling": 2}),
]
READINGS = {
    "evaporator_pressure": ("evap", "kPa"),
    "condenser_pressure": ("cond", "kPa"),
    "tank_pressure": ("tank", "kPa"),
    "discharge_temperature": ("hot", "degC"),
    "capacity": ("heat", "kW"),
    "power": ("kw", "kW"),
}
#: The third row has no discharge temperature, the fifth is off, in the sixth the pressures jump.
ROWS = {
    "evap": [350.0, 352.0, 351.0, 349.0, 350.0, 900.0, 348.0],
    "cond": [900.0, 910.0, 905.0, 915.0, 350.0, 350.0, 920.0],
    "tank": [560.0, 565.0, 562.0, 566.0, 350.0, 560.0, 567.0],
    "hot": [44.0, 44.5, float("nan"), 45.0, 20.0, 44.0, 45.5],
    "heat": [1000.0, 1010.0, 1005.0, 990.0, 0.0, 1000.0, 980.0],
    "kw": [150.0, 152.0, 151.0, 150.0, 0.0, 150.0, 149.0],
}
SHOWN = [0, 1, 3, 6]


@pytest.fixture(scope="module")
def refrigerant():
    return interstage.Refrigerant("R-134a")


@pytest.fixture(scope="module")
def result(refrigerant):
    return trend(refrigerant).analyse(ROWS)


def trend(refrigerant):
    return interstage.Trend(circuit(refrigerant, "2 stages: tank@2"), READINGS)


def circuit(refrigerant, arrangement, **options):
    return interstage.Circuit.arranged(refrigerant, arrangement, stage=STAGE, **options)


def dots(figure, name):
    """The trace of a cycle's points."""
    (found,) = [trace for trace in figure.data if trace.name == name and trace.mode == "markers"]
    return found


def told(trace, place):
    """What is said of a point, as the page puts it together."""
    text = trace.hovertemplate.replace("%{text}", trace.text[place])
    return re.sub(r"%{customdata\[(\d+)\]}", lambda found: str(trace.customdata[place][int(found[1])]), text)


@pytest.mark.parametrize("kind", ["p-h", "T-s", "h-s"])
@pytest.mark.parametrize("units", ["SI", "I-P"])
@pytest.mark.parametrize(("arrangement", "options"), ARRANGEMENTS)
def test_every_arrangement_has_all_its_points_and_ways(refrigerant, kind, units, arrangement, options):
    cycle = circuit(refrigerant, arrangement, **options).solve(**AT)
    figure = interstage.Diagram(refrigerant, kind, units=units).add(cycle, "it").interactive()
    points = dots(figure, "it")
    assert [text.replace(" ", "_") for text in points.text] == list(cycle.points)
    (across, up) = figure.layout.xaxis.range, figure.layout.yaxis.range
    level = np.log10 if kind == "p-h" else np.asarray
    ways = [trace for trace in figure.data if trace.legendgroup == points.legendgroup]
    assert len(ways) == 3
    for trace in ways:
        x, y = np.array(trace.x, dtype=float), level(np.array(trace.y, dtype=float))
        there = np.isfinite(x)
        assert ((x[there] > across[0]) & (x[there] < across[1])).all()
        assert ((y[there] > up[0]) & (y[there] < up[1])).all()
    # Every point is the beginning or the end of a way.
    ends = np.concatenate([np.column_stack([way.x, way.y]) for way in ways[:2] if len(way.x)]).astype(float)
    for point in np.column_stack([points.x, points.y]).astype(float):
        assert np.nanmin(np.abs(ends / point - 1.0).max(axis=1)) < 1e-6


def test_the_state_of_a_point_stands_under_the_pointer(refrigerant):
    """Converted here by the public functions, not by the way the diagram goes."""
    cycle = circuit(refrigerant, "2 stages: tank@2").solve(**AT)
    lines = {}
    for units in ("SI", "I-P"):
        trace = dots(
            interstage.Diagram(refrigerant, units=units).add(cycle, "one tank").interactive(), "one tank"
        )
        for place, name in enumerate(cycle.points):
            lines[units, name] = told(trace, place).removesuffix("<extra>one tank</extra>").split("<br>")
    point = cycle.points["condenser_outlet"]
    assert lines["SI", "condenser_outlet"] == [
        "<b>condenser outlet</b>",
        f"temperature {point.T - 273.15:.2f} degC",
        f"pressure {point.p / 1e3:.5g} kPa",
        f"enthalpy {point.h / 1e3:.2f} kJ/kg",
        f"entropy {point.s / 1e3:.4f} kJ/(kg K)",
        f"density {point.rho:.5g} kg/m3",
        "quality 0.0000",
        f"mass flow {point.mass_flow:.4g} kg/s",
    ]
    hot = cycle.points["stage_2_outlet"]
    assert lines["I-P", "stage_2_outlet"] == [
        "<b>stage 2 outlet</b>",
        f"temperature {u.fahrenheit_from_kelvin(hot.T):.2f} degF",
        f"pressure {u.psia_from_pascal(hot.p):.5g} psia",
        f"enthalpy {hot.h / 2326.0:.3f} Btu/lb",
        f"entropy {hot.s / 4186.8:.5f} Btu/(lb R)",
        f"density {hot.rho * 0.3048**3 / 0.45359237:.5g} lb/ft3",
        "vapor, no quality",
        f"mass flow {60.0 * hot.mass_flow / 0.45359237:.4g} lb/min",
    ]


def test_lines_say_their_value(refrigerant):
    figure = interstage.Diagram(refrigerant, "T-s", temperatures=(260.0, 330.0)).interactive()
    found = [trace for trace in figure.data if trace.hovertemplate and "pressure" in trace.hovertemplate]
    assert len(found) > 4
    for trace in found:
        (said,) = re.findall(r"pressure ([\d.]+) kPa", trace.hovertemplate)
        place = int(np.nanargmin(trace.x))
        state = refrigerant.state(T=float(trace.y[place]) + 273.15, s=1e3 * float(trace.x[place]))
        assert state.p == pytest.approx(1e3 * float(said), rel=5e-3)
    assert {"pressure [kPa]", "enthalpy [kJ/kg]", "density [kg/m3]", "quality", "saturation"} == {
        trace.name for trace in figure.data if trace.showlegend is not False
    }


def test_several_cycles_are_told_apart(refrigerant):
    diagram = interstage.Diagram(refrigerant)
    for arrangement, options in ARRANGEMENTS:
        diagram.add(circuit(refrigerant, arrangement, **options).solve(**AT))
    figure = diagram.interactive()
    points = [trace for trace in figure.data if trace.mode == "markers"]
    assert [trace.name.replace("<br>", " ") for trace in points] == [name for name, _ in ARRANGEMENTS]
    assert len({(trace.marker.color, trace.marker.symbol) for trace in points}) == len(points)
    assert not figure.frames
    assert not figure.layout.sliders


def test_the_slider_shows_the_cycles_of_the_rows(refrigerant, result):
    design = circuit(refrigerant, "2 stages: tank@2").solve(**AT)
    figure = interstage.Diagram(refrigerant).add(design, "design").interactive(result)
    (slider,) = figure.layout.sliders
    assert [step.label for step in slider.steps] == [f"row {row}" for row in SHOWN]
    assert [step.args[0][0] for step in slider.steps] == [frame.name for frame in figure.frames]
    for frame, row in zip(figure.frames, SHOWN, strict=True):
        cycle = result.cycle(row)
        moved = [figure.data[place] for place in frame.traces]
        assert {trace.legendgroup for trace in moved} == {"cycle 1"}
        points = frame.data[2]
        for place, point in enumerate(cycle.points.values()):
            assert points.x[place] == pytest.approx(point.h / 1e3, rel=1e-6)
            assert points.y[place] == pytest.approx(point.p / 1e3, rel=1e-6)
            assert points.customdata[place][0] == f"{point.T - 273.15:.2f}"
    # The first row is there before anything moves, and what was added stays.
    assert list(dots(figure, "trend").x) == list(figure.frames[0].data[2].x)
    assert len(dots(figure, "design").x) == len(design.points)


def test_rows_without_a_cycle_are_named(refrigerant, result):
    figure = interstage.Diagram(refrigerant).interactive(result)
    reasons = {
        2: "stage_efficiency cannot be told: a reading is missing",
        4: "the machine is off",
        5: "evaporating_temperature, stage_efficiency, stage_2_tank_pressure_exponent cannot be told: "
        "a single reading jumped",
    }
    assert figure.layout.title.subtitle.text.replace("<br>", " ") == " ".join(
        ["4 of 7 rows of the trend", *(f"1 row left out (row {row}): {why}" for row, why in reasons.items())]
    )
    assert figure.layout.meta["left_out"] == [
        {"first": f"row {row}", "last": f"row {row}", "rows": 1, "why": why, "stretches": 1}
        for row, why in reasons.items()
    ]
    # Each reason is that which the cycle of the row is refused for.
    for row, why in reasons.items():
        with pytest.raises(interstage.Undefined) as refused:
            result.cycle(row)
        assert why in refused.value.state


def test_rows_that_cannot_be_solved_are_named(refrigerant, result, monkeypatch):
    def solve(result, row, stage_efficiency):
        if row in (1, 3):
            raise interstage.Undefined("it broke", property="cycle", state="")
        return result.cycle(row)

    monkeypatch.setattr(_trend_cycles, "row_cycle", solve)
    figure = interstage.Diagram(refrigerant).interactive(result, rows=[0, 1, 3])
    assert figure.layout.title.subtitle.text.split("<br>") == [
        "1 of 3 rows of the trend",
        "2 rows left out (row 1 to row 3): could not be solved: it broke",
    ]
    with pytest.raises(interstage.Undefined, match="of 1 rows; most often: could not be solved: it broke"):
        interstage.Diagram(refrigerant).interactive(result, rows=[1])


def test_many_rows_are_thinned_and_many_stretches_told_in_short(refrigerant, monkeypatch):
    many = {name: values * 30 for name, values in ROWS.items()}
    start = datetime.datetime(2025, 7, 1)
    index = pd.DatetimeIndex([start + datetime.timedelta(minutes=10 * row) for row in range(210)])
    found = trend(refrigerant).analyse(pd.DataFrame(many, index=index))
    figure = interstage.Diagram(refrigerant, "T-s").interactive(found, most_rows=7)
    notes = figure.layout.title.subtitle.text.split("<br>")
    assert notes[0] == "7 of 210 rows of the trend, evenly thinned from 120 that have a cycle"
    stretches = "30 rows left out (30 stretches between 2025-07-01 00:20:00 and 2025-07-02 10:10:00)"
    assert f"{stretches}: stage_efficiency cannot be told: a reading is missing" in " ".join(notes)
    labels = [step.label for step in figure.layout.sliders[0].steps]
    assert (labels[0], labels[-1]) == ("2025-07-01 00:00:00", "2025-07-02 10:50:00")
    assert sum(run["rows"] for run in figure.layout.meta["left_out"]) == 90
    # Of very many stretches those of a reason are told together.
    with monkeypatch.context() as fewer:
        fewer.setattr(_trend_cycles, "_STRETCHES", 50)
        shorter = interstage.Diagram(refrigerant, "T-s").interactive(found, most_rows=7)
    assert shorter.layout.title.subtitle.text == figure.layout.title.subtitle.text
    told = shorter.layout.meta["left_out"]
    assert sum(run["rows"] for run in told) == sum(run["stretches"] for run in told) == 90
    assert len(told) == len({run["why"] for run in told}) < 6
    # Rows by one truth value each, called by names of one's own.
    shown = interstage.Diagram(refrigerant).interactive(
        found, rows=np.arange(210) < 2, times=[f"scan {row}" for row in range(210)]
    )
    assert [step.label for step in shown.layout.sliders[0].steps] == ["scan 0", "scan 1"]
    assert shown.layout.title.subtitle.text == "2 of 2 rows of the trend"


def test_a_row_is_drawn_for_print_as_any_cycle(refrigerant, result):
    import matplotlib

    matplotlib.use("Agg")
    design = circuit(refrigerant, "2 stages: tank@2").solve(**AT)
    diagram = interstage.Diagram(refrigerant).add(design, "design")
    for row in (0, 6):
        diagram.add(result.cycle(row), f"row {row}")
    ax = diagram.draw()
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["design", "row 0", "row 6"]
    drawn = [line for line in ax.lines if line.get_marker() in "os^" and len(line.get_xdata()) > 3]
    for line, cycle in zip(drawn, (design, result.cycle(0), result.cycle(6)), strict=True):
        assert np.allclose(line.get_xdata(), [point.h / 1e3 for point in cycle.points.values()])
    matplotlib.pyplot.close(ax.figure)


def test_trends_that_do_not_fit_are_refused(refrigerant, result):
    diagram = interstage.Diagram(refrigerant)
    with pytest.raises(interstage.WrongArgument, match="result must be a TrendResult, got dict"):
        diagram.interactive(ROWS)
    with pytest.raises(interstage.WrongArgument, match=r"the diagram is of .*R-123.*the trend of .*R-134a"):
        interstage.Diagram(interstage.Refrigerant("R-123")).interactive(result)
    for name, value in (("rows", [0]), ("times", [1]), ("stage_efficiency", 0.8)):
        with pytest.raises(interstage.WrongArgument, match=f"{name} needs the result of a trend"):
            diagram.interactive(**{name: value})
    for rows in ([7], [-1]):
        with pytest.raises(interstage.OutOfRange, match="rows must be 0 to 6"):
            diagram.interactive(result, rows=rows)
    for rows in ([0.5], ["row 1"], [[0]], 3):
        with pytest.raises(interstage.WrongArgument, match="rows must be numbers of rows or one truth value"):
            diagram.interactive(result, rows=rows)
    with pytest.raises(interstage.WrongLength, match="one truth value a row, 7, got 2"):
        diagram.interactive(result, rows=[True, False])
    with pytest.raises(interstage.WrongLength, match="times must have one value a row, 7, got 1"):
        diagram.interactive(result, times=["noon"])
    with pytest.raises(interstage.OutOfRange, match="most_rows must be at least 1, got 0"):
        diagram.interactive(result, most_rows=0)
    with pytest.raises(interstage.WrongArgument, match="most_rows must be a whole number"):
        diagram.interactive(result, most_rows=2.5)
    with pytest.raises(interstage.Undefined, match="of 2 rows; most often: the machine is off"):
        diagram.interactive(result, rows=[4, 4, 5])
    with pytest.raises(interstage.Undefined, match="of no rows"):
        diagram.interactive(result, rows=[])
    for efficiency in (0.0, float("nan")):
        with pytest.raises(interstage.InterstageError):
            diagram.interactive(result, stage_efficiency=efficiency)


@pytest.mark.parametrize("package", ["plotly", "matplotlib"])
def test_what_is_missing_is_said(refrigerant, package, monkeypatch):
    for module in ("plotly.graph_objects", "matplotlib.pyplot"):
        if module.startswith(package):
            monkeypatch.setitem(sys.modules, module, None)
    diagram = interstage.Diagram(refrigerant)
    call = {"plotly": diagram.interactive, "matplotlib": diagram.draw}[package]
    with pytest.raises(ImportError, match=rf"needs {package}: pip install 'interstage\[plot\]'"):
        call()
    project = (Path(__file__).parents[2] / "pyproject.toml").read_text()
    (extra,) = re.findall(r"^plot = \[(.*)\]$", project, re.MULTILINE)
    assert f'"{package}>=' in extra


def test_the_page_holds_no_more_than_a_screen_shows(refrigerant, result):
    """Numbers of seven digits, packed: a row of a two-stage cycle takes a few kB."""
    diagram = interstage.Diagram(refrigerant)
    alone, moving = (len(figure.to_json()) for figure in (diagram.interactive(), diagram.interactive(result)))
    assert alone < 100e3
    assert (moving - alone) / len(SHOWN) < 10e3

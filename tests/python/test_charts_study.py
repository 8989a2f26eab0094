"""Charts of studies and cycles: what is drawn is what the tables say."""

import dataclasses
import re
from itertools import pairwise

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np
import pytest

import interstage
from interstage import _looks

AT = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15, "capacity": 3.5e6}
SATURATION, VOLUME = "same saturation temperatures", "same inlet volume"
LONG = "a machine that somebody wrote down with all that is known of it, " * 4


@pytest.fixture(autouse=True)
def closed():
    yield
    plt.close("all")


def circuit(arrangement, refrigerant="R-1233zd(E)"):
    stage = interstage.Stage(polytropic_efficiency=0.8)
    return interstage.Circuit.arranged(interstage.Refrigerant(refrigerant), arrangement, stage=stage)


ARRANGEMENTS = [
    "1 stage",
    "2 stages: tank@2",
    "2 stages: tank@2 (carryover 0.05)",
    "2 stages: tank@2 (blowthrough 0.05)",
    "2 stages: intercooled tank@2",
    "2 stages: intercooled tank@2 (coil 3 K)",
    "2 stages: closed@2 (approach 3 K)",
    "2 stages: liquid injection@2",
    "3 stages: tank@3",
    "3 stages: tank@2",
    "3 stages: tank@3, tank@2",
    "3 stages: closed@3 (approach 3 K), closed@2 (approach 3 K)",
]


def compared(arrangements, basis=SATURATION, **options):
    circuits = {text: circuit(text) for text in arrangements}
    return interstage.compare(circuits, basis=basis, **{**AT, **options})


def texts(ax):
    return [text.get_text().replace("\n", " ") for text in ax.texts]


def drawn(ax):
    """Draw it, so that layout and letters are tried too."""
    ax.figure.canvas.draw()
    return ax


@pytest.mark.parametrize("number", [1, 12])
def test_bars_are_the_figures_of_the_table(number):
    study = compared(ARRANGEMENTS[:number])
    ax = drawn(study.bars())
    assert [bar.get_width() for bar in ax.patches] == study.table["cop"].tolist()
    assert len(ax.get_yticklabels()) == number
    assert ax.get_xlabel() == "COP of compression [-]"
    assert any(SATURATION in text and "evaporating 5 degC, condensing 37 degC" in text for text in texts(ax))
    ax = drawn(study.bars("economizer_benefit"))
    np.testing.assert_allclose(
        [bar.get_width() for bar in ax.patches], 100.0 * study.table["economizer_benefit"], rtol=1e-12
    )
    assert "[%]" in ax.get_xlabel()


def test_brackets_say_what_is_saved_against_the_reference():
    """COP as computed with CoolProp 8.0.0 (`tests/data/chiller_numbers.csv`)."""
    ax = compared(ARRANGEMENTS[:2]).bars()
    assert "6.463  (+5.8 %)" in texts(ax)
    assert "6.086" in texts(ax)
    assert any("'1 stage'" in text for text in texts(ax))


def test_bases_are_beside_each_other_and_told_apart_in_grey():
    study = compared(ARRANGEMENTS[:3], [SATURATION, VOLUME], units="I-P")
    ax = drawn(study.bars("capacity"))
    assert "[ton]" in ax.get_xlabel()
    legend = [text.get_text() for text in ax.get_legend().get_texts()]
    assert legend == [SATURATION, VOLUME]
    widths = [bar.get_width() for bar in ax.patches]
    assert widths == study.table["capacity [ton]"].tolist()
    assert ax.patches[0].get_hatch() != ax.patches[3].get_hatch()


def test_several_conditions_are_a_median_with_its_range():
    study = compared(ARRANGEMENTS[:2], condensing_temperature=[300.15, 305.15, 315.15])
    by_circuit = study.table.groupby("circuit", sort=False)["cop"]
    ax = drawn(study.bars())
    assert [bar.get_width() for bar in ax.patches] == by_circuit.median().tolist()
    (spread,) = ax.collections
    ends = [segment[:, 0] for segment in spread.get_segments()]
    np.testing.assert_allclose(ends, np.column_stack([by_circuit.min(), by_circuit.max()]))
    assert any("median over 3 conditions" in text for text in texts(ax))
    one = study.bars(condition=2)
    assert [bar.get_width() for bar in one.patches] == study.table.query("condition == 2")["cop"].tolist()
    assert not one.collections


def test_what_cannot_run_stays_and_says_so():
    study = interstage.what_if(circuit("2 stages: tank@2", "R-123"), ["R-410A", "R-134a"], **AT)
    ax = drawn(study.bars())
    assert [label.get_text() for label in ax.get_yticklabels()] == ["R-123", "R-410A", "R-134a"]
    assert np.isnan(ax.patches[1].get_width())
    assert "not possible" in texts(ax)


def test_studies_without_a_result_draw_a_sentence():
    study = compared(ARRANGEMENTS[:2], condensing_temperature=200.0)
    for draw in (study.bars, study.against_lift, study.head_bars):
        ax = drawn(draw())
        assert not ax.patches or all(bar.get_width() == 0.0 for bar in ax.patches)
        assert not ax.lines
        assert any("condensing at 200 K" in text or "none of the cycles" in text for text in texts(ax))


def test_unknown_figures_and_conditions_are_refused():
    study = compared(ARRANGEMENTS[:1])
    for draw in (study.bars, study.against_lift):
        with pytest.raises(interstage.UnknownOption, match="economizer_benefit"):
            draw("saving")
        with pytest.raises(interstage.UnknownOption, match="column of numbers"):
            draw("status")
    with pytest.raises(interstage.UnknownOption, match="condition must be one of 0"):
        study.bars(condition=7)


def test_long_names_are_broken_and_cut():
    study = interstage.compare({LONG: circuit("1 stage"), "x": circuit("2 stages")}, basis=SATURATION, **AT)
    ax = drawn(study.bars())
    label = ax.get_yticklabels()[0].get_text()
    assert label.count("\n") == 2
    assert label.endswith("…")
    # The bars keep most of the chart.
    assert ax.get_position().width > 0.5


def test_lines_over_the_lift():
    lifts = np.linspace(5.0, 45.0, 9)
    study = interstage.grid(
        refrigerant=["R-123", "R-134a"],
        arrangement=["2 stages: tank@2", "3 stages: tank@3, tank@2"],
        polytropic_efficiency=0.8,
        evaporating_temperature=[270.15, 278.15],
        condensing_temperature=278.15 + lifts,
        capacity=1e6,
    )
    ax = drawn(study.against_lift())
    # Four machines at two evaporating temperatures; a machine has one entry.
    assert len(ax.lines) == 8
    legend = [text.get_text() for text in ax.get_legend().get_texts()]
    assert legend[0] == "R-123, 2 stages: tank@2"
    assert len(legend) == 4
    warm = ax.lines[1]
    np.testing.assert_allclose(warm.get_xdata(), lifts, atol=1e-9)
    rows = study.table.query("machine == 'machine 1'")
    rows = rows[rows["evaporating_temperature [degC]"] > 0.0]
    np.testing.assert_allclose(warm.get_ydata(), 100.0 * rows["economizer_benefit"])
    looks = {(line.get_color(), line.get_marker(), str(line.get_linestyle())) for line in ax.lines}
    assert len(looks) == 4
    assert any("a line for each evaporating temperature" in text for text in texts(ax))


def test_free_conditions_are_one_line_in_the_order_of_the_lift():
    study = compared(
        ARRANGEMENTS[:2],
        evaporating_temperature=[281.0, 279.0, 277.0],
        condensing_temperature=[300.0, 304.0, 308.0],
        units="I-P",
    )
    ax = study.against_lift("cop")
    assert len(ax.lines) == 2
    np.testing.assert_allclose(ax.lines[0].get_xdata(), [34.2, 45.0, 55.8])
    assert "[F]" in ax.get_xlabel()


def test_more_lines_than_colors_are_told_apart():
    looks = [_looks.series(place) for place in range(24)]
    assert len({(look["color"], look["marker"], str(look["linestyle"])) for look in looks}) == 24


def test_heads_add_up_to_the_whole():
    study = compared(ARRANGEMENTS)
    ax = drawn(study.head_bars())
    assert len(ax.get_legend().get_texts()) == 3
    sums = np.zeros(12)
    for bar in ax.patches:
        sums[round(bar.get_y() + 0.5 * bar.get_height())] += bar.get_width()
    np.testing.assert_allclose(sums, 100.0)
    second = study.table["stage_2_head_split"].fillna(0.0)
    np.testing.assert_allclose([bar.get_width() for bar in ax.patches[12:24]], 100.0 * second)


def test_heads_of_cycles():
    cycles = circuit("2 stages: tank@2").solve(
        evaporating_temperature=278.15, condensing_temperature=[310.15, 200.0], capacity=1e6
    )
    ax = drawn(cycles.head_bars())
    np.testing.assert_allclose(ax.patches[0].get_width(), 100.0 * cycles.head_split[0, 0])
    assert [label.get_text() for label in ax.get_yticklabels()] == [
        "5 to 37 degC",
        "5 to -73.15 degC",
    ]
    assert "no result" in texts(ax)
    with pytest.raises(interstage.WrongArgument, match="labels must be 2"):
        cycles.head_bars(labels=["one"])
    many = circuit("1 stage").solve(
        evaporating_temperature=278.15, condensing_temperature=np.linspace(300.0, 310.0, 50), capacity=1e6
    )
    with pytest.raises(interstage.Inconsistent, match="these are 50"):
        many.head_bars()


def ledger(arrangement, *, condenser_water=(303.15, 308.15)):
    return (
        circuit(arrangement, "R-134a")
        .solve(**AT)
        .exergy(
            chilled_water=(285.15, 280.15), condenser_water=condenser_water, dead_state_temperature=303.15
        )
    )


@pytest.mark.parametrize("units", ["SI", "I-P"])
@pytest.mark.parametrize("measure", ["exergy", "share"])
def test_ledgers_close_to_the_power(units, measure):
    ledgers = {text: ledger(text) for text in ARRANGEMENTS}
    first = ledgers.pop(ARRANGEMENTS[0])
    ax = drawn(first.bars(label=ARRANGEMENTS[0], beside=ledgers, measure=measure, units=units))
    sums = np.zeros(12)
    for bar in ax.patches:
        sums[round(bar.get_y() + 0.5 * bar.get_height())] += bar.get_width()
    power = np.array([first.power, *(each.power for each in ledgers.values())])
    scale = {"SI": 1e-3, "I-P": 60.0 / 1055.05585262}[units]
    expected = power * scale if measure == "exergy" else np.full(12, 100.0)
    np.testing.assert_allclose(sums, expected, rtol=1e-9)
    np.testing.assert_allclose(ax.lines[0].get_xdata(), expected, rtol=1e-9)
    unit = {"SI": "kW", "I-P": "Btu/min"}[units]
    assert ax.get_xlabel() == (f"exergy [{unit}]" if measure == "exergy" else "share of the power [%]")


def test_components_of_a_kind_are_one_part():
    found = ledger("3 stages: tank@3, tank@2")
    ax = found.bars()
    widths = {bar.get_gid(): bar.get_width() for bar in ax.patches}
    work = sum(value for name, value in found.destroyed.items() if name in ("stage_1", "stage_2", "stage_3"))
    throttled = sum(value for name, value in found.destroyed.items() if name.endswith("metering"))
    assert widths["compression"] == pytest.approx(work / 1e3)
    assert widths["throttling"] == pytest.approx(throttled / 1e3)
    legend = [text.get_text() for text in ax.get_legend().get_texts()]
    assert "mixing" in legend
    assert "motor" not in legend
    looks = {(bar.get_facecolor(), bar.get_hatch()) for bar in ax.patches}
    assert len(looks) == len(ax.patches)


def test_exergy_that_comes_in_lies_to_the_left():
    found = ledger("2 stages: tank@2", condenser_water=(293.15, 298.15))
    assert found.rejected < 0.0
    ax = drawn(found.bars())
    left = [bar for bar in ax.patches if bar.get_width() < 0.0]
    assert [bar.get_gid() for bar in left] == ["leaves with condenser water"]
    assert sum(bar.get_width() for bar in ax.patches) == pytest.approx(found.power / 1e3)
    assert ax.get_xlim()[0] < 0.0


def test_ledgers_refuse_what_they_cannot_draw():
    found = ledger("1 stage")
    with pytest.raises(interstage.WrongArgument, match="mapping of label to ExergyLedger"):
        found.bars(beside={"other": 3.0})
    with pytest.raises(interstage.WrongArgument, match="two ledgers"):
        found.bars(label="one", beside={"one": found})
    with pytest.raises(interstage.UnknownOption, match="measure"):
        found.bars(measure="W")
    with pytest.raises(interstage.UnknownOption, match="units"):
        found.bars(units="cgs")


@pytest.mark.parametrize("arrangement", ["2 stages: tank@2", "3 stages: tank@3, tank@2", "2 stages"])
def test_the_curve_has_its_top_at_the_optimum(arrangement):
    conditions = {name: AT[name] for name in ("evaporating_temperature", "condensing_temperature")}
    sweep = interstage.sweep_pressures(circuit(arrangement), **conditions)
    assert np.nanmax(sweep.cop) <= sweep.best_cop * (1.0 + 1e-9)
    for line, best in zip(sweep.cop, sweep.best_exponents, strict=True):
        if arrangement != "2 stages":
            assert abs(sweep.exponents[np.nanargmax(line)] - best) <= 0.011
    ax = drawn(sweep.curve())
    stars = [line for line in ax.lines if line.get_marker() == "*"]
    assert [float(star.get_xdata()[0]) for star in stars] == pytest.approx(list(sweep.best_exponents))
    # No rule beats the optimum, and each is a point with the exponents it has.
    assert list(sweep.rules) == ["equal ratio", "equal temperature step", "equal head"]
    hollow = [line for line in ax.lines if line.get_markerfacecolor() == "white" and line.get_marker() != "*"]
    for line, (exponents, cop) in zip(hollow, sweep.rules.values(), strict=True):
        assert cop <= sweep.best_cop * (1.0 + 1e-9)
        assert list(line.get_xdata()) == list(exponents)
        assert set(line.get_ydata()) == {cop}
    stages = len(sweep.best_exponents) + 1
    assert sweep.rules["equal ratio"][0] == pytest.approx([k / stages for k in range(1, stages)])
    # The scale does not magnify: five per cent of the COP is on it at least.
    low, high = ax.get_ylim()
    assert low <= 0.95 * sweep.best_cop < sweep.best_cop < high


def test_a_flat_stretch_is_where_little_is_lost():
    conditions = {name: AT[name] for name in ("evaporating_temperature", "condensing_temperature")}
    sweep = interstage.sweep_pressures(circuit("2 stages: tank@2"), **conditions)
    ((low, high),) = sweep.flat(0.01)
    inside = (sweep.exponents >= low) & (sweep.exponents <= high)
    assert (sweep.cop[0][inside] >= 0.99 * sweep.best_cop).all()
    assert (sweep.cop[0][~inside] < 0.99 * sweep.best_cop).all()
    assert 0.0 < low < sweep.best_exponents[0] < high < 1.0
    with pytest.raises(interstage.OutOfRange, match="loss"):
        sweep.flat(0.0)
    assert list(sweep.table().columns) == ["exponent", "cop, stage 2 inlet"]
    assert "equal head" in sweep._repr_html_()


def test_a_sweep_needs_a_pressure_to_move():
    conditions = {name: AT[name] for name in ("evaporating_temperature", "condensing_temperature")}
    with pytest.raises(interstage.Inconsistent, match="one stage"):
        interstage.sweep_pressures(circuit("1 stage"), **conditions)
    with pytest.raises(interstage.OutOfRange, match="exponents"):
        interstage.sweep_pressures(circuit("2 stages"), exponents=[0.5, 1.0], **conditions)
    with pytest.raises(interstage.WrongArgument, match="Circuit"):
        interstage.sweep_pressures("2 stages", **conditions)


def test_without_matplotlib_the_chart_says_what_is_missing(monkeypatch):
    study = compared(ARRANGEMENTS[:1])

    def missing(name):
        raise ModuleNotFoundError(name)

    monkeypatch.setattr(_looks, "import_module", missing)
    with pytest.raises(ImportError, match=r"pip install 'interstage\[plot\]'"):
        study.bars()


def many(number):
    study = compared(["2 stages"])
    table = study.table.loc[study.table.index.repeat(number)].reset_index(drop=True)
    table["circuit"] = [f"machine {place}" for place in range(number)]
    return dataclasses.replace(study, table=table)


@pytest.mark.parametrize(("draw", "most"), [("bars", 60), ("head_bars", 60), ("against_lift", 24)])
def test_more_than_can_be_read_is_refused(draw, most):
    drawn(getattr(many(most), draw)())
    with pytest.raises(interstage.Inconsistent, match=f"there are {most + 1} .*, more than the {most} "):
        getattr(many(most + 1), draw)()


def test_rows_with_names_of_several_lines_do_not_lie_on_each_other():
    long = " ".join(["a name that somebody typed in from the plate of the machine"] * 3)
    study = many(6)
    study.table["circuit"] = [f"{place} {long}" for place in range(6)]
    for draw in (study.bars, study.head_bars):
        ax = drawn(draw())
        assert ax.get_yticklabels()[0].get_text().count("\n") == 2
        boxes = [label.get_window_extent() for label in ax.get_yticklabels()]
        assert all(above.y0 > below.y1 for above, below in pairwise(boxes))


@pytest.mark.parametrize("ax", [3, "axes", [1, 2]])
def test_what_is_no_axes_is_refused(ax):
    study = compared(["2 stages"])
    cycles = circuit("2 stages").solve(
        evaporating_temperature=278.15, condensing_temperature=[310.15, 311.15], capacity=1e6
    )
    for draw in (study.bars, study.against_lift, study.head_bars, cycles.head_bars):
        with pytest.raises(interstage.WrongArgument, match="ax must be a matplotlib Axes") as caught:
            draw(ax=ax)
        assert caught.value.argument == "ax"


def test_units_stay_with_their_numbers_and_names_in_one_piece():
    text = "evaporating 5 degC, condensing 36.94 to 37 degC, R-1233zd(E), condenser UA [Btu/(h F)], 12 % less"
    for letters in range(12, 60):
        lines = _looks.wrapped(text, letters)
        assert " ".join(lines) == text
        for whole in ("5 degC,", "37 degC,", "R-1233zd(E),", "[Btu/(h F)],", "12 %"):
            assert any(whole in line for line in lines), (letters, lines)


def test_axes_are_written_out():
    figure, ax = plt.subplots()
    for low, high, expected in (
        (9.0e5, 1.5e6, {"1,000,000", "1,200,000"}),
        (-0.02, 0.03, {"\N{MINUS SIGN}0.02", "0.00", "0.03"}),
        (0.0, 4e-4, {"0.00010", "0.00040"}),
        (100.0, 100.002, {"100.00050", "100.00100"}),
    ):
        ax.set_ylim(low, high)
        _looks.plain(ax.yaxis)
        figure.canvas.draw()
        assert expected <= {label.get_text() for label in ax.get_yticklabels()}
        assert ax.yaxis.get_offset_text().get_text() == ""
    plt.close(figure)


def test_values_are_as_sharp_as_their_interval():
    assert _looks.number(0.28912, 0.0103) == "0.289"
    assert _looks.number(1234567.0, 34000.0) == "1,235,000"
    assert _looks.number(0.28912) == "0.2891"
    ax = drawn(compared(ARRANGEMENTS[1:2]).bars("economizer_benefit"))
    assert re.fullmatch(r"\d\.\d\d", ax.texts[0].get_text())


def test_names_of_any_letters_are_shown_as_they_are():
    odd = [r"costs $\frac{$", "_spare", "from $5 to $6"]
    circuits = dict(zip(odd, map(circuit, ARRANGEMENTS[:3]), strict=True))
    study = interstage.compare(
        circuits, basis=SATURATION, **{**AT, "condensing_temperature": [300.15, 310.15]}
    )

    def shown(labels):
        plain = (label.get_text().removeprefix("\N{ZERO WIDTH SPACE}") for label in labels)
        return [text.replace(r"\$", "$") for text in plain]

    ax = drawn(study.against_lift())
    labels = ax.get_legend().get_texts()
    assert shown(labels) == odd
    # None of them is a formula to matplotlib.
    assert not any(label._preprocess_math(label.get_text())[1] for label in labels)
    assert shown(drawn(study.bars()).get_yticklabels()) == odd

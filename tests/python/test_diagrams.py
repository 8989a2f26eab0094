"""Property diagrams: what is drawn lies where the properties say."""

import html

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np
import pytest

import interstage
from interstage import _diagram_lines as lines

AT = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15, "capacity": 1e6}
ARRANGEMENTS = [
    "1 stage: suction exchanger (effectiveness 0.3)",
    "3 stages: tank@3, tank@2",
    "2 stages: intercooled tank@2 (coil 3 K)",
    "3 stages: closed@3 (approach 3 K), liquid injection@2",
    "2 stages: tank@2 (expander 0.5), evaporator expander (efficiency 0.5)",
]


@pytest.fixture(scope="module")
def refrigerant():
    return interstage.Refrigerant("R-134a")


def solved(refrigerant, arrangement, **options):
    stage = interstage.Stage(polytropic_efficiency=0.8)
    return interstage.Circuit.arranged(refrigerant, arrangement, stage=stage, **options).solve(**AT)


@pytest.mark.parametrize("kind", ["p-h", "T-s", "h-s"])
@pytest.mark.parametrize("units", ["SI", "I-P"])
def test_every_kind_is_drawn(refrigerant, kind, units):
    diagram = interstage.Diagram(refrigerant, kind, units=units)
    for arrangement in ARRANGEMENTS:
        diagram.add(solved(refrigerant, arrangement))
    ax = diagram.draw()
    assert {"SI": "[k", "I-P": "[B"}[units] in ax.get_xlabel()
    assert ax.get_title() == "R-134a"
    labels = [text.get_text() for text in ax.get_legend().get_texts()]
    assert labels == ARRANGEMENTS
    ax.figure.canvas.draw()
    plt.close(ax.figure)


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_points_and_ways_are_those_of_the_cycle(refrigerant, arrangement):
    cycle = solved(refrigerant, arrangement, motor_efficiency=0.95, motor_cooling="evaporator")
    seen = set()
    for balance in cycle.balances():
        for start, end in lines.ways(balance):
            way = lines.process(cycle, balance["component"], start, end)
            for name in ("p", "h"):
                assert way.columns[name][0] == getattr(cycle.points[start], name)
                assert way.columns[name][-1] == getattr(cycle.points[end], name)
            assert np.isfinite(way.columns["s"]).all()
            seen |= {start, end}
    assert seen == set(cycle.points)


def test_lines_have_their_values(refrigerant):
    coldest = 250.0
    bubble, dew = lines.dome(refrigerant, coldest)
    saturation = refrigerant.saturation(T=coldest)
    assert bubble.columns["h"][0] == saturation.liquid.h
    assert dew.columns["h"][0] == saturation.vapor.h
    assert abs(bubble.columns["h"][-1] - dew.columns["h"][-1]) < 0.02 * saturation.latent_heat
    (isotherm,) = lines.isotherms(refrigerant, [300.0], (1e5, 2e6))
    assert np.allclose(isotherm.columns["T"], 300.0, rtol=1e-12)
    assert (np.diff(isotherm.columns["p"]) >= 0.0).all()
    (isentrope,) = lines.isentropes(refrigerant, [1750.0], (1e5, 2e6))
    assert np.allclose(isentrope.columns["s"], 1750.0, rtol=1e-12)
    (half,) = lines.quality(refrigerant, coldest, [0.5])
    middle = 0.5 * (saturation.liquid.h + saturation.vapor.h)
    assert half.columns["h"][0] == pytest.approx(middle, rel=1e-9)


@pytest.mark.parametrize("name", ["R-410A", "R-718", "R-1336mzz(Z)", "R-744"])
def test_other_refrigerants_are_drawn(name):
    ax = interstage.Diagram(interstage.Refrigerant(name)).draw()
    assert len(ax.lines) > 10
    plt.close(ax.figure)


def test_round_values():
    assert list(lines.round_steps(-7.0, 53.0, 6)) == [0.0, 10.0, 20.0, 30.0, 40.0, 50.0]
    assert list(lines.round_ratios(3.0, 600.0, 8)) == [5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0]
    assert lines.round_steps(1.0, 1.0, 5).size == 0


@pytest.mark.parametrize(
    ("temperatures", "error", "said"),
    [
        ((300.0, 290.0), interstage.OutOfRange, "highest above lowest"),
        ((300.0, 300.0), interstage.OutOfRange, "highest above lowest"),
        ((float("nan"), 300.0), interstage.NotFinite, "finite"),
        ((280.0, float("inf")), interstage.NotFinite, "finite"),
        ((400.0, 420.0), interstage.OutOfRange, "below the end of the saturation line"),
        ((100.0, 150.0), interstage.OutOfRange, "above the beginning of the saturation line"),
        ((280.0, 2000.0), interstage.OutOfRange, "2000.0 K is not within"),
        ((280.0,), interstage.WrongArgument, "lowest and the highest"),
        (("cold", "hot"), interstage.WrongArgument, "lowest and the highest"),
        (280.0, interstage.WrongArgument, "lowest and the highest"),
    ],
)
def test_temperatures_that_cannot_be_are_refused(refrigerant, temperatures, error, said):
    with pytest.raises(error, match=said):
        interstage.Diagram(refrigerant, temperatures=temperatures)


@pytest.mark.parametrize("kind", ["p-v", "", None, ["p-h"], 3])
def test_kinds_that_are_none_are_refused(refrigerant, kind):
    with pytest.raises(interstage.UnknownOption, match="p-h, T-s, h-s"):
        interstage.Diagram(refrigerant, kind)


def test_bad_input_is_refused(refrigerant):
    with pytest.raises(interstage.UnknownOption, match="units"):
        interstage.Diagram(refrigerant, units="metric")
    with pytest.raises(interstage.WrongArgument, match="refrigerant must be a Refrigerant, got str"):
        interstage.Diagram("R-134a")
    diagram = interstage.Diagram(refrigerant)
    for other in ("R-123", "R-1234yf"):
        with pytest.raises(interstage.WrongArgument, match=other):
            diagram.add(solved(interstage.Refrigerant(other), "1 stage"))
    elsewhere = interstage.Refrigerant("R-134a", reference="liquid at normal boiling point")
    with pytest.raises(interstage.WrongArgument, match="normal boiling point"):
        diagram.add(solved(elsewhere, "1 stage"))
    cycle = solved(refrigerant, "1 stage")
    rows = cycle.circuit.solve(**{**AT, "condensing_temperature": [310.0, 312.0]})
    for wrong in (rows, cycle.circuit, None):
        with pytest.raises(interstage.WrongArgument, match="cycle must be a solved Cycle"):
            diagram.add(wrong)
    with pytest.raises(interstage.WrongArgument, match="label must be a text, got 3"):
        diagram.add(cycle, 3)
    with pytest.raises(interstage.WrongArgument, match="Axes, got str"):
        diagram.draw("here")
    assert repr(diagram) == "Diagram(R-134a, 'p-h', cycles: 0)"


def test_lines_turn_where_they_cross_the_dome(refrigerant):
    """Condensing in T-s: level between both saturated states, which are points of the way."""
    cycle = solved(refrigerant, "1 stage")
    way = lines.process(cycle, "condenser", "stage_1_outlet", "condenser_outlet")
    dew = refrigerant.saturation(p=cycle.condensing_pressure).vapor
    assert np.abs(way.columns["s"] - dew.s).min() < 1e-6
    level = way.columns["T"][way.columns["s"] < dew.s + 1e-6]
    assert np.allclose(level, 310.15, atol=1e-6)


@pytest.mark.parametrize("name", ["R-407C", "R-454B"])
def test_isotherms_of_blends_follow_their_glide(name):
    blend = interstage.Refrigerant(name)
    (isotherm,) = lines.isotherms(blend, [290.0], (1e5, 3e6))
    saturation = blend.saturation(T=290.0)
    wet = isotherm.columns["p"] > saturation.vapor.p * (1.0 + 1e-9)
    wet &= isotherm.columns["p"] < saturation.liquid.p * (1.0 - 1e-9)
    assert wet.sum() >= 15
    assert np.allclose(isotherm.columns["T"], 290.0, atol=1e-6)
    assert (np.diff(isotherm.columns["p"]) >= 0.0).all()


@pytest.mark.parametrize(
    ("options", "conditions", "component", "start"),
    [
        ({"motor_efficiency": 0.95, "motor_cooling": "evaporator"}, {}, "motor", "motor_liquid"),
        ({}, {"hot_gas_bypass": 0.1}, "evaporator", "hot_gas_bypass"),
    ],
)
def test_streams_are_throttled_before_they_meet(refrigerant, options, conditions, component, start):
    stage = interstage.Stage(polytropic_efficiency=0.8)
    circuit = interstage.Circuit.arranged(refrigerant, "2 stages: tank@2", stage=stage, **options)
    cycle = circuit.solve(**AT, **conditions)
    (balance,) = [found for found in cycle.balances() if found["component"] == component]
    (way,) = [way for way in lines.ways(balance) if way[0] == start]
    columns = lines.process(cycle, component, *way).columns
    above = columns["p"] > columns["p"][-1] * (1.0 + 1e-9)
    assert 10 < above.sum() < 30
    assert np.allclose(columns["h"][above], columns["h"][0], rtol=1e-12)


@pytest.mark.parametrize("kind", ["p-h", "T-s", "h-s"])
@pytest.mark.parametrize("name", ["R-134a", "R-718", "R-744", "R-514A", "R-407C"])
def test_the_dome_the_cycle_and_the_texts_are_in_the_frame(name, kind):
    refrigerant = interstage.Refrigerant(name)
    stage = interstage.Stage(polytropic_efficiency=0.8)
    circuit = interstage.Circuit.arranged(refrigerant, "2 stages: closed@2 (approach 3 K)", stage=stage)
    cold = {"evaporating_temperature": 276.15, "condensing_temperature": 299.15, "capacity": 1e6}
    ax = interstage.Diagram(refrigerant, kind, units="I-P").add(circuit.solve(**cold)).draw()
    ax.figure.canvas.draw()
    frame = ax.get_window_extent()
    boxes = [text.get_window_extent() for text in ax.texts]
    assert len(boxes) > 10
    for box in boxes:
        assert frame.x0 <= box.x0 <= box.x1 <= frame.x1
        assert frame.y0 <= box.y0 <= box.y1 <= frame.y1
    # No value is written over another.
    middles = np.array([[box.x0 + box.x1, box.y0 + box.y1] for box in boxes]) / 2.0
    apart = np.linalg.norm(middles[:, None] - middles[None], axis=2) + 1e9 * np.eye(len(middles))
    assert apart.min() > 8.0
    for line in ax.lines:
        if line.get_zorder() >= 5:
            x, y = line.get_data()
            assert ax.get_xlim()[0] < min(x) <= max(x) < ax.get_xlim()[1]
            assert ax.get_ylim()[0] < min(y) <= max(y) < ax.get_ylim()[1]
    plt.close(ax.figure)


@pytest.mark.parametrize("name", ["R-1233zd(E)", "R-718"])
def test_pressures_of_a_vacuum_are_on_the_axis(name):
    refrigerant = interstage.Refrigerant(name)
    ax = interstage.Diagram(refrigerant, units="I-P").add(solved(refrigerant, "1 stage")).draw()
    ax.figure.canvas.draw()
    shown = [float(label.get_text()) for label in ax.get_yticklabels()]
    assert min(shown) < 14.7
    assert 4 <= len(shown) <= 14
    plt.close(ax.figure)


def test_cycles_that_lie_on_each_other_all_show(refrigerant):
    from interstage._diagram_looks import CycleLook

    looks = [CycleLook.of(place, 3) for place in range(3)]
    assert [look.wider for look in looks] == [2.0, 1.0, 0.0]
    everyone = [CycleLook.of(place, 12) for place in range(12)]
    # However many there are, each is narrower than the one below it, and none is a beam.
    widths = [look.wider for look in everyone]
    assert np.diff(widths).max() < -0.3
    assert widths[0] <= 4.5
    assert CycleLook.of(0, 1).wider == 0.0
    assert len({(look.color, look.marker, look.hollow) for look in everyone}) == 12
    # Lightness in grey, by the luma of Rec. 601: neighbors differ.
    from matplotlib.colors import to_rgb

    greys = [float(np.dot(to_rgb(look.color), [0.299, 0.587, 0.114])) for look in everyone]
    assert np.abs(np.diff(greys)).min() > 0.05


@pytest.mark.parametrize(
    ("label", "shown"),
    [
        (r"costs $\frac{$", r"costs $\frac{$"),
        ("from $5 to $6", "from $5 to $6"),
        ("_spare", "_spare"),
        ("<b>A & B</b>", "<b>A & B</b>"),
        ("above\nbelow", "above below"),
        ("word " * 100, "word " * 35),
    ],
)
def test_a_name_of_any_letters_is_shown_as_it_is(refrigerant, label, shown):
    cycle = solved(refrigerant, "1 stage")
    diagram = interstage.Diagram(refrigerant).add(cycle, label).add(cycle, "other")
    ax = diagram.draw()
    ax.figure.canvas.draw()
    (first, second) = ax.get_legend().get_texts()
    # What matplotlib draws: no formula, and dollar signs without the backslash before them.
    drawn, is_formula = first._preprocess_math(first.get_text())
    assert not is_formula
    assert second.get_text() == "other"
    words = drawn.removeprefix("\N{ZERO WIDTH SPACE}").replace("\n", " ").removesuffix(" …")
    assert words == shown.strip() or (len(label) > 300 and label.startswith(words) and len(words) > 150)
    box = ax.get_legend().get_window_extent()
    assert box.x0 >= 0.0
    assert box.x1 <= ax.figure.bbox.width
    names = max(text.get_window_extent().y1 for text in (first, second))
    assert ax.title.get_window_extent().y0 >= names, "the title stands above the names"
    plt.close(ax.figure)
    names = {trace.name for trace in diagram.interactive().data if trace.mode == "markers"}
    assert any(html.unescape(name).replace("<br>", " ") == label.strip().replace("\n", " ") for name in names)
    assert not any("<b>" in name for name in names)


@pytest.mark.parametrize("projection", ["polar", "3d"])
def test_axes_without_right_angles_are_refused(refrigerant, projection):
    figure = plt.figure()
    ax = figure.add_subplot(projection=projection)
    with pytest.raises(interstage.WrongArgument, match=f"at right angles, got projection '{projection}'"):
        interstage.Diagram(refrigerant).draw(ax)
    plt.close(figure)


def test_a_diagram_beside_another(refrigerant):
    figure, (left, right) = plt.subplots(1, 2, figsize=(9.0, 4.0), layout="constrained")
    diagram = interstage.Diagram(refrigerant).add(solved(refrigerant, "1 stage"), "one")
    assert diagram.draw(left) is left
    interstage.Diagram(refrigerant, "T-s").add(solved(refrigerant, "1 stage")).draw(ax=right)
    assert [text.get_text() for text in left.get_legend().get_texts()] == ["one"]
    plt.close(figure)


@pytest.mark.parametrize("kind", ["p-h", "T-s"])
def test_a_parted_blend_is_drawn_by_its_own_compositions(kind):
    blend = interstage.Refrigerant("R-407C", model="mixture")
    cycle = solved(blend, "3 stages: tank@3, tank@2", tank_separation="equilibrium")
    for balance in cycle.balances():
        for start, end in lines.ways(balance):
            way = lines.process(cycle, balance["component"], start, end).columns
            # The ends are those of the cycle; beside them nothing jumps.
            steps = np.abs(np.diff(way["T"]))
            assert steps[[0, -1]].max() < 0.05 + 3.0 * np.sort(steps)[-3], (start, end)
            if start.endswith("tank_inlet"):
                assert np.allclose(way["T"], cycle.points[start].T, atol=1e-6)
    # Throttled from the last tank: the enthalpy of its own liquid, at the bubble point of its composition.
    way = lines.process(cycle, "evaporator_valve", "stage_2_tank_liquid", "evaporator_inlet").columns
    own = interstage.Refrigerant.blend(cycle.compositions["stage_2_tank_liquid"], basis="mass")
    start = own.saturation(p=cycle.points["stage_2_tank_liquid"].p).liquid
    middle = own.state(p=way["p"][20], h=start.h)
    assert way["T"][20] == pytest.approx(middle.T, abs=0.02)
    assert np.allclose(way["h"], cycle.points["evaporator_inlet"].h, rtol=1e-9)
    figure = interstage.Diagram(blend, kind).add(cycle, "parted").interactive()
    (points,) = [trace for trace in figure.data if trace.name == "parted" and trace.mode == "markers"]
    assert points.customdata[list(cycle.points).index("condenser_outlet")][-1] == (
        "R-32/R-125/R-134a 23.0/25.0/52.0 % by mass"
    )


def test_no_value_is_written_where_the_dome_is_open():
    """The curves of R-410A's own equation end before they meet."""
    blend = interstage.Refrigerant("R-410A")
    diagram = interstage.Diagram(blend, "h-s").add(solved(blend, "2 stages: closed@2 (approach 3 K)"))
    view = diagram._view()
    bubble, dew = (view.xy(side.columns) for side in view.dome())
    gap = np.array([[side[axis][-1] for axis in (0, 1)] for side in (bubble, dew)])
    assert gap[1, 0] - gap[0, 0] > 0.05
    ax = diagram.draw()
    ends = ax.transData.transform(gap)
    for text in ax.texts:
        x, y = ax.transAxes.transform(text.get_position())
        if ends[0, 0] < x < ends[1, 0]:
            assert abs(y - np.interp(x, *ends.T)) > 5.0
    plt.close(ax.figure)

"""Property diagrams: what is drawn lies where the properties say."""

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
    figure = diagram.draw()
    (ax,) = figure.axes
    assert {"SI": "[k", "I-P": "[B"}[units] in ax.get_xlabel()
    assert ax.get_title() == "R-134a"
    labels = [text.get_text() for text in ax.get_legend().get_texts()]
    assert labels == ARRANGEMENTS
    figure.canvas.draw()
    plt.close(figure)


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
    figure = interstage.Diagram(interstage.Refrigerant(name)).draw()
    assert len(figure.axes[0].lines) > 10
    plt.close(figure)


def test_round_values():
    assert list(lines.round_steps(-7.0, 53.0, 6)) == [0.0, 10.0, 20.0, 30.0, 40.0, 50.0]
    assert list(lines.round_ratios(3.0, 600.0, 8)) == [5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0]
    assert lines.round_steps(1.0, 1.0, 5).size == 0


def test_bad_input_is_refused(refrigerant):
    with pytest.raises(interstage.UnknownOption, match="p-h, T-s, h-s"):
        interstage.Diagram(refrigerant, "p-v")
    with pytest.raises(interstage.UnknownOption, match="units"):
        interstage.Diagram(refrigerant, units="metric")
    other = solved(interstage.Refrigerant("R-123"), "1 stage")
    with pytest.raises(interstage.WrongArgument, match="R-123"):
        interstage.Diagram(refrigerant).add(other)
    with pytest.raises(interstage.OutOfRange, match="temperatures"):
        interstage.Diagram(refrigerant, temperatures=(300.0, 290.0))

"""Schematics: every component and point once, nothing on top of anything else, figures those of the cycle."""

import itertools
import random
import xml.etree.ElementTree as ET

import pytest

import interstage

SVG = "{http://www.w3.org/2000/svg}"
STAGE = interstage.Stage(polytropic_efficiency=0.8)
R = interstage.Refrigerant("R-1233zd(E)")
KINDS = (
    interstage.FlashTank(),
    interstage.FlashTank(expander_efficiency=0.5),
    interstage.IntercooledTank(),
    interstage.IntercooledTank(coil_approach=3.0),
    interstage.ClosedEconomizer(approach=3.0),
    interstage.ClosedEconomizer(approach=3.0, expander_efficiency=0.4),
    interstage.ClosedEconomizer(approach=3.0, injection_taken="after exchanger"),
    interstage.LiquidInjection(),
    interstage.Direct(),
)


def machine(interstages, **options):
    return interstage.Circuit(R, stages=[STAGE] * (len(interstages) + 1), interstages=interstages, **options)


def solved(circuit, **conditions):
    given = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15, "capacity": 1e6}
    return circuit.solve(**{**given, **conditions})


def random_machines(number):
    chosen = random.Random(20261130)
    for _ in range(number):
        between = [chosen.choice(KINDS) for _ in range(chosen.randrange(6))]
        options = {}
        if chosen.random() < 0.4:
            options["suction_exchanger_effectiveness"] = 0.2
        if chosen.random() < 0.3:
            options["expander_efficiency"] = 0.5
        if chosen.random() < 0.6:
            where = ["evaporator", *range(2, len(between) + 2)]
            options |= {"motor_efficiency": 0.94, "motor_cooling": chosen.choice(where)}
        yield machine(between, **options), {"hot_gas_bypass": chosen.choice([0.0, 0.05])}


ALL = [(machine([kind]), {}) for kind in KINDS]
ALL += [(machine(list(pair)), {}) for pair in itertools.product(KINDS, repeat=2)]
ALL += list(random_machines(60))


def overlap(one, other, slack=0.0):
    """Whether two boxes share a part."""
    return (
        one[0] + slack < other[2]
        and other[0] + slack < one[2]
        and one[1] + slack < other[3]
        and other[1] + slack < one[3]
    )


def problems(drawing):
    """What stands on top of something else."""
    texts = [(of, text.text, text.box()) for of, lines in drawing.texts for text in lines]
    found = [
        ("texts", a, b)
        for (_, a, one), (_, b, other) in itertools.combinations(texts, 2)
        if overlap(one, other)
    ]
    found += [
        ("vessels", a.title, b.title)
        for a, b in itertools.combinations(drawing.vessels, 2)
        if overlap(a.box, b.box)
    ]
    for of, text, box in texts:
        found += [
            ("text on vessel", text, v.title)
            for v in drawing.vessels
            if v.component != of and overlap(box, v.box)
        ]
        if min(box) < 0 or box[2] > drawing.width or box[3] > drawing.height:
            found.append(("text outside", text))
    for pipe in drawing.pipes:
        for (a, b), (c, d) in pipe.segments():
            line = (min(a, c) - 1.6, min(b, d) - 1.6, max(a, c) + 1.6, max(b, d) + 1.6)
            found += [
                ("text on pipe", text) for _, text, box in texts if not pipe.inside and overlap(box, line)
            ]
            if not pipe.inside:
                found += [
                    ("pipe through vessel", v.title)
                    for v in drawing.vessels
                    if overlap(line, v.box, slack=3.5)
                ]
    return found


def crossings(drawing):
    """Pipes that cross away from their ends, but for those that step over."""
    found = []
    for one, other in itertools.combinations([pipe for pipe in drawing.pipes if not pipe.inside], 2):
        for ((a, b), (c, d)), ((e, f), (g, h)) in itertools.product(one.segments(), other.segments()):
            if (b == d) == (f == h):
                continue
            level, upright = (
                (((a, b), (c, d)), ((e, f), (g, h))) if b == d else (((e, f), (g, h)), ((a, b), (c, d)))
            )
            x, y = upright[0][0], level[0][1]
            across = min(level[0][0], level[1][0]) < x < max(level[0][0], level[1][0])
            along = min(upright[0][1], upright[1][1]) < y < max(upright[0][1], upright[1][1])
            if across and along and x not in (one.over, other.over):
                found.append((x, y))
    return found


@pytest.mark.parametrize(("circuit", "conditions"), ALL, ids=lambda value: getattr(value, "arrangement", ""))
@pytest.mark.parametrize("units", ["circuit", "SI", "I-P"])
def test_nothing_on_top_of_anything_else(circuit, conditions, units):
    drawn = circuit.schematic() if units == "circuit" else solved(circuit, **conditions).schematic(units)
    assert problems(drawn._drawing) == []
    assert crossings(drawn._drawing) == []


@pytest.mark.parametrize(
    ("circuit", "conditions"), ALL[-40:], ids=lambda value: getattr(value, "arrangement", "")
)
def test_every_component_and_point_once(circuit, conditions):
    cycle = solved(circuit, **conditions)
    tree = ET.fromstring(cycle.schematic().to_svg())
    components = [part.get("data-component") for part in tree.iter() if part.get("data-component")]
    assert len(set(components)) == len(components)
    there = {balance["component"] for balance in cycle.balances()}
    # Streams only meet there where something joins; the line to the first stage is a line.
    expected = {name for name in there if not name.endswith("_mixing") and name != "suction_line"}
    assert expected <= set(components)
    drawn = {
        name for name in components if not name.endswith(("_mixing", "_branch")) and name != "hot_gas_valve"
    }
    assert drawn == expected
    written = [
        part.get("data-of") for part in tree.iter(f"{SVG}g") if part.get("data-of") in list(cycle.points)
    ]
    assert sorted(written) == sorted(cycle.points)


def test_wet_suction_is_drawn_wet():
    dry, wet = (solved(machine([]), liquid_carryover=carried).schematic() for carried in (0.0, 0.02))
    assert [pipe.fluid for pipe in dry._drawing.pipes].count("wet") == 2
    assert [pipe.fluid for pipe in wet._drawing.pipes].count("wet") == 3


PATHS = ("parallel", "series parallel-flow", "series counter-flow")
WATERS = {
    "chilled_water": interstage.WaterFlow(mass_flow=167.0),
    "condenser_water": interstage.WaterFlow(mass_flow=190.0),
}
DUTY = {**WATERS, "capacity": 3.5e6, "chilled_water_leaving": 280.15, "condenser_water_entering": 303.15}


def chiller(number, paths="parallel", **options):
    circuits = [
        machine([]),
        machine([KINDS[4]], motor_efficiency=0.94, motor_cooling=2),
        machine([KINDS[0]] * 2),
    ]
    return interstage.Chiller(
        circuits[:number],
        evaporator=interstage.Exchanger.evaporator(ua=1.2e6 / number),
        condenser=interstage.Exchanger.condenser(ua=1.4e6 / number),
        water_paths=paths,
        **options,
    )


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("paths", PATHS)
@pytest.mark.parametrize("bypass", [0.0, 0.05])
def test_chillers(number, paths, bypass):
    drawn = chiller(number, paths, hot_gas_bypass=bypass)
    point = drawn.solve(**DUTY)
    for schematic in (drawn.schematic(), point.schematic(), point.schematic("I-P")):
        assert problems(schematic._drawing) == []
        assert crossings(schematic._drawing) == []
        tree = ET.fromstring(schematic.to_svg())
        components = [part.get("data-component") for part in tree.iter() if part.get("data-component")]
        assert len(set(components)) == len(components)
        for vessel in ("condenser", "evaporator", "stage_1"):
            assert sum(name.endswith(vessel) for name in components) == number
    tree = ET.fromstring(point.schematic().to_svg())
    for place, cycle in enumerate(point.cycles, 1):
        front = f"circuit_{place}_" if number > 1 else ""
        for name, of in cycle.points.items():
            (celsius, *_), _ = numbers(tree, front + name)
            assert celsius == pytest.approx(of.T - 273.15, abs=0.00501)


def waters(tree, name):
    """Temperatures of a stream of water by where they stand, from the left."""
    texts = []
    for group in tree.iter(f"{SVG}g"):
        if (group.get("data-of") or "").startswith(f"{name}_"):
            (text,) = group.iter(f"{SVG}text")
            texts.append((float(text.get("x")), float(text.text.removesuffix(" degC").split()[-1])))
    return [value for _, value in sorted(texts)]


@pytest.mark.parametrize("paths", PATHS)
def test_water_passes_the_circuits_as_it_does(paths):
    point = chiller(3, paths).solve(**DUTY)
    tree = ET.fromstring(point.schematic().to_svg())
    for name, exchanges in (("chilled_water", point.evaporators), ("condenser_water", point.condensers)):
        entering = getattr(point, f"{name}_entering")
        if paths == "parallel":
            expected = [entering, getattr(point, f"{name}_leaving")]
        elif name == "condenser_water" and paths == "series counter-flow":
            # From the last circuit to the first: it enters on the right.
            assert exchanges[2].water_entering == pytest.approx(entering)
            expected = [*(exchange.water_leaving for exchange in exchanges), entering]
        else:
            expected = [entering, *(exchange.water_leaving for exchange in exchanges)]
        assert waters(tree, name) == pytest.approx([value - 273.15 for value in expected], abs=0.00501)


def numbers(tree, name):
    (group,) = [part for part in tree.iter(f"{SVG}g") if part.get("data-of") == name]
    first, second = [text.text for text in group.iter(f"{SVG}text")]
    temperature, pressure = first.split(", ")
    return [float(part.split()[0]) for part in (temperature, pressure, second)], second


def test_figures_are_those_of_the_cycle():
    cycle = solved(machine([KINDS[0], KINDS[4], KINDS[3]]), hot_gas_bypass=0.05)
    tree = ET.fromstring(cycle.schematic().to_svg())
    by_inches = ET.fromstring(cycle.schematic("I-P").to_svg())
    for name, point in cycle.points.items():
        (celsius, kilopascal, flow), second = numbers(tree, name)
        assert celsius == pytest.approx(point.T - 273.15, abs=0.00501)
        assert kilopascal == pytest.approx(point.p / 1e3, rel=5.1e-4)
        assert flow == pytest.approx(point.mass_flow, rel=5.1e-4)
        if point.phase == "two-phase" and 0.0 < point.x < 1.0:
            assert float(second.split("x ")[1]) == pytest.approx(point.x, abs=5.1e-4)
        (fahrenheit, psia, pounds), _ = numbers(by_inches, name)
        assert fahrenheit == pytest.approx(1.8 * (point.T - 273.15) + 32.0, abs=0.00501)
        # 1 psi = 6894.757 Pa, 1 lb = 0.45359237 kg (NIST SP 811).
        assert psia == pytest.approx(point.p / 6894.757, rel=5.1e-4)
        assert pounds == pytest.approx(point.mass_flow * 60.0 / 0.45359237, rel=5.1e-4)


def test_words_for_those_who_do_not_see_it():
    drawn = machine([interstage.FlashTank()]).schematic()
    tree = ET.fromstring(drawn.to_svg())
    assert tree.get("role") == "img"
    title, desc = tree.find(f"{SVG}title"), tree.find(f"{SVG}desc")
    assert tree.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert title.text == drawn.title == "R-1233zd(E), 2 stages: tank@2"
    assert "flash tank before stage 2" in desc.text
    assert "stage 1, polytropic efficiency 0.8" in drawn.description
    # Names on a page with several pictures are kept apart.
    other = machine([interstage.Direct()]).schematic()
    assert ET.fromstring(other.to_svg()).get("aria-labelledby") != tree.get("aria-labelledby")


def test_lines_differ_without_color():
    from interstage._drawing import FLUIDS

    looks = {(width, dashes) for _, width, dashes in FLUIDS.values()}
    assert len(looks) == len(FLUIDS)


def test_shown_saved_and_escaped(tmp_path):
    blend = interstage.Refrigerant.blend({"R-32": 0.5, "R-125": 0.5}, basis="mass")
    drawn = interstage.Circuit(blend, stages=[STAGE]).schematic()
    assert repr(drawn) == "Schematic(R-32/R-125 (50/50), 1 stage)"
    drawn.save(tmp_path / "circuit.svg")
    assert (tmp_path / "circuit.svg").read_text() == drawn.to_svg() + "\n"
    assert drawn._repr_svg_() in drawn._repr_html_()
    from interstage._drawing import Drawing, Text

    evil = Drawing(10, 10, texts=[("<a>&", [Text(0, 0, "<b>&")])]).svg("<c>&", "<d>&", "name")
    tree = ET.fromstring(evil)
    assert [text.text for text in tree.iter(f"{SVG}text")] == ["<b>&"]
    assert tree.find(f"{SVG}title").text == "<c>&"


def test_units_refused():
    with pytest.raises(interstage.UnknownOption, match="units must be"):
        solved(machine([])).schematic("metric")

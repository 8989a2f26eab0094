"""States from two properties, one at a time."""

import copy
import itertools

import numpy as np
import pytest

import interstage

VALID = [
    ("T", "p"),
    ("T", "h"),
    ("T", "s"),
    ("T", "rho"),
    ("T", "x"),
    ("T", "u"),
    ("p", "h"),
    ("p", "s"),
    ("p", "rho"),
    ("p", "x"),
    ("p", "u"),
    ("h", "s"),
    ("h", "rho"),
    ("s", "rho"),
    ("rho", "u"),
]
PROPERTIES = ("T", "p", "h", "s", "rho", "x", "u")
INVALID = [pair for pair in itertools.combinations(PROPERTIES, 2) if pair not in VALID]
SLOPES = (
    "cp",
    "cv",
    "speed_of_sound",
    "isentropic_exponent",
    "joule_thomson",
    "compressibility_factor",
    "isothermal_compressibility",
    "thermal_expansion",
)


@pytest.mark.parametrize("phase", ["liquid", "vapor", "two-phase"])
@pytest.mark.parametrize("pair", VALID, ids="-".join)
def test_every_valid_pair_gives_the_state_back(r134a, pair, phase):
    state = {
        "liquid": r134a.saturation(T=290.0).liquid,
        "vapor": r134a.saturation(T=290.0).vapor,
        "two-phase": r134a.state(T=290.0, x=0.3),
    }[phase]
    if pair == ("T", "p"):
        # On the saturation line the two do not fix a state: take one beside it.
        state = r134a.state(T=290.0, p={"liquid": 2e6, "vapor": 2e5, "two-phase": 1e5}[phase])
    given = {name: getattr(state, name) for name in pair}
    found = r134a.state(**given)
    for name, value in given.items():
        assert getattr(found, name) == value, "what was given is returned unchanged"
    for name in ("T", "p", "h", "s", "rho", "u"):
        assert getattr(found, name) == pytest.approx(getattr(state, name), rel=1e-7)
    swapped = r134a.state(**dict(reversed(given.items())))
    assert swapped == found


@pytest.mark.parametrize("pair", INVALID, ids="-".join)
def test_other_pairs_are_refused_with_the_valid_ones(r134a, pair):
    with pytest.raises(interstage.WrongArgument) as raised:
        r134a.state(**dict.fromkeys(pair, 1.0))
    assert isinstance(raised.value, TypeError)
    message = str(raised.value)
    assert f"{pair[0]} and {pair[1]} do not fix a state" in message
    for first, second in VALID:
        assert f"({first}, {second})" in message


@pytest.mark.parametrize(
    "given", [{}, {"p": 1e5}, {"p": 1e5, "h": 2e5, "T": 300.0}, dict.fromkeys(PROPERTIES, 1.0)]
)
def test_two_properties_are_needed(r134a, given):
    with pytest.raises(interstage.WrongArgument, match="valid pairs are"):
        r134a.state(**given)


def test_none_counts_as_not_given(r134a):
    assert r134a.state(p=1e5, T=300.0, h=None) == r134a.state(p=1e5, T=300.0)


def test_single_phase_state(r134a):
    x = r134a.state(p=101325.0, T=300.0)
    assert (x.p, x.T, x.phase, x.x) == (101325.0, 300.0, "vapor", None)
    assert x.u == pytest.approx(x.h - x.p / x.rho, rel=1e-12)
    assert all(isinstance(getattr(x, name), float) for name in SLOPES)
    assert x.cp > x.cv > 0
    assert x.compressibility_factor == pytest.approx(x.p / (x.rho * r134a.gas_constant * x.T), rel=1e-12)
    assert x.refrigerant == r134a
    assert r134a.state(p=2e6, T=280.0).phase == "liquid"
    assert r134a.state(p=5e6, T=400.0).phase == "supercritical"


def test_inside_the_dome_slopes_are_none(r134a):
    x = r134a.state(p=300e3, x=0.5)
    assert x.phase == "two-phase"
    assert [getattr(x, name) for name in SLOPES] == [None] * len(SLOPES)


def test_inside_the_dome_transport_properties_are_none(r134a):
    x = r134a.state(p=300e3, x=0.5)
    assert x.viscosity is x.thermal_conductivity is x.prandtl_number is None


def test_saturated_states_have_the_slopes_of_their_phase(r134a):
    liquid, vapor = r134a.state(T=280.0, x=0.0), r134a.state(T=280.0, x=1.0)
    assert (liquid.phase, vapor.phase) == ("liquid", "vapor")
    assert liquid.speed_of_sound > 3 * vapor.speed_of_sound


@pytest.mark.parametrize(
    "value",
    [300000, np.float64(3e5), np.float32(3e5), np.int32(300000), np.uint64(300000), np.array(3e5)],
    ids=lambda value: type(value).__name__,
)
def test_what_counts_as_a_number(r134a, value):
    x = r134a.state(p=value, T=300)
    assert isinstance(x, interstage.State)
    assert type(x.p) is float
    assert x == r134a.state(p=3e5, T=300.0)


def test_equality_and_hash(r134a):
    x, same = r134a.state(p=3e5, T=300.0), r134a.state(p=3e5, T=300.0)
    assert x == same
    assert hash(x) == hash(same)
    assert x != r134a.state(p=3e5, T=301.0)
    assert x != interstage.Refrigerant("R-134a", extrapolate=True).state(p=3e5, T=300.0)
    assert x != 3
    assert copy.copy(x) == copy.deepcopy(x) == x


def test_repr_and_html(r134a):
    x = r134a.state(p=3e5, x=0.25)
    assert repr(x).startswith("State(R-134a two-phase: T=")
    for part in ("p=300000 Pa", "kg/m3", "J/kg", "J/(kg K)", "x=0.25"):
        assert part in repr(x)
    assert "x=" not in repr(r134a.state(p=3e5, T=300.0))
    assert "two-phase" in x._repr_html_()
    assert "p [kPa]" in x._repr_html_()


def test_efficiencies_between_states(r134a):
    inlet = r134a.saturation(T=280.0).vapor
    ideal = r134a.state(p=9e5, s=inlet.s)
    outlet = r134a.state(p=9e5, h=inlet.h + (ideal.h - inlet.h) / 0.75)
    assert interstage.isentropic_efficiency(inlet, outlet) == pytest.approx(0.75, rel=1e-12)
    assert 0.75 < interstage.polytropic_efficiency(inlet, outlet) < 0.8
    with pytest.raises(interstage.Inconsistent, match="pressure must rise"):
        interstage.isentropic_efficiency(outlet, inlet)
    other = interstage.Refrigerant("R-123").saturation(T=350.0).vapor
    with pytest.raises(interstage.Inconsistent, match="inlet and outlet"):
        interstage.polytropic_efficiency(inlet, other)


def test_blends_glide():
    r = interstage.Refrigerant("R-407C")
    column = r.saturation(p=[2e5, 5e5, 1e9])
    one = r.saturation(p=5e5)
    assert column[1] == one
    assert column.temperature_glide[1] == one.temperature_glide == one.vapor.T - one.liquid.T
    assert (column.liquid.T[1], column.vapor.T[1]) == (one.liquid.T, one.T)
    assert np.isnan(column.temperature_glide[2])
    assert column.status[2] == 3
    at = r.saturation(T=[280.0])
    assert at.liquid.T[0] == at.T[0] == 280.0
    assert at.liquid.p[0] == r.saturation(T=280.0).liquid.p > at.p[0]
    wet = r.state(p=5e5, x=0.25)
    assert abs(wet.T / (one.liquid.T + 0.25 * one.temperature_glide) - 1.0) < 1e-14
    assert r.state(p=5e5, T=wet.T).x == pytest.approx(0.25, abs=1e-12)
    stage = interstage.Stage(polytropic_efficiency=0.8)
    with pytest.raises(interstage.Inconsistent, match="blend described at one composition"):
        interstage.Circuit(r, stages=[stage, stage], interstages=[interstage.FlashTank()])
    pure = interstage.Refrigerant("R-134a").saturation(T=[280.0])
    assert pure.temperature_glide[0] == 0.0

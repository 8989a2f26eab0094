"""The handle: names, facts, references, saturation."""

import math
import pickle

import pytest

import interstage


@pytest.mark.parametrize("name", ["R-1233zd(E)", "r1233zde", "R1233zd(E)", "r-1233zd e", " R 1233ZD(E) "])
def test_names_are_lenient(name):
    assert interstage.Refrigerant(name).name == "R-1233zd(E)"


def test_names_exist():
    names = interstage.names()
    assert len(names) == 31 + 13
    assert names[31:] == interstage.blends()
    assert len(set(names)) == len(names)
    for name in names:
        assert interstage.Refrigerant(name).name == name


#: Nothing is stated where the equation was read.
UNCERTAINTY_UNKNOWN = {"R-13I1", "R-236fa", "R-1224yd(Z)", "R-1336mzz(E)"}


#: By the mixture model its phases would fall apart before they meet.
WITHOUT_CRITICAL_POINT = {"R-514A"}


@pytest.mark.parametrize("name", interstage.names())
def test_facts(name):
    r = interstage.Refrigerant(name)
    assert r.chemical_name
    if r.composition is None:
        assert r.formula
        assert r.cas.count("-") == 2
    else:
        assert (r.formula, r.cas) == (None, None)
        assert set(r.composition) < set(interstage.names())
        assert sum(r.composition.values()) == pytest.approx(1.0, abs=1e-15)
    assert 0.01 < r.molar_mass < 0.3
    assert r.gas_constant == pytest.approx(8.3145 / r.molar_mass, rel=1e-4)
    critical = (r.critical_temperature, r.critical_pressure, r.critical_density)
    assert all(math.isnan(of) for of in critical) == (name in WITHOUT_CRITICAL_POINT)
    if name not in WITHOUT_CRITICAL_POINT:
        assert r.minimum_saturation_temperature < r.critical_temperature
        assert r.minimum_saturation_pressure < r.critical_pressure
    unknown = name == "R-114" or r.composition is not None
    assert (r.triple_temperature is None) == (r.triple_pressure is None) == unknown
    if not unknown:
        assert r.triple_temperature == r.minimum_saturation_temperature
    if r.minimum_saturation_pressure < 101325.0:
        assert r.minimum_saturation_temperature < r.normal_boiling_point
        if name not in WITHOUT_CRITICAL_POINT:
            assert r.normal_boiling_point < r.critical_temperature
            assert r.critical_density > r.saturation(T=r.normal_boiling_point).vapor.rho
    else:
        assert r.normal_boiling_point is None
    assert r.limits == {
        "minimum_temperature": r.minimum_temperature,
        "maximum_temperature": r.maximum_temperature,
        "maximum_pressure": r.maximum_pressure,
        "source": r.validity_source,
    }
    assert r.validity_source
    unknown = name in UNCERTAINTY_UNKNOWN or r.model == "mixture"
    assert (r.uncertainty is None) == (r.uncertainty_source is None) == unknown
    assert r.uncertainty != ""
    assert r.safety_class is None or r.safety_class[0] in "AB"
    assert not r.extrapolates


def test_carbon_dioxide_does_not_boil_at_the_standard_atmosphere():
    assert [
        name for name in interstage.names() if interstage.Refrigerant(name).normal_boiling_point is None
    ] == ["R-744"]


def test_references():
    at_0 = interstage.Refrigerant("R-134a")
    assert at_0.reference == "liquid at 0 degC"
    liquid = at_0.saturation(T=273.15).liquid
    assert (liquid.h, liquid.s) == (pytest.approx(200e3, rel=1e-12), pytest.approx(1e3, rel=1e-12))
    at_minus_40 = interstage.Refrigerant("R-134a", reference="liquid at -40 degC")
    liquid = at_minus_40.saturation(T=233.15).liquid
    assert (liquid.h, liquid.s) == (pytest.approx(0, abs=1e-6), pytest.approx(0, abs=1e-8))
    boiling = interstage.Refrigerant("R-134a", reference="liquid at normal boiling point")
    liquid = boiling.saturation(p=101325.0).liquid
    assert (liquid.h, liquid.s) == (pytest.approx(0, abs=1e-6), pytest.approx(0, abs=1e-8))
    assert interstage.Refrigerant("R-718").reference == "as published"
    assert at_0 != at_minus_40
    assert "liquid at -40 degC" in repr(at_minus_40)
    assert "reference" not in repr(at_0)


def test_repr_can_be_evaluated():
    names = {"Refrigerant": interstage.Refrigerant}
    for r in (
        interstage.Refrigerant("R-134a"),
        interstage.Refrigerant("R-134a", reference="liquid at -40 degC", extrapolate=True),
        interstage.Refrigerant("R-717", equation="Tillner-Roth et al. 1993"),
    ):
        assert eval(repr(r), names) == r


def test_extrapolation_lifts_the_limits():
    r, beyond = interstage.Refrigerant("R-134a"), interstage.Refrigerant("R-134a", extrapolate=True)
    assert beyond.extrapolates
    assert beyond.maximum_temperature > r.maximum_temperature
    assert beyond.maximum_pressure > r.maximum_pressure
    hot = r.maximum_temperature + 1.0
    assert hot == beyond.state(T=hot, p=1e5).T
    with pytest.raises(interstage.OutOfRange):
        r.state(T=hot, p=1e5)


def test_handles_compare_and_hash():
    handles = {
        interstage.Refrigerant("R-134a"),
        interstage.Refrigerant("r134a"),
        interstage.Refrigerant("R-123"),
    }
    assert len(handles) == 2
    assert interstage.Refrigerant("R-134a") != "R-134a"


def test_saturation_returns_what_was_given(r134a):
    s = r134a.saturation(T=280.0)
    assert s.T == 280.0
    assert s.liquid.T == s.vapor.T == 280.0
    assert s.liquid.p == s.vapor.p == s.p
    s = r134a.saturation(p=300e3)
    assert s.p == s.liquid.p == s.vapor.p == 300e3
    assert s.latent_heat == s.vapor.h - s.liquid.h
    assert s.latent_heat > 0
    assert s.refrigerant == r134a
    assert r134a.saturation(T=s.T).p == pytest.approx(s.p, rel=1e-12)


def test_saturation_repr_and_html(r134a):
    s = r134a.saturation(T=280.0)
    assert "280 K" in repr(s)
    assert "Pa" in repr(s)
    assert "<table" in s._repr_html_()
    assert "T [degC]" in s._repr_html_()


def test_objects_do_not_change(r134a):
    for thing in (r134a, r134a.saturation(T=280.0), r134a.state(T=280.0, x=0.5)):
        with pytest.raises(AttributeError):
            thing.name = "other"
        with pytest.raises(AttributeError):
            thing.T = 1.0


def test_prepare_gives_nothing_back(r134a):
    assert r134a.prepare() is None


def test_older_equations_are_chosen_by_name():
    newest = interstage.Refrigerant("R-1234yf")
    assert newest.equations == ["Lemmon & Akasaka 2022", "Richter et al. 2011"]
    assert newest.equation == newest.equations[0]
    older = interstage.Refrigerant("R-1234yf", equation="Richter et al. 2011")
    assert older.citation.year == 2011
    assert older != newest
    assert older.saturation(T=300.0).p != newest.saturation(T=300.0).p
    assert pickle.loads(pickle.dumps(older)) == older
    with pytest.raises(interstage.UnknownOption, match="unknown equation of state") as raised:
        interstage.Refrigerant("R-134a", equation="Richter et al. 2011")
    assert raised.value.options == ("Tillner-Roth & Baehr 1994",)

"""Orifices from Python: the figures arrive, arguments are checked, values can be stored.

The figures themselves are tested in `tests/orifice.rs`. A few cases of `tests/data/orifice_cases.json` show
here that the binding hands the right numbers through.
"""

from __future__ import annotations

import json
import math
import pickle
from pathlib import Path

import pytest

import interstage

CASES = json.loads((Path(__file__).parents[1] / "data" / "orifice_cases.json").read_text(encoding="utf-8"))
MODELS = ("metastable liquid", "frozen mixture", "equilibrium")


@pytest.fixture(scope="module")
def r() -> interstage.Refrigerant:
    return interstage.Refrigerant("R-1233zd(E)")


@pytest.fixture(scope="module")
def liquid(r: interstage.Refrigerant) -> interstage.State:
    return r.saturation(T=310.15).liquid


# The two refrigerants whose equation is the same in the library behind the cases.
SAME_EQUATION = [
    case for case in CASES["saturated_inlet"]["cases"] if case["refrigerant"] in ("R-1233zd(E)", "R-134a")
]


@pytest.mark.parametrize("case", SAME_EQUATION, ids=lambda case: case["id"])
def test_fluxes_of_the_computed_cases(case: dict[str, str]) -> None:
    r = interstage.Refrigerant(case["refrigerant"])
    inlet = r.saturation(T=float(case["inlet_temperature_degc"]) + 273.15).liquid
    downstream = float(case["downstream_pressure_kpa"]) * 1e3
    # The cases state 1e-6, and 1e-4 for the pressure ratio.
    liquid = interstage.Orifice(2.0).mass_flow(r, inlet, downstream)
    assert liquid.mass_flux == pytest.approx(float(case["liquid_flux"]), rel=1e-6)
    assert liquid.mass_flow == pytest.approx(2.0 * float(case["liquid_flux"]), rel=1e-6)
    assert (liquid.model, liquid.choked, liquid.throat_pressure) == (MODELS[0], False, downstream)
    equilibrium = interstage.Orifice(1.0, model="equilibrium").mass_flow(r, inlet, downstream)
    assert equilibrium.mass_flux == pytest.approx(float(case["equilibrium_flux"]), rel=1e-6)
    assert equilibrium.choked is True
    ratio = equilibrium.throat_pressure / inlet.p
    assert ratio == pytest.approx(float(case["equilibrium_pressure_ratio"]), abs=1e-4)


def test_cases_were_found() -> None:
    assert len(SAME_EQUATION) == 3


def test_liquid_head_adds_its_pressure(r: interstage.Refrigerant, liquid: interstage.State) -> None:
    orifice = interstage.Orifice(1e-3)
    without = orifice.mass_flow(r, liquid, 108.6e3)
    under_head = orifice.mass_flow(r, liquid, 108.6e3, liquid_head=0.5)
    pressure = (under_head.mass_flux**2 - without.mass_flux**2) / (2.0 * liquid.rho)
    assert pressure == pytest.approx(liquid.rho * 9.80665 * 0.5, rel=1e-9)
    # A head alone drives as well, and nothing drives nothing.
    assert orifice.mass_flow(r, liquid, liquid.p, liquid_head=0.5).mass_flow > 0.0
    assert orifice.mass_flow(r, liquid, liquid.p).mass_flow == 0.0


def test_vapor_upstream(r: interstage.Refrigerant) -> None:
    mixture = r.state(T=310.15, x=0.02)
    frozen = interstage.Orifice(1e-3, "frozen mixture").mass_flow(r, mixture, 108.6e3)
    expected = math.sqrt(2.0 * mixture.rho * (mixture.p - 108.6e3))
    assert frozen.mass_flux == pytest.approx(expected, rel=1e-12)
    with pytest.raises(interstage.Inconsistent, match="quality"):
        interstage.Orifice(1e-3).mass_flow(r, mixture, 108.6e3)
    with pytest.raises(interstage.Inconsistent, match="seals"):
        interstage.Orifice(1e-3, "frozen mixture").mass_flow(r, mixture, 108.6e3, liquid_head=0.1)


@pytest.mark.parametrize("model", MODELS)
def test_calibration(r: interstage.Refrigerant, liquid: interstage.State, model: str) -> None:
    orifice = interstage.Orifice.calibrated(
        r, liquid, downstream_pressure=108.6e3, mass_flow=18.0, liquid_head=0.3, model=model
    )
    assert orifice.model == model
    flow = orifice.mass_flow(r, liquid, 108.6e3, 0.3)
    assert flow.model == model
    assert flow.mass_flow == pytest.approx(18.0, rel=1e-14)
    with pytest.raises(interstage.Inconsistent, match="liquid alone"):
        interstage.Orifice.calibrated(
            r, r.state(T=310.15, x=0.02), downstream_pressure=108.6e3, mass_flow=18.0, model=model
        )


@pytest.mark.parametrize(
    ("area", "error"),
    [
        (0.0, interstage.OutOfRange),
        (-1e-3, interstage.OutOfRange),
        (math.nan, interstage.NotFinite),
        (True, interstage.WrongArgument),
        ("1e-3", interstage.WrongArgument),
        ([1e-3], interstage.WrongArgument),
        (None, interstage.WrongArgument),
    ],
)
def test_area_is_checked(area: object, error: type[Exception]) -> None:
    with pytest.raises(error):
        interstage.Orifice(area)


def test_model_is_checked() -> None:
    with pytest.raises(interstage.UnknownOption) as caught:
        interstage.Orifice(1e-3, model="liquid")
    assert caught.value.options == MODELS
    with pytest.raises(interstage.WrongArgument):
        interstage.Orifice(1e-3, model=3)


@pytest.mark.parametrize("model", MODELS)
def test_impossible_flows_are_refused(
    r: interstage.Refrigerant, liquid: interstage.State, model: str
) -> None:
    orifice = interstage.Orifice(1e-3, model)
    with pytest.raises(interstage.OutOfRange) as caught:
        orifice.mass_flow(r, liquid, 2.0 * liquid.p)
    assert (caught.value.argument, caught.value.maximum) == ("downstream_pressure", liquid.p)
    for pressure, head, error in [
        (math.nan, 0.0, interstage.NotFinite),
        (100e3, math.inf, interstage.NotFinite),
        (100e3, -0.1, interstage.OutOfRange),
        (True, 0.0, interstage.WrongArgument),
        (100e3, "0.1", interstage.WrongArgument),
        ([100e3], 0.0, interstage.WrongArgument),
    ]:
        with pytest.raises(error):
            orifice.mass_flow(r, liquid, pressure, head)
    with pytest.raises(interstage.Undefined):
        orifice.mass_flow(r, r.state(p=100e3, T=330.0), 50e3)
    other = interstage.Refrigerant("R-134a")
    moved = interstage.Refrigerant("R-1233zd(E)", reference="liquid at -40 degC")
    for refrigerant in (other, moved):
        with pytest.raises(interstage.Inconsistent, match="refrigerant and upstream"):
            orifice.mass_flow(refrigerant, liquid, 100e3)
        with pytest.raises(interstage.Inconsistent, match="refrigerant and upstream"):
            interstage.Orifice.calibrated(
                refrigerant, liquid, downstream_pressure=100e3, mass_flow=1.0, model=model
            )
    with pytest.raises(TypeError):
        orifice.mass_flow(r, 310.15, 100e3)


def test_values_compare_hash_pickle_and_show(r: interstage.Refrigerant, liquid: interstage.State) -> None:
    orifice = interstage.Orifice(2e-3, model="equilibrium")
    flow = orifice.mass_flow(r, liquid, 108.6e3)
    for value, other in [(orifice, interstage.Orifice(2e-3)), (flow, orifice.mass_flow(r, liquid, 195e3))]:
        again = pickle.loads(pickle.dumps(value))
        assert again == value
        assert hash(again) == hash(value)
        assert type(value).from_dict(value.to_dict()) == value
        assert value != other
        with pytest.raises(AttributeError):
            value.mass_flux = 1.0
    assert eval(repr(orifice), {"Orifice": interstage.Orifice}) == orifice
    assert repr(flow).startswith("OrificeFlow(equilibrium: mass_flow=5.78708 kg/s, ")
    assert repr(flow).endswith("choked=True)")


def test_stored_data_is_checked(r: interstage.Refrigerant, liquid: interstage.State) -> None:
    orifice = interstage.Orifice(2e-3)
    with pytest.raises(interstage.OutOfRange):
        interstage.Orifice.from_dict(orifice.to_dict() | {"flow_area": -1.0})
    with pytest.raises(interstage.UnknownOption):
        interstage.Orifice.from_dict(orifice.to_dict() | {"model": "other"})
    flow = orifice.mass_flow(r, liquid, 108.6e3)
    with pytest.raises(interstage.Inconsistent, match="mass_flux is NaN"):
        interstage.OrificeFlow.from_dict(flow.to_dict() | {"mass_flux": math.nan})
    with pytest.raises(interstage.Inconsistent, match="it holds a Orifice"):
        interstage.OrificeFlow.from_dict(orifice.to_dict())

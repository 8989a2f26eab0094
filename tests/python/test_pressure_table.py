"""The pressure-temperature card: published saturation pressures as a gauge reads them."""

import math
import pickle
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import interstage
from interstage import units


def card(name, **given):
    return interstage.Refrigerant(name).pressure_table(**given)


def cells(shown):
    head, *rows = shown.to_csv().splitlines()
    return head.split(","), [row.split(",") for row in rows]


def test_trade_figures_of_r123_at_sea_level():
    # Figures of the trade for low-pressure machines, at sea level: idle at 70 degF 6.6 inHg, evaporator at
    # 38 degF 18.7 inHg, condenser at 96 degF 4.6 psig; common practice, no published source.
    head, rows = cells(card("R-123", fahrenheit=[38, 70, 96], altitude=0))
    assert head == ["temperature [degF]", "pressure [psig]", "vacuum [inHg]"]
    assert rows == [["38", "", "18.7"], ["70", "", "6.6"], ["96", "4.6", ""]]


@pytest.mark.parametrize(
    ("name", "celsius", "kilopascal", "tolerance"),
    [
        # Younglove & McLinden 1994, Table C1: 0.03265 MPa at 0 degC, 0.78553 MPa at 100 degC.
        ("R-123", 0.0, 32.65, 0.005),
        ("R-123", 100.0, 785.53, 0.005),
        # Tillner-Roth & Baehr 1994, Table 8: 0.11561 MPa at 250 K, 0.70282 MPa at 300 K.
        ("R-134a", -23.15, 115.61, 0.005),
        ("R-134a", 26.85, 702.82, 0.005),
    ],
)
def test_published_pressures(name, celsius, kilopascal, tolerance):
    barometer = 95_000.0
    frame = card(name, celsius=[celsius], barometer=barometer).to_frame()
    assert frame["pressure [kPa gauge]"][0] == pytest.approx(kilopascal - 95.0, abs=tolerance)
    assert frame["vacuum"][0] == ("vacuum" if kilopascal < 95.0 else "")
    in_bar = card(name, celsius=[celsius], barometer=barometer, gauge="bar").to_frame()
    assert in_bar["pressure [bar gauge]"][0] == pytest.approx((kilopascal - 95.0) / 100, abs=tolerance / 100)
    by_inches = card(name, fahrenheit=[1.8 * celsius + 32.0], barometer=barometer).to_frame()
    if kilopascal < 95.0:
        # 1 inHg = 3.386389 kPa (conventional, 0 degC; NIST SP 811).
        assert by_inches["vacuum [inHg]"][0] == pytest.approx((95.0 - kilopascal) / 3.386389, abs=0.002)
        assert math.isnan(by_inches["pressure [psig]"][0])
    else:
        # 1 psi = 6.894757 kPa (NIST SP 811).
        assert by_inches["pressure [psig]"][0] == pytest.approx((kilopascal - 95.0) / 6.894757, abs=0.002)
        assert math.isnan(by_inches["vacuum [inHg]"][0])


@pytest.mark.parametrize(
    ("name", "bubble", "dew"),
    # Lemmon 2003, Table V, 300 K.
    [("R-407C", 1250.7, 1075.7), ("R-410A", 1740.4, 1735.1)],
)
def test_blends_have_both_lines(name, bubble, dew):
    shown = card(name, celsius=[26.85], altitude=0.0)
    frame = shown.to_frame()
    assert frame["bubble [kPa gauge]"][0] == pytest.approx(bubble - 101.325, abs=0.05)
    assert frame["dew [kPa gauge]"][0] == pytest.approx(dew - 101.325, abs=0.05)
    assert "subcooling" in str(shown)
    assert list(card(name, fahrenheit=[80.33]).to_frame()) == [
        "temperature [degF]",
        "bubble [psig]",
        "bubble vacuum [inHg]",
        "dew [psig]",
        "dew vacuum [inHg]",
    ]


def test_altitude_and_barometer():
    # ISO 2533:1975: 89 874.6 Pa at 1000 m.
    high = card("R-123", celsius=[0.0], altitude=1000.0)
    assert high.barometer == pytest.approx(89_874.6, abs=0.05)
    assert high.to_frame()["pressure [kPa gauge]"][0] == pytest.approx(32.65 - 89.8746, abs=0.005)
    assert "standard atmosphere at 1000 m (3281 ft)" in str(high)
    given = card("R-123", celsius=[0.0], barometer=89_874.6)
    assert "as given" in str(given)
    assert given.to_csv() == high.to_csv()
    assert "assumed: standard atmosphere at sea level" in str(card("R-123", celsius=[0.0])).replace("\n", " ")


def test_at_the_barometer_there_is_neither_vacuum_nor_minus_zero():
    r = interstage.Refrigerant("R-123")
    boiling = units.celsius_from_kelvin(r.normal_boiling_point) - 0.0005
    for gauge, nothing in (("psig", "0.0"), ("kPa", "-0.0"), ("bar", "0.00")):
        _, ((_, pressure, vacuum),) = cells(r.pressure_table(celsius=[boiling], altitude=0, gauge=gauge))
        assert (pressure, vacuum) == (nothing.removeprefix("-"), "")


def test_what_no_row_has_is_no_column_of_what_is_shown():
    blend = card("R-407C", celsius=range(0, 51, 10), barometer=101325.0)
    assert "vacuum" not in str(blend)
    assert "vacuum" not in blend.to_html()
    # Files and tables have the same columns whatever the temperatures are.
    assert "dew vacuum" in blend.to_csv()
    cold = str(card("R-1233zd(E)", fahrenheit=[30, 40], altitude=0))
    assert "psig" not in cold
    assert "Vacuum counts down" in cold
    assert "Vacuum counts down" not in str(card("R-134a", fahrenheit=[30, 40], altitude=0))


def test_rows_as_asked_for():
    ranged = card("R-134a", fahrenheit=range(-20, 121, 20))
    assert [row[0] for row in cells(ranged)[1]] == ["-20", "0", "20", "40", "60", "80", "100", "120"]
    assert card("R-134a", fahrenheit=np.arange(-20.0, 121.0, 20.0)) == ranged
    assert [row[0] for row in cells(card("R-134a", celsius=(7.5, 5, 37)))[1]] == ["7.5", "5", "37"]
    assert len(card("R-134a", celsius=5)) == 1
    usual = card("R-134a")
    assert (usual.to_frame().columns[0], len(usual)) == ("temperature [degF]", 35)
    assert card("R-134a", gauge="kPa").to_frame().columns[0] == "temperature [degC]"
    # As far as the refrigerant goes: critical point of R-744 at 304.1282 K, 87.76 degF (Span & Wagner 1996).
    assert cells(card("R-744"))[1][-1][0] == "85"


def test_rows_agree_with_saturation():
    r = interstage.Refrigerant("R-407C")
    shown = r.pressure_table(celsius=[-20, 20], altitude=200)
    for place, celsius in enumerate((-20.0, 20.0)):
        saturation = r.saturation(T=units.kelvin_from_celsius(celsius))
        assert shown.bubble_pressures[place] == saturation.liquid.p
        assert shown.dew_pressures[place] == saturation.vapor.p


def test_shown_and_kept(tmp_path):
    shown = card("R-1233zd(E)", fahrenheit=range(0, 101, 10), altitude=0)
    assert repr(shown) == "PressureTable(R-1233zd(E), 0 to 100 degF, 11 rows, psig)"
    assert all(len(line) <= 110 for line in str(shown).splitlines())
    assert "Local codes and licensed practice rule" in str(shown).replace("\n", " ")
    tree = ET.fromstring(f"<div>{shown._repr_html_()}</div>")
    assert [cell.text for cell in tree.iter("th")] == list(shown.to_frame())
    assert len(list(tree.iter("tr"))) == 12
    assert shown.to_csv(tmp_path / "card.csv") == (tmp_path / "card.csv").read_text()
    assert pickle.loads(pickle.dumps(shown)) == shown
    with pytest.raises(ValueError, match="read-only"):
        shown.temperatures[0] = 0.0


@pytest.mark.parametrize(
    ("given", "error", "message"),
    [
        ({"fahrenheit": [38], "celsius": [5]}, interstage.WrongArgument, "one scale"),
        ({"barometer": 1e5, "altitude": 0}, interstage.WrongArgument, "not both"),
        ({"celsius": []}, interstage.WrongArgument, "no temperatures"),
        ({"celsius": "cold"}, interstage.WrongArgument, "celsius must be a number or a column"),
        ({"celsius": [True]}, interstage.WrongArgument, "celsius"),
        ({"celsius": [200.0]}, interstage.OutOfRange, "celsius 200 degC is outside"),
        ({"fahrenheit": [-460.0]}, interstage.OutOfRange, "fahrenheit -460 degF is outside"),
        ({"celsius": [float("nan")]}, interstage.NotFinite, "celsius must be finite"),
        ({"celsius": range(10**9)}, interstage.OutOfRange, "rows"),
        # In psi, inHg, kPa or hPa in place of Pa.
        ({"barometer": 14.7}, interstage.OutOfRange, "barometer 14.7 Pa is outside"),
        ({"barometer": 29.92}, interstage.OutOfRange, "barometer"),
        ({"barometer": 101.325}, interstage.OutOfRange, "barometer"),
        ({"barometer": 1013.25}, interstage.OutOfRange, "barometer"),
        ({"barometer": [1e5]}, interstage.WrongArgument, "single number"),
        ({"altitude": 30_000.0}, interstage.OutOfRange, "altitude 30000 m is outside -5000 to 11000 m"),
        ({"altitude": float("inf")}, interstage.NotFinite, "altitude"),
        ({"gauge": "psi"}, interstage.UnknownOption, "psig, kPa, bar"),
        ({"gauge": 3}, interstage.UnknownOption, "gauge"),
    ],
)
def test_refused(given, error, message):
    with pytest.raises(error, match=message):
        card("R-134a", **given)

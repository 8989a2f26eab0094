"""The exergy ledger as text and tables."""

import dataclasses

import pytest

import interstage
from interstage import units
from worked_machines import AT_5_37, ONE, SIZE, arranged


@pytest.fixture(scope="module")
def ledger():
    cycle = arranged("R-1233zd(E)", ONE, interstage_loss=0.02).solve(**AT_5_37, **SIZE)
    return cycle.exergy(
        chilled_water=(285.15, 280.15), condenser_water=(303.15, 308.15), dead_state_temperature=303.15
    )


def test_units(ledger):
    assert list(ledger.to_frame().columns) == ["exergy [kW]", "share [%]"]
    si, ip = ledger.to_frame(), ledger.to_frame(units="I-P")
    assert si["exergy [kW]"].tolist()[-1] == pytest.approx(ledger.power / 1e3)
    # A Btu/min is 60 Btu/h.
    assert ip["exergy [Btu/min]"].tolist()[-1] == pytest.approx(
        units.btu_per_hour_from_watt(ledger.power) / 60
    )
    assert ip["share [%]"].equals(si["share [%]"])
    assert si["exergy [kW]"].tolist()[:-1] != []
    assert sum(si["exergy [kW]"].tolist()[:-1]) == pytest.approx(ledger.power / 1e3)
    assert " Btu/min" in ledger.to_text("I-P")
    assert "exergy [Btu/min]" in ledger.to_html("I-P")
    assert str(ledger) == ledger.to_text()
    assert ledger._repr_html_() == ledger.to_html()
    for wrong in (ledger.to_frame, ledger.to_html, ledger.to_text):
        with pytest.raises(interstage.UnknownOption, match="units must be"):
            wrong("metric")


def test_nothing_has_no_sign(ledger):
    noisy = dataclasses.replace(
        ledger, destroyed={**ledger.destroyed, "suction_line": -3e-13, "stage_1": -1e-8 * ledger.power}
    )
    for text in (noisy.to_text(), noisy.to_html(), noisy.to_text("I-P")):
        assert "-0.000" not in text
        assert "-0<" not in text
        assert "e-1" not in text
    by = noisy.to_frame()["exergy [kW]"]
    assert str(by["suction_line"]) == "0.0"
    # What is more than rounding stays in the table.
    assert by["stage_1"] == pytest.approx(-1e-11 * ledger.power)
    assert str(noisy.to_frame().loc["stage_1", "share [%]"]) == "0.0"

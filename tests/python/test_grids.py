"""Grids, and other refrigerants in the same machine."""

import re
import sys

import numpy as np
import pytest

import interstage
from interstage import units
from worked_machines import AT_5_37, NONE, ONE, SIZE, arranged, printed


def test_grid_is_the_product_of_its_lists():
    study = interstage.grid(
        refrigerant=["R-123", interstage.Refrigerant("R-134a")],
        arrangement=[NONE, ONE],
        polytropic_efficiency=[0.8, 0.7],
        port_loss=[0.0, 0.05],
        interstage_pressures="equal temperature step",
        evaporating_temperature=[275.15, 278.15],
        condensing_temperature=np.array([310.15, 300.15, 260.0]),
        subcooling=4.0,
        capacity=1e6,
    )
    table = study.table
    assert len(table) == 2 * 2 * 2 * 2 * 2 * 3
    axes = [
        "refrigerant",
        "arrangement",
        "polytropic_efficiency",
        "port_loss",
        "evaporating_temperature [degC]",
        "condensing_temperature [degC]",
    ]
    assert not table.duplicated(axes).any()
    row = table[(table["port_loss"] == 0.05) & (table["polytropic_efficiency"] == 0.7)].iloc[10]
    stage = interstage.Stage(polytropic_efficiency=0.7)
    circuit = interstage.Circuit.arranged(
        interstage.Refrigerant("R-123"),
        ONE,
        stage=stage,
        port_loss=0.05,
        interstage_pressures="equal temperature step",
    )
    cycle = circuit.solve(
        evaporating_temperature=278.15, condensing_temperature=300.15, subcooling=4.0, capacity=1e6
    )
    assert (row["refrigerant"], row["arrangement"]) == ("R-123", ONE)
    assert row["cop"] == pytest.approx(cycle.cop, rel=1e-12)
    assert row["economizer_benefit"] == pytest.approx(cycle.economizer_benefit, rel=1e-9)
    assert set(table["basis"]) == set(study.basis) == {"same saturation temperatures"}
    assert study.held["basis 'same saturation temperatures'"].startswith("evaporating and condensing")
    assert table["machine"].tolist() == [f"machine {k}" for k in range(1, 17) for _ in range(6)]
    assert table["condition"].tolist() == [*range(6)] * 16
    impossible = table["condensing_temperature [degC]"] < 0
    assert table.loc[impossible, "reason"].str.contains("260 K must be above evaporating").all()
    assert table.loc[~impossible, "reason"].isna().all()
    assert (table["status"] == "ok").tolist() == (~impossible).tolist()
    assert table.loc[impossible, "cop"].isna().all()


def test_machines_of_a_grid_that_cannot_be_built_stay():
    study = interstage.grid(
        refrigerant=["R-134a", "R-410A"],
        arrangement=["2 stages", ONE],
        isentropic_efficiency=[0.8, 1.2],
        motor_cooling=["room", 2],
        **AT_5_37,
        mass_flow=1.0,
    )
    table = study.table
    assert len(table) == 16
    assert study.basis == ("same saturation temperatures and mass flow",)
    assert "mass flow through the evaporator are equal" in study.held[f"basis {study.basis[0]!r}"]
    assert table["cop"].notna().sum() == (table["status"] == "ok").sum() == 6
    texts = table[table["isentropic_efficiency"] == 1.2]["reason"]
    assert texts.str.contains("isentropic_efficiency 1.2").all()
    assert set(table["status"]) == {"ok", "not possible"}
    assert table["reason"].isna().tolist() == table["status"].eq("ok").tolist()
    blend = table[(table["refrigerant"] == "R-410A") & (table["isentropic_efficiency"] == 0.8)]["reason"]
    assert blend.str.contains("mixture model").tolist() == [False, False, True, True]
    assert table["motor_cooling"].tolist() == ["room", 2] * 8


def test_a_grid_of_nothing_that_can_be_built():
    study = interstage.grid(
        refrigerant="R-410A",
        arrangement=[ONE, "3 stages: tank@2"],
        polytropic_efficiency=0.8,
        **AT_5_37,
        **SIZE,
    )
    table = study.table
    assert table["reason"].str.contains("mixture model").all()
    assert table[["cop", "stage_3_work [kJ/kg]", "capacity [kW]"]].isna().all(axis=None)
    assert study.held["machines"] == "none of them could be built"
    assert not any(text.endswith("; ") for text in study.header().values())
    assert study.citations == {}
    assert study.conclusions()["better"].tolist() == ["cannot tell"]


@pytest.mark.parametrize(
    ("given", "error", "message"),
    [
        ({"refrigerent": "R-123"}, interstage.UnknownOption, "no axis 'refrigerent'; it may have refrig"),
        ({"refrigerant": "R-12x"}, interstage.UnknownRefrigerant, "R-12x"),
        ({"refrigerant": [134]}, interstage.WrongArgument, "refrigerant must be a text"),
        ({"refrigerant": []}, interstage.WrongArgument, "refrigerant is an empty list"),
        ({"arrangement": "2 stages: tonk@2"}, interstage.UnknownOption, "unknown arrangement"),
        ({"interstage_pressures": "equal"}, interstage.UnknownOption, "interstage_pressures must be"),
        ({"interstage_pressures": [4e5]}, interstage.WrongArgument, "interstage_pressures must be a text"),
        ({"isentropic_efficiency": 0.8}, interstage.WrongArgument, "exactly one of isentropic"),
        ({"power": 1e5}, interstage.WrongArgument, "exactly one of capacity, mass_flow, power"),
        ({"condensing_temperature": "310"}, interstage.WrongArgument, "condensing_temperature must"),
        ({"subcooling": []}, interstage.WrongArgument, "subcooling is an empty list"),
        ({"units": "metric"}, interstage.UnknownOption, "units must be"),
    ],
)  # fmt: skip
def test_bad_grids(given, error, message):
    axes = {"refrigerant": "R-134a", "arrangement": "1 stage", "polytropic_efficiency": 0.8}
    with pytest.raises(error, match=message):
        interstage.grid(**{**axes, **AT_5_37, **SIZE, **given})


def test_grid_without_what_it_needs():
    with pytest.raises(interstage.WrongArgument, match="a grid needs refrigerant, arrangement"):
        interstage.grid(polytropic_efficiency=0.8, **AT_5_37, **SIZE)


def test_progress_of_a_grid(capsys, monkeypatch):
    axes = {"refrigerant": ["R-123", "R-134a"], "arrangement": "1 stage", "polytropic_efficiency": 0.8}
    interstage.grid(**axes, **AT_5_37, **SIZE)
    assert capsys.readouterr().err == ""
    pytest.importorskip("tqdm")
    interstage.grid(progress=True, **axes, **AT_5_37, **SIZE)
    assert re.search(r"100%.*2/2", capsys.readouterr().err)
    monkeypatch.setitem(sys.modules, "tqdm", None)
    with pytest.raises(interstage.WrongArgument, match="needs tqdm"):
        interstage.grid(progress=True, **axes, **AT_5_37, **SIZE)
    assert len(interstage.grid(progress=False, **axes, **AT_5_37, **SIZE).table) == 2


def test_other_refrigerants_in_the_same_machine():
    circuit = arranged("R-123", ONE)
    study = interstage.what_if(
        circuit,
        ["R-1233zd(E)", "R-134a", "R-410A", "R-744", interstage.Refrigerant("R-717"), "R-123"],
        **AT_5_37,
        **SIZE,
        barometer=97.5e3,
    )
    table = study.table.set_index("refrigerant")
    assert list(table.index) == ["R-123", "R-1233zd(E)", "R-134a", "R-410A", "R-744", "R-717"]
    for name in ("R-123", "R-1233zd(E)", "R-134a", "R-717"):
        assert table.loc[name, "cop"] == printed(name, "one tank", "cop")
        cycle = arranged(name, ONE).solve(**AT_5_37, **SIZE)
        own = circuit.solve(**AT_5_37, **SIZE)
        volume = cycle.stage_inlet_volume_flow[0] / own.stage_inlet_volume_flow[0]
        head = sum(cycle.stage_head) / sum(own.stage_head)
        row = table.loc[name]
        assert row["inlet_volume_flow_per_reference"] == pytest.approx(volume)
        assert row["capacity_at_same_inlet_volume [kW]"] == pytest.approx(SIZE["capacity"] / 1e3 / volume)
        assert row["tip_speed_per_reference"] == pytest.approx(head**0.5)
        assert row["evaporating_pressure [kPa gauge]"] == pytest.approx(
            row["evaporating_pressure [kPa]"] - 97.5
        )
    # A vacuum machine and one under pressure.
    assert table.loc["R-123", "evaporating_pressure [kPa gauge]"] < 0
    assert table.loc["R-134a", "evaporating_pressure [kPa gauge]"] > 200
    assert (table.loc["R-410A", "status"], table.loc["R-744", "status"])[0] == "not possible"
    assert "mixture model" in table.loc["R-410A", "reason"]
    assert "condensing_temperature" in table.loc["R-744", "reason"]
    assert table.loc[["R-410A", "R-744"], "cop"].isna().all()
    # Facts stand beside those that cannot run, too.
    assert table.loc["R-744", ["safety_class", "gwp_ar5"]].tolist() == ["A1", 1.0]
    assert table["machine"].tolist() == list(table.index)
    assert set(table["basis"]) == set(study.basis) == {"same saturation temperatures"}
    assert study.held["barometer"] == "97500 Pa"
    assert study.held["reference"] == "R-123"


def test_gauges_need_the_atmosphere():
    circuit = arranged("R-123", ONE)
    without = interstage.what_if(circuit, [], **AT_5_37, **SIZE)
    assert not any("gauge" in name for name in without.table.columns)
    assert "not given" in without.held["barometer"]
    table = interstage.what_if(circuit, ["R-134a"], **AT_5_37, **SIZE, altitude=0.0, units="I-P").table
    # 17.9 inHg below a standard atmosphere at 5 degC.
    assert table["evaporating_vacuum [inHg vacuum]"].tolist()[0] == pytest.approx(17.9, abs=0.05)
    assert np.isnan(table["evaporating_vacuum [inHg vacuum]"].tolist()[1])
    assert table["condensing_pressure [psig]"].tolist()[1] == pytest.approx(
        units.psig_from_pascal(937.24e3, 101325.0), abs=0.01
    )


@pytest.mark.parametrize(
    ("given", "error", "message"),
    [
        ({"refrigerants": "R-134a"}, interstage.WrongArgument, "refrigerants must be a list"),
        ({"refrigerants": [3]}, interstage.WrongArgument, r"refrigerants\[0\] must be a name"),
        ({"refrigerants": ["R-12x"]}, interstage.UnknownRefrigerant, "R-12x"),
        ({"circuit": "R-134a"}, interstage.WrongArgument, "circuit must be a Circuit"),
        ({"barometer": 1e5, "altitude": 0.0}, interstage.WrongArgument, "not both"),
        ({"barometer": 1.0}, interstage.Inconsistent, "no pressure of the atmosphere"),
    ],
)
def test_bad_what_ifs(given, error, message):
    base = {"circuit": arranged("R-123", ONE), "refrigerants": ["R-134a"]}
    with pytest.raises(error, match=message):
        interstage.what_if(**{**base, **AT_5_37, **SIZE, **given})


def test_given_pressures_suit_one_refrigerant():
    circuit = arranged("R-123", ONE, interstage_pressures=[75e3])
    with pytest.raises(interstage.Inconsistent, match="choose a rule"):
        interstage.what_if(circuit, ["R-134a"], **AT_5_37, **SIZE)


def test_one_refrigerant_by_two_equations():
    newer = interstage.Refrigerant("R-717")
    older = interstage.Refrigerant("R-717", equation=newer.equations[1])
    study = interstage.what_if(arranged("R-717", ONE), [older], **AT_5_37, **SIZE)
    assert study.table["equation"].tolist() == [newer.equation, older.equation]
    assert study.table["cop"].nunique() == 2
    assert study.table["machine"].tolist() == ["R-717", f"R-717 by {older.equation}"]
    assert list(study.citations) == ["R-717", f"R-717 by {older.equation}"]
    assert "Gao" in study.citations["R-717"][0]

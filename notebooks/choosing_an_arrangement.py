# %% [markdown]
# # Choosing an arrangement
#
# What economizers are worth depends on the refrigerant, on the lift, on how well they work, and on what is
# held constant when machines are compared. This notebook computes the tables that such a choice starts from.
#
# Results are estimates for analysis and teaching: never a protection, and no reason to open a refrigerant
# circuit. Safety classes shipped with the data are from memory: the current edition of ASHRAE 34 or ISO 817,
# machine-room standards and local codes rule.

# %%
from pathlib import Path

import numpy as np
import pandas as pd
from IPython.display import display

import interstage
from interstage import units

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)
pd.set_option("display.width", 160, "display.max_columns", 40)

# %% [markdown]
# ## The machine
#
# 1000 tons between 5 and 37 degC, saturated suction and condenser outlet, polytropic efficiency 0.80 in
# every stage, equal pressure ratios, ideal tanks, no losses. COP and kW/ton count compression power; motor
# and drive come on top.

# %%
NONE, ONE, TWO = "1 stage", "2 stages: tank@2", "3 stages: tank@3, tank@2"
FLUIDS = [
    "R-123",
    "R-1233zd(E)",
    "R-514A",
    "R-1224yd(Z)",
    "R-1336mzz(Z)",
    "R-245fa",
    "R-134a",
    "R-513A",
    "R-1234ze(E)",
    "R-1234yf",
    "R-22",
    "R-717",
]
CAPACITY = units.watt_from_ton(1000.0)
STAGE = interstage.Stage(polytropic_efficiency=0.80)
AT_5_37 = {
    "evaporating_temperature": units.kelvin_from_celsius(5.0),
    "condensing_temperature": units.kelvin_from_celsius(37.0),
}


def circuit(fluid, arrangement, **options):
    return interstage.Circuit.arranged(interstage.Refrigerant(fluid), arrangement, stage=STAGE, **options)


study = interstage.grid(
    refrigerant=FLUIDS,
    arrangement=[NONE, ONE, TWO],
    polytropic_efficiency=0.80,
    capacity=CAPACITY,
    **AT_5_37,
)
solved = study.table.set_index(["refrigerant", "arrangement"])
none, one, two = (solved.xs(text, level="arrangement") for text in (NONE, ONE, TWO))
print(repr(study))

# %% [markdown]
# ## Pressures and flash gas

# %%
pressures = pd.DataFrame(
    {
        "p_e [kPa]": none["evaporating_pressure [kPa]"].round(2),
        "p_c [kPa]": none["condensing_pressure [kPa]"].round(2),
        "ratio": (none["condensing_pressure [kPa]"] / none["evaporating_pressure [kPa]"]).round(3),
        "tank, one [kPa]": one["stage_2_inlet_pressure [kPa]"].round(2),
        "low tank, two [kPa]": two["stage_2_inlet_pressure [kPa]"].round(2),
        "high tank, two [kPa]": two["stage_3_inlet_pressure [kPa]"].round(2),
        "quality, none": none["evaporator_inlet_quality"].round(3),
        "flash, one": one["stage_2_flash_fraction"].round(3),
        "flash, low of two": two["stage_2_flash_fraction"].round(3),
        "flash, high of two": two["stage_3_flash_fraction"].round(3),
        "effect, none [kJ/kg]": none["refrigerating_effect [kJ/kg]"].round(2),
        "inlet volume, none [m3/s]": none["inlet_volume_flow [m3/s]"].round(2),
    }
)
display(pressures)

# %% [markdown]
# ## Work, COP and what tanks save

# %%
work = pd.DataFrame(
    {
        "w1, one [kJ/kg]": one["stage_1_work [kJ/kg]"].round(2),
        "w2, one [kJ/kg]": one["stage_2_work [kJ/kg]"].round(2),
        "w1, two [kJ/kg]": two["stage_1_work [kJ/kg]"].round(2),
        "w2, two [kJ/kg]": two["stage_2_work [kJ/kg]"].round(2),
        "w3, two [kJ/kg]": two["stage_3_work [kJ/kg]"].round(2),
        "discharge, none [degC]": none["discharge_temperature [degC]"].round(1),
        "wet, none": none["wet_stages"].gt(0),
        "COP none": none["cop"].round(3),
        "COP one": one["cop"].round(3),
        "COP two": two["cop"].round(3),
        "kW/ton none": none["kw_per_ton"].round(3),
        "kW/ton one": one["kw_per_ton"].round(3),
        "kW/ton two": two["kw_per_ton"].round(3),
        "saving one [%]": (100 * one["economizer_benefit"]).round(2),
        "saving two [%]": (100 * two["economizer_benefit"]).round(2),
    }
)
display(work)

# %% [markdown]
# One tank saves 3.7 to 9.2 % here, two save about a third more. Refrigerants with much flash gas gain most:
# what throttling loses, a tank gives back by half and two by two thirds.

# %%
assert (abs(work.loc["R-1233zd(E)", ["COP none", "COP one", "COP two"]] - [6.086, 6.463, 6.586]) < 1e-9).all()
assert work.loc["R-123", "saving one [%]"] == 5.56
assert work.loc["R-1234yf", "saving two [%]"] == 11.88
assert work.loc["R-717", "discharge, none [degC]"] == 93.0
assert list(work.index[work["wet, none"]]) == ["R-1336mzz(Z)"]
share = work["saving two [%]"] / work["saving one [%]"]
assert share.between(1.25, 1.36).all()

# %% [markdown]
# ## Saving against lift
#
# Columns of conditions go in. The benefit grows about in proportion to the lift.

# %%
evaporating = np.array([6.0, 6.0, 5.0, 5.0, 5.0, -6.0])
condensing = np.array([20.0, 25.0, 30.0, 37.0, 45.0, 40.0])
against_lift = interstage.compare(
    {f"{fluid}, {name}": circuit(fluid, text)
     for fluid in ("R-123", "R-134a")
     for name, text in (("one tank", ONE), ("two tanks", TWO))},
    basis="same saturation temperatures",
    evaporating_temperature=units.kelvin_from_celsius(evaporating),
    condensing_temperature=units.kelvin_from_celsius(condensing),
    capacity=CAPACITY,
).table  # fmt: skip
against_lift["between [degC]"] = [
    f"{evaporating[row]:g}/{condensing[row]:g}" for row in against_lift["condition"]
]
savings = against_lift.pivot(index="between [degC]", columns="circuit", values="economizer_benefit")
savings = (100 * savings.loc[against_lift["between [degC]"].unique()]).round(1)
display(savings)
assert savings["R-123, one tank"].tolist() == [2.2, 3.0, 4.1, 5.6, 7.4, 8.5]
assert savings["R-134a, two tanks"].tolist() == [3.7, 5.2, 7.1, 9.7, 13.0, 14.4]

# %%
lifts = interstage.grid(
    refrigerant=["R-123", "R-134a"],
    arrangement=[ONE, TWO],
    polytropic_efficiency=0.80,
    evaporating_temperature=AT_5_37["evaporating_temperature"],
    condensing_temperature=AT_5_37["evaporating_temperature"] + np.linspace(5.0, 45.0, 81),
    capacity=CAPACITY,
)
axes = lifts.against_lift()
axes.figure.savefig(OUTPUT / "saving_against_lift.png", dpi=150)

# %% [markdown]
# ## Imperfections and other arrangements
#
# R-1233zd(E) at 5/37 degC. Each machine is measured against itself without economizers, losses included.

# %%
CASES = {
    "ideal tank": (ONE, {}),
    "carryover 5 %": ("2 stages: tank@2 (carryover 0.05)", {}),
    "blow-through 1 %": ("2 stages: tank@2 (blowthrough 0.01)", {}),
    "blow-through 5 %": ("2 stages: tank@2 (blowthrough 0.05)", {}),
    "port loss 5 %": (ONE, {"port_loss": 0.05}),
    "interstage loss 2 %": (ONE, {"interstage_loss": 0.02}),
    "intercooled tank": ("2 stages: intercooled tank@2", {}),
    "intercooled tank, coil 3 K": ("2 stages: intercooled tank@2 (coil 3 K)", {}),
    "closed, approach 3 K": ("2 stages: closed@2 (approach 3 K)", {}),
    "closed, approach 5 K": ("2 stages: closed@2 (approach 5 K)", {}),
    "3 stages, tank at the third": ("3 stages: tank@3", {}),
    "3 stages, tank at the second": ("3 stages: tank@2", {}),
    "two closed, approach 3 K": ("3 stages: closed@3 (approach 3 K), closed@2 (approach 3 K)", {}),
    "two tanks": (TWO, {}),
}
study = interstage.compare(
    {name: circuit("R-1233zd(E)", text, **options) for name, (text, options) in CASES.items()},
    basis="same saturation temperatures",
    capacity=CAPACITY,
    **AT_5_37,
)
table = study.table.set_index("circuit")
imperfect = pd.DataFrame(
    {
        "benefit [%]": (100 * table["economizer_benefit"]).round(2),
        "against the ideal tank [%]": (100 * table["benefit_against_reference"]).round(2),
        "COP": table["cop"].round(3),
    }
)
display(imperfect)
benefit = imperfect["benefit [%]"]
assert benefit["ideal tank"] == 5.84
assert benefit["carryover 5 %"] == 5.79
assert benefit["blow-through 1 %"] == 5.34
assert benefit["blow-through 5 %"] == 3.23
assert benefit["port loss 5 %"] == 5.44
assert benefit["interstage loss 2 %"] == 5.93
assert benefit["intercooled tank"] == 5.74
assert benefit["intercooled tank, coil 3 K"] == 4.81
assert benefit["closed, approach 3 K"] == 4.91
assert benefit["closed, approach 5 K"] == 4.27
assert benefit["3 stages, tank at the third"] == 5.43
assert benefit["3 stages, tank at the second"] == 4.97
assert benefit["two closed, approach 3 K"] == 6.37
assert study.held["pressure losses"].startswith("differs")

# %% [markdown]
# A loss between the stages raises the benefit against the same machine without economizer, for it costs that
# one a little more, 1.8 % of power; against the ideal tank it costs 1.7 %. What is meant has to be said.
# Vapor that a tank lets through to the evaporator is what costs power. Liquid that it carries over hardly
# shows in the power, yet it can wreck the next stage.

# %%
axes = study.bars("economizer_benefit")
axes.figure.savefig(OUTPUT / "arrangements.png", dpi=150)

# %% [markdown]
# ## Where the power goes
#
# Exergy that every kind of component destroys, with chilled water from 12 to 7 degC and condenser water from
# 30 to 35 degC, the surroundings at 30 degC. What tanks save was lost in the throttles: their flash gas is no
# longer throttled down to the evaporator, to be compressed from there again.

# %%
ledgers = {
    name: circuit("R-1233zd(E)", text)
    .solve(**AT_5_37, capacity=CAPACITY)
    .exergy(
        chilled_water=tuple(units.kelvin_from_celsius([12.0, 7.0])),
        condenser_water=tuple(units.kelvin_from_celsius([30.0, 35.0])),
        dead_state_temperature=units.kelvin_from_celsius(30.0),
    )
    for name, text in (("no tank", NONE), ("one tank", ONE), ("two tanks", TWO))
}
axes = ledgers["no tank"].bars(
    label="no tank", beside={name: ledger for name, ledger in ledgers.items() if name != "no tank"}
)
axes.figure.savefig(OUTPUT / "where_the_power_goes.png", dpi=150)
throttled = {
    name: sum(value for part, value in ledger.destroyed.items() if part.endswith("metering"))
    for name, ledger in ledgers.items()
}
assert throttled["two tanks"] < 0.5 * throttled["no tank"]
assert all(abs(ledger.closure) < 1e-9 for ledger in ledgers.values())

# %% [markdown]
# ## How much the tank pressure matters
#
# Little. Any rule is close to the best, and a tank whose pressure floats with the load loses little by that
# alone: the shaded pressures cost 1 % or less. (Vapor that follows the liquid through an orifice is another
# matter.) How rules share the head among three stages is drawn below that.

# %%
sweep = interstage.sweep_pressures(circuit("R-1233zd(E)", ONE), **AT_5_37)
axes = sweep.curve()
axes.figure.savefig(OUTPUT / "tank_pressure.png", dpi=150)
((lowest, highest),) = sweep.flat(0.01)
print(f"1 % or less is lost from {lowest:.2f} to {highest:.2f}")
assert 0.50 < sweep.best_exponents[0] < 0.56
assert highest - lowest > 0.35
assert all(cop > 0.999 * sweep.best_cop for _, cop in sweep.rules.values())

# %%
by_rule = interstage.compare(
    {
        rule: circuit("R-1233zd(E)", TWO, interstage_pressures=rule)
        for rule in ("equal ratio", "equal temperature step", "equal head", "best COP")
    },
    basis="same saturation temperatures",
    capacity=CAPACITY,
    **AT_5_37,
)
axes = by_rule.head_bars()
axes.figure.savefig(OUTPUT / "head_by_rule.png", dpi=150)

# %% [markdown]
# Subcooling in the condenser is worth less with an economizer, which cools the liquid already.

# %%
subcooled = interstage.compare(
    {name: circuit("R-1233zd(E)", text) for name, text in (("none", NONE), ("one", ONE), ("two", TWO))},
    basis="same saturation temperatures",
    subcooling=[0.0, 4.0],
    capacity=CAPACITY,
    **AT_5_37,
).table
subcooled = subcooled.pivot(index="circuit", columns="subcooling [K]", values="cop").round(3)
display(subcooled)
assert subcooled[4.0].tolist() == [6.267, 6.558, 6.650]

# %% [markdown]
# ## Impellers
#
# First sizes at one speed, with a tank between any two stages: head coefficient 0.52, flow coefficient of the
# first impeller 0.07.

# %%
rows = []
for fluid in ("R-123", "R-1233zd(E)", "R-134a", "R-1234ze(E)"):
    for text in (NONE, ONE, TWO):
        cycle = circuit(fluid, text).solve(**AT_5_37, capacity=CAPACITY)
        duties = [
            interstage.StageDuty.at_inlet(cycle.points[f"stage_{k}_inlet"].state, mass_flow, head)
            for k, (mass_flow, head) in enumerate(
                zip(cycle.stage_mass_flow, cycle.stage_head, strict=True), start=1
            )
        ]
        first = interstage.Impeller.on_one_shaft(duties, 0.52, 0.07)[0]
        rows.append(
            {
                "fluid": fluid,
                "stages": len(duties),
                "tip speed [m/s]": round(first.tip_speed),
                "tip Mach number": round(first.tip_mach, 2),
                "diameter [m]": round(first.diameter, 2),
                "speed [1/min]": round(6 * first.speed) * 10,
            }
        )
impellers = pd.DataFrame(rows).set_index(["fluid", "stages"])
display(impellers.unstack("stages"))
assert impellers.loc[("R-1233zd(E)", 3)].tolist() == [115, 0.85, 0.81, 2710]
assert impellers.loc[("R-134a", 3)].tolist() == [114, 0.78, 0.38, 5800]

# %% [markdown]
# ## On which basis?
#
# Which machine is better depends on what is held constant: saturation temperatures, exchangers and water, or
# the volume that the first stage takes. The exchangers are those with which R-123 without economizer runs at
# 5/37 degC with approaches of 2 K. A conclusion whose sign changes between the bases is flagged.

# %%
reference = circuit("R-123", NONE)
chilled = interstage.WaterFlow(mass_flow=167.5)
condenser = interstage.WaterFlow(mass_flow=195.9)
rejected = reference.solve(**AT_5_37, capacity=CAPACITY).heat_rejected
leaving = AT_5_37["condensing_temperature"] - 2.0
entering = condenser.leaving_temperature(leaving, rejected)  # the same heat taken out of it
evaporator_ua = (
    interstage.Exchanger.evaporator(approach=2.0)
    .at_leaving(chilled, AT_5_37["evaporating_temperature"] + 2.0, CAPACITY)
    .ua
)
condenser_ua = interstage.Exchanger.condenser(approach=2.0).at_entering(condenser, entering, rejected).ua
study = interstage.compare(
    {
        "R-123": reference,
        "R-123, one tank": circuit("R-123", ONE),
        "R-134a, one tank": circuit("R-134a", ONE),
        "R-134a, two tanks": circuit("R-134a", TWO),
    },
    basis=["same saturation temperatures", "same exchangers and water", "same inlet volume"],
    water=interstage.WaterSide(
        evaporator=interstage.Exchanger.evaporator(ua=evaporator_ua),
        condenser=interstage.Exchanger.condenser(ua=condenser_ua),
        chilled_water=chilled,
        condenser_water=condenser,
        condenser_water_entering=entering,
        chilled_water_leaving=AT_5_37["evaporating_temperature"] + 2.0,
    ),
    capacity=CAPACITY,
)
display(
    study.table.set_index(["basis", "circuit"])[
        [
            "cop",
            "economizer_benefit",
            "benefit_against_reference",
            "capacity_per_reference",
            "evaporating_temperature [degC]",
            "condensing_temperature [degC]",
        ]
    ].round(4)
)
axes = study.bars("benefit_against_reference")
axes.figure.savefig(OUTPUT / "bases.png", dpi=150)
at_reference = study.table[study.table["circuit"] == "R-123"]["condensing_temperature [degC]"]
assert (abs(at_reference - 37.0) < 1e-6).all()
conclusions = study.conclusions()
display(conclusions.set_index(["first", "second", "basis"]).round(2))
flagged = conclusions[conclusions["sign_changes"]]
pairs = set(flagged["first"] + " / " + flagged["second"])
assert pairs == {"R-123, one tank / R-134a, one tank", "R-123, one tank / R-134a, two tanks"}

# %% [markdown]
# The study says what else was held, and whom to cite.

# %%
for what, text in study.header().items():
    print(f"{what}: {text}")
study.to_csv(OUTPUT / "bases.csv")

# %% [markdown]
# ## Another refrigerant in the same machine
#
# On paper only: impellers, exchangers, seals, oil, pressure ratings and safety decide. Gauge pressures need
# the barometer. What cannot run there stays, with the reason.

# %%
others = interstage.what_if(
    circuit("R-123", ONE),
    ["R-1233zd(E)", "R-514A", "R-1224yd(Z)", "R-134a", "R-1234ze(E)", "R-717", "R-410A"],
    capacity=CAPACITY,
    altitude=0.0,
    **AT_5_37,
).table.set_index("refrigerant")
display(
    others[
        [
            "cop",
            "economizer_benefit",
            "inlet_volume_flow_per_reference",
            "capacity_at_same_inlet_volume [kW]",
            "tip_speed_per_reference",
            "evaporating_pressure [kPa gauge]",
            "condensing_pressure [kPa gauge]",
            "discharge_temperature [degC]",
            "safety_class",
            "gwp_ar5",
            "gwp_upper_limits",
            "odp",
            "status",
        ]
    ].round(3)
)
print(others.loc["R-410A", "reason"])
assert others.loc["R-1233zd(E)", "evaporating_pressure [kPa gauge]"] < 0

# %% [markdown]
# ## What the tank is worth as an expander, and which input matters
#
# The efficiency of an expander in place of the evaporator's metering device, without tank, that would save as
# much; and the elasticities of the COP: per cent of COP for a per cent of the input.

# %%
worth = {
    fluid: interstage.equivalent_expander_efficiency(circuit(fluid, ONE), **AT_5_37).efficiency
    for fluid in ("R-123", "R-1233zd(E)", "R-134a", "R-717")
}
print({fluid: round(efficiency, 3) for fluid, efficiency in worth.items()})
slopes = interstage.sensitivity_table(circuit("R-1233zd(E)", ONE), **AT_5_37, capacity=CAPACITY)
slopes = slopes[(slopes["figure"] == "cop") & (slopes["slope"] != 0.0)]
display(slopes.set_index("input")[["input_value", "slope_shown", "unit_shown", "elasticity"]].round(4))
assert all(0.4 < efficiency < 0.8 for efficiency in worth.values())

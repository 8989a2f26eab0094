# %% [markdown]
# # What if another refrigerant?
#
# A chiller with R-134a, two stages and one flash tank. What would other refrigerants do between the same two
# temperatures: how much power, at which pressures, with which volume flow, and what do they bring along in
# global warming potential (GWP) and safety class?
#
# **Cautions.** A study on paper. It says what thermodynamics asks of a machine that is made for each
# refrigerant, not what happens to a machine that is filled with another one. Materials, oil, pressure
# ratings, safety rules and the manufacturer decide on that, and the work is for licensed people. Safety
# classes shipped with the data are from memory: the current edition of ASHRAE 34 or ISO 817, machine-room
# standards and local codes rule. Results are estimates for analysis and teaching.

# %%
from pathlib import Path

import pandas as pd
from IPython.display import display

import interstage
from interstage import units

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)
pd.set_option("display.width", 160, "display.max_columns", 30, "display.max_colwidth", None)

# %% [markdown]
# ## The question
#
# 1000 tons between 5 and 37 °C, both dew temperatures where a blend glides, polytropic efficiency 0.80 in
# both stages, equal pressure ratios. The barometer is that of sea level. COP counts compression power.

# %%
STAGE = interstage.Stage(polytropic_efficiency=0.80)
MACHINE = interstage.Circuit.arranged(interstage.Refrigerant("R-134a"), "2 stages: tank@2", stage=STAGE)
TEMPERATURES = {
    "evaporating_temperature": units.kelvin_from_celsius(5.0),
    "condensing_temperature": units.kelvin_from_celsius(37.0),
}
CAPACITY = units.watt_from_ton(1000.0)
study = interstage.what_if(
    MACHINE,
    ["R-513A", "R-515B", "R-1234ze(E)", "R-1234yf", "R-454C", "R-1233zd(E)", "R-717", "R-410A", "R-744"],
    **TEMPERATURES,
    capacity=CAPACITY,
    altitude=0.0,
)
table = study.table.set_index("refrigerant")
for name, reason in table.loc[table["status"] != "ok", "reason"].items():
    print(f"{name}: {reason}")
table = table[table["status"] == "ok"]

# %% [markdown]
# What cannot run there stays in the table of the study, with the reason. Two of the nine: one has no
# separate liquid and vapor at 37 °C, the other is a blend whose default model knows no composition of
# either phase, which a flash tank would need.
#
# ## Power, warming potential, safety class
#
# At equal temperatures and capacity.

# %%
facts = pd.DataFrame(
    {
        "COP": table["cop"].round(3),
        "power against R-134a [%]": (-100 * table["benefit_against_reference"]).round(1) + 0.0,
        "saved by the tank [%]": (100 * table["economizer_benefit"]).round(1),
        "safety class": table["safety_class"],
        "GWP (AR5)": table["gwp_ar5"].round(0),
        "GWP (AR6)": table["gwp_ar6"].round(1),
        "reported as a limit in": table["gwp_upper_limits"].fillna(""),
        "ODP": table["odp"],
    }
)
display(facts)

# %% [markdown]
# GWP over a hundred years by the fifth and sixth assessment reports of the IPCC (AR5, AR6); of blends by
# mass from their components. Where a report gives "less than one" the table counts it as one and names the
# report. Class letters: A is of lower toxicity, B of higher; 1 does not spread a flame, 2L burns with low
# velocity, 2 and 3 are more flammable. Each number has its source:

# %%
for column in ("safety_source", "odp_source", "gwp_source"):
    for source, group in table.groupby(column, sort=False):
        print(f"{column.removesuffix('_source')} of {', '.join(group.index)}: {source}")

# %%
axes = study.bars("kw_per_ton")
axes.figure.savefig(OUTPUT / "what_if_power.png", dpi=150)

# %%
without = table["cop"] * (1 - table["economizer_benefit"])
spread = [values.max() / values.min() - 1 for values in (without, table["cop"])]
print(f"best COP over poorest: {spread[0]:.0%} without the tank, {spread[1]:.0%} with it")

# %% [markdown]
# The tank brings the refrigerants closer together: those with a poor COP mostly flash much, and gain much.
#
# ## Pressures
#
# Below the atmosphere air and moisture are drawn in, and a purge is needed; above it refrigerant leaks out. A
# vessel made for one column of this table is not made for another.

# %%
SEA_LEVEL = units.STANDARD_ATMOSPHERE


def gauge(pressure):
    """What a compound gauge reads at sea level."""
    if pressure < SEA_LEVEL:
        return f"{units.inhg_vacuum_from_pascal(pressure, SEA_LEVEL):.1f} inHg vacuum"
    return f"{units.psig_from_pascal(pressure, SEA_LEVEL):.1f} psig"


pressures = pd.DataFrame(
    {
        "evaporator [kPa]": table["evaporating_pressure [kPa]"].round(1),
        "evaporator gauge": [gauge(1e3 * p) for p in table["evaporating_pressure [kPa]"]],
        "condenser [kPa]": table["condensing_pressure [kPa]"].round(1),
        "condenser gauge": [gauge(1e3 * p) for p in table["condensing_pressure [kPa]"]],
        "ratio": (table["condensing_pressure [kPa]"] / table["evaporating_pressure [kPa]"]).round(2),
        "discharge [°C]": table["discharge_temperature [degC]"].round(1),
    }
)
display(pressures)

# %% [markdown]
# ## Glide
#
# At one pressure a blend boils over a range of temperatures. Dew and bubble temperatures at the pressures of
# the table:

# %%
glides = {}
for name in table.index:
    refrigerant = interstage.Refrigerant(name)
    if refrigerant.composition is None:
        continue
    at = {
        vessel: refrigerant.saturation(p=1e3 * float(table.loc[name, f"{vessel}_pressure [kPa]"]))
        for vessel in ("evaporating", "condensing")
    }
    glides[name] = {
        f"{vessel}, {which} [°C]": round(units.celsius_from_kelvin(state.T), 2)
        for vessel, line in at.items()
        for which, state in (("bubble", line.liquid), ("dew", line.vapor))
    }
display(pd.DataFrame(glides).T)

# %% [markdown]
# R-513A and R-515B hardly glide. R-454C does, by some 8 K: since both temperatures are dew temperatures,
# most of its evaporation and condensation happens colder than that, and its COP would not be the same with
# the same exchangers and water. In a flooded evaporator and in a tank the phases of such a blend part and
# take on different compositions: [Blends in a flash tank](blends_in_a_tank.ipynb).
#
# ## Volume and impellers
#
# What the first stage takes in sizes the machine; the head sets the speed of the tips. First sizes on one
# shaft: head coefficient 0.52 (head over tip speed squared), flow coefficient of the first impeller 0.07
# (volume flow over tip speed and diameter squared).

# %%
rows = {}
for name in table.index:
    cycle = MACHINE.with_refrigerant(interstage.Refrigerant(name)).solve(**TEMPERATURES, capacity=CAPACITY)
    duties = [
        interstage.StageDuty.at_inlet(cycle.points[f"stage_{stage}_inlet"].state, flow, head)
        for stage, (flow, head) in enumerate(
            zip(cycle.stage_mass_flow, cycle.stage_head, strict=True), start=1
        )
    ]
    first = interstage.Impeller.on_one_shaft(duties, 0.52, 0.07)[0]
    rows[name] = {
        "first-stage volume [m3/s]": round(first.volume_flow, 2),
        "head of both stages [kJ/kg]": round(sum(cycle.stage_head) / 1e3, 1),
        "tip speed [m/s]": round(first.tip_speed),
        "tip speed against R-134a": round(float(table.loc[name, "tip_speed_per_reference"]), 2),
        "tip Mach number": round(first.tip_mach, 2),
        "diameter [m]": round(first.diameter, 2),
        "speed [1/min]": round(6 * first.speed) * 10,
    }
impellers = pd.DataFrame.from_dict(rows, orient="index")
display(impellers)

# %% [markdown]
# The refrigerant with the lowest pressures asks for nearly five times the volume of R-134a and an impeller
# of more than twice the diameter at less than half the speed. R-717 asks for more than 2.5 times the tip
# speed: in practice it would get more stages, or another kind of compressor.
#
# ## Equal temperatures, or the same inlet volume?
#
# The tables above hold temperatures and capacity and let the machine change. A given compressor takes in
# about a given volume: hold that instead, and capacity follows. That is all that is said: the same impeller
# would also need the same head coefficient at another Mach number, and the exchangers would find other
# temperatures.

# %%
candidates = ["R-134a", "R-513A", "R-1234ze(E)", "R-1234yf"]
bases = interstage.compare(
    {name: MACHINE.with_refrigerant(interstage.Refrigerant(name)) for name in candidates},
    basis=["same saturation temperatures", "same inlet volume"],
    **TEMPERATURES,
    capacity=CAPACITY,
).table
bases["power [kW]"] = bases["compression_power [kW]"]
both = bases.pivot(index="circuit", columns="basis", values=["capacity [kW]", "power [kW]", "cop"])
display(both.loc[candidates].astype(float).round({"capacity [kW]": 0}).round(2))

# %% [markdown]
# R-1234ze(E) draws less power per ton than R-134a and still gives only three quarters of the cooling at the
# same volume. Both are right; which one answers the question depends on whether a machine is to be built or
# one is there. With the same exchangers and water the temperatures move as well: [Choosing an
# arrangement](choosing_an_arrangement.ipynb) compares on that basis too.
#
# ## What the tank is worth
#
# Instead of a tank an expander could stand in place of the evaporator's metering device and give its work
# to the shaft. How efficient would it have to be to save as much as the tank does?

# %%
worth = pd.DataFrame(
    {
        name: {
            "saved by the tank [%]": 100 * (1 - found.cop_without / found.cop),
            "worth an expander of efficiency": found.efficiency,
            "a loss-free expander would save [%]": 100
            * (1 - found.cop_without / found.cop_with_ideal_expander),
        }
        for name in table.index
        for found in [
            interstage.equivalent_expander_efficiency(
                MACHINE.with_refrigerant(interstage.Refrigerant(name)), **TEMPERATURES
            )
        ]
    }
).T
display(
    worth.round(
        {
            "saved by the tank [%]": 1,
            "worth an expander of efficiency": 2,
            "a loss-free expander would save [%]": 1,
        }
    )
)
print(f"With R-134a this tank is worth an expander of efficiency {worth.iloc[0, 1]:.2f}.")

# %% [markdown]
# A tank without moving parts is worth an expander of some 60 % efficiency. Such an expander would have to
# work on a boiling liquid; the tank only needs a stage to draw on it.
#
# ## Which input matters: exact slopes
#
# How the COP answers to each input at this point, for the machine's own refrigerant and for R-1233zd(E). The
# slopes are derivatives carried through the equations of the cycle, not differences of two solutions.

# %%
INPUTS = {
    "evaporating_temperature": "evaporating temperature, per K",
    "condensing_temperature": "condensing temperature, per K",
    "subcooling": "subcooling, per K",
    "suction_superheat": "suction superheat, per K",
    "stage_efficiency": "efficiency of both stages, per 0.01",
    "interstage_loss": "pressure loss between stages, per 1 %",
    "stage_2_tank_vapor_blowthrough": "vapor in the tank's liquid, per 1 %",
    "stage_2_tank_liquid_carryover": "liquid in the tank's vapor, per 1 %",
}


def slopes(name):
    """Change of the COP in per cent for the step that is named with each input."""
    circuit = MACHINE.with_refrigerant(interstage.Refrigerant(name))
    found = interstage.sensitivity_table(circuit, **TEMPERATURES, capacity=CAPACITY)
    found = found[found["figure"] == "cop"].set_index("input").loc[list(INPUTS)]
    step = [1.0 if text.endswith("per K") else 0.01 for text in INPUTS.values()]
    return (100 * found["slope"] * step / found["figure_value"]).set_axis(INPUTS.values())


by_input = pd.DataFrame({name: slopes(name) for name in ("R-134a", "R-1233zd(E)")})
by_input.columns.name = "change of COP [%]"
display(by_input.round(2) + 0.0)

# %% [markdown]
# One kelvin in either saturation temperature is worth more than the difference between many refrigerants:
# clean tubes can outweigh a change of refrigerant. Each per cent of vapor that slips through with the
# tank's liquid costs half a per cent; liquid that its vapor carries over hardly shows here, though it can
# harm a compressor.
#
# ## What is not said here
#
# - The capacity or the power of an **existing** machine with another refrigerant: impellers, gears, motor,
#   exchangers and metering devices are sized for one.
# - Heat transfer: it differs between refrigerants, and with glide.
# - Materials, seals and oil, and whether they stand the refrigerant.
# - Pressure ratings, relief devices, machine rooms, charge limits, detection: standards and local codes.
# - Whether it may be bought or used where the machine stands. Venting is prohibited in most places.
# - Warming in all: what leaks and what the electricity brings along, over the years of running.
#
# ## Whom to cite
#
# The study names what it held and the equation of state of each refrigerant, also in its CSV file.

# %%
for what, text in study.held.items():
    print(f"{what}: {text}")
study.to_csv(OUTPUT / "what_if.csv")
for name in table.index:
    print(f"{name}: {'; '.join(study.citations[name])}")

# %% [markdown]
# ## Checks

# %%
assert facts.loc["R-134a", "COP"] == 6.220
assert facts.loc["R-1233zd(E)", "COP"] == 6.463
assert list(pressures.index[pressures["evaporator gauge"].str.contains("vacuum")]) == ["R-1233zd(E)"]
assert impellers.loc["R-134a", ["tip speed [m/s]", "diameter [m]", "speed [1/min]"]].tolist() == [
    140,
    0.35,
    7740,
]
assert abs(worth.loc["R-134a", "worth an expander of efficiency"] - 0.576) < 5e-4
assert (worth["saved by the tank [%]"] - 100 * table["economizer_benefit"]).abs().max() < 1e-6
# The slope to the condensing temperature is what two solutions a hundredth of a kelvin apart show.
warmer = {**TEMPERATURES, "condensing_temperature": TEMPERATURES["condensing_temperature"] + 0.01}
step = (
    MACHINE.solve(**warmer, capacity=CAPACITY).cop / MACHINE.solve(**TEMPERATURES, capacity=CAPACITY).cop - 1
)
assert abs(100 * step / 0.01 - by_input.loc["condensing temperature, per K", "R-134a"]) < 0.01

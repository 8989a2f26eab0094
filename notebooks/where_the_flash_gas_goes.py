# %% [markdown]
# # Where the flash gas goes
#
# For whoever services a chiller with an economizer, or teaches it. Some of the liquid that leaves the
# condenser turns to gas on its way to the evaporator. That gas cools nothing, yet it must be compressed. An
# economizer catches part of it halfway, so that only the later stages have to. This page follows the gas
# through one throttle, one tank, a chain of tanks, a tank with a coil and a closed economizer.
#
# **Cautions.** The numbers are estimates for teaching. They do not replace the machine's instructions, its
# protection settings or a licensed person's judgement; local codes rule. Nothing on this page is a reason to
# open, vent or heat a refrigerant circuit. A machine with this refrigerant runs below atmospheric pressure
# in its evaporator and can be above it when warm.

# %%
from pathlib import Path

import matplotlib.pyplot as plt
import numpy as np
import pandas as pd
from IPython.display import display

import interstage
from interstage import units

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)
pd.set_option("display.max_colwidth", None)

# %% [markdown]
# ## The machine
#
# R-1233zd(E), 1000 tons. It evaporates at 41 °F (5 °C) and condenses at 98.6 °F (37 °C); vapor leaves the
# evaporator and liquid leaves the condenser saturated, each stage has a polytropic efficiency of 0.80, the
# pressure ratios are equal and nothing leaks or rubs. Power is compression power: motor and drive come on
# top.
#
# A gauge reads against the air around it, so the barometer belongs to every gauge reading. Here it stands
# at 29.92 inHg, the standard atmosphere. At 5000 ft the same machine shows some 5 inHg less vacuum.

# %%
REFRIGERANT = interstage.Refrigerant("R-1233zd(E)")
STAGE = interstage.Stage(polytropic_efficiency=0.80)
BAROMETER = units.STANDARD_ATMOSPHERE  # Pa
CAPACITY = units.watt_from_ton(1000.0)
CONDITIONS = {
    "evaporating_temperature": units.kelvin_from_fahrenheit(41.0),
    "condensing_temperature": units.kelvin_from_fahrenheit(98.6),
    "capacity": CAPACITY,
}


def solved(arrangement, **options):
    """A machine of that arrangement at the conditions of this page."""
    circuit = interstage.Circuit.arranged(REFRIGERANT, arrangement, stage=STAGE, **options)
    return circuit.solve(**CONDITIONS)


def gauge(pressure):
    """What a compound gauge reads: psig, or inches of mercury of vacuum."""
    if pressure < BAROMETER:
        return f"{units.inhg_vacuum_from_pascal(pressure, BAROMETER):.1f} inHg vacuum"
    return f"{units.psig_from_pascal(pressure, BAROMETER):.1f} psig"


def readings(cycle, names):
    """Readings at some points of a cycle, each in both systems of units."""
    points = {text: cycle.points[name] for text, name in names.items()}
    return pd.DataFrame(
        {
            "gauge": {text: gauge(point.p) for text, point in points.items()},
            "pressure [kPa]": {text: f"{point.p / 1e3:.1f}" for text, point in points.items()},
            "temperature [°F]": {
                text: f"{units.fahrenheit_from_kelvin(point.T):.1f}" for text, point in points.items()
            },
            "temperature [°C]": {
                text: f"{units.celsius_from_kelvin(point.T):.1f}" for text, point in points.items()
            },
            "vapor in it [% by mass]": {
                text: "" if point.x is None else f"{100 * point.x:.1f}" for text, point in points.items()
            },
        }
    )


# %% [markdown]
# ## One throttle
#
# The liquid leaves the condenser warm, and the evaporator is cold. Liquid of 98.6 °F cannot exist at the
# pressure of the evaporator: it boils on the spot, and the boiling takes its heat from the liquid that is
# left, until all of it is as cold as the evaporator. That is flash gas. It has done its cooling already, on
# its own liquid, and does none for the water.

# %%
one_throttle = solved("2 stages")
display(
    readings(
        one_throttle,
        {
            "leaves the condenser": "condenser_outlet",
            "enters the evaporator": "evaporator_inlet",
            "leaves the evaporator": "evaporator_outlet",
            "leaves the compressor": "stage_2_outlet",
        },
    )
)
flash = 100 * one_throttle.evaporator_inlet_quality
print(f"Of 100 lb that leave the condenser {flash:.1f} lb are gas when they reach the evaporator.")

# %% [markdown]
# All of this gas has to go the whole way back, from the lowest to the highest pressure, together with the
# vapor that cooled the water.
#
# ## One tank
#
# Now the pressure falls in two steps, with a tank between them. What flashes in the first step is drawn off
# to the second stage. The liquid that goes on has been cooled by it, and flashes less in the second step.

# %%
one_tank = solved("2 stages: tank@2")
display(
    readings(
        one_tank,
        {
            "leaves the condenser": "condenser_outlet",
            "enters the tank": "stage_2_tank_inlet",
            "vapor to the second stage": "stage_2_tank_vapor",
            "liquid that goes on": "stage_2_tank_liquid",
            "enters the evaporator": "evaporator_inlet",
            "leaves the evaporator": "evaporator_outlet",
        },
    )
)
effect = [cycle.refrigerating_effect for cycle in (one_throttle, one_tank)]
print(f"in the tank {one_tank.flash_fractions[0]:.1%} of the flow turn to gas")
print(f"each lb that goes on takes {effect[1] / effect[0] - 1.0:.1%} more heat from the water, from", end=" ")
print(" to ".join(f"{units.btu_per_pound_from_joule_per_kilogram(each):.1f}" for each in effect), "Btu/lb")

# %% [markdown]
# Because each pound takes more heat, fewer pounds have to go through the evaporator and the first stage for
# the same tons.
#
# ## A chain of tanks
#
# More steps, more tanks, and for each tank one more stage that draws on it. The table counts what flashes for
# every 100 lb that leave the condenser, and the stage that takes it up: gas of a tank enters above the first
# stage, what flashes on the way into the evaporator starts at stage 1. (By itself the number of stages
# changes nothing here: without a tank, and with stages of one efficiency, the power is the same with any.)

# %%
CHAIN = {
    "one throttle": "1 stage",
    "one tank": "2 stages: tank@2",
    "two tanks": "3 stages: tank@3, tank@2",
    "three tanks": "4 stages: tank@4, tank@3, tank@2",
}
chain = {name: solved(arrangement) for name, arrangement in CHAIN.items()}
steps = []
for name, cycle in chain.items():
    leaving = cycle.points["condenser_outlet"].mass_flow
    for place in cycle.points:
        point = cycle.points[place]
        if not (place.endswith("tank_vapor") or place == "evaporator_inlet"):
            continue
        gas = point.mass_flow * (point.x if place == "evaporator_inlet" else 1.0)
        stage = place.split("_")[1] if "tank" in place else "1"
        steps.append(
            {
                "machine": name,
                "gas enters at": f"stage {stage} of {len(cycle.stage_work)}",
                "gauge": gauge(point.p),
                "pressure": point.p,
                "gas per 100 lb": 100 * gas / leaving,
            }
        )
steps = pd.DataFrame(steps)
table = steps.assign(**{"pressure [kPa]": (steps["pressure"] / 1e3).round(1)}).drop(columns="pressure")
display(table.set_index(["machine", "gas enters at"]).round(1))
total = steps.groupby("machine", sort=False)["gas per 100 lb"].sum()
print("gas in all per 100 lb:", ", ".join(f"{name} {gas:.1f}" for name, gas in total.items()))

# %% [markdown]
# The gas in all hardly changes. What changes is where it appears: the higher the pressure it is caught at,
# the shorter its way back to the condenser. In the figure the darker a part, the further its gas has to be
# compressed.

# %%
figure, axes = plt.subplots(figsize=(8.0, 3.4), layout="constrained")
span = np.log(one_throttle.condensing_pressure / one_throttle.evaporating_pressure)
names = list(chain)[::-1]
for row, name in enumerate(names):
    left = 0.0
    parts = steps[steps["machine"] == name].sort_values("pressure", ascending=False)
    for _, part in parts.iterrows():
        way = np.log(one_throttle.condensing_pressure / part["pressure"]) / span  # 1: all the way
        shade = plt.colormaps["Blues"](0.15 + 0.75 * way)
        amount = part["gas per 100 lb"]
        axes.barh(row, amount, 0.66, left, color=shade, edgecolor="white", linewidth=1.0)
        text = f"{amount:.1f}\n{part['gauge'].replace(' vacuum', '')}"
        ink = "white" if way > 0.55 else "black"
        axes.text(left + amount / 2, row, text, ha="center", va="center", fontsize=8, color=ink)
        left += amount
axes.set_yticks(range(len(names)), names)
axes.tick_params(axis="y", length=0)
axes.spines[["top", "right", "left"]].set_visible(False)
axes.set_xlabel(
    "gas, lb per 100 lb that leave the condenser, and the pressure it is caught at (inHg: of vacuum)"
)
axes.set_title("Where the flash gas is caught", fontsize=11)
figure.savefig(OUTPUT / "flash_gas.png", dpi=150)

# %% [markdown]
# ## Two more ways: a coil, and a closed economizer
#
# In a tank with a **coil** the main liquid runs through a coil under the liquid of the tank and is cooled,
# not flashed. A smaller part of the liquid is throttled into the tank and boils there. Here all of the first
# stage's discharge passes the tank too and leaves it without superheat; such a tank is called intercooled.
#
# A **closed** economizer is a heat exchanger: a part of the liquid is throttled and boils on one side, the
# main liquid is cooled on the other.
#
# In both the main liquid keeps the full pressure of the condenser, which pushes it better through a long
# liquid line. Its price is the temperature difference of the exchanger, here 3 K (5.4 °F): the liquid leaves
# a little warmer than from a tank.

# %%
MACHINES = {
    "closed, 3 K": "2 stages: closed@2 (approach 3 K)",
    "tank with coil, 3 K": "2 stages: intercooled tank@2 (coil 3 K)",
    "three tanks": "4 stages: tank@4, tank@3, tank@2",
    "one tank": "2 stages: tank@2",
    "one throttle": "2 stages",
}
machines = {name: solved(arrangement) for name, arrangement in MACHINES.items()}


def last_liquid(cycle):
    """The liquid just before the evaporator's metering device."""
    metering = next(each for each in cycle.balances() if each["component"] == "evaporator_metering")
    return cycle.points[next(iter(metering["inlets"]))]


summary = pd.DataFrame(
    {
        "liquid before the last device [°F]": {
            name: units.fahrenheit_from_kelvin(last_liquid(cycle).T) for name, cycle in machines.items()
        },
        "gas at the evaporator [%]": {
            name: 100 * cycle.evaporator_inlet_quality for name, cycle in machines.items()
        },
        "COP": {name: cycle.cop for name, cycle in machines.items()},
        "kW/ton": {name: cycle.kw_per_ton for name, cycle in machines.items()},
        "less power [%]": {name: 100 * cycle.economizer_benefit for name, cycle in machines.items()},
    }
).iloc[::-1]
display(
    summary.round({"COP": 3, "kW/ton": 3, "less power [%]": 2}).round(
        {"liquid before the last device [°F]": 1, "gas at the evaporator [%]": 1}
    )
)

# %% [markdown]
# All five on one diagram. Pressure goes up, heat content goes right; left of the dome is liquid, under it a
# mixture, right of it vapor. A throttle is a vertical line down: no heat comes in or goes out, part of the
# liquid turns to gas and all of it turns cold. Thin dotted lines are streams that divide, meet or exchange
# heat.

# %%
diagram = interstage.Diagram(REFRIGERANT, "p-h", units="I-P")
for name, cycle in machines.items():
    diagram.add(cycle, name)
axes = diagram.draw()
axes.figure.savefig(OUTPUT / "flash_gas_on_the_diagram.png", dpi=110)

# %% [markdown]
# The right half is nearly the same for all. The difference is on the left, where the liquid comes down in
# stairs. The further left the last vertical line stands, the more of the way along the bottom is cooling of
# water. Closed economizer and coil lie on each other there: at the same temperature difference they send the
# same liquid on, and differ only in what goes to the second stage.

# %% [markdown]
# ## Where the saved power comes from
#
# Flow times work per pound, stage by stage, for one throttle and for one tank.

# %%
rows = []
for stage in (0, 1):
    row = {"stage": stage + 1}
    for name in ("one throttle", "one tank"):
        cycle = machines[name]
        row[f"{name}: flow [lb/min]"] = units.pound_per_minute_from_kilogram_per_second(
            cycle.stage_mass_flow[stage]
        )
        row[f"{name}: work [Btu/lb]"] = units.btu_per_pound_from_joule_per_kilogram(cycle.stage_work[stage])
        row[f"{name}: power [kW]"] = cycle.stage_power[stage] / 1e3
    row["less power [kW]"] = row["one throttle: power [kW]"] - row["one tank: power [kW]"]
    rows.append(row)
by_stage = pd.DataFrame(rows).set_index("stage")
display(by_stage.round(2).T)
share = by_stage["less power [kW]"] / by_stage["less power [kW]"].sum()
print(f"{share[1]:.0%} of the saving is in the first stage, {share[2]:.0%} in the second")

# %% [markdown]
# The first stage does nearly all of the saving: it has fewer pounds to move, and each asks the same work.
# The second stage moves almost as much as before, because the flash gas comes in there; it moves a
# little less, and that gas is cooler than what the first stage delivers.
#
# Seen from the other side: a throttle lets pressure go to waste that could have done work. What is wasted
# grows with the square of the step, so two half steps waste about half as much as one whole step, three a
# third. A rule of thumb follows: *m* tanks save about *m*/(*m* + 1) of what throttling loses. The table
# holds the rule against the cycles; surroundings of 30 °C (86 °F) turn the loss into power.

# %%
wasted = {
    name: units.kelvin_from_celsius(30.0)
    * sum(each["entropy_rise"] for each in cycle.balances() if each["component"].endswith("metering"))
    for name, cycle in chain.items()
}
rule = pd.DataFrame(
    {
        "lost in throttles [kW]": {name: loss / 1e3 for name, loss in wasted.items()},
        "less than one throttle [%]": {
            name: 100 * (1 - loss / wasted["one throttle"]) for name, loss in wasted.items()
        },
        "rule m/(m+1) [%]": {name: 100 * m / (m + 1) for m, name in enumerate(chain)},
        "less power [%]": {name: 100 * cycle.economizer_benefit for name, cycle in chain.items()},
    }
)
display(rule.round(1))

# %% [markdown]
# ## Do the books close?
#
# Whatever goes into a vessel comes out of it, in pounds and in heat. The last two columns are what is left
# over.

# %%
balances = pd.DataFrame(one_tank.balances()).set_index("component")
books = pd.DataFrame(
    {
        "in [kg/s]": balances["inlets"].map(lambda streams: sum(streams.values())).round(3),
        "out [kg/s]": balances["outlets"].map(lambda streams: sum(streams.values())).round(3),
        "heat into it [kW]": (balances["heat"] / 1e3).round(1),
        "work into it [kW]": (balances["work"] / 1e3).round(1),
        "flow left over [kg/s]": balances["mass_residual"].abs().map("{:.0e}".format),
        "energy left over [W]": balances["energy_residual"].abs().map("{:.0e}".format),
    }
)
display(books)

# %% [markdown]
# The tank again, to follow with pencil and paper. `one_tank.working(units="I-P")` shows the whole machine
# like this.

# %%
for step in one_tank.working(units="I-P").steps:
    if step.component in ("stage_2_metering", "stage_2_tank"):
        print(f"{step.law}:\n    {step.formula}\n    {step.numbers}   {step.result}")

# %% [markdown]
# ## What lets the liquid down: metering devices
#
# One tank needs two metering devices in series: one from the condenser to the tank, one from the tank to
# the evaporator. Three kinds are common.
#
# | device | what it does | at part load |
# |---|---|---|
# | fixed orifice | nothing moves; the hole is sized for one duty | passes too much: gas follows the liquid |
# | float valve | a float opens it when liquid rises | closes itself until liquid covers it |
# | controlled valve | a controller moves it, by a level or a temperature | closes as its controller asks |
#
# That a valve holds its level is its purpose; whether it does depends on its sensor, its float and its
# stroke (common practice, no result of this page).
#
# How much too large is a fixed orifice? Two orifices that are just covered at full load are taken to other
# duties, with cooler condenser water as a tower would give it. Covered liquid flows by the pressure
# difference; an opening below 100 % is how far a valve would have to close. The fixed orifice cannot: it
# takes in vapor until it passes no more than the machine needs, and that vapor goes through the first stage
# for nothing. The last two columns are the saving with a covered and with an uncovered lower orifice. Flow of
# liquid by the metastable-liquid model, of mixtures by the frozen-mixture model; real orifices want a
# calibration.

# %%
points = one_tank.points
TO_TANK = interstage.Orifice.calibrated(
    REFRIGERANT,
    points["condenser_outlet"].state,
    downstream_pressure=points["stage_2_tank_inlet"].p,
    mass_flow=points["condenser_outlet"].mass_flow,
)
TO_EVAPORATOR = interstage.Orifice.calibrated(
    REFRIGERANT,
    points["stage_2_tank_liquid"].state,
    downstream_pressure=points["evaporator_inlet"].p,
    mass_flow=points["stage_2_tank_liquid"].mass_flow,
)
WITH_VAPOR = interstage.Orifice(TO_EVAPORATOR.flow_area, model="frozen mixture")


def at_duty(load, evaporating, condensing, vapor=0.0):
    """The machine with one tank at another duty (°C), with vapor in the liquid that leaves the tank."""
    tank = interstage.FlashTank(vapor_blowthrough=vapor)
    return interstage.Circuit(REFRIGERANT, stages=[STAGE] * 2, interstages=[tank]).solve(
        evaporating_temperature=units.kelvin_from_celsius(evaporating),
        condensing_temperature=units.kelvin_from_celsius(condensing),
        capacity=load * CAPACITY,
    )


def vapor_drawn(*duty):
    """The fraction of vapor at which the fixed lower orifice passes what the machine needs."""
    low, high = 0.0, 0.3
    while high - low > 1e-6:
        vapor = (low + high) / 2
        cycle = at_duty(*duty, vapor)
        upstream = REFRIGERANT.state(p=cycle.interstage_pressures[0], x=vapor)
        flow = WITH_VAPOR.mass_flow(REFRIGERANT, upstream, cycle.evaporating_pressure).mass_flow
        low, high = (vapor, high) if flow > cycle.evaporator_mass_flow else (low, vapor)
    return (low + high) / 2


DUTIES = [(1.0, 5.0, 37.0), (0.75, 5.4, 29.6), (0.5, 5.8, 22.1), (0.25, 6.3, 20.2), (1.0, 5.0, 27.0)]
rows = []
for duty in DUTIES:
    covered = at_duty(*duty)
    at, tank = covered.points, covered.interstage_pressures[0]
    upper = TO_TANK.mass_flow(REFRIGERANT, at["condenser_outlet"].state, tank).mass_flow
    lower = TO_EVAPORATOR.mass_flow(
        REFRIGERANT, at["stage_2_tank_liquid"].state, covered.evaporating_pressure
    ).mass_flow
    vapor = vapor_drawn(*duty)
    opening = at["stage_2_tank_liquid"].mass_flow / lower
    word = "just right" if abs(opening - 1) < 1e-6 else "too large" if opening < 1 else "too small"
    load, evaporating, condensing = duty
    rows.append(
        {
            "load [%]": f"{100 * load:.0f}",
            "evaporating/condensing [°F]": f"{32 + 1.8 * evaporating:.1f}/{32 + 1.8 * condensing:.1f}",
            "opening, upper [%]": 100 * at["condenser_outlet"].mass_flow / upper,
            "opening, lower [%]": 100 * opening,
            "fixed orifice": word,
            "vapor drawn, lower [%]": 100 * vapor,
            "saving, covered [%]": 100 * covered.economizer_benefit,
            "saving, uncovered [%]": 100 * at_duty(*duty, vapor).economizer_benefit,
        }
    )
part_load = pd.DataFrame(rows).set_index(["load [%]", "evaporating/condensing [°F]"])
display(part_load.round(1))

# %% [markdown]
# At a quarter of the load the fixed orifice draws some 2 % of vapor, and half of the saving is gone. The
# last row is the other case: full load with cold condenser water. There is little pressure to push the
# liquid, an opening of more than 100 % is asked for, and the fixed orifice cannot give it: liquid stacks up
# before it until its own height helps to push, or the evaporator runs short.
#
# ## What it looks like on the gauges
#
# The tank of a working economizer stands about halfway between evaporator and condenser, counted in ratios:
# its pressure exponent ln(p_tank/p_evaporator)/ln(p_condenser/p_evaporator) is near 0.5. That one gauge is
# the best witness. The table is the tank's gauge for some exponents, between the evaporator and the condenser
# of this page.

# %%
low, high = one_tank.evaporating_pressure, one_tank.condensing_pressure
exponents = [0.0, 0.3, 0.5, 0.7, 0.9, 1.0]
tank_pressure = low * (high / low) ** np.array(exponents)
gauges = pd.DataFrame(
    {
        "tank gauge": [gauge(pressure) for pressure in tank_pressure],
        "pressure [kPa]": (tank_pressure / 1e3).round(1),
        "boils at [°F]": units.fahrenheit_from_kelvin(
            REFRIGERANT.saturation_temperature(p=tank_pressure)
        ).round(1),
    },
    index=pd.Index(exponents, name="exponent"),
)
display(gauges)

# %% [markdown]
# **A vent that passes nothing** makes the tank a piece of pipe. All of the flash gas must go through the
# lower device with the liquid. With the two fixed orifices from above, and the pressures of evaporator and
# condenser held where they are, the tank rises until both pass the same flow.

# %%
leaving = points["condenser_outlet"].state
below, above = low, high
while above - below > 1.0:  # Pa
    tank = (below + above) / 2
    into = TO_TANK.mass_flow(REFRIGERANT, leaving, tank).mass_flow
    out = WITH_VAPOR.mass_flow(REFRIGERANT, REFRIGERANT.state(p=tank, h=leaving.h), low).mass_flow
    below, above = (tank, above) if into > out else (below, tank)
blocked_exponent = np.log(tank / low) / np.log(high / low)
passes = into / points["condenser_outlet"].mass_flow
print(f"tank at {gauge(tank)}, exponent {blocked_exponent:.2f}; the orifices pass {passes:.0%} of the flow")

# %% [markdown]
# So a blocked vent shows as a tank gauge far too close to the condenser's, and with fixed orifices the
# bigger loss is not the power: the evaporator gets too little liquid. Devices that can open further let
# more through.
#
# Which way other readings go is in the table below, at the same load and water temperatures. The directions
# are engineering deductions from heat and mass balances, not measurements (`interstage.SIGNATURES` has them
# as data). A blank says that the reading should stay as it is. Subcooling is told of condensers that hold
# liquid; one that drains freely shows none.

# %%
READINGS = {
    "tank_pressure_exponent": "tank gauge",
    "condensing_temperature": "condenser gauge",
    "evaporating_temperature": "evaporator gauge",
    "subcooling": "subcooling",
    "discharge_superheat": "discharge superheat",
}
FAULTS = [
    "blocked tank vent",
    "lower metering device stuck shut",
    "lower metering device stuck open",
    "upper metering device stuck shut",
    "upper metering device stuck open",
    "liquid carry-over from the tank",
]
signatures = {signature.fault: signature for signature in interstage.SIGNATURES}
signs = pd.DataFrame(
    {name: {fault: signatures[fault].sign(figure) for fault in FAULTS} for figure, name in READINGS.items()}
).replace("same", "")
display(signs.loc[FAULTS])
display(pd.Series({fault: signatures[fault].check for fault in FAULTS}, name="who looks at what").to_frame())

# %% [markdown]
# A float valve that sticks is one of these four devices stuck shut or stuck open. Two faults can look alike
# on one gauge: tank up is a blocked vent, a lower device that is shut or an upper one that is open. The
# other readings part them, or they do not, and then the answer is that nobody can tell yet. A gauge that
# reads wrong looks like a fault too; to compare the gauges of a machine at rest is common practice.
#
# Findings of this kind are a reason to have somebody look who is licensed to; never to open anything.
# [From a trend export to findings](from_export_to_findings.ipynb) does the same on a year of readings.
#
# ## Checks

# %%
assert abs(machines["one tank"].cop - 6.463) < 5e-4
assert round(100 * machines["one tank"].economizer_benefit, 2) == 5.84
assert round(100 * machines["closed, 3 K"].economizer_benefit, 2) == 4.91
assert round(100 * machines["tank with coil, 3 K"].economizer_benefit, 2) == 4.81
assert (rule["less than one throttle [%]"] - rule["rule m/(m+1) [%]"]).abs().max() < 3.0
assert total.max() - total.min() < 1.0
assert abs(part_load.iloc[0, :2].astype(float) - 100.0).max() < 1e-6
assert 0.6 < blocked_exponent < 0.9
assert balances["energy_residual"].abs().max() < 1e-3
assert balances["mass_residual"].abs().max() < 1e-9

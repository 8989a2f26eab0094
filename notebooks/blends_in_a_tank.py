# %% [markdown]
# # Blends in a flash tank
#
# A tank takes vapor off. Of a blend that vapor is richer in what boils first, so what circulates below the
# tank is another blend. How much that matters depends on the blend.
#
# Results are estimates for analysis and teaching: never a protection, and no reason to open a refrigerant
# circuit.

# %%
from pathlib import Path

import matplotlib.pyplot as plt
import pandas as pd
from IPython.display import display

import interstage
from interstage import units

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)

# %% [markdown]
# ## Bubble and dew points
#
# By the mixture model a blend has two pressures at a temperature, and at a pressure its temperature glides.
# The composition comes by name, or by components. R-407C has an equation of its own too, which knows no
# composition of either phase: the model is chosen.

# %%
blends = {
    "R-407C": interstage.Refrigerant("R-407C", model="mixture"),
    "R-454C": interstage.Refrigerant("R-454C"),
    "R-513A": interstage.Refrigerant("R-513A"),
    "R-514A": interstage.Refrigerant("R-514A"),
    "R-32/R-134a": interstage.Refrigerant.blend({"R-32": 0.3, "R-134a": 0.7}, basis="mass"),
}
rows = []
for name, blend in blends.items():
    line = blend.saturation(T=units.kelvin_from_celsius(5.0))
    at_pressure = blend.saturation(p=line.p)
    rows.append(
        {
            "blend": name,
            "bubble pressure at 5 degC [kPa]": line.liquid.p / 1e3,
            "dew pressure at 5 degC [kPa]": line.vapor.p / 1e3,
            "glide at that dew pressure [K]": at_pressure.temperature_glide,
        }
    )
display(pd.DataFrame(rows).set_index("blend").round(3))

# %% [markdown]
# ## One tank
#
# Liquid of R-407C at 37 degC, throttled to 750 kPa: what flashes off and what is left.

# %%
blend = blends["R-407C"]
liquid = blend.saturation(T=units.kelvin_from_celsius(37.0)).liquid
flashed = blend.state(p=750e3, h=liquid.h)
phases = flashed.phases()
parts = pd.DataFrame(
    {"blend": blend.composition, "liquid": phases.liquid_composition, "vapor": phases.vapor_composition}
)
print(f"{flashed.x:.1%} flashes off at {units.celsius_from_kelvin(flashed.T):.2f} degC; mass fractions:")
display(parts.round(4))
# Both phases together are the blend.
together = (1 - flashed.x) * parts["liquid"] + flashed.x * parts["vapor"]
assert (together - parts["blend"]).abs().max() < 1e-12

# %% [markdown]
# ## Two tanks
#
# Usually a cycle is calculated as if the composition were the same everywhere.
# `tank_separation="equilibrium"` lets the tanks part the components: the blend itself circulates through
# the condenser, what the tanks leave reaches the evaporator, and what they took off joins again between the
# stages.

# %%
stage = interstage.Stage(polytropic_efficiency=0.80)
conditions = {
    "evaporating_temperature": units.kelvin_from_celsius(5.0),
    "condensing_temperature": units.kelvin_from_celsius(37.0),
    "capacity": units.watt_from_ton(500.0),
}


def solved(blend, separation):
    circuit = interstage.Circuit(
        blend,
        stages=[stage] * 3,
        interstages=[interstage.FlashTank()] * 2,
        tank_separation=separation,
    )
    return circuit.solve(**conditions)


rows, shifts = [], {}
for name, blend in blends.items():
    fixed, parted = solved(blend, "fixed composition"), solved(blend, "equilibrium")
    assert max(map(abs, parted.species_closure.values())) < 1e-12
    at = parted.compositions
    shift = pd.Series(at["evaporator_inlet"]) - pd.Series(at["condenser_outlet"])
    shifts[name] = shift
    rows.append(
        {
            "blend": name,
            "largest shift in the evaporator [points]": 100 * shift.abs().max(),
            "COP, fixed composition": fixed.cop,
            "COP, tanks part the components": parted.cop,
            "economizer benefit, fixed [%]": 100 * fixed.economizer_benefit,
            "economizer benefit, parted [%]": 100 * parted.economizer_benefit,
        }
    )
table = pd.DataFrame(rows).set_index("blend")
display(table.round(3))

# %% [markdown]
# The composition at every point of the circuit with R-407C, in mass fractions, and what goes through the
# condenser less what goes through the evaporator less what the tanks send up, of each component.

# %%
parted = solved(blends["R-407C"], "equilibrium")
display(pd.DataFrame(parted.compositions).T.round(4))
print({name: f"{off:.0e}" for name, off in parted.species_closure.items()})

# %%
figure, axes = plt.subplots(figsize=(7.0, 3.4), constrained_layout=True)
shades = ["0.15", "0.45", "0.75"]
for place, name in enumerate(shifts):
    width = 0.8 / len(shifts[name])
    for k, (component, shift) in enumerate(shifts[name].items()):
        x = place + (k - (len(shifts[name]) - 1) / 2) * width
        axes.bar(x, 100 * shift, 0.92 * width, color=shades[k])
        above = shift > 0
        axes.annotate(
            component,
            (x, 100 * shift),
            (0, 3 if above else -3),
            textcoords="offset points",
            ha="center",
            va="bottom" if above else "top",
            fontsize=7,
            rotation=90,
        )
axes.axhline(0.0, color="0.2", linewidth=0.8)
axes.set_xticks(range(len(shifts)), list(shifts))
axes.set_ylabel("evaporator less condenser,\npercentage points by mass")
axes.margins(y=0.4)
axes.set_title("What two tanks do to the composition below them")
figure.savefig(OUTPUT / "blends_in_a_tank.png", dpi=150)

# %% [markdown]
# Bars up are components that the evaporator gets more of than the condenser, bars down those that the tanks
# take off. Near-azeotropic blends hardly notice their tanks: of R-514A less than a hundredth of a
# percentage point moves. Of R-407C the evaporator gets some three points more R-134a, its pressure falls,
# and a third of the benefit of the tanks is gone. Pressures and temperatures of the blend as filled then do
# not belong together in the evaporator.
#
# ## Checks

# %%
assert table.loc["R-514A", "largest shift in the evaporator [points]"] < 0.01
assert 2.9 < table.loc["R-407C", "largest shift in the evaporator [points]"] < 3.2
benefits = table[["economizer benefit, fixed [%]", "economizer benefit, parted [%]"]].loc["R-407C"]
assert 0.28 < 1 - benefits.iloc[1] / benefits.iloc[0] < 0.38

# %% [markdown]
# # First steps
#
# Properties of a refrigerant, one cycle, and what economizers are worth.
#
# Results are estimates for analysis and teaching: never a protection, and no reason to open a refrigerant
# circuit.

# %%
from pathlib import Path

import numpy as np
import pandas as pd
from IPython.display import display

import interstage
from interstage import units

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)

# %% [markdown]
# ## Properties
#
# Quantities are asked for by name, in SI units: K, Pa absolute, J/kg, J/(kg K), kg/m3.

# %%
refrigerant = interstage.Refrigerant("R-1233zd(E)")
line = refrigerant.saturation(T=units.kelvin_from_celsius(5.0))
print(f"saturation at 5 degC: {line.p / 1e3:.2f} kPa, latent heat {line.latent_heat / 1e3:.1f} kJ/kg")
vapor = refrigerant.state(p=line.p, T=units.kelvin_from_celsius(12.0))
print(f"its vapor at 12 degC: {vapor.rho:.3f} kg/m3, {vapor.h / 1e3:.2f} kJ/kg, cp {vapor.cp:.0f} J/(kg K)")
barometer = units.standard_barometer_from_altitude(0.0)
print(f"a gauge at sea level: {units.inhg_vacuum_from_pascal(line.p, barometer):.1f} inHg vacuum")

# %% [markdown]
# ## One cycle
#
# A circuit is its refrigerant, its stages, and what sits between them.

# %%
stage = interstage.Stage(polytropic_efficiency=0.80)
circuit = interstage.Circuit(refrigerant, stages=[stage, stage], interstages=[interstage.FlashTank()])
conditions = {
    "evaporating_temperature": units.kelvin_from_celsius(5.0),
    "condensing_temperature": units.kelvin_from_celsius(37.0),
    "capacity": units.watt_from_ton(1000.0),
}
cycle = circuit.solve(**conditions)
display(cycle)

# %% [markdown]
# ## None, one and two tanks
#
# At the same capacity and temperatures. A cycle without a tank has the same COP with any number of such
# stages.

# %%
arrangements = {
    "no tank": interstage.Circuit(refrigerant, stages=[stage] * 2, interstages=[interstage.Direct()]),
    "one tank": circuit,
    "two tanks": interstage.Circuit(
        refrigerant, stages=[stage] * 3, interstages=[interstage.FlashTank()] * 2
    ),
}
cycles = {name: arrangement.solve(**conditions) for name, arrangement in arrangements.items()}
table = pd.DataFrame(
    {
        "COP": {name: solved.cop for name, solved in cycles.items()},
        "kW/ton": {name: solved.kw_per_ton for name, solved in cycles.items()},
        "less power [%]": {name: 100.0 * solved.economizer_benefit for name, solved in cycles.items()},
        "discharge [degC]": {
            name: units.celsius_from_kelvin(solved.discharge_temperature) for name, solved in cycles.items()
        },
    }
)
display(table.round(3))

# %% [markdown]
# ## Over the lift
#
# Arrays go in, arrays come out. The lift is the condensing temperature less the evaporating temperature. The
# higher it is, the more liquid flashes and the more an economizer is worth; a second tank adds about a third.

# %%
study = interstage.compare(
    {name: arrangements[name] for name in ("one tank", "two tanks")},
    basis="same saturation temperatures",
    **{**conditions, "condensing_temperature": units.kelvin_from_celsius(np.linspace(15.0, 45.0, 61))},
)
axes = study.against_lift()
axes.figure.savefig(OUTPUT / "over_the_lift.png", dpi=150)

# %% [markdown]
# ## Where to go from here
#
# - [Where the flash gas goes](where_the_flash_gas_goes.ipynb): on a diagram and on the gauges.
# - [Choosing an arrangement](choosing_an_arrangement.ipynb) and
#   [What if another refrigerant?](what_if_another_refrigerant.ipynb): studies.
# - [A year of a chiller](year_of_a_chiller.ipynb): readings instead of design temperatures.
#
# ## Checks

# %%
assert table["COP"].round(3).tolist() == [6.086, 6.463, 6.586]
assert table["less power [%]"].round(2).tolist() == [0.0, 5.84, 7.59]
assert 0.0 < cycles["one tank"].economizer_benefit < cycles["two tanks"].economizer_benefit < 0.1
assert abs(cycle.energy_closure) < 1e-9

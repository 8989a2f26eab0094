# %% [markdown]
# # A machine without a tank sensor
#
# A medium-pressure chiller with R-1234ze(E), two stages, one flash tank with float valves, and no sensor
# in the tank. What can still be said about its economizer, and what not?
#
# **The readings are invented.** `invented_second_machine.py` makes them; no machine, building or site is
# behind them. For three of the twenty-one days it blocks the vent of the tank.
#
# **Cautions.** Results are estimates for analysis and teaching. They serve no control or safety function
# and do not replace a qualified person's judgement. A potential is no measurement, and evidence is a
# reason to have the machine checked by licensed people, nothing more.

# %%
import invented_second_machine as second
import numpy as np
import pandas as pd
from IPython.display import display

import interstage

pd.set_option("display.width", 200, "display.max_columns", None, "display.max_colwidth", None)
pd.set_option("display.float_format", lambda value: f"{value:.4g}")

export, truth = second.generate()
OPTIONS = {
    "barometer": second.BAROMETER,
    "drive_efficiency": second.DRIVE,
    "rated_capacity": second.RATED_CAPACITY,
    "full_load_range": second.FULL_LOAD_RANGE,
}
trend = interstage.Trend(second.CIRCUIT, readings=second.READINGS, **OPTIONS)
result = trend.analyse(export)
result

# %% [markdown]
# ## What cannot be said
#
# Where the tank stands is not read, so no exponent and no flash fraction; and what rests on the tank
# takes for granted that it works where the circuit's rule puts it.

# %%
for figure, why in result.unavailable.items():
    print(f"{figure}: {why}")
for figure, what in result.assumptions.items():
    print(f"{figure} assumes {what}")

# %% [markdown]
# ## What can be said
#
# Both approaches, heat balance, efficiency, and three estimates of the capacity: from the chilled water,
# from the condenser water less the compression power, and from the power, which no water reading enters.
# The last is too high while the vent is blocked: it takes for granted that the tank works. Motor and gear
# losses are a figure of their own.

# %%
display(result.heat_balance([0.3, 0.5, 0.7, 0.9, 1.01]))
estimates = pd.DataFrame(
    {
        "chilled water": result["capacity"],
        "condenser water": result["heat_rejected"] - 1e3 * export["motor [kW]"] * second.DRIVE,
        "power": result["capacity_from_power"],
    }
)
apart = estimates.div(truth["load"] * second.RATED_CAPACITY, axis=0) - 1.0
display(apart.groupby(truth["blocked"]).agg(["mean", "std"]))
healthy = ~truth["blocked"]
losses = result["lost_power"][healthy].sum() / (1e3 * export["motor [kW]"][healthy]).sum()
print(f"lost in motor and gears: {losses:.3f} of the input, put in: {1.0 - second.DRIVE:.3f}")

# %% [markdown]
# ## Does the economizer work?
#
# The potential is there whether it works or not. The saving that power, capacity and discharge
# temperature show is told as if the tank were dead, so that a dead one shows nothing. With ordinary
# instruments a row cannot tell.


# %%
def verdicts(result):
    """Rows that say yes, no and cannot tell, by what was put in."""
    words = result["economizer_evidence"].map({1.0: "works", 0.0: "does not"}).fillna("cannot tell")
    return pd.crosstab(truth["blocked"].map({False: "vent open", True: "vent blocked"}), words)


savings = pd.DataFrame(
    {
        "potential": result["economizer_potential"],
        "shown": result["measured_saving"],
        "put in": truth["benefit"].where(~truth["blocked"], 0.0),
    }
)
display(savings.groupby(truth["blocked"]).agg(["mean", "std"]))
display(verdicts(result))

# %% [markdown]
# The mean over a day is sharper than a row where errors are random. Those that are the same in every row
# stay: a flow meter that reads 2 % high is 2 % of saving. So the step between two days is evidence that
# the level is not.

# %%
daily = savings["shown"].resample("D").mean()
step = daily - daily.iloc[:7].mean()
lower = step[step < -5.0 * daily.iloc[:7].std()]
print("days whose saving lies far below the first week:", [f"{day:%d %B}" for day in lower.index])

# %% [markdown]
# ## What a claim of better instruments tells, and what a sensor in the tank
#
# Capacity and power to 1 % and the discharge temperature to 0.2 K would decide most rows, were they true.
# These thermometers give the capacity of a row to some 2 %: who claims more than there is gets wrong
# verdicts. A pressure in the tank decides all rows, and rightly.

# %%
claimed = interstage.Trend(
    second.CIRCUIT,
    readings=second.READINGS,
    capacity_uncertainty=0.01,
    power_uncertainty=0.01,
    discharge_temperature_uncertainty=0.2,
    **OPTIONS,
)
display(verdicts(claimed.analyse(export)))
read = interstage.Trend(second.CIRCUIT, readings={**second.READINGS, **second.TANK}, **OPTIONS)
display(verdicts(read.analyse(export)))
assert not np.isnan(read.analyse(export)["stage_2_tank_pressure_exponent"]).all()

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
from pathlib import Path

import invented_second_machine as second
import matplotlib.dates as mdates
import matplotlib.pyplot as plt
import pandas as pd
from IPython.display import display

import interstage

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)
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
# losses are a figure of their own. Here the room takes them up, so the heat balance, which counts the motor
# input, stays open upward by some 1 %.

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

figure, axes = plt.subplots(figsize=(8.0, 3.4), layout="constrained")
potential = savings["potential"].resample("D").mean()
axes.plot(potential.index, 100 * potential, "--", color="0.45", label="potential")
axes.plot(daily.index, 100 * daily, "o-", color="#1b4f8a", markersize=4.5, label="shown, mean of the day")
first, last = truth.index[truth["blocked"]][[0, -1]]
axes.axvspan(
    first - pd.Timedelta("12h"), last - pd.Timedelta("12h"), color="0.88", label="vent blocked, as put in"
)
axes.set_ylim(-1.0, 8.0)
axes.set_ylabel("share of compression power [%]")
axes.xaxis.set_major_formatter(mdates.DateFormatter("%d %b"))
axes.spines[["top", "right"]].set_visible(False)
axes.legend(frameon=False, loc="lower right", fontsize=9)
axes.set_title("The potential does not notice a dead economizer, the saving shown does", fontsize=11)
figure.savefig(OUTPUT / "without_a_tank_sensor.png", dpi=150)

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
by_claim = verdicts(claimed.analyse(export))
display(by_claim)
read = interstage.Trend(second.CIRCUIT, readings={**second.READINGS, **second.TANK}, **OPTIONS)
by_tank = verdicts(read.analyse(export))
display(by_tank)

# %% [markdown]
# ## Checks

# %%
assert [f"{day:%m-%d}" for day in lower.index] == ["07-09", "07-10", "07-11"]
assert abs(losses - (1.0 - second.DRIVE)) < 0.005
assert by_claim.loc["vent blocked", "works"] > 0
assert by_claim.loc["vent open", "does not"] > 0
assert by_tank.loc["vent blocked", "does not"] == truth["blocked"].sum()
assert by_tank.loc["vent open", "works"] == (~truth["blocked"]).sum()
assert "stage_2_tank_pressure_exponent" in result.unavailable

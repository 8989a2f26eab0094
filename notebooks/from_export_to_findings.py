# %% [markdown]
# # From a trend export to findings
#
# A year of five-minute rows of an invented water chiller: R-1233zd(E), two stages, one flash tank. The
# export has gaps, spikes and a thermometer that stands still. What is found in it: which readings can be
# used, when the machine was steady, what it should have taken, what departed from that, when, and what it
# cost.
#
# Results are estimates for analysis and teaching: never a protection, and no reason to open a refrigerant
# circuit. A finding is a reason to have somebody look who is licensed to; local codes rule. The data are
# invented.

# %%
from pathlib import Path

import invented_plant
import pandas as pd
from IPython.display import display

import interstage

OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)
pd.set_option("display.width", 160, "display.max_columns", 30, "display.max_colwidth", 80)

# %% [markdown]
# ## Readings
#
# Every column is declared with its unit. Gauges need the barometer; what the thermometers and the condenser
# are is said once, because evidence depends on it.

# %%
rows = pd.DataFrame(invented_plant.generate().export).set_index("time").asfreq("5min")
unit = {name: facts[0] for name, facts in invented_plant.SENSORS.items()}
columns = {
    "evaporator_pressure": "evaporator vacuum",
    "stage_2_tank_pressure": "tank pressure",
    "condenser_pressure": "condenser pressure",
    "liquid_line_temperature": "liquid line temperature",
    "discharge_temperature": "discharge temperature",
    "chilled_water_entering": "chilled water entering",
    "chilled_water_leaving": "chilled water leaving",
    "chilled_water_flow": "chilled water flow",
    "condenser_water_entering": "condenser water entering",
    "condenser_water_leaving": "condenser water leaving",
    "condenser_water_flow": "condenser water flow",
    "power": "motor input",
}
machine = interstage.Circuit.arranged(
    interstage.Refrigerant("R-1233zd(E)"),
    "2 stages: tank@2",
    stage=interstage.Stage(polytropic_efficiency=0.80),
    motor_efficiency=0.93,
)
readings = interstage.Readings(
    {column: (quantity, unit[column]) for quantity, column in columns.items()},
    barometer=("barometer", unit["barometer"]),
    refrigerant=machine.refrigerant,
    condenser="drains freely",
)
print(f"{len(rows)} rows, {len(columns)} readings")

# %% [markdown]
# ## Which readings can be used
#
# No row is dropped. A reading that cannot be used is left out of the figures that need it.

# %%
quality = interstage.assess_quality(rows, readings, minimum_power=20e3, progress=False)
display(pd.DataFrame(quality.counts()).T)
axes = quality.over_time()
axes.figure.savefig(OUTPUT / "flags.png", dpi=110)
steady = interstage.steady_state(quality)
print(f"steady: {steady.mask.mean():.0%} of all rows")
display(steady.reason[~steady.mask].value_counts().head(6).rename("rows").to_frame())

# %% [markdown]
# ## Figures
#
# The compiled core gives the figures of every row; what a reading cannot support is missing.

# %%
trend = readings.trend(machine, minimum_power=20e3, drive_efficiency=0.93)
frame = interstage.analysed(trend, readings.trend_table(rows, quality), progress=False)
months = interstage.summarize(frame, by="month", where=quality.running)
display(months)
axes = months.bars()
axes.figure.savefig(OUTPUT / "months.png", dpi=110)

# %% [markdown]
# ## What is to be expected
#
# Baselines of the weeks after the tubes were cleaned: quadratic in load and condenser water (the set-point
# of the chilled water never changed). Their error is told on blocks of time that a fit has not seen. The
# default limits of steadiness are those of single rows; for medians of whole days it is enough that the
# machine has run for half an hour at an even load.

# %%
usable = (frame["power [W]"] > 20e3).rolling(6).min() == 1.0
usable &= frame["capacity [W]"].rolling(6).std() < 0.02 * 2.2e6
clean = usable & (frame.index >= "2023-08-16") & (frame.index < "2023-11-01")
FIGURES = (
    "condensing_temperature",
    "condenser_ua",
    "condenser_approach",
    "evaporator_ua",
    "evaporator_approach",
    "evaporating_temperature",
    "apparent_gas_pressure",
    "discharge_superheat",
    "stage_efficiency",
    "condenser_water_flow",
    "condenser_water_range",
    "heat_balance",
    "stage_2_tank_pressure_exponent",
    "power",
)
DRIVERS = ("capacity", "condenser_water_entering")
baselines = {
    figure: interstage.Baseline.fit(frame, figure, where=clean, drivers=DRIVERS) for figure in FIGURES
}
fit = baselines["power"].quality
print(f"power: CV(RMSE) {fit.cv_rmse:.2%}, on blocks held back {fit.held_back_cv_rmse:.2%}")

# %% [markdown]
# Power per capacity against what is expected of it, two days a point. Most of the year it is within the
# interval of a single row: fouling costs less than single rows scatter. At equal conditions, a week a point,
# the approach shows it plainly, and the day on which the tubes were cleaned.

# %%
per_ton = interstage.Baseline.fit(frame, "kw_per_ton", where=clean, drivers=DRIVERS)
axes = per_ton.over_time(frame, where=usable)
axes.figure.savefig(OUTPUT / "power_per_capacity.png", dpi=110)

# %%
SAME = {"capacity": 1.4e6, "condenser_water_entering": interstage.units.kelvin_from_celsius(24.0)}
axes = baselines["condenser_approach"].over_time(frame, where=usable, at=SAME, step="7D")
axes.figure.savefig(OUTPUT / "approach.png", dpi=110)

# %% [markdown]
# ## What departed from it, and when

# %%
findings = interstage.evidence_over_time(
    frame,
    {figure: line for figure, line in baselines.items() if figure != "power"},
    period=frame.index.to_period("W").astype(str),
    block="D",
    where=usable,
    condenser="drains freely",
    tank=True,
    progress=False,
)
faults = findings.faults().set_index("fault")
display(faults)
axes = findings.over_time()
axes.figure.savefig(OUTPUT / "findings.png", dpi=110)

# %% [markdown]
# Everything else is "cannot tell": most weeks hold nothing that stands out, and that is an answer. What
# speaks for and against each fault in the week of the blocked vent:

# %%
vent_week = next(item for item in findings.evidence if item.verdict == "blocked tank vent")
axes = vent_week.bars()
axes.figure.savefig(OUTPUT / "evidence.png", dpi=110)

# %% [markdown]
# ## What it cost
#
# Energy first, then money, with an interval: the tariff is an example. However many rows are summed, the
# expected power itself wanders: the worst of five blocks of time that were held back from the fit is off by
# about 1 %, so 1 % is taken for it.

# %%
print(f"worst block held back: {fit.worst_block:+.1%}")
july = usable & (frame.index >= "2023-07-17") & (frame.index < "2023-08-13")
cost = interstage.shortfall(frame, baselines["power"], tariff=0.12, block="D", where=july, drift=0.01)
print(cost)

# %% [markdown]
# ## Why power per ton changed when the tubes were cleaned
#
# Parts sum exactly to the change and do not depend on the order in which causes are taken.

# %%
busy = usable & frame["capacity [W]"].between(1.2e6, 1.8e6)


def mean(first, last):
    return interstage.Operation.of(frame, busy & (frame.index >= first) & (frame.index < last))


change = interstage.why_it_changed(
    machine, mean("2023-08-01", "2023-08-13"), mean("2023-08-16", "2023-08-31"), progress=False
)
display(change)
axes = change.bars()
axes.figure.savefig(OUTPUT / "why_it_changed.png", dpi=110)

# %% [markdown]
# ## Were the readings understood?
#
# The plant is invented: the vent was blocked from 10 to 16 July, the tubes fouled until they were cleaned on
# 15 August, and nothing else was wrong.

# %%
assert set(faults.index) == {"condenser fouling", "blocked tank vent"}
vent, fouling = faults.loc[["blocked tank vent"]], faults.loc[["condenser fouling"]]
assert vent["first row"].min().date() == pd.Timestamp("2023-07-10").date()
assert vent["last row"].max().date() == pd.Timestamp("2023-07-16").date()
assert pd.Timestamp("2023-05-29") <= fouling["first row"].min() < pd.Timestamp("2023-08-01")
assert pd.Timestamp("2023-08-01") < fouling["last row"].max() < pd.Timestamp("2023-08-16")
assert cost.clear
assert change.parts["condenser UA"] < -2.0 * change.intervals["condenser UA"]

# %% [markdown]
# # A year of a chiller
#
# One year of five-minute readings of a water chiller with two stages and an economizer (one flash tank).
# What is the economizer worth, did it work all year, and are the condenser tubes clean?
#
# **The readings are invented.** `invented_plant.py` makes them; no machine, building or site is behind
# them. The last section compares what the readings told with what was put into them.
#
# **Cautions.** Results are estimates for analysis and teaching. They do not replace the machine's
# instructions, its protection settings or a qualified person's judgement, and serve no control or safety
# function. Never open, vent, loosen or heat a refrigerant circuit because of a computed state: low-pressure
# machines are below atmosphere in operation and can be above it when warm. Refrigerant vapor displaces the
# air in pits and low rooms. Standards and local code govern machine rooms, and the law leaves refrigerant
# work to certified persons.

# %%
import os
import time
from pathlib import Path

import invented_plant
import matplotlib.pyplot as plt
import numpy as np
import pandas as pd
from IPython.display import display

import interstage
from interstage import units

UNITS = os.environ.get("DEMO_UNITS", "I-P")  # how results are shown: "I-P" or "SI"
OUTPUT = Path("output")
OUTPUT.mkdir(exist_ok=True)
pd.set_option("display.width", 200, "display.max_columns", None, "display.max_colwidth", None)
pd.set_option("display.float_format", lambda value: f"{value:,.0f}" if abs(value) >= 1e4 else f"{value:.4g}")

# %% [markdown]
# ## The export
#
# A file as the trend logger of a building writes it. Where the logger was off, rows are missing. They are
# put back as empty rows: a single wrong reading is told by its neighbors, and those must be neighbors in
# time.

# %%
year = invented_plant.generate()
invented_plant.write(year, OUTPUT / "invented_year.csv.gz")

export = pd.read_csv(OUTPUT / "invented_year.csv.gz", parse_dates=["time"], index_col="time")
rows = export.asfreq("5min")
print(f"{len(export)} rows in the file, {len(rows)} five-minute steps in the year")
display(rows["2023-07-05 15:00":"2023-07-05 15:10"].T)

# %% [markdown]
# ## The machine and its columns
#
# The machine is declared once: refrigerant, stages, and what sits between them. Every column is declared
# with its unit. Gauge and vacuum readings need the barometer of their place and time; sea level is never
# assumed.

# %%
machine = interstage.Circuit(
    interstage.Refrigerant("R-1233zd(E)"),
    stages=[interstage.Stage(polytropic_efficiency=0.80)] * 2,
    interstages=[interstage.FlashTank()],
)
readings = {
    "evaporator_pressure": ("evaporator vacuum [inHg vacuum]", "inHg vacuum"),
    "stage_2_tank_pressure": ("tank pressure [psig]", "psig"),
    "condenser_pressure": ("condenser pressure [psig]", "psig"),
    "liquid_line_temperature": ("liquid line temperature [degF]", "degF"),
    "discharge_temperature": ("discharge temperature [degF]", "degF"),
    "chilled_water_entering": ("chilled water entering [degF]", "degF"),
    "chilled_water_leaving": ("chilled water leaving [degF]", "degF"),
    "chilled_water_flow": ("chilled water flow [gpm]", "gpm"),
    "condenser_water_entering": ("condenser water entering [degF]", "degF"),
    "condenser_water_leaving": ("condenser water leaving [degF]", "degF"),
    "condenser_water_flow": ("condenser water flow [gpm]", "gpm"),
    "power": ("motor input [kW]", "kW"),
}
trend = interstage.Trend(
    machine,
    readings,
    barometer=("barometer [inHg absolute]", "inHg absolute"),
    minimum_power=20e3,
    drive_efficiency=0.93,
)
start = time.perf_counter()
result = trend.analyse(rows, progress=False)
print(f"{len(result)} rows analysed in {time.perf_counter() - start:.1f} s")

# %% [markdown]
# Bad readings stop nothing. Each row says what is to be said about it, and keeps every figure that does not
# need the reading in question.

# %%
display(result.status_text.value_counts().rename("rows").to_frame())

# %% [markdown]
# ## A thermometer that stands still
#
# The analysis looks at single rows and their neighbors. A reading that repeats itself to the last digit for
# hours while the machine runs is no reading either. Here it is also what makes approaches negative. Figures
# that need it are left out for as long.

# %%
SIX_HOURS = 72  # rows
running = ~result.rows_with("the machine is off") & rows["motor input [kW]"].notna()
settled = running.rolling(6).min() == 1.0  # for half an hour


def standing_still(column):
    """Rows in which a reading repeats itself for six hours of operation or more."""
    stretch = (column != column.shift()).cumsum()
    return (running.groupby(stretch).transform("sum") >= SIX_HOURS) & column.notna()


still = {quantity: standing_still(rows[column]) for quantity, (column, _) in readings.items()}
stretches = {
    quantity: (where.idxmax(), where[::-1].idxmax()) for quantity, where in still.items() if where.any()
}
for quantity, (first, last) in stretches.items():
    negative = result.rows_with("an approach is negative")[first:last].sum()
    print(
        f"{quantity} stands still from {first} to {last}; an approach is negative in {negative} rows of these"
    )

shown = result.frame(units=UNITS)  # every figure in the units shown, its unit in the name of its column


def told(figure, table=None):
    """A figure of settled rows, SI or as in a table; missing where a reading that it needs stands still."""
    needed = [still[reading] for group in trend.needs(figure) for reading in group if reading in still]
    values = result[figure] if table is None else table.filter(regex=rf"^{figure} \[").iloc[:, 0]
    return values.where(settled & ~np.any(needed, axis=0))


# %% [markdown]
# ## What the economizer is worth by design
#
# The machine at its design temperatures. The benefit compares it with the same machine, its tank off, at
# the same capacity and temperatures. It is a *potential*: what a working economizer saves.

# %%
design = machine.solve(
    evaporating_temperature=units.kelvin_from_fahrenheit(41.2),
    condensing_temperature=units.kelvin_from_fahrenheit(97.5),
    capacity=units.watt_from_ton(625.0),
)
display(design.points.to_pandas(units=UNITS))
print(f"capacity {design.capacity / 1e3:.0f} kW, compression power {design.power / 1e3:.0f} kW")
print(f"flash gas: {design.flash_fractions[0]:.1%} of the flow into the tank")
print(f"benefit of the economizer: {design.economizer_benefit:.1%} of compression power")

# %% [markdown]
# ## One row as a cycle
#
# The pressures of one row, and the stage efficiency that its discharge temperature asks for, make a cycle.
# Beside it the machine by its design.

# %%
moment = pd.Timestamp("2023-07-05 15:00")
as_read = result.cycle(rows.index.get_loc(moment))
diagram = interstage.Diagram(machine.refrigerant, units=UNITS)
axes = diagram.add(design, "design").add(as_read, f"readings of {moment:%d %B %Y, %H:%M}").draw()
axes.figure.savefig(OUTPUT / "pressure_enthalpy.png", dpi=150)
efficiency, interval = (result[name][moment] for name in ("stage_efficiency", "stage_efficiency_interval"))
print(f"stage efficiency {efficiency:.3f} +/- {interval:.3f} (polytropic)")
assert (
    abs(
        as_read.discharge_temperature
        - units.kelvin_from_fahrenheit(rows["discharge temperature [degF]"][moment])
    )
    < 1e-6
)

# %% [markdown]
# ## Month by month
#
# Power per capacity depends on lift and load, so months are not like for like. The condenser is compared at
# equal load, 35 to 50 % of design: its approach grows with load even when it is clean. Only rows count in
# which the economizer shows to work: without it the condenser gets more heat and may stand full of liquid.
# The last three columns are shares of these months' rows of operation: in which the economizer shows to be
# working, not to, or which cannot tell.

# %%
HOURS = 5.0 / 60.0  # a row
month = rows.index.to_period("M")
cooling = told("capacity").where(told("cop").notna())
power = cooling / told("cop")  # motor input
evidence = told("economizer_evidence")
equal_load = (cooling / design.capacity).between(0.35, 0.50) & (evidence == 1.0)

monthly = pd.DataFrame({"hours on": running.groupby(month).sum() * HOURS})
totals = pd.DataFrame({"cooling": cooling, "power": power}).groupby(month).sum()
if UNITS == "I-P":
    monthly["1000 ton h"] = units.ton_from_watt(totals["cooling"]) * HOURS / 1e3
    monthly["kW/ton"] = units.kw_per_ton_from_cop(totals["cooling"] / totals["power"])
else:
    monthly["MWh cooling"] = totals["cooling"] * HOURS / 1e6
    monthly["COP"] = totals["cooling"] / totals["power"]
at_equal_load = [told(figure, shown).where(equal_load) for figure in ("condenser_approach", "condenser_ua")]
for values in at_equal_load:
    monthly[f"{values.name}, equal load"] = values.groupby(month).median()
monthly["economizer potential"] = told("economizer_potential").groupby(month).median()
verdicts = {"working": evidence == 1.0, "not working": evidence == 0.0, "cannot tell": evidence.isna()}
for verdict, where in verdicts.items():
    monthly[verdict] = where.astype(float).where(cooling.notna()).groupby(month).mean()
monthly.index.name = None
display(monthly)

# %% [markdown]
# ## The condenser
#
# The raw approach follows the load. At equal load it tells more, and UA tells best: it falls while the
# tubes foul and comes back when they have been cleaned.


# %%
def panels(file, figures, shaded, says, step, between=(rows.index[0], rows.index[-1])):
    """Charts of figures below each other, each with its rows; a stretch of time is shaded."""
    figure, column = plt.subplots(len(figures), figsize=(8.0, 2.9 * len(figures)), layout="constrained")
    for axes, (name, where) in zip(column, figures.items(), strict=True):
        result.over_time(name, axes, where=told(name).notna() & where, step=step, units=UNITS)
        axes.axvspan(*shaded, color="0.87", linewidth=0.0, zorder=0)
        axes.set_xlim(between)
    at = {"xycoords": ("data", "axes fraction"), "textcoords": "offset points"}
    column[0].annotate(says, (shaded[0], 0.92), (-4, 0), ha="right", fontsize=8, **at)
    figure.savefig(file, dpi=150)


week = pd.Grouper(freq="7D")
ua = at_equal_load[1]
ua_weekly = ua.groupby(week).median()
panels(
    OUTPUT / "condenser.png",
    {
        "condenser_approach": equal_load,
        "condenser_ua": equal_load,
        "kw_per_ton" if UNITS == "I-P" else "cop": running,
    },
    stretches["condenser_water_leaving"],
    "thermometer stands still",
    step="7D",
)

# %%
cleaned = ua_weekly.diff().idxmax()
clean, fouled = ua_weekly[cleaned:].iloc[:2].max(), ua_weekly[:cleaned].iloc[-2]
print(f"week of cleaning: from {cleaned:%d %B}")
loss = 1.0 - fouled / clean
print(f"{ua.name} at equal load: {fouled:,.0f} before, {clean:,.0f} after; {loss:.0%} were lost")

# %% [markdown]
# ## The economizer
#
# The tank of a working economizer stands near the geometric mean of evaporator and condenser pressure: its
# pressure exponent, ln(p_tank / p_evaporator) / ln(p_condenser / p_evaporator), is about 0.5. That is
# evidence, for a working economizer (1) or against it (0); where the readings cannot tell, there is none. The
# potential follows from two temperatures alone, so a dead economizer shows it in full: it counts only where
# the evidence is for it.

# %%
exponent = told("stage_2_tank_pressure_exponent")
potential = told("economizer_potential")
daily = evidence.resample("1D").mean()
dead = daily.index[daily < 0.5]
without = (dead[0], dead[-1] + pd.Timedelta("1D"))
inside = pd.Series((rows.index >= without[0]) & (rows.index < without[1]), rows.index)
print(f"economizer not working on {len(dead)} days, {dead[0]:%d %B} to {dead[-1]:%d %B}")
print(f"rows of operation that cannot tell: {evidence[cooling.notna()].isna().mean():.1%}")
there, elsewhere = exponent[inside].median(), exponent[~inside].median()
print(f"tank pressure exponent: median {there:.2f} on these days, {elsewhere:.2f} on all others")

panels(
    OUTPUT / "economizer.png",
    {"stage_2_tank_pressure_exponent": running, "economizer_potential": running},
    without,
    "economizer not working",
    step="1D",
)

# %% [markdown]
# Around that week more can be seen. The tank's vent is blocked: the vapor has to pass the lower orifice,
# the orifices pass less, liquid stacks in the condenser and subcools, and in the afternoons the machine
# cannot carry its load, so the chilled water leaves too warm. The power that was not saved is the smaller
# loss.

# %%
around = slice(without[0] - pd.Timedelta("4D"), without[1] + pd.Timedelta("4D"))
leaving = units.kelvin_from_fahrenheit(rows["chilled water leaving [degF]"]).where(settled)
if UNITS == "I-P":
    leaving = units.fahrenheit_from_kelvin(leaving).rename("chilled water leaving [degF]")
else:
    leaving = units.celsius_from_kelvin(leaving).rename("chilled water leaving [degC]")
near = pd.Series(False, rows.index)
near[around] = True
panels(
    OUTPUT / "blocked_vent.png",
    {"stage_2_tank_pressure_exponent": near, "subcooling": near, "capacity": near},
    without,
    "economizer not working",
    step="1h",
    between=(around.start, around.stop),
)
hot = leaving[around].resample("1D").max()
display(hot.rename(f"highest {leaving.name}").to_frame().T.rename(columns=lambda day: f"{day:%d %B}"))

# %% [markdown]
# ## What the economizer was worth
#
# Two answers. The potential where the tank shows a working economizer is an upper figure: fixed orifices are
# too large at part load, vapor follows the liquid through them, and no reading shows how much. The measured
# saving needs no such assumption. Its single rows scatter more than the whole effect, but their sum is worth
# something, if capacity, power and discharge temperature are free of bias. The invented ones are.

# %%
compression = power * 0.93  # W, with the drive efficiency declared above


def saved(share, where):
    """Compression work (MWh) that a saving of that share kept off."""
    return (compression * share / (1.0 - share))[where].sum() * HOURS / 1e6


working = evidence == 1.0
measured = told("measured_saving")
by_potential, by_measurement = saved(potential, working), saved(measured, working)
print(f"compression work of the year: {compression.sum() * HOURS / 1e6:.0f} MWh")
print(f"saved: by potential {by_potential:.1f} MWh, by measured saving {by_measurement:.1f} MWh")
least, most = measured.quantile([0.05, 0.95])
print(f"measured saving of single rows: {least:.1%} to {most:.1%} (5 % and 95 % of rows)")
missed = (compression * potential)[evidence == 0.0].sum() * HOURS / 1e6
print(f"not saved while the economizer did not work: {missed:.2f} MWh")

# %% [markdown]
# ## Were the readings understood?
#
# The plant is invented, so the truth is known. A notebook on real readings ends above. The plant is made with
# this library: agreement shows that messy readings are read back rightly, not that the physics is right.

# %%
truth = pd.DataFrame(year.truth).set_index("time")
seen = cooling.notna()
cop, true_cop = (
    table[0][seen].sum() / table[1][seen].sum()
    for table in ((cooling, power), (truth["capacity"], truth["power"]))
)
true_ua = truth["condenser_ua"].where(equal_load).groupby(week).median()
true_loss = 1.0 - true_ua[:cleaned].iloc[-2] / true_ua[cleaned:].iloc[:2].max()
true_saved = saved(truth["saving"], working)
blocked, stuck = truth.index[truth["vent_blocked"]], truth.index[truth["stuck"]]
stood = stretches["condenser_water_leaving"]
check = {
    "COP of the year": (f"{cop:.2f}", f"{true_cop:.2f}"),
    "UA lost to fouling": (f"{loss:.1%}", f"{true_loss:.1%}"),
    "saved by the economizer": (f"{by_measurement:.1f} MWh", f"{true_saved:.1f} MWh"),
    "vent blocked from": (dead[0], blocked[0]),
    "thermometer stood still to": (stood[1], stuck[-1]),
}
display(pd.DataFrame(check, index=["told", "truth"]).T)

assert abs(cop / true_cop - 1.0) < 0.005
assert (dead[0], without[1]) == (blocked[0], blocked[-1] + pd.Timedelta("5min"))
assert (evidence[truth["vent_blocked"]].dropna() == 0.0).mean() > 0.99
assert (evidence[~truth["vent_blocked"]].dropna() == 1.0).mean() > 0.99
assert not at_equal_load[1][truth["vent_blocked"]].notna().any()
assert list(monthly.index[monthly["not working"] > 0.0].astype(str)) == ["2023-07"]
assert np.allclose(monthly[list(verdicts)].sum(axis=1), 1.0)
assert 0.6 < there < 0.9
assert abs(elsewhere - 0.5) < 0.02
assert stretches == {"condenser_water_leaving": (stuck[0], stuck[-1])}
assert abs(loss - true_loss) < 0.03
# Blow-through makes the potential too good, by what the measured saving leaves out.
assert by_potential > true_saved
assert abs(by_measurement / true_saved - 1.0) < 0.10

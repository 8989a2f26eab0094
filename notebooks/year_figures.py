"""Figures of the notebooks: matplotlib, dark, middle and light, so that they read without color too."""

import matplotlib.dates
import matplotlib.pyplot as plt
import matplotlib.ticker
import numpy as np

from interstage import units

DARK, MIDDLE, LIGHT, SHADE = "#12355b", "#c05a00", "#7fb3d0", "#dddddd"
LINE = {"color": DARK, "linewidth": 1.8}
THIN = {"color": DARK, "linewidth": 0.8}
DOTS = {"color": LIGHT, "linestyle": "none", "marker": ".", "markersize": 2.0}
DOTTED = {"color": LIGHT, "linewidth": 2.2, "linestyle": (0, (1, 1))}
DASHED = {"color": DARK, "linewidth": 1.4, "linestyle": (0, (5, 2))}

PRESSURE = {"SI": ("kPa absolute", units.kilopascal_from_pascal), "I-P": ("psia", units.psia_from_pascal)}
ENTHALPY = {
    "SI": ("kJ/kg", units.kilojoule_per_kilogram_from_joule_per_kilogram),
    "I-P": ("Btu/lb", units.btu_per_pound_from_joule_per_kilogram),
}
TEMPERATURE = {"SI": ("°C", units.celsius_from_kelvin), "I-P": ("°F", units.fahrenheit_from_kelvin)}

# Points of a cycle that are named in the figure: text, offset in points, side.
NOTES = {
    "evaporator_outlet": ("evaporator outlet", (7, -11), "left"),
    "evaporator_inlet": ("evaporator inlet", (4, -14), "left"),
    "condenser_outlet": ("condenser outlet", (-6, 6), "right"),
    "stage_2_outlet": ("stage 2 outlet", (8, -3), "left"),
    "stage_1_outlet": ("stage 1 outlet", (8, -10), "left"),
    "stage_2_inlet": ("stage 2 inlet", (11, 3), "left"),
    "stage_2_tank_liquid": ("tank liquid", (-7, -3), "right"),
    "stage_2_tank_inlet": ("tank inlet", (6, 6), "left"),
    "stage_2_tank_vapor": ("tank vapor", (-6, 6), "right"),
}


def pressure_enthalpy(file, cycle, system, title):
    """The states of a two-stage cycle with one tank and the saturation line; also written to a file."""
    at = cycle.points
    pressure_unit, pressure = PRESSURE[system]
    enthalpy_unit, enthalpy = ENTHALPY[system]
    temperature_unit, temperature = TEMPERATURE[system]
    figure, axes = plt.subplots(figsize=(8.5, 5.5), layout="constrained")

    def place(state):
        return enthalpy(state.h), pressure(state.p)

    def path(*names, **style):
        axes.plot(*zip(*(place(at[name]) for name in names), strict=True), **style)

    low, high = cycle.evaporating_temperature, cycle.condensing_temperature
    around = np.linspace(low - 0.4 * (high - low), high + 0.5 * (high - low), 100)
    lines = [cycle.refrigerant.saturation(T=float(T)) for T in around]
    for states in ([line.liquid for line in lines], [line.vapor for line in lines]):
        axes.plot(*zip(*map(place, states), strict=True), color="black", linewidth=1.0)

    # A compression is drawn straight: what lies between inlet and outlet is no point of the cycle.
    for stage in ("stage_1", "stage_2"):
        label = "compression" if stage == "stage_1" else None
        path(f"{stage}_inlet", f"{stage}_outlet", color=MIDDLE, linewidth=2.2, label=label)
    path("stage_2_tank_inlet", "stage_2_tank_vapor", **DOTTED, label="flash gas and what it mixes with")
    path("stage_2_tank_vapor", "stage_2_inlet", "stage_1_outlet", **DOTTED)
    path("stage_2_outlet", "condenser_outlet", **LINE, label="condenser and evaporator")
    path("evaporator_inlet", "evaporator_outlet", **LINE)
    path("stage_2_tank_inlet", "stage_2_tank_liquid", color=DARK, linewidth=1.0, label="liquid in the tank")
    path("condenser_outlet", "stage_2_tank_inlet", **DASHED, label="throttling")
    path("stage_2_tank_liquid", "evaporator_inlet", **DASHED)
    for name, (text, offset, side) in NOTES.items():
        axes.plot(*place(at[name]), "o", color="black", markersize=3.5)
        axes.annotate(text, place(at[name]), offset, textcoords="offset points", ha=side, fontsize=9)
    for T in (low, high):
        line = cycle.refrigerant.saturation(T=T)
        middle = enthalpy(0.5 * (line.liquid.h + line.vapor.h)), pressure(line.p)
        text = f"{temperature(T):.1f} {temperature_unit}"
        axes.annotate(text, middle, (0, 4), textcoords="offset points", ha="center")

    axes.margins(x=0.16)
    axes.set_yscale("log")
    axes.yaxis.set_major_locator(matplotlib.ticker.LogLocator(10.0, (1.0, 1.5, 2.0, 3.0, 5.0, 7.0)))
    axes.yaxis.set_major_formatter(matplotlib.ticker.FormatStrFormatter("%g"))
    axes.yaxis.set_minor_formatter(matplotlib.ticker.NullFormatter())
    axes.set_xlabel(f"enthalpy [{enthalpy_unit}]")
    axes.set_ylabel(f"pressure [{pressure_unit}], logarithmic")
    axes.set_title(title)
    axes.legend(loc="lower center", bbox_to_anchor=(0.45, 0.0), fontsize=9, frameon=False, ncols=2)
    figure.savefig(file, dpi=150)
    return figure


def over_time(file, title, panels, shades=()):
    """Panels over one time axis; also written to a file.

    `panels`: label of the axis -> list of (series, legend or None, style). `shades`: (from, to, text).
    """
    size = (9.5, 2.3 * len(panels) + 0.6)
    figure, rows = plt.subplots(len(panels), sharex=True, figsize=size, layout="constrained", squeeze=False)
    for axes, (label, curves) in zip(rows[:, 0], panels.items(), strict=True):
        for series, legend, style in curves:
            axes.plot(series.index, series.to_numpy(), label=legend, **style)
        for start, end, _ in shades:
            axes.axvspan(start, end, color=SHADE, linewidth=0.0, zorder=0)
        axes.set_ylabel(label)
        axes.yaxis.set_major_formatter(matplotlib.ticker.StrMethodFormatter("{x:,.10g}"))
        axes.grid(axis="y", linewidth=0.4, color=SHADE)
        if len(curves) > 1:
            above = {"loc": "lower right", "bbox_to_anchor": (1.0, 0.98), "ncols": len(curves)}
            axes.legend(**above, fontsize=8, frameon=False, markerscale=3.0)
    for start, _, text in shades:
        at = {"xycoords": ("data", "axes fraction"), "textcoords": "offset points"}
        rows[0, 0].annotate(text, (start, 1.0), (0, 3), fontsize=8, **at)
    locator = matplotlib.dates.AutoDateLocator(minticks=6)
    rows[-1, 0].xaxis.set_major_locator(locator)
    rows[-1, 0].xaxis.set_major_formatter(matplotlib.dates.ConciseDateFormatter(locator))
    figure.align_ylabels()
    figure.suptitle(title, fontsize=11)
    figure.savefig(file, dpi=150)


def words(column):
    """The name of a column as the label of an axis."""
    text = column.replace("stage_2_", "").replace("kw_per_ton", "motor input").replace("_ua ", "_UA ")
    return text.replace("cop ", "COP ").replace(" [-]", "").replace(" [", "\n[").replace("_", " ")

"""Charts of solved cycles: where their power goes, and what their interstage pressures are worth."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from interstage import _looks
from interstage._tables import checked_units, unit_shown
from interstage.errors import UnknownOption, WrongArgument

if TYPE_CHECKING:
    from interstage._ledger import ExergyLedger
    from interstage._pressure_sweep import PressureSweep

#: Parts of the power, in the order in which they are stacked: what is wanted first.
_PARTS = (
    "cooling (product)",
    "evaporator",
    "compression",
    "condenser",
    "throttling",
    "economizers",
    "mixing",
    "suction line and exchanger",
    "motor",
    "other",
    "leaves with condenser water",
)
#: Names of components -> part of the power.
_PART_OF: tuple[tuple[str, str], ...] = (
    (r"evaporator", "evaporator"),
    (r"condenser", "condenser"),
    (r"stage_\d+", "compression"),
    (r".*metering", "throttling"),
    (r".*(tank|economizer|exchanger)", "economizers"),
    (r".*mixing", "mixing"),
    (r"suction_.*", "suction line and exchanger"),
    (r"motor", "motor"),
)
#: Most bars that can be read.
_MOST = 40
#: Shares of the power below this are rounding.
_NOISE = 1e-9


def _part(component: str) -> str:
    if component.startswith("suction_"):
        return "suction line and exchanger"
    return next((part for form, part in _PART_OF if re.fullmatch(form, component)), "other")


def parts_of(ledger: ExergyLedger) -> dict[str, float]:
    """Give what the power of a ledger goes into, W: the components of a kind together."""
    parts = dict.fromkeys(_PARTS, 0.0)
    parts["cooling (product)"] = ledger.cooling
    parts["leaves with condenser water"] = ledger.rejected
    for component, destroyed in ledger.destroyed.items():
        parts[_part(component)] += destroyed
    return {part: value for part, value in parts.items() if abs(value) > _NOISE * abs(ledger.power)}


def ledger_bars(
    ledgers: Mapping[str, ExergyLedger],
    measure: Literal["exergy", "share"],
    units: Literal["SI", "I-P"],
    ax: Any,
) -> Any:
    """Draw the power of each ledger as a bar of its parts."""
    checked_units(units)
    if measure not in ("exergy", "share"):
        message = f"measure must be 'exergy' or 'share', got {measure!r}"
        raise UnknownOption(message, argument="measure", value=str(measure), options=("exergy", "share"))
    unit, convert = unit_shown("energy_flow", units)
    each = {label: parts_of(ledger) for label, ledger in ledgers.items()}
    powers = [ledger.power for ledger in ledgers.values()]
    shown = [part for part in _PARTS if any(part in parts for parts in each.values())]
    _looks.few("ledgers", len(each), "ledgers", _MOST)
    ax = _looks.axes(ax, _looks.height(len(each), 0.62) + _looks.key_height([*shown, "power"]))

    def scaled(value: float, power: float) -> float:
        return 100.0 * value / power if measure == "share" else float(convert(value))

    ends = np.array([scaled(power, power) for power in powers])
    names = [_looks.name(label) for label in each]
    ax.set_yticks(range(len(each)), names, fontsize=_looks.NOTE)
    inches = _looks.inner_width(ax) / (1.4 * float(np.max(np.abs(ends))))
    right = np.zeros(len(ends))
    for row, (parts, power) in enumerate(zip(each.values(), powers, strict=True)):
        # What is negative, exergy that comes in with the condenser water, is stacked to the other side.
        plus, minus = 0.0, 0.0
        for place, part in enumerate(_PARTS):
            value = scaled(parts.get(part, 0.0), power)
            start = plus if value >= 0.0 else minus
            bar = ax.barh(row, value, 0.62, left=start, **_looks.fill(place))[0]
            bar.set_gid(part)
            if value >= 0.0:
                plus += value
            else:
                minus += value
            right[row] = max(plus, ends[row])
            text = f"{value:.3g}" if abs(value) < 999.5 else f"{value:,.0f}"
            if abs(value) * inches > 0.12 + 0.07 * len(text):
                ax.text(
                    start + 0.5 * value,
                    row,
                    text,
                    ha="center",
                    va="center",
                    fontsize=_looks.SMALL,
                    color=_looks.on_fill(place),
                    bbox={"facecolor": bar.get_facecolor(), "edgecolor": "none", "pad": 1.0},
                )
    ax.plot(
        ends,
        range(len(ends)),
        linestyle="none",
        marker="|",
        markersize=26.0 if len(ends) < 8 else 16.0,
        markeredgewidth=2.0,
        color=_looks.INK,
    )
    for row, (end, ledger) in enumerate(zip(right, ledgers.values(), strict=True)):
        text = f"{_looks.number(float(convert(ledger.power)))} {unit}, efficiency {ledger.efficiency:.3f}"
        ax.annotate(
            text,
            (end, row),
            (7, 0),
            textcoords="offset points",
            va="center",
            fontsize=_looks.SMALL,
        )
    named = [label for label in each if label]
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(each) - 0.4, -0.6)
    low = min(0.0, *(bar.get_x() + min(bar.get_width(), 0.0) for bar in ax.patches))
    ax.set_xlim(low, float(right.max()) + 0.36 * (float(right.max()) - low))
    ax.axvline(0.0, color=_looks.INK, linewidth=0.8)
    ax.set_xlabel("share of the power [%]" if measure == "share" else f"exergy [{unit}]")
    _looks.bare(ax)
    _looks.plain(ax.xaxis)
    notes = ["product, exergy destroyed by kind of component and what leaves add up to the power"]
    if (
        len(named) > 1
        and measure == "exergy"
        and len({f"{ledger.cooling:.6g}" for ledger in ledgers.values()}) > 1
    ):
        notes.append("the cycles have different products: compare shares")
    _looks.say(ax, "where the power goes", *notes)
    handles = [_looks.patch(_PARTS.index(part), part) for part in shown]
    _looks.key(ax, [*handles, _looks.mark("|", "power")])
    return ax


def _kinds(beside: Any) -> str:
    kind = type(beside).__name__
    if not isinstance(beside, Mapping):
        return kind
    return f"{kind} of {', '.join(dict.fromkeys(type(each).__name__ for each in beside.values()))}"


def labelled(ledger: ExergyLedger, label: str, beside: Any, kind: type) -> dict[str, ExergyLedger]:
    """Check what is drawn beside a ledger."""
    others = {} if beside is None else beside
    if not isinstance(others, Mapping) or not all(isinstance(each, kind) for each in others.values()):
        message = f"beside must be a mapping of label to ExergyLedger, got {_kinds(beside)}"
        raise WrongArgument(message, argument="beside")
    for each in (label, *others):
        if not isinstance(each, str):
            raise WrongArgument(f"label must be a text, got {each!r}", argument="label")
    if label in others:
        raise WrongArgument(f"two ledgers are called {label!r}", argument="beside")
    return {label: ledger, **others}


def _lost(cop: float, best: float) -> str:
    return f"{max(100.0 * (1.0 - cop / best), 0.0):.2f} % less"


def pressure_curve(sweep: PressureSweep, units: Literal["SI", "I-P"], ax: Any) -> Any:
    """Draw the COP over the exponent of each interstage pressure."""
    checked_units(units)
    title = "COP over the interstage pressure"
    ax = _looks.axes(ax, 4.6)
    unit, convert = unit_shown("T", units)
    between = ", ".join(
        f"{name.split('_')[0]} {float(convert(sweep.conditions[name])):.4g} {unit}"
        for name in ("evaporating_temperature", "condensing_temperature")
    )
    about = f"{sweep.circuit.refrigerant.name}, {sweep.circuit.arrangement}; {between}"
    if not np.isfinite(sweep.cop).any():
        return _looks.nothing(ax, title, "no cycle has a solution at these exponents", about)
    several = len(sweep.cop) > 1
    for place, (line, best, flat) in enumerate(
        zip(sweep.cop, sweep.best_exponents, sweep.flat(0.01), strict=True)
    ):
        style = _looks.series(place)
        ax.axvspan(
            *flat, 0.0, 0.05 if several else 1.0, color=style["color"], alpha=0.16, linewidth=0.0, zorder=0
        )
        label = f"inlet of stage {place + 2}" if several else "COP"
        ax.plot(
            sweep.exponents,
            line,
            color=style["color"],
            linestyle=style["linestyle"],
            linewidth=1.8,
            label=f"{label}: 1 % or less is lost from {flat[0]:.2f} to {flat[1]:.2f} (shaded)",
        )
        ax.plot(
            best,
            sweep.best_cop,
            marker="*",
            markersize=13.0,
            color=style["color"],
            markeredgecolor="white",
            linestyle="none",
            zorder=6,
            label=f"best: {best:.3f}, COP {sweep.best_cop:.4g}",
        )
    for place, (rule, (exponents, cop)) in enumerate(sweep.rules.items(), start=1):
        at = ", ".join(f"{each:.3f}" for each in exponents)
        ax.plot(
            exponents,
            [cop] * len(exponents),
            linestyle="none",
            marker=_looks.SERIES[place][1],
            markersize=6.5,
            markerfacecolor="white",
            markeredgecolor=_looks.INK,
            markeredgewidth=1.2,
            zorder=5,
            label=f"{rule}: {at}, COP {cop:.4g} ({_lost(cop, sweep.best_cop)})",
        )
    least = min(float(np.nanmin(sweep.cop)), *(cop for _, cop in sweep.rules.values()), sweep.best_cop)
    # The scale never magnifies: a twentieth of the best COP is always on it.
    bottom = max(min(least, 0.95 * sweep.best_cop), 0.5 * sweep.best_cop)
    ax.set_ylim(bottom, sweep.best_cop + 0.08 * (sweep.best_cop - bottom))
    ax.axhline(0.99 * sweep.best_cop, color=_looks.FAINT, linewidth=0.9, linestyle=(0, (4.0, 3.0)))
    ax.annotate(
        "1 % below the best",
        (1.0, 0.99 * sweep.best_cop),
        (-3, -3),
        textcoords="offset points",
        ha="right",
        va="top",
        fontsize=_looks.SMALL,
        color="#555555",
    )
    ax.set_xlim(0.0, 1.0)
    ax.set_xlabel(
        "exponent of the interstage pressure: ln(p / p evaporating) / ln(p condensing / p evaporating) [-]"
    )
    ax.set_ylabel("COP of compression [-]")
    _looks.bare(ax, grid="y")
    notes = [about, "each line moves one pressure and leaves the others at their optimum" if several else ""]
    _looks.say(ax, title, *notes)
    _looks.key(ax)
    return ax

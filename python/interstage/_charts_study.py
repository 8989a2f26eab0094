"""Charts of studies: circuits side by side, over the lift, and how they share the head."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _looks
from interstage._axes import MACHINE
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

FloatArray = npt.NDArray[np.float64]

#: Figures -> what an axis calls them. The others are called by the name of their column.
_CALLED: Mapping[str, str] = {
    "cop": "COP of compression [-]",
    "kw_per_ton": "compression power per capacity [kW/ton]",
    "economizer_benefit": "less compression power than the same machine without economizers [%]",
    "benefit_against_reference": "less compression power per capacity than the reference [%]",
    "capacity_per_reference": "capacity per that of the reference [-]",
}
#: Figures -> title of a chart of them.
_TITLES: Mapping[str, str] = {
    "cop": "COP of compression",
    "economizer_benefit": "what economizers save",
    "benefit_against_reference": "power saved against the reference",
}
#: Fractions that are shown in per cent.
_PER_CENT = ("benefit", "carnot_share", "head_split", "flash_fraction", "quality")

#: Most bars that can be read, and most lines that differ.
_MOST_BARS, _MOST_LINES = 60, 24
_TEMPERATURES = ("evaporating_temperature", "condensing_temperature")
#: Conditions that hold along a line over the lift.
_HELD = ("suction_superheat", "subcooling", "liquid_carryover", "hot_gas_bypass", "capacity", "mass_flow")


def column(table: Any, figure: str) -> str:
    """Name of the column of a figure; refuse what is none or holds no numbers."""
    numeric = [name for name in table.columns if table[name].dtype.kind in "fiu" and name != "condition"]
    for found in numeric:
        if figure in (found, found.split(" [")[0]):
            return str(found)
    known = tuple(name.split(" [")[0] for name in numeric)
    message = f"figure must be a column of numbers of the study, one of {', '.join(known)}; got {figure!r}"
    raise UnknownOption(message, argument="figure", value=str(figure), options=known)


def _per_cent(figure: str) -> bool:
    return any(part in figure for part in _PER_CENT)


def _called(found: str) -> str:
    figure, _, unit = found.partition(" [")
    if figure in _CALLED:
        return _CALLED[figure]
    words = figure.replace("_", " ")
    return f"{words} [%]" if _per_cent(figure) else f"{words} [{unit or '-]'}"


def _title(found: str) -> str:
    return _TITLES.get(found.split(" [")[0], _called(found).split(" [")[0])


def _written(value: float, found: str) -> str:
    """A value beside its bar: per cent to a hundredth."""
    return f"{value:.2f}" if _per_cent(found.split(" [")[0]) else _looks.number(value)


def _values(rows: Any, found: str) -> FloatArray:
    scale = 100.0 if _per_cent(found.split(" [")[0]) else 1.0
    return np.asarray(scale * rows[found].to_numpy(dtype=np.float64))


def machines(table: Any) -> dict[str, str]:
    """What tells circuits apart in a table -> what a chart calls them, in the order of the table."""
    own = "circuit" if "circuit" in table.columns else "machine"
    labels = list(dict.fromkeys(table[own]))
    if own == "circuit" or "arrangement" not in table.columns:
        return {label: str(label) for label in labels}
    first = table.drop_duplicates(own).set_index(own)
    varying = [name for name in MACHINE if name in first.columns and first[name].nunique(dropna=False) > 1]
    if not varying:
        varying = ["refrigerant", "arrangement"]
    found = {label: ", ".join(_word(name, first.at[label, name]) for name in varying) for label in labels}
    twice = len(set(found.values())) < len(found)
    return {label: f"{text} ({label})" if twice else text for label, text in found.items()}


def _word(name: str, value: Any) -> str:
    return value if isinstance(value, str) else f"{name.replace('_', ' ')} {value:g}"


def at_condition(table: Any, condition: Any) -> Any:
    """Rows of one condition, or all."""
    if condition is None:
        return table
    rows = table[table["condition"] == condition]
    if len(rows):
        return rows
    known = tuple(map(str, dict.fromkeys(table["condition"])))
    shown = ", ".join(known[:12]) + (", ..." if len(known) > 12 else "")
    message = f"condition must be one of {shown}; got {condition!r}"
    raise UnknownOption(message, argument="condition", value=str(condition), options=known)


def _between(rows: Any) -> str:
    """Say at which saturation temperatures rows are."""
    parts = []
    for name in _TEMPERATURES:
        found = column(rows, name)
        known = rows[found].dropna()
        if len(known):
            low, high = float(known.min()), float(known.max())
            text = f"{low:.4g}" if high - low < 1e-6 * abs(high) else f"{low:.4g} to {high:.4g}"
            parts.append(f"{name.split('_')[0]} {text} {found.split('[')[1][:-1]}")
    return ", ".join(parts)


def _conditions(rows: Any) -> int:
    return int(rows["condition"].nunique())


def _reference(study: Any, figure: str) -> str:
    return (
        f"reference: {study.held['reference']}" if "reference" in figure and "reference" in study.held else ""
    )


def bars(study: Any, figure: str, condition: Any, ax: Any) -> Any:
    """Draw a figure of every circuit as bars, those of each basis beside each other."""
    found = column(study.table, figure)
    rows = at_condition(study.table, condition)
    named = machines(rows)
    own = "circuit" if "circuit" in rows.columns else "machine"
    bases = list(dict.fromkeys(rows["basis"]))
    _looks.few("study", len(named) * len(bases), "bars", _MOST_BARS)
    labels = [_looks.name(text) for text in named.values()]
    ax = _looks.axes(ax, _looks.names_height(labels, 0.36 if len(bases) == 1 else 0.27 * len(bases)))
    several = _conditions(rows) > 1
    title = _called(found)
    notes = [
        f"basis: {'; '.join(bases)}; {_between(rows)}",
        _reference(study, found),
        f"median over {_conditions(rows)} conditions; line: from lowest to highest" if several else "",
    ]
    if rows[found].isna().all():
        return _looks.nothing(ax, _title(found), f"no circuit has a value: {_why(rows)}", notes[0])
    thick = 0.78 / len(bases)
    beside = _beside(study, rows, found)
    most = max(float(np.nanmax(_values(rows, found))), 0.0)
    least = min(float(np.nanmin(_values(rows, found))), 0.0)
    for block, basis in enumerate(bases):
        on_basis = rows[rows["basis"] == basis]
        heights, lows, highs, texts = [], [], [], []
        for label in named:
            of = on_basis[on_basis[own] == label]
            values = _values(of, found)
            known = values[~np.isnan(values)]
            heights.append(float(np.median(known)) if known.size else math.nan)
            lows.append(float(known.min()) if known.size else math.nan)
            highs.append(float(known.max()) if known.size else math.nan)
            text = (
                _written(heights[-1], found)
                if known.size
                else str(of["status"].iloc[0] if len(of) else "not there")
            )
            bracket = _bracket(float(np.nanmedian(of[beside[0]]))) if beside and known.size else ""
            if beside and bracket and len(notes) == 3:
                notes.append(f"in brackets: {beside[1]}")
            texts.append(text + bracket)
        places = np.arange(len(named)) + (block - 0.5 * (len(bases) - 1)) * thick
        drawn = ax.barh(places, heights, 0.9 * thick, label=basis, **_looks.fill(block))
        if several:
            middle = np.array(heights)
            spread = [middle - np.array(lows), np.array(highs) - middle]
            ax.errorbar(middle, places, xerr=spread, fmt="none", ecolor=_looks.INK, elinewidth=1.2, capsize=3)
        for bar, high, text in zip(drawn, highs, texts, strict=True):
            known_end = 0.0 if math.isnan(high) else max(high, 0.0)
            ax.annotate(
                text,
                (known_end, bar.get_y() + 0.5 * bar.get_height()),
                (4, 0),
                textcoords="offset points",
                va="center",
                fontsize=_looks.SMALL,
            )
    ax.set_yticks(range(len(named)), labels, fontsize=_looks.NOTE)
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(named) - 0.4, -0.6)
    span = most - least or 1.0
    ax.set_xlim(least - (0.04 * span if least < 0.0 else 0.0), most + span * (0.3 if beside else 0.16))
    ax.axvline(0.0, color=_looks.INK, linewidth=0.8)
    ax.set_xlabel(_looks.fitted(ax, title))
    _looks.bare(ax, grid="x")
    _looks.say(ax, _title(found), *notes)
    if len(bases) > 1:
        _looks.key(ax)
    return ax


def _beside(study: Any, rows: Any, found: str) -> tuple[str, str] | None:
    """What stands in brackets behind a COP: the power that is saved, and against what."""
    if found.split(" [")[0] not in ("cop", "kw_per_ton"):
        return None
    if "benefit_against_reference" in rows.columns:
        name = study.held.get("reference", "the reference")
        return "benefit_against_reference", f"compression power per capacity saved against {name!r}"
    return "economizer_benefit", "compression power saved against the same machine without economizers"


def _bracket(benefit: float) -> str:
    if math.isnan(benefit) or abs(benefit) < 5e-6:
        return ""
    return f"  ({100.0 * benefit:+.{2 if abs(benefit) < 1e-3 else 1}f} %)"


def _why(rows: Any) -> str:
    reasons = [str(text) for text in rows["reason"].dropna().unique() if text]
    return reasons[0] if reasons else "; ".join(map(str, rows["status"].unique()))


def against_lift(study: Any, figure: str, ax: Any) -> Any:
    """Draw a figure of every circuit over the refrigerant lift, a line each."""
    found = column(study.table, figure)
    table = study.table
    evaporating, condensing = (column(table, name) for name in _TEMPERATURES)
    named = machines(table)
    own = "circuit" if "circuit" in table.columns else "machine"
    bases = list(dict.fromkeys(table["basis"]))
    lines = [(label, basis) for label in named for basis in bases]
    _looks.few("study", len(lines), "lines", _MOST_LINES)
    texts = [named[label] if len(bases) == 1 else f"{named[label]}; {basis}" for label, basis in lines]
    ax = _looks.axes(ax, 4.2 + _looks.key_height(texts))
    title = f"{_title(found)}, over the lift"
    lift = (table[condensing] - table[evaporating]).rename("lift")
    told = lift.notna() & table[found].notna()
    notes = [f"basis: {'; '.join(bases)}; {_between(table[told])}", _reference(study, found)]
    if len(lines) == 1:
        notes.append(texts[0])
    if not told.any():
        return _looks.nothing(ax, title, f"no row has a value: {_why(table)}")
    fewer = evaporating if table[evaporating].nunique() <= table[condensing].nunique() else condensing
    if "same exchangers and water" in bases:
        along = []  # Both temperatures float: a line is a circuit.
    else:
        along = [fewer, *(name for name in table.columns if name.split(" [")[0] in _HELD)]
        along = [name for name in along if table[name].nunique() > 1 and name != found]
        alone = table[told].groupby([own, "basis", *along]).size().max() < 2
        along = [] if alone else along
    for place, (label, basis) in enumerate(lines):
        rows = table[told & (table[own] == label) & (table["basis"] == basis)]
        style = _looks.series(place)
        parts = [rows] if not along else [part for _, part in rows.groupby(along, dropna=False)]
        for number, part in enumerate(parts):
            ordered = np.argsort(lift[part.index].to_numpy(), kind="stable")
            x, y = lift[part.index].to_numpy()[ordered], _values(part, found)[ordered]
            ax.plot(
                x,
                y,
                linewidth=1.6,
                markersize=5.0,
                markevery=max(1, len(x) // 9),
                label=_looks.name(texts[place], 70) if number == 0 else "_same circuit",
                **style,
            )
    if along:
        shown = ", ".join(name.split(" [")[0].replace("_", " ") for name in along)
        notes.append(f"a line for each {shown}")
    unit = "F" if "degF" in condensing else "K"
    ax.set_xlabel(f"refrigerant lift: condensing less evaporating temperature [{unit}]")
    ax.set_ylabel(_looks.fitted(ax, _called(found), upright=True))
    ax.margins(x=0.03)
    if _per_cent(found) and float(np.nanmin(_values(table[told], found))) >= 0.0:
        ax.set_ylim(0.0, None)
    _looks.bare(ax, grid="y")
    _looks.say(ax, title, *notes)
    if len(lines) > 1:
        _looks.key(ax)
    return ax


def head_bars(names: Sequence[str], shares: FloatArray, notes: Sequence[str], ax: Any) -> Any:
    """Draw the share of each stage in the head, a bar for each cycle.

    `shares`: cycles by stages, fractions, NaN where a cycle has no such stage or no result.
    """
    title = "how the stages share the head"
    labels = [_looks.name(text) for text in names]
    ax = _looks.axes(ax, _looks.names_height(labels, 0.42))
    if not np.isfinite(shares).any():
        return _looks.nothing(ax, title, "none of the cycles has a result")
    start = np.zeros(len(names))
    for stage in range(shares.shape[1]):
        width = 100.0 * np.nan_to_num(shares[:, stage])
        bars = ax.barh(
            range(len(names)), width, 0.72, left=start, label=f"stage {stage + 1}", **_looks.fill(stage)
        )
        for bar, share in zip(bars, width, strict=True):
            if share >= 6.0:
                ax.text(
                    bar.get_x() + 0.5 * share,
                    bar.get_y() + 0.5 * bar.get_height(),
                    f"{share:.1f}",
                    ha="center",
                    va="center",
                    fontsize=_looks.SMALL,
                    color=_looks.on_fill(stage),
                    bbox={"facecolor": bar.get_facecolor(), "edgecolor": "none", "pad": 1.0},
                )
        start += width
    for place in np.flatnonzero(start == 0.0):
        ax.text(1.0, place, "no result", va="center", fontsize=_looks.SMALL)
    ax.set_yticks(range(len(names)), labels, fontsize=_looks.NOTE)
    ax.tick_params(axis="y", length=0)
    ax.set_ylim(len(names) - 0.4, -0.6)
    ax.set_xlim(0.0, 100.0)
    ax.set_xlabel("share of each stage in the sum of the heads [%]")
    _looks.bare(ax)
    _looks.say(ax, title, *notes)
    _looks.key(ax)
    return ax


def study_heads(study: Any, condition: Any, ax: Any) -> Any:
    """Draw how the circuits of a study share the head."""
    rows = at_condition(study.table, condition)
    named = machines(rows)
    own = "circuit" if "circuit" in rows.columns else "machine"
    stages = [name for name in rows.columns if name.startswith("stage_") and name.endswith("_head_split")]
    names, shares = [], []
    bases = list(dict.fromkeys(rows["basis"]))
    _looks.few("study", len(named) * len(bases), "bars", _MOST_BARS)
    for label, text in named.items():
        for basis in bases:
            of = rows[(rows[own] == label) & (rows["basis"] == basis)][stages]
            names.append(text if len(bases) == 1 else f"{text}; {basis}")
            shares.append(of.dropna(how="all").mean().to_numpy(dtype=np.float64))
    number = _conditions(rows)
    notes = [
        f"basis: {'; '.join(bases)}; {_between(rows)}",
        f"mean over {number} conditions" if number > 1 else "",
    ]
    return head_bars(names, np.array(shares), notes, ax)


def cycle_heads(cycles: Any, labels: Sequence[str] | None, ax: Any) -> Any:
    """Draw how the stages of solved cycles share the head, a bar for each row."""
    rows = len(cycles._status)
    if rows == 0 or rows > _MOST:
        reason = f"a chart shows 1 to {_MOST} cycles, these are {rows}; take some of them: cycles[:10]"
        message = f"cycles and chart contradict each other: {reason}"
        raise Inconsistent(message, arguments="cycles and chart", reason=reason)
    if labels is None:
        low, high = (np.ravel(cycles._conditions[name]) - 273.15 for name in _TEMPERATURES)
        labels = [f"{cold:.4g} to {warm:.4g} degC" for cold, warm in zip(low, high, strict=True)]
        labels = [label.replace("nan", "no number") for label in labels]
    elif isinstance(labels, str) or len(labels) != rows:
        raise WrongArgument(f"labels must be {rows} texts, one a row, got {labels!r}", argument="labels")
    shares = cycles._columns["head_split"].reshape(rows, -1)
    note = f"{cycles.refrigerant.name}, {cycles.circuit.arrangement}"
    return head_bars(list(map(str, labels)), shares, [note], ax)


#: Most cycles that can be read.
_MOST = 40

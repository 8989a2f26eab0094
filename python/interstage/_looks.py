"""How charts look: the colors, hatches, markers and sizes that all of them share, and what each must have.

Neighbors differ in lightness too, and hatches, dashes and markers tell them apart without any color.
"""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Sequence
from importlib import import_module
from typing import Any

from interstage.errors import Inconsistent, WrongArgument

#: Lines and points: color and marker.
SERIES = (
    ("#b2182b", "o"),
    ("#123f73", "s"),
    ("#2f9a94", "^"),
    ("#7a4fa3", "D"),
    ("#d98a2b", "v"),
    ("#5a5a5a", "P"),
)
#: Dashes of lines, solid first.
DASHES: tuple[Any, ...] = ("-", (0, (5.0, 2.0)), (0, (1.0, 1.5)), (0, (6.0, 2.0, 1.0, 2.0)))
#: Areas: color and hatch.
FILLS = (
    ("#35688c", ""),
    ("#e3b778", "///"),
    ("#5f281b", ""),
    ("#a9cbe3", "..."),
    ("#5f6f52", "\\\\\\"),
    ("#efe3c4", "xx"),
    ("#123f73", "++"),
    ("#c7c7c7", ""),
    ("#b35806", "--"),
    ("#d7dfc6", "\\\\"),
    ("#ffffff", "////"),
)
#: For the better and for the worse.
BETTER, WORSE = FILLS[0][0], "#b35806"
#: What counts, what is beside it, and what lies behind.
INK, FAINT, SHADE = "#222222", "#8a8a8a", "#e4e4e4"

#: Width of a chart, inches: 900 px of a notebook at 110 dots per inch.
WIDTH = 8.0
#: Sizes of letters, points.
TITLE, NOTE, SMALL = 11.0, 8.5, 8.0

#: Letters of a name that stand in one line, and most lines of a name.
_LETTERS, _LINES = 34, 3
#: Width of a letter of a note, inches.
_LETTER = 0.065
#: Figures made here, which may grow.
_OWN = "chart"
#: What ticks and the label of an axis take, inches, and ticks alone.
_BELOW, _TICKS = 0.5, 0.42


def axes(ax: Any, height: float, width: float = WIDTH) -> Any:
    """Give the axes to draw on: those given, or new ones of a size in inches."""
    if ax is None:
        figure, ax = pyplot().subplots(figsize=(width, height), layout="constrained")
        figure.set_gid(_OWN)
    elif not (hasattr(ax, "barh") and hasattr(ax, "get_window_extent")):
        raise WrongArgument(f"ax must be a matplotlib Axes, got {type(ax).__name__}", argument="ax")
    elif getattr(ax, "name", "") != "rectilinear":
        message = f"ax must be an Axes with x and y at right angles, got projection {ax.name!r}"
        raise WrongArgument(message, argument="ax")
    return ax


def few(argument: str, number: int, what: str, most: int) -> None:
    """Refuse more than a chart can show."""
    if number > most:
        reason = f"there are {number} {what}, more than the {most} that can be read"
        message = f"{argument} and chart contradict each other: {reason}"
        raise Inconsistent(message, arguments=f"{argument} and chart", reason=reason)


def pyplot() -> Any:
    """Import matplotlib, or say what is missing."""
    try:
        return import_module("matplotlib.pyplot")
    except ImportError as error:
        raise ImportError("a chart needs matplotlib: pip install 'interstage[plot]'") from error


def series(place: int) -> dict[str, Any]:
    """Color, marker and dashes of a line: the first 24 differ, and neighbors in all three."""
    color, marker = SERIES[place % len(SERIES)]
    dashes = DASHES[(place + place // len(SERIES)) % len(DASHES)]
    return {"color": color, "marker": marker, "linestyle": dashes}


def fill(place: int) -> dict[str, Any]:
    """Color and hatch of an area."""
    color, hatch = FILLS[place % len(FILLS)]
    edge = FAINT if on_fill(place) == INK and hatch else "white"
    return {"facecolor": color, "hatch": hatch, "edgecolor": edge, "linewidth": 0.6}


def on_fill(place: int) -> str:
    """Color of letters on an area."""
    color = FILLS[place % len(FILLS)][0]
    red, green, blue = (int(color[at : at + 2], 16) for at in (1, 3, 5))
    return INK if 0.3 * red + 0.59 * green + 0.11 * blue > 140.0 else "white"


#: A number and its unit, and a unit in brackets: they stay in one line.
_WITH_UNIT = re.compile(
    r"(?<=\d) (?=(?:deg[CF]|K|F|%|kW|ton|kPa|psia|d|h|min|s|rows?)\b|%)|(?<=\w) (?=[^\[\]]*\])"
)
_HELD = "\N{NO-BREAK SPACE}"

#: A dollar sign that matplotlib would take for the beginning or the end of a formula.
_DOLLAR = re.compile(r"(?<!\\)\$")


def wrapped(text: str, letters: int) -> list[str]:
    """Break a text into lines, none of it taken for a formula: no unit leaves its number, no name of a
    refrigerant is torn at its hyphen.
    """
    lines = textwrap.wrap(_WITH_UNIT.sub(_HELD, text), letters, break_on_hyphens=False)
    return [_DOLLAR.sub(r"\\$", line.replace(_HELD, " ")) for line in lines]


def name(text: Any, letters: int = _LETTERS) -> str:
    """Break a long name into lines; what does not fit into three of them is cut off after a word."""
    lines = wrapped(str(text), letters) or [""]
    if len(lines) > _LINES:
        last = lines[_LINES - 1]
        if len(last) > letters - 2:
            last = last[: letters - 2].rsplit(" ", 1)[0]
        lines = [*lines[: _LINES - 1], f"{last} …"]
    # Legends leave out what begins with an underscore.
    hidden = "\N{ZERO WIDTH SPACE}" if lines[0].startswith("_") else ""
    return hidden + "\n".join(lines)


def height(rows: int, each: float = 0.36, least: float = 1.9) -> float:
    """Height of a chart of rows, inches."""
    return float(max(least, 1.4 + each * rows))


def names_height(names: Sequence[str], each: float = 0.36) -> float:
    """Height of a chart with a row for each name, inches: those of several lines get room."""
    lines = max((text.count("\n") + 1 for text in names), default=1)
    return height(len(names), max(each, 0.15 * lines + 0.06))


def bare(ax: Any, *, grid: str = "") -> None:
    """Take away what frames nothing, and lay thin lines across one axis, ``"x"`` or ``"y"``."""
    for spine in ("top", "right"):
        ax.spines[spine].set_visible(False)
    if grid:
        ax.grid(axis=grid, linewidth=0.4, color=SHADE)
        ax.set_axisbelow(True)
        plain(ax.xaxis if grid == "x" else ax.yaxis)


def plain(axis: Any) -> None:
    """Write the numbers of an axis out, thousands apart, with the digits that their step has."""

    def written(value: float, _: int) -> str:
        places = axis.get_majorticklocs()
        step = abs(float(places[1] - places[0])) if len(places) > 1 else abs(value)
        # As many decimals as make the step a whole number.
        scaled = (step * 10.0**digits for digits in range(12))
        digits = next((at for at, each in enumerate(scaled) if abs(each - round(each)) < 1e-3 <= each), 12)
        return f"{value + 0.0:,.{digits}f}".replace("-", "\N{MINUS SIGN}")

    axis.set_major_formatter(import_module("matplotlib.ticker").FuncFormatter(written))


def say(ax: Any, title: str, *notes: str) -> None:
    """Write above the axes what is drawn and on which basis."""
    columns = max(30, int(inner_width(ax) / _LETTER))
    lines = [line for note in notes if note for line in wrapped(note, columns)]
    if len(lines) > 2 and ax.figure.get_gid() == _OWN:
        ax.figure.set_figheight(ax.figure.get_figheight() + 0.16 * (len(lines) - 2))
    if lines:
        ax.annotate(
            "\n".join(lines),
            (0.0, 1.0),
            (0, 5),
            xycoords="axes fraction",
            textcoords="offset points",
            va="bottom",
            fontsize=NOTE,
            color="#555555",
        )
    title = title[:1].upper() + title[1:]
    title = "\n".join(wrapped(title, max(24, int(columns * 0.8))))
    ax.set_title(title, loc="left", fontsize=TITLE, pad=8.0 + 1.38 * NOTE * len(lines))


def nothing(ax: Any, title: str, sentence: str, *notes: str) -> Any:
    """Draw an empty chart that says why it is."""
    ax.set_xticks([])
    ax.set_yticks([])
    ax.text(
        0.5,
        0.5,
        "\n".join(wrapped(sentence, 60)),
        transform=ax.transAxes,
        ha="center",
        va="center",
        color="#555555",
    )
    say(ax, title, *notes)
    return ax


def inner_width(ax: Any) -> float:
    """Tell about how wide axes will be, inches: the layout is made only when they are drawn."""
    spec = ax.get_subplotspec()
    share = ax.get_position().width if spec is None else len(spec.colspan) / spec.get_gridspec().ncols
    labels = [line for label in ax.get_yticklabels() for line in label.get_text().split("\n")]
    longest = max((len(line) for line in labels), default=0)
    return float(max(share * ax.figure.get_figwidth() - 0.55 - _LETTER * longest, 2.0))


def key_columns(labels: Sequence[str], width: float) -> int:
    """Tell in how many columns names fit side by side below a chart of a width in inches."""
    longest = max(len(line) for label in labels for line in label.split("\n"))
    columns = max(1, min(len(labels), int(width / (0.62 + 0.056 * longest)), 6))
    return math.ceil(len(labels) / math.ceil(len(labels) / columns))


def key_height(labels: Sequence[str], width: float = WIDTH - 0.55) -> float:
    """Tell how high a legend below a chart will be, inches."""
    if not labels:
        return 0.0
    lines = max(label.count("\n") + 1 for label in labels)
    return 0.1 + 0.155 * lines * math.ceil(len(labels) / key_columns(labels, width))


def key(ax: Any, handles: Sequence[Any] | None = None) -> None:
    """Put the legend below the axes, in rows."""
    handles = ax.get_legend_handles_labels()[0] if handles is None else list(handles)
    if not handles:
        return
    labels = [handle.get_label() for handle in handles]
    below = _BELOW if ax.get_xlabel() else _TICKS
    # Below ticks and label of the axis, whatever the height of the axes turns out to be.
    down = import_module("matplotlib.transforms").ScaledTranslation(0.0, -below, ax.figure.dpi_scale_trans)
    ax.legend(
        handles=handles,
        loc="upper left",
        bbox_to_anchor=(0.0, 0.0),
        bbox_transform=ax.transAxes + down,
        borderaxespad=0.0,
        ncols=key_columns(labels, inner_width(ax)),
        frameon=False,
        fontsize=SMALL,
        handlelength=3.0,
    )


def fitted(ax: Any, text: str, *, upright: bool = False) -> str:
    """Break the label of an axis where it is longer than the axis."""
    inches = ax.figure.get_figheight() * ax.get_position().height if upright else inner_width(ax)
    return "\n".join(wrapped(text, max(20, int(inches / 0.085))))


def per_cent(share: float) -> str:
    """A share in per cent, two digits of small ones."""
    if share == 0.0:
        return "0"
    value = 100.0 * share
    return "< 0.01 %" if value < 0.01 else f"{value:.0f} %" if value >= 10.0 else f"{value:.2g} %"


def number(value: float, interval: float = math.nan) -> str:
    """Four digits, with their zeros; of a value with an interval as far as two digits of that."""
    if math.isfinite(interval) and interval > 0.0:
        digits = 1 - math.floor(math.log10(interval))
        return f"{round(value, digits):,.{max(digits, 0)}f}"
    return f"{value:#.4g}".rstrip(".") if abs(value) < 1e4 else f"{value:,.0f}"


def patch(place: int, label: str) -> Any:
    """Entry of a legend for an area."""
    return import_module("matplotlib.patches").Patch(label=label, **fill(place))


def mark(marker: str, label: str, **style: Any) -> Any:
    """Entry of a legend for a marker."""
    look = {"color": INK, "marker": marker, "linestyle": "none", "markersize": 7.0, **style}
    return import_module("matplotlib.lines").Line2D([], [], label=label, **look)

"""Tables for people: HTML and data frames, each column with its unit in its name."""

from __future__ import annotations

import html
import math
import textwrap
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

import numpy as np

from interstage import _core
from interstage.errors import UnknownOption


def _same(value: Any) -> Any:
    return value


def _percent(fraction: Any) -> Any:
    return 100.0 * fraction


def _thousandfold(value: Any) -> Any:
    return 1000.0 * value


def _thousandth(value: Any) -> Any:
    return 1e-3 * value


#: A ton of refrigeration is 200 Btu/min by definition.
_BTU_PER_MINUTE_OF_TON = 200.0


def _btu_per_minute(watt: Any) -> Any:
    return _core.ton_from_watt(watt) * _BTU_PER_MINUTE_OF_TON


def _cubic_foot_per_pound(cubic_meter_per_kilogram: Any) -> Any:
    return 1.0 / _core.pound_per_cubic_foot_from_kilogram_per_cubic_meter(1.0 / cubic_meter_per_kilogram)


#: Quantity -> system of units -> unit shown and the conversion to it from SI base units.
_SHOWN: dict[str, dict[str, tuple[str, Callable[[Any], Any]]]] = {
    "T": {"SI": ("degC", _core.celsius_from_kelvin), "I-P": ("degF", _core.fahrenheit_from_kelvin)},
    "p": {"SI": ("kPa", _core.kilopascal_from_pascal), "I-P": ("psia", _core.psia_from_pascal)},
    "rho": {
        "SI": ("kg/m3", _same),
        "I-P": ("lb/ft3", _core.pound_per_cubic_foot_from_kilogram_per_cubic_meter),
    },
    "v": {"SI": ("m3/kg", _same), "I-P": ("ft3/lb", _cubic_foot_per_pound)},
    "h": {
        "SI": ("kJ/kg", _core.kilojoule_per_kilogram_from_joule_per_kilogram),
        "I-P": ("Btu/lb", _core.btu_per_pound_from_joule_per_kilogram),
    },
    "s": {
        "SI": ("kJ/(kg K)", _core.kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin),
        "I-P": ("Btu/(lb R)", _core.btu_per_pound_rankine_from_joule_per_kilogram_kelvin),
    },
    "mass_flow": {"SI": ("kg/s", _same), "I-P": ("lb/min", _core.pound_per_minute_from_kilogram_per_second)},
    "power": {"SI": ("kW", _core.kilowatt_from_watt), "I-P": ("kW", _core.kilowatt_from_watt)},
    "capacity": {"SI": ("kW", _core.kilowatt_from_watt), "I-P": ("ton", _core.ton_from_watt)},
    # Of the terms of a balance: mass flow times enthalpy in the units of these.
    "energy_flow": {"SI": ("kW", _core.kilowatt_from_watt), "I-P": ("Btu/min", _btu_per_minute)},
    "quality": {"SI": ("", _same), "I-P": ("", _same)},
    "volume_flow": {"SI": ("m3/s", _same), "I-P": ("cfm", _core.cfm_from_cubic_meter_per_second)},
    "temperature_difference": {
        "SI": ("K", _same),
        "I-P": ("F", _core.fahrenheit_difference_from_kelvin_difference),
    },
    # Shown in SI only.
    "": {"SI": ("", _same)},
    "fraction": {"SI": ("%", _percent)},
    "molar_mass": {"SI": ("g/mol", _thousandfold)},
    "ua": {"SI": ("kW/K", _thousandth)},
    "mass_flux": {"SI": ("kg/(m2 s)", _same)},
}
for _name in ("u", "latent_heat", "refrigerating_effect", "liquid h", "vapor h"):
    _SHOWN[_name] = _SHOWN["h"]
for _name in ("evaporating_temperature", "condensing_temperature", "discharge_temperature"):
    _SHOWN[_name] = _SHOWN["T"]

#: Systems of units that tables are shown in.
SYSTEMS = ("SI", "I-P")

#: Most rows of a table that a notebook shows.
MOST_ROWS = 10


def unit_shown(quantity: str, units: str) -> tuple[str, Callable[[Any], Any]]:
    """Give the unit that a quantity is shown in, and the conversion to it from SI."""
    return _SHOWN[quantity][units]


def columns_for(data: Mapping[str, Any], units: str) -> dict[str, Any]:
    """Convert columns of SI base units to those of a system, with the unit in the name of each.

    Parameters
    ----------
    data : mapping of str to sequence
        Names of quantities -> values in SI base units.
    units : {"SI", "I-P"}

    Returns
    -------
    dict
    """
    checked_units(units)
    shown = {}
    for name, values in data.items():
        if name in _SHOWN:
            unit, convert = _SHOWN[name][units]
            shown[f"{name} [{unit}]"] = convert(np.asarray(values, dtype=np.float64))
        else:
            shown[name] = values
    return shown


def checked_units(units: Any) -> str:
    """Give back the name of a system of units, or refuse another word."""
    if units not in SYSTEMS:
        message = f"units must be 'SI' or 'I-P', got {units!r}"
        raise UnknownOption(message, argument="units", value=str(units), options=SYSTEMS)
    return str(units)


#: Decimals of what has a scale of its own; everything else gets digits by its size.
_DECIMALS = {
    "degC": 2,
    "degF": 2,
    "K": 2,
    "F": 2,
    "kJ/kg": 2,
    "Btu/lb": 2,
    "kJ/(kg K)": 4,
    "Btu/(lb R)": 4,
    "%": 2,
}

#: Significant digits of the smallest number of a column, and most digits of the largest.
_FEWEST, _MOST = 4, 6


def _decimals(name: str, values: Iterable[float]) -> int:
    unit = name.rsplit("[", 1)[1].rstrip("]") if name.endswith("]") else ""
    sizes = [abs(value) for value in values if math.isfinite(value) and value != 0.0]
    if not sizes:
        return 0
    if unit in _DECIMALS:
        return _DECIMALS[unit]
    if name == "x":
        return 4
    if all(size == round(size) for size in sizes):
        return 0
    small, large = (math.floor(math.log10(size)) for size in (min(sizes), max(sizes)))
    return max(min(_FEWEST - 1 - small, _MOST - 1 - large), 0)


def _is_number(value: Any) -> bool:
    return isinstance(value, (float, np.floating)) and not isinstance(value, bool)


def _number(value: float, decimals: int) -> str:
    if math.isnan(value):
        return ""
    text = f"{value:.{decimals}f}"
    if math.isinf(value) or (value != 0.0 and float(text) == 0.0):
        return f"{value:.3g}"
    return text.removeprefix("-") if float(text) == 0.0 else text


def written(name: str, values: Iterable[Any]) -> list[str]:
    """Write a column for people: as many digits as mean something, "" where nothing is known."""
    column = list(values)
    decimals = _decimals(name, [float(value) for value in column if _is_number(value)])
    texts = []
    for value in column:
        if value is None:
            texts.append("")
        elif isinstance(value, (bool, np.bool_)):
            texts.append("yes" if value else "no")
        else:
            texts.append(_number(float(value), decimals) if _is_number(value) else str(value))
    return texts


# Without colors of its own, so that it suits light and dark notebooks.
_LINE = "1px solid rgba(128,128,128,0.5)"
_CAPTION = "caption-side:top;text-align:left;font-weight:bold;padding:0.3em 0.6em"
_SHORT = 32
_LEFT, _RIGHT = ("text-align:left;padding:0.15em 0.7em", "text-align:right;padding:0.15em 0.7em")


@dataclass(frozen=True)
class Table:
    """Columns for people: a caption, columns with their units in their names, and what is to be said below.

    Attributes
    ----------
    caption : str
    columns : dict of str to list of str
        What is written in every cell.
    note : str
        Below the table; none if empty.
    """

    caption: str
    columns: Mapping[str, list[str]]
    note: str = ""

    def _aligned(self) -> list[bool]:
        """Whether a column stands to the right: one of numbers."""
        return [all(_looks_like_number(cell) for cell in cells) for cells in self.columns.values()]

    def html(self) -> str:
        """Write the table as HTML, its texts escaped."""
        right = self._aligned()
        sides = [_RIGHT if numbers else _LEFT for numbers in right]
        # Short texts stay in one line.
        short = [max(map(len, cells), default=0) <= _SHORT for cells in self.columns.values()]
        styles = [
            f"{side};white-space:nowrap" if whole else side for side, whole in zip(sides, short, strict=True)
        ]
        head = "".join(
            f'<th scope="col" style="{style};border-bottom:{_LINE}">{html.escape(name)}</th>'
            for name, style in zip(self.columns, sides, strict=True)
        )
        rows = "".join(
            "<tr>"
            + "".join(
                f'<td style="{style}">{html.escape(cell)}</td>'
                for cell, style in zip(row, styles, strict=True)
            )
            + "</tr>"
            for row in zip(*self.columns.values(), strict=True)
        )
        caption = f'<caption style="{_CAPTION}">{html.escape(self.caption)}</caption>' if self.caption else ""
        note = f'<p style="font-size:smaller;margin:0.3em 0.6em 0.8em">{html.escape(self.note)}</p>'
        # Room between a table and the next.
        style = f"border-collapse:collapse;margin-bottom:{'0' if self.note else '0.8em'}"
        return (
            f'<table style="{style}">{caption}<thead><tr>{head}</tr></thead>'
            f"<tbody>{rows}</tbody></table>{note if self.note else ''}"
        )

    def text(self) -> str:
        """Write the table as lines of text that fit a terminal, wide ones in several parts."""
        lines = fold(self.caption, WIDTH) if self.caption else []
        left = [
            _block(name, cells, numbers, any(name.endswith("]") for name in self.columns))
            for (name, cells), numbers in zip(self.columns.items(), self._aligned(), strict=True)
        ]
        while left:
            first, rest = left[0], left[1:]
            taken, width = 0, len(first[0][0])
            while taken < len(rest) and (taken == 0 or width + 2 + len(rest[taken][0][0]) <= WIDTH):
                width += 2 + len(rest[taken][0][0])
                taken += 1
            for row in zip(first, *rest[:taken], strict=True):
                empty = [" " * len(cell[0]) for cell in row]
                padded = (
                    "  ".join(part or blank for part, blank in zip(line, empty, strict=True)).rstrip()
                    for line in zip_longest(*row, fillvalue="")
                )
                # No line of units where no column here has one.
                lines += [line for line in padded if line]
            left = [first, *rest[taken:]] if taken < len(rest) else []
            lines += [""] if left else []
        return "\n".join([*lines, *(fold(self.note, WIDTH) if self.note else [])])


#: Columns of a terminal.
WIDTH = 110

#: Letters of a cell that stand in one line of a terminal.
_CELL = 48


def _block(name: str, cells: list[str], numbers: bool, units: bool) -> list[list[str]]:
    """Head and cells of a column, as wide as the widest: the lines of each."""
    head = [name]
    if units:
        # The unit below the name: columns are narrower.
        words, _, unit = name.rpartition(" [")
        head = [words, f"[{unit}"] if words and name.endswith("]") else [name, ""]
    column = [head, *(fold(cell, _CELL) if len(cell) > _CELL else [cell] for cell in cells)]
    width = max(len(line) for cell in column for line in cell)
    return [[line.rjust(width) if numbers else line.ljust(width) for line in cell] for cell in column]


def fold(text: str, width: int) -> list[str]:
    """Break a text into lines."""
    return textwrap.wrap(text, width) or [""]


def _looks_like_number(cell: str) -> bool:
    try:
        float(cell or "0")
    except ValueError:
        return False
    return True


def table(columns: Mapping[str, Iterable[Any]], caption: str, note: str = "") -> Table:
    """Make a table of columns that carry their units in their names."""
    return Table(caption, {name: written(name, values) for name, values in columns.items()}, note)


def rows_html(columns: Mapping[str, Iterable[Any]], caption: str, note: str = "") -> str:
    """Write columns that carry their units already as HTML."""
    return table(columns, caption, note).html()


def some_rows(columns: Mapping[str, Any], labels: Any = None) -> dict[str, list[Any]]:
    """Give first and last rows of long columns, with what names each row in front."""
    number = len(next(iter(columns.values()), []))
    rows: list[int | None] = list(range(number))
    if number > MOST_ROWS:
        half = MOST_ROWS // 2
        rows = [*range(half), None, *range(number - half, number)]
    names = range(number) if labels is None else labels
    some = {"row": ["..." if row is None else str(names[row]) for row in rows]}
    for name, values in columns.items():
        kept = written(name, [values[row] for row in rows if row is not None])
        if number > MOST_ROWS:
            kept.insert(MOST_ROWS // 2, "")
        some[name] = kept
    return some


def figures(values: Mapping[str, tuple[str, Any]], caption: str, note: str = "") -> Table:
    """Make a table of single figures: words -> quantity and value in SI base units, or a text."""
    shown: dict[str, list[str]] = {"figure": [], "value": [], "unit": []}
    for words, (quantity, value) in values.items():
        unit, number = ("", value)
        if isinstance(value, float):
            unit, convert = _SHOWN[quantity]["SI"]
            number = float(convert(value))
        (text,) = written(f"{words} [{unit}]", [number])
        shown["figure"].append(words)
        shown["value"].append(text)
        shown["unit"].append(unit)
    return Table(caption, shown, note)

"""Declarations of columns, and what is refused because it could mean two things."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from interstage._quantities import UNITS, all_units, check_unit, known_units, quantity
from interstage._water_loop import WaterLoop
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

#: Where a pressure may be tapped, and how a thermometer may sit.
TAPS = ("shell", "suction pipe", "discharge pipe", "liquid line", "tank")
THERMOMETERS = (
    "in the vapor",
    "under liquid",
    "in a well",
    "in the stream",
    "on the pipe",
    "converted from a pressure",
)
CONDENSERS = ("holds liquid", "drains freely")
_UNIT_IN_NAME = re.compile(r"[\[(]([^\[\]()]+)[\])]\s*$")
#: A unit behind a space or an underscore; a single letter, as in "pump A" or "tank_K", may be a name.
_UNIT_AT_END = re.compile(r"[ _]([^ _\[\]()]{2,})\s*$")


def declared_columns(columns: Mapping[str, tuple[str, str]]) -> dict[str, tuple[str, str, str]]:
    if not isinstance(columns, Mapping) or not columns:
        raise WrongArgument(
            f"columns must be a mapping of column to (quantity, unit), got {columns!r}", argument="columns"
        )
    found: dict[str, tuple[str, str, str]] = {}
    for column, pair in columns.items():
        if not isinstance(column, str):
            raise WrongArgument(f"a column must be a text, got {column!r}", argument="columns")
        if isinstance(pair, str):
            raise WrongArgument(
                f"column {column!r} needs its unit: (quantity, unit), got {pair!r}", argument=column
            )
        if (
            not isinstance(pair, (tuple, list))
            or len(pair) != 2
            or not all(isinstance(part, str) for part in pair)
        ):
            raise WrongArgument(
                f"column {column!r} must be declared as (quantity, unit), got {pair!r}", argument=column
            )
        told = quantity(pair[0])
        unit = pair[1]
        if told.name in found:
            first = found[told.name][0]
            raise WrongArgument(
                f"columns {first!r} and {column!r} both claim to be {told.name}: declare the one to be used",
                argument=told.name,
            )
        check_unit(told.name, told.si, unit)
        refuse_other_unit(column, unit)
        found[told.name] = (column, unit, told.si)
    return found


def other_columns(others: Mapping[str, str], declared: Mapping[str, Any]) -> dict[str, tuple[str, str, str]]:
    if not isinstance(others, Mapping):
        raise WrongArgument(
            f"others must be a mapping of column to unit, got {type(others).__name__}", argument="others"
        )
    found = {}
    for column, unit in others.items():
        si = next((si for si in UNITS if unit in known_units(si)), None)
        if si is None:
            raise UnknownOption(
                f"unit of column {column!r} must be one of {', '.join(sorted(all_units()))}, got {unit!r}",
                argument=str(column),
                value=str(unit),
                options=tuple(sorted(all_units())),
            )
        if column in declared or column in {name for name, *_ in declared.values()}:
            raise WrongArgument(f"column {column!r} is declared already", argument="others")
        refuse_other_unit(column, unit)
        found[column] = (column, unit, si)
    return found


def refuse_other_unit(column: str, unit: str) -> None:
    """Refuse a declared unit where the name of the column ends in another one, in whatever case."""
    known = {_folded(name): name for name in all_units()}
    inside, behind = _UNIT_IN_NAME.search(column), _UNIT_AT_END.search(column)
    said = known.get(_folded(inside[1])) if inside else None
    if said is None and behind:
        said = known.get(_folded(behind[1]))
        # "flow_min" is a minimum, and "p_bar" may well be read on a gauge.
        if said == "min" or (said is not None and unit.startswith(f"{said} ")):
            said = None
    if said is not None and _folded(said) != _folded(unit):
        reason = f"the name of the column says {said!r}, the declaration {unit!r}"
        raise Inconsistent(
            f"column {column!r} and its unit contradict each other: {reason}",
            arguments=f"column {column!r} and its unit",
            reason=reason,
        )


def _folded(unit: str) -> str:
    return unit.strip().lower().replace(" ", "_")


def loop(name: str, given: WaterLoop | None) -> WaterLoop:
    if given is None:
        return WaterLoop()
    if not isinstance(given, WaterLoop):
        raise WrongArgument(f"{name} must be a WaterLoop, got {given!r}", argument=name)
    return given


def word(argument: str, value: Any, known: tuple[str, ...]) -> Any:
    if value is not None and value not in known:
        raise UnknownOption(
            f"{argument} must be one of {', '.join(map(repr, known))}, got {value!r}",
            argument=argument,
            value=str(value),
            options=known,
        )
    return value


def positions(argument: str, given: Mapping[str, str] | None, known: tuple[str, ...], si: str) -> Any:
    if given is None:
        return {}
    if not isinstance(given, Mapping):
        raise WrongArgument(
            f"{argument} must be a mapping of quantity to place, got {given!r}", argument=argument
        )
    places = {}
    for name, place in given.items():
        told = quantity(name)
        if told.si != si:
            kind = "pressure" if si == "Pa" else "temperature"
            raise WrongArgument(f"{argument}: {name} is no {kind}", argument=argument)
        places[told.name] = word(f"{argument}[{name!r}]", place, known)
    return places

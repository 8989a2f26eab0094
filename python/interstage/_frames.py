"""Tables of columns: what kind came in, and the same kind out again."""

from __future__ import annotations

import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _needed
from interstage._arrays import numbers
from interstage.errors import WrongArgument, WrongLength

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)
_COMMA = re.compile(r"[+-]?\d+,\d+", re.ASCII)


class Container:
    """The kind of table that came in: pandas with its index, polars, or a mapping of columns."""

    def __init__(self, table: Any) -> None:
        self._module = _module_of(table)
        self._index = table.index if self._module == "pandas" else None

    @property
    def index(self) -> Any:
        """Index of a pandas table, else None."""
        return self._index

    def column(self, values: Any, name: str) -> Any:
        """Give one column as a Series with the table's index, a polars Series or an array."""
        if self._module == "pandas":
            return _needed.pandas().Series(values, index=self._index, name=name)
        if self._module == "polars":
            return import_module("polars").Series(name, values.tolist() if values.dtype == object else values)
        return values

    def other_rows(self, columns: dict[str, Any]) -> Any:
        """Give columns side by side whose rows are not those of the table that came in."""
        if self._module == "pandas":
            return _needed.pandas().DataFrame(columns)
        return self.table(columns)

    def table(self, columns: dict[str, Any]) -> Any:
        """Give columns side by side as the kind of table that came in."""
        if self._module == "pandas":
            return _needed.pandas().DataFrame(columns, index=self._index)
        if self._module == "polars":
            return import_module("polars").DataFrame(
                [self.column(values, name) for name, values in columns.items()]
            )
        return columns


def _module_of(table: Any) -> str:
    """Tell pandas and polars tables and mappings apart without importing either library."""
    for name in ("pandas", "polars"):
        module = sys.modules.get(name)
        if module is not None and isinstance(table, module.DataFrame):
            return name
    if isinstance(table, Mapping):
        return "mapping"
    raise WrongArgument(
        f"table must be a pandas or polars DataFrame or a mapping of columns, got {type(table).__name__}",
        argument="table",
    )


@dataclass(frozen=True)
class Texts:
    """Cells of a column that hold a text and no number."""

    #: Whether each row holds one.
    rows: npt.NDArray[np.bool_]
    #: The first of them, and its row.
    first: str
    first_row: int
    #: How many are numbers with a decimal comma.
    commas: int

    def __str__(self) -> str:
        comma = f", {self.commas} of them numbers with a decimal comma" if self.commas else ""
        count = int(self.rows.sum())
        return f"{count} texts that are no number{comma}; first {self.first!r} in row {self.first_row}"


def _column(name: str, given: Any, texts: dict[str, Texts] | None) -> Any:
    """One column as numbers; texts are read where they may be, and named where they may not."""
    try:
        return np.atleast_1d(numbers(f"column {name!r}", given))
    except WrongArgument:
        cells = np.asarray(given.to_list() if hasattr(given, "to_list") else given, dtype=object)
        if cells.ndim != 1 or not any(isinstance(cell, str) for cell in cells):
            raise
    plain = cells.copy()
    wrong = np.zeros(len(cells), dtype=bool)
    commas = 0
    for row, cell in enumerate(cells):
        if isinstance(cell, str):
            number = _NUMBER.fullmatch(cell.strip())
            wrong[row] = number is None and cell.strip() != ""
            commas += bool(_COMMA.fullmatch(cell.strip()))
            plain[row] = float(cell) if number else None
    if texts is None:
        one_of = wrong if wrong.any() else np.array([isinstance(cell, str) for cell in cells])
        row = int(np.flatnonzero(one_of)[0])
        comma = ", a decimal comma" if _COMMA.fullmatch(cells[row].strip()) else ""
        raise WrongArgument(
            f"column {name!r} must hold numbers, got the text {cells[row]!r} in row {row}{comma}",
            argument=f"column {name!r}",
        )
    found = np.atleast_1d(numbers(f"column {name!r}", plain))
    if wrong.any():
        row = int(np.flatnonzero(wrong)[0])
        texts[name] = Texts(wrong, cells[row], row, commas)
    return found


def table_columns(
    table: Any, names: list[str], texts: dict[str, Texts] | None = None
) -> tuple[Container, dict[str, Any]]:
    """Take named columns out of a table as arrays of float64, missing entries as NaN.

    Where `texts` is given it is told the texts that are no number, by column, and these are missing; else
    a column that holds texts is refused.
    """
    container = Container(table)
    present = table if container._module == "mapping" else table.columns
    missing = [name for name in names if name not in present]
    if missing:
        known = ", ".join(repr(name) for name in present)
        raise WrongArgument(
            f"the table has no column {', '.join(map(repr, missing))}; its columns are {known}",
            argument="table",
        )
    columns: dict[str, Any] = {}
    for name in names:
        columns[name] = _column(name, table[name], texts)
        if columns[name].ndim > 1:
            raise WrongArgument(
                f"column {name!r} must have one number a row, got the shape {columns[name].shape}",
                argument=f"column {name!r}",
            )
        first = columns[names[0]]
        if columns[name].shape != first.shape:
            raise WrongLength(
                f"column {name!r} has {columns[name].size} rows where {first.size} are needed",
                argument=f"column {name!r}",
                found=columns[name].size,
                expected=first.size,
            )
    return container, columns

"""Tables of columns: what kind came in, and the same kind out again."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from importlib import import_module
from typing import Any

import numpy as np

from interstage._arrays import numbers
from interstage.errors import WrongArgument, WrongLength


class Container:
    """The kind of table that came in: pandas with its index, polars, or a mapping of columns."""

    def __init__(self, table: Any) -> None:
        self._module = _module_of(table)
        self._index = table.index if self._module == "pandas" else None

    def column(self, values: Any, name: str) -> Any:
        """Give one column as a Series with the table's index, a polars Series or an array."""
        if self._module == "pandas":
            return import_module("pandas").Series(values, index=self._index, name=name)
        if self._module == "polars":
            return import_module("polars").Series(name, values.tolist() if values.dtype == object else values)
        return values

    def other_rows(self, columns: dict[str, Any]) -> Any:
        """Give columns side by side whose rows are not those of the table that came in."""
        if self._module == "pandas":
            return import_module("pandas").DataFrame(columns)
        return self.table(columns)

    def table(self, columns: dict[str, Any]) -> Any:
        """Give columns side by side as the kind of table that came in."""
        if self._module == "pandas":
            return import_module("pandas").DataFrame(columns, index=self._index)
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


def table_columns(table: Any, names: list[str]) -> tuple[Container, dict[str, Any]]:
    """Take named columns out of a table as arrays of float64, missing entries as NaN."""
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
        columns[name] = np.atleast_1d(numbers(f"column {name!r}", table[name]))
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

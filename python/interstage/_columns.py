"""Columns of results that do not change, with a status for each row."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

import numpy as np
import numpy.typing as npt

from interstage import _tables
from interstage._shown import Tabular
from interstage.errors import WrongArgument

if TYPE_CHECKING:
    from interstage._containers import Container

#: A NumPy array, pandas Series or polars Series: the container that came in.
Column: TypeAlias = Any

_C = TypeVar("_C", bound="Columns")

#: Status of a row with a result.
OK = 0


class Columns(Tabular):
    """Columns of one length that do not change, with a status for each row."""

    __slots__ = ("_columns", "_container", "_status")

    _columns: dict[str, npt.NDArray[Any]]
    _container: Container
    _status: npt.NDArray[np.uint8]

    def __init__(
        self, columns: dict[str, npt.NDArray[Any]], status: npt.NDArray[np.uint8], container: Container
    ) -> None:
        for column in (*columns.values(), status):
            column.flags.writeable = False
        self._set(columns=columns, status=status, container=container)

    def _set(self, **attributes: Any) -> None:
        for name, value in attributes.items():
            object.__setattr__(self, f"_{name}", value)

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{type(self).__name__} does not change: cannot set {name}")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} does not change: cannot delete {name}")

    def _recipe(self) -> tuple[Any, ...]:
        """What the object is made from, in the order of its constructor."""
        raise NotImplementedError

    def _column(self, name: str) -> Column:
        return self._container.wrap(self._columns[name], name)

    @property
    def status(self) -> Column:
        """Status of each row: 0 where there is a result; `interstage.status_text` has the words."""
        return self._container.wrap(self._status, "status")

    def __len__(self) -> int:
        return self._container.shape[0]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Columns) or type(self) is not type(other):
            return NotImplemented
        return all(_same(mine, theirs) for mine, theirs in zip(self._recipe(), other._recipe(), strict=True))

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), self._recipe()

    def _part(self: _C, rows: slice) -> _C:
        """Give some of the rows as an object of the same kind."""
        shape = self._container.shape
        if len(shape) != 1:
            raise WrongArgument(f"only columns can be sliced, not the shape {shape}", argument="row")
        try:
            number = len(range(*rows.indices(shape[0])))
        except (TypeError, ValueError):
            raise WrongArgument(f"a slice is made of whole numbers, got {rows!r}", argument="row") from None
        index = None if self._container.index is None else self._container.index[rows]
        container = replace(self._container, shape=(number,), index=index)
        make: Any = type(self)
        recipe = [_cut(part, rows, shape[0]) for part in self._recipe()]
        some: _C = make(*(container if part is self._container else part for part in recipe))
        return some

    def _flat(self, row: int | tuple[int, ...]) -> int:
        """Position of a row among all, for a row of the container."""
        place = row if isinstance(row, tuple) else (row,)
        if not all(isinstance(index, (int, np.integer)) and not isinstance(index, bool) for index in place):
            raise WrongArgument(f"a row is given by whole numbers or a slice, got {row!r}", argument="row")
        shape = self._container.shape
        if len(place) != len(shape):
            raise IndexError(f"a row is given by {len(shape)} whole numbers, got {row!r}")
        inside = []
        for index, size in zip(place, shape, strict=True):
            if not -size <= index < size:
                raise IndexError(f"row {row!r} is outside the shape {shape}")
            inside.append(index % size)
        return int(np.ravel_multi_index(inside, shape))

    def _counts(self) -> str:
        bad = int(np.count_nonzero(self._status))
        shape = self._container.shape
        rows = f"{shape[0]} rows" if len(shape) == 1 else f"shape {shape}"
        return rows if not bad else f"{rows}, {bad} without result"

    def _as_tables(self) -> list[_tables.Table]:
        columns = _tables.columns_for(self._table(), "SI")
        labels = self._container.index if len(self._container.shape) == 1 else None
        return [_tables.table(_tables.some_rows(columns, labels), self._counts())]

    def _table(self) -> dict[str, npt.NDArray[Any]]:
        """Flat columns for tables, with units in their names."""
        raise NotImplementedError


def _cut(part: Any, rows: slice, number: int) -> Any:
    """Take rows out of a column, or out of every column of a dictionary."""
    if isinstance(part, dict):
        return {name: _cut(column, rows, number) for name, column in part.items()}
    if not isinstance(part, np.ndarray):
        return part
    if part.size == number:
        return np.ascontiguousarray(part[rows])
    # Several values a row, in a row after the other.
    cut = np.ascontiguousarray(part.reshape(number, part.size // max(number, 1))[rows])
    return cut.reshape(-1) if part.ndim == 1 else cut


def _same(mine: Any, theirs: Any) -> bool:
    if isinstance(mine, dict):
        return mine.keys() == theirs.keys() and all(
            _same(value, theirs[name]) for name, value in mine.items()
        )
    if isinstance(mine, np.ndarray):
        return np.array_equal(mine, theirs, equal_nan=mine.dtype.kind == "f")
    return bool(mine == theirs)

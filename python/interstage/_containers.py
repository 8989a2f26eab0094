"""The container that results come in: that of the columns they were made from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _needed


@dataclass(frozen=True, eq=False)
class Container:
    """NumPy with a shape, pandas with an index, or polars.

    Parameters
    ----------
    library : {"numpy", "pandas", "polars"}
    shape : tuple of int
    index : pandas.Index, optional
    """

    library: str
    shape: tuple[int, ...]
    index: Any = None

    def wrap(self, values: npt.NDArray[Any], name: str | None) -> Any:
        """Give a flat array in the container; a NumPy array may be shared and is then read-only.

        Entries of None in an array of objects are missing.
        """
        if self.library == "pandas":
            return _needed.pandas().Series(values.copy(), index=self.index, name=name)
        if self.library == "polars":
            series = values.tolist() if values.dtype == object else values
            return import_module("polars").Series(name or "", series)
        return values.reshape(self.shape)

    def wrap_side_by_side(self, values: npt.NDArray[np.float64], names: Sequence[str]) -> Any:
        """Give several values a row: a table of the library, or an array with one more dimension."""
        side_by_side = values.reshape(-1, len(names)) if len(names) else values.reshape(self.shape[0], 0)
        if self.library == "pandas":
            return _needed.pandas().DataFrame(side_by_side.copy(), index=self.index, columns=list(names))
        if self.library == "polars":
            return import_module("polars").DataFrame(
                {name: side_by_side[:, place] for place, name in enumerate(names)}
            )
        return side_by_side.reshape(*self.shape, len(names))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Container):
            return NotImplemented
        same = self.library == other.library and self.shape == other.shape
        return same and (self.index is None or bool(self.index.equals(other.index)))

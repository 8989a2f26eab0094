"""Bars of progress for long runs, by tqdm where it is installed."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from importlib import import_module
from typing import TypeVar

from interstage.errors import WrongArgument

_Item = TypeVar("_Item")


def bar(items: Sequence[_Item], progress: bool | None, long: bool, unit: str) -> Iterator[_Item]:
    """Go through items with a bar of the progress, or without.

    Parameters
    ----------
    items : sequence
    progress : bool or None
        Whether a bar is wanted; None for one of long runs in a terminal or a notebook.
    long : bool
        Whether the run is long.
    unit : str
        What an item is.

    Returns
    -------
    iterator
    """
    if progress is None:
        seen = sys.stderr is not None and (sys.stderr.isatty() or "ipykernel" in sys.modules)
        wanted = long and len(items) > 1 and seen
    else:
        wanted = progress
    if wanted:
        try:
            tqdm = import_module("tqdm").tqdm
        except ImportError:
            if progress:
                message = "progress=True needs tqdm: pip install 'interstage[progress]'"
                raise WrongArgument(message, argument="progress") from None
        else:
            return iter(tqdm(items, unit=unit))
    return iter(items)


def blocks(rows: int, size: int) -> list[slice]:
    """Cut rows into blocks of a size; the last may be smaller."""
    return [slice(first, min(first + size, rows)) for first in range(0, rows, size)]

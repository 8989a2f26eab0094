"""Statistics of deviations, and how they are printed."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from typing import NamedTuple

#: Deviations from another implementation below this are rounding, which another machine has in other places;
#: they are printed as less than it.
ROUNDING = 1e-10


class Spread(NamedTuple):
    """Number, median, 99th percentile and maximum of deviations."""

    n: int
    median: float
    high: float
    maximum: float


def spread(deviations: Sequence[float]) -> Spread:
    """The spread of absolute deviations; percentiles are members of the sample, by the nearest rank."""
    if not deviations:
        raise ValueError("no deviation to describe")
    if not all(math.isfinite(value) for value in deviations):
        raise ValueError("a deviation is not finite")
    ordered = sorted(deviations)
    n = len(ordered)
    rank = {share: max(math.ceil(share * n), 1) - 1 for share in (0.5, 0.99)}
    return Spread(n, ordered[rank[0.5]], ordered[rank[0.99]], ordered[-1])


def number(value: float) -> str:
    """Two significant digits."""
    return "0" if value == 0.0 else f"{value:.1e}"


def triple(found: Spread, least: float = 0.0) -> str:
    """Median, 99th percentile and maximum in one cell; one word where all are below `least`."""
    if least and found.maximum < least:
        return f"<{number(least)}"
    parts = (found.median, found.high, found.maximum)
    return " / ".join(f"<{number(least)}" if value < least else number(value) for value in parts)


def share(value: float) -> str:
    """A share of a tolerance."""
    return f"{value:.3f}"


def paragraph(text: str) -> list[str]:
    """A paragraph of Markdown, whatever its line breaks here, and an empty line."""
    wrapped = textwrap.wrap(" ".join(text.split()), 130, break_long_words=False, break_on_hyphens=False)
    return [*wrapped, ""]


def table(header: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Lines of a Markdown table."""
    for row in rows:
        if len(row) != len(header):
            raise ValueError(f"{len(row)} cells for {len(header)} columns")
    lines = ["| " + " | ".join(header) + " |", "|" + "---|" * len(header)]
    return lines + ["| " + " | ".join(row) + " |" for row in rows]

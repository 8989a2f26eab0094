"""Whether two reports say the same: on another machine the last digits may differ."""

from __future__ import annotations

import re
from itertools import zip_longest

from .figures import ROUNDING

#: Numbers with a fraction or an exponent, and zero, that stand alone; counts are not among them.
_NUMBER = re.compile(r"(?<![\w.<])<?(\d+\.\d+(?:e[-+]\d+)?|0)(?![\w.])")
#: Shares of a tolerance have three decimals.
_LAST_DECIMAL = 1.1e-3


def _close(one: str, other: str) -> bool:
    low, high = sorted((float(one), float(other)))
    if "e" not in one + other and "0" not in (one, other):
        return high <= 2.0 * low or high - low <= _LAST_DECIMAL
    return high <= ROUNDING or high <= 2.0 * low


def _same(one: str, other: str) -> bool:
    """Whether two cells or lines agree: their words and counts, and their figures to a factor of two."""
    if one == other:
        return True
    a, b = (_NUMBER.findall(text) for text in (one, other))
    # Three figures that are all rounding are written as one.
    if len(a) == 1:
        a *= max(len(b), 1)
    if len(b) == 1:
        b *= len(a)
    words = {re.sub(r"#( / #)*", "#", _NUMBER.sub("#", text)) for text in (one, other)}
    return len(words) == 1 and len(a) == len(b) and all(map(_close, a, b))


def differences(written: str, computed: str) -> list[str]:
    """Lines that differ in their words, their counts, or by more than a factor of two in a figure."""
    found = []
    for number, (one, other) in enumerate(zip_longest(written.splitlines(), computed.splitlines()), 1):
        if one is not None and other is not None:
            cells = one.split("|"), other.split("|")
            if len(cells[0]) == len(cells[1]) and all(map(_same, *cells)):
                continue
        found.append(f"line {number}: {one!r} is written, {other!r} computed")
    return found

"""What is remarked on the rows of a trend, in words."""

from __future__ import annotations

import numpy as np

from interstage import _core
from interstage.errors import WrongArgument

#: The remark of this layer, which alone knows the barometer; the others are those of the core.
BAROMETER = 1 << 31
_BAROMETER_TEXT = "the barometer reads no pressure of the atmosphere"


def remark_text(status: int) -> str:
    """Put the remarks of a row's status into words.

    Parameters
    ----------
    status : int
        An element of `TrendResult.status`.

    Returns
    -------
    str
        The remarks, or ``"ok"``.

    Examples
    --------
    >>> import interstage
    >>> interstage.remark_text(0), interstage.remark_text(5)
    ('ok', 'a reading is missing; a single reading jumped')
    """
    if isinstance(status, bool) or not isinstance(status, (int, np.integer)) or not 0 <= status < 1 << 32:
        raise WrongArgument(
            f"status must be an element of TrendResult.status, got {status!r}", argument="status"
        )
    bits = int(status)
    if not bits & BAROMETER:
        return _core._trend_status_text(bits)
    others = bits & ~BAROMETER
    return f"{_core._trend_status_text(others)}; {_BAROMETER_TEXT}" if others else _BAROMETER_TEXT


def remarks() -> dict[str, int]:
    """List every remark a row can carry.

    Returns
    -------
    dict
        Words of the remark -> its bit in the status.

    Examples
    --------
    >>> import interstage
    >>> interstage.remarks()["the machine is off"]
    8
    """
    return {**{text: bits for bits, text in _core._trend_remarks()}, _BAROMETER_TEXT: BAROMETER}

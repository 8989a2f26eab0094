"""Quality of every reading of a table, and rows whose readings contradict each other. No row is dropped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _charts_flags
from interstage._axis import Axis, BoolArray, FloatArray, axis
from interstage._frames import Container, Texts
from interstage._impossible import impossible_rows, suspects, words_of
from interstage._progress import bar
from interstage._quantities import limits as limits_of
from interstage._readings import Readings
from interstage._shown import Shown
from interstage._spikes import spikes
from interstage.errors import WrongArgument

__all__ = ["Quality", "assess_quality", "quality_flags", "quality_text"]

Flags = npt.NDArray[np.uint8]

MISSING, COMMUNICATION, OUT_OF_RANGE, SPIKE, STUCK, OFF, DENORMAL, TEXT = (1 << bit for bit in range(8))
#: Flags of readings that are not to be used.
BAD = MISSING | COMMUNICATION | OUT_OF_RANGE | SPIKE | STUCK
_WORDS = {
    "missing": MISSING,
    "communication loss": COMMUNICATION,
    "out of physical range": OUT_OF_RANGE,
    "spike": SPIKE,
    "stuck": STUCK,
    "machine off": OFF,
    "denormal zero": DENORMAL,
    "text that is no number": TEXT,
}

#: Smallest normal number of IEEE 754 binary32: what is smaller and not zero is a zero gone through the wrong
#: format.
_SMALLEST_NORMAL = 2.0**-126
#: Fewest repeats of a reading that stands still.
_REPEATS = 10
#: Readings, rows times columns, from which a bar shows the progress: some two seconds.
_LONG = 5_000_000
#: Quantities that may well stand still in good order.
_MAY_STAND = ("vane_position", "shaft_speed", "evaporator_liquid_level", "power_factor", "purge_pump_time")


def quality_flags() -> dict[str, int]:
    """List the flags that a reading can carry.

    Returns
    -------
    dict
        Words of the flag -> its bit. A reading that carries none is good; "machine off" and "denormal zero"
        (a number below 1.2e-38, a zero passed on in a wrong format) say something of a reading that is no
        fault. "text that is no number" says why a reading is missing.

    Examples
    --------
    >>> import interstage
    >>> interstage.quality_flags()["spike"]
    8
    """
    return dict(_WORDS)


def quality_text(flags: int) -> str:
    """Put the flags of a reading into words.

    Parameters
    ----------
    flags : int
        An element of `Quality.flags`.

    Returns
    -------
    str

    Examples
    --------
    >>> import interstage
    >>> interstage.quality_text(0), interstage.quality_text(40)
    ('good', 'spike; machine off')
    """
    if isinstance(flags, bool) or not isinstance(flags, (int, np.integer)) or not 0 <= flags < 1 << 8:
        raise WrongArgument(f"flags must be an element of Quality.flags, got {flags!r}", argument="flags")
    return "; ".join(words for words, bit in _WORDS.items() if int(flags) & bit) or "good"


class Quality(Shown):
    """What is to be said about every reading and every row of a table; made by `assess_quality`.

    All tables are of the kind that came in, with its index and one entry for every row.
    """

    def __init__(
        self,
        container: Container,
        flags: dict[str, Flags],
        rows: npt.NDArray[np.uint32],
        si: dict[str, Any],
        off: BoolArray,
        line: Axis,
    ) -> None:
        self.container = container
        self._flags = flags
        self._rows = rows
        self._si = si
        #: Rows in which the machine is off.
        self.off = off
        #: Time of the rows.
        self.line = line

    def __reduce__(self) -> tuple[Any, ...]:
        return Quality, (self.container, self._flags, self._rows, self._si, self.off, self.line)

    def __len__(self) -> int:
        return len(self._rows)

    @property
    def flags(self) -> Any:
        """One column a reading: its flags as bits, 0 where it is good; see `quality_flags`."""
        return self.container.table(dict(self._flags))

    @property
    def good(self) -> Any:
        """One column a reading: whether it may be used. A reading of a machine that is off may."""
        return self.container.table({name: (bits & BAD) == 0 for name, bits in self._flags.items()})

    @property
    def values(self) -> Any:
        """The readings in SI units, NaN where they may not be used."""
        return self.container.table(
            {name: np.where(self._flags[name] & BAD, np.nan, values) for name, values in self._si.items()}
        )

    @property
    def running(self) -> Any:
        """Whether the machine runs; a row whose power is not known counts as the row before it."""
        return self.container.column(~self.off, "running")

    @property
    def readings(self) -> tuple[str, ...]:
        """Names of the readings."""
        return tuple(self._si)

    def reading(self, name: str) -> tuple[FloatArray, BoolArray]:
        """One reading in SI, and whether each of its entries may be used, as arrays."""
        if name not in self._si:
            raise WrongArgument(
                f"{name!r} is not read; the readings are {', '.join(self._si)}", argument="name"
            )
        return np.asarray(self._si[name]), (self._flags[name] & BAD) == 0

    @property
    def rows(self) -> Any:
        """Impossible states of each row as bits, 0 where there is none; see `impossible_states`."""
        return self.container.column(self._rows, "rows")

    @property
    def row_text(self) -> Any:
        """Impossible states of each row in words, and "ok"."""
        return self.container.column(self._by_row(words_of), "row_text")

    @property
    def suspects(self) -> Any:
        """Readings that make the states of the row impossible.

        Of several states in a row the readings that most of them share; empty where nothing is impossible.
        """
        return self.container.column(self._by_row(lambda bits: suspects(bits, tuple(self._si))), "suspects")

    def _by_row(self, words: Any) -> Any:
        codes, where = np.unique(self._rows, return_inverse=True)
        return np.array([words(int(code)) for code in codes], dtype=object)[where]

    def over_time(self, ax: Any = None, *, readings: Sequence[str] | None = None) -> Any:
        """Draw which reading carries which flag, and when; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional
        readings : sequence of str, optional
            Which readings; all unless given.

        Returns
        -------
        matplotlib Axes
            A row for each reading, one for rows that contradict themselves and one for the machine being off;
            stretches without rows are hatched. Long tables are drawn in 400 steps of time, each with every
            flag that is in it. Times with a zone are those of UTC; of a column of times the days since the
            first row.

        Raises
        ------
        UnknownOption
            If there is no such reading.
        """
        return _charts_flags.flags_over_time(self, readings, _WORDS, BAD, ax)

    def counts(self) -> dict[str, dict[str, int]]:
        """Count flags.

        Returns
        -------
        dict
            Reading -> words of the flag -> rows that carry it.
        """
        return {
            name: {words: int(np.count_nonzero(bits & bit)) for words, bit in _WORDS.items()}
            for name, bits in self._flags.items()
        }

    def __repr__(self) -> str:
        bad = sum(int(np.count_nonzero(bits & BAD)) for bits in self._flags.values())
        impossible = int(np.count_nonzero(self._rows))
        return (
            f"Quality({len(self)} rows, {bad} of {len(self) * len(self._flags)} readings bad, "
            f"{impossible} rows impossible)"
        )


def assess_quality(
    table: Any,
    readings: Readings,
    *,
    time: str | None = None,
    minimum_power: float = 0.0,
    running: Any = None,
    devices: Mapping[str, Sequence[str]] | None = None,
    limits: Mapping[str, tuple[float, float]] | None = None,
    longest_gap: float | None = None,
    longest_spike: float = 60.0,
    stuck_after: float = 6 * 3600.0,
    tolerance: float = 1.0,
    progress: bool | None = None,
) -> Quality:
    """Tell the quality of every reading and the rows whose readings contradict each other.

    Parameters
    ----------
    table : pandas.DataFrame, polars.DataFrame or mapping of columns
        In any order; the rows are looked at in the order of time.
    readings : Readings
    time : str, optional
        Column or index level of the time: times, or numbers of seconds. A pandas index of times unless given.
    minimum_power : float, optional
        Motor input power in W up to which the machine is off; up to 1 W it always is.
    running : array of bool, optional
        Whether the machine runs, where another column tells that better than the power.
    devices : mapping, optional
        Name -> quantities that come through one device: where all of them read zero, its communication is
        lost. Without it that is told where all thermometers, or all readings, are exactly zero in their own
        units.
    limits : mapping, optional
        Quantity -> (lowest, highest) in SI, in place of those by its kind, the refrigerant and the water.
    longest_gap : float, optional
        Longest step that is no gap, s; three usual steps (the median) unless given.
    longest_spike : float, optional
        Longest stretch of one value, s, that may be a spike: one that leaves both its neighbors, which agree,
        by more than 2 K or 15 % of them, three times their distance and ten usual changes of the column. A
        single reading may always be one. The first and the last reading of a stretch without gaps never are.
        Common practice, no published source.
    stuck_after : float, optional
        Time in operation, s, after which a reading that repeats itself to the last digit is stuck; infinite
        for logs that hold changes only. Common practice, no published source.
    tolerance : float, optional
        What temperatures may contradict each other, K, before a row counts as impossible.
    progress : bool, optional
        Whether a bar shows the progress, which needs tqdm; unless given, only of long tables in a
        terminal or a notebook.

    Returns
    -------
    Quality

    Raises
    ------
    WrongArgument
        If a column or the time is missing, or an argument is of a wrong kind.

    Examples
    --------
    >>> import interstage
    >>> readings = interstage.Readings(
    ...     {"in": ("chilled_water_entering", "degC"), "out": ("chilled_water_leaving", "degC")}
    ... )
    >>> table = {"t": [0.0, 60.0, 120.0], "in": [12.0, -99.4, 6.0], "out": [7.0, 7.0, 11.0]}
    >>> quality = interstage.assess_quality(table, readings, time="t")
    >>> [interstage.quality_text(bits) for bits in quality.flags["chilled_water_entering"]]
    ['good', 'out of physical range', 'good']
    >>> quality.row_text.tolist(), quality.suspects[2]
    (['ok', 'ok', 'chilled water warms'], 'chilled_water_entering, chilled_water_leaving')
    """
    if not isinstance(readings, Readings):
        raise WrongArgument(f"readings must be Readings, got {type(readings).__name__}", argument="readings")
    for name, value in (
        ("minimum_power", minimum_power),
        ("tolerance", tolerance),
        ("stuck_after", stuck_after),
    ):
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not value >= 0.0:
            raise WrongArgument(f"{name} must be a number from 0, got {value!r}", argument=name)
    texts: dict[str, Texts] = {}
    container, raw, si = readings.arrays(table, texts)
    rows = len(next(iter(si.values())))
    line = axis(table, time, rows, longest_gap)
    off_below = max(float(minimum_power), 1.0)
    flags: dict[str, Flags] = {}
    columns = {name: column for name, (column, *_) in readings._all().items()}
    bounds = _bounds(readings, si, limits or {}, off_below)
    for name, values in si.items():
        bits = np.zeros(rows, dtype=np.uint8)
        bits[np.isnan(raw[name])] |= MISSING
        if columns[name] in texts:
            bits[texts[columns[name]].rows] |= TEXT
        tiny = (np.abs(raw[name]) < _SMALLEST_NORMAL) & (raw[name] != 0.0)
        bits[tiny] |= DENORMAL
        low, high = bounds[name]
        with np.errstate(invalid="ignore"):
            bits[(values < low) | (values > high)] |= OUT_OF_RANGE
        # A gauge whose barometer is missing tells nothing.
        bits[np.isnan(values)] |= MISSING
        flags[name] = bits
    _lost_communication(readings, raw, flags, devices)
    kinds = readings.kinds

    def jumps(name: str) -> None:
        bits = flags[name]
        usable = (bits[line.order] & BAD) == 0
        found = spikes(si[name][line.order], usable, line, kinds[name], longest_spike)
        bits[line.order[found]] |= SPIKE

    # What tells whether the machine runs comes first, without its spikes.
    tells = next((name for name in ("power", "motor_current") if name in flags), None)
    if tells is not None:
        jumps(tells)
    power = readings.power_of(si)
    off = _off(power, None if tells is None else flags[tells], running, off_below, line, rows)
    for name in bar(list(flags), progress, rows * len(flags) > _LONG, "reading"):
        bits = flags[name]
        if name != tells:
            jumps(name)
        bits[off] |= OFF
        if name not in _MAY_STAND:
            _stuck(raw[name], bits, off, line, stuck_after)
    usable_si = {name: np.where(flags[name] & BAD, np.nan, values) for name, values in si.items()}
    if power is not None and "power" not in usable_si:
        usable_si["power"] = np.where(flags["motor_current"] & BAD, np.nan, power)
    states = np.zeros(rows, dtype=np.uint32)
    ordered = {name: values[line.order] for name, values in usable_si.items()}
    states[line.order] = impossible_rows(ordered, readings.refrigerant, readings, ~off[line.order], tolerance)
    return Quality(container, flags, states, si, off, line)


def _bounds(
    readings: Readings, si: Mapping[str, Any], given: Mapping[str, tuple[float, float]], off_below: float
) -> dict[str, tuple[float, float]]:
    unknown = [name for name in given if name not in si]
    if unknown:
        raise WrongArgument(f"limits: no column is declared for {', '.join(unknown)}", argument="limits")
    for name, pair in given.items():
        try:
            low, high = (float(end) for end in pair)
        except (TypeError, ValueError):
            low = high = np.nan
        if isinstance(pair, str) or not low <= high:
            raise WrongArgument(
                f"limits of {name} must be (lowest, highest), got {pair!r}", argument="limits"
            )
    bounds = {}
    for name, kind in readings.kinds.items():
        low, high = limits_of(name, kind, readings.refrigerant, readings.loop_of(name))
        if name == "power":
            low = -off_below
        bounds[name] = given.get(name, (low, high))
    return bounds


def _lost_communication(
    readings: Readings,
    raw: Mapping[str, FloatArray],
    flags: Mapping[str, Flags],
    devices: Mapping[str, Sequence[str]] | None,
) -> None:
    """Flag zeros that stand in all readings of a device at once."""
    kinds = readings.kinds
    thermometers = [name for name in raw if kinds[name] == "K"]
    groups = [list(raw), thermometers] if devices is None else [list(names) for names in devices.values()]
    for names in groups:
        unknown = [name for name in names if name not in raw]
        if unknown:
            raise WrongArgument(
                f"devices: no column is declared for {', '.join(unknown)}", argument="devices"
            )
        # Flows and powers of a machine that is off may all be zero; thermometers may not.
        if len(names) < 2 or not any(name in thermometers for name in names):
            continue
        present = np.array([~np.isnan(raw[name]) for name in names])
        zero = np.array([np.abs(raw[name]) < _SMALLEST_NORMAL for name in names])
        lost = (zero | ~present).all(axis=0) & (zero.sum(axis=0) >= 2)
        for name in raw if devices is None else names:
            flags[name][lost & (np.abs(raw[name]) < _SMALLEST_NORMAL)] |= COMMUNICATION


def _off(
    power: FloatArray | None, bits: Flags | None, running: Any, off_below: float, line: Axis, rows: int
) -> BoolArray:
    """Rows in which the machine is off; one whose power is not known counts as the row before it."""
    if running is not None:
        told = np.asarray(running)
        if told.shape != (rows,) or told.dtype.kind != "b":
            raise WrongArgument(
                f"running must hold one truth value for each of the {rows} rows, got {told.dtype} of shape "
                f"{told.shape}",
                argument="running",
            )
        return ~told
    off = np.zeros(rows, dtype=bool)
    if power is None or bits is None:
        return off
    known = ((bits & BAD) == 0)[line.order]
    last = np.maximum.accumulate(np.where(known, np.arange(known.size), -1))
    with np.errstate(invalid="ignore"):
        below = power[line.order] <= off_below
    off[line.order] = (last >= 0) & below[last]
    return off


def _stuck(raw: FloatArray, bits: Flags, off: BoolArray, line: Axis, stuck_after: float) -> None:
    """Flag readings that repeat themselves to the last digit for a time in operation."""
    usable = np.flatnonzero((bits[line.order] & BAD) == 0)
    if usable.size < _REPEATS:
        return
    rows = line.order[usable]
    values = raw[rows]
    starts = np.concatenate([[True], values[1:] != values[:-1]])
    stretch = np.cumsum(starts) - 1
    operated = np.where(off[rows], 0.0, line.held()[usable])
    long = np.bincount(stretch, weights=operated) >= stuck_after
    often = np.bincount(stretch, weights=~off[rows]) >= _REPEATS
    bits[rows[(long & often)[stretch]]] |= STUCK

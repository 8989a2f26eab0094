"""Columns by quantity: figures and readings side by side in SI, found again by name and unit."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core, _needed, units
from interstage._declared import barometer_column, to_si
from interstage._frames import table_columns
from interstage._trend import Trend
from interstage.errors import OutOfRange, UnknownOption, WrongArgument

FloatArray = npt.NDArray[np.float64]

_FAHRENHEIT = units.fahrenheit_difference_from_kelvin_difference(1.0)

#: Unit in a column's name -> conversion to SI base units.
_TO_SI: dict[str, Callable[[Any], Any]] = {
    "K": lambda value: value,
    "degC": units.kelvin_from_celsius,
    "degF": units.kelvin_from_fahrenheit,
    "F": units.kelvin_difference_from_fahrenheit_difference,
    "Pa": lambda value: value,
    "kPa": units.pascal_from_kilopascal,
    "psia": units.pascal_from_psia,
    "W": lambda value: value,
    "kW": units.watt_from_kilowatt,
    "ton": units.watt_from_ton,
    "W/K": lambda value: value,
    "kW/K": units.watt_from_kilowatt,
    "Btu/(h F)": lambda value: units.watt_from_btu_per_hour(value) * _FAHRENHEIT,
    "kg/s": lambda value: value,
    "lb/min": units.kilogram_per_second_from_pound_per_minute,
    "m3/s": lambda value: value,
    "m3/h": units.cubic_meter_per_second_from_cubic_meter_per_hour,
    "L/s": units.cubic_meter_per_second_from_liter_per_second,
    "gpm": units.cubic_meter_per_second_from_gpm,
    "kW/ton": lambda value: value,
    "-": lambda value: value,
}


def pandas_frame(argument: str, frame: Any) -> Any:
    """Refuse what is no pandas DataFrame."""
    pandas = _needed.pandas()
    if not isinstance(frame, pandas.DataFrame):
        found = type(frame).__name__
        if type(frame).__module__.startswith("polars"):
            found = f"a {found} of polars: pass its to_pandas()"
        raise WrongArgument(f"{argument} must be a pandas DataFrame, got {found}", argument=argument)
    return frame


def refuse_below(argument: str, value: float, minimum: float, unit: str, *, above: bool = False) -> None:
    """Refuse a number below a limit, or at it where it must be above, and what is no number."""
    if isinstance(value, (bool, np.bool_)) or not isinstance(value, (int, float, np.number)):
        raise WrongArgument(f"{argument} must be a number, got {value!r}", argument=argument)
    if value > minimum or (value == minimum and not above):
        return
    limit = f"above {minimum:g}" if above else f"at least {minimum:g}"
    raise OutOfRange(
        f"{argument} must be {limit} {unit}, got {value}",
        argument=argument,
        value=value,
        minimum=minimum,
        maximum=math.inf,
        unit=unit,
        reason=limit,
    )


def plain(column: Any) -> str:
    """Name of a column without the unit in it."""
    return str(column).split(" [", 1)[0]


def has(frame: Any, quantity: str) -> bool:
    """Tell whether a frame holds a quantity."""
    return any(plain(column) == quantity for column in frame.columns)


def values(frame: Any, quantity: str) -> FloatArray:
    """Values of a quantity in SI base units, from the column ``quantity`` (SI) or ``quantity [unit]``.

    Parameters
    ----------
    frame : pandas.DataFrame
    quantity : str

    Returns
    -------
    array
    """
    found = [column for column in frame.columns if plain(column) == quantity]
    if len(found) != 1:
        what = "has no column" if not found else f"has {len(found)} columns"
        raise WrongArgument(
            f"the frame {what} of {quantity}; it is called '{quantity} [unit]', as `analysed` calls it",
            argument="frame",
        )
    try:
        if np.issubdtype(getattr(frame[found[0]].dtype, "type", object), np.complexfloating):
            raise TypeError
        numbers: FloatArray = frame[found[0]].to_numpy(dtype=np.float64, na_value=np.nan)
    except (TypeError, ValueError):
        raise WrongArgument(
            f"column {found[0]!r} must hold numbers, got {frame[found[0]].dtype}", argument="frame"
        ) from None
    unit = str(found[0])[len(quantity) + 2 : -1]
    if not unit:
        return numbers
    if unit not in _TO_SI:
        raise UnknownOption(
            f"unit of column {found[0]!r} must be one of {', '.join(_TO_SI)}, got {unit!r}",
            argument="frame",
            value=unit,
            options=tuple(_TO_SI),
        )
    converted: FloatArray = np.asarray(_TO_SI[unit](numbers), dtype=np.float64)
    return converted


def rows_chosen(argument: str, frame: Any, where: Any) -> npt.NDArray[np.bool_]:
    """Turn a mask of rows into an array of bool; all rows unless given."""
    if where is None:
        return np.ones(len(frame), dtype=bool)
    pandas = _needed.pandas()
    if isinstance(where, pandas.Series):
        if not where.index.equals(frame.index):
            raise WrongArgument(f"{argument} must have the index of the frame", argument=argument)
        where = where.fillna(False)
    chosen = np.asarray(where)
    if chosen.dtype != bool:
        try:
            same = np.array_equal(chosen, chosen.astype(bool))
        except (TypeError, ValueError):
            same = False
        if not same:
            raise WrongArgument(f"{argument} must hold truth values, got {chosen.dtype}", argument=argument)
        chosen = chosen.astype(bool)
    if chosen.shape != (len(frame),):
        raise WrongArgument(
            f"{argument} must have one truth value a row, {len(frame)}, got the shape {chosen.shape}",
            argument=argument,
        )
    return chosen


def analysed(trend: Trend, table: Any, *, progress: bool | None = None) -> Any:
    """Analyse a table and put every figure and every usable reading side by side in SI base units.

    Parameters
    ----------
    trend : Trend
    table : pandas.DataFrame
        Rows in the order of time.
    progress : bool, optional
        As in `Trend.analyse`.

    Returns
    -------
    pandas.DataFrame
        With the index of the table. Columns are named with their unit: figures of `TrendResult` as
        ``condensing_temperature [K]``, readings as ``condenser_water_flow [m3/s]`` (missing where they are
        missing, out of range or a spike), ``chilled_water_range [K]``, ``condenser_water_range [K]`` and
        ``apparent_gas_pressure [Pa]``: pressure in the condenser less saturation pressure at the temperature
        of the liquid line, the partial pressure of non-condensable gas only where nothing is subcooled.
        Last comes ``status``.

    Examples
    --------
    >>> import interstage, pandas
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)]
    ... )
    >>> trend = interstage.Trend(
    ...     circuit,
    ...     {"condenser_pressure": ("p", "kPa"), "liquid_line_temperature": ("t", "degC")},
    ... )
    >>> frame = interstage.analysed(trend, pandas.DataFrame({"p": [937.24], "t": [35.0]}))
    >>> round(float(frame["subcooling [K]"].iloc[0]), 2)
    2.0
    """
    pandas = _needed.pandas()
    table = pandas_frame("table", table)
    result = trend.analyse(table, progress=progress)
    columns: dict[str, Any] = {}
    for figure in result.figures:
        columns[f"{figure} [{_core._figure_unit(figure)[0]}]"] = result._values(figure)
    readings = _readings(trend, table, result)
    for name, found in readings.items():
        unit = _core._reading(name)[1]
        columns.setdefault(f"{name} [{unit}]", found)
    for water in ("chilled_water", "condenser_water"):
        ends = [readings.get(f"{water}_{end}") for end in ("entering", "leaving")]
        if ends[0] is not None and ends[1] is not None:
            across = ends[1] - ends[0]
            columns[f"{water}_range [K]"] = across if water == "condenser_water" else -across
    liquid = readings.get("liquid_line_temperature")
    if liquid is not None:
        refrigerant = trend.circuit.refrigerant
        saturated: Any = refrigerant.saturation(T=liquid)
        condensing: Any = refrigerant.saturation(T=result._values("condensing_temperature"))
        pressure = readings.get("condenser_pressure", np.full(len(table), np.nan))
        pressure = np.where(np.isnan(pressure), np.asarray(condensing.p), pressure)
        columns["apparent_gas_pressure [Pa]"] = pressure - np.asarray(saturated.p)
    columns["status"] = result._bits()
    return pandas.DataFrame(columns, index=table.index)


def _readings(trend: Trend, table: Any, result: Any) -> dict[str, FloatArray]:
    """Usable readings of a table in SI, by quantity."""
    barometer = trend._barometer
    wanted: Iterable[str] = {column for column, _ in trend._readings.values()}
    if isinstance(barometer, tuple):
        wanted = {*wanted, barometer[0]}
    _, columns = table_columns(table, sorted(wanted))
    around: Any = barometer
    if isinstance(barometer, tuple):
        around = barometer_column(barometer[1], columns[barometer[0]])[0]
    readings = {}
    for name, (column, unit) in trend._readings.items():
        si = np.asarray(to_si(_core._reading(name)[1], unit, columns[column], around), dtype=np.float64)
        readings[name] = np.where(np.asarray(result.quality(name)) == "good", si, np.nan)
    return readings


def with_swings(frame: Any, rows: int = 12) -> Any:
    """Add how much power, condensing temperature and tank pressures swing from row to row.

    The swing is the root of half the mean square of successive differences (von Neumann 1941; from memory):
    the standard deviation of what comes and goes, and hardly anything of a slow ramp.

    Parameters
    ----------
    frame : pandas.DataFrame
        As `analysed` gives it: rows in the order of time, in equal steps.
    rows : int, optional
        Rows in the window that ends with each row; at least 3.

    Returns
    -------
    pandas.DataFrame
        The frame with ``power_swing [W]``, ``condensing_temperature_swing [K]`` and
        ``stage_2_tank_pressure_exponent_swing [-]``, as far as their quantities are there; NaN where a row of
        the window is missing.

    Examples
    --------
    >>> import interstage, pandas
    >>> frame = pandas.DataFrame({"power [W]": [100e3, 104e3] * 10})
    >>> float(interstage.with_swings(frame)["power_swing [W]"].iloc[-1].round(1))
    2828.4
    """
    pandas = _needed.pandas()
    frame = pandas_frame("frame", frame)
    refuse_below("rows", rows, 3, "rows")
    added = {}
    for column in frame.columns:
        quantity = plain(column)
        if quantity in ("power", "condensing_temperature") or quantity.endswith("_tank_pressure_exponent"):
            unit = {"power": "W", "condensing_temperature": "K"}.get(quantity, "-")
            steps = pandas.Series(np.diff(values(frame, quantity), prepend=np.nan) ** 2)
            added[f"{quantity}_swing [{unit}]"] = np.sqrt(0.5 * steps.rolling(rows - 1).mean()).to_numpy()
    return frame.assign(**added)


def per_row(argument: str, value: Any, frame: Any) -> FloatArray:
    """Spread a finite number over all rows, or check that there is one for each."""
    wanted = f"{argument} must be a finite number, or one for each of {len(frame)} rows"
    try:
        each = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise WrongArgument(wanted, argument=argument) from None
    if each.shape not in ((), (len(frame),)) or not np.isfinite(each).all():
        raise WrongArgument(wanted, argument=argument)
    spread: FloatArray = np.broadcast_to(each, (len(frame),)).copy()
    return spread


def row_hours(frame: Any, hours: Any = None, longest: float | None = None) -> FloatArray:
    """Hours that each row stands for.

    Parameters
    ----------
    frame : pandas.DataFrame
    hours : float or sequence of float, optional
        Hours of each row. Unless given, a row holds until the next one, by the times of the index.
    longest : float, optional
        Most hours that a row may hold; 1.5 times the median step unless given, so that a gap is no time.

    Returns
    -------
    array
    """
    pandas = _needed.pandas()
    if hours is not None:
        each = per_row("hours", hours, frame)
        if not (each >= 0.0).all():
            raise WrongArgument(f"hours must not be negative, got {each.min():g}", argument="hours")
        return each
    if not isinstance(frame.index, pandas.DatetimeIndex):
        raise WrongArgument("give hours=: the index of the frame holds no times", argument="hours")
    if frame.index.hasnans or not frame.index.is_monotonic_increasing or not frame.index.is_unique:
        raise WrongArgument(
            "the times of the index must increase, without gaps in them and without repeats", argument="frame"
        )
    moments = frame.index if frame.index.tz is None else frame.index.tz_convert("UTC").tz_localize(None)
    steps = np.diff(moments.to_numpy()) / np.timedelta64(3600, "s") * 1.0
    if not len(steps):
        rows = "a single row" if len(frame) else "a frame without rows"
        raise WrongArgument(f"give hours=: {rows} has no step of time", argument="hours")
    usual = float(np.median(steps))
    most = 1.5 * usual if longest is None else longest
    held: FloatArray = np.minimum(np.append(steps, usual), most)
    return held


def block_labels(frame: Any, block: Any) -> npt.NDArray[np.int64]:
    """Number the blocks of rows that lean on each other: steps of time, or labels of one a row."""
    pandas = _needed.pandas()
    if isinstance(block, str):
        if not isinstance(frame.index, pandas.DatetimeIndex):
            raise WrongArgument(
                f"block {block!r} needs times in the index; give one label a row instead", argument="block"
            )
        if frame.index.hasnans:
            raise WrongArgument("the index of the frame has a row without a time (NaT)", argument="frame")
        times = frame.index
        try:
            # Days are those of the wall clock; shorter steps run through the changes of the clock.
            if times.tz is not None:
                size = pandas.Timedelta(pandas.tseries.frequencies.to_offset(block))
                within = bool(size % pandas.Timedelta(days=1))
                times = (times.tz_convert("UTC") if within else times).tz_localize(None)
            if not pandas.Timedelta(pandas.tseries.frequencies.to_offset(block)) > pandas.Timedelta(0):
                raise ValueError(f"{block!r} is not above 0")
            labels = times.floor(block)
        except (TypeError, ValueError) as error:
            raise WrongArgument(f"block must be a step of time: {error}", argument="block") from None
    else:
        labels = np.asarray(block)
        if labels.shape != (len(frame),):
            raise WrongArgument(
                f"block must be a step of time or one label a row ({len(frame)})", argument="block"
            )
    numbers: npt.NDArray[np.int64] = pandas.factorize(labels)[0].astype(np.int64)
    return numbers

"""The card of saturation pressures against temperature, as gauges read them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

import numpy as np
import numpy.typing as npt

from interstage import _core, _needed
from interstage._arrays import as_number, numbers
from interstage._tables import Table
from interstage.errors import NotFinite, OutOfRange, UnknownOption, WrongArgument

_FloatArray = npt.NDArray[np.float64]

_CAUTION = (
    "Estimates for analysis and teaching: no protection, no charging instruction and no license to open a "
    "circuit. Local codes and licensed practice rule."
)

#: Highest and lowest altitude of a machine, m: those of the standard atmosphere that the library knows.
_HIGHEST, _LOWEST = 11_000.0, -5_000.0

#: Most rows of a card.
_MOST_ROWS = 10_000

#: Temperature scale -> unit, conversions from and to K, rows of a card for want of a choice.
_SCALES: dict[str, tuple[str, Callable[[Any], Any], Callable[[Any], Any], range]] = {
    "fahrenheit": (
        "degF",
        _core.kelvin_from_fahrenheit,
        _core.fahrenheit_from_kelvin,
        range(-20, 151, 5),
    ),
    "celsius": ("degC", _core.kelvin_from_celsius, _core.celsius_from_kelvin, range(-30, 66, 5)),
}

#: Gauge -> unit and decimals of pressures, conversion from Pa and the barometer.
_GAUGES: dict[str, tuple[str, int, Callable[[Any, Any], Any]]] = {
    "psig": ("psig", 1, _core.psig_from_pascal),
    "kPa": ("kPa gauge", 1, _core.kilopascal_gauge_from_pascal),
    "bar": ("bar gauge", 2, _core.bar_gauge_from_pascal),
}

#: Decimals of a vacuum in inches of mercury.
_INCHES = 1


@dataclass(frozen=True, eq=False)
class PressureTable:
    """Saturation pressures against temperature, as a gauge at the machine reads them.

    Made by `Refrigerant.pressure_table`. A gauge in psig has a column for pressures above the barometer and
    one for inches of mercury of vacuum below it; one of the two is empty. A gauge in kPa or bar counts below
    zero there, and the word vacuum stands beside it. Of a blend the bubble point belongs to liquid
    (subcooling), the dew point to vapor (superheat).

    Attributes
    ----------
    refrigerant : Refrigerant
    temperatures : numpy.ndarray
        K.
    bubble_pressures, dew_pressures : numpy.ndarray
        Pa absolute; the same for a pure fluid.
    barometer : float
        Pa absolute.
    barometer_source : str
        Where the barometer comes from, in words.

    Examples
    --------
    >>> import interstage
    >>> card = interstage.Refrigerant("R-407C").pressure_table(celsius=[26.85], gauge="bar")
    >>> print(card.to_csv(), end="")
    temperature [degC],bubble [bar gauge],bubble vacuum,dew [bar gauge],dew vacuum
    26.85,11.49,,9.74,
    """

    refrigerant: _core.Refrigerant
    temperatures: _FloatArray
    bubble_pressures: _FloatArray
    dew_pressures: _FloatArray
    barometer: float
    barometer_source: str
    _scale: str
    _shown: _FloatArray
    _gauge: str

    def __post_init__(self) -> None:
        for column in (self.temperatures, self.bubble_pressures, self.dew_pressures, self._shown):
            column.flags.writeable = False

    def __len__(self) -> int:
        return self.temperatures.size

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, PressureTable):
            return NotImplemented
        same = (self.refrigerant, self.barometer, self._scale, self._gauge) == (
            other.refrigerant,
            other.barometer,
            other._scale,
            other._gauge,
        )
        return same and np.array_equal(self._shown, other._shown)

    def __hash__(self) -> int:
        return hash((self.refrigerant.name, self.barometer, self._scale, self._gauge, len(self)))

    def _gauge_columns(self, words: str, pressures: _FloatArray) -> dict[str, Any]:
        """Columns of one saturation line, not rounded; nothing where a column does not apply."""
        unit, decimals, gauge = _GAUGES[self._gauge]
        above = np.asarray(gauge(pressures, self.barometer))
        # What rounds to the barometer is no vacuum.
        below = np.round(above, decimals) < 0.0
        prefix = f"{words} " if words else ""
        if self._gauge != "psig":
            column = f"{words or 'pressure'} [{unit}]"
            return {column: above, f"{prefix}vacuum": ["vacuum" if each else "" for each in below]}
        vacuum = np.asarray(_core.inhg_vacuum_from_pascal(pressures, self.barometer))
        return {
            f"{words or 'pressure'} [psig]": np.where(below, math.nan, above),
            f"{prefix}vacuum [inHg]": np.where(below, vacuum, math.nan),
        }

    def _columns(self) -> dict[str, Any]:
        columns: dict[str, Any] = {f"temperature [{_SCALES[self._scale][0]}]": self._shown}
        if self.refrigerant.composition is None:
            return {**columns, **self._gauge_columns("", self.dew_pressures)}
        bubble = self._gauge_columns("bubble", self.bubble_pressures)
        return {**columns, **bubble, **self._gauge_columns("dew", self.dew_pressures)}

    def to_frame(self) -> Any:
        """Give the card as a pandas DataFrame, not rounded, units in the names of its columns.

        Returns
        -------
        pandas.DataFrame
            NaN where a column does not apply.
        """
        return _needed.pandas().DataFrame(self._columns())

    def _cells(self) -> dict[str, list[str]]:
        cells = {}
        for name, values in self._columns().items():
            decimals = _INCHES if name.endswith("[inHg]") else _GAUGES[self._gauge][1]
            if name.startswith("temperature"):
                cells[name] = [f"{value:g}" for value in values]
            elif isinstance(values, list):
                cells[name] = values
            else:
                # No minus before a zero.
                rounded = np.round(values, decimals) + 0.0
                cells[name] = ["" if math.isnan(value) else f"{value:.{decimals}f}" for value in rounded]
        return cells

    def to_csv(self, path: str | Path | None = None) -> str:
        """Write the card as comma-separated text, rounded as it is shown.

        Parameters
        ----------
        path : str or pathlib.Path, optional
            A file to write it to.

        Returns
        -------
        str
        """
        cells = self._cells()
        rows = [tuple(cells), *zip(*cells.values(), strict=True)]
        text = "".join(",".join(row) + "\n" for row in rows)
        if path is not None:
            Path(path).write_text(text, encoding="utf-8", newline="\n")
        return text

    def _table(self) -> Table:
        inches = _core.inhg_absolute_from_pascal(self.barometer)
        barometer = (
            f"{_core.psia_from_pascal(self.barometer):.2f} psia ({inches:.2f} inHg)"
            if self._gauge == "psig"
            else f"{_core.kilopascal_from_pascal(self.barometer):.2f} kPa"
        )
        caption = (
            f"{self.refrigerant.name}: saturation pressure by gauge; barometer {barometer}, "
            f"{self.barometer_source}"
        )
        blend = (
            "Bubble: liquid, from which subcooling counts; dew: vapor, from which superheat counts. "
            if self.refrigerant.composition is not None
            else ""
        )
        # Above the barometer throughout, nothing is said of a vacuum, and the other way round.
        cells = {name: column for name, column in self._cells().items() if any(column)}
        inches_of = any(name.endswith("[inHg]") for name in cells)
        vacuum = "Vacuum counts down from the barometer. " if inches_of else ""
        return Table(caption, cells, f"{blend}{vacuum}{_CAUTION}")

    def to_html(self) -> str:
        """Write the card as an HTML table.

        Returns
        -------
        str
        """
        return self._table().html()

    def _repr_html_(self) -> str:
        return self.to_html()

    def __str__(self) -> str:
        return self._table().text()

    def __repr__(self) -> str:
        ends = f"{self._shown.min():g} to {self._shown.max():g} {_SCALES[self._scale][0]}"
        return f"PressureTable({self.refrigerant.name}, {ends}, {len(self)} rows, {_GAUGES[self._gauge][0]})"


def pressure_table(
    refrigerant: _core.Refrigerant, fahrenheit: Any, celsius: Any, gauge: Any, barometer: Any, altitude: Any
) -> PressureTable:
    """Make the card of a refrigerant; `Refrigerant.pressure_table` says what the arguments are."""
    if fahrenheit is not None and celsius is not None:
        raise WrongArgument("give temperatures in one scale, not in both", argument="fahrenheit, celsius")
    if gauge is not None and gauge not in tuple(_GAUGES):
        message = f"gauge must be one of {', '.join(_GAUGES)}, got {gauge!r}"
        raise UnknownOption(message, argument="gauge", value=str(gauge), options=tuple(_GAUGES))
    given = fahrenheit if celsius is None else celsius
    scale = "celsius" if celsius is not None or (given is None and gauge in ("kPa", "bar")) else "fahrenheit"
    pressure, source = _pressure_of_air(barometer, altitude)
    shown, kelvin = _temperatures(refrigerant, scale, given)
    saturation = refrigerant.saturation(T=kelvin, errors="raise")
    return PressureTable(
        refrigerant,
        kelvin,
        np.array(saturation.liquid.p),
        np.array(saturation.vapor.p),
        pressure,
        source,
        scale,
        shown,
        gauge or ("kPa" if scale == "celsius" else "psig"),
    )


def _single(argument: str, value: Any, unit: str) -> float:
    number = as_number(argument, value)
    if number is None:
        message = f"{argument} must be a single number, got {type(value).__name__}"
        raise WrongArgument(message, argument=argument)
    if not math.isfinite(number):
        raise NotFinite(
            f"{argument} must be finite, got {number}", argument=argument, value=number, unit=unit
        )
    return number


def _refuse(argument: str, value: float, limits: tuple[float, float], unit: str, reason: str) -> NoReturn:
    minimum, maximum = limits
    raise OutOfRange(
        f"{argument} {value:g} {unit} is outside {minimum:.6g} to {maximum:.6g} {unit}: {reason}",
        argument=argument,
        value=value,
        minimum=minimum,
        maximum=maximum,
        unit=unit,
        reason=reason,
    )


def _pressure_of_air(barometer: Any, altitude: Any) -> tuple[float, str]:
    """Pressure of the air at the machine, Pa absolute, and where it comes from."""
    if barometer is not None and altitude is not None:
        raise WrongArgument("give a barometer or an altitude, not both", argument="barometer, altitude")
    pressures = _core.standard_barometer_from_altitude
    limits = (pressures(_HIGHEST), pressures(_LOWEST))
    if barometer is not None:
        number = _single("barometer", barometer, "Pa")
        if not limits[0] <= number <= limits[1]:
            _refuse("barometer", number, limits, "Pa", "absolute pressure of the air at a machine")
        return number, "as given"
    if altitude is None:
        return _core.STANDARD_ATMOSPHERE, "assumed: standard atmosphere at sea level"
    height = _single("altitude", altitude, "m")
    if not _LOWEST <= height <= _HIGHEST:
        _refuse("altitude", height, (_LOWEST, _HIGHEST), "m", "U.S. Standard Atmosphere 1976")
    feet = _core.foot_from_meter(height)
    return pressures(height), f"standard atmosphere at {height:.0f} m ({feet:.0f} ft)"


def _temperatures(refrigerant: _core.Refrigerant, scale: str, given: Any) -> tuple[_FloatArray, _FloatArray]:
    """Temperatures of the rows, in the scale of the card and in K."""
    unit, to_kelvin, from_kelvin, rows = _SCALES[scale]
    lowest, highest = _ends(refrigerant)
    if given is None:
        shown = np.array([float(row) for row in rows if lowest <= to_kelvin(float(row)) <= highest])
        if not shown.size:
            message = f"{refrigerant.name} is not saturated at the usual temperatures: give those of the card"
            raise WrongArgument(message, argument=scale)
        return shown, np.asarray(to_kelvin(shown))
    if isinstance(given, range):
        # One longer than it may be is refused below, without a list of all.
        given = list(given[: _MOST_ROWS + 1])
    shown = numbers(scale, given).ravel().copy()
    if not shown.size:
        raise WrongArgument(f"{scale} holds no temperatures", argument=scale)
    if shown.size > _MOST_ROWS:
        _refuse(scale, float(shown.size), (1.0, float(_MOST_ROWS)), "rows", "one for each temperature")
    limits = (from_kelvin(lowest), from_kelvin(highest))
    for value in shown.tolist():
        if not math.isfinite(value):
            message = f"{scale} must be finite, got {value}"
            raise NotFinite(message, argument=scale, value=value, unit=unit)
        if not limits[0] <= value <= limits[1]:
            _refuse(scale, value, limits, unit, f"saturation line of {refrigerant.name}")
    return shown, np.asarray(to_kelvin(shown))


def _ends(refrigerant: _core.Refrigerant) -> tuple[float, float]:
    """Ends of the saturation line, K."""
    highest = refrigerant.critical_temperature
    return refrigerant.minimum_saturation_temperature, (
        refrigerant.maximum_temperature if math.isnan(highest) else highest
    )

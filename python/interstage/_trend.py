"""Trend exports: columns with declared units in, figures of every row out.

Units and containers live here; the thermodynamics is in the compiled core.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from interstage import _core, units
from interstage._frames import Container, table_columns
from interstage.errors import Inconsistent, UnknownOption, WrongArgument

__all__ = ["Trend", "TrendResult", "remarks", "remark_text"]

_TEMPERATURE: dict[str, Callable[[Any], Any]] = {
    "K": lambda value: value,
    "degC": units.kelvin_from_celsius,
    "degF": units.kelvin_from_fahrenheit,
}
_ABSOLUTE: dict[str, Callable[[Any], Any]] = {
    "Pa": lambda value: value,
    "kPa": units.pascal_from_kilopascal,
    "bar": units.pascal_from_bar,
    "psia": units.pascal_from_psia,
    "inHg absolute": units.pascal_from_inhg_absolute,
}
_GAUGE: dict[str, Callable[[Any, Any], Any]] = {
    "psig": units.pascal_from_psig,
    "kPa gauge": units.pascal_from_kilopascal_gauge,
    "bar gauge": units.pascal_from_bar_gauge,
    "inHg vacuum": units.pascal_from_inhg_vacuum,
}
_FLOW: dict[str, Callable[[Any], Any]] = {
    "m3/s": lambda value: value,
    "m3/h": units.cubic_meter_per_second_from_cubic_meter_per_hour,
    "L/s": units.cubic_meter_per_second_from_liter_per_second,
    "gpm": units.cubic_meter_per_second_from_gpm,
}
_POWER: dict[str, Callable[[Any], Any]] = {
    "W": lambda value: value,
    "kW": units.watt_from_kilowatt,
    "hp": units.watt_from_horsepower,
    "ton": units.watt_from_ton,
    "Btu/h": units.watt_from_btu_per_hour,
}
_BY_SI: dict[str, dict[str, Callable[[Any], Any]]] = {"K": _TEMPERATURE, "Pa": _ABSOLUTE, "m3/s": _FLOW, "W": _POWER}

_FAHRENHEIT_PER_KELVIN = units.fahrenheit_difference_from_kelvin_difference(1.0)

#: SI unit of a figure -> (unit shown, conversion) in either system; temperatures and their differences apart.
_SHOWN: dict[str, dict[str, tuple[str, Callable[[Any], Any]]]] = {
    "SI": {
        "K": ("degC", units.celsius_from_kelvin),
        "K difference": ("K", lambda value: value),
        "W": ("kW", units.kilowatt_from_watt),
        "W/K": ("kW/K", units.kilowatt_from_watt),
        "kg/s": ("kg/s", lambda value: value),
    },
    "I-P": {
        "K": ("degF", units.fahrenheit_from_kelvin),
        "K difference": ("F", units.fahrenheit_difference_from_kelvin_difference),
        "W": ("ton", units.ton_from_watt),
        "W/K": ("Btu/(h F)", lambda value: units.btu_per_hour_from_watt(value) / _FAHRENHEIT_PER_KELVIN),
        "kg/s": ("lb/min", units.pound_per_minute_from_kilogram_per_second),
    },
}
#: Powers that are no heat are shown in kW in both systems.
_POWERS = {"compression_power"}

_QUALITY = np.array(["good", "missing", "out of range", "spike"], dtype=object)


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
    >>> interstage.remark_text(0), interstage.remark_text(5)
    ('ok', 'a reading is missing; a single reading jumped')
    """
    return _core._trend_status_text(int(status))


def remarks() -> dict[str, int]:
    """List every remark a row can carry.

    Returns
    -------
    dict
        Words of the remark -> its bit in the status.

    Examples
    --------
    >>> interstage.remarks()["the machine is off"]
    8
    """
    return {text: bits for bits, text in _core._trend_remarks()}


class Trend:
    """How the trend export of one machine is read and analysed.

    Parameters
    ----------
    circuit : Circuit
        The machine. Its stage efficiencies and pressure rule say what is expected of it.
    readings : mapping
        Quantity -> (column of the table, unit of that column). Quantities: ``evaporator_pressure``,
        ``evaporator_saturation_temperature``, ``condenser_pressure``, ``condenser_saturation_temperature``,
        ``liquid_line_temperature``, ``suction_temperature``, ``discharge_temperature``, ``chilled_water_entering``,
        ``chilled_water_leaving``, ``chilled_water_flow``, ``condenser_water_entering``, ``condenser_water_leaving``,
        ``condenser_water_flow``, ``capacity``, ``power`` (motor input), ``tank_pressure`` and ``tank_temperature`` (of the tank that
        feeds the second stage), ``stage_3_tank_pressure`` and so on. Units: K, degC, degF; Pa, kPa, bar, psia,
        inHg absolute; psig, kPa gauge, bar gauge, inHg vacuum; m3/s, m3/h, L/s, gpm; W, kW, hp, ton, Btu/h.
    barometer : float or (str, str), optional
        Pressure around the gauges, Pa, or a column with its unit; needed for gauge units, unless `altitude` is given.
    altitude : float, optional
        Altitude in m, for the barometer of the standard atmosphere. Sea level is never assumed.
    minimum_power : float, optional
        Motor input power in W up to which the machine counts as off.
    drive_efficiency : float, optional
        Share of the motor input that reaches the refrigerant; the measured saving needs it.
    discharge_temperature_uncertainty, widest_efficiency_interval : float, optional
        Half width in K of what the discharge thermometer may err, and the widest half interval of a stage
        efficiency that is still reported.
    capacity_uncertainty : float, optional
        Relative half width of the water-side capacity.
    tank_exponent_tolerance : float, optional
        How far a tank may stand from its expected pressure exponent and still count as working.

    Examples
    --------
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.7)], interstages=[]
    ... )
    >>> trend = interstage.Trend(
    ...     circuit,
    ...     readings={"condenser_pressure": ("cond", "psig"), "condenser_water_leaving": ("cw out", "degF")},
    ...     altitude=0.0,
    ... )
    >>> result = trend.analyse({"cond": [122.0, 400.0], "cw out": [94.0, 95.0]})
    >>> [round(float(x), 2) for x in result["condenser_approach"]]
    [2.63, 35.42]
    >>> result.unavailable["refrigerant_lift"]
    'needs evaporator_pressure or evaporator_saturation_temperature'
    """

    def __init__(
        self,
        circuit: _core.Circuit,
        readings: Mapping[str, tuple[str, str]],
        *,
        barometer: float | tuple[str, str] | None = None,
        altitude: float | None = None,
        minimum_power: float = 0.0,
        drive_efficiency: float | None = None,
        discharge_temperature_uncertainty: float = 0.5,
        widest_efficiency_interval: float = 0.05,
        capacity_uncertainty: float = 0.035,
        tank_exponent_tolerance: float = 0.08,
    ) -> None:
        self._analysis = _core.TrendAnalysis(
            circuit,
            minimum_power=minimum_power,
            drive_efficiency=drive_efficiency,
            discharge_temperature_uncertainty=discharge_temperature_uncertainty,
            widest_efficiency_interval=widest_efficiency_interval,
            capacity_uncertainty=capacity_uncertainty,
            tank_exponent_tolerance=tank_exponent_tolerance,
        )
        self._circuit = circuit
        self._readings = _declared(readings)
        self._barometer = _barometer(self._readings, barometer, altitude)

    @property
    def circuit(self) -> _core.Circuit:
        """The machine."""
        return self._circuit

    @property
    def figures(self) -> list[str]:
        """Names of the figures of this machine."""
        return self._analysis.figures

    def needs(self, figure: str) -> list[list[str]]:
        """Tell which readings a figure needs.

        Parameters
        ----------
        figure : str

        Returns
        -------
        list of list of str
            All groups are needed, of each group any one.

        Raises
        ------
        Inconsistent
            If there is no such figure.
        """
        return self._analysis.needs(figure)

    def analyse(self, table: Any, *, threads: int | None = None) -> TrendResult:
        """Analyse every row of a table.

        Rows must be in the order of time: a reading that jumps away from both its neighbors is recognised by
        them. A bad row stops nothing.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns
        threads : int, optional
            Number of threads of this call; see `set_threads`.

        Returns
        -------
        TrendResult

        Raises
        ------
        WrongArgument
            If a declared column is missing, or holds texts, truth values or dates.
        WrongLength
            If columns differ in length.
        """
        barometer = self._barometer
        wanted = {column for column, _ in self._readings.values()}
        if isinstance(barometer, tuple):
            wanted.add(barometer[0])
        container, columns = table_columns(table, sorted(wanted))
        if isinstance(barometer, tuple):
            barometer = _ABSOLUTE[barometer[1]](columns[barometer[0]])
        si = []
        for quantity, (column, unit) in self._readings.items():
            values = columns[column]
            if unit in _GAUGE:
                values = _GAUGE[unit](values, barometer)
            else:
                values = _BY_SI[_core._reading(quantity)[1]][unit](values)
            si.append((quantity, np.ascontiguousarray(values, dtype=np.float64)))
        return TrendResult(self, container, self._analysis.analyse(si, threads))

    def __repr__(self) -> str:
        declared = ", ".join(f"{name}: {column!r} [{unit}]" for name, (column, unit) in self._readings.items())
        return f"Trend({self._circuit!r}, {declared})"


class TrendResult:
    """Figures of every row of a trend, with what is to be said about rows, readings and figures.

    Made by `Trend.analyse`. Figures are read by name, ``result["cop"]``, in SI units and in the container that came
    in; NaN where a figure cannot be told.
    """

    def __init__(self, trend: Trend, container: Container, table: _core.TrendTable) -> None:
        self._trend = trend
        self._container = container
        self._table = table

    def __len__(self) -> int:
        return len(self._table)

    def __getitem__(self, figure: str) -> Any:
        """One figure in every row, SI units."""
        return self._container.column(self._values(figure), figure)

    def _values(self, figure: str) -> Any:
        values = self._table.column(figure)
        if values is None:
            reason = f"the circuit has no {figure}"
            raise Inconsistent(
                f"figure and circuit contradict each other: {reason}", arguments="figure and circuit", reason=reason
            )
        return values

    @property
    def figures(self) -> list[str]:
        """Names of the figures."""
        return self._trend.figures

    @property
    def status(self) -> Any:
        """Remarks on each row as bits, 0 where all is well; see `remarks` and `remark_text`."""
        return self._container.column(self._table.status, "status")

    @property
    def status_text(self) -> Any:
        """Remarks on each row in words."""
        return self._container.column(self._words(), "status_text")

    def _words(self) -> Any:
        codes, rows = np.unique(self._table.status, return_inverse=True)
        return np.array([remark_text(code) for code in codes], dtype=object)[rows]

    def rows_with(self, remark: str) -> Any:
        """Find the rows that carry a remark.

        Parameters
        ----------
        remark : str
            Its words, as in `remarks`.

        Returns
        -------
        array of bool
            In the container that came in.
        """
        known = remarks()
        if remark not in known:
            raise UnknownOption(
                f"remark must be one of {', '.join(map(repr, known))}, got {remark!r}",
                argument="remark",
                value=remark,
                options=tuple(known),
            )
        return self._container.column((self._table.status & known[remark]) != 0, remark)

    def quality(self, reading: str) -> Any:
        """Tell the quality of a reading in each row: good, missing, out of range or spike.

        Parameters
        ----------
        reading : str
            The quantity, as it was declared.

        Returns
        -------
        array of str
            In the container that came in.
        """
        codes = self._table.quality(reading)
        if codes is None:
            reason = f"no column is declared for {reading}"
            raise Inconsistent(
                f"reading and table contradict each other: {reason}", arguments="reading and table", reason=reason
            )
        return self._container.column(_QUALITY[codes], reading)

    @property
    def unavailable(self) -> dict[str, str]:
        """Figures that no row can have -> why: which readings are lacking."""
        return self._table.unavailable

    def frame(self, *, units: str = "SI", figures: Sequence[str] | None = None) -> Any:
        """Put figures side by side, each with its unit in the column's name, and the status last.

        Parameters
        ----------
        units : str, optional
            ``"SI"`` (degC, K, kW, kW/K, kg/s) or ``"I-P"`` (degF, F, ton, Btu/(h F), lb/min).
        figures : sequence of str, optional
            Which figures; all that at least one row has a value for unless given.

        Returns
        -------
        pandas.DataFrame, polars.DataFrame or dict of arrays
            The kind of table that came in, with its index.
        """
        if units not in _SHOWN:
            raise UnknownOption(
                f"units must be 'SI' or 'I-P', got {units!r}", argument="units", value=units, options=tuple(_SHOWN)
            )
        columns: dict[str, Any] = {}
        for figure in self.figures if figures is None else figures:
            values = self._values(figure)
            if figures is None and np.isnan(values).all():
                continue
            unit, values = shown(figure, values, units)
            columns[f"{figure} [{unit}]"] = values
        columns["status"] = self._table.status
        columns["status_text"] = self._words()
        return self._container.table(columns)

    def __repr__(self) -> str:
        told = [figure for figure in self.figures if not np.isnan(self._values(figure)).all()]
        return f"TrendResult({len(self)} rows, {len(told)} of {len(self.figures)} figures told)"


def shown(figure: str, values: Any, system: str) -> tuple[str, Any]:
    """Convert a figure from SI to the units people read in a system of units.

    Parameters
    ----------
    figure : str
    values : array
        In SI.
    system : str
        ``"SI"`` or ``"I-P"``.

    Returns
    -------
    (str, array)
        The unit and the values in it.
    """
    unit, difference = _core._figure_unit(figure)
    key = "K difference" if difference else unit
    if figure in _POWERS:
        return "kW", units.kilowatt_from_watt(values)
    name, convert = _SHOWN[system].get(key, (unit, lambda same: same))
    return name, convert(values)


def _declared(readings: Mapping[str, tuple[str, str]]) -> dict[str, tuple[str, str]]:
    """Check quantities and units; full names of quantities."""
    if not isinstance(readings, Mapping):
        raise WrongArgument(
            f"readings must be a mapping of quantity to (column, unit), got {type(readings).__name__}", argument="readings"
        )
    declared: dict[str, tuple[str, str]] = {}
    for quantity, pair in readings.items():
        name, si = _core._reading(quantity)
        if name in declared:
            raise WrongArgument(f"readings: {name} is declared twice", argument="readings")
        if not isinstance(pair, (tuple, list)) or len(pair) != 2 or not all(isinstance(part, str) for part in pair):
            raise WrongArgument(f"readings[{quantity!r}] must be (column, unit), got {pair!r}", argument="readings")
        column, unit = pair
        known = [*_BY_SI[si], *(_GAUGE if si == "Pa" else ())]
        if unit not in known:
            raise UnknownOption(
                f"unit of {quantity} must be one of {', '.join(known)}, got {unit!r}",
                argument=quantity,
                value=unit,
                options=tuple(known),
            )
        declared[name] = (column, unit)
    return declared


def _barometer(
    readings: Mapping[str, tuple[str, str]], barometer: float | tuple[str, str] | None, altitude: float | None
) -> float | tuple[str, str] | None:
    """Where the pressure around the gauges comes from."""
    if barometer is not None and altitude is not None:
        raise WrongArgument("give barometer or altitude, not both", argument="barometer, altitude")
    if isinstance(barometer, tuple):
        if len(barometer) != 2 or barometer[1] not in _ABSOLUTE:
            raise UnknownOption(
                f"unit of the barometer must be one of {', '.join(_ABSOLUTE)}, got {barometer!r}",
                argument="barometer",
                value=str(barometer),
                options=tuple(_ABSOLUTE),
            )
        return barometer
    if altitude is not None:
        pressure = units.standard_barometer_from_altitude(altitude)
        if np.isnan(pressure):
            raise Inconsistent(
                f"altitude contradicts the standard atmosphere: {altitude} m is not between -5000 m and 11000 m",
                arguments="altitude",
                reason=f"{altitude} m is not between -5000 m and 11000 m",
            )
        return float(pressure)
    if barometer is not None:
        if not 30e3 <= barometer <= 120e3:
            raise Inconsistent(
                f"barometer is no pressure of the atmosphere: {barometer} Pa is not between 30000 Pa and 120000 Pa",
                arguments="barometer",
                reason=f"{barometer} Pa is not between 30000 Pa and 120000 Pa",
            )
        return float(barometer)
    gauge = [f"{name} [{unit}]" for name, (_, unit) in readings.items() if unit in _GAUGE]
    if gauge:
        raise WrongArgument(
            f"{', '.join(gauge)}: a gauge unit needs barometer= (Pa) or altitude= (m)", argument="barometer"
        )
    return None

"""Readings: which column of an export is what, in which unit, measured where, and the same table in SI."""

from __future__ import annotations

import warnings
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from interstage import _core
from interstage._declared import barometer_column, barometer_of, refuse_wrong_sign
from interstage._declaring import (
    CONDENSERS,
    TAPS,
    THERMOMETERS,
    declared_columns,
    loop,
    other_columns,
    positions,
    word,
)
from interstage._frames import Container, Texts, table_columns
from interstage._power import power_estimate
from interstage._quantities import converted, quantity
from interstage._shown import Shown
from interstage._trend import Trend
from interstage._water_loop import WaterLoop
from interstage.errors import WrongArgument

if TYPE_CHECKING:
    from interstage._quality import Quality

__all__ = ["Readings"]

#: Temperature -> saturation temperature, difference and its sign.
_DIFFERENCES = {
    "liquid_line_temperature": ("condenser_saturation_temperature", "liquid_subcooling", -1.0),
    "suction_temperature": ("evaporator_saturation_temperature", "suction_superheat", 1.0),
    "discharge_temperature": ("condenser_saturation_temperature", "discharge_superheat", 1.0),
}


class Readings(Shown):
    """Which column of an export holds which quantity, in which unit, and what else is known of them.

    Parameters
    ----------
    columns : mapping
        Column -> (quantity, unit). Quantities: those of `Trend`, and ``suction_superheat``,
        ``discharge_superheat``, ``liquid_subcooling`` (differences: K difference, F difference),
        ``oil_temperature``, ``oil_pressure``, ``outdoor_temperature``, ``motor_current`` (A),
        ``motor_voltage`` (between lines: V, kV), ``power_factor``, ``percent_of_rated_current``,
        ``vane_position``, ``evaporator_liquid_level`` (fraction, percent), ``shaft_speed`` (1/s, 1/min),
        ``purge_pump_time`` (s, min, h).
    others : mapping, optional
        Column -> unit, of columns that are no quantity of the machine but whose quality is to be told.
    barometer, altitude : optional
        As in `Trend`: a gauge unit needs one of them.
    refrigerant : Refrigerant or str, optional
        Narrows what pressures and temperatures can be at all.
    chilled_water, condenser_water : WaterLoop, optional
        What flows in the loops; plain water unless given.
    rated_voltage, rated_current, rated_power_factor : float, optional
        Nameplate of the motor (V between lines, A, fraction at rated load): what the power is estimated from
        where only a current is measured; see `power`.
    taps : mapping, optional
        Pressure -> where it is tapped: "shell", "suction pipe", "discharge pipe", "liquid line", "tank".
    thermometers : mapping, optional
        Temperature -> how its thermometer sits: "in the vapor", "under liquid", "in a well", "in the stream",
        "on the pipe", or "converted from a pressure", which makes it no reading of its own.
    condenser : str, optional
        ``"holds liquid"`` or ``"drains freely"``: evidence from subcooling needs to know.

    Raises
    ------
    WrongArgument
        If two columns claim one quantity, a unit or the barometer is missing, or an argument is of a wrong
        kind.
    UnknownOption
        If there is no such quantity or unit, or a difference of temperatures is given as a temperature.
    Inconsistent
        If a column's name ends in another unit than the declared one.

    Examples
    --------
    >>> import interstage
    >>> readings = interstage.Readings(
    ...     {"evap": ("evaporator_pressure", "inHg vacuum"), "out": ("chilled_water_leaving", "degF")},
    ...     altitude=0.0,
    ... )
    >>> table = readings.si({"evap": [18.7], "out": [44.0]})
    >>> round(float(table["evaporator_pressure"][0])), round(float(table["chilled_water_leaving"][0]), 2)
    (38000, 279.82)
    """

    def __init__(
        self,
        columns: Mapping[str, tuple[str, str]],
        *,
        others: Mapping[str, str] | None = None,
        barometer: float | tuple[str, str] | None = None,
        altitude: float | None = None,
        refrigerant: _core.Refrigerant | str | None = None,
        chilled_water: WaterLoop | None = None,
        condenser_water: WaterLoop | None = None,
        rated_voltage: float | None = None,
        rated_current: float | None = None,
        rated_power_factor: float | None = None,
        taps: Mapping[str, str] | None = None,
        thermometers: Mapping[str, str] | None = None,
        condenser: str | None = None,
    ) -> None:
        self._given = {name: value for name, value in locals().items() if name not in ("self", "columns")}
        self._declared = declared_columns(columns)
        self._others = other_columns(others or {}, self._declared)
        self._barometer = barometer_of(
            {name: (column, unit) for name, (column, unit, _) in self._all().items()},
            barometer,
            altitude,
        )
        self._refrigerant = _core.Refrigerant(refrigerant) if isinstance(refrigerant, str) else refrigerant
        self._loops = {
            "chilled_water": loop("chilled_water", chilled_water),
            "condenser_water": loop("condenser_water", condenser_water),
        }
        self._plate = (rated_voltage, rated_current, rated_power_factor)
        self._facts = {
            "taps": positions("taps", taps, TAPS, "Pa"),
            "thermometers": positions("thermometers", thermometers, THERMOMETERS, "K"),
            "condenser": word("condenser", condenser, CONDENSERS),
        }
        self._power = power_estimate(self.quantities, *self._plate)

    def _all(self) -> dict[str, tuple[str, str, str]]:
        """Quantity, or column of the others -> (column, unit, SI unit)."""
        return {**self._declared, **self._others}

    @property
    def quantities(self) -> tuple[str, ...]:
        """Quantities that a column is declared for."""
        return tuple(self._declared)

    @property
    def columns(self) -> dict[str, tuple[str, str]]:
        """Column -> (quantity, unit)."""
        return {column: (name, unit) for name, (column, unit, _) in self._declared.items()}

    @property
    def kinds(self) -> dict[str, str]:
        """Quantity, or column of the others -> SI unit of its values."""
        return {name: si for name, (_, _, si) in self._all().items()}

    @property
    def refrigerant(self) -> _core.Refrigerant | None:
        """The refrigerant, where it was declared."""
        return self._refrigerant

    def loop_of(self, name: str) -> WaterLoop:
        """What flows where a quantity is read; plain water outside of the loops."""
        return next((loop for part, loop in self._loops.items() if name.startswith(part)), WaterLoop())

    def power_of(self, si: Mapping[str, Any]) -> Any:
        """Motor power of readings in SI: read, or the middle of what the current tells, or None."""
        if "power" in si:
            return si["power"]
        return None if self._power is None else self._power.of(si)[0]

    @property
    def facts(self) -> dict[str, Any]:
        """What was declared about the places of the instruments and the condenser."""
        return {
            "taps": dict(self._facts["taps"]),
            "thermometers": dict(self._facts["thermometers"]),
            "condenser": self._facts["condenser"],
            **{name: loop for name, loop in self._loops.items()},
        }

    @property
    def undeclared(self) -> dict[str, str]:
        """Facts that are not declared -> what cannot be told without them."""
        missing = {}
        if self._facts["condenser"] is None:
            missing["condenser"] = (
                "whether it holds liquid or drains freely: evidence from subcooling is not used"
            )
        for name, (_, _, si) in self._declared.items():
            if si == "Pa" and name not in self._facts["taps"]:
                missing[name] = "where it is tapped: losses of pipes may count as losses of the compressor"
            if si == "K" and "saturation" in name and name not in self._facts["thermometers"]:
                missing[name] = (
                    "whether it is a thermometer or a pressure converted, and no reading of its own"
                )
        return missing

    def raw(self, table: Any, texts: dict[str, Texts] | None = None) -> tuple[Container, dict[str, Any], Any]:
        """Take the declared columns out of a table, in their own units, with the barometer in Pa.

        Texts that are no number are missing: `texts` is told of them by column, or else there is a warning.
        """
        found = {} if texts is None else texts
        wanted = {column for column, *_ in self._all().values()}
        barometer = self._barometer
        if isinstance(barometer, tuple):
            wanted.add(barometer[0])
        container, columns = table_columns(table, sorted(wanted), found)
        if texts is None and found:
            told = "; ".join(f"column {column!r}: {what}" for column, what in found.items())
            warnings.warn(f"texts count as missing: {told}", stacklevel=4)
        if isinstance(barometer, tuple):
            barometer, _ = barometer_column(barometer[1], columns[barometer[0]])
        values = {name: columns[column] for name, (column, *_) in self._all().items()}
        for name, (column, unit, _) in self._all().items():
            refuse_wrong_sign(column, unit, values[name])
        return container, values, barometer

    def arrays(
        self, table: Any, texts: dict[str, Texts] | None = None
    ) -> tuple[Container, dict[str, Any], dict[str, Any]]:
        """Give the declared columns in their own units and in SI."""
        container, raw, barometer = self.raw(table, texts)
        si = {name: converted(si, unit, raw[name], barometer) for name, (_, unit, si) in self._all().items()}
        return container, raw, si

    def si(self, table: Any) -> Any:
        """Give every reading in its SI unit, by the name of its quantity; no row is dropped.

        Where current, voltage and power factor are read, ``power`` follows from them. A power that only an
        interval is known of is not among them; see `power`.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns

        Returns
        -------
        pandas.DataFrame, polars.DataFrame or dict of arrays
            The kind of table that came in, with its index.
        """
        container, _, si = self.arrays(table)
        if self._reads_power:
            si["power"] = self.power_of(si)
        return container.table(si)

    def power(self, table: Any) -> Any:
        """Give the motor's input power and the interval it lies in, W.

        A power that is read is its own interval. From current, voltage between lines and power factor it is
        sqrt(3) V I pf, and its own interval too. Where voltage or power factor is not read, the nameplate
        stands in for it and the interval says how far that goes:

        - voltage: the rated voltage +/-10 % (the range motors are built for; from memory, NEMA MG 1);
        - power factor: at most that at rated load; at least sqrt(1 - (I_m / I)^2), as if the motor took at
          every load the reactive current I_m = I_rated sin(phi) of rated load. The reactive current at part
          load lies between that and the lower one of the idle motor, so the true power factor lies between.

        That holds for an induction motor on the line, without capacitors behind the ammeter and without a
        variable-speed drive. The middle is the mean of both ends.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns

        Returns
        -------
        pandas.DataFrame, polars.DataFrame or dict of arrays
            Columns ``power``, ``lowest``, ``highest``.

        Raises
        ------
        WrongArgument
            If nothing declared tells a power; percent of rated current does not.
        """
        container, _, si = self.arrays(table)
        if "power" in si:
            middle = low = high = si["power"]
        elif self._power is not None:
            middle, low, high = self._power.of(si)
        else:
            raise WrongArgument(_no_power(self.quantities), argument="power")
        return container.table({"power": middle, "lowest": low, "highest": high})

    def trend(self, circuit: _core.Circuit, **options: Any) -> Trend:
        """Set up the analysis of tables that `trend_table` makes.

        Parameters
        ----------
        circuit : Circuit
            The machine.
        **options
            Those of `Trend`, without its columns, barometer and loops.

        Returns
        -------
        Trend
        """
        names = [name for name in self._trend_names() if quantity(name).analysed]
        columns = {name: (name, quantity(name).si) for name in names}
        chilled, tower = self._loops["chilled_water"], self._loops["condenser_water"]
        return Trend(circuit, columns, chilled_water=chilled, condenser_water=tower, **options)

    def trend_table(self, table: Any, quality: Quality | None = None) -> Any:
        """Give the SI table that the analysis of `trend` takes.

        Superheat and subcooling that a controller worked out go back to temperatures where the saturation
        temperature that it worked with is read too. A power that only an interval is known of stays out.
        Texts that are no number are missing, with a warning that counts them.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns
        quality : Quality, optional
            Of the same table: readings that may not be used are left out of the rows.

        Returns
        -------
        pandas.DataFrame, polars.DataFrame or dict of arrays
            The kind of table that came in, with its index.
        """
        container, _, si = self.arrays(table)
        if quality is not None:
            if len(quality) != len(next(iter(si.values()))) or set(quality.readings) != set(si):
                raise WrongArgument(
                    "quality must be that of the same table and readings, as assess_quality gives it",
                    argument="quality",
                )
            si = {name: np.where(quality.reading(name)[1], values, np.nan) for name, values in si.items()}
        if self._reads_power:
            si["power"] = self.power_of(si)
        for name, (saturation, difference, sign) in self._from_differences().items():
            si[name] = si[saturation] + sign * si[difference]
        return container.table({name: si[name] for name in self._trend_names()})

    @property
    def _reads_power(self) -> bool:
        """Whether a power is read, or follows from what is, without an interval."""
        return "power" in self._declared or (self._power is not None and self._power.exact)

    def _from_differences(self) -> dict[str, tuple[str, str, float]]:
        """Temperatures that follow from a difference and the saturation temperature it was formed with."""
        return {
            name: parts
            for name, parts in _DIFFERENCES.items()
            if name not in self._declared and all(part in self._declared for part in parts[:2])
        }

    def _trend_names(self) -> list[str]:
        names = [name for name in self._declared if quantity(name).analysed]
        if self._reads_power and "power" not in names:
            names.append("power")
        names.extend(self._from_differences())
        return names

    def __reduce__(self) -> tuple[Any, ...]:
        return _readings, (self.columns, self._given)

    def __repr__(self) -> str:
        inside = ", ".join(f"{name}: {column!r} [{unit}]" for name, (column, unit, _) in self._all().items())
        return f"Readings({inside})"


def _readings(columns: Mapping[str, tuple[str, str]], given: dict[str, Any]) -> Readings:
    return Readings(columns, **given)


def _no_power(quantities: tuple[str, ...]) -> str:
    if "percent_of_rated_current" in quantities:
        return (
            "percent of rated current is neither load nor power: declare power, or motor_current with "
            "motor_voltage and power_factor, or motor_current and the motor's nameplate"
        )
    return (
        "no power is declared: declare power, or motor_current with motor_voltage and power_factor, or "
        "motor_current and the motor's nameplate (rated_voltage=, rated_current=, rated_power_factor=)"
    )

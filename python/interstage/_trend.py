"""Trend exports: columns with declared units in, figures of every row out.

Units and containers live here; the thermodynamics is in the compiled core.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._declared import barometer_column, barometer_of, declared, refuse_wrong_sign, to_si
from interstage._declaring import loop, refuse_other_unit
from interstage._frames import Container, table_columns
from interstage._instance import must_be
from interstage._progress import bar, blocks
from interstage._shown import Shown
from interstage._trend_result import GOOD, MISSING, OUT_OF_RANGE, RowFigures, TrendResult
from interstage._water_loop import WaterLoop
from interstage.errors import Inconsistent

FloatArray = npt.NDArray[np.float64]

#: Rows of a block, between two steps of the progress, and rows from which a bar shows it: some two seconds.
_BLOCK = 25_000
_LONG = 100_000


class Trend(Shown):
    """How the trend export of one machine is read and analysed.

    Parameters
    ----------
    circuit : Circuit
        The machine. Its stage efficiencies and pressure rule say what is expected of it.
    readings : mapping
        Quantity -> (column of the table, unit of that column). Quantities: ``evaporator_pressure``,
        ``evaporator_saturation_temperature``, ``condenser_pressure``, ``condenser_saturation_temperature``,
        ``liquid_line_temperature``, ``suction_temperature``, ``discharge_temperature``,
        ``chilled_water_entering``, ``chilled_water_leaving``, ``chilled_water_flow``,
        ``condenser_water_entering``, ``condenser_water_leaving``, ``condenser_water_flow``, ``capacity``,
        ``power`` (motor input), ``tank_pressure`` and ``tank_temperature`` (of the tank, or the boiling side
        of the closed economizer, that feeds the second stage), ``stage_3_tank_pressure`` and so on. Units: K,
        degC, degF; Pa, kPa, bar, psia, inHg absolute; psig, kPa gauge, bar gauge, inHg gauge, inHg vacuum;
        m3/s, m3/h, L/s, gpm; W, kW, hp, ton, Btu/h.
    barometer : float or (str, str), optional
        Pressure around the gauges, Pa, or a column with its unit; needed for gauge units, unless `altitude`
        is given. What a column has outside 30 to 120 kPa counts as missing and is remarked.
    altitude : float, optional
        Altitude in m, for the barometer of the standard atmosphere. Sea level is never assumed.
    minimum_power : float, optional
        Motor input power in W up to which the machine counts as off; up to 1 W it always does.
    drive_efficiency : float, optional
        Compression power per motor input power: what motor, gear and bearings do not lose, even where the
        refrigerant takes up their heat. The measured saving and the capacity from power need it.
    discharge_temperature_uncertainty, widest_efficiency_interval : float, optional
        Half width in K of what the discharge thermometer may err, and the widest half interval of a stage
        efficiency that is still reported.
    capacity_uncertainty : float, optional
        Relative half width of the water-side capacity.
    tank_exponent_tolerance : float, optional
        How far a tank may stand above its expected pressure exponent and still count as working; one that
        stands as far below it cannot tell.
    tank_exponents : sequence of float, optional
        Pressure exponents of the flash tanks in good order, lowest tank first: the machine's own baseline.
        Without it the circuit's rule for the interstage pressures says where a working tank stands.
    pressure_uncertainty : float, optional
        Relative half width of the pressures: at a lift too small for them a tank is no evidence.
    power_uncertainty : float, optional
        Relative half width of the power that reaches the refrigerant: power meter and drive efficiency. The
        evidence from the measured saving counts it, with `capacity_uncertainty` and the interval of the stage
        efficiency. Common practice, no published source.
    heat_balance_limit : float, optional
        How far the heat balance may be open, as a fraction of the heat rejected, before the row is remarked
        and no saving told; by the same fraction the work that the refrigerant shows may exceed the motor
        input. Common practice, no published source.
    rated_capacity, full_load_range : float, optional
        Capacity (W) and range of the chilled water (K) at full load, both or neither: the load of a row and
        the tolerance of its heat balance (`rating_tolerance`) need them.
    chilled_water, condenser_water : WaterLoop, optional
        What flows in the loops; plain water unless given.

    Notes
    -----
    Every arrangement is known. The flow is the liquid sent to the evaporator: capacity over what the whole
    circuit cools per kilogram of it, with liquid-suction exchanger, expanders and the refrigerant that cools
    the motor; hot-gas bypass is taken as shut. Three figures estimate the capacity: ``capacity`` from the
    chilled water, ``heat_rejected`` less power from the condenser water, and ``capacity_from_power``, which
    no water reading enters. ``lost_power`` is the motor input less the compression power that the refrigerant
    shows, with the errors of both: the two are never equal. The pressure of a flash tank is evidence for a
    working economizer; that of an intercooled tank or a closed economizer is not.

    A loop of brine or glycol is declared (`WaterLoop`): taken for plain water, its heat is wrong by the ratio
    of density times heat capacity. A flow counts where the water enters. A water temperature below 0.01 degC,
    or below the freezing point of the declared brine, is remarked and tells nothing.

    A vacuum of ``inHg vacuum`` is positive and counts downward from the barometer; exports of compound gauges
    write it negative: their unit is ``inHg gauge``. A column of vacuum that is mostly negative is refused.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"),
    ...     stages=[interstage.Stage(isentropic_efficiency=0.7)],
    ...     interstages=[],
    ... )
    >>> trend = interstage.Trend(
    ...     circuit,
    ...     readings={"condenser_pressure": ("cond", "psig"), "condenser_water_leaving": ("cw", "degF")},
    ...     altitude=0.0,
    ... )
    >>> result = trend.analyse({"cond": [122.0, 124.0], "cw": [94.0, 95.0]})
    >>> [round(float(x), 1) for x in result["condenser_approach"]]
    [2.8, 2.7]
    >>> result.unavailable["refrigerant_lift"]
    'needs evaporator_pressure or evaporator_saturation_temperature'
    """

    #: Rows before and after a part of a table that decide which of its readings jump: a part that is analysed
    #: with so many rows around it has the figures of the whole table.
    ROWS_BEFORE: ClassVar[int] = _core.TrendAnalysis.ROWS_BEFORE
    ROWS_AFTER: ClassVar[int] = _core.TrendAnalysis.ROWS_AFTER

    def __init__(
        self,
        circuit: _core.Circuit,
        readings: Mapping[str, tuple[str, str]],
        *,
        barometer: float | tuple[str, str] | list[str] | None = None,
        altitude: float | None = None,
        minimum_power: float = 0.0,
        drive_efficiency: float | None = None,
        discharge_temperature_uncertainty: float = 0.5,
        widest_efficiency_interval: float = 0.05,
        capacity_uncertainty: float = 0.035,
        tank_exponent_tolerance: float = 0.08,
        tank_exponents: Sequence[float] | None = None,
        pressure_uncertainty: float = 0.01,
        power_uncertainty: float = 0.03,
        heat_balance_limit: float = 0.15,
        rated_capacity: float | None = None,
        full_load_range: float | None = None,
        chilled_water: WaterLoop | None = None,
        condenser_water: WaterLoop | None = None,
    ) -> None:
        must_be("circuit", circuit, _core.Circuit)
        options: dict[str, Any] = {
            "minimum_power": minimum_power,
            "drive_efficiency": drive_efficiency,
            "discharge_temperature_uncertainty": discharge_temperature_uncertainty,
            "widest_efficiency_interval": widest_efficiency_interval,
            "capacity_uncertainty": capacity_uncertainty,
            "tank_exponent_tolerance": tank_exponent_tolerance,
            "tank_exponents": tank_exponents,
            "pressure_uncertainty": pressure_uncertainty,
            "power_uncertainty": power_uncertainty,
            "heat_balance_limit": heat_balance_limit,
        }
        rated = {"rated_capacity": rated_capacity, "full_load_range": full_load_range}
        rating = None
        if rated_capacity is not None and full_load_range is not None:
            rating = (rated_capacity, full_load_range)
        elif rated_capacity is not None or full_load_range is not None:
            reason = "one is given without the other"
            arguments = "rated_capacity and full_load_range"
            raise Inconsistent(
                f"{arguments} contradict each other: {reason}", arguments=arguments, reason=reason
            )
        self._loops = {
            "chilled_water": loop("chilled_water", chilled_water),
            "condenser_water": loop("condenser_water", condenser_water),
        }
        self._analysis = _core.TrendAnalysis(
            circuit,
            **options,
            rating=rating,
            chilled_brine=self._loops["chilled_water"]._brine,
            condenser_brine=self._loops["condenser_water"]._brine,
        )
        self._circuit = circuit
        self._readings = declared(readings)
        for column, unit in self._readings.values():
            refuse_other_unit(column, unit)
        self._barometer = barometer_of(self._readings, barometer, altitude)
        self._options = {"barometer": barometer, "altitude": altitude, **options, **rated, **self._loops}
        # No rows: what the circuit does not have is refused here and not later.
        self._without_rows = self._analysis.analyse(
            [(quantity, np.empty(0)) for quantity in self._readings], None, True
        )

    @property
    def circuit(self) -> _core.Circuit:
        """The machine."""
        return self._circuit

    @property
    def figures(self) -> list[str]:
        """Names of the figures of this machine."""
        return self._analysis.figures

    def needs(self, figure: str) -> list[list[str]]:
        """Tell which readings a figure can be told from.

        Parameters
        ----------
        figure : str

        Returns
        -------
        list of list of str
            Sets of readings; any one of them is enough.

        Raises
        ------
        Inconsistent
            If there is no such figure.
        """
        return self._analysis.needs(figure)

    def analyse(self, table: Any, *, progress: bool | None = None, threads: int | None = None) -> TrendResult:
        """Analyse every row of a table.

        Rows must be in the order of time: a reading that jumps away from both its neighbors is recognised by
        them and the `ROWS_BEFORE` rows before it. A bad row stops nothing. A long table is analysed in blocks
        of rows, each with so many rows around it that they have the figures of the whole table.

        Parameters
        ----------
        table : pandas.DataFrame, polars.DataFrame or mapping of columns
        progress : bool, optional
            Whether a bar shows the progress, which needs tqdm; unless given, only of long tables in a
            terminal or a notebook.
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
        Inconsistent
            If a column of vacuum is mostly negative.
        """
        container, columns, quality = self._si(table)
        return TrendResult(self, container, self._table(columns, progress, threads), quality)

    def _table(
        self, columns: list[tuple[str, FloatArray]], progress: bool | None, threads: int | None
    ) -> RowFigures:
        """Figures of SI columns, block by block."""
        rows = len(columns[0][1])
        told = RowFigures.empty(self, rows)
        for part in bar(blocks(rows, _BLOCK), progress, rows > _LONG, "block"):
            first = max(part.start - self.ROWS_BEFORE, 0)
            around = [(name, values[first : part.stop + self.ROWS_AFTER]) for name, values in columns]
            told.put(part, self._analysis.analyse(around, threads, True), part.start - first)
        return told

    def _si(
        self, table: Any
    ) -> tuple[Container, list[tuple[str, npt.NDArray[np.float64]]], npt.NDArray[Any] | None]:
        """Readings of a table as SI columns, and the quality of each entry of the barometer's column."""
        barometer = self._barometer
        wanted = {column for column, _ in self._readings.values()}
        if isinstance(barometer, tuple):
            wanted.add(barometer[0])
        container, columns = table_columns(table, sorted(wanted))
        around: Any = barometer
        quality = None
        if isinstance(barometer, tuple):
            column, unit = barometer
            around, wrong = barometer_column(unit, columns[column])
            quality = np.where(wrong, OUT_OF_RANGE, np.where(np.isnan(columns[column]), MISSING, GOOD))
        si = []
        for quantity, (column, unit) in self._readings.items():
            refuse_wrong_sign(column, unit, columns[column])
            values = to_si(_core._reading(quantity)[1], unit, columns[column], around)
            si.append((quantity, np.ascontiguousarray(values, dtype=np.float64)))
        return container, si, quality

    def __reduce__(self) -> tuple[Any, ...]:
        return _trend, (self._circuit, self._readings, self._options)

    def __repr__(self) -> str:
        columns = ", ".join(f"{name}: {column!r} [{unit}]" for name, (column, unit) in self._readings.items())
        return f"Trend({self._circuit!r}, {columns})"


def _trend(circuit: _core.Circuit, readings: Mapping[str, tuple[str, str]], options: dict[str, Any]) -> Trend:
    return Trend(circuit, readings, **options)

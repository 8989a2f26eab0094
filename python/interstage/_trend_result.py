"""Figures of every row of a trend, with what is to be said about them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage import _charts_trend, _core
from interstage._balance import LOADS, balance_by_load
from interstage._declared import shown
from interstage._frames import Container
from interstage._remarks import BAROMETER, remark_text, remarks
from interstage._row_cycle import row_cycle
from interstage._shown import Shown
from interstage._tables import checked_units
from interstage.errors import Inconsistent, UnknownOption

if TYPE_CHECKING:
    from interstage._trend import Trend

_QUALITY = np.array(["good", "missing", "out of range", "spike"], dtype=object)
GOOD, MISSING, OUT_OF_RANGE = 0, 1, 2


@dataclass(frozen=True)
class RowFigures:
    """Figures, remarks and qualities of all rows, filled in block by block; pickles."""

    columns: dict[str, npt.NDArray[np.float64]]
    status: npt.NDArray[np.uint32]
    qualities: dict[str, npt.NDArray[np.uint8]]
    unavailable: dict[str, str]
    assumptions: dict[str, str]

    @classmethod
    def empty(cls, trend: Trend, rows: int) -> RowFigures:
        """So many rows of a trend, to be filled in by `put`."""
        like = trend._without_rows
        return cls(
            {name: np.full(rows, np.nan) for name in trend.figures if like.column(name) is not None},
            np.zeros(rows, dtype=np.uint32),
            {name: np.zeros(rows, dtype=np.uint8) for name in trend._readings},
            like.unavailable,
            like.assumptions,
        )

    def put(self, at: slice, block: _core.TrendTable, skipped: int) -> None:
        """Fill in rows from a block, whose first ones are skipped."""
        of = slice(skipped, skipped + at.stop - at.start)
        for name, values in self.columns.items():
            if (found := block.column(name)) is not None:
                values[at] = found[of]
        self.status[at] = block.status[of]
        for name, codes in self.qualities.items():
            if (told := block.quality(name)) is not None:
                codes[at] = told[of]

    def __len__(self) -> int:
        return len(self.status)

    def column(self, figure: str) -> npt.NDArray[np.float64] | None:
        _core._figure_unit(figure)  # refuses what is no figure at all
        return self.columns[figure].copy() if figure in self.columns else None

    def quality(self, reading: str) -> npt.NDArray[np.uint8] | None:
        return self.qualities.get(_core._reading(reading)[0])


class TrendResult(Shown):
    """Figures of every row of a trend, with what is to be said about rows, readings and figures.

    Made by `Trend.analyse`. Figures are read by name, ``result["cop"]``, in SI units and in the container
    that came in; NaN where a figure cannot be told.
    """

    def __init__(
        self, trend: Trend, container: Container, table: RowFigures, barometer: npt.NDArray[Any] | None
    ) -> None:
        self._trend = trend
        self._container = container
        self._table = table
        #: Quality of each entry of the barometer's column.
        self._barometer = barometer

    def __reduce__(self) -> tuple[Any, ...]:
        return TrendResult, (self._trend, self._container, self._table, self._barometer)

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
                f"figure and circuit contradict each other: {reason}",
                arguments="figure and circuit",
                reason=reason,
            )
        return values

    @property
    def figures(self) -> list[str]:
        """Names of the figures."""
        return self._trend.figures

    @property
    def status(self) -> Any:
        """Remarks on each row as bits, 0 where all is well; see `remarks` and `remark_text`."""
        return self._container.column(self._bits(), "status")

    def _bits(self) -> npt.NDArray[np.uint32]:
        status: npt.NDArray[np.uint32] = self._table.status.copy()
        if self._barometer is None:
            return status
        barometer = np.where(self._barometer == OUT_OF_RANGE, BAROMETER, 0).astype(np.uint32)
        return np.bitwise_or(status, barometer)

    @property
    def status_text(self) -> Any:
        """Remarks on each row in words."""
        return self._container.column(self._words(), "status_text")

    def _words(self) -> Any:
        codes, rows = np.unique(self._bits(), return_inverse=True)
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
        return self._container.column((self._bits() & np.uint32(known[remark])) != 0, remark)

    def quality(self, reading: str) -> Any:
        """Tell the quality of a reading in each row: good, missing, out of range or spike.

        A spike jumps away from both its neighbors, by far more than the readings before it move. The first
        five and the last reading of a column and two readings in a row that jump together are never found as
        such.

        Parameters
        ----------
        reading : str
            The quantity, as it was declared, or ``"barometer"`` where that is a column.

        Returns
        -------
        array of str
            In the container that came in.
        """
        barometer = self._barometer if reading == "barometer" else None
        codes = self._table.quality(reading) if barometer is None else barometer
        if codes is None:
            reason = f"no column is declared for {reading}"
            raise Inconsistent(
                f"reading and table contradict each other: {reason}",
                arguments="reading and table",
                reason=reason,
            )
        return self._container.column(_QUALITY[codes], reading)

    @property
    def unavailable(self) -> dict[str, str]:
        """Figures that no row can have -> why: which readings are lacking."""
        return self._table.unavailable

    @property
    def assumptions(self) -> dict[str, str]:
        """Figures that rest on something no reading tells -> what that is."""
        return self._table.assumptions

    def heat_balance(self, loads: Sequence[float] = LOADS) -> Any:
        """Sum the heat balance up by load: bias, spread and tolerance apart from each other.

        Parameters
        ----------
        loads : sequence of float, optional
            Edges of the load bins, rising; capacity over rated capacity.

        Returns
        -------
        pandas.DataFrame, polars.DataFrame or dict of arrays
            One row a bin: ``load from [-]``, ``load to [-]`` (not in it), ``rows`` that have load and heat
            balance, their mean ``bias [-]`` and standard deviation ``spread [-]``, the mean
            ``tolerance [-]`` of the standard at these loads, and the share ``within tolerance [-]`` of the
            rows that have one. Fractions of the heat rejected. NaN where there is none.

        Raises
        ------
        Inconsistent
            If load or heat balance cannot be told, with what they need.
        """
        for figure in ("load", "heat_balance"):
            if figure in self.unavailable:
                reason = f"{figure} {self.unavailable[figure]}"
                raise Inconsistent(
                    f"heat balance and readings contradict each other: {reason}",
                    arguments="heat balance and readings",
                    reason=reason,
                )
        load, balance = self._values("load"), self._values("heat_balance")
        tolerance = self._values("heat_balance_tolerance")
        return self._container.other_rows(balance_by_load(load, balance, tolerance, loads))

    def cycle(self, row: int, *, stage_efficiency: float | None = None) -> _core.Cycle:
        """Solve the cycle that a row tells.

        The circuit of the trend between the two saturation temperatures of the row, with its superheat and
        subcooling (0 where they are not read), its economizers at the pressures read (by the rule of the
        circuit where they have no column) and one efficiency in all stages, that which the discharge
        temperature tells. Its COP is that of the refrigerant, capacity over ``compression_power``.

        Parameters
        ----------
        row : int
            Number of the row, from 0.
        stage_efficiency : float, optional
            To take in place of what the row tells, for trends without a discharge temperature.

        Returns
        -------
        Cycle
            With the capacity of the row; of 1 kg/s through the evaporator where it has none.

        Raises
        ------
        Undefined
            If the row has no cycle, with what is missing and its remarks.
        Inconsistent
            If no row of the trend can have one, with the readings it needs.
        OutOfRange
            If there is no such row.

        Examples
        --------
        >>> import interstage
        >>> stage = interstage.Stage(polytropic_efficiency=0.8)
        >>> circuit = interstage.Circuit.arranged(interstage.Refrigerant("R-134a"), "1 stage", stage=stage)
        >>> trend = interstage.Trend(
        ...     circuit,
        ...     {
        ...         "evaporator_pressure": ("evap", "kPa"),
        ...         "condenser_pressure": ("cond", "kPa"),
        ...         "discharge_temperature": ("t", "degC"),
        ...     },
        ... )
        >>> result = trend.analyse({"evap": [350.0], "cond": [940.0], "t": [46.0]})
        >>> cycle = result.cycle(0)
        >>> round(float(cycle.points["stage_1_outlet"].T), 6)
        319.15
        """
        return row_cycle(self, row, stage_efficiency)

    def over_time(
        self,
        figure: str,
        ax: Any = None,
        *,
        between: Mapping[str, tuple[float, float]] | None = None,
        where: Any = None,
        time: Any = None,
        step: str | None = None,
        units: str = "SI",
    ) -> Any:
        """Draw a figure over time, at equal conditions where limits are given; needs matplotlib and pandas.

        Parameters
        ----------
        figure : str
        ax : matplotlib Axes, optional
        between : mapping of str to (float, float), optional
            Figure -> lowest and highest value in SI of the rows that count: ``{"load": (0.35, 0.5)}`` for an
            approach at equal load, ``{"capacity": (0.8e6, 1.0e6)}`` where no rated capacity was given.
        where : array of bool, optional
            Rows that count, such as those in steady operation.
        time : sequence of times, optional
            One for each row; the index of a pandas table unless given.
        step : str, optional
            Length of time of which one median is drawn, such as ``"7D"``; unless given each of up to 1000
            rows, else at most 120 medians. Rows of a step are shown by their middle half.
        units : {"SI", "I-P"}, optional

        Returns
        -------
        matplotlib Axes

        Raises
        ------
        WrongArgument
            If there are no times, or limits are no limits.
        """
        return _charts_trend.figure_over_time(self, figure, between, where, time, step, units, ax)

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
        checked_units(units)
        columns: dict[str, Any] = {}
        for figure in self.figures if figures is None else figures:
            values = self._values(figure)
            if figures is None and np.isnan(values).all():
                continue
            unit, values = shown(figure, values, units)
            columns[f"{figure} [{unit}]"] = values
        columns["status"] = self._bits()
        columns["status_text"] = self._words()
        return self._container.table(columns)

    def __repr__(self) -> str:
        told = [figure for figure in self.figures if not np.isnan(self._values(figure)).all()]
        return f"TrendResult({len(self)} rows, {len(told)} of {len(self.figures)} figures told)"

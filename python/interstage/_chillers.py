"""Chillers at whole columns of duties."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, overload

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._columns import OK, Column, Columns

if TYPE_CHECKING:
    from interstage._containers import Container

_A_CIRCUIT = (
    "evaporating_temperatures",
    "condensing_temperatures",
    "discharge_temperatures",
    "economizer_benefits",
)


class ChillerPoints(Columns):
    """A chiller at whole columns of duties: the figures of `ChillerPoint` as columns.

    Made by `Chiller.solve`. SI units; containers and rows without result as in `States`. Figures with one
    value a circuit are arrays with one more dimension, or data frames with a column for each.
    ``points[row]`` is the `ChillerPoint` of a row, or None; a slice gives `ChillerPoints`.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(polytropic_efficiency=0.8)]
    ... )
    >>> chiller = interstage.Chiller(
    ...     circuit,
    ...     evaporator=interstage.Exchanger.evaporator(ua=0.4e6),
    ...     condenser=interstage.Exchanger.condenser(ua=0.4e6),
    ... )
    >>> points = chiller.solve(
    ...     capacity=[1e6, 0.5e6, float("nan")],
    ...     chilled_water=interstage.WaterFlow(mass_flow=48.0),
    ...     chilled_water_leaving=280.15,
    ...     condenser_water=interstage.WaterFlow(mass_flow=55.0),
    ...     condenser_water_entering=303.15,
    ... )
    >>> points
    ChillerPoints(circuits: 1, 3 rows, 1 without result)
    >>> bool(points.cop[1] > points.cop[0]), bool(points[0].cop == points.cop[0])
    (True, True)
    """

    __slots__ = ("_chiller", "_duties", "_waters")

    _chiller: _core.Chiller
    _waters: tuple[_core.WaterFlow, _core.WaterFlow]
    _duties: dict[str, npt.NDArray[np.float64]]

    def __init__(
        self,
        chiller: _core.Chiller,
        waters: tuple[_core.WaterFlow, _core.WaterFlow],
        duties: dict[str, npt.NDArray[np.float64]],
        columns: dict[str, npt.NDArray[np.float64]],
        status: npt.NDArray[np.uint8],
        container: Container,
    ) -> None:
        super().__init__(columns, status, container)
        copies = {name: np.array(column) for name, column in duties.items()}
        self._set(chiller=chiller, waters=waters, duties=copies)

    @property
    def cop(self) -> Column:
        """Capacity per compression power."""
        return self._column("cop")

    @property
    def kw_per_ton(self) -> Column:
        """Compression power per capacity, kW per ton of refrigeration."""
        return self._column("kw_per_ton")

    @property
    def power(self) -> Column:
        """Compression power of all circuits, W."""
        return self._column("power")

    @property
    def shaft_power(self) -> Column:
        """Power at all compressor shafts, W."""
        return self._column("shaft_power")

    @property
    def motor_input_power(self) -> Column:
        """Power into all motors, W."""
        return self._column("motor_input_power")

    @property
    def drive_input_power(self) -> Column:
        """Power into all drives, W."""
        return self._column("drive_input_power")

    @property
    def heat_rejected(self) -> Column:
        """Heat given up in all condensers, W."""
        return self._column("heat_rejected")

    @property
    def chilled_water_entering(self) -> Column:
        """Temperature of the chilled water that enters, K."""
        return self._column("chilled_water_entering")

    @property
    def chilled_water_leaving(self) -> Column:
        """Temperature of the chilled water that leaves, K."""
        return self._column("chilled_water_leaving")

    @property
    def condenser_water_leaving(self) -> Column:
        """Temperature of the condenser water that leaves, K."""
        return self._column("condenser_water_leaving")

    @property
    def energy_closure(self) -> Column:
        """Relative closure of the energy balance: zero but for rounding."""
        return self._column("energy_closure")

    @property
    def evaporating_temperatures(self) -> Column:
        """Evaporating temperature of each circuit, K."""
        return self._column("evaporating_temperatures")

    @property
    def condensing_temperatures(self) -> Column:
        """Condensing temperature of each circuit, K."""
        return self._column("condensing_temperatures")

    @property
    def discharge_temperatures(self) -> Column:
        """Discharge temperature of each circuit, K."""
        return self._column("discharge_temperatures")

    @property
    def economizer_benefits(self) -> Column:
        """What the economizers of each circuit save, dimensionless."""
        return self._column("economizer_benefits")

    @property
    def chiller(self) -> _core.Chiller:
        """The chiller that was solved."""
        return self._chiller

    def _column(self, name: str) -> Column:
        if name not in _A_CIRCUIT:
            return super()._column(name)
        names = [f"circuit_{k}" for k in range(1, len(self._chiller.circuits) + 1)]
        return self._container.wrap_side_by_side(self._columns[name], names)

    @overload
    def __getitem__(self, row: slice) -> ChillerPoints: ...
    @overload
    def __getitem__(self, row: int | tuple[int, ...]) -> _core.ChillerPoint | None: ...
    def __getitem__(self, row: int | tuple[int, ...] | slice) -> ChillerPoints | _core.ChillerPoint | None:
        if isinstance(row, slice):
            return self._part(row)
        flat = self._flat(row)
        if self._status[flat] != OK:
            return None
        duty: dict[str, Any] = {name: float(column[flat]) for name, column in self._duties.items()}
        chilled, condenser = self._waters
        point: _core.ChillerPoint = self._chiller.solve(
            chilled_water=chilled, condenser_water=condenser, **duty
        )
        return point

    def __iter__(self) -> Iterator[_core.ChillerPoint | None]:
        return (self[tuple(map(int, place))] for place in np.ndindex(*self._container.shape))

    def to_dict(self) -> dict[str, Any]:
        """Give chiller, waters, duties, figures and status as a dictionary of lists, SI units."""
        rows = len(self._status)
        return {
            "format_version": 1,
            "type": "ChillerPoints",
            "chiller": self._chiller.to_dict(),
            "chilled_water": self._waters[0].to_dict(),
            "condenser_water": self._waters[1].to_dict(),
            "duties": {name: column.tolist() for name, column in self._duties.items()},
            "figures": {
                name: (column.reshape(rows, -1) if name in _A_CIRCUIT else column).tolist()
                for name, column in self._columns.items()
            },
            "status": self._status.tolist(),
        }

    def _recipe(self) -> tuple[Any, ...]:
        return self._chiller, self._waters, self._duties, self._columns, self._status, self._container

    def _table(self) -> dict[str, npt.NDArray[Any]]:
        names = ("cop", "power", "chilled_water_leaving", "condenser_water_leaving")
        return {
            "capacity": self._duties["capacity"],
            **{name: self._columns[name] for name in names},
            "status": self._status,
        }

    def __repr__(self) -> str:
        return f"ChillerPoints(circuits: {len(self._chiller.circuits)}, {self._counts()})"

"""Solved cycles for whole columns of conditions."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._columns import OK, Column, Columns, column_property

if TYPE_CHECKING:
    from interstage._containers import Container

_A_STAGE = ("stage_work", "stage_head", "stage_power", "stage_mass_flow", "stage_inlet_volume_flow")


class Cycles(Columns):
    """Solved cycles for whole columns of conditions: the figures of `Cycle` as columns.

    Made by `Circuit.solve`. SI units; containers and rows without result as in `States`. Figures with one
    value a stage, interstage or tank are arrays with one more dimension, or data frames of pandas or polars
    with a column for each. ``cycles[row]`` is the `Cycle` of a row, with its points, or None.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"),
    ...     stages=[interstage.Stage(polytropic_efficiency=0.8)] * 2,
    ...     interstages=[interstage.FlashTank()],
    ... )
    >>> cycles = circuit.solve(
    ...     evaporating_temperature=278.15, condensing_temperature=[300.0, 310.0, 270.0], capacity=1e6
    ... )
    >>> cycles
    Cycles(R-134a, 3 rows, 1 without result)
    >>> interstage.status_text(cycles.status[2])
    'inputs contradict each other'
    >>> cycles.stage_power.shape
    (3, 2)
    >>> bool(cycles[1].cop == cycles.cop[1])
    True
    """

    __slots__ = ("_circuit", "_conditions")

    _circuit: _core.Circuit
    _conditions: dict[str, npt.NDArray[np.float64]]

    def __init__(
        self,
        circuit: _core.Circuit,
        conditions: dict[str, npt.NDArray[np.float64]],
        columns: dict[str, npt.NDArray[np.float64]],
        status: npt.NDArray[np.uint8],
        container: Container,
    ) -> None:
        super().__init__(columns, status, container)
        # Copies: the columns that were passed may change.
        self._set(circuit=circuit, conditions={name: np.array(column) for name, column in conditions.items()})

    cop = column_property("cop", "Capacity per compression power.")
    kw_per_ton = column_property("kw_per_ton", "Compression power per capacity, kW per ton of refrigeration.")
    carnot_cop = column_property(
        "carnot_cop", "COP of a Carnot cycle between the two saturation temperatures."
    )
    capacity = column_property("capacity", "Refrigerating capacity, W.")
    power = column_property("power", "Compression power: the sum over the stages, W.")
    heat_rejected = column_property("heat_rejected", "Heat given up in the condenser, W.")
    refrigerating_effect = column_property(
        "refrigerating_effect", "Cooling per kilogram through the evaporator, J/kg."
    )
    economizer_benefit = column_property(
        "economizer_benefit",
        "Power saved by the economizers at the same capacity, 1 - P / P_none, dimensionless.",
    )
    evaporator_inlet_quality = column_property(
        "evaporator_inlet_quality", "Mass fraction of vapor after the last expansion, kg/kg."
    )
    discharge_temperature = column_property(
        "discharge_temperature", "Temperature at the discharge of the last stage, K."
    )
    evaporating_pressure = column_property("evaporating_pressure", "Evaporating pressure, Pa absolute.")
    condensing_pressure = column_property("condensing_pressure", "Condensing pressure, Pa absolute.")
    evaporator_mass_flow = column_property("evaporator_mass_flow", "Mass flow through the evaporator, kg/s.")
    condenser_mass_flow = column_property("condenser_mass_flow", "Mass flow through the condenser, kg/s.")
    mass_closure = column_property(
        "mass_closure", "Relative closure of the mass balance: zero but for rounding."
    )
    energy_closure = column_property(
        "energy_closure", "Relative closure of the energy balance: zero but for rounding."
    )
    interstage_pressures = column_property(
        "interstage_pressures", "Inlet pressures of the second to the last stage, Pa absolute."
    )
    flash_fractions = column_property(
        "flash_fractions",
        "Vapor taken off in each tank per flow into it, kg/kg, from the lowest pressure up.",
    )
    stage_work = column_property("stage_work", "Work of each stage per kilogram through it, J/kg.")
    stage_head = column_property("stage_head", "Isentropic or polytropic head of each stage, J/kg.")
    stage_power = column_property("stage_power", "Power of each stage, W.")
    stage_mass_flow = column_property("stage_mass_flow", "Mass flow through each stage, kg/s.")
    stage_inlet_volume_flow = column_property("stage_inlet_volume_flow", "Volume flow into each stage, m3/s.")

    def _names(self, name: str) -> list[str] | None:
        """Names of the values of a figure that has several, else None."""
        if name in _A_STAGE:
            return [f"stage_{k}" for k in range(1, len(self._circuit.stages) + 1)]
        between = list(enumerate(self._circuit.interstages, start=2))
        if name == "interstage_pressures":
            return [f"stage_{k}_inlet" for k, _ in between]
        if name == "flash_fractions":
            return [f"stage_{k}_tank" for k, part in between if isinstance(part, _core.FlashTank)]
        return None

    def _column(self, name: str) -> Column:
        names = self._names(name)
        if names is None:
            return super()._column(name)
        return self._container.wrap_side_by_side(self._columns[name], names)

    @property
    def circuit(self) -> _core.Circuit:
        """The circuit that was solved."""
        return self._circuit

    @property
    def refrigerant(self) -> _core.Refrigerant:
        """The refrigerant."""
        return self._circuit.refrigerant

    def __getitem__(self, row: int | tuple[int, ...]) -> _core.Cycle | None:
        flat = self._flat(row)
        if self._status[flat] != OK:
            return None
        conditions: dict[str, Any] = {name: float(column[flat]) for name, column in self._conditions.items()}
        cycle: _core.Cycle = self._circuit.solve(**conditions)
        return cycle

    def __iter__(self) -> Iterator[_core.Cycle | None]:
        return (self[tuple(map(int, place))] for place in np.ndindex(*self._container.shape))

    def to_dict(self) -> dict[str, Any]:
        """Give circuit, conditions, figures and status as a dictionary of lists, SI units."""
        data: dict[str, Any] = {"format_version": 1, "type": "Cycles", "circuit": self._circuit.to_dict()}
        data["conditions"] = {name: column.tolist() for name, column in self._conditions.items()}
        data["figures"] = {
            name: column.reshape(len(self._status), -1).tolist()
            if self._names(name) is not None
            else column.tolist()
            for name, column in self._columns.items()
        }
        data["status"] = self._status.tolist()
        return data

    def _recipe(self) -> tuple[Any, ...]:
        return self._circuit, self._conditions, self._columns, self._status, self._container

    def _table(self) -> dict[str, npt.NDArray[Any]]:
        names = (
            "cop",
            "capacity",
            "power",
            "refrigerating_effect",
            "economizer_benefit",
            "discharge_temperature",
        )
        conditions = {
            name: self._conditions[name] for name in ("evaporating_temperature", "condensing_temperature")
        }
        return {**conditions, **{name: self._columns[name] for name in names}, "status": self._status}

    def __repr__(self) -> str:
        return f"Cycles({self.refrigerant.name}, {self._counts()})"

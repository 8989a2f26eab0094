"""Solved cycles for whole columns of conditions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, overload

import numpy as np
import numpy.typing as npt

from interstage import _charts_study, _core
from interstage._columns import OK, Column, Columns

if TYPE_CHECKING:
    from interstage._containers import Container

_A_STAGE = (
    "stage_work",
    "stage_head",
    "head_split",
    "stage_power",
    "stage_mass_flow",
    "stage_inlet_volume_flow",
    "stage_wet",
)


class Cycles(Columns):
    """Solved cycles for whole columns of conditions: the figures of `Cycle` as columns.

    Made by `Circuit.solve`. SI units; containers and rows without result as in `States`. Figures with one
    value a stage, interstage or tank are arrays with one more dimension, or data frames of pandas or polars
    with a column for each. ``cycles[row]`` is the `Cycle` of a row, with its points, or None; a slice
    gives `Cycles`.

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

    @property
    def cop(self) -> Column:
        """Capacity per compression power."""
        return self._column("cop")

    @property
    def kw_per_ton(self) -> Column:
        """Compression power per capacity, kW per ton of refrigeration."""
        return self._column("kw_per_ton")

    @property
    def eer(self) -> Column:
        """Energy efficiency ratio: cooling in Btu/h per W of compression power."""
        return self._column("eer")

    @property
    def carnot_cop(self) -> Column:
        """COP of a Carnot cycle between the two saturation temperatures."""
        return self._column("carnot_cop")

    @property
    def capacity(self) -> Column:
        """Refrigerating capacity, W."""
        return self._column("capacity")

    @property
    def power(self) -> Column:
        """Compression power: the sum over the stages less what expanders recover, W."""
        return self._column("power")

    @property
    def expander_power(self) -> Column:
        """Power that expanders in place of metering devices recover, W."""
        return self._column("expander_power")

    @property
    def shaft_power(self) -> Column:
        """Power at the compressor shaft, W."""
        return self._column("shaft_power")

    @property
    def motor_input_power(self) -> Column:
        """Power that goes into the motor, W."""
        return self._column("motor_input_power")

    @property
    def drive_input_power(self) -> Column:
        """Power that goes into the drive, W."""
        return self._column("drive_input_power")

    @property
    def motor_heat(self) -> Column:
        """Heat of the motor that the refrigerant takes up, W."""
        return self._column("motor_heat")

    @property
    def heat_rejected(self) -> Column:
        """Heat given up in the condenser, W."""
        return self._column("heat_rejected")

    @property
    def refrigerating_effect(self) -> Column:
        """Cooling per kilogram through the evaporator, J/kg."""
        return self._column("refrigerating_effect")

    @property
    def economizer_benefit(self) -> Column:
        """Power saved by the economizers at the same capacity, 1 - P / P_none, dimensionless."""
        return self._column("economizer_benefit")

    @property
    def evaporator_inlet_quality(self) -> Column:
        """Mass fraction of vapor after the last expansion, kg/kg."""
        return self._column("evaporator_inlet_quality")

    @property
    def discharge_temperature(self) -> Column:
        """Temperature at the discharge of the last stage, K."""
        return self._column("discharge_temperature")

    @property
    def evaporating_pressure(self) -> Column:
        """Evaporating pressure, Pa absolute."""
        return self._column("evaporating_pressure")

    @property
    def condensing_pressure(self) -> Column:
        """Condensing pressure, Pa absolute."""
        return self._column("condensing_pressure")

    @property
    def evaporator_mass_flow(self) -> Column:
        """Mass flow through the evaporator, kg/s."""
        return self._column("evaporator_mass_flow")

    @property
    def condenser_mass_flow(self) -> Column:
        """Mass flow through the condenser, kg/s."""
        return self._column("condenser_mass_flow")

    @property
    def mass_closure(self) -> Column:
        """Relative closure of the mass balance: zero but for rounding."""
        return self._column("mass_closure")

    @property
    def energy_closure(self) -> Column:
        """Relative closure of the energy balance: zero but for rounding."""
        return self._column("energy_closure")

    @property
    def interstage_pressures(self) -> Column:
        """Inlet pressures of the second to the last stage, Pa absolute."""
        return self._column("interstage_pressures")

    @property
    def flash_fractions(self) -> Column:
        """What joins the gas in each economizer per liquid that reaches it, kg/kg, lowest pressure first."""
        return self._column("flash_fractions")

    @property
    def stage_work(self) -> Column:
        """Work of each stage per kilogram through it, J/kg."""
        return self._column("stage_work")

    @property
    def stage_head(self) -> Column:
        """Isentropic or polytropic head of each stage, J/kg."""
        return self._column("stage_head")

    @property
    def head_split(self) -> Column:
        """Share of each stage in the sum of the heads, dimensionless."""
        return self._column("head_split")

    @property
    def stage_power(self) -> Column:
        """Power of each stage, W."""
        return self._column("stage_power")

    @property
    def stage_mass_flow(self) -> Column:
        """Mass flow through each stage, kg/s."""
        return self._column("stage_mass_flow")

    @property
    def stage_inlet_volume_flow(self) -> Column:
        """Volume flow into each stage, m3/s."""
        return self._column("stage_inlet_volume_flow")

    @property
    def stage_wet(self) -> Column:
        """Whether compression in a stage passes through wet vapor; False in rows without result."""
        return self._column("stage_wet")

    def head_bars(self, ax: Any = None, *, labels: Sequence[str] | None = None) -> Any:
        """Draw how the stages share the head in every row, in per cent; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional
        labels : sequence of str, optional
            Names of the rows; their saturation temperatures unless given.

        Returns
        -------
        matplotlib Axes

        Raises
        ------
        Inconsistent
            If there are no rows, or more than can be read.
        """
        return _charts_study.cycle_heads(self, labels, ax)

    def _names(self, name: str) -> list[str] | None:
        """Names of the values of a figure that has several, else None."""
        if name in _A_STAGE:
            return [f"stage_{k}" for k in range(1, len(self._circuit.stages) + 1)]
        between = list(enumerate(self._circuit.interstages, start=2))
        if name == "interstage_pressures":
            return [f"stage_{k}_inlet" for k, _ in between]
        if name == "flash_fractions":
            return [f"stage_{k}_economizer" for k, part in between if not isinstance(part, _core.Direct)]
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

    @overload
    def __getitem__(self, row: slice) -> Cycles: ...
    @overload
    def __getitem__(self, row: int | tuple[int, ...]) -> _core.Cycle | None: ...
    def __getitem__(self, row: int | tuple[int, ...] | slice) -> Cycles | _core.Cycle | None:
        if isinstance(row, slice):
            return self._part(row)
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

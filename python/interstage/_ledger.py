"""The second-law ledger of a solved cycle."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import Any

from interstage._tables import columns_for, rows_html


@dataclass(frozen=True)
class ExergyLedger:
    """Where the power of a cycle goes: the exergy destroyed in every component.

    Made by `Cycle.exergy`. The power is that of the compression, with a motor that the refrigerant cools that
    and the heat of the motor: ``power = cooling + rejected + destruction``. SI units.

    Attributes
    ----------
    destroyed : dict of str to float
        Exergy destroyed in each component, W: temperature of the surroundings times entropy generated.
    power : float
        Power that is accounted for, W.
    cooling : float
        Exergy of the cooling, the product, W.
    rejected : float
        Exergy that leaves with the condenser water, W; negative where that is colder than the surroundings.
    destruction : float
        Exergy destroyed in all components, W.
    efficiency : float
        Exergy of the cooling per power.
    lorenz_cop : float
        COP of the loss-free machine between the entropic mean temperatures of the waters.
    closure : float
        Power less everything it is accounted for with, per power: zero but for rounding.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
    ... )
    >>> cycle = circuit.solve(
    ...     evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6
    ... )
    >>> ledger = cycle.exergy(
    ...     chilled_water=(285.15, 280.15),
    ...     condenser_water=(303.15, 308.15),
    ...     dead_state_temperature=303.15,
    ... )
    >>> max(ledger.destroyed, key=ledger.destroyed.get)
    'stage_1'
    """

    destroyed: dict[str, float]
    power: float
    cooling: float
    rejected: float
    destruction: float
    efficiency: float
    lorenz_cop: float
    closure: float

    def _rows(self) -> list[tuple[str, float]]:
        others = [("cooling (product)", self.cooling), ("leaves with condenser water", self.rejected)]
        return [*others, *self.destroyed.items(), ("sum: power", self.power)]

    def _table(self) -> dict[str, Any]:
        rows = self._rows()
        shown = columns_for({"power": [value for _, value in rows]}, "SI")
        (values,) = shown.values()
        share = [round(100.0 * value / self.power, 3) for _, value in rows]
        return {"where the power goes": [name for name, _ in rows], "exergy [kW]": values, "share [%]": share}

    def to_frame(self) -> Any:
        """Give the ledger as a pandas DataFrame with exergy in kW and share of the power in percent.

        Examples
        --------
        >>> import interstage
        >>> circuit = interstage.Circuit(
        ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
        ... )
        >>> cycle = circuit.solve(
        ...     evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6
        ... )
        >>> ledger = cycle.exergy(
        ...     chilled_water=(285.15, 280.15),
        ...     condenser_water=(303.15, 308.15),
        ...     dead_state_temperature=303.15,
        ... )
        >>> list(ledger.to_frame().columns)
        ['exergy [kW]', 'share [%]']
        """
        pandas = import_module("pandas")
        return pandas.DataFrame(self._table()).set_index("where the power goes")

    def _repr_html_(self) -> str:
        caption = f"exergetic efficiency {self.efficiency:.3f}, Lorenz COP {self.lorenz_cop:.2f}"
        return rows_html(self._table(), caption)

    def __str__(self) -> str:
        lines = [
            f"{name:32s} {value / 1e3:12.3f} kW {100 * value / self.power:8.3f} %"
            for name, value in self._rows()
        ]
        return "\n".join(lines)

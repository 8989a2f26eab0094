"""The second-law ledger of a solved cycle."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from interstage import _charts_cycle, _needed
from interstage._tables import checked_units, rows_html, unit_shown

#: Parts of the power below this are rounding.
_NOISE = 1e-9


@dataclass(frozen=True)
class ExergyLedger:
    """Where the power of a cycle goes: the exergy destroyed in every component.

    Made by `Cycle.exergy`. The power is that of the compression, with a motor that the refrigerant cools that
    and the heat of the motor: ``power = cooling + rejected + destruction``. SI units; text
    by ``str`` or `to_text`, tables by `to_frame` and `to_html`.

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
        rows = [*others, *self.destroyed.items(), ("sum: power", self.power)]
        # Rounding noise is nothing, and nothing has no sign.
        return [(name, 0.0 if abs(value) < _NOISE * self.power else value) for name, value in rows]

    def _table(self, units: str) -> dict[str, Any]:
        checked_units(units)
        unit, convert = unit_shown("energy_flow", units)
        rows = self._rows()
        return {
            "where the power goes": [name for name, _ in rows],
            f"exergy [{unit}]": [float(convert(value)) for _, value in rows],
            "share [%]": [_rounded(100.0 * value / self.power) for _, value in rows],
        }

    def to_frame(self, units: Literal["SI", "I-P"] = "SI") -> Any:
        """Give the ledger as a pandas DataFrame with exergy and share of the power in percent.

        Parameters
        ----------
        units : {"SI", "I-P"}, optional
            kW, or Btu/min as in `Cycle.working`.

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
        >>> list(ledger.to_frame().columns), list(ledger.to_frame(units="I-P").columns)
        (['exergy [kW]', 'share [%]'], ['exergy [Btu/min]', 'share [%]'])
        """
        pandas = _needed.pandas()
        return pandas.DataFrame(self._table(units)).set_index("where the power goes")

    def to_html(self, units: Literal["SI", "I-P"] = "SI") -> str:
        """Write the ledger as an HTML table.

        Parameters
        ----------
        units : {"SI", "I-P"}, optional

        Returns
        -------
        str
        """
        caption = f"exergetic efficiency {self.efficiency:.3f}, Lorenz COP {self.lorenz_cop:.2f}"
        return rows_html(self._table(units), caption)

    def to_text(self, units: Literal["SI", "I-P"] = "SI") -> str:
        """Write the ledger as lines of text.

        Parameters
        ----------
        units : {"SI", "I-P"}, optional

        Returns
        -------
        str
        """
        lines = zip(*self._table(units).values(), strict=True)
        unit, _ = unit_shown("energy_flow", units)
        return "\n".join(
            f"{name:32s} {_rounded(value):12.3f} {unit} {share:8.3f} %" for name, value, share in lines
        )

    def bars(
        self,
        ax: Any = None,
        *,
        label: str = "",
        beside: Mapping[str, ExergyLedger] | None = None,
        measure: Literal["exergy", "share"] = "exergy",
        units: Literal["SI", "I-P"] = "SI",
    ) -> Any:
        """Draw where the power goes as a stacked bar, other ledgers beside it; needs matplotlib.

        Parameters
        ----------
        ax : matplotlib Axes, optional
        label : str, optional
            Name of this ledger.
        beside : mapping of str to ExergyLedger, optional
            Labels of others that are drawn below it.
        measure : {"exergy", "share"}, optional
            kW (Btu/min), or per cent of the power of each.
        units : {"SI", "I-P"}, optional

        Returns
        -------
        matplotlib Axes
            Components of a kind are one part; the parts add up to the power, which is marked. What is
            negative lies to the left.

        Examples
        --------
        >>> import interstage
        >>> stage = interstage.Stage(polytropic_efficiency=0.8)
        >>> ledgers = {
        ...     arrangement: interstage.Circuit.arranged(
        ...         interstage.Refrigerant("R-134a"), arrangement, stage=stage
        ...     )
        ...     .solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6)
        ...     .exergy(
        ...         chilled_water=(285.15, 280.15),
        ...         condenser_water=(303.15, 308.15),
        ...         dead_state_temperature=303.15,
        ...     )
        ...     for arrangement in ("1 stage", "2 stages: tank@2")
        ... }
        >>> ax = ledgers.pop("1 stage").bars(label="1 stage", beside=ledgers)
        >>> [label.get_text() for label in ax.get_yticklabels()]
        ['1 stage', '2 stages: tank@2']
        """
        ledgers = _charts_cycle.labelled(self, label, beside, ExergyLedger)
        return _charts_cycle.ledger_bars(ledgers, measure, units, ax)

    def _repr_html_(self) -> str:
        return self.to_html()

    def __str__(self) -> str:
        return self.to_text()


def _rounded(value: float) -> float:
    """Three decimals, and no minus before a zero."""
    return round(value, 3) + 0.0

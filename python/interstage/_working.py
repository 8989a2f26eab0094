"""Shown working: every balance and relation of a solved cycle with symbols, numbers, units and result."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from interstage import _core, _tables
from interstage._sheet import Step, point_columns, significant
from interstage._working_steps import Writer

_SYMBOLS = (
    "m mass flow, p absolute pressure, T temperature, h enthalpy, s entropy, v volume per mass, q_e "
    "refrigerating effect, Q heat, W and P power, w work per mass, H head, V volume flow, eta efficiency; a "
    "point in brackets says where, m_1 is the part that enters there of a stream that divides"
)


@dataclass(frozen=True)
class Working:
    """Everything a solved cycle is made of, to follow with pencil and paper. Made by `Cycle.working`.

    The numbers of each line have as many digits as it takes to reproduce its result to the last digit. What
    is below a billionth of the flow or power of the machine is rounding and written as 0.

    Attributes
    ----------
    title : str
    units : str
        Units of all symbols, except where a line names its own.
    points : dict of str to list
        The points that are used as columns with their units: ``point``, p, T, h, s, v, quality and m.
    steps : tuple of Step
        What belongs to a component stands together.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
    ... )
    >>> cycle = circuit.solve(
    ...     evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6
    ... )
    >>> step = cycle.working().steps[0]
    >>> step.formula
    'q_e = h[evaporator_outlet] - h[evaporator_inlet]'
    >>> step.numbers, step.result
    ('401.492 - 251.953', '149.54 kJ/kg')
    >>> print(cycle.working(units="I-P").steps[-1].formula)
    EER = c COP
    """

    title: str
    units: str
    points: dict[str, list[Any]]
    steps: tuple[Step, ...]

    def __repr__(self) -> str:
        return f"Working({self.title}; {len(self.points['point'])} points, {len(self.steps)} steps)"

    def _written_points(self) -> dict[str, list[str]]:
        return {name: [_written(name, value) for value in column] for name, column in self.points.items()}

    def __str__(self) -> str:
        columns = self._written_points()
        widths = [max(map(len, (name, *column))) for name, column in columns.items()]
        rows = [tuple(columns), *zip(*columns.values(), strict=True)]
        lines = [self.title, self.units, _SYMBOLS, ""]
        for name, *numbers in rows:
            cells = [text.rjust(width) for text, width in zip(numbers, widths[1:], strict=True)]
            lines.append("  ".join([name.ljust(widths[0]), *cells]))
        last = None
        for step in self.steps:
            if step.component != last:
                lines += ["", step.component]
                last = step.component
            lines += [f"  {step.law}:  {step.formula}", f"      {_joined(step)}"]
        return "\n".join(lines)

    def to_html(self) -> str:
        """Write the points and the steps as two HTML tables.

        Returns
        -------
        str
        """
        components = [step.component for step in self.steps]
        first = [
            here if here != before else ""
            for before, here in zip(["", *components], components, strict=False)
        ]
        steps = {
            "component": first,
            "what": [step.law for step in self.steps],
            "formula": [step.formula for step in self.steps],
            "with numbers": [_joined(step) for step in self.steps],
        }
        caption = f"{self.title}. {self.units}. {_SYMBOLS}."
        return _tables.rows_html(self._written_points(), caption) + _tables.rows_html(steps, "")

    def _repr_html_(self) -> str:
        return self.to_html()


def _joined(step: Step) -> str:
    """Numbers and result; the two sides of a balance hold an equals sign already."""
    return f"{step.numbers}{';  ' if ' = ' in step.numbers else ' = '}{step.result}"


def _written(column: str, value: Any) -> str:
    if isinstance(value, str):
        return value
    if math.isnan(value):
        return "-"
    decimals: Mapping[str, int] = {"T": 2, "h": 3, "s": 5, "quality": 5}
    places = decimals.get(column.split(" [")[0])
    return significant(value, 6) if places is None else f"{value:.{places}f}"


def working(cycle: _core.Cycle, units: str) -> Working:
    """Write out what a cycle is made of."""
    _tables.checked_units(units)
    writer = Writer(cycle, units)
    writer.write()
    quantities = {
        "m": "mass_flow",
        "p": "p",
        "T": "T",
        "h, q_e, w and H": "h",
        "s": "s",
        "v": "v",
        "V": "volume_flow",
        "Q, W and P": "energy_flow",
    }
    told = ", ".join(f"{name} in {_tables.unit_shown(of, units)[0]}" for name, of in quantities.items())
    sizes = {
        "capacity": "the capacity is given",
        "mass_flow": "the flow is given",
        "power": "the power is given",
    }
    size = next(text for name, text in sizes.items() if name in cycle.to_dict()["conditions"])
    title = (
        f"{cycle.refrigerant.name}, {cycle.circuit.arrangement}: {size}, power is compression power, "
        "zero of enthalpy that of the refrigerant's reference"
    )
    return Working(title, f"Units: {told}", point_columns(cycle, units), tuple(writer.sheet.steps))

"""Shown working: every balance of a solved cycle with symbols, numbers, units and result."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from interstage import _core
from interstage._tables import rows_html
from interstage.errors import UnknownOption


@dataclass(frozen=True)
class Step:
    """One line of the working.

    Attributes
    ----------
    component : str
    law : str
        What is balanced or defined.
    formula : str
        With symbols; a point of the circuit in brackets says where.
    numbers : str
        The same with numbers.
    result : str
        With unit.
    """

    component: str
    law: str
    formula: str
    numbers: str
    result: str


@dataclass(frozen=True)
class Working:
    """Every balance of a solved cycle, to follow with pencil and paper. Made by `Cycle.working`.

    Attributes
    ----------
    title : str
    steps : tuple of Step

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit(
    ...     interstage.Refrigerant("R-134a"), stages=[interstage.Stage(isentropic_efficiency=0.8)]
    ... )
    >>> cycle = circuit.solve(
    ...     evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6
    ... )
    >>> working = cycle.working(units="I-P")
    >>> working.steps[-1].law, working.steps[-1].result.split()[-1]
    ('power per capacity', 'kW/ton')
    """

    title: str
    steps: tuple[Step, ...]

    def __str__(self) -> str:
        lines = [self.title]
        last = None
        for step in self.steps:
            if step.component != last:
                lines += ["", step.component]
                last = step.component
            lines.append(f"  {step.law}: {step.formula}")
            lines.append(f"      {step.numbers} = {step.result}")
        return "\n".join(lines)

    def _repr_html_(self) -> str:
        columns = {
            "component": [step.component for step in self.steps],
            "law": [step.law for step in self.steps],
            "formula": [step.formula for step in self.steps],
            "numbers": [step.numbers for step in self.steps],
            "result": [step.result for step in self.steps],
        }
        return rows_html(columns, self.title)


@dataclass(frozen=True)
class _Units:
    """Units of flow, enthalpy, entropy and their products, with the conversions from SI."""

    flow: tuple[str, Callable[[float], float]]
    enthalpy: tuple[str, Callable[[float], float]]
    entropy: tuple[str, Callable[[float], float]]
    rate: tuple[str, Callable[[float], float]]


#: A ton of refrigeration is 200 Btu/min by definition.
_BTU_PER_MINUTE_OF_TON = 200.0

_UNITS: Mapping[str, _Units] = {
    "SI": _Units(
        ("kg/s", float),
        ("kJ/kg", _core.kilojoule_per_kilogram_from_joule_per_kilogram),
        ("kJ/(kg K)", _core.kilojoule_per_kilogram_kelvin_from_joule_per_kilogram_kelvin),
        ("kW", _core.kilowatt_from_watt),
    ),
    "I-P": _Units(
        ("lb/min", _core.pound_per_minute_from_kilogram_per_second),
        ("Btu/lb", _core.btu_per_pound_from_joule_per_kilogram),
        ("Btu/(lb R)", _core.btu_per_pound_rankine_from_joule_per_kilogram_kelvin),
        ("Btu/min", lambda watt: _core.ton_from_watt(watt) * _BTU_PER_MINUTE_OF_TON),
    ),
}


def _number(value: float) -> str:
    return f"{value:.6g}"


def _sum(parts: list[str]) -> str:
    return " + ".join(parts) if parts else "0"


def _balance(cycle: _core.Cycle, balance: dict[str, Any], units: _Units) -> list[Step]:
    points = cycle.points
    flow_unit, flow_of = units.flow
    enthalpy_unit, enthalpy_of = units.enthalpy
    rate_unit, rate_of = units.rate
    component, inlets, outlets = balance["component"], balance["inlets"], balance["outlets"]

    def symbols(streams: dict[str, float], symbol: str) -> str:
        return _sum([f"{symbol}[{name}]" for name in streams])

    def flows(streams: dict[str, float]) -> str:
        return _sum([_number(flow_of(flow)) for flow in streams.values()])

    def carried(streams: dict[str, float]) -> str:
        return _sum(
            [
                f"{_number(flow_of(flow))} x {_number(enthalpy_of(points[name].h))}"
                for name, flow in streams.items()
            ]
        )

    steps = []
    if len(inlets) + len(outlets) > 2:
        steps.append(
            Step(
                component,
                "mass",
                f"{symbols(outlets, 'm')} = {symbols(inlets, 'm')}",
                f"({flows(outlets)}) - ({flows(inlets)})",
                f"{_number(flow_of(balance['mass_residual']))} {flow_unit}",
            )
        )
    exchanged = balance["heat"] + balance["work"]
    name = "Q" if balance["heat"] else "W" if balance["work"] else "0"
    steps.append(
        Step(
            component,
            "energy",
            f"{symbols(outlets, 'm h')} - ({symbols(inlets, 'm h')}) = {name}",
            f"({carried(outlets)}) - ({carried(inlets)}) [{flow_unit} x {enthalpy_unit}]",
            f"{_number(rate_of(exchanged + balance['energy_residual']))} {rate_unit}",
        )
    )
    return steps


def working(cycle: _core.Cycle, units: str) -> Working:
    """Write out the balances of a cycle."""
    if units not in _UNITS:
        message = f"units must be 'SI' or 'I-P', got {units!r}"
        raise UnknownOption(message, argument="units", value=units, options=tuple(_UNITS))
    of = _UNITS[units]
    steps = [step for balance in cycle.balances() for step in _balance(cycle, balance, of)]
    rate_unit, rate_of = of.rate
    points = cycle.points
    enthalpy_unit, enthalpy_of = of.enthalpy
    between = enumerate(cycle.circuit.interstages, start=2)
    tanks = [k for k, part in between if isinstance(part, _core.FlashTank)]
    for k in tanks:
        inlet, vapor, liquid = (points[f"stage_{k}_tank_{name}"].h for name in ("inlet", "vapor", "liquid"))
        shown = {
            name: _number(enthalpy_of(value)) for name, value in (("i", inlet), ("v", vapor), ("l", liquid))
        }
        fraction = points[f"stage_{k}_tank_vapor"].mass_flow / points[f"stage_{k}_tank_inlet"].mass_flow
        steps.append(
            Step(
                f"stage_{k}_tank",
                "flash fraction",
                "y = (h[inlet] - h[liquid]) / (h[vapor] - h[liquid])",
                f"({shown['i']} - {shown['l']}) / ({shown['v']} - {shown['l']}) [{enthalpy_unit}]",
                _number(fraction),
            )
        )
    tons = _core.ton_from_watt(cycle.capacity)
    capacity, power = _number(rate_of(cycle.capacity)), _number(rate_of(cycle.power))
    steps += [
        Step(
            "cycle",
            "energy",
            "Q_c = Q_e + P + Q_motor",
            f"{capacity} + {power} + {_number(rate_of(cycle.motor_heat))}",
            f"{_number(rate_of(cycle.heat_rejected))} {rate_unit}",
        ),
        Step("cycle", "COP", "Q_e / P", f"{capacity} / {power}", _number(cycle.cop)),
        Step(
            "cycle",
            "power per capacity",
            "P / Q_e",
            f"{_number(_core.kilowatt_from_watt(cycle.power))} kW / {_number(tons)} ton",
            f"{_number(cycle.kw_per_ton)} kW/ton",
        ),
    ]
    title = (
        f"{cycle.refrigerant.name}, {cycle.circuit.arrangement}: power is compression power, "
        "zero of enthalpy that of the refrigerant's reference"
    )
    return Working(title, tuple(steps))

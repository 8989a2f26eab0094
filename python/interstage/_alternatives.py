"""What an economizer is worth in other coin: an expander, and every input of the machine."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from interstage import _core, _needed, _tables
from interstage._shown import Shown
from interstage._study_rows import need_circuit, without_economizers
from interstage.errors import WrongArgument

#: COPs closer than this, relative, are the same.
_ROUNDING = 1e-12

#: Halvings of the bracket: efficiencies to the last digits.
_HALVINGS = 60


@dataclass(frozen=True)
class EquivalentExpander(Shown):
    """The expander that saves as much as the economizers do. Made by `equivalent_expander_efficiency`.

    Attributes
    ----------
    efficiency : float or None
        Isentropic efficiency of the expander, dimensionless; None if no expander saves as much, or as little.
    reason : str
        Why there is none; empty where there is one.
    cop : float
        COP of the circuit with its economizers.
    cop_without : float
        COP of the same machine without economizers, at the same interstage pressures.
    cop_with_ideal_expander : float
        COP of that machine with a loss-free expander.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit.arranged(
    ...     interstage.Refrigerant("R-134a"),
    ...     "2 stages: liquid injection@2",
    ...     stage=interstage.Stage(polytropic_efficiency=0.8),
    ... )
    >>> found = interstage.equivalent_expander_efficiency(
    ...     circuit, evaporating_temperature=278.15, condensing_temperature=310.15
    ... )
    >>> found.efficiency, found.reason
    (None, 'the economizers save nothing: the COP without them is higher')
    """

    efficiency: float | None
    reason: str
    cop: float
    cop_without: float
    cop_with_ideal_expander: float


def equivalent_expander_efficiency(
    circuit: _core.Circuit,
    *,
    evaporating_temperature: float,
    condensing_temperature: float,
    suction_superheat: float = 0.0,
    subcooling: float = 0.0,
    liquid_carryover: float = 0.0,
    hot_gas_bypass: float = 0.0,
) -> EquivalentExpander:
    """Find the expander that would save as much as the economizers of a circuit.

    The expander stands in place of the metering device of the same machine without economizers, at the
    interstage pressures that the circuit has with them, and its work is credited to the compression power;
    the efficiency at which the COP is the same is searched for by halving.

    Parameters
    ----------
    circuit : Circuit
        Without an expander of its own in place of the evaporator's metering device.
    evaporating_temperature, condensing_temperature, suction_superheat, subcooling, liquid_carryover : float
        These and hot_gas_bypass as in `Circuit.solve`: single numbers, K and dimensionless.

    Returns
    -------
    EquivalentExpander

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit.arranged(
    ...     interstage.Refrigerant("R-134a"),
    ...     "2 stages: tank@2",
    ...     stage=interstage.Stage(polytropic_efficiency=0.8),
    ... )
    >>> found = interstage.equivalent_expander_efficiency(
    ...     circuit, evaporating_temperature=278.15, condensing_temperature=310.15
    ... )
    >>> round(found.efficiency, 2)
    0.58
    """
    need_circuit("circuit", circuit)
    if "expander_efficiency" in circuit.options:
        message = "circuit has an expander in place of the evaporator's metering device already"
        raise WrongArgument(message, argument="circuit")
    conditions: dict[str, Any] = {
        "evaporating_temperature": evaporating_temperature,
        "condensing_temperature": condensing_temperature,
        "suction_superheat": suction_superheat,
        "subcooling": subcooling,
        "liquid_carryover": liquid_carryover,
        "hot_gas_bypass": hot_gas_bypass,
    }

    economized = circuit.solve(**conditions, mass_flow=1.0)
    if not isinstance(economized, _core.Cycle):
        message = "the conditions must be single numbers, not columns"
        raise WrongArgument(message, argument="evaporating_temperature, condensing_temperature")
    pressures = economized.interstage_pressures

    def cop(efficiency: float | None) -> float:
        machine = without_economizers(circuit, pressures, efficiency)
        return float(machine.solve(**conditions, mass_flow=1.0).cop)

    wanted, without, ideal = economized.cop, cop(None), cop(1.0)

    def found(efficiency: float | None, reason: str = "") -> EquivalentExpander:
        return EquivalentExpander(efficiency, reason, wanted, without, ideal)

    if abs(wanted / without - 1.0) < _ROUNDING:
        return found(0.0)
    if wanted < without:
        return found(None, "the economizers save nothing: the COP without them is higher")
    if wanted > ideal:
        return found(None, "even a loss-free expander saves less than the economizers")
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if cop(middle) < wanted else (low, middle)
    return found(0.5 * (low + high))


#: Figures of a sensitivity -> quantity that tells the unit shown; others are dimensionless.
_FIGURES: Mapping[str, str] = {
    "refrigerating_effect": "h",
    "work": "h",
    "head": "h",
    "discharge_temperature": "temperature_difference",
    "capacity": "capacity",
    "power": "power",
    "shaft_power": "power",
    "motor_input_power": "power",
    "drive_input_power": "power",
    "heat_rejected": "capacity",
    "evaporator_mass_flow": "mass_flow",
    "condenser_mass_flow": "mass_flow",
    "mass_flow": "mass_flow",
    "evaporating_pressure": "p",
    "condensing_pressure": "p",
    "inlet_pressure": "p",
    "inlet_volume_flow": "volume_flow",
}
_INPUTS: Mapping[str, str] = {
    "evaporating_temperature": "temperature_difference",
    "condensing_temperature": "temperature_difference",
    "suction_superheat": "temperature_difference",
    "subcooling": "temperature_difference",
    "economizer_approach": "temperature_difference",
    "injection_superheat": "temperature_difference",
    "inlet_pressure": "p",
}


def sensitivity_table(
    circuit: _core.Circuit,
    *,
    evaporating_temperature: float,
    condensing_temperature: float,
    suction_superheat: float = 0.0,
    subcooling: float = 0.0,
    liquid_carryover: float = 0.0,
    hot_gas_bypass: float = 0.0,
    capacity: float | None = None,
    mass_flow: float | None = None,
    power: float | None = None,
    units: str = "SI",
) -> Any:
    """Give the exact slope of every figure to every input as a tidy table.

    The derivatives are carried through the equations of the cycle, none is a difference of two solutions.
    States and interstage pressures that are searched for (equal head, best COP) have theirs by implicit
    differentiation at the solution.

    Parameters
    ----------
    circuit : Circuit
    evaporating_temperature, condensing_temperature, suction_superheat, subcooling, liquid_carryover : float
        These and hot_gas_bypass as in `Circuit.sensitivities`: single numbers, K and dimensionless.
    capacity, mass_flow, power : float, optional
        At most one of them, W or kg/s; 1 kg/s unless given.
    units : {"SI", "I-P"}, optional
        Units of the slopes shown.

    Returns
    -------
    pandas.DataFrame
        A row for each ``figure`` and ``input``: ``figure_value`` and ``input_value`` in SI units (a common
        efficiency of stages that differ is missing), ``slope`` in SI units of both, ``slope_shown`` in the
        unit of ``unit_shown``, and ``elasticity``: relative change of the figure per relative change of the
        input, missing where either is zero. Temperatures count from absolute zero there.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit.arranged(
    ...     interstage.Refrigerant("R-134a"),
    ...     "2 stages: tank@2",
    ...     stage=interstage.Stage(polytropic_efficiency=0.8),
    ... )
    >>> table = interstage.sensitivity_table(
    ...     circuit, evaporating_temperature=278.15, condensing_temperature=310.15, capacity=1e6
    ... )
    >>> row = table.set_index(["figure", "input"]).loc[("power", "condensing_temperature")]
    >>> round(float(row["slope_shown"]), 2), row["unit_shown"]
    (5.62, 'kW/K')
    """
    need_circuit("circuit", circuit)
    _tables.checked_units(units)
    conditions: dict[str, Any] = {
        "evaporating_temperature": evaporating_temperature,
        "condensing_temperature": condensing_temperature,
        "suction_superheat": suction_superheat,
        "subcooling": subcooling,
        "liquid_carryover": liquid_carryover,
        "hot_gas_bypass": hot_gas_bypass,
    }
    sizes = {"capacity": capacity, "mass_flow": mass_flow, "power": power}
    size: dict[str, Any] = {name: value for name, value in sizes.items() if value is not None}
    size = size or {"mass_flow": 1.0}
    slopes = circuit.sensitivities(**conditions, **size)
    cycle = circuit.solve(**conditions, **size)
    rows = []
    for figure, by_input in slopes.items():
        value = _figure_value(cycle, figure)
        for name, slope in by_input.items():
            given = _input_value(circuit, conditions, name)
            unit, factor = _slope_unit(figure, name, units)
            known = value != 0.0 and given != 0.0
            rows.append(
                {
                    "figure": figure,
                    "input": name,
                    "figure_value": value,
                    "input_value": given,
                    "slope": slope,
                    "slope_shown": slope * factor,
                    "unit_shown": unit,
                    "elasticity": slope * given / value if known else math.nan,
                }
            )
    return _needed.pandas().DataFrame(rows)


def _of_stage(name: str) -> tuple[int | None, str]:
    """Take ``stage_2_`` off a name."""
    start, _, rest = name.removeprefix("stage_").partition("_")
    return (int(start), rest) if name.startswith("stage_") and start.isdigit() else (None, name)


def _figure_value(cycle: _core.Cycle, figure: str) -> float:
    stage, name = _of_stage(figure)
    if stage is None:
        value = cycle.power / cycle.evaporator_mass_flow if name == "work" else getattr(cycle, name)
        return float(value)
    if name == "inlet_pressure":
        return cycle.interstage_pressures[stage - 2]
    if name == "flash_fraction":
        between = enumerate(cycle.circuit.interstages, start=2)
        feeds = [k for k, part in between if not isinstance(part, _core.Direct)]
        return cycle.flash_fractions[feeds.index(stage)]
    return float(getattr(cycle, f"stage_{name}")[stage - 1])


def _input_value(circuit: _core.Circuit, conditions: Mapping[str, float], name: str) -> float:
    stage, rest = _of_stage(name)
    if name in conditions:
        return float(conditions[name])
    if name == "evaporator_liquid_carryover":
        return float(conditions["liquid_carryover"])
    if name == "stage_efficiency":
        efficiencies = {each.efficiency for each in circuit.stages}
        return efficiencies.pop() if len(efficiencies) == 1 else math.nan
    if stage is None:
        option = "expander_efficiency" if name == "evaporator_expander_efficiency" else name
        return float(circuit.options.get(option, 0.0 if name.endswith("_loss") else 1.0))
    if rest == "efficiency":
        return circuit.stages[stage - 1].efficiency
    if rest == "inlet_pressure":
        return float(circuit.interstage_pressures[stage - 2])
    part = circuit.interstages[stage - 2]
    attributes = {
        "expander_efficiency": ("expander_efficiency",),
        "tank_liquid_carryover": ("liquid_carryover",),
        "tank_vapor_blowthrough": ("vapor_blowthrough",),
        "economizer_approach": ("approach", "coil_approach"),
        "injection_superheat": ("injection_superheat", "superheat"),
    }[rest]
    return float(next(getattr(part, attribute) for attribute in attributes if hasattr(part, attribute)))


def _slope_unit(figure: str, name: str, units: str) -> tuple[str, float]:
    """Unit of a slope, and what to multiply it by from SI."""
    top, up = _unit(_FIGURES.get(_of_stage(figure)[1]), units)
    bottom, down = _unit(_INPUTS.get(_of_stage(name)[1]), units)
    return f"{top or '1'}/{bottom}" if bottom else top, up / down


def _unit(quantity: str | None, units: str) -> tuple[str, float]:
    if quantity is None:
        return "", 1.0
    unit, convert = _tables.unit_shown(quantity, units)
    return unit, float(convert(1.0))

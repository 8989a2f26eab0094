"""Other refrigerants in the same machine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from interstage import _core
from interstage._bases import EQUAL, TEMPERATURES
from interstage._declared import barometer_of
from interstage._study import Study
from interstage._study_rows import (
    Rows,
    blank_figures,
    citations,
    conditions_of,
    facts,
    figures,
    gauges,
    held,
    need_circuit,
    reasons,
    solved,
    status_texts,
)
from interstage.errors import Inconsistent, InterstageError, WrongArgument


def what_if(
    circuit: _core.Circuit,
    refrigerants: Sequence[str | _core.Refrigerant],
    *,
    evaporating_temperature: Any,
    condensing_temperature: Any,
    suction_superheat: Any = 0.0,
    subcooling: Any = 0.0,
    liquid_carryover: Any = 0.0,
    hot_gas_bypass: Any = 0.0,
    capacity: Any,
    barometer: float | None = None,
    altitude: float | None = None,
    units: str = "SI",
    threads: int | None = None,
) -> Study:
    """Compare refrigerants in the same circuit at the same saturation temperatures.

    A study on paper: whether impellers, exchangers, seals, oil and safety allow another refrigerant is not
    looked at.

    Parameters
    ----------
    circuit : Circuit
        With the refrigerant that the others are measured against; its rows come first. Its interstage
        pressures follow a rule.
    refrigerants : list of str and Refrigerant
    evaporating_temperature, condensing_temperature, suction_superheat, subcooling, liquid_carryover
        These and hot_gas_bypass as in `Circuit.solve`: numbers or columns, K and dimensionless. Temperatures
        of blends are dew temperatures.
    capacity : float or column
        W.
    barometer : float, optional
        Pressure of the atmosphere at the machine, Pa. With it, or the altitude, pressures are shown as gauges
        read them too; without either they are not, since sea level is not taken for granted.
    altitude : float, optional
        m, instead of the barometer.
    units : {"SI", "I-P"}, optional
        Units of the table.
    threads : int, optional
        As in `Circuit.solve`.

    Returns
    -------
    Study
        On the basis "same saturation temperatures". Beside the figures of `compare`: ``machine``, the name of
        the refrigerant (of two with the same name with what tells them apart);
        ``capacity_at_same_inlet_volume``, and per the circuit's own refrigerant
        ``inlet_volume_flow_per_reference`` (at equal capacity), ``head_per_reference`` and
        ``tip_speed_per_reference`` (the square root of it: with equal head coefficients). Refrigerants that
        cannot run there stay, with the reason.

    Raises
    ------
    UnknownRefrigerant
        If a name is unknown.
    Inconsistent
        If the interstage pressures of the circuit are given.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit.arranged(
    ...     interstage.Refrigerant("R-123"),
    ...     "2 stages: tank@2",
    ...     stage=interstage.Stage(polytropic_efficiency=0.8),
    ... )
    >>> study = interstage.what_if(
    ...     circuit,
    ...     ["R-1233zd(E)", "R-410A"],
    ...     evaporating_temperature=278.15,
    ...     condensing_temperature=310.15,
    ...     capacity=3.5e6,
    ...     altitude=0.0,
    ... )
    >>> study.table["capacity_at_same_inlet_volume [kW]"].round(0).tolist()
    [3500.0, 4926.0, nan]
    >>> study.table["reason"][2].split("; ")[-1]
    'in a flash tank its liquid and vapor part with different ones: choose its mixture model'
    """
    need_circuit("circuit", circuit)
    if not isinstance(refrigerants, (list, tuple)):
        message = (
            f"refrigerants must be a list of names and Refrigerant objects, got {type(refrigerants).__name__}"
        )
        raise WrongArgument(message, argument="refrigerants")
    if circuit.interstage_pressures and not isinstance(circuit.interstage_pressures, str):
        reason = "given pressures suit one refrigerant; choose a rule for them"
        message = f"interstage_pressures and refrigerants contradict each other: {reason}"
        raise Inconsistent(message, arguments="interstage_pressures, refrigerants", reason=reason)
    others = [_refrigerant(at, each) for at, each in enumerate(refrigerants)]
    candidates = [circuit.refrigerant, *(each for each in others if each != circuit.refrigerant)]
    pressure = barometer_of({}, barometer, altitude)
    columns, labels = conditions_of(
        {
            "evaporating_temperature": evaporating_temperature,
            "condensing_temperature": condensing_temperature,
            "suction_superheat": suction_superheat,
            "subcooling": subcooling,
            "liquid_carryover": liquid_carryover,
            "hot_gas_bypass": hot_gas_bypass,
            "capacity": capacity,
        }
    )
    number = len(columns["capacity"])
    rows = Rows(len(candidates) * number, units)
    rows.label("condition", labels)
    most = len(circuit.stages)
    reference: dict[str, Any] = {}
    circuits: dict[str, _core.Circuit] = {}
    for place, (label, candidate) in enumerate(_labelled(candidates).items()):
        at = slice(place * number, (place + 1) * number)
        rows.fill(at, {"basis": TEMPERATURES, "machine": label, "refrigerant": candidate.name, **columns})
        blank = blank_figures(most)
        rows.fill(at, {**blank, **_in_the_same_machine(blank, blank), **facts(candidate)})
        try:
            machine = circuit.with_refrigerant(candidate)
            cycles = solved(machine, columns, threads)
        except InterstageError as error:
            rows.fill(at, {"status": "not possible", "reason": str(error)})
            continue
        circuits[label] = machine
        found = figures(cycles, most)
        reference = reference or (found if place == 0 else blank)
        rows.fill(at, {**found, **_in_the_same_machine(found, reference)})
        if isinstance(pressure, float):
            rows.fill(at, gauges(found, pressure, units))
        texts = reasons(machine.solve, columns, cycles._status)
        rows.fill(at, {"status": status_texts(cycles._status), "reason": texts})
    around = "not given: no gauge pressures" if pressure is None else f"{pressure:g} Pa"
    return Study(
        table=rows.frame(),
        basis=(TEMPERATURES,),
        held={
            f"basis {TEMPERATURES!r}": EQUAL[TEMPERATURES],
            "arrangement": circuit.arrangement,
            "reference": circuit.refrigerant.name,
            "barometer": around,
            **held(circuits, columns),
        },
        citations=citations(list(circuits.values())),
        version=_core.__version__,
    )


def _labelled(candidates: Sequence[_core.Refrigerant]) -> dict[str, _core.Refrigerant]:
    """Call each by its name; of two with the same name the equation, or else the place, tells them apart."""
    labelled: dict[str, _core.Refrigerant] = {}
    for place, each in enumerate(candidates):
        names = (each.name, f"{each.name} by {each.equation}", f"{each.name} ({place})")
        labelled[next(name for name in names if name not in labelled)] = each
    return labelled


def _refrigerant(at: int, each: Any) -> _core.Refrigerant:
    if isinstance(each, str):
        return _core.Refrigerant(each)
    if not isinstance(each, _core.Refrigerant):
        message = f"refrigerants[{at}] must be a name or a Refrigerant, got {type(each).__name__}"
        raise WrongArgument(message, argument="refrigerants")
    return each


def _in_the_same_machine(found: Mapping[str, Any], reference: Mapping[str, Any]) -> dict[str, Any]:
    """What another refrigerant asks of impellers that were made for the reference."""
    with np.errstate(invalid="ignore", divide="ignore"):
        volume = found["inlet_volume_flow"] / reference["inlet_volume_flow"]
        head = found["head"] / reference["head"]
        return {
            "benefit_against_reference": 1.0 - found["kw_per_ton"] / reference["kw_per_ton"],
            "capacity_at_same_inlet_volume": found["capacity"] / volume,
            "inlet_volume_flow_per_reference": volume,
            "head_per_reference": head,
            "tip_speed_per_reference": np.sqrt(head),
        }

"""Comparisons of circuits on a named basis, and of refrigerants in one machine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from interstage import _core
from interstage._columns import OK
from interstage._declared import barometer_of
from interstage._study import Study
from interstage._study_rows import (
    FloatArray,
    Rows,
    citations,
    conditions_of,
    facts,
    figures,
    gauges,
    held,
    need_circuit,
    reasons,
    size_of,
    solved,
    status_texts,
)
from interstage.errors import Inconsistent, InterstageError, UnknownOption, WrongArgument

_EQUAL: Mapping[str, str] = {
    "same saturation temperatures": (
        "evaporating and condensing temperature (of blends the dew temperatures) and capacity are equal; "
        "what the exchangers would need for that is not looked at"
    ),
    "same inlet volume": (
        "evaporating and condensing temperature and the volume flow into the first stage are equal; capacity "
        "floats"
    ),
}


def _labelled(circuits: Any) -> dict[str, _core.Circuit]:
    """Give circuits by label; without labels refrigerant and arrangement name them."""
    if isinstance(circuits, Mapping):
        named = dict(circuits)
    elif isinstance(circuits, (list, tuple)):
        for at, circuit in enumerate(circuits):
            need_circuit(f"circuits[{at}]", circuit)
        labels = [f"{circuit.refrigerant.name}, {circuit.arrangement}" for circuit in circuits]
        if len(set(labels)) < len(labels):
            twice = next(label for label in labels if labels.count(label) > 1)
            message = f"two circuits are called {twice!r}: pass a dictionary of label to circuit"
            raise WrongArgument(message, argument="circuits")
        named = dict(zip(labels, circuits, strict=True))
    else:
        found = type(circuits).__name__
        message = f"circuits must be a list of Circuit or a dictionary of label to Circuit, got {found}"
        raise WrongArgument(message, argument="circuits")
    if not named:
        raise WrongArgument("circuits must hold at least one circuit", argument="circuits")
    for label, circuit in named.items():
        if not isinstance(label, str):
            raise WrongArgument(f"a label must be a text, got {label!r}", argument="circuits")
        need_circuit(f"circuits[{label!r}]", circuit)
    return named


def _bases(basis: Any) -> tuple[str, ...]:
    """Check names of bases."""
    bases = (basis,) if isinstance(basis, str) else tuple(basis) if isinstance(basis, (list, tuple)) else ()
    if not bases:
        raise WrongArgument(f"basis must be a name or a list of names, got {basis!r}", argument="basis")
    for name in bases:
        if name not in _EQUAL:
            message = f"basis must be {' or '.join(map(repr, _EQUAL))}, got {name!r}"
            raise UnknownOption(message, argument="basis", value=str(name), options=tuple(_EQUAL))
    if len(set(bases)) < len(bases):
        raise WrongArgument("a basis is named twice", argument="basis")
    return bases


def _solved(
    basis: str,
    circuit: _core.Circuit,
    conditions: Mapping[str, FloatArray],
    size: FloatArray,
    threads: int | None,
) -> tuple[Any, Any, Any]:
    """Solve a circuit at a capacity, or at a volume flow into the first stage: cycles, status and reasons."""
    if basis != "same inlet volume":
        sized = {**conditions, "capacity": size}
        cycles = solved(circuit, sized, threads)
        return cycles, cycles._status, reasons(circuit.solve, sized, cycles._status)
    # Volume flow and mass flow are proportional.
    sized = {**conditions, "mass_flow": np.ones_like(size)}
    unit = solved(circuit, sized, threads)
    with np.errstate(divide="ignore", invalid="ignore"):
        flow = size / figures(unit, 1)["inlet_volume_flow"]
    cycles = solved(circuit, {**conditions, "mass_flow": flow}, threads)
    status = np.where(unit._status != OK, unit._status, cycles._status)
    return cycles, status, reasons(circuit.solve, sized, status, "the inlet volume flow is not known")


def compare(
    circuits: Sequence[_core.Circuit] | Mapping[str, _core.Circuit],
    *,
    basis: str | Sequence[str],
    evaporating_temperature: Any,
    condensing_temperature: Any,
    suction_superheat: Any = 0.0,
    subcooling: Any = 0.0,
    liquid_carryover: Any = 0.0,
    hot_gas_bypass: Any = 0.0,
    capacity: Any = None,
    inlet_volume_flow: Any = None,
    reference: str | None = None,
    units: str = "SI",
    threads: int | None = None,
) -> Study:
    """Compare circuits on one basis or more, at one condition or whole columns of them.

    Parameters
    ----------
    circuits : list of Circuit or dict of str to Circuit
        With labels, or called by refrigerant and arrangement.
    basis : str or list of str
        ``"same saturation temperatures"`` (at equal capacity) or ``"same inlet volume"`` (of the first stage,
        at the same saturation temperatures; capacity floats).
    evaporating_temperature, condensing_temperature, suction_superheat, subcooling, liquid_carryover
        These and hot_gas_bypass as in `Circuit.solve`: numbers or columns, K and dimensionless.
    capacity : float or column, optional
        W. On equal inlet volumes that of the reference, whose volume flow all then have.
    inlet_volume_flow : float or column, optional
        m3/s, instead of the capacity, where the inlet volume is the only basis.
    reference : str, optional
        Label of the circuit that the others are measured against; the first unless given.
    units : {"SI", "I-P"}, optional
        Units of the table.
    threads : int, optional
        As in `Circuit.solve`.

    Returns
    -------
    Study

    Raises
    ------
    WrongArgument, UnknownOption, WrongLength
        If circuits, bases, labels or columns do not fit. Rows that cannot be solved do not raise.

    Examples
    --------
    >>> import interstage
    >>> stage = interstage.Stage(polytropic_efficiency=0.8)
    >>> r = interstage.Refrigerant("R-1233zd(E)")
    >>> study = interstage.compare(
    ...     {
    ...         "none": interstage.Circuit.arranged(r, "3 stages", stage=stage),
    ...         "two tanks": interstage.Circuit.arranged(r, "3 stages: tank@3, tank@2", stage=stage),
    ...     },
    ...     basis=["same saturation temperatures", "same inlet volume"],
    ...     evaporating_temperature=278.15,
    ...     condensing_temperature=[300.15, 310.15],
    ...     capacity=3.5e6,
    ... )
    >>> study.table["benefit_against_reference"].round(4).tolist()
    [0.0, 0.0, 0.0487, 0.0759, 0.0, 0.0, 0.0487, 0.0759]
    >>> study.table["capacity_per_reference"].round(3).tolist()[-2:]
    [1.102, 1.162]
    """
    named = _labelled(circuits)
    bases = _bases(basis)
    reference = next(iter(named)) if reference is None else reference
    if reference not in named:
        message = f"reference must be one of {', '.join(map(repr, named))}, got {reference!r}"
        raise UnknownOption(message, argument="reference", value=str(reference), options=tuple(named))
    size_name, size = size_of(capacity=capacity, inlet_volume_flow=inlet_volume_flow)
    if size_name == "inlet_volume_flow" and bases != ("same inlet volume",):
        message = "inlet_volume_flow fixes the size on the basis 'same inlet volume' alone: give capacity"
        raise WrongArgument(message, argument="inlet_volume_flow")
    given = {
        "evaporating_temperature": evaporating_temperature,
        "condensing_temperature": condensing_temperature,
        "suction_superheat": suction_superheat,
        "subcooling": subcooling,
        "liquid_carryover": liquid_carryover,
        "hot_gas_bypass": hot_gas_bypass,
    }
    columns, labels = conditions_of({**given, size_name: size})
    asked = columns.pop(size_name)
    number = len(asked)
    most = max(len(circuit.stages) for circuit in named.values())
    rows = Rows(len(bases) * len(named) * number, units)
    rows.label("condition", labels)
    start = 0
    for name in bases:
        volume = asked
        if name == "same inlet volume" and size_name == "capacity":
            first = solved(named[reference], {**columns, "capacity": asked}, threads)
            volume = figures(first, 1)["inlet_volume_flow"]
        against: dict[str, Any] = {}
        for label in (reference, *(label for label in named if label != reference)):
            circuit = named[label]
            cycles, status, texts = _solved(name, circuit, columns, volume, threads)
            found = figures(cycles, most)
            against = against or found
            at = slice(start + list(named).index(label) * number, None)
            at = slice(at.start, at.start + number)
            rows.fill(at, {"basis": name, "circuit": label, "arrangement": circuit.arrangement})
            rows.fill(at, {"refrigerant": circuit.refrigerant.name})
            rows.fill(at, columns)
            rows.fill(at, {**found, **_measured_against(found, against), **facts(circuit.refrigerant)})
            rows.fill(at, {"status": status_texts(status), "reason": texts})
        start += len(named) * number
    what = {f"basis {name!r}": _EQUAL[name] for name in bases}
    return Study(
        table=rows.frame(),
        basis=bases,
        held={**what, "reference": reference, **held(named, {**columns, size_name: asked})},
        citations=citations(list(named.values())),
        version=_core.__version__,
    )


def _measured_against(found: Mapping[str, Any], reference: Mapping[str, Any]) -> dict[str, Any]:
    """Power saved per capacity, and capacity, against a reference."""
    with np.errstate(invalid="ignore"):
        return {
            "benefit_against_reference": 1.0 - found["kw_per_ton"] / reference["kw_per_ton"],
            "capacity_per_reference": found["capacity"] / reference["capacity"],
        }


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
        Beside the figures of `compare`: ``capacity_at_same_inlet_volume``, and per the circuit's own
        refrigerant ``inlet_volume_flow_per_reference`` (at equal capacity), ``head_per_reference`` and
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
    reference: dict[str, Any] = {}
    circuits: dict[str, _core.Circuit] = {}
    for place, candidate in enumerate(candidates):
        at = slice(place * number, (place + 1) * number)
        rows.fill(at, {"refrigerant": candidate.name, "model": candidate.model, **columns})
        try:
            machine = circuit.with_refrigerant(candidate)
            cycles = solved(machine, columns, threads)
        except InterstageError as error:
            rows.fill(at, {**facts(candidate), "status": "not possible", "reason": str(error)})
            continue
        circuits[candidate.name] = machine
        found = figures(cycles, len(circuit.stages))
        reference = reference or found
        rows.fill(at, {**found, **_in_the_same_machine(found, reference)})
        if isinstance(pressure, float):
            rows.fill(at, gauges(found, pressure, units))
        texts = reasons(machine.solve, columns, cycles._status)
        rows.fill(at, {**facts(candidate), "status": status_texts(cycles._status), "reason": texts})
    around = "not given: no gauge pressures" if pressure is None else f"{pressure:g} Pa"
    return Study(
        table=rows.frame(),
        basis=("same machine, saturation temperatures and capacity, other refrigerants",),
        held={
            "arrangement": circuit.arrangement,
            "reference": circuit.refrigerant.name,
            "barometer": around,
            **held(circuits, columns),
        },
        citations=citations(list(circuits.values())),
        version=_core.__version__,
    )


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

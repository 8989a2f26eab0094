"""Comparisons of circuits on a named basis."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from interstage import _core
from interstage._bases import (
    EQUAL,
    VOLUME,
    WATER,
    Run,
    WaterSide,
    at_temperatures,
    at_volume,
    at_water,
    saturation_temperatures,
)
from interstage._study import Study
from interstage._study_rows import (
    Rows,
    citations,
    conditions_of,
    facts,
    figures,
    held,
    need_circuit,
    size_of,
    solved,
)
from interstage._study_rows import status_texts as words
from interstage.errors import UnknownOption, WrongArgument


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
        if name not in EQUAL:
            message = f"basis must be {' or '.join(map(repr, EQUAL))}, got {name!r}"
            raise UnknownOption(message, argument="basis", value=str(name), options=tuple(EQUAL))
    if len(set(bases)) < len(bases):
        twice = next(name for name in bases if bases.count(name) > 1)
        raise WrongArgument(f"basis names {twice!r} twice", argument="basis")
    return bases


def compare(
    circuits: Sequence[_core.Circuit] | Mapping[str, _core.Circuit],
    *,
    basis: str | Sequence[str],
    evaporating_temperature: Any = None,
    condensing_temperature: Any = None,
    suction_superheat: Any = 0.0,
    subcooling: Any = 0.0,
    liquid_carryover: Any = 0.0,
    hot_gas_bypass: Any = 0.0,
    capacity: Any = None,
    inlet_volume_flow: Any = None,
    water: WaterSide | None = None,
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
        ``"same saturation temperatures"`` (at equal capacity), ``"same exchangers and water"`` (at equal
        capacity; saturation temperatures float) or ``"same inlet volume"`` (of the first stage, at the same
        saturation temperatures; capacity floats).
    evaporating_temperature, condensing_temperature : float or column, optional
        K. With exchangers and water they follow from those; the other bases then take what the reference has
        there, unless given.
    suction_superheat, subcooling, liquid_carryover, hot_gas_bypass : float or column, optional
        As in `Circuit.solve`, K and dimensionless. With exchangers and water the first two are single numbers
        and the others zero.
    capacity : float or column, optional
        W. On equal inlet volumes that of the reference, whose volume flow all then have.
    inlet_volume_flow : float or column, optional
        m3/s, instead of the capacity, where the inlet volume is the only basis.
    water : WaterSide, optional
        Exchangers and waters.
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
    if size_name == "inlet_volume_flow" and bases != (VOLUME,):
        message = f"inlet_volume_flow fixes the size on the basis {VOLUME!r} alone: give capacity"
        raise WrongArgument(message, argument="inlet_volume_flow")
    temperatures = _temperatures(bases, water, evaporating_temperature, condensing_temperature)
    given = {
        **temperatures,
        "suction_superheat": suction_superheat,
        "subcooling": subcooling,
        "liquid_carryover": liquid_carryover,
        "hot_gas_bypass": hot_gas_bypass,
        **({} if water is None else water.temperatures()),
        size_name: size,
    }
    columns, labels = conditions_of(given)
    at_rest = {
        name: columns[name] for name in columns if not name.endswith(("_entering", "_leaving", size_name))
    }
    if water is not None and not temperatures and bases != (WATER,):
        at_rest = saturation_temperatures(named[reference], water, columns, threads) | at_rest
    volume = columns[size_name]
    if VOLUME in bases and size_name == "capacity":
        volume = figures(solved(named[reference], {**at_rest, "capacity": volume}, threads), 1)[
            "inlet_volume_flow"
        ]

    def run(basis: str, circuit: _core.Circuit) -> Run:
        if basis == WATER and water is not None:
            own = {name: column for name, column in columns.items() if name not in temperatures}
            return at_water(circuit, water, own, threads)
        if basis == VOLUME:
            return at_volume(circuit, at_rest, volume, threads)
        return at_temperatures(circuit, at_rest, columns[size_name], threads)

    number = len(volume)
    most = max(len(circuit.stages) for circuit in named.values())
    rows = Rows(len(bases) * len(named) * number, units)
    rows.label("condition", labels)
    for block, name in enumerate(bases):
        against: dict[str, Any] = {}
        for label in (reference, *(label for label in named if label != reference)):
            circuit = named[label]
            of = run(name, circuit)
            found = figures(of.cycles, most) | of.figures
            against = against or found
            start = (block * len(named) + list(named).index(label)) * number
            at = slice(start, start + number)
            rows.fill(at, {"basis": name, "circuit": label, "arrangement": circuit.arrangement})
            rows.fill(at, {"refrigerant": circuit.refrigerant.name, **of.conditions, **found})
            rows.fill(at, {**_measured_against(found, against), **facts(circuit.refrigerant)})
            rows.fill(at, {"status": words(of.status), "reason": of.reasons})
    what = {f"basis {name!r}": EQUAL[name] for name in bases}
    if water is not None:
        what["exchangers"] = f"{water.evaporator!r}, {water.condenser!r}"
        what["water"] = f"chilled {water.chilled_water!r}, condenser {water.condenser_water!r}"
    constant = {name: column for name, column in columns.items() if name in (*at_rest, size_name)}
    return Study(
        table=rows.frame(),
        basis=bases,
        held={**what, "reference": reference, **held(named, constant)},
        citations=citations(list(named.values())),
        version=_core.__version__,
    )


def _temperatures(
    bases: tuple[str, ...], water: WaterSide | None, evaporating: Any, condensing: Any
) -> dict[str, Any]:
    """Give the saturation temperatures that are given, and check that the bases can do with them."""
    given = {"evaporating_temperature": evaporating, "condensing_temperature": condensing}
    given = {name: value for name, value in given.items() if value is not None}
    both = "evaporating_temperature, condensing_temperature"
    if len(given) == 1:
        message = f"give both or none of {both}, got {next(iter(given))} alone"
        raise WrongArgument(message, argument=both)
    if (WATER in bases or water is not None) and not isinstance(water, WaterSide):
        message = f"the basis {WATER!r} needs water=interstage.WaterSide(...), got {type(water).__name__}"
        raise WrongArgument(message, argument="water")
    if given and bases == (WATER,):
        message = f"{both}: on the basis {WATER!r} they follow from exchangers and water"
        raise WrongArgument(message, argument=both)
    if not given and water is None:
        message = f"{both} are missing: every basis but {WATER!r} needs them"
        raise WrongArgument(message, argument=both)
    return given


def _measured_against(found: Mapping[str, Any], reference: Mapping[str, Any]) -> dict[str, Any]:
    """Power saved per capacity, and capacity, against a reference."""
    with np.errstate(invalid="ignore"):
        return {
            "benefit_against_reference": 1.0 - found["kw_per_ton"] / reference["kw_per_ton"],
            "capacity_per_reference": found["capacity"] / reference["capacity"],
        }

"""Grids of machines and conditions: the product of named lists, solved in whole columns."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from typing import Any

import numpy as np

from interstage import _core
from interstage._arrays import as_number, numbers
from interstage._axes import EFFICIENCIES, MACHINE, WORDS
from interstage._bases import AT_SIZE, equal_at_size
from interstage._progress import bar
from interstage._study import Study
from interstage._study_rows import (
    CONDITIONS,
    SIZES,
    FloatArray,
    Rows,
    blank_figures,
    citations,
    facts,
    figures,
    held,
    reasons,
    size_of,
    solved,
    status_texts,
)
from interstage.errors import InterstageError, UnknownOption, WrongArgument

_AXES = (*MACHINE, *CONDITIONS, *SIZES)

#: Rows from which on a bar shows the progress; about two seconds on one core.
_LONG = 100_000


def grid(
    *, progress: bool | None = None, units: str = "SI", threads: int | None = None, **axes: Any
) -> Study:
    """Solve every combination of named lists.

    Parameters
    ----------
    progress : bool, optional
        Whether a bar shows the progress, which needs tqdm; unless given, only of long grids in a terminal or
        notebook.
    units : {"SI", "I-P"}, optional
        Units of the table; what goes in is SI.
    threads : int, optional
        As in `Circuit.solve`.
    **axes
        Single values or lists. Machines: ``refrigerant`` (names or Refrigerant objects), ``arrangement``
        (texts as in `Circuit.arranged`), one of ``isentropic_efficiency`` and ``polytropic_efficiency``; and,
        if wanted, any other option of `Circuit`. Conditions: ``evaporating_temperature`` and
        ``condensing_temperature``; if wanted ``suction_superheat``, ``subcooling``, ``liquid_carryover`` and
        ``hot_gas_bypass``; and one of ``capacity``, ``mass_flow`` and ``power``.

    Returns
    -------
    Study
        A row for each combination on the basis "same saturation temperatures" (and equal mass flow or power
        where these fix the size), machines in the order of the lists, of the conditions the last one named
        here the first to change. ``machine`` is what `Study.held` and `Study.conclusions` call a machine,
        ``condition`` counts its rows. Machines that cannot be built and rows that cannot be solved have NaN,
        a ``status`` and the ``reason`` in full.

    Raises
    ------
    UnknownOption
        If there is no such axis, refrigerant or arrangement.
    WrongArgument
        If an axis is missing or empty.

    Examples
    --------
    >>> import interstage
    >>> study = interstage.grid(
    ...     refrigerant=["R-123", "R-134a"],
    ...     arrangement=["2 stages", "2 stages: tank@2"],
    ...     polytropic_efficiency=[0.75, 0.80],
    ...     evaporating_temperature=278.15,
    ...     condensing_temperature=[300.15, 305.15, 310.15],
    ...     capacity=1e6,
    ... )
    >>> study
    Study(same saturation temperatures: 24 rows)
    >>> best = study.table.loc[study.table["kw_per_ton"].idxmin()]
    >>> best["refrigerant"], best["arrangement"], best["polytropic_efficiency"].item()
    ('R-123', '2 stages: tank@2', 0.8)
    """
    lists = _lists(axes)
    size_name, _ = size_of(**{name: lists.get(name) for name in SIZES})
    conditions = _product(
        {name: lists.get(name, [default]) for name, default in CONDITIONS.items()}
        | {size_name: lists[size_name]}
    )
    number = len(conditions[size_name])
    names = [name for name in MACHINE if name in lists]
    machines = [dict(zip(names, values, strict=True)) for values in product(*(lists[name] for name in names))]
    built = [_built(machine) for machine in machines]
    most = max(_arrangement(text) for text in lists["arrangement"])
    basis = AT_SIZE[size_name]
    rows = Rows(len(machines) * number, units)
    rows.label("condition", range(number))
    circuits: dict[str, _core.Circuit] = {}
    places = range(len(machines))
    for place in bar(places, progress, len(machines) * number >= _LONG, "machine"):
        machine, circuit = machines[place], built[place]
        at = slice(place * number, (place + 1) * number)
        label = f"machine {place + 1}"
        refrigerant = machine["refrigerant"]
        rows.fill(at, {"basis": basis, "machine": label})
        rows.fill(at, {**machine, "refrigerant": refrigerant.name, **conditions, **blank_figures(most)})
        rows.fill(at, facts(refrigerant))
        if isinstance(circuit, str):
            rows.fill(at, {"status": "not possible", "reason": circuit})
            continue
        cycles = solved(circuit, conditions, threads)
        texts = reasons(circuit.solve, conditions, cycles._status)
        rows.fill(at, {**figures(cycles, most), "status": status_texts(cycles._status), "reason": texts})
        circuits[label] = circuit
    return Study(
        table=rows.frame(),
        basis=(basis,),
        held={f"basis {basis!r}": equal_at_size(size_name), **held(circuits, conditions)},
        citations=citations(list(circuits.values())),
        version=_core.__version__,
    )


def _lists(axes: Mapping[str, Any]) -> dict[str, list[Any]]:
    """Check the axes and give each as a list."""
    for name in axes:
        if name not in _AXES:
            message = f"a grid has no axis {name!r}; it may have {', '.join(_AXES)}"
            raise UnknownOption(message, argument=name, value=name, options=_AXES)
    lists = {name: _list(name, value) for name, value in axes.items()}
    needed = ["refrigerant", "arrangement", "evaporating_temperature", "condensing_temperature"]
    missing = [name for name in needed if name not in lists]
    if missing:
        raise WrongArgument(f"a grid needs {', '.join(missing)}", argument=", ".join(missing))
    if len(lists.keys() & set(EFFICIENCIES)) != 1:
        message = f"a grid needs exactly one of {' and '.join(EFFICIENCIES)}"
        raise WrongArgument(message, argument=", ".join(EFFICIENCIES))
    lists["refrigerant"] = [_refrigerant(each) for each in lists["refrigerant"]]
    for text in lists["arrangement"]:
        _arrangement(text)
    return lists


def _list(name: str, value: Any) -> list[Any]:
    if name in WORDS:
        values = list(value) if isinstance(value, (list, tuple)) else [value]
        for each in values:
            number = (
                name == "motor_cooling" and not isinstance(each, str) and as_number(name, each) is not None
            )
            known = isinstance(each, str) or (name == "refrigerant" and isinstance(each, _core.Refrigerant))
            if not known and not number:
                message = f"{name} must be a text or a list of texts, got {each!r}"
                raise WrongArgument(message, argument=name)
    else:
        values = numbers(name, value).reshape(-1).tolist()
    if not values:
        raise WrongArgument(f"{name} is an empty list", argument=name)
    return values


def _refrigerant(each: str | _core.Refrigerant) -> _core.Refrigerant:
    return _core.Refrigerant(each) if isinstance(each, str) else each


def _arrangement(text: str) -> int:
    """Give the number of stages; refuse a text that is no arrangement, before any is solved."""
    stage = _core.Stage(isentropic_efficiency=1.0)
    return len(_core.Circuit.arranged(_core.Refrigerant("R-134a"), text, stage=stage).stages)


def _built(machine: Mapping[str, Any]) -> _core.Circuit | str:
    """Build a machine, or say why it cannot be."""
    options = {name: value for name, value in machine.items() if name not in MACHINE[:4]}
    efficiency: dict[str, Any] = {name: machine[name] for name in EFFICIENCIES if name in machine}
    try:
        stage = _core.Stage(**efficiency)
        return _core.Circuit.arranged(machine["refrigerant"], machine["arrangement"], stage=stage, **options)
    except UnknownOption:
        raise
    except InterstageError as error:
        return str(error)


def _product(lists: Mapping[str, list[Any]]) -> dict[str, FloatArray]:
    """Give every combination as columns of one length, the last list the first to change."""
    columns = np.meshgrid(*(np.array(values, dtype=np.float64) for values in lists.values()), indexing="ij")
    return {name: column.reshape(-1) for name, column in zip(lists, columns, strict=True)}

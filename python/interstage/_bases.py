"""The bases of comparison: what is equal, and a circuit solved so."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from interstage import _core
from interstage._columns import OK
from interstage._cycles import Cycles
from interstage._study_rows import FloatArray, figures, reasons, solved, without_economizers
from interstage.errors import WrongArgument

TEMPERATURES = "same saturation temperatures"
WATER = "same exchangers and water"
VOLUME = "same inlet volume"

#: Basis -> what is equal on it and what is not looked at or floats.
EQUAL: Mapping[str, str] = {
    TEMPERATURES: (
        "evaporating and condensing temperature (of blends the dew temperatures) and capacity are equal; "
        "what the exchangers would need for that is not looked at"
    ),
    WATER: (
        "exchangers, water flows, water temperatures as given and capacity are equal; saturation "
        "temperatures float, also those of the machine without economizers that the benefit is told against; "
        "its interstage pressures are those of the machine with them"
    ),
    VOLUME: (
        "evaporating and condensing temperature and the volume flow into the first stage are equal; capacity "
        "floats"
    ),
}


#: What fixes the size -> basis at the same saturation temperatures.
AT_SIZE: Mapping[str, str] = {
    "capacity": TEMPERATURES,
    "mass_flow": f"{TEMPERATURES} and mass flow",
    "power": f"{TEMPERATURES} and power",
}


def equal_at_size(size: str) -> str:
    """Say what is equal at the same saturation temperatures with a size that is given."""
    what = {
        "capacity": "capacity",
        "mass_flow": "mass flow through the evaporator",
        "power": "compression power",
    }
    return EQUAL[TEMPERATURES].replace("capacity", what[size])


@dataclass(frozen=True)
class WaterSide:
    """Exchangers and waters that circuits have in common in `compare`.

    Parameters
    ----------
    evaporator, condenser : Exchanger
    chilled_water, condenser_water : WaterFlow
    condenser_water_entering : float or column
        K.
    chilled_water_leaving, chilled_water_entering : float or column, optional
        Exactly one of the two, K.

    Examples
    --------
    >>> import interstage
    >>> stage = interstage.Stage(polytropic_efficiency=0.8)
    >>> r = interstage.Refrigerant("R-134a")
    >>> water = interstage.WaterSide(
    ...     evaporator=interstage.Exchanger.evaporator(ua=1.0e6),
    ...     condenser=interstage.Exchanger.condenser(ua=1.2e6),
    ...     chilled_water=interstage.WaterFlow(mass_flow=167.0),
    ...     condenser_water=interstage.WaterFlow(mass_flow=190.0),
    ...     condenser_water_entering=303.15,
    ...     chilled_water_leaving=280.15,
    ... )
    >>> study = interstage.compare(
    ...     [interstage.Circuit.arranged(r, text, stage=stage) for text in ("2 stages", "2 stages: tank@2")],
    ...     basis=["same exchangers and water", "same saturation temperatures"],
    ...     water=water,
    ...     capacity=3.5e6,
    ... )
    >>> study.table["benefit_against_reference"].round(4).tolist()
    [0.0, 0.0749, 0.0, 0.0725]
    """

    evaporator: _core.Exchanger
    condenser: _core.Exchanger
    chilled_water: _core.WaterFlow
    condenser_water: _core.WaterFlow
    condenser_water_entering: Any
    chilled_water_leaving: Any = None
    chilled_water_entering: Any = None

    def temperatures(self) -> dict[str, Any]:
        """Give the water temperatures that are given, K.

        Returns
        -------
        dict of str to number or column

        Examples
        --------
        >>> import interstage
        >>> interstage.WaterSide(
        ...     evaporator=interstage.Exchanger.evaporator(approach=1.0),
        ...     condenser=interstage.Exchanger.condenser(approach=1.5),
        ...     chilled_water=interstage.WaterFlow(mass_flow=167.0),
        ...     condenser_water=interstage.WaterFlow(mass_flow=190.0),
        ...     condenser_water_entering=[303.15, 297.15],
        ...     chilled_water_leaving=280.15,
        ... ).temperatures()
        {'chilled_water_leaving': 280.15, 'condenser_water_entering': [303.15, 297.15]}
        """
        chilled = {
            "chilled_water_leaving": self.chilled_water_leaving,
            "chilled_water_entering": self.chilled_water_entering,
        }
        given = {name: value for name, value in chilled.items() if value is not None}
        if len(given) != 1:
            message = f"give exactly one of {' and '.join(chilled)}, got {'both' if given else 'none'}"
            raise WrongArgument(message, argument=", ".join(chilled))
        return {**given, "condenser_water_entering": self.condenser_water_entering}


class Run(NamedTuple):
    """A circuit solved on a basis, row by row."""

    #: Columns of its own that are shown: conditions, and water temperatures if there are any.
    conditions: dict[str, FloatArray]
    cycles: Cycles
    #: Figures that are others on this basis than at equal saturation temperatures.
    figures: dict[str, FloatArray]
    status: npt.NDArray[np.uint8]
    reasons: Any


def at_temperatures(
    circuit: _core.Circuit, conditions: Mapping[str, FloatArray], capacity: FloatArray, threads: int | None
) -> Run:
    """Solve at a capacity."""
    sized = {**conditions, "capacity": capacity}
    cycles = solved(circuit, sized, threads)
    return Run(dict(conditions), cycles, {}, cycles._status, reasons(circuit.solve, sized, cycles._status))


def at_volume(
    circuit: _core.Circuit, conditions: Mapping[str, FloatArray], volume: FloatArray, threads: int | None
) -> Run:
    """Solve at a volume flow into the first stage, which is proportional to the mass flow."""
    sized = {**conditions, "mass_flow": np.ones_like(volume)}
    unit = solved(circuit, sized, threads)
    with np.errstate(divide="ignore", invalid="ignore"):
        flow = volume / figures(unit, 1)["inlet_volume_flow"]
    cycles = solved(circuit, {**conditions, "mass_flow": flow}, threads)
    status = np.where(unit._status != OK, unit._status, cycles._status)
    texts = reasons(circuit.solve, sized, status, "the inlet volume flow is not known")
    return Run(dict(conditions), cycles, {}, status, texts)


def _single(name: str, column: FloatArray) -> float:
    """Give the one number of a condition that a chiller has for all rows."""
    if len(set(column.tolist())) > 1:
        message = f"on the basis {WATER!r} {name} must be a single number, got {len(column)} that differ"
        raise WrongArgument(message, argument=name)
    return float(column[0])


def _watered(
    circuit: _core.Circuit, water: WaterSide, conditions: Mapping[str, FloatArray], threads: int | None
) -> tuple[Any, Callable[..., Any], dict[str, FloatArray]]:
    """Solve a chiller of the circuit: its points, the call for a single row, and the columns of the duty."""
    for name in ("liquid_carryover", "hot_gas_bypass"):
        if np.any(conditions[name] != 0.0):
            message = f"on the basis {WATER!r} {name} must be 0"
            raise WrongArgument(message, argument=name)
    chiller = _core.Chiller(
        circuit,
        evaporator=water.evaporator,
        condenser=water.condenser,
        suction_superheat=_single("suction_superheat", conditions["suction_superheat"]),
        subcooling=_single("subcooling", conditions["subcooling"]),
    )
    duty = {name: conditions[name] for name in ("capacity", *water.temperatures())}

    def solve(**given: Any) -> Any:
        return chiller.solve(
            chilled_water=water.chilled_water, condenser_water=water.condenser_water, **given
        )

    return solve(**duty, threads=threads), solve, duty


def saturation_temperatures(
    circuit: _core.Circuit, water: WaterSide, conditions: Mapping[str, FloatArray], threads: int | None
) -> dict[str, FloatArray]:
    """Give the saturation temperatures of a circuit with these exchangers and waters."""
    points, _, _ = _watered(circuit, water, conditions, threads)
    return _saturation(points)


def _saturation(points: Any) -> dict[str, FloatArray]:
    return {
        f"{name}_temperature": np.ascontiguousarray(points._columns[f"{name}_temperatures"].reshape(-1))
        for name in ("evaporating", "condensing")
    }


def _kw_per_ton_without(
    circuit: _core.Circuit,
    cycles: Cycles,
    water: WaterSide,
    conditions: Mapping[str, FloatArray],
    status: npt.NDArray[np.uint8],
    threads: int | None,
) -> FloatArray:
    """Give kW/ton without economizers on the same exchangers, with the same interstage pressures."""
    found = np.full(len(status), np.nan)
    pressures = cycles._columns["interstage_pressures"].reshape(len(status), -1)
    good = np.flatnonzero(status == OK)
    # Pressures that follow a rule are others in every row: each group of rows with the same is a machine.
    groups, of_row = np.unique(pressures[good], axis=0, return_inverse=True)
    for group, between in enumerate(groups):
        rows = good[of_row.reshape(-1) == group]
        plain = without_economizers(circuit, between.tolist())
        points, _, _ = _watered(
            plain, water, {name: column[rows] for name, column in conditions.items()}, threads
        )
        found[rows] = points._columns["kw_per_ton"]
    return found


def at_water(
    circuit: _core.Circuit, water: WaterSide, conditions: Mapping[str, FloatArray], threads: int | None
) -> Run:
    """Solve with exchangers and waters; capacity and the water temperatures are among the conditions."""
    points, solve, duty = _watered(circuit, water, conditions, threads)
    own = {name: column for name, column in conditions.items() if name not in duty} | _saturation(points)
    cycles = solved(circuit, {**own, "capacity": conditions["capacity"]}, threads)
    status = np.where(points._status != OK, points._status, cycles._status)
    benefit = {}
    if circuit.without_economizers() != circuit:
        without = _kw_per_ton_without(circuit, cycles, water, conditions, status, threads)
        with np.errstate(invalid="ignore"):
            benefit = {"economizer_benefit": 1.0 - points._columns["kw_per_ton"] / without}
    waters = ("chilled_water_entering", "chilled_water_leaving", "condenser_water_leaving")
    shown = {name: points._columns[name] for name in waters}
    shown["condenser_water_entering"] = conditions["condenser_water_entering"]
    return Run({**own, **shown}, cycles, benefit, status, reasons(solve, duty, status))

"""The rows of studies: figures of solved circuits as columns, facts of refrigerants, what was held."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from interstage import _core, _needed, _tables
from interstage._arrays import as_number, together
from interstage._catalogue import environment_columns
from interstage._cycles import Cycles
from interstage.errors import InterstageError, WrongArgument

FloatArray = npt.NDArray[np.float64]

#: Conditions of a solve, with their defaults.
CONDITIONS: Mapping[str, float | None] = {
    "evaporating_temperature": None,
    "condensing_temperature": None,
    "suction_superheat": 0.0,
    "subcooling": 0.0,
    "liquid_carryover": 0.0,
    "hot_gas_bypass": 0.0,
}
SIZES = ("capacity", "mass_flow", "power")

#: Columns of a study -> quantity that tells the unit shown.
_QUANTITIES: Mapping[str, str] = {
    "evaporating_temperature": "T",
    "condensing_temperature": "T",
    "chilled_water_entering": "T",
    "chilled_water_leaving": "T",
    "condenser_water_entering": "T",
    "condenser_water_leaving": "T",
    "discharge_temperature": "T",
    "suction_superheat": "temperature_difference",
    "subcooling": "temperature_difference",
    "evaporating_pressure": "p",
    "condensing_pressure": "p",
    "capacity": "capacity",
    "compression_power": "power",
    "shaft_power": "power",
    "motor_input_power": "power",
    "drive_input_power": "power",
    "power": "power",
    "mass_flow": "mass_flow",
    "inlet_volume_flow": "volume_flow",
    "evaporator_mass_flow": "mass_flow",
    "head": "h",
    "refrigerating_effect": "h",
    "capacity_at_same_inlet_volume": "capacity",
}

#: Figures of one value a row: name in a study -> name in `Cycles`.
_SINGLE: Mapping[str, str] = {
    "cop": "cop",
    "kw_per_ton": "kw_per_ton",
    "eer": "eer",
    "capacity": "capacity",
    "compression_power": "power",
    "shaft_power": "shaft_power",
    "motor_input_power": "motor_input_power",
    "drive_input_power": "drive_input_power",
    "economizer_benefit": "economizer_benefit",
    "discharge_temperature": "discharge_temperature",
    "evaporating_pressure": "evaporating_pressure",
    "condensing_pressure": "condensing_pressure",
    "evaporator_inlet_quality": "evaporator_inlet_quality",
    "refrigerating_effect": "refrigerating_effect",
    "evaporator_mass_flow": "evaporator_mass_flow",
}


def _quantity(name: str) -> str | None:
    """What a column holds, which tells its unit."""
    if name.startswith("stage_"):
        return {"work": "h", "pressure": "p"}.get(name.rsplit("_", 1)[-1])
    return _QUANTITIES.get(name)


def named(name: str, units: str) -> str:
    """Name of a column with its unit."""
    quantity = _quantity(name)
    return name if quantity is None else f"{name} [{_tables.unit_shown(quantity, units)[0]}]"


def shown(name: str, values: Any, units: str) -> Any:
    """Values of a column in the unit that its name shows."""
    quantity = _quantity(name)
    return values if quantity is None else _tables.unit_shown(quantity, units)[1](values)


class Rows:
    """Columns of a study that are filled circuit by circuit, blank where nothing is known."""

    def __init__(self, rows: int, units: str) -> None:
        _tables.checked_units(units)
        self._rows = rows
        self._units = units
        self._columns: dict[str, npt.NDArray[Any]] = {}

    def fill(self, rows: slice, columns: Mapping[str, Any]) -> None:
        """Write numbers (SI) or texts into some rows."""
        for name, values in columns.items():
            number = np.asarray(values).dtype.kind in "fiu"
            column = self._columns.get(name)
            if column is None:
                blank = np.full(self._rows, math.nan) if number else np.full(self._rows, None, dtype=object)
                column = self._columns[name] = blank
            elif not number and column.dtype != object:
                # Texts in a column of numbers: an axis of both, as motor_cooling has.
                column = self._columns[name] = column.astype(object)
            column[rows] = values

    def label(self, name: str, labels: Any) -> None:
        """Write a column of labels that come again and again."""
        labels = np.asarray(labels)
        self._columns[name] = np.tile(labels, self._rows // max(len(labels), 1))

    def frame(self) -> Any:
        """Give the columns as a pandas DataFrame, each with its unit in its name."""
        pandas = _needed.pandas()
        return pandas.DataFrame(
            {
                named(name, self._units): shown(name, column, self._units)
                for name, column in self._columns.items()
            }
        )


def conditions_of(given: Mapping[str, Any]) -> tuple[dict[str, FloatArray], Any]:
    """Give conditions as flat columns of one length, and labels of their rows."""
    if all(as_number(name, value) is not None for name, value in given.items()):
        return {
            name: np.array([as_number(name, value)], dtype=np.float64) for name, value in given.items()
        }, [0]
    columns, container = together(given)
    labels = range(len(columns[0])) if container.index is None else container.index
    return dict(zip(given, columns, strict=True)), labels


def size_of(**sizes: Any) -> tuple[str, Any]:
    """Give the one size that is not None."""
    given = {name: value for name, value in sizes.items() if value is not None}
    if len(given) != 1:
        names = tuple(sizes)
        message = f"the size is given by exactly one of {', '.join(names)}"
        raise WrongArgument(message, argument=", ".join(names))
    return next(iter(given.items()))


def need_circuit(argument: str, circuit: Any) -> None:
    """Refuse what is no circuit."""
    if not isinstance(circuit, _core.Circuit):
        message = f"{argument} must be a Circuit, got {type(circuit).__name__}"
        raise WrongArgument(message, argument=argument)


def without_economizers(
    circuit: _core.Circuit, pressures: Sequence[float], expander_efficiency: float | None = None
) -> _core.Circuit:
    """Give the same machine with all economizers off and these interstage pressures (Pa).

    The benefit of economizers is told against it: a rule that is applied once more would move the pressures.
    An expander may stand in place of the metering device of the evaporator.
    """
    plain = circuit.without_economizers()
    options = {"expander_efficiency": expander_efficiency, **plain.options}
    return _core.Circuit(
        plain.refrigerant,
        stages=plain.stages,
        interstages=plain.interstages,
        interstage_pressures=pressures or plain.interstage_pressures,
        tank_separation=plain.tank_separation,
        **options,
    )


def solved(circuit: _core.Circuit, conditions: Mapping[str, FloatArray], threads: int | None) -> Cycles:
    """Solve whole columns in one call."""
    columns: dict[str, Any] = dict(conditions)
    cycles: Cycles = circuit.solve(**columns, threads=threads)
    return cycles


def figures(cycles: Cycles, most_stages: int) -> dict[str, Any]:
    """Figures of solved cycles in SI units, those of a stage in columns of their own."""
    columns = cycles._columns
    found: dict[str, Any] = {name: columns[own] for name, own in _SINGLE.items()}
    with np.errstate(invalid="ignore"):
        found["drive_input_cop"] = columns["capacity"] / columns["drive_input_power"]
        found["carnot_share"] = columns["cop"] / columns["carnot_cop"]
    rows = len(columns["cop"])
    stages = len(cycles.circuit.stages)
    volume = columns["stage_inlet_volume_flow"].reshape(rows, stages)
    found["inlet_volume_flow"] = np.ascontiguousarray(volume[:, 0])
    wet = columns["stage_wet"].reshape(rows, stages).sum(axis=1).astype(np.float64)
    found["wet_stages"] = np.where(np.isnan(columns["cop"]), math.nan, wet)
    found["head"] = columns["stage_head"].reshape(rows, stages).sum(axis=1)
    split = columns["head_split"].reshape(rows, stages)
    work = columns["stage_work"].reshape(rows, stages)
    pressures = columns["interstage_pressures"].reshape(rows, stages - 1)
    feeds = economized(cycles.circuit)
    fractions = columns["flash_fractions"].reshape(rows, len(feeds))
    blank = np.full(rows, math.nan)
    for k in range(1, most_stages + 1):
        found[f"stage_{k}_head_split"] = split[:, k - 1] if k <= stages else blank
        found[f"stage_{k}_work"] = work[:, k - 1] if k <= stages else blank
    for k in range(2, most_stages + 1):
        found[f"stage_{k}_inlet_pressure"] = pressures[:, k - 2] if k <= stages else blank
        found[f"stage_{k}_flash_fraction"] = fractions[:, feeds.index(k)] if k in feeds else blank
    return found


def blank_figures(most_stages: int) -> dict[str, float]:
    """The names of all figures without a number, for rows of circuits that cannot be solved."""
    whole = (*_SINGLE, "drive_input_cop", "carnot_share", "inlet_volume_flow", "wet_stages", "head")
    of_all = ("head_split", "work")
    later = ("inlet_pressure", "flash_fraction")
    names = [*whole, *(f"stage_{k}_{name}" for k in range(1, most_stages + 1) for name in of_all)]
    names += [f"stage_{k}_{name}" for k in range(2, most_stages + 1) for name in later]
    return dict.fromkeys(names, math.nan)


def economized(circuit: _core.Circuit) -> list[int]:
    """Stages whose inlet an economizer feeds."""
    between = enumerate(circuit.interstages, start=2)
    return [k for k, part in between if not isinstance(part, _core.Direct)]


def facts(refrigerant: _core.Refrigerant) -> dict[str, Any]:
    """Model and equation; safety class, ozone depletion and global warming, each with its source."""
    columns = environment_columns(refrigerant.environment)
    numbers = ("odp", "gwp_ar4", "gwp_ar5", "gwp_ar6")
    known = {
        name: math.nan if name in numbers and value is None else value for name, value in columns.items()
    }
    return {"model": refrigerant.model, "equation": refrigerant.equation, **known}


def gauges(found: Mapping[str, Any], barometer: float, units: str) -> dict[str, Any]:
    """The pressures of evaporator and condenser as gauges read them, with their unit in the name."""
    columns = {}
    for vessel in ("evaporating", "condensing"):
        pressure = found[f"{vessel}_pressure"]
        if units == "SI":
            columns[f"{vessel}_pressure [kPa gauge]"] = _core.kilopascal_gauge_from_pascal(
                pressure, barometer
            )
            continue
        columns[f"{vessel}_pressure [psig]"] = _core.psig_from_pascal(pressure, barometer)
        vacuum = _core.inhg_vacuum_from_pascal(pressure, barometer)
        columns[f"{vessel}_vacuum [inHg vacuum]"] = np.where(vacuum > 0.0, vacuum, math.nan)
    return columns


def status_texts(status: npt.NDArray[np.uint8]) -> Any:
    """Put the status of each row into words."""
    words = np.empty(int(status.max(initial=0)) + 1, dtype=object)
    for code in np.unique(status):
        words[code] = _core.status_text(int(code))
    return words[status]


def reasons(
    solve: Callable[..., Any], conditions: Mapping[str, FloatArray], status: Any, otherwise: str = ""
) -> Any:
    """Say in full why rows have no result: each is tried again on its own."""
    texts = np.full(len(status), None, dtype=object)
    for row in np.flatnonzero(status):
        missing = [name for name, column in conditions.items() if math.isnan(column[row])]
        if missing:
            texts[row] = f"missing: {', '.join(missing)}"
            continue
        texts[row] = otherwise
        try:
            solve(**{name: float(column[row]) for name, column in conditions.items()})
        except InterstageError as error:
            texts[row] = str(error)
    return texts


def citations(circuits: Sequence[_core.Circuit]) -> dict[str, tuple[str, ...]]:
    """The papers of the equations of state of all circuits."""
    papers: dict[str, tuple[str, ...]] = {}
    for circuit in circuits:
        refrigerant = circuit.refrigerant
        texts = tuple(str(paper) for paper in refrigerant.citations)
        # One refrigerant by two equations or models has two entries.
        same = papers.get(refrigerant.name, texts) == texts
        papers[refrigerant.name if same else f"{refrigerant.name} by {refrigerant.equation}"] = texts
    return papers


def _efficiency(circuit: _core.Circuit) -> str:
    stages = circuit.stages

    def text(stage: _core.Stage) -> str:
        path = (
            "" if stage.path is None else f" ({'path integral' if stage.path == 'integral' else stage.path})"
        )
        return f"{stage.kind} {stage.efficiency:g} in every stage{path}"

    texts = list(dict.fromkeys(text(stage) for stage in stages))
    if len(texts) == 1:
        return texts[0]
    return ", ".join(f"stage {k}: {stage.kind} {stage.efficiency:g}" for k, stage in enumerate(stages, 1))


def _pressures(circuit: _core.Circuit) -> str:
    rule = circuit.interstage_pressures
    if isinstance(rule, str):
        return rule
    return "given: " + ", ".join(f"{pressure:g} Pa" for pressure in rule) if rule else "none between"


def _of_options(circuit: _core.Circuit, ending: str, none: str) -> str:
    options = {name: value for name, value in circuit.options.items() if name.endswith(ending)}
    return ", ".join(f"{name} {value}" for name, value in options.items()) or none


def _drive(circuit: _core.Circuit) -> str:
    names = ("mechanical_efficiency", "motor_efficiency", "drive_efficiency", "motor_cooling")
    options = {name: circuit.options[name] for name in names if name in circuit.options}
    return ", ".join(f"{name} {value}" for name, value in options.items()) or "loss-free, open"


_ASPECTS: Mapping[str, Callable[[_core.Circuit], str]] = {
    "stage efficiency": _efficiency,
    "interstage pressures": _pressures,
    "pressure losses": lambda circuit: _of_options(circuit, "_loss", "none"),
    "tank separation of blends": lambda circuit: circuit.tank_separation,
    "drive": _drive,
}

_POWER = (
    "COP, kW/ton, EER and benefits count compression power; the benefit of the economizers is against the "
    "same machine with all of them off, at the same capacity"
)
_ISENTROPIC = (
    "isentropic efficiency is held stage by stage: as a whole, circuits of more stages then compress better, "
    "so a part of their advantage is no merit of the economizers"
)


def held(circuits: Mapping[str, _core.Circuit], conditions: Mapping[str, FloatArray]) -> dict[str, str]:
    """Say what was held constant over circuits and rows, and what was not."""
    texts: dict[str, str] = {} if circuits else {"machines": "none of them could be built"}
    for aspect, tell in _ASPECTS.items() if circuits else ():
        by_label = {label: tell(circuit) for label, circuit in circuits.items()}
        kinds = set(by_label.values())
        if len(kinds) == 1:
            texts[aspect] = kinds.pop()
        elif len(by_label) <= 12:
            texts[aspect] = "differs; " + "; ".join(f"{label}: {text}" for label, text in by_label.items())
        else:
            texts[aspect] = "differs; " + ", ".join(sorted(kinds)[:12])
    for name, column in conditions.items():
        if name.endswith("_temperature"):
            continue
        unit = {"suction_superheat": " K", "subcooling": " K", "capacity": " W", "power": " W"}.get(name, "")
        unit = " kg/s" if name == "mass_flow" else unit
        low, high = (np.nanmin(column), np.nanmax(column)) if not np.isnan(column).all() else (math.nan,) * 2
        texts[name] = f"{low:g}{unit}" if low == high else f"{low:g} to {high:g}{unit}, row by row"
    texts["power"] = _POWER
    stages = {len(circuit.stages) for circuit in circuits.values()}
    if len(stages) > 1 and any(stage.kind == "isentropic" for c in circuits.values() for stage in c.stages):
        texts["note"] = _ISENTROPIC
    return texts

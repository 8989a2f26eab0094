"""What notebooks and terminals show of the compiled classes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from interstage import _core, _needed
from interstage._tables import Table, columns_for, figures, table, written

#: Figure or property -> words of a table of single figures, and the quantity its unit belongs to.
_Figures = Iterable[tuple[str, str, str]]


def _of(value: Any, names: _Figures, caption: str, note: str = "") -> Table:
    """Single figures of an object, one below the other."""
    return figures({words: (of, getattr(value, name)) for name, words, of in names}, caption, note=note)


def _columns(values: Iterable[Any], names: _Figures) -> dict[str, list[Any]]:
    """Figures of several objects side by side, with units."""
    shown: dict[str, list[Any]] = {}
    several = list(values)
    for name, words, of in names:
        ((column, numbers),) = columns_for({of: [getattr(value, name) for value in several]}, "SI").items()
        unit = column.rpartition(" [")[2]
        shown[f"{words} [{unit}" if column.endswith("]") and unit != "]" else words] = list(numbers)
    return shown


# Properties.

_STATE = ("phase", "T", "p", "h", "s", "x", "rho", "u")


def _state(state: _core.State) -> list[Table]:
    data = {name: [getattr(state, name)] for name in _STATE}
    return [table(columns_for(data, "SI"), state.refrigerant.name)]


def _saturation(saturation: _core.Saturation) -> list[Table]:
    both = (saturation.liquid, saturation.vapor)
    data: dict[str, list[Any]] = {"phase": ["liquid", "vapor"]}
    for name in ("T", "p", "h", "s", "rho", "u"):
        data[name] = [getattr(state, name) for state in both]
    caption = (
        f"{saturation.refrigerant.name}, saturated: latent heat {saturation.latent_heat / 1e3:.2f} kJ/kg"
    )
    if saturation.temperature_glide:
        caption += f", glide {saturation.temperature_glide:.2f} K"
    return [table(columns_for(data, "SI"), caption)]


def _phases(phases: _core.Phases) -> list[Table]:
    both = (phases.liquid, phases.vapor)
    data: dict[str, list[Any]] = {"phase": ["liquid", "vapor"]}
    for name in ("T", "p", "h", "s", "rho"):
        data[name] = [getattr(state, name) for state in both]
    shown = columns_for(data, "SI")
    for component, fraction in phases.liquid_composition.items():
        shown[f"{component} [kg/kg]"] = [fraction, phases.vapor_composition[component]]
    return [table(shown, "liquid and vapor in equilibrium")]


def _refrigerant(refrigerant: _core.Refrigerant) -> list[Table]:
    parts = (refrigerant.composition or {}).items()
    environment = refrigerant.environment
    rows: dict[str, tuple[str, Any]] = {
        "chemical name": ("", refrigerant.chemical_name),
        "formula": ("", refrigerant.formula),
        "CAS number": ("", refrigerant.cas),
        "composition by mass": ("", ", ".join(f"{name} {100.0 * part:.4g} %" for name, part in parts)),
        "described as": ("", f"{refrigerant.model}: {refrigerant.equation}"),
        "molar mass": ("molar_mass", refrigerant.molar_mass),
        "normal boiling point": ("T", refrigerant.normal_boiling_point),
        "critical temperature": ("T", refrigerant.critical_temperature),
        "critical pressure": ("p", refrigerant.critical_pressure),
        "critical density": ("rho", refrigerant.critical_density),
        "lowest temperature": ("T", refrigerant.minimum_temperature),
        "highest temperature": ("T", refrigerant.maximum_temperature),
        "highest pressure": ("p", refrigerant.maximum_pressure),
        "h and s are set for": ("", refrigerant.reference),
        "safety class (check the current edition)": ("", refrigerant.safety_class),
        "ODP": ("", None if environment.odp is None else f"{environment.odp:g}"),
        "GWP, 100 years, AR4": ("", _word(environment.gwp_ar4)),
        "GWP, 100 years, AR5": ("", _word(environment.gwp_ar5)),
        "GWP, 100 years, AR6": ("", _word(environment.gwp_ar6)),
    }
    known = {words: value for words, value in rows.items() if value[1] not in (None, "")}
    note = f"Equation of state: {refrigerant.citation}."
    return [figures(known, refrigerant.name, note=note)]


def _word(value: Any) -> str | None:
    return None if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def _environment(environment: _core.Environment) -> list[Table]:
    rows = [
        ("safety class", environment.safety_class, environment.safety_source),
        ("ODP", _word(environment.odp), environment.odp_source),
        ("GWP, 100 years, AR4", _word(environment.gwp_ar4), environment.gwp_source),
        ("GWP, 100 years, AR5", _word(environment.gwp_ar5), environment.gwp_source),
        ("GWP, 100 years, AR6", _word(environment.gwp_ar6), environment.gwp_source),
    ]
    words, values, sources = zip(*rows, strict=True)
    return [table({"what": words, "value": values, "source": sources}, "", environment.note or "")]


# Cycles.


def _point(point: _core.Point) -> list[Table]:
    data = {name: [getattr(point, name)] for name in (*_STATE[:3], "mass_flow", *_STATE[3:])}
    return [table(columns_for(data, "SI"), point.name)]


def _points(points: _core.Points, units: str = "SI") -> list[Table]:
    data = points.to_dict()
    # Internal energy is of no use here; the table of `to_pandas` has it.
    names = ("point", *_STATE[:3], "mass_flow", *_STATE[3:-1])
    return [table(columns_for({name: data[name] for name in names}, units), "")]


def points_html(points: _core.Points, units: str) -> str:
    """Write the points of a cycle as a table."""
    return _points(points, units)[0].html()


def points_frame(points: _core.Points, units: str) -> Any:
    """Give the points of a cycle as a pandas DataFrame."""
    return _needed.pandas().DataFrame(columns_for(points.to_dict(), units)).set_index("point")


_CYCLE = (
    ("evaporating_temperature", "evaporating temperature", "T"),
    ("condensing_temperature", "condensing temperature", "T"),
    ("cop", "COP by compression power", ""),
    ("capacity", "capacity", "capacity"),
    ("power", "compression power", "power"),
    ("drive_input_power", "power into the drive", "power"),
    ("refrigerating_effect", "refrigerating effect", "h"),
    ("economizer_benefit", "power saved by the economizers", "fraction"),
    ("discharge_temperature", "discharge temperature", "T"),
)


def _cycle(cycle: _core.Cycle) -> list[Table]:
    caption = f"{cycle.refrigerant.name}, {cycle.circuit.arrangement}"
    return [_of(cycle, _CYCLE, caption), *_points(cycle.points)]


def _circuit(circuit: _core.Circuit) -> list[Table]:
    given = circuit.interstage_pressures
    rule = str(given)
    if not isinstance(given, str):
        rule = ", ".join(f"{pressure / 1e3:.2f}" for pressure in given) + " kPa at the stage inlets"
    joins = [None, *circuit.interstages]
    rows: dict[str, list[Any]] = {
        "stage": [str(number) for number in range(1, len(circuit.stages) + 1)],
        "efficiency": [f"{stage.efficiency:g} {stage.kind}" for stage in circuit.stages],
        "before its inlet": ["suction" if of is None else repr(of) for of in joins],
    }
    options = ", ".join(f"{name}={value!r}" for name, value in circuit.options.items())
    note = f"Interstage pressures: {rule}." + (f" Options: {options}." if options else "")
    return [table(rows, f"{circuit.refrigerant.name}, {circuit.arrangement}", note)]


# Chillers.


def _inside(exchanger: _core.Exchanger) -> str:
    """What an exchanger is described by."""
    return repr(exchanger).partition("(")[2].removesuffix(")")


def _chiller(chiller: _core.Chiller) -> list[Table]:
    rows: dict[str, list[Any]] = {
        "circuit": [str(number) for number in range(1, len(chiller.circuits) + 1)],
        "refrigerant": [circuit.refrigerant.name for circuit in chiller.circuits],
        "arrangement": [circuit.arrangement for circuit in chiller.circuits],
        "evaporator": [_inside(exchanger) for exchanger in chiller.evaporators],
        "condenser": [_inside(exchanger) for exchanger in chiller.condensers],
        "capacity share": list(chiller.capacity_shares),
    }
    paths = f", water {chiller.water_paths}" if len(chiller.circuits) > 1 else ""
    return [table(rows, f"chiller, circuits: {len(chiller.circuits)}{paths}")]


_CHILLER_POINT = (
    ("capacity", "capacity", "capacity"),
    ("power", "compression power", "power"),
    ("drive_input_power", "power into the drives", "power"),
    ("cop", "COP by compression power", ""),
    ("kw_per_ton", "kW/ton by compression power", ""),
    ("chilled_water_entering", "chilled water entering", "T"),
    ("chilled_water_leaving", "chilled water leaving", "T"),
    ("condenser_water_entering", "condenser water entering", "T"),
    ("condenser_water_leaving", "condenser water leaving", "T"),
    ("water_lift", "water lift", "temperature_difference"),
)
_EXCHANGE = (
    ("water_entering", "water entering", "T"),
    ("water_leaving", "water leaving", "T"),
    ("saturation_temperature", "saturation", "T"),
    ("approach", "approach", "temperature_difference"),
    ("ua", "UA", "ua"),
    ("heat", "heat", "power"),
)


def _chiller_point(point: _core.ChillerPoint) -> list[Table]:
    number = len(point.cycles)
    exchanges = [*point.evaporators, *point.condensers]
    names = [f"{exchange.vessel} {1 + place % number}" for place, exchange in enumerate(exchanges)]
    rows = {"vessel": names, **_columns(exchanges, _EXCHANGE)}
    return [_of(point, _CHILLER_POINT, f"chiller, circuits: {number}"), table(rows, "")]


def _design_point(design: _core.DesignPoint) -> list[Table]:
    names = (
        ("polytropic_efficiency", "polytropic efficiency of all stages", ""),
        ("evaporator_ua", "UA of the evaporator", "ua"),
        ("condenser_ua", "UA of the condenser", "ua"),
    )
    caption = f"{design.circuit.refrigerant.name}, {design.circuit.arrangement}: from a design sheet"
    return [_of(design, names, caption), *_chiller_point(design.point)]


def _heat_exchange(exchange: _core.HeatExchange) -> list[Table]:
    others = (
        ("transfer_units", "transfer units", ""),
        ("effectiveness", "effectiveness", ""),
        ("logarithmic_mean_difference", "logarithmic mean difference", "temperature_difference"),
    )
    return [_of(exchange, (*_EXCHANGE, *others), exchange.vessel)]


_ZONE = (
    ("heat", "heat", "power"),
    ("ua", "UA", "ua"),
    ("mean_difference", "mean difference", "temperature_difference"),
    ("refrigerant_entering", "refrigerant entering", "T"),
    ("refrigerant_leaving", "refrigerant leaving", "T"),
    ("water_entering", "water entering", "T"),
    ("water_leaving", "water leaving", "T"),
)


def _zone(zone: _core.Zone) -> list[Table]:
    return [_of(zone, _ZONE, "zone of a condenser")]


def _impeller(impeller: _core.Impeller) -> list[Table]:
    rows = {
        "polytropic head": ("h", impeller.head),
        "volume flow at the inlet": ("volume_flow", impeller.volume_flow),
        "speed of sound at the inlet [m/s]": ("", impeller.speed_of_sound),
        "tip speed [m/s]": ("", impeller.tip_speed),
        "tip speed per speed of sound": ("", impeller.tip_mach),
        "diameter [m]": ("", impeller.diameter),
        "speed [1/min]": ("", 60.0 * impeller.speed),
        "head coefficient, H / u2": ("", impeller.head_coefficient),
        "flow coefficient, V / (D2 u)": ("", impeller.flow_coefficient),
    }
    return [figures(rows, "impeller")]


def _rating_conditions(conditions: _core.RatingConditions) -> list[Table]:
    loads, weights, entering = zip(*conditions.part_loads, strict=True)
    rows = columns_for({"T": entering}, "SI")
    shown = {
        "load [%]": [f"{100.0 * load:.0f}" for load in loads],
        "weight": [f"{weight:g}" for weight in weights],
        "condenser water entering [degC]": list(rows["T [degC]"]),
    }
    water = columns_for(
        {"T": [conditions.chilled_water_leaving, conditions.chilled_water_entering or float("nan")]}, "SI"
    )
    leaving, back = written("T [degC]", list(water["T [degC]"]))
    note = f"Chilled water leaves at {leaving} degC" + (f" and comes at {back} degC." if back else ".")
    return [table(shown, conditions.standard, note)]


def _condenser_zones(zones: _core.CondenserZones) -> list[Table]:
    every = {
        "desuperheating": zones.desuperheating,
        "condensing": zones.condensing,
        "subcooling": zones.subcooling,
    }
    there = {name: zone for name, zone in every.items() if zone is not None}
    rows = {"zone": list(there), **_columns(there.values(), _ZONE)}
    return [table(rows, f"condenser: pinch {zones.pinch:.2f} K")]


def _orifice_flow(flow: _core.OrificeFlow) -> list[Table]:
    rows = {
        "mass flow": ("mass_flow", flow.mass_flow),
        "mass flux": ("mass_flux", flow.mass_flux),
        "pressure in the throat": ("p", flow.throat_pressure),
        "choked": ("", flow.choked),
    }
    return [figures(rows, f"orifice, {flow.model}")]


_TABLES: dict[str, Callable[[Any], list[Table]]] = {
    "ChillerPoint": _chiller_point,
    "Chiller": _chiller,
    "Circuit": _circuit,
    "CondenserZones": _condenser_zones,
    "Cycle": _cycle,
    "DesignPoint": _design_point,
    "Environment": _environment,
    "HeatExchange": _heat_exchange,
    "Impeller": _impeller,
    "OrificeFlow": _orifice_flow,
    "Phases": _phases,
    "Point": _point,
    "Points": _points,
    "RatingConditions": _rating_conditions,
    "Refrigerant": _refrigerant,
    "Saturation": _saturation,
    "State": _state,
    "Zone": _zone,
}


def html_of(shown: Any) -> str:
    """Write the tables of an object as HTML."""
    return "".join(one.html() for one in _TABLES[type(shown).__name__](shown))


def text_of(shown: Any) -> str:
    """Write the tables of an object as plain text."""
    return "\n\n".join(one.text() for one in _TABLES[type(shown).__name__](shown))

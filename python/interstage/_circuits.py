"""Circuits like another one but for a few parts."""

from __future__ import annotations

from typing import Any

from interstage import _core


def rebuilt(
    circuit: _core.Circuit, *, efficiency: float | None = None, pressures: Any = None, **options: Any
) -> _core.Circuit:
    """Make the same circuit with one efficiency in all stages, other interstage pressures or options."""
    own = circuit.stages
    stages = own if efficiency is None else [_with_efficiency(stage, efficiency) for stage in own]
    return _core.Circuit(
        circuit.refrigerant,
        stages=stages,
        interstages=circuit.interstages,
        interstage_pressures=circuit.interstage_pressures if pressures is None else pressures,
        tank_separation=circuit.tank_separation,
        **{**circuit.options, **options},
    )


def _with_efficiency(stage: _core.Stage, efficiency: float) -> _core.Stage:
    if stage.kind == "isentropic":
        return _core.Stage(isentropic_efficiency=efficiency)
    return _core.Stage(polytropic_efficiency=efficiency, path=stage.path or "integral")

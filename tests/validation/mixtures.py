"""Blends by the mixture model against the library, and against their pseudo-pure equations."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache

import CoolProp.CoolProp as coolprop
import numpy as np

import interstage

from .library import VERSION, name_of

#: Temperatures from a little above the coldest bubble point to this share of the critical temperature.
HIGHEST = 0.95
COUNT = 24
#: The blends that have an equation of their own too.
PSEUDO_PURE = ("R-404A", "R-407C", "R-410A", "R-507A")
QUANTITIES = ("p bubble", "rho'", "p dew", "rho''", "h'' - h'")


@contextmanager
def _own_gas_constants() -> Iterator[None]:
    """The library with each component's own gas constant; it gives all the same one unless told."""
    name = coolprop.NORMALIZE_GAS_CONSTANTS
    before = coolprop.get_config_bool(name)
    coolprop.set_config_bool(name, False)
    try:
        yield
    finally:
        coolprop.set_config_bool(name, before)


def blend(name: str) -> interstage.Refrigerant:
    """A blend by the mixture model."""
    return interstage.Refrigerant(name, model="mixture")


@cache
def names() -> tuple[str, ...]:
    """Every blend with a designation."""
    return (*interstage.blends(), *PSEUDO_PURE)


def temperatures(handle: interstage.Refrigerant) -> list[float]:
    """Temperatures of bubble and dew points, K."""
    highest = handle.critical_temperature
    # A blend whose model has no critical point: up to a temperature of all chillers.
    highest = HIGHEST * highest if np.isfinite(highest) else 400.0
    return [float(T) for T in np.linspace(max(200.0, handle.minimum_temperature + 5.0), highest, COUNT)]


def _points(state: coolprop.AbstractState, temperature: float) -> tuple[float, ...]:
    state.update(coolprop.QT_INPUTS, 0.0, temperature)
    bubble, liquid, h_liquid = state.p(), state.rhomass(), state.hmass()
    state.update(coolprop.QT_INPUTS, 1.0, temperature)
    return bubble, liquid, state.p(), state.rhomass(), state.hmass() - h_liquid


@cache
def against_library(name: str) -> tuple[dict[str, list[float]], int]:
    """Relative deviations of a blend by quantity, and how many temperatures the library refused."""
    handle = blend(name)
    components = [name_of(interstage.Refrigerant(component)) for component in handle.composition]
    found: dict[str, list[float]] = {quantity: [] for quantity in QUANTITIES}
    refused = 0
    with _own_gas_constants():
        if coolprop.get_global_param_string("version") != VERSION:
            raise RuntimeError(f"the figures belong to CoolProp {VERSION}")
        state = coolprop.AbstractState("HEOS", "&".join(components))
        state.set_mass_fractions(list(handle.composition.values()))
        for temperature in temperatures(handle):
            try:
                theirs = _points(state, temperature)
            except ValueError:
                refused += 1
                continue
            line = handle.saturation(T=temperature)
            liquid, vapor = line.liquid, line.vapor
            ours = (liquid.p, liquid.rho, vapor.p, vapor.rho, vapor.h - liquid.h)
            for quantity, mine, other in zip(QUANTITIES, ours, theirs, strict=True):
                found[quantity].append(abs(mine / other - 1.0))
    return found, refused


@cache
def against_pseudo_pure(name: str) -> dict[str, list[float]]:
    """Relative deviations of a blend by the mixture model from its pseudo-pure equation."""
    handle, other = blend(name), interstage.Refrigerant(name)
    found: dict[str, list[float]] = {quantity: [] for quantity in QUANTITIES}
    for temperature in temperatures(handle):
        mine, theirs = handle.saturation(T=temperature), other.saturation(T=temperature)
        pairs = (
            (mine.liquid.p, theirs.liquid.p),
            (mine.liquid.rho, theirs.liquid.rho),
            (mine.vapor.p, theirs.vapor.p),
            (mine.vapor.rho, theirs.vapor.rho),
            (mine.latent_heat, theirs.latent_heat),
        )
        for quantity, (a, b) in zip(QUANTITIES, pairs, strict=True):
            found[quantity].append(abs(a / b - 1.0))
    return found

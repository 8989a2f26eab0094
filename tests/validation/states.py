"""Random states of a refrigerant over its range of validity; the same on every machine."""

from __future__ import annotations

import math
import random
from typing import NamedTuple

import interstage

#: Part of every seed, with the name of the fluid.
SEED = 20
AT_PRESSURE, AT_DENSITY, SATURATED = 500, 500, 250

#: The lowest pressure asked for, in Pa, and the lowest density of a vapor as part of that of saturated vapor.
LOWEST_PRESSURE, THINNEST = 100.0, 1e-3


class Asked(NamedTuple):
    """A temperature in K with a pressure in Pa or a density in kg/m3."""

    temperature: float
    value: float


def _round(value: float) -> float:
    """Eight digits, so that the last bits of a logarithm or a density do not matter."""
    return float(f"{value:.8g}")


def _has(handle: interstage.Refrigerant, asked: dict[str, float]) -> bool:
    """Whether there is one phase: a blend has mixtures at temperature and pressure too, a gap below Tc."""
    if handle.composition is None:
        return True
    try:
        return handle.state(**asked).x is None
    except interstage.OutOfRange:
        return False


def _end(handle: interstage.Refrigerant) -> float:
    """The critical temperature, or the end of a blend's bubble curve."""
    return handle.critical_temperature * (1.0 if handle.composition is None else 0.998)


def generator(fluid: str, kind: str) -> random.Random:
    """A generator of its own for each fluid and kind: a new fluid leaves the states of the others alone."""
    return random.Random(f"{SEED} {fluid} {kind}")


def at_pressure(handle: interstage.Refrigerant, fluid: str) -> list[Asked]:
    """Temperatures spread evenly, logarithms of pressures spread evenly."""
    draw = generator(fluid, "pressure").uniform
    low, high = math.log(LOWEST_PRESSURE), math.log(handle.maximum_pressure)
    coldest, hottest = handle.minimum_temperature, handle.maximum_temperature
    found: list[Asked] = []
    while len(found) < AT_PRESSURE:
        asked = Asked(_round(draw(coldest, hottest)), _round(math.exp(draw(low, high))))
        if _has(handle, {"T": asked.temperature, "p": asked.value}):
            found.append(asked)
    return found


def at_density(handle: interstage.Refrigerant, fluid: str) -> list[Asked]:
    """Liquid, vapor (logarithms of densities spread evenly) and supercritical states, a third each."""
    draw = generator(fluid, "density").uniform
    coldest, hottest = handle.minimum_temperature, handle.maximum_temperature
    critical = handle.critical_temperature
    found: list[Asked] = []
    while len(found) < AT_DENSITY:
        kind = len(found) % 3
        warm = draw(critical, hottest) if kind == 2 else draw(coldest, min(_end(handle), hottest))
        warm, part = _round(warm), draw(0.0, 1.0)
        densest = handle.state(T=warm, p=handle.maximum_pressure).rho
        if kind == 2:
            rho = max(part, 1e-6) * densest
        elif kind == 1:
            rho = handle.saturation(T=warm).vapor.rho * (1.0 - 1e-6) * THINNEST**part
        else:
            liquid = handle.saturation(T=warm).liquid.rho * (1.0 + 1e-6)
            rho = liquid + part * (densest - liquid)
        if _has(handle, {"T": warm, "rho": _round(rho)}):
            found.append(Asked(warm, _round(rho)))
    return found


def saturated(handle: interstage.Refrigerant, fluid: str) -> list[float]:
    """Temperatures from the cold end of the line to the critical temperature."""
    draw = generator(fluid, "saturation").uniform
    return [_round(draw(handle.minimum_temperature, _end(handle) * (1.0 - 1e-6))) for _ in range(SATURATED)]

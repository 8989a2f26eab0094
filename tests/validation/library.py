"""The general-purpose library CoolProp, asked for the same states.

Its fluids are read from its own tables of constants. A copy in which single constants are replaced gives the
library's equation with those constants, and so tells what they do.
"""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable
from functools import cache
from typing import Any, NamedTuple

import CoolProp.CoolProp as coolprop

import interstage

VERSION = "8.0.0"

#: Keys under which the library lists the older equations of this package.
OLDER = {
    "R-717 by Tillner-Roth et al. 1993": "TillnerRoth-DKV-1993",
    "R-1234yf by Richter et al. 2011": "Richter-JCED-2011",
}

_copies = itertools.count()


class Values(NamedTuple):
    """Properties of a single-phase state, in SI units by mass."""

    p: float
    rho: float
    h: float
    s: float
    cp: float
    cv: float
    w: float


class Saturated(NamedTuple):
    """Properties of the saturation line at a temperature."""

    p_bubble: float
    p_dew: float
    rho_liquid: float
    rho_vapor: float
    #: The pressure of the equation at the density of the vapor.
    p_of_vapor: float


class Refused(Exception):
    """The library did not answer."""


@cache
def _by_cas() -> dict[str, str]:
    return {coolprop.get_fluid_param_string(name, "CAS"): name for name in coolprop.FluidsList()}


def name_of(handle: interstage.Refrigerant) -> str | None:
    """The library's name for a refrigerant: by registry number, for blends by designation."""
    found = _by_cas().get(handle.cas)
    return found or next((n for n in coolprop.FluidsList() if n == handle.name.replace("R-", "R")), None)


def constants(name: str) -> dict[str, Any]:
    """What the library stores for a fluid."""
    return json.loads(coolprop.get_fluid_param_string(name, "JSON"))[0]


def older(fluid: str) -> Callable[[dict[str, Any]], None] | None:
    """What makes a fluid's older equation the one in use, if it has a name like "R-717 by ... 1993"."""
    if " by " not in fluid:
        return None

    def choose(stored: dict[str, Any]) -> None:
        stored["EOS"] = [next(e for e in stored["EOS"] if e["BibTeX_EOS"] == OLDER[fluid])]

    return choose


class Library:
    """A fluid of the library, with `change` applied to its constants."""

    def __init__(self, name: str, change: Callable[[dict[str, Any]], None] | None = None) -> None:
        if coolprop.get_global_param_string("version") != VERSION:
            raise RuntimeError(f"the figures belong to CoolProp {VERSION}")
        stored = constants(name)
        if change is not None:
            change(stored)
            name = f"{name}.copy{next(_copies)}"
            stored["INFO"] |= {"NAME": name, "CAS": name, "REFPROP_NAME": name, "ALIASES": []}
            coolprop.add_fluids_as_JSON("HEOS", json.dumps([stored]))
        #: Whether the fluid is a blend with curves of its own for bubble and dew pressure.
        self.is_blend = stored["EOS"][0]["pseudo_pure"]
        self.key = stored["EOS"][0]["BibTeX_EOS"]
        self.kept_pressure = 0.0
        self._state = coolprop.AbstractState("HEOS", name)

    def at_density(self, temperature: float, density: float, phase: str | None = None) -> Values:
        """The state at a temperature (K) and a density (kg/m3); `phase` says which it is."""
        state = self._state
        try:
            if phase is not None:
                state.specify_phase({"liquid": coolprop.iphase_liquid, "gas": coolprop.iphase_gas}[phase])
            state.update(coolprop.DmassT_INPUTS, density, temperature)
            return Values(
                state.p(),
                state.rhomass(),
                state.hmass(),
                state.smass(),
                state.cpmass(),
                state.cvmass(),
                state.speed_sound(),
            )
        except ValueError as error:
            raise Refused(str(error)) from error
        finally:
            state.unspecify_phase()

    def at_pressure(self, temperature: float, pressure: float) -> Values:
        """The state at a temperature (K) and a pressure (Pa).

        After a search for the density the library keeps pressure and derivatives of the step before the last:
        all but the density is therefore asked for at the density found; `kept_pressure` is what it kept.
        """
        try:
            self._state.update(coolprop.PT_INPUTS, pressure, temperature)
            density, self.kept_pressure = self._state.rhomass(), self._state.p()
        except ValueError as error:
            raise Refused(str(error)) from error
        return self.at_density(temperature, density)

    def saturated(self, temperature: float) -> Saturated:
        """Both sides of the saturation line at a temperature (K)."""
        state = self._state
        try:
            state.update(coolprop.QT_INPUTS, 0.0, temperature)
            bubble, liquid = state.p(), state.rhomass()
            state.update(coolprop.QT_INPUTS, 1.0, temperature)
            dew, vapor = state.p(), state.rhomass()
            state.specify_phase(coolprop.iphase_gas)
            state.update(coolprop.DmassT_INPUTS, vapor, temperature)
            return Saturated(bubble, dew, liquid, vapor, state.p())
        except ValueError as error:
            raise Refused(str(error)) from error
        finally:
            state.unspecify_phase()

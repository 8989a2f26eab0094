"""The general-purpose library that this package is timed against, driven without Python in its loops.

It publishes a table of C functions in a capsule; the loops of reference.c call it. They are compiled here,
with the C compiler that Rust needs too, against the header that the installed library brings along.
"""

from __future__ import annotations

import ctypes
import os
import subprocess
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

TARGET = Path(os.environ.get("CARGO_TARGET_DIR", Path(__file__).parents[1] / "target"))
#: The library keeps its tables below the home folder: here it is given one of its own.
HOME = Path(os.environ.get("REFERENCE_TABLES", TARGET / "reference-tables"))
HOME.mkdir(parents=True, exist_ok=True)
os.environ["HOME"] = str(HOME)

import CoolProp  # noqa: E402
import CoolProp.CoolProp as coolprop  # noqa: E402

VERSION = coolprop.get_global_param_string("version")
FULL = "HEOS"
TABLES = ("SVDSBTL&HEOS", "BICUBIC&HEOS", "TTSE&HEOS")
PX, TX, PT = coolprop.PQ_INPUTS, coolprop.QT_INPUTS, coolprop.PT_INPUTS
PH, PS, HS = coolprop.HmassP_INPUTS, coolprop.PSmass_INPUTS, coolprop.HmassSmass_INPUTS
T_RHO = coolprop.DmassT_INPUTS
T, P, RHO, H, S = coolprop.iT, coolprop.iP, coolprop.iDmass, coolprop.iHmass, coolprop.iSmass
CP, W = coolprop.iCpmass, coolprop.ispeed_sound

Columns = np.ndarray[Any, np.dtype[np.float64]]


def median_time(call: Callable[[], object], repeats: int = 5) -> float:
    """Give the median processor time of this thread for a call in seconds; one more call goes before."""
    call()
    times = []
    for _ in range(repeats):
        start = time.thread_time_ns()
        call()
        times.append(time.thread_time_ns() - start)
    return float(np.median(times)) / 1e9


def abstract_state(backend: str, fluid: str) -> Any:
    """Make the object of the library's low-level interface."""
    return coolprop.AbstractState(backend, fluid)


@cache
def _loops() -> ctypes.CDLL:
    source = Path(__file__).with_name("reference.c")
    library = HOME / "reference.so"
    include = Path(CoolProp.__file__).parent / "include"
    flags = ["-O3", "-march=native", "-shared", "-fPIC", f"-I{include}"]
    subprocess.run([os.environ.get("CC", "cc"), *flags, str(source), "-o", str(library), "-lm"], check=True)
    loops = ctypes.CDLL(str(library))
    pointer, number = ctypes.c_void_p, ctypes.c_long
    loops.make.restype = pointer
    loops.make.argtypes = [pointer, ctypes.c_char_p, ctypes.c_char_p]
    loops.states.restype = loops.cycles.restype = ctypes.c_double
    loops.states.argtypes = [pointer, pointer, number, pointer, pointer, number, pointer, number, pointer]
    loops.cycles.argtypes = [*[pointer] * 5, ctypes.c_double, number, pointer, pointer]
    return loops


@cache
def _functions() -> int:
    get = ctypes.pythonapi.PyCapsule_GetPointer
    get.restype = ctypes.c_void_p
    get.argtypes = [ctypes.py_object, ctypes.c_char_p]
    return int(get(coolprop._capi, b"CoolProp._capi"))


class Handle:
    """One fluid in one of the library's interfaces, driven from C."""

    def __init__(self, backend: str, fluid: str) -> None:
        self.loops, self.functions = _loops(), _functions()
        self.handle = self.loops.make(self.functions, backend.encode(), fluid.encode())
        if not self.handle:
            raise RuntimeError(f"{backend} of {fluid} cannot be made")

    def states(
        self, pair: int, first: Columns, second: Columns, outputs: tuple[int, ...], repeats: int = 5
    ) -> tuple[float, Columns]:
        """Give the median time of a call in seconds and the outputs, one row a call."""
        first, second = np.ascontiguousarray(first, float), np.ascontiguousarray(second, float)
        keys = np.array([int(key) for key in outputs], dtype=ctypes.c_long)
        out = np.empty((len(first), len(keys)))
        times = [
            self.loops.states(
                self.functions,
                self.handle,
                int(pair),
                first.ctypes.data,
                second.ctypes.data,
                len(first),
                keys.ctypes.data,
                len(keys),
                out.ctypes.data,
            )
            for _ in range(repeats)
        ]
        return float(np.median(times)) / len(first) / 1e9, out

    def cycles(
        self, evaporating: Columns, condensing: Columns, efficiency: float, repeats: int = 5
    ) -> tuple[float, Columns]:
        """Give the median time of a two-stage cycle with a flash tank in seconds, and the COPs."""
        codes = np.array([int(code) for code in (TX, PX, PS, PH, T, P, H, S, RHO)], dtype=ctypes.c_long)
        rows = len(evaporating)
        points, cop = np.empty((rows, 9, 5)), np.empty(rows)
        times = [
            self.loops.cycles(
                self.functions,
                self.handle,
                codes.ctypes.data,
                evaporating.ctypes.data,
                condensing.ctypes.data,
                efficiency,
                rows,
                points.ctypes.data,
                cop.ctypes.data,
            )
            for _ in range(repeats)
        ]
        return float(np.median(times)) / rows / 1e9, cop


def columns(fluid: str, outputs: str, first: str, a: Columns, second: str, b: Columns) -> list[Columns]:
    """Ask the library's array interface for one property after the other, as it wants it."""
    return [coolprop.PropsSI(output, first, a, second, b, fluid) for output in outputs]


def table_columns(state: Any, pair: int, a: Columns, b: Columns, outputs: tuple[int, ...]) -> Columns:
    """Ask a tabular backend for columns; one column an output. Only some backends know only some pairs."""
    keys = np.array([int(key) for key in outputs], dtype=np.int32)
    out, status = np.empty((len(a), len(keys))), np.empty(len(a), dtype=np.int32)
    state.fast_evaluate(pair, np.ascontiguousarray(a), np.ascontiguousarray(b), keys, out, status)
    return out.T


def cycle_states(state: Any, evaporating: float, condensing: float, efficiency: float) -> float:
    """Solve one cycle through the low-level interface, call by call, and give its COP.

    Nine states of which temperature, pressure, enthalpy, entropy and density are read.
    """
    update = state.update
    read = (state.T, state.p, state.hmass, state.smass, state.rhomass)

    def at(pair: int, first: float, second: float) -> list[float]:
        update(pair, first, second)
        return [value() for value in read]

    _, low, h_suction, s_suction, _ = at(TX, 1.0, evaporating)
    _, high, h_condensed, _, _ = at(TX, 0.0, condensing)
    middle = (low * high) ** 0.5
    h_liquid, h_vapor = at(PX, middle, 0.0)[2], at(PX, middle, 1.0)[2]
    at(PH, h_condensed, middle)
    x = (h_condensed - h_liquid) / (h_vapor - h_liquid)
    update(PS, middle, s_suction)
    first = (state.hmass() - h_suction) / efficiency
    at(PH, h_suction + first, middle)
    h_mixed = (1.0 - x) * (h_suction + first) + x * h_vapor
    s_mixed = at(PH, h_mixed, middle)[3]
    update(PS, high, s_mixed)
    second = (state.hmass() - h_mixed) / efficiency
    at(PH, h_mixed + second, high)
    at(PH, h_liquid, low)
    return (1.0 - x) * (h_suction - h_liquid) / ((1.0 - x) * first + second)


def cycle_columns(fluid: str, evaporating: Columns, condensing: Columns, efficiency: float) -> Columns:
    """Solve the same cycles through the array interface, all of nine states read."""
    zero, one = np.zeros_like(evaporating), np.ones_like(evaporating)

    def at(first: str, a: Columns, second: str, b: Columns) -> list[Columns]:
        return columns(fluid, "TPHSD", first, a, second, b)

    _, low, h_suction, s_suction, _ = at("T", evaporating, "Q", one)
    _, high, h_condensed, _, _ = at("T", condensing, "Q", zero)
    middle = np.sqrt(low * high)
    h_liquid, h_vapor = at("P", middle, "Q", zero)[2], at("P", middle, "Q", one)[2]
    at("P", middle, "H", h_condensed)
    x = (h_condensed - h_liquid) / (h_vapor - h_liquid)
    first = (columns(fluid, "H", "P", middle, "S", s_suction)[0] - h_suction) / efficiency
    at("P", middle, "H", h_suction + first)
    h_mixed = (1.0 - x) * (h_suction + first) + x * h_vapor
    s_mixed = at("P", middle, "H", h_mixed)[3]
    second = (columns(fluid, "H", "P", high, "S", s_mixed)[0] - h_mixed) / efficiency
    at("P", high, "H", h_mixed + second)
    at("P", low, "H", h_liquid)
    return (1.0 - x) * (h_suction - h_liquid) / ((1.0 - x) * first + second)


class TableCycles:
    """The same cycles through columns of the tabular backend that knows (p, h) and (p, s)."""

    def __init__(self, fluid: str) -> None:
        self.state, self.handle = abstract_state(TABLES[0], fluid), Handle(TABLES[0], fluid)

    def __call__(self, evaporating: Columns, condensing: Columns, efficiency: float) -> Columns:
        """Give the COPs."""
        zero, one = np.zeros_like(evaporating), np.ones_like(evaporating)

        def saturated(pair: int, a: Columns, b: Columns) -> Columns:
            # Columns of saturation it does not offer: the loop in C is the next best.
            return self.handle.states(pair, a, b, (T, P, H, S, RHO), repeats=1)[1].T

        def at(pair: int, a: Columns, b: Columns, outputs: tuple[int, ...]) -> Columns:
            return table_columns(self.state, pair, a, b, outputs)

        _, low, h_suction, s_suction, _ = saturated(TX, one, evaporating)
        _, high, h_condensed, _, _ = saturated(TX, zero, condensing)
        middle = np.sqrt(low * high)
        h_liquid, h_vapor = saturated(PX, middle, zero)[2], saturated(PX, middle, one)[2]
        rest = (T, S, RHO)
        at(PH, h_condensed, middle, rest)
        x = (h_condensed - h_liquid) / (h_vapor - h_liquid)
        first = (at(PS, middle, s_suction, (H,))[0] - h_suction) / efficiency
        at(PH, h_suction + first, middle, rest)
        h_mixed = (1.0 - x) * (h_suction + first) + x * h_vapor
        s_mixed = at(PH, h_mixed, middle, rest)[1]
        second = (at(PS, high, s_mixed, (H,))[0] - h_mixed) / efficiency
        at(PH, h_mixed + second, high, rest)
        at(PH, h_liquid, low, rest)
        return (1.0 - x) * (h_suction - h_liquid) / ((1.0 - x) * first + second)

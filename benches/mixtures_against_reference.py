"""Times blends by the mixture model here and in a general-purpose property library, in one process.

    python benches/mixtures_against_reference.py [designation ...]

Through Python; thread processor time, medians over points of a chiller, each library asked with its own
numbers; nothing is asserted. What the other library does not answer is left out and counted.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable

import CoolProp.CoolProp as coolprop
import numpy as np

import interstage

BLENDS = ("R-513A", "R-454B", "R-407C", "R-448A")
POINTS = 30
REPEATED = 3


def theirs_of(blend: interstage.Refrigerant) -> coolprop.AbstractState:
    """The blend in the other library."""
    by_cas = {coolprop.get_fluid_param_string(name, "CAS"): name for name in coolprop.FluidsList()}
    names = [by_cas[interstage.Refrigerant(name).cas] for name in blend.composition]
    state = coolprop.AbstractState("HEOS", "&".join(names))
    state.set_mass_fractions(list(blend.composition.values()))
    return state


def timed(call: Callable[..., object], points: list[tuple[float, ...]]) -> tuple[float | None, int]:
    """Median seconds of a call, and how many points were not answered."""
    times, missed = [], 0
    for point in points:
        own = []
        for _ in range(REPEATED):
            start = time.thread_time_ns()
            try:
                call(*point)
            except ValueError:
                missed += 1
                break
            own.append(time.thread_time_ns() - start)
        else:
            times.append(min(own) / 1e9)
    return (statistics.median(times) if times else None), missed


def lines(name: str) -> list[str]:
    """The rows of the table for one blend."""
    blend = interstage.Refrigerant(name, model="mixture")
    start = time.perf_counter()
    blend.prepare()
    first = time.perf_counter() - start
    other = theirs_of(blend)
    random = np.random.default_rng(1)
    temperatures = [float(T) for T in random.uniform(268.0, 318.0, POINTS)]
    pressures = [blend.saturation(T=T).p for T in temperatures]
    wet = [
        blend.state(p=p, x=float(x))
        for p, x in zip(pressures, random.uniform(0.05, 0.95, POINTS), strict=True)
    ]
    dry = [
        blend.state(p=p, T=blend.saturation(p=p).T + float(d))
        for p, d in zip(pressures, random.uniform(1, 40, POINTS), strict=True)
    ]
    # Enthalpies count from another zero there.
    other.update(coolprop.PT_INPUTS, dry[0].p, dry[0].T)
    zero = other.hmass() - dry[0].h

    def update(pair: int) -> Callable[[float, float], None]:
        return lambda a, b: other.update(pair, a, b)

    def both(T: float) -> None:
        other.update(coolprop.QT_INPUTS, 0.0, T)
        other.update(coolprop.QT_INPUTS, 1.0, T)

    for state in (*wet, *dry):
        blend.state(p=state.p, h=state.h)
    rows = [
        (
            "saturation at T",
            lambda T: blend.saturation(T=T),
            [(T,) for T in temperatures],
            both,
            [(T,) for T in temperatures],
        ),
        (
            "(p, x), wet",
            lambda p, x: blend.state(p=p, x=x),
            [(s.p, s.x) for s in wet],
            update(coolprop.PQ_INPUTS),
            [(s.p, s.x) for s in wet],
        ),
        (
            "(p, h), wet",
            lambda p, h: blend.state(p=p, h=h),
            [(s.p, s.h) for s in wet],
            update(coolprop.HmassP_INPUTS),
            [(s.h + zero, s.p) for s in wet],
        ),
        (
            "(p, T), vapor",
            lambda p, T: blend.state(p=p, T=T),
            [(s.p, s.T) for s in dry],
            update(coolprop.PT_INPUTS),
            [(s.p, s.T) for s in dry],
        ),
        (
            "(p, h), vapor",
            lambda p, h: blend.state(p=p, h=h),
            [(s.p, s.h) for s in dry],
            update(coolprop.HmassP_INPUTS),
            [(s.h + zero, s.p) for s in dry],
        ),
    ]
    found = [f"| {name} | tables, once | {first * 1e3:.0f} ms | | | |"]
    for what, ours, mine, theirs, its in rows:
        own, _ = timed(ours, mine)
        its_time, missed = timed(theirs, its)
        ratio = "-" if its_time is None or own is None else f"{its_time / own:,.0f}x"
        cell = "-" if its_time is None else f"{its_time * 1e6:,.1f} us"
        found.append(f"| {name} | {what} | {own * 1e6:,.2f} us | {cell} | {ratio} | {missed} |")
    return found


def main() -> None:
    """Print the table."""
    print("| blend | call | here | there | ratio | not answered there |\n|---|---|---|---|---|---|")
    for name in sys.argv[1:] or BLENDS:
        print("\n".join(lines(name)), flush=True)


if __name__ == "__main__":
    main()

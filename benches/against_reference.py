"""Times this package and a general-purpose property library, and prints how many times quicker this one is.

    cargo bench --bench properties --bench cycles --features trend -- '/G'
    python benches/against_reference.py [designation ...] [--no-tables]

`make bench-reference` runs both. Everything is thread processor time, medians, points shuffled, results
stored; nothing is asserted. Compiled against compiled: the benches of this package (Rust, `cargo bench`)
against a loop in C over the reference's functions. Through Python: both in this process. The reference's
tabular interfaces build their tables at first use, minutes a fluid; later runs find them again.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
import reference as ref
from surroundings import first_use, machine

import interstage

#: Designation here and name there.
FLUIDS = {
    "R-134a": "R134a",
    "R-123": "R123",
    "R-1233zd(E)": "R1233zd(E)",
    "R-1234ze(E)": "R1234ze(E)",
    "R-718": "Water",
}
EFFICIENCY = 0.8
POINTS = 5000
ROWS = 1_000_000
#: A tabular interface whose outputs depart from those of the equation by more, relative, is no match.
COMPARABLE = 1e-5
#: What the quickest interface must be beaten by, in the order full equation of state, tabular.
MUST: dict[str, tuple[float | None, float | None]] = {
    "G1": (200, 60),
    "G2": (30, 30),
    "G3": (12, None),
    "G3 columns": (40, None),
    "G4a p, h": (200, 5),
    "G4a p, s": (200, 5),
    "G4c": (40, None),
    "G4d": (80, None),
    "G4e p, x": (150, 25),
    "G4e T, x": (150, 25),
    "G5a": (150, 6),
    "G5b": (100, 6),
    "G5c": (600, 12),
    "G6": (500, 8),
}
#: Goals that are set lower or higher for some fluids.
MUST_OF = {
    ("G3", "R-1233zd(E)"): (7, None),
    ("G3", "R-1234ze(E)"): (7, None),
    ("G4d", "R-718"): (10_000, None),
    **{("G3 columns", name): (12, None) for name in FLUIDS if name != "R-134a"},
}


@dataclass
class Line:
    """One line of the table; times in seconds a call, row or cycle."""

    goal: str
    what: str
    ours: float | None
    full: float | None
    table: tuple[float, str] | None = None
    floor: float | None = None

    def text(self, fluid: str) -> str:
        """Write the line as Markdown."""
        must = MUST_OF.get((self.goal, fluid), MUST.get(self.goal, (None, None)))

        def ratio(other: float | None, must: float | None) -> str:
            if not self.ours or not other:
                return "-"
            return f"{other / self.ours:,.3g}x" + ("" if must is None else f" ({must:,}x)")

        table, backend = self.table or (None, "")
        cells = [
            self.goal.split(" ")[0],
            self.what,
            duration(self.ours) + ("" if self.floor is None else f" (floor {duration(self.floor)})"),
            duration(self.full),
            ratio(self.full, must[0]),
            f"{duration(table)} {backend}".strip(),
            ratio(table, must[1]),
        ]
        return f"| {' | '.join(cells)} |"


def duration(seconds: float | None) -> str:
    """Write a time in the unit that suits it."""
    if seconds is None:
        return "-"
    for unit, size in (("s", 1.0), ("ms", 1e-3), ("us", 1e-6)):
        if seconds >= size:
            return f"{seconds / size:.3g} {unit}"
    return f"{seconds * 1e9:.3g} ns"


class Points:
    """Points of a chiller for one fluid, with the properties that each library gives them.

    Enthalpy and entropy count from different references: each library is asked with its own numbers.
    """

    def __init__(self, name: str, seed: int = 1) -> None:
        self.name, self.fluid = name, FLUIDS[name]
        self.refrigerant = interstage.Refrigerant(name)
        random = np.random.default_rng(seed)
        cold = random.random(POINTS) < 0.5
        celsius = np.where(cold, random.uniform(-5, 15, POINTS), random.uniform(20, 55, POINTS))
        self.saturation = np.maximum(273.15 + celsius, self.refrigerant.triple_temperature + 0.99)
        kind = random.random(POINTS)
        self.wet = kind >= 0.7
        vapor = self.saturation + random.uniform(0.01, 40.0, POINTS)
        coldest = self.refrigerant.triple_temperature + 0.04
        liquid = np.maximum(self.saturation - random.uniform(0.01, 15.0, POINTS), coldest)
        temperature = np.where(kind < 0.4, vapor, liquid)[~self.wet]
        self.p = self.refrigerant.saturation(T=self.saturation).p.copy()
        self.x = random.random(POINTS)
        dry = self.refrigerant.state(p=self.p[~self.wet], T=temperature)
        mixed = self.refrigerant.state(T=self.saturation[self.wet], x=self.x[self.wet])
        handle = ref.Handle(ref.FULL, self.fluid)
        outputs = (ref.T, ref.P, ref.RHO, ref.H, ref.S)
        theirs_dry = handle.states(ref.PT, self.p[~self.wet], temperature, outputs, 1)[1]
        theirs_wet = handle.states(ref.TX, self.x[self.wet], self.saturation[self.wet], outputs, 1)[1]
        self.ours, self.theirs = np.empty((5, POINTS)), np.empty((5, POINTS))
        for columns, rows in ((dry, ~self.wet), (mixed, self.wet)):
            self.ours[:, rows] = (columns.T, columns.p, columns.rho, columns.h, columns.s)
        for their, rows in ((theirs_dry, ~self.wet), (theirs_wet, self.wet)):
            self.theirs[:, rows] = their.T


def benches(name: str) -> dict[str, float]:
    """Read what `cargo bench` measured last for a refrigerant: seconds a call by name of the bench."""
    found = {}
    for file in (ref.TARGET / "criterion").glob("*/*/new/benchmark.json"):
        bench = json.loads(file.read_text())
        if bench["group_id"] == name and bench["function_id"].startswith("G"):
            median = json.loads(file.with_name("estimates.json").read_text())["median"]["point_estimate"]
            found[bench["function_id"]] = median / bench["throughput"]["Elements"] / 1e9
    return found


def quickest(
    handles: dict[str, ref.Handle],
    call: Callable[[ref.Handle], tuple[float, ref.Columns]],
    known: ref.Columns,
) -> tuple[float, str] | None:
    """Give the quickest tabular interface that answers every call and comes close to the full equation."""
    found = []
    for backend, handle in handles.items():
        seconds, out = call(handle)
        if np.nanmax(np.abs(out / known - 1.0), initial=0.0) < COMPARABLE and not np.isnan(out).any():
            found.append((seconds, backend.split("&")[0]))
    return min(found, default=None)


def compiled(points: Points, handles: dict[str, ref.Handle]) -> Iterable[Line]:
    """Compare compiled with compiled."""
    ours, full = benches(points.name), ref.Handle(ref.FULL, points.fluid)
    t, p, rho, h, s = points.theirs
    wet, dry, zero, one = points.wet, ~points.wet, np.zeros(POINTS), np.ones(POINTS)
    saturation, state = (ref.P, ref.RHO, ref.H, ref.S), (ref.T, ref.P, ref.RHO, ref.H, ref.S)

    def line(
        goal: str,
        bench: str,
        what: str,
        call: Callable[[ref.Handle], tuple[float, ref.Columns]],
        tabular: bool = True,
    ) -> Line:
        seconds, known = call(full)
        table = quickest(handles, call, known) if tabular else None
        return Line(goal, what, ours.get(bench), seconds, table)

    def both_phases(handle: ref.Handle) -> tuple[float, ref.Columns]:
        liquid = handle.states(ref.TX, zero, points.saturation, saturation)
        vapor = handle.states(ref.TX, one, points.saturation, saturation)
        return liquid[0] + vapor[0], np.hstack((liquid[1], vapor[1]))

    yield line("G1", "G1 saturation at T", "saturation at T, both phases", both_phases)
    at_pressure = line(
        "G2",
        "G2 saturation temperature at p",
        "saturation temperature at p",
        lambda handle: handle.states(ref.PX, points.p, zero, (ref.T,)),
    )
    yield at_pressure
    slopes = (ref.P, ref.H, ref.S, ref.CP, ref.W)
    for goal, bench, what in (
        ("G3", "G3 T, rho", "(T, rho): p h s cp w"),
        ("G3 columns", "G3 T, rho, columns", "(T, rho), columns"),
    ):
        yield line(goal, bench, what, lambda a: a.states(ref.T_RHO, rho[dry], t[dry], slopes), False)
    yield line("G4a p, h", "G4a p, h", "(p, h)", lambda a: a.states(ref.PH, h, p, state))
    yield line("G4a p, s", "G4a p, s", "(p, s)", lambda a: a.states(ref.PS, p, s, state))
    yield line("G4c", "G4c p, T", "(T, p)", lambda a: a.states(ref.PT, p[dry], t[dry], state))
    # Tens of milliseconds a call for water.
    few = slice(200 if points.fluid == "Water" else 1000)
    yield line("G4d", "G4d h, s", "(h, s)", lambda a: a.states(ref.HS, h[few], s[few], state, 1), False)
    x = points.x[wet]
    yield line("G4e p, x", "G4e p, x", "(p, x)", lambda a: a.states(ref.PX, p[wet], x, state))
    yield line("G4e T, x", "G4e T, x", "(T, x)", lambda a: a.states(ref.TX, x, t[wet], state))
    evaporating, condensing = temperatures(1000)
    yield line(
        "G5a",
        "G5a two stages, one tank, isentropic",
        "cycle: two stages, one tank",
        lambda a: a.cycles(evaporating, condensing, EFFICIENCY, 3),
    )


def temperatures(cycles: int) -> tuple[ref.Columns, ref.Columns]:
    """Draw evaporating and condensing temperatures, K."""
    random = np.random.default_rng(9)
    return random.uniform(274.15, 288.15, cycles), random.uniform(298.15, 328.15, cycles)


def python_calls(points: Points) -> Iterable[Line]:
    """Compare calls from Python one by one: five properties of each state are read."""
    refrigerant, state = points.refrigerant, ref.abstract_state(ref.FULL, points.fluid)
    read = (state.T, state.p, state.rhomass, state.hmass, state.smass)
    some = refrigerant.state(p=float(points.p[0]), x=0.5)

    def ours(call: Callable[..., object], first: str, a: ref.Columns, second: str, b: ref.Columns) -> float:
        pairs = [{first: x, second: y} for x, y in zip(a.tolist(), b.tolist(), strict=True)]

        def loop() -> None:
            for pair in pairs:
                made = some if call is dict else call(**pair)
                if call is dict:
                    dict(**pair)
                made.T, made.p, made.rho, made.h, made.s  # noqa: B018

        return ref.median_time(loop, 3) / len(pairs)

    def theirs(pair: int, a: ref.Columns, b: ref.Columns) -> float:
        pairs = list(zip(a.tolist(), b.tolist(), strict=True))
        update = state.update

        def loop() -> None:
            for x, y in pairs:
                update(pair, x, y)
                for value in read:
                    value()

        return ref.median_time(loop, 3) / len(pairs)

    t, p, rho, h, s = points.ours
    dry, wet = ~points.wet, points.wet
    their_t, their_p, their_rho, their_h, their_s = points.theirs
    few = slice(100 if points.fluid == "Water" else 1000)
    floor = ours(dict, "p", p, "h", h)
    for goal, what, mine, other in (
        ("G3", "(T, rho)", ("T", t[dry], "rho", rho[dry]), (ref.T_RHO, their_rho[dry], their_t[dry])),
        ("G4a p, h", "(p, h)", ("p", p, "h", h), (ref.PH, their_h, their_p)),
        ("G4a p, s", "(p, s)", ("p", p, "s", s), (ref.PS, their_p, their_s)),
        ("G4c", "(T, p)", ("T", t[dry], "p", p[dry]), (ref.PT, their_p[dry], their_t[dry])),
        ("G4d", "(h, s)", ("h", h, "s", s), (ref.HS, their_h[few], their_s[few])),
        ("G4e p, x", "(p, x)", ("p", p[wet], "x", points.x[wet]), (ref.PX, their_p[wet], points.x[wet])),
    ):
        yield Line(
            f"{goal.split(' ')[0]} call",
            f"{what}, one Python call",
            ours(refrigerant.state, *mine),
            theirs(*other),
            floor=floor,
        )


def python_columns(points: Points, tables: bool) -> Iterable[Line]:
    """Compare columns through NumPy on one thread: T, rho, s (or h) of each row."""
    refrigerant, fluid = points.refrigerant, points.fluid
    state = ref.abstract_state(ref.TABLES[0], fluid) if tables else None
    p, h, s = points.theirs[1], points.theirs[3], points.theirs[4]
    few = slice(500)
    for goal, letter, mine, other, pair, outputs in (
        ("G4a p, h", "H", points.ours[3], h, ref.PH, (ref.T, ref.RHO, ref.S)),
        ("G4a p, s", "S", points.ours[4], s, ref.PS, (ref.T, ref.RHO, ref.H)),
    ):
        given = {letter.lower(): mine, "p": points.ours[1]}
        missing = "TD" + ("S" if letter == "H" else "H")

        def full(
            letter: str = letter, other: ref.Columns = other, missing: str = missing
        ) -> list[ref.Columns]:
            return ref.columns(fluid, missing, "P", p[few], letter, other[few])

        order = (other, p) if letter == "H" else (p, other)
        table = None
        if state is not None:
            seconds = ref.median_time(
                lambda pair=pair, order=order, outputs=outputs: ref.table_columns(
                    state, pair, *order, outputs
                )
            )
            table = (seconds / POINTS, ref.TABLES[0].split("&")[0])
        yield Line(
            f"{goal.split(' ')[0]} columns",
            f"(p, {letter.lower()}), NumPy columns",
            ref.median_time(lambda given=given: refrigerant.state(**given, threads=1)) / POINTS,
            ref.median_time(full, 3) / 500,
            table,
        )


def python_cycles(points: Points, tables: bool) -> Iterable[Line]:
    """Compare cycles from Python: one call a cycle, and columns of cycles."""
    stages = [interstage.Stage(isentropic_efficiency=EFFICIENCY)] * 2
    circuit = interstage.Circuit(points.refrigerant, stages=stages, interstages=[interstage.FlashTank()])
    evaporating, condensing = temperatures(2000)
    pairs = list(zip(evaporating[:300].tolist(), condensing[:300].tolist(), strict=True))

    def ours() -> None:
        for cold, hot in pairs:
            circuit.solve(evaporating_temperature=cold, condensing_temperature=hot, capacity=1e6).cop  # noqa: B018

    def loop(backend: str) -> Callable[[], object]:
        state = ref.abstract_state(backend, points.fluid)
        return lambda: [ref.cycle_states(state, cold, hot, EFFICIENCY) for cold, hot in pairs]

    def time(call: Callable[[], object], cycles: int) -> float:
        return ref.median_time(call, 3) / cycles

    backend = ref.TABLES[0]
    short = backend.split("&")[0]
    table = (time(loop(backend), 300), short) if tables else None
    yield Line("G5b", "cycle, one Python call", time(ours, 300), time(loop(ref.FULL), 300), table)
    given = {"evaporating_temperature": evaporating, "condensing_temperature": condensing, "capacity": 1e6}
    if tables:
        cycles = ref.TableCycles(points.fluid)
        table = (time(lambda: cycles(evaporating, condensing, EFFICIENCY), 2000), short)
    yield Line(
        "G5c",
        "cycles, NumPy columns",
        time(lambda: circuit.solve(**given, threads=1).cop, 2000),
        time(lambda: ref.cycle_columns(points.fluid, evaporating[:200], condensing[:200], EFFICIENCY), 200),
        table,
    )


def rows_of_a_trend(points: Points, tables: bool) -> Iterable[Line]:
    """Compare a million rows through NumPy on one thread: saturation temperature, T(p, h) and T(p, s)."""
    random = np.random.default_rng(7)
    refrigerant, fluid = points.refrigerant, points.fluid
    coldest = max(268.15, refrigerant.triple_temperature + 0.99)
    p = refrigerant.saturation(T=random.uniform(coldest, 328.15, ROWS)).p
    saturation = refrigerant.saturation_temperature(p=p)
    superheated = refrigerant.state(p=p, T=saturation + random.uniform(1.0, 40.0, ROWS))
    h, s = superheated.h, superheated.s

    def ours() -> None:
        refrigerant.saturation_temperature(p=p)
        refrigerant.state(p=p, h=h, threads=1).T  # noqa: B018
        refrigerant.state(p=p, s=s, threads=1).T  # noqa: B018

    few = slice(5000)
    handle = ref.Handle(ref.FULL, fluid)
    their_h, their_s = handle.states(ref.PT, p, superheated.T, (ref.H, ref.S), 1)[1].T.copy()
    one = np.ones(ROWS)

    def full() -> None:
        for letter, column in (("Q", one), ("H", their_h), ("S", their_s)):
            ref.columns(fluid, "T", "P", p[few], letter, column[few])

    table = None
    if tables:
        # The quickest of each, whatever its accuracy.
        quick, smooth = (ref.abstract_state(backend, fluid) for backend in (ref.TABLES[2], ref.TABLES[0]))
        line, molar = ref.Handle(ref.TABLES[1], fluid), their_h * quick.molar_mass()

        def mixture() -> None:
            line.states(ref.PX, p, one, (ref.T,), 1)
            ref.table_columns(quick, ref.coolprop.HmolarP_INPUTS, molar, p, (ref.T,))
            ref.table_columns(smooth, ref.PS, p, their_s, (ref.T,))

        table = (ref.median_time(mixture, 1) / ROWS, "best mixture")
    seconds = ref.median_time(ours, 3) / ROWS
    yield Line("G6", "a row of 1,000,000, NumPy columns", seconds, ref.median_time(full, 1) / 5000, table)


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("names", nargs="*", default=list(FLUIDS), metavar="designation")
    parser.add_argument(
        "--no-tables", action="store_true", help="leave the reference's tabular interfaces out"
    )
    chosen = parser.parse_args()
    tables = not chosen.no_tables
    print(machine(ref.VERSION))
    print(
        "\nGoals in brackets. G1 to G5a: compiled, `cargo bench` against a loop in C. Others: through\n"
        "Python; the floor is a call that does nothing, with as many properties read."
    )
    for name in chosen.names:
        points = Points(name)
        handles = {backend: ref.Handle(backend, points.fluid) for backend in ref.TABLES} if tables else {}
        print(f"\n{name}\n")
        print("| goal | what | here | full equation | ratio | tabular | ratio |")
        print("|---|---|---:|---:|---:|---:|---:|")
        for lines in (
            compiled(points, handles),
            python_calls(points),
            python_columns(points, tables),
            python_cycles(points, tables),
            rows_of_a_trend(points, tables),
        ):
            for line in lines:
                print(line.text(name), flush=True)
    first_use(chosen.names)


if __name__ == "__main__":
    main()

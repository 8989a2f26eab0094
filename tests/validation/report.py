"""`tests/VALIDATION.md`: the figures as tables."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from . import mixtures, states
from .comparison import AT_DENSITY, AT_PRESSURE, SATURATED, Comparison, as_stored, fluids
from .corrections import CORRECTIONS
from .figures import ROUNDING, number, paragraph, share, spread, table, triple
from .library import VERSION
from .published import FILES, OUT_OF_REACH, outcomes
from .reasons import corrections

PATH = Path(__file__).parents[1] / "VALIDATION.md"


def head() -> list[str]:
    """What the file is."""
    return [
        "# Validation",
        "",
        *paragraph(
            """How far the package is from printed values and from another implementation of the same
            equations. `make validate` writes this file; `make test` recomputes it, and fails where a value
            leaves its limit or where the file is out of date."""
        ),
        *paragraph(
            f"""A cell with three numbers holds median / 99 % / maximum of the absolute deviations.
            `<{number(ROUNDING)}` is rounding."""
        ),
    ]


def published() -> list[str]:
    """Printed values by fluid and source."""
    found = outcomes()
    reached = [row for row in found if row.got is not None]
    within = sum(row.share <= 1.0 for row in reached)
    groups: dict[tuple[str, str, str], list] = {}
    for row in reached:
        groups.setdefault((row.fluid, row.kind, row.source), []).append(row)
    files = Counter(row.file for row in found)
    counts = ", ".join(f"{files[name]} in `data/{name}`" for name in FILES)
    computed = sum("CoolProp" in row.source for row in found)
    lines = [
        "## Published values",
        "",
        *paragraph(
            f"""{len(found)} values: {counts}. {len(found) - computed} of them are printed in their source,
            {computed} computed with CoolProp 8.0.0 where nothing printed was found (the sources say which).
            [data/README.md](data/README.md) has the sources in full. All are recomputed through the Python
            package. No printed table was found for R-11, R-12, R-22, R-113, R-114 and the equation of 2011 of
            R-1234yf; the one printed state of R-236fa lies 0.03 K above its critical point."""
        ),
        f"- {within} of {len(found)} are within their tolerance; the largest deviation is "
        f"{share(max(row.share for row in reached))} of it.",
        f"- {sum(row.beyond for row in reached)} lie beyond the limits of their equation and need "
        "`extrapolate=True`.",
    ]
    for prefix, reason in OUT_OF_REACH.items():
        n = sum(row.id.startswith(prefix) and row.got is None for row in found)
        lines.append(f"- {n} are not reached: {reason}.")
    lines += [
        "",
        *paragraph(
            """The tolerance is half a unit of the last printed digit for values of the equation itself (one
            unit in five rows of R-123), one unit for handbooks, and what [data/README.md](data/README.md)
            says where a source stands on an older equation or on IF97: their relative deviations are those
            of the two equations. A relative deviation of an enthalpy, an entropy or a temperature in degC
            counts against at least 100 kJ/kg, 0.5 kJ/(kg K) or 50 K; it is large where a value is printed
            with one or two digits, such as a pressure near a triple point."""
        ),
    ]
    rows = []
    order = {fluid: k for k, fluid in enumerate(fluids())}
    for (fluid, kind, source), members in sorted(
        groups.items(), key=lambda item: (order[item[0][0]], item[0][1:])
    ):
        shares = spread([row.share for row in members])
        relative = spread([row.relative for row in members])
        rows.append(
            [
                fluid,
                kind,
                source,
                str(shares.n),
                " / ".join(share(value) for value in shares[1:]),
                triple(relative),
            ]
        )
    header = ["fluid", "kind", "source", "n", "of the tolerance", "relative"]
    return lines + table(header, rows) + [""]


def coverage(found: list[Comparison], lacking: list[str]) -> list[str]:
    """Which states were compared, and which equation the library has."""
    rows = []
    for one in found:
        phases = one.density.phases + one.pressure.phases
        without: Counter[str] = one.density.without + one.pressure.without + one.saturation.without
        asked = one.density.asked + one.pressure.asked + one.saturation.asked
        equation = "constants of its own, below" if one.fluid in CORRECTIONS else "the same"
        rows.append(
            [
                one.fluid,
                one.library,
                one.key,
                equation,
                str(asked),
                str(asked - without.total()),
                " / ".join(str(phases[name]) for name in ("liquid", "vapor", "supercritical")),
                "; ".join(f"{n} {reason}" for reason, n in sorted(without.items())) or "-",
            ]
        )
    header = [
        "fluid",
        "there",
        "equation there",
        "equation",
        "asked",
        "compared",
        "l / v / sc",
        "without comparison",
    ]
    lines = [
        f"## Random states against CoolProp {VERSION}",
        "",
        *paragraph(
            f"""For each fluid {states.AT_PRESSURE} states at (T, p), {states.AT_DENSITY} at (T, rho) and
            {states.SATURATED} temperatures of the saturation line, from a fixed seed, over the whole range of
            validity: T evenly, p evenly in its logarithm from {states.LOWEST_PRESSURE:.0f} Pa to the
            highest; of the densities a third each liquid, vapor and supercritical. The last column counts
            the states that gave no comparison."""
        ),
        *paragraph(
            """The program is independent, its coefficients are not altogether: most of those of the package
            were transcribed from its data and then held against the printed values above. Agreement here
            tests the computation; the printed values test the equation."""
        ),
        f"Not in the library: {', '.join(lacking) or 'none'}.",
        "",
    ]
    return lines + table(header, rows) + [""]


def deviations(found: list[Comparison]) -> list[str]:
    """Deviations by fluid for the three kinds of state."""
    kept = max(one.kept_pressure for one in found)
    critical = max(one.critical_share for one in found if one.fluid not in CORRECTIONS)
    lines = paragraph(
        """Densities, heat capacities and the speed of sound w are compared relative; p relative to the
        larger of p and rho R T; h in R T and s in R, from the state at the critical temperature and a tenth
        of the critical density on. Fluids marked * have constants of their own in the library: see the last
        chapter."""
    )
    at_pressure = f"""All but rho is asked for at the density found: after its search the library keeps the
        values of the step before, whose p is up to {number(kept)} off the one asked for."""
    saturated = f"""`p of vapor` is the pressure of the library's equation at the library's density of
        saturated vapor. The pressures it gives itself, bubble and dew, are up to {number(critical)} of the
        critical pressure away from that in the fluids without *: nothing, but much of the low pressure near
        a triple point."""
    for title, quantities, part, note in (
        ("At (T, rho)", AT_DENSITY, "density", []),
        ("At (T, p)", AT_PRESSURE, "pressure", paragraph(at_pressure)),
        ("Saturation at T", SATURATED, "saturation", paragraph(saturated)),
    ):
        lines += [f"### {title}", "", *note]
        rows = []
        for one in found:
            part_of = getattr(one, part)
            cells = [triple(spread(part_of.by_quantity[name]), ROUNDING) for name in quantities]
            mark = " *" if one.fluid in CORRECTIONS else ""
            rows.append([one.fluid + mark, str(part_of.compared), *cells])
        lines += [*table(["fluid", "n", *quantities], rows), ""]
    return lines


def blends() -> list[str]:
    """Bubble and dew points of blends by the mixture model."""
    lines = [
        "## Blends by the mixture model",
        "",
        *paragraph(
            f"""Bubble and dew points at {mixtures.COUNT} temperatures from 200 K, or the coldest, to
            {mixtures.HIGHEST:g} of the critical temperature (R-514A: to 400 K), relative deviations. The
            library is told to keep the gas constant of each component, as the package does; as it comes it
            gives all 8.314462618 J/(mol K), which makes its pressures up to 1.1e-6 lower. That of
            R-1234ze(E) it keeps otherwise than the paper, by 1.2e-6: see the last chapter."""
        ),
    ]
    rows = []
    for name in mixtures.names():
        found, refused = mixtures.against_library(name)
        cells = [triple(spread(found[quantity]), ROUNDING) for quantity in mixtures.QUANTITIES]
        rows.append([name, str(mixtures.COUNT - refused), str(refused), *cells])
    lines += [*table(["blend", "n", "refused there", *mixtures.QUANTITIES], rows), ""]
    lines += [
        *paragraph(
            """The same against the pseudo-pure equations of four blends, which were fitted to this model and
            state 0.1 % in density and more next to the critical point."""
        )
    ]
    rows = []
    for name in mixtures.PSEUDO_PURE:
        apart = mixtures.against_pseudo_pure(name)
        rows.append([name, *(triple(spread(apart[quantity])) for quantity in mixtures.QUANTITIES)])
    return [*lines, *table(["blend", *mixtures.QUANTITIES], rows), ""]


def report() -> str:
    """The whole file."""
    compared = [(fluid, as_stored(fluid)) for fluid in fluids()]
    found = [one for _, one in compared if one is not None]
    lacking = [fluid for fluid, one in compared if one is None]
    lines = [*head(), *published(), *coverage(found, lacking), *deviations(found), *blends(), *corrections()]
    return "\n".join(lines).rstrip() + "\n"

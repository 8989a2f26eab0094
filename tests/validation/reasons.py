"""The chapter on the library's own constants: what each does, and what is left without it."""

from __future__ import annotations

from .comparison import AT_DENSITY, AT_PRESSURE, Comparison, as_printed, as_stored, expected, fluids
from .corrections import CORRECTIONS
from .evidence import evidence
from .figures import ROUNDING, number, paragraph, table


def corrected() -> list[str]:
    """Fluids of the package that the library has with other constants."""
    return [fluid for fluid in fluids() if fluid in CORRECTIONS]


def sizes(found: Comparison) -> dict[str, float]:
    """The largest deviation of each quantity, at given densities and at given pressures."""
    sizes = {f"{name} (T, rho)": found.density.largest(name) for name in AT_DENSITY}
    sizes |= {f"{name} (T, p)": found.pressure.largest(name) for name in AT_PRESSURE}
    return sizes | {"p of vapor": found.saturation.largest("p of vapor")}


def _cell(value: float) -> str:
    return f"<{number(ROUNDING)}" if value < ROUNDING else number(value)


def corrections() -> list[str]:
    """The chapter."""
    lines = [
        "## Constants that the library stores otherwise than the papers",
        "",
        *paragraph(
            """The printed values of the paper decide: they are computed by the library alone, with the
            constant it stores and with the printed one. Enthalpies and entropies count where the table's
            zero is liquid at 0 degC."""
        ),
    ]
    rows = []
    for fluid in corrected():
        one, count = CORRECTIONS[fluid], evidence(fluid)
        missed = f"{count.missed_as_stored} and {count.missed_as_printed} of {count.values}"
        rows.append([fluid, one.constant, one.stored, one.printed, one.paper, missed])
    header = ["fluid", "constant", "stored", "printed", "source", "printed values missed with either"]
    lines += [*table(header, rows), ""]
    lines += paragraph(
        """What that does, as largest deviations. *Expected*: the library as stored against the library with
        the printed constant, in which this package has no part. *Seen*: the library as stored against this
        package. *Left*: the library with the printed constant against this package, the largest of all
        quantities and kinds of state."""
    )
    rows = []
    for fluid in corrected():
        seen, due, left = (sizes(kind(fluid)) for kind in (as_stored, expected, as_printed))
        for name in ("p (T, rho)", "rho (T, p)", "h (T, p)", "s (T, p)", "cp (T, p)", "w (T, p)"):
            rows.append([fluid, name, _cell(due[name]), _cell(seen[name]), _cell(max(left.values()))])
    header = ["fluid", "quantity", "expected", "seen", "left"]
    return lines + table(header, rows)

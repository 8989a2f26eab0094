"""Pages that are made from the code: API reference, tables of codes, units and sources."""

import inspect
import re
from pathlib import Path

import groups

import interstage
from interstage import _core, _quantities
from interstage._bases import EQUAL

NOTEBOOKS = (
    "Worked examples with their results, executed by `make test`. Each is a script beside a notebook in the\n"
    "folder `notebooks/`; the machines and their readings are invented."
)


def pages(source: Path) -> None:
    """Write every page and table into the folder of the sources."""
    wrong = groups.misplaced(interstage.__all__)
    if wrong:
        raise SystemExit("\n".join(wrong))
    (source / "api").mkdir()
    (source / "generated").mkdir()
    reference(source / "api")
    for name, text in {
        "row_status": row_status(),
        "remarks": bits(interstage.remarks()),
        "quality_flags": bits(interstage.quality_flags()),
        "impossible_states": bits(interstage.impossible_states()),
        "errors": errors(),
        "readings": readings(),
        "refrigerants": refrigerants(),
        "citations": citations(),
        "bases": bases(),
        "speed": speed(),
    }.items():
        (source / "generated" / f"{name}.md").write_text(text)
    schematic().save(source / "generated" / "schematic.svg")


def schematic() -> interstage.Schematic:
    """The machine of the trainer's guide."""
    circuit = interstage.Circuit.arranged(
        interstage.Refrigerant("R-1233zd(E)"),
        "2 stages: tank@2",
        stage=interstage.Stage(polytropic_efficiency=0.80),
    )
    temperatures = {"evaporating_temperature": 278.15, "condensing_temperature": 310.15}
    return circuit.solve(**temperatures, capacity=3.5e6).schematic("I-P")


def table(head: list[str], rows: list[list[str]]) -> str:
    """A table in Markdown."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(cell.replace('|', '/') for cell in line)} |\n" for line in lines)


def first_line(value: object) -> str:
    """The first sentence of a docstring."""
    text = " ".join((inspect.getdoc(value) or "").split("\n\n")[0].split())
    return re.split(r"(?<=[.:]) (?=[A-Z])", text)[0].replace("`", "``").replace("````", "``")


# ---- API reference


def slug(title: str) -> str:
    return re.sub(r"[^a-z]+", "_", title.lower()).strip("_")


def reference(folder: Path) -> None:
    """A page for each group, one for each class, and one for conversions."""
    entries = []
    for title, (words, names) in groups.GROUPS.items():
        entries.append(slug(title))
        (folder / f"{slug(title)}.rst").write_text(group(folder, title, words, names))
    text = heading("API reference", "=")
    text += "Every public name by its purpose. Quantities are SI; :py:mod:`interstage.units` converts.\n\n"
    text += toctree(entries, ":maxdepth: 2\n   :includehidden:")
    (folder / "index.rst").write_text(text)


def heading(text: str, line: str) -> str:
    return f"{text}\n{line * len(text)}\n\n"


def toctree(entries: list[str], option: str) -> str:
    return ".. toctree::\n   " + option + "\n\n" + "".join(f"   {entry}\n" for entry in entries) + "\n"


def group(folder: Path, title: str, words: str, names: list[str]) -> str:
    """The page of a group: its names with a sentence each, then its functions in full."""
    text = heading(title, "=") + f"{words}\n\n.. py:currentmodule:: interstage\n\n"
    text += ".. list-table::\n   :widths: 30 70\n   :class: names\n\n"
    own, inline = [], []
    for name in names:
        value = getattr(interstage, name)
        if inspect.isclass(value) and not issubclass(value, Exception):
            (folder / f"{name}.rst").write_text(of_class(name))
            own.append(name)
        elif inspect.ismodule(value):
            (folder / f"{name}.rst").write_text(of_module(name))
            own.append(name)
        elif not inspect.isclass(value) and not callable(value):
            inline.append(f".. py:data:: {name}\n\n{indented(constant(name))}\n")
        elif inspect.isclass(value):
            inline.append(f".. autoexception:: {name}\n   :no-inherited-members:\n   :show-inheritance:\n")
        else:
            inline.append(f".. autofunction:: {name}\n")
        role = "py:mod" if inspect.ismodule(value) else "py:obj"
        target = f"interstage.{name}"
        text += f"   * - :{role}:`{name} <{target}>`\n     - {sentence(name, value)}\n"
    return text + "\n" + (toctree(own, ":hidden:") if own else "") + "\n".join(inline)


def sentence(name: str, value: object) -> str:
    return constant(name) if name in CONSTANTS else first_line(value)


CONSTANTS = {
    "SIGNATURES": "What each fault does to the figures, as data: what :py:obj:`weigh_evidence` weighs by.",
    "__version__": "Version of the package.",
}


def constant(name: str) -> str:
    return CONSTANTS[name]


def indented(text: str) -> str:
    return f"   {text}\n"


def of_class(name: str) -> str:
    return heading(name, "=") + f".. py:currentmodule:: interstage\n\n.. autoclass:: {name}\n"


def of_module(name: str) -> str:
    return heading(name, "=") + f".. automodule:: interstage.{name}\n   :imported-members:\n"


# ---- Tables of codes


def row_status() -> str:
    """The status codes of rows of columns, until the words end."""
    rows = []
    for code in range(256):
        try:
            rows.append([f"{code}", interstage.status_text(code)])
        except interstage.InterstageError:
            break
    return table(["code", "meaning"], rows)


def bits(words: dict[str, int]) -> str:
    rows = [
        [f"{bit.bit_length() - 1}", f"{bit}", text] for text, bit in sorted(words.items(), key=lambda x: x[1])
    ]
    return table(["bit", "number", "meaning"], rows)


def errors() -> str:
    found = [getattr(interstage, name) for name in groups.GROUPS["Errors and status codes"][1]]
    rows = [
        [
            f"{{py:exc}}`~interstage.{cls.__name__}`",
            f"`{cls.kind}`",
            ", ".join(f"`{field}`" for field in cls.fields) or "-",
            first_line(cls),
        ]
        for cls in found
        if inspect.isclass(cls) and cls is not interstage.InterstageError
    ]
    return table(["error", "`kind`", "fields", "when"], rows)


def readings() -> str:
    """Every quantity that a column of an export may hold, with the units it may be declared in."""
    try:
        _core._reading("")
    except interstage.UnknownOption as error:
        names = [*error.options, *_quantities._OTHERS]
    rows: dict[str, list[str]] = {}
    for name in names:
        kind = _quantities.quantity(name.replace("stage_k", "stage_2")).si
        rows.setdefault(kind, []).append(name)
    return table(
        ["kind", "units", "quantities"],
        [
            [
                si,
                ", ".join(f"`{unit}`" for unit in _quantities.known_units(si)),
                ", ".join(f"`{n}`" for n in found),
            ]
            for si, found in rows.items()
        ],
    )


def bases() -> str:
    return table(["basis", "what is equal, and what is not"], [[f"`{k}`", v] for k, v in EQUAL.items()])


# ---- Speed


def speed() -> str:
    """The table of `DEVELOPERS.md` without what it is compared with, and how it was measured."""
    text = (Path(__file__).resolve().parents[2] / "DEVELOPERS.md").read_text()
    text = text[text.index("## Speed") :]
    found = re.search(r"Measured (\d{4}-\d\d-\d\d on [^:]*): thread processor time", text)
    lines = [line for line in text.splitlines() if re.match(r"\| G\d", line)]
    head = re.search(r"\| goal \| asked \| (.*) \|", text)
    if not (found and lines and head):
        raise SystemExit("DEVELOPERS.md has no table of speed any more")
    rows = []
    for line in lines:
        what, _, *times = [cell.strip() for cell in line.strip("| ").split("|")]
        rows.append([re.sub(r"^G\d\w? ", "", what), *(time.split(":")[0] for time in times)])
    measured = " ".join(found[1].split())
    return f"Measured {measured}; medians of the processor time of one thread.\n\n" + table(
        ["call", *head[1].split(" | ")], rows
    )


# ---- Sources


def linked(doi: str | None) -> str:
    return f"[doi:{doi}](<https://doi.org/{doi}>)" if doi else ""


def cited(citation: object) -> str:
    """A citation with its DOI as a link."""
    doi = getattr(citation, "doi", None)
    text = str(citation).removesuffix(f" doi:{doi}") if doi else str(citation)
    return f"{text.replace('*', '')} {linked(doi)}".strip()


def refrigerants() -> str:
    rows = []
    for name in interstage.names():
        r = _core.Refrigerant(name)
        what = (
            r.chemical_name
            if r.composition is None
            else ", ".join(f"{part} {100.0 * share:.4g} %" for part, share in r.composition.items())
        )
        rows.append(
            [
                f"`{name}`",
                what or "",
                r.model,
                r.safety_class or "-",
                f"{r.minimum_temperature:.6g} to {r.maximum_temperature:.6g}",
                f"{r.maximum_pressure / 1e6:.6g}",
                r.equation,
            ]
        )
    return table(["name", "what it is", "model", "class", "valid, K", "up to, MPa", "equation"], rows)


def citations() -> str:
    """Every paper that a number comes from, once, with what it stands behind."""
    behind: dict[str, tuple[object, list[str]]] = {}
    for name in interstage.names():
        r = _core.Refrigerant(name)
        papers = [
            (paper, "equation of state" if r.model != "mixture" else "mixture") for paper in r.citations
        ]
        papers += [(paper, what.replace("_", " ")) for what, paper in r.transport_citations.items()]
        for older in r.equations:
            paper = _core.Refrigerant(name, equation=older).citation if r.model == "pure" else None
            papers += [(paper, "equation of state")] if paper else []
        for paper, what in papers:
            entry = behind.setdefault(str(paper), (paper, []))[1]
            if what != "mixture" and f"{name} ({what})" not in entry:
                entry.append(f"{name} ({what})")
            elif what == "mixture" and name not in entry:
                entry.append(name)
    rows = [[cited(paper), ", ".join(names)] for _, (paper, names) in sorted(behind.items())]
    return table(["source", "stands behind"], rows)

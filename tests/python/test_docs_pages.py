"""The pages of the documentation: their examples run, every public name has its place."""

import doctest
import importlib.util
import inspect
import re
import textwrap
from pathlib import Path

import pytest

import interstage
from interstage import _core

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "python" / "docs"
PAGES = sorted(DOCS.rglob("*.md"))


def loaded(name):
    """A module of the build of the documentation."""
    spec = importlib.util.spec_from_file_location(name, DOCS / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_examples_of_a_page_run(page):
    """Sessions print what stands below them, in the order of the page."""
    text = page.read_text()
    sessions = "".join(re.findall(r"```python\n(.*?)```", text, re.DOTALL))
    assert sessions.count(">>>") == text.count(">>>"), "a session is not in a block of Python"
    test = doctest.DocTestParser().get_doctest(sessions, {}, page.name, str(page), 0)
    assert doctest.DocTestRunner().run(test).failed == 0


@pytest.mark.parametrize(
    "page", [page for page in PAGES if ".. plot::" in page.read_text()], ids=lambda page: page.stem
)
def test_pictures_of_a_page_are_drawn(page, capsys):
    pyplot = pytest.importorskip("matplotlib.pyplot")
    blocks = re.findall(r"\.\. plot::\n((?: +:[^\n]*\n)*)\n(.*?)\n```", page.read_text(), re.DOTALL)
    assert len(blocks) == page.read_text().count(".. plot::")
    # Blocks of a page without a name of their own would all show the first picture.
    assert len({options for options, _ in blocks}) == len(blocks)
    for _, block in blocks:
        exec(textwrap.dedent(block), {})
        assert pyplot.get_fignums()
        pyplot.close("all")
    printed = capsys.readouterr().out.strip()
    # What the page says that it prints.
    assert printed or "It prints `" not in page.read_text()
    assert not printed or f"It prints `{printed}`." in page.read_text()


@pytest.mark.parametrize(
    "page", [page for page in PAGES if ".. interactive::" in page.read_text()], ids=lambda page: page.stem
)
def test_interactive_figures_of_a_page_are_made(page):
    blocks = re.findall(r"\.\. interactive::\n\n(.*?)\n```", page.read_text(), re.DOTALL)
    assert len(blocks) == page.read_text().count(".. interactive::")
    for block in blocks:
        scope = {}
        exec(textwrap.dedent(block), scope)
        figure = scope["figure"]
        assert len(figure.frames) == 30
        assert figure.layout.meta["left_out"] == [
            {
                "first": "2025-07-01 12:00:00",
                "last": "2025-07-01 13:00:00",
                "rows": 3,
                "why": "stage_efficiency cannot be told: a reading is missing",
                "stretches": 1,
            }
        ]
        # What the page says of one row.
        assert str(scope["times"][20]) == "2025-07-01 16:00:00"
        scope["diagram"].add(scope["result"].cycle(20), "16:00")


def test_the_first_page_reaches_a_diagram_in_ten_lines():
    (block,) = re.findall(r"\.\. plot::\n\n(.*?)\n```", (DOCS / "index.md").read_text(), re.DOTALL)
    assert len([line for line in block.splitlines() if line.strip()]) <= 10


def test_every_public_name_has_its_place_in_the_reference():
    groups = loaded("groups")
    assert groups.misplaced(interstage.__all__) == []
    assert groups.misplaced([*interstage.__all__, "new"]) == ["new is in no group of python/docs/groups.py"]
    assert groups.misplaced(interstage.__all__[1:]) == [
        f"{interstage.__all__[0]} is in a group and not public"
    ]


def test_broken_links_are_found(tmp_path):
    (tmp_path / "one.html").write_text(
        '<h1 id="top">One</h1><a href="two.html">no such file</a><a href="#top">here</a>'
        '<a href="#end">nowhere</a>'
        '<a href="https://doi.org/10.1063/1.555958">paper</a><a href="https://doi.org/10.1">no DOI</a>'
        '<script src="https://example.org/x.js"></script>'
    )
    assert loaded("links").broken(tmp_path) == [
        "one.html: no such file: two.html",
        "one.html: no such place: #end",
        "one.html: no address: https://doi.org/10.1",
        "one.html: loads https://example.org/x.js",
    ]


def compiled_examples():
    """Docstrings with examples of compiled classes and their members.

    `doctest` itself looks into neither static methods nor attributes.
    """
    for name, cls in vars(_core).items():
        if inspect.isclass(cls) and not name.startswith("_"):
            members = {f"{name}.{member}": part for member, part in vars(cls).items()}
            for path, part in {name: cls, **members}.items():
                text = getattr(getattr(part, "__func__", part), "__doc__", None) or ""
                if ">>>" in text:
                    yield path, text


COMPILED = dict(compiled_examples())


@pytest.mark.parametrize("path", COMPILED)
def test_examples_of_the_compiled_module_run(path):
    test = doctest.DocTestParser().get_doctest(COMPILED[path], {}, path, None, 0)
    assert doctest.DocTestRunner().run(test).failed == 0


def test_the_compiled_module_has_examples():
    assert {"Circuit.arranged", "Refrigerant.composition", "Refrigerant.state"} <= COMPILED.keys()
    assert len(COMPILED) > 40

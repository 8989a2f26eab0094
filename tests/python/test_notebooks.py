"""What every notebook has: a title, cautions, checks of its own, the public names alone, small outputs."""

import json
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))


@pytest.fixture(params=NOTEBOOKS, ids=lambda path: path.stem)
def path(request):
    return request.param


@pytest.fixture
def cells(path):
    return json.loads(path.read_text(encoding="utf-8"))["cells"]


def source(cells, kind):
    return "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == kind)


def outputs(cells):
    return [output for cell in cells for output in cell.get("outputs", [])]


def test_there_are_notebooks():
    assert len(NOTEBOOKS) >= 9


def test_each_begins_with_one_title_and_says_its_cautions(cells):
    first = "".join(cells[0]["source"])
    assert cells[0]["cell_type"] == "markdown"
    assert re.match(r"# [A-Z][^\n]+\n\n", first)
    assert len(re.findall(r"^# ", source(cells, "markdown"), re.MULTILINE)) == 1
    assert re.search(r"results are estimates|numbers are estimates", first, re.IGNORECASE)


def test_each_checks_a_headline_number(cells):
    assert re.search(r"^assert ", source(cells, "code"), re.MULTILINE)


def test_public_names_alone(cells):
    code = source(cells, "code")
    assert not re.search(r"interstage\._|from interstage import _|import _", code)


def test_links_between_notebooks_lead_somewhere(path, cells):
    links = re.findall(r"\]\(([^)#]+)\)", source(cells, "markdown"))
    missing = [link for link in links if "://" not in link and not (path.parent / link).is_file()]
    assert missing == []


def test_the_readme_lists_each(path):
    assert f"(notebooks/{path.name})" in (ROOT / "README.md").read_text(encoding="utf-8")


def test_stored_outputs_are_small_and_clean(path, cells):
    assert path.stat().st_size < 300_000
    assert outputs(cells)
    for output in outputs(cells):
        assert output["output_type"] != "error"
        assert output.get("name") != "stderr"
    text = json.dumps(outputs(cells))
    # Addresses in memory and folders of a machine differ from run to run.
    assert not re.search(r" at 0x[0-9a-f]{6,}|/(?:tmp|home|root)/", text)


def test_each_is_its_script(path):
    jupytext = pytest.importorskip("jupytext")
    written = jupytext.writes(jupytext.read(path), fmt="py:percent")
    script = path.with_suffix(".py").read_text(encoding="utf-8")
    assert written == script

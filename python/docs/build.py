"""Builds the documentation of the package: `python python/docs/build.py [folder]`, by default target/docs.

Copies the pages of this folder, adds those that are made from the code (API reference, tables of codes,
sources) and from files of the repository (validation, changelog, notebooks), lets Sphinx build them with
every warning an error, and then follows every link of the result.
"""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import generate
import links

DOCS = Path(__file__).resolve().parent
ROOT = DOCS.parents[1]


def notebooks(folder: Path) -> None:
    """Copy every notebook: the copy that `make notebooks` executed, if it is of the same cells."""
    folder.mkdir()
    # In the order of the README, and with what it says of each; a test sees to it that none is missing there.
    said = re.findall(
        r"^- \[[^\]]+\]\(notebooks/(\w+)\.ipynb\): (.+(?:\n  .+)*)",
        (ROOT / "README.md").read_text(),
        re.MULTILINE,
    )
    found = [ROOT / "notebooks" / f"{name}.ipynb" for name, _ in said]
    for path in found:
        stored = json.loads(path.read_text())
        executed = ROOT / "target" / "notebooks" / path.name
        if executed.exists():
            fresh = json.loads(executed.read_text())
            if cells(fresh) == cells(stored):
                stored = fresh
        stored["metadata"]["kernelspec"] = {"display_name": "Python", "language": "python", "name": "python3"}
        (folder / path.name).write_text(json.dumps(stored))
    lines = ["# Notebooks", "", generate.NOTEBOOKS, "", *(f"- [](./{name}): {words}" for name, words in said)]
    lines += ["", "```{toctree}", ":hidden:", ""]
    (folder / "index.md").write_text("\n".join([*lines, *(path.stem for path in found), "```", ""]))


def cells(notebook: dict) -> list[str]:
    """What the cells of a notebook say."""
    return ["".join(cell["source"]) for cell in notebook["cells"]]


def included(path: str, title: str | None = None) -> str:
    """A page of the repository; what it links to there is no page here, so its links become file names."""
    text = (ROOT / path).read_text()
    text = re.sub(r"\[([^\]]+)\]\((?!https?:|#)([^)]+)\)", r"`\1`", text)
    return text if title is None else re.sub(r"\A# .*", f"# {title}", text)


def prepare(source: Path) -> None:
    """Everything Sphinx reads, in one folder."""
    shutil.rmtree(source, ignore_errors=True)
    shutil.copytree(
        DOCS, source, ignore=shutil.ignore_patterns("build.py", "generate.py", "links.py", "__pycache__")
    )
    notebooks(source / "notebooks")
    (source / "validation.md").write_text(included("tests/VALIDATION.md", "Validation report"))
    (source / "changelog.md").write_text(included("CHANGELOG.md"))
    generate.pages(source)


def main() -> None:
    out = Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / "target" / "docs").resolve()
    source, html = out / "source", out / "html"
    prepare(source)
    shutil.rmtree(html, ignore_errors=True)
    command = [
        sys.executable,
        "-m",
        "sphinx",
        "--builder",
        "html",
        "--fail-on-warning",
        "--keep-going",
        "--quiet",
    ]
    command += [
        "--jobs",
        str(os.cpu_count() or 1),
        "--doctree-dir",
        str(out / "doctrees"),
        str(source),
        str(html),
    ]
    failed = subprocess.run(command, check=False).returncode
    broken = links.broken(html) if html.exists() else ["no page was built"]
    print(*broken, sep="\n", file=sys.stderr)
    if failed or broken:
        sys.exit("the documentation has warnings or broken links")
    print(f"documentation: {html / 'index.html'}")


if __name__ == "__main__":
    main()

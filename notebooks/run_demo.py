"""The demonstration: a year of an invented chiller, analysed.

Executes the notebooks, prints what their cells print, and leaves the executed notebooks, the export and the
figures (PNG) in notebooks/output/. `python notebooks/run_demo.py --units SI` shows SI units, else I-P.
"""

import argparse
import os
import re
import time
from pathlib import Path

import jupytext
import nbformat
from nbclient import NotebookClient

HERE = Path(__file__).resolve().parent
OUTPUT = HERE / "output"


def execute(script):
    """The notebook of a script in percent format, executed and written to the output folder."""
    notebook = jupytext.read(script)
    client = NotebookClient(
        notebook,
        kernel_name="python3",
        resources={"metadata": {"path": str(HERE)}},
        extra_arguments=["--log-level=ERROR"],
    )
    client.execute()
    nbformat.write(notebook, OUTPUT / f"{script.stem}.ipynb")
    return notebook


def figures(cell):
    """Names of the figures that a cell writes."""
    return re.findall(r'OUTPUT / "([^"]+\.png)"', cell.source) if cell.cell_type == "code" else []


def report(notebook):
    """Prints headings and texts of an executed notebook, and for each figure its file."""
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            headings = [line.lstrip("# ") for line in cell.source.splitlines() if line.startswith("#")]
            print(*(f"\n{line}\n{'-' * len(line)}" for line in headings), sep="\n")
        for output in cell.get("outputs", []):
            if output.output_type == "stream":
                print(output.text, end="")
            elif "image/png" not in output.data:
                print(output.data["text/plain"])
        for name in figures(cell):
            print(f"figure: {(OUTPUT / name).relative_to(HERE.parent)}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--units", choices=("I-P", "SI"), default="I-P", help="units of tables and figures")
    os.environ["DEMO_UNITS"] = parser.parse_args().units
    OUTPUT.mkdir(exist_ok=True)
    start = time.perf_counter()
    for script in (HERE / "first_steps.py", HERE / "year_of_a_chiller.py"):
        print(f"executing {script.stem} ...", flush=True)
        report(execute(script))
    print(f"\n{time.perf_counter() - start:.0f} s. Executed notebooks and figures are in {OUTPUT}:")
    print(*(f"  {path.name}" for path in sorted(OUTPUT.iterdir())), sep="\n")


if __name__ == "__main__":
    main()

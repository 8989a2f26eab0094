"""Executes notebooks and stores them with their outputs, kept small.

`python notebooks/store_outputs.py` does it with all, or with those that are named: `first_steps`. The source
is the script of the same name. Pictures are reduced to 256 colors; what changes from run to run by itself,
such as times of execution, is left out.
"""

import argparse
import base64
import hashlib
import io
import time
from pathlib import Path

import jupytext
import nbformat
from nbclient import NotebookClient
from PIL import Image

HERE = Path(__file__).resolve().parent


def smaller(picture):
    """A PNG (base64) in 256 colors, chosen so that thin lines keep theirs."""
    image = Image.open(io.BytesIO(base64.b64decode(picture))).convert("RGB")
    image = image.quantize(256, method=Image.Quantize.MAXCOVERAGE)
    written = io.BytesIO()
    image.save(written, format="PNG", optimize=True)
    return base64.b64encode(written.getvalue()).decode("ascii")


def store(name):
    """Execute the notebook of a script and write it beside the script."""
    notebook = jupytext.read(HERE / f"{name}.py")
    NotebookClient(
        notebook,
        kernel_name="python3",
        resources={"metadata": {"path": str(HERE)}},
        extra_arguments=["--log-level=ERROR"],
        record_timing=False,
    ).execute()
    filters = {"cell_metadata_filter": "-all", "notebook_metadata_filter": "-all"}
    notebook.metadata = nbformat.from_dict({"jupytext": {**filters, "main_language": "python"}})
    for place, cell in enumerate(notebook.cells):
        # Of the metadata only what the script needs to come out as it went in.
        kept = {name: value for name, value in cell.metadata.items() if name == "lines_to_next_cell"}
        cell.metadata = nbformat.from_dict(kept)
        cell.id = hashlib.sha256(f"{name} {place}".encode()).hexdigest()[:8]
        for output in cell.get("outputs", []):
            if "image/png" in output.get("data", {}):
                output.data["image/png"] = smaller(output.data["image/png"])
    nbformat.write(notebook, HERE / f"{name}.ipynb")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", help="notebooks without .ipynb; all if none is named")
    names = parser.parse_args().names or sorted(path.stem for path in HERE.glob("*.ipynb"))
    for name in names:
        start = time.perf_counter()
        store(name)
        size = (HERE / f"{name}.ipynb").stat().st_size / 1e3
        print(f"{name}: {time.perf_counter() - start:.0f} s, {size:.0f} kB", flush=True)


if __name__ == "__main__":
    main()

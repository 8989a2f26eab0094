"""Runs the first example of the README and stores the two pictures it draws beside the documentation."""

import io
import os
import re
import tempfile
from pathlib import Path

from PIL import Image

HERE = Path(__file__).resolve().parent
STORED = HERE / "_static"


def main():
    block = re.search(
        r"```python\n(.*?)```", (HERE.parents[1] / "README.md").read_text(encoding="utf-8"), re.DOTALL
    )
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        exec(block.group(1), {})
        picture = io.BytesIO()
        image = Image.open("two_tanks.png").convert("RGB").quantize(256, method=Image.Quantize.MAXCOVERAGE)
        image.save(picture, format="PNG", optimize=True)
        (STORED / "two_tanks.png").write_bytes(picture.getvalue())
        (STORED / "two_tanks.svg").write_bytes(Path("two_tanks.svg").read_bytes())
        os.chdir(HERE)


if __name__ == "__main__":
    main()

"""The examples of the README run as they stand, one after another."""

import re
from pathlib import Path

README = Path(__file__).parents[2] / "README.md"


def test_the_examples_run(capsys) -> None:
    blocks = re.findall(r"```python\n(.*?)```", README.read_text(), re.DOTALL)
    assert len(blocks) == 2
    scope: dict[str, object] = {}
    for block in blocks:
        exec(block, scope)
    printed = capsys.readouterr().out
    # The comments beside the calls say what is printed.
    assert "6.463" in printed
    assert "two-phase" in printed
    assert "needs chilled_water_entering and chilled_water_flow, or capacity" in printed

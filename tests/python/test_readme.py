"""The examples of the README run as they stand, one after another."""

import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import interstage

README = Path(__file__).parents[2] / "README.md"


def blocks() -> list[str]:
    return re.findall(r"```python\n(.*?)```", README.read_text(), re.DOTALL)


def test_the_examples_run(capsys, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert len(blocks()) == 4
    scope: dict[str, object] = {}
    for block in blocks():
        exec(block, scope)
    printed = capsys.readouterr().out
    # The comments beside the calls say what is printed.
    assert "6.58595" in printed
    assert "(0.0638" in printed
    assert "0.0729" in printed
    assert "0.0759" in printed
    assert "60116.0" in printed
    assert "0.1349" in printed
    (evidence,) = [line for line in printed.splitlines() if line.startswith("economizer_evidence")]
    assert evidence.split()[-2:] == ["1.0", "0.0"]
    assert "two-phase" in printed
    assert "3 stages: tank@3, tank@2" in printed
    assert "needs chilled_water_entering and chilled_water_flow, or capacity" in printed


def test_a_newcomer_reaches_a_diagram_in_under_ten_lines(tmp_path) -> None:
    """In a fresh Python, with nothing but what stands there."""
    (block,) = [block for block in blocks() if "Diagram" in block]
    assert len([line for line in block.splitlines() if line.strip()]) < 10
    done = subprocess.run([sys.executable, "-c", block], cwd=tmp_path, capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    drawing, picture = sorted(tmp_path.iterdir(), reverse=True)
    assert (drawing.name, picture.name) == ("two_tanks.svg", "two_tanks.png")
    stored = README.parent / "python/docs/_static/two_tanks.svg"
    assert drawing.read_text() == stored.read_text(), "python python/docs/readme_pictures.py"
    matplotlib = pytest.importorskip("matplotlib.image")
    height, width, _ = matplotlib.imread(picture).shape
    assert width > 700
    assert height > 450
    # The cycle is there: dark red of its lines, in more than a few pixels.
    red = matplotlib.imread(picture)[:, :, :3]
    drawn = np.abs(red - np.array([0xB2, 0x18, 0x2B]) / 255.0).max(axis=2) < 0.05
    assert drawn.sum() > 1000


def test_columns_go_where_the_readme_says() -> None:
    """What takes columns and what does not."""
    text = " ".join(README.read_text().split())
    assert (
        "Columns go in where states, saturations, cycles, surface tensions and conversions take numbers"
        in text
    )
    assert "Sensitivities and orifices take single numbers" in text
    r = interstage.Refrigerant("R-134a")
    circuit = interstage.Circuit(r, stages=[interstage.Stage(isentropic_efficiency=0.8)])
    conditions = {"evaporating_temperature": 280.0, "condensing_temperature": [300.0, 310.0], "capacity": 1e6}
    liquid = r.saturation(T=300.0).liquid
    assert len(r.state(T=[280.0, 290.0], p=1e5)) == len(r.saturation(T=[280.0, 290.0])) == 2
    assert len(circuit.solve(**conditions)) == len(r.surface_tension(T=[280.0, 290.0])) == 2
    assert len(interstage.units.kelvin_from_celsius([1.0, 2.0])) == 2
    del conditions["capacity"]
    with pytest.raises(interstage.WrongArgument, match="single number"):
        circuit.sensitivities(**conditions)
    with pytest.raises(interstage.WrongArgument, match="downstream_pressure must be a single number"):
        interstage.Orifice(1e-3).mass_flow(r, liquid, [1e5, 2e5])


def test_how_to_install_is_said() -> None:
    text = README.read_text()
    assert "pip install ." in text
    assert ".venv/bin/python" in text

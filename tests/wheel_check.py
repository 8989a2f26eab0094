"""What the installed wheel can do where there is no Rust and no source: `make wheel-check` runs it.

`python -I tests/wheel_check.py [folder of the wheel]`
"""

import importlib.metadata
import io
import shutil
import sys
import zipfile
from pathlib import Path

import interstage

LICENSES = {"LICENSE", "LICENSE-MIT", "LICENSE-APACHE"}


def main() -> None:
    assert not any(map(shutil.which, ("cargo", "rustc", "cc"))), "a compiler is at hand"
    assert Path(sys.prefix) in Path(interstage.__file__).parents, interstage.__file__

    stage = interstage.Stage(polytropic_efficiency=0.8)
    refrigerant = interstage.Refrigerant("R-1233zd(E)")
    circuit = interstage.Circuit.arranged(refrigerant, "3 stages: tank@3, tank@2", stage=stage)
    cycle = circuit.solve(evaporating_temperature=278.15, condensing_temperature=310.15, capacity=3.5e6)
    # 5/37 degC, polytropic efficiency 0.80, equal ratios: computed with CoolProp 8.0.0
    # (chiller-047 of `tests/data/chiller_numbers.csv`).
    assert abs(cycle.cop - 6.586) < 5e-4, cycle.cop
    picture = io.BytesIO()
    axes = interstage.Diagram(refrigerant).add(cycle, "two tanks").draw()
    axes.figure.savefig(picture, format="png")
    assert picture.getvalue().startswith(b"\x89PNG")
    assert "two tanks" in interstage.Diagram(refrigerant).add(cycle, "two tanks").interactive().to_html()

    about = importlib.metadata.metadata("interstage")
    assert about["Description"].startswith("# interstage"), "no README"
    assert set(about.get_all("License-File")) == LICENSES
    assert {"plot", "trend", "docs"} <= set(about.get_all("Provides-Extra"))
    for wheel in map(Path, sys.argv[1:]):
        (path,) = wheel.glob("*.whl")
        names = zipfile.ZipFile(path).namelist()
        assert {name.rsplit("/")[-1] for name in names if "/licenses/" in name} == LICENSES
        assert {"interstage/py.typed", "interstage/_core.pyi"} <= set(names)
        assert not [name for name in names if "docs" in name or "__pycache__" in name]
        print(f"{path.name}: {path.stat().st_size / 1e6:.1f} MB")
    size = len(picture.getvalue())
    print(f"wheel: interstage {interstage.__version__}, COP {cycle.cop:.3f}, a diagram of {size} bytes")


if __name__ == "__main__":
    main()

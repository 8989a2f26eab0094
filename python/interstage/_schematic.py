"""The schematic of a circuit, drawn from its data."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from interstage import _core
from interstage._drawing import Drawing, Text
from interstage._ladder import Ladder
from interstage._tables import checked_units, fold, unit_shown, written

if TYPE_CHECKING:
    from interstage._drawing import _Fluid

_MARGIN = 20.0
_CAUTION = "Estimates for analysis and teaching; no scale, no piping plan."
PURE: tuple[_Fluid, ...] = ("liquid", "wet", "vapor")
_WORDS = {"liquid": "liquid", "wet": "wet mixture", "vapor": "vapor", "water": "water"}


class Schematic:
    """A circuit as a picture: high pressure on top, liquid comes down on the left, gas rises on the right.

    Made by `Circuit.schematic`, `Cycle.schematic`, `Chiller.schematic` and `ChillerPoint.schematic`.
    Notebooks show it. Lines of liquid are wide, those of wet mixtures wide and broken, those of vapor thin.
    Every component and every point has its name where a pointer rests on it, and the whole has a title and a
    description in words for those who do not see it.

    Examples
    --------
    >>> import interstage
    >>> circuit = interstage.Circuit.arranged(
    ...     interstage.Refrigerant("R-717"),
    ...     "2 stages: closed@2 (approach 3 K)",
    ...     stage=interstage.Stage(isentropic_efficiency=0.8),
    ... )
    >>> drawn = circuit.schematic()
    >>> drawn
    Schematic(R-717, 2 stages: closed@2 (approach 3 K))
    >>> drawn.to_svg().startswith("<svg ")
    True
    """

    def __init__(self, drawing: Drawing, title: str, description: str) -> None:
        self._drawing = drawing
        self._title = title
        self._description = description

    @property
    def title(self) -> str:
        """What is drawn."""
        return self._title

    @property
    def description(self) -> str:
        """What is drawn, in words: every component and what flows from which to which."""
        return self._description

    def to_svg(self) -> str:
        """Write the picture as SVG.

        Returns
        -------
        str
        """
        plain = self._drawing.svg(self._title, self._description, "schematic")
        name = f"schematic-{hashlib.sha256(plain.encode()).hexdigest()[:10]}"
        return self._drawing.svg(self._title, self._description, name)

    def save(self, path: str | Path) -> None:
        """Write the picture to an SVG file.

        Parameters
        ----------
        path : str or pathlib.Path
        """
        Path(path).write_text(self.to_svg() + "\n", encoding="utf-8", newline="\n")

    def _repr_svg_(self) -> str:
        return self.to_svg()

    def _repr_html_(self) -> str:
        return f'<div style="overflow-x:auto">{self.to_svg()}</div>'

    def __repr__(self) -> str:
        return f"Schematic({self._title})"


def number(quantity: str, value: float, units: str) -> str:
    unit, convert = unit_shown(quantity, units)
    (text,) = written(f"{quantity} [{unit}]", [float(convert(value))])
    return f"{text} {unit}"


def _figures(cycle: _core.Cycle, units: str) -> dict[str, list[str]]:
    """Lines written at every point."""
    lines = {}
    for name, point in cycle.points.items():
        last = number("mass_flow", point.mass_flow, units)
        if point.phase == "two-phase" and point.x is not None and 0.0 < point.x < 1.0:
            last += f", x {point.x:.3f}"
        lines[name] = [f"{number('T', point.T, units)}, {number('p', point.p, units)}", last]
    return lines


def _words(cycle: _core.Cycle, units: str) -> dict[str, str]:
    words = {
        "condenser": f"{number('capacity', cycle.heat_rejected, units)} rejected",
        "evaporator": f"{number('capacity', cycle.capacity, units)} of cooling",
    }
    for stage, power in enumerate(cycle.stage_power, 1):
        words[f"stage_{stage}"] = number("power", power, units)
    return words


def ladder(of: Any, units: str, *, bypass: bool = False, height: float = 0.0) -> Drawing:
    if isinstance(of, _core.Cycle):
        bypassed = "hot_gas_bypass" in of.points
        return Ladder(
            of.circuit, _figures(of, units), _words(of, units), bypass=bypassed, height=height
        ).draw()
    return Ladder(of, {}, {}, bypass=bypass, height=height).draw()


def caption(of: Any) -> str:
    circuit = of.circuit if isinstance(of, _core.Cycle) else of
    return f"{circuit.refrigerant.name}, {circuit.arrangement}"


def told(drawing: Drawing) -> str:
    """What is drawn, in words."""
    names = [vessel.title for vessel in drawing.vessels]
    return (
        f"High pressure at the top, low pressure at the bottom. {len(names)} components: {'; '.join(names)}."
    )


def framed(inner: Drawing, heads: Sequence[str], bold: int, fluids: Sequence[_Fluid]) -> Drawing:
    """A drawing with head lines above and the meaning of its lines below."""
    top = _MARGIN + 18.0 * len(heads) + 6.0
    whole = Drawing(inner.width + 2.0 * _MARGIN, 0.0)
    whole.add(inner.moved(_MARGIN, top))
    for place, head in enumerate(heads):
        text = Text(
            _MARGIN,
            _MARGIN + 10.0 + 18.0 * place,
            head,
            size=13.0 if place < bold else 11.0,
            bold=place < bold,
        )
        whole.texts.append(("head", [text]))
    foot = top + inner.height + 30.0
    x = _MARGIN
    for fluid in fluids:
        whole.pipe(fluid, (x, foot), (x + 34.0, foot))
        text = Text(x + 40.0, foot + 4.0, _WORDS[fluid])
        whole.texts.append(("legend", [text]))
        x = text.box()[2] + 20.0
    whole.texts.append(("caution", [Text(_MARGIN, foot + 24.0, _CAUTION, size=10.0)]))
    whole.width = max([whole.width, *(t.box()[2] + _MARGIN for _, ts in whole.texts for t in ts)])
    whole.height = foot + 24.0 + _MARGIN
    return whole


def schematic(of: Any, units: str) -> Schematic:
    """Draw a circuit, a cycle, a chiller or a point of it."""
    checked_units(units)
    if isinstance(of, (_core.Chiller, _core.ChillerPoint)):
        from interstage._schematic_chiller import draw

        return draw(of, units)
    inner = ladder(of, units)
    heads = fold(caption(of), max(int(inner.width / 8.2), 60))
    bold = len(heads)
    if isinstance(of, _core.Cycle):
        heads.append(
            f"COP {of.cop:.3f}, capacity {number('capacity', of.capacity, units)}, compression power "
            f"{number('power', of.power, units)}"
        )
    return Schematic(framed(inner, heads, bold, PURE), caption(of), told(inner))

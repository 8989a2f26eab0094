"""The schematic of a chiller: its circuits side by side, and the water that passes them."""

from __future__ import annotations

from collections.abc import Sequence

from interstage import _core
from interstage._drawing import Drawing, Place
from interstage._ladder import GAS, LIQUID, SHELL
from interstage._schematic import PURE, Schematic, caption, framed, ladder, number, told

#: Where water enters and leaves a vessel, and how far its pipes are from it.
_NEAR, _FAR, _APART = LIQUID + 40.0, GAS - 40.0, 24.0

#: Between circuits; above condensers and below evaporators.
_BESIDE, _WATER = 24.0, 64.0


class _Water:
    """Draws the water that passes a row of vessels from the left, or from the right.

    Parameters
    ----------
    drawing : Drawing
    name : str
    offsets : sequence of float
        Where the circuits stand.
    vessel, line : float
        Heights of the vessels' edge and of the nearer pipe.
    backward : bool
        Whether it comes from the right.
    """

    def __init__(
        self,
        drawing: Drawing,
        name: str,
        offsets: Sequence[float],
        vessel: float,
        line: float,
        *,
        backward: bool,
    ) -> None:
        self._drawing = drawing
        self._name = name
        self._vessel, self._line = vessel, line
        self._outward = 1.0 if line > vessel else -1.0
        first, last = (_FAR, _NEAR) if backward else (_NEAR, _FAR)
        order = [*reversed(offsets)] if backward else [*offsets]
        self._in = [x + first for x in order]
        self._out = [x + last for x in order]
        self._ends = (drawing.width, 0.0) if backward else (0.0, drawing.width)
        self._backward = backward

    def _text(self, place: str, line: float, x: float, text: str, anchor: str) -> None:
        foot = line + (15.0 if self._outward > 0.0 else -7.0)
        self._drawing.write(f"{self._name}_{place}", [text], x, foot, anchor=anchor)

    def _pipe(self, *places: Place, over: float | None = None) -> None:
        self._drawing.pipe("water", *places, over=over)

    def _told(self, entering: float, leaving: float, temperatures: Sequence[str]) -> None:
        """What enters and what leaves, at the ends of their pipes."""
        words = self._name.replace("_", " ")
        start, end = ("end", "start") if self._backward else ("start", "end")
        self._text("entering", entering, self._ends[0], f"{words} {temperatures[0]}".strip(), start)
        if temperatures[-1]:
            self._text("leaving", leaving, self._ends[1], temperatures[-1], end)

    def series(self, temperatures: Sequence[str]) -> None:
        """One vessel after the other: temperatures before, between and after."""
        before: tuple[Place, ...] = ((self._ends[0], self._line),)
        for place, (enters, leaves) in enumerate(zip(self._in, self._out, strict=True)):
            self._pipe(*before, (enters, self._line), (enters, self._vessel))
            before = ((leaves, self._vessel), (leaves, self._line))
            if place + 1 < len(self._in) and temperatures[place + 1]:
                middle = (leaves + self._in[place + 1]) / 2.0
                self._text(f"after_{place + 1}", self._line, middle, temperatures[place + 1], "middle")
        self._pipe(*before, (self._ends[1], self._line))
        self._told(self._line, self._line, temperatures)

    def parallel(self, temperatures: Sequence[str]) -> None:
        """All vessels side by side: temperatures before and after."""
        supply = self._line + self._outward * _APART
        beginning = self._ends[0]
        for place, enters in enumerate(self._in):
            self._pipe((beginning, supply), (enters, supply))
            self._pipe((enters, supply), (enters, self._vessel))
            beginning = enters
            if place + 1 < len(self._in):
                self._drawing.joints.append((f"{self._name}_divides_{place + 1}", (enters, supply)))
        for place, leaves in enumerate(self._out):
            self._pipe((leaves, self._vessel), (leaves, self._line))
            if place:
                self._drawing.joints.append((f"{self._name}_joins_{place + 1}", (leaves, self._line)))
            last = place + 1 == len(self._out)
            end = self._ends[1] if last else self._out[place + 1]
            over = None if last else self._in[place + 1]
            self._pipe((leaves, self._line), (end, self._line), over=over)
        self._told(supply, self._line, temperatures)


def draw(of: _core.Chiller | _core.ChillerPoint, units: str) -> Schematic:
    """Draw a chiller, or a point of it with its figures."""
    point = of if isinstance(of, _core.ChillerPoint) else None
    chiller: _core.Chiller = point.chiller if point is not None else of  # type: ignore[assignment]
    bypass = chiller.hot_gas_bypass > 0.0
    parts = point.cycles if point is not None else chiller.circuits
    height = max(ladder(part, units, bypass=bypass).height for part in parts) - SHELL
    inner = Drawing(height=height + SHELL + 2.0 * _WATER)
    offsets = []
    for place, part in enumerate(parts, 1):
        one = ladder(part, units, bypass=bypass, height=height)
        offsets.append(inner.width)
        inner.add(one.moved(inner.width, _WATER, f"circuit {place}" if len(parts) > 1 else ""))
        if len(parts) > 1:
            name = f"circuit_{place}"
            inner.write(name, [f"circuit {place}"], inner.width + 4.0, _WATER + 29.0, size=12.0, bold=True)
        inner.width += one.width + _BESIDE
    _water(inner, chiller, point, offsets, height, units)
    heads = [caption(part) for part in parts]
    title = heads[0]
    if len(parts) > 1:
        heads = [f"circuit {place}: {head}" for place, head in enumerate(heads, 1)]
        title = f"chiller of {len(parts)} circuits, water {chiller.water_paths}"
        heads.insert(0, title)
    bold = 1
    if point is not None:
        heads.append(
            f"COP {point.cop:.3f}, capacity {number('capacity', point.capacity, units)}, compression power "
            f"{number('power', point.power, units)}"
        )
    return Schematic(framed(inner, heads, bold, (*PURE, "water")), title, told(inner))


def _water(
    inner: Drawing,
    chiller: _core.Chiller,
    point: _core.ChillerPoint | None,
    offsets: Sequence[float],
    height: float,
    units: str,
) -> None:
    """Chilled water below, condenser water above."""
    paths = chiller.water_paths
    counter = paths == "series counter-flow"
    for name, edge, line in (
        ("chilled_water", _WATER + height + SHELL, _WATER + height + SHELL + 20.0),
        ("condenser_water", _WATER, _WATER - 20.0),
    ):
        backward = counter and name == "condenser_water"
        water = _Water(inner, name, offsets, edge, line, backward=backward)
        several = len(offsets) if paths != "parallel" else 1
        temperatures = [""] * (several + 1)
        if point is not None:
            entering = getattr(point, f"{name}_entering")
            temperatures[0] = number("T", entering, units)
            exchanges = point.evaporators if name == "chilled_water" else point.condensers
            row = [*reversed(exchanges)] if backward else [*exchanges]
            temperatures[1:] = [number("T", exchange.water_leaving, units) for exchange in row[:several]]
            temperatures[-1] = number("T", getattr(point, f"{name}_leaving"), units)
        (water.parallel if paths == "parallel" and len(offsets) > 1 else water.series)(temperatures)

"""A plain drawing of vessels, pipes and texts, and its SVG."""

from __future__ import annotations

import html
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, TypeAlias

Place = tuple[float, float]
Box = tuple[float, float, float, float]
if TYPE_CHECKING:
    _Fluid: TypeAlias = Literal["liquid", "wet", "vapor", "water"]
    _Shape: TypeAlias = Literal[
        "shell", "exchanger", "stage", "valve", "level valve", "expander", "rising expander", "motor"
    ]

INK = "#1a1a1a"
#: Told apart by width and dashes too, so that it reads in grey and with any color vision.
FLUIDS: dict[str, tuple[str, float, str]] = {
    "liquid": ("#0b4f8a", 3.2, ""),
    "wet": ("#0b4f8a", 3.2, "7 4"),
    "vapor": ("#b35806", 1.6, ""),
    "water": ("#4d4d4d", 1.6, "2 3"),
}
_LIQUID_TINT = "#d3e3f1"
_FILL = "#f6f6f4"
#: Least scale: what is wider than its place is moved by a bar below it rather than made too small to read.
_LEAST = 0.8
#: Radius of the ends of a shell as a share of its height.
ROUND = 0.25
_FONT = "Helvetica, Arial, sans-serif"

#: Width of a letter as a share of its height: more than the mean of the usual fonts.
_LETTER = 0.58


@dataclass(frozen=True)
class Text:
    """A line of text."""

    x: float
    y: float
    text: str
    anchor: Literal["start", "middle", "end"] = "start"
    size: float = 11.0
    bold: bool = False

    def width(self) -> float:
        """How wide it is at most."""
        return _LETTER * self.size * len(self.text) * (1.08 if self.bold else 1.0)

    def box(self) -> Box:
        """Left, top, right and bottom of what it covers at most."""
        width = self.width()
        left = self.x - {"start": 0.0, "middle": width / 2.0, "end": width}[self.anchor]
        return left, self.y - 0.8 * self.size, left + width, self.y + 0.25 * self.size

    def svg(self) -> str:
        """Write it."""
        weight = ' font-weight="bold"' if self.bold else ""
        return (
            f'<text x="{self.x:g}" y="{self.y:g}" font-size="{self.size:g}" text-anchor="{self.anchor}"'
            f'{weight} fill="{INK}">{html.escape(self.text)}</text>'
        )


@dataclass(frozen=True)
class Vessel:
    """A component with its name; a valve or an expander is one too."""

    component: str
    title: str
    shape: _Shape
    box: Box
    #: Share of the height that liquid stands at, less than `ROUND`.
    level: float = 0.0

    def svg(self) -> str:
        """Write its outline."""
        left, top, right, bottom = self.box
        middle, center = (left + right) / 2.0, (top + bottom) / 2.0
        line = f'stroke="{INK}" stroke-width="1.5"'
        if self.shape in ("valve", "level valve"):
            shape = (
                f"M{left:g} {top:g}H{right:g}L{left:g} {bottom:g}H{right:g}Z"
                if self.shape == "valve"
                else f"M{left:g} {top:g}V{bottom:g}L{right:g} {top:g}V{bottom:g}Z"
            )
            return f'<path d="{shape}" fill="#ffffff" {line} stroke-linejoin="round"/>'
        if self.shape == "stage":
            # Narrower where gas is denser: at the top, where it leaves.
            inset = 0.2 * (right - left)
            shape = f"M{left:g} {bottom:g}H{right:g}L{right - inset:g} {top:g}H{left + inset:g}Z"
            return f'<path d="{shape}" fill="{_FILL}" {line} stroke-linejoin="round"/>'
        if self.shape in ("expander", "rising expander"):
            # Wider where it leaves.
            inset = 0.3 * (right - left)
            enters, leaves = (top, bottom) if self.shape == "expander" else (bottom, top)
            shape = f"M{left + inset:g} {enters:g}H{right - inset:g}L{right:g} {leaves:g}H{left:g}Z"
            return f'<path d="{shape}" fill="{_FILL}" {line} stroke-linejoin="round"/>'
        if self.shape == "motor":
            return (
                f'<ellipse cx="{middle:g}" cy="{center:g}" rx="{(right - left) / 2:g}" '
                f'ry="{(bottom - top) / 2:g}" fill="{_FILL}" {line}/>'
            )
        radius = ROUND * (bottom - top) if self.shape == "shell" else 3.0
        size = f'x="{left:g}" y="{top:g}" width="{right - left:g}" height="{bottom - top:g}" rx="{radius:g}"'
        if not self.level:
            return f'<rect {size} fill="{_FILL}" {line}/>'
        # Between the rounded ends, which rise above the surface.
        depth = self.level * (bottom - top)
        inset = radius - math.sqrt(radius**2 - (radius - depth) ** 2)
        liquid = (
            f"M{left + inset:g} {bottom - depth:g}H{right - inset:g}"
            f"A{radius:g} {radius:g} 0 0 1 {right - radius:g} {bottom:g}H{left + radius:g}"
            f"A{radius:g} {radius:g} 0 0 1 {left + inset:g} {bottom - depth:g}Z"
        )
        return (
            f'<rect {size} fill="{_FILL}"/><path d="{liquid}" fill="{_LIQUID_TINT}"/>'
            f'<rect {size} fill="none" {line}/>'
        )


@dataclass(frozen=True)
class Pipe:
    """A line along which something flows, from its first place to its last."""

    fluid: _Fluid
    places: tuple[Place, ...]
    #: It passes inside a vessel: a coil.
    inside: bool = False
    #: Where it steps over another pipe, on a level part.
    over: float | None = None

    def segments(self) -> Iterator[tuple[Place, Place]]:
        """Its straight parts."""
        return zip(self.places[:-1], self.places[1:], strict=True)

    def svg(self) -> str:
        """Write it with an arrow on its longest part."""
        color, width, dashes = FLUIDS[self.fluid]
        (x, y), *rest = self.places
        path = f"M{x:g} {y:g}"
        for (before, level), (after, height) in zip(self.places[:-1], rest, strict=True):
            if (
                self.over is not None
                and level == height
                and min(before, after) < self.over < max(before, after)
            ):
                step = 6.0 if after > before else -6.0
                path += f"H{self.over - step:g}A6 6 0 0 {int(after > before)} {self.over + step:g} {level:g}"
            path += f"L{after:g} {height:g}"
        dash = f' stroke-dasharray="{dashes}"' if dashes else ""
        svg = f'<path d="{path}" fill="none" stroke="{color}" stroke-width="{width:g}"{dash}/>'
        return svg if self.inside else svg + self._arrow(color)

    def _arrow(self, color: str) -> str:
        def length(segment: tuple[Place, Place]) -> float:
            (a, b), (c, d) = segment
            return abs(c - a) + abs(d - b)

        (a, b), (c, d) = max(self.segments(), key=length)
        # A broken line shows as one only where it is longer than its arrow.
        if length(((a, b), (c, d))) < (30.0 if self.fluid == "wet" else 16.0):
            return ""
        x, y = (a + c) / 2.0, (b + d) / 2.0
        if self.over is not None and b == d and abs(x - self.over) < 12.0:
            x = (x + c) / 2.0
        along = (0.0, 5.5 if d > b else -5.5) if a == c else (5.5 if c > a else -5.5, 0.0)
        across = (along[1] * 0.75, along[0] * 0.75)
        tip = f"{x + along[0]:g} {y + along[1]:g}"
        left = f"{x - along[0] + across[0]:g} {y - along[1] + across[1]:g}"
        right = f"{x - along[0] - across[0]:g} {y - along[1] - across[1]:g}"
        return f'<path d="M{tip}L{left}L{right}Z" fill="{color}"/>'


@dataclass
class Drawing:
    """What is drawn: components, pipes, places where streams meet, texts."""

    width: float = 0.0
    height: float = 0.0
    vessels: list[Vessel] = field(default_factory=list)
    pipes: list[Pipe] = field(default_factory=list)
    #: Name of a component or point -> the lines of text that belong to it.
    texts: list[tuple[str, list[Text]]] = field(default_factory=list)
    joints: list[tuple[str, Place]] = field(default_factory=list)

    def pipe(self, fluid: _Fluid, *places: Place, inside: bool = False, over: float | None = None) -> None:
        """Add a pipe."""
        self.pipes.append(Pipe(fluid, places, inside, over))

    def write(self, of: str, lines: list[str], x: float, y: float, **look: object) -> None:
        """Add lines of text, the first with its foot at y."""
        size = float(str(look.get("size", 11.0)))
        texts = [Text(x, y + 1.22 * size * place, line, **look) for place, line in enumerate(lines)]  # type: ignore[arg-type]
        self.texts.append((of, texts))

    def moved(self, x: float, y: float, name: str = "") -> Drawing:
        """The same drawing somewhere else, its parts named as those of something."""
        front, words = (f"{name.replace(' ', '_')}_", f"{name}: ") if name else ("", "")

        def box(of: Box) -> Box:
            return of[0] + x, of[1] + y, of[2] + x, of[3] + y

        return Drawing(
            self.width,
            self.height,
            [
                Vessel(front + v.component, words + v.title, v.shape, box(v.box), v.level)
                for v in self.vessels
            ],
            [
                Pipe(
                    p.fluid,
                    tuple((a + x, b + y) for a, b in p.places),
                    p.inside,
                    None if p.over is None else p.over + x,
                )
                for p in self.pipes
            ],
            [
                (front + of, [Text(t.x + x, t.y + y, t.text, t.anchor, t.size, t.bold) for t in texts])
                for of, texts in self.texts
            ],
            [(front + of, (a + x, b + y)) for of, (a, b) in self.joints],
        )

    def add(self, other: Drawing) -> None:
        """Take in another drawing."""
        self.vessels += other.vessels
        self.pipes += other.pipes
        self.texts += other.texts
        self.joints += other.joints

    def svg(self, title: str, description: str, name: str) -> str:
        """Write the drawing; `name` keeps identifiers apart where several are shown on one page."""
        parts = [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:g} {self.height:g}" '
            f'width="{self.width:g}" height="{self.height:g}" '
            f'style="max-width:100%;min-width:{_LEAST * self.width:g}px;height:auto" role="img" '
            f'aria-labelledby="{name}-title {name}-desc" font-family="{_FONT}">',
            f'<title id="{name}-title">{html.escape(title)}</title>',
            f'<desc id="{name}-desc">{html.escape(description)}</desc>',
            f'<rect width="{self.width:g}" height="{self.height:g}" fill="#ffffff"/>',
        ]
        parts += [pipe.svg() for pipe in self.pipes if not pipe.inside]
        for vessel in self.vessels:
            component, named = html.escape(vessel.component), html.escape(vessel.title)
            parts.append(f'<g data-component="{component}"><title>{named}</title>{vessel.svg()}</g>')
        parts += [pipe.svg() for pipe in self.pipes if pipe.inside]
        parts += [
            f'<circle cx="{x:g}" cy="{y:g}" r="3.2" fill="{INK}" data-component="{html.escape(of)}"/>'
            for of, (x, y) in self.joints
        ]
        for of, texts in self.texts:
            lines = "".join(text.svg() for text in texts)
            what = html.escape(of.replace("_", " "))
            parts.append(f'<g data-of="{html.escape(of)}"><title>{what}</title>{lines}</g>')
        return "".join([*parts, "</svg>"])

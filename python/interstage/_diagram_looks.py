"""How the lines and the cycles of a property diagram look."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from interstage import _looks


@dataclass(frozen=True)
class Look:
    """How a family of lines looks; told apart by dashes too, for print without color."""

    color: str
    dashes: tuple[float, ...] | None
    #: Where along a line its value is written, if there is room.
    written: float


LOOKS = {
    "T": Look("#8c510a", None, 0.06),
    "s": Look("#35688c", (5.0, 2.0), 0.93),
    "rho": Look("#5f6f52", (6.0, 2.0, 1.0, 2.0), 0.9),
    "x": Look("#757575", (1.0, 2.0), 0.1),
    "p": Look("#3f6f3f", (4.0, 1.5), 0.94),
    "h": Look("#35688c", (5.0, 2.0), 0.9),
}

#: Streams that meet, divide or change by exchange with another stream are drawn thin.
#: How much wider than the last cycle the first is at most, points.
_WIDEST = 4.5

_THIN = ("mixing", "tank", "exchanger", "suction_line", "motor")


def is_thin(component: str, start: str) -> bool:
    """Tell whether the way of a stream is drawn thin."""
    return any(part in component for part in _THIN) or start in ("hot_gas_bypass", "motor_vapor")


@dataclass(frozen=True)
class CycleLook:
    """How a cycle looks: of several each is wider than those upon it, so that they do not hide it."""

    place: int
    color: str
    marker: str
    hollow: bool
    wider: float

    @classmethod
    def of(cls, place: int, many: int) -> CycleLook:
        """Look of the cycle at a place among many; hollow markers once all colors were there."""
        color, marker = _looks.SERIES[place % len(_looks.SERIES)]
        wider = (many - 1 - place) * min(1.0, _WIDEST / max(many - 1, 1))
        return cls(place, color, marker, place // len(_looks.SERIES) % 2 == 1, wider)

    def dots(self) -> dict[str, Any]:
        """Markers of matplotlib."""
        face = "white" if self.hollow else self.color
        size = 4.5 + 0.8 * self.wider
        return {"color": self.color, "marker": self.marker, "markerfacecolor": face, "markersize": size}

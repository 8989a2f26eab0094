"""Where the values of lines are written: along them, inside of the frame, and off everything else."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

#: Places tried along a line, as shares of its visible length, by how far they are from the wished one.
_TRIES = 41

#: Height of the letters, and width of one, in inches at a size of one point.
_HEIGHT, _WIDTH = 0.0150, 0.0086


@dataclass(frozen=True)
class Label:
    """Where a text goes: middle in shares of the frame's sides, angle in degrees."""

    text: str
    x: float
    y: float
    angle: float


@dataclass
class Labels:
    """Labels of one diagram, none over another: each is a row of discs, in inches."""

    width: float
    height: float
    size: float
    _taken: list[FloatArray] = field(default_factory=list)
    _radii: list[FloatArray] = field(default_factory=list)

    def keep_off(self, x: FloatArray, y: FloatArray, distance: float) -> None:
        """Keep labels off a curve: shares of the frame, distance in inches."""
        points = _evenly(np.column_stack([x * self.width, y * self.height]), 0.05)
        self._take(points, distance)

    def _take(self, points: FloatArray, radius: float) -> None:
        if len(points):
            self._taken.append(points)
            self._radii.append(np.full(len(points), radius))

    def place(self, x: FloatArray, y: FloatArray, text: str, wished: float) -> Label | None:
        """Find a place along a line in shares of the frame; None where there is no room."""
        length, radius = _WIDTH * self.size * len(text), 0.5 * _HEIGHT * self.size
        for curve in sorted(_pieces(x * self.width, y * self.height), key=lambda piece: -_length(piece)):
            whole = _length(curve)
            if whole < 1.6 * length:
                return None
            for share in sorted(np.linspace(0.02, 0.98, _TRIES), key=lambda share: abs(share - wished)):
                middle, angle = _along(curve, share * whole, 0.5 * length)
                discs = _discs(middle, angle, length, radius)
                if self._is_free(discs, radius):
                    self._take(discs, radius)
                    readable = (np.degrees(angle) + 90.0) % 180.0 - 90.0
                    return Label(text, middle[0] / self.width, middle[1] / self.height, float(readable))
        return None

    def _is_free(self, discs: FloatArray, radius: float) -> bool:
        room = 1.45 * radius
        sides = np.array([self.width, self.height])
        if (discs < room).any() or (discs > sides - room).any():
            return False
        for points, radii in zip(self._taken, self._radii, strict=True):
            apart = np.linalg.norm(discs[:, None, :] - points[None, :, :], axis=2)
            if (apart < radii[None, :] + room).any():
                return False
        return True


def _length(curve: FloatArray) -> float:
    return float(np.linalg.norm(np.diff(curve, axis=0), axis=1).sum())


def _pieces(x: FloatArray, y: FloatArray) -> Iterable[FloatArray]:
    """Parts of a curve between gaps."""
    points = np.column_stack([x, y])
    there = np.isfinite(points).all(axis=1)
    edges = np.flatnonzero(np.diff(there.astype(int), prepend=0, append=0))
    return [points[start:end] for start, end in edges.reshape(-1, 2) if end - start > 1]


def _evenly(points: FloatArray, step: float) -> FloatArray:
    """Points along a curve so close that none slips between two of them."""
    found = [
        _points_at(piece, np.arange(0.0, _length(piece) + step, step))
        for piece in _pieces(points[:, 0], points[:, 1])
    ]
    return np.concatenate(found) if found else np.empty((0, 2))


def _points_at(curve: FloatArray, distances: FloatArray) -> FloatArray:
    walked = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(curve, axis=0), axis=1))])
    return np.column_stack([np.interp(distances, walked, curve[:, axis]) for axis in (0, 1)])


def _along(curve: FloatArray, distance: float, half: float) -> tuple[FloatArray, float]:
    before, middle, after = _points_at(curve, np.array([distance - half, distance, distance + half]))
    across, up = after - before
    return middle, float(np.arctan2(up, across))


def _discs(middle: FloatArray, angle: float, length: float, radius: float) -> FloatArray:
    reach = max(0.5 * length - radius, 0.0)
    steps = np.linspace(-reach, reach, max(int(np.ceil(length / radius)), 1))
    return np.asarray(middle + np.outer(steps, [np.cos(angle), np.sin(angle)]))

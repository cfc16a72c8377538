"""Thick smooth strokes on the enlarged picture of a leaf and its drive; measures in logical px."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

import pygame

if TYPE_CHECKING:
    from trainer.window.kit.style import Colour

FINE: Final = 3
"""Leaves are drawn this many times larger and scaled down: they are new pictures each frame while they turn."""

Point = tuple[float, float]


class Brush:
    """Draws on one enlarged picture."""

    def __init__(
        self,
        surface: pygame.Surface,
        unit: float,
        place: Callable[[Point], Point],
        seen: Callable[[Colour], Colour],
    ) -> None:
        """`unit` is one logical px on the picture; `place` finds a point of the plan [m] on it; `seen` is the
        look's way with colours."""
        self._seen = seen
        self.surface = surface
        self.unit = unit
        self.place = place

    def bar(self, points: list[Point], fill: Colour, edge: Colour | None, line: float = 1.8) -> None:
        """A filled shape with round corners to its outline."""
        pygame.draw.polygon(self.surface, self._seen(fill), points)
        if edge is not None:
            edge = self._seen(edge)
            width = max(round(line * self.unit), 1)
            pygame.draw.lines(self.surface, edge, True, points, width)
            for point in points:
                pygame.draw.circle(self.surface, edge, point, width / 2)

    def stroke(self, a: Point, b: Point, colour: Colour, line: float) -> None:
        """A straight stroke with square ends."""
        length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        nx, ny = -(b[1] - a[1]) / length * line * self.unit / 2, (b[0] - a[0]) / length * line * self.unit / 2
        corners = [(a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny)]
        pygame.draw.polygon(self.surface, self._seen(colour), corners)

    def dot(self, at: Point, radius: float, fill: Colour, edge: Colour | None = None) -> None:
        """A disc, with a rim if `edge` is given."""
        pygame.draw.circle(self.surface, self._seen(edge or fill), at, radius * self.unit)
        if edge is not None:
            pygame.draw.circle(self.surface, self._seen(fill), at, (radius - 1.5) * self.unit)


def between(a: Point, b: Point, part: float) -> Point:
    """A point on the way from `a` to `b`."""
    return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part

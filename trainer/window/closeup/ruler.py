"""What close-ups are drawn with: metres to pixels, dimension lines, masonry."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.style import HATCH, INK, POST, SOFT, Colour
from trainer.window.plan.leaves import slip_text

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

Point = tuple[float, float]


class Fit:
    """Lays points [m] into an area [px], all to one scale, y upwards."""

    def __init__(self, area: pygame.Rect, points: Iterable[Point]) -> None:
        """Every one of `points` finds room in the area."""
        xs, ys = zip(*points, strict=True)
        wide, high = max(max(xs) - min(xs), 1e-6), max(max(ys) - min(ys), 1e-6)
        self.scale = min(area.width / wide, area.height / high)
        self._middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        self._centre = area.center

    def __call__(self, point: Point) -> Point:
        """Pixels of a point."""
        x, y = point[0] - self._middle[0], point[1] - self._middle[1]
        return self._centre[0] + x * self.scale, self._centre[1] - y * self.scale

    def all(self, points: Iterable[Point]) -> list[Point]:
        """Pixels of many points."""
        return [self(point) for point in points]


def dimension(pen: Pen, a: Point, b: Point, words: str, off: Point = (0.0, 0.0), colour: Colour = INK) -> None:
    """A dimension line between two pixels with ticks at its ends; its words stand `off` its middle [logical px]."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    pen.line(a, b, colour, 1.4)
    if length > 0:
        reach = pen.style.px(5)
        nx, ny = -(b[1] - a[1]) / length * reach, (b[0] - a[0]) / length * reach
        for x, y in (a, b):
            pen.line((x - nx, y - ny), (x + nx, y + ny), colour, 1.4)
    if words:
        px = pen.style.px
        at = ((a[0] + b[0]) / 2 + px(off[0]), (a[1] + b[1]) / 2 + px(off[1]))
        slip_text(pen, words, at, colour, "centre", must=True)


def masonry(pen: Pen, corners: Sequence[Point]) -> None:
    """A cut through a post or a wall: hatched, with its outline; corners [px] of an upright rectangle."""
    xs, ys = [x for x, _y in corners], [y for _x, y in corners]
    rect = pygame.Rect(round(min(xs)), round(min(ys)), round(max(xs) - min(xs)), round(max(ys) - min(ys)))
    pen.fill(rect, POST)
    with pen.clip(rect):
        for start in range(rect.left - rect.height, rect.right, pen.style.px(9)):
            pen.line((start, rect.bottom), (start + rect.height, rect.top), HATCH, 1.4)
    pen.box(rect, None, INK, 0, 1.4)


def dotted(pen: Pen, points: Sequence[Point], colour: Colour = SOFT) -> None:
    """A way through points [px], every other stretch of it drawn."""
    for a, b in list(pairwise(points))[::2]:
        pen.line(a, b, colour, 1.2)

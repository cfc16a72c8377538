"""Draws in units of the drawing on a surface: a pen, a zoom, and where the sheet lies under the window."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import INK, Colour
from trainer.window.wiring.geometry import Area, Point

if TYPE_CHECKING:
    from trainer.window.kit.pen import Anchor, Pen


class Ink:
    """One turn of drawing. `per_unit` is screen pixels for a unit; `corner` is where the sheet's corner lies [px]."""

    def __init__(self, pen: Pen, per_unit: float, corner: Point) -> None:
        self.pen = pen
        self.per_unit = per_unit
        self.corner = corner
        self.zoom = per_unit / pen.style.scale
        self.clip = pen.surface.get_clip()

    def px(self, at: Point) -> Point:
        """The pixel of a place on the sheet."""
        return self.corner[0] + at[0] * self.per_unit, self.corner[1] + at[1] * self.per_unit

    def rect(self, area: Area) -> pygame.Rect:
        """The pixels of an area."""
        left, top = self.px((area[0], area[1]))
        right, foot = self.px((area[0] + area[2], area[1] + area[3]))
        return pygame.Rect(
            round(left), round(top), max(round(right) - round(left), 1), max(round(foot) - round(top), 1)
        )

    def sees(self, area: Area, more: float = 0.0) -> bool:
        """Whether any of an area is in sight."""
        reach = round(more * self.per_unit)
        return bool(self.rect(area).inflate(2 * reach, 2 * reach).colliderect(self.clip))

    def thick(self, width: float) -> float:
        """A line's width: it grows with the zoom, slower than the rest."""
        return width * float(max(self.zoom, 0.6) ** 0.7)

    def box(
        self, area: Area, fill: Colour | None, edge: Colour | None, line: float = 1.2, radius: float = 0.0
    ) -> None:
        """A box."""
        rect = self.rect(area)
        self.pen.box(rect, fill, edge, radius * self.zoom if radius > 0 else 0.0, self.thick(line))

    def line(self, a: Point, b: Point, colour: Colour = INK, width: float = 1.2) -> None:
        """A straight line."""
        self.pen.line(self.px(a), self.px(b), colour, self.thick(width))

    def way(self, points: Sequence[Point], colour: Colour = INK, width: float = 1.2) -> None:
        """A line with corners."""
        thick = self.pen.style.px(self.thick(width))
        pixels = [self.px(point) for point in points]
        for a, b in pairwise(pixels):
            self.pen.line(a, b, colour, self.thick(width))
        if thick > 2:
            for corner in pixels[1:-1]:
                square = pygame.Rect(0, 0, thick, thick)
                square.center = (round(corner[0]), round(corner[1]))
                self.pen.fill(square, colour)

    def dashes(self, a: Point, b: Point, colour: Colour, width: float, on: float, off: float) -> None:
        """A dashed line."""
        self.pen.dashes(self.px(a), self.px(b), colour, self.thick(width), on * self.zoom, off * self.zoom)

    def dot(self, at: Point, radius: float, fill: Colour | None, edge: Colour | None = None) -> None:
        """A disc or a ring."""
        self.pen.dot(self.px(at), radius * self.zoom, fill, edge)

    def arc(
        self, at: Point, radius: float, start: float, end: float, colour: Colour = INK, width: float = 1.2
    ) -> None:
        """Part of a circle between two angles [°], clockwise from the right."""
        steps = 10
        turns = [math.radians(start + (end - start) * n / steps) for n in range(steps + 1)]
        points = [self.px((at[0] + radius * math.cos(t), at[1] + radius * math.sin(t))) for t in turns]
        self.pen.lines(points, colour, self.thick(width))

    def shape(self, points: Sequence[Point], fill: Colour | None, edge: Colour | None, width: float = 1.0) -> None:
        """A closed shape."""
        self.pen.shape([self.px(point) for point in points], fill, edge, self.thick(width))

    def text(
        self,
        words: str,
        at: Point,
        size: float,
        colour: Colour = INK,
        face: Face = Face.REGULAR,
        anchor: Anchor = "left",
        most: float | None = None,
    ) -> None:
        """One line of words, shortened to `most` units."""
        x, y = self.px(at)
        if most is None:
            self.pen.text(words, (x, y), size * self.zoom, colour, face, anchor)
            return
        room = pygame.Rect(0, 0, round(most * self.per_unit), self.pen.style.line(size * self.zoom, face))
        room.centery = round(y)
        setattr(room, {"left": "left", "centre": "centerx", "right": "right"}[anchor], round(x))
        self.pen.text_in(words, room, size * self.zoom, colour, face, anchor)

    def wide(self, words: str, size: float, face: Face = Face.REGULAR) -> float:
        """How wide one line of words is [units]."""
        return self.pen.style.width(words, size * self.zoom, face) / self.per_unit

    def words(self, words: str, area: Area, size: float, colour: Colour, face: Face, most: int) -> None:
        """Words wrapped in an area, in the middle of its height."""
        rect = self.rect(area)
        pixels = self.pen.style.px(size * self.zoom)
        lines = self.pen.style.glyphs.wrap(words, face, pixels, rect.width)
        if len(lines) > most:
            self.pen.tell_whole(words, rect)
            rest = self.pen.style.glyphs.elide(" ".join(lines[most - 1 :]), face, pixels, rect.width)
            lines = (*lines[: most - 1], rest)
        step = round(self.pen.style.glyphs.height(face, pixels) * 1.02)
        top = rect.centery - step * len(lines) / 2
        for n, line in enumerate(lines):
            at = (rect.left, top + step * (n + 0.5))
            self.pen.taken.append(self.pen.text(line, at, size * self.zoom, colour, face))

    def room(self, at: Point, way: int, most: float) -> float:
        """How much room there is for words from a place to the right (1) or to the left (-1), at most `most`, before
        others stand there [units]."""
        x, y = self.px(at)
        row = [each for each in self.pen.taken if each.top <= y <= each.bottom]
        gaps = [each.left - x if way > 0 else x - each.right for each in row]
        return min([most, *(gap / self.per_unit - 4.0 for gap in gaps if gap > 0)])

"""Outlines of tools, 28 logical px wide: what kind of tool it is, told by the words of its name."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import pygame

from trainer.window.kit.style import Colour

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

Point = tuple[float, float]
Draw = Callable[["Sketch"], None]


class Sketch:
    """A few strokes round a middle, in logical px."""

    def __init__(self, pen: Pen, middle: Point, colour: Colour, ground: Colour) -> None:
        self.pen, self.middle, self.colour, self.ground = pen, middle, colour, ground

    def at(self, x: float, y: float) -> Point:
        """A place beside the middle."""
        scale = self.pen.style.scale
        return self.middle[0] + x * scale, self.middle[1] + y * scale

    def line(self, *points: Point) -> None:
        """A line through places."""
        places = [self.at(*point) for point in points]
        for a, b in pairwise(places):
            self.pen.line(a, b, self.colour, 1.4)

    def ring(self, x: float, y: float, radius: float) -> None:
        """A circle."""
        self.pen.dot(self.at(x, y), radius, self.ground, self.colour)

    def box(self, x: float, y: float, wide: float, high: float, radius: float = 0.0) -> None:
        """A box by its upper left corner."""
        left, top = self.at(x, y)
        right, foot = self.at(x + wide, y + high)
        area = pygame.Rect(round(left), round(top), round(right - left), round(foot - top))
        self.pen.box(area, self.ground, self.colour, radius, 1.4)


def _meter(s: Sketch) -> None:
    s.box(-8, -13, 16, 26, 3)
    s.box(-5, -10, 10, 7)
    s.ring(0, 4, 4)


def _tips(s: Sketch) -> None:
    s.box(-10, -13, 7, 18, 2)
    s.box(4, -13, 7, 18, 2)
    s.line((-6.5, 5), (-6.5, 12))
    s.line((7.5, 5), (7.5, 12))


def _clamp(s: Sketch) -> None:
    s.ring(0, -6, 7)
    s.box(-6, 1, 12, 12, 2)


def _dial(s: Sketch) -> None:
    s.ring(0, -1, 11)
    s.line((0, -1), (5, -7))
    s.line((0, 10), (0, 14))


def _watch(s: Sketch) -> None:
    s.ring(0, 2, 10)
    s.line((0, -12), (0, -8))
    s.line((-3, -12), (3, -12))
    s.line((0, 2), (0, -4))


def _spring(s: Sketch) -> None:
    s.box(-12, -5, 13, 10, 2)
    s.line((1, 0), (9, 0), (12, -4))
    s.line((-8, -2), (-8, 2))


def _press(s: Sketch) -> None:
    s.line((-12, -9), (-12, 9))
    s.line((12, -9), (12, 9))
    s.line((-12, 0), (-7, 0), (-5, -5), (-1, 5), (3, -5), (6, 0), (12, 0))


def _tape(s: Sketch) -> None:
    s.ring(-3, -1, 9)
    s.line((-3, 8), (12, 8))
    s.line((12, 5), (12, 11))


def _level(s: Sketch) -> None:
    s.box(-14, -5, 28, 10)
    s.box(-5, -3, 10, 6, 2)
    s.line((0, -3), (0, 3))


def _edge(s: Sketch) -> None:
    s.box(-14, -3, 28, 6)
    s.line((-14, 8), (14, 8))


def _blades(s: Sketch) -> None:
    for end in ((11, -10), (13, -3), (12, 5)):
        s.line((-11, 4), end)
    s.ring(-11, 4, 3)


def _wrench(s: Sketch) -> None:
    s.line((-12, 9), (7, -6))
    s.ring(9, -8, 4)
    s.line((-14, 6), (-10, 11))


def _cups(s: Sketch) -> None:
    for x, y in ((-9, -6), (9, -6), (0, 9)):
        s.line((0, 0), (x, y))
        s.ring(x, y, 3)


def _light(s: Sketch) -> None:
    s.ring(0, 0, 6)
    for x, y in ((0, -12), (0, 12), (-12, 0), (12, 0)):
        s.line((x * 0.72, y * 0.72), (x, y))


def _warm(s: Sketch) -> None:
    s.line((-2, -12), (-2, 5))
    s.line((3, -12), (3, 5))
    s.line((-2, -12), (3, -12))
    s.ring(0.5, 9, 4)


def _eye(s: Sketch) -> None:
    s.line((-13, 0), (-6, -6), (6, -6), (13, 0), (6, 6), (-6, 6), (-13, 0))
    s.ring(0, 0, 4)


def _aerial(s: Sketch) -> None:
    s.line((0, 12), (0, -4))
    s.line((-8, -12), (0, -3), (8, -12))


def _loop(s: Sketch) -> None:
    s.box(-12, -7, 24, 14, 4)
    s.box(-8, -3, 16, 6, 2)


WORDS: Final[tuple[tuple[str, Draw], ...]] = (
    ("two-pole", _tips),
    ("clamp", _clamp),
    ("stopwatch", _watch),
    ("spring scale", _spring),
    ("force", _press),
    ("tape", _tape),
    ("level reader", _aerial),
    ("level", _level),
    ("dial", _dial),
    ("feeler", _blades),
    ("straight", _edge),
    ("wrench", _wrench),
    ("anemometer", _cups),
    ("light", _light),
    ("therm", _warm),
    ("look", _eye),
    ("radio", _aerial),
    ("range", _aerial),
    ("loop tester", _loop),
)


def draw_outline(pen: Pen, tool: str, middle: Point, colour: Colour, ground: Colour) -> None:
    """The outline of a tool round its middle; a meter where no word fits."""
    draw = next((draw for word, draw in WORDS if word in tool), _meter)
    draw(Sketch(pen, middle, colour, ground))

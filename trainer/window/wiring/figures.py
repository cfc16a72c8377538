"""Outline symbols of parts: plain shapes of the general kind (IEC 60617 knows their like), drawn round a middle."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import INK, SOFT, WHITE
from trainer.window.wiring.geometry import Point

if TYPE_CHECKING:
    from trainer.window.wiring.ink import Ink


def _at(middle: Point, x: float, y: float) -> Point:
    return middle[0] + x, middle[1] + y


def _line(ink: Ink, m: Point, *points: Point) -> None:
    for a, b in pairwise(points):
        ink.line(_at(m, *a), _at(m, *b), INK, 1.3)


def _motor(ink: Ink, m: Point) -> None:
    ink.dot(m, 15, WHITE, INK)
    ink.text("M", m, 14, INK, Face.BOLD, "centre")


def _lamp(ink: Ink, m: Point) -> None:
    ink.dot(m, 14, WHITE, INK)
    _line(ink, m, (-9.5, -9.5), (9.5, 9.5))
    _line(ink, m, (-9.5, 9.5), (9.5, -9.5))


def _resistor(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, -20), (0, -13))
    ink.box((m[0] - 6, m[1] - 13, 12, 26), WHITE, INK, 1.3)
    _line(ink, m, (0, 13), (0, 20))


def _fuse(ink: Ink, m: Point) -> None:
    ink.box((m[0] - 6, m[1] - 13, 12, 26), WHITE, INK, 1.3)
    _line(ink, m, (0, -20), (0, 20))


def _coil(ink: Ink, m: Point) -> None:
    _line(ink, m, (-2, -20), (-2, -16))
    for n in range(4):
        ink.arc(_at(m, -2, -12 + 8 * n), 4, -90, 90)
    _line(ink, m, (-2, 16), (-2, 20))


def _capacitor(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, -18), (0, -4))
    _line(ink, m, (-11, -4), (11, -4))
    _line(ink, m, (-11, 4), (11, 4))
    _line(ink, m, (0, 4), (0, 18))


def _battery(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, -18), (0, -9))
    for n, half in enumerate((12, 6, 12, 6)):
        y = -9 + 6 * n
        _line(ink, m, (-half, y), (half, y))
    _line(ink, m, (0, 9), (0, 18))
    ink.text("+", _at(m, 14, -14), 11, INK, anchor="centre")


def _contact(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, -20), (0, -10))
    _line(ink, m, (0, 10), (-9, -8))
    _line(ink, m, (0, 10), (0, 20))


def _push_contact(ink: Ink, m: Point) -> None:
    _contact(ink, m)
    ink.dashes(_at(m, -5, 0), _at(m, -15, 0), INK, 1.2, 3, 2)
    _line(ink, m, (-15, -6), (-15, 6))


def _opening_contact(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, -20), (0, -9), (8, -9))
    _line(ink, m, (0, 10), (6, -12))
    _line(ink, m, (0, 10), (0, 20))
    ink.dashes(_at(m, 2, 0), _at(m, -13, 0), INK, 1.2, 3, 2)
    ink.arc(_at(m, -9, 0), 8, 110, 250)


def _earth(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, -14), (0, 0))
    for n, half in enumerate((13, 8, 3)):
        _line(ink, m, (-half, 5 * n), (half, 5 * n))


def _supply(ink: Ink, m: Point) -> None:
    ink.box((m[0] - 18, m[1] - 16, 36, 32), WHITE, INK, 1.3)
    _line(ink, m, (-18, 16), (18, -16))
    ink.text("~", _at(m, -8, -6), 13, INK, Face.BOLD, "centre")
    _line(ink, m, (4, 6), (14, 6))
    ink.dashes(_at(m, 4, 10), _at(m, 14, 10), INK, 1.2, 2.4, 1.6)


def _aerial(ink: Ink, m: Point) -> None:
    _line(ink, m, (0, 18), (0, -6))
    _line(ink, m, (-11, -17), (0, -4), (11, -17), (-11, -17))


def _emitter(ink: Ink, m: Point) -> None:
    ink.box((m[0] - 14, m[1] - 11, 14, 22), WHITE, INK, 1.3)
    for y in (-5, 5):
        _line(ink, m, (4, y), (17, y))
        _line(ink, m, (12, y - 4), (17, y), (12, y + 4))


def _receiver(ink: Ink, m: Point) -> None:
    ink.box((m[0], m[1] - 11, 14, 22), WHITE, INK, 1.3)
    for y in (-5, 5):
        _line(ink, m, (-18, y), (-5, y))
        _line(ink, m, (-10, y - 4), (-5, y), (-10, y + 4))


def _pulses(ink: Ink, m: Point) -> None:
    ink.dot(m, 15, WHITE, INK)
    _line(ink, m, (-9, 4), (-5, 4), (-5, -4), (0, -4), (0, 4), (5, 4), (5, -4), (9, -4))


def _switch(ink: Ink, m: Point) -> None:
    _contact(ink, m)


def _box(ink: Ink, m: Point) -> None:
    ink.box((m[0] - 14, m[1] - 10, 28, 20), WHITE, SOFT, 1.2)


FIGURES: Final[dict[str, Callable[[Ink, Point], None]]] = {
    "motor": _motor,
    "lamp": _lamp,
    "resistor": _resistor,
    "fuse": _fuse,
    "coil": _coil,
    "capacitor": _capacitor,
    "battery": _battery,
    "contact": _contact,
    "push contact": _push_contact,
    "opening contact": _opening_contact,
    "earth": _earth,
    "supply": _supply,
    "aerial": _aerial,
    "emitter": _emitter,
    "receiver": _receiver,
    "pulses": _pulses,
    "switch": _switch,
    "box": _box,
}


def draw_figure(ink: Ink, symbol: str, middle: Point) -> None:
    """The symbol round its middle."""
    FIGURES[symbol](ink, middle)

"""The leads: probes on screws, their wires, and the instrument in the corner that they come from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

import pygame

from trainer.window.folder.bench import Bench
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO_WASH, INK, SHEET, SOFT, STOP, WIRE, Colour
from trainer.window.wiring.geometry import Line, Point, Spot
from trainer.window.words import _, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.wiring.ink import Ink

WIDE: Final = 214.0
HIGH: Final = 66.0
AWAY: Final = 12.0
LEAST_CANVAS: Final = 520.0
"""On a drawing narrower than this [logical px] the instrument shrinks, so that it hides less."""


def tool_rect(canvas: pygame.Rect, scale: float, bench: Bench, view: View) -> pygame.Rect:
    """Where the instrument lies: in a corner of the drawing; nowhere while no lead has a place."""
    if not (bench.red or bench.black):
        return pygame.Rect(0, 0, 0, 0)
    scale = min(scale, canvas.width / LEAST_CANVAS)
    wide, high, away = (round(each * scale) for each in (WIDE, HIGH, AWAY))
    return pygame.Rect(canvas.right - wide - away, canvas.bottom - high - away, wide, high)


def draw_mark(ink: Ink, what: Spot | Line) -> None:
    """A ring round a screw, or a core drawn thick."""
    if isinstance(what, Spot):
        ink.dot(what.at, 10, None, WIRE)
        return
    ink.way(what.points, WIRE, 4.0)


def draw_leads(ink: Ink, canvas: pygame.Rect, spots: Mapping[str, Spot], bench: Bench, view: View) -> None:
    """Both leads as far as they have a place, and the instrument."""
    box = tool_rect(canvas, ink.pen.style.scale, bench, view)
    if not box.width:
        return
    step = box.width / WIDE
    sockets = ((box.left + 22 * step, box.top), (box.left + 46 * step, box.top))
    for name, colour, socket in ((bench.black, INK, sockets[1]), (bench.red, STOP, sockets[0])):
        if name in spots:
            _lead(ink, spots[name], socket, colour)
    _tool(ink, box, bench, view)
    for (x, y), colour in zip(sockets, (STOP, INK), strict=True):
        ink.pen.dot((x, y), 5, colour)


def _lead(ink: Ink, spot: Spot, socket: Point, colour: Colour) -> None:
    """A wire that hangs from the probe to the instrument, and the probe: its tip sits on the screw."""
    tip = ink.px(spot.at)
    px = ink.pen.style.px
    lean = px(15), -px(22)
    grip = tip[0] + lean[0], tip[1] + lean[1]
    points = curve(grip, (grip[0] + lean[0] * 1.5, grip[1] + lean[1] * 1.5), (socket[0], socket[1] - px(70)), socket)
    ink.pen.lines(points, SHEET, 5.4)
    ink.pen.lines(points, colour, 2.8)
    middle = tip[0] + lean[0] * 0.38, tip[1] + lean[1] * 0.38
    ink.pen.line(tip, middle, INK, 1.6)
    ink.pen.lines([middle, grip], SHEET, 8.0)
    ink.pen.lines([middle, grip], colour, 6.0)
    ink.pen.dot(tip, 3, colour)


def curve(a: Point, b: Point, c: Point, d: Point, steps: int = 22) -> list[Point]:
    """A smooth way from `a` to `d` that leaves towards `b` and comes from `c` (a cubic curve)."""
    found = []
    for n in range(steps + 1):
        t = n / steps
        k = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        x = k[0] * a[0] + k[1] * b[0] + k[2] * c[0] + k[3] * d[0]
        y = k[0] * a[1] + k[1] * b[1] + k[2] * c[1] + k[3] * d[1]
        found.append((x, y))
    return found


def _tool(ink: Ink, box: pygame.Rect, bench: Bench, view: View) -> None:
    pen, small = ink.pen, box.width / ink.pen.style.px(WIDE)

    def px(length: float) -> int:
        return pen.style.px(length * small)

    about, reading = face_of(bench, view)
    pen.box(box, SHEET, INK, 8, 1.6)
    window = pygame.Rect(box.left + px(10), box.top + px(24), box.width - px(20), px(32))
    pen.box(window, GO_WASH, INK, 3, 1.2)
    title = pygame.Rect(box.left + px(60), box.top + px(4), box.width - px(70), px(18))
    pen.text_in(first_upper(_(bench.tool)), title, 11 * small, INK, Face.BOLD, "right")
    inner = window.inflate(-px(12), 0)
    pen.text_in(about, inner, 10 * small, SOFT)
    pen.text_in(reading, inner, 16 * small, INK, Face.BOLD, "right")


def face_of(bench: Bench, view: View) -> tuple[str, str]:
    """(function, reading) that the instrument in hand shows."""
    if bench.tool == "multimeter":
        placed = view.meter_probes == (bench.red, bench.black)
        return (view.meter[0] if placed else bench.function), (view.meter[1] if placed else "– – –")
    if bench.tool == "two-pole tester":
        return "", view.tester[1] or "– – –"
    return "", "– – –"

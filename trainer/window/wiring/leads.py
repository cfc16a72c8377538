"""The leads: probes on screws, their wires, and the instrument in the corner that they come from."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.folder.bench import Bench
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO_WASH, INK, SHEET, SOFT, STOP, TAB, WIRE, Colour
from trainer.window.wiring.geometry import Layout, Line, Point, Spot
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.tools import ReadingView
    from trainer.session.view import View
    from trainer.window.wiring.ink import Ink

NOTHING: Final = "– – –"
WIDE: Final = 214.0
HIGH: Final = 66.0
AWAY: Final = 12.0
LEAST_CANVAS: Final = 520.0
"""On a drawing narrower than this [logical px] the instrument shrinks, so that it hides less."""


@dataclass(frozen=True, slots=True)
class Dock:
    """An instrument beside the drawing, and where its leads go."""

    tool: str
    about: str
    reading: str
    kind: str
    """What it is put on: terminals or a core."""
    red: str
    black: str


def docks(bench: Bench, view: View) -> list[Dock]:
    """What is in hand with the places chosen for it, then what was left in place elsewhere."""
    found = []
    function = bench.function(view)
    if function is not None and function.at in ("terminal", "core"):
        red, black = bench.place(function.at, "at"), bench.place(function.against, "against")
        here = (function.name, red, black)
        reading = view.tools.reading_of(bench.tool, function.name)
        if reading is not None and (reading.function, reading.at, reading.against) != here:
            reading = None
        if red or black:
            found.append(_dock(bench.tool, function.name, reading, function.at, red, black))
    for each in view.tools.in_place:
        held = view.tools.instrument(each.instrument)
        kind = next((f.at for f in held.functions if f.name == each.function), "") if held is not None else ""
        stands = (each.instrument, each.function, each.at, each.against)
        if kind in ("terminal", "core") and not any(stands == (d.tool, d.about, d.red, d.black) for d in found):
            reading = view.tools.reading_of(each.instrument, each.function)
            found.append(_dock(each.instrument, each.function, reading, kind, each.at, each.against))
    return found


def _dock(tool: str, about: str, reading: ReadingView | None, kind: str, red: str, black: str) -> Dock:
    return Dock(tool, about, _(reading.text) if reading is not None else NOTHING, kind, red, black)


def dock_rect(canvas: pygame.Rect, scale: float, number: int) -> pygame.Rect:
    """Where the instrument of a number lies: in the corner of the drawing, others above it."""
    scale = min(scale, canvas.width / LEAST_CANVAS)
    wide, high, away = (round(each * scale) for each in (WIDE, HIGH, AWAY))
    return pygame.Rect(canvas.right - wide - away, canvas.bottom - (high + away) * (number + 1), wide, high)


def tool_rect(canvas: pygame.Rect, scale: float, bench: Bench, view: View) -> pygame.Rect:
    """Where the instruments lie; nowhere while none is put anywhere."""
    count = len(docks(bench, view))
    if not count:
        return pygame.Rect(0, 0, 0, 0)
    return dock_rect(canvas, scale, 0).union(dock_rect(canvas, scale, count - 1))


def draw_mark(ink: Ink, what: Spot | Line) -> None:
    """A ring round a screw, or a core drawn thick."""
    if isinstance(what, Spot):
        ink.dot(what.at, 10, None, WIRE)
        return
    ink.way(what.points, WIRE, 4.0)


def draw_leads(ink: Ink, canvas: pygame.Rect, layout: Layout, bench: Bench, view: View) -> None:
    """The leads of every instrument that is put on the wiring, and the instruments."""
    held = [(dock, dock_rect(canvas, ink.pen.style.scale, n)) for n, dock in enumerate(docks(bench, view))]
    for dock, box in reversed(held):
        step = box.width / WIDE
        sockets = ((box.left + 22 * step, box.top), (box.left + 46 * step, box.top))
        if dock.kind == "core":
            _jaw(ink, layout, dock.red, sockets[0])
            continue
        for name, colour, socket in ((dock.black, INK, sockets[1]), (dock.red, STOP, sockets[0])):
            if name in layout.spots:
                _lead(ink, layout.spots[name], socket, colour)
    for dock, box in held:
        _tool(ink, box, dock)


def _jaw(ink: Ink, layout: Layout, core: str, socket: Point) -> None:
    """A clamp round a core: a ring over the middle of its longest stretch."""
    line = next((line for line in layout.lines if line.core.name == core), None)
    if line is None:
        return
    a, b = max(pairwise(line.points), key=lambda ab: abs(ab[0][0] - ab[1][0]) + abs(ab[0][1] - ab[1][1]))
    middle = ink.px(line.free or ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
    points = curve(middle, (middle[0], middle[1] - 40), (socket[0], socket[1] - ink.pen.style.px(70)), socket)
    ink.pen.lines(points, SHEET, 5.4)
    ink.pen.lines(points, INK, 2.8)
    ink.pen.dot(middle, 9, None, INK)
    ink.pen.dot(middle, 11, None, INK)


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


def _tool(ink: Ink, box: pygame.Rect, dock: Dock) -> None:
    pen, small = ink.pen, box.width / ink.pen.style.px(WIDE)

    def px(length: float) -> int:
        return pen.style.px(length * small)

    pen.box(box, TAB, INK, 8, 1.6)
    window = pygame.Rect(box.left + px(10), box.top + px(24), box.width - px(20), px(32))
    pen.box(window, GO_WASH, INK, 3, 1.2)
    title = pygame.Rect(box.left + px(60), box.top + px(4), box.width - px(70), px(18))
    pen.text_in(first_upper(_(dock.tool)), title, 11 * small, INK, Face.BOLD, "right")
    inner = window.inflate(-px(12), 0)
    wide = pen.style.width(dock.reading, 16 * small, Face.BOLD)
    pen.text_in(dock.reading, inner, (16 if wide < inner.width else 11) * small, INK, Face.BOLD, "right")
    rest = pygame.Rect(inner.left, inner.top, inner.width - wide - px(6), inner.height)
    if rest.width > px(24):
        pen.text_in(_(dock.about), rest, 10 * small, SOFT)
    for x, colour in ((22, STOP), (46, INK)) if dock.kind == "terminal" else ((22, INK),):
        pen.dot((box.left + box.width * x / WIDE, box.top), 5, colour)

"""What stands still on the drawing: frames, board, blocks, plugs, devices and cores."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import (
    FIELD,
    GO,
    GRID,
    INK,
    PAPER,
    POST,
    SHEET,
    SOFT,
    STOP,
    TAB,
    WARN,
    WHITE,
    WIRE,
    Colour,
)
from trainer.window.wiring.figures import draw_figure
from trainer.window.wiring.geometry import DEVICE_HEAD, PITCH, TITLE_WIDE, Area, Box, Layout, Line, Point, Spot
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.wiring.ink import Ink

BROWN: Final[Colour] = (122, 72, 34)
"""A live conductor; neutral is blue, earth green: IEC 60445."""

GRID_STEP: Final = 44.0
FIRST_ROW: Final = 67.0
"""Where the house's live comes in, from the top of the mains side."""


def colour_of(line: Line) -> Colour:
    """Colour of a core, by what its screws are called; words and places carry the same meaning."""
    if line.core.way == "bridge":
        return STOP
    pins = f"{line.core.name} {line.core.a}"
    words = set(pins.replace(",", " ").split())
    for word, colour in (("live", BROWN), ("neutral", WIRE), ("earth", GO), ("plus", STOP), ("minus", INK)):
        if word in words:
            return colour
    return INK if words & {"return", "common"} else WIRE


def draw_sheet(ink: Ink, layout: Layout, live: tuple[bool, bool]) -> None:
    """Everything but leads and marks. `live`: whether the mains side, and the board, may be live."""
    _grid(ink, layout)
    _wall(ink, layout)
    if layout.mains is not None:
        _mains(ink, layout.mains, live[0])
    if layout.board is not None:
        _board(ink, layout.board, live[1])
    plugs = {box.part for box in layout.boxes if box.kind == "plug"}
    for box in layout.boxes:
        if ink.sees(box.area, 30.0):
            _BOXES[box.kind](ink, box)
    for line in layout.lines:
        _core(ink, line)
    for spot in layout.spots.values():
        if ink.sees((spot.at[0] - 70, spot.at[1] - 12, 140, 24)):
            _spot(ink, spot, spot.part in plugs, _in(layout.mains, spot.at))


def _in(area: Area | None, at: Point) -> bool:
    return area is not None and area[0] <= at[0] <= area[0] + area[2] and area[1] <= at[1] <= area[1] + area[3]


def _grid(ink: Ink, layout: Layout) -> None:
    wide, high = layout.size
    for n in range(int(wide / GRID_STEP) + 1):
        ink.line((n * GRID_STEP, 0), (n * GRID_STEP, high), GRID, 1)
    for n in range(int(high / GRID_STEP) + 1):
        ink.line((0, n * GRID_STEP), (wide, n * GRID_STEP), GRID, 1)


def _wall(ink: Ink, layout: Layout) -> None:
    points = layout.cabinet
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        ink.dashes(a, b, FIELD, 1.4, 12, 6)
    if points:
        left = min(point[0] for point in points)
        top = min(point[1] for point in points)
        ink.text(_("cabinet"), (left + 8, top + 11), 11, SOFT, Face.ITALIC)
        right = max(point[0] for point in points)
        outer = [point for point in points if point[0] == right]
        if layout.size[0] - right > 60 or len(outer) < 3:
            ink.text(_("yard"), (layout.size[0] - 30, top + 11), 11, SOFT, Face.ITALIC, "right")


def _mains(ink: Ink, area: Area, live: bool) -> None:
    ink.box(area, PAPER, STOP, 2.2)
    ink.text(_("MAINS SIDE"), (area[0] + 12, area[1] + 17), 11, STOP, Face.BOLD)
    words = "⚡ " + _("may be live") if live else _("isolated: prove it dead; the inlet stays live")
    room = area[2] - 36 - ink.wide(_("MAINS SIDE"), 11, Face.BOLD)
    ink.text(words, (area[0] + area[2] - 12, area[1] + 17), 11, WARN if live else GO, anchor="right", most=room)
    for n, colour in enumerate((BROWN, WIRE)):
        y = area[1] + FIRST_ROW + n * PITCH
        ink.line((area[0], y), (area[0] + 36, y), colour, 1.6)
        ink.shape([(area[0] + 14, y - 4), (area[0] + 14, y + 4), (area[0] + 22, y)], colour, None)


def _board(ink: Ink, area: Area, live: bool) -> None:
    ink.box(area, WHITE, INK, 1.8)
    ink.text(_("BOARD · low voltage"), (area[0] + 12, area[1] + 16), 11, INK, Face.BOLD, most=area[2] - 40)
    if live:
        ink.text("⚡", (area[0] + area[2] - 14, area[1] + 16), 12, WARN, Face.BOLD, "centre")


def _block(ink: Ink, box: Box) -> None:
    left, top, wide, high = box.area
    ink.box(box.area, SHEET, INK, 1.2)
    at = left + 8 if box.side > 0 else left + wide - TITLE_WIDE - 2
    title, most = first_upper(_(box.title)), max(int(high / 15), 1)
    ink.words(title, (at, top, TITLE_WIDE - 8, high), 11, INK, Face.BOLD, most)


def _plug(ink: Ink, box: Box) -> None:
    left, top, wide, high = box.area
    ink.box(box.area, TAB, INK, 1.4, 3)
    if not box.closed:
        inner = left if box.side > 0 else left + wide
        for level in (top + 6, top + high - 6):
            ink.dashes((inner, level), (inner - box.side * 26, level), STOP, 1.4, 4, 3)
        ink.text(_("out"), (left + wide / 2, top - 6), 10, STOP, Face.BOLD, "centre")


def _device(ink: Ink, box: Box) -> None:
    left, top, wide, high = box.area
    inside = box.kind == "cabinet"
    ink.box(box.area, WHITE, INK, 1.4, 0 if inside else 7)
    title = first_upper(_(box.title))
    size = 11.0 if ink.wide(title, 11, Face.BOLD) <= wide - 18 else 9.5
    ink.text(title, (left + 10, top + 12), size, INK, Face.BOLD, most=wide - 18)
    middle = left + wide - 34 if box.side > 0 else left + 34
    draw_figure(ink, box.symbol, (middle, top + DEVICE_HEAD + (high - DEVICE_HEAD) / 2))


def _through(ink: Ink, box: Box) -> None:
    """A part of the mains side: its name over its screws."""
    left, top, wide, high = box.area
    ink.box(box.area, SHEET, INK, 1.4)
    title = first_upper(_(box.title))
    size = 11.0 if ink.wide(title, 11, Face.BOLD) <= wide - 12 else 9.0
    ink.text(title, (left + 8, top + 12), size, INK, Face.BOLD, most=wide - 12)
    if box.symbol == "earth":
        draw_figure(ink, "earth", (left + wide - 24, top + high - 24))


_BOXES = {"block": _block, "plug": _plug, "cabinet": _device, "yard": _device, "mains": _through}


def _spot(ink: Ink, spot: Spot, on_plug: bool, on_mains: bool) -> None:
    x, y = spot.at
    if spot.header:
        ink.box((x - 5, y - 5, 10, 10), POST, INK, 1.2)
    else:
        ink.dot((x, y), 6, WHITE, INK)
        ink.line((x - 3, y + 2.4), (x + 3, y - 2.4), FIELD, 1.2)
    if on_plug:
        if spot.words_at is not None:
            ink.text(_(spot.pin), spot.words_at, 10.5, INK, anchor="right" if spot.out[0] > 0 else "left", most=70)
        return
    way = -spot.out[0]
    size, colour, lift = (9, SOFT, 7.5) if on_mains else (10.5, INK, 0.0)
    at = (x + way * (12 if on_mains else 16), y - lift)
    side = 1 if way > 0 else -1
    ink.text(_(spot.pin), at, size, colour, anchor="left" if side > 0 else "right", most=ink.room(at, side, 96))


def _core(ink: Ink, line: Line) -> None:
    xs, ys = [p[0] for p in line.points], [p[1] for p in line.points]
    area = (min(xs), min(ys) - 12, max(xs) - min(xs) + 90, max(ys) - min(ys) + 24)
    if not ink.sees(area, 90.0):
        return
    colour = colour_of(line)
    if line.core.way == "switch":
        _pole(ink, line, colour)
        return
    ink.way(line.points, colour, 2.6 if line.core.way == "bridge" else 1.6)
    if line.words and ink.zoom > 0.45 and line.core.way in ("core", "wire"):
        ink.text(_(line.words), line.words_at, 9, SOFT, Face.ITALIC, "right" if line.words_end else "left", 74)
    if line.core.way in ("link", "fuse"):
        _in_line(ink, line, colour)
    if not line.core.a or not line.core.b:
        ink.dot(line.points[-1], 3, WHITE, colour)


def _pole(ink: Ink, line: Line, colour: Colour) -> None:
    """One pole of a switch between two screws, along the line that joins them: its blade lies over, or stands off."""
    (ax, ay), (bx, by) = line.points[0], line.points[-1]
    length = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1.0)
    ux, uy = (bx - ax) / length, (by - ay) / length
    near, far = length * line.middle - 12, length * line.middle + 12
    start, end = (ax + ux * near, ay + uy * near), (ax + ux * far, ay + uy * far)
    off = 0.0 if line.core.closed else 12.0
    ink.line((ax, ay), start, colour, 1.8)
    ink.line(end, (bx, by), colour, 1.8)
    ink.line(end, (start[0] - uy * off, start[1] + ux * off), colour, 2.6)
    for at in (start, end):
        ink.dot(at, 2.6, WHITE, INK)


def _in_line(ink: Ink, line: Line, colour: Colour) -> None:
    """A link or a fuse sits on the longest level stretch of its line."""
    a, b = max(zip(line.points, line.points[1:], strict=False), key=lambda ab: abs(ab[0][0] - ab[1][0]))
    if line.core.way == "fuse" and abs(a[0] - b[0]) < 1.0:
        x, y = a[0], (a[1] + b[1]) / 2
        ink.box((x - 5, y - 12, 10, 24), WHITE, INK, 1.3)
        ink.line((x, y - 12), (x, y + 12), INK, 1.2)
        return
    middle: Point = line.free or (a[0] + (b[0] - a[0]) * line.middle, a[1])
    if line.core.way == "fuse":
        ink.box((middle[0] - 12, middle[1] - 5, 24, 10), WHITE, INK, 1.3)
        ink.line((middle[0] - 12, middle[1]), (middle[0] + 12, middle[1]), INK, 1.2)
        return
    if not line.core.closed:
        ink.box((middle[0] - 12, middle[1] - 2, 24, 4), SHEET, None)
    lift = 0.0 if line.core.closed else -9.0
    ink.line((middle[0] - 11, middle[1]), (middle[0] + 11, middle[1] + lift), colour, 3.0)
    for x in (-12.0, 12.0):
        ink.dot((middle[0] + x, middle[1]), 3.4, WHITE, INK)
    if line.core.run.endswith(" plug"):
        words = "" if line.core.closed else _("out")
    else:
        words = _("link in") if line.core.closed else _("link out")
    at = (middle[0], middle[1] - (11 if line.core.closed else 17))
    ink.text(words, at, 9, SOFT if line.core.closed else STOP, Face.BOLD, "centre")

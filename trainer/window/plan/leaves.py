"""Leaves with their drives, drawn finely at their true angle."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO, INK, SHEET, SMALL, STOP, TAB, WHITE, WIRE, Colour
from trainer.window.plan.brush import FINE, Brush, Point
from trainer.window.plan.drives import corners, paint_drive, paint_lid
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View
    from trainer.window.kit.pen import Pen

LEAF_COLOURS = {"active": GO, "inactive": WIRE}
"""Of labels and curves; the word stands beside, and the curve of the inactive leaf is dashed."""


def leaf_name(name: str) -> str:
    """`active leaf` or `inactive leaf`."""
    return _("active leaf") if name == "active" else _("inactive leaf")


def degrees(angle_deg: float) -> str:
    """An angle to a tenth, with a true minus sign and no minus before nought."""
    return f"{round(angle_deg, 1) + 0.0:.1f}".replace("-", "−")


def leaf_rect(port: Viewport, leaf: LeafView) -> pygame.Rect:
    """What a leaf covers on the screen, and a little round it."""
    a, b = port.to_screen(*leaf.hinge_xy_m), port.to_screen(*leaf.spot(leaf.width_m, 0.0))
    rect = pygame.Rect(min(a[0], b[0]), min(a[1], b[1]), abs(a[0] - b[0]), abs(a[1] - b[1]))
    return rect.inflate(12, 12)


def draw_leaf(pen: Pen, port: Viewport, view: View, leaf: LeafView, edge_pressed: bool, edge_fitted: bool) -> None:
    """One leaf with its drive, as a picture kept for each tenth of a degree."""
    leaf = replace(leaf, angle_deg=round(leaf.angle_deg, 1))
    spots = [port.to_screen(*spot) for spot in (*corners(leaf), leaf.hinge_xy_m, leaf.spot(leaf.width_m, 0.0))]
    margin = pen.style.px(16) + round(view.strip_overlap_m * port.scale)
    xs, ys = [x for x, _y in spots], [y for _x, y in spots]
    left, top = math.floor(min(xs)) - margin, math.floor(min(ys)) - margin
    size = (math.ceil(max(xs)) + margin - left, math.ceil(max(ys)) + margin - top)
    strip = view.strip_face if view.strip_carrier == leaf.name else ""
    place = (leaf.name, leaf.angle_deg, port.key(), pen.style.scale)
    key = ("leaf", *place, leaf.engaged, edge_pressed, edge_fitted, strip, leaf.drive)

    def paint(large: pygame.Surface, times: int) -> None:
        def on_picture(point: Point) -> Point:
            x, y = port.to_screen(*point)
            return (x - left) * times, (y - top) * times

        brush = Brush(large, times * pen.style.scale, on_picture, pen.style.seen)
        paint_lid(brush, leaf)
        _paint_leaf(brush, port, view, leaf, strip, edge_pressed, edge_fitted)
        paint_drive(brush, leaf)
        brush.dot(on_picture(leaf.hinge_xy_m), 5 if len(leaf.drive_xy_m) > 1 else 2.5, INK)

    pen.surface.blit(pen.sprites.get(key, size, pen.style.seen(INK), paint, FINE), (left, top))


def _paint_leaf(
    brush: Brush, port: Viewport, view: View, leaf: LeafView, strip: str, pressed: bool, fitted: bool
) -> None:
    def place(along_m: float, off_m: float) -> Point:
        return brush.place(leaf.spot(along_m, off_m))

    metre = 1.0 / port.scale * brush.unit / FINE
    half = max(0.03, 5.0 * metre)
    wide = leaf.width_m
    brush.bar([place(0, -half), place(wide, -half), place(wide, half), place(0, half)], WHITE, INK)
    if strip:
        side = 1.0 if strip == leaf.opens_towards else -1.0
        reach = max(view.strip_overlap_m, 9 * metre)
        near, far = side * (half + 1.5 * metre), side * (half + 6.5 * metre)
        back = wide - max(0.1, 14 * metre)
        brush.bar(
            [place(back, near), place(wide + reach, near), place(wide + reach, far), place(back, far)], TAB, INK, 1.3
        )
    if fitted:
        deep = max(0.05, 6 * metre)
        colour = STOP if pressed else INK
        wider = half + 2.5 * metre
        ends = [place(wide - deep, -wider), place(wide, -wider), place(wide, wider), place(wide - deep, wider)]
        brush.bar(ends, colour, colour, 1.0)


def draw_leaf_words(pen: Pen, port: Viewport, view: View, leaf: LeafView) -> None:
    """The leaf's name and angle beside it."""
    active = leaf.name == "active"
    px = pen.style.px
    off = px(26) / port.scale
    x, y = port.to_screen(*leaf.spot(leaf.width_m * 0.6, off))
    anchor = "centre" if leaf.angle_deg < 24 else ("right" if active else "left")
    words = _("{leaf} {angle}°").format(leaf=leaf_name(leaf.name), angle=degrees(leaf.angle_deg))
    slip_text(pen, words, (x, y), LEAF_COLOURS[leaf.name], anchor)
    if not leaf.engaged:
        slip_text(pen, _("drive released"), (x, y + px(15)), STOP, anchor)


def slip_text(
    pen: Pen,
    words: str,
    at: Point,
    colour: Colour,
    anchor: str = "left",
    face: Face = Face.REGULAR,
    must: bool = False,
) -> None:
    """Words on a slip of the sheet's colour, so that they can be read over lines; kept inside the drawing and off
    other words. Where there is no room about they are left out, unless they `must` be there."""

    def put() -> None:
        px, inside = pen.style.px, pen.surface.get_clip().inflate(-8, -8)
        wide = min(pen.style.width(words, SMALL, face), inside.width - px(6))
        wished = placed((wide + px(6), px(15)), at, anchor).clamp(inside)
        slip = pen.free(wished, must)
        if slip is not None:
            pen.fill(slip, SHEET)
            pen.text_in(words, slip.inflate(-px(6), 0), SMALL, colour, face, "centre")

    pen.put(put, first=must)


def placed(size: tuple[int, int], at: Point, anchor: str) -> pygame.Rect:
    """A box of a size [px] that begins at a point, ends there or has it in the middle."""
    box = pygame.Rect((0, 0), size)
    setattr(box, {"centre": "center", "right": "midright", "left": "midleft"}[anchor], (round(at[0]), round(at[1])))
    return box

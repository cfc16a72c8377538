"""The two leaves with their drives, drawn finely at their true angle; what presses on them and how hard."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FAINT, GO, INK, SHEET, SMALL, SOFT, STOP, TAB, WHITE, WIRE, Colour
from trainer.window.plan.viewport import Viewport, leaf_point
from trainer.window.words import _

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View
    from trainer.window.kit.pen import Pen

STEEL: Colour = (112, 124, 134)
FINE = 3
"""Leaves are drawn this many times larger and scaled down: they are new pictures each frame while they turn."""

LEAF_COLOURS = {"active": GO, "inactive": WIRE}
"""Of labels and curves; the word stands beside, and the curve of the inactive leaf is dashed."""

Point = tuple[float, float]


def leaf_name(name: str) -> str:
    """`active leaf` or `inactive leaf`."""
    return _("active leaf") if name == "active" else _("inactive leaf")


def degrees(angle_deg: float) -> str:
    """An angle to a tenth, with a true minus sign and no minus before nought."""
    return f"{round(angle_deg, 1) + 0.0:.1f}".replace("-", "−")


def draw_leaf(pen: Pen, port: Viewport, view: View, leaf: LeafView, edge_pressed: bool, edge_fitted: bool) -> None:
    """One leaf with its ram, as a picture kept for each tenth of a degree."""
    active = leaf.name == "active"
    angle = round(leaf.angle_deg * 10) / 10
    ends = (port.to_screen(*leaf.ram_post_xy_m), port.to_screen(*leaf.ram_leaf_xy_m))
    hinge = port.to_screen(*leaf.hinge_xy_m)
    tip = port.to_screen(*leaf_point(view.opening_m, active, angle, leaf.width_m, 0))
    margin = pen.style.px(16) + round(view.strip_overlap_m * port.scale)
    xs, ys = [p[0] for p in (*ends, hinge, tip)], [p[1] for p in (*ends, hinge, tip)]
    left, top = math.floor(min(xs)) - margin, math.floor(min(ys)) - margin
    size = (math.ceil(max(xs)) + margin - left, math.ceil(max(ys)) + margin - top)
    strip = view.strip_face if view.strip_carrier == leaf.name else ""
    key = ("leaf", active, angle, port.key(), pen.style.scale, leaf.engaged, edge_pressed, edge_fitted, strip)

    def paint(large: pygame.Surface, times: int) -> None:
        def place(along_m: float, off_m: float) -> Point:
            x, y = port.to_screen(*leaf_point(view.opening_m, active, angle, along_m, off_m))
            return (x - left) * times, (y - top) * times

        brush = _Brush(large, times * pen.style.scale, place)
        _paint_leaf(brush, port, view, leaf, strip, edge_pressed, edge_fitted)
        post, bracket = (((x - left) * times, (y - top) * times) for x, y in ends)
        _paint_ram(brush, post, bracket, leaf.engaged)
        brush.dot(place(0, 0), 5, INK)

    pen.surface.blit(pen.sprites.get(key, size, INK, paint, FINE), (left, top))


class _Brush:
    """Thick smooth strokes on the enlarged picture; measures in logical px."""

    def __init__(self, surface: pygame.Surface, unit: float, place: Callable[[float, float], Point]) -> None:
        self.surface = surface
        self.unit = unit
        self.place = place

    def bar(self, points: list[Point], fill: Colour, edge: Colour | None, line: float = 1.8) -> None:
        pygame.draw.polygon(self.surface, fill, points)
        if edge is not None:
            width = max(round(line * self.unit), 1)
            pygame.draw.lines(self.surface, edge, True, points, width)
            for point in points:
                pygame.draw.circle(self.surface, edge, point, width / 2)

    def stroke(self, a: Point, b: Point, colour: Colour, line: float) -> None:
        length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        nx, ny = -(b[1] - a[1]) / length * line * self.unit / 2, (b[0] - a[0]) / length * line * self.unit / 2
        corners = [(a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny)]
        pygame.draw.polygon(self.surface, colour, corners)

    def dot(self, at: Point, radius: float, fill: Colour, edge: Colour | None = None) -> None:
        pygame.draw.circle(self.surface, edge or fill, at, radius * self.unit)
        if edge is not None:
            pygame.draw.circle(self.surface, fill, at, (radius - 1.5) * self.unit)


def _paint_leaf(
    brush: _Brush, port: Viewport, view: View, leaf: LeafView, strip: str, pressed: bool, fitted: bool
) -> None:
    place = brush.place
    metre = 1.0 / port.scale * brush.unit / FINE
    half = max(0.03, 5.0 * metre)
    wide = leaf.width_m
    brush.bar([place(0, -half), place(wide, -half), place(wide, half), place(0, half)], WHITE, INK)
    if strip:
        side = 1.0 if strip == "inside" else -1.0
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


def _paint_ram(brush: _Brush, post: Point, bracket: Point, engaged: bool) -> None:
    body_end = (post[0] + (bracket[0] - post[0]) * 0.58, post[1] + (bracket[1] - post[1]) * 0.58)
    if engaged:
        brush.stroke(body_end, bracket, INK, 2.4)
    else:
        gap = (body_end[0] + (bracket[0] - body_end[0]) * 0.45, body_end[1] + (bracket[1] - body_end[1]) * 0.45)
        brush.stroke(body_end, gap, FAINT, 2.4)
    brush.stroke(post, body_end, INK, 8.4)
    brush.stroke(post, body_end, STEEL, 5.6)
    brush.dot(post, 3.4, INK)
    if engaged:
        brush.dot(bracket, 3.4, INK)
    else:
        brush.dot(bracket, 4.4, WHITE, INK)


def draw_leaf_words(pen: Pen, port: Viewport, view: View, leaf: LeafView) -> None:
    """The leaf's name and angle beside it; what it presses on, and how hard."""
    active = leaf.name == "active"
    px = pen.style.px
    off = px(26) / port.scale
    x, y = port.to_screen(*leaf_point(view.opening_m, active, leaf.angle_deg, leaf.width_m * 0.6, off))
    anchor = "centre" if leaf.angle_deg < 24 else ("right" if active else "left")
    words = _("{leaf} {angle}°").format(leaf=leaf_name(leaf.name), angle=degrees(leaf.angle_deg))
    slip_text(pen, words, (x, y), LEAF_COLOURS[leaf.name], anchor)
    if not leaf.engaged:
        slip_text(pen, _("drive released"), (x, y + px(15)), STOP, anchor)
    if leaf.contact_n > 1 and leaf.touching:
        _draw_contact(pen, port, view, leaf)


def _draw_contact(pen: Pen, port: Viewport, view: View, leaf: LeafView) -> None:
    px, active = pen.style.px, leaf.name == "active"
    calm = leaf.touching in ("open stop", "closed stop")
    colour = SOFT if calm else STOP
    tip = port.to_screen(*leaf_point(view.opening_m, active, leaf.angle_deg, leaf.width_m, 0))
    way = port.to_screen(*leaf_point(view.opening_m, active, leaf.angle_deg, leaf.width_m, -1.0))
    length = math.hypot(way[0] - tip[0], way[1] - tip[1]) or 1.0
    ux, uy = (way[0] - tip[0]) / length, (way[1] - tip[1]) / length
    base = (tip[0] + ux * px(34), tip[1] + uy * px(34))
    head = (tip[0] + ux * px(8), tip[1] + uy * px(8))
    pen.line(base, (head[0] + ux * px(4), head[1] + uy * px(4)), colour, 2)
    wing = px(5)
    pen.shape(
        [
            head,
            (head[0] + ux * px(9) - uy * wing, head[1] + uy * px(9) + ux * wing),
            (head[0] + ux * px(9) + uy * wing, head[1] + uy * px(9) - ux * wing),
        ],
        colour,
        None,
    )
    words = _("{force:.0f} N on {what}").format(force=leaf.contact_n, what=leaf.touching)
    slip_text(pen, words, (base[0], base[1] + uy * px(12)), colour, "centre", Face.BOLD)


def slip_text(
    pen: Pen, words: str, at: Point, colour: Colour, anchor: str = "left", face: Face = Face.REGULAR
) -> pygame.Rect:
    """Words on a slip of the sheet's colour, so that they can be read over lines; kept inside the drawing."""
    wide, px = pen.style.width(words, SMALL, face), pen.style.px
    slip = pygame.Rect(0, 0, wide + px(6), px(15))
    x, y = round(at[0]), round(at[1])
    if anchor == "centre":
        slip.center = (x, y)
    elif anchor == "right":
        slip.midright = (x, y)
    else:
        slip.midleft = (x, y)
    slip.clamp_ip(pen.surface.get_clip().inflate(-8, -8))
    pen.fill(slip, SHEET)
    return pen.text(words, slip.center, SMALL, colour, face, "centre")

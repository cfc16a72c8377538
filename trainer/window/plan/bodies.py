"""People, beasts, vehicles and the test body as they are drawn on the plan, from above, with the way before them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import BODY, INK, SOFT, STOP, TAB, WHITE, WIRE, Colour
from trainer.window.plan.figures import pieces, turned
from trainer.window.plan.leaves import slip_text
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.yard_view import BodyView
    from trainer.window.kit.pen import Pen

GHOST_M: Final = {
    "test body": ((0.3, 0.2), (0.7, 0.2)),
    "adult": ((0.5, 0.3), (1.75, 0.5)),
    "child": ((0.35, 0.25), (1.1, 0.35)),
    "pram": ((0.6, 0.95), (0.6, 0.95)),
    "dog": ((0.25, 0.9), (0.9, 0.4)),
    "bicycle": ((0.6, 1.8), (1.8, 1.05)),
    "car": ((1.8, 4.4), (1.8, 4.4)),
    "van": ((2.0, 5.9), (2.0, 5.9)),
}
"""Across and along, standing and lying, while a body is being carried; placed, the session says its size [m]."""

FILLS: Final[dict[str, Colour | None]] = {"body": BODY, "white": WHITE, "glass": TAB, "none": None}


def body_rect(port: Viewport, body: BodyView) -> pygame.Rect:
    """What a body covers on the screen, however it is turned."""
    across, along, _high = body.size_m
    corners = [(sx * across / 2, sy * along / 2) for sx in (-1, 1) for sy in (-1, 1)]
    places = [port.to_screen(*point) for point in turned(tuple(corners), body.x_m, body.y_m, body.turn_deg)]
    left, top = min(x for x, _y in places), min(y for _x, y in places)
    right, foot = max(x for x, _y in places), max(y for _x, y in places)
    return pygame.Rect(round(left), round(top), max(round(right - left), 1), max(round(foot - top), 1))


def draw_body(pen: Pen, port: Viewport, body: BodyView, touched: bool) -> pygame.Rect:
    """One body with its name and its way; answers where it is."""
    rect = body_rect(port, body)
    edge = STOP if touched else INK
    way = [(body.x_m, body.y_m), *body.ahead]
    if body.speed_m_s > 0.0:
        draw_way(pen, port, way)
    draw_shape(pen, port, body.name, (body.x_m, body.y_m), body.size_m[:2], edge, body.lying, body.turn_deg)
    words = _(body.name) + (_(", lying") if body.lying else "")
    if body.speed_m_s > 0.0:
        words += _(", {speed:.1f} m/s").format(speed=body.speed_m_s)
    face = Face.BOLD if touched else Face.REGULAR
    slip_text(pen, words, (rect.centerx, rect.bottom + pen.style.px(11)), edge, "centre", face)
    return rect


def draw_shape(
    pen: Pen,
    port: Viewport,
    name: str,
    at_m: tuple[float, float],
    size_m: tuple[float, float],
    edge: Colour,
    lying: bool = False,
    turn_deg: float = 0.0,
) -> None:
    """The outline alone."""
    for fill, corners in pieces(name, size_m[0], size_m[1], lying):
        points = [port.to_screen(*point) for point in turned(corners, *at_m, turn_deg)]
        if fill == "none":
            pen.lines(points, edge, 1.4)
        else:
            pen.shape(points, FILLS[fill], edge, 1.6)


def draw_way(pen: Pen, port: Viewport, points: list[tuple[float, float]]) -> None:
    """The way ahead: dashes from point to point, a ring at its end."""
    places = [port.to_screen(*point) for point in points]
    for a, b in pairwise(places):
        pen.dashes(a, b, WIRE, 1.6, 7, 5)
    pen.dot(places[-1], 4, None, WIRE)


def draw_ghost(pen: Pen, port: Viewport, name: str, at_m: tuple[float, float], size_m: tuple[float, float]) -> None:
    """A body that is being carried, with its place in metres."""
    draw_shape(pen, port, name, at_m, size_m, SOFT)
    x, y = port.to_screen(*at_m)
    reach = pen.style.px(12)
    pen.line((x - reach, y), (x + reach, y), INK)
    pen.line((x, y - reach), (x, y + reach), INK)
    foot = port.to_screen(at_m[0], at_m[1] - size_m[1] / 2)[1]
    slip_text(pen, _(name) + " · " + place_words(at_m), (x, foot + pen.style.px(14)), INK, "centre", must=True)


def place_words(at_m: tuple[float, float]) -> str:
    """A place on the plan in words."""
    side = _("inside") if at_m[1] >= 0 else _("outside")
    return _("{x:.2f} m along, {y:.2f} m {side}").format(x=at_m[0], y=abs(at_m[1]), side=side)

"""A leaf from the front, seen from outside: its height above the ground and where the force gauge is set."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.closeup.figures import millimetres
from trainer.window.closeup.ruler import Fit, Point, dimension, masonry
from trainer.window.kit.style import BODY, HATCH, INK, POST, SOFT, WHITE, WIRE
from trainer.window.plan.leaves import slip_text

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View
    from trainer.window.kit.pen import Pen

BARS: Final = 7
"""Bars of the infill, as it is drawn everywhere: the view doesn't say what fills a leaf."""

POST_M: Final = 0.2
"""How much of the post is shown [m]."""


def draw_elevation(pen: Pen, area: pygame.Rect, view: View, leaf: LeafView) -> None:
    """Post, leaf, ground, the clearance between them, and the three heights."""
    px, under, top = pen.style.px, leaf.clearance_m, leaf.clearance_m + leaf.height_m
    turned = leaf.name == "inactive"
    room = area.inflate(-px(8), -px(34))
    room.width -= px(92)
    if turned:
        room.right = area.right - px(8)
    far = leaf.width_m
    fit = Fit(room, [(-POST_M if not turned else -far, 0.0), (far if not turned else POST_M, top + 0.05)])

    def place(along: float, up: float) -> Point:
        return fit((-along if turned else along, up))

    ground = round(place(0.0, 0.0)[1])
    masonry(pen, [place(-POST_M, top + 0.05), place(-0.07, 0.0)])
    _frame(pen, [place(0.0, under), place(far, top)])
    pen.line((area.left, ground), (area.right, ground), INK, 1.8)
    for x in range(area.left, area.right, px(9)):
        pen.line((x + px(6), ground), (x, ground + px(6)), HATCH, 1.2)
    for height in leaf.gauge_heights_m:
        _height(pen, place(far, height), -1 if turned else 1, millimetres(height))
    at = place(far * 0.3, 0.0)[0]
    dimension(pen, (at, place(0.0, under)[1]), (at, ground), millimetres(under), (0, -18), WIRE)
    if view.gauge is not None and view.gauge[0] == leaf.name:
        stands = pygame.Rect(0, 0, px(12), px(12))
        stands.center = (round(place(far, 0.0)[0]), round(place(0.0, view.gauge[2] / 1000.0)[1]))
        pen.box(stands, BODY, INK, 1, 1.6)
    slip_text(pen, _("seen from outside"), (area.centerx, area.top + px(8)), SOFT, "centre")


def _frame(pen: Pen, ends: list[Point]) -> None:
    (x0, y0), (x1, y1) = ends
    rect = pygame.Rect(round(min(x0, x1)), round(min(y0, y1)), round(abs(x1 - x0)), round(abs(y1 - y0)))
    rail = pen.style.px(4)
    pen.fill(rect, WHITE)
    for n in range(1, BARS + 1):
        x = rect.left + rect.width * n // (BARS + 1)
        pen.line((x, rect.top), (x, rect.bottom), HATCH, 1.4)
    for bar in (
        (rect.left, rect.top, rect.width, rail),
        (rect.left, rect.bottom - rail, rect.width, rail),
        (rect.left, rect.top, rail, rect.height),
        (rect.right - rail, rect.top, rail, rect.height),
    ):
        pen.fill(pygame.Rect(bar), POST)
    pen.box(rect, None, INK, 0, 1.6)


def _height(pen: Pen, at: Point, way: int, words: str) -> None:
    """A mark that points at the closing edge, with its height above the ground."""
    px = pen.style.px
    tip = (at[0] + way * px(2), at[1])
    pen.shape([tip, (tip[0] + way * px(9), tip[1] - px(5)), (tip[0] + way * px(9), tip[1] + px(5))], WIRE, None)
    slip_text(pen, words, (tip[0] + way * px(13), tip[1]), INK, "left" if way > 0 else "right")

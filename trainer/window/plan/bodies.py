"""People, test body and car as they are drawn on the plan, from above."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pygame

from trainer.window.kit.style import BODY, INK, SOFT, STOP, TAB, WHITE
from trainer.window.plan.leaves import slip_text
from trainer.window.plan.viewport import Viewport
from trainer.window.words import _

if TYPE_CHECKING:
    from trainer.session.view import BodyView
    from trainer.window.kit.pen import Pen

GHOST_M: Final = {
    "test body": ((0.3, 0.2), (0.7, 0.2)),
    "adult": ((0.5, 0.3), (1.75, 0.5)),
    "child": ((0.35, 0.25), (1.1, 0.35)),
    "car": ((1.8, 4.4), (1.8, 4.4)),
}
"""Across and along, standing and lying, while a body is being carried; placed, the session says its size [m]."""


def body_rect(port: Viewport, body: BodyView) -> pygame.Rect:
    """Where a body lies on the screen."""
    across, along, _high = body.size_m
    return port.rect(body.x_m - across / 2, body.y_m - along / 2, across, along)


def draw_body(pen: Pen, port: Viewport, body: BodyView, touched: bool) -> pygame.Rect:
    """One body with its name; answers where it is."""
    rect = body_rect(port, body)
    edge = STOP if touched else INK
    draw_shape(pen, body.name, rect, edge, body.lying)
    words = body.name + (_(", lying") if body.lying else "")
    slip_text(pen, words, (rect.centerx, rect.bottom + pen.style.px(11)), edge, "centre")
    return rect


def draw_shape(pen: Pen, name: str, rect: pygame.Rect, edge: tuple[int, int, int], lying: bool = False) -> None:
    """The shape alone."""
    px = pen.style.px
    if name == "car":
        pen.box(rect, WHITE, edge, 12, 1.8)
        glass = rect.inflate(-px(12), -rect.height * 0.62)
        pen.box(glass, TAB, edge, 6, 1.2)
        pen.line((rect.centerx, glass.top), (rect.centerx, glass.bottom), edge)
    elif name == "test body":
        pen.box(rect, BODY, edge, 1, 1.8)
        pen.line(rect.topleft, (rect.right - 1, rect.bottom - 1), edge)
        pen.line((rect.left, rect.bottom - 1), (rect.right - 1, rect.top), edge)
    elif lying:
        pen.box(rect, BODY, edge, 8, 1.6)
        pen.dot((rect.left + min(rect.width, rect.height) / 2, rect.centery), 6, WHITE, edge)
    else:
        shoulders = rect.inflate(0, -rect.height // 3)
        pen.box(shoulders, BODY, edge, shoulders.height / 2 / pen.style.scale, 1.6)
        head = max(min(rect.height, rect.width) * 0.36 / pen.style.scale, 4)
        pen.dot(rect.center, head, WHITE, edge)


def draw_ghost(pen: Pen, port: Viewport, name: str, at_m: tuple[float, float], size_m: tuple[float, float]) -> None:
    """A body that is being carried, with its place in metres."""
    rect = port.rect(at_m[0] - size_m[0] / 2, at_m[1] - size_m[1] / 2, *size_m)
    draw_shape(pen, name, rect, SOFT)
    x, y = rect.center
    reach = pen.style.px(12)
    pen.line((x - reach, y), (x + reach, y), INK)
    pen.line((x, y - reach), (x, y + reach), INK)
    words = _("{name} · {x:.2f} m along, {y:.2f} m {side}").format(
        name=name, x=at_m[0], y=abs(at_m[1]), side=_("inside") if at_m[1] >= 0 else _("outside")
    )
    slip_text(pen, words, (x, rect.bottom + pen.style.px(14)), INK, "centre")

"""The hinge from above: the gap between the leaf's heel and the post, which closes while the leaf opens."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.closeup.figures import millimetres, narrowest
from trainer.window.closeup.ruler import Fit, Point, dimension, dotted, masonry
from trainer.window.kit.style import BODY, INK, SOFT, STOP, STOP_WASH, WHITE
from trainer.window.plan.ground import posts_of
from trainer.window.plan.hinges import FELT_N
from trainer.window.plan.leaves import slip_text

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View
    from trainer.window.kit.pen import Pen

SHOWN_M: Final = ((-0.16, -0.13), (0.26, 0.24))
"""What is shown about the hinge in the leaf's own axes, beyond the post's face [m]."""


def draw_hinge(pen: Pen, area: pygame.Rect, view: View, leaf: LeafView) -> None:
    """Post, pin, leaf and the gap between them at the present angle; the heel's way as a dotted line."""
    gap = leaf.gap
    (left, low), (right, high) = SHOWN_M
    fit = Fit(area, [leaf.axes.on_plan(corner) for corner in ((left - gap.post_m, low), (right, high))])

    def place(x: float, y: float) -> Point:
        return fit(leaf.axes.on_plan((x, y)))

    with pen.clip(area):
        _post(pen, area, view, leaf, place(-gap.post_m, 0.0)[0], fit)
        heel = _turned(leaf, leaf.angle_deg)
        face = (-gap.post_m, heel[1])
        pen.fill(_between(place(*face), place(heel[0], 0.0)), STOP_WASH)
        _leaf(pen, leaf, fit)
        steps = [leaf.open_stop_deg * n / 24 for n in range(25)]
        dotted(pen, [place(*_turned(leaf, angle)) for angle in steps])
        _least, angle = narrowest(leaf)
        pen.dot(place(*_turned(leaf, angle)), 4, None, STOP)
        pen.dot(place(0.0, 0.0), 6, WHITE, INK)
        pen.dot(place(0.0, 0.0), 2, INK)
        a, b = place(*face), place(*heel)
        inwards = 11 if place(0.0, 0.0)[1] > b[1] else -11
        dimension(pen, a, b, millimetres(gap.now_m), (0, inwards), STOP)
        if gap.held:
            squeezed = gap.force_n >= FELT_N
            pen.dot(place((face[0] + heel[0]) / 2, heel[1]), 8, BODY, STOP if squeezed else INK)
    slip_text(pen, _("post"), (place(-gap.post_m, 0.0)[0], area.bottom - pen.style.px(9)), SOFT, "centre")


def _turned(leaf: LeafView, angle_deg: float) -> Point:
    """The heel's corner in the leaf's own axes at an angle [m]."""
    x, y, turn = leaf.gap.heel_along_m, leaf.gap.heel_across_m, math.radians(angle_deg)
    return x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)


def _post(pen: Pen, area: pygame.Rect, view: View, leaf: LeafView, face_px: float, fit: Fit) -> None:
    _x, low, _along, deep = posts_of(view)[0 if leaf.name == "active" else 1]
    top, foot = fit((0.0, low + deep))[1], fit((0.0, low))[1]
    outer = area.left - 4 if leaf.name == "active" else area.right + 4
    masonry(pen, [(outer, top), (face_px, foot)])


def _leaf(pen: Pen, leaf: LeafView, fit: Fit) -> None:
    """The frame's heel end; its pin's strap goes from hinge to frame."""
    along, across = leaf.gap.heel_along_m, leaf.gap.heel_across_m
    far, inner = along + 0.6, across - leaf.thickness_m
    pen.line(fit(leaf.spot(0.0, 0.0)), fit(leaf.spot(along + 0.02, (across + inner) / 2)), INK, 5)
    corners = [(along, across), (far, across), (far, inner), (along, inner)]
    pen.shape(fit.all(leaf.spot(*corner) for corner in corners), WHITE, INK, 1.8)


def _between(a: Point, b: Point) -> pygame.Rect:
    left, top = min(a[0], b[0]), min(a[1], b[1])
    return pygame.Rect(round(left), round(top), round(abs(a[0] - b[0])), round(abs(a[1] - b[1])))

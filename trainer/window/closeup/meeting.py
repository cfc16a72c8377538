"""The meeting edge from above: the cover strip, its leaf and its face, and which leaf is free to open first."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.closeup.figures import millimetres, when_shut
from trainer.window.closeup.ruler import Fit, Point, dimension, masonry
from trainer.window.kit.style import GO, INK, SOFT, TAB, WHITE
from trainer.window.plan.leaves import LEAF_COLOURS, leaf_name, slip_text

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View
    from trainer.window.kit.pen import Pen

NEARLY_SHUT_DEG: Final = 4.0
"""Beyond this the edges are out of the picture: they are drawn as when shut, and the words say so."""

HALF_M: Final = 0.26
"""Half of what is shown along the opening [m]."""

DEEP_M: Final = 0.12
"""And to either side of it [m]."""


def draw_meeting(pen: Pen, area: pygame.Rect, view: View) -> None:
    """Both edges and the strip; an arrow on the leaf that must open first, unless that is to be found out."""
    px = pen.style.px
    shut = any(abs(leaf.angle_deg) > NEARLY_SHUT_DEG for leaf in view.leaves)
    leaves = tuple(replace(leaf, angle_deg=0.0) for leaf in view.leaves) if shut else view.leaves
    gap = when_shut(view)
    middle = view.leaves[0].width_m + gap / 2
    fit = Fit(area, [(middle - HALF_M, -DEEP_M), (middle + HALF_M, DEEP_M)])
    with pen.clip(area):
        for leaf in leaves:
            _edge(pen, fit, view, leaf)
        if len(leaves) == 1:
            masonry(pen, fit.all([(view.opening_m, -DEEP_M * 0.8), (view.opening_m + 1.0, DEEP_M * 0.8)]))
        level = -(leaves[0].thickness_m / 2 + 0.035)
        left, right = fit((middle - gap / 2, level)), fit((middle + gap / 2, level))
        for end in (left, right):
            pen.line((end[0], fit((0.0, 0.0))[1]), (end[0], end[1] + px(5)), SOFT, 1)
        beside = -(right[0] - left[0]) / 2 / pen.style.scale - 30  # there is no room for words between the ends
        dimension(pen, left, right, millimetres(gap), (beside, 0))
        if view.mode == "practice" and len(leaves) > 1:
            _free(pen, fit, next(leaf for leaf in leaves if leaf.name == view.opens_first))
    slip_text(pen, _("inside"), (area.right, area.top + px(8)), SOFT, "right")
    foot = _("outside") if not shut else _("outside · drawn as when shut")
    slip_text(pen, foot, (area.right, area.bottom - px(8)), SOFT, "right")


def _edge(pen: Pen, fit: Fit, view: View, leaf: LeafView) -> None:
    wide, half, back = leaf.width_m, leaf.thickness_m / 2, leaf.width_m - 0.6

    def place(along: float, off: float) -> Point:
        return fit(leaf.spot(along, off))

    pen.shape([place(back, -half), place(wide, -half), place(wide, half), place(back, half)], WHITE, INK, 1.8)
    if view.strip_carrier == leaf.name:
        side = 1.0 if view.strip_face == leaf.opens_towards else -1.0
        thick = max(0.005, pen.style.px(4) / fit.scale)
        near, far = side * half, side * (half + thick)
        start, end = wide - 0.05, wide + when_shut(view) + view.strip_overlap_m
        pen.shape([place(start, near), place(end, near), place(end, far), place(start, far)], TAB, INK, 1.4)
        slip_text(pen, _("cover strip"), _beyond(pen, place(wide, far), place(wide, near)), INK, "centre")
    at = place(wide - 0.15, 0.0)
    slip_text(pen, leaf_name(leaf.name), at, LEAF_COLOURS[leaf.name], "centre")


def _beyond(pen: Pen, far: Point, near: Point) -> Point:
    """Beside the strip, away from the leaf."""
    return far[0], far[1] + pen.style.px(12) * (1 if far[1] > near[1] else -1)


def _free(pen: Pen, fit: Fit, leaf: LeafView) -> None:
    """An arrow out of the leaf that must open first, the way it opens."""
    px, half = pen.style.px, leaf.thickness_m / 2
    base, head = fit(leaf.spot(leaf.width_m - 0.15, half)), fit(leaf.spot(leaf.width_m - 0.15, half + 0.05))
    way = 1 if head[1] > base[1] else -1
    pen.line(base, head, GO, 2)
    pen.shape([(head[0], head[1] + way * px(8)), (head[0] - px(5), head[1]), (head[0] + px(5), head[1])], GO, None)
    slip_text(pen, _("opens first"), (head[0], head[1] + way * px(17)), GO, "centre")

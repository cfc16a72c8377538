"""A drive from above with its lever arm: how far the line of its ram, or of its arm's link, passes by the hinge."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.closeup.figures import millimetres
from trainer.window.closeup.ruler import Fit, Point, dimension
from trainer.window.kit.style import INK, SOFT, WHITE, WIRE
from trainer.window.plan.brush import FINE, Brush
from trainer.window.plan.drives import corners, paint_drive, paint_lid
from trainer.window.plan.leaves import slip_text

if TYPE_CHECKING:
    from trainer.session.view import LeafView
    from trainer.window.kit.pen import Pen

BEYOND_M = 0.3
"""How much of the leaf is shown beyond the bracket [m]."""


def foot_of_lever(leaf: LeafView) -> Point:
    """Where the line of ram or link passes nearest to the hinge, on the plan [m]."""
    (ax, ay), (bx, by) = leaf.drive_xy_m[-2:]
    hx, hy = leaf.hinge_xy_m
    dx, dy = bx - ax, by - ay
    part = ((hx - ax) * dx + (hy - ay) * dy) / (dx * dx + dy * dy)
    return ax + part * dx, ay + part * dy


def draw_drive(pen: Pen, area: pygame.Rect, leaf: LeafView) -> None:
    """Leaf, drive and lever arm at the present angle."""
    reach = leaf.drive.mounting.bracket[0] + BEYOND_M
    half = leaf.thickness_m / 2
    lever = len(leaf.drive_xy_m) > 1
    shown = [*corners(leaf), leaf.hinge_xy_m, leaf.spot(reach, half), leaf.spot(reach, -half)]
    if lever:
        shown.append(foot_of_lever(leaf))
    px = pen.style.px
    fit = Fit(area.inflate(-px(36), -px(44)), shown)
    key = ("drive close-up", leaf.name, leaf.angle_deg, leaf.engaged, leaf.drive, area.size, pen.style.scale)

    def paint(large: pygame.Surface, times: int) -> None:
        def on_picture(point: Point) -> Point:
            x, y = fit(point)
            return (x - area.left) * times, (y - area.top) * times

        brush = Brush(large, times * pen.style.scale, on_picture, pen.style.seen)
        paint_lid(brush, leaf)
        frame = [leaf.spot(*corner) for corner in ((0, -half), (reach, -half), (reach, half), (0, half))]
        brush.bar([on_picture(corner) for corner in frame], WHITE, INK)
        paint_drive(brush, leaf)
        brush.dot(on_picture(leaf.hinge_xy_m), 5 if lever else 2.5, INK)

    pen.surface.blit(pen.sprites.get(key, area.size, pen.style.seen(INK), paint, FINE), area)
    hinge = fit(leaf.hinge_xy_m)
    if lever:
        foot = fit(foot_of_lever(leaf))
        near = fit(leaf.drive_xy_m[-2])
        pen.dashes(near, foot, WIRE, 1.2, 5, 4)
        dimension(pen, hinge, foot, "", colour=WIRE)
        words = _("lever arm {length}").format(length=millimetres(leaf.lever_m))
        away = 1 if hinge[1] >= foot[1] else -1
        slip_text(pen, words, (hinge[0], hinge[1] + away * px(18)), WIRE, "centre")
    else:
        slip_text(pen, _("turns the hinge pin"), (hinge[0], hinge[1] + px(24)), SOFT, "centre")

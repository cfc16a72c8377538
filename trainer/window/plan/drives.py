"""Drives as they are drawn on the plan, each by its true geometry: ram, arm with its knee, box in the ground."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from trainer.language import _
from trainer.window.kit.style import FAINT, INK, SHEET, WHITE, Colour
from trainer.window.plan.brush import Brush, Point, between

if TYPE_CHECKING:
    from trainer.session.view import LeafView

STEEL: Final[Colour] = (112, 124, 134)
OIL: Final[Colour] = (150, 128, 84)
"""Body of a hydraulic ram; the words under the mouse say what it is."""

BOX_M: Final = 0.15
"""Half the side of the lid over a drive in the ground, as it is drawn everywhere [m]."""

GEAR_M: Final = 0.11
"""Half the side of an arm's gearbox, as it is drawn everywhere [m]."""

BODY_PART: Final = 0.58
"""How much of a ram, pivot to pivot, is its body; the rest is the rod. Ours: the view has no inner parts."""


def drive_words(leaf: LeafView) -> str:
    """What drives a leaf, and whether it holds it."""
    kinds = {
        "linear ram": _("linear ram"),
        "hydraulic ram": _("hydraulic ram"),
        "articulated arm": _("articulated arm"),
        "underground": _("drive in the ground"),
    }
    state = _("holds the leaf") if leaf.engaged else _("released")
    return f"{kinds[leaf.drive.kind]}, {state}"


def corners(leaf: LeafView) -> tuple[Point, ...]:
    """Points on the plan [m] that a drawing of the drive must have room for."""
    pivots = leaf.drive_xy_m
    reach = BOX_M if len(pivots) == 1 else GEAR_M
    x, y = pivots[0]
    return (*pivots, (x - reach, y - reach), (x + reach, y + reach))


def paint_lid(brush: Brush, leaf: LeafView) -> None:
    """The lid of a drive in the ground, below the leaf; nothing for the others."""
    if len(leaf.drive_xy_m) != 1:
        return
    _square(brush, leaf.drive_xy_m[0], BOX_M, SHEET)
    x, y = leaf.drive_xy_m[0]
    for part in (-0.5, 0.0, 0.5):
        a, b = (x - BOX_M, y + part * BOX_M), (x + BOX_M, y + part * BOX_M)
        brush.stroke(brush.place(a), brush.place(b), FAINT, 1.0)


def paint_drive(brush: Brush, leaf: LeafView) -> None:
    """What is to be seen of a drive above the leaf. Where it is released, it does not reach the leaf."""
    pivots = [brush.place(pivot) for pivot in leaf.drive_xy_m]
    if len(pivots) == 1:
        brush.dot(pivots[0], 7.0, STEEL if leaf.engaged else WHITE, INK)
    elif len(pivots) == 2:
        _ram(brush, pivots[0], pivots[1], leaf.engaged, OIL if leaf.drive.kind == "hydraulic ram" else STEEL)
    else:
        _arm(brush, leaf, pivots)


def _ram(brush: Brush, post: Point, bracket: Point, engaged: bool, body: Colour) -> None:
    body_end = between(post, bracket, BODY_PART)
    if engaged:
        brush.stroke(body_end, bracket, INK, 2.4)
    else:
        brush.stroke(body_end, between(body_end, bracket, 0.45), FAINT, 2.4)
    brush.stroke(post, body_end, INK, 8.4)
    brush.stroke(post, body_end, body, 5.6)
    if body is OIL:  # the collar that a rod runs out of
        brush.stroke(between(post, bracket, BODY_PART - 0.05), body_end, INK, 10.4)
    brush.dot(post, 3.4, INK)
    _pivot(brush, bracket, engaged)


def _arm(brush: Brush, leaf: LeafView, pivots: list[Point]) -> None:
    axis, knee, bracket = pivots
    _square(brush, leaf.drive_xy_m[0], GEAR_M, STEEL)
    if leaf.engaged:
        brush.stroke(knee, bracket, INK, 3.2)
    else:
        brush.stroke(knee, between(knee, bracket, 0.6), FAINT, 3.2)
    brush.stroke(axis, knee, INK, 7.0)
    brush.stroke(axis, knee, STEEL, 4.2)
    brush.dot(axis, 4.4, WHITE, INK)
    brush.dot(knee, 4.4, WHITE, INK)
    _pivot(brush, bracket, leaf.engaged)


def _pivot(brush: Brush, at: Point, engaged: bool) -> None:
    if engaged:
        brush.dot(at, 3.4, INK)
    else:
        brush.dot(at, 4.4, WHITE, INK)


def _square(brush: Brush, at: Point, half_m: float, fill: Colour) -> None:
    x, y = at
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    brush.bar([brush.place((x + a * half_m, y + b * half_m)) for a, b in signs], fill, INK, 1.4)

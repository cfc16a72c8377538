"""What is held in the gap at a leaf's hinge, where it is, and how hard it is squeezed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import BODY, INK, SOFT, STOP
from trainer.window.plan.leaves import slip_text
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.view import LeafView
    from trainer.window.kit.pen import Pen

FELT_N = 1.0
"""Less than this is not shown as a squeeze [N]."""


def held_words(leaf: LeafView) -> str:
    """What is held there and how hard it is squeezed."""
    if leaf.gap.force_n < FELT_N:
        return _(leaf.gap.held)
    return _("{force:.0f} N on the {what}").format(force=leaf.gap.force_n, what=_(leaf.gap.held))


def gap_words(leaf: LeafView) -> str:
    """The same with the width of the gap."""
    return _("{held} in the gap at the hinge, {wide:.0f} mm now").format(
        held=held_words(leaf), wide=leaf.gap.now_m * 1000
    )


def draw_held(pen: Pen, port: Viewport, leaf: LeafView) -> pygame.Rect | None:
    """What is held in the gap, between the heel's corner and the post; answers where it is."""
    if not leaf.gap.held:
        return None
    gap, turned = leaf.gap, math.radians(leaf.angle_deg)
    cos, sin = math.cos(turned), math.sin(turned)
    heel = (gap.heel_along_m * cos - gap.heel_across_m * sin, gap.heel_along_m * sin + gap.heel_across_m * cos)
    x, y = port.to_screen(*leaf.axes.on_plan(((heel[0] - gap.post_m) / 2, heel[1])))
    squeezed = gap.force_n >= FELT_N
    colour = STOP if squeezed else INK
    px = pen.style.px
    pen.dot((x, y), 5, BODY, colour)
    side = 1 if port.outwards else -1  # towards the side that the leaves open to
    away = -1 if leaf.name == "active" else 1
    at = (x + away * px(16), y + side * px(11))
    anchor = "right" if leaf.name == "active" else "left"
    face = Face.BOLD if squeezed else Face.REGULAR
    words = _("{force:.0f} N at the hinge").format(force=gap.force_n) if squeezed else _(gap.held)
    slip_text(pen, words, at, colour if squeezed else SOFT, anchor, face)
    return pygame.Rect(round(x) - px(8), round(y) - px(8), px(16), px(16))

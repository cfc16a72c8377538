"""What is touched or tripped, so that it is seen at once: a star where it happens, a flag with a sign and words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import SMALL, SOFT, STOP, STOP_WASH, WHITE
from trainer.window.plan.brush import Point
from trainer.window.plan.leaves import leaf_name, placed, slip_text
from trainer.window.plan.viewport import Viewport
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View
    from trainer.window.kit.pen import Pen

FELT_N: Final = 1.0
"""Less than this is not shown as a touch [N]."""

STAR_POINTS: Final = 9


def pressed_n(leaf: LeafView) -> float:
    """How hard a leaf presses on what it touches, what is squeezed at its hinge apart [N]; 0 where it isn't felt."""
    force = leaf.contact_n - leaf.gap.force_n
    return force if leaf.touching and force > FELT_N else 0.0


def contact_words(leaf: LeafView) -> str:
    """On what it presses and how hard."""
    return _("{force:.0f} N on {what}").format(force=pressed_n(leaf), what=_(leaf.touching))


def touched_by(view: View, body: str) -> str:
    """Which leaf presses on a body and how hard, in words; '' for none."""
    leaf = next((leaf for leaf in view.leaves if leaf.touching == body and pressed_n(leaf) > 0.0), None)
    if leaf is None:
        return ""
    return _("touched by the {leaf}, {force:.0f} N").format(leaf=leaf_name(leaf.name), force=pressed_n(leaf))


def contact_spot(view: View, leaf: LeafView) -> tuple[float, float]:
    """Where a leaf presses: how far from its hinge [m], and 1 on the side it opens to, −1 on the one it closes to."""
    body = next((body for body in view.bodies if body.name == leaf.touching), None)
    if body is not None:
        x, y = leaf.axes.own((body.x_m, body.y_m))
        turn = math.radians(leaf.angle_deg)
        along = x * math.cos(turn) + y * math.sin(turn)
        off = y * math.cos(turn) - x * math.sin(turn)
        return max(0.0, min(along, leaf.width_m)), 1.0 if off > 0.0 else -1.0
    opening = leaf.touching == "open stop" or (view.gauge is not None and view.gauge_direction == "opening")
    return leaf.width_m, 1.0 if opening else -1.0


def draw_contact(pen: Pen, port: Viewport, view: View, leaf: LeafView) -> pygame.Rect | None:
    """An arrow that presses, its force in words; a star and a flag unless it is only a stop. Answers where it is."""
    if not pressed_n(leaf):
        return None
    px = pen.style.px
    along, side = contact_spot(view, leaf)
    at = port.to_screen(*leaf.spot(along, 0.0))
    off = port.to_screen(*leaf.spot(along, side))
    length = math.hypot(off[0] - at[0], off[1] - at[1]) or 1.0
    ux, uy = (off[0] - at[0]) / length, (off[1] - at[1]) / length
    calm = leaf.touching in ("open stop", "closed stop")
    colour = SOFT if calm else STOP
    base, head = (at[0] + ux * px(34), at[1] + uy * px(34)), (at[0] + ux * px(8), at[1] + uy * px(8))
    pen.line(base, (head[0] + ux * px(4), head[1] + uy * px(4)), colour, 2)
    wing, back = px(5), px(9)
    wings = [(head[0] + ux * back - way * uy * wing, head[1] + uy * back + way * ux * wing) for way in (1, -1)]
    pen.shape([head, *wings], colour, None)
    if calm:
        words_at = (base[0], base[1] + uy * px(12))
        slip_text(pen, contact_words(leaf), words_at, colour, "centre", Face.BOLD, must=True)
    else:
        draw_star(pen, at)
        draw_flag(pen, contact_words(leaf), (at[0] - ux * px(34), at[1] - uy * px(28)))  # clear of what is touched
    return pygame.Rect(round(at[0]) - px(16), round(at[1]) - px(16), px(32), px(32))


def draw_star(pen: Pen, at: Point) -> None:
    """A jagged ring round a point: here something is touched or cut."""
    far, near = pen.style.px(15), pen.style.px(9)
    turns = [math.pi * n / STAR_POINTS for n in range(2 * STAR_POINTS)]
    reaches = [far if n % 2 == 0 else near for n in range(2 * STAR_POINTS)]
    corners = [(at[0] + r * math.sin(t), at[1] - r * math.cos(t)) for r, t in zip(reaches, turns, strict=True)]
    pen.shape(corners, None, STOP, 2)


def draw_flag(pen: Pen, words: str, at: Point, anchor: str = "centre") -> None:
    """Words in a frame behind a triangle with a stroke in it; kept inside the drawing, before all other words."""
    pen.put(lambda: _flag(pen, first_upper(words), at, anchor), first=True)


def _flag(pen: Pen, told: str, at: Point, anchor: str) -> None:
    px = pen.style.px
    inside = pen.surface.get_clip().inflate(-8, -8)
    wide = min(pen.style.width(told, SMALL, Face.BOLD) + px(32), inside.width)
    wished = placed((wide, px(20)), at, anchor).clamp(inside)
    flag = pen.free(wished, must=True) or wished
    pen.box(flag, STOP_WASH, STOP, 2, 1.6)
    x, y, reach = flag.left + px(13), flag.centery, px(7)
    pen.shape([(x, y - reach), (x + reach, y + px(6)), (x - reach, y + px(6))], STOP, None)
    pen.line((x, y - px(3)), (x, y + px(1)), WHITE, 2)
    pen.line((x, y + px(3)), (x, y + px(4)), WHITE, 2)
    words_at = pygame.Rect(flag.left + px(25), flag.top, flag.width - px(29), flag.height)
    pen.text_in(told, words_at, SMALL, STOP, Face.BOLD)

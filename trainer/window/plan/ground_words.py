"""Words on the ground of the plan: sides, walls, what lies under the leaves, the opening's width, the barrier.

They make way for words of what happens, and are left out where there is no room.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import INK, SHEET, SMALL, SOFT, STOP, WIRE, Colour
from trainer.window.plan.frame import is_small, weather_height
from trainer.window.plan.ground import cordon_rect, dimension_ends, posts_of, ridge_spread
from trainer.window.plan.leaves import placed, slip_text
from trainer.window.plan.tools import tools_height
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.view import LeafView, RidgeView, View
    from trainer.window.kit.pen import Pen


def draw_ground_words(pen: Pen, port: Viewport, view: View) -> None:
    """All of them."""
    _opening(pen, port, view)
    if view.cordoned:
        rect = cordon_rect(port, view)
        wide = pen.style.width(_("barrier"), SMALL, Face.REGULAR) + pen.style.px(12)
        place = placed((wide, pen.style.px(18)), (rect.centerx, rect.top), "centre")
        _put(pen, _("barrier"), place.clamp(port.area), SMALL, STOP, SHEET)
    _sides(pen, port, view)
    posts = posts_of(view)
    for name, *wall in view.walls:
        if tuple(wall) not in posts:
            _wall(pen, port, _(name), port.rect(*wall), wall[0] < port.opening_m / 2)
    if view.loop is not None:
        slip_text(pen, _("presence loop"), port.to_screen(*view.loop[:2]), WIRE, "centre")
    for leaf in view.leaves:
        for ridge in leaf.ground:
            _ridge(pen, port, leaf, ridge)


def _put(pen: Pen, words: str, place: pygame.Rect, size: float, colour: Colour, ground: Colour | None = None) -> None:
    """Words in the middle of a box, where that or another place near it is free."""

    def put() -> None:
        free = pen.free(place)
        if free is not None:
            if ground is not None:
                pen.fill(free, ground)
            pen.text_in(words, free, size, colour, anchor="centre")

    pen.put(put, first=False)


def _opening(pen: Pen, port: Viewport, view: View) -> None:
    left, right, y = dimension_ends(pen, port, view)
    words = f"{view.opening_m:.2f} m"
    size = (pen.style.width(words, 13, Face.REGULAR) + pen.style.px(12), pen.style.px(18))
    _put(pen, words, placed(size, (left + 0.3 * (right - left), y), "centre"), 13, INK, SHEET)


def _sides(pen: Pen, port: Viewport, view: View) -> None:
    margin, taken = pen.style.px(16), weather_height(pen.style, port, view)
    head, foot = (taken, 0) if port.outwards else (0, taken)
    head += tools_height(pen.style, is_small(pen.style, port))
    foot = max(foot, pen.style.px(18))
    left, high = port.area.left + margin, pen.style.line(13, Face.REGULAR)
    for words, y in (
        (_("inside"), port.area.top + head + margin),
        (_("outside"), port.area.bottom - foot - margin),
    ):
        size = (pen.style.width(words, 13, Face.REGULAR) + pen.style.px(6), high)
        _put(pen, words, placed(size, (left - pen.style.px(3), y), "left"), 13, SOFT, SHEET)


def _wall(pen: Pen, port: Viewport, name: str, rect: pygame.Rect, left: bool) -> None:
    """Along a wall's foot inside of what is shown of it, else beside its end."""
    shown, px = rect.clip(port.area), pen.style.px
    wide = pen.style.width(name, SMALL, Face.REGULAR)
    if shown.width > wide + px(8):
        at, anchor = shown.left + px(8) if left else shown.right - px(8), "left" if left else "right"
    else:
        at, anchor = rect.right if left else rect.left, "right" if left else "left"
    place = placed((wide, pen.style.line(SMALL, Face.REGULAR)), (at, rect.bottom + px(11)), anchor)
    if place.colliderect(port.area):
        _put(pen, name, place.clamp(port.area.inflate(-8, -8)), SMALL, SOFT)


def _ridge(pen: Pen, port: Viewport, leaf: LeafView, ridge: RidgeView) -> None:
    """Name, place and height of something under the leaf."""
    near, _far, _reach = ridge_spread(port, leaf, ridge)
    x, y = port.to_screen(*leaf.spot(near, 0.0, ridge.at_deg))
    out = leaf.spot(0.0, 0.0)
    hinge_x, hinge_y = port.to_screen(*out)
    length = math.hypot(hinge_x - x, hinge_y - y) or 1.0
    away = pen.style.px(12) / length
    words = _("{name} · {at:.0f}° · {high:.0f} mm").format(
        name=_(ridge.name), at=ridge.at_deg, high=ridge.height_m * 1000
    )
    at = (x + (hinge_x - x) * away, y + (hinge_y - y) * away)
    slip_text(pen, words, at, SOFT, "left" if leaf.name == "active" else "right")

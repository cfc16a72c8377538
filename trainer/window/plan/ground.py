"""What stands still on the plan: grid, masonry, posts, arcs, what lies under the leaves, dimension line, cabinet."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import pygame

from trainer.language import _
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, GRID, HATCH, INK, POST, RULE, SHEET, SMALL, SOFT, STOP, WHITE, WIRE
from trainer.window.plan.frame import block_height
from trainer.window.plan.viewport import FRONT_M, Viewport

if TYPE_CHECKING:
    from trainer.session.view import LeafView, RidgeView, View
    from trainer.window.kit.pen import Pen

DIMENSION_M: Final = 1.22
"""How far from the opening the dimension line lies at most, on the side the leaves don't open to: beyond the barrier,
if the title block leaves room for it [m]."""

BARRIER_M: Final = 1.05
"""How far from the opening barriers are put up, on the side the leaves don't open to [m]."""

APART_M: Final = 0.15
"""Least distance of the dimension line from the barrier [m]."""

POST_M = (0.36, 0.4)
"""Across and along [m]; the view holds no size of the posts, so that they are drawn alike everywhere."""

RIDGE_M: Final = 0.14
"""Half the length of a ridge along the leaf, as it is drawn: a site says where it lies and how high [m]."""

POST_NEAR_M = 0.3
"""Masonry no further from the hinge than this is its post [m]."""

CABINET_M = (0.95, 0.38, 0.8, 0.5)
"""Beside the post at the end of the opening, from its face [m]: the view holds no place of the cabinet."""


def draw_ground(pen: Pen, port: Viewport, view: View) -> None:
    """Everything below the leaves, without words."""
    _grid(pen, port)
    posts = posts_of(view)
    for _name, *place in view.walls:
        if tuple(place) not in posts:
            _masonry(pen, port.rect(*place))
    for post, hinge in zip(posts, (0.0, view.opening_m), strict=True):
        _post(pen, port, post, hinge)
    if view.loop is not None:
        _loop(pen, port, view.loop)
    for leaf in view.leaves:
        for ridge in leaf.ground:
            _ridge(pen, port, leaf, ridge)
        _arc(pen, port, leaf)
    _dimension(pen, port, view)
    if view.cordoned:
        _cordon(pen, port, view)


def posts_of(view: View) -> tuple[tuple[float, float, float, float], tuple[float, float, float, float]]:
    """Post of the active leaf, and that of the inactive one or the closing post: the site's masonry there, else drawn
    alike [m]."""
    found = []
    for hinge, side in ((0.0, -1.0), (view.opening_m, 1.0)):
        post = (hinge - POST_M[0] if side < 0 else hinge, -POST_M[1] / 2, *POST_M)
        for _name, x, y, along_x, along_y in view.walls:
            gap = hinge - (x + along_x) if side < 0 else x - hinge
            if -0.05 <= gap <= POST_NEAR_M and y <= 0.0 <= y + along_y and along_x <= 2 * POST_M[0]:
                post = (x, y, along_x, along_y)
        found.append(post)
    return found[0], found[1]


def _post(pen: Pen, port: Viewport, post: tuple[float, float, float, float], hinge: float) -> None:
    rect = port.rect(*post)
    pin, y = port.to_screen(hinge, 0.0)
    pen.line((rect.centerx, y), (pin, y), INK, 3)
    pen.fill(rect, POST)
    pen.box(rect, None, INK, 0, 1.6)


def _grid(pen: Pen, port: Viewport) -> None:
    left, top = port.to_plan(port.area.topleft)
    right, bottom = port.to_plan(port.area.bottomright)
    step = 0.25
    for n in range(math.floor(left / step), math.ceil(right / step) + 1):
        x, _y = port.to_screen(n * step, 0)
        pen.line((x, port.area.top), (x, port.area.bottom), GRID)
    for n in range(math.floor(bottom / step), math.ceil(top / step) + 1):
        _x, y = port.to_screen(0, n * step)
        pen.line((port.area.left, y), (port.area.right, y), GRID)


def _masonry(pen: Pen, rect: pygame.Rect) -> None:
    pen.fill(rect, SHEET)
    step = pen.style.px(9)
    with pen.clip(rect.inflate(-2, -2)):
        for start in range(rect.left - rect.height, rect.right, step):
            pen.line((start, rect.bottom), (start + rect.height, rect.top), HATCH, 2)
    pen.box(rect, None, INK, 0, 1.4)


def _loop(pen: Pen, port: Viewport, loop: tuple[float, float, float, float]) -> None:
    """The presence loop: a slot in the ground with its corners cut, so that the wire lies without a kink."""
    x, y, along_x, along_y = loop
    a, b, cut = along_x / 2, along_y / 2, min(0.15, along_x / 5, along_y / 5)
    corners = [
        *((x - a + cut, y - b), (x + a - cut, y - b), (x + a, y - b + cut), (x + a, y + b - cut)),
        *((x + a - cut, y + b), (x - a + cut, y + b), (x - a, y + b - cut), (x - a, y - b + cut)),
    ]
    places = [port.to_screen(*corner) for corner in corners]
    for one, other in zip(places, (*places[1:], places[0]), strict=True):
        pen.dashes(one, other, WIRE, 1.4, 2, 4)


def _arc(pen: Pen, port: Viewport, leaf: LeafView) -> None:
    """The way of the leaf's closing edge."""
    step = math.degrees(7.0 * pen.style.scale / (leaf.width_m * port.scale))
    angle = 0.0
    while angle < leaf.open_stop_deg:
        a = port.to_screen(*leaf.spot(leaf.width_m, 0.0, angle))
        b = port.to_screen(*leaf.spot(leaf.width_m, 0.0, angle + step * 0.4))
        pen.line(a, b, FIELD)
        angle += step


def _ridge(pen: Pen, port: Viewport, leaf: LeafView, ridge: RidgeView) -> None:
    """Something under the leaf: hatched from foot to crest to foot, with its name, place and height."""
    near, far, reach = ridge_spread(port, leaf, ridge)
    step = math.degrees(pen.style.px(5) / (ridge.radius_m * port.scale))
    for n in range(-math.floor(reach / step), math.floor(reach / step) + 1):
        angle = ridge.at_deg + n * step
        a, b = (port.to_screen(*leaf.spot(at, 0.0, angle)) for at in (near, far))
        pen.line(a, b, FIELD if n == 0 else HATCH, 2.4 if n == 0 else 1.4)


def ridge_spread(port: Viewport, leaf: LeafView, ridge: RidgeView) -> tuple[float, float, float]:
    """(nearest and farthest from the hinge [m], half its spread [°]) as drawn: never too small to be seen."""
    half = max(RIDGE_M, 6.0 / port.scale)
    far = min(ridge.radius_m + half, leaf.width_m)
    return far - 2 * half, far, max(ridge.reach_deg, math.degrees(8.0 / (ridge.radius_m * port.scale)))


def ridge_rect(port: Viewport, leaf: LeafView, ridge: RidgeView) -> pygame.Rect:
    """Where a ridge lies on the screen."""
    near, far, reach = ridge_spread(port, leaf, ridge)
    spots = [
        port.to_screen(*leaf.spot(at, 0.0, ridge.at_deg + part * reach)) for at in (near, far) for part in (-1, 0, 1)
    ]
    xs, ys = [x for x, _y in spots], [y for _x, y in spots]
    return pygame.Rect(min(xs), min(ys), max(max(xs) - min(xs), 1), max(max(ys) - min(ys), 1))


def dimension_ends(pen: Pen, port: Viewport, view: View) -> tuple[float, float, float]:
    """Left and right end of the dimension line and its level [px]."""
    above_block = FRONT_M - (block_height(pen, port) + pen.style.px(13)) / port.fitted
    out = min(DIMENSION_M, above_block)
    if view.cordoned and out < BARRIER_M + APART_M:
        out = min(out, BARRIER_M - APART_M)
    level = out if port.outwards else -out
    left, y = port.to_screen(0, level)
    return left, port.to_screen(view.opening_m, level)[0], y


def _dimension(pen: Pen, port: Viewport, view: View) -> None:
    left, right, y = dimension_ends(pen, port, view)
    tick = pen.style.px(9)
    pen.line((left, y), (right, y), SOFT)
    for x in (left, right):
        pen.line((x, y - tick), (x, y + tick), SOFT)
        pen.line((x - tick / 2, y + tick / 2), (x + tick / 2, y - tick / 2), SOFT, 1.4)


def cordon_rect(port: Viewport, view: View) -> pygame.Rect:
    """Where barriers stand [px]."""
    reach = max(leaf.width_m for leaf in view.leaves) + 0.45
    foot = -reach if port.outwards else -BARRIER_M
    return port.rect(-0.55, foot, view.opening_m + 1.1, reach + BARRIER_M)


def _cordon(pen: Pen, port: Viewport, view: View) -> None:
    rect = cordon_rect(port, view)
    corners = [rect.topleft, rect.topright, rect.bottomright, rect.bottomleft]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        pen.line(a, b, WHITE, 3)
        pen.dashes(a, b, STOP, 3, 10, 10)
    for corner in corners:
        pen.dot(corner, 5, WHITE, STOP)


def draw_cabinet(pen: Pen, port: Viewport, view: View) -> pygame.Rect:
    """The cabinet and whether it has a source; answers where it is."""
    rect = port.rect(view.opening_m + CABINET_M[0], CABINET_M[1], CABINET_M[2], CABINET_M[3])
    pen.fill(rect, WHITE)
    pen.box(rect, None, INK, 0, 1.6)
    pen.taken.append(rect)
    pen.line((rect.left, rect.top + pen.style.px(4)), (rect.right - 1, rect.top + pen.style.px(4)), RULE)
    px = pen.style.px
    inside = pen.style.width(_("has power"), 10, Face.REGULAR) < rect.width and rect.height > px(34)
    y = rect.centery - px(5) if inside else rect.top - px(10)
    told, colour = (_("has power"), STOP) if view.board_on else (_("no power"), SOFT)
    pen.taken.append(pen.text(_("cabinet"), (rect.centerx, y), SMALL, INK, anchor="centre"))
    if inside:
        pen.taken.append(pen.text(told, (rect.centerx, y + px(14)), 10, colour, anchor="centre"))
    return rect

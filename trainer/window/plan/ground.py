"""What stands still on the plan: grid, masonry, posts, arcs, dimension line, title block, north and wind."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, GRID, HATCH, INK, POST, RULE, SHEET, SMALL, SOFT, STOP, WHITE, WIRE
from trainer.window.plan.viewport import Viewport, leaf_point
from trainer.window.words import _

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.kit.pen import Pen

DIMENSION_M: Final = -1.22
"""Where the dimension line lies: below the barrier, above the title block of a small window [m]."""

POST_M = (0.36, 0.4)
"""Across and along [m]; the view holds no size of the posts, so that they are drawn alike everywhere."""

POST_NEAR_M = 0.3
"""Masonry no further from the hinge than this is its post [m]."""

CABINET_M = (0.95, 0.38, 0.8, 0.5)
"""Beside the inactive post, from its hinge [m]: the view holds no place of the cabinet."""


def draw_ground(pen: Pen, port: Viewport, view: View) -> None:
    """Everything below the leaves."""
    _grid(pen, port)
    _places(pen, port, view)
    posts = posts_of(view)
    for name, *place in view.walls:
        if tuple(place) not in posts:
            _masonry(pen, port, name, *place)
    for post, hinge in zip(posts, (0.0, view.opening_m), strict=True):
        _post(pen, port, post, hinge)
    _arcs(pen, port, view)
    _dimension(pen, port, view)
    if view.cordoned:
        _cordon(pen, port, view)


def posts_of(view: View) -> tuple[tuple[float, float, float, float], tuple[float, float, float, float]]:
    """Posts of the active and the inactive leaf: the site's masonry beside the hinge, else drawn alike [m]."""
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
    pygame.draw.rect(pen.surface, INK, rect, pen.style.px(1.6))


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


def _places(pen: Pen, port: Viewport, view: View) -> None:
    margin = pen.style.px(16)
    pen.text(_("inside"), (port.area.left + margin, port.area.top + margin), 13, SOFT)
    pen.text(_("outside"), (port.area.left + margin, port.area.bottom - margin - pen.style.px(18)), 13, SOFT)


def _masonry(pen: Pen, port: Viewport, name: str, x: float, y: float, along_x: float, along_y: float) -> None:
    rect = port.rect(x, y, along_x, along_y)
    pen.fill(rect, SHEET)
    step = pen.style.px(9)
    with pen.clip(rect.inflate(-2, -2)):
        for start in range(rect.left - rect.height, rect.right, step):
            pen.line((start, rect.bottom), (start + rect.height, rect.top), HATCH, 2)
    pygame.draw.rect(pen.surface, INK, rect, pen.style.px(1.4))
    shown, px = rect.clip(port.area), pen.style.px
    if shown.width > pen.style.width(name, SMALL, Face.REGULAR) + px(8):
        left = x < port.opening_m / 2
        at = (shown.left + px(8) if left else shown.right - px(8), rect.bottom + px(11))
        pen.text(name, at, SMALL, SOFT, anchor="left" if left else "right")
    else:
        left = x < port.opening_m / 2
        at = (rect.right if left else rect.left, rect.bottom + px(11))
        pen.text(name, at, SMALL, SOFT, anchor="right" if left else "left")


def _arcs(pen: Pen, port: Viewport, view: View) -> None:
    for leaf in view.leaves:
        active = leaf.name == "active"
        step = math.degrees(7.0 * pen.style.scale / (leaf.width_m * port.scale))
        angle = 0.0
        while angle < leaf.open_stop_deg:
            a = port.to_screen(*leaf_point(view.opening_m, active, angle, leaf.width_m, 0))
            b = port.to_screen(*leaf_point(view.opening_m, active, angle + step * 0.4, leaf.width_m, 0))
            pen.line(a, b, FIELD)
            angle += step


def _dimension(pen: Pen, port: Viewport, view: View) -> None:
    left, y = port.to_screen(0, DIMENSION_M)
    right, _y = port.to_screen(view.opening_m, DIMENSION_M)
    tick = pen.style.px(9)
    pen.line((left, y), (right, y), SOFT)
    for x in (left, right):
        pen.line((x, y - tick), (x, y + tick), SOFT)
        pen.line((x - tick / 2, y + tick / 2), (x + tick / 2, y - tick / 2), SOFT, 1.4)
    words = f"{view.opening_m:.2f} m"
    place = pygame.Rect(0, 0, pen.style.width(words, 13, Face.REGULAR) + pen.style.px(12), pen.style.px(18))
    place.center = (round(left + 0.3 * (right - left)), round(y))
    pen.box(place, SHEET, None)
    pen.text(words, place.center, 13, INK, anchor="centre")


def _cordon(pen: Pen, port: Viewport, view: View) -> None:
    reach = max(leaf.width_m for leaf in view.leaves) + 0.45
    rect = port.rect(-0.55, -1.05, view.opening_m + 1.1, reach + 1.05)
    corners = [rect.topleft, rect.topright, rect.bottomright, rect.bottomleft]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        pen.line(a, b, WHITE, 3)
        pen.dashes(a, b, STOP, 3, 10, 10)
    for corner in corners:
        pen.dot(corner, 5, WHITE, STOP)
    label = pen.style.width(_("barrier"), SMALL, Face.REGULAR)
    place = pygame.Rect(0, 0, label + pen.style.px(12), pen.style.px(18))
    place.center = (rect.centerx, rect.top)
    pen.fill(place, SHEET)
    pen.text(_("barrier"), place.center, SMALL, STOP, anchor="centre")


def draw_frame(pen: Pen, port: Viewport, view: View) -> None:
    """What lies above everything: title block, north and wind."""
    _title_block(pen, port)
    _north_and_wind(pen, port, view)


def _title_block(pen: Pen, port: Viewport) -> None:
    px = pen.style.px
    if port.area.width < px(620) or port.area.height < px(330):
        _title_line(pen, port)
        return
    wide = min(px(286), port.area.width - px(20))
    caution = _("Training model: it certifies nothing. Real gates crush and kill.")
    lines = pen.style.glyphs.wrap(caution, Face.REGULAR, px(11), wide - px(20))
    high = px(28) + px(16) * len(lines) + px(10)
    box = pygame.Rect(port.area.right - wide - px(10), port.area.bottom - high - px(10), wide, high)
    pen.fill(box, SHEET)
    pygame.draw.rect(pen.surface, INK, box, px(1.5))
    pen.line((box.left, box.top + px(27)), (box.right - 1, box.top + px(27)), INK, 1.5)
    pen.text(_("PLAN · lengths in metres"), (box.left + px(10), box.top + px(14)), 11, INK)
    length = next((m for m in (2.0, 1.0, 0.5, 0.25) if m * port.scale < wide - px(176)), 0.0)
    bar = round(length * port.scale)
    if bar:
        x, y = box.right - px(10) - bar, box.top + px(17)
        pen.fill(pygame.Rect(x, y, bar // 2, px(4)), INK)
        pygame.draw.rect(pen.surface, INK, pygame.Rect(x, y, bar, px(4)), 1)
        pen.text(f"{length:g} m", (box.right - px(10), box.top + px(9)), 10, SOFT, anchor="right")
    for n, line in enumerate(lines):
        pen.text(line, (box.left + px(10), box.top + px(28) + px(14) + px(16) * n), 11, SOFT)


def _title_line(pen: Pen, port: Viewport) -> None:
    """Where there is no room for the block, its caution stands in one line along the foot."""
    px = pen.style.px
    box = pygame.Rect(port.area.left, port.area.bottom - px(22), port.area.width, px(22))
    pen.fill(box, SHEET)
    pen.line(box.topleft, box.topright, INK, 1.5)
    pen.text_in(
        _("Training model: it certifies nothing. Real gates crush and kill."), box.inflate(-px(16), 0), 11, SOFT
    )


def _north_and_wind(pen: Pen, port: Viewport, view: View) -> None:
    px = pen.style.px
    x, y = port.area.right - px(32), port.area.top + px(40)
    pen.line((x, y + px(18)), (x, y - px(12)), INK, 1.4)
    pen.shape([(x, y - px(16)), (x - px(4), y - px(5)), (x + px(4), y - px(5))], INK, None)
    pen.text(_("plan north"), (x - px(6), y - px(25)), 10, SOFT, anchor="centre")
    if view.wind_m_s <= 0:
        return
    centre = (port.area.right - px(104), y)
    bearing = math.radians(view.wind_from_deg)
    towards = (-math.sin(bearing), math.cos(bearing))
    side = (-towards[1], towards[0])
    reach, barb = px(17), px(7)
    tip = (centre[0] + towards[0] * reach, centre[1] + towards[1] * reach)
    pen.line((centre[0] - towards[0] * reach, centre[1] - towards[1] * reach), tip, WIRE, 1.4)
    for way in (-1, 1):
        back = (
            tip[0] - towards[0] * barb + way * side[0] * barb * 0.7,
            tip[1] - towards[1] * barb + way * side[1] * barb * 0.7,
        )
        pen.line(tip, back, WIRE, 1.4)
    pen.text(
        _("wind {speed:g} m/s").format(speed=round(view.wind_m_s, 1)),
        (centre[0], y - px(25)),
        SMALL,
        WIRE,
        anchor="centre",
    )


def draw_cabinet(pen: Pen, port: Viewport, view: View) -> pygame.Rect:
    """The cabinet and whether it has a source; answers where it is."""
    rect = port.rect(view.opening_m + CABINET_M[0], CABINET_M[1], CABINET_M[2], CABINET_M[3])
    pen.fill(rect, WHITE)
    pygame.draw.rect(pen.surface, INK, rect, pen.style.px(1.6))
    pen.line((rect.left, rect.top + pen.style.px(4)), (rect.right - 1, rect.top + pen.style.px(4)), RULE)
    px = pen.style.px
    inside = pen.style.width(_("has power"), 10, Face.REGULAR) < rect.width and rect.height > px(34)
    y = rect.centery - px(5) if inside else rect.top - px(10)
    told, colour = (_("has power"), STOP) if view.board_on else (_("no power"), SOFT)
    pen.text(_("cabinet"), (rect.centerx, y), SMALL, INK, anchor="centre")
    if inside:
        pen.text(told, (rect.centerx, y + px(14)), 10, colour, anchor="centre")
    return rect

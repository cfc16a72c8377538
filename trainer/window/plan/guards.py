"""Guards, lamp and force gauge on the plan: beams break where they are cut, and every state has a word."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pygame

from sim.said import said
from trainer.language import _
from trainer.window.kit.style import BODY, FAINT, GO, INK, LIT, POST, SOFT, STOP, WARN, WHITE, Colour
from trainer.window.plan.figures import turned
from trainer.window.plan.ground import posts_of
from trainer.window.plan.leaves import slip_text
from trainer.window.plan.touches import draw_flag, draw_star
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.view import GuardView, LeafView, View
    from trainer.window.kit.pen import Pen

Point = tuple[float, float]


def guard_state(guard: GuardView) -> str:
    """How a guard stands, in a word or two."""
    words = []
    if not guard.fitted:
        return _("not there")
    if guard.tripped:
        words.append(_("covered") if guard.by_hand and guard.kind == "beam" else _TRIPPED[guard.kind]())
    if not guard.plugged:
        words.append(_("unplugged"))
    if guard.bridged:
        words.append(_("bridged"))
    return ", ".join(words) or _("clear")


_TRIPPED = {"beam": lambda: _("tripped"), "edge": lambda: _("pressed"), "stop": lambda: _("pressed")}


def draw_beam(pen: Pen, port: Viewport, view: View, guard: GuardView) -> pygame.Rect | None:
    """A beam between its two heads; answers where it is."""
    if guard.ends_xy_m is None or not guard.fitted:
        return None
    (x0, y0), (x1, y1) = guard.ends_xy_m
    a, b = port.to_screen(x0, y0), port.to_screen(x1, y1)
    colour = STOP if guard.tripped or guard.bridged or not guard.plugged else GO
    breaks = cuts(view, guard)
    at = min(breaks) if breaks else (0.985 if guard.by_hand else 1.0)
    cut = (a[0] + (b[0] - a[0]) * at, a[1] + (b[1] - a[1]) * at)
    live = view.board_on
    pen.dashes(a, cut, colour if live else FAINT, 2 if guard.tripped else 1.4, 7, 5)
    if at < 1.0:
        pen.dashes(cut, b, FAINT, 1, 1, 6)
    for head, emits in ((a, True), (b, False)):
        _draw_head(pen, head, b if emits else a, colour, emits)
    if guard.by_hand:
        card = pygame.Rect(0, 0, pen.style.px(5), pen.style.px(24))
        card.center = (round(b[0] - math.copysign(pen.style.px(12), b[0] - a[0])), round(b[1]))
        pen.box(card, BODY, INK, 0, 1.2)
    room = abs(port.to_screen(0, y0)[1] - port.to_screen(0, 0)[1]) > pen.style.px(34)
    swept = (y0 > 0) is not port.outwards  # leaves come up to a beam on the side they open to: words beyond it
    below = pen.style.px(15) * (-1 if (y0 > 0) is (swept or not room) else 1)
    # A body near the first head has its own words there; those of the beam then stand at the other end.
    start = a[0] + pen.style.px(14) if at > 0.55 else a[0] + 0.6 * (b[0] - a[0])
    _told(pen, guard, (start, a[1] + below), colour)
    if breaks:
        draw_star(pen, cut)
    heads = pygame.Rect(min(a[0], b[0]), a[1], abs(b[0] - a[0]), 1)
    return heads.inflate(pen.style.px(20), pen.style.px(16))


def _draw_head(pen: Pen, at: Point, towards: Point, colour: Colour, emits: bool) -> None:
    side = pen.style.px(13)
    box = pygame.Rect(0, 0, side, side)
    box.center = (round(at[0]), round(at[1]))
    pen.box(box, colour if emits else WHITE, colour, 1, 2)
    if emits:
        way = math.copysign(1, towards[0] - at[0])
        x, y, r = box.centerx, box.centery, pen.style.px(3)
        pen.shape([(x - way * r, y - r), (x - way * r, y + r), (x + way * r, y)], WHITE, None)


def cuts(view: View, guard: GuardView) -> list[float]:
    """Where bodies stand in a beam, as parts of its length from the emitter."""
    if guard.ends_xy_m is None or not guard.tripped:
        return []
    (x0, y0), (x1, _y1) = guard.ends_xy_m
    found = []
    for body in view.bodies:
        if body.size_m[2] < guard.height_m - 1e-6 or x1 == x0:
            continue
        across, along = body.size_m[0] / 2, body.size_m[1] / 2
        corners = ((-across, -along), (across, -along), (across, along), (-across, along))
        parts = [(x - x0) / (x1 - x0) for x in _crossings(turned(corners, body.x_m, body.y_m, body.turn_deg), y0)]
        if parts and max(parts) >= 0.0 and min(parts) <= 1.0:
            found.append(max(min(parts), 0.0))
    return found


def _crossings(corners: list[Point], level: float) -> list[float]:
    """Where the outline of a body meets a line along the opening: x of each place [m]."""
    found = []
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if min(ay, by) <= level <= max(ay, by) and ay != by:
            found.append(ax + (bx - ax) * (level - ay) / (by - ay))
    return found


def draw_stop(pen: Pen, port: Viewport, guard: GuardView) -> pygame.Rect | None:
    """The stop button on its post."""
    if not guard.fitted or guard.ends_xy_m is None:
        return None
    x, y = port.to_screen(*guard.ends_xy_m[0])
    pen.dot((x, y), 8, BODY, INK)
    pen.dot((x, y), 3 if guard.tripped else 4.5, STOP)
    bad = guard.tripped or guard.bridged or not guard.plugged
    at = (x + pen.style.px(13), y)
    if guard.tripped:
        draw_flag(pen, _("stop · {state}").format(state=guard_state(guard)), at, "left")
    elif bad:
        slip_text(pen, _("stop · {state}").format(state=guard_state(guard)), at, STOP)
    else:
        slip_text(pen, _(said("stop{the_button}", the_button="")), at, SOFT)
    return pygame.Rect(round(x) - 10, round(y) - 10, 20, 20)


def draw_edge_words(pen: Pen, port: Viewport, view: View, guard: GuardView) -> None:
    """An edge says so when it is pressed, bridged or unplugged; clear ones keep quiet."""
    if not guard.fitted or guard_state(guard) == _("clear"):
        return
    leaf = next(leaf for leaf in view.leaves if guard.name.startswith(leaf.name))
    off = -pen.style.px(20) / port.scale
    at = port.to_screen(*leaf.spot(leaf.width_m * 0.8, off))
    _told(pen, guard, at, STOP, "centre")
    if guard.tripped:
        draw_star(pen, port.to_screen(*leaf.spot(leaf.width_m, 0.0)))


def _told(pen: Pen, guard: GuardView, at: Point, colour: Colour, anchor: str = "left") -> None:
    """Its name and state; a flag while it is tripped."""
    words = _("{guard} · {state}").format(guard=_(guard.name), state=guard_state(guard))
    if guard.tripped:
        draw_flag(pen, words, at, anchor)
    else:
        slip_text(pen, words, at, colour, anchor, must=colour is STOP)


def draw_lamp(pen: Pen, port: Viewport, view: View) -> None:
    """The warning lamp on the post at the end of the opening: it blinks slowly while driven, or shows rays in reduced
    motion."""
    left, foot, along_x, along_y = posts_of(view)[1]
    x, y = port.to_screen(left + along_x / 2, foot + along_y / 2)
    lit = view.lamp_on and (pen.calm or pen.now % 1.0 < 0.5)
    pen.dot((x, y), 7, LIT if lit else POST, INK)
    if view.lamp_on:
        near, far = pen.style.px(10), pen.style.px(15)
        for n in range(8):
            ux, uy = math.cos(n * math.pi / 4), math.sin(n * math.pi / 4)
            pen.line((x + ux * near, y + uy * near), (x + ux * far, y + uy * far), WARN if lit else POST, 1.6)
        slip_text(pen, _("lamp on"), (x + pen.style.px(20), y), WARN, must=True)


def _met_at(view: View, leaf: LeafView, gap_m: float) -> float:
    """Leaf angle [°] at which the gauge is met: so much opening is left between the edges, to the closing post, or
    to the open edge."""
    if view.gauge_direction == "opening":
        half = max(-1.0, min(1.0, gap_m / (2.0 * leaf.width_m)))
        return leaf.open_stop_deg - 2.0 * math.degrees(math.asin(half))
    others = sum(each.width_m for each in view.leaves if each.name != leaf.name)
    cosine = (view.opening_m - others - gap_m) / leaf.width_m
    return math.degrees(math.acos(max(-1.0, min(1.0, cosine))))


def draw_gauge(pen: Pen, port: Viewport, view: View) -> None:
    """The force gauge where the leaf will meet it, with its place in words."""
    if view.gauge is None:
        return
    name, gap_mm, height_mm = view.gauge
    leaf = next(leaf for leaf in view.leaves if leaf.name == name)
    opening = view.gauge_direction == "opening"
    angle = _met_at(view, leaf, gap_mm / 1000.0)

    def spot(along_m: float, off_m: float) -> Point:
        return port.to_screen(*leaf.spot(along_m, off_m, angle))

    tip, metre = leaf.width_m, (-1.0 if opening else 1.0) / port.scale * pen.style.scale
    wide, gap, deep = 5 * metre, 7 * metre, max(0.3, 26 * abs(metre)) * (-1.0 if opening else 1.0)
    corners = [(tip - wide, -gap), (tip + wide, -gap), (tip + wide, -deep), (tip - wide, -deep)]
    pen.shape([spot(*corner) for corner in corners], BODY, INK, 1.6)
    for off in (-gap, -deep):
        pen.line(spot(tip - 2 * wide, off), spot(tip + 2 * wide, off), INK, 3)
    far = spot(tip, -deep)
    words = _("force gauge · gap {gap:.0f} mm, {high:.0f} mm up").format(gap=gap_mm, high=height_mm)
    below = far[1] >= spot(tip, -gap)[1]  # beyond the gauge, never over it
    slip_text(pen, words, (far[0], far[1] + pen.style.px(12 if below else -14)), INK, "centre", must=True)

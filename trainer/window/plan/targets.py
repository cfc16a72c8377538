"""What can be taken hold of on the plan, and what can be done to it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

import pygame

from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.closeup.figures import millimetres
from trainer.window.plan.drives import BOX_M, drive_words
from trainer.window.plan.frame import weather_lines
from trainer.window.plan.guards import guard_state
from trainer.window.plan.hinges import gap_words
from trainer.window.plan.leaves import leaf_name
from trainer.window.plan.viewport import Viewport
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View

Entry = tuple[str, str, dict[str, object]]
"""(words in the menu, kind of the action, its arguments)."""

NEAR_PX = 11

PIN_PX = 8
"""So near a hinge pin it is the hinge that is meant, not the leaf; a drive in the ground covers its pin."""

GAP_TOOLS: Final = next(a.choices for a in CATALOGUE["hold in hinge gap"].arguments if a.name == "what")
"""What may be held in a hinge gap."""


MARK_PX = 12
"""Half of the place of something that is a point [px]."""


@dataclass(frozen=True)
class Target:
    """Something under the mouse."""

    kind: Literal["body", "leaf", "drive", "hinge", "guard", "part"]
    name: str
    rect: pygame.Rect
    told: str


def hinge_target(port: Viewport, leaf: LeafView) -> Target:
    """The pin of a leaf, with the gap behind it."""
    told = _("Hinge of the {leaf}: its gap is {wide} now. Click to look closely").format(
        leaf=leaf_name(leaf.name), wide=millimetres(leaf.gap.now_m)
    )
    return Target("hinge", leaf.name, around(port, leaf.hinge_xy_m), told)


def around(port: Viewport, point: tuple[float, float]) -> pygame.Rect:
    """Of a point on the plan that has no size."""
    x, y = port.to_screen(*point)
    return pygame.Rect(round(x) - MARK_PX, round(y) - MARK_PX, 2 * MARK_PX, 2 * MARK_PX)


def target_at(
    view: View, port: Viewport, places: dict[tuple[str, str], pygame.Rect], point: tuple[int, int]
) -> Target | None:
    """What lies under a pixel: bodies, things in hinge gaps, drives in the ground, leaves, other drives, the rest."""
    for body in view.bodies:
        rect = places.get(("body", body.name))
        if rect is not None and rect.inflate(8, 8).collidepoint(point):
            return Target("body", body.name, rect, _("{name}: drag it, click for more").format(name=_(body.name)))
    for leaf in view.leaves:
        held = places.get(("hinge gap", leaf.name))
        if held is not None and held.collidepoint(point):
            return Target("drive", leaf.name, held, first_upper(gap_words(leaf)))
    for leaf in view.leaves:
        pin = port.to_screen(*leaf.hinge_xy_m)
        if len(leaf.drive_xy_m) > 1 and _distance(point, pin, pin) <= PIN_PX:
            return hinge_target(port, leaf)
    return _of_a_leaf(view, port, point) or _of_the_rest(view, places, point)


def _of_a_leaf(view: View, port: Viewport, point: tuple[int, int]) -> Target | None:
    rect = pygame.Rect(point[0] - 8, point[1] - 8, 16, 16)
    for leaf in view.leaves:
        pivots = [port.to_screen(*pivot) for pivot in leaf.drive_xy_m]
        if len(pivots) == 1 and _distance(point, pivots[0], pivots[0]) <= max(BOX_M * port.scale, NEAR_PX):
            return _drive_target(leaf, rect)
    for leaf in view.leaves:
        a, b = port.to_screen(*leaf.hinge_xy_m), port.to_screen(*leaf.spot(leaf.width_m, 0.0))
        if _distance(point, a, b) <= NEAR_PX:
            told = _("{leaf}, {angle:.1f}°: click for its drive").format(
                leaf=first_upper(leaf_name(leaf.name)), angle=leaf.angle_deg
            )
            if not leaf.engaged:
                told = _("{leaf}, released: drag it to push it by hand").format(
                    leaf=first_upper(leaf_name(leaf.name))
                )
            return Target("leaf", leaf.name, rect, told)
    for leaf in view.leaves:
        pivots = [port.to_screen(*pivot) for pivot in leaf.drive_xy_m]
        if any(_distance(point, a, b) <= NEAR_PX for a, b in pairwise(pivots)):
            return _drive_target(leaf, rect)
    return None


def _drive_target(leaf: LeafView, rect: pygame.Rect) -> Target:
    told = _("{leaf}: {drive}. Click for more").format(
        leaf=first_upper(leaf_name(leaf.name)), drive=drive_words(leaf)
    )
    return Target("drive", leaf.name, rect, told)


def _of_the_rest(view: View, places: dict[tuple[str, str], pygame.Rect], point: tuple[int, int]) -> Target | None:
    for (kind, name), rect in places.items():
        if rect.inflate(6, 10).collidepoint(point):
            if kind == "guard":
                guard = next(guard for guard in view.guards if guard.name == name)
                told = _("{guard}: {state}. Click for more").format(
                    guard=first_upper(_(name)), state=guard_state(guard)
                )
                return Target("guard", name, pygame.Rect(point[0] - 8, rect.top, 16, rect.height), told)
            if kind == "part":
                told = first_upper(_(name)) if name != "cabinet" else _("The cabinet: its tab is at the side")
                return Target("part", name, rect, told)
            if kind == "ridge":
                return Target("part", name, rect, _ridge_words(view, name))
            if kind == "weather":
                return Target("part", name, rect, " · ".join(weather_lines(view.weather)))
    return None


def _ridge_words(view: View, name: str) -> str:
    leaf, ridge = next((leaf, ridge) for leaf in view.leaves for ridge in leaf.ground if ridge.name == name)
    return _("{name} under the {leaf}: crest at {at:.0f}°, {high:.0f} mm high, {out:.2f} m from the hinge").format(
        name=first_upper(_(name)),
        leaf=leaf_name(leaf.name),
        at=ridge.at_deg,
        high=ridge.height_m * 1000,
        out=ridge.radius_m,
    )


def menu_for(view: View, target: Target) -> list[Entry]:
    """What can be done to it now."""
    if target.kind == "body":
        body = next(body for body in view.bodies if body.name == target.name)
        at = {"body": body.name, "x_m": body.x_m, "y_m": body.y_m}
        turn = _("Stand it up") if body.lying else _("Lay it down")
        way: Entry = (_("Send it on its way…"), "walk body", {"body": body.name})
        if body.speed_m_s > 0.0:
            way = (_("Stop it"), "stop body", {"body": body.name})
        return [
            way,
            (_("Carry it to another place…"), "carry body", {"body": body.name, "lying": body.lying}),
            (_("Take it away"), "remove body", {"body": body.name}),
            (turn, "place body", {**at, "lying": not body.lying}),
            (
                _("Turn it by a quarter"),
                "place body",
                {**at, "lying": body.lying, "turn_deg": float((round(body.turn_deg) + 90) % 360)},
            ),
        ]
    if target.kind in ("leaf", "drive"):
        return leaf_menu(view, target.name)
    if target.kind == "guard":
        return guard_menu(view, target.name)
    return []


def leaf_menu(view: View, name: str) -> list[Entry]:
    """What can be done to a leaf by hand."""
    leaf = next(leaf for leaf in view.leaves if leaf.name == name)
    half = float(round(leaf.open_stop_deg / 2))
    entries: list[Entry] = []
    if leaf.engaged:
        entries.append((_("Release the drive"), "release drive", {"leaf": name}))
    else:
        entries.append((_("Engage the drive"), "engage drive", {"leaf": name}))
        for words, angle in ((_("shut"), 0.0), (_("half open"), half), (_("fully open"), leaf.open_stop_deg)):
            entries.append((_("Push it {where}").format(where=words), "push leaf", {"leaf": name, "to_deg": angle}))
    if leaf.gap.held:
        words = _("Take the {what} out of its hinge gap").format(what=_(leaf.gap.held))
        entries.append((words, "take out of hinge gap", {"leaf": name}))
    else:
        for what in GAP_TOOLS:
            words = _("Hold a {what} in its hinge gap").format(what=_(what))
            entries.append((words, "hold in hinge gap", {"leaf": name, "what": what}))
    return entries


def guard_menu(view: View, name: str) -> list[Entry]:
    """What can be done to a guard from the yard."""
    guard = next(guard for guard in view.guards if guard.name == name)
    given: dict[str, object] = {"guard": name}
    if not guard.fitted:
        return []
    if guard.kind == "beam":
        return [
            (_("Uncover it"), "uncover beam", given)
            if guard.by_hand
            else (_("Hold a card before it"), "cover beam", given)
        ]
    if guard.kind == "edge":
        return [(_("Let it go"), "release edge", given) if guard.by_hand else (_("Press it"), "press edge", given)]
    return []


def _distance(point: tuple[int, int], a: tuple[float, float], b: tuple[float, float]) -> float:
    """Distance of a pixel from a stretch."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = dx * dx + dy * dy or 1.0
    part = max(0.0, min(1.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / length))
    return float(((point[0] - a[0] - part * dx) ** 2 + (point[1] - a[1] - part * dy) ** 2) ** 0.5)

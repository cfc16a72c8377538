"""The things of the yard as they stand in this frame, drawn over the still part of the plan; where each was drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.window.plan.bodies import draw_body
from trainer.window.plan.ground import draw_cabinet, ridge_rect
from trainer.window.plan.guards import draw_beam, draw_edge_words, draw_gauge, draw_lamp, draw_stop
from trainer.window.plan.hinges import draw_held
from trainer.window.plan.leaves import draw_leaf, draw_leaf_words, leaf_rect
from trainer.window.plan.touches import draw_contact, touched_by
from trainer.window.plan.viewport import Viewport

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.kit.pen import Pen

Places = dict[tuple[str, str], pygame.Rect]
"""(what kind, its name) to its place on the screen."""


def draw_scene(pen: Pen, port: Viewport, view: View, places: Places, carried: str | None) -> None:
    """Everything but the body in hand, and the wind; `places` is filled."""
    places["part", "cabinet"] = draw_cabinet(pen, port, view)
    draw_lamp(pen, port, view)
    for leaf in view.leaves:
        for ridge in leaf.ground:
            places["ridge", ridge.name] = ridge_rect(port, leaf, ridge)
    for body in view.bodies:
        if body.name != carried:
            places["body", body.name] = draw_body(pen, port, body, bool(touched_by(view, body.name)))
    for guard in view.guards:
        drawn = draw_beam(pen, port, view, guard) if guard.kind == "beam" else None
        if drawn is not None:
            places["guard", guard.name] = drawn
    _draw_leaves(pen, port, view, places)
    for guard in view.guards:
        if guard.kind == "edge":
            draw_edge_words(pen, port, view, guard)
        elif guard.kind == "stop" and (drawn := draw_stop(pen, port, guard)) is not None:
            places["guard", guard.name] = drawn
    draw_gauge(pen, port, view)
    for leaf in view.leaves:
        if (drawn := draw_contact(pen, port, view, leaf)) is not None:
            places["contact", leaf.name] = drawn


def _draw_leaves(pen: Pen, port: Viewport, view: View, places: Places) -> None:
    guards = {guard.name: guard for guard in view.guards}
    for leaf in view.leaves:
        edge = guards.get(f"{leaf.name} edge")
        draw_leaf(pen, port, view, leaf, bool(edge and edge.tripped), bool(edge and edge.fitted))
    for leaf in view.leaves:
        draw_leaf_words(pen, port, view, leaf)
        places["leaf", leaf.name] = leaf_rect(port, leaf)
        if (held := draw_held(pen, port, leaf)) is not None:
            places["hinge gap", leaf.name] = held

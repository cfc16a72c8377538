"""Everything on the plan that the keys step through, and what of it can be looked at closely."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.closeup.subject import MEETING, Subject, words_of
from trainer.window.plan.drives import drive_words
from trainer.window.plan.frame import weather_lines
from trainer.window.plan.guards import guard_state
from trainer.window.plan.hinges import held_words
from trainer.window.plan.leaves import degrees, leaf_name
from trainer.window.plan.targets import Target, around, hinge_target
from trainer.window.plan.touches import contact_words, touched_by
from trainer.window.plan.viewport import Viewport
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


def things(view: View, port: Viewport, places: dict[tuple[str, str], pygame.Rect]) -> list[Target]:
    """Bodies, leaf by leaf with hinge and drive, and guards, in this order: each where it was drawn."""
    found = [
        Target("body", body.name, places["body", body.name], _("{name}").format(name=first_upper(_(body.name))))
        for body in view.bodies
        if ("body", body.name) in places
    ]
    for leaf in view.leaves:
        name = first_upper(leaf_name(leaf.name))
        told = _("{leaf}, {angle}°").format(leaf=name, angle=degrees(leaf.angle_deg))
        found.append(Target("leaf", leaf.name, around(port, leaf.spot(leaf.width_m * 0.6, 0.0)), told))
        found.append(hinge_target(port, leaf))
        drive = _("{leaf}: {drive}").format(leaf=name, drive=drive_words(leaf))
        found.append(Target("drive", leaf.name, around(port, leaf.drive_xy_m[-1]), drive))
    for guard in view.guards:
        if ("guard", guard.name) in places:
            told = _("{guard}: {state}").format(guard=first_upper(_(guard.name)), state=guard_state(guard))
            found.append(Target("guard", guard.name, places["guard", guard.name], told))
    return found


def states(view: View) -> dict[tuple[str, str], str]:
    """How each thing on the plan stands, in words, by kind and name; what has nothing to say is not in it."""
    told = {("leaf", leaf.name): f"{degrees(leaf.angle_deg)}°" for leaf in view.leaves}
    told |= {("hinge gap", leaf.name): held_words(leaf) for leaf in view.leaves}
    told |= {("contact", leaf.name): contact_words(leaf) for leaf in view.leaves}
    told |= {("guard", guard.name): guard_state(guard) for guard in view.guards}
    told |= {("body", body.name): touch for body in view.bodies if (touch := touched_by(view, body.name))}
    told["weather", "wind"] = "; ".join(weather_lines(view.weather))
    return told


def looks(view: View, target: Target) -> dict[str, Subject]:
    """Close-ups that belong to a thing, by the words of its menu."""
    leaf = target.name
    subjects = {
        "leaf": (Subject("leaf", leaf), Subject("hinge", leaf), Subject("drive", leaf), MEETING),
        "drive": (Subject("drive", leaf), Subject("hinge", leaf)),
        "hinge": (Subject("hinge", leaf),),
    }.get(target.kind, ())
    return {_("Look closely: {what}").format(what=words_of(view, subject)): subject for subject in subjects}


class Mark:
    """The thing that the keys stepped to; None while they didn't."""

    def __init__(self, hands: Hands, port: Viewport, places: dict[tuple[str, str], pygame.Rect]) -> None:
        """`places` are those of the plan: kept up by it from frame to frame."""
        self.hands = hands
        self.port = port
        self.places = places
        self.at: tuple[str, str] | None = None
        """(kind, name)."""

    def _all(self) -> list[Target]:
        return things(self.hands.view, self.port, self.places)

    def target(self) -> Target | None:
        """The marked thing where it is now; None if it was taken away, or while nothing is marked."""
        if self.at is None:
            return None
        return next((each for each in self._all() if (each.kind, each.name) == self.at), None)

    def step(self, way: int) -> Target:
        """Mark the next thing, or the one before."""
        found = self._all()
        names = [(each.kind, each.name) for each in found]
        at = names.index(self.at) + way if self.at in names else (0 if way > 0 else -1)
        target = found[at % len(found)]
        self.at = (target.kind, target.name)
        return target

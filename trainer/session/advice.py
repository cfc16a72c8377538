"""Hints: words from somebody who knows, put into the act that asks for them, so that a replay says the same."""

from __future__ import annotations

from typing import Final

from sim.errors import Refused
from sim.said import said
from sim.world.actions import Action, checked
from sim.world.catalogue.survey import HINT
from sim.world.history import History
from trainer.session.assignment import Assignment

STRONGEST: Final = 4
"""Hints rise to this strength; whoever asks on is told the next measurement again."""


def advised(action: Action, assignment: Assignment, history: History) -> Action:
    """The act with what is answered. Raises Refused where nobody is there to answer, or not yet, or has no more."""
    adviser = assignment.adviser
    if adviser is None:
        raise Refused(said("there is nobody to ask in this job"))
    why = adviser.unready()
    if why:
        raise Refused(why)
    level = min(1 + sum(event.kind == "hint" for event in history.events), STRONGEST)
    words = adviser.hint(history, level)
    if not words:
        raise Refused(said("there is nothing to add: no measurement tells more than is known already"))
    return checked(HINT, {"words": words})

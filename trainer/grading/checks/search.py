"""Search: how many readings it took to name the cause, beside the expert's.

The expert's own way sets the scale, so a gate on which much must be ruled out asks for no more art than one on which
little must. Which reading parts the causes best hangs on a table that not every computer has, and marks hang on
nothing that may be missing; how many there were is in every journal.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sim.said import said
from sim.world.actions import Action
from trainer.grading.checks.check import Check, failed, marginal, not_applicable, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import Story

READING: Final = ("measure", "read instrument", "read meter")
"""Acts with which something is read. Proving dead is none: nobody can do that too often."""

ENOUGH: Final = (2, 3)
"""So many times the expert's readings and so many more are a search with a plan. Simulated trainees that take the
best next reading keep below it, those that read at random don't. Ours."""

TOO_MANY: Final = (4, 6)
"""Beyond so many times and so many more there was no plan. Ours."""


def _searched(story: Story) -> Verdict:
    expert = _before_naming(story.expert)
    if expert is None:
        return not_applicable("The job's own way names no cause.")
    named = story.done("conclude")
    if not named:
        return not_yet("No cause was named.")
    made = sum(deed.number < named[-1].number for deed in story.done(*READING))
    told = said(
        "{made} readings before the last cause was named; the expert takes {expert}.", made=made, expert=expert
    )
    if made <= ENOUGH[0] * expert + ENOUGH[1]:
        return passed(told, named[-1].cite)
    if made <= TOO_MANY[0] * expert + TOO_MANY[1]:
        return marginal(told, named[-1].cite)
    return failed(told, named[-1].cite)


def _before_naming(acts: Sequence[Action]) -> int | None:
    """How many readings stand before the last cause is named; None where none is."""
    named = [number for number, act in enumerate(acts) if act.kind == "conclude"]
    return sum(act.kind in READING for act in acts[: named[-1]]) if named else None


SEARCH: Final = Check(
    name="searched with a plan",
    part="diagnosis",
    title="Searched with a plan",
    why="Reading whatever is nearest takes longer, and each cover that is open for nothing is a danger for nothing.",
    instead="Before each reading say which causes it will part; take the one that parts them best for its minutes.",
    judge=_searched,
)

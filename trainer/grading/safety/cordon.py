"""Barriers round the arc before a drive moves anything."""

from __future__ import annotations

from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import DRIVEN, Story, cite


def _none(story: Story) -> list[Breach]:
    open_ = next((m for m in story.moves if m.by in DRIVEN and not story.cordoned.at(m.start)), None)
    return [] if open_ is None else [breach("A leaf was driven with no barriers up.", cite(open_.event))]


RULES = (
    Rule(
        name="no cordon",
        severity="minor",
        title="No barriers round the arc",
        why="Passers-by don't know that the gate is being tested, and children come to look.",
        instead="Put barriers and signs round the arc before the first movement; take them away last.",
        look=_none,
        remedy="cordon",
    ),
)

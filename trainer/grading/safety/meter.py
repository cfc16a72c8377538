"""The force meter: on a rigid rest, three readings, then a verdict."""

from __future__ import annotations

from sim.said import said
from trainer.grading.checks.force import READINGS, points
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import Story, cite


def _by_hand(story: Story) -> list[Breach]:
    return [
        breach("The force meter was held by hand.", cite(event)) for event in story.events("force", rest="by hand")
    ]


def _one_reading(story: Story) -> list[Breach]:
    readings = story.events("force")
    most = max((len(events) for events in points(readings).values()), default=0)
    if story.ended != "handed over" or not readings or most >= READINGS:
        return []
    told = said("Handed over on {most} of {asked} readings at one point.", most=most, asked=READINGS)
    return [breach(told, *[cite(event) for event in readings], *[d.cite for d in story.done("hand over")])]


RULES = (
    Rule(
        name="meter held by hand",
        severity="minor",
        title="Force meter held by hand",
        why="A hand gives way: it reads less than a person against a post would feel. And the hand is in the gap.",
        instead="Set the meter on a rigid rest, step out of the arc, then let the leaf close on it.",
        look=_by_hand,
    ),
    Rule(
        name="one reading taken for a verdict",
        severity="serious",
        title="One reading taken for a verdict",
        why="Single readings scatter. The mean of three at the same point is judged; one lucky reading signs "
        "for nothing.",
        instead="Take three readings at the point without moving the meter, and judge their mean.",
        look=_one_reading,
        at_leaving=True,
        remedy="place force gauge",
    ),
)

"""Hints that were asked for: what they cost, and that it is no shame in practice."""

from __future__ import annotations

from sim.said import said
from trainer.grading.finding import Finding
from trainer.grading.story import Story, cite


def count(story: Story) -> int:
    """How many hints were given."""
    return len(story.events("hint"))


def findings(story: Story) -> tuple[Finding, ...]:
    """One finding where any hint was given; points are added by the score."""
    given = story.events("hint")
    if not given:
        return ()
    return (
        Finding(
            part="diagnosis",
            outcome="failed",
            name="hints asked for",
            title=said("Hints asked for"),
            what=said("Hints: {count}.", count=len(given)),
            why=said("A hint is a measurement that somebody else thought of. On a real site there is none."),
            instead=said("Write down what is known to be good, and look where that rules out half of the rest."),
            points=0.0,
            evidence=tuple(cite(event) for event in given),
        ),
    )

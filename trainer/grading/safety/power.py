"""Hands in the cabinet, and bringing the supply back."""

from __future__ import annotations

from sim.said import said
from trainer.grading.checks.dead import works
from trainer.grading.safety.people import in_the_arc
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import Story, cite


def _live(story: Story) -> list[Breach]:
    live = [work.deed for work in works(story) if work.live]
    told = story.events("danger", what="live work")
    lines = {deed.entry.line for deed in live}
    others = [e for e in told if e.line not in lines]
    return [
        *(breach("Worked behind the covers with a source on.", deed.cite) for deed in live),
        *(breach("Worked live.", cite(event)) for event in others),
    ]


def _not_proved(story: Story) -> list[Breach]:
    return [
        breach(
            said("Worked behind the covers, but {lacks}.", lacks=work.lacks),
            *[d.cite for d in work.proof],
            work.deed.cite,
        )
        for work in works(story)
        if work.lacks
    ]


def _restored_on_somebody(story: Story) -> list[Breach]:
    return in_the_arc(story, "restore")


RULES = (
    Rule(
        name="work live",
        severity="serious",
        title="Worked live",
        why="Mains in a gate cabinet kills, and a motor that gets power starts with your fingers in it. "
        "Isolate first, then prove dead: two sources, two isolations.",
        instead="Open and lock the isolator, pull the battery link, prove dead, then work.",
        look=_live,
    ),
    Rule(
        name="dead not proved",
        severity="serious",
        title="Dead was not proved",
        why="Isolators are mislabelled and testers fail. Only a tester proved before and after shows that it "
        "is dead.",
        instead="Prove the tester on a known source, test, prove the tester again; then touch.",
        look=_not_proved,
    ),
    Rule(
        name="restored with a person in the arc",
        severity="serious",
        title="Supply restored with somebody in the arc",
        why="A gate that has power may move, whatever the sheet promises.",
        instead="Look, call, see everybody outside the barriers, then close the isolator.",
        look=_restored_on_somebody,
    ),
)

"""Leaving: no bridge left, and the gate handed over to a user who was shown what they must know."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.checks.check import Check, failed, marginal, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import Story

SHOWN = (
    said("release{of_a_drive}", of_a_drive=""),
    said("stop{the_button}", the_button=""),
    said("lamp"),
    said("freeing a person"),
    said("monthly checks"),
)
"""What a user must be shown. Facts 7.2."""

VITAL = ("release", "stop")
"""Without these nobody may be left alone with the gate. Common practice, no source."""


def _no_bridge(story: Story) -> Verdict:
    left = story.standing.bridged
    cited = [deed.cite for deed in story.done("bridge", "remove bridge")]
    if left:
        return failed(said("Bridged: {guards}.", guards=listed(left)), *cited)
    if not story.ended:
        return not_yet("Nothing is bridged; it is judged when the gate is left.", *cited)
    leaving = story.done("hand over", "make safe")
    return passed("No wire link is left across a guard.", *cited, *[deed.cite for deed in leaving])


def _handed_over(story: Story) -> Verdict:
    if story.ended == "made safe":
        return failed("The gate was made safe, not handed over.", *[d.cite for d in story.done("make safe")])
    if story.ended != "handed over":
        return not_yet("The gate is not handed over.")
    deeds = story.done("hand over")
    cited = [deed.cite for deed in deeds]
    told = deeds[-1].of("shown").lower() if deeds else ""
    lacks = [item for item in SHOWN if item not in told]
    if not story.standing.mains_on:
        return failed("The gate was handed over without its supply.", *cited)
    if any(item in lacks for item in VITAL):
        return failed(said("The user was not shown: {lacks}.", lacks=listed(lacks)), *cited)
    if lacks:
        return marginal(said("Handed over, but the user was not shown: {lacks}.", lacks=listed(lacks)), *cited)
    return passed(
        "The user was shown release, stop, lamp, freeing a person and the monthly checks; both signed.", *cited
    )


def _made_safe(story: Story) -> Verdict:
    if story.ended == "handed over":
        return failed("The gate was handed over.", *[d.cite for d in story.done("hand over")])
    if story.ended != "made safe":
        return not_yet("The gate is not made safe.")
    return passed("Isolated, locked off, owner told in writing.", *[d.cite for d in story.done("make safe")])


CHECKS = (
    Check(
        name="no bridge left",
        part="outcome",
        title="No bridge left",
        why="Never fit a link wire across a stop, beam or edge to get a gate going: it protects nobody, and the next "
        "person trusts it.",
        instead="Take every link off before the gate moves by itself and before you leave; write down that it "
        "was on.",
        judge=_no_bridge,
    ),
    Check(
        name="handed over",
        part="record",
        title="Handed over to the user",
        why="No document, no handover. The user must be able to stop the gate, release it and free somebody "
        "when you are gone.",
        instead="Show release, stop, lamp, freeing a trapped person and the monthly checks; let them repeat "
        "the release.",
        judge=_handed_over,
    ),
    Check(
        name="made safe",
        part="record",
        title="Made safe, not repaired",
        why="An unsafe gate that can't be cured today is taken out of service, in writing. That is a full ending.",
        instead="Isolate, lock off, hang the notice, tell the owner in writing, book the return.",
        judge=_made_safe,
    ),
)

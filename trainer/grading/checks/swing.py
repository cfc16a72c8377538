"""Leaves by hand: with its drive released each leaf swings free and finds both its stops."""

from __future__ import annotations

from sim.said import listed, said
from sim.world.history import Event
from trainer.grading.checks.check import Check, not_yet, passed
from trainer.grading.finding import Evidence, Verdict
from trainer.grading.story import Story, cite

STOPS = (said("open stop"), said("closed stop"))


def _finds(story: Story, leaf: str, stop: str) -> list[Event]:
    """Each time a leaf was found at a stop: noticed, or felt while it was pushed."""
    return story.events("stop reached", leaf=leaf, stop=stop) + story.events("reading", leaf=leaf, touched=stop)


def _swing_free(story: Story) -> Verdict:
    lacking: list[str] = []
    evidence: list[Evidence] = []
    for leaf in story.leaves:
        released = story.released(leaf)
        for stop in STOPS:
            found = [e for e in _finds(story, leaf, stop) if released.at(e.at)]
            if found:
                evidence.append(cite(found[0]))
            else:
                lacking.append(said("{leaf} leaf to its {stop}", leaf=leaf, stop=stop))
    if lacking:
        return not_yet(
            said("Not pushed by hand with the drive released: {lacking}.", lacking=listed(lacking)), *evidence
        )
    still = [leaf for leaf in story.leaves if leaf in story.standing.released]
    if still:
        open_ = story.of_leaves(
            "Both leaves were swung, but the drive is still released: {leaves}.",
            "The leaf was swung, but the drive is still released: {leaves}.",
        )
        return not_yet(said(open_, leaves=listed(still)), *evidence)
    swung = story.of_leaves(
        "Both leaves were swung by hand from stop to stop and engaged again.",
        "The leaf was swung by hand from stop to stop and engaged again.",
    )
    return passed(swung, *evidence)


CHECKS = (
    Check(
        name="leaves swing free",
        part="verification",
        title="Leaves swing free by hand",
        why="A drive hides a bad hinge or a missing stop until it breaks something. What does not swing by hand "
        "must not be driven. A released leaf may run downhill or in wind: hold it.",
        instead="With the supply off, release each drive, push the leaf to both stops, set it half open, "
        "engage again.",
        judge=_swing_free,
    ),
)

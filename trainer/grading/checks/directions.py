"""Which way each leaf turns: seen under jog, and seen again after its motor leads were swapped."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.checks.check import Check, failed, not_yet, passed, stale
from trainer.grading.finding import Evidence, Verdict
from trainer.grading.story import Move, Story, cite


def shown_moves(story: Story, leaf: str) -> list[Move]:
    """Jogs of a leaf in which it went far enough to show its direction."""
    return [move for move in story.moves if move.leaf == leaf and move.by == "jog" and move.turned]


def _proved(story: Story) -> Verdict:
    unseen, wrong, old = [], [], []
    evidence: list[Evidence] = []
    for leaf in story.leaves:
        seen = shown_moves(story, leaf)
        swaps = story.done("swap motor leads", leaf=leaf)
        if seen:
            evidence.append(cite(seen[-1].event))
        if not seen:
            unseen.append(leaf)
        elif swaps and swaps[-1].effect_at > seen[-1].start:
            old.append(leaf)
            evidence.append(swaps[-1].cite)
        elif seen[-1].turned != seen[-1].direction or leaf in story.standing.swapped_wrong:
            wrong.append(leaf)
    if wrong:
        return failed(said("Turns the wrong way: {leaves} leaf.", leaves=listed(wrong)), *evidence)
    if old:
        return stale(
            said("Motor leads were swapped after the last look: {leaves} leaf.", leaves=listed(old)), *evidence
        )
    if unseen:
        return not_yet(said("Not yet seen to move under jog: {leaves} leaf.", leaves=listed(unseen)), *evidence)
    seen_to = story.of_leaves(
        "Both leaves were seen to turn as commanded under jog.", "The leaf was seen to turn as commanded under jog."
    )
    return passed(seen_to, *evidence)


CHECKS = (
    Check(
        name="leaf directions proved",
        part="outcome",
        title="Each leaf turns the right way",
        why="A leaf that closes when told to open drives onto whoever the gate means to let through, and every guard "
        "that reopens it closes it instead.",
        instead="Jog each leaf from half open; swap its leads if it goes the wrong way, dead; jog it again.",
        judge=_proved,
    ),
)

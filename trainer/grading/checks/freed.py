"""Somebody caught at the gate is let out: by hand, with nothing that can start the drives, before anything else."""

from __future__ import annotations

from typing import Final

from sim.said import said
from sim.units import MINUTE
from trainer.grading.checks.check import Check, failed, marginal, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import DRIVEN, Story, cite

SOON: Final = 5 * MINUTE
"""Who is let out later than this after somebody came was kept waiting [µs]: the acts themselves take a minute and a
half, and barriers two minutes more. Common practice, no source."""


def _freed(story: Story) -> Verdict:
    freed = story.done("take out of hinge gap")
    until = freed[-1].effect_at if freed else story.end
    driven = [move for move in story.moves if move.by in DRIVEN and move.start < until]
    if driven:
        return failed("A drive moved a leaf while somebody was caught.", cite(driven[0].event))
    if story.standing.trapped:
        return not_yet("Somebody is caught at the gate.")
    if not freed:
        return not_yet("Nobody was let out.")
    live = [deed for deed in freed if story.is_live(deed.entry.at)]
    if live:
        return failed("Hands were in the gap while a source was still on.", *[deed.cite for deed in live])
    if until > SOON:
        late = said(
            "Let out by hand with both sources off, and only after {minutes:.0f} min.", minutes=until / MINUTE
        )
        return marginal(late, *[deed.cite for deed in freed])
    return passed("Both sources off, then let out by hand.", *[deed.cite for deed in freed])


CHECKS: Final = (
    Check(
        name="person freed",
        part="outcome",
        title="Person freed",
        why="A drive that starts while somebody is caught breaks what it only held. Seconds count, and so does the "
        "order.",
        instead="Press the stop, take both sources off, release the drive, let the leaf back by hand, let the person "
        "out.",
        judge=_freed,
    ),
)

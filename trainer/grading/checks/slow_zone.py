"""The slow zone: closing goes slow before the gap between the closing edges is down to half a metre."""

from __future__ import annotations

from sim.said import said
from trainer.grading.checks.check import Check, failed, marginal, not_yet, passed, stale
from trainer.grading.finding import Verdict
from trainer.grading.story import Story, cite

GAP_M = 0.5
"""Below this gap a person is crushed, not pushed [m]. Facts 1.2."""

NEAR_M = 0.525
"""Within a twentieth of the limit it is marginal [m]. Common practice, no source."""

SETTINGS = ("slow zone before stop", "slow speed", "run speed")


def _slow(story: Story) -> Verdict:
    gap = story.standing.slow_start_gap_m
    closings = [m for m in story.moves if m.by == "automatic" and m.direction == "close"]
    if gap is None or not closings:
        return not_yet("No automatic closing that goes slow was seen.")
    last = cite(closings[-1].event)
    changes = [d for d in story.setting_changes(*SETTINGS) if d.entry.at > closings[-1].start]
    if changes:
        return stale("Slow zone or speeds were changed after the last closing.", last, changes[-1].cite)
    told = said(
        "Closing went slow with {gap_mm:.0f} mm between the closing edges; at least 500 mm is needed.",
        gap_mm=gap * 1000,
    )
    if gap < GAP_M:
        return failed(told, last)
    return marginal(told, last) if gap < NEAR_M else passed(told, last)


CHECKS = (
    Check(
        name="slow zone before the gap",
        part="outcome",
        title="Slow before the half-metre gap",
        why="In the last half metre a leaf crushes instead of pushing aside, and the limit drops to 400 N. "
        "A leaf still at full speed there can't keep it.",
        instead="Lengthen the slow zone before the closed stop until closing goes slow before 500 mm; run it again.",
        judge=_slow,
        needs=("travel learned",),
    ),
)

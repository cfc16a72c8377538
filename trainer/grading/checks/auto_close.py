"""Auto-close: after an opening and its dwell the gate shuts with nobody asking it to."""

from __future__ import annotations

from trainer.grading.checks.check import Check, not_yet, passed, stale
from trainer.grading.checks.order import SHUT_DEG, runs
from trainer.grading.finding import Verdict
from trainer.grading.story import Move, Story, cite, number, same

SETTINGS = ("auto-close", "auto-close after")
ASKING = ("press", "press transmitter")


def _asked_since(story: Story, since: int, until: int) -> bool:
    """Whether a person pressed something in between, the press that began the opening left out."""
    return any(since < deed.entry.at <= until for deed in story.done(*ASKING))


def _home(story: Story, run: list[Move]) -> bool:
    """Whether both leaves rested shut at the end of a closing."""
    last = max(move.end for move in run)
    angles = []
    for leaf in story.leaves:
        rests = [e for e in story.events("resting", leaf=leaf) if run[0].start <= e.at <= last]
        angles += [number(rests[-1].data.get("angle_deg"))] if rests else []
    return len(angles) == len({m.leaf for m in run}) and all(a is not None and a <= SHUT_DEG for a in angles)


def _closes(story: Story) -> Verdict:
    on = same(story.standing.sheet.get("auto-close", "off"), "on")
    openings = runs(story, "open")
    seen: list[list[Move]] = []
    for run in runs(story, "close"):
        before = [o for o in openings if o[0].start < run[0].start]
        if before and not _asked_since(story, before[-1][0].start, run[-1].start) and _home(story, run):
            seen.append(run)
    if not seen:
        return not_yet("The gate was not seen to shut by itself." if on else "Auto-close is off.")
    last = seen[-1]
    changes = [d for d in story.setting_changes(*SETTINGS) if d.entry.at > last[0].start]
    shown = cite(last[0].event)
    if changes:
        return stale("Auto-close was changed after the gate last shut by itself.", shown, changes[-1].cite)
    if not on:
        return stale("The gate shut by itself, but auto-close is off now.", shown)
    return passed("The gate shut by itself after its dwell.", shown)


CHECKS = (
    Check(
        name="auto-close closes",
        part="outcome",
        title="Auto-close shuts the gate",
        why="A gate that shuts by itself meets whoever isn't watching it: it must do so as set, with every "
        "guard alive.",
        instead="Switch auto-close on, set the dwell long enough for a slow walker, open the gate and keep "
        "hands off.",
        judge=_closes,
        needs=("travel learned",),
    ),
)

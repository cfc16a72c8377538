"""Travel learning: done, and not outdated by work on a motor since."""

from __future__ import annotations

from trainer.grading.checks.check import Check, failed, not_yet, passed, stale
from trainer.grading.finding import Verdict
from trainer.grading.story import Story, cite


def _learned(story: Story) -> Verdict:
    starts = story.done("learn travel")
    kept = story.events("learned")
    swaps = story.done("swap motor leads")
    if kept and swaps and swaps[-1].effect_at > kept[-1].at:
        return stale("Motor leads were swapped after the travel was learned.", cite(kept[-1]), swaps[-1].cite)
    if story.standing.learned:
        cited = [d.cite for d in starts[-1:]] + [cite(e) for e in kept[-1:]]
        learned = story.of_leaves(
            "Travel and load of both leaves are learned.", "Travel and load of the leaf are learned."
        )
        return passed(learned, *cited)
    if kept and (not starts or starts[-1].effect_at <= kept[-1].at):
        return stale("What was learned no longer holds: something that matters was changed since.", cite(kept[-1]))
    if starts and starts[-1].effect_at < story.end and not _learning_now(story):
        return failed("Travel learning was started and kept nothing.", starts[-1].cite)
    return not_yet("Travel is not learned.", *[d.cite for d in starts[-1:]])


def _learning_now(story: Story) -> bool:
    """Whether the last thing that moved was still learning at the end."""
    runs = [move for move in story.moves if move.by == "learning"]
    return bool(runs) and runs[-1].end >= story.end


CHECKS = (
    Check(
        name="travel learned",
        part="outcome",
        title="Travel learned",
        why="Slow zones and obstacle detection stand on the learned travel; without it the controller guesses. "
        "The gate moves by itself while it learns: nobody in the arc.",
        instead="With every declared guard proved and nobody in the arc, start learning and let it finish.",
        judge=_learned,
    ),
)

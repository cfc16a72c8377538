"""A gate that failed: its cause named, put right, and seen to run afterwards.

What is true is told when the job is over and never before: a list that ticks when the right name is written would
be a way to find it.
"""

from __future__ import annotations

from typing import Final

from sim.said import listed, said
from sim.world.actions import CATALOGUE
from sim.world.notebook import NO_FAULT
from trainer.grading.checks.check import Check, failed, marginal, not_applicable, not_yet, passed
from trainer.grading.checks.order import SHUT_DEG
from trainer.grading.finding import Verdict
from trainer.grading.story import Deed, Move, Story, cite

WORK: Final = frozenset(name for name, kind in CATALOGUE.items() if kind.group == "repair")
"""Acts of repair: what is mended, replaced, set or cleared away."""

ALTERS: Final = WORK | {"set", "reset sheet", "swap motor leads", "remove bridge", "plug in", "engage drive"}
"""What may put a gate right: after it, it must be seen to run."""

OPEN_SHARE: Final = 0.9
"""Of the way to its open stop, where a leaf counts as open: a switch or a learned end stands a little before it.
Common practice, no source."""


def _cause_found(story: Story) -> Verdict:
    concluded = story.done("conclude", "take back conclusion")
    cited = [deed.cite for deed in concluded]
    named = {each.cause for each in story.standing.conclusions}
    if not named:
        return not_yet("Nothing was concluded.", *cited)
    if not story.ended:
        return not_yet(said("Concluded: {causes}. Judged at the end.", causes=listed(sorted(named))), *cited)
    true = set(story.standing.had) or {NO_FAULT}
    missing, besides = sorted(true - named), sorted(named - true)
    if missing:
        return failed(said("Not named: {causes}.", causes=listed(missing)), *cited)
    if besides:
        return marginal(said("Named, and besides what is not so: {causes}.", causes=listed(besides)), *cited)
    return passed(said("Named: {causes}.", causes=listed(sorted(true))), *cited)


def _put_right(story: Story) -> Verdict:
    if story.ended == "made safe":
        return not_applicable("The gate was made safe, not repaired.")
    done = [deed.cite for deed in story.done(*sorted(WORK))]
    if not story.ended:
        return not_yet("It is judged when the gate is left.", *done)
    if story.standing.has:
        return failed(said("Still there: {causes}.", causes=listed(story.standing.has)), *done)
    if not story.standing.had:
        return passed("Nothing was wrong, and nothing is.", *done)
    mended = {line for line, _ in story.standing.mended}
    right = [deed.cite for deed in story.done(*sorted(WORK)) if deed.entry.line in mended]
    return passed("What was wrong is put right.", *right)


def needless(story: Story) -> list[Deed]:
    """New parts that went in for good ones: no fault had changed anything of them, and no fuse had blown in them."""
    bad = {line for line, _ in story.standing.mended}
    bad |= {event.line for event in story.events("repair") if event.data.get("closed")}
    return [deed for deed in story.done("replace") if deed.entry.line not in bad]


def _runs(story: Story) -> Verdict:
    if story.ended == "made safe":
        return not_applicable("The gate was made safe, not repaired.")
    altered = story.done(*sorted(ALTERS))
    since = max((deed.effect_at for deed in altered), default=0)
    lacks, cited = [], []
    for leaf in story.leaves:
        for way in ("open", "close"):
            runs = [move for move in story.moves if move.leaf == leaf and _is_whole(story, move, way)]
            later = [move for move in runs if move.start >= since]
            if later:
                cited.append(cite(later[-1].event))
            else:
                lacks.append(leaf)
    if lacks:
        return not_yet(
            said(
                "Not seen since the last repair, from a command to the end, both ways: {leaves} leaf.",
                leaves=listed(dict.fromkeys(lacks)),
            ),
            *[deed.cite for deed in altered[-1:]],
        )
    return passed("After the last repair each leaf was seen to open and to close on a command.", *cited)


def _is_whole(story: Story, move: Move, way: str) -> bool:
    """Whether a leaf ran by itself to the end of its way."""
    if move.by not in ("automatic", "hold-to-run") or move.direction != way or move.to_deg is None:
        return False
    if way == "close":
        return move.to_deg <= SHUT_DEG
    return move.to_deg >= OPEN_SHARE * story.standing.open_stop_deg[story.leaves.index(move.leaf)]


CHECKS: Final = (
    Check(
        name="cause found",
        part="diagnosis",
        title="Cause found",
        why="Whoever can't say what was wrong can't know that it is mended. Nothing wrong is an answer too.",
        instead="Divide the circuit, measure one thing that separates two causes, and conclude what is left.",
        judge=_cause_found,
    ),
    Check(
        name="fault put right",
        part="outcome",
        title="Fault put right",
        why="A symptom that is gone comes back; a cause that is gone doesn't.",
        instead="Mend the cause itself. What can't be mended today is made safe, in writing.",
        judge=_put_right,
    ),
    Check(
        name="runs after the repair",
        part="verification",
        title="Runs after the repair",
        why="A repair that nobody has seen work is a hope. The next to try it is the customer.",
        instead="After the last change open and close the gate by command to both ends, with nobody in the arc.",
        judge=_runs,
    ),
)

"""Predict, then see: what each guard does while opening and while closing."""

from __future__ import annotations

from sim.said import listed, said
from sim.world.history import Event
from trainer.grading.checks.check import Check, failed, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import GUARDS, Deed, Story, cite

WAYS = ("opening", "closing")


def _guards(story: Story) -> list[str]:
    return [guard for guard in GUARDS if story.standing.fitted.get(guard, False)]


def _sights(story: Story, guard: str, way: str) -> list[Event]:
    """Each time a guard was tripped while the gate moved that way, seen by the controller."""
    return [
        e
        for e in story.events("guard", guard=guard, tripped=True, moving=way)
        if not story.bridge_on(guard).at(e.at) and not story.unplugged(guard).at(e.at)
    ]


def _predictions(story: Story, guard: str, way: str) -> list[Deed]:
    """Predictions about a guard that don't speak of the other way only."""
    other = WAYS[1 - WAYS.index(way)]
    found = []
    for deed in story.done("predict"):
        question = deed.of("question").lower()
        if guard in question and (way in question or other not in question):
            found.append(deed)
    return found


def _while(guard: str, way: str) -> str:
    return said("{guard} while opening" if way == "opening" else "{guard} while closing", guard=guard)


def _predicted(story: Story) -> Verdict:
    open_, late = [], []
    cited = []
    for guard in _guards(story):
        for way in WAYS:
            expected, seen = _predictions(story, guard, way), _sights(story, guard, way)
            if not expected:
                open_.append(_while(guard, way))
                continue
            cited.append(expected[0].cite)
            if seen and seen[0].at < expected[0].entry.at:
                late.append(_while(guard, way))
    if late:
        return failed(said("Predicted after it was seen: {guards}.", guards=listed(late)), *cited)
    if open_:
        return not_yet(said("Not predicted: {guards}.", guards=listed(open_)), *cited)
    return passed("What each guard does was predicted before it was seen.", *cited)


def _seen(story: Story) -> Verdict:
    lacks, cited = [], []
    for guard in _guards(story):
        for way in WAYS:
            sights = _sights(story, guard, way)
            cited += [cite(e) for e in sights[:1]]
            if not sights:
                lacks.append(_while(guard, way))
    if not _guards(story):
        return not_yet("No guard stands on this site.")
    if lacks:
        return not_yet(said("Not seen: {guards}.", guards=listed(lacks)), *cited)
    return passed("Each guard was tripped while opening and while closing.", *cited)


CHECKS = (
    Check(
        name="every guard predicted",
        part="diagnosis",
        title="Each guard predicted",
        why="Whoever says first what should happen notices when it does not.",
        instead="Before you trip a guard, write down what you expect it to do, opening and closing.",
        judge=_predicted,
    ),
    Check(
        name="every guard seen",
        part="outcome",
        title="Each guard seen at work",
        why="Reopen, hold, back off and halt are different acts; only somebody who has seen them can test them.",
        instead="Trip each guard once while the gate opens and once while it closes, from outside the arc.",
        judge=_seen,
    ),
)

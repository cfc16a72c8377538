"""Guards that nobody proved: before learning, and at handing over."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.checks.guards import CHECKS, pulls, trips
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import BY_ITSELF, GUARDS, Story, cite, same

PROVED = next(check for check in CHECKS if check.name == "guards proved")


def _guards(story: Story) -> list[str]:
    return [guard for guard in GUARDS if story.standing.fitted.get(guard, False) and story.declared(guard)]


def _at_handover(story: Story) -> list[Breach]:
    if story.ended != "handed over":
        return []
    verdict = PROVED.judge(story)
    if verdict.state == "passed":
        return []
    return [breach(verdict.what, *verdict.evidence, *[d.cite for d in story.done("hand over")])]


def _before_learning(story: Story) -> list[Breach]:
    learning = next((move for move in story.moves if move.by == "learning"), None)
    if learning is None:
        return []
    missing = [
        guard
        for guard in _guards(story)
        if not any(e.at < learning.start for e in (*trips(story, guard), *pulls(story, guard)))
    ]
    if not missing:
        return []
    return [
        breach(said("Learning ran before these were proved: {guards}.", guards=listed(missing)), cite(learning.event))
    ]


def _unplugged(story: Story) -> list[Breach]:
    left = story.standing.unplugged
    if story.ended != "handed over" or not left:
        return []
    cited = [d.cite for guard in left for d in story.done("unplug", guard=guard)[-1:]]
    return [
        breach(
            said("Handed over with a plug off: {plugs}.", plugs=listed(left)),
            *cited,
            *[d.cite for d in story.done("hand over")],
        )
    ]


def _test_off(story: Story) -> list[Breach]:
    writes = story.done("set", setting="guard test")
    for index, deed in enumerate(writes):
        if not same(deed.of("value"), "off"):
            continue
        until = writes[index + 1].effect_at if index + 1 < len(writes) else story.end
        moved = [m for m in story.moves if m.by in BY_ITSELF and deed.effect_at <= m.start <= until]
        left = index + 1 == len(writes) and story.ended == "handed over"
        if moved or left:
            shown = [cite(moved[0].event)] if moved else [d.cite for d in story.done("hand over")]
            return [breach("The guard test was switched off.", deed.cite, *shown)]
    return []


RULES = (
    Rule(
        name="guards not proved",
        severity="serious",
        title="Guards not proved",
        why="A guard nobody tripped is a hope. A user lets children through on it.",
        instead="Trip each declared guard and pull its plug, after the last change at it, before you hand over.",
        look=_at_handover,
        at_leaving=True,
        remedy="unplug",
    ),
    Rule(
        name="learning before the guards were proved",
        severity="minor",
        title="Learning before the guards were proved",
        why="Learning moves the gate by itself; the guards are what stops it when somebody walks in.",
        instead="Prove each declared guard at rest first, then let it learn.",
        look=_before_learning,
    ),
    Rule(
        name="guard test off",
        severity="serious",
        title="Guard test switched off",
        why="The test before each start is what finds a beam that has gone blind. Off, it hides a fault.",
        instead="Leave the test on and cure what it reports.",
        look=_test_off,
    ),
    Rule(
        name="guard left unplugged",
        severity="minor",
        title="A guard was left unplugged",
        why="The gate will stand still for the user, and the next hand in the cabinet may bridge what is only "
        "unplugged.",
        instead="Push each plug back and see its line on the panel read clear.",
        look=_unplugged,
        at_leaving=True,
    ),
)

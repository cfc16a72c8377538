"""People and moving leaves: nobody in the arc, ever, and nobody struck."""

from __future__ import annotations

from sim.said import begun, said
from sim.world.history import Event
from trainer.grading.finding import Evidence
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import Story, cite


def _began_by(story: Story, event: Event) -> str:
    """What put the gate in motion with somebody in the arc: `learning`, `restore`, or another mover."""
    by = str(event.data.get("by", ""))
    if by:
        return by
    entry = story.behind(event)
    kind = entry.action.kind if entry is not None else ""
    return {"learn travel": "learning", "restore": "restore"}.get(kind, kind)


def in_the_arc(story: Story, *begun_by: str) -> list[Breach]:
    """One breach per person and act that put them in danger; without `begun_by` every mover but the named ones."""
    grouped: dict[tuple[str, int], list[Event]] = {}
    for event in story.events("danger", what="person in the arc"):
        by = _began_by(story, event)
        wanted = by in begun_by if begun_by else by not in ("learning", "restore")
        if wanted:
            entry = story.behind(event)
            grouped.setdefault((str(event.data.get("detail", "")), entry.at if entry is not None else 0), []).append(
                event
            )
    found = []
    for events in grouped.values():
        entry = story.behind(events[0])
        act = () if entry is None else (Evidence(entry.line, entry.at, entry.action.kind),)
        found.append(breach(_sentence(events[0].text), *act, cite(events[0])))
    return found


def _sentence(text: str) -> str:
    return begun(said("{what}.", what=text))


def _learning(story: Story) -> list[Breach]:
    return in_the_arc(story, "learning")


def _moved(story: Story) -> list[Breach]:
    return in_the_arc(story)


def _struck(story: Story) -> list[Breach]:
    return [breach(_sentence(event.text), cite(event)) for event in story.events("struck")]


RULES = (
    Rule(
        name="learning with a person in the arc",
        severity="grave",
        title="Learning started with a person in the arc",
        why="Learning drives both leaves to their stops, both ways, more than once, before any force is known to it.",
        instead="Barriers up, everybody out of the arc, one hand at the stop; then start learning.",
        look=_learning,
    ),
    Rule(
        name="moved with a person in the arc",
        severity="grave",
        title="Moved with a person in the arc",
        why="Real gates crush and kill. Nobody stands in the arc during a test move, however slow it is.",
        instead="Put up barriers, see that the arc is empty, keep one hand at the stop, then command the move.",
        look=_moved,
    ),
    Rule(
        name="person struck",
        severity="grave",
        title="A person was struck",
        why="At the hinge and at the meeting edge a leaf has force enough to break bones. In the yard there is "
        "no rewind.",
        instead="Keep people behind the barriers; test guards with the test body, from outside the arc.",
        look=_struck,
    ),
)

"""Wire links across guards: none while the gate moves by itself, none left behind, each one written down."""

from __future__ import annotations

from sim.said import said
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import BY_ITSELF, Story, cite

MENTIONS = ("bridge", "bridging", "link")
"""A note that has one of these, or the guard's name, speaks of it."""


def _while_moving(story: Story) -> list[Breach]:
    """Only links that somebody fitted here: one that was found in the gate is nobody's act until it is left in."""
    found = []
    moves = [move for move in story.moves if move.by in BY_ITSELF]
    for deed in story.done("bridge"):
        guard = deed.of("guard")
        spans = story.bridge_on(guard).spans(True, story.end)
        until = next((end for begin, end in spans if begin == deed.effect_at), deed.effect_at)
        hit = [cite(move.event) for move in moves if move.start <= until and move.end >= deed.effect_at]
        told = [
            cite(event)
            for event in story.events("danger", what="guard bridged", detail=guard)
            if event.data.get("by") in BY_ITSELF and deed.effect_at <= event.at <= until
        ]
        if hit or told:
            text = said("The gate moved by itself while the {guard} was bridged.", guard=guard)
            found.append(breach(text, deed.cite, *(hit or told)[:1]))
    return found


def _left(story: Story) -> list[Breach]:
    return [
        breach(
            said("The {guard} was left bridged.", guard=guard),
            *[deed.cite for deed in story.done("bridge", guard=guard)],
        )
        for guard in story.standing.bridged
    ]


def _not_noted(story: Story) -> list[Breach]:
    found = []
    for deed in story.done("bridge"):
        guard = deed.of("guard")
        notes = [d.of("text").lower() for d in story.done("note", "change note") if d.number > deed.number]
        if not any(word in note for note in notes for word in (*MENTIONS, guard)):
            told = said("A link lay across the {guard} and the notebook does not say so.", guard=guard)
            found.append(breach(told, deed.cite))
    return found


RULES = (
    Rule(
        name="guard bridged while moving by itself",
        severity="grave",
        title="Moved by itself with a guard bridged",
        why="A bridged guard protects nobody, and the gate does not know it. Whoever steps in is hit at full force.",
        instead="Find out why the guard reads open. If one must be linked out to search, isolate or jog, never more.",
        look=_while_moving,
    ),
    Rule(
        name="bridge left",
        severity="grave",
        title="A bridge was left in",
        why="Someone will be hurt by a gate left like this, whatever the customer's hurry was.",
        instead="Take the link off. What can't be cured today is made safe, with a notice and a letter.",
        look=_left,
        at_leaving=True,
    ),
    Rule(
        name="bridge not noted",
        severity="minor",
        title="A bridge was not written down",
        why="Links are forgotten when the telephone rings. What stands in the notebook is looked for.",
        instead="Write down each link when it goes on and when it comes off.",
        look=_not_noted,
        at_leaving=True,
        remedy="note",
    ),
)

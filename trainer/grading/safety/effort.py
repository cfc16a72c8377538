"""Motor effort: never at its maximum, never raised to make a symptom go away."""

from __future__ import annotations

from sim.controller.settings import CATALOGUE
from sim.said import said
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import Deed, Story, cite, number

SETTINGS = ("motor effort, opening", "motor effort, closing")

MAXIMUM = {setting: number(CATALOGUE[setting].most) or 100.0 for setting in SETTINGS}
"""All the sheet takes [% of rated]."""

BEFORE = {setting: number(CATALOGUE[setting].default) or 0.0 for setting in SETTINGS}
"""What the sheet holds before anybody wrote [% of rated]."""


def _writes(story: Story, setting: str) -> list[tuple[Deed, float]]:
    return [(d, value) for d in story.done("set", setting=setting) if (value := number(d.of("value"))) is not None]


def _at_maximum(story: Story) -> list[Breach]:
    found = []
    for setting in SETTINGS:
        writes = _writes(story, setting)
        for index, (deed, value) in enumerate(writes):
            if value < MAXIMUM[setting]:
                continue
            until = writes[index + 1][0].effect_at if index + 1 < len(writes) else story.end
            moved = [m for m in story.moves if m.by != "jog" and deed.effect_at <= m.start < until]
            still = (
                index + 1 == len(writes) and (number(story.standing.sheet.get(setting)) or 0.0) >= MAXIMUM[setting]
            )
            if moved or still:
                shown = [cite(moved[0].event)] if moved else []
                told = said("{setting} was set to {value:g} %.", setting=setting, value=value)
                found.append(breach(told, deed.cite, *shown))
    return found


def _raised(story: Story) -> list[Breach]:
    symptoms = sorted(
        [*story.events("clash"), *story.events("contact"), *story.events("struck"), *story.events("refused")],
        key=lambda event: event.at,
    )
    found = []
    for setting in SETTINGS:
        writes = _writes(story, setting)
        steps = [(0, BEFORE[setting]), *((deed.effect_at, value) for deed, value in writes)]
        for (since, old), (_, new), (deed, _) in zip(steps, steps[1:], writes, strict=False):
            seen = [e for e in symptoms if since <= e.at <= deed.entry.at]
            if new > old and seen:
                told = said(
                    "After this, {setting} was raised from {old:g} to {new:g} %.", setting=setting, old=old, new=new
                )
                found.append(breach(told, cite(seen[-1]), deed.cite))
    return found


RULES = (
    Rule(
        name="effort at maximum",
        severity="serious",
        title="Motor effort turned to maximum",
        why="Raising effort to beat wind, friction or a bad hinge is the classic error: the gate goes, and "
        "crosses the "
        "limit where it crushes. Nobody complains until it hurts.",
        instead="Take the lowest effort that runs the leaf in calm weather; cure what makes it heavy; measure "
        "the force.",
        look=_at_maximum,
    ),
    Rule(
        name="effort raised to cure a symptom",
        severity="serious",
        title="Effort raised to cure a symptom",
        why="An obstacle message is a message. More effort silences it and leaves the cause in.",
        instead="Ask what stopped the leaf: order, strip, hinge, something in the way. Then measure the force again.",
        look=_raised,
    ),
)

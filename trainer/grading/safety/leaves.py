"""Leaves: in the right order, turning the right way, and none left swinging."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.safety.rule import Breach, Rule, breach
from trainer.grading.story import BY_ITSELF, Story, cite, same


def _order(story: Story) -> list[Breach]:
    free = story.standing.opens_first_truth
    writes = [d for d in story.done("set", setting="opens first") if not same(d.of("value"), "not stated")]
    found = []
    for index, deed in enumerate(writes):
        if same(deed.of("value"), free):
            continue
        until = writes[index + 1].effect_at if index + 1 < len(writes) else story.end
        moved = [m for m in story.moves if m.by in BY_ITSELF and deed.effect_at <= m.start < until]
        clashes = [e for e in story.events("clash") if deed.effect_at <= e.at <= until]
        if moved or clashes:
            shown = cite(clashes[0]) if clashes else cite(moved[0].event)
            told = said(
                "With the {leaf} leaf to open first the leaves clashed."
                if clashes
                else "With the {leaf} leaf to open first the gate ran.",
                leaf=deed.of("value"),
            )
            found.append(breach(told, deed.cite, shown))
    written = story.standing.sheet.get("opens first", "not stated")
    if not found and story.ended == "handed over" and not same(written, "not stated") and not same(written, free):
        cited = [d.cite for d in (*writes[-1:], *story.done("hand over"))]
        found.append(breach(said("Handed over with the {leaf} leaf to open first.", leaf=written), *cited))
    return found


def _clashed(story: Story) -> list[Breach]:
    """Clashes that the order on the sheet does not explain."""
    writes = story.done("set", setting="opens first")
    found = []
    for event in story.events("clash"):
        held = [d for d in writes if d.effect_at <= event.at]
        if not held or same(held[-1].of("value"), story.standing.opens_first_truth):
            found.append(breach("The leaves clashed.", cite(event)))
    return found


def _leads(story: Story) -> list[Breach]:
    """A gate in service is run to see what is wrong with it; one that is being commissioned is jogged first."""
    began = next((deed.entry.at for deed in story.done("learn travel")), story.end + 1)
    moves = [m for m in story.moves if m.by in BY_ITSELF and m.start >= began]
    wrong = [m for m in moves if m.turned and m.turned != m.direction]
    leaves = sorted({move.leaf for move in wrong})
    found = [
        breach(
            said("The {leaf} leaf ran by itself the wrong way.", leaf=leaf),
            *[cite(m.event) for m in wrong if m.leaf == leaf][:1],
        )
        for leaf in leaves
    ]
    left = [leaf for leaf in story.standing.swapped_wrong if leaf not in leaves]
    if left and story.ended == "handed over":
        told = said("Handed over with a leaf that turns the wrong way: {leaves}.", leaves=listed(left))
        found.append(breach(told, *[d.cite for d in story.done("hand over")]))
    return found


def _released(story: Story) -> list[Breach]:
    return [
        breach(
            said("The drive of the {leaf} leaf was left released.", leaf=leaf),
            *[d.cite for d in story.done("release drive", leaf=leaf)],
        )
        for leaf in story.standing.released
    ]


def _ran_away(story: Story) -> list[Breach]:
    return [
        breach("A released leaf swung by itself.", cite(e))
        for e in story.events("danger", what="released on a slope")
    ]


RULES = (
    Rule(
        name="wrong leaf order",
        severity="serious",
        title="Wrong leaf order",
        why="The leaf under the cover strip can't leave first: both drives work against each other, with the "
        "strip and "
        "anybody's fingers in between.",
        instead="Look which side the strip lies on before you write *opens first*; it can be seen with the "
        "gate shut.",
        look=_order,
    ),
    Rule(
        name="leaves clashed",
        severity="serious",
        title="The leaves clashed",
        why="Leaves that meet out of order carry both drives' force into the strip and the hinges.",
        instead="Give the second leaf delay enough, opening and closing, and watch one cycle with a hand at "
        "the stop.",
        look=_clashed,
    ),
    Rule(
        name="leads not swapped",
        severity="serious",
        title="Motor leads not swapped",
        why="A leaf that turns the wrong way closes when it should reopen: every guard works against the "
        "person in it.",
        instead="Jog each leaf before anything runs by itself; isolate, prove dead, swap the leads, jog again.",
        look=_leads,
    ),
    Rule(
        name="released leaf left",
        severity="serious",
        title="A leaf was left released",
        why="A released leaf runs downhill or in the wind and strikes whoever stands there.",
        instead="Lock the manual release before you let go of the leaf, and before the supply comes back.",
        look=_released,
        at_leaving=True,
    ),
    Rule(
        name="released leaf swung",
        severity="serious",
        title="A released leaf swung by itself",
        why="Stored energy: a leaf on a slope or in wind moves the moment its drive lets go.",
        instead="Hold or wedge the leaf before you release its drive, with nobody below or behind.",
        look=_ran_away,
    ),
)

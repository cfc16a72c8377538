"""The stop circuit, proved under jog: the leaf comes to rest while the jog button is still held."""

from __future__ import annotations

from sim.said import said
from trainer.grading.checks.check import Check, failed, not_yet, passed, stale
from trainer.grading.finding import Verdict
from trainer.grading.story import Deed, Move, Story, cite

STOP = "stop circuit"

ENOUGH = 3_000_000
"""A leaf that still moves this long after the stop is not stopped by it [µs]. Common practice, no source."""


def _trials(story: Story) -> list[tuple[Deed, Move, bool]]:
    """(stop pressed, jog it met, whether that stopped the leaf while the jog was still held)."""
    found = []
    for press in story.done("press", control="stop button"):
        for move in story.moves:
            if move.by != "jog" or not move.start <= press.entry.at < move.end:
                continue
            let_go = [d.entry.at for d in story.done("jog release", leaf=move.leaf) if d.entry.at >= press.entry.at]
            held_until = let_go[0] if let_go else story.end
            if move.end <= min(held_until, press.entry.at + ENOUGH) and not story.bridge_on(STOP).at(press.entry.at):
                found.append((press, move, True))
            elif held_until - press.entry.at >= ENOUGH:
                found.append((press, move, False))
    return found


def _proved(story: Story) -> Verdict:
    trials = _trials(story)
    if not trials:
        return not_yet("The stop was not pressed while a leaf was jogged and held until it rested.")
    press, move, stopped = trials[-1]
    cited = (press.cite, cite(move.event))
    if not stopped:
        return failed(said("The {leaf} leaf moved on under jog with the stop pressed.", leaf=move.leaf), *cited)
    spoiled = [
        deed
        for deed in (*story.done("bridge", "remove bridge", guard=STOP), *story.setting_changes(STOP))
        if deed.entry.at > press.entry.at
    ]
    if spoiled:
        return stale("The stop circuit was changed after it was proved.", press.cite, spoiled[-1].cite)
    if STOP in story.standing.unplugged or STOP in story.standing.bridged:
        return stale("The stop circuit was proved, but it is not plugged in as it was then.", *cited)
    return passed(
        said("The stop brought the {leaf} leaf to rest while the jog button was held.", leaf=move.leaf), *cited
    )


CHECKS = (
    Check(
        name="stop circuit proved",
        part="verification",
        title="Stop circuit proved under jog",
        why="The stop is what saves somebody when everything else was wrong. It comes first: before it is proved, "
        "nothing may move by itself.",
        instead="Jog a leaf, press the stop while you hold the jog button, and hold on until the leaf rests.",
        judge=_proved,
    ),
)

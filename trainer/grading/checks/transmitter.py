"""Transmitters: one is enrolled for a holder, and pressing it opens the gate."""

from __future__ import annotations

from trainer.grading.checks.check import Check, failed, not_yet, passed, stale
from trainer.grading.finding import Verdict
from trainer.grading.story import Deed, Move, Story, cite

ANSWER = 15_000_000
"""A gate that has not moved this long after a press did not answer it [µs]. Warning time included; no source."""


def _answer(story: Story, press: Deed) -> Move | None:
    """The opening a press brought about, with no other press in between."""
    others = [d.entry.at for d in story.done("press", "press transmitter") if d.number > press.number]
    until = min([press.entry.at + ANSWER, *others[:1]])
    for move in story.moves:
        if move.direction == "open" and move.by == "automatic" and press.entry.at <= move.start <= until:
            return move
    return None


def _opens(story: Story) -> Verdict:
    enrolled = story.done("enrol transmitter")
    presses = [d for d in story.done("press transmitter") if enrolled and d.number > enrolled[0].number]
    answered = [(press, move) for press in presses if (move := _answer(story, press)) is not None]
    if not story.standing.transmitters:
        if answered:
            return stale("The gate was opened by transmitter, but none is enrolled now.", answered[-1][0].cite)
        return not_yet("No transmitter is enrolled.")
    if answered:
        press, move = answered[-1]
        return passed("An enrolled transmitter opened the gate.", enrolled[-1].cite, press.cite, cite(move.event))
    heard = [e for e in story.events("refused") if presses and e.at >= presses[-1].entry.at]
    if heard:
        return failed("The gate did not open on the transmitter.", presses[-1].cite, cite(heard[-1]))
    return not_yet("The gate was not opened by an enrolled transmitter.", *[d.cite for d in presses[-1:]])


CHECKS = (
    Check(
        name="transmitter opens",
        part="outcome",
        title="Transmitter opens the gate",
        why="The list of transmitters is the list of who may move a machine. Radio is not a stop: loss, delay or "
        "jamming must never be able to keep the wired stop from working.",
        instead="Enrol each transmitter under its holder's name, then press it and see the gate open.",
        judge=_opens,
        needs=("travel learned",),
    ),
)

"""Radio: enrolling by pressing, what each button does, and the rolling counter that makes a copied word worthless.

A word is good if its counter is ahead of the last good one by no more than a small window. Further ahead, two words
in a row are needed. A counter that was used is never good again.
"""

from __future__ import annotations

from typing import Final

from sim.controller import wording
from sim.controller.ports import RadioWord
from sim.controller.records import Heard, Transmitter
from sim.controller.turn import Turn
from sim.said import joined, said

WINDOW: Final = 16
"""Counters this far ahead are good at once. Facts 5.5, common practice."""

FAR_WINDOW: Final = 32_768
"""Counters this far ahead are good once a second one follows. Facts 5.5, common practice."""

MOST_HEARD: Final = 20
"""How many radio words the panel lists."""

MOST_BUTTONS: Final = 40
"""How many buttons can be enrolled."""

ENROL_S: Final = 30.0
"""Enrolling ends when nothing was pressed for this long [s]. CP, no source."""

FUNCTIONS: Final = ("open", "close", "step", "halt", "pedestrian")


def begin_enrolling(turn: Turn, holder: str, function: str) -> str:
    """Await a press; returns why not, empty if it is awaited."""
    radio = turn.memory.radio
    if function not in FUNCTIONS:
        return said(
            "a button can't be given '{function}'; it can be given {functions}",
            function=function,
            functions=joined(FUNCTIONS, ", "),
        )
    if not holder.strip():
        return said("say who carries it")
    if len(radio.buttons) >= MOST_BUTTONS:
        return said("the memory is full: {count} buttons are enrolled", count=MOST_BUTTONS)
    radio.enrolling = [holder.strip(), function]
    turn.start_timer("enrolling", ENROL_S)
    return ""


def watch_enrolling(turn: Turn) -> None:
    """End an enrolling in which nothing was pressed."""
    radio = turn.memory.radio
    if turn.take_timer("enrolling") and radio.enrolling:
        turn.note("transmitter", radio.enrolling[0], said("not enrolled: nothing was pressed"))
        turn.say(said("not enrolled: nothing was pressed"))
        radio.enrolling = []


def hear(turn: Turn) -> None:
    """Take the radio words of this scan: to enrol, or as commands."""
    radio = turn.memory.radio
    for word in turn.inputs.radio:
        if not word.pressed:
            continue
        if radio.enrolling:
            _enrol(turn, word)
            continue
        entry = next((b for b in radio.buttons if (b.serial, b.button) == (word.serial, word.button)), None)
        if entry is None:
            _list(turn, "", 0, said("not enrolled"))
        elif _is_good(turn, word, entry):
            turn.commands.append((entry.function, said("transmitter of {holder}", holder=entry.holder)))


def _enrol(turn: Turn, word: RadioWord) -> None:
    radio = turn.memory.radio
    holder, function = radio.enrolling
    radio.enrolling = []
    turn.stop_timer("enrolling")
    known = next((b for b in radio.buttons if (b.serial, b.button) == (word.serial, word.button)), None)
    if known is not None:
        turn.say(said("not enrolled: this button is enrolled for {holder}", holder=known.holder))
        turn.note(
            "transmitter", holder, said("not enrolled: the button is enrolled for {holder}", holder=known.holder)
        )
        return
    if not word.fixed and word.counter <= radio.counters.get(word.serial, -1):
        turn.say(said("not enrolled: an old word was received"))
        turn.note("transmitter", holder, said("not enrolled: an old word was received"))
        return
    radio.buttons.append(Transmitter(word.serial, word.button, holder, function, word.fixed))
    radio.counters[word.serial] = word.counter
    _list(turn, holder, 0, said("enrolled"))
    radio.pending.pop(word.serial, None)
    turn.say(wording.enrolled(holder, function))
    turn.note("transmitter", holder, said("enrolled: {function}", function=function))


def _list(turn: Turn, holder: str, step: int, verdict: str) -> None:
    """Put a word on the panel's list."""
    turn.memory.radio.heard = [*turn.memory.radio.heard, Heard(holder, step, verdict)][-MOST_HEARD:]


def _is_good(turn: Turn, word: RadioWord, entry: Transmitter) -> bool:
    radio, holder = turn.memory.radio, entry.holder
    if entry.fixed or word.fixed:
        alike = entry.fixed and word.fixed
        _list(turn, holder, 0, said("accepted" if alike else "an old word"))
        return alike
    ahead = word.counter - radio.counters.get(word.serial, 0)
    awaited = radio.pending.pop(word.serial, None)
    if 0 < ahead <= WINDOW or (awaited == word.counter and 0 < ahead <= FAR_WINDOW):
        radio.counters[word.serial] = word.counter
        _list(turn, holder, ahead, said("accepted"))
        return True
    _list(turn, holder, ahead, said("too far ahead" if ahead > 0 else "an old word"))
    if 0 < ahead <= FAR_WINDOW:
        radio.pending[word.serial] = word.counter + 1
        turn.note("transmitter", holder, said("far ahead of its last word: press again"))
    else:
        turn.note("transmitter", holder, said("an old word was received and ignored"))
    return False


def delete(turn: Turn, holder: str) -> str:
    """Delete a holder's buttons; returns why not, empty if done. The counters stay, so that old words stay old."""
    radio = turn.memory.radio
    kept = [button for button in radio.buttons if button.holder != holder]
    if len(kept) == len(radio.buttons):
        holders = joined(sorted({button.holder for button in kept}), ", ") if kept else said("nobody")
        return said("no transmitter is enrolled for '{holder}'; enrolled: {holders}", holder=holder, holders=holders)
    radio.buttons = kept
    turn.note("transmitter", holder, said("deleted"))
    return ""


def delete_all(turn: Turn) -> None:
    """Delete every button."""
    turn.memory.radio.buttons = []
    turn.note("transmitter", said("all"), said("deleted"))

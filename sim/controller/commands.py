"""Turns contacts and radio into commands: something that is given, once, by somebody.

A command is an edge. A control that is pressed when power comes, through a halt or through a refusal gives nothing
until it is let go and pressed again. Two opposite commands at once are the safe one: halt. Contacts that stay closed
for hours (timer, emergency access) are levels beside that: closed, they keep an open gate open and open no other.
"""

from __future__ import annotations

from typing import Final

from sim.controller.memory import Memory
from sim.controller.ports import COMMAND_TERMINALS, CONTACT_THRESHOLD_V
from sim.controller.sheet import Sheet, word
from sim.controller.turn import Turn
from sim.said import said

TIMER_CONTACT: Final = COMMAND_TERMINALS.index("timer contact")
"""Index of the timer contact, which holds an open gate open while it is closed."""

EMERGENCY_CONTACT: Final = COMMAND_TERMINALS.index("emergency contact")
"""Index of the emergency contact, which opens, and holds an open gate open while it is closed."""

HOLD_OPEN: Final = (TIMER_CONTACT, EMERGENCY_CONTACT)
"""Maintained contacts: while one is closed nobody closes the gate."""

CHATTERS_US: Final = 40_000
"""A contact that closes again within this only chatters: no second command [µs]. CP, no source."""

HELD_OPENING: Final = "hold-to-run opening"
HELD_CLOSING: Final = "hold-to-run closing"
HELD: Final = (HELD_OPENING, HELD_CLOSING)
"""Commands that last while their control is held. No transmitter gives one."""

LET_GO: Final = "hold-to-run let go"

EMERGENCY: Final = "emergency opening"

UNSPARED: Final = (EMERGENCY, *HELD)
"""What neither a low battery nor a warm motor is a reason against."""

OPENINGS: Final = ("open", "pedestrian")
"""Openings that a closing command contradicts; an emergency opening is contradicted by nothing."""

_GIVES: Final = {
    "open button": "open",
    "close button": "close",
    "step button": "step",
    "key switch": "open",
    "timer contact": "open",
    "pedestrian button": "pedestrian",
    "emergency contact": EMERGENCY,
}
"""What each control gives when it is pressed, unless the sheet makes it hold-to-run."""

BOTH: Final = said("opening and closing given together")


def levels(volts: tuple[float, ...]) -> list[bool]:
    """Which controls are pressed."""
    return [reading < CONTACT_THRESHOLD_V for reading in volts]


def kept_open_by(memory: Memory) -> str:
    """The maintained contact that keeps an open gate open now, empty if none does."""
    closed = [COMMAND_TERMINALS[index] for index in HOLD_OPEN if memory.pressed and memory.pressed[index]]
    return closed[-1] if closed else ""


def given(sheet: Sheet, control: str) -> str:
    """What a control gives when it is pressed."""
    if control == "key switch" and word(sheet, "key switch") == "hold-to-run open":
        return HELD_OPENING
    if control in ("open button", "close button") and word(sheet, "open and close buttons") == "hold-to-run":
        return HELD_OPENING if control == "open button" else HELD_CLOSING
    return _GIVES[control]


def read(turn: Turn) -> None:
    """Take the controls' edges of this scan as commands."""
    memory = turn.memory
    now = levels(turn.inputs.command_v)
    before, memory.pressed = memory.pressed, now
    if not before:
        memory.let_go_at = [turn.now - CHATTERS_US] * len(now)
        memory.held_over = [name for name, down in zip(COMMAND_TERMINALS, now, strict=True) if down]
        return
    for index, name in enumerate(COMMAND_TERMINALS):
        if now[index] == before[index]:
            continue
        what = given(turn.sheet, name)
        if now[index]:
            chatters = turn.now - memory.let_go_at[index] < CHATTERS_US
            if not chatters or what in HELD:
                turn.commands.append((what, name))
            continue
        memory.let_go_at[index] = turn.now
        if name in memory.held_over:
            memory.held_over.remove(name)
        if what in HELD:
            turn.commands.append((LET_GO, name))


def resolve(turn: Turn) -> None:
    """Opposite commands given together, or one against a control held the other way, become a halt."""
    held = {
        given(turn.sheet, name)
        for index, name in enumerate(COMMAND_TERMINALS)
        if turn.memory.pressed[index] and index not in HOLD_OPEN
    }
    now = {what for what, _ in turn.commands}
    closes, opens = {"close", HELD_CLOSING}, {*OPENINGS, HELD_OPENING}
    if (now & closes and (now | held) & opens) or (now & opens and held & closes):
        others = [each for each in turn.commands if each[0] not in closes | opens]
        turn.commands[:] = [*others, ("halt", BOTH)]

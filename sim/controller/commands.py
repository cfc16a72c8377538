"""Turns contacts and radio into commands: something that is given, once, by somebody.

A command is an edge. A control that is pressed when power comes, through a halt or through a refusal gives nothing
until it is let go and pressed again. Two opposite commands at once are the safe one: halt.
"""

from __future__ import annotations

from typing import Final

from sim.controller.ports import COMMAND_TERMINALS, CONTACT_THRESHOLD_V
from sim.controller.sheet import word
from sim.controller.turn import Turn

TIMER_CONTACT: Final = 4
"""Index of the timer contact, which holds an open gate open while it is closed."""

KEY_SWITCH: Final = 3

CHATTERS_US: Final = 40_000
"""A contact that closes again within this only chatters: no second command [µs]. CP, no source."""

RUN_HELD: Final = "hold-to-run"
RUN_RELEASED: Final = "hold-to-run released"

_GIVES: Final = ("open", "close", "step", "open", "open")
"""What each control gives when it is pressed."""

BOTH: Final = "opening and closing given together"


def levels(volts: tuple[float, ...]) -> list[bool]:
    """Which controls are pressed."""
    return [reading < CONTACT_THRESHOLD_V for reading in volts]


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
        if now[index]:
            chatters = turn.now - memory.let_go_at[index] < CHATTERS_US
            if chatters and _given(turn, index) != RUN_HELD:
                continue
            turn.commands.append((_given(turn, index), name))
        else:
            memory.let_go_at[index] = turn.now
            if name in memory.held_over:
                memory.held_over.remove(name)
            if _given(turn, index) == RUN_HELD:
                turn.commands.append((RUN_RELEASED, name))


def _given(turn: Turn, index: int) -> str:
    if index == KEY_SWITCH and word(turn.sheet, "key switch") == "hold-to-run open":
        return RUN_HELD
    return _GIVES[index]


def resolve(turn: Turn) -> None:
    """Opposite commands given together, or one against a control held the other way, become a halt."""
    memory = turn.memory
    given = {what for what, _ in turn.commands}
    held = [index for index in range(len(_GIVES)) if memory.pressed[index] and index != TIMER_CONTACT]
    opens_held = any(_given(turn, index) == "open" for index in held)
    opens = given & {"open", "pedestrian"}
    if ("close" in given and (opens or opens_held)) or (opens and memory.pressed[1]):
        others = [each for each in turn.commands if each[0] not in ("open", "pedestrian", "close")]
        turn.commands[:] = [*others, ("halt", BOTH)]

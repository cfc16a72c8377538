"""Keeps the motors within their duty by counting how long each was driven: an estimate, for no winding is felt.

Duty type S3 of IEC 60034-1 (facts 5.4): a motor may run for its share of any cycle of ten minutes. A start that would
go beyond it is refused and the panel says when the motors have rested. Nothing that moves is ever stopped for it, a
reversal never asks, and neither does whoever holds a control: there the eye is on the gate.
"""

from __future__ import annotations

from typing import Final

from sim.controller import calendar
from sim.controller.machine import RESTING
from sim.controller.memory import Leaf, Memory, Phase
from sim.controller.sheet import leaves, number
from sim.controller.turn import Turn
from sim.said import said
from sim.units import LEAVES, SCAN, SECOND, next_on_grid

CYCLE_S: Final = 600.0
"""Length of a cycle unless another is stated [s]. Facts 5.4 (IEC 60034-1)."""

_CYCLE: Final = round(CYCLE_S * SECOND)

DRIVEN: Final = (Phase.MOVING, Phase.SEATING)


def count(turn: Turn) -> None:
    """The turn is over: what is driven from here on runs, what is driven no more has run."""
    for leaf in turn.memory.leaves:
        driven = leaf.move.phase in DRIVEN
        if driven and leaf.driven_since < 0:
            leaf.driven_since = int(turn.now)
        elif not driven and leaf.driven_since >= 0:
            _end_run(leaf, int(turn.now))


def _end_run(leaf: Leaf, now: int) -> None:
    leaf.runs = [run for run in leaf.runs if run[1] > now - _CYCLE]
    leaf.runs.append([leaf.driven_since, now])
    leaf.driven_since = -1


def arrived(leaf: Leaf, now: int) -> None:
    """A leaf came to a learned stop: so long may the next run take as well."""
    if leaf.driven_since >= 0:
        leaf.longest_run = max(leaf.longest_run, now - leaf.driven_since)


def cut_off(memory: Memory, now: int) -> None:
    """Power went under a run: taken for as long as a run can be, if there was time for it."""
    limit = round(number(memory.sheet, "run-time limit") * SECOND)
    for leaf in memory.leaves:
        if leaf.driven_since >= 0:
            _end_run(leaf, min(now, leaf.driven_since + limit))


def against(turn: Turn) -> list[str]:
    """Why a start must wait for the motors, in words; and the instant from which on it need not is kept."""
    memory, now = turn.memory, int(turn.now)
    ready = {index: _ready_at(memory, memory.leaves[index], now) for index in leaves(memory.sheet)}
    late = [index for index, at in ready.items() if at > now]
    if not late:
        return []
    memory.rests_until = next_on_grid(max(ready.values()), SCAN)
    when = rests(memory, now)
    if len(late) == 1:
        return [said("the {leaf} leaf's motor has run enough for its duty: {when}", leaf=LEAVES[late[0]], when=when)]
    return [said("the active and inactive leaf's motor has run enough for its duty: {when}", when=when)]


def _ready_at(memory: Memory, leaf: Leaf, now: int) -> int:
    """From when on a leaf may start and run as long as it ever did [µs]; learning, which is longer, may too."""
    allowed = round(number(memory.sheet, "motor duty") / 100.0 * _CYCLE)
    if allowed >= _CYCLE:
        return now
    room = allowed - min(leaf.longest_run, allowed)
    # the latest instant at which the runs of the cycle before it are more than `room`
    ran = 0
    for start, end in reversed(leaf.runs):
        ran += end - start
        if ran > room:
            return max(now, start + ran - room + _CYCLE)
    return now


def rests(memory: Memory, now: int) -> str:
    """Until when the motors rest, in words."""
    clock = calendar.reading(memory.rests_until, memory.clock_ahead)
    seconds = -(-(memory.rests_until - now) // SECOND)
    if clock == calendar.NOT_SET:
        return said("ready in {seconds} s", seconds=seconds)
    return said("ready in {seconds} s, at {clock}", seconds=seconds, clock=calendar.words(clock))


def waits(memory: Memory) -> str:
    """That a start waits for the motors, with the time of day at which they have rested once the clock is set."""
    clock = calendar.reading(memory.rests_until, memory.clock_ahead)
    if clock == calendar.NOT_SET:
        return said("the motors to rest")
    return said("the motors to rest until {clock}", clock=calendar.words(clock))


def rested(turn: Turn) -> None:
    """Say so when the motors have rested, once."""
    memory = turn.memory
    if 0 <= memory.rests_until <= turn.now:
        memory.rests_until = -1
        turn.note("power", "motors", said("have rested"))
        if turn.state in RESTING:
            turn.say(said("the motors have rested"))

"""Closing by itself: when the open gate may wait for it, and when the wait is over."""

from __future__ import annotations

from sim.controller import beam_check, guards, motion, supply
from sim.controller.commands import kept_open_by
from sim.controller.machine import State
from sim.controller.memory import Memory
from sim.controller.sheet import number, word
from sim.controller.turn import Turn
from sim.said import said
from sim.units import SECOND


def why_not(memory: Memory) -> str:
    """Why an open gate would not close by itself, in words; empty if it would."""
    if word(memory.sheet, "auto-close") != "on":
        return said("auto-close is off")
    if not memory.learned:
        return said("learning not finished")
    if memory.load_strokes_due:
        return said("the learned load is out of date")
    if not memory.position_known:
        return said("the position is unknown")
    if memory.doubt:
        return said("the learned travel is in doubt")
    if memory.waits_for_command:
        return said("auto-close waits for a new command")
    if memory.tries > number(memory.sheet, "obstacle retries"):
        return said("it met something too often")
    if beam_check.standing(memory):
        return said("a guard failed its test")
    return supply.why_no_auto_close(memory)


def consider(turn: Turn) -> None:
    """The gate rests: if it stands open and may close by itself, begin to wait."""
    if turn.state is State.AT_REST and not why_not(turn.memory) and _stands_open(turn):
        turn.fire("dwell begins")
        _begin(turn, passage=False)


def begin_again(turn: Turn) -> None:
    """Wait the whole time again; called when an opening command is given to an open gate."""
    if turn.state is State.DWELLING:
        _begin(turn, passage=False)
    else:
        consider(turn)


def is_over(turn: Turn) -> bool:
    """Carry the wait on; whether it is over and the gate should close. Called at each due scan while it waits."""
    memory = turn.memory
    if why_not(memory):
        turn.stop_timer("dwell")
        turn.fire("dwell ends")
        return False
    blocked = guards.not_clear(turn.sheet, memory.guards, -1)
    if blocked or kept_open_by(memory):
        turn.stop_timer("dwell")
        memory.passed = memory.passed or any(index in guards.beams(turn.sheet) for index in blocked)
        return False
    if turn.take_timer("dwell"):
        return True
    if not turn.timer_runs("dwell"):
        _begin(turn, passage=memory.passed)
    return False


def wait_for_motors(turn: Turn) -> None:
    """The wait was over, but the motors must rest: wait until they have."""
    turn.start_timer("dwell", max(1.0, (turn.memory.rests_until - int(turn.now)) / SECOND))


def _begin(turn: Turn, *, passage: bool) -> None:
    turn.memory.passed = False
    seconds = number(turn.sheet, "auto-close after")
    shorter = number(turn.sheet, "auto-close after a passage")
    turn.start_timer("dwell", min(seconds, shorter) if passage and shorter else seconds)


def _stands_open(turn: Turn) -> bool:
    second = turn.second
    if not motion.is_open(turn, turn.first):
        return False
    return second is None or motion.is_open(turn, second) or (turn.memory.pedestrian and motion.is_home(turn, second))

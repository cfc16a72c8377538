"""From a wish to a movement: what stands against it, guard test, warning, lock.

Only a start from rest comes this way. A safety reversal waits for none of it.
"""

from __future__ import annotations

from typing import Final

from sim.controller import (
    beam_check,
    commands,
    counters,
    duty,
    dwelling,
    guards,
    hold_to_run,
    learning,
    limits,
    motion,
    moving,
    order,
    supply,
    waking,
    wording,
)
from sim.controller.machine import State
from sim.controller.memory import GuardTest, Memory, Phase, Wish
from sim.controller.ports import GUARD_TERMINALS
from sim.controller.sheet import number, unstated, word
from sim.controller.turn import BRAKE_S, Turn
from sim.said import joined, said

NOT_LEARNED: Final = said("learning not finished")

STOP_READS_OPEN: Final = said("the stop circuit reads open")

IN_SIGHT: Final = "hold-to-run after a failed test"
"""The setting that says whether the survey allows it."""

WAYS: Final = {
    "open": 1,
    "pedestrian": 1,
    commands.EMERGENCY: 1,
    commands.HELD_OPENING: 1,
    "close": -1,
    commands.HELD_CLOSING: -1,
    "learn": 0,
}
"""Which way a wish goes; 0 is both."""

KEEPS_OPEN: Final = (commands.EMERGENCY, *commands.HELD)
"""Wishes after which the gate doesn't close by itself."""


def guard_words(memory: Memory, index: int) -> str:
    """A guard that is not clear, in words."""
    return wording.reads(GUARD_TERMINALS[index], guards.short_words(index, memory.guards[index]))


def obstacles_to(memory: Memory, what: str) -> list[str]:
    """What stands against a movement now, in words; empty if it may start."""
    reasons: list[str] = [said("self-check: {ailment}", ailment=each) for each in memory.ailments]
    if what == "learn":
        reasons += [said("the sheet does not say '{setting}'", setting=name) for name in unstated(memory.sheet)]
    elif not memory.learned and what not in commands.HELD:
        reasons.append(NOT_LEARNED)
    way = WAYS[what] if memory.position_known or what in commands.HELD else 0
    reasons += filter(None, [supply.forbids(memory, what, way)])
    reasons += [guard_words(memory, index) for index in guards.not_clear(memory.sheet, memory.guards, way)]
    reasons += limits.against(memory)
    keeper = commands.kept_open_by(memory)
    if keeper and WAYS[what] < 0:
        reasons.append(said("the {keeper} holds the gate open", keeper=keeper))
    return reasons


def ask(turn: Turn, wish: Wish) -> None:
    """Somebody, or the dwell, wants a movement from rest: begin with the guard test, or say why not."""
    memory = turn.memory
    waking.check_again(turn)
    reasons = obstacles_to(memory, wish.what)
    if not reasons and wish.what not in commands.UNSPARED:
        reasons = duty.against(turn)
    if turn.state is State.HALTED:
        reasons = [STOP_READS_OPEN]
    if reasons:
        turn.refuse(wish.what, joined(reasons, "; "))
        return
    if not wish.by_itself:
        memory.tries = 0
        memory.waits_for_command = wish.what in KEEPS_OPEN
    memory.wish = wish
    memory.interrupted = 0
    memory.contact = False
    turn.fire("start is asked")
    turn.say(wording.given(wish.what, wish.by))
    beam_check.begin(turn)


def testing(turn: Turn) -> None:
    """The guard test runs; once it is over, warn or say which beam failed.

    A guard that failed and has not passed a test since keeps the gate still, except for whoever holds a wired control
    in sight of the gate, where the survey allows that.
    """
    memory = turn.memory
    if not beam_check.is_over(turn):
        return
    beam_check.write_down(turn)
    failed = beam_check.standing(memory)
    in_sight = memory.wish.what in commands.HELD and word(turn.sheet, IN_SIGHT) == "allowed"
    if failed and not in_sight:
        memory.waits_for_command = True
        turn.fire("start is refused")
        how = joined([said("{guard} {how}", guard=guard, how=how) for guard, how in failed.items()], "; ")
        turn.refuse(memory.wish.what, said("guard test failed: {how}", how=how))
        return
    if failed:
        turn.note("guard test", joined(failed, ", "), said("goes on in sight of whoever holds the control"))
    turn.fire("goes on in sight" if failed else "guards pass")
    turn.start_timer("warning", number(turn.sheet, "warning before moving"))


def warning(turn: Turn) -> None:
    """The lamp warns; if a guard trips now the start is off, or held if a hold interrupted the movement before."""
    memory = turn.memory
    reasons = obstacles_to(memory, memory.wish.what)
    if reasons:
        turn.stop_timer("warning")
        _call_off(turn, reasons)
    elif turn.take_timer("warning"):
        if word(turn.sheet, "electric lock") == "fitted" and _lock_may_hold(turn):
            _begin_unlocking(turn)
        else:
            begin(turn)


def _call_off(turn: Turn, reasons: list[str]) -> None:
    memory = turn.memory
    if memory.interrupted:
        turn.fire("is held")
        turn.say(said("held: {reasons}", reasons=joined(reasons, "; ")))
        return
    turn.fire("start is refused")
    turn.refuse(memory.wish.what, joined(reasons, "; "))
    dwelling.consider(turn)


def _lock_may_hold(turn: Turn) -> bool:
    if not turn.memory.position_known:
        return turn.memory.wish.what != commands.HELD_CLOSING
    return WAYS[turn.memory.wish.what] > 0 and motion.is_home(turn, turn.first)


def _begin_unlocking(turn: Turn) -> None:
    turn.fire("lock is freed")
    turn.start_timer("lock pulse", number(turn.sheet, "lock pulse"))
    push = number(turn.sheet, "relief push")
    turn.start_timer("relief push", push)
    turn.start_timer("unlocking", push + BRAKE_S)
    if push > 0.0 and not guards.not_clear(turn.sheet, turn.memory.guards, -1):
        order.begin_push(turn)


def unlocking(turn: Turn) -> None:
    """A short closing push takes the load off the bolt while the lock is driven."""
    memory = turn.memory
    reasons = obstacles_to(memory, memory.wish.what)
    pushing = any(leaf.move.phase is not Phase.IDLE for leaf in memory.leaves)
    if turn.take_timer("relief push") or (pushing and guards.not_clear(turn.sheet, memory.guards, -1)):
        turn.let_go(brake=True)
    elif pushing:
        motion.advance(turn)
    if reasons:
        turn.stop_timer("unlocking")
        turn.stop_timer("lock pulse")
        turn.let_go(brake=True)
        _call_off(turn, reasons)
    elif turn.take_timer("unlocking"):
        begin(turn)


def begin(turn: Turn) -> None:
    """Everything that a start waits for is done: move.

    However long the push was that freed the lock: an opening has the lock's whole pulse to leave the bolt.
    """
    memory = turn.memory
    counters.add(memory, "movements")
    what = memory.wish.what
    if turn.state is State.UNLOCKING and WAYS[what] > 0:
        turn.pulse_lock()
    if what == "learn":
        turn.fire("go learning")
        learning.begin(turn)
    elif what in commands.HELD:
        hold_to_run.begin(turn)
    elif not memory.position_known:
        turn.fire("go finding")
        learning.begin_finding(turn)
    elif what == "close":
        moving.begin_closing(turn)
    else:
        memory.pedestrian = what == "pedestrian"
        moving.begin_opening(turn)


def cancel(turn: Turn, why: str) -> None:
    """A start that has not moved anything yet is given up."""
    turn.memory.test = GuardTest()
    for name in ("guard test", "warning", "unlocking", "relief push", "lock pulse"):
        turn.stop_timer(name)
    if turn.state is State.UNLOCKING:
        turn.let_go(brake=True)
        turn.note("movement", "stopping", why)
    turn.fire("start is refused")
    turn.say(why)

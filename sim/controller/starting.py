"""From a wish to a movement: what stands against it, guard test, warning, lock.

Only a start from rest comes this way. A safety reversal waits for none of it.
"""

from __future__ import annotations

from typing import Final

from sim.controller import beam_check, dwelling, guards, learning, motion, moving, order, supply, waking
from sim.controller.machine import State
from sim.controller.memory import GuardTest, Memory, Phase, Wish
from sim.controller.ports import GUARD_TERMINALS
from sim.controller.sheet import number, unstated, word
from sim.controller.turn import BRAKE_S, Turn

NOT_LEARNED: Final = "learning not finished"

WAYS: Final = {"open": 1, "pedestrian": 1, "close": -1, "learn": 0}
"""Which way a wish goes; 0 is both."""


def guard_words(memory: Memory, index: int) -> str:
    """A guard that is not clear, in words."""
    return f"{GUARD_TERMINALS[index]} reads {guards.short_words(index, memory.guards[index])}"


def obstacles_to(memory: Memory, what: str) -> list[str]:
    """What stands against a movement now, in words; empty if it may start."""
    reasons = [f"self-check: {each}" for each in memory.ailments]
    if what == "learn":
        reasons += [f"the sheet does not say '{name}'" for name in unstated(memory.sheet)]
    elif not memory.learned:
        reasons.append(NOT_LEARNED)
    way = WAYS[what] if memory.position_known else 0
    reasons += filter(None, [supply.forbids(memory, what, way)])
    reasons += [guard_words(memory, index) for index in guards.not_clear(memory.sheet, memory.guards, way)]
    if what == "close" and memory.pressed[4]:
        reasons.append("the timer contact holds the gate open")
    return reasons


def ask(turn: Turn, wish: Wish) -> None:
    """Somebody, or the dwell, wants a movement from rest: begin with the guard test, or say why not."""
    memory = turn.memory
    waking.check_again(turn)
    reasons = obstacles_to(memory, wish.what)
    if turn.state is State.HALTED:
        reasons = ["the stop circuit reads open"]
    if reasons:
        turn.refuse(wish.what, "; ".join(reasons))
        return
    if not wish.by_itself:
        memory.tries = 0
        memory.waits_for_command = False
    memory.wish = wish
    memory.interrupted = 0
    memory.contact = False
    turn.fire("start is asked")
    turn.say(f"{wish.what} given by {wish.by}")
    beam_check.begin(turn)


def testing(turn: Turn) -> None:
    """The guard test runs; once it is over, warn or say which beam failed."""
    memory = turn.memory
    if not beam_check.is_over(turn):
        return
    failed = beam_check.result(turn)
    if failed:
        memory.waits_for_command = True
        turn.fire("start is refused")
        turn.refuse(memory.wish.what, "guard test failed: " + "; ".join(failed))
        return
    turn.fire("guards pass")
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
        turn.say("held: " + "; ".join(reasons))
        return
    turn.fire("start is refused")
    turn.refuse(memory.wish.what, "; ".join(reasons))
    dwelling.consider(turn)


def _lock_may_hold(turn: Turn) -> bool:
    if not turn.memory.position_known:
        return True
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
    """A short closing push takes the load off the bolt; the lock stays driven a while longer."""
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
    """Everything that a start waits for is done: move."""
    memory = turn.memory
    what = memory.wish.what
    if what == "learn":
        turn.fire("go learning")
        learning.begin(turn)
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
    turn.fire("start is refused")
    turn.say(why)

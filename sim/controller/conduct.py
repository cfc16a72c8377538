"""What a command means in each state, and what each state does at a due scan."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.controller import (
    commands,
    dwelling,
    guards,
    hold_to_run,
    learning,
    motion,
    moving,
    order,
    reacting,
    starting,
    supply,
    waking,
    wording,
)
from sim.controller.machine import BY_HAND, HELD_RUNS, RESTING, STARTING, State
from sim.controller.memory import Wish
from sim.controller.turn import Turn
from sim.errors import ControllerError
from sim.said import said

MOST_STEPS: Final = 12
"""More state changes than this in one scan are an endless circle."""


def obey(turn: Turn) -> None:
    """Carry out the commands of this scan."""
    if not turn.commands:
        return
    commands.resolve(turn)
    for what, by in turn.commands:
        if what == commands.LET_GO:
            _let_go(turn, by)
            continue
        meant = _step(turn) if what == "step" else what
        turn.note("command", meant, by)
        _GIVEN[meant](turn, meant, by)
    turn.commands.clear()


def _step(turn: Turn) -> str:
    """The one-button sequence: open, halt, close, halt."""
    memory, state = turn.memory, turn.state
    if state not in RESTING:
        return "halt"
    if not memory.position_known or all(motion.is_home(turn, index) for index in turn.leaves):
        return "open"
    if motion.is_open(turn, turn.first) and (memory.pedestrian or _all_open(turn)):
        return "close"
    return "close" if memory.way > 0 else "open"


def _all_open(turn: Turn) -> bool:
    return all(motion.is_open(turn, index) for index in turn.leaves)


def _halt(turn: Turn, what: str, by: str) -> None:
    memory, state = turn.memory, turn.state
    memory.waits_for_command = True
    memory.after_stop = Wish()
    why = said("halted by {by}", by=by)
    if state in STARTING:
        starting.cancel(turn, why)
    elif state in (State.LEARNING, State.FINDING):
        learning.end_early(turn, why)
    elif state in (State.OPENING, State.CLOSING, State.REVERSING, *BY_HAND):
        if turn.memory.contact and moving.still_pressed(turn):
            moving.relieve(turn, why)
        else:
            turn.stop_timer("reversal")
            moving.stop(turn, why, brake=state not in (State.OPENING, State.CLOSING))
    elif state is State.HELD:
        turn.fire("gives up")
        turn.say(why)
    elif state is State.DWELLING:
        turn.stop_timer("dwell")
        turn.fire("dwell ends")
        turn.say(said("{why}: stays open", why=why))


def _open(turn: Turn, what: str, by: str) -> None:
    memory, state = turn.memory, turn.state
    wish = Wish(what, by)
    if state in RESTING:
        if memory.learned and memory.position_known and state is not State.HALTED and _stands_as(turn, what):
            memory.waits_for_command = what == commands.EMERGENCY
            memory.tries = 0
            turn.say(said("already open"))
            dwelling.begin_again(turn)
        else:
            _ask(turn, wish)
    elif state is State.OPENING:
        if memory.pedestrian and what != "pedestrian":
            memory.pedestrian = memory.whole_stroke = False
            order.add_second(turn)
    elif state is State.CLOSING:
        memory.waits_for_command = what == commands.EMERGENCY
        memory.pedestrian = memory.pedestrian and what == "pedestrian"
        moving.reverse(turn, wording.given("open", by), contact=False)
        memory.wish = wish
    elif state in STARTING and memory.wish.what != what:
        starting.cancel(turn, wording.given_instead(what, by))
        _open(turn, what, by)
    else:
        _else(turn, wish)


def _stands_as(turn: Turn, what: str) -> bool:
    return _all_open(turn) or (what == "pedestrian" and motion.is_open(turn, turn.first))


def _close(turn: Turn, what: str, by: str) -> None:
    memory, state = turn.memory, turn.state
    wish = Wish(what, by)
    if state in RESTING:
        known = memory.learned and memory.position_known and state is not State.HALTED
        if known and all(motion.is_home(turn, index) for index in turn.leaves):
            turn.say(said("already closed"))
        else:
            _ask(turn, wish)
    elif state is State.OPENING and not memory.contact:
        moving.stop(turn, wording.given("close", by), brake=False)
        memory.after_stop = wish
    elif state in STARTING and memory.wish.what != what:
        starting.cancel(turn, wording.given_instead("close", by))
        _close(turn, what, by)
    elif state is State.OPENING:
        turn.note("refused", what, said("it frees what it touched"))
    elif state is not State.CLOSING:
        _else(turn, wish)


def _ask(turn: Turn, wish: Wish) -> None:
    starting.ask(turn, wish)
    if turn.state in STARTING:
        turn.stop_timer("dwell")
    else:
        reacting.hold_over(turn)


def _else(turn: Turn, wish: Wish) -> None:
    """A command in a state that can't take it: wait for the leaves to stand, end the learning, or say no."""
    state = turn.state
    if state is State.STOPPING:
        turn.memory.after_stop = wish
    elif state in (State.LEARNING, State.FINDING):
        learning.end_early(turn, wording.given(wish.what, wish.by))
    elif state is not State.OPENING and not (state in STARTING and turn.memory.wish.what == wish.what):
        turn.note("refused", wish.what, state.value)


def _held(turn: Turn, what: str, by: str) -> None:
    """A control was pressed that moves the gate while it is held: a start from rest like any other.

    Pressed against a movement under way it stops that first.
    """
    memory, state = turn.memory, turn.state
    wish = Wish(what, by)
    against = State.OPENING if what == commands.HELD_CLOSING else State.CLOSING
    if state in RESTING:
        _ask(turn, wish)
    elif state in STARTING and memory.wish.what != what:
        starting.cancel(turn, wording.given_instead(what, by))
        _ask(turn, wish)
    elif state is against and not memory.contact:
        moving.stop(turn, wording.given(what, by), brake=False)
        memory.after_stop = wish
    elif state in HELD_RUNS and state.value != what:
        moving.stop(turn, wording.given(what, by), brake=True)
    elif state not in HELD_RUNS:
        _else(turn, wish)


def _let_go(turn: Turn, by: str) -> None:
    memory = turn.memory
    why = said("{by} let go", by=by)
    if memory.after_stop.what in commands.HELD:
        memory.after_stop = Wish()
    if turn.state in HELD_RUNS:
        moving.stop(turn, why, brake=True)
    elif turn.state in STARTING and memory.wish.what in commands.HELD:
        starting.cancel(turn, why)


def _emergency(turn: Turn, what: str, by: str) -> None:
    """Open for those who must get in, from whatever the gate does, and stay open until a new command.

    A guard that acts on opening still acts; somebody who jogs a leaf at the panel is not overruled.
    """
    memory, state = turn.memory, turn.state
    wish = Wish(what, by)
    if state is State.DWELLING:
        turn.stop_timer("dwell")
        turn.fire("dwell ends")
    if state in (State.OPENING, State.REVERSING, State.HELD, State.FINDING):
        _open_further(turn, wish)
    elif state in HELD_RUNS:
        moving.stop(turn, wording.given(what, by), brake=True)
        memory.after_stop = wish
    elif state is State.LEARNING:
        learning.end_early(turn, wording.given(what, by))
    elif state is State.BACKING_OFF:
        memory.after_stop = wish
    else:
        _open(turn, what, by)
    memory.waits_for_command = True


def _open_further(turn: Turn, wish: Wish) -> None:
    """The gate opens, is about to, or finds its position: it opens wholly, and is not asked to close after that."""
    memory, state = turn.memory, turn.state
    if state is State.OPENING:
        _open(turn, wish.what, wish.by)
    memory.pedestrian = False
    if state is not State.REVERSING:
        memory.wish = wish


_GIVEN: Final[dict[str, Callable[[Turn, str, str], None]]] = {
    "open": _open,
    "pedestrian": _open,
    commands.EMERGENCY: _emergency,
    "close": _close,
    **dict.fromkeys(commands.HELD, _held),
    "halt": _halt,
}


# what each state does


def _rest(turn: Turn) -> None:
    memory = turn.memory
    if memory.after_stop.what:
        wish, memory.after_stop = memory.after_stop, Wish()
        starting.ask(turn, wish)
    else:
        _act_of_itself(turn)


def _act_of_itself(turn: Turn) -> bool:
    """Carry out what the sheet says for the battery, once; whether the gate was asked to move."""
    wish = supply.wish(turn)
    if wish is not None:
        _ask(turn, wish)
    return wish is not None


def _dwell(turn: Turn) -> None:
    if not _act_of_itself(turn) and dwelling.is_over(turn):
        starting.ask(turn, Wish("close", "auto-close", by_itself=True))
        if turn.state is State.DWELLING:
            dwelling.wait_for_motors(turn)


def _nothing(turn: Turn) -> None:
    """This state waits for something from outside."""


_DOES: Final[dict[State, Callable[[Turn], None]]] = {
    State.NO_POWER: _nothing,
    State.SELF_CHECK: waking.check,
    State.AT_REST: _rest,
    State.HALTED: _nothing,
    State.TESTING: starting.testing,
    State.WARNING: starting.warning,
    State.UNLOCKING: starting.unlocking,
    State.OPENING: moving.travelling,
    State.CLOSING: moving.travelling,
    State.STOPPING: moving.stopping,
    State.REVERSING: moving.reversing,
    State.HELD: moving.held,
    State.BACKING_OFF: moving.backing_off,
    State.DWELLING: _dwell,
    State.FINDING: learning.under_way,
    State.LEARNING: learning.under_way,
    State.JOGGING: hold_to_run.jogging,
    State.HELD_OPENING: hold_to_run.under_way,
    State.HELD_CLOSING: hold_to_run.under_way,
}


def carry_on(turn: Turn) -> None:
    """Let the present state do its work, and the states it leads to, until one stays."""
    for _ in range(MOST_STEPS):
        state = turn.state
        reacting.guards_tripped(turn)
        _DOES[turn.state](turn)
        reacting.stop_circuit(turn)
        if turn.state is state:
            return
    raise ControllerError(f"the controller circles without end, last {turn.state.value}")


def guards_at(turn: Turn) -> None:
    """Read the guards, note what changed, and let the stop circuit act before anything else."""
    memory = turn.memory
    before, memory.guards = memory.guards, guards.read_all(turn.sheet, turn.inputs.guard_v)
    reacting.note_changes(turn, before)
    reacting.stop_circuit(turn)

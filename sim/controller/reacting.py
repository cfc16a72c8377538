"""What the gate does when a guard trips: once a scan, before requests, commands and everything else.

The stop circuit comes first and beats everything. While closing, opening fully is the strongest answer, since it also
takes the load off; a guard that holds comes before it, since it stands for somebody on the other side. Whatever comes
first, a leaf is never left pressed on what an edge or an obstacle told of: it goes back as far as frees it.
"""

from __future__ import annotations

from sim.controller import counters, guards, learning, motion, moving
from sim.controller.machine import BY_HAND, HELD_RUNS, STARTING, State
from sim.controller.memory import GuardTest, Phase, Wish
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS
from sim.controller.settings import NOT_FITTED
from sim.controller.sheet import number
from sim.controller.turn import Turn
from sim.controller.wording import reads
from sim.said import joined, said

STOP_OPEN = said("the stop circuit is open")


def note_changes(turn: Turn, before: list[str]) -> None:
    """Log each guard that reads differently, but not the beams that the guard test itself trips."""
    memory = turn.memory
    tested = memory.test.tested if turn.state is State.TESTING else []
    for index, reading in enumerate(memory.guards):
        if before and reading != before[index] and index not in tested:
            if guards.declared(turn.sheet, index) != NOT_FITTED:
                turn.note("guard", GUARD_TERMINALS[index], guards.short_words(index, reading))
                if reading != guards.CLEAR:
                    counters.add(memory, "guard_trips")
            if reading == guards.Reading.CLEAR.value and index in memory.spared:
                memory.spared.remove(index)


def stop_circuit(turn: Turn) -> None:
    """Open: drop everything within this scan, except that a contact is freed first. Closed again: start nothing."""
    memory = turn.memory
    is_open = guards.stop_is_open(turn.sheet, memory.guards)
    if turn.state is State.HALTED:
        if not is_open:
            turn.fire("stop closes")
            hold_over(turn)
            turn.say(said("the stop circuit is closed again; a new command is needed"))
        return
    if not is_open or turn.state in (State.SELF_CHECK, State.NO_POWER):
        return
    if _frees_first(turn):
        return
    _halt(turn)


def _halt(turn: Turn) -> None:
    memory = turn.memory
    if turn.state in (State.LEARNING, State.FINDING):
        learning.halted(turn, STOP_OPEN)
    memory.test = GuardTest()
    memory.timers = {name: at for name, at in memory.timers.items() if name in ("yard light", "enrolling")}
    memory.wish, memory.after_stop = Wish(), Wish()
    memory.interrupted = 0
    memory.contact = memory.relief = False
    memory.waits_for_command = True
    turn.fire("stop opens")
    turn.let_go(brake=True)
    hold_over(turn)
    turn.note("movement", "halted", STOP_OPEN)
    turn.say(STOP_OPEN)


def hold_over(turn: Turn) -> None:
    """Controls that are held pressed now mean nothing until they are let go and given again."""
    memory = turn.memory
    memory.held_over = [name for name, down in zip(COMMAND_TERMINALS, memory.pressed, strict=True) if down]


def _frees_first(turn: Turn) -> bool:
    """Whether something is still pressed: then go back just so far that it is free, and halt after that."""
    memory = turn.memory
    if memory.relief:
        return turn.state is State.BACKING_OFF
    presses = turn.state in (State.CLOSING, State.OPENING, *HELD_RUNS) and any(
        guards.declared(turn.sheet, index) != NOT_FITTED
        and memory.guards[index] == guards.Reading.TRIPPED.value
        and index not in memory.spared
        and (index not in guards.EDGES or guards.EDGES.index(index) in turn.leaves)
        for index in guards.edges(turn.sheet)
    )
    if presses:
        moving.back_off(turn, STOP_OPEN, contact=True, relief=True)
        return turn.state is State.BACKING_OFF
    if moving.still_pressed(turn):
        moving.relieve(turn, STOP_OPEN)
        return True
    return False


def guards_tripped(turn: Turn) -> None:
    """React to every guard that acts on the movement under way."""
    state = turn.state
    if state is State.OPENING:
        _while_opening(turn)
    elif state is State.CLOSING:
        _while_closing(turn)
    elif state is State.REVERSING:
        halting = _with(turn, guards.not_clear(turn.sheet, turn.memory.guards, 1), "halt")
        if halting:
            _stop(turn, halting)
    elif state in (State.LEARNING, State.FINDING):
        _while_learning(turn)
    elif state in HELD_RUNS:
        _while_held_to_run(turn)


def _while_opening(turn: Turn) -> None:
    tripped = _unspared(turn, guards.not_clear(turn.sheet, turn.memory.guards, 1))
    if not tripped:
        return
    backing = _with(turn, tripped, "back off")
    if (_with(turn, tripped, "halt") or _with(turn, tripped, "reopen")) and not _is_contact(turn, backing):
        _stop(turn, tripped)
    elif backing:
        if any(index in turn.memory.spared for index in backing):
            _stop(turn, backing)
        else:
            moving.back_off(turn, _words(turn, backing), contact=_is_contact(turn, backing))
    else:
        moving.hold(turn, 1)


def _unspared(turn: Turn, tripped: list[int]) -> list[int]:
    """Without the edges that were pressed when this opening began to free them, until it has gone far enough."""
    if not turn.memory.spared:
        return tripped
    far = number(turn.sheet, "back-off distance") / 100.0
    moves = [(index, turn.move(index)) for index in turn.leaves]
    freed = all(
        move.phase is Phase.DONE
        or (
            move.phase is Phase.MOVING
            and turn.inputs.counts[index] - move.start_count >= motion.back_off_distance(turn, index, far)
        )
        for index, move in moves
        if move.phase is not Phase.IDLE
    )
    return tripped if freed else [index for index in tripped if index not in turn.memory.spared]


def _while_closing(turn: Turn) -> None:
    tripped = guards.not_clear(turn.sheet, turn.memory.guards, -1)
    if not tripped:
        return
    words = _words(turn, tripped)
    reopening, holding = _with(turn, tripped, "reopen"), _with(turn, tripped, "hold")
    backing = _with(turn, tripped, "back off")
    halting, touches = _with(turn, tripped, "halt"), _is_contact(turn, tripped)
    if touches and (halting or holding):
        moving.back_off(turn, words, contact=True)
    elif halting:
        _stop(turn, tripped)
    elif backing and (holding or not reopening):
        moving.back_off(turn, words, contact=_is_contact(turn, backing))
    elif holding:
        moving.hold(turn, -1)
    else:
        contact = _is_contact(turn, reopening)
        turn.memory.tries += contact
        moving.reverse(turn, words, contact=contact)


def _while_learning(turn: Turn) -> None:
    tripped = guards.not_clear(turn.sheet, turn.memory.guards, 0)
    if not tripped:
        return
    closes = any(turn.move(index).direction < 0 for index in turn.leaves)
    halts = _with(turn, tripped, "halt") + _with(turn, tripped, "hold")
    contact = _is_contact(turn, tripped)
    goes_back = contact or (closes and not halts)
    learning.end_early(turn, _words(turn, tripped), goes_back=goes_back, contact=contact)


def _while_held_to_run(turn: Turn) -> None:
    """Whatever a guard is told to do by itself, under a hand it stops; only what an edge touches is freed."""
    tripped = guards.not_clear(turn.sheet, turn.memory.guards, turn.memory.way)
    if not tripped:
        return
    if _is_contact(turn, tripped):
        moving.back_off(turn, _words(turn, tripped), contact=True)
    else:
        _stop(turn, tripped)


def _with(turn: Turn, tripped: list[int], reaction: str) -> list[int]:
    return [index for index in tripped if guards.declared(turn.sheet, index) == reaction]


def _is_contact(turn: Turn, tripped: list[int]) -> bool:
    edges = guards.edges(turn.sheet)
    return any(index in edges for index in tripped)


def _words(turn: Turn, tripped: list[int]) -> str:
    readings = turn.memory.guards
    return joined([reads(GUARD_TERMINALS[i], guards.short_words(i, readings[i])) for i in tripped], "; ")


def _stop(turn: Turn, tripped: list[int]) -> None:
    """Stand and wait for a new command; what is still pressed on is freed first."""
    turn.memory.waits_for_command = True
    if moving.still_pressed(turn):
        moving.relieve(turn, _words(turn, tripped))
        return
    turn.memory.contact = False
    turn.stop_timer("reversal")
    moving.stop(turn, _words(turn, tripped), brake=True)


def is_busy(state: State) -> str:
    """Why the sheet and the service functions are closed now, in words; empty if they aren't."""
    if state in BY_HAND:
        return said("a control is held")
    if state in STARTING:
        return said("a start is under way")
    if state in (State.AT_REST, State.HALTED, State.DWELLING):
        return ""
    return said("the controller checks itself" if state is State.SELF_CHECK else "the gate is moving")

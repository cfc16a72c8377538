"""Opening and closing by itself: how it begins, what it may meet, how it ends; stopping, reversing, backing off."""

from __future__ import annotations

from typing import Final

from sim.controller import doubt, dwelling, guards, motion, obstacle, order, reckoning, season, whereabouts
from sim.controller.machine import State
from sim.controller.memory import Goal, Move, Phase, Wish
from sim.controller.motion import NO_ROOM, Met
from sim.controller.ports import GUARD_TERMINALS
from sim.controller.sheet import number
from sim.controller.turn import BRAKE_S, Turn
from sim.controller.wording import LEAF
from sim.said import joined, said
from sim.units import SCAN, next_on_grid

SOFT_STOP_S: Final = 0.6
"""After an ordinary stop the leaves stand after this long [s]. CP, no source."""

BACK_OFF_LIMIT_S: Final = 4.0
"""A back-off ends so long after the last leaf began it, whatever it reached [s]. CP, no source."""

RELIEF_SHARE: Final = 0.02
"""Share of the travel that takes the load off a contact. CP, no source."""

RELIEF_LIMIT_S: Final = 1.0
"""Taking the load off while the stop circuit is open ends after this long [s]. CP, no source."""

CLEAR_AGAIN: Final = said("the guard is clear again")


def begin_opening(turn: Turn, *, at_once: bool = False) -> None:
    """Open, both leaves or the first alone; `at_once` without the second leaf's delay."""
    memory = turn.memory
    turn.fire("go open")
    memory.way, memory.interrupted = 1, 0
    memory.whole_stroke = not memory.pedestrian and all(motion.is_home(turn, index) for index in turn.leaves)
    order.begin_opening(turn, first_only=memory.pedestrian, at_once=at_once)
    _begin_run(turn)


def begin_closing(turn: Turn) -> None:
    """Close both leaves."""
    memory = turn.memory
    turn.fire("go close")
    memory.way, memory.interrupted = -1, 0
    memory.whole_stroke = all(motion.is_open(turn, index) for index in turn.leaves)
    order.begin_closing(turn)
    _begin_run(turn)


def _begin_run(turn: Turn) -> None:
    memory = turn.memory
    turn.start_timer("run-time limit", number(turn.sheet, "run-time limit"))
    turn.note("movement", memory.state.value, memory.wish.cause())
    turn.say(said("{state}, {cause}", state=memory.state.value, cause=memory.wish.cause()))
    if memory.load_strokes_due and memory.whole_stroke:
        obstacle.begin_stroke(turn)


def travelling(turn: Turn) -> None:
    """Opening or closing is under way."""
    obstacle.sample(turn)
    for index, met in motion.advance(turn):
        if met is not Met.ARRIVED:
            _meet(turn, index, met)
            return
    if turn.take_timer("run-time limit"):
        turn.memory.waits_for_command = True
        stop(turn, said("the run-time limit was reached"), brake=True)
    elif motion.all_done(turn):
        _arrive(turn)


def _arrive(turn: Turn) -> None:
    memory = turn.memory
    opened = memory.way > 0
    if memory.whole_stroke:
        doubt.confirmed(turn)
    if memory.load_strokes_due and memory.whole_stroke:
        _renew_load(turn)
    turn.let_go(brake=False)
    turn.fire("arrives")
    memory.contact = False
    if not opened:
        memory.tries = 0
        memory.pedestrian = False
    state = (whereabouts.FOR_PEDESTRIANS if memory.pedestrian else whereabouts.OPEN) if opened else whereabouts.CLOSED
    turn.note("movement", state)
    tried = opened and memory.tries
    turn.say(said("{state}, {cause}", state=state, cause=memory.wish.cause()) if tried else state)
    if opened:
        dwelling.consider(turn)


def _renew_load(turn: Turn) -> None:
    memory = turn.memory
    obstacle.keep_stroke(turn, memory.way)
    memory.load_strokes_due -= 1
    if memory.load_strokes_due == 0:
        obstacle.adopt(turn)
        turn.note("learning", "learned load", said("renewed"))


def _meet(turn: Turn, index: int, met: Met) -> None:
    """A leaf met something: closing reverses, opening backs off."""
    memory = turn.memory
    leaf = LEAF[index]
    doubt.met(turn, index, met)
    what = season.remark(memory, memory.way, met.value) if met is Met.STRAINED else met.value
    if met in NO_ROOM:
        memory.position_known = False
        memory.waits_for_command = True
        turn.note("obstacle", leaf, met.value)
        stop(turn, said("{leaf} {what}; position unknown", leaf=leaf, what=met.value), brake=True)
        return
    if memory.way < 0:
        memory.tries += 1
        if memory.tries <= number(turn.sheet, "obstacle retries"):
            turn.note("obstacle", leaf, said("{what}, closing: reverses", what=what))
            reverse(turn, said("obstacle: {leaf} {what}", leaf=leaf, what=what), contact=True)
        else:
            turn.note("obstacle", leaf, said("{what}, closing: reverses; it stays open", what=what))
            reverse(turn, said("obstacle: {leaf} {what}; it stays open", leaf=leaf, what=what), contact=True)
        return
    turn.note("obstacle", leaf, said("{what}, opening: backs off", what=what))
    back_off(turn, said("obstacle: {leaf} {what}", leaf=leaf, what=what), contact=True)


# stopping, reversing, backing off


def stop(turn: Turn, why: str, *, brake: bool) -> None:
    """Stop the leaves and wait for a new command."""
    turn.fire("is told to stop")
    turn.let_go(brake=brake)
    turn.start_timer("standing", BRAKE_S if brake else SOFT_STOP_S)
    turn.note("movement", "stopping", why)
    turn.say(why)


def reverse(turn: Turn, why: str, *, contact: bool) -> None:
    """Stop a closing gate by the brake and open it at once: no test, warning, push or pulse."""
    memory = turn.memory
    memory.contact, memory.spared = contact, _pressed_edges(turn)
    memory.touching = _moving_leaves(turn)
    memory.wish = Wish("open", why, reaction=True)
    turn.fire("reverses")
    turn.let_go(brake=True)
    turn.start_timer("reversal", BRAKE_S)
    turn.note("movement", "reversing", why)
    turn.say(why)


def reversing(turn: Turn) -> None:
    """The leaves stand a moment, then open, unless a guard that holds is blocked."""
    if turn.take_timer("reversal"):
        blocked = guards.not_clear(turn.sheet, turn.memory.guards, 1)
        if any(guards.declared(turn.sheet, i) == "hold" for i in blocked):
            hold(turn, -1)
            return
        free_lock(turn)
        begin_opening(turn, at_once=True)


def free_lock(turn: Turn) -> None:
    """Drive the lock beside an opening that waits for nothing, if a leaf may stand behind its bolt."""
    memory = turn.memory
    known = memory.learned and memory.position_known
    if not known or any(motion.is_home(turn, index) for index in turn.leaves):
        turn.pulse_lock()


def _may_not_close(turn: Turn) -> bool:
    """Whether a guard forbids a back-off in the closing direction; an edge that has it go back does not."""
    tripped = guards.not_clear(turn.sheet, turn.memory.guards, -1)
    edges = guards.edges(turn.sheet)
    return any(index not in edges or guards.declared(turn.sheet, index) != "back off" for index in tripped)


def _meets_more(turn: Turn) -> bool:
    """Whether an edge is pressed that was not when the way back began, or has been let go since."""
    return any(index not in turn.memory.spared for index in _pressed_edges(turn))


def _moving_leaves(turn: Turn) -> list[int]:
    """Leaves that move, or rest at their stop with an edge pressed that is theirs, or may be."""
    edges, moving = _pressed_edges(turn), (Phase.MOVING, Phase.SEATING, Phase.PAUSED)
    anywhere = any(index in guards.BEAM_INDICES for index in edges)
    phases = {index: turn.move(index).phase for index in turn.leaves}
    return [
        i for i, p in phases.items() if p in moving or (p is Phase.DONE and (anywhere or guards.EDGES[i] in edges))
    ]


def _pressed_edges(turn: Turn) -> list[int]:
    edges = guards.edges(turn.sheet)
    return [index for index in guards.not_clear(turn.sheet, turn.memory.guards, 0) if index in edges]


def hold(turn: Turn, interrupted: int) -> None:
    """Stand still while a guard is blocked, and remember which way was interrupted.

    What is still pressed on is freed first; after that the gate waits for a new command.
    """
    memory = turn.memory
    names = [GUARD_TERMINALS[index] for index in guards.not_clear(turn.sheet, memory.guards, 1)]
    turn.stop_timer("reversal")
    if still_pressed(turn):
        memory.waits_for_command = True
        relieve(turn, said("{guards} is blocked", guards=joined(names, ", ")))
        return
    turn.fire("is held")
    turn.let_go(brake=True)
    memory.interrupted = interrupted
    turn.note("movement", "held", joined(names, ", "))
    turn.say(said("held: {guards} is blocked", guards=joined(names, ", ")))


def held(turn: Turn) -> None:
    """On clearing, an interrupted opening resumes after the warning; an interrupted closing reopens."""
    memory = turn.memory
    if guards.not_clear(turn.sheet, memory.guards, 1) or turn.timer_runs("brake"):
        return
    if memory.interrupted > 0:
        memory.wish = Wish(memory.wish.what, CLEAR_AGAIN, reaction=True)
        turn.fire("resumes")
        turn.start_timer("warning", number(turn.sheet, "warning before moving"))
        turn.say(said("the guard is clear again: opening goes on after the warning"))
    else:
        memory.wish = Wish("open", CLEAR_AGAIN, reaction=True)
        free_lock(turn)
        begin_opening(turn)


def back_off(turn: Turn, why: str, *, contact: bool, relief: bool = False) -> None:
    """Reverse what moved by a little, then stand; never closing while a guard that acts on closing is tripped."""
    memory = turn.memory
    edges, moved = _pressed_edges(turn), _moving_leaves(turn)
    ways = {turn.move(index).direction for index in moved}
    memory.waits_for_command = True
    if not moved or len(ways) > 1 or (1 in ways and _may_not_close(turn)):
        stop(turn, why, brake=True)
        return
    way = -ways.pop()
    part = RELIEF_SHARE if relief else number(turn.sheet, "back-off distance") / 100.0
    turn.fire("backs off")
    turn.let_go(brake=True)
    memory.contact, memory.spared, memory.relief = contact, edges, relief
    memory.touching = moved
    if way > 0:
        free_lock(turn)
    order.begin_back_off(turn, moved, way, part)
    for index in moved:
        turn.move(index).start_at = next_on_grid(turn.now + round(BRAKE_S * 1e6), SCAN)
    turn.start_timer("back-off limit", RELIEF_LIMIT_S if relief else BACK_OFF_LIMIT_S)
    turn.note("movement", "backing off", why)
    turn.say(why)


def backing_off(turn: Turn) -> None:
    """Reverse until the distance is done, then stand; a guard that acts on this way ends it at once.

    An edge that is pressed anew by a leaf on its way back to closed leaves it only what takes the load off.
    """
    memory = turn.memory
    waited = _waiting(turn)
    motion.advance(turn)
    if _waiting(turn) < waited and not memory.relief:
        turn.start_timer("back-off limit", BACK_OFF_LIMIT_S)
    ways = {turn.move(index).direction for index in turn.leaves if turn.move(index).phase is not Phase.IDLE}
    closes = -1 in ways
    if closes and not memory.relief and _meets_more(turn):
        relieve(turn, memory.message)
    if turn.take_timer("back-off limit") or motion.all_done(turn) or (closes and _may_not_close(turn)):
        turn.stop_timer("back-off limit")
        memory.contact = memory.relief = False
        stop(turn, memory.message, brake=True)


def _waiting(turn: Turn) -> int:
    """How many leaves have not yet begun their way back."""
    return sum(turn.move(index).phase is Phase.WAITING for index in turn.leaves)


def relieve(turn: Turn, why: str) -> None:
    """Cut what frees a contact down to the least that takes the load off; the leaves stand after that."""
    memory = turn.memory
    turn.stop_timer("reversal")
    turn.stop_timer("run-time limit")
    for index in turn.leaves:
        move = turn.move(index)
        if index not in memory.touching:
            turn.leaf(index).move = Move()
        elif move.phase is Phase.MOVING:
            distance = motion.back_off_distance(turn, index, RELIEF_SHARE)
            move.goal, move.target = Goal.COUNT, move.start_count + move.direction * distance
            move.frees = True
        else:
            start_at = max(move.start_at, memory.timers.get("brake", turn.now))
            turn.leaf(index).move = motion.freeing(turn, index, move.direction or 1, RELIEF_SHARE)
            turn.move(index).start_at = start_at
    memory.relief = True
    if turn.state is not State.BACKING_OFF:
        turn.fire("backs off")
    turn.start_timer("back-off limit", RELIEF_LIMIT_S)
    turn.say(why)


def stopping(turn: Turn) -> None:
    """Once the leaves stand, whoever asked for something in the meantime is heard."""
    if turn.take_timer("standing"):
        turn.fire("stands")
        if any(reckoning.is_doubtful(turn.memory, index) for index in turn.leaves):
            turn.memory.position_known = False
            turn.note("movement", "position unknown", said("stopped on the way too often since a stop was reached"))


def still_pressed(turn: Turn) -> bool:
    """Whether the load of a contact is not yet off: the way back has not gone far enough."""
    memory = turn.memory
    if not memory.contact:
        return False
    if turn.state in (State.REVERSING, State.BACKING_OFF):
        return True
    return turn.state is State.OPENING and any(
        turn.move(i).phase is Phase.MOVING
        and turn.inputs.counts[i] - turn.move(i).start_count < motion.back_off_distance(turn, i, RELIEF_SHARE)
        for i in turn.leaves
    )

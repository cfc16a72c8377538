"""Movement under a hand: the wired hold-to-run pair, and the service jog.

It lasts while the control is held and not a scan longer. It is slow and gentle, keeps the order of the leaves where
the position is known, is never latched, and what ended it must be given again. A guard stops it and an edge backs it
off: whoever holds the control sees the gate, so it does not turn round and run by itself.
"""

from __future__ import annotations

from sim.controller import motion, moving, order
from sim.controller.commands import HELD_OPENING
from sim.controller.memory import Goal, Phase
from sim.controller.motion import NO_ROOM, Met
from sim.controller.sheet import number
from sim.controller.turn import Turn
from sim.controller.wording import LEAF
from sim.said import said

TOO_LONG = said("held too long")
STANDS = said("the leaves stand though they are driven")


def begin(turn: Turn) -> None:
    """Everything that a start waits for is done and the control is still held: move."""
    memory = turn.memory
    opens = memory.wish.what == HELD_OPENING
    turn.fire("run is held open" if opens else "run is held closed")
    memory.way, memory.interrupted = (1 if opens else -1), 0
    memory.contact = memory.pedestrian = memory.whole_stroke = False
    order.begin_by_hand(turn, memory.way)
    turn.start_timer("run-time limit", number(turn.sheet, "run-time limit"))
    turn.note("movement", turn.state.value, said("by {cause}", cause=memory.wish.by))
    turn.say(
        said(
            "opening while {control} is held" if opens else "closing while {control} is held", control=memory.wish.by
        )
    )


def under_way(turn: Turn) -> None:
    """The control is held: carry on until the leaves are there or something is met."""
    met_now = motion.advance(turn)
    for index, met in met_now:
        if met is Met.ARRIVED:
            continue
        if turn.move(index).goal is not Goal.HAND or met is not Met.STOOD:
            _meet(turn, index, met)
            return
        turn.move(index).phase = Phase.DONE
    if met_now:
        motion.advance(turn)  # the other leaf may have waited for this one to stand
    if turn.take_timer("run-time limit"):
        moving.stop(turn, TOO_LONG, brake=True)
    elif motion.all_done(turn):
        known = turn.memory.learned and turn.memory.position_known
        there = said("the gate is open" if turn.memory.way > 0 else "the gate is closed")
        moving.stop(turn, there if known else STANDS, brake=True)


def _meet(turn: Turn, index: int, met: Met) -> None:
    """A leaf met something that is no stop: give way a little, both ways alike."""
    leaf = LEAF[index]
    if met in NO_ROOM:
        turn.memory.position_known = False
        turn.note("obstacle", leaf, met.value)
        moving.stop(turn, said("{leaf} {what}; position unknown", leaf=leaf, what=met.value), brake=True)
        return
    turn.note("obstacle", leaf, said("{what}, {state}: backs off", what=met.value, state=turn.state.value))
    moving.back_off(turn, said("obstacle: {leaf} {what}", leaf=leaf, what=met.value), contact=True)


def jogging(turn: Turn) -> None:
    """One leaf is jogged from the service panel."""
    for index, met in motion.advance(turn):
        if met in (Met.STOOD, Met.DEAD):
            moving.stop(turn, said("{leaf} stands though it is driven", leaf=LEAF[index]), brake=True)
            return
    if turn.take_timer("run-time limit"):
        moving.stop(turn, TOO_LONG, brake=True)

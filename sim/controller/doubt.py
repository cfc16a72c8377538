"""What makes the learned travel doubtful though nobody changed the sheet: the gate itself is not as it was.

A stop that moved, a drive that slips, motor leads that were exchanged: the board sees only that the travel no longer
fits. It says so, closes nothing by itself, and believes again what a whole stroke from stop to stop confirms, or what
is learned anew.
"""

from __future__ import annotations

from sim.controller import sensing
from sim.controller.memory import Memory
from sim.controller.motion import NO_ROOM, Met
from sim.controller.turn import Turn
from sim.controller.wording import LEAF
from sim.said import said
from sim.units import LEAVES


def met(turn: Turn, index: int, what: Met) -> None:
    """A leaf met something on its own way to a stop: does its travel still fit?

    What it meets on opening, at one place, twice running, is rather its stop than somebody in the way. On closing the
    retries have their own end.
    """
    memory = turn.memory
    if what in NO_ROOM:
        _doubt(turn, said("the {leaf} {what}", leaf=LEAF[index], what=what.value))
        return
    if memory.way < 0:
        memory.met_at = {}
        return
    position = turn.position(index)
    again = memory.met_at.get(LEAVES[index])
    memory.met_at = {LEAVES[index]: position}
    near = sensing.ahead(turn.sheet, turn.leaf(index).travel)
    if again is not None and abs(again - position) <= near:
        _doubt(turn, said("the {leaf} met something at the same place twice", leaf=LEAF[index]))


def _doubt(turn: Turn, why: str) -> None:
    if turn.memory.doubt != why:
        turn.note("learning", "learned travel", said("in doubt, {why}", why=why))
    turn.memory.doubt = why


def confirmed(turn: Turn) -> None:
    """A whole stroke went from stop to stop: the travel fits."""
    if turn.memory.doubt:
        turn.note("learning", "learned travel", said("confirmed by a whole stroke"))
    settled(turn.memory)


def settled(memory: Memory) -> None:
    """Nothing is doubted any more."""
    memory.doubt, memory.met_at = "", {}

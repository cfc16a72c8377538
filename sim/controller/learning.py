"""Finding stops slowly, one leaf at a time, and learning travel and load.

Learning first finds both stops of each leaf in an order that is safe for the lap, then makes two working cycles that
note the load. Any guard, any command and anything met ends it; then nothing is kept. The finding run after a loss of
power uses the same slow runs: the first leaf makes room, the other is shut, the first is shut.
"""

from __future__ import annotations

from typing import Final

from sim.controller import doubt, motion, moving, obstacle, order, reckoning, sensing
from sim.controller.machine import State
from sim.controller.memory import Leaf, Learning, Seek
from sim.controller.motion import WRONG_WAY, Met
from sim.controller.sheet import number
from sim.controller.turn import Turn
from sim.controller.whereabouts import CLOSED
from sim.controller.wording import LEAF
from sim.said import joined, said

LEAST_TRAVEL: Final = 60
"""Stops closer together than this are none [counts]. CP, no source."""

LEAST_RECKONED: Final = 3.0 * reckoning.COUNTS_PER_S
"""The same where time tells the travel: so long a slow run takes at least [counts]. CP, no source."""

LEAST_SHARE: Final = 0.5
"""Leaves of one gate have travels of the same order; less of the other's than this is no stop. CP, no source."""

PAUSE_S: Final = 0.5
"""Rest between two runs [s]. CP, no source."""

SEEK_LIMIT_S: Final = 120.0
"""A slow run that has not found its stop by then ends the learning [s]. CP, no source."""

STROKES: Final = 4
"""Working strokes: two openings and two closings."""


def forget(turn: Turn) -> None:
    """Keep nothing of what was learned."""
    memory = turn.memory
    memory.learned = memory.position_known = False
    memory.load_strokes_due = 0
    memory.load_c, memory.new_load_c = {}, {}
    doubt.settled(memory)
    for leaf in memory.leaves:
        leaf.travel = leaf.longest_run = 0
        leaf.opening_load, leaf.closing_load = [], []
        leaf.new_opening_load, leaf.new_closing_load = [], []
        leaf.timed, leaf.at_stop = {}, 0


def begin(turn: Turn) -> None:
    """Start travel learning; called when its guard test and warning are over."""
    forget(turn)
    first, second = turn.first, turn.second
    seeks = [Seek(first, 1)]
    if second is not None:
        seeks += [Seek(second, 1), Seek(second, -1)]
    _begin_seeks(turn, [*seeks, Seek(first, -1)])
    turn.note("learning", "travel learning", said("begun"))


def begin_finding(turn: Turn) -> None:
    """Start the finding run; called when the first movement after a loss of position may begin.

    A limit switch in its lead leaves a shut motor without current, as a broken wire does. So there every leaf makes
    room first: only a leaf that was seen to take current can be seen to lose it.
    """
    first, second = turn.first, turn.second
    seeks = [Seek(first, 1, makes_room=True), Seek(second, -1)] if second is not None else []
    if sensing.limits_in_lead(turn.sheet):
        seeks[1:1] = [Seek(first if second is None else second, 1, makes_room=True)]
    _begin_seeks(turn, [*seeks, Seek(first, -1)])
    turn.note("movement", "finding its position", said("by {cause}", cause=turn.memory.wish.by))


def _begin_seeks(turn: Turn, seeks: list[Seek]) -> None:
    turn.memory.learning = Learning(seeks=seeks, seeks_in_all=len(seeks))
    _next_seek(turn)


def under_way(turn: Turn) -> None:
    """Learning or finding is under way."""
    if turn.memory.learning.seeks:
        _seek(turn)
    elif turn.state is State.LEARNING:
        _stroke(turn)
    elif turn.take_timer("pause"):
        _go_on(turn)


# slow runs


def _next_seek(turn: Turn) -> None:
    learning = turn.memory.learning
    seek = learning.seeks[0]
    leaf = turn.leaf(seek.leaf)
    learning.under_way = True
    learning.other_start = turn.inputs.counts[1 - seek.leaf]
    if seek.direction > 0:
        turn.pulse_lock()
    if seek.makes_room:
        leaf.move = motion.to_count(turn, seek.leaf, 1, round(leaf.travel * order.ROOM))
        leaf.move.effort_a = motion.seeking_a(turn, 1)
    else:
        leaf.move = motion.seeking(turn, seek.direction)
    turn.start_timer("run-time limit", SEEK_LIMIT_S)
    step = learning.seeks_in_all - len(learning.seeks) + 1
    turn.say(_step(seek, step, learning.seeks_in_all))


def _step(seek: Seek, step: int, total: int) -> str:
    """What a slow run is for, in words."""
    leaf = LEAF[seek.leaf]
    if seek.makes_room:
        return said("step {step} of {total}: {leaf} makes room", step=step, total=total, leaf=leaf)
    return said(
        "step {step} of {total}: {leaf} looks for its open stop"
        if seek.direction > 0
        else "step {step} of {total}: {leaf} looks for its closed stop",
        step=step,
        total=total,
        leaf=leaf,
    )


def _met(index: int, met: Met) -> str:
    return said("{leaf} {what}", leaf=LEAF[index], what=met.value)


def _seek(turn: Turn) -> None:
    learning = turn.memory.learning
    if not learning.under_way:
        if not turn.take_timer("pause"):
            return
        _next_seek(turn)
    arrived = False
    for index, met in motion.advance(turn):
        if met is not Met.ARRIVED:
            if turn.state is State.FINDING and met in motion.NO_ROOM:
                doubt.met(turn, index, met)
            stood = met is Met.STOOD
            end_early(turn, _met(index, met), goes_back=stood, contact=stood)
            return
        arrived = True
    if arrived:
        _found(turn, learning.seeks[0])
    elif turn.take_timer("run-time limit"):
        leaf = LEAF[learning.seeks[0].leaf]
        end_early(turn, said("{leaf} found no stop in {limit_s:.0f} s", leaf=leaf, limit_s=SEEK_LIMIT_S))


def _found(turn: Turn, seek: Seek) -> None:
    learning, leaf = turn.memory.learning, turn.leaf(seek.leaf)
    count = turn.inputs.counts[seek.leaf]
    moved = abs(count - leaf.move.start_count)
    other = turn.inputs.counts[1 - seek.leaf] - learning.other_start
    if moved < 3 and abs(other) >= WRONG_WAY and turn.second is not None:
        why = said(
            "{leaf} was driven, but the counter of the {other} moved", leaf=LEAF[seek.leaf], other=LEAF[1 - seek.leaf]
        )
        end_early(turn, why)
        return
    if turn.state is State.LEARNING and not _take_stop(turn, seek, leaf, count):
        return
    if turn.state is State.FINDING and seek.direction < 0:
        leaf.origin = count
    turn.let_go(brake=False)
    learning.under_way = False
    learning.seeks.pop(0)
    if learning.seeks:
        turn.start_timer("pause", PAUSE_S)
        return
    turn.memory.position_known = True
    if turn.state is State.FINDING and turn.memory.wish.what == "close":
        _go_on(turn)
    else:
        turn.start_timer("pause", PAUSE_S)


def _take_stop(turn: Turn, seek: Seek, leaf: Leaf, count: int) -> bool:
    """Write a found stop down; False if it can't be one and learning ended."""
    if seek.direction > 0:
        turn.memory.learning.open_count[seek.leaf] = count
        return True
    travel = turn.memory.learning.open_count[seek.leaf] - count
    if travel < (LEAST_TRAVEL if sensing.is_counted(turn.sheet) else LEAST_RECKONED):
        far = _in_words(turn, travel)
        end_early(turn, said("{leaf}: only {far} between its stops, it hardly moved", leaf=LEAF[seek.leaf], far=far))
        return False
    other = turn.leaf(1 - seek.leaf).travel if len(turn.leaves) == 2 else 0
    if other and not other * LEAST_SHARE <= travel <= other / LEAST_SHARE:
        short = seek.leaf if travel < other else 1 - seek.leaf
        share = round(100 * min(travel, other) / max(travel, other))
        why = said(
            "{leaf}: only {share} % of the other leaf's travel, something stopped it", leaf=LEAF[short], share=share
        )
        end_early(turn, why)
        return False
    leaf.origin, leaf.travel = count, travel
    return True


def _go_on(turn: Turn) -> None:
    """The position is found and the gate is shut: now as commanded."""
    memory = turn.memory
    if memory.wish.what == "close":
        turn.fire("arrives")
        memory.way = -1
        turn.note("movement", CLOSED, said("position found"))
        turn.say(said("closed, position found"))
    else:
        memory.pedestrian = memory.wish.what == "pedestrian"
        turn.pulse_lock()
        moving.begin_opening(turn)


# working strokes


def _stroke(turn: Turn) -> None:
    learning = turn.memory.learning
    if not learning.under_way:
        if not turn.take_timer("pause"):
            return
        _begin_stroke(turn)
    obstacle.sample(turn)
    for index, met in motion.advance(turn):
        if met is not Met.ARRIVED:
            touched = met in (Met.STOOD, Met.STRAINED)
            end_early(turn, _met(index, met), goes_back=touched, contact=touched)
            return
    if turn.take_timer("run-time limit"):
        end_early(turn, said("the run-time limit was reached"))
    elif motion.all_done(turn):
        _end_stroke(turn)


def _begin_stroke(turn: Turn) -> None:
    memory = turn.memory
    opens = memory.learning.strokes % 2 == 0
    memory.way = 1 if opens else -1
    memory.pedestrian = False
    if opens:
        turn.pulse_lock()
        order.begin_opening(turn)
    else:
        order.begin_closing(turn)
    memory.learning.under_way = True
    obstacle.begin_stroke(turn)
    turn.start_timer("run-time limit", number(turn.sheet, "run-time limit"))
    cycle = memory.learning.strokes // 2 + 1
    turn.say(
        said(
            "working cycle {cycle} of {total}: opening" if opens else "working cycle {cycle} of {total}: closing",
            cycle=cycle,
            total=STROKES // 2,
        )
    )


def _end_stroke(turn: Turn) -> None:
    memory = turn.memory
    obstacle.keep_stroke(turn, memory.way)
    turn.let_go(brake=False)
    memory.learning.under_way = False
    memory.learning.strokes += 1
    if memory.learning.strokes < STROKES:
        turn.start_timer("pause", PAUSE_S)
        return
    obstacle.adopt(turn)
    memory.learned = True
    memory.waits_for_command = True
    memory.learning = Learning()
    turn.fire("arrives")
    each = [
        said("{leaf} {travel}", leaf=LEAF[index], travel=_in_words(turn, turn.leaf(index).travel))
        for index in turn.leaves
    ]
    turn.note("learning", "travel learning", said("finished, {travel}", travel=joined(each, ", ")))
    turn.say(said("learning finished: {travel}", travel=joined(each, ", ")))


def _in_words(turn: Turn, travel: int) -> str:
    if sensing.is_counted(turn.sheet):
        return said("{count} counts", count=travel)
    on_mains = sensing.on_mains(turn.sheet)
    return said(
        "{seconds:.1f} s" if on_mains else "{seconds:.1f} s of slow running", seconds=travel / reckoning.COUNTS_PER_S
    )


# ending early


def end_early(turn: Turn, why: str, *, goes_back: bool = False, contact: bool = False) -> None:
    """Something ended it: stop, or go back a little from what is there or in the way, and keep nothing.

    `contact` says that something was touched: then the load comes off it whatever happens meanwhile.
    """
    memory = turn.memory
    learns = turn.state is State.LEARNING
    message = said(
        "learning ended early, nothing is kept: {why}" if learns else "finding run ended early: {why}", why=why
    )
    _put_down(turn)
    if learns:
        turn.note("learning", "travel learning", said("ended early, {why}", why=why))
    if goes_back:
        moving.back_off(turn, message, contact=contact)
    else:
        moving.stop(turn, message, brake=True)
    if learns:
        forget(turn)
    memory.position_known = False


def halted(turn: Turn, why: str) -> None:
    """The stop circuit ended it: the drives are let go already."""
    if turn.state is State.LEARNING:
        turn.note("learning", "travel learning", said("ended early, {why}", why=why))
        forget(turn)
    _put_down(turn)
    turn.memory.position_known = False


def _put_down(turn: Turn) -> None:
    turn.memory.learning = Learning()
    turn.stop_timer("pause")
    turn.stop_timer("run-time limit")
    turn.memory.waits_for_command = True

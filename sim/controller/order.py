"""Who goes first. The leaf that opens first closes last, and near the closed stop neither may overtake the other.

The controller can't see the cover strip. It knows what the sheet says, and keeps that order by delay and by counts:
outside the lap each leaf moves freely, inside it the second leaf opens behind the first and is home before it.
"""

from __future__ import annotations

from typing import Final

from sim.controller import motion
from sim.controller.memory import Move, Phase, Wait
from sim.controller.motion import LAP_SHARE
from sim.controller.sheet import number
from sim.controller.turn import Turn
from sim.units import SCAN, next_on_grid

LEAD: Final = 0.08
"""Share of its travel by which the first leaf must be ahead inside the lap. CP, no source."""

ROOM: Final = 0.30
"""Share of its travel to which the first leaf makes room. CP, no source."""


def share(turn: Turn, index: int) -> float:
    """Where a leaf is, as a share of its travel from the closed stop."""
    return turn.position(index) / turn.leaf(index).travel


def begin_opening(turn: Turn, *, first_only: bool = False, at_once: bool = False) -> None:
    """Set the leaves to open, the first one ahead of the second inside the lap.

    `at_once` leaves out the second leaf's delay: a safety reversal waits for nothing but the strip.
    """
    first, second = turn.first, turn.second
    _set(turn, first, _opening(turn, first))
    if second is None or first_only:
        return
    move = _opening(turn, second)
    if move.phase is Phase.WAITING and share(turn, second) < LAP_SHARE and not motion.is_open(turn, first):
        if share(turn, first) < LAP_SHARE and not at_once:
            move.start_at = _later(turn, number(turn.sheet, "leaf delay, opening"))
        move.wait = Wait.LEAD
        move.other_at = motion.lap_count(turn.leaf(first), min(LAP_SHARE, share(turn, second) + LEAD))
    _set(turn, second, move)


def begin_closing(turn: Turn) -> None:
    """Set the leaves to close, the second one home before the first comes into the lap."""
    first, second = turn.first, turn.second
    last = _closing(turn, first)
    if second is None:
        _set(turn, first, last)
        return
    early = _closing(turn, second)
    if early.phase is Phase.WAITING:
        if share(turn, first) >= LAP_SHARE:
            last.start_at = _later(turn, number(turn.sheet, "leaf delay, closing"))
            last.holds_before_lap = True
        elif share(turn, second) <= share(turn, first):
            last.wait = Wait.HOME
        else:
            last = _making_room(turn, first)
            early.wait = Wait.CLEAR
            early.other_at = motion.lap_count(turn.leaf(first))
    _set(turn, first, last)
    _set(turn, second, early)


def begin_back_off(turn: Turn, moved: list[int], direction: int, part: float) -> None:
    """Set the leaves that moved to reverse by `part` of their travel, inside the lap in their order."""
    for index in moved:
        _set(turn, index, motion.freeing(turn, index, direction, part))
    first, second = turn.first, turn.second
    if second is None or not {first, second} <= set(moved) or not turn.memory.position_known:
        return
    if max(share(turn, first), share(turn, second)) >= LAP_SHARE:
        return
    if direction > 0:
        turn.move(second).wait = Wait.LEAD
        turn.move(second).other_at = motion.lap_count(turn.leaf(first), share(turn, second) + LEAD)
    elif share(turn, first) - part < share(turn, second) + LEAD:
        turn.move(first).wait = Wait.HOME


def begin_by_hand(turn: Turn, direction: int) -> None:
    """Set the leaves to move slowly while somebody holds the control: opening (+1) or closing (−1).

    Where the position is known, in their order and to their stops; else one after the other to whatever stops them.
    """
    if turn.memory.learned and turn.memory.position_known:
        begin_opening(turn) if direction > 0 else begin_closing(turn)
        return
    leading, following = (turn.first, turn.second) if direction > 0 else (turn.second, turn.first)
    if leading is None or following is None:
        _set(turn, turn.first, motion.by_hand(turn, direction))
        return
    _set(turn, leading, motion.by_hand(turn, direction))
    late = motion.by_hand(turn, direction, max(1.0, number(turn.sheet, "leaf delay, opening")))
    if direction < 0:
        late = motion.by_hand(turn, direction)
        late.wait = Wait.STANDS
    _set(turn, following, late)


def add_second(turn: Turn) -> None:
    """An opening for pedestrians becomes a whole one: the second leaf follows."""
    if turn.second is not None and turn.move(turn.second).phase is Phase.IDLE:
        first = turn.move(turn.first)
        begin_opening(turn)
        turn.leaf(turn.first).move = first


def begin_push(turn: Turn) -> None:
    """Press the first leaf home to take the load off the bolt."""
    _set(turn, turn.first, motion.by_hand(turn, -1))


def _set(turn: Turn, index: int, move: Move) -> None:
    turn.leaf(index).move = move


def _later(turn: Turn, seconds: float) -> int:
    return next_on_grid(turn.now + round(seconds * 1e6), SCAN)


def _opening(turn: Turn, index: int) -> Move:
    if motion.is_open(turn, index):
        return Move(Phase.DONE, 1)
    return motion.to_stop(turn, index, 1)


def _closing(turn: Turn, index: int) -> Move:
    if motion.is_home(turn, index):
        return Move(Phase.DONE, -1)
    return motion.to_stop(turn, index, -1)


def _making_room(turn: Turn, index: int) -> Move:
    distance = motion.lap_count(turn.leaf(index), ROOM) - turn.inputs.counts[index]
    move = motion.to_count(turn, index, 1, distance)
    move.effort_a = motion.effort_a(turn, 1)
    move.then_closes = True
    return move

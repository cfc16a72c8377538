"""Moves one leaf: soft start, run, slow zone, finding the stop by standing still, seating push.

Everything is judged by counts, current and quiet time. `advance` is called at each due scan and reports what a leaf
met; who called decides what follows. The order of the leaves is in `order`.
"""

from __future__ import annotations

import math
from enum import Enum
from typing import Final

from sim.controller import limits, obstacle, reckoning, sensing
from sim.controller.duty import arrived as has_run
from sim.controller.machine import HELD_RUNS, State
from sim.controller.memory import Goal, Leaf, Move, Phase, Wait
from sim.controller.obstacle import RATED_A
from sim.controller.sheet import Sheet, number
from sim.controller.turn import BRAKE_S, Turn
from sim.units import SCAN, next_on_grid

STALL: Final = 300_000
"""A driven motor whose counter is quiet for this long stands [µs]. CP, no source."""

ARM_S: Final = 0.3
"""After the soft start, time until stall and effort are judged [s]. CP, no source."""

MAINS_START_S: Final = 0.5
"""A mains motor has run up after this long [s]. CP, no source."""

AT_ONCE_PER_S: Final = 100.0
"""Slew of what can only be switched [1/s]."""

SLOW_START_S: Final = 0.5
"""Soft start of slow movements [s]. CP, no source."""

FREEING_START_S: Final = 0.1
"""Soft start of the way back from a contact: 150 N may last for 0.75 s, Facts 1.2, and noticing and pausing take most
of it [s]. CP, no source."""

SLOWING_PER_S: Final = 1.5
"""How fast the duty falls from run to slow speed [1/s]. CP, no source."""

LAP_SHARE: Final = 0.25
"""Share of a leaf's travel in which the leaves may overlap; outside it neither can touch the other. CP."""

HOME_SHARE: Final = 0.01
"""A leaf within this share of its travel from the closed stop is home. CP, no source."""

WRONG_WAY: Final = 20
"""A counter that goes this far against the commanded way is not mistaken [counts]. CP, no source."""

GENTLE: Final = 60.0
"""Most effort of slow movements [% of rated]: finding stops, jog. CP, no source."""

REDUCED: Final = 0.8
"""Share of that effort on a finding run, on which nobody knows where the leaf is. CP, no source."""

LEAVES_WITHIN: Final = 300
"""So far a leaf is driven at most without leaving a limit switch [counts, three seconds of slow running]. CP."""

FREEING: Final = 0.5
"""Least duty on the way back from a contact: whoever is caught is not freed at a crawl. CP, no source."""

NO_TRAVEL_BACK_OFF: Final = 60
"""How far a back-off reverses before the travel is learned [counts]. CP, no source."""


class Met(Enum):
    """What a leaf reports."""

    ARRIVED = "arrived"
    STOOD = "stood still where no stop was learned"
    DEAD = "was driven and took no current"
    MISPLACED = "came to its limit switch where none was learned"
    STAYED = "did not leave the limit switch it was driven from"
    WRONG_LIMIT = "ran the wrong way: it came to the other limit switch"
    STRAINED = "needed more effort than learned"
    PASSED = "ran past the place where its stop was learned"
    WRONG_WAY = "ran the wrong way: its counter went against the command"


NO_ROOM: Final = (Met.PASSED, Met.WRONG_WAY, Met.STAYED, Met.WRONG_LIMIT)
"""After these the counts say nothing about where the leaf is."""


def lap_count(leaf: Leaf, share: float = LAP_SHARE) -> int:
    """Counter reading of a leaf at `share` of its travel."""
    return leaf.origin + math.ceil(leaf.travel * share)


def home_counts(travel: int) -> int:
    """How near the closed stop a leaf is home [counts]."""
    return max(6, round(travel * HOME_SHARE))


def is_home(turn: Turn, index: int) -> bool:
    """Whether a leaf is shut: by count, or by having been seen to reach its stop."""
    if not sensing.is_counted(turn.sheet):
        return turn.leaf(index).at_stop < 0
    return abs(turn.position(index)) <= home_counts(turn.leaf(index).travel)


def is_open(turn: Turn, index: int) -> bool:
    """Whether a leaf is at its open stop, as nearly as it can be known."""
    if not sensing.is_counted(turn.sheet):
        return turn.leaf(index).at_stop > 0
    travel = turn.leaf(index).travel
    return abs(turn.position(index) - travel) <= sensing.ahead(turn.sheet, travel)


def effort_a(turn: Turn, direction: int, most: float = 100.0) -> float:
    """Current limit [A] of a movement, from the sheet's effort for its way and `most` [% of rated]."""
    name = "motor effort, opening" if direction > 0 else "motor effort, closing"
    return min(number(turn.sheet, name), most) / 100.0 * RATED_A


def to_stop(turn: Turn, index: int, direction: int) -> Move:
    """A movement to the learned stop at run speed, slow before it; it starts at once unless told to wait.

    While learning it is as gentle as finding the stops: nothing is known yet that would tell an obstacle. Under a
    hand it is as gentle, and slow all the way.
    """
    most = GENTLE if turn.state in (State.LEARNING, *HELD_RUNS) else 100.0
    effort = effort_a(turn, direction, most)
    return Move(Phase.WAITING, direction, Goal.STOP, start_at=_paused(turn), effort_a=effort, slow=False)


def _paused(turn: Turn) -> int:
    """The first instant at which a leaf may be driven: it may just have been driven the other way."""
    return max(turn.now, turn.memory.timers.get("brake", 0))


def to_count(turn: Turn, index: int, direction: int, distance: int) -> Move:
    """A slow movement over `distance` [counts], with all the effort there is if it must free something."""
    target = turn.inputs.counts[index] + direction * distance
    return Move(Phase.WAITING, direction, Goal.COUNT, start_at=turn.now, target=target, slow=True, effort_a=RATED_A)


def seeking_a(turn: Turn, direction: int) -> float:
    """Current limit of a slow run to a stop [A]: gentle while learning, reduced while finding."""
    return effort_a(turn, direction, GENTLE) * (REDUCED if turn.state is State.FINDING else 1.0)


def seeking(turn: Turn, direction: int) -> Move:
    """A slow, gentle movement to whatever stops it."""
    return Move(
        Phase.WAITING, direction, Goal.SEEK, start_at=turn.now, slow=True, effort_a=seeking_a(turn, direction)
    )


def by_hand(turn: Turn, direction: int, start_in_s: float = 0.0) -> Move:
    """A slow, gentle movement while somebody holds a control."""
    start_at = max(next_on_grid(turn.now + round(start_in_s * 1e6), SCAN), _paused(turn))
    effort = effort_a(turn, direction, GENTLE)
    return Move(Phase.WAITING, direction, Goal.HAND, start_at=start_at, slow=True, effort_a=effort)


def freeing(turn: Turn, index: int, direction: int, share: float) -> Move:
    """The way back from a contact, over `share` of the travel."""
    move = to_count(turn, index, direction, back_off_distance(turn, index, share))
    move.frees = True
    return move


def back_off_distance(turn: Turn, index: int, share: float) -> int:
    """Counts of a back-off over `share` of the travel."""
    travel = turn.leaf(index).travel
    return max(1, round(travel * share)) if travel else NO_TRAVEL_BACK_OFF


# the movement under way


def advance(turn: Turn) -> list[tuple[int, Met]]:
    """Bring every leaf's movement up to now; returns what they met. First those that run, then those that wait."""
    met = []
    for index in turn.leaves:
        if turn.move(index).phase in (Phase.MOVING, Phase.SEATING):
            what = _run(turn, index)
            if what is not None:
                met.append((index, what))
    for index in turn.leaves:
        move = turn.move(index)
        waited = move.phase is Phase.WAITING and turn.now >= move.start_at and _may_start(turn, index)
        if waited or (move.phase is Phase.PAUSED and _is_out_of_the_way(turn, 1 - index)):
            _begin(turn, index)
    return met


def all_done(turn: Turn) -> bool:
    """Whether no leaf has anything left to do."""
    return all(turn.move(index).phase in (Phase.IDLE, Phase.DONE) for index in turn.leaves)


def _is_out_of_the_way(turn: Turn, other: int) -> bool:
    """Whether a leaf has come to its stop or stands shut; one that still runs is not home before it stands."""
    phase = turn.move(other).phase
    return phase is Phase.DONE or (phase is not Phase.MOVING and is_home(turn, other))


def _may_start(turn: Turn, index: int) -> bool:
    move, other = turn.move(index), 1 - index
    if move.wait is Wait.NOTHING:
        return True
    if move.wait is Wait.STANDS:
        return turn.move(other).phase is Phase.DONE
    if move.wait is Wait.HOME:
        return _is_out_of_the_way(turn, other)
    arrived = turn.move(other).phase is Phase.DONE and move.wait is Wait.LEAD
    return arrived or turn.inputs.counts[other] >= move.other_at


def _begin(turn: Turn, index: int) -> None:
    move = turn.move(index)
    resumes = move.phase is Phase.PAUSED
    move.phase = Phase.MOVING
    move.start_count = turn.inputs.counts[index]
    if move.goal is Goal.STOP:
        near = _left(turn, index) <= _slow_counts(turn.sheet, turn.leaf(index))
        if near or turn.state in HELD_RUNS:
            _slow_down(turn, move)
    start_s = number(turn.sheet, "soft start") if move.goal is Goal.STOP else SLOW_START_S
    move.slew_per_s = duty(turn.sheet, move) / (FREEING_START_S if turn.memory.contact else start_s)
    if sensing.on_mains(turn.sheet):
        start_s, move.slew_per_s = MAINS_START_S, AT_ONCE_PER_S
    move.arms_at = next_on_grid(turn.now + round((start_s + ARM_S) * 1e6), SCAN)
    move.armed = False
    move.over_until = 0
    left = not limits.is_reached(turn.memory, index, -move.direction)
    reckoning.begin(turn.sheet, turn.leaf(index), turn.now, resumes=resumes, left=left)


def _slow_down(turn: Turn, move: Move) -> None:
    """The slow zone begins. By running time a stop is known by the motor's limit, so that must be within reach."""
    move.slow = True
    if not sensing.is_counted(turn.sheet):
        move.effort_a = min(move.effort_a, effort_a(turn, move.direction, GENTLE))


def duty(sheet: Sheet, move: Move) -> float:
    """Magnitude of the duty a movement asks for, 0 to 1."""
    if sensing.on_mains(sheet):
        return 1.0
    asked = number(sheet, "slow speed" if move.slow else "run speed") / 100.0
    return max(FREEING, asked) if move.frees else asked


def _left(turn: Turn, index: int) -> int:
    """Counts to the learned stop ahead; negative behind it."""
    position = turn.position(index)
    return turn.leaf(index).travel - position if turn.move(index).direction > 0 else position


def _slow_counts(sheet: Sheet, leaf: Leaf) -> int:
    return round(leaf.travel * number(sheet, "slow zone before stop") / 100.0)


def slow_at(sheet: Sheet, leaf: Leaf) -> int:
    """Counter reading at which the slow zone begins."""
    zone = _slow_counts(sheet, leaf)
    return leaf.origin + (leaf.travel - zone if leaf.move.direction > 0 else zone)


def _run(turn: Turn, index: int) -> Met | None:
    move, count = turn.move(index), turn.inputs.counts[index]
    if move.phase is Phase.SEATING:
        return _arrive(turn, index) if turn.now >= move.seats_until else None
    counted = sensing.is_counted(turn.sheet)
    if counted and move.goal in (Goal.STOP, Goal.SEEK) and move.direction * (count - move.start_count) <= -WRONG_WAY:
        return Met.WRONG_WAY
    if not counted:
        wrong = _runs_wrong(turn, index)
        if wrong is not None or _is_cut_off(turn, index):
            return wrong or _stand(turn, index)
    if move.goal is Goal.COUNT and move.direction * (count - move.target) >= 0:
        return _arrive(turn, index)
    if move.goal is Goal.STOP:
        left = _left(turn, index)
        if left < -sensing.behind(turn.sheet, turn.leaf(index)):
            return Met.PASSED
        if not move.slow and left <= _slow_counts(turn.sheet, turn.leaf(index)):
            _slow_down(turn, move)
            move.slew_per_s = max(SLOWING_PER_S, AT_ONCE_PER_S * sensing.on_mains(turn.sheet))
        if move.holds_before_lap and count <= lap_count(turn.leaf(index)):
            move.holds_before_lap = False
            if not _is_out_of_the_way(turn, 1 - index):
                move.phase = Phase.PAUSED
                return None
    move.armed = move.armed or turn.now >= move.arms_at
    if not move.armed:
        return None
    if turn.inputs.quiet_us[index] >= STALL:
        return _stand(turn, index)
    return Met.STRAINED if obstacle.is_met(turn, index) else None


def leaves_by(move: Move) -> int:
    """Counter reading by which a leaf must be off the limit switch it was driven from."""
    return move.start_count + move.direction * LEAVES_WITHIN


def _runs_wrong(turn: Turn, index: int) -> Met | None:
    """What its limit switches on the board say of the way it runs."""
    move, left = turn.move(index), turn.leaf(index).reckoned.left
    if move.goal not in (Goal.STOP, Goal.SEEK) or not limits.is_reached(turn.memory, index, -move.direction):
        return None
    if left:
        return Met.WRONG_LIMIT
    is_late = move.direction * (turn.inputs.counts[index] - leaves_by(move)) >= 0
    return Met.STAYED if is_late else None


def _is_cut_off(turn: Turn, index: int) -> bool:
    """Whether it is at its limit switch on the board: no need to wait until it stands."""
    return sensing.limits_on_board(turn.sheet) and turn.leaf(index).reckoned.sign == "limit"


def _stand(turn: Turn, index: int) -> Met | None:
    """The motor is driven and stands."""
    leaf, move = turn.leaf(index), turn.move(index)
    if not sensing.is_counted(turn.sheet):
        before = _stands_short(turn, leaf)
        if before is not None:
            return before
    if move.goal is Goal.SEEK or (move.goal is Goal.COUNT and not move.then_closes):
        return _arrive(turn, index)
    if move.goal is not Goal.STOP or _left(turn, index) > sensing.ahead(turn.sheet, leaf.travel):
        at_limit = turn.leaf(index).reckoned.sign == "limit" and move.goal is Goal.STOP
        return Met.MISPLACED if at_limit else Met.STOOD
    seconds = number(turn.sheet, "seating push")
    if move.direction > 0 or seconds == 0.0 or sensing.limits_in_lead(turn.sheet):
        return _arrive(turn, index)
    move.phase = Phase.SEATING
    move.seats_until = next_on_grid(turn.now + round(seconds * 1e6), SCAN)
    return None


def _stands_short(turn: Turn, leaf: Leaf) -> Met | None:
    """What its current says against a leaf that stands: nothing flows, or it stands before its limit switch."""
    if leaf.move.goal is Goal.COUNT:
        return None
    if leaf.reckoned.sign == "dead":
        return Met.DEAD
    at_limit = leaf.reckoned.sign == "limit" or not sensing.has_limits(turn.sheet)
    return None if at_limit or leaf.move.goal is Goal.HAND else Met.STOOD


def _arrive(turn: Turn, index: int) -> Met | None:
    """A leaf is where it was to go: let its drive go, and take a stop as the new reference of its counts."""
    leaf, move = turn.leaf(index), turn.move(index)
    reckoning.arrive(turn.sheet, leaf, learns=turn.state is State.LEARNING)
    if move.goal is Goal.STOP:
        has_run(leaf, int(turn.now))
    if move.goal is Goal.STOP or (move.goal is Goal.COUNT and leaf.at_stop == move.direction):
        count = turn.inputs.counts[index]
        leaf.origin = count if move.direction < 0 else count - leaf.travel
    if move.then_closes:
        leaf.move = to_stop(turn, index, -1)
        leaf.move.wait = Wait.HOME
        leaf.move.start_at = next_on_grid(turn.now + round(BRAKE_S * 1e6), SCAN)
        return None
    move.phase = Phase.DONE
    return Met.ARRIVED

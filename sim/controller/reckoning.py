"""The counter that a leaf without an encoder would have, reckoned from how long it was driven and how strongly.

A motor's speed rises with its duty and falls with its load. How fast a leaf runs is known from three whole runs that
learning times: a slow one, and a working one each way. What they say is a line, duty times slope less drag, and the
position follows from sums over the time driven: there is nothing to do while a leaf runs. Where a watch would wait
for a count, the instant is worked out instead. What stands still, and what a limit switch cut off, shows in the
current. At every stop the reckoning begins anew; in between it is only as good as the line, and its doubt grows.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from sim.controller import limits, obstacle, sensing
from sim.controller.memory import Goal, Leaf, Memory, Phase, Reckoned
from sim.controller.ports import Drive, Inputs
from sim.controller.sheet import Sheet
from sim.units import SCAN, next_on_grid

COUNTS_PER_S: Final = 100.0
"""Counts of a second of the slow run that measures a leaf's travel: the unit of what is reckoned [1/s]."""

RATED_V: Final = 24.0
"""Supply at which a duty counts as it is [V]; a motor on a weaker one is slower by its share."""

DEAD_DUTY: Final = 0.2
"""Duty that only overcomes drag, until a working run has told; rather too much, so that the slow zone of the first
working run comes early. CP, no source."""

LEAST_APART: Final = 0.05
"""Mean duties of two runs nearer than this tell no slope. CP, no source."""

STANDS: Final = 300_000
"""A sign of standing still is believed when it is still there after this long [µs]. CP, no source."""

FLOWS_A: Final = 0.1
"""More than this flows through a motor that is driven, and less where its lead is open [A]. CP, no source."""

HELD_SHARE: Final = 0.95
"""A motor at this share of its current limit stands, or is about to. CP, no source."""

HELD_MAINS_SHARE: Final = 0.9
"""A mains motor stands if it takes this share of what it took at switching on, when it hardly turned. CP, no
source."""

LOOK_US: Final = 100_000
"""The current of a bridge is looked at first this long after its start [µs]. CP, no source."""

LOOK_MAINS_US: Final = 20_000
"""That of a mains motor: one period, in which it hardly turns [µs]."""

DOUBT: Final = 0.04
"""Share of what was reckoned that it may be off. CP, no source."""

STOP_DOUBT: Final = 0.01
"""Share of the travel that a stop on the way adds: nobody knows how far a leaf ran on. CP, no source."""

MOST_DOUBT: Final = 0.10
"""Share of the travel from which on a position counts as unknown. CP, no source."""

NOWHERE: Final = -1
"""Bin of a leaf whose effort is not judged."""

CLOSE_ENOUGH: Final = 1e-6
"""What rounding may miss of a count."""


def seen(memory: Memory, inputs: Inputs, now: int) -> Inputs:
    """The inputs with what is reckoned in the place of the counters. Called first at each due scan."""
    if sensing.is_counted(memory.sheet):
        return inputs
    for index, leaf in enumerate(memory.leaves):
        if leaf.move.phase is Phase.MOVING:
            _look_at_limits(memory, index, now)
            _look(memory.sheet, leaf, abs(inputs.motor_a[index]), inputs.supply_v, now)
    one, other = memory.leaves
    counts = (_shown(memory.sheet, one, now), _shown(memory.sheet, other, now))
    return replace(inputs, counts=counts, quiet_us=(_quiet(one.reckoned, now), _quiet(other.reckoned, now)))


def _shown(sheet: Sheet, leaf: Leaf, now: int) -> int:
    """The counter as whole counts: the last one that was passed, whichever way."""
    reckoned = leaf.reckoned
    count = reckoned.stood[0] if reckoned.sign else _stands(sheet, leaf, now)[0]
    return math.floor(count + CLOSE_ENOUGH) if reckoned.way > 0 else math.ceil(count - CLOSE_ENOUGH)


def _quiet(reckoned: Reckoned, now: int) -> int:
    return now - reckoned.since if reckoned.sign else 0


# how far it ran


def settle(memory: Memory, drives: tuple[Drive, Drive], positions: tuple[int, int], now: int) -> None:
    """What is driven from now on. Called last at each due scan: only what changes begins the sums anew, so that it
    makes no difference how often somebody asks in between."""
    if sensing.is_counted(memory.sheet):
        return
    for leaf, drive, position in zip(memory.leaves, drives, positions, strict=True):
        reckoned = leaf.reckoned
        _enter_bin(memory, leaf, position)
        if leaf.move.phase is not Phase.MOVING:
            reckoned.sign = ""
        wanted = (drive.duty, drive.slew_per_s, drive.brake)
        if wanted != (reckoned.target, reckoned.slew_per_s, reckoned.brake):
            _bring_up(memory.sheet, leaf, now)
            reckoned.target, reckoned.slew_per_s, reckoned.brake = wanted
            reckoned.strength = memory.supply_v / RATED_V
            reckoned.way = _sign_of(drive.duty) or reckoned.way


def _sign_of(value: float) -> int:
    return 1 if value > 0.0 else -1 if value < 0.0 else 0


def _bring_up(sheet: Sheet, leaf: Leaf, now: int) -> None:
    """Have the sums begin now, with what they have come to."""
    reckoned = leaf.reckoned
    count, run_s, duty_s = _stands(sheet, leaf, now)
    leaf.doubt += abs(count - reckoned.count) * DOUBT
    reckoned.duty = _driven(reckoned, now - reckoned.at)[0]
    reckoned.at, reckoned.count, reckoned.run_s, reckoned.duty_s = now, count, run_s, duty_s


def _stands(sheet: Sheet, leaf: Leaf, now: int) -> tuple[float, float, float]:
    """(count, seconds driven, duty times seconds) at an instant, if nothing changes until then."""
    reckoned = leaf.reckoned
    _, run_s, duty_s = _driven(reckoned, now - reckoned.at)
    way = _sign_of(duty_s)
    if way == 0 or leaf.move.phase is Phase.SEATING:
        return reckoned.count, reckoned.run_s, reckoned.duty_s
    strength = abs(duty_s) * reckoned.strength
    moved = 0.0 if way == leaf.at_stop else _gain(sheet, leaf, way, run_s, strength)
    return reckoned.count + way * moved, reckoned.run_s + run_s, reckoned.duty_s + strength


def _driven(reckoned: Reckoned, past_us: int) -> tuple[float, float, float]:
    """(duty then, seconds driven, duty times seconds) after a time [µs]."""
    if reckoned.brake:
        return 0.0, 0.0, 0.0
    duty, target, slew = reckoned.duty, reckoned.target, reckoned.slew_per_s
    past_s, rise = past_us / 1e6, target - duty
    ramp_s = min(past_s, abs(rise) / slew) if slew > 0.0 else 0.0
    reached = target if slew * ramp_s >= abs(rise) else duty + math.copysign(slew * ramp_s, rise)
    driven_s = past_s if target else ramp_s
    return reached, driven_s, (duty + reached) / 2.0 * ramp_s + reached * (past_s - ramp_s)


def _gain(sheet: Sheet, leaf: Leaf, way: int, run_s: float, duty_s: float) -> float:
    """Counts run in a time [s] at a strength [duty times s]; a little below nothing while a motor overcomes drag."""
    slope, drag = _line(sheet, leaf, way)
    return slope * duty_s - drag * run_s


def _line(sheet: Sheet, leaf: Leaf, way: int) -> tuple[float, float]:
    """(counts a second for whole duty, counts a second that drag takes) of one leaf, one way."""
    slow = leaf.timed.get("slow")
    if slow is None or not leaf.travel:
        return 0.0, -COUNTS_PER_S
    own = leaf.timed.get(sensing.stroke(way), slow)
    if sensing.on_mains(sheet):
        return 0.0, -leaf.travel / own[0]
    slope = leaf.timed["slope"][0]
    return slope, slope * own[1] / own[0] - leaf.travel / own[0]


# what its current says


def _look_at_limits(memory: Memory, index: int, now: int) -> None:
    """A limit switch on the board says by itself that the leaf is there, and nothing about it is doubted."""
    leaf = memory.leaves[index]
    reckoned, way = leaf.reckoned, leaf.move.direction
    reckoned.left = reckoned.left or not limits.is_reached(memory, index, -way)
    if limits.is_reached(memory, index, way) and reckoned.sign != "limit":
        _bring_up(memory.sheet, leaf, now)
        reckoned.sign, reckoned.since = "limit", now - STANDS
        reckoned.stood = [reckoned.count, reckoned.run_s, reckoned.duty_s]


def _look(sheet: Sheet, leaf: Leaf, amps: float, supply_v: float, now: int) -> None:
    """See whether there is a sign that the leaf stands. Once there, it is left alone until it may be believed."""
    move, reckoned = leaf.move, leaf.reckoned
    if 0 <= reckoned.looks_at <= now:
        _bring_up(sheet, leaf, now)
        reckoned.looks_at, reckoned.held_a, reckoned.flowed = -1, amps, amps > FLOWS_A
        reckoned.strength = supply_v / RATED_V
    if now == move.arms_at:  # wind may have helped so well at the first look that nothing flowed
        reckoned.flowed = reckoned.flowed or amps > FLOWS_A
    at_limit = sensing.limits_on_board(sheet) and reckoned.sign == "limit"
    if at_limit or now < move.arms_at or (reckoned.sign and now - reckoned.since < STANDS):
        return
    sign = _sign(sheet, leaf, amps)
    if sign and sign == reckoned.sign:
        if [reckoned.count, reckoned.run_s, reckoned.duty_s] != reckoned.stood:
            _bring_up(sheet, leaf, now)
            reckoned.count, reckoned.run_s, reckoned.duty_s = reckoned.stood
    elif sign != reckoned.sign:
        reckoned.sign, reckoned.since = sign, now
        reckoned.stood = list(_stands(sheet, leaf, now))


def _sign(sheet: Sheet, leaf: Leaf, amps: float) -> str:
    """`dead`: no current at all; `limit`: a limit switch took it away; `held`: as much as a motor takes that stands.

    A leaf that is told to look for its open stop, or to make room, may begin at its open limit switch, which has cut
    its lead already. In any other movement current must have flowed before it can be taken away.
    """
    move = leaf.move
    if amps <= FLOWS_A:
        may_begin_there = move.direction > 0 and move.goal in (Goal.SEEK, Goal.COUNT)
        cut = sensing.limits_in_lead(sheet) and (leaf.reckoned.flowed or may_begin_there)
        return "limit" if cut else "dead"
    return "held" if amps >= held_a(sheet, leaf) else ""


def held_a(sheet: Sheet, leaf: Leaf) -> float:
    """From how much current on the leaf under way is taken to stand [A]."""
    if sensing.on_mains(sheet):
        return HELD_MAINS_SHARE * leaf.reckoned.held_a
    return HELD_SHARE * leaf.move.effort_a


# beginning and ending


def begin(sheet: Sheet, leaf: Leaf, now: int, *, resumes: bool, left: bool) -> None:
    """The leaf is driven from now on, or on after a pause on its way; `left`: from where no limit switch is pressed
    behind it."""
    if sensing.is_counted(sheet):
        return
    reckoned, way = leaf.reckoned, leaf.move.direction
    _bring_up(sheet, leaf, now)
    look = LOOK_MAINS_US if sensing.on_mains(sheet) else LOOK_US
    reckoned.looks_at, reckoned.sign = next_on_grid(now + look, SCAN), ""
    reckoned.flowed, reckoned.left = False, left
    if not resumes:
        reckoned.run_s, reckoned.duty_s, reckoned.came_from = 0.0, 0.0, leaf.at_stop
    if leaf.at_stop == 0:
        leaf.doubt += STOP_DOUBT * leaf.travel
    elif way != leaf.at_stop:
        leaf.at_stop = 0


def arrive(sheet: Sheet, leaf: Leaf, *, learns: bool) -> None:
    """The leaf stands at the stop it was driven to: reckoning begins anew, and a whole run tells its pace."""
    if sensing.is_counted(sheet):
        return
    way, reckoned = leaf.move.direction, leaf.reckoned
    if leaf.move.goal is Goal.COUNT:
        _come_by_chance(sheet, leaf)
        return
    is_whole = reckoned.came_from == -way
    leaf.at_stop, leaf.doubt = way, 0.0
    run = [reckoned.run_s, reckoned.duty_s]
    if leaf.move.goal is Goal.SEEK:
        if learns and way < 0 and is_whole:
            _time_slow(leaf, run)
    elif is_whole and learns:
        _time_working(leaf, way, run)
    elif is_whole:
        old = leaf.timed.get(sensing.stroke(way), run)
        leaf.timed[sensing.stroke(way)] = [(a + b) / 2.0 for a, b in zip(old, run, strict=True)]


def _come_by_chance(sheet: Sheet, leaf: Leaf) -> None:
    """A leaf that was only to go some way came to its limit switch on it."""
    reckoned = leaf.reckoned
    if reckoned.sign == "limit" and (reckoned.flowed or sensing.limits_on_board(sheet)):
        leaf.at_stop, leaf.doubt = leaf.move.direction, 0.0


def _time_slow(leaf: Leaf, run: list[float]) -> None:
    mean = run[1] / run[0]
    dead = min(DEAD_DUTY, mean / 2.0)
    leaf.timed = {"slow": run, "slope": [COUNTS_PER_S / (mean - dead)]}


def _time_working(leaf: Leaf, way: int, run: list[float]) -> None:
    leaf.timed[sensing.stroke(way)] = run
    slow = leaf.timed["slow"]
    apart = run[1] / run[0] - slow[1] / slow[0]
    faster = leaf.travel / run[0] - leaf.travel / slow[0]
    if way < 0 and apart > LEAST_APART and faster > 0.0:
        leaf.timed["slope"] = [faster / apart]


def is_doubtful(memory: Memory, index: int) -> bool:
    """Whether a leaf was stopped and started so often since its last stop that nobody can say where it is."""
    leaf = memory.leaves[index]
    return not sensing.is_counted(memory.sheet) and leaf.doubt > MOST_DOUBT * leaf.travel > 0.0


# when something will be


def wakes(memory: Memory, index: int, places: list[int]) -> list[int]:
    """When this leaf must be looked at [µs]: its first current, the end of a doubt whether it stands, and when it
    will be at one of `places` [counts] ahead of it. Some may be past."""
    leaf = memory.leaves[index]
    reckoned = leaf.reckoned
    due = [reckoned.looks_at] if leaf.move.phase is Phase.MOVING and reckoned.looks_at >= 0 else []
    if reckoned.sign:
        return [*due, reckoned.since + STANDS]
    return due + [at for place in places if (at := _when(memory.sheet, leaf, place)) is not None]


def _when(sheet: Sheet, leaf: Leaf, place: int) -> int | None:
    """The first scan instant at which the leaf is reckoned at a place ahead [µs], None if it never will be."""
    reckoned = leaf.reckoned
    to_go = reckoned.way * (place - reckoned.count)
    if reckoned.target == 0.0 or to_go <= 0.0:
        return None

    def gain(scans: int) -> float:
        return reckoned.way * (_stands(sheet, leaf, reckoned.at + scans * SCAN)[0] - reckoned.count)

    least, most = 0, 1 + int(abs(reckoned.target - reckoned.duty) / reckoned.slew_per_s * 1e6 / SCAN)
    a_scan = gain(most + 1) - gain(most)
    if a_scan <= 0.0:
        return None
    most += 1 + max(0, int((to_go - gain(most)) / a_scan))
    while most - least > 1:
        middle = (least + most) // 2
        least, most = (least, middle) if gain(middle) >= to_go - CLOSE_ENOUGH else (middle, most)
    return reckoned.at + most * SCAN


def _enter_bin(memory: Memory, leaf: Leaf, position: int) -> None:
    """Note from which bin on the limit of effort is what it is at a position [counts from the closed stop]."""
    table = obstacle.limits(memory.sheet, memory, leaf) if obstacle.judged(leaf.move) else ()
    here = obstacle.bin_at(leaf.travel, position) if table else NOWHERE
    if NOWHERE in (here, leaf.reckoned.bin) or table[here] != table[leaf.reckoned.bin]:
        leaf.reckoned.bin = here

"""Makes the scan's answer from the memory alone: what is driven, when to be asked again, what should wake it."""

from __future__ import annotations

from typing import Final

from sim.controller import motion, obstacle, reckoning, sensing, supply, timers
from sim.controller.machine import STARTING, UNSETTLED, State
from sim.controller.memory import Goal, Leaf, Memory, Move, Phase, Wait
from sim.controller.ports import Drive, Inputs, Outputs, Scan, Watch, Watched
from sim.controller.sheet import Sheet, leaves
from sim.units import Us

_LEAF: Final = (0, 1)

DEAD: Final = Scan(Outputs(emitter_supply=False))
"""What a board without power drives."""

SOFT_STOP_PER_S: Final = 2.5
"""How fast the duty falls to nothing at an ordinary stop [1/s]. CP, no source."""


def made_from(memory: Memory) -> Scan:
    """The answer that stands until something is due."""
    if memory.state is State.NO_POWER:
        return DEAD
    outputs = Outputs(
        active=drive(memory, 0),
        inactive=drive(memory, 1),
        lamp=memory.state in UNSETTLED or memory.state in (State.WARNING, State.HELD),
        emitter_supply=not memory.test.dropped,
        yard_light=timers.running(memory.timers, "yard light") or _lights_yard(memory),
        lock=timers.running(memory.timers, "lock pulse"),
    )
    wake = Us(memory.wake) if memory.wake >= 0 else None
    watches = [watch for index in leaves(memory.sheet) for watch in _watches(memory, index)]
    return Scan(outputs, wake, (*watches, *supply.watches(memory)))


def _lights_yard(memory: Memory) -> bool:
    return memory.sheet["yard light"] == "on" and memory.state in (*UNSETTLED, *STARTING, State.HELD)


def drive(memory: Memory, index: int) -> Drive:
    """What one leaf's bridge is asked for."""
    move = memory.leaves[index].move
    if move.phase not in (Phase.MOVING, Phase.SEATING):
        stops = timers.running(memory.timers, "brake")
        if stops and (memory.brakes or sensing.on_mains(memory.sheet)):
            return Drive(brake=True)
        return Drive(slew_per_s=SOFT_STOP_PER_S)
    return Drive(
        duty=move.direction * motion.duty(memory.sheet, move),
        slew_per_s=move.slew_per_s,
        limit_a=move.effort_a,
    )


def next_wake(memory: Memory, now: int) -> int:
    """The first deadline after `now` [µs], −1 if there is none."""
    deadlines = [*memory.timers.values(), memory.rests_until]
    for leaf in memory.leaves:
        move = leaf.move
        if move.phase is Phase.WAITING:
            deadlines.append(move.start_at)
        elif move.phase is Phase.SEATING:
            deadlines.append(move.seats_until)
        elif move.phase is Phase.MOVING:
            deadlines.append(move.over_until if move.armed else move.arms_at)
    if not sensing.is_counted(memory.sheet):
        for index in leaves(memory.sheet):
            deadlines += reckoning.wakes(memory, index, _places(memory, index))
    coming = [deadline for deadline in deadlines if deadline > now]
    return min(coming) if coming else -1


# watches


def _watches(memory: Memory, index: int) -> list[Watch]:
    leaf = memory.leaves[index]
    move = leaf.move
    if not sensing.is_counted(memory.sheet):
        return _current_watches(memory, index) if move.phase is Phase.MOVING and move.armed else []
    if _waits_for_other(memory, index):
        return [Watch(Watched.COUNT_AT_LEAST, _LEAF[1 - index], move.other_at)]
    if move.phase is not Phase.MOVING:
        return []
    found = [*_count_watches(memory.sheet, index, leaf)]
    if move.armed:
        found.append(Watch(Watched.STALLED_FOR, _LEAF[index], motion.STALL))
        table = obstacle.limits(memory.sheet, memory, leaf) if move.over_until == 0 else ()
        if table:
            found.append(
                Watch(
                    Watched.CURRENT_ABOVE_TABLE,
                    _LEAF[index],
                    table=table,
                    table_start=leaf.origin,
                    table_pitch=obstacle.pitch(leaf.travel),
                )
            )
    return found


def _waits_for_other(memory: Memory, index: int) -> bool:
    move = memory.leaves[index].move
    return move.phase is Phase.WAITING and move.wait in (Wait.LEAD, Wait.CLEAR) and move.start_at <= memory.at


def _current_watches(memory: Memory, index: int) -> list[Watch]:
    """What wakes a leaf that nothing counts: no current, as much as it takes while it stands, or too much here."""
    leaf = memory.leaves[index]
    found = []
    if not leaf.reckoned.sign:
        held_a = reckoning.held_a(memory.sheet, leaf)
        found = [
            Watch(Watched.CURRENT_AT_MOST, _LEAF[index], reckoning.FLOWS_A),
            Watch(Watched.CURRENT_AT_LEAST, _LEAF[index], held_a),
        ]
    table = obstacle.limits(memory.sheet, memory, leaf) if leaf.move.over_until == 0 else ()
    if table:
        here = table[leaf.reckoned.bin]
        found.append(Watch(Watched.CURRENT_AT_LEAST, _LEAF[index], here))
    return found


def _places(memory: Memory, index: int) -> list[int]:
    """Counts at which a leaf that nothing counts must be asked about: its own, and the one the other waits for."""
    leaf, other = memory.leaves[index], memory.leaves[1 - index]
    waits = len(leaves(memory.sheet)) == 2 and _waits_for_other(memory, 1 - index)
    places = [other.move.other_at] if waits else []
    if leaf.move.phase is not Phase.MOVING:
        return places
    places += [round(watch.threshold) for watch in _count_watches(memory.sheet, index, leaf)]
    if memory.limits and not leaf.reckoned.left:
        places.append(motion.leaves_by(leaf.move))
    table = obstacle.limits(memory.sheet, memory, leaf) if leaf.move.armed else ()
    return places + ([leaf.origin + obstacle.next_limit(leaf, table)] if table else [])


def _count_watches(sheet: Sheet, index: int, leaf: Leaf) -> list[Watch]:
    move = leaf.move
    if move.goal is Goal.COUNT:
        return [_ahead(index, move, move.target)]
    if move.goal is Goal.HAND:
        return []
    found = [_ahead(index, move, move.start_count - move.direction * motion.WRONG_WAY, -move.direction)]
    if move.goal is Goal.STOP:
        behind = sensing.behind(sheet, leaf) + 1
        passed = leaf.origin + leaf.travel + behind if move.direction > 0 else leaf.origin - behind
        found.append(_ahead(index, move, passed))
        if not move.slow:
            found.append(_ahead(index, move, motion.slow_at(sheet, leaf)))
        if move.holds_before_lap:
            found.append(_ahead(index, move, motion.lap_count(leaf)))
    return found


def _ahead(index: int, move: Move, count: int, direction: int = 0) -> Watch:
    what = Watched.COUNT_AT_LEAST if (direction or move.direction) > 0 else Watched.COUNT_AT_MOST
    return Watch(what, _LEAF[index], count)


def holds(watch: Watch, inputs: Inputs) -> bool:
    """Whether a watch's condition is true on these inputs; the same rule that the kernel keeps."""
    leaf = watch.leaf
    if watch.what is Watched.COUNT_AT_LEAST:
        return inputs.counts[leaf] >= watch.threshold
    if watch.what is Watched.COUNT_AT_MOST:
        return inputs.counts[leaf] <= watch.threshold
    if watch.what is Watched.STALLED_FOR:
        return inputs.quiet_us[leaf] >= watch.threshold
    if watch.what is Watched.CURRENT_AT_LEAST:
        return abs(inputs.motor_a[leaf]) >= watch.threshold
    if watch.what is Watched.CURRENT_AT_MOST:
        return abs(inputs.motor_a[leaf]) <= watch.threshold
    if watch.what is Watched.SUPPLY_AT_MOST:
        return inputs.supply_v <= watch.threshold
    place = (inputs.counts[leaf] - watch.table_start) // watch.table_pitch
    return abs(inputs.motor_a[leaf]) > watch.table[min(len(watch.table) - 1, max(0, place))]

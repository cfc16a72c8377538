"""What the motors need on a healthy movement, and from when on more than that is an obstacle.

The load is learned on working strokes, per direction, as the largest current in each bin of counts over the travel.
An obstacle is effort above that load plus a margin, confirmed once, or a leaf that stands where no stop was learned.
Near the stop it runs to, effort is expected and only standing still counts.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from sim.controller import season, sensing
from sim.controller.memory import Goal, Leaf, Memory, Move, Phase
from sim.controller.sheet import Sheet, number
from sim.controller.turn import Turn

RATED_A: Final = 8.0
"""Motor current at full effort [A]. Facts 5.3, electronic limit of the smaller motors, common practice."""

BINS: Final = 40
"""Entries of a load table."""

SAMPLE_S: Final = 0.05
"""How often the load is noted while it is learned [s]. CP, no source."""

CONFIRM_S: Final = 0.05
"""An excess of effort must be there again after this long [s]. CP, no source."""

NO_LIMIT: Final = 1e9
"""Entry of a bin in which effort is not judged [A]."""


def pitch(travel: int) -> int:
    """Width of a bin [counts]."""
    return max(1, -(-travel // BINS))


def bin_at(travel: int, position: int) -> int:
    """Bin of a position [counts from the closed stop], the nearest one outside the travel."""
    return min(BINS - 1, max(0, position // pitch(travel)))


def limits(sheet: Sheet, memory: Memory, leaf: Leaf) -> tuple[float, ...]:
    """Current [A] above which a leaf under way has met something, per bin; empty where nothing was learned."""
    move = leaf.move
    load = leaf.opening_load if move.direction > 0 else leaf.closing_load
    if not load or move.goal is not Goal.STOP:
        return ()
    margin = number(sheet, "obstacle margin") / 100.0 * move.effort_a
    is_outdated, spared = memory.load_strokes_due > 0, bin_at(leaf.travel, sensing.ahead(sheet, leaf.travel))
    return _table(tuple(load), is_outdated, margin, 0.95 * move.effort_a, spared, move.direction)


@lru_cache(maxsize=64)
def _table(
    load: tuple[float, ...], is_outdated: bool, margin: float, most: float, spared: int, direction: int
) -> tuple[float, ...]:
    """Limits over a load; the `spared` bins before the stop ahead and the one it lies in have none."""
    highest = max(load)
    table = [min(most, (highest if is_outdated else each) + margin) for each in load]
    for step in range(spared + 1):
        table[BINS - 1 - step if direction > 0 else step] = NO_LIMIT
    return tuple(table)


def next_limit(leaf: Leaf, table: tuple[float, ...]) -> int:
    """The next position ahead [counts from the closed stop] with another limit; the end of the table if there is
    none."""
    way, here = leaf.move.direction, leaf.reckoned.bin
    there = here
    while 0 <= there < BINS and table[there] == table[here]:
        there += way
    return there * pitch(leaf.travel) if way > 0 else (there + 1) * pitch(leaf.travel) - 1


def is_met(turn: Turn, index: int) -> bool:
    """Whether effort has been above the learned load plus margin, twice, `CONFIRM_S` apart."""
    leaf, move = turn.leaf(index), turn.move(index)
    table = limits(turn.sheet, turn.memory, leaf)
    if not table or turn.now < move.over_until:
        return False
    over = turn.inputs.motor_a[index] > table[bin_at(leaf.travel, turn.position(index))]
    confirmed = over and move.over_until > 0
    move.over_until = turn.now + round(CONFIRM_S * 1e6) if over else 0
    return confirmed


# learning the load


def begin_stroke(turn: Turn) -> None:
    """Note the load of the stroke that begins, if it is wanted."""
    for index in turn.leaves:
        turn.leaf(index).stroke = [0.0] * BINS
    turn.start_timer("sample", SAMPLE_S)


def sample(turn: Turn) -> None:
    """Note the motors' current now, in the bin where each leaf is."""
    if not turn.take_timer("sample"):
        return
    turn.start_timer("sample", SAMPLE_S)
    for index in turn.leaves:
        leaf = turn.leaf(index)
        position = turn.position(index)
        ahead = leaf.travel - position if leaf.move.direction > 0 else position
        counts = judged(leaf.move) and leaf.move.goal is Goal.STOP and ahead > sensing.ahead(turn.sheet, leaf.travel)
        if leaf.stroke and counts:
            place = bin_at(leaf.travel, position)
            leaf.stroke[place] = max(leaf.stroke[place], turn.inputs.motor_a[index])


def keep_stroke(turn: Turn, direction: int) -> None:
    """A whole stroke ended well: its load counts. A stroke that met something is forgotten instead."""
    turn.memory.new_load_c[season.name(direction)] = turn.inputs.board_c
    for index in turn.leaves:
        leaf = turn.leaf(index)
        if direction > 0:
            leaf.new_opening_load = _larger(leaf.new_opening_load, leaf.stroke)
        else:
            leaf.new_closing_load = _larger(leaf.new_closing_load, leaf.stroke)
        leaf.stroke = []


def adopt(turn: Turn) -> None:
    """The strokes are done: what they noted is the learned load from now on."""
    for index in turn.leaves:
        leaf = turn.leaf(index)
        leaf.opening_load = _filled(leaf.new_opening_load)
        leaf.closing_load = _filled(leaf.new_closing_load)
        leaf.new_opening_load, leaf.new_closing_load = [], []
    turn.memory.load_strokes_due = 0
    turn.memory.load_c, turn.memory.new_load_c = turn.memory.new_load_c, {}


def _larger(first: list[float], second: list[float]) -> list[float]:
    if not first or not second:
        return list(first or second)
    return [max(a, b) for a, b in zip(first, second, strict=True)]


def _filled(load: list[float]) -> list[float]:
    """Bins nothing was noted in take the nearest noted ones; each bin is at least its neighbours.

    A leaf is hardly ever noted at the same place twice, so a bin alone is too narrow a memory.
    """
    noted = [place for place, current in enumerate(load) if current > 0.0]
    if not noted:
        return []
    full = [load[min(noted, key=lambda place: (abs(place - here), place))] for here in range(BINS)]
    return [max(full[max(0, here - 1) : here + 2]) for here in range(BINS)]


def judged(move: Move) -> bool:
    """Whether stall and effort are judged now."""
    return move.phase is Phase.MOVING and move.armed

"""Conditions that end an advance at a scan instant: on the controller's terminals, or on where a leaf stands."""

from __future__ import annotations

from typing import Final

from sim.kernel.layout import (
    ANGLE,
    COUNT,
    COUNT_TIME,
    CURRENT,
    LEAF_STATE,
    SCAN_US,
    TIME,
    WATCH_COUNT,
    WATCH_LEAF,
    WATCH_SIZE,
    WATCH_TABLE,
    WATCH_TABLE_PITCH,
    WATCH_TABLE_SIZE,
    WATCH_TABLE_START,
    WATCH_THRESHOLD,
    WATCH_WHAT,
    Floats,
    Whole,
)
from sim.kernel.winding import supply

COUNT_AT_LEAST: Final = 0
COUNT_AT_MOST: Final = 1
CURRENT_AT_LEAST: Final = 2
CURRENT_ABOVE_TABLE: Final = 3
STALLED_FOR: Final = 4
SUPPLY_AT_MOST: Final = 5
ANGLE_AT_LEAST: Final = 6
ANGLE_AT_MOST: Final = 7
CURRENT_AT_MOST: Final = 8


def holds(state: Floats, network: Floats, watches: Floats, tables: Floats, whole: Whole, index: int) -> bool:
    """Whether one watch holds now."""
    w = index * WATCH_SIZE
    what = int(watches[w + WATCH_WHAT])
    leaf = int(watches[w + WATCH_LEAF])
    at = leaf * LEAF_STATE
    threshold = watches[w + WATCH_THRESHOLD]
    if what == COUNT_AT_LEAST:
        return bool(state[at + COUNT] >= threshold)
    if what == COUNT_AT_MOST:
        return bool(state[at + COUNT] <= threshold)
    if what == CURRENT_AT_LEAST:
        return bool(abs(state[at + CURRENT]) >= threshold)
    if what == CURRENT_AT_MOST:
        return bool(abs(state[at + CURRENT]) <= threshold)
    if what == CURRENT_ABOVE_TABLE:
        size = int(watches[w + WATCH_TABLE_SIZE])
        offset = int(state[at + COUNT]) - int(watches[w + WATCH_TABLE_START])
        place = offset // int(watches[w + WATCH_TABLE_PITCH])
        if place < 0:
            place = 0
        if place > size - 1:
            place = size - 1
        return bool(abs(state[at + CURRENT]) > tables[int(watches[w + WATCH_TABLE]) + place])
    if what == STALLED_FOR:
        return bool(whole[TIME] - state[at + COUNT_TIME] >= threshold)
    if what == ANGLE_AT_LEAST:
        return bool(state[at + ANGLE] >= threshold)
    if what == ANGLE_AT_MOST:
        return bool(state[at + ANGLE] <= threshold)
    return bool(supply(state, network, leaf) <= threshold)


def first_that_holds(state: Floats, network: Floats, watches: Floats, tables: Floats, whole: Whole) -> int:
    """Index of the first watch that holds now; -1 if none does."""
    for index in range(whole[WATCH_COUNT]):
        if holds(state, network, watches, tables, whole, index):
            return index
    return -1


def next_scan(time: int) -> int:
    """The first scan instant after `time` [µs]."""
    return (time // SCAN_US + 1) * SCAN_US


def next_fire(state: Floats, network: Floats, watches: Floats, tables: Floats, whole: Whole, end: int) -> int:
    """The first scan instant after now at which a watch holds while nothing moves, `end` [µs] at the latest."""
    first = end
    for index in range(whole[WATCH_COUNT]):
        w = index * WATCH_SIZE
        due = end
        if int(watches[w + WATCH_WHAT]) == STALLED_FOR:
            leaf = int(watches[w + WATCH_LEAF])
            at_least = int(state[leaf * LEAF_STATE + COUNT_TIME] + watches[w + WATCH_THRESHOLD])
            due = next_scan(at_least - 1)
            if due <= whole[TIME]:
                due = next_scan(whole[TIME])
        elif holds(state, network, watches, tables, whole, index):
            due = next_scan(whole[TIME])
        if due < first:
            first = due
    return first


COMPILED = (holds, first_that_holds, next_scan, next_fire)

HOT = (holds, first_that_holds)
"""What every scan instant goes through."""

"""The advance over many steps: to an instant, or to the first thing that happens before it."""

from __future__ import annotations

from sim.kernel.coasting import can_coast, can_cruise, coast, cruise
from sim.kernel.contact import EVENT_BITS, note_contacts
from sim.kernel.layout import (
    CONTACTED,
    CURRENT,
    EDGE_PRESSED,
    EVENTS,
    FIRED,
    FULL,
    GUSTING,
    LEAF_STATE,
    OBSTACLES,
    REACHED,
    RECORDING,
    ROW_LIMIT,
    ROWS,
    SCAN_US,
    STEP_US,
    TIME,
    WARM_US,
    WATCH_COUNT,
    WATCHED,
    Floats,
    Whole,
)
from sim.kernel.recording import sample
from sim.kernel.step import is_still, marks, whole_step
from sim.kernel.warming import next_warming, warm_both
from sim.kernel.watching import first_that_holds, next_fire, next_scan

CUT_OUT_BITS = 2 * EVENT_BITS
"""Behind what both leaves touched and left: 1 and 2 active cut-out opened and closed, 4 and 8 the inactive one's."""


def can_rest(state: Floats, constants: Floats) -> bool:
    """Whether a gate that a step left as it was will stay so: no gusts, no current."""
    return bool(
        is_still(state) and constants[GUSTING] == 0.0 and state[CURRENT] == 0.0 and state[LEAF_STATE + CURRENT] == 0.0
    )


def note_events(state: Floats, constants: Floats, time: int, is_scan: bool) -> int:
    """Bits of what both leaves touched and left, and of cut-outs; brings temperatures up to date at whole seconds."""
    events = 0
    if state[OBSTACLES] != 0.0 or state[EDGE_PRESSED] != 0.0:
        events = note_contacts(state, constants, 0)
    if state[LEAF_STATE + OBSTACLES] != 0.0 or state[LEAF_STATE + EDGE_PRESSED] != 0.0:
        events = events | (note_contacts(state, constants, 1) << EVENT_BITS)
    if is_scan and time % WARM_US == 0:  # a whole second is a scan instant, which is known already
        events = events | (warm_both(state, constants) << CUT_OUT_BITS)
    return events


def sample_rest(state: Floats, network: Floats, rows: Floats, whole: Whole, began: int) -> None:
    """Record a stretch of rest that was skipped: its first and last instants on the scan grid."""
    first = next_scan(began - 1)
    end = whole[TIME]
    if first <= end:
        sample(state, network, rows, whole, first)
        sample(state, network, rows, whole, end // SCAN_US * SCAN_US)


def rest_until(state: Floats, constants: Floats, whole: Whole, until: int) -> int:
    """Let a gate at rest stand to `until` [µs] at most, cooling at whole seconds; returns the bits of a cut-out that
    opened or closed, which is where it then stands."""
    due = next_warming(whole[TIME])
    while due <= until:
        whole[TIME] = due
        changed = warm_both(state, constants)
        if changed != 0:
            return changed << CUT_OUT_BITS
        due = due + WARM_US
    whole[TIME] = until
    return 0


def advance(
    state: Floats,
    constants: Floats,
    network: Floats,
    watches: Floats,
    tables: Floats,
    knots: Floats,
    curve: Floats,
    rows: Floats,
    whole: Whole,
    end: int,
) -> int:
    """Advance to the last whole step at or before `end` [µs], or to the first contact or watch; returns why.

    Changes `state`, `curve`, `rows` and `whole` in place. While nothing can change, time jumps, to the same bits
    as by stepping.
    """
    whole[FIRED] = -1
    whole[EVENTS] = 0
    last = end // STEP_US * STEP_US
    before = marks(state)
    while whole[TIME] < last:
        if whole[ROWS] > whole[ROW_LIMIT] - 4:
            return FULL
        was_still = is_still(state)
        if not was_still:
            if can_coast(state, constants):
                coast(state, constants, whole, last)
                was_still = is_still(state)
            elif can_cruise(state, constants, network):
                cruise(state, constants, network, knots, whole, last)
                was_still = is_still(state)
        if was_still:
            before = marks(state)
        whole_step(state, constants, network, knots, curve, whole)
        rests = was_still and can_rest(state, constants) and before == marks(state)
        is_scan = whole[TIME] % SCAN_US == 0
        events = note_events(state, constants, whole[TIME], is_scan)
        if is_scan and whole[RECORDING] != 0:
            sample(state, network, rows, whole, whole[TIME])
        if rests and events == 0 and whole[TIME] < last and not (is_scan and whole[WATCH_COUNT] > 0):
            began = whole[TIME]
            events = rest_until(state, constants, whole, next_fire(state, network, watches, tables, whole, last))
            if whole[RECORDING] != 0:
                sample_rest(state, network, rows, whole, began)
            is_scan = whole[TIME] % SCAN_US == 0
        if is_scan and whole[WATCH_COUNT] > 0:
            whole[FIRED] = first_that_holds(state, network, watches, tables, whole)
        if events != 0:
            whole[EVENTS] = events
            return CONTACTED
        if whole[FIRED] >= 0:
            return WATCHED
    return REACHED


COMPILED = (can_rest, note_events, sample_rest, rest_until, advance)

HOT = (note_events,)
"""What every step goes through."""

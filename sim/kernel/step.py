"""One step of the gate, and the advance over many: to an instant, or to the first thing that happens before it."""

from __future__ import annotations

import math

from sim.kernel.contact import (
    EVENT_BITS,
    is_lap_near,
    is_lap_out_of_reach,
    is_near,
    note_contacts,
    note_lap,
    press_lap,
)
from sim.kernel.layout import (
    ANGLE,
    BRAKE,
    CONTACT_PARTS,
    CONTACTED,
    COUNT,
    COUNT_NOISE,
    COUNT_TIME,
    COUNTED,
    CURRENT,
    CURVE_SAMPLES,
    DUTY,
    EDGE_PRESSED,
    ENCODER_STREAM,
    EVENTS,
    FIRED,
    FREE_PARTS,
    FULL,
    GAUGE_LAST,
    GAUGE_ON,
    GAUGE_RAW,
    GAUGE_RAW_PEAK,
    GAUGE_SAMPLES,
    GAUGE_SHOWN,
    GAUGE_SHOWN_PEAK,
    GAUGE_START,
    GAUGE_STEP,
    GAUGE_TIME,
    GUST_STREAM,
    GUSTING,
    LAP_EASE,
    LAP_SIDE,
    LEAF_CONSTANTS,
    LEAF_STATE,
    OBSTACLES,
    OFFSET,
    PULSES,
    REACHED,
    RECORDING,
    ROW_LIMIT,
    ROWS,
    SCAN_US,
    SENSE,
    SLEW,
    SPEED,
    STEP_S,
    STEP_US,
    TARGET,
    TIME,
    TINY,
    TRANSFER,
    TURNED,
    TURNING,
    WARM_US,
    WATCH_COUNT,
    WATCHED,
    WIND,
    WIRED,
    Floats,
    Whole,
)
from sim.kernel.motion import pull_train, swing_leaf, turn_rotor
from sim.kernel.recording import sample
from sim.kernel.trigonometry import sin_cos
from sim.kernel.warming import heat_up, next_warming, warm_both
from sim.kernel.watching import first_that_holds, next_fire, next_scan
from sim.kernel.weather import between_knots
from sim.kernel.winding import wind_on

CUT_OUT_BITS = 2 * EVENT_BITS
"""Behind what both leaves touched and left: 1 and 2 active cut-out opened and closed, 4 and 8 the inactive one's."""


def slew_duty(state: Floats, network: Floats, leaf: int) -> None:
    """Move a bridge's duty towards its target for one step, or drop it at once when braking."""
    at = leaf * LEAF_STATE
    if network[TRANSFER + leaf] != 0.0:
        state[at + WIRED] = 1.0 if network[TRANSFER + leaf] > 0.0 else -1.0
    duty, target = state[at + DUTY], state[at + TARGET]
    if state[at + BRAKE] != 0.0:
        duty = 0.0
    elif duty != target:
        most = state[at + SLEW] * STEP_S
        if duty < target:
            duty = target if target - duty <= most else duty + most
        else:
            duty = target if duty - target <= most else duty - most
    if duty > 0.0:
        state[at + SENSE] = 1.0
    elif duty < 0.0:
        state[at + SENSE] = -1.0
    state[at + DUTY] = duty


def show_gauge(state: Floats, constants: Floats, curve: Floats, time: int, dt: float, is_sample: bool) -> None:
    """Pass the gauge's force through its amplifier (first order, trapezoid) and keep the curve once touched."""
    raw = state[GAUGE_RAW]
    if state[GAUGE_START] < 0.0:
        if raw <= 0.0:
            return
        state[GAUGE_START] = float(time - STEP_US if is_sample else time)
        state[GAUGE_STEP] = 0.0
        curve[0] = 0.0
        curve[1] = 0.0
        state[GAUGE_SAMPLES] = 1.0
    count = int(state[GAUGE_SAMPLES])
    if count >= CURVE_SAMPLES:
        return
    step = state[GAUGE_STEP]
    shown = state[GAUGE_SHOWN]
    shown = shown + (raw + state[GAUGE_LAST] - 2.0 * shown) * step / (2.0 * constants[GAUGE_TIME] + step)
    if abs(shown) < TINY:
        shown = 0.0
    state[GAUGE_SHOWN] = shown
    state[GAUGE_STEP] = dt
    state[GAUGE_LAST] = raw
    if raw > state[GAUGE_RAW_PEAK]:
        state[GAUGE_RAW_PEAK] = raw
    if shown > state[GAUGE_SHOWN_PEAK]:
        state[GAUGE_SHOWN_PEAK] = shown
    if is_sample:
        curve[2 * count] = raw
        curve[2 * count + 1] = shown
        state[GAUGE_SAMPLES] = float(count + 1)


def part_step(state: Floats, constants: Floats, network: Floats, dt: float, wander0: float, wander1: float) -> None:
    """Move both leaves and both rotors by `dt` [s]."""
    b = LEAF_STATE
    sin0, cos0 = sin_cos(state[ANGLE])
    sin1, cos1 = sin_cos(state[b + ANGLE])
    drive0 = pull_train(state, constants, 0, dt, sin0, cos0)
    drive1 = pull_train(state, constants, 1, dt, sin1, cos1)
    lap0, lap1 = press_lap(state, constants, dt, sin0, cos0, sin1, cos1)
    wind_on(state, constants, network, dt)
    turn_rotor(state, constants, 0, dt, wander0)
    turn_rotor(state, constants, 1, dt, wander1)
    swing_leaf(state, constants, 0, dt, sin0, cos0, drive0 + lap0)
    swing_leaf(state, constants, 1, dt, sin1, cos1, drive1 + lap1)


def parts_needed(state: Floats, constants: Floats) -> int:
    """Into how many parts this step is divided; works out the lap on the way."""
    stiff = is_near(state, constants, 0) or is_near(state, constants, 1)
    if not is_lap_out_of_reach(state, constants):
        sin0, cos0 = sin_cos(state[ANGLE])
        sin1, cos1 = sin_cos(state[LEAF_STATE + ANGLE])
        note_lap(state, constants, sin0, cos0, sin1, cos1)
        stiff = stiff or is_lap_near(state, constants, sin0, sin1)
    gauge_runs = state[GAUGE_ON] != 0.0 and state[GAUGE_START] >= 0.0 and state[GAUGE_SAMPLES] < CURVE_SAMPLES
    if stiff or gauge_runs:
        return int(constants[CONTACT_PARTS])
    return int(constants[FREE_PARTS])


def count_pulses(state: Floats, constants: Floats, leaf: int, time: int) -> None:
    """Bring one encoder's count up to date; `time` [µs] is the end of the step."""
    at = leaf * LEAF_STATE
    count = float(math.floor(state[at + COUNTED] * constants[leaf * LEAF_CONSTANTS + PULSES] + 0.5))
    if count != state[at + COUNT]:
        state[at + COUNT] = count
        state[at + COUNT_TIME] = float(time)


def is_still(state: Floats) -> bool:
    """Whether nothing turns."""
    b = LEAF_STATE
    return bool(
        state[SPEED] == 0.0 and state[TURNING] == 0.0 and state[b + SPEED] == 0.0 and state[b + TURNING] == 0.0
    )


def marks(state: Floats) -> tuple[float, ...]:
    """Everything that a step from rest could change; if it doesn't, no later step will."""
    b = LEAF_STATE
    return (
        state[ANGLE],
        state[b + ANGLE],
        state[TURNED],
        state[b + TURNED],
        state[OFFSET],
        state[b + OFFSET],
        state[DUTY],
        state[b + DUTY],
        state[LAP_SIDE],
        state[LAP_EASE],
        state[GAUGE_SHOWN],
        state[GAUGE_SAMPLES],
        state[WIRED],
        state[b + WIRED],
    )


def whole_step(state: Floats, constants: Floats, network: Floats, knots: Floats, curve: Floats, whole: Whole) -> bool:
    """One step of a millisecond on the absolute grid; True if it changed nothing and no later one will."""
    was_still = is_still(state)
    before = marks(state)
    slew_duty(state, network, 0)
    slew_duty(state, network, 1)
    if constants[GUSTING] != 0.0:
        state[WIND] = 1.0 + constants[GUSTING] * between_knots(knots, whole, GUST_STREAM)
    wander0 = 0.0
    wander1 = 0.0
    if constants[COUNT_NOISE] != 0.0:
        wander0 = between_knots(knots, whole, ENCODER_STREAM)
    if constants[LEAF_CONSTANTS + COUNT_NOISE] != 0.0:
        wander1 = between_knots(knots, whole, ENCODER_STREAM + 1)
    parts = parts_needed(state, constants)
    dt = STEP_S / parts
    for part in range(parts):
        part_step(state, constants, network, dt, wander0, wander1)
        if state[GAUGE_ON] != 0.0:
            show_gauge(state, constants, curve, whole[TIME], dt, part == 0)
    whole[TIME] = whole[TIME] + STEP_US
    count_pulses(state, constants, 0, whole[TIME])
    count_pulses(state, constants, 1, whole[TIME])
    heat_up(state, 0)
    heat_up(state, 1)
    if not was_still or constants[GUSTING] != 0.0 or state[CURRENT] != 0.0 or state[LEAF_STATE + CURRENT] != 0.0:
        return False
    return bool(is_still(state) and before == marks(state))


def note_events(state: Floats, constants: Floats, time: int) -> int:
    """Bits of what both leaves touched and left, and of cut-outs; brings temperatures up to date at whole seconds."""
    events = 0
    if state[OBSTACLES] != 0.0 or state[EDGE_PRESSED] != 0.0:
        events = note_contacts(state, constants, 0)
    if state[LEAF_STATE + OBSTACLES] != 0.0 or state[LEAF_STATE + EDGE_PRESSED] != 0.0:
        events = events | (note_contacts(state, constants, 1) << EVENT_BITS)
    if time % WARM_US == 0:
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
    while whole[TIME] < last:
        if whole[ROWS] > whole[ROW_LIMIT] - 4:
            return FULL
        rests = whole_step(state, constants, network, knots, curve, whole)
        events = note_events(state, constants, whole[TIME])
        is_scan = whole[TIME] % SCAN_US == 0
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


COMPILED = (
    slew_duty,
    show_gauge,
    part_step,
    parts_needed,
    count_pulses,
    is_still,
    marks,
    whole_step,
    note_events,
    sample_rest,
    rest_until,
    advance,
)

"""One step of the gate: a millisecond on the absolute grid, in one part or in several."""

from __future__ import annotations

import math

from sim.kernel.contact import (
    is_lap_near,
    is_lap_out_of_reach,
    is_near,
    note_lap,
    press_lap,
)
from sim.kernel.layout import (
    ANGLE,
    BRAKE,
    CONTACT_PARTS,
    COUNT,
    COUNT_NOISE,
    COUNT_TIME,
    COUNTED,
    CURRENT,
    CURVE_SAMPLES,
    DUTY,
    EFFECTIVE,
    ENCODER_STREAM,
    ENGAGED,
    FORCE_OUT,
    FREE_PARTS,
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
    KEYED,
    LAP_EASE,
    LAP_SIDE,
    LEAF_CONSTANTS,
    LEAF_STATE,
    MOTOR_TORQUE,
    OFFSET,
    PULSES,
    SENSE,
    SLEW,
    SPEED,
    STEP_S,
    STEP_US,
    TARGET,
    TILT_ACROSS,
    TILT_ALONG,
    TIME,
    TINY,
    TRANSFER,
    TURNED,
    TURNING,
    WIND,
    WIND_ACROSS,
    WIND_ALONG,
    WIRED,
    Floats,
    Whole,
)
from sim.kernel.motion import pull_train, swing_leaf, turn_rotor
from sim.kernel.trigonometry import sin_cos
from sim.kernel.warming import heat_up
from sim.kernel.weather import between_knots
from sim.kernel.winding import wind_on


def slew_duty(state: Floats, network: Floats, leaf: int) -> float:
    """Move a bridge's duty towards its target for one step, or drop it at once when braking.

    Returns where it began: within the step the bridge moves on evenly.
    """
    at = leaf * LEAF_STATE
    if network[TRANSFER + leaf] != 0.0:
        state[at + WIRED] = 1.0 if network[TRANSFER + leaf] > 0.0 else -1.0
    before, target = state[at + DUTY], state[at + TARGET]
    if state[at + BRAKE] != 0.0:
        before = 0.0
        target = 0.0
    duty = before
    if duty != target:
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
    return float(before)


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


def is_loose(state: Floats, leaf: int) -> bool:
    """Whether a leaf swings free of a drive that stands without current: nothing but the leaf can move."""
    at = leaf * LEAF_STATE
    return bool(
        (state[at + ENGAGED] == 0.0 or state[at + KEYED] == 0.0)
        and state[at + TURNING] == 0.0
        and state[at + CURRENT] == 0.0
        and state[at + DUTY] == 0.0
        and state[at + EFFECTIVE] == 0.0
        and state[at + MOTOR_TORQUE] == 0.0
        and state[at + FORCE_OUT] == 0.0
    )


def is_upright(constants: Floats, leaf: int) -> bool:
    """Whether no torque on a leaf without its drive depends on where it stands: no lean, no wind."""
    base = leaf * LEAF_CONSTANTS
    return bool(
        constants[base + TILT_ALONG] == 0.0
        and constants[base + TILT_ACROSS] == 0.0
        and constants[base + WIND_ALONG] == 0.0
        and constants[base + WIND_ACROSS] == 0.0
    )


def drift(state: Floats, constants: Floats, dt: float, sin0: float, cos0: float, sin1: float, cos1: float) -> None:
    """Move both leaves by `dt` [s], free of their drives."""
    lap0, lap1 = press_lap(state, constants, dt, sin0, cos0, sin1, cos1)
    swing_leaf(state, constants, 0, dt, sin0, cos0, lap0)
    swing_leaf(state, constants, 1, dt, sin1, cos1, lap1)


def part_step(
    state: Floats,
    constants: Floats,
    network: Floats,
    dt: float,
    sin0: float,
    cos0: float,
    sin1: float,
    cos1: float,
    wander0: float,
    wander1: float,
) -> None:
    """Move both leaves and both rotors by `dt` [s] from where they stand, told by sine and cosine."""
    drive0 = pull_train(state, constants, 0, dt, sin0, cos0)
    drive1 = pull_train(state, constants, 1, dt, sin1, cos1)
    lap0, lap1 = press_lap(state, constants, dt, sin0, cos0, sin1, cos1)
    wind_on(state, constants, network, dt)
    turn_rotor(state, constants, 0, dt, wander0)
    turn_rotor(state, constants, 1, dt, wander1)
    swing_leaf(state, constants, 0, dt, sin0, cos0, drive0 + lap0)
    swing_leaf(state, constants, 1, dt, sin1, cos1, drive1 + lap1)


def parts_needed(
    state: Floats, constants: Floats, is_far: bool, sin0: float, cos0: float, sin1: float, cos1: float
) -> int:
    """Into how many parts this step is divided; works out the lap on the way, unless the tips are far apart."""
    stiff = is_near(state, constants, 0) or is_near(state, constants, 1)
    if not is_far:
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


def whole_step(state: Floats, constants: Floats, network: Floats, knots: Floats, curve: Floats, whole: Whole) -> None:
    """One step of a millisecond on the absolute grid."""
    from0 = slew_duty(state, network, 0)
    from1 = slew_duty(state, network, 1)
    if constants[GUSTING] != 0.0:
        state[WIND] = 1.0 + constants[GUSTING] * between_knots(knots, whole, GUST_STREAM)
    wander0 = 0.0
    wander1 = 0.0
    if constants[COUNT_NOISE] != 0.0:
        wander0 = between_knots(knots, whole, ENCODER_STREAM)
    if constants[LEAF_CONSTANTS + COUNT_NOISE] != 0.0:
        wander1 = between_knots(knots, whole, ENCODER_STREAM + 1)
    loose = is_loose(state, 0) and is_loose(state, 1)
    is_far = is_lap_out_of_reach(state, constants)
    sin0, cos0 = sin_cos(state[ANGLE])
    sin1, cos1 = sin_cos(state[LEAF_STATE + ANGLE])
    parts = parts_needed(state, constants, is_far, sin0, cos0, sin1, cos1)
    dt = STEP_S / parts
    to0, to1 = state[DUTY], state[LEAF_STATE + DUTY]
    for part in range(parts):
        if part > 0:
            sin0, cos0 = sin_cos(state[ANGLE])
            sin1, cos1 = sin_cos(state[LEAF_STATE + ANGLE])
        if loose:
            drift(state, constants, dt, sin0, cos0, sin1, cos1)
        else:
            if from0 != to0 or from1 != to1:
                state[DUTY] = from0 + (to0 - from0) * (part + 0.5) / parts
                state[LEAF_STATE + DUTY] = from1 + (to1 - from1) * (part + 0.5) / parts
            part_step(state, constants, network, dt, sin0, cos0, sin1, cos1, wander0, wander1)
        if state[GAUGE_ON] != 0.0:
            show_gauge(state, constants, curve, whole[TIME], dt, part == 0)
    state[DUTY] = to0
    state[LEAF_STATE + DUTY] = to1
    whole[TIME] = whole[TIME] + STEP_US
    count_pulses(state, constants, 0, whole[TIME])
    count_pulses(state, constants, 1, whole[TIME])
    heat_up(state, 0)
    heat_up(state, 1)


COMPILED = (
    slew_duty,
    show_gauge,
    is_loose,
    is_upright,
    drift,
    part_step,
    parts_needed,
    count_pulses,
    is_still,
    marks,
    whole_step,
)

HOT = (
    slew_duty,
    is_loose,
    is_upright,
    drift,
    part_step,
    parts_needed,
    count_pulses,
    is_still,
    whole_step,
)
"""What every step goes through."""

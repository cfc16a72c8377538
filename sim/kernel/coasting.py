"""A stretch in which only leaves move, free of their drives and of all that hangs on where they stand.

To the same bits as whole steps, which would ask at every millisecond what can't have changed.
"""

from __future__ import annotations

from sim.kernel.contact import is_lap_out_of_reach, is_near
from sim.kernel.layout import (
    ANGLE,
    AT_ANGLE,
    BRAKE,
    CLOSED_STOP,
    CONTACT,
    COUNT_NOISE,
    DUTY,
    EDGE_PRESSED,
    FIRST_OBSTACLE,
    FREE_PARTS,
    GAUGE_ON,
    GAUGE_START,
    GROUND_COUNT,
    GUST_STREAM,
    GUSTING,
    HINGE_FRICTION,
    HINGE_VISCOUS,
    INERTIA,
    LAP_SIDE,
    LEAF_CONSTANTS,
    LEAF_STATE,
    OBSTACLE_SIZE,
    OBSTACLE_SLOTS,
    OBSTACLES,
    OPEN_STOP,
    OPENS_INTO,
    PUSH,
    RECORDING,
    RISE_TORQUE,
    SCAN_US,
    SPEED,
    STEP_S,
    STEP_US,
    STOP_TORQUE,
    TAKEN,
    TARGET,
    TIME,
    TOUCHED,
    TRANSFER,
    WARM_US,
    WATCH_COUNT,
    WIND,
    WIRED,
    Floats,
    Whole,
)
from sim.kernel.motion import LEAF_STILL, rubbed
from sim.kernel.step import count_pulses, is_loose, is_still, is_upright, part_step
from sim.kernel.trigonometry import sin_cos
from sim.kernel.warming import heat_up
from sim.kernel.weather import between_knots

MARGIN = 1e-3
"""A leaf coasts no nearer than this to what it may touch [rad], beside what it does in two steps."""


def is_plain(state: Floats, constants: Floats, leaf: int) -> bool:
    """Whether nothing but a hand, rising hinges and friction acts on a leaf, and it touches nothing."""
    at = leaf * LEAF_STATE
    return bool(
        state[at + TARGET] == 0.0
        and state[at + STOP_TORQUE] == 0.0
        and state[at + CONTACT] == 0.0
        and state[at + EDGE_PRESSED] == 0.0
        and constants[leaf * LEAF_CONSTANTS + GROUND_COUNT] == 0.0
        and is_upright(constants, leaf)
        and is_loose(state, leaf)
    )


def can_coast(state: Floats, constants: Floats) -> bool:
    """Whether the next steps are those of two plain leaves."""
    return bool(
        is_plain(state, constants, 0)
        and is_plain(state, constants, 1)
        and state[LAP_SIDE] == 0.0
        and state[GAUGE_START] < 0.0
        and constants[GUSTING] == 0.0
    )


def room(state: Floats, constants: Floats, leaf: int) -> tuple[float, float]:
    """Between which angles a leaf can touch nothing [rad]; none at all while it still counts as touching."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    low, high = constants[base + CLOSED_STOP], constants[base + OPEN_STOP]
    if state[at + OBSTACLES] != 0.0:
        for slot in range(OBSTACLE_SLOTS):
            o = at + FIRST_OBSTACLE + slot * OBSTACLE_SIZE
            if state[o + TAKEN] == 0.0:
                continue
            if state[o + TOUCHED] != 0.0:
                return 0.0, 0.0
            if state[o + OPENS_INTO] != 0.0:
                high = min(high, state[o + AT_ANGLE])
            else:
                low = max(low, state[o + AT_ANGLE])
    return low + MARGIN, high - MARGIN


def coast(state: Floats, constants: Floats, whole: Whole, last: int) -> None:
    """Step on to a millisecond before the next instant at which somebody looks, or until the leaves stand or near
    something."""
    b, k = LEAF_STATE, LEAF_CONSTANTS
    grid = SCAN_US if whole[RECORDING] != 0 or whole[WATCH_COUNT] > 0 else WARM_US
    time = whole[TIME]
    end = (time // grid + 1) * grid
    end = (end if end < last else last) - STEP_US
    parts = int(constants[FREE_PARTS])
    dt = STEP_S / parts
    low0, high0 = room(state, constants, 0)
    low1, high1 = room(state, constants, 1)
    kick0, kick1 = dt / constants[INERTIA], dt / constants[k + INERTIA]
    ease0 = 1.0 / (1.0 + kick0 * constants[HINGE_VISCOUS])
    ease1 = 1.0 / (1.0 + kick1 * constants[k + HINGE_VISCOUS])
    push0 = kick0 * (state[PUSH] - constants[RISE_TORQUE])
    push1 = kick1 * (state[b + PUSH] - constants[k + RISE_TORQUE])
    most0, most1 = kick0 * constants[HINGE_FRICTION], kick1 * constants[k + HINGE_FRICTION]
    angle0, speed0, angle1, speed1 = state[ANGLE], state[SPEED], state[b + ANGLE], state[b + SPEED]
    while time < end and (speed0 != 0.0 or speed1 != 0.0):
        reach0, reach1 = 2.0 * STEP_S * abs(speed0), 2.0 * STEP_S * abs(speed1)
        if not (low0 + reach0 < angle0 < high0 - reach0 and low1 + reach1 < angle1 < high1 - reach1):
            break
        state[ANGLE], state[b + ANGLE] = angle0, angle1
        if not is_lap_out_of_reach(state, constants):
            break
        for _ in range(parts):
            speed0 = rubbed((speed0 + push0) * ease0, most0, LEAF_STILL)
            speed1 = rubbed((speed1 + push1) * ease1, most1, LEAF_STILL)
            angle0 = angle0 + dt * speed0
            angle1 = angle1 + dt * speed1
        time = time + STEP_US
    state[ANGLE], state[SPEED], state[b + ANGLE], state[b + SPEED] = angle0, speed0, angle1, speed1
    whole[TIME] = time


def is_steady(state: Floats, constants: Floats, network: Floats, leaf: int) -> bool:
    """Whether a leaf's bridge stays as it is and nothing stands in its way."""
    at = leaf * LEAF_STATE
    return bool(
        (state[at + DUTY] == state[at + TARGET] or state[at + BRAKE] != 0.0)
        and (state[at + DUTY] == 0.0 or state[at + BRAKE] == 0.0)
        and state[at + WIRED] * network[TRANSFER + leaf] >= 0.0
        and state[at + OBSTACLES] == 0.0
        and state[at + EDGE_PRESSED] == 0.0
        and constants[leaf * LEAF_CONSTANTS + COUNT_NOISE] == 0.0
    )


def can_cruise(state: Floats, constants: Floats, network: Floats) -> bool:
    """Whether the next steps are those of a gate that is driven steadily, and steps need not be asked about."""
    return bool(
        is_steady(state, constants, network, 0)
        and is_steady(state, constants, network, 1)
        and state[GAUGE_ON] == 0.0
        and is_lap_out_of_reach(state, constants)
    )


def cruise(state: Floats, constants: Floats, network: Floats, knots: Floats, whole: Whole, last: int) -> None:
    """Step on to a millisecond before the next scan instant, or until all stands or a leaf nears something."""
    time = whole[TIME]
    end = (time // SCAN_US + 1) * SCAN_US
    end = (end if end < last else last) - STEP_US
    parts = int(constants[FREE_PARTS])
    dt = STEP_S / parts
    while time < end:
        if is_near(state, constants, 0) or is_near(state, constants, 1) or not is_lap_out_of_reach(state, constants):
            break
        if constants[GUSTING] != 0.0:
            state[WIND] = 1.0 + constants[GUSTING] * between_knots(knots, whole, GUST_STREAM)
        for _ in range(parts):
            sin0, cos0 = sin_cos(state[ANGLE])
            sin1, cos1 = sin_cos(state[LEAF_STATE + ANGLE])
            part_step(state, constants, network, dt, sin0, cos0, sin1, cos1, 0.0, 0.0)
        time = time + STEP_US
        whole[TIME] = time
        count_pulses(state, constants, 0, time)
        count_pulses(state, constants, 1, time)
        heat_up(state, 0)
        heat_up(state, 1)
        if is_still(state):
            break


COMPILED = (is_plain, can_coast, room, coast, is_steady, can_cruise, cruise)

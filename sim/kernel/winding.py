"""Winding currents of both motors in one implicit step, coupled by the supply they share, and the bus they leave.

For each motor on direct current: L·di/dt = a·V − (R + r)·i − K·Ω with a = transfer × duty; for the bridges
V = V₀ − Z·I and I = g·D²·V + a·i (averaged bridge). One step of backward Euler in both currents at once.
"""

from __future__ import annotations

from sim.kernel.induction import induce
from sim.kernel.layout import (
    BRAKE,
    CLOSED,
    COUPLING,
    CURRENT,
    CUT_OUT,
    DUTY,
    EFFECTIVE,
    INDUCTANCE,
    LEAF_CONSTANTS,
    LEAF_STATE,
    LIMIT,
    LINE_LOAD,
    LOAD,
    LOOP,
    MAINS,
    MOTOR_CONSTANT,
    MOTOR_TORQUE,
    OHM,
    OPEN_CIRCUIT,
    ROTOR,
    ROTOR_DRAG,
    RUBBING,
    TINY,
    TRANSFER,
    TURNING,
    WHOLE_WINDING,
    Floats,
)


def bus(network: Floats, duty0: float, duty1: float, current0: float, current1: float) -> tuple[float, float]:
    """Volts at both bridges for given duties and motor currents [V]."""
    load0 = network[LINE_LOAD] * duty0 * duty0
    load1 = network[LINE_LOAD + 1] * duty1 * duty1
    drawn0 = network[TRANSFER] * duty0 * current0
    drawn1 = network[TRANSFER + 1] * duty1 * current1
    m00 = 1.0 + network[COUPLING] * load0
    m01 = network[COUPLING + 1] * load1
    m10 = network[COUPLING + 2] * load0
    m11 = 1.0 + network[COUPLING + 3] * load1
    v0 = network[OPEN_CIRCUIT] - network[COUPLING] * drawn0 - network[COUPLING + 1] * drawn1
    v1 = network[OPEN_CIRCUIT + 1] - network[COUPLING + 2] * drawn0 - network[COUPLING + 3] * drawn1
    det = m00 * m11 - m01 * m10
    return (v0 * m11 - m01 * v1) / det, (m00 * v1 - m10 * v0) / det


def supply(state: Floats, network: Floats, leaf: int) -> float:
    """The board's supply as one leaf's bridge has it now [V]."""
    v0, v1 = bus(
        network, state[EFFECTIVE], state[LEAF_STATE + EFFECTIVE], state[CURRENT], state[LEAF_STATE + CURRENT]
    )
    return v1 if leaf == 1 else v0


def is_whole(state: Floats, constants: Floats, network: Floats, leaf: int) -> bool:
    """Whether a direct-current motor's loop is whole: lines, winding, thermal cut-out."""
    base = leaf * LEAF_CONSTANTS
    return bool(
        network[CLOSED + leaf] != 0.0
        and constants[base + WHOLE_WINDING] != 0.0
        and constants[base + MAINS] == 0.0
        and state[leaf * LEAF_STATE + CUT_OUT] == 0.0
    )


def is_switched(state: Floats, constants: Floats, network: Floats, leaf: int) -> bool:
    """Whether current can flow in a motor: its loop is whole and its bridge drives or brakes."""
    at = leaf * LEAF_STATE
    return bool((state[at + DUTY] != 0.0 or state[at + BRAKE] != 0.0) and is_whole(state, constants, network, leaf))


def half_way(state: Floats, constants: Floats, leaf: int, dt: float) -> tuple[float, float]:
    """The rotor's speed in the middle of a step of `dt` [s]: without current [rad/s], and more per ampere.

    A current that saw the speed before the step would lag by half of it, which acts like a rotor lighter by
    K²·dt/2R: a twentieth at a millisecond.
    """
    at = leaf * LEAF_STATE
    speed = state[at + TURNING]
    if speed == 0.0:
        return 0.0, 0.0
    base = leaf * LEAF_CONSTANTS
    kick = 0.5 * dt / constants[base + ROTOR]
    friction = state[at + RUBBING] if speed > 0.0 else -state[at + RUBBING]
    load, more = kick * (state[at + LOAD] + friction), kick * constants[base + MOTOR_CONSTANT]
    if constants[base + ROTOR_DRAG] == 0.0:
        return speed - load, more
    ease = 1.0 / (1.0 + 2.0 * kick * constants[base + ROTOR_DRAG])
    return 0.5 * speed * (1.0 + ease) - ease * load, ease * more


def currents(
    state: Floats, constants: Floats, network: Floats, dt: float, duty0: float, duty1: float
) -> tuple[float, float]:
    """Both motor currents [A] one step `dt` [s] on, for given duties."""
    b = LEAF_STATE
    k = LEAF_CONSTANTS
    load0 = network[LINE_LOAD] * duty0 * duty0
    load1 = network[LINE_LOAD + 1] * duty1 * duty1
    w0, w1 = network[OPEN_CIRCUIT], network[OPEN_CIRCUIT + 1]
    y00, y01 = network[COUPLING], network[COUPLING + 1]
    y10, y11 = network[COUPLING + 2], network[COUPLING + 3]
    if load0 != 0.0 or load1 != 0.0:
        m00, m01 = 1.0 + y00 * load0, y01 * load1
        m10, m11 = y10 * load0, 1.0 + y11 * load1
        det = m00 * m11 - m01 * m10
        w0, w1 = (w0 * m11 - m01 * w1) / det, (m00 * w1 - m10 * w0) / det
        y00, y10 = (y00 * m11 - m01 * y10) / det, (m00 * y10 - m10 * y00) / det
        y01, y11 = (y01 * m11 - m01 * y11) / det, (m00 * y11 - m10 * y01) / det
    a0 = network[TRANSFER] * duty0
    a1 = network[TRANSFER + 1] * duty1
    x00, x01, r0 = 1.0, 0.0, 0.0
    x10, x11, r1 = 0.0, 1.0, 0.0
    if is_switched(state, constants, network, 0):
        slope = constants[INDUCTANCE] / dt
        speed, more = half_way(state, constants, 0, dt)
        x00 = slope + state[OHM] + network[LOOP] + a0 * y00 * a0 + constants[MOTOR_CONSTANT] * more
        x01 = a0 * y01 * a1
        r0 = slope * state[CURRENT] + a0 * w0 - constants[MOTOR_CONSTANT] * speed
    if is_switched(state, constants, network, 1):
        slope = constants[k + INDUCTANCE] / dt
        x10 = a1 * y10 * a0
        speed, more = half_way(state, constants, 1, dt)
        x11 = slope + state[b + OHM] + network[LOOP + 1] + a1 * y11 * a1 + constants[k + MOTOR_CONSTANT] * more
        r1 = slope * state[b + CURRENT] + a1 * w1 - constants[k + MOTOR_CONSTANT] * speed
    part = 1.0 / (x00 * x11 - x01 * x10)
    return (r0 * x11 - x01 * r1) * part, (x00 * r1 - x10 * r0) * part


def throttled(
    state: Floats, constants: Floats, network: Floats, dt: float, leaf: int, volts: float, current: float
) -> float:
    """The duty, between the commanded one and none, that leaves `current` [A] flowing one step on."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    duty: float = state[at + DUTY]
    lever = network[TRANSFER + leaf] * volts
    if lever == 0.0:
        return duty
    speed, more = half_way(state, constants, leaf, dt)
    needed = (
        (state[at + OHM] + network[LOOP + leaf]) * current
        + constants[base + MOTOR_CONSTANT] * (speed + more * current)
        + constants[base + INDUCTANCE] * (current - state[at + CURRENT]) / dt
    ) / lever
    if duty > 0.0:
        return 0.0 if needed < 0.0 else (duty if needed > duty else needed)
    return 0.0 if needed > 0.0 else (duty if needed < duty else needed)


def clamped(current: float, limit: float) -> float:
    """`current`, no further from nothing than `limit`."""
    if current > limit:
        return limit
    if current < -limit:
        return -limit
    return current


def wind_on(state: Floats, constants: Floats, network: Floats, dt: float) -> None:
    """Step both winding currents by `dt` [s], each bridge holding its current limit by giving less duty.

    A braking or plugged motor may carry more than the limit: a bridge can only stop driving.
    """
    b = LEAF_STATE
    duty0, duty1 = state[DUTY], state[b + DUTY]
    if not is_whole(state, constants, network, 0):
        duty0 = 0.0
    if not is_whole(state, constants, network, 1):
        duty1 = 0.0
    i0, i1 = currents(state, constants, network, dt, duty0, duty1)
    over0 = duty0 != 0.0 and abs(i0) > state[LIMIT]
    over1 = duty1 != 0.0 and abs(i1) > state[b + LIMIT]
    if over0 or over1:
        for _ in range(3):
            if over0:
                i0 = clamped(i0, state[LIMIT])
            if over1:
                i1 = clamped(i1, state[b + LIMIT])
            v0, v1 = bus(network, duty0, duty1, i0, i1)
            if over0:
                duty0 = throttled(state, constants, network, dt, 0, v0, i0)
            if over1:
                duty1 = throttled(state, constants, network, dt, 1, v1, i1)
            i0, i1 = currents(state, constants, network, dt, duty0, duty1)
        if over0 and duty0 != 0.0:
            i0 = clamped(i0, state[LIMIT])
        if over1 and duty1 != 0.0:
            i1 = clamped(i1, state[b + LIMIT])
    state[EFFECTIVE] = duty0
    state[b + EFFECTIVE] = duty1
    state[CURRENT] = 0.0 if abs(i0) < TINY else i0
    state[b + CURRENT] = 0.0 if abs(i1) < TINY else i1
    state[MOTOR_TORQUE] = constants[MOTOR_CONSTANT] * state[CURRENT]
    state[b + MOTOR_TORQUE] = constants[LEAF_CONSTANTS + MOTOR_CONSTANT] * state[b + CURRENT]
    if constants[MAINS] != 0.0:
        induce(state, constants, network, 0)
    if constants[LEAF_CONSTANTS + MAINS] != 0.0:
        induce(state, constants, network, 1)


COMPILED = (
    bus,
    supply,
    is_whole,
    is_switched,
    half_way,
    currents,
    throttled,
    clamped,
    wind_on,
)

HOT = (
    is_whole,
    is_switched,
    half_way,
    currents,
    wind_on,
)
"""What every step goes through."""

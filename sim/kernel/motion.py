"""Two masses per leaf: the rotor behind its screw and the leaf on its hinge, with the ram's spring between them.

Semi-implicit Euler: forces from the places before the step, places from the speeds after it. Dry friction is
exact: what it can stop within the step, it stops, and holds.
"""

from __future__ import annotations

import math

from sim.kernel.contact import press_obstacles, press_stops
from sim.kernel.layout import (
    ANGLE,
    BRACKET_ALONG,
    BRACKET_OFFSET,
    COUNTED,
    CURRENT,
    ENGAGED,
    HINGE_FRICTION,
    HINGE_VISCOUS,
    INERTIA,
    LEAF_CONSTANTS,
    LEAF_STATE,
    LOAD_FRICTION,
    MOTOR_CONSTANT,
    NO_LOAD_TORQUE,
    OBSTACLES,
    POST_ACROSS,
    POST_INSIDE,
    PUSH,
    RAM_DAMPING,
    RAM_FORCE,
    RAM_OFFSET,
    RAM_STIFFNESS,
    ROTOR,
    SCREW,
    SCREW_LEAST,
    SCREW_MOST,
    SHUT_LENGTH,
    SPEED,
    TILT_TORQUE,
    TURNED,
    TURNING,
    WIND_ACROSS,
    WIND_ALONG,
    WIND_FACTOR,
    WIRED,
    Floats,
)

ROTOR_STILL = 1e-6
"""A rotor slower than this [rad/s] stands: a stall is approached for ever, and a gate that never rests can't be
skipped. It holds back torques below 1e-3 rad/s² times the rotor's inertia, a millionth of its own friction."""

LEAF_STILL = 1e-9
"""A leaf slower than this [rad/s] stands."""


def rubbed(speed: float, most: float, still: float) -> float:
    """`speed` after dry friction that can take away `most` of it: exactly nothing if that is enough."""
    if speed > most:
        slower = speed - most
    elif speed < -most:
        slower = speed + most
    else:
        return 0.0
    return 0.0 if abs(slower) < still else slower


def ram_travel(constants: Floats, leaf: int, sin: float, cos: float) -> tuple[float, float]:
    """How far the ram has run in since the leaf was shut, d(0) − d(θ) [m], and its lever −dd/dθ [m] (facts 6.4)."""
    base = leaf * LEAF_CONSTANTS
    along, offset = constants[base + BRACKET_ALONG], constants[base + BRACKET_OFFSET]
    inwards = along * sin + offset * cos
    outwards = along * cos - offset * sin
    x = outwards + constants[base + POST_ACROSS]
    y = inwards - constants[base + POST_INSIDE]
    length = math.sqrt(x * x + y * y)
    return constants[base + SHUT_LENGTH] - length, (x * inwards - y * outwards) / length


def pull_ram(state: Floats, constants: Floats, leaf: int, sin: float, cos: float) -> float:
    """Torque of the ram on its leaf [N·m]; notes its force: a spring between the screw's travel and the ram's."""
    at = leaf * LEAF_STATE
    if state[at + ENGAGED] == 0.0:
        state[at + RAM_FORCE] = 0.0
        return 0.0
    base = leaf * LEAF_CONSTANTS
    travel, lever = ram_travel(constants, leaf, sin, cos)
    screw = constants[base + SCREW]
    stretch = screw * state[at + TURNED] - state[at + RAM_OFFSET] - travel
    rate = screw * state[at + TURNING] - lever * state[at + SPEED]
    force = constants[base + RAM_STIFFNESS] * stretch + constants[base + RAM_DAMPING] * rate
    state[at + RAM_FORCE] = force
    return float(force * lever)


def turn_rotor(state: Floats, constants: Floats, leaf: int, dt: float) -> None:
    """Step the rotor by `dt` [s]: motor torque against the ram's force and the friction that this force makes.

    Friction of the train grows with its load, as a share 1/η − 1 of the load's torque: driving costs 1/η, and with
    η below one half no load can turn it back (the screw's own law, facts 5.3).
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    kick = dt / constants[base + ROTOR]
    load = constants[base + SCREW] * state[at + RAM_FORCE]
    friction = constants[base + NO_LOAD_TORQUE] + constants[base + LOAD_FRICTION] * abs(load)
    torque = constants[base + MOTOR_CONSTANT] * state[at + CURRENT] - load
    speed = rubbed(state[at + TURNING] + kick * torque, kick * friction, ROTOR_STILL)
    turned = state[at + TURNED] + dt * speed
    if state[at + ENGAGED] != 0.0:
        travel = constants[base + SCREW] * turned - state[at + RAM_OFFSET]
        if travel < constants[base + SCREW_LEAST] and speed < 0.0:
            speed = 0.0
        if travel > constants[base + SCREW_MOST] and speed > 0.0:
            speed = 0.0
    state[at + TURNING] = speed
    state[at + TURNED] = state[at + TURNED] + dt * speed
    state[at + COUNTED] = state[at + COUNTED] + dt * speed * state[at + WIRED]


def swing_leaf(state: Floats, constants: Floats, leaf: int, dt: float, sin: float, cos: float, torque: float) -> None:
    """Step the leaf by `dt` [s] under `torque` [N·m] of ram and strip, a hand, its lean, the wind and contacts."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    torque = torque + state[at + PUSH] - constants[base + TILT_TORQUE] * sin
    factor = constants[base + WIND_FACTOR]
    if factor != 0.0:
        normal = constants[base + WIND_ACROSS] * cos - constants[base + WIND_ALONG] * sin
        torque = torque + factor * normal * abs(normal)
    kick = dt / constants[base + INERTIA]
    speed = (state[at + SPEED] + kick * torque) / (1.0 + kick * constants[base + HINGE_VISCOUS])
    speed = press_stops(state, constants, leaf, speed, dt)
    if state[at + OBSTACLES] != 0.0:
        speed = press_obstacles(state, constants, leaf, speed, dt)
    speed = rubbed(speed, kick * constants[base + HINGE_FRICTION], LEAF_STILL)
    state[at + SPEED] = speed
    state[at + ANGLE] = state[at + ANGLE] + dt * speed


COMPILED = (rubbed, ram_travel, pull_ram, turn_rotor, swing_leaf)

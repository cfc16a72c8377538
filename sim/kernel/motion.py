"""Two masses per leaf: the rotor behind its train and the leaf on its hinge, with the train's spring between them.

Semi-implicit Euler: forces from the places before the step, places from the speeds after it. Dry friction is
exact: what it can stop within the step, it stops, and holds.
"""

from __future__ import annotations

from sim.kernel.contact import press_ground, press_obstacles, press_stops
from sim.kernel.layout import (
    ANGLE,
    BIND,
    BIND_AT,
    BIND_REACH,
    COUNT_GAIN,
    COUNT_NOISE,
    COUNTED,
    DAMPING_OUT,
    ENGAGED,
    FORCE_OUT,
    GROUND_COUNT,
    HEAT,
    HINGE_FRICTION,
    HINGE_VISCOUS,
    INERTIA,
    KEYED,
    LEAF_CONSTANTS,
    LEAF_STATE,
    LEAK,
    LOAD,
    LOAD_FRICTION,
    MOTOR_TORQUE,
    NO_LOAD_TORQUE,
    OBSTACLES,
    OFFSET,
    OUTPUT_LEAST,
    OUTPUT_MOST,
    PLAY,
    PUSH,
    RATIO,
    RISE_TORQUE,
    ROTOR,
    ROTOR_DRAG,
    RUBBING,
    SLIP_LIMIT,
    SPEED,
    STIFFNESS_OUT,
    TILT_ACROSS,
    TILT_ALONG,
    TRAIN_DRAG,
    TURNED,
    TURNING,
    WIND,
    WIND_ACROSS,
    WIND_ALONG,
    WIND_FACTOR,
    WIRED,
    Floats,
)
from sim.kernel.linkage import output

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


def pull_train(state: Floats, constants: Floats, leaf: int, dt: float, sin: float, cos: float) -> float:
    """Torque of the drive on its leaf [N·m]; notes what the train gives out.

    A spring between the motor's side and the linkage, slack within its play. A limiter or relief valve gives way at
    its limit, and oil leaks with the force: both move the place at which the spring is slack.

    Friction of the train grows with its load, as a share 1/η − 1 of the load's torque: driving costs 1/η, and with
    η below one half no load can turn it back (the screw's own law, facts 5.3). Gear and seals drag whatever the load;
    a bent rod binds in its gland besides, most where its bow passes.
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    if state[at + ENGAGED] == 0.0 or state[at + KEYED] == 0.0:
        state[at + FORCE_OUT] = 0.0
        state[at + LOAD] = 0.0
        state[at + RUBBING] = constants[base + NO_LOAD_TORQUE]
        return 0.0
    there, lever = output(constants, leaf, state[at + ANGLE], sin, cos)
    ratio = constants[base + RATIO]
    stretch = ratio * state[at + TURNED] - state[at + OFFSET] - there
    rate = ratio * state[at + TURNING] - lever * state[at + SPEED]
    slack = 0.5 * constants[base + PLAY]
    stiffness = constants[base + STIFFNESS_OUT]
    force = 0.0
    if slack == 0.0:
        force = stiffness * stretch + constants[base + DAMPING_OUT] * rate
    elif stretch > slack:
        stretch = stretch - slack
        force = stiffness * stretch + constants[base + DAMPING_OUT] * rate
        if force < 0.0:
            force = 0.0
    elif stretch < -slack:
        stretch = stretch + slack
        force = stiffness * stretch + constants[base + DAMPING_OUT] * rate
        if force > 0.0:
            force = 0.0
    limit = constants[base + SLIP_LIMIT]
    if limit > 0.0:
        kept = limit / stiffness
        if force > limit:
            force = limit
            if stretch > kept:
                state[at + OFFSET] = state[at + OFFSET] + (stretch - kept)
        elif force < -limit:
            force = -limit
            if stretch < -kept:
                state[at + OFFSET] = state[at + OFFSET] + (stretch + kept)
    if constants[base + LEAK] != 0.0:  # by the force after it, so that a great leak can't push back
        give = dt * constants[base + LEAK]
        state[at + OFFSET] = state[at + OFFSET] + give * force / (1.0 + give * stiffness)
    load = ratio * force
    state[at + FORCE_OUT] = force
    state[at + LOAD] = load
    state[at + RUBBING] = (
        constants[base + NO_LOAD_TORQUE] + constants[base + TRAIN_DRAG] + constants[base + LOAD_FRICTION] * abs(load)
    )
    if constants[base + BIND] != 0.0:
        off = abs(there - constants[base + BIND_AT]) / constants[base + BIND_REACH]
        if off < 1.0:
            state[at + RUBBING] = state[at + RUBBING] + constants[base + BIND] * (1.0 - off)
    return float(force * lever)


def turn_rotor(state: Floats, constants: Floats, leaf: int, dt: float, wander: float) -> None:
    """Step the rotor by `dt` [s]: motor torque against the train's load and friction.

    `wander` is by how much a noisy encoder now counts too fast.
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    kick = dt / constants[base + ROTOR]
    drag = constants[base + ROTOR_DRAG]
    ease = 1.0 / (1.0 + kick * drag)
    speed = state[at + TURNING] + kick * (state[at + MOTOR_TORQUE] - state[at + LOAD])
    speed = rubbed(speed, kick * state[at + RUBBING], ROTOR_STILL) * ease
    if speed != 0.0 and state[at + ENGAGED] != 0.0 and state[at + KEYED] != 0.0:
        there = constants[base + RATIO] * (state[at + TURNED] + dt * speed) - state[at + OFFSET]
        if there < constants[base + OUTPUT_LEAST] and speed < 0.0:
            speed = 0.0
        if there > constants[base + OUTPUT_MOST] and speed > 0.0:
            speed = 0.0
    state[at + TURNING] = speed
    state[at + TURNED] = state[at + TURNED] + dt * speed
    if drag != 0.0:  # shorted turns turn what they brake into heat
        state[at + HEAT] = state[at + HEAT] + dt * drag * speed * speed
    seen = constants[base + COUNT_GAIN] + constants[base + COUNT_NOISE] * wander
    state[at + COUNTED] = state[at + COUNTED] + dt * speed * state[at + WIRED] * seen


def blown(state: Floats, constants: Floats, leaf: int, sin: float, cos: float) -> float:
    """Torque of the wind on a leaf [N·m], with the square of the speed across it, to the side it blows."""
    base = leaf * LEAF_CONSTANTS
    normal = state[WIND] * (constants[base + WIND_ACROSS] * cos - constants[base + WIND_ALONG] * sin)
    return float(constants[base + WIND_FACTOR] * normal * abs(normal))


def swing_leaf(state: Floats, constants: Floats, leaf: int, dt: float, sin: float, cos: float, torque: float) -> None:
    """Step the leaf by `dt` [s] under `torque` [N·m] of drive and strip, a hand, its lean, the wind and contacts."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    hung = state[at + PUSH] - constants[base + RISE_TORQUE]  # the drive is added last: it is what a step waits for
    hung = hung + (constants[base + TILT_ACROSS] * cos - constants[base + TILT_ALONG] * sin)
    hung = hung + blown(state, constants, leaf, sin, cos)
    friction = constants[base + HINGE_FRICTION]
    if constants[base + GROUND_COUNT] != 0.0:
        climb, rub = press_ground(state, constants, leaf)
        hung = hung + climb
        friction = friction + rub
    torque = hung + torque
    kick = dt / constants[base + INERTIA]
    ease = 1.0 / (1.0 + kick * constants[base + HINGE_VISCOUS])
    speed = (state[at + SPEED] + kick * torque) * ease
    speed = press_stops(state, constants, leaf, speed, dt)
    if state[at + OBSTACLES] != 0.0:
        speed = press_obstacles(state, constants, leaf, speed, dt)
    speed = rubbed(speed, kick * friction, LEAF_STILL)
    state[at + SPEED] = speed
    state[at + ANGLE] = state[at + ANGLE] + dt * speed


COMPILED = (rubbed, pull_train, turn_rotor, blown, swing_leaf)

HOT = (
    rubbed,
    pull_train,
    turn_rotor,
    blown,
    swing_leaf,
)
"""What every step goes through."""

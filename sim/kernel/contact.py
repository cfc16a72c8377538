"""What a leaf runs into: stops, obstacles with or without the soft edge between, the ground, the other's strip.

A contact is a spring with a damper that pushes and never pulls. The spring acts on the depth before the step, the
damper on the speed after it, so that neither a stiff spring nor a strong damper runs away.
"""

from __future__ import annotations

from sim.kernel.layout import (
    ANGLE,
    AT_ANGLE,
    AT_EDGE,
    AT_RADIUS,
    CLOSED_STOP,
    CONTACT,
    DAMPING,
    EDGE_FORCE,
    EDGE_PRESSED,
    EDGE_STIFFNESS,
    EDGE_TRAVEL,
    EDGE_TRIP,
    FIRST_OBSTACLE,
    FIRST_RIDGE,
    FORCE,
    GAUGE,
    GAUGE_RAW,
    GROUND_COUNT,
    GROUND_FORCE,
    GROUND_LIFT,
    INERTIA,
    LAP_DAMPING,
    LAP_EASE,
    LAP_FORCE,
    LAP_FREE_LEAF,
    LAP_OVERLAP,
    LAP_PLAY,
    LAP_SIDE,
    LAP_STIFFNESS,
    LAP_THICKNESS,
    LEAF_CONSTANTS,
    LEAF_STATE,
    OBSTACLE_SIZE,
    OBSTACLE_SLOTS,
    OBSTACLES,
    OPEN_STOP,
    OPENS_INTO,
    PEAK,
    RIDGE_AT,
    RIDGE_CLEAR,
    RIDGE_HEIGHT,
    RIDGE_RADIUS,
    RIDGE_REACH,
    RIDGE_SIZE,
    SPEED,
    STEP_S,
    STIFFNESS,
    STOP_DAMPING,
    STOP_STIFFNESS,
    STOP_TORQUE,
    TAKEN,
    TOUCHED,
    WIDTH,
    Floats,
)

RELEASE_GAP = 0.002
"""A touched obstacle counts as left only when the leaf is this far off [m]: no chatter. Our choice."""

EDGE_RELEASE = 0.5
"""A pressed edge lets go at this share of its trip force: no chatter. Our choice."""

LAP_RELEASE = 0.002
"""Tips must clear the strip by this before the lap is forgotten [m]. Our choice."""

LAP_SLOW = 0.002
"""Leaves that meet at the strip slower than this [m/s] press by a few newtons and need no finer steps: what settles
there after shutting does so for seconds. Our choice."""

SOFT = 0.05
"""A contact whose own oscillation turns by less than this in a step [rad] needs no finer steps. Our choice."""


HINGE_GIVE = 100_000.0
"""How stiffly the hinges press a lifted leaf back down [N/m]. Engineering value, no source."""

GROUND_RUB = 0.6
"""Friction of steel on ground or ice-bound gravel. Engineering value, no source."""


def through_edge(depth: float, stiffness: float, edge: float, travel: float) -> float:
    """Force [N] of a spring behind a soft edge pressed together by `depth` [m]; past its travel the edge is hard."""
    series: float = stiffness * edge / (stiffness + edge)
    bottom: float = edge * travel
    force: float = series * depth
    if force <= bottom:
        return force
    hard: float = bottom + stiffness * (depth - bottom / series)
    return hard


def press_stops(state: Floats, constants: Floats, leaf: int, speed: float, dt: float) -> float:
    """Speed [rad/s] after the stops pushed for `dt` [s]; notes their torque.

    The damper acts on the mean of the speeds before and after, a strong one more on the speed after. A speed stands
    for the middle of its step, so a stop met a part `gone` of a step ago has pushed for that part and a half.
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    pressed = state[at + STOP_TORQUE] != 0.0
    state[at + STOP_TORQUE] = 0.0
    sign = 1.0
    depth = state[at + ANGLE] - constants[base + OPEN_STOP]
    if depth <= 0.0:
        sign = -1.0
        depth = constants[base + CLOSED_STOP] - state[at + ANGLE]
        if depth <= 0.0:
            return speed
    damping = constants[base + STOP_DAMPING]
    inertia = constants[base + INERTIA]
    pushed = dt
    if not pressed and sign * speed > 0.0:
        gone = depth / (sign * speed * dt)
        if gone < 2.0:  # else it was found in there
            pushed = dt * (0.5 + gone)
            depth = 0.5 * sign * speed * pushed
    strength = pushed * damping / inertia
    share = 0.5 if strength <= 2.0 else 1.0 - 1.0 / strength
    mean = sign * (share * speed + (1.0 - share) * state[at + SPEED])
    torque = (constants[base + STOP_STIFFNESS] * depth + damping * mean) / (1.0 + share * strength)
    if torque <= 0.0:
        return speed
    state[at + STOP_TORQUE] = -sign * torque
    after: float = speed - sign * pushed * torque / inertia
    return after


def press_obstacles(state: Floats, constants: Floats, leaf: int, speed: float, dt: float) -> float:
    """Speed [rad/s] after the obstacles pushed for `dt` [s]; notes each force, their sum and the soft edge's."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    inertia = constants[base + INERTIA]
    edge = constants[base + EDGE_STIFFNESS]
    total = 0.0
    on_edge = 0.0
    for slot in range(OBSTACLE_SLOTS):
        o = at + FIRST_OBSTACLE + slot * OBSTACLE_SIZE
        if state[o + TAKEN] == 0.0:
            continue
        sign = 1.0 if state[o + OPENS_INTO] != 0.0 else -1.0
        radius = state[o + AT_RADIUS]
        depth = sign * radius * (state[at + ANGLE] - state[o + AT_ANGLE])
        force = 0.0
        if depth > 0.0:
            spring = state[o + STIFFNESS] * depth
            damping = state[o + DAMPING]
            if state[o + AT_EDGE] != 0.0 and edge > 0.0:
                softer = through_edge(depth, state[o + STIFFNESS], edge, constants[base + EDGE_TRAVEL])
                damping = damping * softer / spring
                spring = softer
            force = (spring + damping * sign * radius * speed) / (1.0 + dt * damping * radius * radius / inertia)
            if force < 0.0:
                force = 0.0
            speed = speed - sign * dt * force * radius / inertia
        state[o + FORCE] = force
        if force > state[o + PEAK]:
            state[o + PEAK] = force
        total = total + force
        if state[o + AT_EDGE] != 0.0 and edge > 0.0:
            on_edge = on_edge + force
        if state[o + GAUGE] != 0.0:
            state[GAUGE_RAW] = force
    state[at + CONTACT] = total
    state[at + EDGE_FORCE] = on_edge
    return speed


def press_ground(state: Floats, constants: Floats, leaf: int) -> tuple[float, float]:
    """(torque of climbing or running down [N·m], friction of rubbing [N·m]) of the ground; notes its force.

    A ridge is a roof over the leaf angle; a leaf on it is lifted in its hinges, which push back like a spring. It
    rests on the ridge that lifts it most.
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    angle = state[at + ANGLE]
    most = 0.0
    climb = 0.0
    rub = 0.0
    for ridge in range(int(constants[base + GROUND_COUNT])):
        r = base + FIRST_RIDGE + ridge * RIDGE_SIZE
        slope = constants[r + RIDGE_HEIGHT] / constants[r + RIDGE_REACH]
        off = angle - constants[r + RIDGE_AT]
        lift = constants[r + RIDGE_HEIGHT] - slope * abs(off) - constants[r + RIDGE_CLEAR]
        lift = lift - constants[base + GROUND_LIFT] * angle
        if lift <= most or abs(off) > constants[r + RIDGE_REACH]:
            continue
        most = lift
        rising = -slope if off > 0.0 else slope
        climb = -HINGE_GIVE * lift * (rising - constants[base + GROUND_LIFT])
        rub = GROUND_RUB * HINGE_GIVE * lift * constants[r + RIDGE_RADIUS]
    state[at + GROUND_FORCE] = HINGE_GIVE * most
    return climb, rub


def lap_depth(state: Floats, constants: Floats, sin0: float, sin1: float) -> float:
    """How deep the leaves press on each other at the strip [m], with the play taken up; negative when apart.

    In order, the covered leaf may not be more open than the free leaf. In the wrong order it is the other side of
    the strip that they meet with.
    """
    y0 = constants[WIDTH] * sin0
    y1 = constants[LEAF_CONSTANTS + WIDTH] * sin1
    ahead = y0 - y1 if constants[LAP_FREE_LEAF] == 1.0 else y1 - y0
    if state[LAP_SIDE] < 0.0:
        return float(constants[LAP_THICKNESS] - ahead - state[LAP_EASE])
    return float(ahead - constants[LAP_PLAY] - state[LAP_EASE])


def press_lap(
    state: Floats, constants: Floats, dt: float, sin0: float, cos0: float, sin1: float, cos1: float
) -> tuple[float, float]:
    """Torques [N·m] of the strip on both leaves; notes its force."""
    state[LAP_FORCE] = 0.0
    if state[LAP_SIDE] == 0.0:
        return 0.0, 0.0
    depth = lap_depth(state, constants, sin0, sin1)
    if depth <= 0.0:
        return 0.0, 0.0
    arm0 = constants[WIDTH] * cos0
    arm1 = constants[LEAF_CONSTANTS + WIDTH] * cos1
    sign = -1.0 if constants[LAP_FREE_LEAF] == 1.0 else 1.0
    if state[LAP_SIDE] < 0.0:
        sign = -sign
    nearing = sign * (arm1 * state[LEAF_STATE + SPEED] - arm0 * state[SPEED])
    damping = constants[LAP_DAMPING]
    loose = arm0 * arm0 / constants[INERTIA] + arm1 * arm1 / constants[LEAF_CONSTANTS + INERTIA]
    force = (constants[LAP_STIFFNESS] * depth + damping * nearing) / (1.0 + dt * damping * loose)
    if force <= 0.0:
        return 0.0, 0.0
    state[LAP_FORCE] = force
    return sign * force * arm0, -sign * force * arm1


def note_lap(state: Floats, constants: Floats, sin0: float, cos0: float, sin1: float, cos1: float) -> None:
    """Whether the tips lie over each other now, and in which order they came there.

    Leaves that come together with their tips level meet edge on; the depth of that meeting makes no force, else
    the strip would throw them apart with energy from nowhere.
    """
    back = constants[WIDTH] * (1.0 - cos0) + constants[LEAF_CONSTANTS + WIDTH] * (1.0 - cos1)
    if state[LAP_SIDE] != 0.0:
        if back > constants[LAP_OVERLAP] + LAP_RELEASE:
            state[LAP_SIDE] = 0.0
            state[LAP_EASE] = 0.0
        elif state[LAP_EASE] > 0.0:
            depth = lap_depth(state, constants, sin0, sin1) + state[LAP_EASE]
            state[LAP_EASE] = depth if 0.0 < depth < state[LAP_EASE] else (0.0 if depth <= 0.0 else state[LAP_EASE])
        return
    if back >= constants[LAP_OVERLAP]:
        return
    y0 = constants[WIDTH] * sin0
    y1 = constants[LEAF_CONSTANTS + WIDTH] * sin1
    ahead = y0 - y1 if constants[LAP_FREE_LEAF] == 1.0 else y1 - y0
    state[LAP_SIDE] = -1.0 if ahead > 0.5 * constants[LAP_THICKNESS] else 1.0
    depth = lap_depth(state, constants, sin0, sin1)
    state[LAP_EASE] = depth if depth > 0.0 else 0.0


def is_stiff(stiffness: float, inertia: float) -> bool:
    """Whether a contact of this stiffness about the hinge [N·m/rad] needs finer steps."""
    return bool(stiffness * STEP_S * STEP_S > SOFT * SOFT * inertia)


def is_near(state: Floats, constants: Floats, leaf: int) -> bool:
    """Whether a moving leaf touches a stiff stop or obstacle, or may within this step."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    speed = abs(state[at + SPEED])
    if speed == 0.0:
        return False
    angle = state[at + ANGLE]
    reach = 2.0 * STEP_S * speed + 1e-4
    inertia = constants[base + INERTIA]
    if is_stiff(constants[base + STOP_STIFFNESS], inertia) and (
        angle + reach > constants[base + OPEN_STOP] or angle - reach < constants[base + CLOSED_STOP]
    ):
        return True
    if state[at + OBSTACLES] == 0.0:
        return False
    for slot in range(OBSTACLE_SLOTS):
        o = at + FIRST_OBSTACLE + slot * OBSTACLE_SIZE
        if state[o + TAKEN] == 0.0:
            continue
        sign = 1.0 if state[o + OPENS_INTO] != 0.0 else -1.0
        if sign * (angle - state[o + AT_ANGLE]) + reach > 0.0:
            return True
    return False


def is_lap_out_of_reach(state: Floats, constants: Floats) -> bool:
    """Whether the tips are clear of each other beyond doubt, without working out a cosine: 1 − cos x ≥ 0.3·x² up to
    2.4 rad, which is more than any stop allows."""
    back = constants[WIDTH] * state[ANGLE] * state[ANGLE]
    back = back + constants[LEAF_CONSTANTS + WIDTH] * state[LEAF_STATE + ANGLE] * state[LEAF_STATE + ANGLE]
    return bool(state[LAP_SIDE] == 0.0 and 0.3 * back > constants[LAP_OVERLAP])


def is_lap_near(state: Floats, constants: Floats, sin0: float, sin1: float) -> bool:
    """Whether moving leaves press on each other at the strip, or may within this step."""
    fast0 = abs(state[SPEED]) * constants[WIDTH]
    fast1 = abs(state[LEAF_STATE + SPEED]) * constants[LEAF_CONSTANTS + WIDTH]
    if state[LAP_SIDE] == 0.0 or fast0 + fast1 < LAP_SLOW:
        return False
    return bool(lap_depth(state, constants, sin0, sin1) + 2.0 * STEP_S * (fast0 + fast1) > 0.0)


def note_contacts(state: Floats, constants: Floats, leaf: int) -> int:
    """What was touched or left since the last step, as bits.

    From 1: slot touched (4 bits), slot left (4 bits), edge pressed, edge let go.
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    events = 0
    if state[at + OBSTACLES] != 0.0:
        for slot in range(OBSTACLE_SLOTS):
            o = at + FIRST_OBSTACLE + slot * OBSTACLE_SIZE
            if state[o + TAKEN] == 0.0:
                continue
            if state[o + TOUCHED] == 0.0:
                if state[o + FORCE] > 0.0:
                    state[o + TOUCHED] = 1.0
                    events = events | (1 << slot)
            else:
                sign = 1.0 if state[o + OPENS_INTO] != 0.0 else -1.0
                gap = sign * state[o + AT_RADIUS] * (state[o + AT_ANGLE] - state[at + ANGLE])
                if gap > RELEASE_GAP:
                    state[o + TOUCHED] = 0.0
                    events = events | (1 << (OBSTACLE_SLOTS + slot))
    trip = constants[base + EDGE_TRIP]
    if state[at + EDGE_PRESSED] == 0.0:
        if trip > 0.0 and state[at + EDGE_FORCE] >= trip:
            state[at + EDGE_PRESSED] = 1.0
            events = events | (1 << (2 * OBSTACLE_SLOTS))
    elif state[at + EDGE_FORCE] < EDGE_RELEASE * trip or trip == 0.0:
        state[at + EDGE_PRESSED] = 0.0
        events = events | (1 << (2 * OBSTACLE_SLOTS + 1))
    return events


EVENT_BITS = 2 * OBSTACLE_SLOTS + 2
"""Bits of one leaf; the inactive leaf's follow the active leaf's."""

COMPILED = (
    through_edge,
    press_stops,
    press_obstacles,
    press_ground,
    lap_depth,
    press_lap,
    note_lap,
    is_stiff,
    is_near,
    is_lap_out_of_reach,
    is_lap_near,
    note_contacts,
)

HOT = (
    press_stops,
    press_lap,
    is_stiff,
    is_near,
    is_lap_out_of_reach,
)
"""What every step goes through."""

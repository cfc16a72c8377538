"""A mains induction motor with a run capacitor: torque and current follow its slip; no speed control is in it.

No alternating current is stepped: volts and amperes are effective values.
"""

from __future__ import annotations

import math

from sim.kernel.layout import (
    BACKWARD,
    CURRENT,
    CUT_OUT,
    DUTY,
    FORWARD,
    IDLE_A,
    LEAF_CONSTANTS,
    LEAF_STATE,
    MAINS_V,
    MOTOR_TORQUE,
    PULL_OUT,
    PULL_OUT_SLIP,
    RATED_V,
    STALL_A,
    SYNCHRONOUS,
    TRANSFER,
    TURNING,
    WHOLE_WINDING,
    Floats,
)


def pull_out_share(slip: float, at_most: float) -> float:
    """Torque of a rotating field on a squirrel cage as a share of its greatest: 2/(s/s_k + s_k/s) (Kloss)."""
    return 2.0 * slip * at_most / (slip * slip + at_most * at_most)


def induce(state: Floats, constants: Floats, network: Floats, leaf: int) -> None:
    """Torque and current of a mains motor with a run capacitor, switched one way or the other; there is no speed
    control and no current limit in it.

    A capacitor that is not the right one leaves a field that turns backwards: two fields, each with its own slip.
    The current is an effective value, signed by the way it is switched.
    """
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    volts = network[MAINS_V + leaf]
    way = 0.0
    if state[at + DUTY] > 0.0:
        way = network[TRANSFER + leaf]
    elif state[at + DUTY] < 0.0:
        way = -network[TRANSFER + leaf]
    fed = volts > 0.0 and constants[base + WHOLE_WINDING] != 0.0 and state[at + CUT_OUT] == 0.0
    if way == 0.0 or not fed:
        state[at + CURRENT] = 0.0
        state[at + MOTOR_TORQUE] = 0.0
        return
    share = volts / constants[base + RATED_V]
    slip = 1.0 - way * state[at + TURNING] / constants[base + SYNCHRONOUS]
    most = constants[base + PULL_OUT_SLIP]
    torque = constants[base + FORWARD] * pull_out_share(slip, most)
    torque = torque - constants[base + BACKWARD] * pull_out_share(2.0 - slip, most)
    state[at + MOTOR_TORQUE] = way * share * share * constants[base + PULL_OUT] * torque
    loaded = abs(slip) * math.sqrt((1.0 + most * most) / (slip * slip + most * most))
    idle = constants[base + IDLE_A]
    state[at + CURRENT] = way * share * (idle + (constants[base + STALL_A] - idle) * loaded)


COMPILED = (pull_out_share, induce)

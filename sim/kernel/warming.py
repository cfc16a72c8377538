"""How warm the motors are: winding and case as two nodes, brought up to date at whole seconds.

Between whole seconds only the heat is added up, so that a rest of hours is skipped to the same bits as by stepping.
"""

from __future__ import annotations

from sim.kernel.layout import (
    AIR_C,
    CASE_C,
    CURRENT,
    CUT_OUT,
    CUT_OUT_CLOSES_C,
    CUT_OUT_OPENS_C,
    HEAT,
    HEATING,
    LEAF_CONSTANTS,
    LEAF_STATE,
    OHM,
    OHM_PER_KELVIN,
    RESISTANCE,
    STEP_S,
    WARM_US,
    WARMING,
    WINDING_C,
    Floats,
)

LEVEL = 1e-9
"""A node this near to the air [K] has its temperature: a decay that never ends would run into the least numbers."""


def heat_up(state: Floats, leaf: int) -> None:
    """Add what the winding turned into heat in one step."""
    at = leaf * LEAF_STATE
    current = state[at + CURRENT]
    if current != 0.0:
        state[at + HEAT] = state[at + HEAT] + current * current * state[at + OHM] * STEP_S


def warm(state: Floats, constants: Floats, leaf: int) -> int:
    """Bring one motor's temperatures up to a whole second; 1 if its cut-out opened now, 2 if it closed, else 0."""
    at = leaf * LEAF_STATE
    base = leaf * LEAF_CONSTANTS
    air = constants[base + AIR_C]
    winding = state[at + WINDING_C] - air
    case = state[at + CASE_C] - air
    heat = state[at + HEAT]
    if winding != 0.0 or case != 0.0 or heat != 0.0:
        after = constants[base + WARMING] * winding + constants[base + WARMING + 1] * case
        after = after + constants[base + HEATING] * heat
        case = constants[base + WARMING + 2] * winding + constants[base + WARMING + 3] * case
        case = case + constants[base + HEATING + 1] * heat
        state[at + WINDING_C] = air if abs(after) < LEVEL else air + after
        state[at + CASE_C] = air if abs(case) < LEVEL else air + case
        state[at + HEAT] = 0.0
    warmth = state[at + WINDING_C]
    state[at + OHM] = constants[base + RESISTANCE] * (1.0 + constants[base + OHM_PER_KELVIN] * (warmth - 20.0))
    if state[at + CUT_OUT] == 0.0 and warmth >= constants[base + CUT_OUT_OPENS_C]:
        state[at + CUT_OUT] = 1.0
        return 1
    if state[at + CUT_OUT] != 0.0 and warmth <= constants[base + CUT_OUT_CLOSES_C]:
        state[at + CUT_OUT] = 0.0
        return 2
    return 0


def warm_both(state: Floats, constants: Floats) -> int:
    """Both motors; 1 and 2 for the active leaf's cut-out, 4 and 8 for the inactive one's."""
    return warm(state, constants, 0) | (warm(state, constants, 1) << 2)


def next_warming(time: int) -> int:
    """The first whole second after `time` [µs]."""
    return (time // WARM_US + 1) * WARM_US


COMPILED = (heat_up, warm, warm_both, next_warming)

HOT = (heat_up,)
"""What every step goes through."""

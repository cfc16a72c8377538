"""What is between a train's output and the leaf: a ram, an arm of two links, or the hinge pin itself.

Each gives the train's output for a leaf angle, nothing with the leaf shut, and the lever: output per leaf angle,
which is also leaf torque per force (or torque) of the output (facts 6.4, 6.5).
"""

from __future__ import annotations

import math

from sim.kernel.layout import (
    ARM,
    BRACKET_ALONG,
    BRACKET_OFFSET,
    CRANK,
    CRANK_MIDDLE,
    ELBOW,
    LEAF_CONSTANTS,
    LINK,
    LINKAGE,
    PIN,
    POST_X,
    POST_Y,
    REACH_LEAST,
    REACH_MOST,
    RUN_SIGN,
    SHUT_OUTPUT,
    Floats,
)
from sim.kernel.trigonometry import direction, sin_cos

STRETCHED = 1e-6
"""Below this sine between its links [-] an arm is stretched out: a dead point, where it holds and turns nothing."""


def ram_output(constants: Floats, leaf: int, sin: float, cos: float) -> tuple[float, float]:
    """How far the ram has run in (or out, where that opens) since the leaf was shut [m], and its lever [m]."""
    base = leaf * LEAF_CONSTANTS
    along, offset = constants[base + BRACKET_ALONG], constants[base + BRACKET_OFFSET]
    inwards = along * sin + offset * cos
    outwards = along * cos - offset * sin
    x = outwards - constants[base + POST_X]
    y = inwards - constants[base + POST_Y]
    square = x * x + y * y
    length = math.sqrt(square)  # beside the quotient, not before it: a step waits for both
    sign = constants[base + RUN_SIGN]
    return sign * (constants[base + SHUT_OUTPUT] - length), sign * (x * inwards - y * outwards) / square * length


def arm_output(constants: Floats, leaf: int, angle: float, sin: float, cos: float) -> tuple[float, float]:
    """How far the crank has turned since the leaf was shut [rad], and its lever, crank angle per leaf angle.

    The cosine rule gives the crank's direction; the lever follows from the link's length, which stays: its two ends
    have the same speed along it. Beyond its reach, where the lever would grow without end, the arm goes on with the
    lever it has there: the output stays one smooth function, so that a spring behind it makes no energy.
    """
    base = leaf * LEAF_CONSTANTS
    beyond = 0.0
    if angle < constants[base + REACH_LEAST]:
        beyond = angle - constants[base + REACH_LEAST]
        sin, cos = sin_cos(constants[base + REACH_LEAST])
    elif angle > constants[base + REACH_MOST]:
        beyond = angle - constants[base + REACH_MOST]
        sin, cos = sin_cos(constants[base + REACH_MOST])
    along, offset = constants[base + BRACKET_ALONG], constants[base + BRACKET_OFFSET]
    front_x = along * cos - offset * sin
    front_y = along * sin + offset * cos
    x = front_x - constants[base + POST_X]
    y = front_y - constants[base + POST_Y]
    apart = math.sqrt(x * x + y * y)
    crank, link = constants[base + CRANK], constants[base + LINK]
    cosine = (crank * crank + apart * apart - link * link) / (2.0 * crank * apart)
    if cosine > 1.0:
        cosine = 1.0
    if cosine < -1.0:
        cosine = -1.0
    sine = constants[base + ELBOW] * math.sqrt(1.0 - cosine * cosine)
    knee_x = crank * (x * cosine - y * sine) / apart
    knee_y = crank * (y * cosine + x * sine) / apart
    link_x, link_y = x - knee_x, y - knee_y
    across = knee_x * link_y - knee_y * link_x  # the link's pull on the crank, times both lengths
    least = STRETCHED * crank * link
    if -least < across < least:
        across = least if across >= 0.0 else -least
    sign = constants[base + RUN_SIGN]
    turned = direction(knee_y, knee_x) - constants[base + SHUT_OUTPUT]
    off = turned - constants[base + CRANK_MIDDLE]
    turned = turned - 2.0 * math.pi * math.floor(off / (2.0 * math.pi) + 0.5)
    lever = sign * (front_x * link_y - front_y * link_x) / across
    return sign * turned + lever * beyond, lever


def output(constants: Floats, leaf: int, angle: float, sin: float, cos: float) -> tuple[float, float]:
    """The train's output for a leaf angle, and its lever."""
    kind = constants[leaf * LEAF_CONSTANTS + LINKAGE]
    if kind == PIN:
        return angle, 1.0
    if kind == ARM:
        return arm_output(constants, leaf, angle, sin, cos)
    return ram_output(constants, leaf, sin, cos)


COMPILED = (ram_output, arm_output, output)

HOT = (
    ram_output,
    output,
)
"""What every step goes through."""

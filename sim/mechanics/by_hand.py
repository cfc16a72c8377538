"""What a hand feels at a leaf, and what is wide or narrow about it: figures for whoever measures. Looks only."""

from __future__ import annotations

import math
from typing import NamedTuple

from sim.kernel import layout as at
from sim.kernel.contact import press_ground
from sim.kernel.linkage import output
from sim.kernel.motion import blown
from sim.kernel.trigonometry import sin_cos
from sim.mechanics import hanging
from sim.mechanics.standing import Standing
from sim.site.models import Drive, HydraulicRam


class Felt(NamedTuple):
    """Torques about the hinge of a leaf that is free of its drive [N·m]."""

    hung: float
    """Of lean, rise, wind and ground: positive swings it open."""
    friction: float
    """Dry friction of hinges and ground."""


def felt(plant: Standing, leaf: int) -> Felt:
    """What acts on a leaf where it stands, whatever props or ropes it."""
    state, constants = plant._state.tolist(), plant._constants.tolist()
    angle, base = plant.angle(leaf), leaf * at.LEAF_CONSTANTS
    sin, cos = sin_cos(angle)
    hung = constants[base + at.TILT_ACROSS] * cos - constants[base + at.TILT_ALONG] * sin
    hung += blown(state, constants, leaf, sin, cos) - constants[base + at.RISE_TORQUE]
    friction = hanging.hinge_friction(plant.site.leaves.pair[leaf])
    if constants[base + at.GROUND_COUNT] != 0.0:
        climb, rub = press_ground(state, constants, leaf)
        hung, friction = hung + climb, friction + rub
    return Felt(hung, friction)


def force_to_move(plant: Standing, leaf: int) -> float:
    """Force at the tip that moves a free leaf from where it stands, the harder way [N]."""
    hung, friction = felt(plant, leaf)
    return (friction + abs(hung)) / plant.site.leaves.pair[leaf].width_m


def force_to_hold(plant: Standing, leaf: int) -> float:
    """Force at the tip that keeps a free leaf from swinging [N]; nothing where friction does."""
    hung, friction = felt(plant, leaf)
    return max(0.0, abs(hung) - friction) / plant.site.leaves.pair[leaf].width_m


def tip_play(plant: Standing, leaf: int, force_n: float) -> float:
    """How far the tip of a leaf that its drive holds moves under a force at it, to and fro [m].

    The play of nut, gear and bracket, and what the train gives on either side of it, through the lever.
    """
    constants, angle = plant._constants.tolist(), plant.angle(leaf)
    block, width = plant._block(leaf), plant.site.leaves.pair[leaf].width_m
    _, lever = output(constants, leaf, angle, *sin_cos(angle))
    strain = force_n * width / abs(lever) / float(block[at.STIFFNESS_OUT])
    return (float(block[at.PLAY]) + 2.0 * strain) * width / abs(lever)


def bracket_play(plant: Standing, leaf: int) -> float | None:
    """What the bracket on the leaf moves when the drive reverses [m]; None without a bracket."""
    drive = plant.site.drives.pair[leaf]
    if not isinstance(drive, Drive | HydraulicRam):
        return None
    return drive.bracket_play_m + BRACKET_GIVE_M


BRACKET_GIVE_M = 0.00008
"""What a sound bracket gives under its drive, to and fro [m]. Engineering value, no source."""


def clearance(plant: Standing, leaf: int, angle: float) -> float:
    """Least gap between the lower edge and the ground below it, at a leaf angle [m]; 0 where it touches."""
    model = plant.site.leaves.pair[leaf]
    rise = model.hinge_rise_m * angle / (math.pi / 2.0)
    least = model.ground_clearance_m + rise - max(0.0, hanging.droop(model))
    for ridge in model.ground:
        off = abs(math.degrees(angle) - ridge.at_deg)
        if off < ridge.reach_deg:
            height = ridge.height_m * (1.0 - off / ridge.reach_deg)
            hangs = model.ground_clearance_m + rise - hanging.droop(model) * ridge.radius_m / model.width_m
            least = min(least, hangs - height)
    return max(0.0, least)


def least_clearance(plant: Standing, leaf: int) -> float:
    """The least of those gaps over all of the leaf's way [m]."""
    last = plant.site.leaves.pair[leaf].open_stop_deg
    return min(clearance(plant, leaf, math.radians(last * part / 180)) for part in range(181))


def post_lean(plant: Standing, leaf: int) -> float:
    """Out of plumb of the hinge line towards the opening, metres for each metre: of the post, and of its hinges."""
    model = plant.site.leaves.pair[leaf]
    along = math.tan(math.radians(model.hinge_tilt_deg)) * math.cos(math.radians(model.hinge_tilt_towards_deg))
    return model.post.lean + along


def post_lean_across(plant: Standing, leaf: int) -> float:
    """The same towards the side that the leaf opens to."""
    model = plant.site.leaves.pair[leaf]
    return math.tan(math.radians(model.hinge_tilt_deg)) * math.sin(math.radians(model.hinge_tilt_towards_deg))

"""What turns a standing leaf besides its drive, by the very numbers and functions that the kernel steps with."""

from __future__ import annotations

from dataclasses import dataclass

from sim.kernel import layout as at
from sim.kernel.motion import blown
from sim.kernel.trigonometry import sin_cos
from sim.mechanics.constants import constants_of
from sim.site.models import Site


@dataclass(frozen=True, slots=True)
class Loads:
    """Torques about the hinge [N·m]; positive opens."""

    slope: float
    """Of a hinge line that leans."""
    rise: float
    """Of hinges that lift the leaf."""
    wind: float
    """Of the mean wind."""
    hinges: float
    """Dry friction, against whichever way the leaf would turn."""


def loads_on(site: Site, leaf: int, angle_rad: float) -> Loads:
    """What turns one leaf of a site at an angle [rad], in the weather of the site."""
    slots = constants_of(site)
    block = slots[leaf * at.LEAF_CONSTANTS : (leaf + 1) * at.LEAF_CONSTANTS]
    still = [0.0] * at.STATE_SIZE
    still[at.WIND] = 1.0
    sin, cos = sin_cos(angle_rad)
    return Loads(
        slope=float(block[at.TILT_ACROSS] * cos - block[at.TILT_ALONG] * sin),
        rise=0.0 - float(block[at.RISE_TORQUE]),
        wind=blown(still, slots.tolist(), leaf, sin, cos),
        hinges=float(block[at.HINGE_FRICTION]),
    )

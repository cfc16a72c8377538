"""What can be in a leaf's way: bodies, the force gauge, and what is held in the gap at its hinge."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from sim.mechanics.leaf import hinge_gap_angle, hinge_gap_rate
from sim.site.models import Leaf

GAUGE_NAME: Final = "force gauge"

GAUGE_STIFFNESS: Final = 500_000.0
"""Spring rate of the force gauge [N/m]: facts 1.3."""

GAUGE_TIME: Final = 0.005 / 2.197
"""Time constant of its amplifier [s]: 5 ms from 10 to 90 %, facts 1.3."""

EDGE_DEPTH: Final = 0.10
"""A thing met this near to the closing edge meets the soft edge first [m]: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something a leaf meets at an angle and a radius. It stands fast: a spring with a damper."""

    name: str
    angle: float
    """Leaf angle at first touch [rad]."""
    radius_m: float
    """Distance of the touched point from the hinge [m]."""
    opening: bool
    """True: met while opening; False: met while closing."""
    stiffness_n_m: float
    damping_n_s_m: float = 0.0
    is_gauge: bool = False
    height_m: float = 0.0
    """Height of the touched point above ground [m]; for the record, it changes no force."""
    at_edge: bool | None = None
    """Whether the soft edge is in between; None: while closing, near the closing edge."""


def force_gauge(
    angle: float,
    radius_m: float,
    *,
    height_m: float = 0.9,
    stiffness_n_m: float = GAUGE_STIFFNESS,
    opening: bool = False,
) -> Obstacle:
    """A force gauge on a rigid rest that a leaf meets at `angle` [rad] while it closes, or while it opens. Its discs
    are rigid, its spring has no loss."""
    return Obstacle(GAUGE_NAME, angle, radius_m, opening, stiffness_n_m, is_gauge=True, height_m=height_m)


@dataclass(frozen=True, slots=True)
class GapThing:
    """Something that can be held in the gap between a leaf's heel and its post."""

    thickness_m: float
    stiffness_n_m: float
    """Of the whole thing across its thickness [N/m]. Common practice, no source: a training figure."""
    damping_n_s_m: float
    is_person: bool = False


GAP_THINGS: Final = MappingProxyType(
    {
        "stick of 40 mm": GapThing(0.040, 2_000_000.0, 200.0),
        "hand dummy of 50 mm": GapThing(0.050, 75_000.0, 150.0),
        # Soft tissue, then bone, as one spring; no estimate of an injury. Never a tool: only a job may place it.
        "hand": GapThing(0.030, 75_000.0, 150.0, is_person=True),
    }
)
"""What can be in a hinge gap. The two that are tools stand in the catalogue of actions."""

LEAST_LEVER: Final = 0.005
"""A gap closes on a thing at this lever at least [m]: nearer to a dead point the play of the hinges gives instead of
the thing. Common practice, no source."""


def in_hinge_gap(
    model: Leaf,
    thickness_m: float,
    *,
    name: str = "hinge gap",
    stiffness_n_m: float = GAP_THINGS["hand dummy of 50 mm"].stiffness_n_m,
    damping_n_s_m: float = 0.0,
) -> Obstacle:
    """What is held in the gap at the hinge: met while opening, at the angle where the gap is as thin as it is.

    It is pressed together as the gap closes, so its radius is the gap's rate of change there: a hinge torque M
    squeezes with M divided by that, many times what it makes at the closing edge (facts 2.4, 6.3). Called by the yard
    and by tests. Raises ValueError for a gap that never is that thin, or always thinner.
    """
    gap = model.hinge_gap
    angle = hinge_gap_angle(thickness_m, gap.post_m, gap.heel_along_m, gap.heel_across_m)
    lever = -hinge_gap_rate(gap.heel_along_m, gap.heel_across_m, angle)
    return Obstacle(name, angle, max(lever, LEAST_LEVER), True, stiffness_n_m, damping_n_s_m, at_edge=False)

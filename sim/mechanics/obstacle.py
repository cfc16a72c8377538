"""What can stand in a leaf's way: bodies and the force gauge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

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

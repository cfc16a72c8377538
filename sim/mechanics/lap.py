"""Where leaves meet, or one its post: which is free, how far their tips reach over each other, the gap between.

Common practice (facts 6.6): the leaf that is free to move when the other is shut is the strip's carrier when the
strip lies on the side the leaves open to, and the other leaf when it lies on the opposite face.
"""

from __future__ import annotations

import math
from typing import Final

from sim.site.models import Site
from sim.units import LEAVES

STIFFNESS: Final = 200_000.0
"""Of a strip pressed by a leaf [N/m]: engineering value, no source."""

DAMPING: Final = 3_000.0
"""Beside that stiffness [N·s/m]: engineering value, no source."""

PLAY: Final = 0.003
"""Play between strip and leaf [m]: common practice, no source."""


def free_leaf(site: Site) -> int:
    """Which leaf is free to move when the other is shut: 0 active, 1 inactive."""
    return LEAVES.index(site.opens_first)


def is_lapped(site: Site, active_rad: float, inactive_rad: float) -> bool:
    """Whether the strip reaches over the other leaf at these leaf angles; one leaf alone never laps."""
    strip = site.cover_strip
    if strip == "not fitted":
        return False
    widths = [leaf.width_m for leaf in site.leaves.pair]
    back = widths[0] * (1.0 - math.cos(active_rad)) + widths[1] * (1.0 - math.cos(inactive_rad))
    return back < strip.overlap_m


def gap_between_edges(site: Site, active_rad: float, inactive_rad: float) -> float:
    """Clear distance between both closing edges on the plan, or from the only one to its closing post [m]."""
    x, y = site.opening_width_m, 0.0
    for leaf, angle, side in zip(site.leaves.hung, (active_rad, inactive_rad), (1.0, -1.0), strict=False):
        x -= leaf.width_m * math.cos(angle)
        y += side * leaf.width_m * math.sin(angle)
    return math.hypot(x, y)

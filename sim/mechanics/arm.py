"""Geometry of an articulated arm: crank on the post, link to the leaf (facts 6.5)."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Arm:
    """Motor axis at (`axis_x_m`, `axis_y_m`) from the hinge, crank, link, and the leaf point at `along_m` [m]."""

    axis_x_m: float
    axis_y_m: float
    crank_m: float
    link_m: float
    along_m: float

    def crank_angle(self, leaf_rad: float) -> float:
        """Crank angle from x [rad] for a leaf angle [rad]. Raises ValueError where the arm doesn't reach."""
        dx = self.along_m * math.cos(leaf_rad) - self.axis_x_m
        dy = self.along_m * math.sin(leaf_rad) - self.axis_y_m
        apart = math.hypot(dx, dy)
        if not abs(self.crank_m - self.link_m) <= apart <= self.crank_m + self.link_m:
            raise ValueError(
                f"the arm of {self.crank_m:g} m and {self.link_m:g} m can't reach {apart:.3f} m at {leaf_rad:.3f} rad"
            )
        cosine = (self.crank_m**2 + apart**2 - self.link_m**2) / (2.0 * self.crank_m * apart)
        return math.atan2(dy, dx) + math.acos(cosine)

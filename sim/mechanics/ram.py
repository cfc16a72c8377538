"""Geometry of a linear ram between post and leaf (facts 6.4): length, lever, stroke, ends on the plan."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sim.site.models import Drive

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Ram:
    """Rear pivot at (−across, inside) from the hinge; front pivot along the leaf and offset inwards from it [m]."""

    across_m: float
    inside_m: float
    along_m: float
    offset_m: float

    @classmethod
    def of(cls, drive: Drive) -> Ram:
        """The ram of a site's drive."""
        return cls(drive.post_across_m, drive.post_inside_m, drive.bracket_along_m, drive.bracket_offset_m)

    def ends(self, angle_rad: float) -> tuple[Point, Point]:
        """Rear and front pivot seen from the hinge, x along the shut leaf, y inwards [m]."""
        cos, sin = math.cos(angle_rad), math.sin(angle_rad)
        front = (self.along_m * cos - self.offset_m * sin, self.along_m * sin + self.offset_m * cos)
        return (-self.across_m, self.inside_m), front

    def length(self, angle_rad: float) -> float:
        """Pivot to pivot [m]."""
        rear, front = self.ends(angle_rad)
        return math.hypot(front[0] - rear[0], front[1] - rear[1])

    def lever(self, angle_rad: float) -> float:
        """Lever arm about the hinge [m], −d(length)/dθ: leaf torque is force × lever, positive opens.

        From the triangle hinge, rear, front: rA·rB·sin γ / d.
        """
        rear, front = self.ends(angle_rad)
        return (front[0] * rear[1] - front[1] * rear[0]) / self.length(angle_rad)

    def stroke(self, open_rad: float) -> float:
        """How far the ram runs in between shut and `open_rad` [m]."""
        return self.length(0.0) - self.length(open_rad)

    def time(self, open_rad: float, ram_m_s: float) -> float:
        """From shut to `open_rad` while the ram keeps one speed [s]."""
        return self.stroke(open_rad) / ram_m_s

    def speed_at(self, angle_rad: float, radius_m: float, ram_m_s: float) -> float:
        """Speed of a point of the leaf while the ram keeps one speed [m/s]: v·r/h. The closed end is the fast one."""
        return ram_m_s * radius_m / self.lever(angle_rad)

    def force_at(self, angle_rad: float, radius_m: float, ram_n: float) -> float:
        """What a thrust of the ram amounts to at a radius of the leaf [N]: F·h/r. The closed end is the weak one."""
        return ram_n * self.lever(angle_rad) / radius_m

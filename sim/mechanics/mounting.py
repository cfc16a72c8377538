"""Where a drive is held, seen from its leaf's hinge: x along the shut leaf, y towards the side the leaf opens to [m].

Every drive stands inside. Where the leaves open outwards that is the negative side, and a ram opens by running out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sim.site.models import AnyDrive, ArticulatedArm, Underground

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Mounting:
    """Pivot on the post side (of the ram, or of the crank), pivot on the leaf, and the arm's two links."""

    post: Point
    bracket: Point
    """With the leaf shut."""
    crank_m: float = 0.0
    link_m: float = 0.0
    elbow: float = 1.0
    """Which way an arm bends."""

    @classmethod
    def of(cls, drive: AnyDrive, opens_inside: bool = True) -> Mounting:
        """The mounting of a site's drive."""
        side = 1.0 if opens_inside else -1.0
        if isinstance(drive, Underground):
            return cls((0.0, 0.0), (0.0, 0.0))
        bracket = (drive.bracket_along_m, side * drive.bracket_offset_m)
        if isinstance(drive, ArticulatedArm):
            axis = (-drive.axis_across_m, side * drive.axis_inside_m)
            return cls(axis, bracket, drive.crank_m, drive.link_m, side)
        return cls((-drive.post_across_m, side * drive.post_inside_m), bracket)

    def front(self, angle_rad: float) -> Point:
        """The pivot on the leaf at a leaf angle."""
        cos, sin = math.cos(angle_rad), math.sin(angle_rad)
        along, offset = self.bracket
        return along * cos - offset * sin, along * sin + offset * cos

    def apart(self, angle_rad: float) -> float:
        """Pivot to pivot [m]."""
        x, y = self.front(angle_rad)
        return math.hypot(x - self.post[0], y - self.post[1])

    def crank_rad(self, angle_rad: float) -> float:
        """Direction of an arm's crank, counted from x [rad]. Beyond its reach the arm is taken as stretched out."""
        x, y = self.front(angle_rad)
        dx, dy = x - self.post[0], y - self.post[1]
        apart = math.hypot(dx, dy)
        cosine = (self.crank_m**2 + apart**2 - self.link_m**2) / (2.0 * self.crank_m * apart)
        return math.atan2(dy, dx) + self.elbow * math.acos(max(-1.0, min(1.0, cosine)))

    def knee(self, angle_rad: float) -> Point:
        """Where an arm bends."""
        turn = self.crank_rad(angle_rad)
        return self.post[0] + self.crank_m * math.cos(turn), self.post[1] + self.crank_m * math.sin(turn)

    def points(self, angle_rad: float) -> tuple[Point, ...]:
        """What is to be drawn: post, knee of an arm, leaf; the hinge alone for a drive that turns its pin."""
        if self.bracket == (0.0, 0.0):
            return ((0.0, 0.0),)
        if self.crank_m:
            return self.post, self.knee(angle_rad), self.front(angle_rad)
        return self.post, self.front(angle_rad)

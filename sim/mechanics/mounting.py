"""Where a drive is held, seen from its leaf's hinge: x along the shut leaf, y towards the side the leaf opens to [m].

Every drive stands inside. Where the leaves open outwards that is the negative side, and a ram opens by running out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sim.site.models import AnyDrive, ArticulatedArm, Underground
from sim.site.plausible import LEAST_KNEE_DEG

Point = tuple[float, float]

_STEP = math.radians(0.5)
"""Of the walk along an arm's way."""
_FARTHEST = 1.6
"""How far beyond shut and beyond its stop a leaf is looked at for an arm's dead points [rad]."""


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

    def lever(self, angle_rad: float) -> float:
        """How far the line of a ram, or of an arm's link, passes by the hinge at a leaf angle [m].

        The leaf's torque is the force in ram or link times this. 0 at a dead point, and for a drive that turns the
        pin. For a ram it is |d(length)/dθ| = rA·rB·sin γ/d (facts 6.4).
        """
        front = self.front(angle_rad)
        back = self.knee(angle_rad) if self.crank_m else self.post
        apart = math.hypot(front[0] - back[0], front[1] - back[1])
        return abs(back[0] * front[1] - back[1] * front[0]) / apart if apart > 0.0 else 0.0

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

    def reach(self, open_rad: float) -> Point:
        """Leaf angles between which an arm is clear of its dead points [rad], shut and `open_rad` between them."""
        return self._end(0.0, -1.0), self._end(open_rad, 1.0)

    def _end(self, start: float, way: float) -> float:
        clear = start
        while abs(clear - start) < _FARTHEST:
            if not self._is_clear(clear + way * _STEP):
                near, far = clear, clear + way * _STEP
                for _ in range(40):
                    middle = 0.5 * (near + far)
                    near, far = (middle, far) if self._is_clear(middle) else (near, middle)
                return near
            clear += way * _STEP
        return clear

    def _is_clear(self, angle_rad: float) -> bool:
        """Whether crank and link stand no nearer to straight or folded than a site may have them."""
        squares = self.crank_m**2 + self.link_m**2 - self.apart(angle_rad) ** 2
        return abs(squares) <= 2.0 * self.crank_m * self.link_m * math.cos(math.radians(LEAST_KNEE_DEG))

    def turns(self, least: float, most: float) -> Point:
        """Least and greatest that a crank has turned since shut, anywhere between two leaf angles [rad]; whole turns
        are not taken off."""
        ends = []
        for end in (least, most):
            steps = max(1, math.ceil(abs(end) / _STEP))
            turned, before = 0.0, self.crank_rad(0.0)
            for step in range(1, steps + 1):
                now = self.crank_rad(end * step / steps)
                turned += math.remainder(now - before, 2.0 * math.pi)
                before = now
                ends.append(turned)
        return min(ends), max(ends)

    def points(self, angle_rad: float) -> tuple[Point, ...]:
        """What is to be drawn: post, knee of an arm, leaf; the hinge alone for a drive that turns its pin."""
        if self.bracket == (0.0, 0.0):
            return ((0.0, 0.0),)
        if self.crank_m:
            return self.post, self.knee(angle_rad), self.front(angle_rad)
        return self.post, self.front(angle_rad)

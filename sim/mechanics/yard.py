"""Bodies on the plan and where a leaf meets them.

Bodies are upright boxes, turned as they stand. A leaf is a line from its hinge; a body in its reach occupies a range
of leaf angles, and the leaf meets the near end of that range. Which side the leaf opens to is the business of its
axes alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from sim.mechanics.axes import LeafAxes
from sim.mechanics.mounting import Point
from sim.said import said


@dataclass(frozen=True, slots=True)
class Shape:
    """What a body is made of. Stiffness and damping are of the part a leaf edge meets."""

    size_m: tuple[float, float, float]
    """Standing: along x, along y, height [m]."""
    lying_m: tuple[float, float, float]
    """Lying: along x, along y, height [m]."""
    stiffness_n_m: float
    damping_n_s_m: float
    is_person: bool


SHAPES: Final = MappingProxyType(
    {
        # 700 × 300 × 200 mm: facts 2.2 [SEEN S3, S45]. Stiffness of a plywood box: from memory.
        "test body": Shape((0.3, 0.2, 0.7), (0.7, 0.2, 0.3), 75_000.0, 400.0, False),
        # Sizes and softness of people: common practice, no source; a training figure, no injury estimate.
        "adult": Shape((0.50, 0.30, 1.75), (1.75, 0.50, 0.30), 25_000.0, 350.0, True),
        "child": Shape((0.35, 0.25, 1.10), (1.10, 0.35, 0.22), 20_000.0, 250.0, True),
        # Whoever pushes a pram or rides a bicycle is a body of his own.
        "pram": Shape((0.60, 0.95, 1.05), (0.60, 0.95, 1.05), 15_000.0, 250.0, False),
        "dog": Shape((0.25, 0.90, 0.60), (0.90, 0.40, 0.25), 15_000.0, 200.0, False),
        "bicycle": Shape((0.60, 1.80, 1.05), (1.80, 1.05, 0.25), 30_000.0, 200.0, False),
        # Common practice, no source, for all of these too: a middling car, a delivery van.
        "car": Shape((1.80, 4.40, 1.50), (1.80, 4.40, 1.50), 150_000.0, 2_000.0, False),
        "van": Shape((2.00, 5.90, 2.50), (2.00, 5.90, 2.50), 200_000.0, 3_000.0, False),
    }
)
"""Every kind of body there is. Standing and not turned, each looks along y."""


AHEAD: Final = math.pi / 3.0
"""The middle of all that leaves swing over [rad]."""


@dataclass(frozen=True, slots=True)
class Body:
    """A body at a place on the plan [m]: x along the opening from the active hinge, y towards the inside."""

    name: str
    x_m: float
    y_m: float
    lying: bool
    turn: float = 0.0
    """How far it is turned about its middle, from x towards y [rad]."""

    @property
    def kind(self) -> str:
        """What it is; there is one of each kind."""
        return self.name

    @property
    def shape(self) -> Shape:
        """What it is made of."""
        return SHAPES[self.name]

    @property
    def size_m(self) -> tuple[float, float, float]:
        """Extent along x, along y, and height as it stands or lies [m]."""
        return self.shape.lying_m if self.lying else self.shape.size_m

    def corners(self) -> list[Point]:
        """From its middle to its corners on the plan, in turn [m]."""
        half_x, half_y = self.size_m[0] / 2, self.size_m[1] / 2
        square = [(-half_x, -half_y), (half_x, -half_y), (half_x, half_y), (-half_x, half_y)]
        if self.turn == 0.0:
            return square
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        return [(x * cos - y * sin, x * sin + y * cos) for x, y in square]

    def covers(self, point: Point) -> bool:
        """Whether a point of the plan lies inside it."""
        x, y = point[0] - self.x_m, point[1] - self.y_m
        if self.turn != 0.0:
            cos, sin = math.cos(self.turn), math.sin(self.turn)
            x, y = x * cos + y * sin, y * cos - x * sin
        return abs(x) < self.size_m[0] / 2 and abs(y) < self.size_m[1] / 2


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a leaf meets a body."""

    angle: float
    """Leaf angle at first touch [rad]."""
    radius_m: float
    """Distance of the touched point from the hinge [m]."""
    opening: bool
    """True: met while opening; False: met while closing."""


def angles_of(body: Body, axes: LeafAxes, reach_m: float) -> list[Point]:
    """(leaf angle [rad], radius [m]) of the extreme points of a body within a leaf's reach; empty if out of reach.

    The extreme polar angles of a box cut by a circle lie at its corners inside the circle or where its edges
    cross the circle; the box must not contain the hinge. Seen from there it spans less than half a turn about its
    middle: angles are told without a jump, and of all whole turns by the one nearest to where leaves swing.
    """
    x, y = axes.own((body.x_m, body.y_m))
    # a box in a mirror is a box; turned, it leans the other way there
    flip_x, flip_y = (-1.0 if axes.mirrored else 1.0), (-1.0 if axes.outwards else 1.0)
    corners = [(x + flip_x * away_x, y + flip_y * away_y) for away_x, away_y in body.corners()]
    points = [c for c in corners if math.hypot(*c) <= reach_m]
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        points.extend(_crossings(x0, y0, x1, y1, reach_m))
    middle = math.atan2(y, x)
    found = [(_near(math.atan2(y, x), middle), math.hypot(x, y)) for x, y in points]
    if not found:
        return found
    low, high = min(found)[0], max(found)[0]
    turn = min((0.0, 2.0 * math.pi, -2.0 * math.pi), key=lambda t: max(low + t - AHEAD, AHEAD - high - t, 0.0))
    return [(angle + turn, radius) for angle, radius in found] if turn else found


def _near(angle: float, middle: float) -> float:
    """An angle within half a turn of another [rad]."""
    turns = round((middle - angle) / (2.0 * math.pi))
    return angle + 2.0 * math.pi * turns if turns else angle


def _crossings(x0: float, y0: float, x1: float, y1: float, radius: float) -> list[Point]:
    """Points where the segment crosses the circle about the origin."""
    dx, dy = x1 - x0, y1 - y0
    a = dx * dx + dy * dy
    b = x0 * dx + y0 * dy
    c = x0 * x0 + y0 * y0 - radius * radius
    discriminant = b * b - a * c
    if a == 0.0 or discriminant < 0.0:
        return []
    root = math.sqrt(discriminant)
    return [(x0 + s * dx, y0 + s * dy) for s in ((-b - root) / a, (-b + root) / a) if 0.0 <= s <= 1.0]


def stands_on_hinge(body: Body, axes: LeafAxes) -> bool:
    """Whether the body's box covers the hinge itself."""
    return body.covers((axes.hinge_x_m, 0.0))


def meeting(body: Body, axes: LeafAxes, *, reach_m: float, clearance_m: float, angle: float) -> Meeting | str | None:
    """Where a leaf standing at `angle` [rad] meets the body; None if it can't; a sentence if the leaf is in it."""
    if stands_on_hinge(body, axes):
        return said("the {body} would stand on the hinge", body=body.name)
    if body.size_m[2] <= clearance_m:
        return None
    found = angles_of(body, axes, reach_m)
    if not found:
        return None
    low, high = min(found), max(found)
    if angle >= high[0]:
        return Meeting(high[0], high[1], opening=False)
    if angle <= low[0]:
        return Meeting(low[0], low[1], opening=True)
    return said("the {body} would stand in the leaf", body=body.name)


def is_in_arc(body: Body, axes: LeafAxes, *, reach_m: float, open_stop: float) -> bool:
    """Whether any of the body stands where the leaf sweeps between shut (0) and its open stop [rad]."""
    found = angles_of(body, axes, reach_m)
    return bool(found) and max(found)[0] > 0.0 and min(found)[0] < open_stop

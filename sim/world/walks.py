"""Bodies that walk or drive along a path: where they are follows from when they set out, at every scan instant.

Whoever walks stops before a leaf that bars the way, and where a leaf strikes. Nothing is queued when nobody walks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.mechanics.mounting import Point
from sim.mechanics.yard import Body
from sim.said import said
from sim.units import SCAN, SECOND, next_on_grid
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

MOST_POINTS = 40
"""How many points a path may have."""


@dataclass(frozen=True, slots=True)
class Walk:
    """One way of one body, as plain data."""

    path: tuple[Point, ...]
    """From where it set out, point by point [m]."""
    speed_m_s: float
    begun: int
    """When it set out [µs]."""

    def at(self, now: int) -> tuple[Point, float | None, tuple[Point, ...]]:
        """(place [m], heading [rad] or None at the end, the points still ahead) at an instant [µs]."""
        left = self.speed_m_s * (now - self.begun) / SECOND
        for index, (start, end) in enumerate(zip(self.path, self.path[1:], strict=False)):
            leg = math.dist(start, end)
            if leg > 0.0 and left < leg:
                share = left / leg
                place = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
                return place, math.atan2(end[1] - start[1], end[0] - start[0]), self.path[index + 1 :]
            left -= leg
        return self.path[-1], None, ()

    def carries(self, body: Body, now: int) -> Body:
        """The body on this way at an instant [µs], looking where it goes."""
        (x, y), heading, _ = self.at(now)
        return replace(body, x_m=x, y_m=y, turn=body.turn if heading is None else _faced(heading))


def path_of(text: str) -> tuple[Point, ...]:
    """A path out of text: `x,y` in metres, points apart by spaces. Raises Refused for anything else."""
    points = []
    for piece in text.split():
        try:
            x, y = (float(number) for number in piece.split(","))
        except ValueError:
            raise Refused(
                said("read '{piece}' in the path; a point is x,y in metres, such as 1.0,-3.0", piece=piece)
            ) from None
        if not (-10.0 <= x <= 20.0 and -20.0 <= y <= 20.0):
            raise Refused(said("'{piece}' lies off the plan; allowed: x -10 to 20, y -20 to 20", piece=piece))
        points.append((x, y))
    if not 1 <= len(points) <= MOST_POINTS:
        raise Refused(said("a path has 1 to {most} points, not {count}", most=MOST_POINTS, count=len(points)))
    return tuple(points)


class Walks:
    """Everybody who is on the way; one for a world."""

    def __init__(self, world: World) -> None:
        self._world = world
        self.under_way: dict[str, Walk] = {}
        """By the body's name."""

    def speed_m_s(self, name: str) -> float:
        """How fast a body walks now [m/s]."""
        return self.under_way[name].speed_m_s if name in self.under_way else 0.0

    def ahead(self, name: str) -> tuple[Point, ...]:
        """The points still ahead of a body [m]."""
        return self.under_way[name].at(int(self._world.now))[2] if name in self.under_way else ()

    def set_out(self, body: Body, path: tuple[Point, ...], speed_m_s: float) -> None:
        """Send a body that is on the plan along a path."""
        walk = Walk(((body.x_m, body.y_m), *path), speed_m_s, int(self._world.now))
        self.under_way[body.name] = walk
        self._queue(body.name, walk)

    def stop(self, name: str) -> bool:
        """It stands where it is; False if it did so already."""
        stopped = self.under_way.pop(name, None) is not None
        if stopped:
            self._world.seen()
        return stopped

    def _queue(self, name: str, walk: Walk) -> None:
        when = next_on_grid(int(self._world.now) + 1, SCAN)
        self._world.clock.at(when, Phase.HAND, lambda: self._step(name, walk), f"a step of the {name}")

    def _step(self, name: str, walk: Walk) -> None:
        if self.under_way.get(name) is not walk:
            return
        people = self._world.people
        now = int(self._world.now)
        try:
            people.stand(walk.carries(people.bodies[name], now))
        except Refused:  # a leaf bars the way, or there is no place left among what stands in the leaves' way
            self.stop(name)
            return
        if walk.at(now)[1] is None:
            self.stop(name)
        else:
            self._queue(name, walk)


def _faced(heading: float) -> float:
    """How far a body is turned that looks there [rad]: not turned, it looks along y."""
    turn = math.fmod(heading - math.pi / 2.0, 2.0 * math.pi)
    return 0.0 if abs(turn) < 1e-12 else turn

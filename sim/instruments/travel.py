"""How the leaves moved since an instant, from what was recorded: when each started and stopped, how fast and slow."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np
import numpy.typing as npt

from sim.errors import Refused
from sim.said import said
from sim.units import LEAVES, SECOND

if TYPE_CHECKING:
    from sim.world.world import World

Floats = npt.NDArray[np.float64]

SEEN_RAD: Final = math.radians(0.3)
"""What an eye takes for a movement: a centimetre at the tip [rad]. CP, no source."""

SLOWED: Final = 1.4
"""A leaf that was this many times as fast as just before its stop is seen to have slowed down. CP, no source."""

SMOOTH_S: Final = 0.2
"""Over how long an eye judges speed [s]. CP, no source."""

SUDDEN_S: Final = 1.5
STEADY: Final = 1.2
"""A controller slows down within this time [s] to near its slow speed, as a share of that; a lever that grows slows a
leaf bit by bit, and no eye marks a place for it. CP, no source."""

BEFORE_S: Final = 0.5
"""Just before its stop: this long [s]. CP, no source."""


class Way(NamedTuple):
    """One leaf since an instant."""

    time_s: Floats
    angle: Floats
    """[rad]"""

    def started(self) -> float:
        """When it left where it stood [s]. Raises Refused if it did not move."""
        moved = np.flatnonzero(np.abs(self.angle - self.angle[0]) > SEEN_RAD)
        if not len(moved):
            raise Refused("the leaf has not moved since; let it move first")
        return float(self.time_s[moved[0]])

    def there(self) -> Way:
        """On its way there, to the farthest it got: what came back from a stop or an obstacle left out."""
        last = int(np.argmax(np.abs(self.angle - self.angle[0])))
        return Way(self.time_s[: last + 1], self.angle[: last + 1])

    def stopped(self) -> float:
        """When it came to where it stands [s]."""
        self.started()
        away = np.flatnonzero(np.abs(self.angle - self.angle[-1]) > SEEN_RAD)
        return float(self.time_s[away[-1]]) if len(away) else float(self.time_s[0])


def way(world: World, leaf: int, since: int) -> Way:
    """Where a leaf was, from an instant [µs] until now, 100 times a second while it moved."""
    rows = world.plant.rows_from(world.plant.row_at(since))
    times = rows[:, 0] / SECOND
    first = max(0, int(np.searchsorted(rows[:, 0], since, side="right")) - 1)
    return Way(times[first:], rows[first:, 1 + leaf])


def after_other(world: World, leaf: int, since: int, *, arrival: bool) -> float:
    """How much later than the other leaf it started, or arrived [s]; negative for earlier.

    Raises Refused where there is no other leaf.
    """
    if len(world.site.leaves.fitted) == 1:
        raise Refused("this gate has one leaf: there is no other that it could come after")
    mine, other = way(world, leaf, since), way(world, 1 - leaf, since)
    if arrival:
        return mine.stopped() - other.stopped()
    return mine.started() - other.started()


def slow_way(world: World, leaf: int, since: int) -> float:
    """How far the tip went from where it was seen to slow down to the farthest it got [m]; 0 if it did not."""
    seen = way(world, leaf, since).there()
    grid = np.arange(seen.started(), seen.stopped(), SMOOTH_S / 2.0)
    angle = np.interp(grid, seen.time_s, seen.angle)
    speed = np.abs(angle[2:] - angle[:-2]) / SMOOTH_S
    if not len(speed):
        raise Refused("the leaf only twitched since; let it move first")
    last = speed[max(0, len(speed) - round(BEFORE_S / (SMOOTH_S / 2.0)))]
    fast = np.flatnonzero(speed >= SLOWED * last)
    soon = round(SUDDEN_S / (SMOOTH_S / 2.0))
    if not len(fast) or speed[min(len(speed) - 1, fast[-1] + soon)] > STEADY * last:
        return 0.0
    return float(abs(angle[fast[-1] + 1] - seen.angle[-1])) * world.site.leaves.pair[leaf].width_m


def last_stretch(world: World, leaf: int, since: int, metres: float) -> float:
    """How long the tip took for the last metres before the farthest it got [s]."""
    seen = way(world, leaf, since).there()
    left = np.abs(seen.angle - seen.angle[-1]) * world.site.leaves.pair[leaf].width_m
    before = np.flatnonzero(left > metres)
    if not len(before):
        raise Refused(
            said(
                "the {leaf} leaf's tip has not gone {length_mm:.0f} mm since; let it move first",
                leaf=LEAVES[leaf],
                length_mm=metres * 1000,
            )
        )
    return seen.stopped() - float(seen.time_s[before[-1]])


def open_wait(world: World, since: int) -> float:
    """How long every leaf stood open before one moved again [s]."""
    ways = [way(world, leaf, since) for leaf in range(len(world.site.leaves.fitted))]
    times = ways[0].time_s
    still = np.ones(len(times), dtype=bool)
    for leaf, each in enumerate(ways):
        stop = math.radians(world.site.leaves.pair[leaf].open_stop_deg)
        top = float(each.angle.max())
        if top < 0.8 * stop:
            raise Refused(said("the {leaf} leaf has not been open since; let the gate open first", leaf=LEAVES[leaf]))
        still &= np.abs(each.angle - top) <= SEEN_RAD
    stood = np.flatnonzero(still)
    if not len(stood) or stood[-1] == len(times) - 1:
        raise Refused("the gate has not left its open stops since; wait until it does")
    return float(times[stood[-1]] - times[stood[0]])

"""How warm the coil of the lock is: a pulse leaves it cold, a coil that stays fed gets hot and takes less current.

One node, worked out in closed form between two changes; looked at again every few seconds while it is on its way, and
never in a lock at rest.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.site import Lock
from sim.units import SECOND
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

AGAIN: Final = 20 * SECOND
"""A coil on its way is looked at again after this [µs]. Ours."""

NEAR_K: Final = 1.0
"""So near to where it goes nobody looks again [K]: less than a step of its resistance."""


class Coil:
    """The coil of one world's lock; nothing on sites without one."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._since = int(world.now)
        self._rise_k = 0.0
        self._end_k = 0.0
        self._token = 0
        world.host.changed.append(self.look)

    def rise_k(self) -> float:
        """How much warmer than the air it is now [K]."""
        lock = self._world.site.lock
        passed_s = (int(self._world.now) - self._since) / SECOND
        if not isinstance(lock, Lock) or passed_s == 0.0 or self._rise_k == self._end_k:
            return self._rise_k
        return self._end_k + (self._rise_k - self._end_k) * math.exp(-passed_s * lock.coil_w_k / lock.coil_j_k)

    def look(self) -> None:
        """The net changed: its loss may have."""
        lock = self._world.site.lock
        if not isinstance(lock, Lock):
            return
        end_k = round(self._world.cabinet.lock_loss_w(), 2) / lock.coil_w_k
        if end_k != self._end_k:
            self._turn(end_k)

    def _turn(self, end_k: float) -> None:
        """From here it goes there [K]."""
        self._rise_k, self._since, self._end_k = self.rise_k(), int(self._world.now), end_k
        self._token += 1
        self._await(self._token)

    def _await(self, token: int) -> None:
        world = self._world
        if abs(self.rise_k() - self._end_k) > NEAR_K:
            world.clock.at(world.now + AGAIN, Phase.HAND, lambda: self._when_due(token), "the coil of the lock")

    def _when_due(self, token: int) -> None:
        if token != self._token:
            return
        self._await(token)
        if self._world.cabinet.warm_lock(self._world.weather.temperature_c + self.rise_k()):
            self._world.host.rewired()

    def state(self) -> tuple[float, float, int]:
        """Warmer than the air by how much, on the way to how much, since when: for digests."""
        return (self._rise_k, self._end_k, self._since)

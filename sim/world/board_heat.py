"""How warm the board is in its box, and when its power stages protect themselves.

One node: C·dT/dt = q − h·(T − air). Between two changes it is worked out in closed form; the instant at which a
threshold is crossed is queued, and nothing polls.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sim.units import SCAN, SECOND, next_on_grid
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

NEAR_C = 1e-6
"""So near a threshold it is crossed [°C]: instants lie on a grid, and a rounding must not put it off for ever."""


class BoardHeat:
    """The board of one world. It begins as warm as box, sun and air leave it at rest."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._token = 0
        self._protects = False
        self._since = int(world.now)
        self._end_c, self._tau_s = self._steady()
        self._from_c = self._end_c
        self._driven = world.host.drives.signs
        world.host.changed.append(self._relays)

    def now_c(self) -> float:
        """Temperature of the board now [°C]."""
        passed_s = (int(self._world.now) - self._since) / SECOND
        if passed_s == 0.0:
            return self._from_c
        return self._end_c + (self._from_c - self._end_c) * math.exp(-passed_s / self._tau_s)

    def _relays(self) -> None:
        """What drives changed: relays may have moved."""
        if self._world.host.drives.signs != self._driven:
            self._driven = self._world.host.drives.signs
            self.changed()

    def changed(self) -> None:
        """A relay moved, the weather or the box is another: from here on it goes elsewhere."""
        steady = self._steady()
        if steady == (self._end_c, self._tau_s):
            return
        self._from_c = self.now_c()
        self._since = int(self._world.now)
        self._end_c, self._tau_s = steady
        self._await()

    def _steady(self) -> tuple[float, float]:
        """(temperature in the end [°C], time constant [s])."""
        box, weather = self._world.site.enclosure, self._world.weather
        driven = sum(1 for sign in self._world.host.drives.signs if sign)
        watts = box.loss_w + box.running_w * driven + box.sunlit_w * weather.sunshine
        return weather.temperature_c + watts / box.vent_w_k, box.heat_j_k / box.vent_w_k

    def _await(self) -> None:
        """Queue the instant at which the stages give up or work again, if it comes to that."""
        self._token += 1
        box, token = self._world.site.enclosure, self._token
        limit = box.closes_c if self._protects else box.opens_c
        way = -1.0 if self._protects else 1.0
        if way * (self._end_c - limit) <= NEAR_C:
            return
        beyond = way * (limit - self._from_c)
        passes_s = 0.0
        if beyond > 0.0:
            passes_s = self._tau_s * math.log((self._from_c - self._end_c) / (limit - self._end_c))
        crosses = next_on_grid(self._since + math.ceil(passes_s * SECOND), SCAN)
        due = max(int(crosses), int(self._world.now))
        self._world.clock.at(due, Phase.HAND, lambda: self._cross(token), "the board's thermal protection")

    def _cross(self, token: int) -> None:
        if token != self._token:
            return
        self._protects = not self._protects
        if self._world.cabinet.set_protection(self._protects):
            self._world.host.rewired()
        self._await()

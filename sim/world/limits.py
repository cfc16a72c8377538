"""Limit switches, in a motor's lead or on the board's inputs, follow their leaf: nobody polls."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.mechanics.plant import Mark
from sim.units import LEAVES

if TYPE_CHECKING:
    from sim.world.world import World

BACK_DEG: Final = 0.3
"""A limit switch closes again this far from where it opened [°]. CP, no source."""


class Limits:
    """The limit switches of both leaves."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._reached = [[False, False], [False, False]]

    def refit(self) -> None:
        """The site changed, or the world begins: see where each leaf stands."""
        changed = [self._follow(leaf) for leaf in (0, 1)]
        if any(changed):
            self._world.host.rewired()

    def _heed(self, leaf: int) -> None:
        if self._follow(leaf):
            self._world.host.rewired()

    def _follow(self, leaf: int) -> bool:
        """Press or leave both switches of a leaf, and wait for the next change; True if the net changed."""
        world, sensing = self._world, self._world.site.drives.pair[leaf].sensing
        if sensing.kind != "limit switches" and not sensing.limits_in_motor_lead:
            return False
        degrees, reached = math.degrees(world.plant.angle(leaf)), self._reached[leaf]
        back = [BACK_DEG if pressed else 0.0 for pressed in reached]
        opens_at, closes_at = sensing.limit_open_deg - back[0], sensing.limit_closed_deg + back[1]
        reached[:] = [degrees >= opens_at, degrees <= closes_at]
        opens_at = sensing.limit_open_deg - (BACK_DEG if reached[0] else 0.0)
        closes_at = sensing.limit_closed_deg + (BACK_DEG if reached[1] else 0.0)
        owner = f"{LEAVES[leaf]} limit switches"
        marks = (
            Mark("open", leaf, _beyond(opens_at, not reached[0]), not reached[0]),
            Mark("closed", leaf, _beyond(closes_at, reached[1]), reached[1]),
        )
        world.marks.wait(owner, marks, lambda _: self._heed(leaf))
        return world.cabinet.set_limits(leaf, reached[0], reached[1])


def _beyond(degrees: float, opening: bool) -> float:
    """An angle just past a place, the way it is crossed [rad]: a leaf at the mark has surely crossed the place."""
    return math.radians(degrees + (1e-9 if opening else -1e-9))

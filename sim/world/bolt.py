"""The bolt of an electric lock: it drops behind a shut leaf; its coil lifts it if the leaf doesn't press too hard."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.mechanics.obstacle import Obstacle
from sim.site import Lock
from sim.units import LEAVES

if TYPE_CHECKING:
    from sim.world.world import World

NAME: Final = "bolt of the lock"

SHUT_RAD: Final = 0.008
"""Nearer than this to shut, the bolt finds its keep [rad]: some 16 mm at the tip of a leaf of 2 m. CP, no source."""

BEYOND_RAD: Final = 0.03
"""A leaf that is found further open than this was never behind its bolt [rad]."""

PLAY_RAD: Final = 0.002
"""How far a leaf moves before it comes to bear on the bolt [rad]. CP, no source."""

STIFFNESS_N_M: Final = 2e6
DAMPING_N_S_M: Final = 1e4
"""Bolt and keep [N/m, N·s/m]. CP, no source."""


class Bolt:
    """Where the bolt is; nothing on sites without a lock."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._slot = -1
        self._lifted = False
        world.host.changed.append(self.look)

    @property
    def holds(self) -> bool:
        """Whether the bolt stands in its keep."""
        return self._slot >= 0

    def look(self) -> None:
        """The coil, a drive or the leaf changed: the bolt follows."""
        lock = self._world.site.lock
        if not isinstance(lock, Lock):
            return
        leaf = LEAVES.index(lock.leaf)
        if not self._world.cabinet.lock_pulls():
            self._lifted = False
        elif not self._lifted:
            self._lifted = not self.holds or self._world.cabinet.lock_lifts_against(self._pressed_n(lock, leaf))
        shut = self._world.plant.angle(leaf) <= SHUT_RAD
        beyond = self._world.plant.angle(leaf) > BEYOND_RAD
        if self.holds and (self._lifted or beyond):
            self._withdraw(leaf)
        elif not self.holds and not self._lifted and shut:
            self._drop(leaf)

    def _pressed_n(self, lock: Lock, leaf: int) -> float:
        """What presses on the bolt [N]: the seal, and a drive that pulls; nothing while a drive pushes shut."""
        outputs = self._world.host.outputs
        if (outputs.active, outputs.inactive)[leaf].duty < 0.0:
            return 0.0
        return lock.pressed_n + self._world.plant.slot_force(leaf, self._slot)

    def _drop(self, leaf: int) -> None:
        try:
            self._slot = self._world.people.slots.take(NAME)
        except Refused:
            return  # three things stand in the arc already: the bolt finds its keep at the next look
        width = self._world.site.leaves.pair[leaf].width_m
        thing = Obstacle(NAME, PLAY_RAD, width, True, STIFFNESS_N_M, DAMPING_N_S_M)
        self._world.plant.place_obstacle(leaf, self._slot, thing)

    def _withdraw(self, leaf: int) -> None:
        self._world.people.slots.give_back(NAME)
        self._world.plant.remove_obstacle(leaf, self._slot)
        self._slot = -1

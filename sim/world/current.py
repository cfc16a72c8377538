"""What current does with time: fuses melt, breakers trip, the battery runs down or fills.

Looked at when the net or what is asked of the drives changed, and at the one instant that was worked out then.
Nothing polls: between two looks every current is taken as it was at the first of them.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.devices.cabinet import Live
from sim.said import said
from sim.units import SCAN, SECOND, next_on_grid
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

SETTLES: Final = 1 * SECOND
"""Drives that started have their running current by then; a battery that feeds them is looked at again [µs]. Ours."""


class Current:
    """Keeps the cabinet's passing quantities at the world's time."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._looking = False
        self._due = -1
        self._charge = -1.0
        world.cabinet.instant = lambda: int(world.clock.now)
        world.host.changed.append(self.look)

    def look(self) -> None:
        """The net, a relay or an output changed, or something is due."""
        if self._looking:
            return
        self._looking = True
        try:
            self._look()
        finally:
            self._looking = False

    def _look(self) -> None:
        world, cabinet = self._world, self._world.cabinet
        passing = cabinet.passing
        passing.pass_to(int(world.clock.now))
        gone = cabinet.let_go()
        filled = passing.charge != self._charge and cabinet.set_charge()
        self._charge = passing.charge
        if gone or filled:
            world.host.rewired()
        for name in gone:
            mains, battery = cabinet.mains_on, cabinet.battery_linked
            world.tell(
                "power",
                said("the {fuse} let go", fuse=name),
                mains=mains,
                battery=battery,
                board=world.host.on,
                what=name,
            )
        passing.flow = cabinet.flow(self._live())
        self._arrange(passing.due_in())

    def _live(self) -> Live:
        """Both drives as they are asked for, with the currents they have."""
        outputs, plant = self._world.host.outputs, self._world.plant
        duty = (outputs.active.duty, outputs.inactive.duty)
        return Live(duty, (plant.motor_current(0), plant.motor_current(1)))

    def _arrange(self, due_s: float) -> None:
        now, passing = int(self._world.clock.now), self._world.cabinet.passing
        if passing.flow.battery_a > 0.5 and any(self._live().duty):
            due_s = min(due_s, SETTLES / SECOND)
        if math.isinf(due_s) or due_s > 1e7:
            self._due = -1
            return
        due = next_on_grid(now + max(1, math.ceil(due_s * SECOND)), SCAN)
        if due == self._due:
            return
        self._due = due
        self._world.clock.at(due, Phase.HAND, lambda: self._when_due(due), "a fuse, a breaker or the battery")

    def _when_due(self, due: int) -> None:
        if due == self._due:
            self._due = -1
            self.look()

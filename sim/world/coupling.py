"""What a switched load couples into the encoders' lines that lie beside its cable.

Each time a relay, the lamp, the lock or the light switches, the cable beside it jumps; part of that stands for a
moment on the lines. A spike that passes the input's threshold is counted as pulses that no rotor made.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from sim.draws import normal, uniform
from sim.units import LEAVES
from sim.wiring.elements import Contact

if TYPE_CHECKING:
    from sim.world.world import World

SHARED_V: Final = 2.4
"""What a switched load leaves on a screened line in one conduit with 230 V and motor cables [V]; above 1 V is a fault
(facts 8.1). In a conduit of its own a line has hundredths of a volt, which nobody sees. CP."""

UNSCREENED: Final = 2.0
"""As many times more without a screen that is joined to common. CP, no source."""

COUNTED_FROM_V: Final = 1.0
"""A spike above this is taken for a change of the line [V]. Facts 8.1."""

PULSES: Final = 6.0
"""Pulses that such a spike rings through, one deviation [-]. CP, no source."""

SWITCHES: Final = ("warning lamp, switch", "yard light, switch", "lock, switch")


class Spike(NamedTuple):
    """What stood on one encoder's line for a moment."""

    at: int
    """[µs]"""
    leaf: int
    volts: float
    pulses: int


class Coupling:
    """Listens to whatever switches, and remembers every spike."""

    def __init__(self, world: World) -> None:
        self.spikes: list[Spike] = []
        self._world = world
        self._stood = self._standing()
        world.host.changed.append(self._look)

    def refit(self) -> None:
        """The cables lie elsewhere from now on: what stands now is what the next switching is told from."""
        self._stood = self._standing()

    def _standing(self) -> tuple[object, ...]:
        net = self._world.cabinet.netlist
        contacts = [net[name] for name in SWITCHES]
        return (*self._world.host.drives.signs, *(c.closed for c in contacts if isinstance(c, Contact)))

    def _look(self) -> None:
        if not self._world.site.cables.encoders_beside_mains:
            return
        stands = self._standing()
        if stands == self._stood:
            return
        switched = sum(one != other for one, other in zip(stands, self._stood, strict=True))
        self._stood = stands
        for leaf in range(len(self._world.site.leaves.fitted)):
            self._jump(leaf, switched)

    def _jump(self, leaf: int, switched: int) -> None:
        world, name = self._world, f"{LEAVES[leaf]} encoder"
        now = int(world.now)
        volts = SHARED_V * (UNSCREENED if world.cabinet.wander()[leaf] else 1.0)
        volts *= (0.75 + 0.5 * uniform(world.seed, name, "height of a spike", now)) * switched
        pulses = 0
        if volts > COUNTED_FROM_V and world.cabinet.counting()[leaf].encoder is not None:
            pulses = round(PULSES * normal(world.seed, name, "pulses of a spike", now))
            world.plant.miscount(leaf, pulses)
        self.spikes.append(Spike(now, leaf, round(volts, 3), pulses))

"""Charge that stays when the sources are gone: looked at when a source goes or comes, and when it is due to fall.

Nothing polls.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.devices.rails import CONVERTER_STOPS_V
from sim.devices.reservoir import FARAD, RESERVOIR, reservoir_volts, set_reservoir
from sim.errors import Refused
from sim.said import said
from sim.units import SCAN, SECOND, next_on_grid
from sim.wiring.elements import Element
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

PLACE: Final = ("power supply, plus", "power supply, minus")

WATCHED: Final = (
    "power supply, output",
    "board, takeover relay",
    "battery link",
    "battery plug, plus pole",
    "battery plug, minus pole",
)
"""What takes a source away or brings it back."""

FED_V: Final = 1.0
"""More than this across the supply's output, the reservoir apart, is a source [V]. Ours."""

EMPTY_V: Final = 0.5
"""Below this it is empty [V]. Ours."""

BOARD_BELOW_OHM: Final = 1000.0
"""With less than this across it the board hangs on it and runs: down to where the board's converters stop it takes
less than half a second, and that is taken as at once [Ω]. Ours."""

STEP: Final = 0.25
"""It falls in steps of a quarter of its time constant."""


class Stored:
    """The reservoir of one power supply, in time."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._seen: tuple[Element | None, ...] = ()
        self._full = 0.0
        self._looking = False
        self._token = 0
        world.host.changed.append(self.look)

    def look(self) -> None:
        """A contact may have moved: only those that take a source away or bring one back matter."""
        elements = self._world.cabinet.netlist.elements
        seen = tuple(elements.get(name) for name in WATCHED)
        if self._looking or seen == self._seen:
            return
        self._seen, self._looking = seen, True
        try:
            self._weigh()
        finally:
            self._looking = False

    @property
    def volts(self) -> float:
        """What is left in it with every source gone [V]."""
        return reservoir_volts(self._world.cabinet.netlist)

    def check(self) -> None:
        """Raise Refused while something feeds it."""
        if self._feed() > FED_V:
            raise Refused("a source still feeds it: isolate the mains and pull the battery link first")

    def discharge(self) -> str:
        """Empty it through a resistor. Raises Refused while something feeds it."""
        self.check()
        left = self.volts
        self._let(0.0)
        if left < EMPTY_V:
            return said("Nothing was left in the supply's capacitor.")
        return said("The supply's capacitor is empty: {volts:.1f} V went through the resistor.", volts=left)

    def _feed(self) -> float:
        found = self._world.cabinet.volts(*PLACE, muted=(RESERVOIR,))
        return abs(found) if found is not None else 0.0

    def _weigh(self) -> None:
        if self._feed() > FED_V:
            if self.volts:
                self._let(0.0)
            self._full = self._feed()
        elif self._full:
            seen = self._seen_ohm()
            start, self._full = self._full, 0.0
            self._let(min(start, CONVERTER_STOPS_V - EMPTY_V) if seen < BOARD_BELOW_OHM else start)

    def _seen_ohm(self) -> float:
        """What hangs across the supply's output [Ω]."""
        cabinet = self._world.cabinet
        seen = cabinet.look().at_rest().network.resistance(*(cabinet.terminal(each).node for each in PLACE))
        return math.inf if seen is None else seen.real

    def _let(self, volts: float) -> None:
        """It holds this now, and falls from here on."""
        world = self._world
        set_reservoir(world.cabinet.netlist, volts if volts >= EMPTY_V else 0.0)
        world.rewired()
        self._token += 1
        token, left = self._token, self.volts
        if not left:
            return
        amps = abs(world.cabinet.look().at_rest().current(RESERVOIR).real)
        tau = FARAD * left / amps
        due = next_on_grid(int(world.clock.now) + math.ceil(STEP * tau * SECOND), SCAN)
        falls_to = left * math.exp(-(due - int(world.clock.now)) / SECOND / tau)
        world.clock.at(due, Phase.HAND, lambda: self._fall(token, falls_to), "charge in the power supply")

    def _fall(self, token: int, volts: float) -> None:
        if token == self._token:
            self._looking = True
            try:
                self._let(volts)
            finally:
                self._looking = False

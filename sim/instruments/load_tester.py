"""The battery load tester: a stout resistor across a battery for some seconds, and what is left of its voltage.

At rest a sulphated battery looks as good as new; under ten amperes its inner resistance shows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.course import live_now
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

LOAD: Final = "load tester, load"

LOAD_OHM: Final = 2.4
"""Some 10 A from 24 V [Ω]. Facts 8.1 want 10 A for 5 s."""

DISPLAY: Final = Display("load tester", "volts under load", "V", (Range(40.0, 0.01),), gain_error=0.003)


class LoadTester:
    """The load tester of a bag."""

    name = "load tester"
    group: Group = "electrical"
    help = "Voltage of a battery while it gives some 10 A."
    category = 2
    functions: tuple[Function, ...] = (
        Function(
            "volts under load",
            "V",
            "Voltage between two terminals under some 10 A, after 5 s.",
            against="terminal",
            takes_s=15.0,
            settles_s=5.0,
            caution="Clamps on tight before the load: a spark at a battery lights its gas. Five seconds, no longer.",
        ),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Clamps on, load on."""
        net = world.cabinet.shared_net(use.at, use.against)
        if net is not world.cabinet.netlist:
            return nothing
        red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
        net.add(Resistor(LOAD, red, black, LOAD_OHM))

        def off() -> None:
            net.remove(LOAD)

        return off

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What stands there under the load."""
        found = world.cabinet.volts(use.at, use.against, live_now(world))
        if LOAD not in world.cabinet.netlist or found is None:
            return Reading(Shown(0.0, "V", "0.00 V"))
        return Reading(DISPLAY.show(found, world.seed, index))

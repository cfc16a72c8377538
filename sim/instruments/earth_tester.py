"""The earth tester: what a fault current would find on its way round, and whether a protective conductor is whole.

Loop impedance is what the voltage falls by under a known load from live to earth, over that load's current. The load
stays below half of what trips the residual-current device.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from sim.instruments.cautions import LIVE_WORK
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.low_ohm_tester import SOURCE, LowOhmTester
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Undo
from sim.wiring.solve import solve

if TYPE_CHECKING:
    from sim.world.world import World

LOAD: Final = "earth tester, load"

LOAD_OHM: Final = 23_000.0
"""10 mA at 230 V: a device of 30 mA holds [Ω]. CP, no source."""

LEAST_V: Final = 100.0
"""Below this there is nothing to test with [V RMS]. CP, no source."""

RANGES: Final = (Range(20.0, 0.01), Range(200.0, 0.1), Range(2000.0, 1.0))
DISPLAY: Final = Display(
    "earth tester", "loop impedance", "Ω", RANGES, gain_error=0.02, noise_steps=1.0, beyond=said("more than 2000 Ω")
)


class EarthTester:
    """The loop-impedance and earth-continuity tester of a bag."""

    name = "earth tester"
    group: Group = "electrical"
    help = "Loop impedance from live to earth, and whether a protective conductor is whole."
    category = 3
    functions: tuple[Function, ...] = (
        Function(
            "loop impedance",
            "Ω",
            "From a live terminal to earth and round through the supply.",
            against="terminal",
            takes_s=20.0,
            settles_s=8.0,
            caution=LIVE_WORK,
        ),
        Function(
            "earth continuity",
            "Ω",
            "From one earthed part to another under 200 mA: at most 0.5 Ω.",
            against="terminal",
            takes_s=25.0,
        ),
    )

    def __init__(self) -> None:
        self._ohms = LowOhmTester(replace(SOURCE, name="earth tester, source"))

    def place(self, world: World, use: Use) -> Undo:
        """Leads on."""
        if use.function == "earth continuity":
            return self._ohms.place(world, use)
        cabinet = world.cabinet
        if cabinet.shared_net(use.at, use.against) is not cabinet.mains:
            return nothing
        red, black = (cabinet.terminal(each).node for each in (use.at, use.against))
        net = cabinet.mains
        net.add(Resistor(LOAD, red, black, complex(LOAD_OHM)))

        def off() -> None:
            net.remove(LOAD)

        return off

    def read(self, world: World, use: Use, index: int) -> Reading:
        """From the voltage with the load and the current through it."""
        if use.function == "earth continuity":
            return self._ohms.read(world, use, index)
        net = world.cabinet.mains
        volts = world.cabinet.mains_volts(use.at, use.against)
        if LOAD not in net or volts is None or volts < LEAST_V:
            return Reading(Shown(None, "Ω", said("no voltage to test with"), ("wrong function",)))
        red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
        key = tuple(element for element in net.key if element.name != LOAD)
        free = solve(key).between(red, black)
        loaded, amps = net.solution().between(red, black), net.solution().current(LOAD)
        if free is None or loaded is None:
            return Reading(Shown(None, "Ω", said("no voltage to test with"), ("wrong function",)))
        return Reading(DISPLAY.show(abs((free - loaded) / amps), world.seed, index))

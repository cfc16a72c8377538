"""The low-ohm tester: 200 mA through a conductor, its own leads taken off: protective conductors, joints, windings.

EN 61557-4 asks for 4 to 24 V without load and at least 0.2 A into a short.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.cautions import DEAD_ONLY
from sim.instruments.display import Display, Range
from sim.instruments.injection import Source, inject, own_volts, seen_ohm
from sim.instruments.instrument import Function, Group, Reading, Use
from sim.instruments.shown import Flag, Shown
from sim.said import said
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

SOURCE: Final = Source("low-ohm tester, source", 4.0, 19.0)
"""Some 0.21 A into a short. EN 61557-4, from memory."""

FED_ABOVE_V: Final = 0.1
"""A circuit with more than this in it is fed [V]. CP, no source."""

RANGES: Final = (Range(4.0, 0.001), Range(40.0, 0.01), Range(400.0, 0.1), Range(2000.0, 1.0))
DISPLAY: Final = Display(
    "low-ohm tester", "resistance", "Ω", RANGES, gain_error=0.005, noise_steps=0.5, beyond=said("open, over range")
)


class LowOhmTester:
    """The low-ohm tester of a bag."""

    name = "low-ohm tester"
    group: Group = "electrical"
    help = "Milliohms to some hundred ohms under 200 mA, leads zeroed."
    category = 3
    functions: tuple[Function, ...] = (
        Function(
            "resistance",
            "Ω",
            "Resistance between two terminals or earthed parts of a dead circuit.",
            against="terminal",
            takes_s=20.0,
            caution=DEAD_ONLY,
        ),
    )

    def __init__(self, source: Source = SOURCE) -> None:
        self._source = source
        self._was_fed = -1
        """When it was last put on a fed circuit [µs]: its own current may well pull that down."""

    def place(self, world: World, use: Use) -> Undo:
        """Both leads on."""
        if own_volts(world, use) > FED_ABOVE_V:
            self._was_fed = use.since
        return inject(world, use, self._source)

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What 200 mA find."""
        fed = self._was_fed == use.since or own_volts(world, use, self._source.name) > FED_ABOVE_V
        flags: tuple[Flag, ...] = ("live circuit",) if fed else ()
        ohm = seen_ohm(world, use, self._source)
        if ohm is None or ohm < 0.0:
            return Reading(Shown(None, "Ω", said("open, over range"), ("over range", *flags)))
        shown = DISPLAY.show(ohm, world.seed, index)
        return Reading(Shown(shown.value, shown.unit, shown.text, (*shown.flags, *flags)))

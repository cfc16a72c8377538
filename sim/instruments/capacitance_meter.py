"""The capacitance meter: for a capacitor that was discharged and taken out of its circuit.

What lies beside the capacitor is measured with it. A charge that still stands in it goes through the meter.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.instruments.display import Display, Range
from sim.instruments.injection import net_at, own_volts
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

MAINS_HZ: Final = 50.0
"""At which a capacitor's place in the mains net counts [Hz]."""

FED_ABOVE_V: Final = 5.0
"""More than this in a capacitor or its circuit spoils the figure, and may spoil the meter [V]. CP, no source."""

RANGES: Final = (Range(40e-6, 0.01e-6, "µ"), Range(400e-6, 0.1e-6, "µ"))
DISPLAY: Final = Display("capacitance meter", "capacitance", "F", RANGES, gain_error=0.01)


class CapacitanceMeter:
    """The capacitance meter of a bag."""

    name = "capacitance meter"
    group: Group = "electrical"
    help = "Microfarads of a capacitor that is discharged and stands alone."
    category = 2
    functions: tuple[Function, ...] = (
        Function(
            "capacitance",
            "F",
            "Capacitance between two terminals; whatever lies beside it is measured with it.",
            against="terminal",
            caution="A capacitor holds its charge: isolate, discharge it through a resistor, then measure.",
        ),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Both leads on. A charge goes through the meter."""
        if own_volts(world, use) > FED_ABOVE_V:
            world.tell(
                "danger",
                said(
                    "capacitance asked of a charged or fed circuit, between {at} and {against}",
                    at=use.at,
                    against=use.against,
                ),
                what="capacitance on a charged circuit",
                detail=said("{at} to {against}", at=use.at, against=use.against),
            )
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """From the susceptance between the two leads, every source quiet."""
        if own_volts(world, use) > FED_ABOVE_V:
            return Reading(Shown(None, "F", said("circuit is charged"), ("hazard",)))
        net = net_at(world, use)
        if net is not world.cabinet.mains:
            return Reading(Shown(None, "F", said("no capacitance"), ("over range",)))
        red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
        seen = net.solution().network.resistance(red, black)
        farad = (1.0 / seen).imag / (2.0 * math.pi * MAINS_HZ) if seen else 0.0
        if farad < RANGES[0].step / 2.0:
            return Reading(Shown(None, "F", said("no capacitance"), ("over range",)))
        return Reading(DISPLAY.show(farad, world.seed, index))

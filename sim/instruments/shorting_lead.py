"""A short lead with two clips: joins two terminals, so that a loop there and back can be measured from one end.

Left on, it is a link that nobody wired. Across a supply it is a short circuit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.cautions import DEAD_ONLY
from sim.instruments.injection import own_volts
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

LEAD: Final = "shorting lead"

LEAD_OHM: Final = 0.002
"""A quarter of a metre of 2.5 mm² with its clips [Ω]. CP, no source."""

LIVE_V: Final = 5.0
"""Clipped across more than this it sparks [V]. CP, no source."""


class ShortingLead:
    """The shorting lead of a bag."""

    name = "shorting lead"
    group: Group = "electrical"
    help = "Joins two terminals: the far end of a loop that is measured from the near one."
    functions: tuple[Function, ...] = (
        Function("join", "", "Clipped onto two terminals of a dead circuit.", against="terminal", caution=DEAD_ONLY),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Clip it on."""
        net = world.cabinet.shared_net(use.at, use.against)
        if net is None:
            return nothing
        if own_volts(world, use) > LIVE_V:
            world.tell(
                "danger",
                said(
                    "a lead clipped across a live circuit, between {at} and {against}", at=use.at, against=use.against
                ),
                what="short circuit made by hand",
                detail=said("{at} to {against}", at=use.at, against=use.against),
            )
        red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
        ohm: complex = complex(LEAD_OHM) if net is world.cabinet.mains else LEAD_OHM
        net.add(Resistor(LEAD, red, black, ohm))

        def off() -> None:
            net.remove(LEAD)

        return off

    def read(self, world: World, use: Use, index: int) -> Reading:
        """It shows nothing; it is there."""
        return Reading(Shown(None, "", said("is on")))

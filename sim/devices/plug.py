"""A guard's plug at the board, and what people lay across an input."""

from __future__ import annotations

from typing import Final

from sim.devices.boardio import EDGE_INPUTS, input_node
from sim.devices.part import PLUG_OHM, Terminal, pins
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist, Undo, in_turn

LINK_OHM: Final = 0.02
"""A short piece of wire under two screws [Ω]. CP, no source."""

LOOSE_RESISTOR_OHM: Final = 8200.0
"""What is laid across an edge's input to silence it [Ω]. Facts 8.4 (dummy resistor)."""


class Plug:
    """Two poles that carry a guard's loop from the board into the field. The device's own feed isn't in it."""

    def __init__(self, guard: str) -> None:
        self.guard = guard
        self.pin = "line" if guard in EDGE_INPUTS else "contact"
        self.terminals: tuple[Terminal, ...] = pins(f"{guard} plug", self.pin, "common")
        self._poles = (f"{guard} plug, {self.pin} pole", f"{guard} plug, common pole")

    def stamp(self, net: Netlist) -> None:
        """From the board's two terminals to the field side."""
        net.add(
            Contact(self._poles[0], input_node(self.guard), f"{self.guard} plug.{self.pin}", True, PLUG_OHM),
            Contact(self._poles[1], f"{self.guard}.common", f"{self.guard} plug.common", True, PLUG_OHM),
        )

    def push(self, net: Netlist, in_: bool) -> Undo:
        """Push it in or pull it out, both poles."""
        return in_turn(*(net.change(pole, closed=in_) for pole in self._poles))

    def is_in(self, net: Netlist) -> bool:
        """Whether both poles make contact."""
        poles = [net[pole] for pole in self._poles]
        return all(isinstance(pole, Contact) and pole.closed for pole in poles)


def bridge_name(guard: str) -> str:
    """The element that stands for a bridge over a guard's input."""
    return f"{guard}, bridge"


def lay_bridge(net: Netlist, guard: str) -> Undo:
    """Lay a wire link across a guard's input; at an edge's input it is a loose resistor."""
    ohm = LOOSE_RESISTOR_OHM if guard in EDGE_INPUTS else LINK_OHM
    return net.add(Resistor(bridge_name(guard), input_node(guard), f"{guard}.common", ohm))

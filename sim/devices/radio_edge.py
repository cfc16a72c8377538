"""A safety edge without wires: in the leaf a transmitter with a cell, at the board a receiver with two relays.

The transmitter watches the line of the profile by itself and says how it is: at every change, and at its heartbeat.
The receiver shows the board an end resistor while it hears that all is well, a short when the profile is pressed, and
nothing at all when the heartbeat stays away.
"""

from __future__ import annotations

from typing import Final

from sim.devices.cell import Cell
from sim.devices.edge import PRESSED_OHM, soak
from sim.devices.part import Terminal, Volts, pins
from sim.site import Edge, RadioLink
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist

SENSING_OHM: Final = 47_000.0
"""From the cell to the profile's line [Ω]. CP, no source."""

PRESSED_SHARE: Final = 5_000.0 / (5_000.0 + SENSING_OHM)
"""Below this share of its cell's voltage the transmitter takes the line for pressed: 5 kΩ, as a board does."""

BROKEN_SHARE: Final = 100_000.0 / (100_000.0 + SENSING_OHM)
"""Above this share it takes it for broken."""

FEED_OHM: Final = 1200.0
"""The receiver as a load [Ω]. CP, no source."""

FEED_LEAST_V: Final = 18.0
"""Below this it is deaf [V]. CP, no source."""


class RadioEdge:
    """One leaf's edge with its radio link."""

    def __init__(self, guard: str, edge: Edge, link: RadioLink) -> None:
        self.guard = guard
        self.place = f"{guard} at the leaf"
        self.receiver = f"{guard} receiver"
        self.heard = True
        """Whether the transmitter's words come through just now."""
        self._ohm = edge.ohm
        self._cell = Cell(f"{guard} transmitter", link.charge)
        self._strips = f"{guard}, strips"
        self.terminals: tuple[Terminal, ...] = (
            *pins(self.place, "line", "return"),
            *self._cell.terminals,
            *pins(self.receiver, "contact", "contact return", "supply plus", "supply minus"),
        )

    def stamp(self, net: Netlist) -> None:
        """The island in the leaf, and the receiver beside the board."""
        self._cell.stamp(net)
        cell, place, receiver = self._cell.name, self.place, self.receiver
        held = f"{receiver}.held"
        net.add(
            Resistor(f"{self.guard} transmitter, sensing", f"{cell}.plus", f"{place}.line", SENSING_OHM),
            Resistor(f"{self.guard} transmitter, return wire", f"{cell}.minus", f"{place}.return", 0.05),
            Resistor(f"{self.guard}, end resistor", f"{place}.line", f"{place}.return", self._ohm),
            Contact(self._strips, f"{place}.line", f"{place}.return", False, PRESSED_OHM),
            Resistor(f"{receiver}, contact wire", f"{self.guard} plug.line", f"{receiver}.contact", 0.02),
            Resistor(f"{receiver}, return wire", f"{self.guard} plug.common", f"{receiver}.contact return", 0.02),
            Contact(f"{receiver}, well relay", f"{receiver}.contact", held, False, 0.1),
            Resistor(f"{receiver}, resistor", held, f"{receiver}.contact return", 8200.0),
            Contact(f"{receiver}, pressed relay", f"{receiver}.contact", f"{receiver}.contact return", False, 0.1),
            Resistor(f"{receiver}, plus wire", "accessory supply plug.plus", f"{receiver}.supply plus", 0.02),
            Resistor(f"{receiver}, minus wire", "accessory supply plug.minus", f"{receiver}.supply minus", 0.02),
            Resistor(f"{receiver}, load", f"{receiver}.supply plus", f"{receiver}.supply minus", FEED_OHM),
        )

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Press the profile or let it go; True if that changed the net."""
        return net.switch(self._strips, pressed)

    def soak(self, net: Netlist, ohm: float | None) -> bool:
        """Water in the profile; True if that changed the net."""
        return soak(net, self.guard, self.place, ohm)

    def refit(self, net: Netlist, edge: Edge) -> None:
        """Its cell is as full as it is."""
        if edge.radio is not None:
            self._cell.refit(net, edge.radio.charge)

    def react(self, net: Netlist, volts: Volts) -> bool:
        """The relays follow what is heard of the profile; True if one moved."""
        feed = volts(f"{self.receiver}.supply plus", f"{self.receiver}.supply minus")
        line = volts(f"{self.place}.line", f"{self.place}.return")
        cell = volts(f"{self._cell.name}.plus", f"{self._cell.name}.minus")
        hears = self.heard and feed is not None and feed >= FEED_LEAST_V
        share = line / cell if line is not None and cell else 1.0
        changed = [
            net.switch(f"{self.receiver}, well relay", hears and share <= BROKEN_SHARE),
            net.switch(f"{self.receiver}, pressed relay", hears and share < PRESSED_SHARE),
        ]
        return any(changed)

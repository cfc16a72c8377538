"""A soft closing edge: a line with an end resistor that a press shorts."""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal, core, pins
from sim.site import Cable, Edge
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist

PRESSED_OHM: Final = 20.0
"""The two conductive strips pressed together [Ω]; facts say 1 kΩ at most (2.2). CP."""


class ResistorEdge:
    """One leaf's edge as it is wired."""

    def __init__(self, guard: str, edge: Edge, cable: Cable) -> None:
        self.guard = guard
        self.place = f"{guard} at the leaf"
        self._edge = edge
        self._cable = cable
        self._strips = f"{guard}, strips"
        self.terminals: tuple[Terminal, ...] = pins(self.place, "line", "return")

    def stamp(self, net: Netlist) -> None:
        """Two cores, the end resistor, the strips."""
        net.add(
            core(f"{self.guard}, line core", f"{self.guard} plug.line", f"{self.place}.line", self._cable),
            core(f"{self.guard}, return core", f"{self.guard} plug.common", f"{self.place}.return", self._cable),
            Resistor(f"{self.guard}, end resistor", f"{self.place}.line", f"{self.place}.return", self._edge.ohm),
            Contact(self._strips, f"{self.place}.line", f"{self.place}.return", False, PRESSED_OHM),
        )

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Press it or let it go; True if that changed the net."""
        return net.switch(self._strips, pressed)

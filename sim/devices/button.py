"""Normally open contacts at the end of a cable: push-buttons, key switch, timer, keypad, intercom."""

from __future__ import annotations

from sim.devices.joint import held_core
from sim.devices.part import Terminal, pins
from sim.site import Cable
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist


class Button:
    """One control as it is wired to the plug of its name; a second contact on an input has a plug of its own."""

    def __init__(self, control: str, cable: Cable, place: str = "at the post") -> None:
        self.control = control
        self.place = f"{control} {place}"
        self._cable = cable
        self._contact = f"{control}, contacts"
        self.terminals: tuple[Terminal, ...] = pins(self.place, "contact", "return")

    def stamp(self, net: Netlist) -> None:
        """Two cores and the contact."""
        plug = pins(f"{self.control} plug", "contact", "common")
        net.add(
            *held_core(f"{self.control}, contact core", plug[0], self.terminals[0], self._cable),
            *held_core(f"{self.control}, return core", plug[1], self.terminals[1], self._cable),
            Contact(self._contact, f"{self.place}.contact", f"{self.place}.return", False, 0.05),
        )

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Press and hold it, or let it go; True if that changed the net."""
        return net.switch(self._contact, pressed)

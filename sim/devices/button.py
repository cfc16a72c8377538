"""Push-buttons, key switch and timer: normally open contacts at the end of a cable."""

from __future__ import annotations

from sim.devices.part import Terminal, core, pins
from sim.site import Cable
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist


class Button:
    """One control as it is wired to the command input of its name."""

    def __init__(self, control: str, cable: Cable) -> None:
        self.control = control
        self.place = f"{control} at the post"
        self._cable = cable
        self._contact = f"{control}, contacts"
        self.terminals: tuple[Terminal, ...] = pins(self.place, "contact", "return")

    def stamp(self, net: Netlist) -> None:
        """Two cores and the contact."""
        net.add(
            core(f"{self.control}, contact core", f"{self.control}.contact", f"{self.place}.contact", self._cable),
            core(f"{self.control}, return core", f"{self.control}.common", f"{self.place}.return", self._cable),
            Contact(self._contact, f"{self.place}.contact", f"{self.place}.return", False, 0.05),
        )

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Press and hold it, or let it go; True if that changed the net."""
        return net.switch(self._contact, pressed)

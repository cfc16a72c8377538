"""The stop circuit: a loop through a normally closed button."""

from __future__ import annotations

from sim.devices.part import Terminal, core, pins
from sim.site import Cable
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist


class StopCircuit:
    """The stop button as it is wired."""

    terminals: tuple[Terminal, ...] = pins("stop button", "contact", "return")

    def __init__(self, cable: Cable) -> None:
        self._cable = cable

    def stamp(self, net: Netlist) -> None:
        """Two cores and the contact."""
        net.add(
            core("stop circuit, contact core", "stop circuit plug.contact", "stop button.contact", self._cable),
            core("stop circuit, return core", "stop circuit plug.common", "stop button.return", self._cable),
            Contact("stop button, contact", "stop button.contact", "stop button.return", True, 0.05),
        )

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Push the button in or pull it out; True if that changed the net."""
        return net.switch("stop button, contact", not pressed)

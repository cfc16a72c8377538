"""The warning lamp."""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal, core, pins
from sim.site import Cable
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist

LAMP_OHM: Final = 24.0 * 24.0 / 25.0
"""24 V 25 W, lit [Ω]: 1.04 A (facts 8, reference bench)."""


class WarningLamp:
    """The lamp on its post, as a load on the board's lamp output."""

    terminals: tuple[Terminal, ...] = pins("warning lamp at the post", "plus", "minus")

    def __init__(self, cable: Cable) -> None:
        self._cable = cable

    def stamp(self, net: Netlist) -> None:
        """Two cores and the lamp."""
        post = "warning lamp at the post"
        net.add(
            core("warning lamp, plus core", "warning lamp.plus", f"{post}.plus", self._cable),
            core("warning lamp, minus core", "warning lamp.minus", f"{post}.minus", self._cable),
            Resistor("warning lamp, filament", f"{post}.plus", f"{post}.minus", LAMP_OHM),
        )

"""The cell of a transmitter: an island of its own on the net, so that a meter can be held to it."""

from __future__ import annotations

from sim.devices.part import Terminal, pins
from sim.devices.radio_link import cell_ohm, cell_v
from sim.wiring.elements import VoltageSource
from sim.wiring.netlist import Netlist


class Cell:
    """One lithium cell in its holder."""

    def __init__(self, owner: str, charge: float) -> None:
        self.name = f"{owner} cell"
        self._charge = charge
        self.terminals: tuple[Terminal, ...] = pins(self.name, "plus", "minus")

    def _source(self, charge: float) -> VoltageSource:
        return VoltageSource(self.name, f"{self.name}.plus", f"{self.name}.minus", cell_v(charge), cell_ohm(charge))

    def stamp(self, net: Netlist) -> None:
        """The cell."""
        net.add(self._source(self._charge))

    def refit(self, net: Netlist, charge: float) -> None:
        """It is as full as it is now."""
        if charge != self._charge:
            self._charge = charge
            net.put([self._source(charge)])

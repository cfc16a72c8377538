"""The electric lock: a coil at the end of a cable that lifts a bolt, and a bolt that drops behind a shut leaf."""

from __future__ import annotations

from typing import Final

from sim.devices.lamp import FedLoad
from sim.devices.part import Volts
from sim.site import Cable, Lock
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist

COIL: Final = "lock, coil"


class ElectricLock:
    """Coil, cable and bolt."""

    def __init__(self, lock: Lock, cable: Cable) -> None:
        self.data = lock
        self.feed = FedLoad("lock", "lock at the leaf", cable)
        self.terminals = self.feed.ends

    def stamp(self, net: Netlist) -> None:
        """Its feed and its coil, cold."""
        self.feed.stamp(net)
        plus, minus = self.terminals
        net.add(Resistor(COIL, plus.node, minus.node, self.data.coil_ohm))

    def refit(self, lock: Lock) -> None:
        """The lock is like this from now on; its coil stays an element of the net."""
        self.data = lock

    def pulls(self, net: Netlist, volts: Volts) -> bool:
        """Whether the coil lifts: enough volts across it, and a current through it."""
        plus, minus = self.terminals
        across = volts(plus.node, minus.node)
        coil = net.elements.get(COIL)
        whole = isinstance(coil, Resistor) and abs(coil.ohm) < 100.0 * self.data.coil_ohm
        return whole and across is not None and abs(across) >= self.data.pull_in_v

    def lifts_against(self, pressed_n: float) -> bool:
        """Whether a coil that pulls gets the bolt out of its keep while a leaf presses on it [N]: pull above μ·N."""
        return not self.data.stuck and self.data.pull_n > self.data.friction * max(0.0, pressed_n)

"""The electric lock: a coil at the end of a cable that lifts a bolt, and a bolt that drops behind a shut leaf."""

from __future__ import annotations

from typing import Final

from sim.devices.lamp import FedLoad
from sim.devices.part import Volts
from sim.site import Cable, Lock
from sim.wiring.conductor import warmed
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

COIL: Final = "lock, coil"

WARMTH: Final = "lock, warmth of the coil"
"""What its copper has more when it is warm than at 20 °C, as an element of its own behind the coil."""

LEAST_OHM: Final = 0.001
"""An element is never without any resistance [Ω]."""

WARMTH_DIGITS: Final = 1
"""It follows in steps of 0.1 Ω: some 3 K."""


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
        net.add(
            Resistor(COIL, plus.node, "lock.coil end", self.data.coil_ohm),
            Resistor(WARMTH, "lock.coil end", minus.node, LEAST_OHM),
        )

    def refit(self, lock: Lock) -> None:
        """The lock is like this from now on; its coil stays an element of the net."""
        self.data = lock

    def warm(self, net: Netlist, coil_c: float) -> bool:
        """The coil is as warm as this [°C]; True if that changed the net. At 20 °C and below it counts as cold."""
        more = warmed(self.data.coil_ohm, coil_c) - self.data.coil_ohm
        ohm = max(LEAST_OHM, round(more, WARMTH_DIGITS))
        before = net.elements.get(WARMTH)
        if not isinstance(before, Resistor) or before.ohm == ohm:
            return False
        net.change(WARMTH, ohm=ohm)
        return True

    def loss_w(self, solved: Potentials) -> float:
        """What the coil turns into heat now [W]."""
        return float(solved.power(COIL).real + solved.power(WARMTH).real)

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

"""The radio receiver: a load on the accessory rail that hears only while it is fed."""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal, Volts, pins
from sim.devices.plug import Plug
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist

RECEIVER_OHM: Final = 1200.0
"""20 mA at 24 V [Ω]. CP, no source."""

RECEIVER_LEAST_V: Final = 18.0
"""Below this it is deaf [V]. CP, no source."""


class RadioReceiver:
    """The receiver beside the board."""

    terminals: tuple[Terminal, ...] = pins("radio receiver", "plus", "minus")
    plug = Plug("radio receiver", {pin: f"accessory supply.{pin}" for pin in ("plus", "minus")})

    def stamp(self, net: Netlist) -> None:
        """Two short wires and the load."""
        net.add(
            Resistor("radio receiver, plus wire", "radio receiver plug.plus", "radio receiver.plus", 0.02),
            Resistor("radio receiver, minus wire", "radio receiver plug.minus", "radio receiver.minus", 0.02),
            Resistor("radio receiver, load", "radio receiver.plus", "radio receiver.minus", RECEIVER_OHM),
        )

    def hears(self, volts: Volts) -> bool:
        """Whether it is fed."""
        level = volts("radio receiver.plus", "radio receiver.minus")
        return level is not None and level >= RECEIVER_LEAST_V

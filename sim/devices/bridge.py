"""One leaf's output path on the board: copper, power stage with its protection, and the two direction relays.

The power stage regulates by duty, averaged over its switching; it gives duty × supply to the relays. While no
movement is on it rests switched through, and the relays alone keep the motor off: so a welded relay drives its motor
without a command and at the full rail, and a stage that has failed short can't regulate while a relay is pulled in.
CP, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.devices.relay import DirectionRelay
from sim.units import LeafName
from sim.wiring.elements import Contact, Element, Resistor, VoltageSource
from sim.wiring.netlist import Netlist

COPPER_OHM: Final = 0.004
"""Board copper from the common bus to one power stage [Ω]. CP, no source."""

STAGE_OHM: Final = 0.002
"""The stage's transistors switched through [Ω]. CP, no source."""

PROTECTION_OHM: Final = 0.001
"""The closed contact of its thermal protection [Ω]. CP, no source."""

BLOCKING_OHM: Final = 1e6
"""Its transistor while it blocks [Ω]. CP, no source."""

THROUGH_OHM: Final = 1.0
"""A transistor that blocks no better than this passes the whole rail [Ω]: little beside winding and cable. Ours."""

FASTEST_SLEW: Final = 1000.0
"""The whole duty within a step [1/s]: what isn't regulated has no ramp."""

NO_LIMIT_A: Final = 1e6
"""What isn't regulated has no current limit [A]."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a bridge is asked for: signed duty, its slew [1/s], current limit [A], brake."""

    duty: float = 0.0
    slew_per_s: float = 2.0
    limit_a: float = 8.0
    brake: bool = False


class Bridge:
    """The output path of one leaf; it has no terminals of its own but those of the motor at the board.

    For a mains motor nothing of it is here: its relays stand on the mains side, and no stage regulates it.
    """

    def __init__(self, leaf: LeafName, on_mains: bool = False) -> None:
        self.leaf = leaf
        self._on_mains = on_mains
        self.input = f"board.{leaf} bridge"
        self.source = f"{leaf} power stage"
        self.channel = f"{leaf} power stage, channel"
        self.protection = f"{leaf} power stage, protection"
        self.plus = f"{leaf} leaf motor.plus"
        self.minus = f"{leaf} leaf motor.minus"
        self.relays = {1: DirectionRelay(leaf, "opening"), -1: DirectionRelay(leaf, "closing")}

    def stamp(self, net: Netlist) -> None:
        """Copper, blocking transistor, protection, contact faces. The stage itself is added by `legs`."""
        net.add(Resistor(f"{self.leaf} bridge, copper", "board.bus", self.input, COPPER_OHM))
        if self._on_mains:
            return
        net.add(
            Resistor(self.channel, self.input, f"board.{self.leaf} stage", BLOCKING_OHM),
            Contact(self.protection, f"board.{self.leaf} stage", f"board.{self.leaf} output", True, PROTECTION_OHM),
        )
        for relay in self.relays.values():
            relay.stamp(net)

    def legs(self, sign: int) -> tuple[Element, ...]:
        """The stage, and what the relay pulled in for a direction joins (+1 opening, −1 closing, 0 none)."""
        stage = VoltageSource(self.source, f"board.{self.leaf} stage", "board.common", 0.0, STAGE_OHM)
        return (stage, *(self.relays[sign].pulled() if sign else ()))

    def is_through(self, net: Netlist) -> bool:
        """Whether its transistor can't block any more."""
        if self._on_mains:
            return False
        return abs(complex(getattr(net[self.channel], "ohm", BLOCKING_OHM))) <= THROUGH_OHM

    def gives(self, net: Netlist, asked: Asked, sign: int, sense: int) -> Asked:
        """What the stage really gives.

        `sign`: which relay the board pulls in, 0 none. `sense`: which way the output stands towards the motor's
        terminals as the net has it, +1 in the opening sense, 0 not at all.
        """
        if sense == 0:
            return asked
        if sign == 0 or self.is_through(net):
            return Asked(float(sense), FASTEST_SLEW, NO_LIMIT_A)
        return asked if sense == sign else Asked(-asked.duty, asked.slew_per_s, asked.limit_a, asked.brake)

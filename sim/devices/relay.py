"""The board's direction relays: one for opening and one for closing, each with a feed and a return contact.

The opening relay lays the power stage's output on the motor's plus terminal and the minus terminal on common; the
closing relay the other way round. With both at rest the motor is joined to nothing. What a contact is worth (worn,
burnt, welded) is a fact of the net; whether it is pulled in follows from the board.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from sim.units import LeafName
from sim.wiring.elements import Contact, Element, Resistor
from sim.wiring.netlist import Netlist

Way: TypeAlias = Literal["opening", "closing"]

FEED_OHM: Final = 0.001
"""A sound feed contact [Ω]. CP, no source; facts 8.2 let it drop 0.2 V at most."""

RETURN_OHM: Final = 0.004
"""A sound return contact with the shunt behind it [Ω]. CP, no source."""

ARMATURE_OHM: Final = 0.001
"""Spring and solder joints of a pulled contact [Ω]. CP, no source."""


class DirectionRelay:
    """One of a leaf's two relays."""

    def __init__(self, leaf: LeafName, way: Way) -> None:
        self.name = f"{leaf} {way} relay"
        self._output = f"board.{leaf} output"
        self._feed = f"board.{leaf} {way} feed"
        self._return = f"board.{leaf} {way} return"
        self._terminals = (f"{leaf} leaf motor.plus", f"{leaf} leaf motor.minus")[:: 1 if way == "opening" else -1]

    def stamp(self, net: Netlist) -> None:
        """Both contact faces; they carry current only while the relay is pulled in."""
        net.add(
            Resistor(f"{self.name}, feed contact", self._output, self._feed, FEED_OHM),
            Resistor(f"{self.name}, return contact", self._return, "board.common", RETURN_OHM),
        )

    def pulled(self) -> tuple[Element, ...]:
        """What joins while it is pulled in."""
        fed, returned = self._terminals
        return (
            Contact(f"{self.name}, feed armature", self._feed, fed, True, ARMATURE_OHM),
            Contact(f"{self.name}, return armature", returned, self._return, True, ARMATURE_OHM),
        )

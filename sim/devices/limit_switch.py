"""Limit switches in a motor's own lead: each opens at its place, and a diode across it lets the way back pass."""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal, pins
from sim.site import AnyDrive
from sim.units import LeafName
from sim.wiring.elements import Contact, Element
from sim.wiring.netlist import Netlist

CONTACT_OHM: Final = 0.05
"""A sound contact [Ω]. CP, no source."""

DIODE_OHM: Final = 0.25
"""A diode that carries a motor's current, as a resistance: 0.7 V at 2.8 A [Ω]. CP, no source."""


class LimitSwitches:
    """Both switches of one leaf, between its motor lead and its cut-out; a piece of wire where none are fitted."""

    def __init__(self, leaf: LeafName, drive: AnyDrive, lead: str, inner: str) -> None:
        self.fitted = drive.sensing.limits_in_motor_lead
        self.open = f"{leaf} open limit switch"
        self.closed = f"{leaf} closed limit switch"
        self._lead = lead
        self._inner = inner
        self.terminals: tuple[Terminal, ...] = (
            (*pins(self.open, "contact", "return"), *pins(self.closed, "contact", "return")) if self.fitted else ()
        )

    @property
    def inner(self) -> str:
        """The node behind both: the lead itself where none are fitted."""
        return self._inner if self.fitted else self._lead

    def stamp(self, net: Netlist) -> None:
        """Both contacts, closed, with their wires inside the drive."""
        if not self.fitted:
            return
        net.add(
            Contact(f"{self.open}, lead joint", self._lead, f"{self.open}.contact", True, 0.002),
            Contact(f"{self.open}, contact", f"{self.open}.contact", f"{self.open}.return", True, CONTACT_OHM),
            Contact(f"{self.open}, return joint", f"{self.open}.return", f"{self.closed}.contact", True, 0.002),
            Contact(f"{self.closed}, contact", f"{self.closed}.contact", f"{self.closed}.return", True, CONTACT_OHM),
            Contact(f"{self.closed}, return joint", f"{self.closed}.return", self._inner, True, 0.002),
        )

    def move(self, net: Netlist, reached_open: bool, reached_closed: bool) -> bool:
        """The leaf presses them or leaves them; True if that changed the net."""
        if not self.fitted:
            return False
        changed = net.switch(f"{self.open}, contact", not reached_open)
        return net.switch(f"{self.closed}, contact", not reached_closed) or changed

    def diodes(self, way: int | None) -> tuple[Element, ...]:
        """The diodes that conduct while the motor is driven one way: +1 opening, −1 closing, None either way.

        With nothing driven (0) neither does: a meter is held so that they block.
        """
        if not self.fitted:
            return ()
        across = ((self.open, way is None or way < 0), (self.closed, way is None or way > 0))
        return tuple(
            Contact(f"{name}, diode", f"{name}.contact", f"{name}.return", conducts, DIODE_OHM)
            for name, conducts in across
        )

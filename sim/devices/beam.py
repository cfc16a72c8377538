"""A through-beam pair: emitter on the switched supply, receiver with a contact that is closed when all is clear.

How much light comes from each emitter is told to it (`optics`); the part says what follows on the net.
"""

from __future__ import annotations

from typing import Final

from sim.devices.optics import Light
from sim.devices.part import Terminal, Volts, core, pins
from sim.site import Cable
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist

FEED_OHM: Final = 800.0
"""Emitter or receiver as a load: 30 mA at 24 V [Ω]. CP, no source."""

FEED_LEAST_V: Final = 18.0
"""Below this an emitter is dark and a receiver is asleep [V]. CP, no source."""

CONTACT_OHM: Final = 0.1
"""The receiver's contact when closed [Ω]; healthy below 1 Ω (facts 8.4, misaligned)."""


RELEASE: Final = 0.8
"""A contact that has closed opens below this share of the light that closed it: hysteresis. CP, no source."""


class BeamPair:
    """One beam as it is wired."""

    def __init__(self, guard: str, cable: Cable, light: Light) -> None:
        self.guard = guard
        self.blocked = False
        """Whether a card is before the receiver."""
        self.light = light
        """What comes to the receiver of each emitter that is lit, over what it needs."""
        self.receiver = f"{guard} receiver"
        self.emitter = f"{guard} emitter"
        self.contact = f"{guard} receiver, contact"
        self._cable = cable
        self.terminals: tuple[Terminal, ...] = (
            *pins(self.receiver, "contact", "contact return", "supply plus", "supply minus"),
            *pins(self.emitter, "supply plus", "supply minus"),
        )

    def stamp(self, net: Netlist) -> None:
        """Six cores, two loads, one contact."""
        runs = (
            ("contact core", f"{self.guard} plug.contact", f"{self.receiver}.contact"),
            ("return core", f"{self.guard} plug.common", f"{self.receiver}.contact return"),
            ("receiver plus core", "accessory supply plug.plus", f"{self.receiver}.supply plus"),
            ("receiver minus core", "accessory supply plug.minus", f"{self.receiver}.supply minus"),
            ("emitter plus core", "emitter supply plug.plus", f"{self.emitter}.supply plus"),
            ("emitter minus core", "emitter supply plug.minus", f"{self.emitter}.supply minus"),
        )
        net.add(*(core(f"{self.guard}, {name}", a, b, self._cable) for name, a, b in runs))
        net.add(
            Contact(self.contact, f"{self.receiver}.contact", f"{self.receiver}.contact return", False, CONTACT_OHM),
            Resistor(
                f"{self.receiver}, load", f"{self.receiver}.supply plus", f"{self.receiver}.supply minus", FEED_OHM
            ),
            Resistor(
                f"{self.emitter}, load", f"{self.emitter}.supply plus", f"{self.emitter}.supply minus", FEED_OHM
            ),
        )

    @property
    def seen(self) -> tuple[bool, Light]:
        """All that it sees: what decides, with the net, how its contact stands."""
        return self.blocked, self.light

    def react(self, net: Netlist, volts: Volts) -> bool:
        """Close the contact when enough light comes, open it when too little does; True if that changed the net."""
        held = net[self.contact]
        enough = RELEASE if isinstance(held, Contact) and held.closed else 1.0
        margin = self.margin(volts)
        return net.switch(self.contact, margin is not None and margin >= enough)

    def margin(self, volts: Volts) -> float | None:
        """Signal over threshold; None when the receiver isn't fed. Only emitters that are fed shine."""
        if not _fed(volts, self.receiver):
            return None
        if self.blocked:
            return 0.0
        return sum(share for guard, share in self.light if _fed(volts, f"{guard} emitter"))


def _fed(volts: Volts, end: str) -> bool:
    level = volts(f"{end}.supply plus", f"{end}.supply minus")
    return level is not None and level >= FEED_LEAST_V

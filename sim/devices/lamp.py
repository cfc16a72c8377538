"""The warning lamp and the yard light: loads at the end of a cable, on the board's outputs."""

from __future__ import annotations

from typing import Final

from sim.devices.joint import held_core
from sim.devices.part import Terminal, pins
from sim.devices.plug import two_pole_plug
from sim.site import Cable, YardLight
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

LAMP_OHM: Final = 24.0 * 24.0 / 25.0
"""24 V 25 W, lit [Ω]: 1.04 A (facts 8, reference bench)."""

COLD_OHM: Final = 2.0
"""Its filament cold, as an ohmmeter finds it [Ω]; about 2 Ω (facts 8.1, board fuse)."""

GLOWS_V: Final = 3.0
"""From this on its filament is hot, within a tenth of a second [V]. CP, no source."""

FILAMENT: Final = "warning lamp, filament"


class FedLoad:
    """A cable with its block at the board and two terminals at its far end."""

    def __init__(self, name: str, place: str, cable: Cable) -> None:
        self.name = name
        self.place = place
        self.plug = two_pole_plug(name)
        self.ends: tuple[Terminal, ...] = pins(place, "plus", "minus")
        self._cable = cable

    def stamp(self, net: Netlist) -> None:
        """Screws and both cores; its block is a part of its own."""
        for near, far in zip(self.plug.terminals, self.ends, strict=True):
            net.add(*held_core(f"{self.name}, {near.pin} core", near, far, self._cable))


class WarningLamp:
    """The lamp on its post."""

    def __init__(self, cable: Cable) -> None:
        self.feed = FedLoad("warning lamp", "warning lamp at the post", cable)
        self.terminals = self.feed.ends

    def stamp(self, net: Netlist) -> None:
        """Its feed and its filament, cold."""
        self.feed.stamp(net)
        plus, minus = self.terminals
        net.add(Resistor(FILAMENT, plus.node, minus.node, COLD_OHM))

    def react(self, net: Netlist, solved: Potentials) -> bool:
        """The filament is hot while it is fed; True if that changed the net. A broken one stays broken."""
        filament = net.elements.get(FILAMENT)
        if not isinstance(filament, Resistor) or filament.ohm not in (COLD_OHM, LAMP_OHM):
            return False
        across = solved.between(filament.a, filament.b)
        ohm = LAMP_OHM if across is not None and abs(across) >= GLOWS_V else COLD_OHM
        if filament.ohm == ohm:
            return False
        net.change(FILAMENT, ohm=ohm)
        return True


class LightOverTheYard:
    """The yard light as a load."""

    def __init__(self, light: YardLight, cable: Cable) -> None:
        self.feed = FedLoad("yard light", "yard light at the wall", cable)
        self.terminals = self.feed.ends
        self._ohm = light.ohm

    def stamp(self, net: Netlist) -> None:
        """Its feed and the light."""
        self.feed.stamp(net)
        plus, minus = self.terminals
        net.add(Resistor("yard light, load", plus.node, minus.node, self._ohm))

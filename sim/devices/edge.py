"""A soft closing edge: one line or several with an end resistor, and strips that a press shorts.

Several profiles belong in series with one resistor at the far end: then a press anywhere shorts the line and a break
anywhere opens it. Wired in another way they read wrong, and hide a break.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Protocol

from sim.devices.joint import held_core
from sim.devices.part import Terminal, Volts, core, pins
from sim.site import Cable, Edge
from sim.wiring.elements import Contact, Element, Resistor
from sim.wiring.netlist import Netlist

PRESSED_OHM: Final = 20.0
"""The two conductive strips pressed together [Ω]; facts say 1 kΩ at most (2.2). CP."""

FULL_OF_WATER_OHM: Final = 1200.0
"""Between the strips of a profile full of water [Ω]: with the end resistor beside it 1 to 5 kΩ (facts 8.4). CP."""

JOINING: Final = Cable(length_m=2.0, section_mm2=0.5)
"""From one profile to the next. CP, no source."""

SERIES_ONE: Final = "in series, one end resistor"
SERIES_EACH: Final = "in series, a resistor each"


class SafetyEdge(Protocol):
    """A wired edge or one with a radio link."""

    heard: bool
    """Whether its words come through; a wire always speaks."""

    @property
    def guard(self) -> str:
        """The guard input it belongs to."""
        ...

    @property
    def terminals(self) -> tuple[Terminal, ...]:
        """Its terminals."""
        ...

    def stamp(self, net: Netlist) -> None:
        """Add its elements."""
        ...

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Press it or let it go; True if that changed the net."""
        ...

    def soak(self, net: Netlist, ohm: float | None) -> bool:
        """Water between its strips [Ω], None without; True if that changed the net."""
        ...

    def react(self, net: Netlist, volts: Volts) -> bool:
        """Follow what feeds it; True if that changed the net."""
        ...

    def refit(self, net: Netlist, edge: Edge) -> None:
        """Its cell, if it has one, is as full as it is."""
        ...


def water_ohm(water: float, sway: float) -> float | None:
    """Resistance between the strips for how much water stands there; `sway` from 0 to 1 is how it lies just now."""
    return None if water <= 0.0 else FULL_OF_WATER_OHM / water * (0.8 + 0.4 * sway)


class ResistorEdge:
    """One leaf's edge as it is wired."""

    def __init__(self, guard: str, edge: Edge, cable: Cable) -> None:
        self.guard = guard
        self.heard = True
        self.place = f"{guard} at the leaf"
        self._edge = edge
        self._cable = cable
        self._strips = f"{guard}, strips"
        self._places = (self.place, *(f"{guard}, profile {number}" for number in range(2, edge.profiles + 1)))
        self.terminals: tuple[Terminal, ...] = tuple(
            terminal for place in self._places for terminal in pins(place, "line", "return")
        )

    def stamp(self, net: Netlist) -> None:
        """The cores to the leaf, the profiles, the end resistors."""
        plug = pins(f"{self.guard} plug", "line", "common")
        net.add(*held_core(f"{self.guard}, line core", plug[0], self.terminals[0], self._cable))
        back = self.terminals[-1] if self._edge.wiring == SERIES_EACH else self.terminals[1]
        net.add(*held_core(f"{self.guard}, return core", plug[1], back, self._cable))
        for index, place in enumerate(self._places):
            strips = self._strips if index == 0 else f"{self.guard}, strips of profile {index + 1}"
            net.add(Contact(strips, f"{place}.line", f"{place}.return", False, PRESSED_OHM))
        net.add(*self._joined(), *self._resistors())

    def _joined(self) -> Iterator[Element]:
        """From profile to profile."""
        for index, place in enumerate(self._places[1:]):
            before, number = self._places[index], index + 2
            names = (f"{self.guard}, joining core {number}", f"{self.guard}, joining return core {number}")
            if self._edge.wiring == SERIES_EACH:
                # the second profile sits in the return of the first: the two resistors add up
                yield core(names[0], f"{before}.return", f"{place}.line", JOINING)
            else:
                yield core(names[0], f"{before}.line", f"{place}.line", JOINING)
                yield core(names[1], f"{before}.return", f"{place}.return", JOINING)

    def _resistors(self) -> Iterator[Element]:
        last = len(self._places) - 1
        for index, place in enumerate(self._places):
            if self._edge.wiring == SERIES_ONE and index < last:
                continue
            only = index == last
            name = f"{self.guard}, end resistor" if only else f"{self.guard}, resistor of profile {index + 1}"
            yield Resistor(name, f"{place}.line", f"{place}.return", self._edge.ohm)

    def press(self, net: Netlist, pressed: bool) -> bool:
        """Press it or let it go; True if that changed the net."""
        return net.switch(self._strips, pressed)

    def soak(self, net: Netlist, ohm: float | None) -> bool:
        """Water between the strips of the lowest profile; True if that changed the net."""
        return soak(net, self.guard, self.place, ohm)

    def react(self, net: Netlist, volts: Volts) -> bool:
        """Nothing feeds it."""
        return False

    def refit(self, net: Netlist, edge: Edge) -> None:
        """It has no cell."""


def soak(net: Netlist, guard: str, place: str, ohm: float | None) -> bool:
    """Put water between two strips, change it, or take it out."""
    name = f"{guard}, water"
    if ohm is None:
        if name in net:
            net.remove(name)
            return True
        return False
    wet = Resistor(name, f"{place}.line", f"{place}.return", ohm)
    if name in net and net[name] == wet:
        return False
    net.put([wet])
    return True

"""What asks for the gate beside its push-buttons: loop, keypad, intercom, emergency access, transmitters' cells."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, TypeAlias

from sim.devices.button import Button
from sim.devices.cell import Cell
from sim.devices.detector import DETECTOR, LOOP, LoopDetector
from sim.devices.part import Part, Terminal, Volts
from sim.devices.plug import Plug
from sim.site import Cable, PresenceLoop, Site
from sim.wiring.netlist import Netlist

LoopState: TypeAlias = tuple[float, float | None, bool, bool] | None
"""What is missing, what was when it was tuned, presence, disturbed; None without a loop."""

PLACES: Final = {"keypad": "at the gate", "intercom": "in the house", "emergency contact": "at the gate"}
"""Contacts wired beside a control, and where they are."""


def beside(name: str, command: str) -> Plug:
    """The plug of a second contact on a command input."""
    return Plug(name, {"contact": f"{command}.contact", "common": f"{command}.common"})


class Asking:
    """All of these on one site."""

    def __init__(self, site: Site) -> None:
        access = site.access
        self.detector = LoopDetector(access.loop) if isinstance(access.loop, PresenceLoop) else None
        self.contacts: dict[str, Button] = {}
        self.plugs: dict[str, Plug] = {}
        found = {"keypad": access.keypad, "intercom": access.intercom, "emergency contact": access.emergency}
        for name, contact in found.items():
            if not isinstance(contact, str):
                cable = Cable(length_m=contact.cable_m, section_mm2=0.5)
                self.contacts[name] = Button(name, cable, PLACES[name])
                self.plugs[name] = beside(name, contact.output)
        if self.detector is not None:
            self.plugs[DETECTOR] = beside(DETECTOR, self.detector.loop.output)
            self.plugs[LOOP] = Plug(LOOP, {"start": "loop detector.loop start", "end": "loop detector.loop end"})
        self.cells = {hand.tag: Cell(hand.tag, hand.charge) for hand in site.transmitters}

    def parts(self) -> Iterator[Part]:
        """Every part, without the plugs."""
        if self.detector is not None:
            yield self.detector
        yield from self.cells.values()

    def terminals(self) -> Iterator[Terminal]:
        """Every terminal of these parts."""
        for part in self.parts():
            yield from part.terminals

    def refit(self, net: Netlist, site: Site) -> None:
        """Cells and ground are as they are now."""
        for hand in site.transmitters:
            if hand.tag in self.cells:
                self.cells[hand.tag].refit(net, hand.charge)
        if self.detector is not None and isinstance(site.access.loop, PresenceLoop):
            self.detector.loop = site.access.loop

    def react(self, net: Netlist, volts: Volts) -> bool:
        """The detector follows its feed; True if something moved."""
        return self.detector is not None and self.detector.react(net, volts)

    def mood(self) -> tuple[object, ...]:
        """What decides how these react, beside the net."""
        if self.detector is None:
            return ()
        return (self.detector.present, self.detector.disturbed)

    def state(self) -> LoopState:
        """What the detector remembers, as base types."""
        found = self.detector
        return None if found is None else (found.missing, found.tuned, found.present, found.disturbed)

    def restore(self, state: LoopState) -> None:
        """Have it remember that."""
        if self.detector is not None and state is not None:
            found = self.detector
            found.missing, found.tuned, found.present, found.disturbed = state

"""The stop circuit: a loop through one normally closed button or several in series.

The first button has a second block of contacts, normally open, that nothing is wired to.
"""

from __future__ import annotations

from typing import Final

from sim.devices.joint import held_core
from sim.devices.part import Terminal, core, pins
from sim.site import Cable, Stop
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist

NAMES: Final = ("stop button", "second stop button", "third stop button")

JOINING: Final = Cable(length_m=8.0, section_mm2=0.75)
"""From one button to the next. CP, no source."""


class StopCircuit:
    """The stop buttons as they are wired."""

    def __init__(self, cable: Cable, stop: Stop | None = None) -> None:
        self._cable = cable
        self.buttons = NAMES[: stop.buttons if stop is not None else 1]
        self.terminals: tuple[Terminal, ...] = (
            *(terminal for name in self.buttons for terminal in pins(name, "contact", "return")),
            *pins(self.buttons[0], "spare contact"),
        )

    def stamp(self, net: Netlist) -> None:
        """Two cores to the board, one from button to button, and the contacts."""
        plug, first, last = (pins(name, "contact", end) for name, end in self._ends())
        net.add(*held_core("stop circuit, contact core", plug[0], first[0], self._cable))
        net.add(*held_core("stop circuit, return core", plug[1], last[1], self._cable))
        for name in self.buttons:
            net.add(Contact(f"{name}, contact", f"{name}.contact", f"{name}.return", True, 0.05))
        for before, after in zip(self.buttons, self.buttons[1:], strict=False):
            net.add(core(f"stop circuit, core to the {after}", f"{before}.return", f"{after}.contact", JOINING))
        spare = self.buttons[0]
        net.add(Contact(f"{spare}, spare contact", f"{spare}.spare contact", f"{spare}.return", False, 0.05))

    def _ends(self) -> tuple[tuple[str, str], ...]:
        return (("stop circuit plug", "common"), (self.buttons[0], "return"), (self.buttons[-1], "return"))

    def press(self, net: Netlist, pressed: bool, button: str = NAMES[0]) -> bool:
        """Push a button in or pull it out; True if that changed the net."""
        changed = net.switch(f"{button}, contact", not pressed)
        if button == NAMES[0]:
            changed = net.switch(f"{button}, spare contact", pressed) or changed
        return changed

"""Joints: screws that hold a core under a terminal, splices under the ground. Each is an element of its own.

A joint is a contact: it has a resistance, and somebody may loosen it until it is open. Its name is the terminal's
with `, screw` after it.
"""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal
from sim.site import Cable
from sim.wiring.conductor import core_ohm
from sim.wiring.elements import Contact, Element, Resistor

SCREW_OHM: Final = 0.00025
"""A sound screw [Ω]: 2 mV at 8 A, far below the 50 mV that a sound terminal drops at most (facts 8.1). CP."""

SPLICE_OHM: Final = 0.00025
"""A sound crimped joint in its gel [Ω]. CP, no source."""


def behind(terminal: Terminal) -> str:
    """The node at the other side of a terminal's screw: the bare end of the core."""
    return f"{terminal.node} screw"


def screw_name(terminal: Terminal) -> str:
    """What the screw of a terminal is called."""
    return f"{terminal.name}, screw"


def screw(terminal: Terminal) -> Contact:
    """The screw of a terminal."""
    ohm: complex = complex(SCREW_OHM) if terminal.net == "mains" else SCREW_OHM
    return Contact(screw_name(terminal), terminal.node, behind(terminal), True, ohm)


def held_core(
    name: str, near: Terminal, far: Terminal, cable: Cable, *, spliced: bool = False
) -> tuple[Element, ...]:
    """One core from terminal to terminal, a screw at either end, and a splice under the ground if it has one."""
    ohm = core_ohm(cable.length_m, cable.section_mm2, cable.conductor, cable.temperature_c)
    end = f"{name}.splice" if spliced else behind(far)
    splice = (Contact(f"{name}, splice", end, behind(far), True, SPLICE_OHM),) if spliced else ()
    return (screw(near), Resistor(name, behind(near), end, ohm), *splice, screw(far))

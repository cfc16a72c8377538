"""Insulation to earth: every run of cable, and the board in its box, as a resistance to the earth bar.

A healthy sheath has gigaohms. So the low-voltage side floats for every meter, and an insulation tester finds the
one conductor that doesn't.
"""

from __future__ import annotations

from typing import Final

from sim.wiring.elements import Resistor

EARTH: Final = "earth bar.earth"
"""The earth bar: the one node that stands in both nets."""

SOUND_OHM: Final = 5e9
"""One healthy conductor to earth [Ω]; at least 1 MΩ is asked for (facts 5.8). CP, no source."""


def insulation_name(conductor: str) -> str:
    """What the insulation of a conductor is called."""
    return f"{conductor}, insulation"


def insulation(conductor: str, node: str, ohm: complex = SOUND_OHM) -> Resistor:
    """The insulation of one conductor, seen from one of its nodes."""
    return Resistor(insulation_name(conductor), node, EARTH, ohm)

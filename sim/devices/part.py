"""What every part has in common: terminals with names in plain words, and a stamp on the net."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal, Protocol, TypeAlias

from sim.site import Cable
from sim.wiring.conductor import core_ohm
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist

Volts: TypeAlias = Callable[[str, str], float | None]
"""A look at the net: volts of one node above another, None when one floats against the other."""

JOINT_OHM: Final = 0.002
"""A sound screw terminal [Ω]; healthy below 50 mV at 8 A (facts 8.1, loose terminal). CP."""

PLUG_OHM: Final = 0.01
"""One pole of a plug [Ω]. CP, no source."""


@dataclass(frozen=True, slots=True)
class Terminal:
    """A place where a probe can be set."""

    part: str
    pin: str
    net: Literal["low voltage", "mains"] = "low voltage"

    @property
    def name(self) -> str:
        """As the cabinet drawing names it."""
        return f"{self.part}, {self.pin}"

    @property
    def node(self) -> str:
        """As the net names it."""
        return f"{self.part}.{self.pin}"


class Part(Protocol):
    """Any part of the cabinet or the yard."""

    @property
    def terminals(self) -> tuple[Terminal, ...]:
        """Its terminals, in the order a drawing lists them."""
        ...

    def stamp(self, net: Netlist) -> None:
        """Add its elements to the net. Called once, when the cabinet is built."""
        ...


def pins(part: str, *names: str, net: Literal["low voltage", "mains"] = "low voltage") -> tuple[Terminal, ...]:
    """Terminals of one part."""
    return tuple(Terminal(part, name, net) for name in names)


def core(name: str, a: str, b: str, cable: Cable) -> Resistor:
    """One core of a cable run between two nodes."""
    ohm = core_ohm(cable.length_m, cable.section_mm2, cable.conductor, cable.temperature_c)
    return Resistor(name, a, b, ohm)

"""Terminal blocks at the board that can be pulled with their cables, and what people lay across an input."""

from __future__ import annotations

from typing import Final

from sim.devices.boardio import EDGE_INPUTS, input_node
from sim.devices.part import PLUG_OHM, Terminal, pins
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist, Undo, in_turn

LINK_OHM: Final = 0.02
"""A short piece of wire under two screws [Ω]. CP, no source."""

LOOSE_RESISTOR_OHM: Final = 8200.0
"""What is laid across an edge's input to silence it [Ω]. Facts 8.4 (dummy resistor)."""

POWER_POLE_OHM: Final = 0.00025
"""One pole of a block that carries a motor, a lamp, a lock or a supply [Ω]. CP, no source."""


class Plug:
    """The poles that carry one cable from the board into the field. A beam's own feed isn't in its guard's plug."""

    on_mains = False

    def __init__(self, name: str, inner: dict[str, str], ohm: float = PLUG_OHM) -> None:
        """`inner`: name of each pin and the board's node behind it."""
        self.name = name
        self.terminals: tuple[Terminal, ...] = pins(f"{name} plug", *inner)
        self._inner = tuple(inner.values())
        self._ohm = ohm
        self._poles = tuple(f"{name} plug, {pin} pole" for pin in inner)

    def stamp(self, net: Netlist) -> None:
        """From the board's terminals to the field side."""
        for pole, node, terminal in zip(self._poles, self._inner, self.terminals, strict=True):
            net.add(Contact(pole, node, terminal.node, True, self._ohm))

    def push(self, net: Netlist, in_: bool) -> Undo:
        """Push it in or pull it out, all poles."""
        return in_turn(*(net.change(pole, closed=in_) for pole in self._poles))

    def is_in(self, net: Netlist) -> bool:
        """Whether all poles make contact."""
        poles = [net[pole] for pole in self._poles]
        return all(isinstance(pole, Contact) and pole.closed for pole in poles)


def input_plug(name: str) -> Plug:
    """The plug of a guard or command input: its line or contact, and common."""
    pin = "line" if name in EDGE_INPUTS else "contact"
    return Plug(name, {pin: input_node(name), "common": f"{name}.common"})


def two_pole_plug(name: str) -> Plug:
    """The block of something that is fed: plus and minus."""
    return Plug(name, {pin: f"{name}.{pin}" for pin in ("plus", "minus")}, POWER_POLE_OHM)


def bridge_name(guard: str) -> str:
    """The element that stands for a bridge over a guard's input."""
    return f"{guard}, bridge"


def lay_bridge(net: Netlist, guard: str) -> Undo:
    """Lay a wire link across a guard's input; at an edge's input it is a loose resistor."""
    ohm = LOOSE_RESISTOR_OHM if guard in EDGE_INPUTS else LINK_OHM
    return net.add(Resistor(bridge_name(guard), input_node(guard), f"{guard}.common", ohm))

"""Limit switches on the board's own inputs: two contacts at a leaf, each with its cable and its pulled-up input."""

from __future__ import annotations

from typing import Final

from sim.devices.boardio import INPUT_OHM, PULL_UP_OHM, input_node
from sim.devices.joint import held_core
from sim.devices.part import JOINT_OHM, Terminal, pins
from sim.devices.plug import Plug, input_plug
from sim.site import Cable, Drives
from sim.units import LEAVES
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist

NAMES: Final = tuple(f"{leaf} {end} limit" for leaf in LEAVES for end in ("open", "closed"))
"""The inputs, in the order of the terminals."""

SWITCH_OHM: Final = 0.05
"""A sound contact [Ω]. CP, no source."""


class LimitInputs:
    """All four inputs and the switches of both leaves; nothing at all where no leaf has switches for them."""

    def __init__(self, drives: Drives, cables: tuple[Cable, Cable]) -> None:
        """`cables`: the signal runs to the drives, which an encoder would have."""
        sensed = [drive.sensing for drive in drives.pair]
        self._wired = [each.kind == "limit switches" and not each.limits_in_motor_lead for each in sensed]
        self._opens = [each.limit_contact == "normally closed" for each in sensed]
        self._cables = cables
        self.names = NAMES if any(self._wired) else ()
        self.plugs: tuple[Plug, ...] = tuple(input_plug(name) for name in self.names)
        self._at_leaf = [name for place, name in enumerate(self.names) if self._wired[place // 2]]
        self.terminals: tuple[Terminal, ...] = (
            *(terminal for name in self.names for terminal in pins(name, "contact", "common")),
            *(terminal for name in self._at_leaf for terminal in pins(_place(name), "contact", "return")),
        )

    def stamp(self, net: Netlist) -> None:
        """Inputs with their pull-ups, cores and contacts."""
        for place, name in enumerate(self.names):
            node = input_node(name)
            net.add(
                Resistor(f"{name}, pull-up", "accessory supply.plus", node, PULL_UP_OHM),
                Resistor(f"{name}, input", node, "board.common", INPUT_OHM),
                Resistor(f"{name}, common", f"{name}.common", "board.common", JOINT_OHM),
            )
            if name in self._at_leaf:
                cable, far = self._cables[place // 2], pins(_place(name), "contact", "return")
                near = pins(f"{name} plug", "contact", "common")
                net.add(
                    *held_core(f"{name}, contact core", near[0], far[0], cable),
                    *held_core(f"{name}, return core", near[1], far[1], cable),
                    Contact(_switch(name), far[0].node, far[1].node, self._opens[place // 2], SWITCH_OHM),
                )

    def move(self, net: Netlist, leaf: int, reached: tuple[bool, bool]) -> bool:
        """A leaf presses its switches or leaves them, (open, closed); True if that changed the net."""
        if not self._wired[leaf]:
            return False
        names = self.names[2 * leaf : 2 * leaf + 2]
        changed = [
            net.switch(_switch(name), there is not self._opens[leaf])
            for name, there in zip(names, reached, strict=True)
        ]
        return any(changed)


def _place(name: str) -> str:
    return f"{name} at the leaf"


def _switch(name: str) -> str:
    return f"{name}, switch"

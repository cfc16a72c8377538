"""The electrical side of a motor, its cable, and the bridge that drives it."""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal, core, pins
from sim.site import Cable, Motor
from sim.units import LeafName
from sim.wiring.elements import Contact, Element, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo, in_turn
from sim.wiring.reduction import LeafPorts

LEG_OHM: Final = 0.005
"""One leg of a bridge switched through, with half the shunt [Ω]. CP, no source."""

COPPER_OHM: Final = 0.004
"""Board copper from the common bus to one bridge [Ω]. CP, no source."""


class MotorCircuit:
    """One leaf's bridge terminals on the board, two cores of cable, and the winding at the far end."""

    def __init__(self, leaf: LeafName, motor: Motor, cable: Cable) -> None:
        self.leaf = leaf
        self.at_board = f"{leaf} leaf motor"
        self.at_leaf = f"{leaf} leaf motor at the leaf"
        self.winding = f"{leaf} leaf motor, winding"
        self._motor = motor
        self._cable = cable
        self.terminals: tuple[Terminal, ...] = (
            *pins(self.at_board, "plus", "minus"),
            *pins(self.at_leaf, "plus", "minus"),
        )

    def stamp(self, net: Netlist) -> None:
        """Copper to the bridge, both cores, the winding. The bridge's legs are added by `legs`, while it drives."""
        net.add(
            Resistor(f"{self.leaf} bridge, copper", "board.bus", f"board.{self.leaf} bridge", COPPER_OHM),
            core(f"{self.at_board}, plus core", f"{self.at_board}.plus", f"{self.at_leaf}.plus", self._cable),
            core(f"{self.at_board}, minus core", f"{self.at_board}.minus", f"{self.at_leaf}.minus", self._cable),
            VoltageSource(
                self.winding, f"{self.at_leaf}.plus", f"{self.at_leaf}.minus", 0.0, self._motor.resistance_ohm
            ),
        )

    def swap_leads(self, net: Netlist) -> Undo:
        """Exchange the two cores at the board."""
        plus, minus = net[f"{self.at_board}, plus core"], net[f"{self.at_board}, minus core"]
        return in_turn(net.change(plus.name, a=minus.a), net.change(minus.name, a=plus.a))

    def is_swapped(self, net: Netlist) -> bool:
        """Whether the plus core sits on the board's minus terminal."""
        name = f"{self.at_board}, plus core"
        return name in net and net[name].a != f"{self.at_board}.plus"

    def ports(self, sign: int) -> LeafPorts:
        """Where the reduction finds this leaf's bridge and motor."""
        return LeafPorts(
            name=f"{self.leaf} leaf",
            input_plus=f"board.{self.leaf} bridge",
            input_minus="board.common",
            bridge=f"{self.leaf} bridge, driven leg" if sign else None,
            sign=sign,
            winding=self.winding,
        )

    def legs(self, sign: int) -> tuple[Element, ...]:
        """The bridge's two legs while it drives (+1 opening sense, −1 closing sense); none while it is off."""
        if sign == 0:
            return ()
        driven, other = ("plus", "minus") if sign > 0 else ("minus", "plus")
        return (
            VoltageSource(
                f"{self.leaf} bridge, driven leg", f"{self.at_board}.{driven}", "board.common", 0.0, LEG_OHM
            ),
            Contact(f"{self.leaf} bridge, return leg", f"{self.at_board}.{other}", "board.common", True, LEG_OHM),
        )

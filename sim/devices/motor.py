"""The electrical side of a motor, its cable, and the bridge that drives it."""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal, core, pins
from sim.site import AnyMotor, Cable, InductionMotor
from sim.units import LeafName
from sim.wiring.elements import Contact, Element, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo, in_turn
from sim.wiring.reduction import LeafPorts

LEG_OHM: Final = 0.005
"""One leg of a bridge switched through, with half the shunt [Ω]. CP, no source."""

COPPER_OHM: Final = 0.004
"""Board copper from the common bus to one bridge [Ω]. CP, no source."""


CUT_OUT_OHM: Final = 0.001
"""The closed contact of the thermal cut-out in the motor [Ω]. CP, no source."""


WINDING_DIGITS: Final = 3
"""A winding's resistance follows its warmth in steps of 1 mΩ: less than any meter here shows."""


class MotorCircuit:
    """One leaf's bridge terminals on the board, two cores of cable, cut-out and winding at the far end.

    A mains motor has the same cores and winding, but no bridge: relays feed it, and the mains side of that path is
    not part of this net.
    """

    def __init__(self, leaf: LeafName, motor: AnyMotor, cable: Cable) -> None:
        self.leaf = leaf
        self.at_board = f"{leaf} leaf motor"
        self.at_leaf = f"{leaf} leaf motor at the leaf"
        self.winding = f"{leaf} leaf motor, winding"
        self.cut_out = f"{leaf} leaf motor, cut-out"
        self.on_mains = isinstance(motor, InductionMotor)
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
            Contact(
                self.cut_out,
                f"{self.at_leaf}.plus",
                f"{self.at_leaf}.winding",
                not self._motor.winding_open,
                CUT_OUT_OHM,
            ),
            VoltageSource(
                self.winding, f"{self.at_leaf}.winding", f"{self.at_leaf}.minus", 0.0, self._motor.terminal_ohm
            ),
        )

    def set_cut_out(self, net: Netlist, is_open: bool) -> bool:
        """The thermal cut-out opens or closes; True if the net changed. A broken winding stays open."""
        return net.switch(self.cut_out, not is_open and not self._motor.winding_open)

    def set_winding(self, net: Netlist, ohm: float) -> bool:
        """The winding has this resistance now [Ω], as warm as it is; True if the net changed."""
        before = net[self.winding]
        ohm = round(ohm, WINDING_DIGITS)
        if isinstance(before, VoltageSource) and before.ohm != ohm:
            net.change(self.winding, ohm=ohm)
            return True
        return False

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
            bridge=f"{self.leaf} bridge, driven leg" if sign and not self.on_mains else None,
            sign=0 if self.on_mains else sign,
            winding=self.winding,
        )

    def legs(self, sign: int) -> tuple[Element, ...]:
        """The bridge's two legs while it drives (+1 opening sense, −1 closing sense); none while it is off."""
        if sign == 0 or self.on_mains:
            return ()
        driven, other = ("plus", "minus") if sign > 0 else ("minus", "plus")
        return (
            VoltageSource(
                f"{self.leaf} bridge, driven leg", f"{self.at_board}.{driven}", "board.common", 0.0, LEG_OHM
            ),
            Contact(f"{self.leaf} bridge, return leg", f"{self.at_board}.{other}", "board.common", True, LEG_OHM),
        )

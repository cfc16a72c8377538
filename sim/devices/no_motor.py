"""The board's motor terminals where no motor is: a second leaf's, on a gate with one leaf."""

from __future__ import annotations

from sim.devices.insulation import insulation
from sim.devices.part import Terminal, pins
from sim.errors import Refused
from sim.said import said
from sim.units import LeafName
from sim.wiring.elements import Element, VoltageSource
from sim.wiring.netlist import Netlist, Undo

STAND_IN_OHM = 1.0
"""Winding of what stands for a motor in the drive model, joined to nothing [Ω]: no current ever finds it."""


class NoMotor:
    """Two screws of the board with nothing under them. A board for mains motors has none on the low-voltage side."""

    has_limits = False
    winding_open = True

    def __init__(self, leaf: LeafName, on_mains: bool) -> None:
        self.leaf = leaf
        self.on_mains = on_mains
        self.at_board = f"{leaf} leaf motor"
        self.winding = f"{leaf} leaf motor, winding"
        self.coil = (f"{self.at_board}.no winding", f"{self.at_board}.none")
        """Nodes of what stands for its winding; nothing leads there."""
        self.terminals: tuple[Terminal, ...] = () if on_mains else pins(self.at_board, "plus", "minus")

    def stamp(self, net: Netlist) -> None:
        """Nothing leads away from the board's terminals; what they sit in insulates them, as everything."""
        for terminal in self.terminals:
            net.add(insulation(f"{self.leaf} bridge, {terminal.pin} terminal", terminal.node))

    def stand_in(self) -> tuple[Element, ...]:
        """What stands for its winding where the drive model looks for one."""
        return (VoltageSource(self.winding, *self.coil, 0.0, STAND_IN_OHM),)

    def diodes(self, way: int | None) -> tuple[Element, ...]:
        """None: it has no limit switches."""
        return ()

    def set_cut_out(self, net: Netlist, is_open: bool) -> bool:
        """It has no cut-out; False: the net stays as it is."""
        return False

    def set_winding(self, net: Netlist, ohm: float) -> bool:
        """It has no winding; False: the net stays as it is."""
        return False

    def swap_leads(self, net: Netlist) -> Undo:
        """Raises Refused: it has none."""
        raise Refused(
            said(
                "no motor is connected to the board's terminals of the {leaf} leaf: there is no such leaf",
                leaf=self.leaf,
            )
        )

    def is_swapped(self, net: Netlist) -> bool:
        """It has no leads that could be exchanged."""
        return False

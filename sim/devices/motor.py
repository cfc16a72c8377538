"""The electrical side of a motor: its two cores, limit switches in its lead, cut-out and winding."""

from __future__ import annotations

from typing import Final

from sim.devices.insulation import insulation
from sim.devices.joint import held_core
from sim.devices.limit_switch import LimitSwitches
from sim.devices.part import Terminal, pins
from sim.devices.plug import two_pole_plug
from sim.site import AnyDrive, Cable
from sim.units import LeafName
from sim.wiring.elements import Contact, Element, VoltageSource
from sim.wiring.netlist import Netlist, Undo, in_turn

CUT_OUT_OHM: Final = 0.001
"""The closed contact of the thermal cut-out in the motor [Ω]. CP, no source."""


WINDING_DIGITS: Final = 3
"""A winding's resistance follows its warmth in steps of 1 mΩ: less than any meter here shows."""


class MotorCircuit:
    """One leaf's motor terminals on the board, two cores of cable, limit switches, cut-out and winding."""

    on_mains = False

    def __init__(self, leaf: LeafName, drive: AnyDrive, cable: Cable) -> None:
        self.leaf = leaf
        self.at_board = f"{leaf} leaf motor"
        self.at_leaf = f"{leaf} leaf motor at the leaf"
        self.winding = f"{leaf} leaf motor, winding"
        self.cut_out = f"{leaf} leaf motor, cut-out"
        self.coil = (f"{self.at_leaf}.winding", f"{self.at_leaf}.minus")
        """Nodes of the winding, plus first."""
        self.winding_open = drive.motor.winding_open
        self._ohm = drive.motor.terminal_ohm
        self._cable = cable
        self.plug = two_pole_plug(self.at_board)
        self.limits = LimitSwitches(leaf, drive, f"{self.at_leaf}.plus", f"{self.at_leaf}.inner")
        self.terminals: tuple[Terminal, ...] = (
            *pins(self.at_board, "plus", "minus"),
            *pins(self.at_leaf, "plus", "minus"),
            *self.limits.terminals,
        )

    def stamp(self, net: Netlist) -> None:
        """Both cores, limit switches, cut-out and winding."""
        net.add(
            Contact(self.cut_out, self.limits.inner, self.coil[0], not self.winding_open, CUT_OUT_OHM),
            VoltageSource(self.winding, *self.coil, 0.0, self._ohm),
        )
        self.limits.stamp(net)
        for near, far in zip(self.plug.terminals, self.terminals[2:4], strict=True):
            name = f"{self.at_board}, {near.pin} core"
            net.add(*held_core(name, near, far, self._cable, spliced=True), insulation(name, f"{name}.splice"))

    @property
    def has_limits(self) -> bool:
        """Whether limit switches sit in its lead."""
        return self.limits.fitted

    def stand_in(self) -> tuple[Element, ...]:
        """Nothing: its winding is on the net."""
        return ()

    def diodes(self, way: int | None) -> tuple[Element, ...]:
        """What of its limit switches' diodes conducts while it is driven one way."""
        return self.limits.diodes(way)

    def refit(self, drive: AnyDrive) -> None:
        """The motor is another from now on, worn or mended; its warmth and contacts follow when they are felt."""
        self.winding_open = drive.motor.winding_open

    def set_cut_out(self, net: Netlist, is_open: bool) -> bool:
        """The thermal cut-out opens or closes; True if the net changed. A broken winding stays open."""
        return net.switch(self.cut_out, not is_open and not self.winding_open)

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
        """Whether the plus core sits on a minus terminal of the board."""
        name = f"{self.at_board}, plus core"
        return name in net and ".minus" in net[name].a

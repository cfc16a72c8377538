"""A mains motor on the mains side: two direction relays, three cores, two windings, the run capacitor between them.

The board lays the live wire on one winding; the capacitor feeds the other a quarter turn later, and the field goes
round. Which winding is fed tells the way. Each winding stands in the net as it is at a standstill, where it takes
most; how the motor pulls at a speed is the kernel's.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from sim.devices.insulation import insulation
from sim.devices.joint import SPLICE_OHM, behind, screw
from sim.devices.part import Terminal, pins
from sim.devices.relay import ARMATURE_OHM, FEED_OHM, Way
from sim.site import Cable, InductionMotor
from sim.units import LeafName
from sim.wiring.conductor import core_ohm
from sim.wiring.elements import Contact, Element, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo, in_turn
from sim.wiring.solve import Potentials, injections, network_of

WAYS: Final[tuple[Way, Way]] = ("opening", "closing")

LEADS: Final = (*WAYS, "neutral")

MAINS_RAD_S: Final = 2.0 * math.pi * 50.0
"""50 Hz."""

FED_V: Final = 60.0
"""A winding with more than this across it, the capacitor apart, is fed [V]. Ours."""

LEAD_OHM: Final = 0.005
"""A lead pushed onto its tag [Ω]. CP, no source."""

CUT_OUT_OHM: Final = 0.01
"""The closed contact of its thermal cut-out [Ω]. CP, no source."""

WINDING_DIGITS: Final = 2
"""A winding's resistance follows its warmth in steps of 10 mΩ."""


class LeadPlug:
    """Two leads pushed onto a part on the mains side, pulled off together."""

    on_mains = True
    terminals: tuple[Terminal, ...] = ()

    def __init__(self, name: str, poles: Mapping[str, tuple[str, str]]) -> None:
        self.name = name
        self._poles = {f"{name} plug, {pin} pole": ends for pin, ends in poles.items()}

    def poles(self) -> tuple[Contact, ...]:
        """Both contacts, pushed on."""
        return tuple(Contact(name, a, b, True, complex(LEAD_OHM)) for name, (a, b) in self._poles.items())

    def stamp(self, net: Netlist) -> None:
        """Nothing of it is on the low-voltage side."""

    def push(self, net: Netlist, in_: bool) -> Undo:
        """Push both on or pull both off."""
        return in_turn(*(net.change(pole, closed=in_) for pole in self._poles))

    def is_in(self, net: Netlist) -> bool:
        """Whether both make contact."""
        poles = [net[pole] for pole in self._poles]
        return all(isinstance(pole, Contact) and pole.closed for pole in poles)


class MainsMotor:
    """One leaf's mains motor with what feeds it."""

    on_mains = True
    has_limits = False

    def __init__(self, leaf: LeafName, motor: InductionMotor, cable: Cable) -> None:
        self.leaf = leaf
        self.at_board = f"{leaf} leaf motor"
        self.at_leaf = f"{leaf} leaf motor at the leaf"
        self.winding = f"{leaf} leaf motor, winding"
        self.cut_out = f"{leaf} leaf motor, cut-out"
        self.capacitor = f"{leaf} run capacitor"
        self.coil = (f"{self.at_leaf}.winding", f"{self.at_leaf}.none")
        """Nodes of what stands for it on the low-voltage side, where it isn't."""
        self.winding_open = motor.winding_open
        self._motor = motor
        self._core_ohm = complex(core_ohm(cable.length_m, cable.section_mm2, cable.conductor, cable.temperature_c))
        self._reactance = math.sqrt(max(1.0, (motor.rated_v / motor.stall_a) ** 2 - motor.resistance_ohm**2))
        self.plug = LeadPlug(
            self.capacitor,
            {
                "first": (f"{self.at_leaf}.opening", f"{self.capacitor}.first"),
                "second": (f"{self.at_leaf}.closing", f"{self.capacitor}.second"),
            },
        )
        """What both leads of the capacitor are pushed on with."""
        self.mains_terminals: tuple[Terminal, ...] = (
            *pins(self.at_board, *LEADS, net="mains"),
            *pins(self.at_leaf, *LEADS, net="mains"),
            *pins(self.capacitor, "first", "second", net="mains"),
        )
        self.terminals: tuple[Terminal, ...] = ()

    def stamp(self, net: Netlist) -> None:
        """Nothing of it is on the low-voltage side."""

    def stamp_mains(self, net: Netlist) -> None:
        """Relay contacts, cores, windings with their cut-out, and the capacitor on its two leads."""
        for way in WAYS:
            relay, face = f"{self.leaf} {way} relay", f"board.{self.leaf} {way} feed"
            net.add(
                Resistor(f"{relay}, feed contact", "power supply inlet.live", face, complex(FEED_OHM)),
                Contact(f"{relay}, feed armature", face, f"{self.at_board}.{way}", False, complex(ARMATURE_OHM)),
                Resistor(f"{self.at_leaf}, {way} winding", f"{self.at_leaf}.{way}", self._star, self._impedance()),
            )
        net.add(
            Resistor(
                f"{self.at_board}, neutral track",
                "power supply inlet.neutral",
                f"{self.at_board}.neutral",
                0.001 + 0j,
            ),
            Contact(self.cut_out, self._star, f"{self.at_leaf}.neutral", not self.winding_open, complex(CUT_OUT_OHM)),
            *self.plug.poles(),
            self._capacitor(),
        )
        for near, far in zip(self.mains_terminals[:3], self.mains_terminals[3:6], strict=True):
            name = f"{self.at_board}, {near.pin} core"
            net.add(
                screw(near),
                Resistor(name, behind(near), f"{name}.splice", self._core_ohm),
                Contact(f"{name}, splice", f"{name}.splice", behind(far), True, complex(SPLICE_OHM)),
                screw(far),
                insulation(name, f"{name}.splice", complex(5e9)),
            )

    @property
    def _star(self) -> str:
        return f"{self.at_leaf}.star"

    def _impedance(self, ohm: float | None = None) -> complex:
        return complex(round(self._motor.resistance_ohm if ohm is None else ohm, WINDING_DIGITS), self._reactance)

    def _capacitor(self) -> Resistor:
        fitted = self._motor.capacitor_uf if self._motor.fitted_uf is None else self._motor.fitted_uf
        farad = max(fitted, 1e-6) * 1e-6
        return Resistor(
            self.capacitor,
            f"{self.capacitor}.first",
            f"{self.capacitor}.second",
            complex(0.0, -1.0 / (MAINS_RAD_S * farad)),
        )

    def refit(self, net: Netlist, motor: InductionMotor) -> None:
        """The motor is another from now on: its capacitor has aged, its winding broke."""
        if motor == self._motor:
            return
        self._motor, self.winding_open = motor, motor.winding_open
        net.put((self._capacitor(),))

    def pull(self, net: Netlist, sign: int) -> bool:
        """The board pulls in one relay (+1 opening, −1 closing), or neither; True if that changed the net."""
        changed = [
            net.switch(f"{self.leaf} {way} relay, feed armature", sign == own)
            for way, own in zip(WAYS, (1, -1), strict=True)
        ]
        return any(changed)

    def fed(self, net: Netlist) -> tuple[float, int, int]:
        """(volts at the winding that is fed [V RMS], which way the board feeds it, which way the motor is fed).

        A way is +1 opening, −1 closing, 0 neither or both: a winding apart turns nothing by itself.
        """
        bare = tuple(element for element in net.key if element.name != self.capacitor)
        network = network_of(bare)
        solved = Potentials(network, bare, network.potentials(injections(bare)))
        board, motor = (self._way(solved, place) for place in (self.at_board, self.at_leaf))
        lead = WAYS[0] if motor > 0 else WAYS[1]
        found = net.solution().between(f"{self.at_leaf}.{lead}", f"{self.at_leaf}.neutral")
        return (abs(found) if found is not None and motor else 0.0), board, motor

    def _way(self, solved: Potentials, place: str) -> int:
        volts = [solved.between(f"{place}.{way}", f"{place}.neutral") for way in WAYS]
        opening, closing = (found is not None and abs(found) > FED_V for found in volts)
        return int(opening) - int(closing)

    def stand_in(self) -> tuple[Element, ...]:
        """What stands for its winding where the drive model looks for one: it carries no direct current."""
        return (VoltageSource(self.winding, *self.coil, 0.0, self._motor.terminal_ohm),)

    def diodes(self, way: int | None) -> tuple[Element, ...]:
        """None: it has no limit switches in its leads."""
        return ()

    def set_cut_out(self, net: Netlist, is_open: bool) -> bool:
        """The thermal cut-out opens or closes; True if the net changed. A broken winding stays open."""
        return net.switch(self.cut_out, not is_open and not self.winding_open)

    def set_winding(self, net: Netlist, ohm: float) -> bool:
        """Both windings have this resistance now [Ω], as warm as they are; True if the net changed."""
        changed = False
        for way in WAYS:
            name = f"{self.at_leaf}, {way} winding"
            if net[name].siemens != 1.0 / self._impedance(ohm):
                net.change(name, ohm=self._impedance(ohm))
                changed = True
        return changed

    def swap_leads(self, net: Netlist) -> Undo:
        """Exchange the opening and the closing core at the board."""
        one, other = (net[f"{self.at_board}, {way} core"] for way in WAYS)
        return in_turn(net.change(one.name, a=other.a), net.change(other.name, a=one.a))

    def is_swapped(self, net: Netlist) -> bool:
        """Whether the opening core sits on the board's closing terminal."""
        name = f"{self.at_board}, opening core"
        return name in net and ".closing" in net[name].a

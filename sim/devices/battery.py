"""The battery: a second source, with its link, its charger and the relay that lets it take over."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from sim.devices.joint import behind, screw
from sim.devices.part import JOINT_OHM, Terminal, pins
from sim.devices.plug import POWER_POLE_OHM, Plug
from sim.site import Battery
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo
from sim.wiring.solve import Potentials

LINK: Final = "battery link"

TAKEOVER: Final = "board, takeover relay"

CHARGER_OHM: Final = 1.0
"""The charger, seen from the supply [Ω]. CP, no source."""

CHARGER_FUSE: Final = "charger fuse"

CHARGER_FUSE_OHM: Final = 0.01
"""Its fuse [Ω]. CP, no source."""

FULL_SURFACE_OHM: Final = 60.0
"""Beside its inner resistance a full battery on charge takes only a trickle: it holds the charger's voltage, 27.0 to
27.6 V at its posts (facts 8.1, battery not charging), and rests at its own when the charge stops [Ω]. CP."""

HUNGRY_SURFACE_OHM: Final = 3.0
"""The same while it is a fifth or more empty: some 0.7 A go in, a tenth of its capacity [Ω]. CP, no source."""

HUNGRY_BELOW: Final = 0.8

CONTACT_OHM: Final = 0.0005

EXHAUSTED_BELOW: Final = 0.1
"""From this charge down a discharge finds less and less left to react. CP, no source."""

FLAT_V: Final = 21.0
"""What an empty pair gives under its twenty-hour current: that is what its capacity is counted to [V]. Facts 5.2."""

STILL_V: Final = 1e-7
"""Less than this between cells and posts is no current either way [V]. Ours."""

REST_V: Final = ((0.0, 11.89), (0.25, 12.06), (0.5, 12.24), (0.75, 12.45), (1.0, 12.65))
"""Rest voltage of one block by its state of charge [V]: table A of facts 5.2, flooded cells."""

CHARGE_EFFICIENCY: Final = 0.9
"""Share of a charging current that stays in it. CP, no source."""

STEP_V: Final = 0.01
"""Its voltage follows its charge in steps of this [V], so that the net is solved anew only now and then."""


def rest_v(charge: float) -> float:
    """Rest voltage of a sound pair at a state of charge from 0 to 1 [V]: straight between the table's points."""
    level = min(1.0, max(0.0, charge))
    for (low, low_v), (high, high_v) in pairwise(REST_V):
        if level <= high:
            return 2.0 * (low_v + (high_v - low_v) * (level - low) / (high - low))
    return 2.0 * REST_V[-1][1]


def charge_at(volts: float) -> float:
    """State of charge at which a sound pair rests at a voltage [V]; 0 and 1 beyond the table."""
    block = volts / 2.0
    for (low, low_v), (high, high_v) in pairwise(REST_V):
        if block <= high_v:
            return max(0.0, low + (high - low) * (block - low_v) / (high_v - low_v))
    return 1.0


def counted_a(discharge_a: float, capacity_ah: float, peukert: float) -> float:
    """What a discharge counts for [A]: I·(I/I20)^(n − 1) above the twenty-hour current, itself below it.

    Peukert's law in the form t = 20·(C/(20·I))^n hours (facts 5.2).
    """
    twenty_hour = capacity_ah / 20.0
    if discharge_a <= twenty_hour:
        return discharge_a
    return float(discharge_a * (discharge_a / twenty_hour) ** (peukert - 1.0))


def surface_ohm(charge: float) -> float:
    """What stands beside its inner resistance while it is charged [Ω]; less, the emptier it is."""
    share = min(1.0, max(0.0, (charge - HUNGRY_BELOW) / (1.0 - HUNGRY_BELOW)))
    return float(round(HUNGRY_SURFACE_OHM * (FULL_SURFACE_OHM / HUNGRY_SURFACE_OHM) ** share, 1))


def exhausted_ohm(charge: float, capacity_ah: float) -> float:
    """What an almost empty battery sets against a discharge, beside its inner resistance [Ω].

    Nothing above a tenth of its charge; at none as much as leaves `FLAT_V` under the twenty-hour current. The square
    between them is common practice, no source.
    """
    emptied = max(0.0, 1.0 - charge / EXHAUSTED_BELOW)
    return round((rest_v(0.0) - FLAT_V) / (capacity_ah / 20.0) * emptied * emptied, 3)


class BatterySet:
    """Two blocks in series behind a link."""

    terminals: tuple[Terminal, ...] = (*pins("battery", "plus", "minus"), *pins("board battery", "plus", "minus"))

    def __init__(self, battery: Battery) -> None:
        self.data = battery
        self.plug = Plug("battery", {pin: f"board battery.{pin}" for pin in ("plus", "minus")}, POWER_POLE_OHM)

    def stamp(self, net: Netlist) -> None:
        """From the cells to the board's battery terminals and on to its supply, ahead of the fuse."""
        data = self.data
        plus, minus, *_ = self.terminals
        block_plus, block_minus = self.plug.terminals
        net.add(
            VoltageSource("battery", "battery.cells", minus.node, self.at_rest_v(data.charge), data.internal_ohm),
            Resistor("battery, surface charge", "battery.cells", plus.node, surface_ohm(data.charge)),
            Contact("battery, discharging", "battery.cells", plus.node, True, self._discharging_ohm(data.charge)),
            screw(plus),
            screw(block_plus),
            Contact(LINK, behind(plus), behind(block_plus), True, JOINT_OHM),
            screw(minus),
            screw(block_minus),
            Resistor("battery wire, minus", behind(minus), behind(block_minus), JOINT_OHM),
            Resistor("battery return", "board battery.minus", "board.common", 0.0005),
            Contact(TAKEOVER, "board battery.plus", "board supply.plus", True, 0.0015),
            Contact("board, charger", "board.charger", "board supply.plus", False, CHARGER_OHM),
            Contact(CHARGER_FUSE, "board battery.plus", "board.charger", True, CHARGER_FUSE_OHM),
        )

    def at_rest_v(self, charge: float) -> float:
        """Its own rest voltage at a state of charge, to the step [V]."""
        volts = self.data.open_circuit_v - (rest_v(1.0) - rest_v(charge))
        return float(round(round(volts / STEP_V) * STEP_V, 2))

    def _discharging_ohm(self, charge: float) -> float:
        return CONTACT_OHM + exhausted_ohm(charge, self.data.capacity_ah)

    def set_charge(self, net: Netlist, charge: float) -> bool:
        """Its voltage, its hunger and its strength follow its charge; True if the net changed."""
        changed = False
        for name, field, value in (
            ("battery", "volts", self.at_rest_v(charge)),
            ("battery, surface charge", "ohm", surface_ohm(charge)),
            ("battery, discharging", "ohm", self._discharging_ohm(charge)),
        ):
            if getattr(net[name], field) != value:
                net.change(name, **{field: value})
                changed = True
        return changed

    def link(self, net: Netlist, fitted: bool) -> Undo:
        """Pull or fit the link."""
        return net.change(LINK, closed=fitted)

    def is_linked(self, net: Netlist) -> bool:
        """Whether the link is in."""
        link = net[LINK]
        return isinstance(link, Contact) and link.closed

    def react(self, net: Netlist, solved: Potentials, supply_gives: bool) -> bool:
        """Charge while the supply gives, take over when it doesn't; a current out of the cells meets no surface
        charge. True if that changed the net."""
        changed = [
            net.switch(TAKEOVER, not supply_gives),
            net.switch("board, charger", supply_gives),
        ]
        above = solved.across("battery.cells", "battery.plus")
        if above is not None and abs(above) > STILL_V:
            changed.append(net.switch("battery, discharging", above.real > 0.0))
        return any(changed)

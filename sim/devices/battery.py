"""The battery: a second source, with its link, its charger and the relay that lets it take over."""

from __future__ import annotations

from typing import Final

from sim.devices.part import JOINT_OHM, Terminal, pins
from sim.site import Battery
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo

LINK: Final = "battery link"

CHARGER_OHM: Final = 1.0
"""The charger, seen from the supply [Ω]. CP, no source."""

SURFACE_OHM: Final = 60.0
"""Beside its inner resistance a full battery on charge takes only a trickle: it holds the charger's voltage, 27.0 to
27.6 V at its posts (facts 8.1, battery not charging), and rests at its own when the charge stops [Ω]. CP."""


class BatterySet:
    """Two blocks in series behind a link."""

    terminals: tuple[Terminal, ...] = (*pins("battery", "plus", "minus"), *pins("board battery", "plus", "minus"))

    def __init__(self, battery: Battery) -> None:
        self._battery = battery

    def stamp(self, net: Netlist) -> None:
        """From the cells to the board's battery terminals and on to its supply, ahead of the fuse."""
        net.add(
            VoltageSource(
                "battery", "battery.cells", "battery.minus", self._battery.open_circuit_v, self._battery.internal_ohm
            ),
            Resistor("battery, surface charge", "battery.cells", "battery.plus", SURFACE_OHM),
            Contact("battery, discharging", "battery.cells", "battery.plus", True, 0.0005),
            Contact(LINK, "battery.plus", "board battery.plus", True, JOINT_OHM),
            Resistor("battery wire, minus", "battery.minus", "board battery.minus", JOINT_OHM),
            Resistor("battery return", "board battery.minus", "board.common", JOINT_OHM),
            Contact("board, takeover relay", "board battery.plus", "board supply.plus", True, JOINT_OHM),
            Contact("board, charger", "board battery.plus", "board supply.plus", False, CHARGER_OHM),
        )

    def link(self, net: Netlist, fitted: bool) -> Undo:
        """Pull or fit the link."""
        return net.change(LINK, closed=fitted)

    def is_linked(self, net: Netlist) -> bool:
        """Whether the link is in."""
        link = net[LINK]
        return isinstance(link, Contact) and link.closed

    def react(self, net: Netlist, supply_runs: bool) -> bool:
        """Charge while the supply runs, take over when it doesn't; True if that changed the net."""
        changed = [
            net.switch("board, takeover relay", not supply_runs),
            net.switch("board, charger", supply_runs),
            net.switch("battery, discharging", not supply_runs),
        ]
        return any(changed)

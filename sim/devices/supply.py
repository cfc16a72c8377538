"""The power supply, the mains that feeds it and the isolator between them."""

from __future__ import annotations

from typing import Final

from sim.devices.part import JOINT_OHM, Terminal, pins
from sim.site import Supply
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo, in_turn

WIDE_INPUT_V: Final = 85.0
"""Least mains at which the supply runs [V RMS]. CP, no source."""

INPUT_OHM: Final = 1500.0
"""The supply as the mains sees it: 35 W at 230 V [Ω]. CP, no source."""

MAINS_OHM: Final = 0.4 + 0.2j
"""Impedance of the final circuit, there and back [Ω]. CP, no source."""

EARTH_OHM: Final = 0.3
"""From the earth bar to the supplier's neutral [Ω]. CP, no source."""

ISOLATOR_POLES: Final = ("isolator, live pole", "isolator, neutral pole")


class Mains:
    """The mains side: RMS phasors, a second net, with a two-pole isolator that locks off."""

    terminals: tuple[Terminal, ...] = (
        *pins("isolator inlet", "live", "neutral", net="mains"),
        *pins("isolator outlet", "live", "neutral", net="mains"),
        *pins("power supply inlet", "live", "neutral", net="mains"),
        *pins("earth bar", "earth", net="mains"),
    )

    def __init__(self, supply: Supply) -> None:
        self._volts = supply.mains_v

    def stamp(self, net: Netlist) -> None:
        """Onto the mains net."""
        net.add(
            VoltageSource("mains", "isolator inlet.live", "isolator inlet.neutral", complex(self._volts), MAINS_OHM),
            Resistor("earthing", "isolator inlet.neutral", "earth bar.earth", complex(EARTH_OHM)),
        )
        for pole, wire in zip(ISOLATOR_POLES, ("live", "neutral"), strict=True):
            net.add(
                Contact(pole, f"isolator inlet.{wire}", f"isolator outlet.{wire}", True, complex(0.005)),
                Resistor(
                    f"supply lead, {wire}", f"isolator outlet.{wire}", f"power supply inlet.{wire}", complex(0.02)
                ),
            )
        net.add(
            Resistor(
                "power supply, input", "power supply inlet.live", "power supply inlet.neutral", complex(INPUT_OHM)
            )
        )

    def isolator(self, net: Netlist, closed: bool) -> Undo:
        """Throw both poles."""
        return in_turn(*(net.change(pole, closed=closed) for pole in ISOLATOR_POLES))

    def is_closed(self, net: Netlist) -> bool:
        """Whether the isolator lets the mains through."""
        poles = [net[pole] for pole in ISOLATOR_POLES]
        return all(isinstance(pole, Contact) and pole.closed for pole in poles)


class PowerSupply:
    """Makes the low voltage from the mains. A source behind its inner resistance while the mains is there."""

    terminals: tuple[Terminal, ...] = pins("power supply", "plus", "minus")

    def __init__(self, supply: Supply) -> None:
        self._supply = supply

    def stamp(self, net: Netlist) -> None:
        """From its output terminals to the board's supply terminals."""
        net.add(
            VoltageSource(
                "power supply",
                "power supply.made",
                "power supply.minus",
                self._supply.idle_v,
                self._supply.source_ohm,
            ),
            Contact("power supply, output", "power supply.made", "power supply.plus", False, 0.0005),
            Resistor("supply wire, plus", "power supply.plus", "board supply.plus", JOINT_OHM),
            Resistor("supply wire, minus", "power supply.minus", "board supply.minus", JOINT_OHM),
        )

    def react(self, net: Netlist, mains_v: float) -> bool:
        """Run while the mains is there; True if that changed the net."""
        return net.switch("power supply, output", mains_v >= WIDE_INPUT_V)

"""The power supply's reservoir: a capacitor at its output that stays charged after every source is gone.

While something feeds the board it floats at that voltage and carries nothing. Then it is a source that falls, through
whatever is still connected and through its own bleed: with the board on it in seconds, with the board's fuse out in
minutes.
"""

from __future__ import annotations

from typing import Final

from sim.devices.part import Terminal
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist

RESERVOIR: Final = "power supply, reservoir"
PATH: Final = "power supply, reservoir path"

FARAD: Final = 4700e-6
"""CP, no source."""

BLEED_OHM: Final = 10_000.0
"""Inside the supply, across the capacitor [Ω]. CP, no source."""

INNER_OHM: Final = 0.05
"""Of the capacitor itself [Ω]. CP, no source."""

VOLT_DIGITS: Final = 3


class Reservoir:
    """One capacitor, behind a path that is made only while nothing else feeds the board."""

    terminals: tuple[Terminal, ...] = ()

    def stamp(self, net: Netlist) -> None:
        """Across the supply's output, empty."""
        inside, minus = "power supply.reservoir", "power supply.minus"
        net.add(
            VoltageSource(RESERVOIR, inside, minus, 0.0, INNER_OHM),
            Resistor("power supply, bleed", inside, minus, BLEED_OHM),
            Contact(PATH, inside, "power supply.plus", False, 0.005),
        )


def set_reservoir(net: Netlist, volts: float) -> None:
    """It holds this now [V]; nothing: its path is open."""
    net.change(RESERVOIR, volts=round(volts, VOLT_DIGITS))
    net.switch(PATH, volts > 0.0)


def reservoir_volts(net: Netlist) -> float:
    """What it holds while it discharges [V]."""
    source = net[RESERVOIR]
    return float(complex(source.volts).real) if isinstance(source, VoltageSource) else 0.0

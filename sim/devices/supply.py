"""The power supply: makes the low voltage from the mains while the mains is there."""

from __future__ import annotations

from typing import Final

from sim.devices.joint import behind, screw
from sim.devices.mains import INPUT_OHM
from sim.devices.part import Terminal, pins
from sim.site import Supply
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

WIDE_INPUT_V: Final = 85.0
"""Least mains at which the supply runs [V RMS]. CP, no source."""

WIRE_OHM: Final = 0.0015
"""A short wire in the cabinet [Ω]. CP, no source."""

OUTPUT: Final = "power supply, output"

OHM_DIGITS: Final = 4
"""What the supply shows of the mains' own resistance follows in steps of 0.1 mΩ."""


GIVES_A: Final = 1e-3
"""A supply that gives less than this feeds nothing [A]. Ours."""


class PowerSupply:
    """A source behind its inner resistance. What the mains circuit has in ohms shows through it, as through any
    transformer: by the square of the ratio of its voltages."""

    terminals: tuple[Terminal, ...] = pins("power supply", "plus", "minus")

    def __init__(self, supply: Supply, sound_ohm: complex) -> None:
        """`sound_ohm`: the mains circuit as it should be, there and back; it is part of `source_ohm`."""
        self._supply = supply
        self._sound_ohm = abs(sound_ohm + INPUT_OHM) - INPUT_OHM
        self._ratio = supply.idle_v / 230.0

    def stamp(self, net: Netlist) -> None:
        """From its output terminals to the board's supply terminals."""
        supply = self._supply
        plus, minus = self.terminals
        board_plus, board_minus = pins("board supply", "plus", "minus")
        net.add(
            VoltageSource("power supply", "power supply.made", minus.node, supply.idle_v, supply.source_ohm),
            Resistor("power supply, mains side", "power supply.made", "power supply.rectified", 1e-4),
            Contact(OUTPUT, "power supply.rectified", plus.node, False, 0.0005),
            screw(plus),
            Resistor("supply wire, plus", behind(plus), behind(board_plus), WIRE_OHM),
            screw(board_plus),
            screw(minus),
            Resistor("supply wire, minus", behind(minus), behind(board_minus), WIRE_OHM),
            screw(board_minus),
        )

    def react(self, net: Netlist, mains: Netlist) -> bool:
        """Run while the mains is there, and show its resistance; True if that changed the net."""
        inlet = ("power supply inlet.live", "power supply inlet.neutral")
        feed = mains.solution().between(*inlet)
        changed = net.switch(OUTPUT, feed is not None and abs(feed) >= WIDE_INPUT_V)
        return self._show_through(net, mains) or changed

    def gives(self, solved: Potentials) -> bool:
        """Whether any current comes from it: it runs, and its wires are whole."""
        return float(solved.current(OUTPUT).real) > GIVES_A

    def _show_through(self, net: Netlist, mains: Netlist) -> bool:
        """The mains loop's resistance beyond a sound one's, at the low-voltage side [Ω]."""
        feed = mains.solution().current("power supply, input")
        shown = mains["power supply, input"].ohm  # type: ignore[union-attr]
        source = abs(complex(self._supply.mains_v))
        loop = source / abs(feed) - abs(shown) if abs(feed) else 0.0
        ohm = max(1e-4, round(max(0.0, loop - self._sound_ohm) * self._ratio * self._ratio, OHM_DIGITS))
        before = net["power supply, mains side"]
        if isinstance(before, Resistor) and before.ohm != ohm:
            net.change(before.name, ohm=ohm)
            return True
        return False

    def drawn_a(self, direct_a: float) -> float:
        """What it takes from the mains while it gives a direct current, beside what it takes by itself [A RMS]."""
        return max(0.0, direct_a) * self._ratio

    def as_loaded(self, direct_a: float) -> float:
        """What it is as a resistance to the mains while it gives a direct current [Ω]."""
        return 230.0 / (230.0 / INPUT_OHM + self.drawn_a(direct_a))

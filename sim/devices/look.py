"""A frozen look at the low-voltage side: every node and every element between two changes of the net.

An instrument that is left in place remembers least and most. Nothing polls for it: a look is kept of every state of
the net, and what the plant recorded meanwhile (currents, supply) is put through it when somebody reads.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sim.devices.live import Live
from sim.kernel.network import DriveNetwork
from sim.wiring.elements import Element, VoltageSource
from sim.wiring.netlist import WiringError
from sim.wiring.reduction import Drawn, LeafPorts, Superposition, operating_point
from sim.wiring.solve import Potentials, solve


class Look:
    """One state of the net: voltages and currents for whatever the drives do. Never changes."""

    def __init__(
        self,
        key: Iterable[Element],
        drive: DriveNetwork,
        ports: tuple[LeafPorts, LeafPorts],
        muted: tuple[str, ...] = (),
    ) -> None:
        self.drive = drive
        self.key = tuple(key)
        self._elements = {element.name: element for element in self.key}
        self._ports = ports
        self._nodes = Superposition(self.key, ports, drive.closed, muted)

    def joined(self, red: str, black: str) -> bool:
        """Whether any conductor joins two nodes."""
        return self._nodes.joined(red, black)

    def volts(self, red: str, black: str, live: Live) -> Any:
        """Voltage of one node above another [V]; None when one floats. Of arrays of live figures: an array."""
        return self._nodes.volts(red, black, self._drawn(live))

    def amps(self, name: str, live: Live) -> Any:
        """Current through an element from its `a` to its `b` [A]; 0 through what is open or gone.

        A motor's winding carries what the plant says. Live figures may be arrays: so is the answer.
        """
        element = self._elements.get(name)
        if element is None or not element.siemens:
            return 0.0
        drawn = self._drawn(live)
        for leaf, ports in enumerate(self._ports):
            if name == ports.winding and self.drive.closed[leaf]:
                return drawn.motor_a[leaf]
            if name == ports.bridge and isinstance(element, VoltageSource):
                across: Any = self._nodes.volts(element.a, element.b, drawn)
                return (across - drawn.output_v[leaf]) * element.siemens.real
        across = self._nodes.volts(element.a, element.b, drawn)
        return 0.0 if across is None else across * element.siemens.real - complex(element.injection).real

    def at_rest(self) -> Potentials:
        """The same net solved with both motors at rest, its insulation included."""
        return solve(self.key)

    def element(self, name: str) -> Element:
        """An element as it was. Raises WiringError if there was none."""
        if name not in self._elements:
            raise WiringError(f"the net had no '{name}'")
        return self._elements[name]

    def _drawn(self, live: Live) -> Drawn:
        return operating_point(self.drive, self._ports, live.duty, live.motor_a, live.emf_v)

"""What changes at the wiring by itself: metal over the loop, water in an edge, words that do not come through."""

from __future__ import annotations

from typing import Final

from sim.devices.detector import LOOP, LoopDetector
from sim.devices.radio_edge import RadioEdge
from sim.devices.radio_link import is_busy
from sim.devices.wired import Wired
from sim.errors import Refused
from sim.wiring.elements import VoltageSource
from sim.wiring.solve import solve

OPEN_V: Final = 0.999
"""Of one volt behind 1 kΩ: above it there is no loop worth naming, 1 MΩ and more [V]."""


class Unattended(Wired):
    """Conditions of devices; each returns True if the net changed."""

    @property
    def controls(self) -> tuple[str, ...]:
        """Every contact that somebody can close: push-buttons, key switch, keypad, intercom, emergency access."""
        return tuple(self._fitted.buttons)

    @property
    def loop(self) -> LoopDetector | None:
        """The loop's detector, None where none is fitted."""
        return self._fitted.asking.detector

    def loop_fed(self) -> bool:
        """Whether the detector has its supply."""
        self.settle()
        return self.loop is not None and self.loop.is_fed(self._rest.solved.volts)

    def loop_runs(self) -> bool:
        """Whether the detector's oscillator swings."""
        self.settle()
        return self.loop is not None and self.loop.runs(self._rest.solved.volts)

    def loop_ohm(self) -> float | None:
        """Resistance from one pole of the loop's plug to the other, through feeder and turns [Ω]; None when open."""
        if self.loop is None:
            return None
        start, end = f"{LOOP} plug.start", f"{LOOP} plug.end"
        source = VoltageSource("loop tester, source", start, end, 1.0, 1000.0)
        across = solve((*self.netlist.key, source)).volts(start, end)
        return 1000.0 * across / (1.0 - across) if across is not None and across < OPEN_V else None

    def by_radio(self, guard: str) -> bool:
        """Whether an edge has a radio link."""
        return isinstance(self._fitted.edges.get(guard), RadioEdge)

    def radio_is_busy(self) -> bool:
        """Whether the receiver's busy light is lit: it is fed and something is there though nobody sends."""
        self.settle()
        return self._fitted.radio.hears(self._rest.solved.volts) and is_busy(self.site.access.receiver)

    def set_loop(self, missing: float, *, disturbed: bool = False) -> bool:
        """So much of the inductance is missing now. A detector that got its feed tunes to what it finds; one
        without forgets."""
        self.settle()
        detector = self.loop
        if detector is None:
            return False
        before = detector.present, detector.disturbed
        if not detector.is_fed(self._rest.solved.volts):
            detector.sleep()
        else:
            detector.look(missing, disturbed=disturbed)
            if detector.tuned is None:
                detector.tune()
        return self._moved(before != (detector.present, detector.disturbed))

    def tune_loop(self) -> bool:
        """Reset the detector: what is there now is nobody. Raises Refused where it can't be."""
        detector = self.loop
        if detector is None:
            raise Refused("no presence loop is fitted on this site")
        if not self.loop_runs():
            raise Refused("the loop's detector has no supply, or its loop is broken: it can't be tuned")
        before = detector.present
        detector.tune()
        return self._moved(before)

    def soak_edge(self, guard: str, ohm: float | None) -> bool:
        """Water between an edge's strips [Ω], None without."""
        edge = self._fitted.edges.get(guard)
        return edge is not None and edge.soak(self.netlist, ohm)

    def set_edge_heard(self, guard: str, heard: bool) -> bool:
        """Whether the words of an edge with a radio link come through."""
        edge = self._fitted.edges.get(guard)
        if edge is None or edge.heard is heard:
            return False
        edge.heard = heard
        return self._moved(True)

    def _moved(self, moved: bool) -> bool:
        """A part changed its mind: let the net come to rest; True if it changed."""
        if not moved:
            return False
        before = self.netlist.mark
        self._settled = None
        self.settle()
        return self.netlist.mark != before

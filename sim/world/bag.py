"""What the world asks of a bag of instruments. The instruments live a floor above and are handed in."""

from __future__ import annotations

from typing import Protocol

from sim.errors import Refused
from sim.units import Direction


class Bag(Protocol):
    """A bag of instruments; every method answers with what a person saw, and tells the world's history."""

    def place_probes(self, function: str, red: str, black: str) -> str:
        """Put the multimeter's probes on two terminals. Raises Refused for a terminal that isn't there."""
        ...

    def read_meter(self) -> str:
        """Read the multimeter once it has settled. Raises Refused when no probe is placed."""
        ...

    def lift_probes(self) -> str:
        """Take the probes off."""
        ...

    def prove_tester(self) -> str:
        """Try the two-pole tester on a known source."""
        ...

    def test_dead(self, red: str, black: str) -> str:
        """Two-pole tester between two terminals."""
        ...

    def check_terminal(self, name: str) -> None:
        """Raise Refused naming the nearest right terminal if there is none of that name."""
        ...

    def place_gauge(
        self, leaf: int, gap_mm: float, height_mm: float, rest: str, direction: Direction = "closing"
    ) -> str:
        """Set the force gauge before a leaf's edge. Raises Refused where it can't stand."""
        ...

    def check_gauge(self, leaf: int, gap_mm: float, height_mm: float, direction: Direction = "closing") -> None:
        """Raise Refused where the gauge can't stand."""
        ...

    def read_gauge(self) -> str:
        """Store the last force-time curve as a reading. Raises Refused when nothing was measured."""
        ...

    def remove_gauge(self) -> str:
        """Take the gauge away."""
        ...


class NoBag:
    """For worlds that nobody measures in."""

    def _none(self, *_: object) -> str:
        raise Refused("there are no instruments here")

    place_probes = read_meter = lift_probes = prove_tester = test_dead = _none
    place_gauge = read_gauge = remove_gauge = _none

    def check_terminal(self, name: str) -> None:
        """Nothing can be measured."""
        self._none(name)

    def check_gauge(self, leaf: int, gap_mm: float, height_mm: float, direction: Direction = "closing") -> None:
        """Nothing can be measured."""
        self._none(leaf, gap_mm, height_mm, direction)

"""What the world asks of a bag of instruments. The instruments live a floor above and are handed in."""

from __future__ import annotations

from typing import Never, Protocol

from sim.errors import Refused
from sim.units import Direction, Us


class Bag(Protocol):
    """A bag of instruments; every method answers with what a person saw, and tells the world's history."""

    @property
    def gauge(self) -> tuple[str, float, float] | None:
        """(leaf, gap [mm], height [mm]) while the force gauge stands."""
        ...

    def check(self, instrument: str, function: str, at: str = "", against: str = "") -> None:
        """Raise Refused, naming the nearest right name, if this can't be measured there. Changes nothing."""
        ...

    def place(self, instrument: str, function: str, at: str = "", against: str = "") -> str:
        """Put an instrument in place. Raises Refused where it can't be put."""
        ...

    def read(self, instrument: str) -> str:
        """Read an instrument that is in place and has settled. Raises Refused when it is nowhere."""
        ...

    def lift(self, instrument: str) -> str:
        """Take an instrument off. Raises Refused when it is nowhere."""
        ...

    def renew(self, instrument: str) -> str:
        """New fuses for a meter. Raises Refused for an instrument that has none, or whose fuses are whole."""
        ...

    def takes(self, instrument: str, function: str) -> Us:
        """How long putting it in place takes [µs]."""
        ...

    def settles(self, instrument: str) -> Us:
        """How long an instrument in place takes to settle [µs]. Raises Refused when it is nowhere."""
        ...

    def last_measured(self) -> tuple[str, str, str, str]:
        """(instrument, function, at, against) of the last reading. Raises Refused when nothing was read yet."""
        ...

    def is_placed(self, instrument: str) -> bool:
        """Whether an instrument is in place."""
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

    gauge: tuple[str, float, float] | None = None

    def _none(self, *_: object) -> Never:
        raise Refused("there are no instruments here")

    check = place = read = lift = renew = takes = settles = last_measured = is_placed = _none
    check_gauge = place_gauge = read_gauge = remove_gauge = _none

"""The places a leaf has for things in its way: bodies and what is held at its hinge share them."""

from __future__ import annotations

from sim.errors import Refused
from sim.said import said

THING_SLOTS = 3
"""How many things a leaf can meet; the fourth slot is the force gauge's."""


class Slots:
    """Which thing has which slot. A body has the same one at both leaves."""

    def __init__(self) -> None:
        self._taken: dict[str, int] = {}

    def check(self) -> None:
        """Raise Refused if none is left."""
        if len(self._taken) >= THING_SLOTS:
            raise Refused(
                said("at most {count} things can be in the way of the leaves; take one away first", count=THING_SLOTS)
            )

    def take(self, name: str) -> int:
        """A slot for a thing. Raises Refused if none is left."""
        self.check()
        taken = set(self._taken.values())
        self._taken[name] = next(slot for slot in range(THING_SLOTS) if slot not in taken)
        return self._taken[name]

    def __contains__(self, name: str) -> bool:
        return name in self._taken

    def of(self, name: str) -> int:
        """The slot that a thing has."""
        return self._taken[name]

    def give_back(self, name: str) -> int:
        """The thing is gone; returns the slot it had."""
        return self._taken.pop(name)

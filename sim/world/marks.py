"""Places of a leaf that somebody of the world waits for: a limit switch, a fault that comes with the angle."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sim.mechanics.plant import Mark, Plant

Heed = Callable[[str], None]
"""What is called with the mark's own name when a leaf stands where it says."""


class Marks:
    """All marks of the plant, each with who waits for it. A mark holds as long as the leaf stands there: whoever is
    called sets it anew, or is called again at the next scan instant."""

    def __init__(self, plant: Plant) -> None:
        self._plant = plant
        self._waiting: dict[str, tuple[tuple[Mark, ...], Heed]] = {}

    def wait(self, owner: str, marks: Sequence[Mark], heed: Heed) -> None:
        """One owner waits for these from now on, in the place of those before; none at all ends it."""
        named = tuple(mark._replace(name=f"{owner}: {mark.name}") for mark in marks)
        if named:
            self._waiting[owner] = (named, heed)
        else:
            self._waiting.pop(owner, None)
        self._plant.set_marks([mark for owner in sorted(self._waiting) for mark in self._waiting[owner][0]])

    def heed(self, name: str) -> None:
        """A leaf stands at a mark: tell who waits for it."""
        owner, _, own = name.partition(": ")
        if owner in self._waiting:
            self._waiting[owner][1](own)

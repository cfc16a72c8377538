"""Controllers that carry a movement over a loss of power."""

from __future__ import annotations

from sim.controller.machine import RESTING
from sim.controller.memory import Wish
from sim.controller.reference import ReferenceController
from sim.units import Us


class GoesOnWhenPowerComes(ReferenceController):
    """What was under way when power went is asked for again."""

    breaks, within = "never moves on power return", 10

    def power_up(self, now: Us) -> None:
        """As the reference, which remembers its wish."""
        wish, moved = self._memory.wish.what, self._memory.state not in RESTING
        super().power_up(now)
        if moved and wish in ("open", "close"):
            self._memory.after_stop = Wish(wish, "power")


class RidesThroughADip(ReferenceController):
    """A loss of power in the midst of a movement is taken for none."""

    breaks, within = "a brown-out ends with everything off", 150

    def power_up(self, now: Us) -> None:
        """As the reference at rest; else nothing."""
        if self._memory.state in RESTING:
            super().power_up(now)

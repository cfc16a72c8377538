"""The residual-current device: it weighs what goes out against what comes back, and trips on the difference."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

TIME_AT_RATED_S: Final = 0.12
"""Trip time at its rated residual current [s]; at most 0.3 (facts 5.8)."""

SHORTEST_S: Final = 0.02
"""However large the residual current, its mechanism needs this long [s]. CP, no source."""


@dataclass(frozen=True, slots=True)
class ResidualDevice:
    """A device of the general type, without delay."""

    rated_a: float = 0.030
    trips_a: float = 0.022
    """Where this one really trips [A]: between half of its rating and all of it (facts 5.8)."""

    def trips_in(self, residual_a: float) -> float:
        """Time until it trips at a steady residual current [s]; infinite below what trips it.

        The time falls with the current: at most 0.3 s at the rated one and 0.04 s at five times (facts 5.8).
        """
        if residual_a < self.trips_a:
            return math.inf
        return max(SHORTEST_S, TIME_AT_RATED_S * self.rated_a / residual_a)

    def ramp_trips_at(self, standing_a: float = 0.0, step_a: float = 0.001) -> float:
        """Where a slow ramp trips it [A]: the first step that, with what stands already, is enough."""
        steps = max(0, math.ceil(round((self.trips_a - standing_a) / step_a, 9)))
        return steps * step_a

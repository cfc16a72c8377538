"""What carries current and lets go when it is too much: fuses, and breakers as far as they are warmed.

A first-order warming towards the square of the current. It lets go at once when its warmth reaches that of the least
current it can't carry for ever. Between two changes the current is constant, so the instant at which it lets go is
known from a formula, and nothing polls.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

BLADE_TAU_S: Final = 1.8
"""Time constant of a blade fuse [s]: with the least fusing current it stands inside every window of ISO 8820-3 (from
memory): 110 % for ever, 135 % in 0.75 to 600 s, 200 % in 0.15 to 5 s, 350 % in 0.08 to 0.5 s, 600 % in 0.1 s."""

LEAST_FUSING: Final = 1.25
"""Least current that opens it, as a multiple of its rating."""

BREAKER_TAU_S: Final = 40.0
"""Thermal release of a miniature breaker [s]: at 1.45 times its rating it is out within the hour, at 2.55 times
within a minute (EN 60898, from memory)."""

BREAKER_LEAST: Final = 1.2
"""Least current of its thermal release as a multiple of its rating: between 1.13 and 1.45 (EN 60898, memory)."""

BREAKER_AT_ONCE: Final = 5.0
"""Its magnetic release, type B: 3 to 5 times its rating (EN 60898, from memory)."""


@dataclass(frozen=True, slots=True)
class Melting:
    """How one fuse or breaker warms."""

    rated_a: float
    least: float = LEAST_FUSING
    tau_s: float = BLADE_TAU_S
    at_once: float = math.inf
    """From this multiple of its rating on it lets go without waiting."""

    def level(self, amps: float) -> float:
        """Warmth it tends to at a current: 1 lets go."""
        share = amps / (self.least * self.rated_a)
        return share * share

    def after(self, warmth: float, amps: float, seconds: float) -> float:
        """Warmth after a time at a current."""
        end = self.level(amps)
        return end + (warmth - end) * math.exp(-seconds / self.tau_s)

    def lets_go_in(self, warmth: float, amps: float) -> float:
        """Time until it lets go at this current [s]; infinite when it holds for ever."""
        if amps >= self.at_once * self.rated_a or warmth >= 1.0:
            return 0.0
        end = self.level(amps)
        if end <= 1.0:
            return math.inf
        return self.tau_s * math.log((end - warmth) / (end - 1.0))


def blade(rated_a: float) -> Melting:
    """A blade fuse."""
    return Melting(rated_a)


def breaker(rated_a: float) -> Melting:
    """A miniature breaker, type B."""
    return Melting(rated_a, BREAKER_LEAST, BREAKER_TAU_S, BREAKER_AT_ONCE)

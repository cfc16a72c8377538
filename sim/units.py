"""The ground under every floor: whole-microsecond time and the few conversions the project makes.

Inside the simulator everything is SI (metres, kilograms, seconds, radians, volts, amperes, ohms);
instants are whole microseconds, so that sixty thousand steps of one millisecond are one minute exactly.
Conversion from the units people write (`width_m`, `opening_deg`, `delay_ms`) happens when a site is read.
"""

from __future__ import annotations

import math
from typing import Final, Literal, NewType

Us = NewType("Us", int)
"""An instant or a duration [µs], a whole number."""

LeafName = Literal["active", "inactive"]
"""Which leaf (EN 1158 words)."""

Direction = Literal["closing", "opening"]

DIRECTIONS: Final[tuple[Direction, Direction]] = ("closing", "opening")
"""The two ways a leaf can move, the more dangerous first."""

LEAVES: Final[tuple[LeafName, LeafName]] = ("active", "inactive")
"""Both leaves in the order every array, tuple and report keeps: index 0 is the active leaf."""

MILLISECOND: Final = Us(1_000)
SECOND: Final = Us(1_000_000)
MINUTE: Final = Us(60_000_000)

STEP: Final = Us(1_000)
"""The kernel's step [µs]: steps lie on the absolute grid of whole milliseconds."""

SCAN: Final = Us(10_000)
"""The controller acts only at instants on this grid [µs]."""


def from_seconds(seconds: float) -> Us:
    """Whole microseconds for a time in seconds, rounded to nearest. Raises ValueError if it is not finite."""
    if not math.isfinite(seconds):
        raise ValueError(f"a time must be finite, not {seconds!r}")
    return Us(round(seconds * 1e6))


def to_seconds(time: int) -> float:
    """Seconds [s] for a whole number of microseconds."""
    return time / 1e6


def next_on_grid(time: int, grid: int) -> Us:
    """The first instant at or after `time` that lies on `grid` [µs]."""
    return Us(-(-time // grid) * grid)


def last_on_grid(time: int, grid: int) -> Us:
    """The last instant at or before `time` that lies on `grid` [µs]."""
    return Us(time // grid * grid)


def clock_text(time: int) -> str:
    """A time for people, `0:03:18.40` (hours, minutes, seconds to a hundredth)."""
    hundredths = time // 10_000
    minutes, rest = divmod(hundredths, 6_000)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest // 100:02d}.{rest % 100:02d}"

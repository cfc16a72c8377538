"""One leaf of the line gate: a number of counts between two stops, driven at a speed in proportion to its duty."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

from sim.controller.ports import Drive
from sim.units import SCAN

FULL_SPEED: Final = 200.0
"""Counts per second at full duty."""

RUNNING_A: Final = 2.0
"""Motor current of a leaf that moves freely [A]."""

STALLED_A: Final = 20.0
"""Motor current of a leaf that can't move, at full duty and without a limit [A]."""

NOWHERE: Final = 1e9
"""Where something stands that is in nobody's way [counts]."""

_STEP_S: Final = SCAN / 1e6
"""Length of one step [s]."""


@dataclass(slots=True)
class LineLeaf:
    """One leaf: where it is, what stands in its way. Whatever does stops it at once."""

    position: float = 0.0
    """Counts from the closed stop."""
    travel: float = 1000.0
    offset: int = 0
    """Counter reading at the closed stop."""
    sign: int = 1
    """−1 when the motor leads are exchanged; the encoder turns with the motor."""
    connected: bool = True
    released: bool = False
    """No stop and nothing in its way holds it: the motor turns without the leaf."""
    blocked_below: float = -NOWHERE
    """It can't come below this [counts]."""
    blocked_above: float = NOWHERE
    duty: float = 0.0
    """What the bridge gives now; it slews to what is asked."""
    current: float = 0.0
    """Magnitude of the motor current [A]."""
    shown: int = 0
    """Counter reading."""
    quiet: int = 10_000_000
    """Time since the counter changed last [µs]."""
    moved: bool = False
    """Whether the last step changed its position."""

    def step(self, drive: Drive) -> None:
        """One scan's time of movement, 10 ms."""
        change = drive.slew_per_s * _STEP_S
        self.duty = 0.0 if drive.brake else self.duty + max(-change, min(change, drive.duty - self.duty))
        if abs(self.duty) < 1e-9:
            self.duty = 0.0
        before = self.position
        if self.connected:
            self.position += self._pace()
        low, high = self._ends()
        if self.position < low <= before or (self.position < before and before < low):
            self.position = min(before, low)
        if self.position > high >= before or (self.position > before and before > high):
            self.position = max(before, high)
        self.moved = self.position != before
        stalled = min(drive.limit_a, STALLED_A * abs(self.duty))
        self.current = (RUNNING_A if self.moved else stalled) if self.duty and self.connected else 0.0
        count = self.offset + int(self.position // 1)
        self.quiet = 0 if count != self.shown else self.quiet + SCAN
        self.shown = count

    def _pace(self) -> float:
        """Counts that one step moves it at the present duty, sign included."""
        return self.sign * self.duty * FULL_SPEED * _STEP_S

    def _ends(self) -> tuple[float, float]:
        if self.released:
            return -NOWHERE, NOWHERE
        return max(0.0, self.blocked_below), min(self.travel, self.blocked_above)

    # -- many steps at once ----------------------------------------------------------------------------

    def room(self, drive: Drive, low: float, high: float, quiet: float) -> float:
        """How many steps like the last one it surely makes without anything happening; a few less than it could.

        Something happens where its position leaves `low` to `high` [counts], where something stops it, and where its
        counter has been quiet for `quiet` [µs]. Only for a leaf that was stepped with this very `drive` before.
        """
        if self.duty != (0.0 if drive.brake else drive.duty):
            return 0
        if not self.moved:
            return (quiet - self.quiet) // SCAN - 1
        pace = self._pace()
        if not pace or (1.0 / abs(pace) + 2.0) * SCAN >= quiet:
            return 0
        below, above = self._ends()
        left = min(high, above) - self.position if pace > 0 else self.position - max(low, below)
        return left / abs(pace) // 1 - 1

    def go(self, steps: int) -> None:
        """Make `steps` steps like the last one, no more than there is room for, to the same bits as one by one."""
        if not self.moved:
            self.quiet += steps * SCAN
            return
        pace, position, quiet = self._pace(), self.position, self.quiet
        shown: float = self.shown - self.offset
        for _ in range(steps):
            position += pace
            count = position // 1
            if count != shown:
                shown, quiet = count, 0
            else:
                quiet += SCAN
        self.position, self.shown, self.quiet = position, int(shown) + self.offset, quiet

    # -- keeping ---------------------------------------------------------------------------------------

    def keep(self) -> tuple[float, ...]:
        """All of it, as plain numbers."""
        return tuple([getattr(self, name) for name in _NAMES])

    def restore(self, kept: tuple[float, ...]) -> None:
        """Be as when `kept` was taken."""
        for name, value in zip(_NAMES, kept, strict=True):
            setattr(self, name, value)


_NAMES: Final = tuple(field.name for field in fields(LineLeaf))

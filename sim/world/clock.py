"""One clock: whole microseconds in one SimPy environment, the plant always brought up to `now`.

An instant has phases, kept by priority: physical bulletins, acts, the scan, looking. Acts are not queued here:
a run to `t` stops before anything at `t` happened, so whoever acts at `t` comes before the scan at `t`.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import IntEnum
from typing import Any, Protocol, cast

import simpy

from sim.errors import EndlessInstant
from sim.mechanics.plant import Reason, StopReport
from sim.units import Us, clock_text


class Phase(IntEnum):
    """Order of what happens at one instant."""

    MARK = -1
    """The end of a run: nothing else of that instant has happened yet."""
    BULLETIN = 0
    """A leaf met something, a watch held."""
    HAND = 1
    """An instructor's change: like an act, before the scan, but queued."""
    SCAN = 2
    LOOK = 3


class RunsTo(Protocol):
    """The plant, as far as the clock knows it."""

    def run_to(self, t: Us) -> StopReport:
        """Bring the plant to `t` [µs] or to the first physical event before it."""
        ...


class Instant(simpy.Event):
    """A call at an instant. Sets the two fields that SimPy's own Timeout sets; a test pins this to the library."""

    def __init__(self, clock: Clock, at: int, phase: Phase, call: Callable[[], None], name: str) -> None:
        self.env = clock
        self.callbacks: list[Callable[[Any], None]] = [lambda _event: call()]
        self._ok = True
        self._value = None
        self._defused = False
        self.name = name
        clock.schedule(self, cast(Any, int(phase)), at - clock.now)


INSTANT_LIMIT = 1_000
"""Events at one instant before the clock calls it endless."""


class Clock(simpy.Environment):
    """Simulated time [µs]. `step` brings the plant to the next due instant, or to what happens before it."""

    def __init__(self, plant: RunsTo, heed: Callable[[StopReport], None]) -> None:
        super().__init__(initial_time=0)
        self._plant = plant
        self._heed = heed
        self._arrived = -1
        self._instant = -1
        self._names: list[str] = []

    def at(self, when: int, phase: Phase, call: Callable[[], None], name: str) -> Instant:
        """Queue a call at `when` [µs], not before now. `name` is told if the instant never ends."""
        return Instant(self, when, phase, call, name)

    def step(self) -> None:
        """Run the plant to the next due instant; a stop on the way becomes a bulletin that comes first."""
        due = Us(int(self.peek()))
        if due != self._arrived:
            self._bring_to(due)
        super().step()
        self._count()

    def _bring_to(self, due: Us) -> None:
        stop = self._plant.run_to(due)
        self._arrived = due if stop.reason is Reason.REACHED else -1
        if stop.reason is not Reason.REACHED:
            self.at(stop.time, Phase.BULLETIN, lambda: self._heed(stop), f"{stop.reason.value} {stop.culprit}")

    def run_to(self, until: int, enough: Callable[[], bool] | None = None) -> bool:
        """Advance to `until` [µs]; True if `enough()` ended it sooner, which is asked after every event.

        Nothing of the instant `until` itself has happened on return.
        """
        arrived = False

        def arrive() -> None:
            nonlocal arrived
            arrived = True

        self.at(until, Phase.MARK, arrive, "end of a run")
        while not arrived:
            self.step()
            if enough is not None and not arrived and enough():
                return True
        return False

    def _count(self) -> None:
        if self.now != self._instant:
            self._instant = int(self.now)
            self._names = []
        self._names.append("")
        if len(self._names) > INSTANT_LIMIT:
            culprits = sorted({getattr(entry[3], "name", "?") for entry in self._queue if entry[0] == self.now})
            raise EndlessInstant(
                f"the instant {clock_text(self._instant)} does not end: more than {INSTANT_LIMIT} events; "
                f"still queued for it: {', '.join(culprits) or 'nothing'}"
            )

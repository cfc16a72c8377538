"""What brings an intermittent fault on: a named signal that is watched at the instants at which it can pass.

Nothing polls. A leaf's place is a mark of the plant; weather and drives are told of when they change; the hour passes
at an instant that is known; a winding warms at whole seconds while it is driven, and cools to a second that can be
worked out. So a journal run in other strides comes to the same instants.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from sim.draws import uniform
from sim.faults.entry import Trigger
from sim.mechanics.hanging import mean_wind
from sim.mechanics.plant import Mark
from sim.units import LEAVES, SCAN, SECOND, Us, from_seconds, next_on_grid
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

HOUR: Final = 3600 * SECOND
DAY: Final = 24 * HOUR

MOVES: Final = 0.5
"""A movement is 1 while a leaf is driven and 0 while none is; it is passed half way."""


class Watcher:
    """Waits for one signal to pass, and says so: into the band, or out of it by more than the hysteresis."""

    def __init__(self, world: World, name: str, trigger: Trigger, switch: Callable[[bool], None]) -> None:
        self._world = world
        self._name = name
        self._switch = switch
        self._signal = trigger.signal
        # Angles are compared as the plant has them, so that a mark and a look never differ by a rounding.
        factor = math.radians(1.0) if self._signal.endswith("angle") else 1.0
        self._above = None if trigger.above is None else trigger.above * factor
        self._below = None if trigger.below is None else trigger.below * factor
        if self._signal == "movement" and self._above is None and self._below is None:
            self._above = MOVES
        self._slack = trigger.hysteresis * factor
        self._dwell_s = trigger.dwell_s
        self._on = False
        self._due: Us | None = None
        self._times = 0
        self._token = 0
        self._ended = False

    def end(self) -> None:
        """Wait for nothing any more."""
        self._ended = True
        self._token += 1
        self._wait_for([])

    def state(self) -> tuple[object, ...]:
        """For digests."""
        return (self._on, self._due, self._times)

    def soon(self) -> None:
        """Look once this instant is through with what it is at."""
        self._queue(next_on_grid(self._world.now, SCAN))

    def look(self) -> None:
        """See where the signal stands, and arrange when to look next."""
        if self._ended:
            return
        value = self._value()
        if self._on or self._due is not None:
            self._stay_or_leave(value)
        elif self._is_within(value, 0.0):
            self._times += 1
            share = uniform(self._world.seed, self._name, "dwell", self._times) if self._dwell_s > 0.0 else 0.0
            self._due = next_on_grid(self._world.now + from_seconds(self._dwell_s * share), SCAN)
            self._stay_or_leave(value)
        self._arrange(self._value())

    def _stay_or_leave(self, value: float) -> None:
        if not self._is_within(value, self._slack):
            was, self._on, self._due = self._on, False, None
            if was:
                self._switch(False)
        elif self._due is not None and self._world.now >= self._due:
            self._on, self._due = True, None
            self._switch(True)

    def _is_within(self, value: float, slack: float) -> bool:
        above = self._above is None or value >= self._above - slack
        below = self._below is None or value < self._below + slack
        if self._above is not None and self._below is not None and self._above > self._below:
            return above or below  # round midnight
        return above and below

    # -- where the signal stands -----------------------------------------------------------------------

    def _value(self) -> float:
        world, signal = self._world, self._signal
        if signal in ("active leaf angle", "inactive leaf angle"):
            return world.plant.angle(self._leaf())
        if signal in ("active winding temperature", "inactive winding temperature"):
            return world.plant.winding_c(self._leaf())
        if signal == "air temperature":
            return world.weather.temperature_c
        if signal == "wind":
            return mean_wind(world.weather)
        if signal == "rain":
            return world.weather.rain_mm_h
        if signal == "hour":
            return self._time_of_day() / HOUR
        return 1.0 if any(out.duty for out in (world.host.outputs.active, world.host.outputs.inactive)) else 0.0

    def _leaf(self) -> int:
        return LEAVES.index("active" if self._signal.startswith("active") else "inactive")

    def _time_of_day(self) -> int:
        world = self._world
        return (round(world.site.starts_at_h * HOUR) + int(world.now) - int(world.arrived)) % DAY

    # -- when to look next -----------------------------------------------------------------------------

    def _arrange(self, value: float) -> None:
        self._token += 1
        if self._due is not None:
            self._queue(self._due)
        if self._signal.endswith("angle"):
            self._wait_for(self._ways_out(value))
        elif self._signal == "hour":
            for hour, _ in self._thresholds():
                ahead = (round(hour * HOUR) - self._time_of_day()) % DAY
                self._queue(next_on_grid(self._world.now + (ahead or DAY), SCAN))
        elif self._signal.endswith("winding temperature"):
            self._queue_warmth(value)

    def _thresholds(self) -> list[tuple[float, bool]]:
        """(value, whether it is passed upwards) of what would change something."""
        slack = self._slack if self._on or self._due is not None else 0.0
        found = []
        if self._above is not None:
            found.append((self._above - slack, not (self._on or self._due is not None)))
        if self._below is not None:
            found.append((self._below + slack, self._on or self._due is not None))
        return found

    def _ways_out(self, value: float) -> list[tuple[float, bool]]:
        """Those that the signal can pass from where it stands; one passed downwards lies just below its figure."""
        return [
            (at if upwards else math.nextafter(at, -math.inf), upwards)
            for at, upwards in self._thresholds()
            if (value < at if upwards else value >= at)
        ]

    def _queue_warmth(self, value: float) -> None:
        """A driven winding at the next whole second; one that cools at the second at which it has."""
        world, leaf = self._world, self._leaf()
        out = (world.host.outputs.active, world.host.outputs.inactive)[leaf]
        if out.duty or world.plant.motor_current(leaf) != 0.0:
            self._queue(Us((int(world.now) // SECOND + 1) * SECOND))
            return
        for at, upwards in self._ways_out(value):
            seconds = None if upwards else world.plant.cools_below(leaf, at)
            if seconds is not None:
                self._queue(Us((int(world.now) // SECOND + seconds) * SECOND))

    def _wait_for(self, places: list[tuple[float, bool]]) -> None:
        """Have the leaf tell when it comes to these [rad], opening or closing."""
        marks = [Mark(f"{at:g} rad", self._leaf(), at, opening) for at, opening in places]
        self._world.marks.wait(f"trigger of {self._name}", marks, lambda _: self.look())

    def _queue(self, when: Us) -> None:
        token = self._token

        def due() -> None:
            if token == self._token:
                self.look()

        self._world.clock.at(when, Phase.HAND, due, f"looks at {self._signal}")

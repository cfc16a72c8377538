"""The recording behind the time strip: what happened, sampled, and the marks of acts and events."""

from __future__ import annotations

import numpy as np

from sim.mechanics.recorder import Column, Recording
from sim.units import Us, to_seconds
from sim.world.world import World
from trainer.session.view import StripView

_MARKED = {
    "struck": "danger",
    "clash": "danger",
    "danger": "danger",
    "contact": "event",
    "stop reached": "event",
    "guard": "event",
    "learned": "event",
    "force": "event",
    "power": "event",
    "refused": "event",
}


class Strip:
    """Reads the world's recording; keeps nothing of its own but what it has already prepared for drawing."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._marks: list[tuple[Us, str, str]] = []
        self._events_seen = 0
        self._entries_seen = 0
        self._prepared: tuple[int, StripView] | None = None

    def view(self, shown: Us | None) -> StripView:
        """The strip up to now; times in seconds since arrival."""
        self._collect_marks()
        if self._prepared is None or self._prepared[0] != self._world.now:
            self._prepared = (self._world.now, self._prepare(self._world.plant.recording()))
        ready = self._prepared[1]
        end = to_seconds(self._world.now - self._world.arrived)
        return StripView(
            ready.time_s, ready.channels, tuple(self._marks), end, None if shown is None else to_seconds(shown)
        )

    def angles_at(self, when: Us) -> tuple[float, float]:
        """Both leaf angles [rad] at a past instant [µs since arrival], from the recording."""
        recorded = self._world.plant.recording()
        wanted = float(when + self._world.arrived)
        return (
            float(np.interp(wanted, recorded.time_us, recorded.active_angle)),
            float(np.interp(wanted, recorded.time_us, recorded.inactive_angle)),
        )

    def _prepare(self, recorded: Recording) -> StripView:
        levels = self._world.levels
        # Rest is kept as its first and last sample, so every step of a level gets samples of its own beside it.
        edges = [at + side for changes in levels.values() for at, _ in changes for side in (-1, 0)]
        present = float(self._world.now)
        time_us = np.union1d(recorded.time_us, [*map(float, edges), float(self._world.arrived), present])
        time_us = time_us[(time_us >= self._world.arrived) & (time_us <= present)]

        def sampled(values: Column) -> Column:
            return np.interp(time_us, recorded.time_us, values)

        channels = {
            "active angle": np.degrees(sampled(recorded.active_angle)),
            "inactive angle": np.degrees(sampled(recorded.inactive_angle)),
            "active current": sampled(recorded.active_current),
            "inactive current": sampled(recorded.inactive_current),
            "supply": sampled(recorded.supply),
            "guards": _steps(levels["guards"], time_us),
            "commands": _steps(levels["commands"], time_us),
        }
        return StripView((time_us - self._world.arrived) / 1e6, channels)

    def _collect_marks(self) -> None:
        world = self._world
        for event in world.events[self._events_seen :]:
            kind = _MARKED.get(event.kind)
            if kind is not None:
                self._marks.append((Us(event.at - world.arrived), kind, event.text))
        for entry in world.entries[self._entries_seen :]:
            words = ", ".join(str(v) for v in entry.action.arguments.values())
            self._marks.append(
                (Us(entry.at - world.arrived), "act", entry.action.kind + (f": {words}" if words else ""))
            )
        self._events_seen, self._entries_seen = len(world.events), len(world.entries)


def _steps(changes: list[tuple[int, int]], time_us: Column) -> Column:
    """A level at each sample, from its changes (instant [µs], value); 0 before the first."""
    if not changes:
        return np.zeros(len(time_us))
    at = np.array([c[0] for c in changes])
    values = np.array([0, *(c[1] for c in changes)], dtype=float)
    return values[np.searchsorted(at, time_us, side="right")]
